// Lengths as files say them.
#pragma once
#include <string>

#include "tunesheaf/base/length.h"
#include "tunesheaf/base/number.h"

namespace tunesheaf::exporting {

/// In points, to three decimals.
inline std::string in_pt(base::Length length) {
  return base::print_decimal(length.points(), 3);
}

}  // namespace tunesheaf::exporting

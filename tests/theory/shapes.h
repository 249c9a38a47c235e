// A shape from its frets and fingers as a song writes them. For tests.
#pragma once
#include <string_view>

#include "tunesheaf/theory/shape.h"

namespace tunesheaf::theory {

inline Shape shape(std::string_view frets, std::string_view fingers = "") {
  Shape out;
  out.frets = parse_frets(frets).value();
  if (!fingers.empty()) out.fingers = parse_fingers(fingers).value();
  return out;
}

}  // namespace tunesheaf::theory

// Spoilt song files: whatever is typed, the program ends with findings at their places or with pages. In: a good text.
// Out: the same with random bytes, words and lines changed, and what became of it. Read next: generated/judge.h.
#pragma once
#include <string>

#include "generated/random.h"

namespace tunesheaf::generated {

std::string spoilt(std::string text, Random& random);

struct Outcome {
  bool refused = false;  ///< findings that are errors
  bool printed = false;  ///< pages
  std::string fault;     ///< neither, or a finding that lacks its words or place
};
Outcome run_spoilt(const std::string& text);

}  // namespace tunesheaf::generated

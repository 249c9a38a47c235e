// Counting aloud: what is said within a beat. In: a share of the beat. Out: its syllable. Invariant: no syllable
// of a beat in three is one of a beat in two or four. Read next: theory/meter.h.
#pragma once
#include <string_view>

#include "tunesheaf/base/fraction.h"

namespace tunesheaf::theory {

/// "1 e & a" for the quarters of a beat; in a beat that is parted in three, triplet or compound, "1 la li" (McHose and
/// Tibbetts 1944) with "ta" for the sixths between. Empty for any other share, and for the beat itself.
inline std::string_view spoken_share(const base::Fraction& share, bool in_three) {
  using base::Fraction;
  if (share == Fraction(1, 3)) return "la";
  if (share == Fraction(2, 3)) return "li";
  if (in_three) return (share * Fraction(6)).den() == 1 && share != Fraction() ? "ta" : "";
  if (share == Fraction(1, 4)) return "e";
  if (share == Fraction(1, 2)) return "&";
  if (share == Fraction(3, 4)) return "a";
  return {};
}

}  // namespace tunesheaf::theory

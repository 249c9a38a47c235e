// All that the ear can say of a shape. In: tuning, capo, shape, the place it stands in. Out: every sounding note
// spelled, its degree over the root, the ranked names with their reasons, what is doubled and what is missing.
// Invariant: notes are spelled by the first name, else by the key; without a common name the intervals over the lowest
// note tell all. Read next: naming.h, fingering.h (the hand's side).
#pragma once
#include <optional>
#include <vector>

#include "tunesheaf/theory/naming.h"
#include "tunesheaf/theory/shape.h"

namespace tunesheaf::theory {

struct EarNote {
  int string = 1;  // player's number
  int fret = 0;
  Pitch pitch;
  std::optional<Degree> degree;  // over the root of the first name: {9, 0} for a ninth; none without a name
  Interval over_lowest;
};

struct DoubledTone {
  PitchClass pitch;
  int times = 2;
  friend bool operator==(const DoubledTone&, const DoubledTone&) = default;
};

struct Ear {
  std::vector<EarNote> notes;         // in the order of the strings, low string first; courses note by note
  std::vector<NameCandidate> names;   // best first; empty: no common name
  std::vector<Interval> over_lowest;  // each pitch class once
  std::vector<DoubledTone> doubled;   // in the order of first sounding
  std::vector<ChordTone> missing;     // of the first name's formula
};

/// Needs a shape that check_shape() has passed.
Ear hear(const Tuning& tuning, const Capo& capo, const Shape& shape, const NamingContext& context = {});

}  // namespace tunesheaf::theory

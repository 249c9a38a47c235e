// Tones of a chord as degrees. In: a chord name or a set of degrees. Out: the other. Invariant: canonical() depends on
// the set of degrees alone, so two spellings of one formula get one name. Private to theory.
#pragma once
#include <vector>

#include "tunesheaf/theory/chord.h"

namespace tunesheaf::theory {

/// A degree against the major scale of the root: b7 is {7, -1}, #11 is {11, 1}.
struct DegreeTone {
  int number = 1;
  int alter = 0;
  friend constexpr auto operator<=>(DegreeTone, DegreeTone) = default;
};

/// Formula of a kind, ascending. Empty for None; the root for Pedal and Other.
const std::vector<DegreeTone>& formula(ChordKind kind);
/// Functional and open kinds keep their stated form; all others are named by their tones.
bool named_by_tones(ChordKind kind);
/// Formula with the chord's changes, sorted.
std::vector<DegreeTone> degree_tones(const ChordName& chord);
/// Kind and changes for sorted, distinct degrees.
ChordName canonical(PitchClass root, std::vector<DegreeTone> tones, std::optional<PitchClass> bass);
ChordName canonical(const ChordName& chord);
/// Semitones over the root, octaves kept (a ninth is 14).
int semitones_over(DegreeTone tone);
/// Degree of a stated number that a formula without alterations would have: 0, for the seventh -1 (as players say it).
bool contains_number(const std::vector<DegreeTone>& tones, int number);

}  // namespace tunesheaf::theory

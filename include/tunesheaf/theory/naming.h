// From sounds to names. In: sounding MIDI keys (any order, doublings welcome), and what is known of the place (key, the
// chords before and after). Out: candidates, best first, each with the reasons that brought it there, or none when no
// common name is true. Invariant: a name never claims a tone that is not there as present; what its formula has and the
// sound lacks stands in `missing`. Naming is invariant under transposition apart from spelling. Read next: chord.h.
#pragma once
#include <cstdint>
#include <optional>
#include <vector>

#include "tunesheaf/theory/chord.h"
#include "tunesheaf/theory/key.h"

namespace tunesheaf::theory {

enum class Reason : std::uint8_t {
  RootInBass,
  ChordToneInBass,  // third, fifth, sixth or seventh in the bass: an inversion
  ForeignBass,      // the bass is no tone of the chord above it
  Complete,         // every tone of the formula sounds
  FifthLeftOut,
  RootLeftOut,
  TensionLeftOut,  // a 9 or 11 below the named tension
  ThirdLeftOut,    // named "no3"
  InKey,           // every tone is in the key
  RootInKey,
  NeighbourAgrees,  // a chord before or after has this root or leads to it by a fifth
  TonesAdded,       // named with added degrees
  TonesAltered,
};

struct NamingContext {
  std::optional<Key> key;
  std::vector<ChordName> neighbours;
};

struct NameCandidate {
  ChordName name;
  int cost = 0;                    // lower is better; the formula is in naming.cpp
  std::vector<Reason> reasons;     // the strongest first
  std::vector<ChordTone> missing;  // in the formula, not in the sound
};

/// Ranked, at most `most`; empty when there is no common name (then tell the intervals over the lowest note).
std::vector<NameCandidate> name_candidates(const std::vector<int>& midi, const NamingContext& context = {},
                                           std::size_t most = 8);
/// Intervals of the sound over its lowest note, each pitch class once, in order of first sounding.
std::vector<Interval> intervals_over_bass(const std::vector<int>& midi);

/// Does a stated name fit the sound? Demands of practice: the third or suspension, sixth or seventh, altered fifth and
/// named tension sound; nothing outside the formula (and stated bass) sounds; the rest may be left out.
struct ClaimCheck {
  bool fits = false;
  std::vector<PitchClass> foreign;  // sounding, not in the name (spelled by the chord's root and key)
  std::vector<ChordTone> absent;    // needed by the name, not sounding
  std::optional<PitchClass> bass;   // the bass that sounds, when the stated one (or the root) is not lowest
};
/// `fits` does not look at the bass unless the name states one: then the stated bass must be the lowest note.
ClaimCheck check_claim(const ChordName& stated, const std::vector<int>& midi, const NamingContext& context = {});

/// The spelling of each sounding note: by the chord when it is a chord tone, else by the key.
std::vector<Pitch> spell_all(const std::vector<int>& midi, const std::optional<ChordName>& chord,
                             const std::optional<Key>& key);

}  // namespace tunesheaf::theory

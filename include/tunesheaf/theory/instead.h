// What to play instead. In: the chords that sound, another tuning (or instrument), the bounds of the hand. Out: for
// each capo position the chords as fingered and a shape for each, positions weighed, best first. Invariant: every
// option sounds the same chords (moved by `semitones`, where a recording and the stage version differ). Read next:
// finding.h.
#pragma once
#include <optional>
#include <vector>

#include "tunesheaf/theory/finding.h"

namespace tunesheaf::theory {

struct InsteadWishes {
  int semitones = 0;  // how far the other player's version lies above the chords given
  int lowest_capo = 0, highest_capo = 7;
  std::optional<Key> key;  // of the chords that sound: for spelling as fingered
  FindingLimits limits;
  Neck neck;
  std::size_t choices = 6;  // shapes weighed per chord
  Voicing voicing = Voicing::AsTheyFollow;
};

struct InsteadOption {
  int capo = 0;
  std::optional<Key> key;                         // as fingered
  std::vector<ChordName> fingered;                // one per chord given, N.C. kept
  std::vector<std::optional<FoundShape>> shapes;  // one per chord given; none where no hand can play it
  int unplayable = 0;                             // chords without a shape (N.C. aside)
  int barres = 0;                                 // chords that need a barre
  /// Mean cost of shape and move per chord, in hundredths, plus 150 for each fret of capo beyond the third and 6000 for
  /// each chord in a hundred that cannot be played.
  int cost = 0;
};

/// Options with a full capo at each fret, best first; equal costs: the lower capo.
std::vector<InsteadOption> play_instead(const std::vector<ChordName>& sounding, const Tuning& tuning,
                                        const InsteadWishes& wishes = {});

}  // namespace tunesheaf::theory

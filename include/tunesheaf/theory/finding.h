// From names to shapes. In: a chord, a tuning, the bounds a player sets. Out: every shape within them, best first, with
// fingers; and for a progression the shapes with the least movement. Invariant: complete within the bounds (brute force
// agrees), no shape twice, and each shape sounds the chord: nothing foreign, nothing needed missing.
// Read next: fingering.h (strain), instead.h (other tunings and capos).
#pragma once
#include <array>
#include <cstdint>
#include <optional>
#include <vector>

#include "tunesheaf/theory/chord.h"
#include "tunesheaf/theory/fingering.h"
#include "tunesheaf/theory/move.h"
#include "tunesheaf/theory/tuning.h"

namespace tunesheaf::theory {

/// Which note may be lowest.
enum class BassRule : std::uint8_t {
  Stated,  // the stated bass, or the root
  Any,     // any tone; the root is preferred
};
/// Whether shapes that no hand can hold are told too.
enum class HeldRule : std::uint8_t { Playable, Any };

struct FindingLimits {
  int stretch_frets = 3;  // greatest distance between the lowest and the highest stopped fret
  int lowest_fret = 1;    // of stopped strings, as counted by the player
  int highest_fret = 15;
  int most_muted_inside = 1;  // strings not played between played ones
  int least_sounding = 0;     // strings; 0: two fewer than there are, at least three
  BassRule bass = BassRule::Stated;
  HeldRule held = HeldRule::Playable;
  std::optional<PitchClass> top;  // highest note
  std::size_t most = 24;          // of the ranked list; 0: all
};

struct FoundShape {
  Shape shape;   // with fingers when a hand can hold it
  int cost = 0;  // strain, plus what the ear and the hand would miss; the formula is in finding.cpp
  bool playable = true;
  int strain = 0;
  std::vector<ChordTone> left_out;  // tones of the formula that do not sound
};

/// Every shape within the bounds, ranked. Kept small: each is written out when it is asked for.
class FoundShapes {
 public:
  std::size_t size() const { return found_.size(); }
  bool empty() const { return found_.empty(); }
  /// Best first. Needs i < size().
  FoundShape operator[](std::size_t i) const;

 private:
  friend class ShapeSearch;
  struct Found {
    std::array<std::int8_t, kMostStrings> frets;     // -1: not played
    std::array<std::uint8_t, kMostStrings> fingers;  // as in Finger
    std::uint16_t sound;                             // pitch classes
    bool playable;
    int cost, strain;
  };
  std::vector<Found> found_;
  std::vector<ChordTone> tones_;  // of the chord
  int strings_ = 0;
};

/// The chord is the one that sounds; frets count as for sounding_midi(). Empty for N.C. and when there is none.
FoundShapes ranked_shapes(const ChordName& chord, const Tuning& tuning, const Capo& capo = {},
                          const FindingLimits& limits = {}, const Neck& neck = {});
/// The same, written out.
std::vector<FoundShape> find_shapes(const ChordName& chord, const Tuning& tuning, const Capo& capo = {},
                                    const FindingLimits& limits = {}, const Neck& neck = {});

/// Where a chord cannot be played: the nearest ones that can, most alike first (without the stated bass, without the
/// added or altered degrees, without the seventh, root and fifth alone).
std::vector<ChordName> nearest_playable(const ChordName& chord, const Tuning& tuning, const Capo& capo = {},
                                        const FindingLimits& limits = {}, const Neck& neck = {});

/// What may stand where a chord comes again.
enum class Voicing : std::uint8_t {
  AsTheyFollow,  // whatever suits the neighbours there
  OneForEach,    // the same shape, as a page of chord boxes wants it; none much worse by itself than the best
};

/// One shape per chord, so that shapes and the moves between them cost least in all (costs of the shapes plus twice the
/// difficulty of each move, in its half points, over the `choices` best shapes of each chord). As they follow that is
/// exact; with one shape for each chord no exchange of one shape makes it cheaper. A chord without shapes, or N.C.,
/// gets none, and the hand goes on from the shape before it. Time grows with the number of chords and of different
/// moves.
std::vector<std::optional<FoundShape>> shapes_for_progression(const std::vector<ChordName>& chords,
                                                              const Tuning& tuning, const Capo& capo = {},
                                                              const FindingLimits& limits = {}, const Neck& neck = {},
                                                              std::size_t choices = 8,
                                                              Voicing voicing = Voicing::AsTheyFollow);

}  // namespace tunesheaf::theory

// From one tuning to another. In: two tunings with equally many strings, the pitch of the recording in cents. Out: per
// string the way, frequency and tension; the safest order; what the tuning is near. Invariant: retuning there and back
// sums to nothing. Tension goes with the square of the frequency (physics of strings): factor 2^(n/6) for n semitones.
// Read next: tuning.h, recording.h.
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "tunesheaf/base/result.h"
#include "tunesheaf/theory/tuning.h"

namespace tunesheaf::theory {

enum class Caution : std::uint8_t {
  None,
  Slack,     // tension below 2^(-4/6): may buzz
  Tight,     // one or two semitones over the usual pitch: with care
  MayBreak,  // three semitones or more over the usual pitch of that string: a string can break and hit the eye
};

struct StringRetune {
  int string = 1;     // player's number
  Pitch from, to;     // of the course's first string
  int semitones = 0;  // up positive
  double hertz_at_440 = 0.0;
  double hertz = 0.0;    // at the recording's pitch
  double tension = 1.0;  // against the usual tuning at A4 = 440, the recording's cents included
  Caution caution = Caution::None;
};

/// The interval pattern that a tuning shares with a named one.
struct NearestTuning {
  std::string name;   // of the named tuning
  int semitones = 0;  // the whole lies so far above it (down: negative)
  struct Difference {
    int string = 1;
    int semitones = 0;
    friend bool operator==(const Difference&, const Difference&) = default;
  };
  std::vector<Difference> differences;  // strings that depart from the shifted pattern
};

struct Retuning {
  std::vector<StringRetune> strings;  // in the tuning's order, low string first
  std::vector<int> order;             // player's numbers in the order of turning; strings that stay are left out
  std::optional<NearestTuning> nearest;
};

enum class RetuneFault : std::uint8_t { StringCount };

/// `usual` is what the strings were made for: tension and cautions are against it. Order: first the strings that go
/// down, the most first (the neck is relieved); then those that go up, the least first.
base::Result<Retuning, RetuneFault> retune(const Tuning& from, const Tuning& to, const Tuning& usual,
                                           const std::vector<NamedTuning>& named, double cents = 0.0);
/// The named tuning of the instrument whose pattern is nearest; nothing when more than a third of the strings depart.
std::optional<NearestTuning> nearest_tuning(const Tuning& tuning, std::string_view instrument);
/// Tension factor of n semitones and cents: 2^((n + cents/100) / 6).
double tension_factor(double semitones);
/// All strings of one pitch class?
bool one_note_tuning(const Tuning& tuning);

}  // namespace tunesheaf::theory

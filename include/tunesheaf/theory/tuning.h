// Tunings. In: "D2 G2 D3 G3 B3 D4" (low string first; "E2/E3" is a course of two; "G4@5" starts at fret 5), or a name
// known for the instrument ("open G"). Out: strings with their pitches. Invariant: 1 to 12 strings, each course 1 to 3
// pitches; string number 1 is the LAST in the list, whatever its pitch. Frets count from a full capo, with a partial
// capo from the nut. Read next: instrument.h (usual tunings), shape.h, retune.h.
#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "tunesheaf/base/result.h"
#include "tunesheaf/theory/pitch.h"

namespace tunesheaf::theory {

/// One string or course.
struct TunedString {
  std::vector<Pitch> course;  // the first is the one the course is named by; never empty
  int start_fret = 0;         // a short string begins at this fret (fifth string of a banjo: 5); its "open" is there
  Pitch pitch() const { return course.front(); }
  int midi() const { return course.front().midi(); }
  friend bool operator==(const TunedString&, const TunedString&) = default;
};

struct Tuning {
  std::vector<TunedString> strings;  // low string first, as the player lists them
  std::string name;                  // "open G", "usual", or empty
  int count() const { return static_cast<int>(strings.size()); }
  /// String by player's number: 1 is the last in the list. Needs 1 <= number <= count().
  const TunedString& string(int number) const { return strings[strings.size() - static_cast<std::size_t>(number)]; }
  /// True when some string is lower than its neighbour before it.
  bool re_entrant() const;
  /// Names are not compared.
  bool same_pitches(const Tuning& other) const;
};

constexpr int kMostStrings = 12;

enum class TuningFault : std::uint8_t {
  Empty,
  BadPitch,        // `word` is no pitch
  NoOctave,        // `word` is a note without octave
  TooManyStrings,  // operand: how many
  TooLow,          // below 16 Hz (C0), `word`
  TooHigh,         // above MIDI 108, `word`
  UnknownName,     // no tuning of that name for that instrument; `nearest` may hold one
  UnevenCourse,    // more than three pitches in one course
};
struct TuningError {
  TuningFault fault = TuningFault::Empty;
  std::size_t at = 0;  // byte offset in the text
  std::string word;
  int count = 0;
  std::string nearest;
};

/// Notes only.
base::Result<Tuning, TuningError> parse_tuning_notes(std::string_view text);
/// Notes, or a name known for the instrument ("usual" always works when the instrument has a usual tuning; "half step
/// down" and its like for all), or letters without octaves, one per string ("D A D G A D", "DADGAD"): then each string
/// takes the octave nearest to its usual pitch, as players mean it. Short strings of the instrument stay short.
base::Result<Tuning, TuningError> parse_tuning(std::string_view text, std::string_view instrument);
/// "D2 G2 D3 G3 B3 D4", courses as "E2/E3", short strings as "G4@5".
std::string print(const Tuning& tuning, Accidentals how = Accidentals::Ascii);

struct NamedTuning {
  std::string instrument;  // trade name, as in instrument.h
  std::string name;
  Tuning tuning;
  bool usual = false;
};
/// Every tuning known by name, instruments in the order of instrument.h.
const std::vector<NamedTuning>& named_tunings();
std::optional<Tuning> find_tuning(std::string_view instrument, std::string_view name);
/// Spells notes without octave as a player says them ("DADGAD" letters): "D G D G B D".
std::string letters(const Tuning& tuning, Accidentals how = Accidentals::Ascii);

/// A capo. Full: all strings, frets count from it. Partial: only the strings named, frets count from the nut.
struct Capo {
  int fret = 0;              // 0: none
  std::vector<int> strings;  // player's numbers; empty means all
  bool full() const { return strings.empty(); }
  bool none() const { return fret == 0; }
  bool holds(int string_number) const;
  friend bool operator==(const Capo&, const Capo&) = default;
};

/// MIDI key that string `string_number` sounds at `fret`. A full capo adds its fret to every string; a short string
/// keeps its own open note unless the capo lies beyond its first fret, and its stopped frets are the neck's. Under a
/// partial capo a held open string sounds at the capo, and stopped frets count from the nut.
int sounding_midi(const Tuning& tuning, const Capo& capo, int string_number, int fret);

}  // namespace tunesheaf::theory

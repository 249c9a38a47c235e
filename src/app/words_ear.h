// Words and tables for the commands of the ear and the hand. In: theory's answers. Out: short texts for musicians, with
// ♭ and ♯, and columns that line up whatever signs stand in them. Invariant: no text here ends in a line break unless
// it says so. Read next: reading_ear.h (the way in), verbs_ear.cpp.
#pragma once
#include <cstdint>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "tunesheaf/base/lists.h"
#include "tunesheaf/theory/ear.h"
#include "tunesheaf/theory/familiar.h"
#include "tunesheaf/theory/fingering.h"
#include "tunesheaf/theory/move.h"
#include "tunesheaf/theory/retune.h"

namespace tunesheaf::app {

using base::list_words;

using Json = nlohmann::ordered_json;

inline constexpr auto kSigns = theory::Accidentals::Signs;

std::string counted_words(int count, const std::string& one);
std::string numbers_listed(const std::vector<int>& numbers);
/// "string 3", "strings 3 and 1".
std::string strings_listed(const std::vector<int>& numbers);
/// "2 semitones down", "stays".
std::string way_words(int semitones);
/// "root", "minor third", "lowered ninth".
std::string degree_words(theory::Degree degree);
/// "perfect fifth", "minor seventh and an octave".
std::string interval_words(theory::Interval interval);
/// "root in the bass"; the reason a name was chosen for.
std::string reason_words(theory::Reason reason);
/// The reasons of a candidate in one line, with the tones that are left out named.
std::string reasons_line(const theory::NameCandidate& candidate);
/// "index finger"; "a finger" when it is not known which.
std::string finger_words(theory::Finger finger);
/// Who keeps a string that is not played from sounding.
std::string mute_words(const theory::Mute& mute);
/// "the D shape with the middle finger lifted".
std::string familiar_words(const theory::Familiar& familiar);
/// "string 5, fret 3", "strings 6 to 1, fret 5".
std::string place_words(const theory::FingerPlace& place);
/// What one finger does, as a sentence without its subject: "slides from fret 2 to fret 4".
std::string deed_words(const theory::FingerMove& finger);
/// "the usual intervals, 2 semitones down, but string 6 4 semitones down"; empty for the tuning itself.
std::string nearest_words(const theory::NearestTuning& near);
/// Points with at most one decimal: 15 half points are "7.5".
std::string points(int half_points);
std::string tones_listed(const std::vector<theory::ChordTone>& tones);

enum class Side : std::uint8_t { Left, Right };

/// Rows of cells that line up; every row is indented by two blanks and ends in a line break.
class Table {
 public:
  explicit Table(std::vector<Side> sides) : sides_(std::move(sides)) {}
  void row(std::vector<std::string> cells) { rows_.push_back(std::move(cells)); }
  std::string text() const;

 private:
  std::vector<Side> sides_;
  std::vector<std::vector<std::string>> rows_;
};

/// Blanks behind the text up to so many columns of the screen.
std::string filled(std::string text, std::size_t columns);
/// Text in lines of at most 78 columns, every line after the first indented; no line break at the end.
std::string folded(const std::string& text, std::size_t indent);

}  // namespace tunesheaf::app

// The reader of chord names, part by part. In: what a player wrote. Out: a chord name or the fault and its place.
// Left to right: root, quality and extension (chord_quality.cpp), changes in any order with or without brackets, then
// the bass (chord_changes.cpp); the parts meet in chord_parse.cpp. Private to theory.
#pragma once
#include <algorithm>
#include <array>
#include <cstdint>
#include <optional>
#include <string_view>
#include <vector>

#include "tunesheaf/base/ascii.h"
#include "tunesheaf/theory/chord.h"

namespace tunesheaf::theory {

using base::is_digit;

/// Degrees a chord can have: 1..13 without the octaves and tenths, which are other degrees again.
inline bool chord_degree(int number) {
  return number >= 1 && number <= 13 && number != 8 && number != 10 && number != 12;
}

/// What stands in the third's place.
enum class Third : std::uint8_t { Major, Minor, None, Sus2, Sus4, Sus24 };

/// One change in the order it was typed.
struct ChordChange {
  DegreeChange change;
  int number;
  int alter;
  std::size_t at;
};

/// Reads one name; used once.
class ChordReader {
 public:
  explicit ChordReader(std::string_view text) : text_(text) {}

  base::Result<ChordName, ChordError> read();

 private:
  bool end() const { return at_ >= text_.size(); }
  std::string_view rest() const { return text_.substr(at_); }
  bool next_is(std::string_view word) const { return rest().starts_with(word); }
  bool take(std::string_view word) {
    if (!next_is(word)) return false;
    at_ += word.size();
    return true;
  }
  template <std::size_t N>
  bool take_any(const std::array<std::string_view, N>& words) {
    return std::any_of(words.begin(), words.end(), [&](std::string_view w) { return take(w); });
  }
  void skip_blanks() {
    while (!end() && (text_[at_] == ' ' || text_[at_] == '\t')) ++at_;
  }
  char peek(std::size_t ahead = 0) const { return at_ + ahead < text_.size() ? text_[at_ + ahead] : '\0'; }
  ChordError fail(ChordFault fault) const { return {fault, at_, ""}; }

  bool no_chord() const;
  std::optional<ChordName> functional();
  bool quality();
  bool minor_quality();
  void major_seventh_word();
  bool extension();
  std::optional<ChordError> change();
  std::optional<ChordError> close_bracket();
  std::optional<ChordError> altered();
  std::optional<ChordError> degree_change();
  std::optional<ChordError> slash(bool& done);
  std::optional<ChordError> add_word();
  std::optional<ChordError> omit_word();
  bool sus_word();
  int read_number();
  std::optional<int> read_sign();
  std::optional<ChordError> finish(ChordName& out) const;
  std::optional<ChordError> other_tones();

  std::string_view text_;
  std::size_t at_ = 0;
  PitchClass root_;
  Third third_ = Third::Major;
  int fifth_ = 0;
  std::optional<int> seventh_;
  bool sixth_ = false;
  int extension_ = 0;  // 9, 11 or 13
  bool diminished_ = false;
  bool major_ = false;  // a seventh that follows is major
  bool other_ = false;
  std::vector<ChordChange> ops_;
  std::vector<char> brackets_;
  std::optional<PitchClass> bass_;
};

}  // namespace tunesheaf::theory

// One cell's sign. In: the text between two blanks. Out: what it says, or where it stopped being understood, what would
// have been understood there, and the nearest sign that is correct. Read next: language_signs.cpp (the signs).
#pragma once
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

#include "tunesheaf/base/ascii.h"
#include "tunesheaf/base/fraction.h"
#include "tunesheaf/base/result.h"
#include "tunesheaf/song/lane.h"
#include "tunesheaf/song/language.h"

namespace tunesheaf::song {

inline constexpr int kHighestFret = 36;

struct SignFault {
  std::size_t at = 0;      ///< byte offset in the cell
  std::string expected;    ///< what would be understood there
  std::string suggestion;  ///< a correct sign, or empty
};

using SignResult = base::Result<CellContent, SignFault>;

/// A sign of the lane; neither "-" nor "." nor "%", and not empty.
SignResult parse_sign(const LanguageEntry& lane, std::string_view cell);

/// Reads a cell from left to right.
class SignCursor {
 public:
  explicit SignCursor(std::string_view text) : text_(text) {}
  bool done() const { return at_ >= text_.size(); }
  std::size_t at() const { return at_; }
  char peek(std::size_t ahead = 0) const { return at_ + ahead < text_.size() ? text_[at_ + ahead] : '\0'; }
  bool take(char c);
  bool take(std::string_view word);
  std::optional<int> take_fret();               ///< at most two digits, 0..36
  std::optional<base::Fraction> take_number();  ///< digits, with a point and digits behind it
  void take_accents(Accents& accents);
  std::string_view rest() const { return text_.substr(at_); }
  std::string_view all() const { return text_; }
  void skip(std::size_t count) { at_ += count; }
  SignFault fault(std::string expected, std::string suggestion = {}) const {
    return {at_, std::move(expected), std::move(suggestion)};
  }

 private:
  std::string_view text_;
  std::size_t at_ = 0;
};

using base::is_digit;
SignResult parse_string_sign(std::string_view cell);
SignResult parse_pitch_sign(std::string_view cell);
SignResult parse_drum_sign(std::string_view cell, LaneKind kind);
SignResult parse_strum_sign(std::string_view cell);

/// The correct sign of the lane that looks most like the cell, with the cell's own numbers in it; or empty.
std::string nearest_sign(const LanguageEntry& lane, std::string_view cell);
/// "5, x, (5), h5 ...": the signs of a lane as the table lists them.
std::string signs_listed(const LanguageEntry& lane);

}  // namespace tunesheaf::song

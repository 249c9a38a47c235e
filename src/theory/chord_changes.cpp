#include <cstdlib>

#include "chord_reader.h"

namespace tunesheaf::theory {

bool ChordReader::sus_word() {
  static constexpr std::array<std::string_view, 4> kWords{"suspended", "sus", "Sus", "SUS"};
  if (!take_any(kWords)) return false;
  const bool both = next_is("24") || next_is("42") || next_is("2/4") || next_is("4/2");
  if (both) {
    at_ += next_is("24") || next_is("42") ? 2 : 3;
    third_ = Third::Sus24;
  } else if (take("2")) {
    third_ = third_ == Third::Sus4 ? Third::Sus24 : Third::Sus2;
  } else {
    take("4");
    third_ = third_ == Third::Sus2 ? Third::Sus24 : Third::Sus4;
  }
  // "sus7", "sus9", "sus13": the seventh may follow.
  if (!seventh_ && (next_is("7") || next_is("9") || next_is("13"))) extension();
  return true;
}

std::optional<ChordError> ChordReader::add_word() {
  skip_blanks();
  const std::size_t before = at_;
  static constexpr std::array<std::string_view, 3> kMajorSeventh{"maj7", "M7", "Δ7"};
  if (take_any(kMajorSeventh)) {
    ops_.push_back({DegreeChange::Add, 7, 0, before});
    return std::nullopt;
  }
  const std::optional<int> sign = read_sign();
  const int number = read_number();
  if (number < 2 || !chord_degree(number)) {
    at_ = before;
    return fail(ChordFault::BadDegree);
  }
  // Players mean the minor seventh by a plain "add7", and may sign it.
  const int alter = sign ? *sign : (number == 7 ? -1 : 0);
  if (std::abs(alter) > 2) return fail(ChordFault::BadDegree);
  ops_.push_back({DegreeChange::Add, number, alter, before});
  return std::nullopt;
}

std::optional<ChordError> ChordReader::omit_word() {
  skip_blanks();
  const std::size_t before = at_;
  int number = 0;
  if (take("root"))
    number = 1;
  else
    number = read_number();
  static constexpr std::array<std::string_view, 5> kEndings{"rd", "th", "st", "nd", "d"};
  take_any(kEndings);
  if (!chord_degree(number)) {
    at_ = before;
    return fail(ChordFault::BadDegree);
  }
  ops_.push_back({DegreeChange::Omit, number, 0, before});
  return std::nullopt;
}

/// A slash: a bass note, an added degree, or (in brackets) a mere separator.
std::optional<ChordError> ChordReader::slash(bool& done) {
  const std::size_t before = at_;
  ++at_;
  skip_blanks();
  if (!brackets_.empty()) return std::nullopt;
  std::size_t taken = 0;
  const std::optional<PitchClass> note = read_pitch_class(rest(), taken);
  if (note) {
    bass_ = note;
    at_ += taken;
    skip_blanks();
    if (!end()) return fail(ChordFault::UnknownSuffix);
    done = true;
    return std::nullopt;
  }
  const std::size_t here = at_;
  const std::optional<int> sign = read_sign();
  const int number = read_number();
  if (number == 9 || number == 11 || number == 13 || (number >= 4 && number <= 6)) {
    const int alter = sign.value_or(0);
    ops_.push_back({alter != 0 ? DegreeChange::Alter : DegreeChange::Add, number, alter, before});
    return std::nullopt;
  }
  at_ = here;
  return fail(ChordFault::BadBass);
}

std::optional<ChordError> ChordReader::close_bracket() {
  const char open = peek() == ')' ? '(' : '[';
  if (brackets_.empty() || brackets_.back() != open) return fail(ChordFault::UnknownSuffix);
  brackets_.pop_back();
  ++at_;
  return std::nullopt;
}

/// "alt" or a word for a major seventh or an augmented fifth; what is none of them is a degree.
std::optional<ChordError> ChordReader::altered() {
  static constexpr std::array<std::string_view, 7> kMajor{"maj", "Maj", "MAJ", "ma", "M", "Δ", "△"};
  const std::size_t before = at_;
  if (take("alt")) {
    // "Altered" leaves the choice to the player; the commonest voicing stands for it.
    take("7");
    if (!seventh_) seventh_ = -1;
    fifth_ = 1;
    ops_.push_back({DegreeChange::Alter, 9, 1, before});
    return std::nullopt;
  }
  if (take_any(kMajor)) {
    const int number = read_number();
    if (number != 7 && number != 9 && number != 11 && number != 13) {
      at_ = before;
      return fail(ChordFault::UnknownSuffix);
    }
    seventh_ = 0;
    if (number != 7) extension_ = number;
    return std::nullopt;
  }
  if (take("aug")) {
    fifth_ = 1;
    return std::nullopt;
  }
  return degree_change();
}

/// A degree with or without its sign: "b9", "#11", "+", and in brackets "9".
std::optional<ChordError> ChordReader::degree_change() {
  const std::size_t before = at_;
  const std::optional<int> sign = read_sign();
  if (sign && !is_digit(peek())) {
    if (text_.substr(before, at_ - before) == "+") {
      fifth_ = 1;
      return std::nullopt;
    }
    at_ = before;
    return fail(ChordFault::UnknownSuffix);
  }
  if (!is_digit(peek())) return fail(ChordFault::UnknownSuffix);
  const int number = read_number();
  if (number < 2 || !chord_degree(number) || (sign && std::abs(*sign) > 2)) {
    at_ = before;
    return fail(ChordFault::BadDegree);
  }
  if (sign) {
    ops_.push_back({DegreeChange::Alter, number, *sign, before});
    return std::nullopt;
  }
  if (number == 7 && !seventh_) {
    seventh_ = major_ ? 0 : (diminished_ ? -2 : -1);
    return std::nullopt;
  }
  if (brackets_.empty()) {
    at_ = before;
    return fail(ChordFault::UnknownSuffix);
  }
  ops_.push_back({DegreeChange::Add, number, number == 7 ? -1 : 0, before});
  return std::nullopt;
}

std::optional<ChordError> ChordReader::change() {
  static constexpr std::array<std::string_view, 3> kAdd{"add", "Add", "ADD"};
  static constexpr std::array<std::string_view, 5> kOmit{"omit", "Omit", "no ", "no", "No"};
  if (take("(") || take("[")) {
    brackets_.push_back(text_[at_ - 1]);
    return std::nullopt;
  }
  if (peek() == ')' || peek() == ']') return close_bracket();
  if (take(",")) return std::nullopt;
  if (take_any(kAdd)) return add_word();
  if (take_any(kOmit)) return omit_word();
  if (sus_word()) return std::nullopt;
  return altered();
}

/// "(1,b3,#4)": tones told one by one.
std::optional<ChordError> ChordReader::other_tones() {
  other_ = true;
  at_ += 2;
  while (take(",") || (peek() == ' ' || peek() == '\t')) {
    skip_blanks();
    const std::size_t before = at_;
    const std::optional<int> sign = read_sign();
    const int number = read_number();
    if (number < 2 || number > 13 || std::abs(sign.value_or(0)) > 2) {
      at_ = before;
      return fail(ChordFault::BadDegree);
    }
    ops_.push_back({DegreeChange::Add, number, sign.value_or(0), before});
  }
  if (!take(")")) return fail(end() ? ChordFault::UnclosedBracket : ChordFault::UnknownSuffix);
  return std::nullopt;
}

}  // namespace tunesheaf::theory

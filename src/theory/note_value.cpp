#include "tunesheaf/theory/note_value.h"

#include <array>

namespace tunesheaf::theory {
namespace {

using base::Fraction;

struct ValueWord {
  std::string_view word;
  NoteValue value;
};

// American words first: they are the ones that are printed.
constexpr std::array<ValueWord, 27> kWords{{
    {"breve", NoteValue::kBreve},        {"whole", NoteValue::kWhole},     {"half", NoteValue::kHalf},
    {"quarter", NoteValue::kQuarter},    {"eighth", NoteValue::kEighth},   {"16th", NoteValue::k16th},
    {"32nd", NoteValue::k32nd},          {"64th", NoteValue::k64th},       {"128th", NoteValue::k128th},
    {"256th", NoteValue::k256th},        {"512th", NoteValue::k512th},     {"1024th", NoteValue::k1024th},
    {"double whole", NoteValue::kBreve}, {"sixteenth", NoteValue::k16th},  {"thirty second", NoteValue::k32nd},
    {"8th", NoteValue::kEighth},         {"4th", NoteValue::kQuarter},     {"1/1", NoteValue::kWhole},
    {"1/2", NoteValue::kHalf},           {"1/4", NoteValue::kQuarter},     {"1/8", NoteValue::kEighth},
    {"1/16", NoteValue::k16th},          {"semibreve", NoteValue::kWhole}, {"minim", NoteValue::kHalf},
    {"crotchet", NoteValue::kQuarter},   {"quaver", NoteValue::kEighth},   {"semiquaver", NoteValue::k16th},
}};

/// Lower case (ASCII), hyphens and runs of blanks as one blank.
std::string normalised(std::string_view words) {
  std::string out;
  for (char c : words) {
    if (c == '-' || c == ' ' || c == '\t') {
      if (!out.empty() && out.back() != ' ') out += ' ';
    } else {
      out += (c >= 'A' && c <= 'Z') ? static_cast<char>(c - 'A' + 'a') : c;
    }
  }
  if (!out.empty() && out.back() == ' ') out.pop_back();
  return out;
}

bool drop_front(std::string_view& text, std::string_view front) {
  if (!text.starts_with(front)) return false;
  text.remove_prefix(front.size());
  return true;
}

bool drop_back(std::string_view& text, std::string_view back) {
  if (!text.ends_with(back)) return false;
  text.remove_suffix(back.size());
  return true;
}

std::optional<NoteValue> value_named(std::string_view word) {
  for (const ValueWord& w : kWords) {
    if (w.word == word) return w.value;
  }
  return std::nullopt;
}

}  // namespace

Fraction written_duration(NoteValue value) {
  const int n = static_cast<int>(value);
  return n == 0 ? Fraction(2) : Fraction(1, std::int64_t{1} << (n - 1));
}

Fraction written_duration(NoteValue value, int dots) {
  return written_duration(value) * Fraction((std::int64_t{2} << dots) - 1, std::int64_t{1} << dots);
}

std::optional<WrittenValue> value_of_duration(Fraction duration, int max_dots) {
  for (int dots = 0; dots <= max_dots; ++dots) {
    const Fraction plain = duration * Fraction(std::int64_t{1} << dots, (std::int64_t{2} << dots) - 1);
    for (int n = 0; n <= static_cast<int>(NoteValue::k1024th); ++n) {
      const auto value = static_cast<NoteValue>(n);
      if (written_duration(value) == plain) return WrittenValue{value, dots};
    }
  }
  return std::nullopt;
}

std::optional<WrittenValue> parse_value_words(std::string_view words) {
  const std::string text = normalised(words);
  std::string_view rest = text;
  WrittenValue out;
  if (drop_front(rest, "double dotted ")) {
    out.dots = 2;
  } else if (drop_front(rest, "dotted ")) {
    out.dots = 1;
  }
  if (!drop_back(rest, " notes")) drop_back(rest, " note");
  std::optional<NoteValue> value = value_named(rest);
  if (!value && drop_back(rest, "s")) value = value_named(rest);
  if (!value) return std::nullopt;
  out.value = *value;
  return out;
}

std::string print_value_words(WrittenValue value) {
  constexpr std::array<std::string_view, 4> kDots{"", "dotted ", "double dotted ", "triple dotted "};
  return std::string(kDots[static_cast<std::size_t>(value.dots)]) +
         std::string(kWords[static_cast<std::size_t>(value.value)].word);
}

}  // namespace tunesheaf::theory

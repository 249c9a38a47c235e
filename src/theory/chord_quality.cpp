#include <utility>

#include "chord_reader.h"

namespace tunesheaf::theory {

std::optional<ChordName> ChordReader::functional() {
  static constexpr std::array<std::pair<std::string_view, ChordKind>, 9> kWords{{{"N6", ChordKind::Neapolitan},
                                                                                 {"It+6", ChordKind::Italian},
                                                                                 {"It6", ChordKind::Italian},
                                                                                 {"Fr+6", ChordKind::French},
                                                                                 {"Fr6", ChordKind::French},
                                                                                 {"Ger+6", ChordKind::German},
                                                                                 {"Ger6", ChordKind::German},
                                                                                 {"ped", ChordKind::Pedal},
                                                                                 {"Tris", ChordKind::Tristan}}};
  for (const auto& [word, kind] : kWords) {
    if (!take(word)) continue;
    ChordName out;
    out.root = root_;
    out.kind = kind;
    return out;
  }
  return std::nullopt;
}

/// After a minor, diminished or augmented quality: the words that make a seventh major.
void ChordReader::major_seventh_word() {
  static constexpr std::array<std::string_view, 9> kWords{"maj", "Maj", "MAJ", "ma", "Ma", "/maj", "/ma", "/M", "M"};
  static constexpr std::array<std::string_view, 4> kTriangle{"Δ", "△", "∆", "^"};
  if (take_any(kTriangle)) {
    major_ = true;
    seventh_ = 0;
    return;
  }
  for (const std::string_view word : kWords) {
    // Without a number after it the word means something else ("m" then "add").
    if (!next_is(word) || !is_digit(peek(word.size()))) continue;
    at_ += word.size();
    major_ = true;
    return;
  }
}

bool ChordReader::minor_quality() {
  static constexpr std::array<std::string_view, 8> kWords{"minor", "Minor", "min", "Min", "mi", "Mi", "m", "−"};
  const bool minus = peek() == '-' && !(peek(1) == '5');
  if (minus) ++at_;
  if (!minus && !take_any(kWords)) return false;
  third_ = Third::Minor;
  skip_blanks();
  major_seventh_word();
  return true;
}

/// True when a quality was read; a plain major triad has none.
bool ChordReader::quality() {
  static constexpr std::array<std::string_view, 8> kHalf{
      "half-diminished", "halfdiminished", "halfdim", "half-dim", "hdim", "ø", "Ø", "h"};
  static constexpr std::array<std::string_view, 7> kDim{"diminished", "dim", "Dim", "°", "º", "˚", "o"};
  static constexpr std::array<std::string_view, 4> kAug{"augmented", "aug", "Aug", "+"};
  static constexpr std::array<std::string_view, 8> kMajor{"major", "Major", "maj", "Maj", "MAJ", "Ma", "ma", "M"};
  static constexpr std::array<std::string_view, 4> kTriangle{"Δ", "△", "∆", "^"};
  if (next_is("omit")) return false;
  if (take_any(kHalf)) {
    third_ = Third::Minor;
    fifth_ = -1;
    seventh_ = -1;
    take("7");
    return true;
  }
  if (take_any(kDim)) {
    third_ = Third::Minor;
    fifth_ = -1;
    diminished_ = true;
    major_seventh_word();
    return true;
  }
  const bool signed_tension = next_is("+5") || next_is("+11") || next_is("+13");
  if (!signed_tension && take_any(kAug)) {
    fifth_ = 1;
    major_seventh_word();
    return true;
  }
  if (next_is("madd")) return minor_quality();
  if (next_is("Madd")) return take("M");
  if (take_any(kTriangle)) {
    major_ = true;
    seventh_ = 0;
    return true;
  }
  if (take_any(kMajor)) {
    major_ = true;
    skip_blanks();
    return true;
  }
  return minor_quality();
}

int ChordReader::read_number() {
  if (!is_digit(peek())) return 0;
  int value = peek() - '0';
  ++at_;
  if (value == 1 && is_digit(peek())) {
    value = value * 10 + (peek() - '0');
    ++at_;
  }
  return value;
}

std::optional<int> ChordReader::read_sign() {
  static constexpr std::array<std::pair<std::string_view, int>, 9> kSigns{
      {{"b", -1}, {"♭", -1}, {"-", -1}, {"−", -1}, {"#", 1}, {"♯", 1}, {"+", 1}, {"𝄫", -2}, {"𝄪", 2}}};
  std::optional<int> alter;
  for (bool found = true; found;) {
    found = false;
    for (const auto& [sign, by] : kSigns) {
      if (!take(sign)) continue;
      alter = alter.value_or(0) + by;
      found = true;
    }
  }
  return alter;
}

/// The number right after the quality.
bool ChordReader::extension() {
  if (!is_digit(peek())) return false;
  const std::size_t before = at_;
  const int number = read_number();
  switch (number) {
    case 6:
      sixth_ = true;
      if (next_is("/9") || next_is("(9)") || next_is("9") || next_is(",9")) {
        const bool bracket = peek() == '(';
        at_ += peek() == '9' ? 1 : 2;
        if (bracket) ++at_;
        ops_.push_back({DegreeChange::Add, 9, 0, before});
      }
      return true;
    case 13:
    case 11:
    case 9:
    case 7:
      if (!seventh_) seventh_ = major_ ? 0 : (diminished_ ? -2 : -1);
      extension_ = number == 7 ? 0 : number;
      return true;
    case 5:
      if (third_ != Third::Major || major_ || fifth_ != 0) break;
      third_ = Third::None;
      return true;
    case 4:
      if (third_ == Third::Major && !major_)
        third_ = Third::Sus4;
      else
        ops_.push_back({DegreeChange::Add, 4, 0, before});
      return true;
    case 2:
      ops_.push_back({DegreeChange::Add, 2, 0, before});
      return true;
    default:
      break;
  }
  at_ = before;
  return false;
}

}  // namespace tunesheaf::theory

#include "signs.h"

#include <algorithm>
#include <array>

#include "tunesheaf/base/edit_distance.h"
#include "tunesheaf/base/number.h"
#include "tunesheaf/song/values.h"
#include "vocabulary.h"

namespace tunesheaf::song {

bool SignCursor::take(char c) {
  if (peek() != c || done()) return false;
  ++at_;
  return true;
}

bool SignCursor::take(std::string_view word) {
  if (text_.substr(at_, word.size()) != word) return false;
  at_ += word.size();
  return true;
}

std::optional<int> SignCursor::take_fret() {
  std::size_t end = at_;
  while (end < text_.size() && is_digit(text_[end])) ++end;
  if (end == at_ || end - at_ > 2) return std::nullopt;
  const int fret = static_cast<int>(*base::parse_integer(text_.substr(at_, end - at_)));
  if (fret > kHighestFret) return std::nullopt;
  at_ = end;
  return fret;
}

std::optional<base::Fraction> SignCursor::take_number() {
  std::size_t end = at_;
  while (end < text_.size() && (is_digit(text_[end]) || text_[end] == '.')) ++end;
  const auto number = parse_exact(text_.substr(at_, end - at_));
  if (number) at_ = end;
  return number;
}

void SignCursor::take_accents(Accents& accents) {
  for (;; ++at_) {
    switch (peek()) {
      case '>':
        accents.accent = true;
        break;
      case '^':
        accents.marcato = true;
        break;
      case '\'':
        accents.staccato = true;
        break;
      case '_':
        accents.tenuto = true;
        break;
      case '@':
        accents.fermata = true;
        break;
      default:
        return;
    }
  }
}

namespace {

SignResult parse_pluck(std::string_view cell) {
  SignCursor cursor(cell);
  PluckSign sign;
  cursor.take_accents(sign.accents);
  for (bool first = true;; first = false) {
    const char finger = cursor.peek();
    if (finger == '\0' || std::string_view("pimacTP").find(finger) == std::string_view::npos) {
      if (first) return cursor.fault("a picking finger: p i m a c, on bass T or P");
      break;
    }
    if (sign.fingers.find(finger) != std::string::npos) return cursor.fault("another finger; each plucks once");
    sign.fingers += finger;
    cursor.skip(1);
    if (cursor.take('+') && std::string_view("pimacTP").find(cursor.peek()) == std::string_view::npos) {
      return cursor.fault("another finger behind the +");
    }
  }
  cursor.take_accents(sign.accents);
  if (!cursor.done()) return cursor.fault("another finger, or an accent (> ^ ' _ @)");
  return CellContent(sign);
}

SignResult parse_stroke(std::string_view cell) {
  if (cell == "D") return CellContent(PickSign{StrokeDirection::Down});
  if (cell == "U") return CellContent(PickSign{StrokeDirection::Up});
  return SignFault{0, "D or U", {}};
}

SignResult parse_finger(std::string_view cell) {
  SignCursor cursor(cell);
  FingerSign sign;
  do {
    const char c = cursor.peek();
    const int finger = c == 'T' ? 5 : (c >= '1' && c <= '4' ? c - '0' : 0);
    if (finger == 0) return cursor.fault("a fretting finger: 1 2 3 4 or T");
    if (std::find(sign.fingers.begin(), sign.fingers.end(), finger) != sign.fingers.end()) {
      return cursor.fault("another finger; each is named once");
    }
    sign.fingers.push_back(finger);
    cursor.skip(1);
  } while (cursor.take('+'));
  if (!cursor.done()) {
    const std::string joined = std::string(cell.substr(0, cursor.at())) + "+" + std::string(cursor.rest());
    const bool digits = joined.find_first_not_of("1234T+") == std::string::npos && cursor.rest().size() == 1;
    return cursor.fault("+ and another finger, or the end of the cell", digits ? joined : "");
  }
  return CellContent(sign);
}

SignResult parse_arm(std::string_view cell) {
  using Action = ArmSign::Action;
  SignCursor cursor(cell);
  ArmSign sign;
  const std::array<std::pair<std::string_view, Action>, 6> words{{{"dip", Action::Dip},
                                                                  {"dive", Action::Dive},
                                                                  {"up", Action::Up},
                                                                  {"scoop", Action::Scoop},
                                                                  {"back", Action::Back},
                                                                  {"~", Action::Vibrato}}};
  const auto found =
      std::find_if(words.begin(), words.end(), [&](const auto& word) { return cursor.take(word.first); });
  if (found == words.end()) return cursor.fault("dip, dive, up, scoop, back or ~");
  sign.action = found->second;
  const bool counted = sign.action == Action::Dip || sign.action == Action::Dive || sign.action == Action::Up;
  if (counted && !cursor.done()) {
    const auto number = cursor.take_number();
    if (!number || *number > base::Fraction(36)) return cursor.fault("the number of semitones, at most 36");
    sign.semitones = *number;
  }
  if (!cursor.done()) return cursor.fault(counted ? "the end of the cell" : "the end of the cell; it takes no number");
  return CellContent(sign);
}

SignResult parse_string_number(std::string_view cell) {
  const auto match = find_lane(cell);
  if (!match || match->string == 0 || match->entry->lane != LaneKind::String) {
    return SignFault{0, "the number of a string, 1 to 12", {}};
  }
  return CellContent(StringNumberCell{match->string});
}

SignResult parse_chord(std::string_view cell) {
  if (cell == "N.C." || cell == "NC" || cell == "N.C") return CellContent(ChordCell{"N.C.", true});
  return CellContent(ChordCell{std::string(cell), false});
}

SignResult parse_see(std::string_view cell) {
  std::size_t begin = 0;
  while (begin <= cell.size()) {
    const std::size_t comma = std::min(cell.find(',', begin), cell.size());
    if (comma == begin) return SignFault{begin, "the letter of a remark", {}};
    begin = comma + 1;
  }
  return CellContent(WordCell{std::string(cell)});
}

SignResult parse_word(const LanguageEntry& lane, std::string_view cell) {
  if (!lane.choices.empty() && !is_choice(lane, cell)) {
    return SignFault{0, list_words(choices_of(lane), " or "), {}};
  }
  if (lane.lane == LaneKind::Mark) return CellContent(SpanSign{true, cell == "on" ? "" : std::string(cell)});
  return CellContent(WordCell{std::string(cell)});
}

}  // namespace

SignResult parse_sign(const LanguageEntry& lane, std::string_view cell) {
  switch (lane.lane) {
    case LaneKind::String:
    case LaneKind::Thumb:
    case LaneKind::FretOf:
      return parse_string_sign(cell);
    case LaneKind::StringOf:
      return parse_string_number(cell);
    case LaneKind::Strum:
      return parse_strum_sign(cell);
    case LaneKind::Pluck:
      return parse_pluck(cell);
    case LaneKind::Pick:
      return parse_stroke(cell);
    case LaneKind::Finger:
      return parse_finger(cell);
    case LaneKind::Arm:
      return parse_arm(cell);
    case LaneKind::Notes:
    case LaneKind::Right:
    case LaneKind::Left:
      return parse_pitch_sign(cell);
    case LaneKind::Kit:
    case LaneKind::Hits:
      return parse_drum_sign(cell, lane.lane);
    case LaneKind::Chords:
      return parse_chord(cell);
    case LaneKind::See:
      return parse_see(cell);
    default:
      return parse_word(lane, cell);
  }
}

}  // namespace tunesheaf::song

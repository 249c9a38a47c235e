#include <algorithm>

#include "signs.h"
#include "tunesheaf/theory/pitch.h"

namespace tunesheaf::song {
namespace {

constexpr const char* kPitchWanted = "a note with its octave, such as D5, F#4 or Bb3";

/// A capital letter, accidentals, and one digit for the octave.
std::optional<theory::Pitch> take_pitch(SignCursor& cursor) {
  std::size_t taken = 0;
  if (cursor.peek() < 'A' || cursor.peek() > 'G') return std::nullopt;
  const auto name = theory::read_pitch_class(cursor.rest(), taken);
  if (!name || taken == 0 || !is_digit(cursor.peek(taken)) || is_digit(cursor.peek(taken + 1))) return std::nullopt;
  theory::Pitch pitch{*name, cursor.peek(taken) - '0'};
  cursor.skip(taken + 1);
  return pitch;
}

class PitchSignReader {
 public:
  explicit PitchSignReader(std::string_view cell) : cursor_(cell) {}

  SignResult read() {
    cursor_.take_accents(sign_.accents);
    if (auto fault = read_note()) return *fault;
    cursor_.take_accents(sign_.accents);
    if (!cursor_.done()) {
      return cursor_.fault("after a note: + and another note, =, tr and a note, or an accent (> ^ ' _ @)");
    }
    return CellContent(sign_);
  }

 private:
  using Fault = std::optional<SignFault>;

  Fault read_note() {
    if (cursor_.take('x')) {
      sign_.dead = true;
      return std::nullopt;
    }
    if (cursor_.take('(')) {
      sign_.ghost = true;
      return read_closed(')', "the ) that closes the ghost note");
    }
    if (cursor_.take('<')) {
      sign_.harmonic = true;
      return read_closed('>', "the > that closes the harmonic");
    }
    if (cursor_.take('-')) sign_.tied = true;
    if (cursor_.peek() == 'g') {
      if (auto fault = read_grace()) return fault;
    }
    if (auto fault = read_pitches()) return fault;
    return read_changes();
  }

  Fault read_closed(char close, const char* wanted) {
    if (close == ')' && cursor_.take('x')) {
      sign_.dead = true;
    } else if (auto fault = read_pitches()) {
      return fault;
    }
    if (!cursor_.take(close)) return cursor_.fault(wanted);
    return std::nullopt;
  }

  Fault read_pitches() {
    do {
      const SignCursor before = cursor_;
      const auto pitch = take_pitch(cursor_);
      if (!pitch) return cursor_.fault(kPitchWanted, with_capital());
      const auto same = [&](const theory::Pitch& other) { return other == *pitch; };
      if (std::any_of(sign_.pitches.begin(), sign_.pitches.end(), same)) {
        return before.fault("each note only once in a cell", std::string(before.all().substr(0, before.at() - 1)));
      }
      sign_.pitches.push_back(*pitch);
    } while (cursor_.take('+'));
    return std::nullopt;
  }

  Fault read_grace() {
    cursor_.skip(1);
    do {
      const auto pitch = take_pitch(cursor_);
      if (!pitch) return cursor_.fault("the grace note with its octave");
      sign_.grace.push_back(*pitch);
      if (cursor_.take('-')) return std::nullopt;
    } while (cursor_.take('+'));
    return cursor_.fault("- and the main note");
  }

  Fault read_changes() {
    if (cursor_.take('=')) sign_.tremolo = true;
    if (cursor_.take("tr")) {
      sign_.trill = take_pitch(cursor_);
      if (!sign_.trill) return cursor_.fault("the other note of the trill");
    }
    return std::nullopt;
  }

  /// A small letter is what most often goes wrong.
  std::string with_capital() const {
    const char c = cursor_.peek();
    if (c < 'a' || c > 'g') return {};
    std::string text(cursor_.all());
    text[cursor_.at()] = static_cast<char>(c - 'a' + 'A');
    SignCursor again(text);
    again.skip(cursor_.at());
    return take_pitch(again) ? text : std::string{};
  }

  SignCursor cursor_;
  PitchSign sign_;
};

int take_grace_letter(SignCursor& cursor) {
  if (cursor.take('f')) return 1;
  if (cursor.take('d')) return 2;
  if (cursor.take('r')) return 3;
  return 0;
}

}  // namespace

SignResult parse_pitch_sign(std::string_view cell) {
  return PitchSignReader(cell).read();
}

SignResult parse_drum_sign(std::string_view cell, LaneKind kind) {
  SignCursor cursor(cell);
  DrumSign sign;
  const bool hits = kind == LaneKind::Hits;
  cursor.take_accents(sign.accents);
  if (cursor.take('(')) sign.ghost = true;
  if (!hits) sign.grace = take_grace_letter(cursor);
  const char head = cursor.peek();
  if (head == '\0' || std::string_view(hits ? "x" : "xohRL").find(head) == std::string_view::npos) {
    return cursor.fault(hits ? "x" : "a stroke: x, o, h, R or L");
  }
  cursor.skip(1);
  sign.open = head == 'o';
  sign.half_open = head == 'h';
  if (head == 'R' || head == 'L') sign.hand = head;
  if (!hits && sign.hand == 0 && (cursor.peek() == 'R' || cursor.peek() == 'L')) {
    sign.hand = cursor.peek();
    cursor.skip(1);
  }
  while (!hits && sign.roll < 3 && cursor.take('/')) ++sign.roll;
  if (!hits && sign.roll == 0 && cursor.take('z')) sign.buzz = true;
  if (!hits && cursor.take('!')) sign.choke = true;
  if (sign.ghost && !cursor.take(')')) return cursor.fault("the ) that closes the ghost note");
  cursor.take_accents(sign.accents);
  if (!cursor.done()) {
    const bool another = cursor.at() > 0 && std::string_view("xohRL").find(cursor.peek()) != std::string_view::npos;
    return cursor.fault(hits ? "an accent (> ^ ' _ @), or the end of the cell"
                             : "after a stroke: R or L, / for a roll, z for a buzz roll, !, or an accent (> ^ ' _ @)",
                        another ? std::string(cell.substr(0, cursor.at())) + " " + std::string(cursor.rest()) : "");
  }
  return CellContent(sign);
}

SignResult parse_strum_sign(std::string_view cell) {
  SignCursor cursor(cell);
  StrumSign sign;
  sign.direction = StrokeDirection::None;
  cursor.take_accents(sign.accents);
  if (cursor.take('(')) sign.ghost = true;
  if (cursor.take('x')) sign.muted = true;
  if (cursor.take('D')) {
    sign.direction = StrokeDirection::Down;
  } else if (cursor.take('U')) {
    sign.direction = StrokeDirection::Up;
  } else if (!sign.muted) {
    return cursor.fault("a stroke: D, U or x");
  }
  if (is_digit(cursor.peek())) {
    sign.from_string = cursor.take_fret();
    sign.to_string = cursor.take('-') ? cursor.take_fret() : sign.from_string;
    const auto good = [](const std::optional<int>& n) { return n && *n >= 1 && *n <= 12; };
    if (!good(sign.from_string) || !good(sign.to_string)) return cursor.fault("strings by number, such as 6-4");
  }
  if (cursor.take('~')) sign.rolled = true;
  if (!sign.rolled && cursor.take('/')) sign.brushed = true;
  if (sign.ghost && !cursor.take(')')) return cursor.fault("the ) that closes the ghost stroke");
  cursor.take_accents(sign.accents);
  if (!cursor.done()) {
    return cursor.fault("after a stroke: strings (6-4), ~ for rolled, / for brushed, or an accent (> ^ ' _ @)");
  }
  return CellContent(sign);
}

}  // namespace tunesheaf::song

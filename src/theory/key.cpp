#include "tunesheaf/theory/key.h"

#include <algorithm>
#include <cctype>
#include <cstdlib>

#include "tunesheaf/base/ascii.h"

namespace tunesheaf::theory {
namespace {

using base::lower;

/// Place of a note on the line of fifths: F is -1, C 0, G 1, F# 6, Bb -2.
int fifths_of(PitchClass pc) {
  constexpr std::array<int, 7> kFifths{0, 2, 4, -1, 1, 3, 5};
  return kFifths[static_cast<std::size_t>(pc.step)] + 7 * pc.alter;
}

PitchClass from_fifths(int place) {
  constexpr std::array<Step, 7> kOrder{Step::F, Step::C, Step::G, Step::D, Step::A, Step::E, Step::B};
  const int shifted = place + 1;
  const int index = ((shifted % 7) + 7) % 7;
  return {kOrder[static_cast<std::size_t>(index)], (shifted - index) / 7};
}

/// Signature of the mode on C.
int mode_fifths(Mode mode) {
  switch (mode) {
    case Mode::Major:
      return 0;
    case Mode::Minor:
      return -3;
    case Mode::Dorian:
      return -2;
    case Mode::Phrygian:
      return -4;
    case Mode::Lydian:
      return 1;
    case Mode::Mixolydian:
      return -1;
    case Mode::Locrian:
      return -5;
  }
  return 0;
}

std::optional<Mode> mode_of(std::string_view word) {
  // "M" and "m" differ by case alone, so they are told apart before the case is dropped.
  if (word == "m" || word == "-") return Mode::Minor;
  if (word.empty() || word == "M") return Mode::Major;
  const std::string w = lower(word);
  if (w == "major" || w == "maj" || w == "ionian") return Mode::Major;
  if (w == "minor" || w == "min" || w == "aeolian") return Mode::Minor;
  if (w == "dorian") return Mode::Dorian;
  if (w == "phrygian") return Mode::Phrygian;
  if (w == "lydian") return Mode::Lydian;
  if (w == "mixolydian") return Mode::Mixolydian;
  if (w == "locrian") return Mode::Locrian;
  return std::nullopt;
}

bool blank(char c) {
  return c == ' ' || c == '\t';
}

}  // namespace

int Key::fifths() const {
  return fifths_of(tonic) + mode_fifths(mode);
}

std::array<PitchClass, 7> Key::scale() const {
  std::array<PitchClass, 7> out;
  // The seven notes of a signature are seven neighbours on the line of fifths, from one below its major tonic.
  const int first = fifths() - 1;
  for (int i = 0; i < 7; ++i) {
    const PitchClass pc = from_fifths(first + i);
    const int place = (static_cast<int>(pc.step) - static_cast<int>(tonic.step) + 7) % 7;
    out[static_cast<std::size_t>(place)] = pc;
  }
  return out;
}

base::Result<Key, KeyError> parse_key(std::string_view text) {
  std::size_t start = 0;
  while (start < text.size() && blank(text[start])) ++start;
  std::size_t end = text.size();
  while (end > start && blank(text[end - 1])) --end;
  if (start == end) return KeyError{NameFault::Empty, 0};
  std::string body(text.substr(start, end - start));
  if (body[0] >= 'a' && body[0] <= 'g') body[0] = static_cast<char>(body[0] - 'a' + 'A');
  std::size_t taken = 0;
  const std::optional<PitchClass> tonic = read_pitch_class(body, taken);
  if (!tonic) {
    const bool has_letter = body[0] >= 'A' && body[0] <= 'G';
    return KeyError{has_letter ? NameFault::TooManyAccidentals : NameFault::NoLetter, start + (has_letter ? 1 : 0)};
  }
  if (std::abs(tonic->alter) > 1) return KeyError{NameFault::TooManyAccidentals, start + 1};
  std::size_t word = taken;
  while (word < body.size() && blank(body[word])) ++word;
  // A lower-case letter alone is an old way to write a minor key, but too easily a slip: the mode must be said.
  const std::optional<Mode> mode = mode_of(std::string_view(body).substr(word));
  if (!mode) return KeyError{NameFault::UnknownMode, start + word};
  return Key{*tonic, *mode};
}

std::string mode_name(Mode mode) {
  return mode_names()[static_cast<std::size_t>(mode)];
}

const std::vector<std::string>& mode_names() {
  static const std::vector<std::string> kNames{"major",  "minor",      "dorian", "phrygian",
                                               "lydian", "mixolydian", "locrian"};
  return kNames;
}

std::string print(Key key, Accidentals how) {
  return print(key.tonic, how) + " " + mode_name(key.mode);
}

PitchClass spell_class(int number, const Key& key) {
  const int wanted = ((number % 12) + 12) % 12;
  for (const PitchClass pc : key.scale()) {
    if (pc.number() == wanted) return pc;
  }
  // Twelve neighbours on the line of fifths, from the flat second to the sharp fourth; in the modes with a major third
  // the sharp first takes the place of the flat second on the sharp side, unless it would be E#, B# or doubly sharp.
  const int tonic = fifths_of(key.tonic);
  const bool major_third = key.mode == Mode::Major || key.mode == Mode::Lydian || key.mode == Mode::Mixolydian;
  if (major_third && key.fifths() >= 0) {
    const PitchClass sharp_first = from_fifths(tonic + 7);
    if (sharp_first.number() == wanted && fifths_of(sharp_first) <= fifths_of({Step::A, 1})) return sharp_first;
  }
  for (int place = -5; place <= 6; ++place) {
    const PitchClass pc = from_fifths(tonic + place);
    if (pc.number() == wanted) return pc;
  }
  return plain_spelling_class(wanted);
}

Pitch spell(int midi, const Key& key) {
  return with_name(midi, spell_class(midi, key));
}

Pitch spell(int midi, const std::optional<Key>& key) {
  return key ? spell(midi, *key) : plain_spelling(midi);
}

Key transposed(const Key& key, int semitones) {
  const int wanted = ((key.tonic.number() + semitones) % 12 + 12) % 12;
  std::optional<Key> best;
  for (int place = -8; place <= 12; ++place) {
    const Key candidate{from_fifths(place), key.mode};
    if (candidate.tonic.number() != wanted) continue;
    if (!best || std::abs(candidate.fifths()) < std::abs(best->fifths())) best = candidate;
  }
  return *best;
}

std::optional<Key> enharmonic(const Key& key) {
  for (const int shift : {-12, 12}) {
    const Key twin{from_fifths(fifths_of(key.tonic) + shift), key.mode};
    if (std::abs(twin.fifths()) <= 7) return twin;
  }
  return std::nullopt;
}

Key relative_major(const Key& key) {
  return {from_fifths(key.fifths()), Mode::Major};
}

Key relative_minor(const Key& key) {
  return {from_fifths(key.fifths() + 3), Mode::Minor};
}

Degree degree(PitchClass pc, const Key& key) {
  const Interval over = between(key.tonic, pc);
  return {over.steps + 1, over.deviation()};
}

std::string print(Degree degree, Accidentals how) {
  const bool signs = how == Accidentals::Signs;
  std::string out;
  for (int i = 0; i < std::abs(degree.alter); ++i) {
    if (degree.alter > 0) out += signs ? "♯" : "#";
    if (degree.alter < 0) out += signs ? "♭" : "b";
  }
  return out + std::to_string(degree.number);
}

}  // namespace tunesheaf::theory

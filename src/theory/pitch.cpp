#include "tunesheaf/theory/pitch.h"

#include <array>
#include <cmath>
#include <cstdlib>

#include "tunesheaf/base/number.h"

namespace tunesheaf::theory {
namespace {

constexpr std::array<int, 7> kSemitones{0, 2, 4, 5, 7, 9, 11};
constexpr int kMostAlter = 3;

int floor_div(int a, int b) {
  const int q = a / b;
  return a % b < 0 ? q - 1 : q;
}

int modulo(int a, int b) {
  return ((a % b) + b) % b;
}

std::optional<Step> step_of(char c) {
  switch (c) {
    case 'C':
      return Step::C;
    case 'D':
      return Step::D;
    case 'E':
      return Step::E;
    case 'F':
      return Step::F;
    case 'G':
      return Step::G;
    case 'A':
      return Step::A;
    case 'B':
      return Step::B;
    default:
      return std::nullopt;
  }
}

struct Sign {
  std::string_view text;
  int alter;
};
constexpr std::array<Sign, 7> kSigns{{{"#", 1}, {"b", -1}, {"♯", 1}, {"♭", -1}, {"𝄪", 2}, {"𝄫", -2}, {"♮", 0}}};

/// Accidentals at the start of `text`; nothing when they go beyond three.
std::optional<int> read_accidentals(std::string_view text, std::size_t& taken) {
  int alter = 0;
  taken = 0;
  for (bool found = true; found;) {
    found = false;
    for (const Sign& sign : kSigns) {
      if (text.substr(taken).starts_with(sign.text)) {
        alter += sign.alter;
        taken += sign.text.size();
        found = true;
      }
    }
  }
  if (std::abs(alter) > kMostAlter) return std::nullopt;
  return alter;
}

/// Semitones of the perfect or major interval of `steps` letters, octaves included; steps >= 0.
int plain_semitones(int steps) {
  return kSemitones[static_cast<std::size_t>(steps % 7)] + 12 * (steps / 7);
}

bool perfect_number(int steps) {
  const int simple = steps % 7;
  return simple == 0 || simple == 3 || simple == 4;
}

}  // namespace

int semitones_of(Step step) {
  return kSemitones[static_cast<std::size_t>(step)];
}

Step step_up(Step step, int steps) {
  return static_cast<Step>(modulo(static_cast<int>(step) + steps, 7));
}

char letter(Step step) {
  return "CDEFGAB"[static_cast<std::size_t>(step)];
}

int PitchClass::number() const {
  return modulo(semitones_of(step) + alter, 12);
}

int Pitch::midi() const {
  return 12 * (octave + 1) + semitones_of(name.step) + name.alter;
}

int Pitch::diatonic() const {
  return octave * 7 + static_cast<int>(name.step);
}

std::optional<PitchClass> read_pitch_class(std::string_view text, std::size_t& taken) {
  if (text.empty()) return std::nullopt;
  const std::optional<Step> step = step_of(text[0]);
  if (!step) return std::nullopt;
  std::size_t used = 0;
  const std::optional<int> alter = read_accidentals(text.substr(1), used);
  if (!alter) return std::nullopt;
  taken = 1 + used;
  return PitchClass{*step, *alter};
}

namespace {

std::string first_capital(std::string_view text) {
  std::string copy(text);
  if (!copy.empty() && copy[0] >= 'a' && copy[0] <= 'g') copy[0] = static_cast<char>(copy[0] - 'a' + 'A');
  return copy;
}

/// Reads a class with "x" as the typed double sharp.
std::optional<PitchClass> read_loose(std::string_view text, std::size_t& taken) {
  std::optional<PitchClass> pc = read_pitch_class(text, taken);
  if (pc && pc->alter == 0 && text.substr(taken).starts_with("x")) {
    pc->alter = 2;
    ++taken;
  }
  return pc;
}

}  // namespace

std::optional<PitchClass> parse_pitch_class(std::string_view text) {
  const std::string copy = first_capital(text);
  std::size_t taken = 0;
  const std::optional<PitchClass> pc = read_loose(copy, taken);
  if (!pc || taken != copy.size()) return std::nullopt;
  return pc;
}

std::optional<Pitch> parse_pitch(std::string_view text) {
  const std::string copy = first_capital(text);
  std::size_t taken = 0;
  const std::optional<PitchClass> pc = read_loose(copy, taken);
  if (!pc) return std::nullopt;
  const std::string_view rest = std::string_view(copy).substr(taken);
  const bool shape = rest.size() == 1 || (rest.size() == 2 && rest[0] == '-');
  if (!shape) return std::nullopt;
  const std::optional<std::int64_t> octave = base::parse_integer(rest);
  if (!octave || *octave < -1 || *octave > 9) return std::nullopt;
  return Pitch{*pc, static_cast<int>(*octave)};
}

std::string print(PitchClass pc, Accidentals how) {
  std::string out(1, letter(pc.step));
  const bool signs = how == Accidentals::Signs;
  int left = pc.alter;
  while (left >= 2 && signs) {
    out += "𝄪";
    left -= 2;
  }
  while (left <= -2 && signs) {
    out += "𝄫";
    left += 2;
  }
  for (; left > 0; --left) out += signs ? "♯" : "#";
  for (; left < 0; ++left) out += signs ? "♭" : "b";
  return out;
}

std::string print(Pitch pitch, Accidentals how) {
  return print(pitch.name, how) + std::to_string(pitch.octave);
}

double frequency(double midi, double a4) {
  return a4 * std::exp2((midi - 69.0) / 12.0);
}

double cents_between(double from_hz, double to_hz) {
  return 1200.0 * std::log2(to_hz / from_hz);
}

double midi_of(double hz, double a4) {
  return 69.0 + 12.0 * std::log2(hz / a4);
}

PitchClass plain_spelling_class(int number) {
  constexpr std::array<PitchClass, 12> kPlain{{{Step::C, 0},
                                               {Step::C, 1},
                                               {Step::D, 0},
                                               {Step::E, -1},
                                               {Step::E, 0},
                                               {Step::F, 0},
                                               {Step::F, 1},
                                               {Step::G, 0},
                                               {Step::A, -1},
                                               {Step::A, 0},
                                               {Step::B, -1},
                                               {Step::B, 0}}};
  return kPlain[static_cast<std::size_t>(modulo(number, 12))];
}

Pitch with_name(int midi, PitchClass pc) {
  const int natural = midi - pc.alter - semitones_of(pc.step);
  return {pc, floor_div(natural, 12) - 1};
}

Pitch plain_spelling(int midi) {
  return with_name(midi, plain_spelling_class(midi));
}

int Interval::deviation() const {
  if (steps < 0) return -semitones - plain_semitones(-steps);
  return semitones - plain_semitones(steps);
}

Quality Interval::quality() const {
  const int d = deviation();
  if (perfect_number(std::abs(steps))) {
    if (d == 0) return Quality::Perfect;
    return d > 0 ? Quality::Augmented : Quality::Diminished;
  }
  if (d == 0) return Quality::Major;
  if (d == -1) return Quality::Minor;
  return d > 0 ? Quality::Augmented : Quality::Diminished;
}

std::optional<Interval> parse_interval(std::string_view text) {
  const bool down = text.starts_with("-");
  if (down) text.remove_prefix(1);
  std::size_t i = 0;
  while (i < text.size() && text[i] == text[0] && (text[i] < '0' || text[i] > '9')) ++i;
  if (i == 0 || i > 3) return std::nullopt;
  const std::optional<std::int64_t> number = base::parse_integer(text.substr(i));
  if (!number || *number < 1 || *number > 99 || text[i] == '-' || text[i] == '+') return std::nullopt;
  const int steps = static_cast<int>(*number) - 1;
  const bool perfect = perfect_number(steps);
  const int times = static_cast<int>(i);
  int deviation = 0;
  switch (text[0]) {
    case 'P':
      if (!perfect || times != 1) return std::nullopt;
      break;
    case 'M':
      if (perfect || times != 1) return std::nullopt;
      break;
    case 'm':
      if (perfect || times != 1) return std::nullopt;
      deviation = -1;
      break;
    case 'A':
      deviation = times;
      break;
    case 'd':
      deviation = perfect ? -times : -times - 1;
      break;
    default:
      return std::nullopt;
  }
  const int semitones = plain_semitones(steps) + deviation;
  return down ? Interval{-steps, -semitones} : Interval{steps, semitones};
}

std::string print(Interval interval) {
  // A diminished unison up is the same distance as an augmented one down, and is printed so.
  const bool down = interval.steps < 0 || (interval.steps == 0 && interval.semitones < 0);
  const Interval up = down ? Interval{-interval.steps, -interval.semitones} : interval;
  std::string out = down ? "-" : "";
  const int d = up.deviation();
  switch (up.quality()) {
    case Quality::Perfect:
      out += 'P';
      break;
    case Quality::Major:
      out += 'M';
      break;
    case Quality::Minor:
      out += 'm';
      break;
    case Quality::Augmented:
      out.append(static_cast<std::size_t>(d), 'A');
      break;
    case Quality::Diminished: {
      const int times = perfect_number(up.steps) ? -d : -d - 1;
      out.append(static_cast<std::size_t>(times), 'd');
      break;
    }
  }
  return out + std::to_string(up.number());
}

std::optional<Pitch> transpose(Pitch pitch, Interval by) {
  const int place = pitch.diatonic() + by.steps;
  Pitch out;
  out.name.step = static_cast<Step>(modulo(place, 7));
  out.octave = floor_div(place, 7);
  const int alter = pitch.midi() + by.semitones - out.midi();
  if (std::abs(alter) > kMostAlter) return std::nullopt;
  out.name.alter = alter;
  return out;
}

std::optional<PitchClass> transpose(PitchClass pc, Interval by) {
  const std::optional<Pitch> moved = transpose(Pitch{pc, 4}, by);
  if (!moved) return std::nullopt;
  return moved->name;
}

Interval between(Pitch from, Pitch to) {
  return {to.diatonic() - from.diatonic(), to.midi() - from.midi()};
}

Interval between(PitchClass from, PitchClass to) {
  const int octave = to.step < from.step ? 5 : 4;
  return between(Pitch{from, 4}, Pitch{to, octave});
}

Interval usual_interval(int semitones) {
  constexpr std::array<int, 12> kSteps{0, 1, 1, 2, 2, 3, 4, 4, 5, 5, 6, 6};
  const int size = std::abs(semitones);
  const int steps = kSteps[static_cast<std::size_t>(size % 12)] + 7 * (size / 12);
  return semitones < 0 ? Interval{-steps, -size} : Interval{steps, size};
}

}  // namespace tunesheaf::theory

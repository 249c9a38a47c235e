// Tunings that players call by name. Facts of common practice, set down in tests/facts/tunings.tsv with their MIDI keys
// and frequencies, against which this table is tested.
#include <algorithm>
#include <array>

#include "tunesheaf/theory/instrument.h"
#include "tunesheaf/theory/tuning.h"

namespace tunesheaf::theory {
namespace {

struct TuningRow {
  std::string_view instrument, name, notes;
};

constexpr std::array kTuningRows{
    TuningRow{"guitar", "drop D", "D2 A2 D3 G3 B3 E4"},
    TuningRow{"guitar", "double drop D", "D2 A2 D3 G3 B3 D4"},
    TuningRow{"guitar", "DADGAD", "D2 A2 D3 G3 A3 D4"},
    TuningRow{"guitar", "open D", "D2 A2 D3 F#3 A3 D4"},
    TuningRow{"guitar", "open E", "E2 B2 E3 G#3 B3 E4"},
    TuningRow{"guitar", "open G", "D2 G2 D3 G3 B3 D4"},
    TuningRow{"guitar", "open A", "E2 A2 E3 A3 C#4 E4"},
    TuningRow{"guitar", "open C", "C2 G2 C3 G3 C4 E4"},
    TuningRow{"guitar", "drop C", "C2 G2 C3 F3 A3 D4"},
    TuningRow{"guitar", "all fourths", "E2 A2 D3 G3 C4 F4"},
    TuningRow{"guitar", "open D minor", "D2 A2 D3 F3 A3 D4"},
    TuningRow{"guitar", "open G minor", "D2 G2 D3 G3 Bb3 D4"},
    TuningRow{"guitar", "high-strung", "E3 A3 D4 G4 B3 E4"},
    TuningRow{"7-string guitar", "drop A", "A1 E2 A2 D3 G3 B3 E4"},
    TuningRow{"8-string guitar", "drop E", "E1 B1 E2 A2 D3 G3 B3 E4"},
    TuningRow{"baritone guitar", "A to A", "A1 D2 G2 C3 E3 A3"},
    TuningRow{"12-string guitar", "drop D", "D2/D3 A2/A3 D3/D4 G3/G4 B3/B3 E4/E4"},
    TuningRow{"12-string guitar", "open G", "D2/D3 G2/G3 D3/D4 G3/G4 B3/B3 D4/D4"},
    TuningRow{"bass guitar", "drop D", "D1 A1 D2 G2"},
    TuningRow{"ukulele", "low G", "G3 C4 E4 A4"},
    TuningRow{"ukulele", "D", "A4 D4 F#4 B4"},
    TuningRow{"mandolin", "GDGD", "G3 D4 G4 D5"},
    TuningRow{"mandolin", "AEAE", "A3 E4 A4 E5"},
    TuningRow{"octave mandolin", "GDAD", "G2 D3 A3 D4"},
    TuningRow{"banjo", "drop C", "G4@5 C3 G3 B3 D4"},
    TuningRow{"banjo", "double C", "G4@5 C3 G3 C4 D4"},
    TuningRow{"banjo", "G modal", "G4@5 D3 G3 C4 D4"},
    TuningRow{"banjo", "open D", "F#4@5 D3 F#3 A3 D4"},
    TuningRow{"tenor banjo", "GDAE", "G2 D3 A3 E4"},
    TuningRow{"violin", "AEAE", "A3 E4 A4 E5"},
    TuningRow{"violin", "GDGD", "G3 D4 G4 D5"},
};

struct Shift {
  std::string_view name;
  Interval by;
};
/// Names that shift any fretted instrument's usual tuning; the letters stay or move as players spell them.
constexpr std::array kShifts{
    Shift{"half step down", {0, -1}},  Shift{"whole step down", {-1, -2}}, Shift{"one and a half steps down", {-2, -3}},
    Shift{"two steps down", {-2, -4}}, Shift{"half step up", {1, 1}},
};

struct Also {
  std::string_view word, name;
};
constexpr std::array kAlso{
    Also{"standard", "usual"},
    Also{"normal", "usual"},
    Also{"half-step down", "half step down"},
    Also{"semitone down", "half step down"},
    Also{"a half step down", "half step down"},
    Also{"a semitone down", "half step down"},
    Also{"one semitone down", "half step down"},
    Also{"whole-step down", "whole step down"},
    Also{"tone down", "whole step down"},
    Also{"a whole step down", "whole step down"},
    Also{"a tone down", "whole step down"},
    Also{"two semitones down", "whole step down"},
    Also{"dropped D", "drop D"},
    Also{"dropped C", "drop C"},
    Also{"Nashville", "high-strung"},
    Also{"fourths", "all fourths"},
    Also{"high G", "usual"},
    Also{"sawmill", "G modal"},
};

std::string folded(std::string_view text) {
  std::string out;
  for (const char c : text) {
    const bool blank = c == ' ' || c == '\t';
    if (blank && (out.empty() || out.back() == ' ')) continue;
    out += blank ? ' ' : ((c >= 'A' && c <= 'Z') ? static_cast<char>(c - 'A' + 'a') : c);
  }
  while (!out.empty() && out.back() == ' ') out.pop_back();
  return out;
}

/// Players say B and E, never C flat or F flat: where one of these would come, all black keys are said as sharps.
void respell(Tuning& tuning) {
  bool odd = false;
  for (const TunedString& string : tuning.strings) {
    for (const Pitch& pitch : string.course) {
      odd = odd || (pitch.name.alter != 0 && plain_spelling(pitch.midi()).name.alter == 0);
    }
  }
  if (!odd) return;
  for (TunedString& string : tuning.strings) {
    for (Pitch& pitch : string.course) {
      const Pitch plain = plain_spelling(pitch.midi());
      pitch = plain;
      if (plain.name.alter >= 0) continue;
      const auto letter = static_cast<Step>((static_cast<int>(plain.name.step) + 6) % 7);
      pitch = with_name(pitch.midi(), PitchClass{letter, 1});
    }
  }
}

std::optional<Tuning> shifted(const Tuning& usual, const Shift& shift) {
  Tuning out = usual;
  for (TunedString& string : out.strings) {
    for (Pitch& pitch : string.course) {
      const std::optional<Pitch> moved = transpose(pitch, shift.by);
      if (!moved) return std::nullopt;
      pitch = *moved;
    }
  }
  out.name = std::string(shift.name);
  respell(out);
  return out;
}

/// Instruments that are tuned by another's names.
std::string_view tuned_like(std::string_view instrument) {
  if (instrument == "classical guitar" || instrument == "electric guitar") return "guitar";
  if (instrument == "fretless bass") return "bass guitar";
  return instrument;
}

std::vector<NamedTuning> build() {
  std::vector<NamedTuning> out;
  for (const Instrument& instrument : instruments()) {
    if (!instrument.usual) continue;
    NamedTuning usual{instrument.name, "usual", *instrument.usual, true};
    usual.tuning.name = "usual";
    out.push_back(usual);
    for (const TuningRow& row : kTuningRows) {
      if (row.instrument != tuned_like(instrument.name)) continue;
      NamedTuning named{instrument.name, std::string(row.name), parse_tuning_notes(row.notes).value(), false};
      named.tuning.name = named.name;
      out.push_back(std::move(named));
    }
    if (instrument.family != Family::Fretted) continue;
    for (const Shift& shift : kShifts) {
      std::optional<Tuning> moved = shifted(usual.tuning, shift);
      if (moved) out.push_back({instrument.name, std::string(shift.name), std::move(*moved), false});
    }
  }
  return out;
}

}  // namespace

const std::vector<NamedTuning>& named_tunings() {
  static const std::vector<NamedTuning> kAll = build();
  return kAll;
}

std::optional<Tuning> find_tuning(std::string_view instrument, std::string_view name) {
  const Instrument* known = find_instrument(instrument);
  if (known == nullptr) return std::nullopt;
  std::string wanted = folded(name);
  for (const Also& also : kAlso) {
    if (folded(also.word) == wanted) wanted = folded(also.name);
  }
  // "open G" is the banjo's own name for what it is always tuned to.
  if (known->name == "banjo" && wanted == "open g") wanted = "usual";
  for (const NamedTuning& named : named_tunings()) {
    if (named.instrument == known->name && folded(named.name) == wanted) return named.tuning;
  }
  return std::nullopt;
}

}  // namespace tunesheaf::theory

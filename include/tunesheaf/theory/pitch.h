// Pitches, spelled. In: note names ("F#3", "Bb", "E♭4", "C##4"), MIDI keys, intervals. Out: spelled pitches, their MIDI
// keys, frequencies and distances. Invariant: a spelling is a letter and an alteration of -3..3 semitones; arithmetic
// with intervals keeps letters (C up an augmented fifth is G sharp, never A flat). Octaves are numbered so that C4 is
// middle C, MIDI key 60. Read next: key.h (which of two spellings a key wants), chord.h.
#pragma once
#include <compare>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

#include "tunesheaf/base/narrow.h"

namespace tunesheaf::theory {

enum class Step : std::uint8_t { C, D, E, F, G, A, B };

/// How accidentals are written: "#" and "b", or the signs of music (♯ ♭ 𝄪 𝄫).
enum class Accidentals : std::uint8_t { Ascii, Signs };

/// Semitones of the plain letter over C: 0 2 4 5 7 9 11.
int semitones_of(Step step);
/// Plain letter n steps up (down when negative), going round the octave.
Step step_up(Step step, int steps);
char letter(Step step);

/// A spelled note without octave.
struct PitchClass {
  Step step = Step::C;
  base::Tiny alter;  // semitones, -3..3
  /// 0..11, C is 0.
  int number() const;
  friend constexpr auto operator<=>(PitchClass, PitchClass) = default;
};

/// A spelled note in its octave.
struct Pitch {
  PitchClass name;
  base::Tiny octave = 4;
  /// MIDI key number; may lie outside 0..127. B#3 is 60, Cb4 is 59.
  int midi() const;
  /// Staff position: steps above C0 by letter alone (C4 is 28), whatever the accidental.
  int diatonic() const;
  friend constexpr bool operator==(Pitch, Pitch) = default;
};

/// Why a text is no pitch, interval, key or chord; `at` is the byte offset of the first thing that was not understood.
enum class NameFault : std::uint8_t {
  Empty,
  NoLetter,  // no A..G at the start
  TooManyAccidentals,
  NoOctave,  // a pitch needs one here
  UnknownMode,
  UnknownWord,  // left over text that means nothing
  OutOfRange,   // a number no instrument reaches
};

/// Letter (either case for a class; upper or lower), accidentals (# b ♯ ♭ 𝄪 𝄫 x), nothing else.
std::optional<PitchClass> parse_pitch_class(std::string_view text);
/// Like parse_pitch_class with an octave -1..9 after it.
std::optional<Pitch> parse_pitch(std::string_view text);
/// Reads a pitch class at the start of `text`; says how many bytes it took. The letter must be a capital.
std::optional<PitchClass> read_pitch_class(std::string_view text, std::size_t& taken);

std::string print(PitchClass pc, Accidentals how = Accidentals::Ascii);
std::string print(Pitch pitch, Accidentals how = Accidentals::Ascii);

/// Equal temperament, f = a4 * 2^((midi - 69) / 12) (ISO 16 for a4 = 440), in Hz.
double frequency(double midi, double a4 = 440.0);
inline double frequency(Pitch pitch, double a4 = 440.0) {
  return frequency(pitch.midi(), a4);
}
/// Cents from one frequency up to another.
double cents_between(double from_hz, double to_hz);
/// MIDI number, with fraction, of a frequency.
double midi_of(double hz, double a4 = 440.0);

/// Spelling without a key: black keys as F# C# Bb Eb Ab, the commonest five.
Pitch plain_spelling(int midi);
PitchClass plain_spelling_class(int number);
/// The same key spelled on the nearest octave so that midi() == midi and name == pc; needs pc.number() == midi mod 12.
Pitch with_name(int midi, PitchClass pc);

enum class Quality : std::int8_t { Diminished, Minor, Perfect, Major, Augmented };

/// A spelled interval, upwards or down. Both numbers have the direction's sign: a major third down is {-2, -4}.
struct Interval {
  int steps = 0;  // letters passed: 0 unison, 2 a third, 7 an octave
  int semitones = 0;
  /// 1 unison, 3 third, 10 tenth; always positive.
  int number() const { return (steps < 0 ? -steps : steps) + 1; }
  /// How far the interval is from the perfect or major one of its number, in semitones, in its own direction.
  int deviation() const;
  /// Quality; doubly augmented or diminished ones are told apart by deviation().
  Quality quality() const;
  friend constexpr bool operator==(Interval, Interval) = default;
};

/// "P5", "m3", "M10", "d5", "A4", "dd7", "-M2".
std::optional<Interval> parse_interval(std::string_view text);
std::string print(Interval interval);
/// Fails when the result would need more than three accidentals.
std::optional<Pitch> transpose(Pitch pitch, Interval by);
std::optional<PitchClass> transpose(PitchClass pc, Interval by);
Interval between(Pitch from, Pitch to);
/// Upwards, less than an octave by letter.
Interval between(PitchClass from, PitchClass to);
/// The usual interval of 0..11 semitones (m2 M2 m3 M3 P4 d5 P5 m6 M6 m7 M7), octaves added, sign kept.
Interval usual_interval(int semitones);

}  // namespace tunesheaf::theory

#include "tunesheaf/theory/pitch.h"

#include <gtest/gtest.h>

namespace tunesheaf::theory {
namespace {

Pitch pitch(std::string_view text) {
  return parse_pitch(text).value();
}

TEST(Pitch, ReadsAsciiAndSigns) {
  EXPECT_EQ(pitch("F#3").midi(), 54);
  EXPECT_EQ(pitch("F♯3").midi(), 54);
  EXPECT_EQ(pitch("Bb2").midi(), 46);
  EXPECT_EQ(pitch("E♭4").midi(), 63);
  EXPECT_EQ(pitch("C##4").midi(), 62);
  EXPECT_EQ(pitch("Cx4").midi(), 62);
  EXPECT_EQ(pitch("C𝄪4").midi(), 62);
  EXPECT_EQ(pitch("B𝄫4").midi(), 69);
  EXPECT_EQ(pitch("bb3").midi(), 58);
  EXPECT_EQ(pitch("C4").midi(), 60);
  EXPECT_EQ(pitch("B#3").midi(), 60);
  EXPECT_EQ(pitch("Cb4").midi(), 59);
  EXPECT_EQ(pitch("C-1").midi(), 0);
}

TEST(Pitch, RefusesWhatIsNoPitch) {
  for (const char* text : {"", "H4", "C", "4", "C44", "C####4", "C4x", " C4", "C+4", "Eb", "C--1", "C10"}) {
    EXPECT_FALSE(parse_pitch(text)) << text;
  }
  EXPECT_TRUE(parse_pitch_class("Eb"));
  EXPECT_FALSE(parse_pitch_class("Eb4"));
}

TEST(Pitch, PrintAndReadAgreeForEverySpelling) {
  for (int octave = -1; octave <= 9; ++octave) {
    for (int step = 0; step < 7; ++step) {
      for (int alter = -3; alter <= 3; ++alter) {
        const Pitch p{{static_cast<Step>(step), alter}, octave};
        EXPECT_EQ(parse_pitch(print(p)), p);
        EXPECT_EQ(parse_pitch(print(p, Accidentals::Signs)), p);
        EXPECT_EQ(with_name(p.midi(), p.name), p);
      }
    }
  }
}

TEST(Pitch, FrequenciesFollowIso16) {
  EXPECT_DOUBLE_EQ(frequency(pitch("A4")), 440.0);
  EXPECT_NEAR(frequency(pitch("C4")), 261.6256, 1e-4);
  EXPECT_NEAR(frequency(pitch("A4"), 432.0), 432.0, 1e-12);
  EXPECT_NEAR(cents_between(440.0, 442.0), 7.851, 1e-3);
  EXPECT_NEAR(midi_of(frequency(64.18)), 64.18, 1e-9);
}

TEST(Interval, KeepsLettersInTransposition) {
  EXPECT_EQ(print(*transpose(pitch("C4"), *parse_interval("A5"))), "G#4");
  EXPECT_EQ(print(*transpose(pitch("Ab3"), *parse_interval("m3"))), "Cb4");
  EXPECT_EQ(print(*transpose(pitch("C4"), *parse_interval("-m2"))), "B3");
  EXPECT_EQ(print(*transpose(pitch("F#2"), *parse_interval("M10"))), "A#3");
  EXPECT_FALSE(transpose(PitchClass{Step::C, 3}, *parse_interval("A1")));
}

TEST(Interval, NamesAndSizes) {
  EXPECT_EQ(between(pitch("C4"), pitch("E4")), *parse_interval("M3"));
  EXPECT_EQ(print(between(pitch("E4"), pitch("C4"))), "-M3");
  EXPECT_EQ(print(between(pitch("C4"), pitch("Gb5"))), "d12");
  EXPECT_EQ(print(between(pitch("B3"), pitch("C4"))), "m2");
  EXPECT_EQ(parse_interval("dd7")->semitones, 8);
  EXPECT_EQ(parse_interval("P8")->semitones, 12);
  for (const char* text : {"", "P3", "M5", "m4", "X2", "P0", "P", "5", "PP5", "mm3", "P-5", "AAAA4"}) {
    EXPECT_FALSE(parse_interval(text)) << text;
  }
}

TEST(Interval, ThereAndBackIsNothing) {
  const Pitch from = pitch("D4");
  for (int semitones = -24; semitones <= 24; ++semitones) {
    const Interval by = usual_interval(semitones);
    EXPECT_EQ(by.semitones, semitones);
    const Pitch up = transpose(from, by).value();
    EXPECT_EQ(transpose(up, Interval{-by.steps, -by.semitones}), from);
    EXPECT_EQ(parse_interval(print(by)), by);
  }
}

}  // namespace
}  // namespace tunesheaf::theory

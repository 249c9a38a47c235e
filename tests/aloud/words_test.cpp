#include "tunesheaf/aloud/words.h"

#include <gtest/gtest.h>

#include <set>

#include "tunesheaf/base/utf8.h"
#include "tunesheaf/theory/chord.h"

namespace tunesheaf::aloud {
namespace {

score::Bar bar_of(const std::string& meter) {
  score::Bar bar;
  bar.meter = *theory::parse_meter(meter);
  bar.length = bar.meter.bar_length();
  return bar;
}

TEST(Words, BeatsAsABandCountsThem) {
  using base::Fraction;
  const score::Bar four = bar_of("4/4");
  EXPECT_EQ(beat_words(four, Fraction(0)), "beat 1");
  EXPECT_EQ(beat_words(four, Fraction(3, 8)), "beat 2 and");
  EXPECT_EQ(beat_words(four, Fraction(1, 16)), "beat 1 e");
  EXPECT_EQ(beat_words(four, Fraction(15, 16)), "beat 4 a");
  EXPECT_EQ(beat_words(four, Fraction(1, 3)), "second third of beat 2");
  EXPECT_EQ(beat_words(four, Fraction(5, 12)), "last third of beat 2");
  EXPECT_EQ(beat_words(four, Fraction(1, 32)), "one eighth into beat 1");
  EXPECT_EQ(beat_words(four, Fraction(1, 4) + Fraction(2, 20)), "two fifths into beat 2");
  EXPECT_EQ(beat_words(four, Fraction(1, 4) + Fraction(1, 84)), "one twenty-first into beat 2");
  EXPECT_EQ(beat_words(four, Fraction(3, 4) + Fraction(5, 512)), "5 parts of 128 into beat 4");
}

TEST(Words, BeatsOfThreeHaveThirdsAndNoAnd) {
  using base::Fraction;
  const score::Bar six = bar_of("6/8");
  EXPECT_EQ(beat_words(six, Fraction(3, 8)), "beat 2");
  EXPECT_EQ(beat_words(six, Fraction(1, 2)), "second third of beat 2");
  EXPECT_EQ(beat_words(six, Fraction(3, 16)), "one half into beat 1");
  const score::Bar seven = bar_of("7/8 (2+2+3)");
  EXPECT_EQ(beat_words(seven, Fraction(3, 8)), "beat 2 and");
  EXPECT_EQ(beat_words(seven, Fraction(6, 8)), "last third of beat 3");
}

TEST(Words, APickUpIsTheEndOfItsBar) {
  score::Bar bar = bar_of("4/4");
  bar.length = base::Fraction(1, 4);
  bar.pick_up = true;
  EXPECT_EQ(beat_words(bar, base::Fraction(1, 8)), "beat 4 and");
}

/// No two places of any meter share their words.
TEST(Words, EveryPlaceHasWordsOfItsOwn) {
  for (const char* meter :
       {"4/4", "3/4", "2/2", "6/8", "9/8", "12/8", "3/8", "5/4 (3+2)", "7/8 (2+2+3)", "5/8 (3+2)"}) {
    const score::Bar bar = bar_of(meter);
    std::set<std::string> words;
    std::set<base::Fraction> places;
    for (const int parts : {16, 24, 20, 28, 36, 48, 64, 44, 52, 128}) {
      for (int i = 0; i < parts; ++i) places.insert(bar.length * base::Fraction(i, parts));
    }
    for (const base::Fraction& place : places) words.insert(beat_words(bar, place));
    EXPECT_EQ(words.size(), places.size()) << meter;
  }
}

TEST(Words, PitchesKeysMeters) {
  EXPECT_EQ(pitch_words(*theory::parse_pitch("Bb3")), "B flat 3");
  EXPECT_EQ(pitch_words(*theory::parse_pitch("F##5")), "F double sharp 5");
  EXPECT_EQ(key_words(*theory::parse_key("C# minor")), "C sharp minor");
  EXPECT_EQ(meter_words(*theory::parse_meter("3/4")), "three quarters time");
  EXPECT_EQ(meter_words(*theory::parse_meter("2/2")), "two halves time");
  EXPECT_EQ(meter_words(*theory::parse_meter("7/8 (2+2+3)")), "seven eighths time, counted two and two and three");
  EXPECT_EQ(meter_words(*theory::parse_meter("C|")), "two halves time, called cut time");
  EXPECT_EQ(meter_words(*theory::parse_meter("12/16")), "twelve sixteenths time");
}

TEST(Words, Chords) {
  EXPECT_EQ(chord_words(std::string("C")), "C major");
  EXPECT_EQ(chord_words(std::string("F#m7b5")), "F sharp half diminished");
  EXPECT_EQ(chord_words(std::string("Bbmaj7/D")), "B flat major seventh over D");
  EXPECT_EQ(chord_words(std::string("G7(b9)")), "G seventh with an added flat ninth");
  EXPECT_EQ(chord_words(std::string("C5")), "C power chord");
  EXPECT_EQ(chord_words(std::string("Asus4")), "A suspended fourth");
  EXPECT_EQ(chord_words(std::string("N.C.")), "no chord");
}

/// Every kind of chord has words without signs.
TEST(Words, EveryKindOfChordIsSpoken) {
  for (int kind = 0; kind <= static_cast<int>(theory::ChordKind::None); ++kind) {
    theory::ChordName chord;
    chord.kind = static_cast<theory::ChordKind>(kind);
    const std::string words = chord_words(chord);
    EXPECT_EQ(words.find_first_of("-#()/+"), std::string::npos) << words;
    EXPECT_GT(words.size(), 5U);
  }
}

TEST(Words, PlainTextHasNoSigns) {
  EXPECT_EQ(plain("F# & Bb, the B♭m chord"), "F sharp and B flat, the B flat m chord");
  EXPECT_EQ(plain("A b c Abe"), "A b c Abe");
  EXPECT_EQ(plain("3/4 time, and/or 50%"), "3 over 4 time, and or 50 percent");
  EXPECT_EQ(plain("F/A or Bb/D"), "F over A or B flat over D");
  EXPECT_EQ(plain("“Hush” — it’s over…"), "\"Hush\", it's over...");
  EXPECT_EQ(plain("A4 = 432"), "A4 equals 432");
  EXPECT_EQ(plain("naïve Größe, 歌"), "naïve Größe, 歌");
  EXPECT_EQ(plain("\xF0\x9F\x8E\xB8 riff"), "riff");
}

TEST(Words, TempoAndTime) {
  song::TempoMark tempo;
  tempo.per_minute = base::Fraction(88);
  tempo.unit = base::Fraction(3, 8);
  tempo.unit_stated = true;
  tempo.words = "slower";
  EXPECT_EQ(tempo_words(tempo, *theory::parse_meter("6/8")), "slower, 88 dotted quarter notes a minute");
  tempo.unit_stated = false;
  EXPECT_EQ(tempo_words(tempo, *theory::parse_meter("2/2")), "slower, 88 half notes a minute");
  EXPECT_EQ(time_words(116), "1 minute and 56 seconds");
  EXPECT_EQ(time_words(3600), "1 hour");
  EXPECT_EQ(amount_words(base::Fraction(3, 2)), "1 and one half semitones");
  EXPECT_EQ(amount_words(base::Fraction(1, 2)), "a quarter tone");
}

}  // namespace
}  // namespace tunesheaf::aloud

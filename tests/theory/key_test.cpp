#include "tunesheaf/theory/key.h"

#include <gtest/gtest.h>

namespace tunesheaf::theory {
namespace {

Key key(std::string_view text) {
  return parse_key(text).value();
}

std::string spelled(const Key& k) {
  std::string out;
  for (const PitchClass pc : k.scale()) out += print(pc) + " ";
  return out;
}

std::string chromatic(const Key& k) {
  std::string out;
  for (int i = 0; i < 12; ++i) out += print(spell_class(k.tonic.number() + i, k)) + " ";
  return out;
}

TEST(Key, ReadsTheWaysPlayersWrite) {
  EXPECT_EQ(key("G major"), key("G"));
  EXPECT_EQ(key("A minor"), key("Am"));
  EXPECT_EQ(key("a minor"), key("Am"));
  EXPECT_EQ(key("B♭ major"), key("Bb"));
  EXPECT_EQ(key("F# mixolydian"), (Key{{Step::F, 1}, Mode::Mixolydian}));
  EXPECT_EQ(key("D aeolian"), key("D minor"));
  EXPECT_EQ(key("  E  dorian "), (Key{{Step::E, 0}, Mode::Dorian}));
  EXPECT_EQ(parse_key("").error().fault, NameFault::Empty);
  EXPECT_EQ(parse_key("H major").error().fault, NameFault::NoLetter);
  EXPECT_EQ(parse_key("C##").error().fault, NameFault::TooManyAccidentals);
  EXPECT_EQ(parse_key("C mojor").error(), (KeyError{NameFault::UnknownMode, 2}));
}

TEST(Key, SignaturesAndScales) {
  EXPECT_EQ(key("G").fifths(), 1);
  EXPECT_EQ(key("Eb minor").fifths(), -6);
  EXPECT_EQ(key("D mixolydian").fifths(), 1);
  EXPECT_EQ(spelled(key("Eb")), "Eb F G Ab Bb C D ");
  EXPECT_EQ(spelled(key("F# mixolydian")), "F# G# A# B C# D# E ");
  EXPECT_EQ(spelled(key("B locrian")), "B C D E F G A ");
}

TEST(Key, SpellsEveryNoteAsTheKeyWants) {
  EXPECT_EQ(chromatic(key("C")), "C C# D Eb E F F# G Ab A Bb B ");
  EXPECT_EQ(chromatic(key("F")), "F Gb G Ab A Bb B C Db D Eb E ");
  EXPECT_EQ(chromatic(key("D")), "D D# E F F# G G# A Bb B C C# ");
  EXPECT_EQ(chromatic(key("E minor")), "E F F# G G# A A# B C C# D D# ");
  EXPECT_EQ(chromatic(key("Ab")), "Ab Bbb Bb Cb C Db D Eb Fb F Gb G ");
  EXPECT_EQ(print(spell(56, key("A minor"))), "G#3");
  EXPECT_EQ(print(spell(59, key("Gb"))), "Cb4");
}

TEST(Key, TransposesToTheReadableTwin) {
  EXPECT_EQ(print(transposed(key("G"), 2)), "A major");
  EXPECT_EQ(print(transposed(key("F"), 1)), "Gb major");
  EXPECT_EQ(print(transposed(key("D minor"), 1)), "Eb minor");
  EXPECT_EQ(print(transposed(key("C"), 1)), "Db major");
  EXPECT_EQ(print(transposed(key("E"), -2)), "D major");
  EXPECT_EQ(print(*enharmonic(key("Gb"))), "F# major");
  EXPECT_FALSE(enharmonic(key("C")));
  EXPECT_EQ(relative_minor(key("C")), key("Am"));
  EXPECT_EQ(relative_major(key("Am")), key("C"));
  for (int i = -12; i <= 12; ++i) EXPECT_LE(std::abs(transposed(key("B minor"), i).fifths()), 6);
}

TEST(Key, DegreesCountAgainstTheMajorScale) {
  EXPECT_EQ(print(degree(*parse_pitch_class("Bb"), key("C"))), "b7");
  EXPECT_EQ(print(degree(*parse_pitch_class("F#"), key("C")), Accidentals::Signs), "♯4");
  EXPECT_EQ(print(degree(*parse_pitch_class("C"), key("Am"))), "b3");
}

}  // namespace
}  // namespace tunesheaf::theory

// Facts in the words of a player.
#include "tunesheaf/blocks/words.h"

#include <gtest/gtest.h>

#include "tunesheaf/blocks/move_words.h"

namespace tunesheaf::blocks {
namespace {

TEST(Words, Clock) {
  EXPECT_EQ(clock(base::Fraction(116)), "1:56");
  EXPECT_EQ(clock(base::Fraction(0)), "0:00");
  EXPECT_EQ(clock(base::Fraction(3723)), "1:02:03");
  EXPECT_EQ(clock(base::Fraction(239, 2)), "1:59");
  EXPECT_EQ(clock(6.9999999999), "0:07");
}

TEST(Words, PitchOfARecording) {
  EXPECT_EQ(pitch_words(0), "exactly at the pitch of this page");
  EXPECT_EQ(pitch_words(18), "18 cents sharp of this page");
  EXPECT_EQ(pitch_words(-1), "1 cent flat of this page");
  EXPECT_EQ(pitch_words(-200), "2 semitones below this page");
  EXPECT_EQ(pitch_words(120), "1 semitone and 20 cents above this page");
  EXPECT_EQ(pitch_words(-200, "the page with its capo"), "2 semitones below the page with its capo");
  EXPECT_EQ(pitch_words(-80), "1 semitone below this page, and 20 cents sharp of that");
}

TEST(Words, AdviceTurnsPitchIntoDeeds) {
  EXPECT_EQ(pitch_advice(0, 2), "");
  EXPECT_EQ(pitch_advice(18, 0), "Set the tuner to A4\u00a0=\u00a0444.6\u00a0Hz to play along.");
  EXPECT_EQ(pitch_advice(-200, 2), "Take the capo off to play along.");
  EXPECT_EQ(pitch_advice(-100, 3), "Move the capo down 1 fret to play along.");
  EXPECT_EQ(pitch_advice(-200, 0), "Tune every string down 2 semitones to play along.");
  EXPECT_EQ(pitch_advice(300, 0), "Put a capo on at fret 3 to play along.");
  EXPECT_EQ(pitch_advice(110, 2),
            "Move the capo up 1 fret and set the tuner to A4\u00a0=\u00a0442.5\u00a0Hz to play along.");
}

TEST(Words, ReferenceLeavesSemitonesOut) {
  EXPECT_NEAR(tuner_reference(18), 444.6, 0.05);
  EXPECT_DOUBLE_EQ(tuner_reference(-200), 440.0);
  EXPECT_NEAR(tuner_reference(-182), 444.6, 0.05);
}

TEST(Words, TimesOfASection) {
  score::Section section;
  EXPECT_EQ(times_words(section), "once");
  section.times = 2;
  EXPECT_EQ(times_words(section), "twice");
  section.times = 4;
  section.about = true;
  section.until = "the singer sits down";
  EXPECT_EQ(times_words(section), "until the singer sits down (about 4 times)");
}

TEST(Words, ChordsWithSigns) {
  EXPECT_EQ(with_signs("Bb5"), "B♭5");
  EXPECT_EQ(with_signs("C#m7b5/F#"), "C♯m7♭5/F♯");
  EXPECT_EQ(with_signs("Absus4"), "A♭sus4");
  EXPECT_EQ(with_signs("no common name"), "no common name");
  EXPECT_EQ(with_signs("C7(b9,#11)"), "C7(♭9,♯11)");
}

TEST(Words, WhatACapoCannotDoTheStringsMust) {
  EXPECT_DOUBLE_EQ(string_cents(18, 2), 18);
  EXPECT_DOUBLE_EQ(string_cents(-200, 2), 0);
  EXPECT_DOUBLE_EQ(string_cents(-190, 2), 10);
  EXPECT_DOUBLE_EQ(string_cents(-200, 0), -200);
  EXPECT_DOUBLE_EQ(string_cents(300, 0), 0);
}

TEST(Words, DatesAsOneReadsThem) {
  EXPECT_EQ(date_words("2026-11-24"), "24 November 2026");
  EXPECT_EQ(date_words("2026-01-05"), "5 January 2026");
  for (const char* text : {"second edition", "2026-13-01", "2026-1-5", "2026-11-xx", ""}) {
    EXPECT_EQ(date_words(text), text);
  }
}

TEST(Words, QuotesAsPrintersSetThem) {
  EXPECT_EQ(typographic("don't say \"no\"", "en"), "don’t say “no”");
  EXPECT_EQ(typographic("'tis so", "en-GB"), "’tis so");
  EXPECT_EQ(typographic("he said ('now')", "en"), "he said (‘now’)");
  EXPECT_EQ(typographic("a 12\" neck", "en"), "a 12\" neck");
  EXPECT_EQ(typographic("l'air", "fr"), "l'air");
}

TEST(Words, Lists) {
  EXPECT_EQ(list_words({}), "");
  EXPECT_EQ(list_words({"6"}), "6");
  EXPECT_EQ(list_words({"6", "4", "1"}), "6, 4 and 1");
}

theory::Shape shape(const char* frets, const char* fingers) {
  return {theory::parse_frets(frets).value(), theory::parse_fingers(fingers).value()};
}
std::vector<std::string> words_between(const theory::Shape& a, const theory::Shape& b) {
  return move_words(theory::move_between(a, b).value());
}

TEST(MoveWords, StaysLiftsAdds) {
  const auto words = words_between(shape("x 0 2 0 1 0", ". . 2 . 1 ."), shape("x 0 2 2 0 0", ". . 2 3 . ."));
  EXPECT_EQ(words, (std::vector<std::string>{"2 stays", "1 lifts", "3 added: string\u00a03, fret\u00a02"}));
}

TEST(MoveWords, GoInTheOrderOfTheFingers) {
  // The first finger is added, the others move: what a finger does makes no order.
  const auto words = words_between(shape("x x 0 2 3 1", ". . . 2 3 1"), shape("x 1 3 3 3 1", ". 1 2 3 4 1"));
  std::string order;
  for (const std::string& line : words) order += line.front();
  EXPECT_EQ(order, "1234");
}

TEST(MoveWords, NoFingerTwiceAndNoneLeftOut) {
  const theory::Shape a = shape("1 3 3 2 1 1", "1 3 4 2 1 1"), b = shape("x 3 2 0 1 0", ". 3 2 . 1 .");
  const theory::Move move = theory::move_between(a, b).value();
  std::string all;
  for (const std::string& line : move_words(move)) all += line + "\n";
  for (const theory::FingerMove& finger : move.fingers) {
    const std::string sign(1, theory::finger_sign(finger.finger));
    int begins = 0;
    for (const std::string& line : move_words(move)) {
      const std::string head = line.substr(0, line.find_first_of("stlfrad:"));
      begins += head.find(sign) != std::string::npos ? 1 : 0;
    }
    EXPECT_GE(begins, 1) << sign << " in\n" << all;
  }
}

TEST(MoveWords, NothingMoves) {
  const theory::Shape a = shape("x 0 2 0 1 0", ". . 2 . 1 .");
  EXPECT_EQ(words_between(a, a), (std::vector<std::string>{"1 and 2 stay"}));
  const theory::Shape open = shape("0 0 0 0 0 0", ". . . . . .");
  EXPECT_EQ(words_between(open, open), (std::vector<std::string>{"nothing moves"}));
}

}  // namespace
}  // namespace tunesheaf::blocks

#include "tunesheaf/theory/rhythm.h"

#include <gtest/gtest.h>

#include "theory/rhythm_cells.h"
#include "theory/rhythm_rules.h"

namespace tunesheaf::theory {
namespace {

using base::Fraction;
using testing::Rules;
using testing::spans_of;

struct SpellCase {
  const char* meter;
  const char* cells;
  const char* spelling;
};

// One bar a line; src/theory/rhythm_print.cpp explains the signs on the right.
constexpr SpellCase kCases[] = {
    // 4/4: whole values, the middle, dots
    {"4/4", "x : x : x : x", "Q Q Q Q"},
    {"4/4", "x : - : - : -", "W"},
    {"4/4", "x : - : x : -", "H H"},
    {"4/4", "x : - : - : x", "H. Q"},
    {"4/4", "x : x : - : -", "Q Q~ H"},
    {"4/4", "x : x : - : x", "Q Q~ Q Q"},
    {"4/4", "x - : - x : - - : - x", "Q. 8~ Q. 8"},
    {"4/4", "x - : - x : x x : x x", "Q. 8 [8 8 8 8]"},
    {"4/4", "x x : - - : x : x", "[8 8~] Q Q Q"},
    {"4/4", "x : - - : - x : x", "H~ [8 8] Q"},
    {"4/4", "x - - - : - - - x : x : .", "Q.. 16 Q rQ"},
    // 4/4: syncopation inside a half is plain, over the middle it is tied
    {"4/4", "x x : - x : x x : - x", "8 Q 8 8 Q 8"},
    {"4/4", "x : x x : - x : x", "Q [8 8~] [8 8] Q"},
    {"4/4", "x x x - : - - x - : x : x", "[16 16 8~] [8 8] Q Q"},
    {"4/4", "x x - x : x - - x : x - x - : x", "[16> 8 16<] [8. 16<] [8 8] Q"},
    {"4/4", "x : x x - - : - x x - : x", "Q [16> 8.~] [16 16 8] Q"},
    // 4/4: beams
    {"4/4", "x x : x x : x x : x x", "[8 8 8 8] [8 8 8 8]"},
    {"4/4", "x x x x : x x x x : x - x x : x x x -", "[16 16 16 16] [16 16 16 16] [8 16 16] [16 16 8]"},
    {"4/4", ". x : x x : x x : x .", "r8 [8 8 8] [8 8 8] r8"},
    {"4/4", "x x : x x x x : x : .", "[8 8] [16 16 16 16] Q rQ"},
    {"2/4", "x - - - - - - x : x - - x x - - x", "[8.. 32<<] [16. 32< 16. 32<]"},
    {"2/4", "x . x x : . x x x", "16 r16 [16 16] r16 [16 16 16]"},
    // rests
    {"4/4", ". : . : . : .", "bar"},
    {"4/4", ". : x : . : .", "rQ Q rH"},
    {"4/4", "x : . : . : x", "Q rQ rQ Q"},
    {"4/4", "x . : . : . x : .", "8 r8 rQ r8 8 rQ"},
    {"3/4", ". : . : x", "rQ rQ Q"},
    {"3/4", "x : . : .", "Q rQ rQ"},
    {"6/8", ". : x . .", "rQ. 8 r8 r8"},
    {"6/8", "x . . : . . x", "8 r8 r8 rQ 8"},
    {"12/8", ". : . : x : .", "rH. Q. rQ."},
    {"7/8 (2+2+3)", ". : . : .", "bar"},
    // tuplets within a beat
    {"4/4", "x x x : x - x : - x x : x x -", "3{[8 8 8]} 3(Q 8~) 3{[8 8 8]} 3(8 Q)"},
    {"4/4", "x x x x x : x x x x x x : x x x x x x x : x",
     "5{[16 16 16 16 16]} 6{[16 16 16 16 16 16]} 7{[16 16 16 16 16 16 16]} Q"},
    {"4/4", "x x x x x x x x x : x : x : x", "9{[32 32 32 32 32 32 32 32 32]} Q Q Q"},
    {"4/4", ". x x : x . x : x x . : . . x", "3(r8 [8 8]) 3(8 r8 8) 3([8 8] r8) 3(rQ 8)"},
    {"4/4", "x - x : - x - : x : .", "3(Q Q Q) Q rQ"},
    {"4/4", "x x - x x x : x : x : x", "3{[16> 8 16 16 16]} Q Q Q"},
    {"2/4", "x - - - - - x - x - x - : x", "[8 3(16 16 16)] Q"},
    // tuplets across beats
    {"4/4", "x - x : - x - : x - x : - x -", "3(Q Q Q) 3(Q Q Q)"},
    {"4/4", "x - . : - x - : x : x", "3(Q rQ Q) Q Q"},
    {"4/4", "x - x : - x x : x : x", "3(Q Q [8 8]) Q Q"},
    {"4/4", "x - - : - x - : - - x : - - -", "3(H H H)"},
    {"3/4", "x : x - x : - x -", "Q 3(Q Q Q)"},
    {"4/4", "x : x - x : - x - : x", "Q 3(Q 8~) 3(8 Q) Q"},
    {"4/4", "x - - : - - x : - - - : -", "Q~ 3(Q 8~) H"},
    {"3/4", "x - - - - : - x - : - x - -", "Q~ 3(8 Q~) [16> 8.]"},
    // 3/4
    {"3/4", "x : - : -", "H."},
    {"3/4", "x : x : -", "Q H"},
    {"3/4", "x - : - x : x x", "Q. 8 [8 8]"},
    {"3/4", "x x : - x : x", "8 Q 8 Q"},
    {"3/4", "x x : - x : - x", "[8 8~ 8 8~ 8 8]"},
    {"3/4", "x x : x x : x x", "[8 8 8 8 8 8]"},
    {"3/4", "x : x x : x x", "Q [8 8 8 8]"},
    // compound
    {"6/8", "x x x : x x x", "[8 8 8] [8 8 8]"},
    {"6/8", "x - x : x - -", "Q 8 Q."},
    {"6/8", "x - - x x - : x x - - x -", "[8. 16< 8] [16 16~ 8 8]"},
    {"6/8", "x - x x - x : x x - - - -", "[8 16> 8 16<] [16 16~] Q"},
    {"6/8 (2+2+2)", "x - : - x : x x", "Q. 8 [8 8]"},
    {"6/8", "x : -", "H."},
    {"6/8", "x - x : - x -", "Q 8~ 8 Q"},
    {"6/8", "x x : x x x x", "2:3{[8 8]} 4:6{[16 16 16 16]}"},
    {"6/8", "x : x x x x x", "Q. 5:6{[16 16 16 16 16]}"},
    {"9/8", "x : - : x x x", "H. [8 8 8]"},
    {"12/8", "x : x : - : x", "Q. Q.~ Q. Q."},
    {"12/8", "x : - : - : x", "H.~ Q. Q."},
    // additive and others
    {"7/8 (2+2+3)", "x x : x x : x x x", "[8 8] [8 8] [8 8 8]"},
    {"7/8 (2+2+3)", "x : - : x - x", "H Q 8"},
    {"5/8 (3+2)", "x x x : - x", "[8 8 8~] [8 8]"},
    {"5/4 (3+2)", "x : - : - : - : x", "H.~ Q Q"},
    {"5/4 (2+3)", "x x : x x : x x : x x : x x", "[8 8 8 8] [8 8 8 8 8 8]"},
    {"C|", "x x : - x", "Q H Q"},
    {"C|", "x x x x : x x x x", "[8 8 8 8] [8 8 8 8]"},
    {"3/8", "x : x : x", "[8 8 8]"},
    {"4/2", "x : - : - : -", "B"},
};

TEST(Rhythm, ClassicBars) {
  for (const SpellCase& c : kCases) {
    SCOPED_TRACE(std::string(c.meter) + " | " + c.cells);
    const Meter meter = *parse_meter(c.meter);
    const std::vector<RhythmSpan> spans = spans_of(meter.beats(), c.cells);
    const auto spelling = spell_bar(meter, spans);
    ASSERT_TRUE(spelling.ok());
    EXPECT_EQ(print_spelling(*spelling), c.spelling);
    EXPECT_EQ(Rules(meter, spans, *spelling).broken(), "");
  }
}

TEST(Rhythm, TiesFromAndToOtherBars) {
  const Meter meter = *parse_meter("4/4");
  std::vector<RhythmSpan> spans = spans_of(meter.beats(), "x : x : - : x");
  spans.front().tied_from_previous = true;
  spans.back().tied_to_next = true;
  const auto spelling = spell_bar(meter, spans);
  ASSERT_TRUE(spelling.ok());
  EXPECT_EQ(print_spelling(*spelling), "~Q Q~ Q Q~");
  EXPECT_EQ(join(spelling->pieces), spans);
}

struct ShortBar {
  const char* meter;
  Fraction length;
  BarAlign align;
  const char* cells;  // shared over the bar
  const char* spelling;
};

TEST(Rhythm, PickUpsAndCutBars) {
  const ShortBar bars[] = {
      {"4/4", Fraction(1, 4), BarAlign::kEnd, "x x", "[8 8]"},
      {"4/4", Fraction(3, 8), BarAlign::kEnd, "x x x", "[8 8 8]"},
      {"4/4", Fraction(3, 8), BarAlign::kEnd, "x - -", "8~ Q"},
      {"4/4", Fraction(3, 8), BarAlign::kStart, "x - -", "Q."},
      {"4/4", Fraction(3, 4), BarAlign::kEnd, "x - -", "Q~ H"},
      {"4/4", Fraction(3, 4), BarAlign::kStart, "x - -", "H."},
      {"3/4", Fraction(1, 8), BarAlign::kEnd, "x", "8"},
      {"6/8", Fraction(1, 8), BarAlign::kEnd, "x", "8"},
      {"6/8", Fraction(1, 2), BarAlign::kEnd, "x x - -", "8 Q."},
      {"4/4", Fraction(1, 2), BarAlign::kEnd, ". .", "bar"},
      {"4/4", Fraction(1, 4), BarAlign::kEnd, "x x x", "3{[8 8 8]}"},
  };
  for (const ShortBar& b : bars) {
    const Meter meter = *parse_meter(b.meter);
    const std::vector<RhythmSpan> spans = spans_of({{Fraction(0), b.length}}, b.cells);
    const auto spelling = spell_bar(meter, {b.length, b.align}, spans);
    ASSERT_TRUE(spelling.ok()) << b.meter << " " << b.cells;
    EXPECT_EQ(print_spelling(*spelling), b.spelling) << b.meter << " " << b.cells;
  }
}

TEST(Rhythm, InnerBeamsStopAtTheHalfOfABeatOf32nds) {
  const Meter meter = *parse_meter("1/4");
  const auto spelling = spell_bar(meter, spans_of(meter.beats(), "x x x x x x x x"));
  ASSERT_TRUE(spelling.ok());
  const auto mark = [&](std::size_t piece, std::size_t level) { return spelling->pieces[piece].beam_marks[level - 1]; };
  EXPECT_EQ(mark(3, 1), BeamMark::kContinue);
  EXPECT_EQ(mark(4, 1), BeamMark::kContinue);
  for (std::size_t level : {2, 3}) {
    EXPECT_EQ(mark(3, level), BeamMark::kEnd);
    EXPECT_EQ(mark(4, level), BeamMark::kBegin);
  }
  EXPECT_EQ(spelling->beams.at(0).levels, 3);
}

TEST(Rhythm, WholeBarRestTakesTheBarsLength) {
  const auto spelling = spell_bar(*parse_meter("3/4"), {{Fraction(0), Fraction(3, 4), true, false, false, 9}});
  ASSERT_TRUE(spelling.ok());
  ASSERT_EQ(spelling->pieces.size(), 1U);
  EXPECT_TRUE(spelling->pieces[0].whole_bar_rest);
  EXPECT_EQ(spelling->pieces[0].value, NoteValue::kWhole);
  EXPECT_EQ(spelling->pieces[0].duration, Fraction(3, 4));
  EXPECT_EQ(spelling->pieces[0].id, 9);
}

TEST(Rhythm, NeighbouringRestsAreOneSilence) {
  const std::vector<RhythmSpan> spans{{Fraction(0), Fraction(1, 4), true, false, false, 1},
                                      {Fraction(1, 4), Fraction(1, 4), true, false, false, 2},
                                      {Fraction(1, 2), Fraction(1, 2), false, false, false, 3}};
  const auto spelling = spell_bar(*parse_meter("4/4"), spans);
  ASSERT_TRUE(spelling.ok());
  EXPECT_EQ(print_spelling(*spelling), "rH H");
}

TEST(Rhythm, NeighbouringNotesStayApart) {
  const std::vector<RhythmSpan> spans{{Fraction(0), Fraction(1, 4), false, false, true, 1},
                                      {Fraction(1, 4), Fraction(3, 4), false, true, false, 2}};
  const auto spelling = spell_bar(*parse_meter("4/4"), spans);
  ASSERT_TRUE(spelling.ok());
  EXPECT_EQ(join(spelling->pieces), spans);
  EXPECT_EQ(print_spelling(*spelling), "Q~ Q~ H");
}

TEST(Rhythm, FaultsAreNamed) {
  const Meter meter = *parse_meter("4/4");
  const auto fault = [&](Fraction length, std::vector<RhythmSpan> spans) {
    const auto spelling = spell_bar(meter, {length, BarAlign::kStart}, spans);
    EXPECT_FALSE(spelling.ok());
    return spelling.ok() ? SpellError{} : spelling.error();
  };
  const auto note = [](Fraction onset, Fraction duration) {
    return RhythmSpan{onset, duration, false, false, false, 0};
  };
  const Fraction half(1, 2);
  EXPECT_EQ(fault(1, {}).fault, SpellFault::kEmpty);
  EXPECT_EQ(fault(0, {note(0, 1)}).fault, SpellFault::kEmpty);
  EXPECT_EQ(fault(Fraction(5, 4), {note(0, Fraction(5, 4))}).fault, SpellFault::kBarTooLong);
  EXPECT_EQ(fault(1, {note(0, half), note(Fraction(3, 4), Fraction(1, 4))}).fault, SpellFault::kGap);
  EXPECT_EQ(fault(1, {note(0, half), note(Fraction(3, 4), Fraction(1, 4))}).span, 1);
  EXPECT_EQ(fault(1, {note(0, half), note(half, 0)}).fault, SpellFault::kNoDuration);
  EXPECT_EQ(fault(1, {note(0, half)}).fault, SpellFault::kNotFilled);
  EXPECT_EQ(fault(Fraction(1, 3), {note(0, Fraction(1, 3))}).fault, SpellFault::kBarOffGrid);
  const Fraction tiny(1, 4096);
  EXPECT_EQ(fault(1, {note(0, tiny), note(tiny, Fraction(1) - tiny)}).fault, SpellFault::kTooFine);
  const Fraction uneven(1, 1000003);
  EXPECT_EQ(fault(1, {note(0, uneven), note(uneven, Fraction(1) - uneven)}).fault, SpellFault::kTooFine);
}

}  // namespace
}  // namespace tunesheaf::theory

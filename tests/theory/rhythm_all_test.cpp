// Every filling of small bars: what is spelt reads back to the same durations and keeps the rules.
#include <gtest/gtest.h>

#include <random>
#include <set>

#include "theory/rhythm_cells.h"
#include "theory/rhythm_rules.h"
#include "tunesheaf/theory/rhythm.h"

namespace tunesheaf::theory {
namespace {

using base::Fraction;
using testing::Cells;
using testing::Rules;

struct Tally {
  int bars = 0;
  std::string first_fault;
  void check(const Meter& meter, const std::vector<RhythmSpan>& spans, const std::string& what) {
    ++bars;
    const auto spelling = spell_bar(meter, spans);
    std::string fault = spelling ? Rules(meter, spans, *spelling).broken() : "refused";
    if (fault.empty() || !first_fault.empty()) return;
    first_fault = what + ": " + fault + (spelling ? ": " + print_spelling(*spelling) : "");
  }
};

/// All strings of x, - and . over `cells` cells from the number `code`.
std::string filling(int code, int cells) {
  std::string text;
  for (int k = 0; k < cells; ++k, code /= 3) text += "x-."[code % 3];
  return text;
}

std::vector<RhythmSpan> bar_of(const std::string& cells, Fraction cell, Fraction before) {
  Cells out;
  if (before > Fraction(0)) out.add('x', before);
  for (char c : cells) out.add(c, cell);
  return out.spans;
}

int power(int base, int exponent) {
  return exponent == 0 ? 1 : base * power(base, exponent - 1);
}

void all_fillings_of_second_beat(const char* text, int first_code, int last_code) {
  const Meter meter = *parse_meter(text);
  const Fraction beat = meter.beats()[1].length;
  Tally tally;
  for (int code = first_code; code < last_code; ++code) {
    const std::string cells = filling(code, 12);
    tally.check(meter, bar_of(cells, beat / Fraction(12), beat), cells);
  }
  EXPECT_EQ(tally.first_fault, "");
  EXPECT_EQ(tally.bars, last_code - first_code);
}

// A beat of 12 cells after a struck beat, so that a leading hold goes on with a note: 3^12 = 531441 fillings, in
// thirds.
constexpr int kThird = 177147;
TEST(RhythmAll, TwelveCellBeatFirstThird) {
  all_fillings_of_second_beat("2/4", 0, kThird);
}
TEST(RhythmAll, TwelveCellBeatSecondThird) {
  all_fillings_of_second_beat("2/4", kThird, 2 * kThird);
}
TEST(RhythmAll, TwelveCellBeatLastThird) {
  all_fillings_of_second_beat("2/4", 2 * kThird, 3 * kThird);
}

void all_masks(const char* text, int cells) {
  const Meter meter = *parse_meter(text);
  const Fraction cell = meter.bar_length() / Fraction(cells);
  Tally tally;
  for (int mask = 0; mask < (1 << cells); ++mask) {
    std::string signs;
    for (int k = 0; k < cells; ++k) signs += (mask >> k & 1) ? 'x' : '-';
    tally.check(meter, bar_of(signs, cell, Fraction(0)), signs);
  }
  EXPECT_EQ(tally.first_fault, "") << text;
  EXPECT_EQ(tally.bars, 1 << cells);
}

TEST(RhythmAll, OnsetMasksOfTwelveCellsInThreeFour) {
  all_masks("3/4", 12);
}
TEST(RhythmAll, OnsetMasksOfTwelveCellsInSixEight) {
  all_masks("6/8", 12);
}
TEST(RhythmAll, OnsetMasksOfSixteenCellsInFourFour) {
  all_masks("4/4", 16);
}
TEST(RhythmAll, OnsetMasksOfTwelveCellsInFourFour) {
  all_masks("4/4", 12);
}
TEST(RhythmAll, OnsetMasksOfTwelveCellsInTwelveEight) {
  all_masks("12/8", 12);
}
TEST(RhythmAll, OnsetMasksOfFourteenCellsInSevenEight) {
  all_masks("7/8 (2+2+3)", 14);
}
TEST(RhythmAll, OnsetMasksOfTenCellsInFiveFour) {
  all_masks("5/4 (3+2)", 10);
}
TEST(RhythmAll, OnsetMasksOfSixteenCellsInCutTime) {
  all_masks("C|", 16);
}

void all_fillings(const char* text, int cells) {
  const Meter meter = *parse_meter(text);
  Tally tally;
  for (int code = 0; code < power(3, cells); ++code) {
    const std::string signs = filling(code, cells);
    tally.check(meter, bar_of(signs, meter.bar_length() / Fraction(cells), Fraction(0)), signs);
  }
  EXPECT_EQ(tally.first_fault, "") << text;
}

TEST(RhythmAll, FillingsOfEightCellsInFourFour) {
  all_fillings("4/4", 8);
}
TEST(RhythmAll, FillingsOfNineCellsInThreeFour) {
  all_fillings("3/4", 9);
}
TEST(RhythmAll, FillingsOfSixCellsInThreeFour) {
  all_fillings("3/4", 6);
}
TEST(RhythmAll, FillingsOfSixCellsInSixEight) {
  all_fillings("6/8", 6);
}
TEST(RhythmAll, FillingsOfEightCellsInSixEight) {
  all_fillings("6/8", 8);
}
TEST(RhythmAll, FillingsOfNineCellsInNineEight) {
  all_fillings("9/8", 9);
}
TEST(RhythmAll, FillingsOfFiveCellsInFourFour) {
  all_fillings("4/4", 5);
}

// Each beat divided as it likes, from 1 to 9 cells (now and then up to 33), in many meters (seeded: the same bars on
// every run).
TEST(RhythmAll, MixedDivisions) {
  std::mt19937 random(20);
  const char* meters[] = {
      "4/4", "3/4",         "2/4",         "6/8",          "9/8",       "12/8",        "5/4",
      "7/4", "7/8 (2+2+3)", "8/8 (3+3+2)", "C|",           "3/2",       "3/8",         "5/8 (3+2)",
      "6/4", "4/8",         "6/16",        "11/8 (4+4+3)", "4/4 (3+1)", "6/8 (2+2+2)", "12/8 (3+3+2+2+2)",
      "8/4", "15/8"};
  Tally tally;
  for (int round = 0; round < 20000; ++round) {
    const char* text = meters[random() % std::size(meters)];
    const Meter meter = *parse_meter(text);
    Cells bar;
    std::string signs = std::string(text) + " ";
    for (const BarSpan& beat : meter.beats()) {
      const int cells = 1 + static_cast<int>(random() % (random() % 16 == 0 ? 33 : 9));
      for (int k = 0; k < cells; ++k) {
        signs += "x-.x"[random() % 4];
        bar.add(signs.back(), beat.length / Fraction(cells));
      }
      signs += ":";
    }
    tally.check(meter, bar.spans, signs);
  }
  EXPECT_EQ(tally.first_fault, "");
}

/// A shorter bar, aligned either way, has the pieces of the full bar that begins (or ends) with it.
TEST(RhythmAll, PickUpsAndCutBarsReadBack) {
  const Meter meter = *parse_meter("4/4");
  int bars = 0;
  for (int cells = 1; cells < 16; ++cells) {
    for (int mask = 0; mask < (1 << std::min(cells, 10)); ++mask) {
      Cells bar;
      for (int k = 0; k < cells; ++k) bar.add((mask >> (k % 10) & 1) ? 'x' : '-', Fraction(1, 16));
      for (BarAlign align : {BarAlign::kStart, BarAlign::kEnd}) {
        const auto spelling = spell_bar(meter, {Fraction(cells, 16), align}, bar.spans);
        ASSERT_TRUE(spelling.ok());
        ASSERT_EQ(join(spelling->pieces), bar.spans);
        const Fraction middle = align == BarAlign::kEnd ? Fraction(cells - 8, 16) : Fraction(1, 2);
        for (const SpelledPiece& p : spelling->pieces) {
          if (p.onset >= middle || p.end() <= middle || p.whole_bar_rest) continue;
          ASSERT_FALSE(p.rest) << print_spelling(*spelling);
          ASSERT_TRUE(p.onset == Fraction(0) && p.value <= NoteValue::kHalf) << print_spelling(*spelling);
        }
        ++bars;
      }
    }
  }
  EXPECT_GT(bars, 10000);
}

}  // namespace
}  // namespace tunesheaf::theory

#include "tunesheaf/theory/meter.h"

#include <gtest/gtest.h>

#include <string>

namespace tunesheaf::theory {
namespace {

using base::Fraction;

std::string lengths(const std::vector<BarSpan>& spans) {
  std::string out;
  Fraction at(0);
  for (const BarSpan& s : spans) {
    EXPECT_EQ(s.onset, at);
    at += s.length;
    out += (out.empty() ? "" : " ") + s.length.text();
  }
  return out;
}

std::string groups(const std::vector<int>& sizes) {
  std::string out;
  for (int n : sizes) out += (out.empty() ? "" : "+") + std::to_string(n);
  return out;
}

struct MeterCase {
  const char* text;
  const char* beats;
  const char* beam_groups;
  const char* beat_groups;
  const char* tempo_unit;
};

// The rules of the song language, one line each.
constexpr MeterCase kMeters[] = {
    {"4/4", "1/4 1/4 1/4 1/4", "1/2 1/2", "2+2", "quarter"},
    {"3/4", "1/4 1/4 1/4", "3/4", "3", "quarter"},
    {"2/4", "1/4 1/4", "1/2", "2", "quarter"},
    {"1/4", "1/4", "1/4", "1", "quarter"},
    {"5/4", "1/4 1/4 1/4 1/4 1/4", "1/4 1/4 1/4 1/4 1/4", "3+2", "quarter"},
    {"5/4 (2+3)", "1/4 1/4 1/4 1/4 1/4", "1/2 3/4", "2+3", "quarter"},
    {"6/4", "1/4 1/4 1/4 1/4 1/4 1/4", "1/4 1/4 1/4 1/4 1/4 1/4", "3+3", "quarter"},
    {"7/4", "1/4 1/4 1/4 1/4 1/4 1/4 1/4", "1/4 1/4 1/4 1/4 1/4 1/4 1/4", "4+3", "quarter"},
    {"4/4 (3+1)", "1/4 1/4 1/4 1/4", "3/4 1/4", "3+1", "quarter"},
    {"C", "1/4 1/4 1/4 1/4", "1/2 1/2", "2+2", "quarter"},
    {"C|", "1/2 1/2", "1/2 1/2", "2", "half"},
    {"2/2", "1/2 1/2", "1/2 1/2", "2", "half"},
    {"3/2", "1/2 1/2 1/2", "1/2 1/2 1/2", "3", "half"},
    {"3/8", "1/8 1/8 1/8", "3/8", "3", "eighth"},
    {"4/8", "1/8 1/8 1/8 1/8", "1/4 1/4", "2+2", "eighth"},
    {"6/8", "3/8 3/8", "3/8 3/8", "2", "dotted quarter"},
    {"9/8", "3/8 3/8 3/8", "3/8 3/8 3/8", "3", "dotted quarter"},
    {"12/8", "3/8 3/8 3/8 3/8", "3/8 3/8 3/8 3/8", "2+2", "dotted quarter"},
    {"6/16", "3/16 3/16", "3/16 3/16", "2", "dotted eighth"},
    {"7/8 (2+2+3)", "1/4 1/4 3/8", "1/4 1/4 3/8", "1+1+1", "eighth"},
    {"5/8 (3+2)", "3/8 1/4", "3/8 1/4", "1+1", "eighth"},
    {"8/8 (2+2+2+2)", "1/4 1/4 1/4 1/4", "1/4 1/4 1/4 1/4", "1+1+1+1", "quarter"},
    {"6/8 (2+2+2)", "1/4 1/4 1/4", "1/4 1/4 1/4", "1+1+1", "quarter"},
    {"3+2/8", "3/8 1/4", "3/8 1/4", "1+1", "eighth"},
};

TEST(Meter, BeatsGroupsAndUnits) {
  for (const MeterCase& c : kMeters) {
    SCOPED_TRACE(c.text);
    const auto meter = parse_meter(c.text);
    ASSERT_TRUE(meter.ok());
    EXPECT_EQ(lengths(meter->beats()), c.beats);
    EXPECT_EQ(meter->beat_count(), static_cast<int>(meter->beats().size()));
    EXPECT_EQ(lengths(meter->beam_groups()), c.beam_groups);
    EXPECT_EQ(groups(meter->beat_groups()), c.beat_groups);
    EXPECT_EQ(print_value_words(meter->tempo_unit()), c.tempo_unit);
    EXPECT_EQ(meter->beats().back().end(), meter->bar_length());
    EXPECT_EQ(meter->beam_groups().back().end(), meter->bar_length());
    EXPECT_EQ(print_meter(*meter), c.text);
  }
}

TEST(Meter, BlanksAroundThePartsAreAllowed) {
  EXPECT_EQ(*parse_meter("  7 / 8(2 + 2+3) "), *parse_meter("7/8 (2+2+3)"));
  EXPECT_EQ(parse_meter(" C| ")->sign, MeterSign::kCut);
  EXPECT_EQ(parse_meter("c")->sign, MeterSign::kCommon);
}

struct FaultCase {
  const char* text;
  MeterFault fault;
};

constexpr FaultCase kFaults[] = {
    {"", MeterFault::kEmpty},
    {"   ", MeterFault::kEmpty},
    {"waltz", MeterFault::kNotAMeter},
    {"4", MeterFault::kNotAMeter},
    {"4/", MeterFault::kNotAMeter},
    {"/4", MeterFault::kNotAMeter},
    {"-3/4", MeterFault::kNotAMeter},
    {"3+/8", MeterFault::kNotAMeter},
    {"common", MeterFault::kNotAMeter},
    {"0/4", MeterFault::kBadCount},
    {"65/4", MeterFault::kBadCount},
    {"99999999999999999999/4", MeterFault::kBadCount},
    {"4/3", MeterFault::kBadUnit},
    {"4/0", MeterFault::kBadUnit},
    {"4/128", MeterFault::kBadUnit},
    {"5/8", MeterFault::kGroupingMissing},
    {"7/8", MeterFault::kGroupingMissing},
    {"8/8", MeterFault::kGroupingMissing},
    {"7/16", MeterFault::kGroupingMissing},
    {"7/8 (2+2+2)", MeterFault::kGroupingSum},
    {"5/4 (3+3)", MeterFault::kGroupingSum},
    {"7/8 (2+5)", MeterFault::kGroupingTooLong},
    {"7/8 (2+2+3+0)", MeterFault::kGroupingZero},
    {"7/8 (2+2+3", MeterFault::kGroupingBroken},
    {"7/8 (2 2 3)", MeterFault::kGroupingBroken},
    {"7/8 ()", MeterFault::kGroupingBroken},
    {"4/4 slow", MeterFault::kTrailing},
    {"3+2/8 (3+2)", MeterFault::kTrailing},
    {"C|x", MeterFault::kTrailing},
};

TEST(Meter, FaultsAreNamed) {
  for (const FaultCase& c : kFaults) {
    const auto meter = parse_meter(c.text);
    ASSERT_FALSE(meter.ok()) << c.text;
    EXPECT_EQ(meter.error().fault, c.fault) << c.text;
  }
}

TEST(Meter, FaultsCarryTheirOperands) {
  const auto sum = parse_meter("7/8 (2+2+2)");
  ASSERT_FALSE(sum.ok());
  EXPECT_EQ(sum.error().count, 7);
  EXPECT_EQ(sum.error().unit, 8);
  EXPECT_EQ(sum.error().grouping_sum, 6);
  EXPECT_EQ(parse_meter("7/8 (2+5)").error().group, 5);
  EXPECT_EQ(parse_meter("4/4 slow").error().offset, 4U);
}

TEST(Meter, LevelsOfPoints) {
  const auto level = [](const char* text, Fraction at) { return parse_meter(text)->level(at); };
  EXPECT_EQ(level("4/4", Fraction(0)), 0);
  EXPECT_EQ(level("4/4", Fraction(1)), 0);
  EXPECT_EQ(level("4/4", Fraction(1, 2)), 1);
  EXPECT_EQ(level("4/4", Fraction(1, 4)), 2);
  EXPECT_EQ(level("4/4", Fraction(3, 4)), 2);
  EXPECT_EQ(level("4/4", Fraction(1, 8)), 3);
  EXPECT_EQ(level("4/4", Fraction(5, 16)), 4);
  EXPECT_EQ(level("4/4", Fraction(1, 12)), Meter::kOffGrid);
  EXPECT_EQ(level("3/4", Fraction(1, 2)), 2);
  EXPECT_EQ(level("6/8", Fraction(3, 8)), 2);
  EXPECT_EQ(level("6/8", Fraction(1, 8)), 3);
  EXPECT_EQ(level("6/8", Fraction(1, 16)), 4);
  EXPECT_EQ(level("12/8", Fraction(3, 4)), 1);
  EXPECT_EQ(level("12/8", Fraction(3, 8)), 2);
  EXPECT_EQ(level("7/8 (2+2+3)", Fraction(1, 4)), 1);
  EXPECT_EQ(level("7/8 (2+2+3)", Fraction(1, 8)), 3);
  EXPECT_EQ(level("7/8 (2+2+3)", Fraction(6, 8)), 3);
}

TEST(NoteValues, DurationsAndFlags) {
  EXPECT_EQ(written_duration(NoteValue::kBreve), Fraction(2));
  EXPECT_EQ(written_duration(NoteValue::kWhole), Fraction(1));
  EXPECT_EQ(written_duration(NoteValue::kQuarter, 1), Fraction(3, 8));
  EXPECT_EQ(written_duration(NoteValue::kHalf, 2), Fraction(7, 8));
  EXPECT_EQ(written_duration(NoteValue::k1024th), Fraction(1, 1024));
  EXPECT_EQ(flag_count(NoteValue::kHalf), 0);
  EXPECT_EQ(flag_count(NoteValue::kEighth), 1);
  EXPECT_EQ(flag_count(NoteValue::k1024th), kMaxFlags);
  EXPECT_FALSE(has_stem(NoteValue::kWhole));
  EXPECT_TRUE(has_stem(NoteValue::kHalf));
}

TEST(NoteValues, EveryValueIsFoundByItsDuration) {
  for (int n = 0; n <= static_cast<int>(NoteValue::k1024th); ++n) {
    for (int dots = 0; dots <= 2; ++dots) {
      const WrittenValue value{static_cast<NoteValue>(n), dots};
      EXPECT_EQ(value_of_duration(written_duration(value)), value);
      EXPECT_EQ(parse_value_words(print_value_words(value)), value);
    }
  }
  EXPECT_FALSE(value_of_duration(Fraction(5, 8)).has_value());
  EXPECT_FALSE(value_of_duration(Fraction(1, 6)).has_value());
  EXPECT_FALSE(value_of_duration(Fraction(3, 8), 0).has_value());
}

TEST(NoteValues, Words) {
  const auto words = [](const char* text) {
    const auto value = parse_value_words(text);
    return value ? print_value_words(*value) : "nothing";
  };
  EXPECT_EQ(words("quarter"), "quarter");
  EXPECT_EQ(words("Dotted Quarter"), "dotted quarter");
  EXPECT_EQ(words("dotted-quarter note"), "dotted quarter");
  EXPECT_EQ(words("  half   notes "), "half");
  EXPECT_EQ(words("eighths"), "eighth");
  EXPECT_EQ(words("double dotted half"), "double dotted half");
  EXPECT_EQ(words("dotted crotchet"), "dotted quarter");
  EXPECT_EQ(words("sixteenth"), "16th");
  EXPECT_EQ(words("1/8"), "eighth");
  EXPECT_EQ(words("dotted"), "nothing");
  EXPECT_EQ(words("quarters note long"), "nothing");
  EXPECT_EQ(words(""), "nothing");
}

}  // namespace
}  // namespace tunesheaf::theory

#include "tunesheaf/base/number.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>

namespace tunesheaf::base {
namespace {

TEST(Number, IntegersAreReadFromEndToEnd) {
  EXPECT_EQ(parse_integer("12"), 12);
  EXPECT_EQ(parse_integer("+18"), 18);
  EXPECT_EQ(parse_integer("-3"), -3);
  EXPECT_EQ(parse_integer("007"), 7);
  EXPECT_EQ(parse_integer("-9223372036854775808"), std::numeric_limits<std::int64_t>::min());
  for (const char* text :
       {"", "+", "-", "--1", "+-1", "1 ", " 1", "1.0", "1e3", "0x10", "9223372036854775808", "\u0661"}) {
    EXPECT_EQ(parse_integer(text), std::nullopt) << text;
  }
}

TEST(Number, DecimalsAreReadFromEndToEnd) {
  EXPECT_EQ(parse_decimal("0.5"), 0.5);
  EXPECT_EQ(parse_decimal("+12"), 12.0);
  EXPECT_EQ(parse_decimal("-3.25"), -3.25);
  for (const char* text : {"", ".", ".5", "5.", "1,5", "1.2.3", "1e3", "nan", "inf", "-", "1.-5", "0x1p3"}) {
    EXPECT_EQ(parse_decimal(text), std::nullopt) << text;
  }
}

TEST(Number, PrintsWithoutSurprises) {
  EXPECT_EQ(print_fixed(1.005, 1), "1.0");
  EXPECT_EQ(print_fixed(2, 3), "2.000");
  EXPECT_EQ(print_fixed(-0.001, 2), "0.00");
  EXPECT_EQ(print_fixed(-0.0, 0), "0");
  EXPECT_EQ(print_decimal(2, 3), "2");
  EXPECT_EQ(print_decimal(2.5, 3), "2.5");
  EXPECT_EQ(print_decimal(100, 0), "100");
  EXPECT_EQ(print_decimal(-0.0004, 3), "0");
  EXPECT_EQ(print_decimal(-1.25, 3), "-1.25");
  EXPECT_EQ(print_decimal(1e21, 2), "1000000000000000000000");
  EXPECT_EQ(print_fixed(std::numeric_limits<double>::max(), 20).size(), 309U + 21U);
  EXPECT_THROW(print_fixed(std::nan(""), 1), std::invalid_argument);
  EXPECT_THROW(print_decimal(std::numeric_limits<double>::infinity(), 1), std::invalid_argument);
}

TEST(Number, WhatIsPrintedReadsBack) {
  for (int i = -4000; i <= 4000; ++i) {
    const double value = i / 16.0;
    EXPECT_EQ(parse_decimal(print_decimal(value, 4)), value);
  }
}

}  // namespace
}  // namespace tunesheaf::base

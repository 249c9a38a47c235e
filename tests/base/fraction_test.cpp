#include "tunesheaf/base/fraction.h"

#include <gtest/gtest.h>

#include <cstdint>

namespace tunesheaf::base {
namespace {

TEST(Fraction, IsInLowestTermsWithAPositiveDenominator) {
  EXPECT_EQ(Fraction(6, 8).text(), "3/4");
  EXPECT_EQ(Fraction(3, -6).text(), "-1/2");
  EXPECT_EQ(Fraction(-8, -4).text(), "2");
  EXPECT_EQ(Fraction(0, -7).den(), 1);
  EXPECT_EQ(Fraction().text(), "0");
  EXPECT_THROW(Fraction(1, 0), std::domain_error);
}

TEST(Fraction, SumsOfTupletsAreExact) {
  Fraction bar;
  for (int i = 0; i < 3; ++i) bar += Fraction(1, 12);
  for (int i = 0; i < 5; ++i) bar += Fraction(1, 20);
  for (int i = 0; i < 7; ++i) bar += Fraction(1, 14);
  EXPECT_EQ(bar, Fraction(1));
}

TEST(Fraction, FieldLawsHoldForAllSmallFractions) {
  for (int a = -6; a <= 6; ++a) {
    for (int b = 1; b <= 6; ++b) {
      for (int c = -6; c <= 6; ++c) {
        for (int d = 1; d <= 6; ++d) {
          const Fraction x(a, b), y(c, d);
          EXPECT_EQ(x + y, Fraction(a * d + c * b, b * d));
          EXPECT_EQ(x - y, Fraction(a * d - c * b, b * d));
          EXPECT_EQ(x * y, Fraction(a * c, b * d));
          EXPECT_EQ(x < y, a * d < c * b);
          if (c != 0) {
            EXPECT_EQ(x / y * y, x);
          }
        }
      }
    }
  }
  EXPECT_THROW(Fraction(1) / Fraction(0), std::domain_error);
}

TEST(Fraction, FloorAndModuloGoDownwards) {
  EXPECT_EQ(Fraction(7, 2).floor(), 3);
  EXPECT_EQ(Fraction(-7, 2).floor(), -4);
  EXPECT_EQ(Fraction(-4).floor(), -4);
  EXPECT_EQ(Fraction(7, 8).modulo(Fraction(1, 4)), Fraction(1, 8));
  EXPECT_EQ(Fraction(-1, 8).modulo(Fraction(3, 4)), Fraction(5, 8));
}

TEST(Fraction, OverflowIsSaidAndNotComputed) {
  const Fraction huge(INT64_MAX);
  EXPECT_THROW(huge + Fraction(1), std::overflow_error);
  EXPECT_THROW(huge * huge, std::overflow_error);
  EXPECT_EQ(huge - huge, Fraction(0));
  EXPECT_EQ(min(Fraction(1, 3), Fraction(1, 4)), Fraction(1, 4));
  EXPECT_EQ(max(Fraction(1, 3), Fraction(1, 4)), Fraction(1, 3));
}

}  // namespace
}  // namespace tunesheaf::base

#include "tunesheaf/base/length.h"

#include <gtest/gtest.h>

namespace tunesheaf::base {
namespace {

TEST(Length, CountsInPartsOfAPoint) {
  EXPECT_EQ(Length::pt(1).units(), 1024);
  EXPECT_EQ(Length::pt(0.5 / 1024).units(), 1);
  EXPECT_EQ(Length::pt(-0.5 / 1024).units(), -1);
  // 210 mm x 297 mm is A4 (ISO 216): 595.28 x 841.89 points.
  EXPECT_EQ(Length::mm(210).units(), 609562);
  EXPECT_NEAR(Length::mm(297).points(), 841.89, 0.005);
  EXPECT_EQ(Length::mm(25.4), Length::pt(72));
}

TEST(Length, SumsAreExact) {
  Length sum;
  for (int i = 0; i < 1000; ++i) sum += Length::pt(0.1);
  EXPECT_EQ(sum.units(), 1000 * Length::pt(0.1).units());
  sum -= Length::pt(0.1);
  EXPECT_EQ(sum.units(), 999 * Length::pt(0.1).units());
  EXPECT_EQ(Length::pt(3) / 2, Length::pt(1.5));
  EXPECT_DOUBLE_EQ(Length::pt(3) / Length::pt(2), 1.5);
  EXPECT_EQ(abs(-Length::pt(2)), Length::pt(2));
  EXPECT_EQ(0.5 * Length::pt(3), Length::pt(1.5));
}

TEST(Rect, TouchingIsNotOverlapping) {
  const Rect a{Length::pt(0), Length::pt(0), Length::pt(10), Length::pt(10)};
  const Rect beside = a.moved({Length::pt(10), Length()});
  const Rect over = a.moved({Length::pt(9), Length::pt(9)});
  EXPECT_FALSE(a.overlaps(beside));
  EXPECT_TRUE(a.overlaps(over));
  EXPECT_TRUE(a.overlaps(a));
  EXPECT_FALSE(a.contains(over));
  EXPECT_TRUE(a.united(over).contains(over));
  EXPECT_EQ(a.united(over).width, Length::pt(19));
  EXPECT_TRUE(a.grown(Length::pt(1)).contains(a));
  EXPECT_EQ(a.grown(Length::pt(1)).height, Length::pt(12));
}

}  // namespace
}  // namespace tunesheaf::base

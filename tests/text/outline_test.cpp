#include "tunesheaf/text/outline.h"

#include <gtest/gtest.h>

namespace tunesheaf::text {
namespace {

using base::Length;
using base::Point;

Point at(double x, double y) {
  return {Length::pt(x), Length::pt(y)};
}

TEST(Outline, BoundsFollowTheCurveNotItsControls) {
  const std::vector<PathStep> path = {{PathVerb::Move, at(0, 0), {}, {}},
                                      {PathVerb::Curve, at(0, -40), at(100, -40), at(100, 0)}};
  const auto box = bounds(path);
  ASSERT_TRUE(box);
  EXPECT_NEAR(box->top().points(), -30, 0.01);
  EXPECT_NEAR(box->width.points(), 100, 0.01);
  EXPECT_FALSE(bounds({}));
}

TEST(Outline, SlursRiseAsAskedAndAreThickInTheMiddle) {
  const auto box = bounds(slur(at(0, 0), at(100, 0), Length::pt(-12), Length::pt(1), Length::pt(3)));
  ASSERT_TRUE(box);
  EXPECT_NEAR(box->top().points(), -13.5, 0.3);
  EXPECT_NEAR(box->bottom().points(), 0.5, 0.01);
  EXPECT_NEAR(box->left().points(), 0, 0.01);
  EXPECT_NEAR(box->right().points(), 100, 0.01);
}

TEST(Outline, SlursBelowAreMirrored) {
  const auto box = bounds(slur(at(0, 0), at(100, 0), Length::pt(12), Length::pt(1), Length::pt(3)));
  EXPECT_NEAR(box->bottom().points(), 13.5, 0.3);
}

TEST(Outline, BracesReachFromEndToEnd) {
  const auto box = bounds(brace(Length::pt(80), Length::pt(8)));
  EXPECT_NEAR(box->height.points(), 80, 0.1);
  EXPECT_NEAR(box->left().points(), -8, 0.1);
}

TEST(Outline, BracketsEndAtTheirRightEdgeAndHaveWings) {
  const auto box = bounds(bracket(Length::pt(60), Length::pt(2)));
  EXPECT_LT(box->top(), Length{});
  EXPECT_GT(box->bottom(), Length::pt(60));
  EXPECT_EQ(box->left(), Length::pt(-2));
}

TEST(Outline, WavesAreWholeWavesWithinTheLength) {
  const auto box = bounds(wave(Length::pt(55), Length::pt(10), Length::pt(6)));
  ASSERT_TRUE(box);
  EXPECT_LE(box->right().points(), 55);
  EXPECT_GE(box->right().points(), 48);
  EXPECT_NEAR(box->height.points(), 6, 0.6);
  EXPECT_TRUE(wave(Length::pt(5), Length::pt(10), Length::pt(6)).empty());
  const auto down = bounds(wave_down(Length::pt(55), Length::pt(10), Length::pt(6)));
  EXPECT_EQ(down->height, box->width);
}

TEST(Outline, ArrowHeadsPointTheirWay) {
  const auto up = bounds(arrow_head(at(0, -1), Length::pt(6), Length::pt(4)));
  EXPECT_EQ(up->top(), Length{});
  EXPECT_NEAR(up->bottom().points(), 6, 0.01);
  EXPECT_NEAR(up->width.points(), 4, 0.01);
}

}  // namespace
}  // namespace tunesheaf::text

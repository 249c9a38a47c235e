#include "tunesheaf/layout/contour.h"

#include <gtest/gtest.h>

#include <random>
#include <vector>

namespace tunesheaf::layout {
namespace {

using base::Length;

Length at(int points) {
  return Length::pt(points);
}

TEST(Contour, ReachIsTheFarthestOfWhatLiesBelow) {
  Contour c(at(2));
  c.add(at(10), at(20), at(7));
  c.add(at(15), at(30), at(5));
  EXPECT_EQ(c.reach(at(0), at(10)), at(2));
  EXPECT_EQ(c.reach(at(0), at(11)), at(7));
  EXPECT_EQ(c.reach(at(20), at(40)), at(5));
  EXPECT_EQ(c.reach(at(30), at(40)), at(2));
  EXPECT_EQ(c.farthest(), at(7));
}

TEST(Contour, AReservationIsTaken) {
  Contour c;
  EXPECT_EQ(c.reserve(at(0), at(10), at(4), at(1)), at(1));
  EXPECT_EQ(c.reserve(at(5), at(8), at(4), at(1)), at(6));
  EXPECT_EQ(c.reserve(at(10), at(12), at(4), at(1)), at(1));
  EXPECT_EQ(c.reserve(at(20), at(22), at(4), at(1), at(9)), at(9));
}

TEST(Contour, DistanceIsTheLeastThatClearsEverywhere) {
  Contour floor(at(10)), ceiling;
  floor.add(at(0), at(5), at(14));
  ceiling.add(at(20), at(25), at(3));
  EXPECT_EQ(floor.distance_to(ceiling, at(1)), at(15));
  ceiling.add(at(4), at(6), at(2));
  EXPECT_EQ(floor.distance_to(ceiling, at(1)), at(17));
}

TEST(Contour, AgreesWithSamplingPointByPoint) {
  std::mt19937 random(7);
  const auto up_to = [&](int n) { return static_cast<int>(random() % static_cast<unsigned>(n)); };
  for (int round = 0; round < 200; ++round) {
    Contour a, b;
    std::vector<int> pa(60, 0), pb(60, 0);
    for (int i = 0; i < 12; ++i) {
      const int x0 = up_to(50), x1 = x0 + 1 + up_to(9), reach = up_to(30);
      const bool first = up_to(2) == 0;
      (first ? a : b).add(at(x0), at(x1), at(reach));
      for (int x = x0; x < x1; ++x) {
        int& there = (first ? pa : pb)[static_cast<std::size_t>(x)];
        there = std::max(there, reach);
      }
    }
    int distance = 0;
    for (std::size_t x = 0; x < 60; ++x) {
      EXPECT_EQ(a.reach(at(static_cast<int>(x)), at(static_cast<int>(x) + 1)), at(pa[x]));
      distance = std::max(distance, pa[x] + pb[x]);
    }
    EXPECT_EQ(a.distance_to(b, at(0)), at(distance));
  }
}

}  // namespace
}  // namespace tunesheaf::layout

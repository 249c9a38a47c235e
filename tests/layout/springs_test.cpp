#include "tunesheaf/layout/springs.h"

#include <gtest/gtest.h>

#include <random>

namespace tunesheaf::layout {
namespace {

using base::Length;

Length at(double points) {
  return Length::pt(points);
}

TEST(Springs, NaturalAtTheirNaturalWidth) {
  const SpringLine line({{at(10), at(10), at(2)}, {at(20), at(20), at(2)}}, {});
  EXPECT_EQ(line.measure().natural, at(30));
  EXPECT_DOUBLE_EQ(line.force(at(30)), 0);
  EXPECT_EQ(line.place(at(30)), (std::vector<Length>{at(0), at(10), at(30)}));
}

TEST(Springs, StretchedInProportionToTheirGive) {
  const SpringLine line({{at(10), at(10), at(2)}, {at(5), at(0), at(5)}, {at(20), at(20), at(2)}}, {});
  EXPECT_EQ(line.place(at(65)), (std::vector<Length>{at(0), at(20), at(25), at(65)}));
}

TEST(Springs, ARodStopsItsSpringAndTheOthersGiveMore) {
  const SpringLine line({{at(10), at(10), at(9)}, {at(20), at(20), at(2)}}, {});
  const auto places = line.place(at(20));
  EXPECT_EQ(places[1], at(9));
  EXPECT_EQ(places[2], at(20));
}

TEST(Springs, WiderThanAskedOnlyWhenRodsAre) {
  const SpringLine line({{at(10), at(10), at(9)}, {at(20), at(20), at(12)}}, {});
  EXPECT_EQ(line.measure().minimum, at(21));
  EXPECT_EQ(line.place(at(15)).back(), at(21));
  EXPECT_EQ(line.place(at(22)).back(), at(22));
}

TEST(Springs, RandomLinesKeepEveryRodAndMeetTheirWidth) {
  std::mt19937 random(11);
  const auto up_to = [&](int n) { return static_cast<int>(random() % static_cast<unsigned>(n)); };
  for (int round = 0; round < 500; ++round) {
    const int count = 1 + up_to(9);
    std::vector<Spring> springs;
    std::vector<Rod> rods;
    for (int i = 0; i < count; ++i) {
      const Length natural = at(1 + up_to(30));
      springs.push_back({natural, up_to(5) == 0 ? Length{} : natural, at(up_to(20))});
    }
    for (int i = 0; i < 4; ++i) {
      const auto from = static_cast<std::size_t>(up_to(count));
      const auto to = from + 1 + static_cast<std::size_t>(up_to(count - static_cast<int>(from)));
      rods.push_back({from, to, at(up_to(80))});
    }
    const SpringLine line(springs, rods);
    const bool gives = line.measure().give > Length{};
    for (const double width : {5.0, 60.0, 150.0, 700.0}) {
      const auto places = line.place(at(width));
      ASSERT_EQ(places.size(), static_cast<std::size_t>(count) + 1);
      for (std::size_t i = 0; i < springs.size(); ++i) EXPECT_GE(places[i + 1] - places[i], springs[i].minimum);
      for (const Rod& rod : rods) EXPECT_GE(places[rod.to] - places[rod.from], rod.length);
      if (gives && line.measure().minimum <= at(width)) {
        EXPECT_EQ(places.back(), at(width));
      }
    }
  }
}

}  // namespace
}  // namespace tunesheaf::layout

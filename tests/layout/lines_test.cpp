#include "tunesheaf/layout/lines.h"

#include <gtest/gtest.h>

#include <limits>
#include <random>

namespace tunesheaf::layout {
namespace {

/// Every way to break `count` things, the least cost of all.
double brute_force(std::size_t count, const LineCost& cost) {
  double best = std::numeric_limits<double>::infinity();
  for (unsigned mask = 0; mask < 1U << (count - 1); ++mask) {
    std::vector<std::size_t> firsts{0};
    for (std::size_t i = 1; i < count; ++i) {
      if ((mask >> (i - 1) & 1U) != 0) firsts.push_back(i);
    }
    best = std::min(best, total_cost(firsts, count, cost));
  }
  return best;
}

TEST(Lines, OptimalEqualsBruteForceAndIsNeverWorseThanGreedy) {
  std::mt19937 random(3);
  const auto up_to = [&](int n) { return static_cast<int>(random() % static_cast<unsigned>(n)); };
  for (int round = 0; round < 300; ++round) {
    const auto count = static_cast<std::size_t>(1 + up_to(12));
    std::vector<int> widths;
    for (std::size_t i = 0; i < count; ++i) widths.push_back(5 + up_to(30));
    const LineCost cost = [&](std::size_t first, std::size_t last) -> std::optional<double> {
      int sum = 0;
      for (std::size_t i = first; i < last; ++i) sum += widths[i];
      if (sum > 60) return std::nullopt;
      const double strain = (60 - sum) / 60.0;
      return last == count ? 0 : strain * strain;
    };
    const auto best = break_lines(count, cost), greedy = break_lines_greedy(count, cost);
    ASSERT_EQ(best.front(), 0U);
    const double total = total_cost(best, count, cost);
    EXPECT_NEAR(total, brute_force(count, cost), 1e-9);
    EXPECT_LE(total, total_cost(greedy, count, cost) + 1e-9);
  }
}

TEST(Lines, AThingThatDoesNotFitStandsAlone) {
  const LineCost cost = [](std::size_t first, std::size_t last) -> std::optional<double> {
    if (first <= 1 && last > 1 && last - first >= 1) return std::nullopt;  // thing 1 is too wide for any line
    return 0.0;
  };
  EXPECT_EQ(break_lines(3, cost), (std::vector<std::size_t>{0, 1, 2}));
}

TEST(Lines, NothingMakesNoLines) {
  EXPECT_TRUE(break_lines(0, [](std::size_t, std::size_t) { return std::optional<double>(0); }).empty());
}

}  // namespace
}  // namespace tunesheaf::layout

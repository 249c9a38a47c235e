#include "tunesheaf/layout/lines.h"

#include <gtest/gtest.h>

#include <algorithm>
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

/// A line of 60 units; the last one may be short.
LineCost cost_of(const std::vector<int>& widths) {
  return [&widths](std::size_t first, std::size_t last) -> std::optional<double> {
    int sum = 0;
    for (std::size_t i = first; i < last; ++i) sum += widths[i];
    if (sum > 60) return std::nullopt;
    const double strain = (60 - sum) / 60.0;
    return last == widths.size() ? 0.01 : strain * strain;
  };
}

TEST(Lines, RulesAreKeptAndTheBestOfWhatIsLeftIsTaken) {
  std::mt19937 random(5);
  const auto up_to = [&](int n) { return static_cast<int>(random() % static_cast<unsigned>(n)); };
  for (int round = 0; round < 200; ++round) {
    const auto count = static_cast<std::size_t>(2 + up_to(11));
    std::vector<int> widths;
    std::vector<BreakHere> rules(count, BreakHere::Free);
    for (std::size_t i = 0; i < count; ++i) {
      widths.push_back(5 + up_to(20));
      const int rule = up_to(8);
      if (i > 0 && rule < 2) rules[i] = rule == 0 ? BreakHere::Must : BreakHere::MustNot;
    }
    const LineCost cost = cost_of(widths);
    double best = std::numeric_limits<double>::infinity();
    for (unsigned mask = 0; mask < 1U << (count - 1); ++mask) {
      std::vector<std::size_t> firsts{0};
      bool kept = true;
      for (std::size_t i = 1; i < count; ++i) {
        const bool breaks = (mask >> (i - 1) & 1U) != 0;
        if (breaks) firsts.push_back(i);
        kept = kept && rules[i] != (breaks ? BreakHere::MustNot : BreakHere::Must);
      }
      if (kept) best = std::min(best, total_cost(firsts, count, cost));
    }
    const std::vector<std::size_t> lines = break_lines(count, cost, rules);
    if (best == std::numeric_limits<double>::infinity()) {
      EXPECT_TRUE(lines.empty()) << "round " << round;
    } else {
      EXPECT_NEAR(total_cost(lines, count, cost), best, 1e-9) << "round " << round;
    }
  }
}

TEST(Lines, APhraseThatComesAgainIsBrokenAlike) {
  // The phrase 20 25 20 15 stands after 5 and again after 30 more: alone each would be broken in its own place.
  const std::vector<int> widths{5, 20, 25, 20, 15, 30, 20, 25, 20, 15};
  const LineCost cost = cost_of(widths);
  const std::vector<std::size_t> free = break_lines(widths.size(), cost);
  const std::vector<Repeats> phrase{{4, {1, 6}}};
  const auto alike = [&](const std::vector<std::size_t>& lines) {
    for (std::size_t i = 1; i < 4; ++i) {
      if (std::count(lines.begin(), lines.end(), 1 + i) != std::count(lines.begin(), lines.end(), 6 + i)) return false;
    }
    return true;
  };
  ASSERT_FALSE(alike(free)) << "else there is nothing to see here";
  const std::vector<std::size_t> lines = break_lines_alike(widths.size(), cost, phrase, 0.5);
  EXPECT_TRUE(alike(lines));
  const double extra = total_cost(lines, widths.size(), cost) - total_cost(free, widths.size(), cost);
  EXPECT_GT(extra, 0);
  EXPECT_LE(extra, 0.5 * static_cast<double>(free.size()));
  EXPECT_EQ(break_lines_alike(widths.size(), cost, phrase, 0), free) << "never beyond the bound";
}

TEST(Lines, RepeatsAreFoundLongestFirst) {
  const std::vector<std::uint64_t> tune{1, 2, 3, 4, 1, 2, 3, 4, 7, 8, 9, 7, 8, 9};
  const std::vector<Repeats> found = find_repeats(tune);
  ASSERT_EQ(found.size(), 2U);
  EXPECT_EQ(found[0].length, 4U);
  EXPECT_EQ(found[0].firsts, (std::vector<std::size_t>{0, 4}));
  EXPECT_EQ(found[1].length, 3U);
  EXPECT_EQ(found[1].firsts, (std::vector<std::size_t>{8, 11}));
  EXPECT_TRUE(find_repeats({5, 5, 5, 5, 5, 5, 5, 5}).empty()) << "one bar again and again is no phrase";
  EXPECT_TRUE(find_repeats({1, 2, 3}).empty());
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

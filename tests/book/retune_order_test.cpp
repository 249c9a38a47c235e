// The order of least retuning against all orders there are.
#include "tunesheaf/book/retune_order.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <numeric>
#include <random>
#include <set>

namespace tunesheaf::book {
namespace {

using Order = std::vector<std::size_t>;

const Strings kUsual{40, 45, 50, 55, 59, 64};

/// Different tunings, each string up to four semitones off the usual.
std::vector<Strings> some_tunings(std::mt19937& random, std::size_t count) {
  std::set<Strings> out;
  while (out.size() < count) {
    Strings strings = kUsual;
    for (int& s : strings) s += static_cast<int>(random() % 3 == 0 ? random() % 7 : 4) - 4;
    out.insert(strings);
  }
  std::vector<Strings> list(out.begin(), out.end());
  std::shuffle(list.begin(), list.end(), random);
  return list;
}

int least_of_all(const std::vector<Strings>& tunings) {
  Order order(tunings.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  int least = way_of(kUsual, tunings, order);
  while (std::next_permutation(order.begin(), order.end())) least = std::min(least, way_of(kUsual, tunings, order));
  return least;
}

Order sorted(Order order) {
  std::sort(order.begin(), order.end());
  return order;
}

TEST(RetuneOrder, IsTheLeastOfAllOrders) {
  std::mt19937 random(7);
  for (int round = 0; round < 60; ++round) {
    const auto tunings = some_tunings(random, 1 + random() % 7);
    const RetuneOrder found = least_retuning(kUsual, tunings);
    EXPECT_EQ(found.semitones, least_of_all(tunings));
    EXPECT_EQ(found.semitones, way_of(kUsual, tunings, found.order));
    Order all(tunings.size());
    std::iota(all.begin(), all.end(), std::size_t{0});
    EXPECT_EQ(sorted(found.order), all);
  }
}

TEST(RetuneOrder, TheQuickWayIsAsGoodAsTheExactOneNearlyAlways) {
  std::mt19937 random(11);
  int as_good = 0;
  constexpr int kRounds = 40;
  for (int round = 0; round < kRounds; ++round) {
    const auto tunings = some_tunings(random, 8 + random() % 5);
    const int least = way_of(kUsual, tunings, exact_order(kUsual, tunings));
    const int good = way_of(kUsual, tunings, good_order(kUsual, tunings));
    EXPECT_GE(good, least);
    EXPECT_LE(good * 20, least * 21) << "more than a twentieth longer than the least";
    as_good += good == least ? 1 : 0;
  }
  EXPECT_GE(as_good, kRounds * 9 / 10);
}

TEST(RetuneOrder, ManyTuningsAreNeverWorseThanAsGiven) {
  std::mt19937 random(13);
  const auto tunings = some_tunings(random, 30);
  Order given(tunings.size());
  std::iota(given.begin(), given.end(), std::size_t{0});
  const RetuneOrder found = least_retuning(kUsual, tunings);
  EXPECT_LT(found.semitones, way_of(kUsual, tunings, given));
  EXPECT_EQ(sorted(found.order), given);
  EXPECT_EQ(found.order, least_retuning(kUsual, tunings).order);
}

TEST(RetuneOrder, EqualTuningsStayTogetherAsGiven) {
  Strings low = kUsual;
  low[0] -= 2;
  const RetuneOrder found = least_retuning(kUsual, {low, kUsual, low, kUsual, low});
  EXPECT_EQ(found.order, (Order{1, 3, 0, 2, 4}));
  EXPECT_EQ(found.semitones, 2);
  EXPECT_TRUE(least_retuning(kUsual, {}).order.empty());
}

}  // namespace
}  // namespace tunesheaf::book

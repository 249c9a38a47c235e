#include "rhythm_tuplets.h"

#include <algorithm>
#include <limits>
#include <numeric>

namespace tunesheaf::theory::detail {
namespace {

// Costs of a spelling, in tenths of a written piece. A bracket costs less than a piece, so that one tuplet beats two
// halves of one, and a bracket over several beats must save a piece or more, so that beats stay visible.
constexpr int kPiece = 10;
constexpr int kBracket = 8;
constexpr int kOverTwoBeats = 11;
constexpr int kOverMore = 20;
// An onset within a cell of a bracket over several beats.
constexpr int kOffCell = 5;
constexpr int kNoWay = 1000000;
// A 32nd is not halved in search of smaller tuplets.
constexpr Ticks kSmallestSplit = 32;

struct Choice {
  int cost = kNoWay;
  std::vector<Region> regions;
};

/// The ratio of a tuplet: `actual` cells in the time of `normal`.
struct Ratio {
  int actual = 0;
  int normal = 0;
};

class Search {
 public:
  Search(const Grid& grid, const BarTime& time) : grid_(grid), time_(time) {}

  Choice best(const Node& node) {
    const Slice inside = boundaries(node);
    const bool plain = all_on_grid(inside);
    if (plain && !needed(node)) return {pieces(grid_, node) * kPiece, {}};
    if (plain && !may_hold_duplet(node, inside)) return split(node);
    Choice whole = as_tuplet(node, inside);
    if (plain) {
      const int cost = pieces(grid_, node) * kPiece;
      return cost <= whole.cost ? Choice{cost, {}} : whole;
    }
    if (node.children == 0 && node.length * kSmallestSplit <= time_.scale.whole()) return whole;
    Choice parts = node.halves || !node.beats ? split(node) : split_list(node);
    const bool struck_middle = node.halves && contains(inside, node.middle());
    return whole.cost + (struck_middle ? 1 : 0) <= parts.cost ? whole : parts;
  }

  /// False where nothing in the bar can need a tuplet; spares ordinary bars the search.
  bool needed(const Node& node) const {
    const Slice inside = boundaries(node);
    if (inside.empty()) return false;
    if (!all_on_grid(inside)) return true;
    if (may_hold_duplet(node, inside)) return true;
    for (int k = 0; k < node.children; ++k) {
      if (needed(grid_.child(node, k))) return true;
    }
    return false;
  }

 private:
  struct Slice {
    const Ticks* first = nullptr;
    const Ticks* last = nullptr;
    bool empty() const { return first == last; }
    const Ticks* begin() const { return first; }
    const Ticks* end() const { return last; }
  };

  /// Onsets strictly inside a node.
  Slice boundaries(const Node& node) const {
    const auto low = std::upper_bound(time_.onsets.begin(), time_.onsets.end(), node.start);
    const auto high = std::lower_bound(low, time_.onsets.end(), node.end());
    const Ticks* base = time_.onsets.data();
    return {base + (low - time_.onsets.begin()), base + (high - time_.onsets.begin())};
  }

  bool all_on_grid(Slice slice) const {
    return std::all_of(slice.begin(), slice.end(), [&](Ticks t) { return time_.scale.on_grid(t); });
  }

  static bool contains(Slice slice, Ticks t) { return std::find(slice.begin(), slice.end(), t) != slice.end(); }

  /// Boundaries at halves, quarters … of a beat of three: two, four or eight notes in the time of three.
  static bool may_hold_duplet(const Node& node, Slice inside) {
    if (node.halves || !node.ternary || node.zone != Zone::kInside) return false;
    return std::all_of(inside.begin(), inside.end(), [&](Ticks t) { return (t - node.start) * 8 % node.length == 0; });
  }

  Choice split(const Node& node) {
    Choice sum{0, {}};
    for (int k = 0; k < grid_.child_count(node); ++k) append(sum, best(grid_.child(node, k)));
    return sum;
  }

  /// Beats one by one, or two neighbours under one bracket: the cheapest way through the list.
  Choice split_list(const Node& node) {
    const auto count = static_cast<std::size_t>(grid_.child_count(node));
    std::vector<Choice> upto(count + 1);
    upto[0].cost = 0;
    for (std::size_t k = 0; k < count; ++k) {
      const Node one = grid_.child(node, static_cast<int>(k));
      extend(upto[k], best(one), upto[k + 1]);
      if (k + 1 == count || node.ternary) continue;
      Node two = one;
      two.length *= 2;
      two.zone = Zone::kPair;
      extend(upto[k], as_tuplet(two, boundaries(two)), upto[k + 2]);
    }
    return upto[count];
  }

  static void append(Choice& sum, Choice more) {
    sum.cost = std::min(kNoWay, sum.cost + more.cost);
    for (Region& r : more.regions) sum.regions.push_back(std::move(r));
  }

  static void extend(const Choice& from, Choice more, Choice& to) {
    if (from.cost + more.cost >= to.cost) return;
    Choice sum = from;
    append(sum, std::move(more));
    to = std::move(sum);
  }

  /// The whole node as one tuplet, where its inner beats are not struck.
  Choice as_tuplet(const Node& node, Slice inside) {
    if (inside.empty()) return {};
    int extra = 0;
    const bool list = !node.halves;
    if (node.zone != Zone::kInside) {
      extra = node.zone == Zone::kPair && !list ? kOverTwoBeats : kOverMore;
      if (list && !node.beats) return {};
      const int children = list ? node.children : 2;
      for (int k = 1; k < children; ++k) {
        if (contains(inside, node.start + node.length / children * k)) return {};
      }
    }
    const Ratio ratio = ratio_of(node, inside);
    if (ratio.actual == 0) return {};
    if (extra > 0) {
      if (ratio.actual > 3 && ratio.actual % 3 == 0) return {};
      const Ticks cell = node.length / ratio.actual;
      for (Ticks t : inside) extra += (t - node.start) % cell == 0 ? 0 : kOffCell;
    }
    Grid grid = Grid::tuplet(time_.scale, node.start, node.length, ratio.actual, ratio.normal);
    const int count = pieces(grid, grid.root());
    if (count >= kNoWay) return {};
    const int strange = ratio.actual == 3 || ratio.actual == 2 ? 0 : 1;
    Choice out{count * kPiece + kBracket + extra + strange, {}};
    out.regions.push_back({node.start, node.length, ratio.actual, ratio.normal, std::move(grid)});
    return out;
  }

  /// The smallest odd division that holds every boundary (2 in a ternary node that halves), in the time of the nearest
  /// count of plain values: a power of two, or three times one where the node is three values long. Simple nodes take
  /// the next count below (5:4, 7:4, 5:3 over three beats); compound beats the nearest (2:3, 5:6, 7:6).
  Ratio ratio_of(const Node& node, Slice inside) const {
    Ticks common = node.length;
    for (Ticks t : inside) common = std::gcd(common, t - node.start);
    Ticks cells = node.length / common;
    while (cells % 2 == 0) cells /= 2;
    if (cells > 255) return {};
    const bool threes = node.length / time_.scale.odd % 3 == 0;
    if (cells == 1) return threes && node.ternary ? Ratio{2, 3} : Ratio{};
    if (cells == 3 && threes) return {};
    const auto actual = static_cast<int>(cells);
    int normal = threes ? 3 : 2;
    while (normal * 2 <= actual) normal *= 2;
    const bool compound = threes && node.ternary;
    if (compound && normal * 2 - actual < actual - normal) normal *= 2;
    return {actual, normal};
  }

  /// Written pieces of all spans within a node.
  int pieces(const Grid& grid, const Node& node) {
    scratch_.clear();
    for (const TickSpan& span : time_.spans) {
      if (span.end <= node.start) continue;
      if (span.begin >= node.end()) break;
      const Ticks begin = std::max(span.begin, node.start);
      const Ticks end = std::min(span.end, node.end());
      if (!grid.cut(node, begin, end, span.sound, time_.onsets, scratch_)) return kNoWay;
    }
    return static_cast<int>(scratch_.size());
  }

  const Grid& grid_;
  const BarTime& time_;
  std::vector<Piece> scratch_;
};

}  // namespace

std::vector<Region> find_tuplets(const Grid& grid, const BarTime& time) {
  Search search(grid, time);
  if (!search.needed(grid.root())) return {};
  return search.best(grid.root()).regions;
}

}  // namespace tunesheaf::theory::detail

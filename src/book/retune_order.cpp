#include "tunesheaf/book/retune_order.h"

#include <algorithm>
#include <cstdint>
#include <cstdlib>
#include <limits>
#include <numeric>

namespace tunesheaf::book {
namespace {

/// Time and space double with each more: 12 take some 600 000 steps.
constexpr std::size_t kExact = 12;

using Sequence = std::vector<std::size_t>;

/// The best reversal of a stretch or move of a stretch of up to three, if any shortens the way.
bool improve(const Strings& start, const std::vector<Strings>& tunings, Sequence& order) {
  int best = way_of(start, tunings, order);
  Sequence found;
  const auto consider = [&](Sequence tried) {
    const int way = way_of(start, tunings, tried);
    if (way >= best) return;
    best = way;
    found = std::move(tried);
  };
  const auto at = [](Sequence& o, std::size_t i) { return o.begin() + static_cast<std::ptrdiff_t>(i); };
  for (std::size_t i = 0; i < order.size(); ++i) {
    for (std::size_t k = i + 2; k <= order.size(); ++k) {
      Sequence tried = order;
      std::reverse(at(tried, i), at(tried, k));
      consider(std::move(tried));
    }
    for (std::size_t length = 1; length <= 3 && i + length <= order.size(); ++length) {
      Sequence rest = order;
      const Sequence piece(at(rest, i), at(rest, i + length));
      rest.erase(at(rest, i), at(rest, i + length));
      for (std::size_t to = 0; to <= rest.size(); ++to) {
        Sequence tried = rest;
        tried.insert(at(tried, to), piece.begin(), piece.end());
        consider(tried);
        std::reverse(at(tried, to), at(tried, to + length));
        consider(std::move(tried));
      }
    }
  }
  if (found.empty()) return false;
  order = std::move(found);
  return true;
}

/// Always on to the nearest that is left.
Sequence nearest_next(const Strings& start, const std::vector<Strings>& tunings, std::size_t first) {
  Sequence order{first}, left;
  for (std::size_t i = 0; i < tunings.size(); ++i) {
    if (i != first) left.push_back(i);
  }
  while (!left.empty()) {
    const Strings& here = order.empty() ? start : tunings[order.back()];
    const auto next = std::min_element(left.begin(), left.end(), [&](std::size_t a, std::size_t b) {
      return way_between(here, tunings[a]) < way_between(here, tunings[b]);
    });
    order.push_back(*next);
    left.erase(next);
  }
  return order;
}

}  // namespace

int way_between(const Strings& a, const Strings& b) {
  int way = 0;
  for (std::size_t s = 0; s < std::min(a.size(), b.size()); ++s) way += std::abs(a[s] - b[s]);
  return way;
}

int way_of(const Strings& start, const std::vector<Strings>& tunings, const Sequence& order) {
  int way = 0;
  const Strings* here = &start;
  for (const std::size_t next : order) {
    way += way_between(*here, tunings[next]);
    here = &tunings[next];
  }
  return way;
}

/// Held and Karp 1962: the shortest way through each set of tunings that ends at each of them.
Sequence exact_order(const Strings& start, const std::vector<Strings>& tunings) {
  const std::size_t count = tunings.size(), sets = std::size_t{1} << count;
  constexpr int kFar = std::numeric_limits<int>::max() / 2;
  std::vector<int> way(sets * count, kFar);
  std::vector<std::uint8_t> before(sets * count, 0);
  for (std::size_t last = 0; last < count; ++last) {
    way[(std::size_t{1} << last) * count + last] = way_between(start, tunings[last]);
  }
  for (std::size_t set = 1; set < sets; ++set) {
    for (std::size_t last = 0; last < count; ++last) {
      const int here = way[set * count + last];
      if (here == kFar) continue;
      for (std::size_t next = 0; next < count; ++next) {
        if ((set >> next & 1U) != 0) continue;
        const std::size_t place = (set | std::size_t{1} << next) * count + next;
        const int longer = here + way_between(tunings[last], tunings[next]);
        if (longer >= way[place]) continue;
        way[place] = longer;
        before[place] = static_cast<std::uint8_t>(last);
      }
    }
  }
  Sequence order;
  std::size_t set = sets - 1;
  std::size_t last = 0;
  for (std::size_t i = 1; i < count; ++i) {
    if (way[set * count + i] < way[set * count + last]) last = i;
  }
  while (set != 0) {
    order.push_back(last);
    const std::size_t previous = before[set * count + last];
    set &= ~(std::size_t{1} << last);
    last = previous;
  }
  std::reverse(order.begin(), order.end());
  return order;
}

Sequence good_order(const Strings& start, const std::vector<Strings>& tunings) {
  Sequence best(tunings.size());
  std::iota(best.begin(), best.end(), std::size_t{0});
  while (improve(start, tunings, best)) {
  }
  constexpr std::size_t kMostStarts = 8;
  for (std::size_t first = 0; first < std::min(tunings.size(), kMostStarts); ++first) {
    Sequence order = nearest_next(start, tunings, first);
    while (improve(start, tunings, order)) {
    }
    if (way_of(start, tunings, order) < way_of(start, tunings, best)) best = std::move(order);
  }
  return best;
}

RetuneOrder least_retuning(const Strings& start, const std::vector<Strings>& tunings) {
  std::vector<Strings> different;
  std::vector<Sequence> members;
  for (std::size_t i = 0; i < tunings.size(); ++i) {
    const auto known = std::find(different.begin(), different.end(), tunings[i]);
    if (known == different.end()) {
      different.push_back(tunings[i]);
      members.push_back({i});
    } else {
      members[static_cast<std::size_t>(known - different.begin())].push_back(i);
    }
  }
  RetuneOrder out;
  if (different.empty()) return out;
  const Sequence order = different.size() <= kExact ? exact_order(start, different) : good_order(start, different);
  out.semitones = way_of(start, different, order);
  for (const std::size_t i : order) out.order.insert(out.order.end(), members[i].begin(), members[i].end());
  return out;
}

}  // namespace tunesheaf::book

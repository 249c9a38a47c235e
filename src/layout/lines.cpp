#include "tunesheaf/layout/lines.h"

#include <algorithm>
#include <limits>
#include <set>
#include <utility>

namespace tunesheaf::layout {

namespace {

constexpr double kNever = std::numeric_limits<double>::infinity();
constexpr std::size_t kLongest = 32;  // of the stretches that break alike: a few lines

double cost_of(const LineCost& cost, std::size_t first, std::size_t last) {
  const std::optional<double> c = cost(first, last);
  if (c) return *c;
  return last == first + 1 ? kOverfullCost : kNever;
}

/// Bit i: a line begins before the thing i places after the first one of the stretch (0 < i < length).
std::uint32_t pattern_of(const std::vector<std::size_t>& firsts, std::size_t from, std::size_t length) {
  std::uint32_t bits = 0;
  for (auto it = std::upper_bound(firsts.begin(), firsts.end(), from); it != firsts.end() && *it < from + length;
       ++it) {
    bits |= std::uint32_t{1} << (*it - from);
  }
  return bits;
}

void impose(std::vector<BreakHere>& rules, const Repeats& repeats, std::uint32_t pattern) {
  for (const std::size_t from : repeats.firsts) {
    for (std::size_t i = 1; i < repeats.length; ++i) {
      rules[from + i] = (pattern >> i & 1U) != 0 ? BreakHere::Must : BreakHere::MustNot;
    }
  }
}

}  // namespace

std::vector<std::size_t> break_lines(std::size_t count, const LineCost& cost) {
  return break_lines(count, cost, {});
}

std::vector<std::size_t> break_lines(std::size_t count, const LineCost& cost, const std::vector<BreakHere>& rules) {
  struct Best {
    double cost = kNever;
    std::size_t from = 0, lines = 0;
  };
  const auto rule = [&](std::size_t at) { return at < rules.size() ? rules[at] : BreakHere::Free; };
  std::vector<Best> best(count + 1);
  best[0].cost = 0;
  for (std::size_t first = 0; first < count; ++first) {
    if (best[first].cost == kNever) continue;
    for (std::size_t last = first + 1; last <= count; ++last) {
      if (last > first + 1 && rule(last - 1) == BreakHere::Must) break;
      const double c = cost_of(cost, first, last);
      if (c == kNever) break;
      if (last < count && rule(last) == BreakHere::MustNot) continue;
      const double sum = best[first].cost + c;
      const std::size_t lines = best[first].lines + 1;
      if (sum < best[last].cost || (sum == best[last].cost && lines < best[last].lines)) {
        best[last] = {sum, first, lines};
      }
    }
  }
  std::vector<std::size_t> firsts;
  if (best[count].cost == kNever) return firsts;
  for (std::size_t at = count; at > 0; at = best[at].from) firsts.push_back(best[at].from);
  std::reverse(firsts.begin(), firsts.end());
  return firsts;
}

std::vector<std::size_t> break_lines_greedy(std::size_t count, const LineCost& cost) {
  std::vector<std::size_t> firsts;
  for (std::size_t first = 0; first < count;) {
    firsts.push_back(first);
    std::size_t last = first + 1;
    while (last < count && cost(first, last + 1)) ++last;
    first = last;
  }
  return firsts;
}

double total_cost(const std::vector<std::size_t>& firsts, std::size_t count, const LineCost& cost) {
  double sum = 0;
  for (std::size_t i = 0; i < firsts.size(); ++i) {
    sum += cost_of(cost, firsts[i], i + 1 < firsts.size() ? firsts[i + 1] : count);
  }
  return sum;
}

std::vector<std::size_t> break_lines_alike(std::size_t count, const LineCost& cost, const std::vector<Repeats>& repeats,
                                           double bound) {
  std::vector<std::size_t> lines = break_lines(count, cost);
  const double most = total_cost(lines, count, cost) + bound * static_cast<double>(lines.size());
  std::vector<BreakHere> rules(count, BreakHere::Free);
  for (const Repeats& stretch : repeats) {
    if (stretch.length < 2 || stretch.length > kLongest) continue;
    std::set<std::uint32_t> patterns;
    for (const std::size_t from : stretch.firsts) patterns.insert(pattern_of(lines, from, stretch.length));
    if (patterns.size() < 2) {  // alike as it is: what comes later must not undo it
      if (!patterns.empty()) impose(rules, stretch, *patterns.begin());
      continue;
    }
    double least = kNever;
    std::vector<std::size_t> chosen;
    std::vector<BreakHere> chosen_rules;
    for (const std::uint32_t pattern : patterns) {
      std::vector<BreakHere> tried = rules;
      impose(tried, stretch, pattern);
      std::vector<std::size_t> broken = break_lines(count, cost, tried);
      if (broken.empty()) continue;
      const double sum = total_cost(broken, count, cost);
      if (sum > most || sum >= least) continue;
      least = sum;
      chosen = std::move(broken);
      chosen_rules = std::move(tried);
    }
    if (chosen.empty()) continue;
    lines = std::move(chosen);
    rules = std::move(chosen_rules);
  }
  return lines;
}

std::vector<Repeats> find_repeats(const std::vector<std::uint64_t>& things) {
  constexpr std::size_t kShortest = 3, kFarthest = 64;
  std::vector<Repeats> found;
  const std::size_t count = things.size();
  for (std::size_t lag = kShortest; lag <= kFarthest && lag + kShortest <= count; ++lag) {
    for (std::size_t i = 0; i + lag < count;) {
      std::size_t run = 0;
      while (i + run + lag < count && things[i + run] == things[i + run + lag]) ++run;
      const std::size_t length = std::min({run, lag, kLongest});
      const auto begin = things.begin() + static_cast<std::ptrdiff_t>(i);
      const bool varied = std::any_of(begin, begin + static_cast<std::ptrdiff_t>(length),
                                      [&](std::uint64_t thing) { return thing != *begin; });
      if (length >= kShortest && varied) {
        Repeats repeats{length, {i}};
        for (std::size_t next = i + lag; next + length <= i + lag + run; next += lag) repeats.firsts.push_back(next);
        found.push_back(std::move(repeats));
      }
      i += run + 1;
    }
  }
  std::stable_sort(found.begin(), found.end(), [](const Repeats& a, const Repeats& b) { return a.length > b.length; });
  std::vector<Repeats> kept;
  std::vector<bool> taken(count);
  for (Repeats& repeats : found) {
    const bool free = std::none_of(repeats.firsts.begin(), repeats.firsts.end(), [&](std::size_t from) {
      for (std::size_t i = 0; i < repeats.length; ++i) {
        if (taken[from + i]) return true;
      }
      return false;
    });
    if (!free) continue;
    for (const std::size_t from : repeats.firsts) {
      for (std::size_t i = 0; i < repeats.length; ++i) taken[from + i] = true;
    }
    kept.push_back(std::move(repeats));
  }
  return kept;
}

}  // namespace tunesheaf::layout

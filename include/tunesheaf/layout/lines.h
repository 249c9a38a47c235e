// Where a row of things is broken into lines. In: how many things, the cost of a line that holds a stretch of them.
// Out: the first thing of each line, with the least total cost (as in optimal paragraph breaking: Knuth and Plass
// 1981). Invariant: every thing stands on exactly one line, in order; a single thing always makes a line, however bad.
// Never worse than the greedy breaker, which fills each line as far as it goes. Read next: layout/springs.h.
#pragma once
#include <cstddef>
#include <functional>
#include <optional>
#include <vector>

namespace tunesheaf::layout {

/// Cost of a line with the things first … last-1; nothing when they do not fit. Where `first .. last` does not fit, no
/// longer stretch from the same first may fit.
using LineCost = std::function<std::optional<double>(std::size_t first, std::size_t last)>;

/// What a line costs that holds one thing and is still too narrow.
inline constexpr double kOverfullCost = 1e6;

/// First things of the lines, beginning with 0; empty when count is 0. Among equals the one with fewer lines.
std::vector<std::size_t> break_lines(std::size_t count, const LineCost& cost);
/// Each line as long as it fits.
std::vector<std::size_t> break_lines_greedy(std::size_t count, const LineCost& cost);
double total_cost(const std::vector<std::size_t>& firsts, std::size_t count, const LineCost& cost);

}  // namespace tunesheaf::layout

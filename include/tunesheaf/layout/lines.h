// Where a row of things is broken into lines. In: how many things, the cost of a line that holds a stretch of them.
// Out: the first thing of each line, with the least total cost (as in optimal paragraph breaking: Knuth and Plass
// 1981). Invariant: every thing stands on exactly one line, in order; a single thing always makes a line, however bad.
// Never worse than the greedy breaker, which fills each line as far as it goes. Read next: layout/springs.h.
#pragma once
#include <cstddef>
#include <cstdint>
#include <functional>
#include <optional>
#include <vector>

namespace tunesheaf::layout {

/// Cost of a line with the things first … last-1; nothing when they do not fit. Where `first .. last` does not fit, no
/// longer stretch from the same first may fit.
using LineCost = std::function<std::optional<double>(std::size_t first, std::size_t last)>;

/// What a line costs that holds one thing and is still too narrow.
inline constexpr double kOverfullCost = 1e6;

/// What is said of the place before a thing.
enum class BreakHere : std::uint8_t { Free, Must, MustNot };

/// First things of the lines, beginning with 0; empty when count is 0. Among equals the one with fewer lines.
std::vector<std::size_t> break_lines(std::size_t count, const LineCost& cost);
/// The same among the ways to break that keep the rules (one for each thing); empty when there is none.
std::vector<std::size_t> break_lines(std::size_t count, const LineCost& cost, const std::vector<BreakHere>& rules);
/// Each line as long as it fits.
std::vector<std::size_t> break_lines_greedy(std::size_t count, const LineCost& cost);
double total_cost(const std::vector<std::size_t>& firsts, std::size_t count, const LineCost& cost);

/// Stretches of `length` things that are alike, by their first things; they do not overlap.
struct Repeats {
  std::size_t length = 0;
  std::vector<std::size_t> firsts;
};

/// The least cost, and then a second pass: where a stretch comes again, its lines break at the same places within it if
/// that costs no more than `bound` a line altogether. Of the ways that the stretches are broken in, the one that costs
/// least is taken for all. Stretches are looked at in their order; longer than 32 things they are not.
std::vector<std::size_t> break_lines_alike(std::size_t count, const LineCost& cost, const std::vector<Repeats>& repeats,
                                           double bound);

/// Where the same numbers come again: stretches of three or more (not all the same), the longest first.
std::vector<Repeats> find_repeats(const std::vector<std::uint64_t>& things);

}  // namespace tunesheaf::layout

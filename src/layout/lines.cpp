#include "tunesheaf/layout/lines.h"

#include <algorithm>
#include <limits>

namespace tunesheaf::layout {

namespace {
double cost_of(const LineCost& cost, std::size_t first, std::size_t last) {
  const std::optional<double> c = cost(first, last);
  if (c) return *c;
  return last == first + 1 ? kOverfullCost : std::numeric_limits<double>::infinity();
}
}  // namespace

std::vector<std::size_t> break_lines(std::size_t count, const LineCost& cost) {
  struct Best {
    double cost = std::numeric_limits<double>::infinity();
    std::size_t from = 0, lines = 0;
  };
  std::vector<Best> best(count + 1);
  best[0].cost = 0;
  for (std::size_t first = 0; first < count; ++first) {
    for (std::size_t last = first + 1; last <= count; ++last) {
      const double c = cost_of(cost, first, last);
      if (c == std::numeric_limits<double>::infinity()) break;
      const double sum = best[first].cost + c;
      const std::size_t lines = best[first].lines + 1;
      if (sum < best[last].cost || (sum == best[last].cost && lines < best[last].lines)) {
        best[last] = {sum, first, lines};
      }
    }
  }
  std::vector<std::size_t> firsts;
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

}  // namespace tunesheaf::layout

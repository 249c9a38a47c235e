#include "tunesheaf/base/edit_distance.h"

#include <algorithm>

#include "tunesheaf/base/utf8.h"

namespace tunesheaf::base {
namespace {

std::size_t distance(const std::vector<char32_t>& a, const std::vector<char32_t>& b) {
  // Three rows of the usual table: the swap of neighbours looks two rows back.
  std::vector<std::size_t> before(b.size() + 1), last(b.size() + 1), row(b.size() + 1);
  for (std::size_t j = 0; j <= b.size(); ++j) last[j] = j;
  for (std::size_t i = 1; i <= a.size(); ++i) {
    row[0] = i;
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const std::size_t change = last[j - 1] + (a[i - 1] == b[j - 1] ? 0 : 1);
      row[j] = std::min({last[j] + 1, row[j - 1] + 1, change});
      const bool swapped = i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1];
      if (swapped) row[j] = std::min(row[j], before[j - 2] + 1);
    }
    before.swap(last);
    last.swap(row);
  }
  return last[b.size()];
}

std::vector<char32_t> lowered(std::string_view text) {
  std::vector<char32_t> points = code_points(text);
  for (char32_t& c : points) {
    const bool ascii_capital = c >= U'A' && c <= U'Z';
    const bool latin_capital = c >= 0xC0 && c <= 0xDE && c != 0xD7;
    if (ascii_capital || latin_capital) c += 0x20;
  }
  return points;
}

}  // namespace

std::size_t edit_distance(std::string_view a, std::string_view b) {
  return distance(code_points(a), code_points(b));
}

std::optional<std::string> nearest_word(std::string_view word, const std::vector<std::string>& known) {
  // A known word is short; a long text is never a slip of one.
  constexpr std::size_t kLongestWord = 200;
  if (word.size() > kLongestWord) return std::nullopt;
  const std::vector<char32_t> wanted = lowered(word);
  const std::size_t limit = std::clamp<std::size_t>(wanted.size() / 3, 1, 3);
  std::optional<std::string> best;
  std::size_t best_distance = limit + 1;
  for (const std::string& candidate : known) {
    const std::vector<char32_t> have = lowered(candidate);
    const std::size_t gap = have.size() > wanted.size() ? have.size() - wanted.size() : wanted.size() - have.size();
    if (gap >= best_distance) continue;
    const std::size_t d = distance(wanted, have);
    if (d >= best_distance) continue;
    best_distance = d;
    best = candidate;
  }
  return best;
}

}  // namespace tunesheaf::base

#include "tunesheaf/text/cut.h"

#include <vector>

namespace tunesheaf::text {

std::string cut_to(Shaper& shaper, const std::string& text, const TextStyle& style, base::Length room) {
  const auto fits = [&](const std::string& tried) { return shaper.line(tried, style).width <= room; };
  if (fits(text)) return text;
  std::vector<std::size_t> ends{0};  // of the beginnings that may be left
  for (std::size_t i = 1; i < text.size(); ++i) {
    const bool between = (static_cast<unsigned char>(text[i]) & 0xC0U) != 0x80U;
    if (between && text[i - 1] != ' ') ends.push_back(i);
  }
  const auto cut = [&](std::size_t at) { return text.substr(0, ends[at]) + "…"; };
  // The longest one that fits, between `low`, which does, and `high`, which does not.
  std::size_t low = 0, high = ends.size();
  if (!fits(cut(0))) return {};
  while (high - low > 1) {
    const std::size_t middle = low + (high - low) / 2;
    (fits(cut(middle)) ? low : high) = middle;
  }
  return low == 0 ? std::string() : cut(low);
}

}  // namespace tunesheaf::text

// Bars for tests, written as lanes are: beats between ':', cells that share the beat, x strikes, - holds, . is silent.
// In: "x - : . x x". Out: spans of a full bar, each note with its own id.
#pragma once
#include <string_view>
#include <vector>

#include "tunesheaf/theory/rhythm.h"

namespace tunesheaf::theory::testing {

class Cells {
 public:
  /// A cell of the given length: x, - or .
  void add(char sign, base::Fraction length) {
    const bool rest = sign == '.' || (sign == '-' && spans.empty());
    const bool goes_on = sign == '-' || (rest && !spans.empty() && spans.back().rest);
    if (goes_on && !spans.empty()) {
      spans.back().duration += length;
    } else {
      spans.push_back({at_, length, rest, false, false, next_id_++});
    }
    at_ += length;
  }
  std::vector<RhythmSpan> spans;

 private:
  base::Fraction at_{0};
  int next_id_ = 1;
};

/// `beats` are lengths, one for each stretch between colons.
inline std::vector<RhythmSpan> spans_of(const std::vector<BarSpan>& beats, std::string_view text) {
  Cells cells;
  std::size_t beat = 0;
  while (!text.empty() || beat < beats.size()) {
    const std::size_t colon = std::min(text.find(':'), text.size());
    std::vector<char> signs;
    for (char c : text.substr(0, colon)) {
      if (c != ' ') signs.push_back(c);
    }
    if (signs.empty()) signs.push_back('-');
    const base::Fraction length = beats.at(beat).length / base::Fraction(static_cast<std::int64_t>(signs.size()));
    for (char c : signs) cells.add(c, length);
    text.remove_prefix(std::min(colon + 1, text.size()));
    ++beat;
  }
  return cells.spans;
}

}  // namespace tunesheaf::theory::testing

#include "chart_words.h"

#include <algorithm>
#include <string_view>

namespace tunesheaf::blocks {
namespace {

using base::Fraction;

struct Sung {
  std::string text;
  score::Place last;  ///< of its last syllable
};

/// Whole words: syllables that a hyphen joins are one.
std::vector<Sung> sung_words(const std::vector<score::Word>& words) {
  std::vector<Sung> out;
  bool joined = false;
  for (const score::Word& word : words) {
    if (word.kind != score::WordKind::Lyric || word.text.empty()) continue;
    std::string text = word.text;
    const bool goes_on = text.size() > 1 && text.back() == '-';
    if (goes_on) text.pop_back();
    if (joined) {
      out.back().text += text;
      out.back().last = word.at;
    } else {
      out.push_back({text, word.at});
    }
    joined = goes_on;
  }
  return out;
}

Fraction between(const score::Section& section, score::Place from, score::Place to) {
  Fraction out = to.onset - from.onset;
  for (int b = from.bar; b < to.bar; ++b) out = out + section.bars[static_cast<std::size_t>(b)].length;
  return out;
}

bool closes(const std::string& word) {
  return !word.empty() && std::string_view(",;:.!?").find(word.back()) != std::string_view::npos;
}

}  // namespace

std::string first_words(const score::Section& section, const std::vector<score::Word>& words) {
  constexpr std::size_t kLeast = 3, kMost = 8, kPlain = 6;
  const Fraction kLong(1, 2);  // from one word to the next: the singer breathes
  const std::vector<Sung> sung = sung_words(words);
  std::size_t count = std::min(sung.size(), kPlain);
  for (std::size_t i = kLeast; i <= std::min(sung.size(), kMost); ++i) {
    const bool held = i < sung.size() && kLong <= between(section, sung[i - 1].last, sung[i].last);
    if (!closes(sung[i - 1].text) && !held && i != sung.size()) continue;
    count = i;
    break;
  }
  std::string out;
  for (std::size_t i = 0; i < count; ++i) out += (i == 0 ? "" : " ") + sung[i].text;
  if (count == sung.size()) return out;
  while (!out.empty() && std::string_view(",;:").find(out.back()) != std::string_view::npos) out.pop_back();
  return out + (out.ends_with(".") ? "" : " …");
}

}  // namespace tunesheaf::blocks

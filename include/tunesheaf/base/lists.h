// Enumerations in running text. In: words. Out: "a", "a and b", "a, b and c". Invariant: nothing is left out or sorted.
#pragma once
#include <string>
#include <string_view>
#include <vector>

namespace tunesheaf::base {

inline std::string list_words(const std::vector<std::string>& words, std::string_view last_joint = " and ") {
  std::string out;
  for (std::size_t i = 0; i < words.size(); ++i) {
    if (i > 0) out += i + 1 == words.size() ? last_joint : std::string_view(", ");
    out += words[i];
  }
  return out;
}

}  // namespace tunesheaf::base

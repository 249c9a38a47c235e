// The nearest known word. In: a word and a list. Out: the list's member with the least edit distance (insert, delete,
// change, swap of neighbours; Damerau 1964), when near enough to be what was meant.
#pragma once
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace tunesheaf::base {

std::size_t edit_distance(std::string_view a, std::string_view b);
/// Nearest of `known` within a third of the word's length (at least 1, at most 3), case ignored; ties: the first.
std::optional<std::string> nearest_word(std::string_view word, const std::vector<std::string>& known);

}  // namespace tunesheaf::base

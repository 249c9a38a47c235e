// The words of the dump, shared by its printer and its parser: each enumerator's name at its number.
#pragma once
#include <array>
#include <string_view>

namespace tunesheaf::paint {

inline constexpr std::array<std::string_view, 6> kLayerWords = {"tint", "line", "knockout", "ink", "text", "overlay"};
inline constexpr std::array<std::string_view, 10> kRoleWords = {
    "none", "section", "heading-1", "heading-2", "heading-3", "paragraph", "figure", "table", "caption", "artifact"};
inline constexpr std::array<std::string_view, 3> kCapWords = {"butt", "round", "square"};
inline constexpr std::array<std::string_view, 4> kVerbWords = {"m", "l", "c", "z"};
inline constexpr std::string_view kFirstLine = "tunesheaf display list 1";

}  // namespace tunesheaf::paint

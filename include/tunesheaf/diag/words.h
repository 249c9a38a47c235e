// Texts of a user made fit for a message or a terminal. In: any bytes. Out: one line of well-formed text that cannot
// move the cursor, change a colour or turn the reading direction: such signs are shown as a middle dot.
// Read next: diag/diagnostic.h.
#pragma once
#include <cstddef>
#include <string>
#include <string_view>

namespace tunesheaf::diag {

/// Tabs and ends of line become spaces; control and direction characters and ill-formed bytes become "·".
std::string shown(std::string_view text);
/// shown(text), cut behind `columns` display columns with "…".
std::string shortened(std::string_view text, std::size_t columns);
/// The user's own words in double quotes, at most 60 columns of them.
std::string quoted(std::string_view text);
/// One code point made fit: itself, " ", or "·". U+FFFD stands for ill-formed bytes.
std::string shown_point(char32_t code_point);

}  // namespace tunesheaf::diag

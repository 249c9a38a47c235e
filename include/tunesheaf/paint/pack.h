// Pages as bytes, to be kept and taken up again. In: a Document. Out: bytes; and from bytes the same Document to the
// last unit, or nothing when they are damaged. Invariant: unpack(pack(d)) prints and plays as d does. Shapes that come
// again, as note heads and figures do, are kept once. Read next: paint/display_list.h.
#pragma once
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

#include "tunesheaf/paint/display_list.h"

namespace tunesheaf::paint {

/// Room that unpacked pages have for a page number, a running line and a bookmark, so that a binder of many pages need
/// not move all their marks.
inline constexpr std::size_t kMarksOfABinder = 16;

std::string pack(const Document& document);
std::optional<Document> unpack(std::string_view bytes);

}  // namespace tunesheaf::paint

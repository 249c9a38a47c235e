// Practice sheets: a section on its own page or pages. In: a handout's request, the sections wanted. Out: one sheet, or
// one for each section. Invariant: larger staves and type than the style's own handout; every section begins a page.
// Read next: blocks/practice.h.
#pragma once
#include <vector>

#include "tunesheaf/sheet/sheet.h"

namespace tunesheaf::sheet {

/// `sections`: indices; all of them in one sheet with bookmarks. What equals an earlier section of the list is named
/// only. The student's part is the first of `request.parts`; without any, the song's first fretted part, else its
/// first.
Sheet make_practice(const HandoutRequest& request, const std::vector<int>& sections, diag::Sink& sink);

}  // namespace tunesheaf::sheet

// A mark as boxes. In: a display item. Out: boxes that together hold its ink, close to it: one for text and rectangles,
// slices of a few points for slanted lines and for paths. Read next: paint/audit.h.
#pragma once
#include <vector>

#include "tunesheaf/paint/display_list.h"

namespace tunesheaf::paint {

std::vector<base::Rect> slices_of(const DisplayItem& item);

}  // namespace tunesheaf::paint

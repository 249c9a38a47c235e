// One step of the form as an area of the section map. In: the step, its box, whether its letter comes back. Out: items
// in a frame. Invariant: nothing leaves the box; where there is too little room the number of times gives way first,
// then the letters of later passes, then the size of the letter. Read next: blocks/map.h.
#pragma once
#include "map_form.h"
#include "pen.h"

namespace tunesheaf::blocks {

/// A pattern helps the eye where a letter comes back, and nowhere else.
enum class Pattern : std::uint8_t { Plain, OfItsLetter };
void put_map_area(Frame& frame, const Setting& setting, const MapStep& step, const base::Rect& box, Pattern pattern);

}  // namespace tunesheaf::blocks

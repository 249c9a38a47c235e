// Parentheses around a sign: what is hardly played, and accidentals said for safety's sake. In: the sign's box and the
// height of its middle. Out: two items on the staff. Read next: notes.cpp, tab.cpp.
#pragma once
#include "staff_context.h"

namespace tunesheaf::engrave {

void draw_parentheses(StaffContext& staff, const Rect& box, Length y, Span origin, layout::Subject subject);

}  // namespace tunesheaf::engrave

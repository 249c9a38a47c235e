// One sign drawn small, as it stands beside its words. In: the sign, and where. Out: items in a frame. Read next:
// legend.cpp.
#pragma once
#include "pen.h"
#include "tunesheaf/blocks/legend.h"

namespace tunesheaf::blocks {

/// In a box `width` wide whose baseline is at.y; words of SignList::printed where the sheet prints those.
void draw_sample(const Setting& setting, const SignList& list, Frame& frame, Point at, Length width, LegendSign sign);

}  // namespace tunesheaf::blocks

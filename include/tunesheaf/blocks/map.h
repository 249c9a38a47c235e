// The section map: the form to scale, left to right. In: a Setting. Out: a band in which each step of the form is as
// wide as its bars; sections alike share tone, pattern and letter; times stand beneath, jumps as arrows above.
// Invariant: a section that comes again looks the same again, and no two different ones do, in black and white too
// (the letter tells; the pattern helps). Long forms take several rows of equal scale. Read next: blocks/shapes.h.
#pragma once
#include "tunesheaf/blocks/setting.h"

namespace tunesheaf::blocks {

Flow section_map(const Setting& setting);

}  // namespace tunesheaf::blocks

// A move of the fretting hand as a picture. In: theory's move, the number of strings, a size. Out: a piece of the neck
// with every finger of the move: where it was (a ring), where it comes (a dot with its figure), and the way between
// (an arrow). Invariant: a finger that lifts is a ring alone, one that stays or is added a dot alone; where one leaves
// and another comes, the ring lies on the dot. Read next: blocks/shapes.h, theory/move.h.
#pragma once
#include <memory>
#include <string>

#include "tunesheaf/blocks/shapes.h"

namespace tunesheaf::blocks {

std::shared_ptr<const layout::Frame> move_box(const Setting& setting, const theory::Move& move, int strings,
                                              BoxSize size);
/// Whether the hand stays near enough for one picture.
bool move_fits_a_box(const theory::Move& move);
/// What the rings and arrows of the picture mean; empty where it has none.
std::string move_box_words(const theory::Move& move);

}  // namespace tunesheaf::blocks

// A move of the fretting hand in few words. In: theory's move between two shapes. Out: short lines in a fixed order:
// what lifts, stays, slides, moves, is added; fingers by their figures (1 to 4, T for the thumb). Invariant: every
// finger of the move is named exactly once. Read next: theory/move.h.
#pragma once
#include <string>
#include <vector>

#include "tunesheaf/theory/move.h"

namespace tunesheaf::blocks {

/// "2 lifts", "1 stays", "3 slides to fret 5 (guide)", "4 added: string 1, fret 2"; "nothing moves" for no change.
std::vector<std::string> move_words(const theory::Move& move);

}  // namespace tunesheaf::blocks

// Beams. In: pieces with their values and tuplets, in ticks, and the meter. Out: runs of pieces under one primary beam,
// and each piece's mark at every level. Invariant: a run holds notes with flags only, stays within one beam group of
// the meter (or one cell of a tuplet that spans beats), and every partial beam points into its own beat. Read next:
// rhythm.h.
#pragma once
#include <vector>

#include "rhythm_grid.h"
#include "tunesheaf/theory/rhythm.h"

namespace tunesheaf::theory::detail {

/// What beaming needs to know of a piece besides its spelling.
struct BeamInput {
  Ticks begin = 0;
  Ticks end = 0;
  int flags = 0;  ///< 0 for rests
  int tuplet = -1;
};

/// A tuplet as beaming sees it: the bounds, the cell before any doubling of the figure, the ratio written : real.
struct BeamTuplet {
  Ticks start = 0;
  Ticks length = 0;
  Ticks cell = 0;
  int actual = 3;
  int normal = 2;
};

void add_beams(const Meter& meter, TickScale scale, const std::vector<BeamInput>& input,
               const std::vector<BeamTuplet>& tuplets, Spelling& spelling);

}  // namespace tunesheaf::theory::detail

// Where a bar needs tuplets. In: the bar's grid and its spans in ticks. Out: disjoint regions, each one tuplet with its
// own grid. Invariant: every boundary that no halving of the meter reaches lies within a region. Read next:
// rhythm_tuplets.cpp, where the costs stand.
#pragma once
#include <vector>

#include "rhythm_grid.h"

namespace tunesheaf::theory::detail {

/// A span in ticks from the start of the full bar; neighbouring rests are already one.
struct TickSpan {
  Ticks begin = 0;
  Ticks end = 0;
  Sound sound = Sound::kNote;
};

struct Region {
  Ticks start = 0;
  Ticks length = 0;
  int actual = 3;
  int normal = 2;
  Grid grid;
  Ticks end() const { return start + length; }
};

/// What the search reads: spans in order, and every boundary of them, the bar's own included.
struct BarTime {
  TickScale scale;
  std::vector<TickSpan> spans;
  std::vector<Ticks> onsets;
};

/// In order of time; empty for a bar that halves throughout.
std::vector<Region> find_tuplets(const Grid& grid, const BarTime& time);

}  // namespace tunesheaf::theory::detail

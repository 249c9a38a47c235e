// What the order of playing says about a chart. In: the song in time. Out: the steps of the form; what changes where a
// section begins, seen from all that is played before it; what stands beside D.C. and D.S. Invariant: computed from the
// bars as they go by. Read next: blocks/chart.h.
#pragma once
#include "tunesheaf/blocks/chart.h"

namespace tunesheaf::blocks {

/// Fills form and fades.
void chart_form(const score::Timeline& song, ChartContent& chart);

/// What is another where a section begins than in the head or, some time, in the bar played before.
struct ChartChange {
  bool key = false, meter = false, feel = false;
  double rate = 0;  ///< whole notes a minute; 0: the tempo is no other
};
ChartChange change_at(const score::Timeline& song, int section);

}  // namespace tunesheaf::blocks

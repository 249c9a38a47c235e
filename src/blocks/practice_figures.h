// What a student ticks, climbs and looks at on a practice sheet. In: a Setting and facts of the plan. Out: frames and
// flow items as wide as the body. Invariant: rows of boxes stay together, and a picture stays with its words. Read
// next: blocks/practice.h.
#pragma once
#include <string>
#include <vector>

#include "pen.h"
#include "tunesheaf/blocks/practice_plan.h"

namespace tunesheaf::blocks {

/// Beside its boxes: what is played, and why or how.
struct TickRow {
  std::string what, why;
};
/// In two columns where half the width is enough for each.
Flow tick_items(const Setting& setting, const std::vector<TickRow>& rows, Span origin);
/// Rungs side by side, each higher than the one before: beats a minute, or the share of the tempo, and boxes to tick.
FramePtr ladder_figure(const Setting& setting, const PracticePlan& plan, Span origin);
/// The shape, the move, the shape, with the words beside the pictures where they find room, else below.
Flow drill_items(const Setting& setting, const Change& change, Span origin);
FramePtr writing_lines(const Setting& setting, int lines);

}  // namespace tunesheaf::blocks

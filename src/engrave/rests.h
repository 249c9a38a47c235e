// Bars of silence that stand as one. In: the planned staves of a section. Out: StaffBar::rest_bars, and the thick bar
// with its count that is drawn for them. Rule: two bars or more in which nobody on the sheet plays, with nothing said
// and nothing changing in them, are one (Gould 2011); where a sheet shows a few of the song's parts only, the chords of
// the others do not hold the bars apart. Read next: staff_plan.h, spacing.h.
#pragma once
#include "staff_context.h"

namespace tunesheaf::engrave {

void join_rests(std::vector<StaffPlan>& plans, const SectionRequest& request);
/// The sheet shows fewer parts than the song has.
bool is_part_sheet(const SectionRequest& request);
void draw_joined_rests(StaffContext& staff);

}  // namespace tunesheaf::engrave

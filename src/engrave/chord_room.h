// Parts of layout_chords(): chords of a tab, and the room for what is drawn beside chords. In: chords whose heads are
// chosen. Out: how far their ink, and what hands do there, reaches to both sides. Read next: chord.h, marks.h.
#pragma once
#include "chord.h"

namespace tunesheaf::engrave {

void layout_tab(Chord& chord, const score::Timeline& timeline, Inks& inks, bool rhythm);
/// On a tab the slash of a strum that is held over stands beside the figures that another voice strikes there.
void part_held_slashes(const StaffPlan& plan, StaffBar& bar, const score::Timeline& timeline, Inks& inks);
/// Room for what hands do beside the heads: slides, bends, rolled chords, fingers, strings of a strum; and on a tab for
/// the second figure.
void room_for_marks(const StaffPlan& plan, StaffBar& bar, const score::Timeline& timeline, Inks& inks);

}  // namespace tunesheaf::engrave

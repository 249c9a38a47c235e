// Which accidentals stand before heads. In: a staff's heads with their pitches, its keys. Out: Head::accidental. Rule:
// an accidental holds to the bar line, for its octave and staff; in the next bar, and for the other octaves of the same
// bar, the plain note gets a courtesy accidental in parentheses; held heads get none (Gould 2011; Read 1979). Where a
// bar is broken it holds on the next system too, and is said there once more in parentheses.
#pragma once
#include "staff_plan.h"

namespace tunesheaf::engrave {

void choose_accidentals(StaffPlan& plan, const SectionRequest& request);
/// Alteration of a letter by a key signature.
int key_alteration(int fifths, theory::Step step);
std::optional<MusicSign> accidental_sign(int alter);

}  // namespace tunesheaf::engrave

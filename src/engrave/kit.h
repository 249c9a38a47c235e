// What is peculiar to staves of drums. In: the kit of a part. Out: which drum a note strikes, where rests stand on a
// staff with fewer lines than five. Read next: theory/kit.h, marks_kit.cpp.
#pragma once
#include "staff_plan.h"

namespace tunesheaf::engrave {

/// Nothing for what is no stroke on a drum.
const score::Drum* drum_of(const score::Note& note, const score::Part& part);
/// The small heads of a flam, drag or ruff, of the drum that has it; of several at once the longest is written.
void small_drum_heads(Chord& chord, const score::Event& event, const score::Part& part);
/// Whole rests hang from a line and half rests sit on one, however many lines there are.
void fit_rests(StaffBar& bar, int lines);

}  // namespace tunesheaf::engrave

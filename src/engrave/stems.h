// Directions of stems. In: a bar's chords and beams. Out: Chord::stem_up. Rule 2 of the engraving rules: with two
// voices the upper stems up and the lower down; else the note farthest from the middle line decides for its chord or
// beam, and on a draw the stem points down (Read 1979; Gould 2011).
#pragma once
#include "staff_plan.h"

namespace tunesheaf::engrave {

/// On drum staves the hands' stems point up and the feet's down, also where they play alone.
enum class Stems : std::uint8_t { ByPitch, OfDrums };
void decide_stems(StaffBar& bar, Stems stems);
/// Tab that stands alone: stems below the staff, above it for the upper of two voices.
void tab_stems(StaffBar& bar);

}  // namespace tunesheaf::engrave

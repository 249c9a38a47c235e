// Equal values take equal room. In: the springs of a bar with the rods that words and ink have laid between them. Out:
// the same with the white of a crowded place spread over its neighbours. Invariant: no spring becomes shorter; where a
// line is pressed to its rods, ink comes first. Read next: spacing.cpp.
#pragma once
#include <vector>

#include "staff_plan.h"
#include "tunesheaf/layout/springs.h"

namespace tunesheaf::engrave {

/// Springs begin at the onsets; `bars`: what every staff has in this bar. Values of a tuplet become equal whatever
/// stands between them; those of a run of one value outside tuplets come up to their widest by a bounded share, so that
/// one long word does not make a whole bar as wide (Gould 2011: uneven spacing is spread, not left where it arises).
void even_out(std::vector<layout::Spring>& springs, const std::vector<Fraction>& onsets,
              const std::vector<const StaffBar*>& bars);

}  // namespace tunesheaf::engrave

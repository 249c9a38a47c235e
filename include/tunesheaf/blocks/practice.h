// A section as a practice sheet. In: a Setting (a practice style, the student's part first), a section. Out: a flow
// that begins a page: heading, how it joins its neighbours, the steps of learning it, cautions, its shapes and moves,
// the change to drill, the music with its count, the phrases, the tempo ladder, what to listen for, lines to write on.
// Invariant: music that is wholly that of an earlier section is named, not printed again, unless it is asked for by
// itself. Read next: blocks/practice_plan.h, sheet/practice.h.
#pragma once
#include <vector>

#include "tunesheaf/blocks/practice_plan.h"
#include "tunesheaf/blocks/section.h"

namespace tunesheaf::blocks {

/// Between two lines to write on, in points: 8 mm.
inline constexpr base::Length kWritingPitch = base::Length::raw(23220);
/// Whether music that an earlier sheet holds is printed once more.
enum class SameMusic : std::uint8_t { Named, Printed };

/// Lines to write on at the end, perhaps none, and how much further down they stand than what is above them needs.
struct Writing {
  int lines = 0;
  base::Length drop;
};

/// `same` counts for music that is wholly that of an earlier section.
SectionBlock practice_block(const Setting& setting, PracticePlan plan, SameMusic same, Writing writing);

}  // namespace tunesheaf::blocks

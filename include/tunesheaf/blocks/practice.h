// A section as a practice sheet. In: a Setting (a practice style, the student's part first), a section. Out: a flow
// that begins a page: heading, how it joins its neighbours, the steps of learning it, cautions, its shapes and moves,
// the change to drill, the music with its count, the phrases, the tempo ladder, what to listen for, lines to write on.
// Invariant: music that is wholly that of an earlier section is named, not printed again, unless it is asked for by
// itself. Read next: blocks/practice_plan.h, sheet/practice.h.
#pragma once
#include <memory>
#include <vector>

#include "tunesheaf/blocks/practice_plan.h"
#include "tunesheaf/blocks/section.h"

namespace tunesheaf::blocks {

/// Between two lines to write on, in points: 8 mm.
inline constexpr base::Length kWritingPitch = base::Length::raw(23220);
/// Whether music that an earlier sheet holds is printed once more.
enum class SameMusic : std::uint8_t { Named, Printed };

/// Where the signs and what to listen for stand: among the other blocks, or in the margin column beside them.
enum class Aside : std::uint8_t { Body, Margin };

/// Lines to write on at the end, perhaps none, and how much further down they stand than what is above them needs.
struct Writing {
  int lines = 0;
  base::Length drop;
};

/// The back of a leaf that no sheet needs, `height` high: why it is free, and lines to write on.
std::shared_ptr<const layout::Frame> free_page(const Setting& setting, base::Length height);

struct PracticeBlock : SectionBlock {
  /// Items after which a page had best end, the best first: what follows is to be seen at one look.
  std::vector<std::size_t> breaks;
  /// What may follow the last item where lines to write on do.
  layout::BreakAfter before_lines{};
};

/// The music of a sheet, the same however the sheet is laid out. `same` counts for music that is wholly that of an
/// earlier section.
SectionBlock practice_music(const Setting& setting, const PracticePlan& plan, SameMusic same);
/// `music`: from practice_music() in this setting. No lines to write on.
PracticeBlock practice_block(const Setting& setting, PracticePlan plan, SameMusic same, Aside aside,
                             SectionBlock music);
/// Lines to write on behind all of it.
void add_lines(const Setting& setting, Writing writing, PracticeBlock& block);

}  // namespace tunesheaf::blocks

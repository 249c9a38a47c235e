// The sheet of all signs: `tunesheaf legend`. In: the song of examples (song/legend.h) as a Timeline, and its groups.
// Out: a Sheet like any other. Invariant: each example's notes are
// expected by the audit, as those of a song are. Read next: blocks/legend_page.h.
#pragma once
#include <vector>

#include "tunesheaf/blocks/legend_page.h"
#include "tunesheaf/sheet/sheet.h"

namespace tunesheaf::sheet {

/// `request.song` has its form words where the examples want them.
Sheet make_legend(const HandoutRequest& request, const std::vector<blocks::SignGroup>& groups, diag::Sink& sink);

}  // namespace tunesheaf::sheet

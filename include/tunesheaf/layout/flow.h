// Blocks as they go onto pages. In: a list of flow items, top to bottom. Out: pages, broken by least total cost
// (Knuth and Plass 1981, with vertical space in the place of words). Invariant: items keep their order; a margin note
// stands on the page of its item, never above its anchor, and notes never overlap. Read next: sheet/sheet.h.
#pragma once
#include <memory>
#include <vector>

#include "tunesheaf/layout/frame.h"

namespace tunesheaf::layout {

/// Stands in the margin column; its first baseline is wanted at `anchor` (from the top of the item's frame).
struct MarginNote {
  base::Length anchor;
  std::shared_ptr<const Frame> frame;
};

enum class BreakAfter : std::uint8_t { Allowed, Forbidden, Forced };

struct FlowItem {
  std::shared_ptr<const Frame> frame;
  base::Length space_before;  ///< natural white space above it; dropped at the top of a page
  base::Length stretch;       ///< how much that space may grow; any space may shrink to 70 % of its natural height
  BreakAfter break_after = BreakAfter::Allowed;
  double break_cost = 0;  ///< added when a page ends after this item; 0 none, 100 bad, negative a good place
  std::vector<MarginNote> notes;
};

struct PageShape {
  base::Size page;           ///< paper
  base::Rect body;           ///< where items stand
  base::Rect first_body;     ///< the same for the first page
  base::Rect margin_column;  ///< where margin notes stand
  base::Length note_gap;     ///< least white between two notes
};

struct PlacedItem {
  std::size_t item;  ///< index into the flow
  base::Point at;    ///< on the page
};
struct PlacedNote {
  std::size_t item, note;
  base::Point at;
};
struct PagePlan {
  std::vector<PlacedItem> items;
  std::vector<PlacedNote> notes;
  bool overfull = false;  ///< an item (or its notes) is higher than the page: to be reported
};

/// Optimal page breaking. Cost of a page: 100 times the square of the share of its body left empty once its spaces have
/// grown, plus the break cost of its last item (both nothing for the last page and before a forced break); 4 for a page
/// that fits only with its spaces shrunk (as little as does it, at most to 70 %); 12 for a later page with one item
/// only where that is the last of all or stands before a forced break, so that it gets company from the page before
/// unless that would leave a third of it empty; so much for a break after an item that forbids it that it happens only
/// where nothing else is possible. A note begins beside its own item (no lower than its foot): where earlier notes
/// reach further, the item comes down. Time grows with the number of items times those on a page.
std::vector<PagePlan> break_pages(const std::vector<FlowItem>& flow, const PageShape& shape);

}  // namespace tunesheaf::layout

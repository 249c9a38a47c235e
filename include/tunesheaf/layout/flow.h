// Blocks as they go onto pages. In: a list of flow items, top to bottom. Out: pages, broken by least total cost
// (Knuth and Plass 1981, with vertical space in the place of words). Invariant: items keep their order; a margin note
// stands on the page of its item, never above its anchor, and notes never overlap. Read next: layout/elastic.h,
// sheet/sheet.h.
#pragma once
#include <memory>
#include <vector>

#include "tunesheaf/layout/elastic.h"
#include "tunesheaf/layout/frame.h"

namespace tunesheaf::layout {

/// Stands in the margin column; its first baseline is wanted at `anchor` (from the top of the item's frame).
struct MarginNote {
  base::Length anchor;
  std::shared_ptr<const Frame> frame;
  std::size_t row = 0;  ///< of an elastic item: the row that the anchor moves with
};

enum class BreakAfter : std::uint8_t { Allowed, Forbidden, Forced };

struct FlowItem {
  std::shared_ptr<const Frame> frame;
  base::Length space_before;  ///< natural white space above it; dropped at the top of a page
  base::Length stretch;       ///< how much that space may grow; any space may shrink to 70 % of its natural height
  BreakAfter break_after = BreakAfter::Allowed;
  double break_cost = 0;  ///< added when a page ends after this item; 0 none, 100 bad, negative a good place
  double turn_cost = 0;   ///< added where the leaf is turned there (PageShape::opens_left)
  std::vector<MarginNote> notes;
  std::shared_ptr<const Elastic> elastic;     ///< the frame at other heights; none: it is stiff
  std::shared_ptr<const Frame> continuation;  ///< stands over it where it opens a page
};

struct PageShape {
  base::Size page;           ///< paper
  base::Rect body;           ///< where items stand
  base::Rect first_body;     ///< the same for the first page
  base::Rect margin_column;  ///< where margin notes stand
  base::Length note_gap;     ///< least white between two notes
  bool opens_left = false;   ///< the first page is a left-hand one where there are more: leaves turn after 2, 4, 6 …
  double turn_weight = 1;    ///< times each item's turn cost
};

struct PlacedItem {
  std::size_t item;                    ///< index into the flow
  base::Point at;                      ///< on the page
  std::shared_ptr<const Frame> frame;  ///< the item's, as high as it stands here
};
struct PlacedNote {
  std::size_t item, note;
  base::Point at;
};
struct PagePlan {
  std::shared_ptr<const Frame> continuation;  ///< at the top of the body, where the first item asks for it
  std::vector<PlacedItem> items;
  std::vector<PlacedNote> notes;
  bool overfull = false;  ///< an item (or its notes) is higher than the page: to be reported
};

/// Optimal page breaking. Cost of a page: 20, so that fewer are better; 6 for one that fits only with its spaces (and
/// elastic items) shrunk, as little as does it, spaces at most to 70 %. Unless it is the last of all or ends at a
/// forced break: 3 times the square of the share of its stretch (where it has any) that fills it, 300 times the square
/// of the share of its body left empty even so, the break cost of its last item, where the leaf turns its turn cost,
/// and so much for a break after an item that forbids it that it happens only where nothing else is possible. 36 for a
/// later page with one item only where that is the last of all or stands before a forced break, so that it gets company
/// from the page before unless that would leave a third of it empty. A note begins beside its own item (no lower than
/// its foot): where earlier notes reach further, the item comes down. Time grows with the number of items times those
/// on a page.
std::vector<PagePlan> break_pages(const std::vector<FlowItem>& flow, const PageShape& shape);

}  // namespace tunesheaf::layout

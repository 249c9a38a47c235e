#include "tunesheaf/layout/flow.h"

#include <algorithm>
#include <limits>
#include <optional>

namespace tunesheaf::layout {
namespace {

using base::Length;

// Costs, in the unit of break_cost (100 is bad). An empty page costs as much as a bad break; a lone last item as much
// as a page that is a third empty; a forbidden break is taken only where nothing else exists.
constexpr double kEmptyPage = 100;
constexpr double kLoneItem = 12;
constexpr double kShrunk = 4;
constexpr double kMostShrink = 0.3;  // of a space
constexpr double kForbidden = 1e6;
constexpr double kOverfull = 1e5;

/// A page filled item by item; the white above an item grows where the margin notes before it reach too far down.
class Filler {
 public:
  Filler(const std::vector<FlowItem>& flow, const PageShape& shape, bool first_page)
      : flow_(flow), shape_(shape), body_(first_page ? shape.first_body : shape.body) {
    y_ = body_.top();
  }

  /// Puts the item below the last one, its space stretched by `share` of what it allows; shrunk where that is negative.
  void add(std::size_t index, double share) {
    const FlowItem& item = flow_[index];
    Length top = y_;
    if (!plan_.items.empty()) {
      top += item.space_before + (share < 0 ? item.space_before * (kMostShrink * share) : item.stretch * share);
      stretch_ += item.stretch;
    }
    top = std::max(top, lowest_for_notes(item));
    plan_.items.push_back({index, {body_.x, top}});
    y_ = top + item.frame->size.height;
    for (std::size_t n = 0; n < item.notes.size(); ++n) {
      const MarginNote& note = item.notes[n];
      const Length wanted = top + note.anchor - note.frame->baseline;
      const Length at = plan_.notes.empty() ? wanted : std::max(wanted, notes_end_ + shape_.note_gap);
      plan_.notes.push_back({index, n, {shape_.margin_column.x, at}});
      notes_end_ = at + note.frame->size.height;
    }
  }

  bool fits() const {
    return y_ <= body_.bottom() && (plan_.notes.empty() || notes_end_ <= shape_.margin_column.bottom());
  }
  bool item_too_high() const { return y_ > body_.bottom(); }
  /// White below the last item.
  Length left() const { return body_.bottom() - y_; }
  Length stretch() const { return stretch_; }
  double empty_share() const { return std::max(0.0, (left() - std::min(stretch_, left())) / body_.height); }
  PagePlan& plan() { return plan_; }

 private:
  /// A note begins beside its own item: where the notes before it reach below the item's foot, the item comes down.
  Length lowest_for_notes(const FlowItem& item) const {
    if (item.notes.empty() || plan_.notes.empty()) return body_.top();
    return notes_end_ + shape_.note_gap + item.notes.front().frame->baseline - item.frame->size.height;
  }

  const std::vector<FlowItem>& flow_;
  const PageShape& shape_;
  base::Rect body_;
  PagePlan plan_;
  Length y_, notes_end_, stretch_;
};

struct Choice {
  double cost = std::numeric_limits<double>::infinity();
  std::size_t first = 0;  // first item of the page that ends here
};

bool ends_block(const std::vector<FlowItem>& flow, std::size_t last) {
  return last + 1 == flow.size() || flow[last].break_after == BreakAfter::Forced;
}

double page_cost(const std::vector<FlowItem>& flow, const Filler& page, std::size_t first, std::size_t last) {
  double cost = 0;
  const bool last_page = last + 1 == flow.size();
  const bool forced = flow[last].break_after == BreakAfter::Forced;
  if (!last_page && !forced) {
    const double empty = page.empty_share();
    cost += kEmptyPage * empty * empty + flow[last].break_cost;
    if (flow[last].break_after == BreakAfter::Forbidden) cost += kForbidden;
  }
  if (first == last && first != 0 && ends_block(flow, last)) cost += kLoneItem;
  if (!page.fits()) cost += first == last ? kOverfull : kShrunk;
  return cost;
}

/// The least shrinking with which a page fits, as a negative share of what the spaces allow; 0 for none, and where none
/// helps.
template <class Fill>
double shrinking(const Fill& fill) {
  constexpr int kSteps = 8;
  for (int step = 0; step <= kSteps; ++step) {
    const double share = -static_cast<double>(step) / kSteps;
    if (fill(share).fits()) return share;
  }
  return 0;
}

/// The page as it is printed: filled to its foot as far as the spaces allow. Notes that come down with their items may
/// reach the foot first, so the share is halved until all fits.
PagePlan finish(const std::vector<FlowItem>& flow, const PageShape& shape, std::size_t first, std::size_t last) {
  const auto fill = [&](double share) {
    Filler page(flow, shape, first == 0);
    for (std::size_t i = first; i <= last; ++i) page.add(i, share);
    return page;
  };
  Filler natural = fill(shrinking(fill));
  natural.plan().overfull = !natural.fits();
  const bool justified = last + 1 != flow.size() && flow[last].break_after != BreakAfter::Forced;
  if (!justified || !natural.fits() || natural.stretch() == Length{}) return natural.plan();
  double share = std::clamp(natural.left() / natural.stretch(), 0.0, 1.0);
  for (int tries = 0; tries < 6; ++tries, share /= 2) {
    Filler page = fill(share);
    if (page.fits()) return page.plan();
  }
  return natural.plan();
}

}  // namespace

std::vector<PagePlan> break_pages(const std::vector<FlowItem>& flow, const PageShape& shape) {
  const std::size_t count = flow.size();
  std::vector<Choice> best(count + 1);  // best[i]: the items before i, on whole pages
  best[0].cost = 0;
  for (std::size_t first = 0; first < count; ++first) {
    if (best[first].cost == std::numeric_limits<double>::infinity()) continue;
    Filler page(flow, shape, first == 0), tight = page;
    for (std::size_t last = first; last < count; ++last) {
      page.add(last, 0);
      tight.add(last, -1);
      if (!tight.fits() && last != first) break;
      const double cost = best[first].cost + page_cost(flow, page, first, last);
      if (cost < best[last + 1].cost) best[last + 1] = {cost, first};
      if (flow[last].break_after == BreakAfter::Forced) break;
    }
  }
  std::vector<PagePlan> pages;
  for (std::size_t end = count; end > 0; end = best[end].first) {
    pages.push_back(finish(flow, shape, best[end].first, end - 1));
  }
  std::reverse(pages.begin(), pages.end());
  return pages;
}

}  // namespace tunesheaf::layout

#include "tunesheaf/layout/flow.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <utility>

namespace tunesheaf::layout {
namespace {

using base::Length;

// Costs, in the unit of break_cost (100 is bad). A page that is half empty is nearly as bad as a bad break; a lone last
// item as much as a page that is a third empty; a forbidden break is taken only where nothing else exists.
constexpr double kPage = 20;
constexpr double kEmptyPage = 300;
constexpr double kStretched = 3;
constexpr double kLoneItem = 36;
constexpr double kShrunk = 6;
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

  /// Puts the item below the last one, its space and what gives within it stretched by `share` of what they allow;
  /// shrunk where that is negative.
  void add(std::size_t index, double share) {
    const FlowItem& item = flow_[index];
    Length top = y_;
    if (!plan_.items.empty()) {
      top += item.space_before + (share < 0 ? item.space_before * (kMostShrink * share) : item.stretch * share);
      stretch_ += item.stretch;
    } else if (item.continuation) {
      plan_.continuation = item.continuation;
      top += item.continuation->size.height;
    }
    Length height = item.frame->size.height;
    if (item.elastic) {
      stretch_ += item.elastic->grow();
      height += share < 0 ? item.elastic->shrink() * share : item.elastic->grow() * share;
    }
    top = std::max(top, lowest_for_notes(item, height));
    plan_.items.push_back({index, {body_.x, top}, nullptr});
    y_ = top + height;
    for (std::size_t n = 0; n < item.notes.size(); ++n) {
      const MarginNote& note = item.notes[n];
      const Length moved = item.elastic ? item.elastic->shift(note.row, share) : Length{};
      const Length wanted = top + note.anchor + moved - note.frame->baseline;
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
  /// Share of the stretch that it takes to fill the page, 1 at most.
  double stretched_share() const {
    if (left() <= Length{} || stretch_ == Length{}) return 0;
    return stretch_ <= left() ? 1 : left() / stretch_;
  }
  /// The frames as they stand here.
  PagePlan finished(double share) {
    for (PlacedItem& placed : plan_.items) {
      const FlowItem& item = flow_[placed.item];
      placed.frame = item.elastic ? item.elastic->at(share) : item.frame;
    }
    notes_up();
    return std::move(plan_);
  }

 private:
  /// Notes that would reach below their column, beside items that no page holds with all their notes, begin higher than
  /// what they speak of rather than run into the foot of the page.
  void notes_up() {
    Length foot = shape_.margin_column.bottom();
    for (auto note = plan_.notes.rbegin(); note != plan_.notes.rend(); ++note) {
      const Length height = flow_[note->item].notes[note->note].frame->size.height;
      if (note->at.y + height <= foot) return;
      note->at.y = std::max(foot - height, shape_.margin_column.top());
      foot = note->at.y - shape_.note_gap;
    }
  }

  /// A note begins beside its own item: where the notes before it reach below the item's foot, the item comes down.
  Length lowest_for_notes(const FlowItem& item, Length height) const {
    if (item.notes.empty() || plan_.notes.empty()) return body_.top();
    return notes_end_ + shape_.note_gap + item.notes.front().frame->baseline - height;
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

/// `turn`: the weight of a turn of the leaf after this page; 0 where it stays open.
double page_cost(const std::vector<FlowItem>& flow, const Filler& page, std::size_t first, std::size_t last,
                 double turn) {
  double cost = kPage;
  if (!ends_block(flow, last)) {
    const double empty = page.empty_share(), stretched = page.stretched_share();
    cost += kEmptyPage * empty * empty + kStretched * stretched * stretched + flow[last].break_cost;
    cost += flow[last].turn_cost * turn;
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
  const double shrunk = shrinking(fill);
  Filler natural = fill(shrunk);
  const bool fits = natural.fits();
  if (ends_block(flow, last) || !fits || shrunk < 0 || natural.stretch() == Length{}) {
    PagePlan plan = natural.finished(shrunk);
    plan.overfull = !fits;
    return plan;
  }
  double share = std::clamp(natural.left() / natural.stretch(), 0.0, 1.0);
  for (int tries = 0; tries < 6; ++tries, share /= 2) {
    Filler page = fill(share);
    if (page.fits()) return page.finished(share);
  }
  return natural.finished(0);
}

}  // namespace

std::vector<PagePlan> break_pages(const std::vector<FlowItem>& flow, const PageShape& shape) {
  const std::size_t count = flow.size();
  // best[i][k]: the items before i on whole pages, an even (0) or odd (1) number of them.
  std::vector<std::array<Choice, 2>> best(count + 1);
  best[0][0].cost = 0;
  for (std::size_t first = 0; first < count; ++first) {
    if (std::isinf(best[first][0].cost) && std::isinf(best[first][1].cost)) continue;
    Filler page(flow, shape, first == 0), tight = page;
    for (std::size_t last = first; last < count; ++last) {
      page.add(last, 0);
      tight.add(last, -1);
      if (!tight.fits() && last != first) break;
      for (const std::size_t before : {std::size_t{0}, std::size_t{1}}) {
        // Pages 1, 3, 5 … end in a turn, or 2, 4, 6 … where the first is a left-hand page.
        const double turn = (before == 0) == shape.opens_left ? 0 : shape.turn_weight;
        const double cost = best[first][before].cost + page_cost(flow, page, first, last, turn);
        if (cost < best[last + 1][1 - before].cost) best[last + 1][1 - before] = {cost, first};
      }
      if (flow[last].break_after == BreakAfter::Forced) break;
    }
  }
  std::vector<PagePlan> pages;
  std::size_t number = best[count][0].cost <= best[count][1].cost ? 0 : 1;
  for (std::size_t end = count; end > 0; number = 1 - number) {
    const std::size_t first = best[end][number].first;
    pages.push_back(finish(flow, shape, first, end - 1));
    end = first;
  }
  std::reverse(pages.begin(), pages.end());
  return pages;
}

}  // namespace tunesheaf::layout

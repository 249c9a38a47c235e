#include "tunesheaf/layout/elastic.h"

#include <algorithm>
#include <utility>

namespace tunesheaf::layout {

using base::Length;

namespace {

/// Makes the item `more` higher, its top where it was; words come down by half of it.
void draw_out(Item& item, Length more) {
  if (auto* line = std::get_if<LineShape>(&item.shape)) {
    line->to.y += more;
  } else if (auto* rect = std::get_if<RectShape>(&item.shape)) {
    rect->size.height += more;
  } else if (auto* path = std::get_if<PathShape>(&item.shape)) {
    Length foot;
    for (const PathStep& step : path->steps) foot = std::max({foot, step.a.y, step.b.y, step.c.y});
    if (foot <= Length{}) return;
    const double scale = (foot + more) / foot;
    for (PathStep& step : path->steps) {
      step.a.y = step.a.y * scale;
      step.b.y = step.b.y * scale;
      step.c.y = step.c.y * scale;
    }
  } else {
    item.at.y += more / 2;
  }
}

}  // namespace

Elastic::Elastic(std::shared_ptr<const Frame> natural, std::vector<Rows> rows, std::vector<Length> open,
                 std::vector<Length> close)
    : natural_(std::move(natural)), rows_(std::move(rows)), open_(std::move(open)), close_(std::move(close)) {}

Length Elastic::down(const std::vector<Length>& joints, std::size_t row) {
  Length sum;
  for (std::size_t i = 0; i < std::min(row, joints.size()); ++i) sum += joints[i];
  return sum;
}

Length Elastic::shift(std::size_t row, double share) const {
  return down(share < 0 ? close_ : open_, row) * std::clamp(share, -1.0, 1.0);
}

std::shared_ptr<const Frame> Elastic::at(double share) const {
  if (share == 0 || open_.empty()) return natural_;
  auto frame = std::make_shared<Frame>(*natural_);
  frame->size.height += shift(open_.size(), share);
  for (std::size_t i = 0; i < frame->items.size() && i < rows_.size(); ++i) {
    const Length top = shift(rows_[i].from, share);
    frame->items[i].at.y += top;
    if (rows_[i].to != rows_[i].from) draw_out(frame->items[i], shift(rows_[i].to, share) - top);
  }
  return frame;
}

}  // namespace tunesheaf::layout

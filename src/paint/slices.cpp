#include "slices.h"

#include <algorithm>
#include <optional>

namespace tunesheaf::paint {
namespace {

using base::Length;
using base::Point;
using base::Rect;

/// Half a point: a steep arc or the curl of a flag is followed closely; wider slices would take the white beside it
/// too.
constexpr std::int64_t kSliceWidth = Length::kPerPoint / 2;
constexpr std::int64_t kMostSlices = 800;

/// Upright slices over a box; each grows to the points drawn in it.
class Slices {
 public:
  explicit Slices(const Rect& box) : left_(box.left().units()), right_(box.right().units()) {
    const std::int64_t width = std::max<std::int64_t>(1, box.width.units());
    count_ = std::clamp<std::int64_t>(width / kSliceWidth, 1, kMostSlices);
    step_ = std::max<std::int64_t>(1, (width + count_ - 1) / count_);
    spans_.resize(static_cast<std::size_t>(count_));
  }

  void line(Point a, Point b) {
    if (b.x < a.x) std::swap(a, b);
    const std::int64_t first = index(a.x), last = index(b.x);
    for (std::int64_t i = first; i <= last; ++i) {
      take(i, i == first ? a.y : height_at(a, b, left_ + i * step_));
      take(i, i == last ? b.y : height_at(a, b, left_ + (i + 1) * step_));
    }
  }

  std::vector<Rect> boxes(Length grow) const {
    std::vector<Rect> out;
    for (std::int64_t i = 0; i < count_; ++i) {
      const auto& span = spans_[static_cast<std::size_t>(i)];
      if (!span) continue;
      // Whole steps may reach beyond the box: the last slice ends with what is drawn.
      const std::int64_t from = left_ + i * step_, to = std::max(from, std::min(from + step_, right_));
      out.push_back(
          Rect{Length::raw(from), span->first, Length::raw(to - from), span->second - span->first}.grown(grow));
    }
    return out;
  }

 private:
  std::int64_t index(Length x) const { return std::clamp<std::int64_t>((x.units() - left_) / step_, 0, count_ - 1); }
  static Length height_at(Point a, Point b, std::int64_t x) {
    if (a.x == b.x) return b.y;
    const double share = static_cast<double>(x - a.x.units()) / static_cast<double>((b.x - a.x).units());
    return a.y + (b.y - a.y) * std::clamp(share, 0.0, 1.0);
  }
  void take(std::int64_t i, Length y) {
    auto& span = spans_[static_cast<std::size_t>(i)];
    span = span ? std::pair(std::min(span->first, y), std::max(span->second, y)) : std::pair(y, y);
  }
  std::int64_t left_ = 0, right_ = 0, count_ = 1, step_ = 1;
  std::vector<std::optional<std::pair<Length, Length>>> spans_;
};

Point on_curve(Point p, const layout::PathStep& s, double t) {
  const double u = 1 - t, w0 = u * u * u, w1 = 3 * u * u * t, w2 = 3 * u * t * t, w3 = t * t * t;
  return {p.x * w0 + s.a.x * w1 + s.b.x * w2 + s.c.x * w3, p.y * w0 + s.a.y * w1 + s.b.y * w2 + s.c.y * w3};
}

std::vector<Rect> slices_of_path(const DisplayItem& item, const PathShape& path) {
  const auto bare = text::bounds(path.steps);
  if (!bare) return {};
  Slices slices(bare->moved(item.at));
  Point at, first;
  for (const layout::PathStep& step : path.steps) {
    switch (step.verb) {
      case layout::PathVerb::Move:
        at = first = step.a;
        break;
      case layout::PathVerb::Line:
        slices.line(at + item.at, step.a + item.at);
        at = step.a;
        break;
      case layout::PathVerb::Curve: {
        constexpr int kChords = 24;
        for (int i = 0; i < kChords; ++i) {
          slices.line(on_curve(at, step, static_cast<double>(i) / kChords) + item.at,
                      on_curve(at, step, static_cast<double>(i + 1) / kChords) + item.at);
        }
        at = step.c;
        break;
      }
      case layout::PathVerb::Close:
        slices.line(at + item.at, first + item.at);
        at = first;
        break;
    }
  }
  return slices.boxes(path.stroke ? path.stroke->width / 2 : Length{});
}

}  // namespace

std::vector<Rect> slices_of(const DisplayItem& item) {
  if (const auto* path = std::get_if<PathShape>(&item.shape)) return slices_of_path(item, *path);
  const auto* line = std::get_if<LineShape>(&item.shape);
  if (line == nullptr || line->to.x == Length{} || line->to.y == Length{}) return {item.box};
  const Point end = item.at + line->to;
  Slices slices({std::min(item.at.x, end.x), std::min(item.at.y, end.y), base::abs(line->to.x), base::abs(line->to.y)});
  slices.line(item.at, end);
  return slices.boxes(line->stroke.width / 2);
}

}  // namespace tunesheaf::paint

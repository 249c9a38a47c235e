#include "tunesheaf/text/outline.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace tunesheaf::text {
namespace {

using base::Length;
using base::Point;
using base::Rect;

double at_parameter(double p0, double p1, double p2, double p3, double t) {
  const double u = 1 - t;
  return u * u * u * p0 + 3 * u * u * t * p1 + 3 * u * t * t * p2 + t * t * t * p3;
}

/// Parameters in (0, 1) at which a cubic turns in one coordinate: the roots of its derivative.
std::array<double, 2> turns(double p0, double p1, double p2, double p3) {
  const double a = -p0 + 3 * p1 - 3 * p2 + p3, b = 2 * (p0 - 2 * p1 + p2), c = p1 - p0;
  std::array<double, 2> roots{-1, -1};
  if (std::abs(a) < 1e-9) {
    if (std::abs(b) > 1e-9) roots[0] = -c / b;
    return roots;
  }
  const double inside = b * b - 4 * a * c;
  if (inside < 0) return roots;
  roots = {(-b + std::sqrt(inside)) / (2 * a), (-b - std::sqrt(inside)) / (2 * a)};
  return roots;
}

/// Grows with points; holds whether any came.
struct Extent {
  std::int64_t low = 0, high = 0;
  bool any = false;
  void take(std::int64_t v) {
    low = any ? std::min(low, v) : v;
    high = any ? std::max(high, v) : v;
    any = true;
  }
  void curve(Length l0, Length l1, Length l2, Length l3) {
    const auto p = [](Length l) { return static_cast<double>(l.units()); };
    for (const double t : turns(p(l0), p(l1), p(l2), p(l3))) {
      if (t > 0 && t < 1) take(std::llround(at_parameter(p(l0), p(l1), p(l2), p(l3), t)));
    }
    take(l3.units());
  }
};

Point scaled(double x, double y, Length unit) {
  return {unit * x, unit * y};
}

/// Writes paths in plain numbers times a unit.
class Pen {
 public:
  explicit Pen(Length unit) : unit_(unit) {}
  Pen& move(double x, double y) { return add(PathVerb::Move, scaled(x, y, unit_)); }
  Pen& line(double x, double y) { return add(PathVerb::Line, scaled(x, y, unit_)); }
  Pen& curve(double ax, double ay, double bx, double by, double cx, double cy) {
    steps_.push_back({PathVerb::Curve, scaled(ax, ay, unit_), scaled(bx, by, unit_), scaled(cx, cy, unit_)});
    return *this;
  }
  Pen& close() { return add(PathVerb::Close, {}); }
  std::vector<PathStep> take() { return std::move(steps_); }

 private:
  Pen& add(PathVerb verb, Point a) {
    steps_.push_back({verb, a, {}, {}});
    return *this;
  }
  Length unit_;
  std::vector<PathStep> steps_;
};

std::vector<PathStep> transposed(std::vector<PathStep> path) {
  const auto swap = [](Point& p) { std::swap(p.x, p.y); };
  for (PathStep& step : path) {
    swap(step.a);
    swap(step.b);
    swap(step.c);
  }
  return path;
}

}  // namespace

std::optional<Rect> bounds(const std::vector<PathStep>& path) {
  Extent x, y;
  Point at;
  for (const PathStep& step : path) {
    if (step.verb == PathVerb::Close) continue;
    if (step.verb == PathVerb::Curve) {
      x.curve(at.x, step.a.x, step.b.x, step.c.x);
      y.curve(at.y, step.a.y, step.b.y, step.c.y);
      at = step.c;
      continue;
    }
    x.take(step.a.x.units());
    y.take(step.a.y.units());
    at = step.a;
  }
  if (!x.any) return std::nullopt;
  return Rect{Length::raw(x.low), Length::raw(y.low), Length::raw(x.high - x.low), Length::raw(y.high - y.low)};
}

std::vector<PathStep> moved(std::vector<PathStep> path, Point by) {
  for (PathStep& step : path) {
    if (step.verb == PathVerb::Close) continue;
    step.a = step.a + by;
    if (step.verb != PathVerb::Curve) continue;
    step.b = step.b + by;
    step.c = step.c + by;
  }
  return path;
}

// A cubic whose controls stand `h` off its chord is 3/4 h high in the middle; the controls stand nearer to the ends on
// long slurs, which keeps the shoulders round and the middle level.
std::vector<PathStep> slur(Point from, Point to, Length rise, Length ends, Length middle) {
  const double dx = static_cast<double>((to.x - from.x).units()), dy = static_cast<double>((to.y - from.y).units());
  const double length = std::max(1.0, std::hypot(dx, dy));
  const double nx = -dy / length, ny = dx / length;  // unit normal; positive rise follows it
  const double shoulder = std::clamp(0.32 - 0.06 * std::abs(static_cast<double>(rise.units())) / length, 0.2, 0.32);
  const auto place = [&](double along, double off) {
    return Point{from.x + Length::raw(std::llround(dx * along + nx * off)),
                 from.y + Length::raw(std::llround(dy * along + ny * off))};
  };
  const double sign = rise.units() < 0 ? -1 : 1;
  const double high = static_cast<double>(rise.units()) * 4 / 3;
  const double half_end = sign * static_cast<double>(ends.units()) / 2;
  const double half_middle = sign * (static_cast<double>((middle - ends).units()) * 2 / 3 + std::abs(half_end));
  return {{PathVerb::Move, place(0, half_end), {}, {}},
          {PathVerb::Curve, place(shoulder, high + half_middle), place(1 - shoulder, high + half_middle),
           place(1, half_end)},
          {PathVerb::Line, place(1, -half_end), {}, {}},
          {PathVerb::Curve, place(1 - shoulder, high - half_middle), place(shoulder, high - half_middle),
           place(0, -half_end)},
          {PathVerb::Close, {}, {}, {}}};
}

// Drawn in a box 1 wide and 1 high, then stretched: two S curves meeting in the tip, thickest in the middle of each.
std::vector<PathStep> brace(Length height, Length width) {
  Pen pen{Length::raw(4096)};
  pen.move(0, 0)
      .curve(-0.62, 0.10, -0.66, 0.19, -0.44, 0.31)
      .curve(-0.30, 0.39, -0.36, 0.455, -1, 0.5)
      .curve(-0.36, 0.545, -0.30, 0.61, -0.44, 0.69)
      .curve(-0.66, 0.81, -0.62, 0.90, 0, 1)
      .curve(-0.36, 0.91, -0.28, 0.80, -0.14, 0.70)
      .curve(0.02, 0.58, -0.12, 0.53, -0.72, 0.5)
      .curve(-0.12, 0.47, 0.02, 0.42, -0.14, 0.30)
      .curve(-0.28, 0.20, -0.36, 0.09, 0, 0)
      .close();
  std::vector<PathStep> path = pen.take();
  const double kx = static_cast<double>(width.units()) / 4096, ky = static_cast<double>(height.units()) / 4096;
  for (PathStep& step : path) {
    for (Point* p : {&step.a, &step.b, &step.c}) *p = {p->x * kx, p->y * ky};
  }
  return path;
}

std::vector<PathStep> bracket(Length height, Length thickness) {
  const double h = height / thickness;
  Pen pen(thickness);
  pen.move(-1, -0.4)
      .curve(0.2, -0.5, 1.1, -0.9, 1.7, -2.0)
      .curve(1.45, -0.9, 0.9, -0.2, 0, 0.1)
      .line(0, h - 0.1)
      .curve(0.9, h + 0.2, 1.45, h + 0.9, 1.7, h + 2.0)
      .curve(1.1, h + 0.9, 0.2, h + 0.5, -1, h + 0.4)
      .close();
  return pen.take();
}

// The edge of a broad nib drawn along a wave: two copies of the line, a slanted nib's width apart, so that falling
// strokes are fat and rising ones thin, as in engraved vibrato and trill lines.
std::vector<PathStep> wave(Length length, Length wave_length, Length height) {
  if (wave_length <= Length{} || height <= Length{} || length < wave_length) return {};
  const auto halves = 2 * (length.units() / wave_length.units());
  const double half = wave_length / height / 2, nib_x = 0.05, nib_y = 0.17;
  const double crest = (0.5 - nib_y) * 4 / 3;  // a cubic whose controls are level reaches 3/4 of their height
  Pen pen(height);
  pen.move(nib_x, -nib_y);
  for (std::int64_t i = 0; i < halves; ++i) {
    const double x = static_cast<double>(i) * half + nib_x, y = (i % 2 == 0 ? -crest : crest) - nib_y;
    pen.curve(x + 0.4 * half, y, x + 0.6 * half, y, x + half, -nib_y);
  }
  pen.line(static_cast<double>(halves) * half - nib_x, nib_y);
  for (std::int64_t i = halves; i-- > 0;) {
    const double x = static_cast<double>(i) * half - nib_x, y = (i % 2 == 0 ? -crest : crest) + nib_y;
    pen.curve(x + 0.6 * half, y, x + 0.4 * half, y, x, nib_y);
  }
  pen.close();
  return moved(pen.take(), {height * nib_x, {}});
}

std::vector<PathStep> wave_down(Length length, Length wave_length, Length height) {
  return transposed(wave(length, wave_length, height));
}

std::vector<PathStep> arrow_head(Point direction, Length length, Length width) {
  const double dx = static_cast<double>(direction.x.units()), dy = static_cast<double>(direction.y.units());
  const double size = std::max(1.0, std::hypot(dx, dy));
  const double ux = dx / size, uy = dy / size;
  const auto place = [&](double back, double side) {
    const double along = -static_cast<double>(length.units()) * back,
                 off = static_cast<double>(width.units()) / 2 * side;
    return Point{Length::raw(std::llround(ux * along - uy * off)), Length::raw(std::llround(uy * along + ux * off))};
  };
  return {{PathVerb::Move, {}, {}, {}},
          {PathVerb::Line, place(1, 1), {}, {}},
          {PathVerb::Curve, place(0.86, 0.4), place(0.86, -0.4), place(1, -1)},
          {PathVerb::Close, {}, {}, {}}};
}

}  // namespace tunesheaf::text

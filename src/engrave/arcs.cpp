#include "arcs.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

namespace tunesheaf::engrave {

namespace {

double sp(Length length, const StaffContext& staff) {
  return length / staff.system.sp;
}

/// One of the ways in which an arc may give: its ends moved outwards, its middle beyond that.
struct Way {
  double from, to, rise, cost;
};

/// Moves of the ends weigh most, and more where they differ, so that an arc is rather rounder than aslant.
const std::vector<Way>& ways() {
  static const std::vector<Way> all = [] {
    constexpr std::array kLifts{0.0, 0.35, 0.7, 1.1, 1.6, 2.2, 3.0, 4.0};
    constexpr std::array kRises{0.0, 0.25, 0.5, 0.8, 1.2, 1.7, 2.3, 3.0, 4.0};
    std::vector<Way> made;
    for (const double a : kLifts)
      for (const double b : kLifts)
        for (const double r : kRises) made.push_back({a, b, r, a + b + 0.5 * std::abs(a - b) + 0.9 * r + 0.1 * r * r});
    std::stable_sort(made.begin(), made.end(), [](const Way& x, const Way& y) { return x.cost < y.cost; });
    return made;
  }();
  return all;
}

}  // namespace

ArcField::ArcField(const StaffContext& staff, Length x0, Length x1) : staff_(staff) {
  const Length beside = staff.space(0.2);
  for (const Obstacle& o : staff.obstacles) {
    if (o.box.right() <= x0 - beside || o.box.left() >= x1 + beside) continue;
    // A stem under an arc is crossed sooner than a head.
    const double weight = o.kind == layout::Kind("stem") ? 0.5 : 1;
    boxes_.push_back({sp(o.box.left(), staff), sp(o.box.top(), staff), sp(o.box.right(), staff),
                      sp(o.box.bottom(), staff), weight, o.kind});
  }
}

void ArcField::allow(layout::Kind kind) {
  std::erase_if(boxes_, [&](const Box& box) { return box.kind == kind; });
}

/// The band of text::slur: its middle line and half its thickness, followed from end to end.
double ArcField::hurt(const Arc& arc, double gap, double enough) const {
  const style::EngravingStyle& e = staff_.system.style.engraving;
  const double x0 = sp(arc.from.x, staff_), y0 = sp(arc.from.y, staff_);
  const double dx = sp(arc.to.x, staff_) - x0, dy = sp(arc.to.y, staff_) - y0;
  const double length = std::max(0.1, std::hypot(dx, dy)), high = arc.rise * 4 / 3;
  const double shoulder = std::clamp(0.32 - 0.06 * std::abs(arc.rise) / length, 0.2, 0.32);
  const double end = e.slur_ends / 2, middle = (e.slur_middle - e.slur_ends) * 2 / 3 + end;
  struct At {
    double x, y, half;
  };
  const int steps = std::clamp(static_cast<int>(length * 3), 10, 40);
  std::vector<At> line;
  line.reserve(static_cast<std::size_t>(steps) + 1);
  for (int i = 0; i <= steps; ++i) {
    const double t = static_cast<double>(i) / steps, u = 1 - t;
    const double along = 3 * u * u * t * shoulder + 3 * u * t * t * (1 - shoulder) + t * t * t;
    const double off = 3 * u * t * high, half = end * (u * u * u + t * t * t) + middle * 3 * u * t;
    line.push_back({x0 + dx * along - dy / length * off, y0 + dy * along + dx / length * off, half});
  }
  // One that curls back over its own end is no arc.
  double beyond = 0;
  for (const At& at : line) beyond = std::max({beyond, x0 - at.x, at.x - (x0 + dx)});
  double hurt = beyond > 0.15 ? 0.5 + beyond : 0;
  struct Piece {
    const At *a, *b;
    double half, aside, left, right;  // a steep band is as thick to its sides
  };
  std::vector<Piece> pieces;
  pieces.reserve(line.size());
  double first = x0, last = x0;
  for (std::size_t i = 1; i < line.size(); ++i) {
    const At &a = line[i - 1], &b = line[i];
    const double half = std::max(a.half, b.half), way = std::hypot(b.x - a.x, b.y - a.y);
    const double aside = way > 0 ? half * std::abs(b.y - a.y) / way : 0;
    pieces.push_back({&a, &b, half, aside, std::min(a.x, b.x), std::max(a.x, b.x)});
    first = std::min(first, pieces.back().left - aside);
    last = std::max(last, pieces.back().right + aside);
  }
  for (const Box& box : boxes_) {
    const double left = box.left - gap, right = box.right + gap, top = box.top - gap, bottom = box.bottom + gap;
    if (last <= left || first >= right) continue;
    double deepest = 0;
    for (const Piece& piece : pieces) {
      if (piece.right + piece.aside <= left || piece.left - piece.aside >= right) continue;
      const At &a = *piece.a, &b = *piece.b;
      const auto y_at = [&](double x) { return b.x == a.x ? a.y : a.y + (b.y - a.y) * (x - a.x) / (b.x - a.x); };
      const double ya = y_at(std::clamp(left - piece.aside, piece.left, piece.right));
      const double yb = y_at(std::clamp(right + piece.aside, piece.left, piece.right));
      deepest =
          std::max(deepest, std::min(std::max(ya, yb) + piece.half - top, bottom - std::min(ya, yb) + piece.half));
    }
    if (deepest > 0) hurt += box.weight * (0.3 + std::min(deepest, 1.0));
    if (hurt >= enough) return hurt;
  }
  return hurt;
}

Arc ArcField::fit(const Arc& wish, ArcGive give, double gap) const {
  const double way = wish.rise < 0 ? -1 : 1;
  std::optional<Arc> best;
  double worth = 0;
  for (const Way& w : ways()) {
    if (w.from > give.lift || w.to > give.lift || (w.rise > 0 && std::abs(wish.rise) + w.rise > give.rise)) continue;
    Arc arc = wish;
    arc.from.y += staff_.space(w.from * way);
    arc.to.y += staff_.space(w.to * way);
    arc.rise += w.rise * way;
    // Ways stand by what they cost: none that costs as much as the best does is worth a look.
    const double cost = 0.02 * w.cost;
    if (best && cost >= worth) break;
    arc.hurt = hurt(arc, gap, best ? worth - cost + 1e-6 : 1e9);
    const double price = arc.hurt + cost;
    if (!best || price < worth) {
      best = arc;
      worth = price;
    }
    if (arc.hurt == 0) break;
  }
  return *best;
}

namespace {

Point between(Point a, Point b, double t) {
  return {a.x + (b.x - a.x) * t, a.y + (b.y - a.y) * t};
}

/// The stretch of a curve from t0 to t1 (de Casteljau).
Curve part_of(const Curve& c, double t0, double t1) {
  const auto head = [](const Curve& k, double t) {
    const Point ab = between(k.from, k.a, t), bc = between(k.a, k.b, t), cd = between(k.b, k.to, t);
    const Point l = between(ab, bc, t), r = between(bc, cd, t);
    return std::pair(Curve{k.from, ab, l, between(l, r, t)}, Curve{between(l, r, t), r, cd, k.to});
  };
  return head(head(c, t1).first, t1 > 0 ? t0 / t1 : 0).second;
}

Point point_of(const Curve& c, double t) {
  const Point ab = between(c.from, c.a, t), bc = between(c.a, c.b, t), cd = between(c.b, c.to, t);
  return between(between(ab, bc, t), between(bc, cd, t), t);
}

}  // namespace

void draw_behind(StaffContext& staff, StaffContext::Tag tag, const Curve& curve, double thickness, double gap,
                 const std::vector<layout::Kind>& through) {
  const auto [left, right] = std::minmax({curve.from.x, curve.a.x, curve.b.x, curve.to.x});
  const auto [top, bottom] = std::minmax({curve.from.y, curve.a.y, curve.b.y, curve.to.y});
  const Length near = staff.space(gap + thickness / 2);
  std::vector<Rect> boxes;
  for (const Obstacle& o : staff.obstacles) {
    const Rect box = o.box.grown(near);
    if (box.right() <= left || box.left() >= right || box.bottom() <= top || box.top() >= bottom) continue;
    if (std::find(through.begin(), through.end(), o.kind) == through.end()) boxes.push_back(box);
  }
  const auto stroke = [&](const Curve& c) {
    staff.stroke_sliced(tag, {{layout::PathVerb::Move, c.from, {}, {}}, {layout::PathVerb::Curve, c.a, c.b, c.to}},
                        thickness, layout::Cap::Butt);
  };
  if (boxes.empty()) return stroke(curve);
  constexpr int kSteps = 64;
  const auto free = [&](int i) {
    const Point p = point_of(curve, static_cast<double>(i) / kSteps);
    return std::none_of(boxes.begin(), boxes.end(), [&](const Rect& box) {
      return p.x > box.left() && p.x < box.right() && p.y > box.top() && p.y < box.bottom();
    });
  };
  for (int i = 0; i < kSteps;) {
    int j = i;
    while (j <= kSteps && free(j)) ++j;
    const int last = j - 1;
    if (last > i) {
      const Curve piece = part_of(curve, static_cast<double>(i) / kSteps, static_cast<double>(last) / kSteps);
      const double long_as = std::hypot(sp(piece.to.x - piece.from.x, staff), sp(piece.to.y - piece.from.y, staff));
      constexpr double kShortest = 0.3;  // sp
      if (long_as >= kShortest) stroke(piece);
    }
    i = std::max(j, i + 1);
  }
}

std::optional<SignsWithin> signs_within(const StaffContext& staff, Length x0, Length x1, Length y) {
  std::optional<SignsWithin> found;
  const Length reach = staff.space(0.5), white = staff.space(0.3);
  for (const Obstacle& o : staff.obstacles) {
    if (o.box.right() <= x0 || o.box.left() >= x1) continue;
    if (o.kind != layout::Kind("meter") && o.kind != layout::Kind("key-signature") &&
        o.kind != layout::Kind("clef-change")) {
      continue;
    }
    if (!found && (o.box.bottom() < y - reach || o.box.top() > y + reach)) continue;
    if (!found) found = SignsWithin{o.box.left() - white, o.box.right() + white};
    found->left = std::min(found->left, o.box.left() - white);
    found->right = std::max(found->right, o.box.right() + white);
  }
  return found;
}

namespace {

/// The two edges of an arc's band, from its beginning to its end.
struct Band {
  Curve outer, inner;
};

Band band_of(const std::vector<layout::PathStep>& steps) {
  const layout::PathStep &out = steps[1], &back = steps[3];
  return {{steps[0].a, out.a, out.b, out.c}, {back.c, back.b, back.a, steps[2].a}};
}

Rect box_between(const Band& band, double t0, double t1) {
  const std::array<Point, 4> corners{point_of(band.outer, t0), point_of(band.outer, t1), point_of(band.inner, t0),
                                     point_of(band.inner, t1)};
  Length left = corners[0].x, right = left, top = corners[0].y, bottom = top;
  for (const Point& p : corners) {
    left = std::min(left, p.x);
    right = std::max(right, p.x);
    top = std::min(top, p.y);
    bottom = std::max(bottom, p.y);
  }
  return {left, top, right - left, bottom - top};
}

/// Shares of the way on which an arc lies free: short of what it would run through, with a little white.
std::vector<std::pair<double, double>> free_stretches(const StaffContext& staff, const Band& band,
                                                      const std::vector<layout::Kind>& through) {
  constexpr int kSteps = 48;
  const Length touch = staff.space(0.02), white = staff.space(0.14);
  std::array<Rect, kSteps> slices;
  for (std::size_t i = 0; i < kSteps; ++i)
    slices[i] = box_between(band, static_cast<double>(i) / kSteps, static_cast<double>(i + 1) / kSteps);
  std::array<bool, kSteps> hidden{};
  for (const Obstacle& o : staff.obstacles) {
    if (std::find(through.begin(), through.end(), o.kind) != through.end()) continue;
    const auto meets = [&](const Rect& slice, Length near) { return slice.grown(near).overlaps(o.box); };
    if (std::none_of(slices.begin(), slices.end(), [&](const Rect& s) { return meets(s, touch); })) continue;
    for (std::size_t i = 0; i < kSteps; ++i) hidden[i] = hidden[i] || meets(slices[i], white);
  }
  std::vector<std::pair<double, double>> free;
  for (std::size_t i = 0; i < kSteps;) {
    std::size_t j = i;
    while (j < kSteps && !hidden[j]) ++j;
    if (j > i) free.emplace_back(static_cast<double>(i) / kSteps, static_cast<double>(j) / kSteps);
    i = j + 1;
  }
  return free;
}

}  // namespace

void draw_arc(StaffContext& staff, StaffContext::Tag tag, const Arc& arc, const std::vector<layout::Kind>& through) {
  const style::EngravingStyle& e = staff.system.style.engraving;
  std::vector<layout::PathStep> whole =
      text::slur(arc.from, arc.to, staff.space(arc.rise), staff.space(e.slur_ends), staff.space(e.slur_middle));
  std::vector<Band> pieces;
  if (arc.hurt > 0) {
    const Band band = band_of(whole);
    for (const auto& [from, to] : free_stretches(staff, band, through)) {
      const Band piece{part_of(band.outer, from, to), part_of(band.inner, from, to)};
      constexpr double kShortest = 0.3;  // sp
      const Point way = piece.outer.to - piece.outer.from;
      if (std::hypot(sp(way.x, staff), sp(way.y, staff)) >= kShortest) pieces.push_back(piece);
    }
  }
  if (pieces.empty()) return staff.fill_sliced(tag, std::move(whole));
  for (const Band& piece : pieces)
    staff.fill_sliced(tag, {{layout::PathVerb::Move, piece.outer.from, {}, {}},
                            {layout::PathVerb::Curve, piece.outer.a, piece.outer.b, piece.outer.to},
                            {layout::PathVerb::Line, piece.inner.to, {}, {}},
                            {layout::PathVerb::Curve, piece.inner.b, piece.inner.a, piece.inner.from},
                            {layout::PathVerb::Close, {}, {}, {}}});
}

}  // namespace tunesheaf::engrave

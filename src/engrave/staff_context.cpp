#include "staff_context.h"

#include <algorithm>
#include <utility>

#include "tunesheaf/engrave/common_signs.h"

namespace tunesheaf::engrave {

using layout::GlyphsShape;
using layout::Item;
using layout::Layer;
using layout::LineShape;
using layout::PathShape;
using layout::RectShape;

const PartWords& SystemContext::said_by(int part) const {
  static const PartWords kNothing;
  const auto found = said.by_part.find(part);
  return found == said.by_part.end() ? kNothing : found->second;
}

Length SystemContext::x_of(score::Place place) const {
  if (place.bar < first_bar) return content_left;
  if (place.bar >= last_bar) return right;
  const auto after = columns.lower_bound(place);
  if (after != columns.end() && after->first == place) return after->second;
  const auto index = static_cast<std::size_t>(place.bar - first_bar);
  const Fraction length = section.bars[static_cast<std::size_t>(place.bar)].length;
  Fraction t0, t1 = length;
  Length x0 = bar_left[index], x1 = bar_right[index];
  if (after != columns.end() && after->first.bar == place.bar) {
    t1 = after->first.onset;
    x1 = after->second;
  }
  if (after != columns.begin() && std::prev(after)->first.bar == place.bar) {
    t0 = std::prev(after)->first.onset;
    x0 = std::prev(after)->second;
  }
  if (t1 <= t0) return x1;
  const double share = ((place.onset - t0) / (t1 - t0)).to_double();
  return x0 + (x1 - x0) * std::clamp(share, 0.0, 1.0);
}

StaffContext::StaffContext(const SystemContext& system_context, const StaffPlan& staff_plan)
    : system(system_context),
      plan(staff_plan),
      above(system_context.space(system_context.style.engraving.staff_line / 2)),
      below(system_context.space(staff_plan.height() + system_context.style.engraving.staff_line / 2)) {}

Length SystemContext::leaves_at() const {
  const bool repeats = bar_line_at(request.signs, section, last_bar - 1) == score::BarLine::RepeatEnd;
  return repeats ? bar_right.back() - space(0.15) : right;
}

Length SystemContext::grace_end(score::Place place, int part) const {
  const auto found = grace_ends.find({place, part});
  return found == grace_ends.end() ? x_of(place) - space(1) : found->second;
}

const score::PartMusic* StaffContext::music() const {
  return plan.part < 0 ? nullptr : &system.section.parts[static_cast<std::size_t>(plan.part)];
}

const score::Part* StaffContext::part() const {
  return plan.part < 0 ? nullptr : &system.timeline.parts[static_cast<std::size_t>(plan.part)];
}

const DrawnNote* StaffContext::find(int event, int note) const {
  for (const DrawnNote& n : notes) {
    if (n.subject.event == event && n.subject.note == note && !n.grace) return &n;
  }
  return nullptr;
}

const DrawnNote* StaffContext::find_last(int event, int note) const {
  const DrawnNote* last = nullptr;
  for (const DrawnNote& n : notes) {
    if (n.subject.event != event || n.subject.note != note || n.grace) continue;
    if (last == nullptr || n.at > last->at) last = &n;
  }
  return last;
}

std::vector<const DrawnNote*> StaffContext::of_event(int event) const {
  std::vector<const DrawnNote*> found;
  for (const DrawnNote& n : notes) {
    if (n.subject.event == event && n.attack && !n.grace) found.push_back(&n);
  }
  return found;
}

std::optional<SpanOnSystem> StaffContext::clip(score::Place from, score::Place to) const {
  const score::Place begin{system.first_bar, Fraction()}, end{system.last_bar, Fraction()};
  if (to <= begin || from >= end || to <= from) return std::nullopt;
  SpanOnSystem span;
  span.begins = from >= begin;
  span.ends = to <= end;
  // What goes on keeps off the line that joins the staves, where nothing stands before the music.
  span.from = span.begins ? system.x_of(from) - space(0.7) : std::max(system.content_left, system.left + space(0.5));
  if (!span.ends) {
    span.to = system.right;
  } else if (to.onset == Fraction()) {
    span.to = system.bar_right[static_cast<std::size_t>(to.bar - 1 - system.first_bar)] - space(0.5);
  } else {
    const auto left = system.grace_columns.find(to);
    span.to = (left == system.grace_columns.end() ? system.x_of(to) : left->second) - space(0.7);
  }
  span.to = std::max(span.to, span.from + space(1));
  return span;
}

Length StaffContext::reserve_above(Length x0, Length x1, Length height, double gap) {
  return -above.reserve(x0, x1, height, space(gap));
}

Length StaffContext::reserve_below(Length x0, Length x1, Length height, double gap) {
  return below.reserve(x0, x1, height, space(gap));
}

namespace {
constexpr int kMoves = 8;  ///< of one end, at most; more would carry it away from its note

bool stands_in_the_way(const Obstacle& o) {
  return o.kind != layout::Kind("stem") && o.kind != layout::Kind("knock-out");
}
}  // namespace

Length StaffContext::begin_after(Length x, Length y) const {
  const Length near = space(0.1), reach = space(0.12);
  for (int i = 0; i < kMoves; ++i) {
    const Length before = x;
    for (const Obstacle& o : obstacles) {
      if (o.box.top() >= y + reach || o.box.bottom() <= y - reach || !stands_in_the_way(o)) continue;
      if (o.box.left() < x + near && o.box.right() > x - near) x = std::max(x, o.box.right() + space(0.12));
    }
    if (x == before) break;
  }
  return x;
}

Length StaffContext::end_before(Length x, Length y) const {
  const Length near = space(0.1), reach = space(0.12);
  for (int i = 0; i < kMoves; ++i) {
    const Length before = x;
    for (const Obstacle& o : obstacles) {
      if (o.box.top() >= y + reach || o.box.bottom() <= y - reach || !stands_in_the_way(o)) continue;
      if (o.box.left() < x + near && o.box.right() > x - near) x = std::min(x, o.box.left() - space(0.12));
    }
    if (x == before) break;
  }
  return x;
}

Length StaffContext::right_of_onset(score::Place at, Length y, Length x) const {
  if (plan.kind == StaffKind::Tab) return x;
  const Length reach = space(1.2), near = space(1.6);
  for (const DrawnNote& n : notes) {
    if (n.grace || n.at != at || n.box.top() > y + reach || n.box.bottom() < y - reach) continue;
    if (n.box.left() < x + near) x = std::max(x, n.box.right());
  }
  return x;
}

Length StaffContext::past_dots(Length x, Length y) const {
  const Length near = space(0.7), reach = space(1);
  for (const Obstacle& o : obstacles) {
    if (o.kind != layout::Kind("dot") || o.box.left() < x - near || o.box.left() > x + near) continue;
    if (base::abs(o.box.y + o.box.height / 2 - y) <= reach) x = std::max(x, o.box.right() + space(0.12));
  }
  return x;
}

Length StaffContext::clear_right(Rect box, Length gap) const {
  for (int i = 0; i < kMoves; ++i) {
    const Length before = box.x;
    for (const Obstacle& o : obstacles)
      if (o.box.overlaps(box.grown(gap))) box.x = std::max(box.x, o.box.right() + gap);
    if (box.x == before) break;
  }
  return box.x;
}

void StaffContext::put(Item item) {
  const Rect box = layout::box_of(item);
  above.add(box.left(), box.right(), -box.top());
  below.add(box.left(), box.right(), box.bottom());
  if (item.layer != Layer::Line) obstacles.push_back({box, item.kind, item.subject});
  items.push_back(std::move(item));
}

void StaffContext::line(Tag tag, Point from, Point to, double thickness, layout::Cap cap, std::vector<double> dash,
                        Layer layer) {
  layout::Stroke stroke{std::max(space(thickness), kThinnest), system.style.ink, cap, {}};
  for (const double d : dash) stroke.dash.push_back(space(d));
  put({from, tag.kind, layer, tag.origin, tag.subject, LineShape{to - from, stroke}});
}

void StaffContext::fill(Tag tag, std::vector<layout::PathStep> steps, Point at, Layer layer) {
  put({at, tag.kind, layer, tag.origin, tag.subject, PathShape{std::move(steps), system.style.ink, std::nullopt}});
}

namespace {
Point on_curve(Point p, Point a, Point b, Point c, double t) {
  const double u = 1 - t;
  const auto mix = [&](Length p0, Length p1, Length p2, Length p3) {
    return p0 * (u * u * u) + p1 * (3 * u * u * t) + p2 * (3 * u * t * t) + p3 * (t * t * t);
  };
  return {mix(p.x, a.x, b.x, c.x), mix(p.y, a.y, b.y, c.y)};
}
Point on_way(Point from, Point to, double share) {
  return {from.x + (to.x - from.x) * share, from.y + (to.y - from.y) * share};
}
}  // namespace

void StaffContext::grow(Tag tag, Point from, Point to, Length half) {
  const Length top = std::min(from.y, to.y) - half, bottom = std::max(from.y, to.y) + half;
  const Length left = std::min(from.x, to.x) - half, right = std::max(from.x, to.x) + half;
  above.add(left, right, -top);
  below.add(left, right, bottom);
  obstacles.push_back({{left, top, right - left, bottom - top}, tag.kind, tag.subject});
}

void StaffContext::slant(Tag tag, Point from, Point to, double thickness) {
  constexpr int kSlices = 8;
  const Point way = to - from;
  const auto at = [&](int i) { return on_way(from, to, static_cast<double>(i) / kSlices); };
  for (int i = 0; i < kSlices; ++i) grow(tag, at(i), at(i + 1), space(thickness / 2));
  items.push_back({from, tag.kind, Layer::Ink, tag.origin, tag.subject,
                   LineShape{way, {space(thickness), system.style.ink, layout::Cap::Round, {}}}});
}

void StaffContext::grow_along(Tag tag, const std::vector<layout::PathStep>& steps, Point at, Length half) {
  Point pen, first;
  constexpr int kSlices = 8;
  const auto edge = [&](Point from, Point to) {
    const int count = from.x == to.x || from.y == to.y ? 1 : kSlices;
    for (int i = 0; i < count; ++i) {
      const auto at_share = [&](int n) { return on_way(from, to, static_cast<double>(n) / count); };
      grow(tag, at_share(i), at_share(i + 1), half);
    }
  };
  for (const layout::PathStep& step : steps) {
    if (step.verb == layout::PathVerb::Move) pen = first = step.a + at;
    if (step.verb == layout::PathVerb::Close && !(pen == first)) {
      edge(pen, first);
      pen = first;
    }
    if (step.verb == layout::PathVerb::Line) {
      edge(pen, step.a + at);
      pen = step.a + at;
    }
    if (step.verb == layout::PathVerb::Curve) {
      const Point from = pen;
      for (int i = 1; i <= kSlices; ++i) {
        const Point next = on_curve(from, step.a + at, step.b + at, step.c + at, static_cast<double>(i) / kSlices);
        grow(tag, pen, next, half);
        pen = next;
      }
    }
  }
}

void StaffContext::fill_sliced(Tag tag, std::vector<layout::PathStep> steps, Point at) {
  grow_along(tag, steps, at, Length{});
  items.push_back(
      {at, tag.kind, Layer::Ink, tag.origin, tag.subject, PathShape{std::move(steps), system.style.ink, std::nullopt}});
}

void StaffContext::stroke_sliced(Tag tag, std::vector<layout::PathStep> steps, double thickness, layout::Cap cap) {
  const Length width = std::max(space(thickness), kThinnest);
  grow_along(tag, steps, {}, width / 2);
  items.push_back({{},
                   tag.kind,
                   Layer::Ink,
                   tag.origin,
                   tag.subject,
                   PathShape{std::move(steps), std::nullopt, layout::Stroke{width, system.style.ink, cap, {}}}});
}

void StaffContext::stroke(Tag tag, std::vector<layout::PathStep> steps, Point at, double thickness, layout::Cap cap) {
  put({at, tag.kind, Layer::Ink, tag.origin, tag.subject,
       PathShape{std::move(steps), std::nullopt,
                 layout::Stroke{std::max(space(thickness), kThinnest), system.style.ink, cap, {}}}});
}

const text::Sign& StaffContext::measure(MusicSign sign, double size) const {
  return system.music.sign(sign, system.sp * size);
}

Rect StaffContext::sign(Tag tag, MusicSign sign, Point at, double size) {
  const text::Sign& drawn = measure(sign, size);
  if (drawn.run) {
    put({at, tag.kind, Layer::Ink, tag.origin, tag.subject, GlyphsShape{*drawn.run, system.style.ink}});
  } else if (sign >= MusicSign::Flag8Up && sign <= MusicSign::Flag64Down) {
    fill_sliced(tag, drawn.path, at);  // much of a flag's box is white
  } else {
    fill(tag, drawn.path, at);
  }
  return drawn.box.moved(at);
}

text::TextStyle text_style(const style::TypeRole& role, double size) {
  text::TextStyle style;
  style.face.family = role.family;
  style.face.weight = static_cast<text::Weight>(role.weight);
  style.face.slant = role.italic ? text::Slant::Italic : text::Slant::Upright;
  style.size = std::max(role.size * size, kLeastType);
  style.tracking = static_cast<std::int16_t>(role.tracking);
  return style;
}

text::Line StaffContext::shape(const std::string& words, const style::TypeRole& role, double size) const {
  return system.shaper.line(words, text_style(role, size));
}

void StaffContext::words(Tag tag, const text::Line& line, Point at, base::Colour colour, Layer layer) {
  for (const text::PlacedRun& run : line.runs) {
    put({{at.x + run.x, at.y}, tag.kind, layer, tag.origin, tag.subject, GlyphsShape{run.run, colour}});
  }
}

void StaffContext::knock_out(Rect box) {
  items.push_back({{box.x, box.y},
                   "knock-out",
                   Layer::Knockout,
                   {},
                   {},
                   RectShape{{box.width, box.height}, system.style.ground, std::nullopt, Length{}}});
}

Rect StaffContext::words_in_row(Tag tag, Side side, Length x, Anchor anchor, const text::Line& line,
                                base::Colour colour, double gap) {
  const Length left = anchor == Anchor::Left ? x : anchor == Anchor::Right ? x - line.width : x - line.width / 2;
  // Rows of one kind share a baseline as long as nothing is in the way: ascent and descent count, not the ink.
  const Length ascent = line.ascent * 0.8, descent = line.descent * 0.8;
  const Length x0 = left - space(0.3), x1 = left + line.width + space(0.3);
  Length baseline;
  if (side == Side::Above) {
    baseline = reserve_above(x0, x1, ascent + descent, gap) - descent;
  } else {
    baseline = reserve_below(x0, x1, ascent + descent, gap) + ascent;
  }
  words(tag, line, {left, baseline}, colour);
  return {left, baseline - ascent, line.width, ascent + descent};
}

void StaffContext::words_in_lines(Tag tag, Length left, const std::string& words, const style::TypeRole& role) {
  const Length edge = system.left + space(0.3), room = system.right - edge;
  std::vector<text::Line> lines{shape(words, role)};
  if (lines.front().width > room) {
    const text::StyledText piece{words, text_style(role)};
    lines = system.shaper.paragraph(std::span<const text::StyledText>(&piece, 1), room, text::Alignment::Left,
                                    system.timeline.language);
  }
  Length widest;
  for (const text::Line& line : lines) widest = std::max(widest, line.width);
  left = std::max(std::min(left, system.right - widest), edge);
  for (auto line = lines.rbegin(); line != lines.rend(); ++line)  // rows are taken upwards
    words_in_row(tag, Side::Above, left, Anchor::Left, *line, system.style.ink);
}

}  // namespace tunesheaf::engrave

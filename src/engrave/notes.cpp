#include <algorithm>

#include "draw.h"
#include "parentheses.h"
#include "tunesheaf/engrave/drum_heads.h"

namespace tunesheaf::engrave {

namespace {

Span origin_of(const StaffContext& staff, const Chord& chord, int note) {
  if (chord.event < 0) return {};
  const score::Event& event = staff.system.timeline.events[static_cast<std::size_t>(chord.event)];
  if (note >= 0 && note < static_cast<int>(event.notes.size())) {
    const Span own = event.notes[static_cast<std::size_t>(note)].origin;
    if (own.length() > 0) return own;
  }
  return event.origin;
}

void draw_head(StaffContext& staff, const Chord& chord, const Head& head) {
  const Span origin = origin_of(staff, chord, head.note);
  const layout::Subject subject = staff.subject(chord.event, head.note);
  const Length y = staff.position_y(head.position);
  const layout::Kind kind = chord.slash       ? layout::Kind("slash")
                            : !head.tied_from ? layout::Kind("note-head")
                                              : layout::Kind("note-head-tied");
  const Rect box = staff.sign({kind, origin, subject}, head.sign, {chord.x + head.left, y});
  staff.notes.push_back({subject, {chord.bar, chord.onset}, chord.voice, box, chord.attack, false, chord.stem_up, {}});
  if (!head.accidental) return;
  const Length x = chord.x + head.accidental_left;
  const layout::Subject accidental_subject = subject;
  const Rect sign = staff.sign({"accidental", origin, accidental_subject}, *head.accidental, {x, y});
  if (head.courtesy) draw_parentheses(staff, sign, y, origin, subject);
}

/// The sign for one head is drawn out for several: its curve's points move up or down from the middle.
void draw_parens(StaffContext& staff, const Chord& chord, const Parens& parens) {
  const Length y = staff.space(staff.plan.height() / 2 - 0.25 * (parens.low + parens.high));
  const Length more = staff.space(parens_stretch(parens));
  const StaffContext::Tag tag{"parenthesis", origin_of(staff, chord, parens.note),
                              staff.subject(chord.event, parens.note)};
  for (const bool left : {true, false}) {
    const text::Sign& sign = staff.measure(left ? MusicSign::ParenthesisLeft : MusicSign::ParenthesisRight);
    std::vector<layout::PathStep> steps = sign.path;
    for (layout::PathStep& step : steps) {
      for (Point* p : {&step.a, &step.b, &step.c}) {
        if (p->y != Length{}) p->y += p->y < Length{} ? -more : more;
      }
    }
    staff.fill(tag, std::move(steps), {chord.x + (left ? parens.left : parens.right) - sign.box.left(), y});
  }
}

void draw_dots(StaffContext& staff, const Chord& chord) {
  const Length width = staff.measure(MusicSign::AugmentationDot).box.width;
  for (const int position : chord.dot_positions) {
    for (int i = 0; i < chord.dots; ++i) {
      const Length x = chord.x + chord.dots_left + (width + staff.space(0.25)) * static_cast<double>(i);
      staff.sign({"dot", origin_of(staff, chord, -1), staff.subject(chord.event)}, MusicSign::AugmentationDot,
                 {x, staff.position_y(position)});
    }
  }
}

bool hangs_or_sits(MusicSign sign) {
  return sign == MusicSign::RestWhole || sign == MusicSign::RestHalf;
}

/// A whole rest hangs from a line and a half rest sits on one; those tell them apart. Off the staff it has a line of
/// its own; on a staff of few lines it takes the nearest.
struct RestPlace {
  Length y;
  bool own_line = false;
};
RestPlace place_of_rest(const StaffContext& staff, const Chord& chord, MusicSign sign, int position) {
  const Length y = staff.position_y(position);
  if (!hangs_or_sits(sign)) return {y};
  const bool alone = chord.lone && chord.rest_position == 0;
  Length best = staff.line_y(1);
  for (int line = 2; line <= staff.plan.lines; ++line) {
    const Length off = base::abs(staff.line_y(line) - y), least = base::abs(best - y);
    if (off < least || (off == least && sign == MusicSign::RestHalf)) best = staff.line_y(line);
  }
  const Length off = base::abs(best - y);
  if (off <= staff.space(alone ? 1.05 : 0.05)) return {best};
  return {y, true};
}

void draw_rest(StaffContext& staff, const Chord& chord) {
  const auto [sign, position] = rest_sign(chord);
  const text::Sign& shape = staff.measure(sign);
  Length x = chord.x - shape.box.width / 2;
  if (chord.whole_bar_rest) {
    const auto i = static_cast<std::size_t>(chord.bar - staff.system.first_bar);
    x = (staff.system.bar_left[i] + staff.system.bar_right[i] - shape.box.width) / 2;
  }
  const StaffContext::Tag tag{"rest", staff.system.section.bars[static_cast<std::size_t>(chord.bar)].origin,
                              staff.subject(chord.event)};
  const RestPlace place = place_of_rest(staff, chord, sign, position);
  staff.sign(tag, sign, {x, place.y});
  if (place.own_line) draw_rest_line(staff, tag, x, x + shape.box.width, place.y);
}

/// Two strokes with a dot on either side, over the line between the two bars; the number of bars stands above.
void draw_repeat_of_two(StaffContext& staff, int bar) {
  const auto i = static_cast<std::size_t>(bar - staff.system.first_bar);
  const Length x = staff.system.bar_end[i] - staff.space(staff.system.style.engraving.thin_bar / 2);
  const Length middle = staff.position_y(0);
  const StaffContext::Tag tag{"bar-repeat", staff.system.section.bars[static_cast<std::size_t>(bar)].origin,
                              staff.subject()};
  const auto at = [&](double dx, double dy) { return Point{x + staff.space(dx), middle + staff.space(dy)}; };
  using layout::PathVerb;
  std::vector<layout::PathStep> steps;  // one sign, one item
  for (const double shift : {-0.55, 0.55}) {
    const double lean = 0.95, half = 0.3;
    steps.push_back({PathVerb::Move, at(shift - lean - half, 1), {}, {}});
    steps.push_back({PathVerb::Line, at(shift + lean - half, -1), {}, {}});
    steps.push_back({PathVerb::Line, at(shift + lean + half, -1), {}, {}});
    steps.push_back({PathVerb::Line, at(shift - lean + half, 1), {}, {}});
    steps.push_back({PathVerb::Close, {}, {}, {}});
  }
  for (const double side : {-1.0, 1.0}) {
    constexpr double kRadius = 0.22, kPull = kRadius * 0.5523;  // of a circle in four curves
    const double x0 = side * 1.35, y0 = side * 0.5;
    const auto dot = [&](double dx, double dy) { return at(x0 + dx, y0 + dy); };
    steps.push_back({PathVerb::Move, dot(kRadius, 0), {}, {}});
    steps.push_back({PathVerb::Curve, dot(kRadius, kPull), dot(kPull, kRadius), dot(0, kRadius)});
    steps.push_back({PathVerb::Curve, dot(-kPull, kRadius), dot(-kRadius, kPull), dot(-kRadius, 0)});
    steps.push_back({PathVerb::Curve, dot(-kRadius, -kPull), dot(-kPull, -kRadius), dot(0, -kRadius)});
    steps.push_back({PathVerb::Curve, dot(kPull, -kRadius), dot(kRadius, -kPull), dot(kRadius, 0)});
    steps.push_back({PathVerb::Close, {}, {}, {}});
  }
  staff.fill(tag, std::move(steps));
  const text::Line two = staff.shape("2", staff.system.style.label);
  staff.words_in_row({"bar-repeat-count", tag.origin, tag.subject}, Side::Above, x, StaffContext::Anchor::Middle, two,
                     staff.system.style.ink, 0.3);
}

void draw_repeat_sign(StaffContext& staff, int bar) {
  const BarRepeat repeat = staff.plan.bars[static_cast<std::size_t>(bar)].repeat;
  if (repeat == BarRepeat::SecondOfTwo) return;
  if (repeat == BarRepeat::FirstOfTwo) return draw_repeat_of_two(staff, bar);
  const auto i = static_cast<std::size_t>(bar - staff.system.first_bar);
  const text::Sign& sign = staff.measure(MusicSign::RepeatBar);
  const Length x = (staff.system.bar_left[i] + staff.system.bar_right[i] - sign.box.width) / 2;
  staff.sign({"bar-repeat", staff.system.section.bars[static_cast<std::size_t>(bar)].origin, staff.subject()},
             MusicSign::RepeatBar, {x, staff.position_y(0)});
}

}  // namespace

void draw_rest_line(StaffContext& staff, StaffContext::Tag tag, Length left, Length right, Length y) {
  const style::EngravingStyle& e = staff.system.style.engraving;
  const Length reach = staff.space(e.ledger_reach);
  staff.line({"ledger", tag.origin, tag.subject}, {left - reach, y}, {right + reach, y}, e.ledger_line,
             layout::Cap::Butt, {}, layout::Layer::Line);
}

void draw_parentheses(StaffContext& staff, const Rect& box, Length y, Span origin, layout::Subject subject) {
  const Length gap = staff.space(0.1);
  const Rect left = staff.measure(MusicSign::ParenthesisLeft).box;
  staff.sign({"parenthesis", origin, subject}, MusicSign::ParenthesisLeft, {box.left() - gap - left.right(), y});
  staff.sign({"parenthesis", origin, subject}, MusicSign::ParenthesisRight,
             {box.right() + gap - staff.measure(MusicSign::ParenthesisRight).box.left(), y});
}

void draw_ledgers(StaffContext& staff, const Chord& chord) {
  const style::EngravingStyle& e = staff.system.style.engraving;
  const int outside = staff.plan.lines;  // half spaces from the middle to the first ledger line: lines - 1 + 2 - 1
  const auto draw = [&](int position) {
    Length left, right;
    bool any = false, crossed = false;
    for (const Head& head : chord.heads) {
      crossed = crossed || (head.position == position && is_cross(head.sign));
      if (position > 0 ? head.position < position : head.position > position) continue;
      const Length l = head.left, r = head.left + staff.measure(head.sign).box.width;
      left = any ? std::min(left, l) : l;
      right = any ? std::max(right, r) : r;
      any = true;
    }
    const Length reach = staff.space(e.ledger_reach), y = staff.position_y(position);
    const auto line = [&](Length from, Length to) {
      staff.line({"ledger", origin_of(staff, chord, -1), staff.subject(chord.event)}, {chord.x + from, y},
                 {chord.x + to, y}, e.ledger_line, layout::Cap::Butt, {}, layout::Layer::Line);
    };
    if (!crossed) return line(left - reach, right + reach);
    const Length beside = std::max(reach, staff.space(kCrossLedger)), into = (right - left) * kCrossLedgerIn;
    line(left - beside, left + into);
    line(right - into, right + beside);
  };
  for (int p = outside + 1; p <= chord.top(); p += 2) draw(p);
  for (int p = -outside - 1; p >= chord.bottom(); p -= 2) draw(p);
}

void draw_notes(StaffContext& staff, StaffPlan& plan, Inks& inks) {
  for (const Placed& placed : place_chords(plan, staff.system)) {
    Chord& chord = *placed.chord;
    if (chord.rest) {
      draw_rest(staff, chord);
      if (chord.dots > 0) draw_dots(staff, chord);
      continue;
    }
    draw_ledgers(staff, chord);
    for (const Head& head : chord.heads) draw_head(staff, chord, head);
    for (const Parens& parens : chord.parens) draw_parens(staff, chord, parens);
    draw_dots(staff, chord);
    if (!chord.grace.empty()) draw_grace(staff, chord, inks);
  }
  for (int bar = staff.system.first_bar; bar < staff.system.last_bar; ++bar) {
    if (plan.bars[static_cast<std::size_t>(bar)].repeat_sign) draw_repeat_sign(staff, bar);
  }
}

}  // namespace tunesheaf::engrave

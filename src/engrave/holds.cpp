// Signs of single moments that belong to all notes there: strokes of the bow, holds, breaths. They stand over what is
// written at the notes and under words and lines of techniques.
#include <algorithm>

#include "rows.h"
#include "tunesheaf/engrave/common_signs.h"

namespace tunesheaf::engrave {

namespace {

using score::Word;
using score::WordKind;

const StaffBar& bar_of(const StaffContext& staff, score::Place at) {
  return staff.plan.bars[static_cast<std::size_t>(at.bar)];
}

/// What sounds at a place, though it was struck before; else the rest there.
const Chord* held_at(const StaffContext& staff, score::Place at) {
  const Chord* held = nullptr;
  for (const Chord& chord : bar_of(staff, at).chords) {
    if (chord.hidden || chord.onset > at.onset || chord.onset + chord.duration <= at.onset) continue;
    const bool better =
        held == nullptr || (held->rest && !chord.rest) || (held->rest == chord.rest && chord.onset > held->onset);
    if (better) held = &chord;
  }
  return held;
}

/// Over a rest that lasts the bar in its middle.
Length hold_x(const StaffContext& staff, score::Place at, const Chord* held) {
  const SystemContext& system = staff.system;
  const StaffBar& bar = bar_of(staff, at);
  if (bar.repeat_sign || bar.rest_bars != 0 || held == nullptr) return system.x_of(at);
  if (held->whole_bar_rest) {
    const auto i = static_cast<std::size_t>(at.bar - system.first_bar);
    return (system.bar_left[i] + system.bar_right[i]) / 2;
  }
  return system.x_of({at.bar, held->onset});
}

/// Above, or turned over below. The usual arc, an angle for a short one, a square for a long one (SMuFL: fermata,
/// fermataShort, fermataLong).
void put_hold(StaffContext& staff, const Word& w, Length x, Side side, double gap) {
  const bool above = side == Side::Above;
  const MusicSign arc = above ? MusicSign::FermataAbove : MusicSign::FermataBelow;
  const Rect box = staff.measure(arc).box;
  const Length left = x - box.width / 2, right = x + box.width / 2;
  const Length foot =
      above ? staff.reserve_above(left, right, box.height, gap) : staff.reserve_below(left, right, box.height, gap);
  const HoldShape shape = hold_shape(w.text);
  if (shape == HoldShape::Arc) {
    const Length y = above ? foot - box.bottom() : foot - box.top();
    staff.sign({"fermata", w.origin, staff.subject()}, arc, {left - box.x, y});
    return;
  }
  const layout::Kind kind = shape == HoldShape::Angle ? layout::Kind("fermata-short") : layout::Kind("fermata-long");
  const StaffContext::Tag tag{kind, w.origin, staff.subject()};
  std::vector<text::PathStep> outline = hold_outline(shape, {}, staff.space(1));
  if (!above) {
    for (text::PathStep& step : outline) step.a.y = Length{} - step.a.y;
  }
  staff.stroke(tag, std::move(outline), {x, foot}, hold_stroke(shape), layout::Cap::Butt);
  const Rect dot = staff.measure(MusicSign::AugmentationDot).box;
  staff.sign(tag, MusicSign::AugmentationDot, {x - dot.width / 2 - dot.x, foot + staff.space(above ? -0.3 : 0.3)});
}

/// Where a lower voice goes on or rests while the upper one is held from before, both have the sign.
void hold(StaffContext& staff, const Word& w) {
  const Chord* held = held_at(staff, w.at);
  constexpr double kGap = 0.5, kOverDot = 1.1;  // sp; a dot near the sign's own looks like a part of it
  const bool dotted = held != nullptr && held->accents.staccato;
  put_hold(staff, w, hold_x(staff, w.at, held), Side::Above, dotted ? kOverDot : kGap);
  if (staff.plan.kind == StaffKind::Tab || held == nullptr || held->onset == w.at.onset) return;
  const auto& chords = bar_of(staff, w.at).chords;
  const bool below = std::any_of(chords.begin(), chords.end(), [&](const Chord& chord) {
    return !chord.lone && !chord.hidden && !chord.stem_up && chord.onset == w.at.onset;
  });
  if (below) put_hold(staff, w, staff.system.x_of(w.at), Side::Below, kGap);
}

/// A comma over the staff, or two strokes through its top line (over it where notes are in the way), just before what
/// comes next.
void breath(StaffContext& staff, const Word& w) {
  const SystemContext& system = staff.system;
  const bool comma = w.text == "breath";
  const MusicSign sign = comma ? MusicSign::BreathMark : MusicSign::Caesura;
  const Rect box = staff.measure(sign).box;
  const auto bar = static_cast<std::size_t>(w.at.bar - system.first_bar);
  Length right = system.bar_right[bar] - staff.space(0.4);
  const auto next = system.grace_columns.upper_bound(w.at);
  if (next != system.grace_columns.end() && next->first.bar == w.at.bar) right = next->second - staff.space(0.3);
  const Length left = std::max(system.x_of(w.at) + staff.space(0.8), right - box.width);
  Length bottom = staff.line_y(1) + staff.space(1);
  const Rect place{left, bottom - box.height, box.width, box.height};
  const bool taken = std::any_of(staff.obstacles.begin(), staff.obstacles.end(),
                                 [&](const Obstacle& o) { return o.box.overlaps(place); });
  if (comma || taken) bottom = staff.reserve_above(left, left + box.width, box.height, 0.3);
  staff.sign({comma ? layout::Kind("breath") : layout::Kind("caesura"), w.origin, staff.subject()}, sign,
             {left - box.x, bottom - box.bottom()});
}

void hold_or_breath(StaffContext& staff, const Word& w) {
  if (w.text == "breath" || w.text == "caesura") {
    breath(staff, w);
  } else {
    hold(staff, w);
  }
}

}  // namespace

void draw_bows(StaffContext& staff) {
  for (const Word& w : staff.words()) {
    if (w.kind != WordKind::Bow || !staff.system.holds(w.at)) continue;
    const MusicSign sign = w.text == "U" || w.text == "up" ? MusicSign::UpBow : MusicSign::DownBow;
    const Rect box = staff.measure(sign).box;
    const Length left = staff.system.x_of(w.at) - box.width / 2;
    const Length bottom = staff.reserve_above(left, left + box.width, box.height, 0.5);
    staff.sign({"bow", w.origin, staff.subject()}, sign, {left - box.x, bottom - box.bottom()});
  }
}

void draw_holds(StaffContext& staff) {
  const std::vector<Word>& own = staff.words();
  const auto held = [&](const Word& w) { return w.kind == WordKind::Hold && staff.system.holds(w.at); };
  for (const Word& w : own) {
    if (held(w)) hold_or_breath(staff, w);
  }
  if (staff.music() == nullptr) return;
  for (const Word& w : staff.system.said_by(-1).words) {  // everyone holds what the chart holds
    const bool said =
        std::any_of(own.begin(), own.end(), [&](const Word& o) { return o.kind == WordKind::Hold && o.at == w.at; });
    if (held(w) && !said) hold_or_breath(staff, w);
  }
}

}  // namespace tunesheaf::engrave

#include <algorithm>

#include "draw.h"
#include "rows.h"

namespace tunesheaf::engrave {

namespace {

class SignDrawer {
 public:
  SignDrawer(StaffContext& staff, StaffPlan& plan) : staff_(staff), plan_(plan) {}

  void articulations() {
    for (const Placed& placed : place_chords(plan_, staff_.system)) {
      const Chord& chord = *placed.chord;
      if (chord.rest || chord.heads.empty() || !chord.attack) continue;
      const song::Accents& a = chord.accents;
      const Span origin = origin_of(chord);
      const bool tab = plan_.kind == StaffKind::Tab;
      // On the side of the heads; with two voices, and for drums, on the side of the stems; tab carries them above.
      const bool above = tab                          ? chord.stem_up || chord.lone
                         : chord.lone && !plan_.drums ? !chord.stem_up
                                                      : chord.stem_up;
      if (a.staccato) near_head(chord, origin, MusicSign::Staccato, above, "staccato");
      if (a.tenuto && !named(chord)) near_head(chord, origin, MusicSign::Tenuto, above, "tenuto");
      if (a.accent && !a.marcato) outside(chord, origin, MusicSign::Accent, above, "accent");
      const bool top = chord.lone || chord.stem_up;
      if (a.marcato) outside(chord, origin, top ? MusicSign::MarcatoAbove : MusicSign::MarcatoBelow, top, "marcato");
    }
  }

  void fermatas() {
    for (const Placed& placed : place_chords(plan_, staff_.system)) {
      const Chord& chord = *placed.chord;
      if (chord.rest || chord.heads.empty() || !chord.attack) continue;
      const bool top = chord.lone || chord.stem_up;
      if (chord.accents.tenuto && named(chord)) outside(chord, origin_of(chord), MusicSign::Tenuto, top, "tenuto", 0.9);
      if (chord.accents.fermata)
        outside(chord, origin_of(chord), top ? MusicSign::FermataAbove : MusicSign::FermataBelow, top, "fermata");
    }
  }

  void strokes() {
    for (const Placed& placed : place_chords(plan_, staff_.system)) {
      const Chord& chord = *placed.chord;
      if (!chord.slash || chord.event < 0 || !chord.attack) continue;
      const score::Event& event = staff_.system.timeline.events[static_cast<std::size_t>(chord.event)];
      if (event.stroke != song::StrokeDirection::None) stroke(chord, event);
    }
  }

  void tuplets() {
    for (int bar = staff_.system.first_bar; bar < staff_.system.last_bar; ++bar) {
      StaffBar& staff_bar = plan_.bars[static_cast<std::size_t>(bar)];
      if (staff_bar.repeat_sign) continue;
      // Inner ones first, so that the enclosing bracket stands beyond them.
      for (auto t = staff_bar.tuplets.rbegin(); t != staff_bar.tuplets.rend(); ++t) tuplet(staff_bar, *t);
      draw_brackets();
    }
  }

 private:
  void near_head(const Chord& chord, Span origin, MusicSign sign, bool above, layout::Kind kind) {
    const Rect box = staff_.measure(sign).box;
    const Length x = middle(chord) - box.width / 2 - box.x;
    const StaffContext::Tag tag{kind, origin, staff_.subject(chord.event)};
    const bool stem_side = chord.has_stem && chord.stem_up == above;
    int position = above ? chord.top() + 2 : chord.bottom() - 2;
    const bool inside = std::abs(position) <= 4 && plan_.kind != StaffKind::Tab && !stem_side &&
                        kind == layout::Kind("staccato") && !chord.accents.tenuto;
    if (!inside) {
      outside(chord, origin, sign, above, kind);
      return;
    }
    if (position % 2 == 0) position += above ? 1 : -1;  // dots stand in spaces
    const auto taken = [&] {
      const Rect dot = box.moved({x, staff_.position_y(position)}).grown(staff_.space(0.1));
      return std::any_of(staff_.obstacles.begin(), staff_.obstacles.end(),
                         [&](const Obstacle& o) { return o.kind != layout::Kind("stem") && o.box.overlaps(dot); });
    };
    while (std::abs(position) <= 5 && taken()) position += above ? 2 : -2;  // past a slide, or the other voice
    if (std::abs(position) > 5) return outside(chord, origin, sign, above, kind);
    staff_.sign(tag, sign, {x, staff_.position_y(position)});
  }

  /// A tab has the pitch of a harmonic over the figure: a tenuto under it would underline it.
  bool named(const Chord& chord) const {
    if (plan_.kind != StaffKind::Tab || chord.slash || chord.event < 0) return false;
    const auto& notes = staff_.system.timeline.events[static_cast<std::size_t>(chord.event)].notes;
    return std::any_of(notes.begin(), notes.end(), [](const score::Note& note) {
      return note.harmonic != song::HarmonicKind::None && note.more->sounding.has_value();
    });
  }

  Length middle(const Chord& chord) const { return chord.x; }

  Span origin_of(const Chord& chord) const {
    if (chord.event < 0) return staff_.system.section.bars[static_cast<std::size_t>(chord.bar)].origin;
    return staff_.system.timeline.events[static_cast<std::size_t>(chord.event)].origin;
  }

  void outside(const Chord& chord, Span origin, MusicSign sign, bool above, layout::Kind kind, double gap = 0.4) {
    const Rect box = staff_.measure(sign).box;
    const Length x = middle(chord) - box.width / 2 - box.x;
    const Length left = x + box.x, right = left + box.width;
    const StaffContext::Tag tag{kind, origin, staff_.subject(chord.event)};
    const Length y = above ? staff_.reserve_above(left, right, box.height, gap) - box.bottom()
                           : staff_.reserve_below(left, right, box.height, gap) - box.top();
    staff_.sign(tag, sign, {x, y});
  }

  void stroke(const Chord& chord, const score::Event& event) {
    const bool down = event.stroke == song::StrokeDirection::Down;
    const Length height = staff_.space(1.9), half = staff_.space(0.4);
    const Length bottom = staff_.reserve_above(chord.x - half, chord.x + half, height, 0.6);
    const Length tip = down ? bottom : bottom - height, tail = down ? bottom - height : bottom;
    const StaffContext::Tag tag{"stroke", event.origin, staff_.subject(chord.event)};
    const Length neck = down ? tip - staff_.space(0.7) : tip + staff_.space(0.7);
    staff_.line(tag, {chord.x, tail}, {chord.x, neck}, 0.14);
    staff_.fill(
        tag, text::arrow_head({Length{}, down ? staff_.space(1) : -staff_.space(1)}, staff_.space(0.85), half + half),
        {chord.x, tip});
  }

  void tuplet(StaffBar& bar, const TupletGroup& group) {
    const Chord* first = nullptr;
    const Chord* last = nullptr;
    bool up = true;
    int ups = 0, downs = 0, event = -1;
    bool any = false;
    for (const int i : group.chords) {
      const Chord& chord = bar.chords[static_cast<std::size_t>(i)];
      if (first == nullptr) first = &chord;
      last = &chord;
      if (chord.rest) continue;
      (chord.stem_up ? ups : downs) += 1;
      if (event < 0) event = chord.event;
    }
    if (first == nullptr) return;
    up = ups >= downs;
    for (const int i : group.chords) {
      const Chord& chord = bar.chords[static_cast<std::size_t>(i)];
      if (chord.rest || !chord.has_stem) continue;
      any = true;
    }
    const Span origin = event < 0 ? Span{} : staff_.system.timeline.events[static_cast<std::size_t>(event)].origin;
    const bool usual = group.normal == usual_normal(group.actual);
    const std::string words =
        usual ? std::to_string(group.actual) : std::to_string(group.actual) + ":" + std::to_string(group.normal);
    style::TypeRole role = staff_.system.style.direction;
    role.italic = true;
    role.size = staff_.system.sp * 1.75;
    const text::Line line = staff_.shape(words, role);
    const StaffContext::Tag tag{"tuplet", origin, {plan_.number, event, -1}};
    // On tab from stem to stem, whatever stands beside the figures.
    const bool tab = plan_.kind == StaffKind::Tab;
    const Length x0 = first->x + (tab ? -staff_.space(0.7) : first->left);
    const Length x1 = last->x + (tab ? staff_.space(0.7) : last->right);
    const Length height = line.ink.height > Length{} ? line.ink.height : line.ascent;
    if (!group.bracket && any && !among_fingers(bar, group, up)) {
      const bool within = std::any_of(brackets_.begin(), brackets_.end(), [&](const Bracket& other) {
        return other.up == up && other.x0 < last->x && other.x1 > first->x;
      });
      if (within) draw_brackets();
      const Length x = (stem_of(*first) + stem_of(*last)) / 2;
      const Length mid = (first->stem_tip + last->stem_tip) / 2;
      const Length gap = staff_.space(0.45), half = line.width / 2;
      // Beams may lie within the staff; the number stands outside it, and outside of signs over the beam.
      const Length edge = staff_.space(0.3), left = x - half, right = x + half;
      Length bottom = up ? std::min(mid - gap, -edge) : std::max(mid + gap + height, staff_.height() + edge + height);
      const auto meets = [&](const Obstacle& o) {
        return o.kind != layout::Kind("beam") && o.kind != layout::Kind("stem") && o.box.left() < right &&
               o.box.right() > left && o.box.top() < bottom + edge && o.box.bottom() > bottom - height - edge;
      };
      if (std::any_of(staff_.obstacles.begin(), staff_.obstacles.end(), meets)) {
        bottom = up ? std::min(bottom, staff_.clear_above(left, right) - edge)
                    : std::max(bottom, staff_.clear_below(left, right) + edge + height);
      }
      staff_.words(tag, line, {x - half, bottom - line.ink.bottom()}, staff_.system.style.ink);
      return;
    }
    const auto over = [&](const Bracket& other) { return other.up == up && other.x0 < x1 && other.x1 > x0; };
    if (std::any_of(brackets_.begin(), brackets_.end(), over)) draw_brackets();  // this one encloses it
    brackets_.push_back({tag, line, x0, x1, height, up});
  }

  /// Brackets of a bar that stand side by side have one height.
  struct Bracket {
    StaffContext::Tag tag;
    text::Line line;
    Length x0, x1, height;
    bool up;
  };

  void draw_brackets() {
    const Length hook = staff_.space(0.7);
    for (const bool up : {true, false}) {
      std::vector<std::pair<Length, Length>> stretches;
      Length height = hook;
      for (const Bracket& b : brackets_) {
        if (b.up != up) continue;
        stretches.emplace_back(b.x0, b.x1);
        height = std::max(height, b.height);
      }
      if (stretches.empty()) continue;
      const Length edge = take_row(staff_, up ? Side::Above : Side::Below, stretches, up ? height : Length{},
                                   up ? Length{} : height, 0.45);
      for (const Bracket& b : brackets_)
        if (b.up == up) bracket(b, up ? edge - hook : edge + hook, edge);
    }
    brackets_.clear();
  }

  /// Fingers will stand on that side of the staff: without a bracket the number would be read as one of them.
  bool among_fingers(const StaffBar& bar, const TupletGroup& group, bool up) const {
    if (plan_.drums || up == (plan_.kind == StaffKind::Tab)) return false;
    return std::any_of(group.chords.begin(), group.chords.end(), [&](int i) {
      const Chord& chord = bar.chords[static_cast<std::size_t>(i)];
      if (chord.rest || chord.slash || chord.event < 0) return false;
      const auto& notes = staff_.system.timeline.events[static_cast<std::size_t>(chord.event)].notes;
      return std::any_of(notes.begin(), notes.end(),
                         [](const score::Note& note) { return note.finger > 0 || note.pluck != 0; });
    });
  }

  Length stem_of(const Chord& chord) const { return chord.x + chord.stem_x; }

  /// The largest power of two below: 3:2, 5:4, 6:4, 7:4 need no second number; duplets are 2:3.
  static int usual_normal(int actual) {
    if (actual == 2) return 3;
    if (actual == 4) return 3;
    int normal = 1;
    while (normal * 2 < actual) normal *= 2;
    return normal;
  }

  void bracket(const Bracket& b, Length y, Length edge) {
    const double thick = staff_.system.style.engraving.tuplet_bracket;
    const auto& [tag, line, x0, x1, height, up] = b;
    const Length middle = (x0 + x1) / 2, gap = line.width / 2 + staff_.space(0.35);
    const auto half = [&](Length end, Length to) {
      staff_.stroke({"tuplet-bracket", tag.origin, tag.subject},
                    {{layout::PathVerb::Move, {end, edge}, {}, {}},
                     {layout::PathVerb::Line, {end, y}, {}, {}},
                     {layout::PathVerb::Line, {to, y}, {}, {}}},
                    {}, thick, layout::Cap::Butt);
    };
    if (middle - gap > x0) half(x0, middle - gap);
    if (middle + gap < x1) half(x1, middle + gap);
    const Length baseline = y + height / 2 - line.ink.bottom();
    staff_.words(tag, line, {middle - line.width / 2, baseline}, staff_.system.style.ink);
  }

  StaffContext& staff_;
  std::vector<Bracket> brackets_;  ///< of this bar, not drawn yet
  StaffPlan& plan_;
};

}  // namespace

void draw_articulations(StaffContext& staff, StaffPlan& plan) {
  SignDrawer(staff, plan).articulations();
}
void draw_fermatas(StaffContext& staff, StaffPlan& plan) {
  SignDrawer(staff, plan).fermatas();
}
void draw_tuplets(StaffContext& staff, StaffPlan& plan) {
  SignDrawer(staff, plan).tuplets();
}
void draw_strokes(StaffContext& staff, StaffPlan& plan) {
  SignDrawer(staff, plan).strokes();
}

/// The other hand's octave line says nothing of a staff that rests under it.
bool plays_within(const StaffPlan& plan, const score::Mark& mark) {
  for (const StaffBar& bar : plan.bars) {
    for (const Chord& chord : bar.chords) {
      const score::Place at{chord.bar, chord.onset};
      if (!chord.rest && at >= mark.from && at < mark.to) return true;
    }
  }
  return false;
}

/// Left edge of words that wide which begin at x: a little earlier where a bar line would run through them.
Length before_bar_line(const StaffContext& staff, Length x, Length width) {
  if (staff.plan.alone) return x;
  const SystemContext& system = staff.system;
  for (std::size_t i = 0; i < system.bar_right.size(); ++i) {
    const Length last = system.bar_right[i] - staff.space(0.25) - width;
    const bool crosses = x < system.bar_right[i] && x > last;
    if (crosses) return std::max(last, system.bar_left[i]);
  }
  return x;
}

void draw_octave_lines(StaffContext& staff) {
  if (staff.music() == nullptr) return;
  for (const score::Mark& mark : staff.marks()) {
    const bool above = mark.kind == "8va" || mark.kind == "15ma";
    if (!above && mark.kind != "8vb" && mark.kind != "15mb") continue;
    auto span = staff.clip(mark.from, mark.to);
    if (!span || !plays_within(staff.plan, mark)) continue;
    style::TypeRole role = staff.system.style.direction;
    role.italic = true;
    const std::string words = span->begins ? mark.kind : "(" + mark.kind + ")";
    const text::Line line = staff.shape(words, role);
    const StaffContext::Tag tag{"octave-line", mark.origin, staff.subject()};
    const Length height = std::max(line.ink.height, staff.space(1.2));
    span->from = before_bar_line(staff, span->from, line.width);
    const Length edge = above ? staff.reserve_above(span->from, span->to, height, 0.6)
                              : staff.reserve_below(span->from, span->to, height, 0.6);
    const Length baseline = above ? edge : edge + height;
    staff.words(tag, line, {span->from, baseline}, staff.system.style.ink);
    const Length y = above ? baseline - height + staff.space(0.3) : baseline - staff.space(0.3);
    const Length from = span->from + line.width + staff.space(0.4);
    if (span->to <= from) continue;
    staff.line(tag, {from, y}, {span->to - staff.space(0.09), y}, 0.14, layout::Cap::Butt, {0.9, 0.6});
    if (span->ends) {
      const double way = above ? 1 : -1;
      staff.line(tag, {span->to, y - staff.space(0.07 * way)}, {span->to, y + staff.space(0.9 * way)}, 0.14);
    }
  }
}

}  // namespace tunesheaf::engrave

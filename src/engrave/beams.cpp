#include <algorithm>
#include <cmath>

#include "draw.h"

namespace tunesheaf::engrave {

namespace {

using layout::PathVerb;
using theory::BeamMark;

/// Straight beam: y of its middle at x, in staff spaces and lengths mixed so that equal input gives equal output.
struct BeamLine {
  Length x0, y0, x1, y1;
  Length at(Length x) const {
    if (x1 == x0) return y0;
    return y0 + (y1 - y0) * ((x - x0) / (x1 - x0));
  }
};

class StemDrawer {
 public:
  StemDrawer(StaffContext& staff, StaffPlan& plan)
      : staff_(staff), plan_(plan), style_(staff.system.style.engraving), tab_(plan.kind == StaffKind::Tab) {
    if (tab_) row_ = tab_row(staff, plan);
  }

  void run() {
    const std::vector<Placed> all = place_chords(plan_, staff_.system);
    for (const Placed& placed : all) {
      Chord& chord = *placed.chord;
      if (!chord.has_stem || chord.heads.empty() || (plan_.slashes && plan_.part < 0 && !chord.has_stem)) continue;
      set_foot(chord);
      if (chord.beam < 0) single(chord);
    }
    for (int bar = staff_.system.first_bar; bar < staff_.system.last_bar; ++bar) {
      StaffBar& staff_bar = plan_.bars[static_cast<std::size_t>(bar)];
      if (staff_bar.repeat_sign) continue;
      for (const BeamGroup& beam : staff_bar.beams) beamed(staff_bar, beam);
    }
    for (const Placed& placed : all) finish(*placed.chord);
  }

 private:
  double way(const Chord& chord) const { return chord.stem_up ? -1 : 1; }  // of the stem, in y
  Length stem_x(const Chord& chord) const { return chord.x + chord.stem_x; }
  Span origin(const Chord& chord) const {
    return chord.event < 0 ? Span{} : staff_.system.timeline.events[static_cast<std::size_t>(chord.event)].origin;
  }

  void set_foot(Chord& chord) const {
    if (tab_ && chord.slash && chord.stem_x != Length{}) return;  // at the slash
    if (tab_) {
      const Length edge = chord.stem_up ? Length{} : staff_.height();
      const Length gap = row_.foot + tab_stem_gap(staff_, chord);
      chord.stem_from = edge + gap * way(chord);
      return;
    }
    const Head& head = chord.stem_up ? chord.heads.front() : chord.heads.back();
    const text::Sign& sign = staff_.measure(head.sign);
    chord.stem_from = staff_.position_y(head.position) + (chord.stem_up ? sign.stem_up.y : sign.stem_down.y);
  }

  /// Its string is bent: a stroke leaves the head at its side.
  bool bent(const Chord& chord) const {
    if (chord.event < 0 || chord.slash || tab_) return false;
    const auto& notes = staff_.system.timeline.events[static_cast<std::size_t>(chord.event)].notes;
    return std::any_of(notes.begin(), notes.end(), [](const score::Note& note) { return note.more->bend.size() > 1; });
  }

  /// Where the small heads of a bent note and their signs will stand, under an upward stem: at their left and right
  /// end.
  void bent_heads(const Chord& chord, Length end, std::vector<Obstacle>& found) const {
    if (!chord.stem_up) return;
    const score::Event& event = staff_.system.timeline.events[static_cast<std::size_t>(chord.event)];
    for (const Head& head : chord.heads) {
      if (head.note < 0) continue;
      Fraction most;
      const auto& bend = event.notes[static_cast<std::size_t>(head.note)].more->bend;
      for (const score::BendPoint& point : bend) most = max(most, point.semitones);
      if (bend.size() < 2 || most == Fraction()) continue;
      const int steps = static_cast<int>((most * Fraction(7, 12) + Fraction(1, 2)).floor());  // of seven in an octave
      const Length height = staff_.space(1.2), top = staff_.position_y(head.position + steps) - height;
      for (const double x : {1.5, 3.0}) {
        const Length at = std::min(chord.x + staff_.space(x), end);
        found.push_back({{at - staff_.space(0.05), top, staff_.space(0.1), height}, "bent-head", {}});
      }
    }
  }

  /// Rule 2: 3.5 sp, never short of the middle line, shorter outside the staff with the stem outwards.
  Length ideal_tip(const Chord& chord) const {
    if (tab_) {
      return (chord.stem_up ? Length{} : staff_.height()) + row_.tip * way(chord);
    }
    const int outer = chord.stem_up ? chord.top() : -chord.bottom();  // towards the stem
    double length = style_.stem_length;
    if (outer > 2) length = std::max(2.75, length - 0.25 * (outer - 2));
    const int flags = theory::flag_count(chord.value);
    if (flags > 2) length += 0.5 * (flags - 2);
    if (chord.flag()) {  // the flag's curl stays clear of the head and of what stands beside it
      const Length flag = staff_.measure(flag_sign(chord.value, chord.stem_up)).box.height;
      const Head& last = chord.stem_up ? chord.heads.back() : chord.heads.front();
      double own = 0;
      for (const Head& head : chord.heads) {
        const Rect shape = staff_.measure(head.sign).box;
        const double edge = (chord.stem_up ? -shape.top() : shape.bottom()) / staff_.system.sp;
        own = std::max(own, edge - 0.5 * std::abs(head.position - last.position) + 0.05);
      }
      const double beside = !chord.parens.empty() || bent(chord) ? 1.1
                            : chord.dots > 0 && chord.stem_up    ? 1.05
                                                                 : std::max(0.6, own);
      length = std::max(length, flag / staff_.system.sp + beside);
    }
    length = std::max(length, tremolo_room(staff_, chord));
    const int head = chord.stem_up ? chord.top() : chord.bottom();
    Length tip = staff_.position_y(head) + staff_.space(length * way(chord));
    if (!plan_.slashes) {
      const Length middle = staff_.position_y(0);
      tip = chord.stem_up ? std::min(tip, middle) : std::max(tip, middle);
    }
    return tip;
  }

  void single(Chord& chord) const {
    chord.stem_tip = ideal_tip(chord);
    draw_stem(chord, chord.stem_tip);
    if (!chord.flag()) return;
    const Length half = staff_.space(style_.stem / 2);
    staff_.sign({"flag", origin(chord), staff_.subject(chord.event)}, flag_sign(chord.value, chord.stem_up),
                {stem_x(chord) - half, chord.stem_tip});
  }

  void draw_stem(const Chord& chord, Length end) const {
    const Length x = stem_x(chord);
    staff_.line({"stem", origin(chord), staff_.subject(chord.event)}, {x, chord.stem_from}, {x, end}, style_.stem);
  }

  /// Rise over the group in sp, upwards positive: small steps give small slants; flat where the outer notes match or an
  /// inner one reaches beyond both (rule 3).
  double slant(const std::vector<Chord*>& chords) const {
    if (tab_ || plan_.slashes) return 0;
    const bool up = chords.front()->stem_up;
    const auto outer = [&](const Chord* c) { return up ? c->top() : c->bottom(); };
    const int first = outer(chords.front()), last = outer(chords.back());
    for (std::size_t i = 1; i + 1 < chords.size(); ++i) {
      const int inner = outer(chords[i]);
      if (up ? inner >= std::max(first, last) : inner <= std::min(first, last)) return 0;
    }
    const int way_up = last - first;
    const int steps = std::abs(way_up);
    double rise = steps == 0 ? 0 : steps == 1 ? 0.25 : steps <= 3 ? 0.5 : steps <= 5 ? 0.75 : 1;
    const double width = (stem_x(*chords.back()) - stem_x(*chords.front())) / staff_.system.sp;
    while (rise > 0 && rise > width * 0.25) rise -= 0.25;
    return way_up > 0 ? rise : -rise;
  }

  BeamLine beam_line(const std::vector<Chord*>& chords, int levels) const {
    const double rise = slant(chords);
    const Chord& first = *chords.front();
    BeamLine line{stem_x(first), {}, stem_x(*chords.back()), -staff_.space(rise)};
    const double half = style_.beam / 2 * way(first);
    const double step = style_.beam + style_.beam_gap, deep = style_.beam + step * (levels - 1);
    const double least = levels <= 1 ? 3.0 : 3.25 + step * (levels - 2);
    bool set = false;
    Length best;
    for (const Chord* chord : chords) {  // the primary beam's outer edge must lie beyond each of these
      const int head = tab_ ? 0 : chord->stem_up ? chord->top() : chord->bottom();
      const double stem = tab_ ? 0 : std::max(least, tremolo_room(staff_, *chord));
      Length edge = tab_ ? ideal_tip(*chord) : staff_.position_y(head) + staff_.space(stem * way(first));
      if (!tab_ && !plan_.slashes) {
        const Length middle = staff_.position_y(0);
        edge = first.stem_up ? std::min(edge, middle) : std::max(edge, middle);
      }
      const Length at = edge - line.at(stem_x(*chord));
      best = !set ? at : first.stem_up ? std::min(best, at) : std::max(best, at);
      set = true;
    }
    if (!tab_) {
      for (const Obstacle& o : beneath(chords)) {
        const Length x = std::clamp(o.box.x + o.box.width / 2, line.x0, line.x1);
        const Length edge =
            first.stem_up ? o.box.top() - staff_.space(deep + 0.25) : o.box.bottom() + staff_.space(deep + 0.25);
        const Length at = edge - line.at(x);
        best = first.stem_up ? std::min(best, at) : std::max(best, at);
      }
    }
    // The outer notes want stems of full length where the inner ones do not ask for more.
    if (!tab_) {
      const Chord& last = *chords.back();
      const Length want = (ideal_tip(first) + ideal_tip(last) - line.y1) / 2;
      best = first.stem_up ? std::min(best, want) : std::max(best, want);
    }
    if (!tab_) best = past_other_voice(chords, line, best, deep);
    Length y = best - staff_.space(half);
    for (int i = 0; !tab_ && i < 3; ++i) {  // on the grid it may lie nearer to what it was clear of
      y = on_grid(y, rise, way(first));
      const Length past = past_other_voice(chords, line, y + staff_.space(half), deep) - staff_.space(half);
      if (past == y) break;
      y = past;
    }
    line.y0 = y;
    line.y1 = y + line.y1;
    return line;
  }

  /// Outer edge of the beam, moved beyond heads, accidentals, parentheses and dots that it would run through.
  Length past_other_voice(const std::vector<Chord*>& chords, const BeamLine& line, Length edge, double deep) const {
    if (std::all_of(chords.begin(), chords.end(), [](const Chord* c) { return c->lone; })) return edge;
    const bool up = chords.front()->stem_up;
    const Length half = staff_.space(style_.stem / 2), depth = staff_.space(deep), white = staff_.space(0.25);
    const auto beyond = [&](const Rect& box) {
      const Length a = line.at(std::clamp(box.left(), line.x0, line.x1)),
                   b = line.at(std::clamp(box.right(), line.x0, line.x1)), high = std::min(a, b), low = std::max(a, b);
      const Length top = edge + high - (up ? Length{} : depth), bottom = edge + low + (up ? depth : Length{});
      if (box.bottom() + white <= top || box.top() - white >= bottom) return;
      edge = up ? std::min(edge, box.top() - white - depth - low) : std::max(edge, box.bottom() + white + depth - high);
    };
    constexpr int kRounds = 4;
    for (int round = 0; round < kRounds; ++round) {
      const Length before = edge;
      for (const DrawnNote& note : staff_.notes)
        if (note.box.right() > line.x0 - half && note.box.left() < line.x1 + half) beyond(note.box);
      for (const Obstacle& o : staff_.obstacles) {
        const bool sign = o.kind == layout::Kind("dot") || o.kind == layout::Kind("accidental") ||
                          o.kind == layout::Kind("parenthesis");
        if (sign && o.box.right() > line.x0 && o.box.left() < line.x1) beyond(o.box);
      }
      if (edge == before) break;
    }
    return edge;
  }

  /// Small notes, accidentals and what else of these chords lies within reach of their beam, and clefs on its way.
  std::vector<Obstacle> beneath(const std::vector<Chord*>& chords) const {
    const Length left = stem_x(*chords.front()), right = stem_x(*chords.back());
    const bool bare = std::none_of(chords.begin(), chords.end(), [](const Chord* c) {
      return !c->grace.empty() || std::any_of(c->heads.begin(), c->heads.end(),
                                              [](const Head& head) { return head.accidental || head.ghost; });
    });
    std::vector<Obstacle> found;
    for (const Obstacle& o : staff_.obstacles)
      if (o.kind == layout::Kind("clef-change") && o.box.right() > left && o.box.left() < right) found.push_back(o);
    for (const Chord* chord : chords)
      if (bent(*chord)) bent_heads(*chord, right, found);
    if (bare) return found;
    for (const Obstacle& o : staff_.obstacles) {
      if (o.subject.event < 0 || o.box.right() <= left || o.box.left() >= right) continue;
      if (o.kind == layout::Kind("stem") || o.kind == layout::Kind("flag") || o.kind == layout::Kind("beam")) continue;
      const bool own =
          std::any_of(chords.begin(), chords.end(), [&](const Chord* c) { return c->event == o.subject.event; });
      if (own) found.push_back(o);
    }
    return found;
  }

  /// Beams sit on, straddle or hang from staff lines; they never float in a space where slivers of white would show.
  Length on_grid(Length y, double rise, double outwards) const {
    const double at = y / staff_.system.sp, height = plan_.height();
    double quarter = outwards < 0 ? std::floor(at * 4 + 0.01) / 4 : std::ceil(at * 4 - 0.01) / 4;
    const auto bad = [&](double v) {
      if (v < -0.3 || v > height + 0.3) return false;
      const double part = v - std::floor(v);
      return std::abs(part - 0.5) < 0.01;
    };
    for (int i = 0; i < 3 && (bad(quarter) || bad(quarter - rise)); ++i) quarter += 0.25 * outwards;
    return staff_.space(quarter);
  }

  void beamed(StaffBar& bar, const BeamGroup& group) {
    std::vector<Chord*> chords;
    for (const int i : group.chords) {
      Chord& chord = bar.chords[static_cast<std::size_t>(i)];
      if (!chord.heads.empty() && chord.has_stem) chords.push_back(&chord);
    }
    if (chords.empty()) return;
    if (chords.size() == 1) {
      chords[0]->beam = -1;
      single(*chords[0]);
      return;
    }
    const BeamLine line = beam_line(chords, group.levels);
    for (Chord* chord : chords) {
      const Length middle = line.at(stem_x(*chord));
      chord->stem_tip = middle + staff_.space(style_.beam / 2 * way(*chord));
      draw_stem(*chord, middle);
    }
    for (int level = 0; level < group.levels; ++level) draw_level(chords, line, level);
  }

  void draw_level(const std::vector<Chord*>& chords, const BeamLine& line, int level) const {
    const auto l = static_cast<std::size_t>(level);
    const Length half = staff_.space(style_.stem / 2);
    Length from;
    bool open = false;
    for (std::size_t i = 0; i < chords.size(); ++i) {
      const Chord& chord = *chords[i];
      const Length x = stem_x(chord);
      switch (chord.beam_marks[l]) {
        case BeamMark::kBegin:
          from = x - half;
          open = true;
          break;
        case BeamMark::kEnd:
          if (open) draw_beam(chord, line, level, from, x + half);
          open = false;
          break;
        case BeamMark::kHookForward:
        case BeamMark::kHookBack: {
          const bool forward = chord.beam_marks[l] == BeamMark::kHookForward;
          const Chord* other =
              forward ? (i + 1 < chords.size() ? chords[i + 1] : nullptr) : (i > 0 ? chords[i - 1] : nullptr);
          Length reach = staff_.space(1.1);
          if (other != nullptr) reach = std::min(reach, abs(stem_x(*other) - x) / 2);
          if (forward) {
            draw_beam(chord, line, level, x - half, x + reach);
          } else {
            draw_beam(chord, line, level, x - reach, x + half);
          }
          break;
        }
        default:
          break;
      }
    }
  }

  void draw_beam(const Chord& chord, const BeamLine& line, int level, Length from, Length to) const {
    const Length inwards = staff_.space(-(style_.beam + style_.beam_gap) * level * way(chord));
    const Length half = staff_.space(style_.beam / 2);
    const Length y0 = line.at(from) + inwards, y1 = line.at(to) + inwards;
    staff_.fill_sliced({"beam", origin(chord), staff_.subject(chord.event)},
                       {{PathVerb::Move, {from, y0 - half}, {}, {}},
                        {PathVerb::Line, {to, y1 - half}, {}, {}},
                        {PathVerb::Line, {to, y1 + half}, {}, {}},
                        {PathVerb::Line, {from, y0 + half}, {}, {}},
                        {PathVerb::Close, {}, {}, {}}});
  }

  void finish(const Chord& chord) {
    if (chord.rest || chord.heads.empty()) return;
    const bool stem = chord.has_stem;
    if (!tab_) draw_tremolo(staff_, chord);
    for (DrawnNote& note : staff_.notes) {
      if (note.grace || note.subject.event != chord.event || note.at.bar != chord.bar || note.at.onset != chord.onset) {
        continue;
      }
      note.stem_tip = stem ? chord.stem_tip : chord.stem_up ? note.box.top() : note.box.bottom();
    }
  }

  StaffContext& staff_;
  StaffPlan& plan_;
  const style::EngravingStyle& style_;
  bool tab_;
  TabRow row_;
};

}  // namespace

void draw_stems(StaffContext& staff, StaffPlan& plan) {
  // In the picture of a sign on the strings the rhythm says nothing.
  if (plan.kind == StaffKind::Tab && staff.system.request.opening == Opening::Bare) return;
  StemDrawer(staff, plan).run();
}

}  // namespace tunesheaf::engrave

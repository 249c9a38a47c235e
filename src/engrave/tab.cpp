#include <algorithm>
#include <map>
#include <set>

#include "draw.h"
#include "parentheses.h"
#include "tab_held.h"

namespace tunesheaf::engrave {

namespace {

class TabDrawer {
 public:
  TabDrawer(StaffContext& staff, StaffPlan& plan, Inks& inks)
      : staff_(staff), plan_(plan), inks_(inks), row_(tab_row(staff, plan)), held_(staff, plan) {}

  HeldFigures run() {
    for (const auto& voice : chords_by_voice(plan_, staff_.system)) {
      strummed_.clear();
      for (const Placed& placed : voice) {
        Chord& chord = *placed.chord;
        chord.x = staff_.system.x_of({chord.bar, chord.onset});
        chord.stem_x = {};
        if (chord.rest) {
          if (plan_.rhythm && !chord.hidden) rest(chord);
        } else {
          figures(chord);
          if (!chord.grace.empty()) grace(chord);
          if (plan_.rhythm) dots(chord);
        }
      }
    }
    return std::move(held_);
  }

 private:
  const score::Event& event(const Chord& chord) const {
    return staff_.system.timeline.events[static_cast<std::size_t>(chord.event)];
  }

  /// A strum over a shape among written notes: the figures at its first stroke, slashes for those that repeat it.
  void strum(Chord& chord) {
    const score::Event& e = event(chord);
    if (!chord.attack || e.muted || e.notes.empty() || stands(e)) {
      slash(chord);
      return;
    }
    strummed_.clear();
    for (const score::Note& note : e.notes) {
      if (note.string < 1 || note.string > plan_.lines) continue;
      strummed_[note.string] = note.fret;
      const text::Line& line = inks_.figure(figure_text(note));
      const Length y = staff_.string_y(note.string);
      draw_figure("strum-figure", line, {chord.x, y}, e.origin, staff_.subject(chord.event));
      const Rect box{chord.x - line.width / 2, y - line.ink.height / 2, line.width, line.ink.height};
      staff_.notes.push_back({staff_.subject(chord.event),
                              {chord.bar, chord.onset},
                              chord.voice,
                              box,
                              true,
                              false,
                              chord.stem_up,
                              chord.stem_up ? box.top() : box.bottom()});
    }
    if (strummed_.empty()) slash(chord);
  }

  /// The figures printed last say what is strummed; a partial stroke takes some of them.
  bool stands(const score::Event& e) const {
    return std::all_of(e.notes.begin(), e.notes.end(), [&](const score::Note& note) {
      const auto found = strummed_.find(note.string);
      return found != strummed_.end() && found->second == note.fret;
    });
  }

  void slash(Chord& chord) {
    const MusicSign sign = chord.heads.front().sign;
    const Rect box = staff_.measure(sign).box;
    const Rect drawn =
        staff_.sign({chord.attack ? layout::Kind("slash") : layout::Kind("slash-held"), event(chord).origin,
                     staff_.subject(chord.event)},
                    sign, {chord.x + chord.heads.front().left - box.width / 2 - box.x, staff_.height() / 2});
    // Its stem grows from its corner, through the lines, to where the stems of the figures end.
    const Length half = staff_.space(staff_.system.style.engraving.stem / 2);
    chord.stem_x = (chord.stem_up ? drawn.right() - half : drawn.left() + half) - chord.x;
    chord.stem_from = chord.stem_up ? drawn.top() : drawn.bottom();
    if (chord.heads.front().ghost) {
      draw_parentheses(staff_, drawn, staff_.height() / 2, event(chord).origin, staff_.subject(chord.event));
    }
    staff_.notes.push_back({staff_.subject(chord.event),
                            {chord.bar, chord.onset},
                            chord.voice,
                            drawn,
                            chord.attack,
                            false,
                            chord.stem_up,
                            chord.stem_up ? drawn.top() : drawn.bottom()});
  }

  void figures(Chord& chord) {
    if (chord.slash && !chord.heads.empty()) {
      strum(chord);
      return;
    }
    strummed_.clear();
    for (const Head& head : chord.heads) {
      if (head.note < 0) continue;
      const score::Note& note = event(chord).notes[static_cast<std::size_t>(head.note)];
      if (note.string < 1 || note.string > plan_.lines) continue;
      const bool held = !chord.attack || note.tied_from;
      if (!held) {
        figure(chord, head, note, figure_text(note), false);
      } else if (held_.struck_anew(chord, note)) {
        continue;
      } else if (held_.named(chord, head)) {
        figure(chord, head, note, note.ghost ? figure_text(note) : "(" + figure_text(note) + ")", true);
      } else if (plan_.rhythm) {
        held_.add(chord, head, true, chord.x, chord.x);
      }
    }
  }

  /// Two voices that meet on one string at one fret share its figure.
  bool told_already(const Chord& chord, const score::Note& note) const {
    return std::any_of(staff_.notes.begin(), staff_.notes.end(), [&](const DrawnNote& o) {
      if (o.grace || !o.attack || o.voice == chord.voice || o.at != score::Place{chord.bar, chord.onset}) return false;
      if (o.subject.note < 0) return false;
      const score::Note& other = staff_.system.timeline.events[static_cast<std::size_t>(o.subject.event)]
                                     .notes[static_cast<std::size_t>(o.subject.note)];
      return other.string == note.string && figure_text(other) == figure_text(note);
    });
  }

  void figure(const Chord& chord, const Head& head, const score::Note& note, const std::string& words, bool held) {
    const text::Line& line = inks_.figure(words, held ? kSmallFigure : 1);
    const Length y = staff_.string_y(note.string);
    const Span origin = note.origin.length() > 0 ? note.origin : event(chord).origin;
    if (held || !told_already(chord, note))
      draw_figure(held ? layout::Kind("tab-figure-held") : layout::Kind("tab-figure"), line, {chord.x, y}, origin,
                  staff_.subject(chord.event, head.note));
    const Rect box{chord.x - line.width / 2, y - line.ink.height / 2, line.width, line.ink.height};
    held_.add(chord, head, held, box.left(), box.right());
    staff_.notes.push_back({staff_.subject(chord.event, head.note),
                            {chord.bar, chord.onset},
                            chord.voice,
                            box,
                            !held,
                            false,
                            chord.stem_up,
                            chord.stem_up ? box.top() : box.bottom()});
  }

  void draw_figure(layout::Kind kind, const text::Line& line, Point middle, Span origin, layout::Subject subject) {
    const Length left = middle.x - line.width / 2;
    const Length baseline = middle.y - (line.ink.top() + line.ink.bottom()) / 2;
    const Length pad = staff_.space(0.12);
    staff_.knock_out({left - pad, baseline + line.ink.top(), line.width + pad + pad, line.ink.height});
    staff_.words({kind, origin, subject}, line, {left, baseline}, staff_.system.style.ink);
  }

  void grace(const Chord& chord) {
    const score::Event& e = event(chord);
    const Length end = staff_.system.grace_end({chord.bar, chord.onset}, plan_.part);
    Length x = end - chord.grace_width;
    for (std::size_t i = 0; i < e.grace->notes.size(); ++i) {
      const score::Note& note = e.grace->notes[i];
      const Length room = grace_figure_room(inks_, note);
      const Point middle{x + room / 2, staff_.string_y(std::max<int>(1, note.string))};
      x += room;
      if (note.string < 1 || note.string > plan_.lines) continue;
      const text::Line& line = inks_.figure(figure_text(note), kSmallFigure);
      const layout::Subject subject = staff_.subject(chord.event);
      draw_figure("grace-figure", line, middle, e.origin, subject);
      const Rect box{middle.x - line.width / 2, middle.y - line.ink.height / 2, line.width, line.ink.height};
      staff_.notes.push_back({subject, {chord.bar, chord.onset}, chord.voice, box, true, true, chord.stem_up, {}});
    }
  }

  void rest(const Chord& chord) {
    const MusicSign sign = rest_sign(chord).first;
    const Rect box = staff_.measure(sign).box;
    Length x = chord.x, y = staff_.height() / 2;
    if (chord.whole_bar_rest) {
      const auto i = static_cast<std::size_t>(chord.bar - staff_.system.first_bar);
      x = (staff_.system.bar_left[i] + staff_.system.bar_right[i]) / 2;
      y = staff_.line_y(std::max(1, (plan_.lines + 1) / 2));
    } else {
      const Length middle = (row_.foot + row_.tip) / 2;
      y = (chord.stem_up ? -middle : staff_.height() + middle) - (box.top() + box.bottom()) / 2;
    }
    const StaffContext::Tag tag{"rest", staff_.system.section.bars[static_cast<std::size_t>(chord.bar)].origin,
                                staff_.subject()};
    const Length left = x - box.width / 2;
    staff_.sign(tag, sign, {left - box.x, y});
    const bool hangs = sign == MusicSign::RestWhole || sign == MusicSign::RestHalf;
    if (hangs && !chord.whole_bar_rest) draw_rest_line(staff_, tag, left, left + box.width, y);
  }

  void dots(const Chord& chord) {
    const Length away = row_.foot + tab_stem_gap(staff_, chord) + staff_.space(0.45);  // beside the stem
    const Length y = chord.stem_up ? -away : staff_.height() + away;
    Length x = chord.x + std::max(Length{}, chord.stem_x) + chord.dots_left;
    for (int i = 0; i < chord.dots; ++i) {
      staff_.sign({"dot", event(chord).origin, staff_.subject(chord.event)}, MusicSign::AugmentationDot, {x, y});
      x += staff_.space(kTabDotStep);
    }
  }

  StaffContext& staff_;
  StaffPlan& plan_;
  Inks& inks_;
  TabRow row_;
  HeldFigures held_;
  std::map<int, int> strummed_;  ///< string to fret: the figures that stand for the strums of this voice
};

}  // namespace

namespace {

/// A note with its stem above that stands on the top line and is reached in legato, or has a grace note there.
bool arc_under_stem(const StaffContext& staff, const Chord& chord) {
  using song::Arrival;
  const int top = staff.plan.mirrored ? staff.plan.lines : 1;
  if (chord.event < 0 || chord.rest || chord.slash || !chord.stem_up) return false;
  const score::Event& event = staff.system.timeline.events[static_cast<std::size_t>(chord.event)];
  const bool joined = std::any_of(event.notes.begin(), event.notes.end(), [top](const score::Note& note) {
    const Arrival how = note.more->link.kind;
    return note.string == top && (how == Arrival::HammerOn || how == Arrival::PullOff || how == Arrival::LegatoSlide);
  });
  return joined || std::any_of(event.grace->notes.begin(), event.grace->notes.end(),
                               [top](const score::Note& note) { return note.string == top; });
}

/// Heights that the strings of a note are bent to, where stems of an upper voice stand over it.
std::size_t bend_levels(const StaffContext& staff, const Chord& chord) {
  if (chord.event < 0 || chord.rest || chord.slash || (chord.lone && !chord.stem_up)) return 0;
  std::set<Fraction> levels;
  for (const score::Note& note : staff.system.timeline.events[static_cast<std::size_t>(chord.event)].notes)
    for (const score::BendPoint& point : note.more->bend)
      if (point.semitones > Fraction()) levels.insert(point.semitones);
  return levels.size();
}

}  // namespace

Length tab_stem_gap(const StaffContext& staff, const Chord& chord) {
  return staff.space(chord.value == theory::NoteValue::kHalf ? 1.15 : 0);
}

TabRow tab_row(const StaffContext& staff, const StaffPlan& plan) {
  TabRow row;
  row.foot = staff.shape("(0)", staff.system.style.figure).ink.height / 2 + staff.space(0.3);
  Length length = staff.space(2.5);
  bool arcs = false;  // over the top line, where stems begin
  std::size_t levels = 0;
  for (int bar = staff.system.first_bar; bar < staff.system.last_bar; ++bar) {
    for (const Chord& chord : plan.bars[static_cast<std::size_t>(bar)].chords) {
      arcs = arcs || arc_under_stem(staff, chord);
      levels = std::max(levels, bend_levels(staff, chord));
      if (!chord.flag()) continue;
      length = std::max(length, staff.measure(flag_sign(chord.value, chord.stem_up)).box.height + staff.space(0.15));
    }
  }
  if (arcs) row.foot += staff.space(1.2);
  row.over_bends = levels > 0;
  if (row.over_bends) row.foot += staff.space(3.6 + kBendStep * static_cast<double>(levels - 1));
  row.tip = row.foot + length;
  return row;
}

HeldFigures draw_tab(StaffContext& staff, StaffPlan& plan, Inks& inks) {
  return TabDrawer(staff, plan, inks).run();
}

}  // namespace tunesheaf::engrave

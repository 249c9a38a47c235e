// The ink of a chord on a tab: its figures, a rest or a slash, dots beside the stem, small figures before it.
#include <algorithm>

#include "chord_room.h"

namespace tunesheaf::engrave {

namespace {

/// From a stem below or above a tab to its dots: past the flag.
Length tab_dots_left(const Chord& chord, text::MusicFont& music, Length sp) {
  if (!chord.flag()) return sp * 0.4;
  return std::max(sp * 0.4, music.sign(flag_sign(chord.value, chord.stem_up), sp).box.right() + sp * 0.15);
}

/// A figure of the chord stands at the height of a slash, in the middle of the tab.
bool near_middle(const StaffPlan& plan, const score::Event& event, Length slash, Inks& inks) {
  const Length reach = (slash + inks.figure("8").ink.height) / 2 + inks.sp * 0.1;
  return std::any_of(event.notes.begin(), event.notes.end(), [&](const score::Note& note) {
    const double lines = note.string < 1 ? 0 : plan.line_of(note.string) - (plan.lines + 1) / 2.0;
    return note.string >= 1 && inks.sp * (plan.line_distance * std::abs(lines)) < reach;
  });
}

}  // namespace

void layout_tab(Chord& chord, const score::Timeline& timeline, Inks& inks, bool rhythm) {
  if (chord.rest) {
    if (!rhythm) return;
    const Length width = inks.sign(rest_sign(chord).first).box.width;
    chord.left = -(width / 2);
    chord.right = width / 2;
    return;
  }
  const score::Event& event = timeline.events[static_cast<std::size_t>(chord.event)];
  const bool kept = !chord.attack;
  if (chord.slash && !chord.heads.empty()) {
    Length half = inks.sign(chord.heads.front().sign).box.width / 2;
    if (chord.heads.front().ghost) half += inks.sign(MusicSign::ParenthesisLeft).box.width * 1.3;
    chord.left = -half;
    chord.right = half;
    for (const score::Note& note : event.notes) {
      const Length figure = inks.figure(figure_text(note)).width / 2;
      chord.left = std::min(chord.left, -figure);
      chord.right = std::max(chord.right, figure);
    }
  }
  for (const Head& head : chord.heads) {
    if (head.note < 0) continue;
    const score::Note& note = event.notes[static_cast<std::size_t>(head.note)];
    const bool held = kept || note.tied_from;
    if (held && !rhythm && chord.onset != Fraction()) continue;
    // A held note may be named again in parentheses: at the beginning of a system, and where the tab has the rhythm.
    const Length half = held ? inks.figure("(" + figure_text(note) + ")", kSmallFigure).width / 2
                             : inks.figure(figure_text(note)).width / 2;
    chord.left = std::min(chord.left, -half);
    chord.right = std::max(chord.right, half);
  }
  if (rhythm && chord.flag()) {
    chord.right = std::max(chord.right, inks.sign(flag_sign(chord.value, chord.stem_up)).box.right());
  }
  if (rhythm && chord.dots > 0) {
    chord.dots_left = tab_dots_left(chord, inks.music, inks.sp);
    // The stem of a slash grows from its corner, upwards from the right one.
    const bool corner = chord.slash && chord.stem_up && !chord.heads.empty();
    const Length stem = corner ? inks.sign(chord.heads.front().sign).box.width / 2 : Length{};
    chord.right = std::max(chord.right, stem + chord.dots_left + inks.sp * (kTabDotStep * chord.dots));
  }
  for (const score::Note& note : event.grace->notes) {
    if (!chord.grace.empty()) chord.grace_width += grace_figure_room(inks, note);
  }
}

void part_held_slashes(const StaffPlan& plan, StaffBar& bar, const score::Timeline& timeline, Inks& inks) {
  for (Chord& slash : bar.chords) {
    if (!slash.slash || slash.attack || slash.rest || slash.heads.empty()) continue;
    const Rect sign = inks.sign(slash.heads.front().sign).box;
    Length beyond;
    for (const Chord& other : bar.chords) {
      if (other.onset != slash.onset || other.voice == slash.voice || other.rest || other.slash) continue;
      if (near_middle(plan, timeline.events[static_cast<std::size_t>(other.event)], sign.height, inks))
        beyond = std::max(beyond, other.right);
    }
    if (beyond == Length{}) continue;
    const Length half = sign.width / 2;
    slash.heads.front().left = beyond + inks.sp * 0.3 + std::max(half, -slash.left);
    slash.right += slash.heads.front().left;
  }
}

}  // namespace tunesheaf::engrave

#include "chord_room.h"

#include <algorithm>
#include <map>

#include "marks.h"

namespace tunesheaf::engrave {

namespace {

bool slides_off(const Chord& chord, const score::Timeline& timeline) {
  const auto& notes = timeline.events[static_cast<std::size_t>(chord.event)].notes;
  return std::any_of(notes.begin(), notes.end(),
                     [](const score::Note& note) { return note.slide_off != song::SlideOff::None; });
}

/// The event is not held on after this piece of it.
bool last_piece(const StaffPlan& plan, const Chord& chord) {
  const auto b = static_cast<std::size_t>(chord.bar);
  for (std::size_t i = b; i < std::min(plan.bars.size(), b + 2); ++i)
    for (const Chord& other : plan.bars[i].chords)
      if (other.event == chord.event && (other.bar > chord.bar || other.onset > chord.onset)) return false;
  return true;
}

/// Room on a tab for the fret of a trill or of a touch beside its figure.
Length second_figure(const score::Event& event, Inks& inks) {
  Length room;
  for (const score::Note& note : event.notes) {
    if (event.kind != score::EventKind::Notes) break;
    const std::string beside = figure_beside(note);
    if (!beside.empty()) room = std::max(room, inks.figure(beside, kSmallFigure).width + inks.sp * 0.35);
  }
  return room;
}

}  // namespace

void room_for_marks(const StaffPlan& plan, StaffBar& bar, const score::Timeline& timeline, Inks& inks) {
  const Length sp = inks.sp;
  const bool tab = plan.kind == StaffKind::Tab;
  std::map<Fraction, Length> ends;    // right edge of all that begins together
  std::map<Fraction, Length> beside;  // and the room of the second figures behind it
  for (Chord& chord : bar.chords) {
    chord.ink_left = chord.left;
    chord.ink_right = chord.right;
    if (!chord.hidden) ends[chord.onset] = std::max(ends[chord.onset], chord.right);
    if (!tab || !chord.attack || chord.rest || chord.event < 0) continue;
    beside[chord.onset] =
        std::max(beside[chord.onset], second_figure(timeline.events[static_cast<std::size_t>(chord.event)], inks));
  }
  for (Chord& chord : bar.chords) {
    if (!tab && chord.has_stem && tremolo_strokes(timeline, chord) > 0) {
      chord.left = std::min(chord.left, chord.stem_x - sp * kTremoloHalf);
      chord.right = std::max(chord.right, chord.stem_x + sp * kTremoloHalf);
    }
    if (chord.rest || chord.event < 0) continue;
    if (!chord.attack) {
      if (slides_off(chord, timeline) && last_piece(plan, chord)) chord.right += sp * 1.5;
      continue;
    }
    const score::Event& event = timeline.events[static_cast<std::size_t>(chord.event)];
    const MarkRoom room = mark_room(event, plan.kind);
    // Strings are bent behind the second figures.
    const Length right = room.right > 0 ? beside[chord.onset] + sp * room.right
                         : tab          ? second_figure(event, inks)
                                        : Length{};
    if (plan.slashes) {
      const std::string strings = strings_of_strum(timeline, event);
      const Length half = strings.empty() ? Length{} : inks.half_label(strings);
      chord.left = std::min(chord.left, -half);
      chord.right = std::max(chord.right, half);
    }
    chord.left -= sp * room.left;
    if (right > Length{}) chord.right = std::max(chord.right, ends[chord.onset]) + right;
    if (chord.slash) continue;
    for (const score::Note& note : event.notes) {
      Length half;
      if (note.finger > 0 && (!tab || plan.alone)) half = inks.half_letter('0', false);
      if (note.pluck != 0 && (tab || plan.alone)) half = std::max(half, inks.half_letter(note.pluck, true));
      chord.left = std::min(chord.left, -half);
      chord.right = std::max(chord.right, half);
    }
  }
}

}  // namespace tunesheaf::engrave

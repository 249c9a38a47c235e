// Strokes of tremolo and rolls. They stand on the stem between its flag or beams and its head; the stem is as long as
// that takes. Flags and beams count as strokes of an unmeasured tremolo, which has three in all (Gould 2011).
#include <algorithm>

#include "draw.h"

namespace tunesheaf::engrave {

namespace {

using layout::PathVerb;

constexpr double kStrokeStep = 0.8;  ///< sp from one stroke to the next
constexpr double kHalfWidth = kTremoloHalf, kHalfDepth = 0.2, kTilt = 0.18;
constexpr double kReach = kHalfDepth + kTilt;  ///< of one stroke from its middle, upwards or downwards

const score::Event* event_of(const StaffContext& staff, const Chord& chord) {
  return chord.event < 0 ? nullptr : &staff.system.timeline.events[static_cast<std::size_t>(chord.event)];
}

int strokes_of(const StaffContext& staff, const Chord& chord) {
  return tremolo_strokes(staff.system.timeline, chord);
}

/// White from the end of the stem to the first stroke, past flags and beams; from the last one to the head's middle.
double from_tip(const StaffContext& staff, const Chord& chord) {
  const style::EngravingStyle& e = staff.system.style.engraving;
  const int flags = theory::flag_count(chord.value);
  if (flags == 0) return 0.35;
  if (chord.beam >= 0) return e.beam + (e.beam + e.beam_gap) * (flags - 1) + 0.25;
  return 1.95 + 0.8 * (flags - 1);
}
double from_head(const Chord& chord) {
  const Head& outer = chord.stem_up ? chord.heads.back() : chord.heads.front();
  if (outer.accidental && !chord.stem_up) return 1.55;  // the strokes reach over the sign left of the head
  return outer.ghost ? 1.1 : 0.7;
}

void stroke(StaffContext& staff, StaffContext::Tag tag, Point middle) {
  const Length w = staff.space(kHalfWidth), h = staff.space(kHalfDepth), tilt = staff.space(kTilt);
  staff.fill_sliced(tag, {{PathVerb::Move, {middle.x - w, middle.y - h + tilt}, {}, {}},
                          {PathVerb::Line, {middle.x + w, middle.y - h - tilt}, {}, {}},
                          {PathVerb::Line, {middle.x + w, middle.y + h - tilt}, {}, {}},
                          {PathVerb::Line, {middle.x - w, middle.y + h + tilt}, {}, {}},
                          {PathVerb::Close, {}, {}, {}}});
}

bool buzzes(const StaffContext& staff, const Chord& chord) {
  const score::Event* event = event_of(staff, chord);
  return event != nullptr &&
         std::any_of(event->notes.begin(), event->notes.end(), [](const score::Note& note) { return note.buzz; });
}

/// A z through the stem, for a roll of strokes that nobody counts.
void buzz(StaffContext& staff, StaffContext::Tag tag, Point middle) {
  const Length w = staff.space(0.5), h = staff.space(0.5), bar = staff.space(0.2), slant = staff.space(0.26);
  const Length left = middle.x - w, right = middle.x + w, top = middle.y - h, bottom = middle.y + h;
  staff.fill({"buzz", tag.origin, tag.subject}, {{PathVerb::Move, {left, top}, {}, {}},
                                                 {PathVerb::Line, {right, top}, {}, {}},
                                                 {PathVerb::Line, {right, top + bar}, {}, {}},
                                                 {PathVerb::Line, {left + slant, bottom - bar}, {}, {}},
                                                 {PathVerb::Line, {right, bottom - bar}, {}, {}},
                                                 {PathVerb::Line, {right, bottom}, {}, {}},
                                                 {PathVerb::Line, {left, bottom}, {}, {}},
                                                 {PathVerb::Line, {left, bottom - bar}, {}, {}},
                                                 {PathVerb::Line, {right - slant, top + bar}, {}, {}},
                                                 {PathVerb::Line, {left, top + bar}, {}, {}},
                                                 {PathVerb::Close, {}, {}, {}}});
}

}  // namespace

int tremolo_strokes(const score::Timeline& timeline, const Chord& chord) {
  if (chord.event < 0 || chord.heads.empty()) return 0;
  const score::Event& event = timeline.events[static_cast<std::size_t>(chord.event)];
  // Drums struck at once share the stem: the fastest roll is shown.
  int strokes = 0;
  for (const score::Note& note : event.notes) {
    if (note.buzz) return 1;
    strokes = std::max<int>(strokes, note.roll_strokes);
  }
  if (strokes > 0) return strokes;
  return event.tremolo ? std::max(1, 3 - theory::flag_count(chord.value)) : 0;
}

double tremolo_room(const StaffContext& staff, const Chord& chord) {
  const int strokes = strokes_of(staff, chord);
  if (strokes == 0) return 0;
  return from_tip(staff, chord) + kStrokeStep * (strokes - 1) + 2 * kReach + from_head(chord);
}

void draw_tremolo(StaffContext& staff, const Chord& chord) {
  const int strokes = strokes_of(staff, chord);
  if (strokes == 0) return;
  const StaffContext::Tag tag{"tremolo", event_of(staff, chord)->origin, staff.subject(chord.event)};
  const bool up = chord.has_stem || !chord.lone ? chord.stem_up : true;  // a note without a stem has them over it
  const double way = up ? -1 : 1;                                        // of the stem, in y
  const Length head = staff.position_y(up ? chord.top() : chord.bottom());
  if (!chord.has_stem) {  // over the head, which may stand beside the other voice's
    const Head& outer = up ? chord.heads.back() : chord.heads.front();
    const Length x = chord.x + outer.left + staff.measure(outer.sign).box.width / 2;
    if (buzzes(staff, chord)) return buzz(staff, tag, {x, head + staff.space(1.3 * way)});
    for (int i = 0; i < strokes; ++i) stroke(staff, tag, {x, head + staff.space((1.3 + kStrokeStep * i) * way)});
    return;
  }
  const Length first = chord.stem_tip - staff.space((from_tip(staff, chord) + kReach) * way);
  const Length last = head + staff.space((from_head(chord) + kReach) * way);
  const Length begin = (first + last) / 2 + staff.space(kStrokeStep * (strokes - 1) / 2 * way);
  if (buzzes(staff, chord)) return buzz(staff, tag, {chord.x + chord.stem_x, begin});
  for (int i = 0; i < strokes; ++i)
    stroke(staff, tag, {chord.x + chord.stem_x, begin - staff.space(kStrokeStep * i * way)});
}

}  // namespace tunesheaf::engrave

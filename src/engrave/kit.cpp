#include "kit.h"

#include "tunesheaf/engrave/drum_heads.h"

namespace tunesheaf::engrave {

bool is_cross(MusicSign head) {
  return head == MusicSign::NoteheadXBlack || head == MusicSign::NoteheadXHalf || head == MusicSign::NoteheadXWhole;
}

MusicSign drum_head_sign(theory::DrumHead head, theory::NoteValue value) {
  using theory::DrumHead;
  const bool whole = value <= theory::NoteValue::kWhole, half = value == theory::NoteValue::kHalf;
  switch (head) {
    case DrumHead::Black:
      if (value == theory::NoteValue::kBreve) return MusicSign::NoteheadDoubleWhole;
      return whole ? MusicSign::NoteheadWhole : half ? MusicSign::NoteheadHalf : MusicSign::NoteheadBlack;
    case DrumHead::Cross:
      return whole ? MusicSign::NoteheadXWhole : half ? MusicSign::NoteheadXHalf : MusicSign::NoteheadXBlack;
    case DrumHead::Diamond:
      return whole || half ? MusicSign::NoteheadDiamondWhite : MusicSign::NoteheadDiamondBlack;
    case DrumHead::Triangle:
      return whole || half ? MusicSign::NoteheadTriangleUpWhite : MusicSign::NoteheadTriangleUpBlack;
    case DrumHead::CircleCross:
      return MusicSign::NoteheadCircleX;
  }
  return MusicSign::NoteheadBlack;
}

const score::Drum* drum_of(const score::Note& note, const score::Part& part) {
  const bool known = note.drum >= 0 && note.drum < static_cast<int>(part.kit.size());
  return known ? &part.kit[static_cast<std::size_t>(note.drum)] : nullptr;
}

void small_drum_heads(Chord& chord, const score::Event& event, const score::Part& part) {
  for (const Head& head : chord.heads) {
    if (head.note < 0) continue;
    const score::Note& note = event.notes[static_cast<std::size_t>(head.note)];
    if (note.drum_grace <= static_cast<int>(chord.grace.size())) continue;
    Head small = head;
    if (const score::Drum* drum = drum_of(note, part))
      small.sign = drum_head_sign(drum->place.head, theory::NoteValue::kEighth);
    small.ghost = small.tied_from = false;
    chord.grace.assign(static_cast<std::size_t>(note.drum_grace), small);
  }
}

void fit_rests(StaffBar& bar, int lines) {
  if (lines == 5) return;
  for (Chord& chord : bar.chords) {
    if (!chord.rest) continue;
    const bool hangs = chord.value == theory::NoteValue::kWhole, sits = chord.value == theory::NoteValue::kHalf;
    if (!hangs && !sits) continue;
    // A whole rest hangs two half spaces over its position: from a line, the only one where there is but one.
    if (hangs && lines == 1) chord.rest_position -= 2;
    if (lines % 2 == 0) chord.rest_position -= 1;
  }
}

}  // namespace tunesheaf::engrave

#include "stems.h"

#include <algorithm>

namespace tunesheaf::engrave {

namespace {
bool points_up(int top, int bottom) {
  return -bottom > top;
}
}  // namespace

namespace {

/// Half spaces that a rest's ink takes on either side of its middle.
int half_height(const Chord& rest) {
  if (rest.value <= theory::NoteValue::kHalf) return 1;
  if (rest.value == theory::NoteValue::kQuarter) return 3;
  return theory::flag_count(rest.value) + 1;
}

/// Where two voices are silent together one rest, in its usual place, says so.
void share_rests(StaffBar& bar) {
  for (Chord& upper : bar.chords) {
    for (Chord& lower : bar.chords) {
      const bool pair = upper.rest && lower.rest && !upper.lone && upper.stem_up && !lower.stem_up && !lower.hidden;
      if (!pair || upper.onset != lower.onset || upper.value != lower.value || upper.dots != lower.dots) continue;
      if (upper.tuplet >= 0 || lower.tuplet >= 0) continue;
      lower.hidden = true;
      upper.rest_position = 0;
      upper.lone = true;
    }
  }
}

/// Rests of two voices make way: half a staff for the other voice, more where its heads come near (Gould 2011).
void part_rests(StaffBar& bar) {
  for (Chord& rest : bar.chords) {
    if (!rest.rest || rest.lone || rest.hidden) continue;
    int away = 2;
    for (const Chord& other : bar.chords) {
      if (other.voice == rest.voice || other.hidden) continue;
      if (other.onset >= rest.onset + rest.duration || other.onset + other.duration <= rest.onset) continue;
      if (other.rest) {
        away = std::max(away, 4);
      } else if (!other.heads.empty()) {
        const int near = rest.stem_up ? other.top() : -other.bottom();
        const Head& nearest = rest.stem_up ? other.heads.back() : other.heads.front();
        // A quarter rest is all strokes and tails: beside a head it needs a whole space of white to be seen as itself.
        const bool wide = nearest.ghost || rest.value == theory::NoteValue::kQuarter;
        away = std::max(away, near + half_height(rest) + (wide ? 3 : 2));
      }
    }
    away += away % 2;
    rest.rest_position = rest.stem_up ? away : -away;
  }
  // One height for all rests of a voice in a bar, the farthest that one of them needs.
  for (Chord& rest : bar.chords) {
    if (!rest.rest || rest.lone || rest.hidden) continue;
    for (const Chord& other : bar.chords) {
      if (!other.rest || other.lone || other.hidden || other.voice != rest.voice) continue;
      if (std::abs(other.rest_position) > std::abs(rest.rest_position)) rest.rest_position = other.rest_position;
    }
  }
}

}  // namespace

void decide_stems(StaffBar& bar, Stems stems) {
  if (stems == Stems::OfDrums) {
    for (Chord& chord : bar.chords) chord.stem_up = chord.voice == 1;
    share_rests(bar);
    part_rests(bar);
    return;
  }
  share_rests(bar);
  part_rests(bar);
  for (Chord& chord : bar.chords) {
    if (!chord.lone || chord.rest || chord.heads.empty()) continue;
    chord.stem_up = points_up(chord.top(), chord.bottom());
  }
  for (const BeamGroup& beam : bar.beams) {
    int top = -100, bottom = 100;
    for (const int i : beam.chords) {
      const Chord& chord = bar.chords[static_cast<std::size_t>(i)];
      if (chord.heads.empty() || !chord.lone) continue;
      top = std::max(top, chord.top());
      bottom = std::min(bottom, chord.bottom());
    }
    if (top < bottom) continue;
    for (const int i : beam.chords) bar.chords[static_cast<std::size_t>(i)].stem_up = points_up(top, bottom);
  }
}

namespace {

/// The other voice strikes where the rest begins.
bool struck_with(const StaffBar& bar, const Chord& rest) {
  return std::any_of(bar.chords.begin(), bar.chords.end(), [&](const Chord& o) {
    return !o.rest && o.attack && o.voice != rest.voice && o.onset == rest.onset;
  });
}

/// Something of the other voice ends with the rest, so that its length is seen without it.
bool ends_with(const StaffBar& bar, const Chord& rest) {
  return std::any_of(bar.chords.begin(), bar.chords.end(), [&](const Chord& o) {
    return o.voice != rest.voice && o.onset + o.duration == rest.onset + rest.duration;
  });
}

}  // namespace

void tab_stems(StaffBar& bar) {
  for (Chord& chord : bar.chords) {
    if (chord.lone) chord.stem_up = false;
    // Over a figure that is struck there a rest would say that nothing is: two voices of a tab are one hand's. Under
    // the bracket of a tuplet it is needed for the count, and so it is where the other voice does not say when it ends.
    chord.hidden = chord.hidden || (chord.rest && chord.tuplet < 0 && struck_with(bar, chord) && ends_with(bar, chord));
  }
}

}  // namespace tunesheaf::engrave

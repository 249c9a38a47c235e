#include "stems.h"

#include <algorithm>

namespace tunesheaf::engrave {

namespace {
bool points_up(int top, int bottom) {
  return -bottom > top;
}
}  // namespace

void decide_stems(StaffBar& bar) {
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

void tab_stems(StaffBar& bar) {
  for (Chord& chord : bar.chords) {
    if (chord.lone) chord.stem_up = false;
  }
}

}  // namespace tunesheaf::engrave

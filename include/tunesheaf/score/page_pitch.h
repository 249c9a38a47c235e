// Page pitch and concert pitch. In: a MIDI key as the page writes it, or as it sounds. Out: the other. The page is
// concert with the first fretted part's full capo off, so that an open string stands on the page under the name the
// player gives it. Invariant: the two functions undo each other. Read next: score/timeline.h.
#pragma once
#include "tunesheaf/check/checked.h"

namespace tunesheaf::score {

inline int concert_of_page(const check::CheckedData& song, int page_midi) {
  return page_midi + song.page_capo;
}
inline int page_of_concert(const check::CheckedData& song, int concert_midi) {
  return concert_midi - song.page_capo;
}

}  // namespace tunesheaf::score

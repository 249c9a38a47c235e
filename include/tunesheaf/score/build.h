// CheckedSong to Timeline. In: a song that check has passed. Out: the Timeline; cannot fail. Linear in cells.
#pragma once
#include "tunesheaf/check/checked.h"
#include "tunesheaf/score/timeline.h"

namespace tunesheaf::score {
Timeline build(const check::CheckedSong& checked);
}  // namespace tunesheaf::score

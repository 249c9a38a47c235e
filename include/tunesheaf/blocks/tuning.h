// The tuning ladder. In: a Setting. Out: per part that is not tuned as usual a table, string by string: note, frequency
// at A4 = 440 and at the pitch of the recording followed, the way from the instrument's usual tuning, what it does to
// the tension, and the order of turning. Parts in their usual tuning take one line. Invariant: wherever a string goes
// up, the caution stands above the table. Source of the numbers: theory/retune.h. Read next: blocks/map.h.
#pragma once
#include "tunesheaf/blocks/setting.h"

namespace tunesheaf::blocks {

Flow tuning_ladder(const Setting& setting);

}  // namespace tunesheaf::blocks

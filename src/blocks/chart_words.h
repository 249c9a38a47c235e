// Words that are sung, as a cue on a chart. In: a section and words of it. Out: how they begin, cut where a phrase
// ends. Invariant: no word is cut. Read next: blocks/chart.h.
#pragma once
#include <string>
#include <vector>

#include "tunesheaf/score/timeline.h"

namespace tunesheaf::blocks {

/// "Bring in the chairs …"; empty where nothing is sung.
std::string first_words(const score::Section& section, const std::vector<score::Word>& words);

}  // namespace tunesheaf::blocks

// The rows of the page of signs, in the order of the page. In: nothing. Out: examples, added at the end of `rows`.
#pragma once
#include "tunesheaf/song/legend.h"

namespace tunesheaf::song {

using LegendRows = std::vector<LegendExample>;
inline void add(LegendRows& rows, const LegendRows& more) {
  rows.insert(rows.end(), more.begin(), more.end());
}
void add_fretted_examples(LegendRows& rows);
void add_player_examples(LegendRows& rows);

}  // namespace tunesheaf::song

// What must be found on a handout. In: a Setting. Out: every written note of the shown parts, once per staff that shows
// its part. Invariant: computed from the Timeline alone, never from what was drawn.
#pragma once
#include <vector>

#include "tunesheaf/blocks/setting.h"
#include "tunesheaf/sheet/sheet.h"

namespace tunesheaf::sheet {

/// `sections`: those printed, as indices; empty: all.
std::vector<Expected> expected_notes(const blocks::Setting& setting, const std::vector<int>& sections = {});

/// Where in the song the words stand that a reader must find on the sheet: names, remarks, what is said and sung,
/// loudness and tempo of the sections and shown parts.
std::vector<source::Span> said_words(const blocks::Setting& setting, const std::vector<int>& sections = {});

}  // namespace tunesheaf::sheet

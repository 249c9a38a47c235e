// The page that explains every sign. In: a song whose sections are examples of a few bars, and for each the name and
// the words. Out: a title, and in columns the groups: small pictures with the words beside them. Invariant: the
// pictures are engraved as on any sheet, so that no sign here can differ from the sign in a song. Read next:
// song/legend.h.
#pragma once
#include <string>
#include <vector>

#include "tunesheaf/blocks/setting.h"

namespace tunesheaf::blocks {

struct SignCell {
  int section = 0;  ///< index into Timeline::sections
  std::string name, words;
  std::string staves = "both";  ///< as Style::show_staves: a sign is shown where it says most
};
struct SignGroup {
  std::string heading;
  std::vector<SignCell> cells;
};

struct SignPages {
  Flow flow;
  std::vector<source::Span> overfull;  ///< examples wider than their column
};

SignPages legend_page(const Setting& setting, const std::vector<SignGroup>& groups);

}  // namespace tunesheaf::blocks

// From the words of a lane line to its typed bars. In: the line, where it stands in the file, which lane it is. Out: a
// Lane. Invariant: a cell that is not understood is reported and kept as a hold, so that what follows is still counted
// right. Read next: lane_text.h (before this), lanes.cpp (blocks and stanzas).
#pragma once
#include <string_view>
#include <vector>

#include "context.h"
#include "lane_text.h"
#include "vocabulary.h"

namespace tunesheaf::song {

/// A line of lanes in its file. Not exact: quotes or escapes moved its bytes, and `base` is all that is known.
struct LineText {
  std::string_view text;
  Span base;
  bool exact = true;
  Span span(std::size_t begin, std::size_t end) const {
    if (!exact) return base;
    return {base.file, base.begin + static_cast<std::uint32_t>(begin), base.begin + static_cast<std::uint32_t>(end)};
  }
};

Lane read_lane(Context& context, const LineText& line, const RawLine& raw, const LaneMatch& match);
/// "7/" before silence slides off upwards; the note it leads to is reached by a shift slide.
void join_slides(std::vector<Stanza>& stanzas);

}  // namespace tunesheaf::song

// What a player who rests is shown of another part.
#include <algorithm>

#include "builder.h"

namespace tunesheaf::score {

void build_cues(const Builder& builder, const CheckedSection& section, const CheckedMusic& from, PartMusic& out) {
  for (const check::CueSpan& span : check::cue_spans(section, from)) {
    const auto& parts = builder.song.parts;
    const auto part =
        std::find_if(parts.begin(), parts.end(), [&](const CheckedPart& p) { return p.def->name.value == span.name; });
    if (part == parts.end()) continue;
    out.cues.push_back({static_cast<int>(part - parts.begin()), span.first, span.behind, span.cell->span});
  }
}

}  // namespace tunesheaf::score

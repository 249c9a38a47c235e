// Clefs that change within a section.
#include <algorithm>

#include "builder.h"

namespace tunesheaf::score {

int octaves_above(const std::string& clef) {
  return clef == "treble 8vb" || clef == "bass 8vb" ? 1 : 0;
}

void build_clefs(const CheckedMusic& from, PartMusic& out) {
  for (const PlacedLane& lane : from.lanes) {
    if (lane.kind != song::LaneKind::Clef) continue;
    for (const PlacedCell& cell : lane.cells) {
      const auto* word = std::get_if<song::WordCell>(&cell.cell->content);
      if (!word) continue;
      const std::string clef = check::clef_of(word->text);
      out.clefs.push_back(
          {{cell.bar, cell.onset}, lane.subject == "left clef" ? 1 : 0, clef, octaves_above(clef), cell.cell->span});
    }
  }
  std::stable_sort(out.clefs.begin(), out.clefs.end(),
                   [](const ClefFrom& a, const ClefFrom& b) { return a.at < b.at; });
}

}  // namespace tunesheaf::score

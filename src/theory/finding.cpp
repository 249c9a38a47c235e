#include "tunesheaf/theory/finding.h"

#include <algorithm>

#include "chord_tones.h"
#include "shape_search.h"

namespace tunesheaf::theory {

FoundShapes ranked_shapes(const ChordName& chord, const Tuning& tuning, const Capo& capo, const FindingLimits& limits,
                          const Neck& neck) {
  if (chord.is_none() || tuning.count() == 0 || tuning.count() > kMostStrings) return {};
  return ShapeSearch(chord, tuning, capo, limits, neck).all();
}

std::vector<FoundShape> find_shapes(const ChordName& chord, const Tuning& tuning, const Capo& capo,
                                    const FindingLimits& limits, const Neck& neck) {
  const FoundShapes ranked = ranked_shapes(chord, tuning, capo, limits, neck);
  std::vector<FoundShape> out;
  out.reserve(ranked.size());
  for (std::size_t i = 0; i < ranked.size(); ++i) out.push_back(ranked[i]);
  return out;
}

std::vector<ChordName> nearest_playable(const ChordName& chord, const Tuning& tuning, const Capo& capo,
                                        const FindingLimits& limits, const Neck& neck) {
  std::vector<ChordName> tried;
  const auto offer = [&](ChordName name) {
    name = canonical(name);
    if (name == chord || std::find(tried.begin(), tried.end(), name) != tried.end()) return;
    tried.push_back(std::move(name));
  };
  ChordName plain = chord;
  plain.bass.reset();
  offer(plain);
  for (std::size_t i = plain.degrees.size(); i-- > 0;) {
    plain.degrees.resize(i);
    offer(plain);
  }
  std::vector<DegreeTone> all = degree_tones(plain);
  for (const int top : {13, 11, 9, 7, 6}) {
    std::erase_if(all, [&](DegreeTone t) { return t.number == top; });
    offer(canonical(chord.root, all, std::nullopt));
  }
  ChordName bare;  // root and fifth
  bare.root = chord.root;
  bare.kind = ChordKind::Power;
  offer(bare);
  FindingLimits one = limits;
  one.most = 1;
  std::erase_if(tried, [&](const ChordName& name) { return ranked_shapes(name, tuning, capo, one, neck).empty(); });
  return tried;
}

}  // namespace tunesheaf::theory

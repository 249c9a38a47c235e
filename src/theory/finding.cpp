#include "tunesheaf/theory/finding.h"

#include <algorithm>
#include <map>

#include "chord_tones.h"
#include "shape_search.h"

namespace tunesheaf::theory {
namespace {

constexpr int kNoMove = 400;  // between shapes that cannot be fingered

/// Best path over the choices of each chord.
struct Cell {
  int cost = 0;
  std::size_t before = 0;
};

}  // namespace

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
  FindingLimits one = limits;
  one.most = 1;
  std::erase_if(tried, [&](const ChordName& name) { return ranked_shapes(name, tuning, capo, one, neck).empty(); });
  return tried;
}

std::vector<std::optional<FoundShape>> shapes_for_progression(const std::vector<ChordName>& chords,
                                                              const Tuning& tuning, const Capo& capo,
                                                              const FindingLimits& limits, const Neck& neck,
                                                              std::size_t choices) {
  FindingLimits few = limits;
  few.most = std::max<std::size_t>(choices, 1);
  Neck held = neck;
  if (capo.full()) held.capo_fret = capo.fret;
  std::map<std::string, std::vector<FoundShape>> found;
  std::vector<const std::vector<FoundShape>*> steps;
  std::vector<std::size_t> at;
  for (std::size_t i = 0; i < chords.size(); ++i) {
    const std::string name = print(chords[i]);
    auto it = found.find(name);
    if (it == found.end()) it = found.emplace(name, find_shapes(chords[i], tuning, capo, few, neck)).first;
    if (it->second.empty()) continue;
    steps.push_back(&it->second);
    at.push_back(i);
  }
  std::map<std::pair<const FoundShape*, const FoundShape*>, int> moves;
  const auto move_cost = [&](const FoundShape& a, const FoundShape& b) {
    const auto key = std::make_pair(&a, &b);
    const auto known = moves.find(key);
    if (known != moves.end()) return known->second;
    const std::optional<Move> move = move_between(a.shape, b.shape, held);
    return moves[key] = 2 * (move ? move->difficulty : kNoMove);
  };
  std::vector<std::vector<Cell>> table;
  for (std::size_t s = 0; s < steps.size(); ++s) {
    std::vector<Cell> row(steps[s]->size());
    for (std::size_t j = 0; j < row.size(); ++j) {
      const FoundShape& here = (*steps[s])[j];
      row[j].cost = here.cost;
      if (s == 0) continue;
      int best = -1;
      for (std::size_t k = 0; k < table[s - 1].size(); ++k) {
        const int cost = table[s - 1][k].cost + move_cost((*steps[s - 1])[k], here);
        if (best >= 0 && cost >= best) continue;
        best = cost;
        row[j].before = k;
      }
      row[j].cost += best;
    }
    table.push_back(std::move(row));
  }
  std::vector<std::optional<FoundShape>> out(chords.size());
  if (steps.empty()) return out;
  const auto last = std::min_element(table.back().begin(), table.back().end(),
                                     [](const Cell& a, const Cell& b) { return a.cost < b.cost; });
  std::size_t j = static_cast<std::size_t>(last - table.back().begin());
  for (std::size_t s = steps.size(); s-- > 0;) {
    out[at[s]] = (*steps[s])[j];
    j = table[s][j].before;
  }
  return out;
}

}  // namespace tunesheaf::theory

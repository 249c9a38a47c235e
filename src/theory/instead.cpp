#include "tunesheaf/theory/instead.h"

#include <algorithm>

namespace tunesheaf::theory {
namespace {

constexpr int kFarCapo = 3;

InsteadOption option_at(int capo, const std::vector<ChordName>& sounding, const Tuning& tuning,
                        const InsteadWishes& wishes) {
  InsteadOption out;
  out.capo = capo;
  const int down = wishes.semitones - capo;
  if (wishes.key) out.key = transposed(*wishes.key, down);
  for (const ChordName& chord : sounding) out.fingered.push_back(transposed(chord, down, out.key));
  // Shapes are sought as fingered; the capo only shortens the neck under the hand.
  Neck neck = wishes.neck;
  neck.capo_fret = capo;
  out.shapes = shapes_for_progression(out.fingered, tuning, {}, wishes.limits, neck, wishes.choices, wishes.voicing);
  long total = 0;
  int played = 0, named = 0;
  const Shape* before = nullptr;
  for (std::size_t i = 0; i < sounding.size(); ++i) {
    if (sounding[i].is_none()) continue;
    ++named;
    if (!out.shapes[i]) {
      ++out.unplayable;
      continue;
    }
    const FoundShape& here = *out.shapes[i];
    ++played;
    total += here.cost;
    if (!barres(here.shape).empty()) ++out.barres;
    if (before != nullptr) {
      const std::optional<Move> move = move_between(*before, here.shape, neck);
      total += move ? 2 * move->difficulty : 0;
    }
    before = &here.shape;
  }
  if (played > 0) out.cost = static_cast<int>(100 * total / played);
  if (named > 0) out.cost += 6000 * 100 * out.unplayable / named / 100;
  out.cost += 150 * std::max(0, capo - kFarCapo);
  return out;
}

}  // namespace

std::vector<InsteadOption> play_instead(const std::vector<ChordName>& sounding, const Tuning& tuning,
                                        const InsteadWishes& wishes) {
  std::vector<InsteadOption> out;
  for (int capo = std::max(0, wishes.lowest_capo); capo <= wishes.highest_capo; ++capo) {
    out.push_back(option_at(capo, sounding, tuning, wishes));
  }
  std::stable_sort(out.begin(), out.end(),
                   [](const InsteadOption& a, const InsteadOption& b) { return a.cost < b.cost; });
  return out;
}

}  // namespace tunesheaf::theory

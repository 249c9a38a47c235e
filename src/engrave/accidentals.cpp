#include "accidentals.h"

#include <algorithm>
#include <map>
#include <tuple>

namespace tunesheaf::engrave {

int key_alteration(int fifths, theory::Step step) {
  using theory::Step;
  constexpr Step kSharps[] = {Step::F, Step::C, Step::G, Step::D, Step::A, Step::E, Step::B};
  for (int i = 0; i < 7; ++i) {
    if (fifths > i && kSharps[i] == step) return 1;
    if (-fifths > i && kSharps[6 - i] == step) return -1;
  }
  return 0;
}

std::optional<MusicSign> accidental_sign(int alter) {
  if (alter == 0) return MusicSign::Natural;
  if (alter == 1) return MusicSign::Sharp;
  if (alter == -1) return MusicSign::Flat;
  return alter > 0 ? MusicSign::DoubleSharp : MusicSign::DoubleFlat;
}

namespace {

struct InBar {
  std::map<int, int> altered;  // staff position to alteration in force
};

void choose(Head& head, const theory::Pitch& pitch, int fifths, InBar& now, const InBar& before) {
  const int alter = pitch.name.alter, place = head.position;
  const int by_key = key_alteration(fifths, pitch.name.step);
  const auto here = now.altered.find(place);
  const int in_force = here == now.altered.end() ? by_key : here->second;
  if (alter != in_force) {
    head.accidental = accidental_sign(alter);
  } else if (here == now.altered.end()) {
    const auto differs = [&](const InBar& bar, bool same_octave) {
      return std::any_of(bar.altered.begin(), bar.altered.end(), [&](const auto& entry) {
        const int way = entry.first - place;
        return (same_octave ? way == 0 : way != 0 && way % 7 == 0) && entry.second != alter;
      });
    };
    if (differs(before, true) || differs(now, false)) {
      head.accidental = accidental_sign(alter);
      head.courtesy = true;
    }
  }
  now.altered[place] = alter;
}

}  // namespace

void choose_accidentals(StaffPlan& plan, const score::Timeline& timeline) {
  InBar before;
  for (std::size_t b = 0; b < plan.bars.size(); ++b) {
    const int fifths = plan.fifths(static_cast<int>(b));
    InBar now;
    std::vector<Chord*> order;
    for (Chord& chord : plan.bars[b].chords) {
      if (!chord.rest && !chord.slash) order.push_back(&chord);
    }
    std::stable_sort(order.begin(), order.end(), [](const Chord* a, const Chord* c) { return a->onset < c->onset; });
    for (Chord* chord : order) {
      const score::Event& event = timeline.events[static_cast<std::size_t>(chord->event)];
      for (Head& head : chord->grace) {
        if (head.note < 0 || head.note >= static_cast<int>(event.grace.notes.size())) continue;
        const score::Note& note = event.grace.notes[static_cast<std::size_t>(head.note)];
        if (note.drum < 0 && !note.dead) choose(head, plan.pitch(chord->bar, note.written), fifths, now, before);
      }
      for (Head& head : chord->heads) {
        const score::Note& note = event.notes[static_cast<std::size_t>(head.note)];
        if (note.drum < 0 && !note.dead && !head.tied_from)
          choose(head, plan.pitch(chord->bar, note.written), fifths, now, before);
      }
    }
    before = std::move(now);
  }
}

}  // namespace tunesheaf::engrave

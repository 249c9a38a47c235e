#include "accidentals.h"

#include <algorithm>
#include <map>
#include <tuple>

#include "broken_bars.h"

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
  std::map<int, int> carried;  // the same from the system before, where the bar goes on from it
};

void choose(Head& head, const theory::Pitch& pitch, int fifths, InBar& now, const InBar& before) {
  const int alter = pitch.name.alter, place = head.position;
  const int by_key = key_alteration(fifths, pitch.name.step);
  const auto here = now.altered.find(place), earlier = now.carried.find(place);
  const bool carried = here == now.altered.end() && earlier != now.carried.end();
  const int in_force = carried ? earlier->second : here == now.altered.end() ? by_key : here->second;
  if (alter != in_force) {
    head.accidental = accidental_sign(alter);
  } else if (carried) {
    if (alter != by_key) {
      head.accidental = accidental_sign(alter);
      head.courtesy = true;
    }
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

void choose_accidentals(StaffPlan& plan, const SectionRequest& request) {
  const score::Timeline& timeline = *request.timeline;
  InBar before, now;
  for (std::size_t b = 0; b < plan.bars.size(); ++b) {
    const int fifths = plan.fifths(static_cast<int>(b));
    if (piece_at(request, static_cast<int>(b)).continues) {
      for (const auto& [place, alter] : now.altered) now.carried[place] = alter;
      now.altered.clear();
    } else {
      before = std::move(now);
      for (const auto& [place, alter] : before.carried) before.altered.emplace(place, alter);
      now = {};
    }
    std::vector<Chord*> order;
    for (Chord& chord : plan.bars[b].chords) {
      if (!chord.rest && !chord.slash) order.push_back(&chord);
    }
    std::stable_sort(order.begin(), order.end(), [](const Chord* a, const Chord* c) { return a->onset < c->onset; });
    for (Chord* chord : order) {
      const score::Event& event = timeline.events[static_cast<std::size_t>(chord->event)];
      for (Head& head : chord->grace) {
        if (head.note < 0 || head.note >= static_cast<int>(event.grace->notes.size())) continue;
        const score::Note& note = event.grace->notes[static_cast<std::size_t>(head.note)];
        if (note.drum < 0 && !note.dead) choose(head, plan.pitch(chord->bar, note.written), fifths, now, before);
      }
      for (Head& head : chord->heads) {
        const score::Note& note = event.notes[static_cast<std::size_t>(head.note)];
        if (note.drum < 0 && !note.dead && !head.tied_from)
          choose(head, plan.pitch(chord->bar, note.written), fifths, now, before);
      }
    }
  }
}

}  // namespace tunesheaf::engrave

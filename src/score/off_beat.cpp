// Pushes and stops, which nobody writes: an attack between two beats that is held over the next one is a push; an
// attack that is followed by silence before its beat ends is a stop. In: the voices of a part, or a lane of hits.
#include <algorithm>

#include "builder.h"

namespace tunesheaf::score {
namespace {

using song::LaneKind;

/// The beat of its bar that a place lies in; nothing where the bar has no beat there.
const theory::BarSpan* beat_at(const check::CheckedBar& bar, Fraction onset) {
  for (const theory::BarSpan& beat : bar.beats)
    if (beat.onset <= onset && onset < beat.end()) return &beat;
  return nullptr;
}

bool attacked(const Event& e) {
  if (e.kind == EventKind::Rest) return false;
  return e.notes.empty() ||
         std::any_of(e.notes.begin(), e.notes.end(), [](const Note& note) { return !note.tied_from; });
}

const PlacedLane* lane_of_hits(const CheckedMusic& music) {
  const auto lane = std::find_if(music.lanes.begin(), music.lanes.end(),
                                 [](const PlacedLane& l) { return l.kind == LaneKind::Hits; });
  return lane == music.lanes.end() ? nullptr : &*lane;
}

bool silent(const PlacedCell& cell) {
  return std::holds_alternative<song::SilenceCell>(cell.cell->content);
}

/// One hit; `next` is the cell behind it, in the same bar or a later one, or nothing.
Hit hit_of(const check::CheckedBar& bar, const PlacedCell& cell, const PlacedCell* next) {
  const bool here = next && next->bar == cell.bar;
  const Fraction end = here ? next->onset : bar.length;
  Hit hit;
  hit.onset = cell.onset;
  hit.duration = end - cell.onset;
  if (const auto* sign = std::get_if<song::DrumSign>(&cell.cell->content)) {
    hit.accents = sign->accents;
    hit.ghost = sign->ghost;
  }
  const theory::BarSpan* beat = beat_at(bar, cell.onset);
  if (!beat) return hit;
  const bool over_bar_line = next && !here && (next->bar > cell.bar + 1 || Fraction(0) < next->onset);
  hit.push = beat->onset < cell.onset && (beat->end() < end || (!here && over_bar_line));
  hit.stop = here && silent(*next) && end < beat->end();
  return hit;
}

}  // namespace

void mark_off_beat(Builder& builder, const CheckedSection& section, const PartMusic& music) {
  for (const Voice& voice : music.voices)
    for (std::size_t b = 0; b < voice.bars.size(); ++b) {
      const std::span<const Segment> bar = voice.bars[b];
      for (std::size_t i = 0; i < bar.size(); ++i) {
        if (bar[i].event < 0 || bar[i].rest) continue;
        Event& e = builder.out.events[static_cast<std::size_t>(bar[i].event)];
        if (e.at.bar != static_cast<int>(b) || e.at.onset != bar[i].onset || !attacked(e)) continue;
        const theory::BarSpan* beat = beat_at(section.bars[b], e.at.onset);
        if (!beat) continue;
        const Fraction end = e.at.onset + e.duration;
        e.push = beat->onset < e.at.onset && beat->end() < end;
        e.stop = end < beat->end() && i + 1 < bar.size() && bar[i + 1].rest;
      }
    }
}

std::vector<std::vector<Hit>> build_hits(const CheckedSection& section) {
  const PlacedLane* lane = lane_of_hits(section.chart);
  for (const CheckedMusic& music : section.parts)
    if (!lane) lane = lane_of_hits(music);
  if (!lane) return {};
  std::vector<std::vector<Hit>> hits(section.bars.size());
  for (std::size_t i = 0; i < lane->cells.size(); ++i) {
    const PlacedCell& cell = lane->cells[i];
    if (silent(cell)) continue;
    const auto bar = static_cast<std::size_t>(cell.bar);
    const PlacedCell* next = i + 1 < lane->cells.size() ? &lane->cells[i + 1] : nullptr;
    hits[bar].push_back(hit_of(section.bars[bar], cell, next));
    hits[bar].back().after_silence = i > 0 && silent(lane->cells[i - 1]);
  }
  return hits;
}

}  // namespace tunesheaf::score

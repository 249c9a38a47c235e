// The last bar of a section where the player stops short or strikes once: its strokes, as on a handout.
#include <algorithm>
#include <map>

#include "chart_players.h"

namespace tunesheaf::blocks {
namespace {

constexpr std::size_t kStopStrokes = 3;  // strokes that a stop is made of; more are a rhythm that goes by

/// The strokes of all voices in a bar, each till the last note that it strikes ends or the next stroke comes; nothing
/// where something is held over from the bar before.
std::vector<ChartHit> strokes_in(const score::Timeline& song, const score::PartMusic& music, std::size_t bar) {
  std::map<base::Fraction, ChartHit> found;
  for (const score::Voice& voice : music.voices) {
    if (bar >= voice.bars.size()) continue;
    for (const score::Segment& segment : voice.bars[bar]) {
      if (segment.event < 0 || segment.rest) continue;
      if (segment.tied_from) return {};
      const score::Event& event = song.events[static_cast<std::size_t>(segment.event)];
      ChartHit& hit = found.try_emplace(segment.onset, ChartHit{segment.onset, {}, {}}).first->second;
      hit.duration = std::max(hit.duration, base::Fraction(segment.duration));
      hit.accents.accent = hit.accents.accent || event.accents.accent;
      hit.accents.marcato = hit.accents.marcato || event.accents.marcato;
      hit.accents.staccato = hit.accents.staccato || event.accents.staccato;
    }
  }
  std::vector<ChartHit> out;
  for (auto& [onset, hit] : found) {
    if (!out.empty()) out.back().duration = std::min(out.back().duration, onset - out.back().onset);
    out.push_back(hit);
  }
  return out;
}

bool ends_something(const ChartSection& section, std::size_t at) {
  const ChartBar& bar = section.bars[at];
  return bar.repeat_end || bar.final || bar.doubled || bar.ending_end || at + 1 == section.bars.size();
}

}  // namespace

void last_strokes(const score::Timeline& song, const score::Section& from, int part, ChartSection& out) {
  if (part < 0 || static_cast<std::size_t>(part) >= from.parts.size()) return;
  const score::PartMusic& music = from.parts[static_cast<std::size_t>(part)];
  for (std::size_t i = 0; i < out.bars.size(); ++i) {
    ChartBar& bar = out.bars[i];
    const bool chords = !bar.chords.empty() && bar.chords.front().onset == base::Fraction{} &&
                        std::none_of(bar.chords.begin(), bar.chords.end(),
                                     [](const ChartChord& chord) { return chord.name.root == "N.C."; });
    if (!chords || bar.pick_up || !bar.hits.empty() || !bar.strum.empty() || !ends_something(out, i)) continue;
    std::vector<ChartHit> strokes = strokes_in(song, music, static_cast<std::size_t>(bar.bar));
    if (strokes.empty() || strokes.size() > kStopStrokes) continue;
    const base::Fraction end = strokes.back().onset + strokes.back().duration;
    const bool stops = base::Fraction(1, 8) <= bar.length - end;
    const bool held = strokes.size() == 1 && strokes.front().onset == base::Fraction{} && !bar.holds.empty();
    if (!stops && !held) continue;
    if (held) {  // one hold over the one stroke
      bar.holds.resize(1);
      bar.holds.front().at = base::Fraction{};
    }
    bar.hits = std::move(strokes);
  }
}

}  // namespace tunesheaf::blocks

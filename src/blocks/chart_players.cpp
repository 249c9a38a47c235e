#include "chart_players.h"

#include <algorithm>

#include "tunesheaf/blocks/words.h"

namespace tunesheaf::blocks {
namespace {

bool sounds_in(const std::vector<score::Segment>& bar) {
  return std::any_of(bar.begin(), bar.end(), [](const score::Segment& s) { return s.event >= 0 && !s.rest; });
}

bool plays_in(const score::PartMusic& music, std::size_t bar) {
  return std::any_of(music.voices.begin(), music.voices.end(),
                     [&](const score::Voice& voice) { return bar < voice.bars.size() && sounds_in(voice.bars[bar]); });
}

bool plays(const score::PartMusic& music) {
  return std::any_of(music.voices.begin(), music.voices.end(), [](const score::Voice& voice) {
    return std::any_of(voice.bars.begin(), voice.bars.end(), sounds_in);
  });
}

std::string name_of(const score::Timeline& song, const score::PartMusic& music) {
  return song.parts[static_cast<std::size_t>(music.part)].name.value;
}

const score::Section& section_of(const score::Timeline& song, const ChartStep& step) {
  return song.sections[static_cast<std::size_t>(step.section)];
}

/// Bars before the first whole one, and that one.
std::size_t first_whole_bar(const score::Section& section) {
  std::size_t bar = 0;
  while (bar + 1 < section.bars.size() && section.bars[bar].pick_up) ++bar;
  return bar;
}

/// "1 2 3 4", and, before a pick-up, the beats of the next bar that go before it.
std::string count_of(const score::Section& section) {
  if (section.bars.empty()) return {};
  const score::Bar& bar = section.bars[first_whole_bar(section)];
  std::string out;
  const auto beats = bar.meter.beats();
  for (std::size_t i = 0; i < beats.size(); ++i) out += (i == 0 ? "" : " ") + std::to_string(i + 1);
  const score::Bar& first = section.bars.front();
  if (!first.pick_up) return out;
  const Fraction starts = bar.meter.bar_length() - first.length;
  out += " \u00b7";
  for (std::size_t i = 0; i < beats.size(); ++i) {
    if (beats[i].onset < starts) out += " " + std::to_string(i + 1);
  }
  return out;
}

/// True when no part sounds at any time from `begin` to `end` of a bar.
bool silent(const score::Section& section, std::size_t bar, Fraction begin, Fraction end) {
  for (const score::PartMusic& music : section.parts) {
    for (const score::Voice& voice : music.voices) {
      if (bar >= voice.bars.size()) continue;
      for (const score::Segment& segment : voice.bars[bar]) {
        const bool inside = segment.onset < end && begin < segment.onset + segment.duration;
        if (segment.event >= 0 && !segment.rest && inside) return false;
      }
    }
  }
  return true;
}

}  // namespace

std::string who_rests(const score::Timeline& song, const score::Section& section) {
  if (song.parts.size() < 2) return {};
  std::vector<std::string> resting, playing;
  for (const score::PartMusic& music : section.parts) {
    (plays(music) ? playing : resting).push_back(name_of(song, music));
  }
  if (resting.empty() || playing.empty()) return {};
  if (playing.size() < resting.size()) return "only " + list_words(playing);
  return list_words(resting) + (resting.size() == 1 ? " rests" : " rest");
}

void who_starts(const score::Timeline& song, ChartContent& chart) {
  if (chart.form.empty()) return;
  const score::Section& first = section_of(song, chart.form.front());
  // Where the count is written out, the song says itself who counts.
  const bool written = !chart.count_in.empty();
  if (!written) chart.count_in = count_of(first);
  if (first.parts.empty()) return;
  std::vector<std::string> starts;
  std::vector<std::pair<std::string, std::vector<std::string>>> later;  // letter, parts
  const score::Part* counts = nullptr;
  for (const score::PartMusic& music : first.parts) {
    bool begins = false;
    for (std::size_t b = 0; b <= first_whole_bar(first); ++b) begins = begins || plays_in(music, b);
    if (begins) {
      starts.push_back(name_of(song, music));
      const score::Part& part = song.parts[static_cast<std::size_t>(music.part)];
      if (counts == nullptr || (!part.kit.empty() && counts->kit.empty())) counts = &part;
      continue;
    }
    const auto at = std::find_if(chart.form.begin(), chart.form.end(), [&](const ChartStep& step) {
      return plays(section_of(song, step).parts[static_cast<std::size_t>(music.part)]);
    });
    if (at == chart.form.end()) continue;
    const bool known = !later.empty() && later.back().first == at->letter;
    if (!known) later.push_back({at->letter, {}});
    later.back().second.push_back(name_of(song, music));
  }
  if (counts != nullptr && !written) chart.counts = counts->name.value;
  chart.starts = list_words(starts);
  for (const auto& [letter, names] : later) {
    chart.enters += (chart.enters.empty() ? "" : "; ") + list_words(names) + " at " + letter;
  }
}

std::vector<Stop> stops(const score::Timeline& song, const score::Section& section) {
  std::vector<Stop> out;
  if (song.parts.empty()) return out;
  for (std::size_t b = 0; b < section.bars.size(); ++b) {
    const score::Bar& bar = section.bars[b];
    const auto beats = bar.meter.beats();
    bool sounded = false, stopped = false;
    for (const theory::BarSpan& beat : beats) {
      if (bar.pick_up || bar.length < beat.end()) break;
      const bool quiet = silent(section, b, beat.onset, beat.end());
      if (quiet && sounded && !stopped) out.push_back({static_cast<int>(b), beat.onset});
      stopped = quiet;
      sounded = sounded || !quiet;
    }
  }
  return out;
}

}  // namespace tunesheaf::blocks

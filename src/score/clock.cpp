#include "tunesheaf/score/clock.h"

#include <algorithm>
#include <cmath>

namespace tunesheaf::score {
namespace {

bool halves_only(std::int64_t n) {
  return n > 0 && (n & (n - 1)) == 0;
}

double within(const PlayedBar& bar, Fraction at) {
  TempoPiece piece;
  piece.rate = bar.rate;
  for (const TempoPiece& next : bar.pieces)
    if (next.from <= at) piece = next;
  const double wholes = (at - piece.from).to_double();
  const double change = piece.per_whole * wholes;
  if (change == 0) return piece.seconds + wholes * 60.0 / piece.rate;
  return piece.seconds + wholes * 60.0 * std::log1p(change / piece.rate) / change;
}

bool plays(const PartMusic& music, std::size_t bar) {
  return std::any_of(music.voices.begin(), music.voices.end(), [&](const Voice& voice) {
    return std::any_of(voice.bars[bar].begin(), voice.bars[bar].end(),
                       [](const Segment& segment) { return segment.event >= 0 && !segment.rest; });
  });
}

bool speaks(const std::vector<Word>& words, int bar) {
  return std::any_of(words.begin(), words.end(), [&](const Word& word) { return word.at.bar == bar; });
}

}  // namespace

Fraction swung(Fraction onset, const song::Feel& feel) {
  if (feel.unit == Fraction(0) || feel.first == feel.second) return onset;
  const Fraction pair = feel.unit * Fraction(2);
  const Fraction in_pair = onset.modulo(pair);
  if (!halves_only((in_pair / feel.unit).den())) return onset;
  const Fraction first = pair * feel.first / (feel.first + feel.second);
  const Fraction base = onset - in_pair;
  if (in_pair <= feel.unit) return base + in_pair * first / feel.unit;
  return base + first + (in_pair - feel.unit) * (pair - first) / feel.unit;
}

const song::Feel& feel_of(const Timeline& timeline, const Section& section) {
  return section.feel ? *section.feel : timeline.feel;
}

double seconds_at(const Timeline& timeline, std::size_t played, Fraction onset) {
  const auto bar_of = [&](std::size_t i) -> const Bar& {
    const PlayedBar& at = timeline.played[i];
    return timeline.sections[static_cast<std::size_t>(at.section)].bars[static_cast<std::size_t>(at.bar)];
  };
  while (bar_of(played).length <= onset && played + 1 < timeline.played.size()) {
    onset -= bar_of(played).length;
    ++played;
  }
  const PlayedBar& bar = timeline.played[played];
  const Bar& printed = bar_of(played);
  const Section& section = timeline.sections[static_cast<std::size_t>(bar.section)];
  // A pick-up ends with its bar: the pairs of swung notes are counted from the bar line on, backwards.
  const Fraction shift = printed.pick_up ? printed.meter.bar_length() - printed.length : Fraction(0);
  return bar.seconds + within(bar, swung(onset + shift, feel_of(timeline, section)) - shift);
}

std::vector<BarRun> empty_runs(const Section& section, const std::vector<int>& parts) {
  std::vector<BarRun> runs;
  BarRun run;
  const auto close = [&] {
    if (run.count > 1) runs.push_back(run);
    run.count = 0;
  };
  for (std::size_t b = 0; b < section.bars.size(); ++b) {
    const Bar& bar = section.bars[b];
    const int index = static_cast<int>(b);
    const bool silent =
        !bar.pick_up && !speaks(section.words, index) && std::none_of(parts.begin(), parts.end(), [&](int part) {
          const PartMusic& music = section.parts[static_cast<std::size_t>(part)];
          return plays(music, b) || speaks(music.words, index);
        });
    if (!silent || bar.show_meter || bar.show_key || bar.repeat_begin || bar.ending_begin) close();
    if (silent) {
      if (run.count == 0) run.first = index;
      ++run.count;
    }
    if (bar.end != BarLine::Single || bar.ending_end) close();
  }
  close();
  return runs;
}

}  // namespace tunesheaf::score

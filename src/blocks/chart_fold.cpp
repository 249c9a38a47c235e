// Folding a chart: what is said twice is said once, in a stated order; then blocks are left out.
#include <algorithm>
#include <set>

#include "tunesheaf/blocks/chart.h"
#include "tunesheaf/blocks/words.h"

namespace tunesheaf::blocks {
namespace {

constexpr std::size_t kShortestRound = 2;  ///< bars

bool plain(const ChartBar& bar) {
  return bar.ending.empty() && !bar.pick_up && !bar.ending_begin;
}

/// The shortest stretch that a section is made of, in bars; its whole length when there is none shorter. The words
/// that open the section are no difference.
std::size_t round_of(const std::vector<ChartBar>& bars) {
  if (!std::all_of(bars.begin(), bars.end(), plain)) return bars.size();
  const auto same = [](ChartBar a, const ChartBar& b) {
    std::erase_if(a.cues, [](const ChartCue& cue) { return cue.kind == CueKind::Words; });
    ChartBar other = b;
    std::erase_if(other.cues, [](const ChartCue& cue) { return cue.kind == CueKind::Words; });
    return a.says_the_same(other);
  };
  for (std::size_t length = kShortestRound; length * 2 <= bars.size(); ++length) {
    if (bars.size() % length != 0) continue;
    bool all = true;
    for (std::size_t b = length; b < bars.size() && all; ++b) all = same(bars[b], bars[b % length]);
    // A stretch of one bar over and over is a matter of bar repeats.
    const bool one_bar = std::all_of(bars.begin(), bars.begin() + static_cast<std::ptrdiff_t>(length),
                                     [&](const ChartBar& bar) { return same(bar, bars.front()); });
    if (all && !one_bar) return length;
  }
  return bars.size();
}

std::string lettered(const std::vector<std::string>& letters) {
  return (letters.size() == 1 ? "section " : "sections ") + list_words(letters);
}

void fold_rounds(FoldedChart& chart) {
  std::vector<std::string> letters;
  for (ChartSection& section : chart.content.sections) {
    const std::size_t length = round_of(section.bars);
    if (length == section.bars.size()) continue;
    section.rounds = static_cast<int>(section.bars.size() / length);
    const ChartBar last = section.bars.back();
    section.bars.resize(length);
    section.bars.front().repeat_begin = true;
    section.bars.back().repeat_end = true;
    section.bars.back().final = last.final;
    letters.push_back(section.letter);
  }
  if (!letters.empty()) chart.told.push_back("repeats within " + lettered(letters) + " once, with their number");
}

bool says_the_same(const ChartSection& a, const ChartSection& b) {
  const auto cells_alike = [](const ChartBar& x, const ChartBar& y) {
    return x.says_the_same(y) && x.ending == y.ending && x.count == y.count;
  };
  return !a.bars.empty() && a.bars.size() == b.bars.size() && a.rounds == b.rounds && a.pick_ups == b.pick_ups &&
         std::equal(a.bars.begin(), a.bars.end(), b.bars.begin(), cells_alike);
}

void fold_sections(FoldedChart& chart) {
  std::vector<std::string> letters;
  auto& sections = chart.content.sections;
  for (std::size_t i = 1; i < sections.size(); ++i) {
    for (std::size_t j = 0; j < i && sections[i].same_as.empty(); ++j) {
      if (!says_the_same(sections[i], sections[j])) continue;
      sections[i].same_as = sections[j].letter;
      letters.push_back(sections[i].letter);
    }
  }
  for (ChartSection& section : sections) {
    if (!section.same_as.empty()) section.bars.clear();
  }
  if (!letters.empty()) chart.told.push_back(lettered(letters) + " named only, equal to an earlier one");
}

/// Bars of a section, equal ones in a row as one.
std::vector<ChartBar> joined(const std::vector<ChartBar>& bars) {
  std::vector<ChartBar> kept;
  for (const ChartBar& bar : bars) {
    const bool joins = !kept.empty() && bar.as_before && plain(bar) && !kept.back().repeat_end && !bar.repeat_begin &&
                       kept.back().cues.empty() && kept.back().holds.empty() && !kept.back().shows_beats() &&
                       kept.back().hits.empty();
    if (!joins) {
      kept.push_back(bar);
      continue;
    }
    ChartBar& last = kept.back();
    ++last.count;
    last.repeat_end = bar.repeat_end;
    last.final = bar.final;
    last.doubled = bar.doubled;
  }
  return kept;
}

/// Only where it saves a line of four bars: a player counts printed bars more easily than their number.
void fold_bars(FoldedChart& chart) {
  constexpr std::size_t kLine = 4;
  const auto lines = [](std::size_t bars) { return (bars + kLine - 1) / kLine; };
  bool any = false;
  for (ChartSection& section : chart.content.sections) {
    std::vector<ChartBar> kept = joined(section.bars);
    if (lines(kept.size()) == lines(section.bars.size())) continue;
    section.bars = std::move(kept);
    any = true;
  }
  if (any) chart.told.push_back("equal bars in a row as one, with their number");
}

void drop_cues(FoldedChart& chart, const std::set<CueKind>& kinds, const std::string& words) {
  bool any = false;
  for (ChartSection& section : chart.content.sections) {
    for (ChartBar& bar : section.bars) {
      any = std::erase_if(bar.cues, [&](const ChartCue& cue) { return kinds.count(cue.kind) > 0; }) > 0 || any;
    }
  }
  if (any) chart.told.push_back(words);
}

}  // namespace

FoldedChart folded_chart(const ChartContent& content, ChartFold fold) {
  FoldedChart chart{content, true, {}};
  if (fold >= ChartFold::Rounds) fold_rounds(chart);
  if (fold >= ChartFold::Sections) fold_sections(chart);
  if (fold >= ChartFold::Bars) fold_bars(chart);
  if (fold >= ChartFold::Shapes) {
    chart.shapes = false;
    const bool had = content.player.own_part >= 0 || content.player.instead.has_value();
    if (had) chart.told.push_back("the shapes are left out");
  }
  if (fold >= ChartFold::Words) {
    for (ChartSection& section : chart.content.sections) {
      for (ChartBar& bar : section.bars) bar.strum.clear();
    }
  }
  if (fold >= ChartFold::Words) drop_cues(chart, {CueKind::Words}, "words and strums are left out");
  if (fold >= ChartFold::Cues) drop_cues(chart, {CueKind::Say, CueKind::Count}, "spoken cues are left out");
  if (fold >= ChartFold::Who) {
    bool any = false;
    for (ChartSection& section : chart.content.sections) {
      any = any || !section.who.empty();
      section.who.clear();
    }
    if (any) chart.told.push_back("who rests is left out");
  }
  return chart;
}

}  // namespace tunesheaf::blocks

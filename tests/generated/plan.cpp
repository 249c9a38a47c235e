#include "generated/plan.h"

#include <algorithm>
#include <stdexcept>

#include "tunesheaf/song/language.h"
#include "tunesheaf/theory/meter.h"

namespace tunesheaf::generated {

BarPlan plan_bar(const std::string& meter) {
  const auto read = theory::parse_meter(meter);
  if (!read) throw std::logic_error("no meter: " + meter);
  BarPlan out{meter, {}};
  for (const theory::BarSpan& beat : read->beats()) out.beats.push_back(beat.length);
  return out;
}

Fraction length_of(const BarPlan& bar) {
  Fraction sum;
  for (const Fraction beat : bar.beats) sum += beat;
  return sum;
}

BarPlan tail(const BarPlan& bar, Fraction length) {
  BarPlan out{bar.meter, {}};
  for (std::size_t i = bar.beats.size(); i > 0 && Fraction(0) < length; --i) {
    const Fraction taken = base::min(bar.beats[i - 1], length);
    out.beats.insert(out.beats.begin(), taken);
    length -= taken;
  }
  return out;
}

Grid plan_grid(Random& random, const BarPlan& bar) {
  Grid grid;
  const int busy = random.weighed<int>({{30, 0}, {50, 1}, {20, 2}});
  for (const Fraction beat : bar.beats) {
    if (beat == Fraction(3, 8) || beat == Fraction(3, 16)) {
      grid.push_back(busy == 0 ? random.weighed<int>({{70, 1}, {30, 3}})
                               : random.weighed<int>({{20, 1}, {50, 3}, {8, 2}, {18, 6}, {4, 4}}));
    } else if (beat <= Fraction(1, 8)) {
      grid.push_back(random.weighed<int>({{62, 1}, {32, 2}, {3, 3}, {3, 4}}));
    } else {
      grid.push_back(busy == 0 ? random.weighed<int>({{75, 1}, {25, 2}})
                     : busy == 1
                         ? random.weighed<int>({{25, 1}, {50, 2}, {12, 4}, {13, 3}})
                         : random.weighed<int>({{10, 1}, {25, 2}, {35, 4}, {15, 3}, {8, 6}, {3, 5}, {2, 8}, {2, 7}}));
    }
  }
  return grid;
}

BarCells blank(const Grid& grid) {
  BarCells bar;
  for (const int cells : grid) bar.beats.emplace_back(static_cast<std::size_t>(cells), "-");
  return bar;
}

BarCells one_cell(const std::string& cell) {
  BarCells bar;
  bar.colons = false;
  bar.beats = {{cell}};
  return bar;
}

BarCells by_beat(const BarPlan& bar) {
  return blank(Grid(bar.beats.size(), 1));
}

int cell_count(const Grid& grid) {
  int sum = 0;
  for (const int cells : grid) sum += cells;
  return sum;
}

std::string& cell_at(BarCells& bar, int index) {
  for (auto& beat : bar.beats) {
    if (index < static_cast<int>(beat.size())) return beat[static_cast<std::size_t>(index)];
    index -= static_cast<int>(beat.size());
  }
  return bar.beats.back().back();
}

void drop_colons(Random& random, const BarPlan& plan, BarCells& bar) {
  const bool even =
      std::all_of(plan.beats.begin(), plan.beats.end(), [&](Fraction b) { return b == plan.beats.front(); });
  const bool alike = std::all_of(bar.beats.begin(), bar.beats.end(),
                                 [&](const auto& beat) { return beat.size() == bar.beats.front().size(); });
  if (even && alike && bar.beats.size() == plan.beats.size() && random.chance(25)) bar.colons = false;
}

BarCells& Sheaf::bar(const std::string& lane, int index) {
  for (LaneRow& row : block_.lanes)
    if (row.name == lane) return row.bars[static_cast<std::size_t>(index)];
  block_.lanes.push_back({lane, std::vector<BarCells>(static_cast<std::size_t>(bars_))});
  return block_.lanes.back().bars[static_cast<std::size_t>(index)];
}

bool Sheaf::has(const std::string& lane) const {
  return std::any_of(block_.lanes.begin(), block_.lanes.end(), [&](const LaneRow& row) { return row.name == lane; });
}

LaneBlock Sheaf::take(Random& random) {
  const int width = random.weighed<int>({{60, 4}, {15, 2}, {15, 8}, {10, 3}});
  for (int at = width; at < bars_; at += width) block_.breaks.push_back(at);
  return std::move(block_);
}

void add_span(Random& random, const std::string& lane, const std::vector<std::string>& words,
              const std::vector<BarPlan>& bars, Sheaf& out) {
  const int count = static_cast<int>(bars.size());
  const int from = random.below(count), to = random.between(from, count - 1);
  for (int b = from; b <= to; ++b) {
    BarCells& bar = out.bar(lane, b);
    if (bar.beats.empty()) bar = by_beat(bars[static_cast<std::size_t>(b)]);
  }
  BarCells& first = out.bar(lane, from);
  const int beats = static_cast<int>(first.beats.size());
  const int start = random.chance(60) ? 0 : random.below(beats);
  first.beats[static_cast<std::size_t>(start)][0] = random.pick(words);
  if (random.chance(25)) return;  // to the end of the section
  BarCells& last = out.bar(lane, to);
  const int end = random.below(static_cast<int>(last.beats.size()));
  if (to > from || end > start) last.beats[static_cast<std::size_t>(end)][0] = ".";
}

std::vector<std::string> words_of_lane(const std::string& lane) {
  std::vector<std::string> words;
  for (const song::LanguageEntry& entry : song::language()) {
    if (entry.kind != song::EntryKind::Lane || entry.word != lane) continue;
    std::string_view rest = entry.choices;
    while (!rest.empty()) {
      const std::size_t blank = rest.find(' ');
      words.emplace_back(rest.substr(0, blank));
      rest = blank == std::string_view::npos ? std::string_view() : rest.substr(blank + 1);
    }
  }
  return words;
}

void play_part(Tools tools, const PartPlan& part, const std::vector<BarPlan>& bars, Sheaf& out) {
  if (part.family == theory::Family::Drums) {
    play_drums(tools, part, bars, out);
  } else if (part.family == theory::Family::Fretted ? tools.random.chance(96)
                                                    : part.family == theory::Family::Bowed && tools.random.chance(20)) {
    play_strings(tools, part, bars, out);
  } else {
    play_pitches(tools, part, bars, out);
  }
}

}  // namespace tunesheaf::generated

#include "playing.h"

#include <algorithm>

#include "tunesheaf/base/ascii.h"

namespace tunesheaf::check {
namespace {

using base::lower;

/// A pick-up lies over the end of the bar before: who plays both plays two things at once.
class PickUps {
 public:
  explicit PickUps(Context& context) : context_(context) {}

  void run() {
    const auto& played = context_.data.played;
    std::set<std::pair<std::pair<int, int>, int>> done;
    for (std::size_t i = 1; i < played.size(); ++i) {
      const CheckedSection& now = section(played[i]);
      if (played[i].bar != 0 || now.bars.empty() || !now.bars.front().pick_up) continue;
      if (!done.insert({{played[i - 1].section, played[i - 1].bar}, played[i].section}).second) continue;
      for (std::size_t part = 0; part < now.parts.size(); ++part) judge(played[i - 1], now, part);
    }
  }

 private:
  const CheckedSection& section(const CheckedPass& pass) const {
    return context_.data.sections[static_cast<std::size_t>(pass.section)];
  }

  static const PlacedCell* first_in(const CheckedMusic& music, int bar, Fraction from) {
    const PlacedCell* found = nullptr;
    for (const PlacedLane& lane : music.lanes) {
      if (!plays(lane.kind) || lane.from_pattern) continue;
      for (const PlacedCell& cell : lane.cells) {
        if (cell.bar != bar || cell.onset < from || std::holds_alternative<song::SilenceCell>(cell.cell->content))
          continue;
        if (!found || cell.onset < found->onset) found = &cell;
      }
    }
    return found;
  }

  void judge(const CheckedPass& before, const CheckedSection& now, std::size_t part) {
    const CheckedSection& last = section(before);
    const Fraction length = last.bars[static_cast<std::size_t>(before.bar)].length;
    const Fraction from = length - now.bars.front().length;
    const PlacedCell* up = first_in(now.parts[part], 0, Fraction(0));
    if (!up || from < Fraction(0)) return;
    const PlacedCell* under = first_in(last.parts[part], before.bar, from + up->onset);
    if (!under || !said_.insert(up->cell).second) return;
    const std::string& name = context_.data.parts[part].def->name.value;
    context_.say_both(Kind::VoicesOverlap, up->cell->span, "the pick-up", under->cell->span, "still played",
                      "the pick-up of " + diag::quoted(now.def->name.value) + " lies over the end of " +
                          diag::quoted(last.def->name.value) + ", where " + diag::quoted(name) + " still plays",
                      "a pick-up overlays the end of the bar before it, and one player cannot play both",
                      "end the bar before with . or -, or write the pick-up into that bar");
  }

  Context& context_;
  std::set<const song::Cell*> said_;
};

}  // namespace

std::vector<PlayedCell> in_time(const CheckedMusic& music) {
  std::vector<PlayedCell> out;
  for (const PlacedLane& lane : music.lanes) {
    if (!plays(lane.kind)) continue;
    for (const PlacedCell& cell : lane.cells) out.push_back({&lane, &cell});
  }
  std::stable_sort(out.begin(), out.end(), [](const PlayedCell& a, const PlayedCell& b) {
    return a.cell->bar != b.cell->bar ? a.cell->bar < b.cell->bar : a.cell->onset < b.cell->onset;
  });
  return out;
}

bool Playing::told(int bar, std::initializer_list<std::string_view> words) const {
  const auto look = [&](const CheckedMusic& where) {
    for (const PlacedLane& lane : where.lanes) {
      if (lane.kind != song::LaneKind::Say) continue;
      for (const PlacedCell& cell : lane.cells) {
        const auto* word = std::get_if<song::WordCell>(&cell.cell->content);
        if (!word || cell.bar != bar) continue;
        const std::string text = lower(word->text);
        for (const std::string_view wanted : words)
          if (text.find(wanted) != std::string::npos) return true;
      }
    }
    return false;
  };
  return look(music) || look(chart);
}

bool Playing::under(std::string_view mark, Moment at) const {
  for (const PlacedLane& lane : music.lanes) {
    if (lane.kind != song::LaneKind::Mark || lane.subject != mark) continue;
    const auto next = std::upper_bound(
        lane.cells.begin(), lane.cells.end(), at,
        [](const Moment& place, const PlacedCell& cell) { return place < Moment(cell.bar, cell.onset); });
    if (next != lane.cells.begin() && std::holds_alternative<song::SpanSign>(std::prev(next)->cell->content))
      return true;
  }
  return false;
}

void check_playing(Context& context) {
  Said said;
  for (const CheckedSection& section : context.data.sections)
    for (std::size_t p = 0; p < section.parts.size(); ++p) {
      const CheckedMusic& music = section.parts[p];
      if (music.lanes.empty()) continue;
      const Playing playing{section, music, context.data.parts[p], section.chart, in_time(music)};
      judge_fretting_hand(context, playing, said);
      judge_picking_hand(context, playing, said);
      judge_drums(context, playing, said);
      judge_together(context, playing, said);
      judge_rhythm(context, playing);
      judge_spans(context, playing);
      judge_lyrics(context, playing);
    }
}

void check_pick_ups(Context& context) {
  PickUps(context).run();
}

}  // namespace tunesheaf::check

// One part in one section as it is played, for the judgements of what hands, feet, a bow or a voice can do. In: lanes
// with their cells placed. Out: the cells that sound in order of time, in groups that begin together. Invariant: cells
// are sorted by bar and onset; a group is never empty. Read next: playing.cpp, which calls the judgements in turn.
#pragma once
#include <initializer_list>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "context.h"

namespace tunesheaf::check {

using Moment = std::pair<int, Fraction>;

struct PlayedCell {
  const PlacedLane* lane = nullptr;
  const PlacedCell* cell = nullptr;
  Moment at() const { return {cell->bar, cell->onset}; }
  Span span() const { return cell->cell->span; }
  template <class T>
  const T* sign() const {
    return std::get_if<T>(&cell->cell->content);
  }
  bool silence() const { return std::holds_alternative<song::SilenceCell>(cell->cell->content); }
};

struct Playing {
  const CheckedSection& section;
  const CheckedMusic& music;
  const CheckedPart& part;
  const CheckedMusic& chart;
  std::vector<PlayedCell> cells{};  ///< of all lanes that make sound, silences included

  /// One of these words stands in a `say` lane of this bar (of the part or the chart): the player is told how.
  bool told(int bar, std::initializer_list<std::string_view> words) const;
  /// The lane of spans called `mark` is on at a place.
  bool under(std::string_view mark, Moment at) const;
};

/// The cells of all lanes that make sound, in order of time.
std::vector<PlayedCell> in_time(const CheckedMusic& music);

/// Calls `f(begin, end)` for each group of cells that begin together.
template <class F>
void for_each_moment(const std::vector<PlayedCell>& cells, F&& f) {
  for (std::size_t i = 0; i < cells.size();) {
    std::size_t end = i + 1;
    while (end < cells.size() && cells[end].at() == cells[i].at()) ++end;
    f(cells.begin() + static_cast<std::ptrdiff_t>(i), cells.begin() + static_cast<std::ptrdiff_t>(end));
    i = end;
  }
}

/// What has been said already of a part: one message for each combination, not for each bar it stands in.
using Said = std::set<std::pair<const void*, std::string>>;

// hand_fretting.cpp
void judge_fretting_hand(Context& context, const Playing& playing, Said& said);
// hand_picking.cpp
void judge_picking_hand(Context& context, const Playing& playing, Said& said);
// limbs.cpp
void judge_drums(Context& context, const Playing& playing, Said& said);
// sounding_together.cpp
void judge_together(Context& context, const Playing& playing, Said& said);
// rhythm.cpp
void judge_rhythm(Context& context, const Playing& playing);
// spans.cpp
void judge_spans(Context& context, const Playing& playing);
// lyrics.cpp
void judge_lyrics(Context& context, const Playing& playing);

}  // namespace tunesheaf::check

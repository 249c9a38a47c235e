// Which bars stand on which line of a chart, and how high a line is.
#include <algorithm>
#include <array>
#include <optional>

#include "chart_label.h"
#include "chart_marks.h"

namespace tunesheaf::blocks {
namespace {

/// How endings stand where they do not fit whole behind the bars before: half as wide, or under the first of them.
enum class Endings : std::uint8_t { Narrow, Under };

/// Bars of the ending that begins at a bar.
std::size_t ending_length(const ChartSection& section, std::size_t bar) {
  std::size_t length = 1;
  while (bar + length < section.bars.size() && !section.bars[bar + length - 1].ending_end) ++length;
  return length;
}

class Breaker {
 public:
  Breaker(const ChartSection& section, int columns, Endings endings)
      : section_(section), span_(kChartGrid / columns), endings_(endings) {}

  std::vector<ChartLine> lines() {
    for (std::size_t b = 0; b < section_.bars.size(); ++b) {
      const ChartBar& bar = section_.bars[b];
      const int length = static_cast<int>(bar.ending_begin ? ending_length(section_, b) : 1) * span_;
      const bool later = bar.ending_begin && first_ending_ >= 0;
      const bool whole = column_ + length <= kChartGrid;
      if (later && !whole && endings_ == Endings::Narrow && narrow(b, length)) {
        b += ending_length(section_, b) - 1;
        continue;
      }
      if (column_ >= kChartGrid || (later && !whole)) {
        lines_.emplace_back();
        column_ = later && first_ending_ + length <= kChartGrid ? first_ending_ : 0;
      }
      if (bar.ending_begin && first_ending_ < 0) first_ending_ = column_;
      add(b, span_);
    }
    if (lines_.back().cells.empty()) lines_.pop_back();
    return std::move(lines_);
  }

 private:
  void add(std::size_t bar, int span) {
    lines_.back().cells.push_back({bar, column_, span});
    column_ += span;
  }

  /// Sets the endings of this line and the one that begins at `bar`, of `length`, half as wide, where that makes room.
  bool narrow(std::size_t bar, int length) {
    auto& cells = lines_.back().cells;
    if (span_ < 2) return false;
    int all = length / 2;
    bool here = false;
    for (const ChartCell& cell : cells) {
      const bool ends = !section_.bars[cell.bar].ending.empty();
      here = here || ends;
      all += ends && cell.span == span_ ? cell.span / 2 : cell.span;
    }
    if (!here || all > kChartGrid) return false;
    column_ = cells.front().column;
    for (ChartCell& cell : cells) {
      if (!section_.bars[cell.bar].ending.empty() && cell.span == span_) cell.span /= 2;
      cell.column = column_;
      column_ += cell.span;
    }
    for (std::size_t i = 0; i < ending_length(section_, bar); ++i) add(bar + i, span_ / 2);
    return true;
  }

  const ChartSection& section_;
  int span_;
  Endings endings_;
  std::vector<ChartLine> lines_{1};
  int column_ = 0, first_ending_ = -1;
};

/// How a bar stands in a room of so many columns.
enum class Fit : std::uint8_t { Not, Crowded, Well };

class Widths {
 public:
  Widths(const Setting& setting, const ChartSection& section, ChartLine& line, const ChartSize& size)
      : setting_(setting), section_(section), line_(line), size_(size), room_(chart_room(setting, size)) {}

  /// Gives crowded bars columns of neighbours that have room to spare; false where a bar does not fit even so.
  bool share() {
    for (int turn = 0; turn < kChartGrid; ++turn) {
      const auto needy = most_needy();
      if (!needy) return true;
      if (!take_for(*needy)) return fit(*needy, 0) != Fit::Not && all_fit();
    }
    return all_fit();
  }

 private:
  Fit fit(std::size_t cell, int more) const {
    ChartCell at = line_.cells[cell];
    if (at.span + more < 1) return Fit::Not;
    BarRoom room = bar_room(room_, line_, cell);
    room.right = room.left + (room_.x_of_column(at.span + more) - room_.x_of_column(0));
    const auto places = places_of(setting_, section_.bars[at.bar], room, size_);
    return !places ? Fit::Not : places->crowded || places->scale < 1 ? Fit::Crowded : Fit::Well;
  }

  bool all_fit() const {
    for (std::size_t i = 0; i < line_.cells.size(); ++i) {
      if (fit(i, 0) == Fit::Not) return false;
    }
    return true;
  }

  std::optional<std::size_t> most_needy() const {
    std::optional<std::size_t> out;
    for (std::size_t i = 0; i < line_.cells.size(); ++i) {
      const Fit now = fit(i, 0);
      if (now == Fit::Not) return i;
      if (now == Fit::Crowded && !out) out = i;
    }
    return out;
  }

  bool take_for(std::size_t needy) {
    std::optional<std::size_t> giver;
    const auto distance = [&](std::size_t i) { return i > needy ? i - needy : needy - i; };
    for (std::size_t i = 0; i < line_.cells.size(); ++i) {
      if (i == needy || fit(i, -1) != Fit::Well) continue;
      if (!giver || distance(i) < distance(*giver)) giver = i;
    }
    if (!giver) return false;
    --line_.cells[*giver].span;
    ++line_.cells[needy].span;
    int column = line_.cells.front().column;
    for (ChartCell& cell : line_.cells) {
      cell.column = column;
      column += cell.span;
    }
    return true;
  }

  const Setting& setting_;
  const ChartSection& section_;
  ChartLine& line_;
  const ChartSize& size_;
  ChartRoom room_;
};

/// Heights over and under the baseline; false where a bar does not fit.
bool measure(const Setting& setting, const ChartSection& section, ChartLine& line, const ChartSize& size,
             bool& crowded) {
  if (!Widths(setting, section, line, size).share()) return false;
  const auto places = line_places(setting, section, line, size);
  if (!places) return false;
  for (const BarPlaces& bar : *places) crowded = crowded || bar.crowded || bar.scale < 1;
  const ChartRoom room = chart_room(setting, size);
  int rows = 0;
  for (const ChartMark& mark : line_marks(setting, section, line, *places, size)) rows = std::max(rows, mark.row + 1);
  line.above = marks_floor(size) + mark_row_height(room) * rows;
  if (has_ending(section, line)) line.above += mark_row_height(room);
  // What stands over the bars keeps farther from the line above than from its own.
  if (line.above > marks_floor(size)) line.above += room.text * 0.4;
  Length below = size.chord * 0.26;
  for (const ChartCell& cell : line.cells) {
    const ChartBar& bar = section.bars[cell.bar];
    if (!bar.hits.empty()) {
      below = std::max(below, size.chord * 0.3 + hits_height(size.chord));
    } else if (bar.shows_beats()) {
      below = std::max(below, size.chord * 0.22 + beats_height(size.chord));
    }
  }
  line.below = below;
  return true;
}

/// Under the baseline of "as A".
Length same_below(const Setting& setting, const ChartSection& section, const ChartSize& size) {
  int rows = 0;
  for (const ChartMark& mark : same_marks(setting, section, size)) rows = std::max(rows, mark.row);
  return size.chord * 0.26 + mark_row_height(chart_room(setting, size)) * rows;
}

std::optional<ChartRows> rows_with(const Setting& setting, const ChartSection& section, int columns, Endings endings,
                                   const ChartSize& size) {
  ChartRows rows;
  rows.columns = columns;
  rows.lines = Breaker(section, columns, endings).lines();
  for (ChartLine& line : rows.lines) {
    if (!measure(setting, section, line, size, rows.crowded)) return std::nullopt;
    rows.height += line.above + line.below;
  }
  return rows;
}

}  // namespace

Length chart_text_size(const style::Style& style, Length chord) {
  // Beside names that are read across a room the words are too.
  const Length near = std::min(chord * 0.72, Length::pt(11.5)), far = std::min(chord * 0.5, Length::pt(15));
  return std::max({Length::pt(9), style.small.size, near, far});
}

Length chart_label_width(const style::Style& style, Length width) {
  // On a narrow page the bars need the room more.
  return std::min(std::max({width * 0.175, style.small.size * 8, Length::pt(72)}), width * 0.26);
}

std::optional<ChartRows> chart_rows(const Setting& setting, const ChartSection& section, const ChartSize& size) {
  ChartRows best;
  bool found = section.bars.empty();
  if (found) best.lines.push_back({{}, marks_floor(size), same_below(setting, section, size)});
  if (found) best.height = best.lines[0].above + best.lines[0].below;
  // Few columns are easier to read, and bars are found soonest where all sections have as many in a line.
  for (const int columns : std::array{8, 4, 2}) {
    const bool another = size.mixed && columns == 4;
    if (columns > (size.mixed ? 8 : size.columns) || section.bars.empty() || (found && !another)) continue;
    if (columns < 8 && size.columns == 8 && !size.mixed) break;  // eight are for all sections or for none
    for (const Endings endings : {Endings::Narrow, Endings::Under}) {
      auto rows = rows_with(setting, section, columns, endings, size);
      const bool readier = found && best.columns > columns && rows &&
                           (rows->height == best.height || (size.clear && best.crowded && !rows->crowded));
      if (!rows || (found && !readier && rows->height >= best.height)) continue;
      best = std::move(*rows);
      found = true;
    }
  }
  if (!found) return std::nullopt;
  best.label_below = chart_label(setting, section, size)->size.height - chart_label_baseline(size);
  const Length needed = best.lines.front().above + best.label_below;
  best.height = std::max(best.height, needed);
  return best;
}

}  // namespace tunesheaf::blocks

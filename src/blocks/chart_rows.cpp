// Which bars stand on which line of a chart, and how high a line is.
#include <algorithm>
#include <array>

#include "chart_label.h"
#include "chart_marks.h"

namespace tunesheaf::blocks {
namespace {

/// Lines of `columns` bars; an ending that does not fit behind the one before it stands under that one.
std::vector<ChartLine> broken(const ChartSection& section, int columns) {
  std::vector<ChartLine> lines(1);
  int column = 0;
  int first_ending = -1;  // column of the first ending
  for (std::size_t b = 0; b < section.bars.size(); ++b) {
    const ChartBar& bar = section.bars[b];
    int length = 1;
    if (bar.ending_begin) {
      while (b + static_cast<std::size_t>(length) < section.bars.size() &&
             !section.bars[b + static_cast<std::size_t>(length) - 1].ending_end) {
        ++length;
      }
    }
    const bool whole = column + length <= columns;
    const bool later = bar.ending_begin && first_ending >= 0;
    if (column >= columns || (later && !whole)) {
      lines.emplace_back();
      column = later && first_ending + length <= columns ? first_ending : 0;
    }
    if (bar.ending_begin && first_ending < 0) first_ending = column;
    lines.back().cells.push_back({b, column++});
  }
  if (lines.back().cells.empty()) lines.pop_back();
  return lines;
}

/// Heights over and under the baseline; false where a bar does not fit.
bool measure(const Setting& setting, const ChartSection& section, ChartLine& line, int columns, const ChartSize& size) {
  const auto places = line_places(setting, section, line, columns, size);
  if (!places) return false;
  const ChartRoom room = chart_room(setting, size);
  int rows = 0;
  for (const ChartMark& mark : line_marks(setting, section, line, *places, columns, size)) {
    rows = std::max(rows, mark.row + 1);
  }
  line.above = size.chord * 1.02 + mark_row_height(room) * rows;
  if (has_ending(section, line)) line.above += mark_row_height(room);
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

std::optional<ChartRows> rows_with(const Setting& setting, const ChartSection& section, int columns,
                                   const ChartSize& size) {
  ChartRows rows;
  rows.columns = columns;
  rows.lines = broken(section, columns);
  for (ChartLine& line : rows.lines) {
    if (!measure(setting, section, line, columns, size)) return std::nullopt;
    rows.height += line.above + line.below;
  }
  return rows;
}

}  // namespace

Length chart_text_size(const style::Style& style, Length chord) {
  const Length wanted = std::min(chord * 0.48, Length::pt(15));
  return std::max({Length::pt(9), style.small.size, wanted});
}

Length chart_label_width(const style::Style& style, Length width) {
  // On a narrow page the bars need the room more.
  return std::min(std::max({width * 0.165, style.small.size * 8, Length::pt(72)}), width * 0.26);
}

std::optional<ChartRows> chart_rows(const Setting& setting, const ChartSection& section, const ChartSize& size) {
  ChartRows best;
  bool found = section.bars.empty();
  if (found) best.lines.push_back({{}, size.chord * 1.02, size.chord * 0.26});
  if (found) best.height = best.lines[0].above + best.lines[0].below;
  // Few columns are easier to read: more of them only where they save a line.
  for (const int columns : std::array{4, 8, 2}) {
    if (columns > size.most_columns || section.bars.empty() || (columns == 2 && found)) continue;
    auto rows = rows_with(setting, section, columns, size);
    if (!rows || (found && rows->height >= best.height)) continue;
    best = std::move(*rows);
    found = true;
  }
  if (!found) return std::nullopt;
  best.label_below = chart_label(setting, section, size)->size.height - chart_label_baseline(size);
  const Length needed = best.lines.front().above + best.label_below;
  best.height = std::max(best.height, needed);
  return best;
}

}  // namespace tunesheaf::blocks

// A chart at one size of chord names. In: what the chart says, a Setting, the size. Out: the head, the sections in bars
// that stand in columns, the shapes for the foot, as frames; or nothing where a bar does not fit its column at that
// size. Invariant: all bar lines of a page stand on the lines of one grid of eight columns; what is drawn is no wider
// than the width given. Read next: sheet/chart.h.
//
//   | letter name |  4 bars a line: two columns each                  |
//   | ×2  mf      |  | Am        | F         | C         | G         |
//   | who rests   |  8 bars a line:                                   |
//   |             |  | Am  | %   | F   | %   | C   | %   | G   | %   |
//   |             |  a crowded bar takes a column of its neighbour:   |
//   |             |  | Am        | F    | C     F#m7    | G         |
#pragma once
#include <optional>
#include <vector>

#include "tunesheaf/blocks/chart.h"
#include "tunesheaf/blocks/setting.h"

namespace tunesheaf::blocks {

/// Fills in the widths of all chord names: once for all sizes.
void measure_chart(const Setting& setting, ChartContent& chart);

struct ChartSize {
  base::Length width;  ///< of the page's body
  base::Length chord;  ///< size (the em) of a chord's root
  base::Length least;  ///< a crowded bar may set its names as small as this; as `chord`: all names have one size
  int columns = 4;     ///< bars in a line: 8, or 4 and in a section of crowded bars 2
  bool mixed = false;  ///< a section may have 8 where that saves it a line, while others have 4
  bool clear = false;  ///< mixed, and where 8 were crowded it has 4
};

/// Size of all words on a chart whose chords have that size: never below 9 pt nor the style's smallest.
base::Length chart_text_size(const style::Style& style, base::Length chord);
/// Width of the column at the left with letters and names of the sections.
base::Length chart_label_width(const style::Style& style, base::Length width);

/// Columns of the grid on which all bar lines stand.
inline constexpr int kChartGrid = 8;

struct ChartCell {
  std::size_t bar = 0;  ///< index into ChartSection::bars
  int column = 0;       ///< of the grid, where the bar begins
  int span = 2;         ///< columns it takes: a crowded bar more than its neighbours
};
struct ChartLine {
  std::vector<ChartCell> cells;
  base::Length above, below;  ///< over and under the baseline of the chord names
};
struct ChartRows {
  int columns = 4;
  std::vector<ChartLine> lines;
  base::Length label_below;  ///< what the label needs under the first baseline
  base::Length height;       ///< without any white between the lines
  bool crowded = false;      ///< somewhere names stand beside their beats, or smaller than the others
};
/// Nothing where some bar cannot be set at this size.
std::optional<ChartRows> chart_rows(const Setting& setting, const ChartSection& section, const ChartSize& size);
/// With `white` between two lines.
std::shared_ptr<const layout::Frame> draw_chart_section(const Setting& setting, const ChartSection& section,
                                                        const ChartRows& rows, const ChartSize& size,
                                                        base::Length white);

/// Title, key, meter, tempo, feel, for whom; who counts in, who starts, the form.
std::shared_ptr<const layout::Frame> chart_head(const Setting& setting, const ChartContent& chart, base::Length width);
/// The shapes, with what they are for; nothing where there are none. Their fingers are left out only where the boxes
/// find no room for them in so many rows.
std::shared_ptr<const layout::Frame> chart_shapes(const Setting& setting, const ChartContent& chart, base::Length width,
                                                  int most_rows);
/// The quiet lines at the very foot: what was folded, what the names are.
std::shared_ptr<const layout::Frame> chart_foot(const Setting& setting, const FoldedChart& chart, base::Length width);

}  // namespace tunesheaf::blocks

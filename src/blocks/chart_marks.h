// What stands over the bars of one line of a chart: cues, signs of the form, holds, endings. In: a section, a line, the
// places of its bars. Out: marks in rows that do not touch, lowest row first. Invariant: no mark leaves the line.
#pragma once
#include <vector>

#include "chart_pen.h"

namespace tunesheaf::blocks {

/// Where the bars of a section stand at one size.
struct ChartRoom {
  Length label, width;  ///< of the column of labels; of the whole
  Length text;          ///< size of words
  Length x_of_column(int column, int columns) const;
};
ChartRoom chart_room(const Setting& setting, const ChartSize& size);

/// Places of all bars of a line, or nothing where one does not fit.
std::optional<std::vector<BarPlaces>> line_places(const Setting& setting, const ChartSection& section,
                                                  const ChartLine& line, int columns, const ChartSize& size);

struct ChartMark {
  std::string text;
  Fraction beat{};  ///< behind the text a note, and its rate; 0: none
  std::string rate{};
  std::optional<text::MusicSign> sign;
  style::TypeRole role;
  Colour colour;
  Kind kind = "chart-cue";
  Span origin;
  Length x{}, width{};
  int row = 0;
};
/// Rows are counted from the bars upwards.
std::vector<ChartMark> line_marks(const Setting& setting, const ChartSection& section, const ChartLine& line,
                                  const std::vector<BarPlaces>& places, int columns, const ChartSize& size);
bool has_ending(const ChartSection& section, const ChartLine& line);
/// Draws text, note and rate of a mark from `at` on; returns their width.
Length put_mark_words(Frame& frame, const Setting& setting, const ChartMark& mark, Point at);
Length mark_row_height(const ChartRoom& room);

}  // namespace tunesheaf::blocks

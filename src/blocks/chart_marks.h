// What stands over the bars of one line of a chart: cues, signs of the form, holds, endings. In: a section, a line, the
// places of its bars. Out: marks in rows that do not touch, lowest row first. Invariant: no mark leaves the line.
#pragma once
#include <vector>

#include "chart_pen.h"
#include "tunesheaf/engrave/common_signs.h"

namespace tunesheaf::blocks {

/// Where the bars of a section stand at one size.
struct ChartRoom {
  Length label, width;  ///< of the column of labels; of the whole
  Length text;          ///< size of words
  Length x_of_column(int column) const;
};
ChartRoom chart_room(const Setting& setting, const ChartSize& size);

/// Places of all bars of a line, or nothing where one does not fit.
std::optional<std::vector<BarPlaces>> line_places(const Setting& setting, const ChartSection& section,
                                                  const ChartLine& line, const ChartSize& size);
/// True for a bar before which nothing stands in its line.
bool begins_line(const ChartLine& line, std::size_t cell);
BarRoom bar_room(const ChartRoom& room, const ChartLine& line, std::size_t cell);

struct ChartMark {
  std::string text;
  Fraction beat{};  ///< behind the text a note, and its rate; 0: none
  std::string rate{};
  std::optional<text::MusicSign> sign;
  engrave::HoldShape hold = engrave::HoldShape::Arc;  ///< drawn where it is no arc
  bool boxed = false;
  style::TypeRole role;
  Colour colour;
  Kind kind = "chart-cue";
  Span origin;
  Length x{}, width{};
  int row = 0;
};
/// Rows are counted from the bars upwards.
std::vector<ChartMark> line_marks(const Setting& setting, const ChartSection& section, const ChartLine& line,
                                  const std::vector<BarPlaces>& places, const ChartSize& size);
/// What changes where a section begins, in a box, from `x` on.
ChartMark change_mark(const Setting& setting, const ChartRoom& room, const ChartCue& change, Length x);
bool has_ending(const ChartSection& section, const ChartLine& line);
/// A sign of the form, line by line from the top where its words are longer than the bars; the places are left open.
std::vector<ChartMark> form_marks(const Setting& setting, const ChartRoom& room, const engrave::FormSign& sign);
/// What stands behind "as A" where a section is only named, in rows downwards from there.
std::vector<ChartMark> same_marks(const Setting& setting, const ChartSection& section, const ChartSize& size);
style::TypeRole same_role(const Setting& setting, const ChartSize& size);
/// Draws text, note and rate of a mark from `at` on; returns their width.
Length put_mark_words(Frame& frame, const Setting& setting, const ChartMark& mark, Point at);
/// Draws a mark of any kind with its baseline at mark.x, `y`.
void put_mark(Frame& frame, const Setting& setting, const ChartRoom& room, const ChartMark& mark, Length y);
Length mark_row_height(const ChartRoom& room);
/// Space of a staff to which the signs over the bars are drawn.
Length mark_sign_space(const ChartRoom& room);
/// How far over the baseline of the chord names the lowest row of marks begins.
Length marks_floor(const ChartSize& size);

}  // namespace tunesheaf::blocks

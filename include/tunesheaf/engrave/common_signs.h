// Signs that a staff and a chart have in common, by one rule for both. In: the signs of the form at a section, a bar; a
// kind of hold. Out: the bar line that ends the bar; whether a tab can say it all; the outline of the hold. Invariant:
// what a handout shows at a place, the chart of the song shows there too. Read next: engrave/system.h,
// blocks/chart_page.h.
#pragma once
#include <functional>
#include <string>
#include <vector>

#include "tunesheaf/engrave/system.h"
#include "tunesheaf/text/outline.h"

namespace tunesheaf::engrave {

/// The line at the end of a bar: of a repeat as the song has it; the final one where the song ends by its Fine; a
/// double one where it leaps (D.C., D.S.) or the key changes behind it; else as the song has it.
score::BarLine bar_line_at(const std::vector<FormSign>& signs, const score::Section& section, int bar);

/// The words of a sign of the form in lines of at most `room`, broken behind a colon or a comma; a piece that is longer
/// stands alone. One empty line for a sign without words.
std::vector<std::string> form_lines(const std::string& words, base::Length room,
                                    const std::function<base::Length(const std::string&)>& width_of);

/// A note of the part has no string in this section: a tab alone would lose it, so a staff of notation stands there
/// whatever was asked for.
bool needs_notation(const score::Timeline& song, const score::PartMusic& music);

/// Holds of these lengths have outlines of their own (SMuFL: fermataShort, fermataLong), the others are an arc.
enum class HoldShape : std::uint8_t { Arc, Angle, Square };
HoldShape hold_shape(const std::string& word);
/// Half the width of such a hold and its height, in staff spaces.
double hold_half_width(HoldShape shape);
constexpr double kHoldRise = 1.35;
constexpr double hold_stroke(HoldShape shape) {
  return shape == HoldShape::Angle ? 0.2 : 0.24;
}
/// The outline of an angle or a square as a line to be drawn, with the middle of its foot at `foot`.
std::vector<text::PathStep> hold_outline(HoldShape shape, base::Point foot, base::Length staff_space);

}  // namespace tunesheaf::engrave

// Where on its staff a note must stand. In: a part, its music, a note, a place. Out: height and figure, worked out from
// pitch, clef and octave lines (or from string and fret), not taken from the engraver; and the marks that must stand
// with it. Read next: sheet/sheet.h.
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "tunesheaf/layout/frame.h"
#include "tunesheaf/score/timeline.h"

namespace tunesheaf::sheet {

/// Halves of a line distance below the top of five lines; nothing for drums, whose places are the kit's own.
std::optional<int> height_on_staff(const score::Part& part, bool lower, const score::PartMusic& music,
                                   const score::Note& note, score::Place at);
/// The same on a tab, where a string's line is two halves below the next; string 1 is the top line, mirrored the
/// lowest.
int height_on_tab(const score::Part& part, const score::Note& note, bool mirrored);
std::string figure_of(const score::Note& note);
/// Marks of the event (with its first note) and of the note.
std::vector<std::vector<layout::Kind>> marks_of(const score::Event& event, std::size_t note);

}  // namespace tunesheaf::sheet

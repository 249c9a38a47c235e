// Found shapes as a printed sheet. In: a chord, the instrument, its shapes, a file's name. Out: the file, and an exit
// code. Invariant: the sheet is made by the same blocks as a handout: its title, the tuning, the boxes. Read next:
// press.h.
#pragma once
#include <string>
#include <vector>

#include "reading_ear.h"
#include "tunesheaf/app/commands.h"
#include "tunesheaf/theory/finding.h"

namespace tunesheaf::app {

struct ShapeSheet {
  const Held& held;
  const theory::ChordName& chord;
  const std::vector<theory::FoundShape>& shapes;
};

int print_shape_sheet(const ShapeSheet& sheet, const std::string& target, const CommandLine& line,
                      const Console& console);

}  // namespace tunesheaf::app

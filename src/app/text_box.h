// Chord boxes in plain text for a terminal. In: a shape with or without fingers and a line under and over it. Out:
// lines of equal width, strings left to right as tuned. Invariant: every line of one box is `columns` wide on the
// screen.
//
//      x  o     o            x not played, o open
//      ┏━━┳━━┳━━┳━━┓         nut; a thin line and the first fret's number at the right when the box starts higher
//      ┃  │  1  │
#pragma once
#include <string>
#include <vector>

#include "tunesheaf/theory/shape.h"

namespace tunesheaf::app {

struct TextBox {
  std::vector<std::string> lines;
  std::size_t columns = 0;
};

/// `notes`: one text per string, low string first, empty for none; `above` and `below` are cut at no place: they widen
/// the box.
TextBox text_box(const theory::Shape& shape, const std::vector<std::string>& notes,
                 const std::vector<std::string>& above, const std::vector<std::string>& below);
/// Boxes side by side, as many as fit into 78 columns, rows parted by an empty line.
std::string rows_of(const std::vector<TextBox>& boxes);

}  // namespace tunesheaf::app

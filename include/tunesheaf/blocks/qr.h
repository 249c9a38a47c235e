// A square to be scanned. In: a text such as a link, and the width there is. Out: a frame with the square in dark
// rectangles on a white quiet zone of four modules, or nothing when the text is too long for a module of 0.4 mm.
// Invariant: dark modules are merged into few rectangles that do not overlap. Source: ISO/IEC 18004, through
// libqrencode.
#pragma once
#include <memory>
#include <optional>
#include <string>

#include "tunesheaf/layout/frame.h"

namespace tunesheaf::blocks {

/// Scanners read dark on light: what is darker of the ink and the paper, on a patch of the other where the paper is the
/// dark one.
struct QrColours {
  base::Colour dark;
  std::optional<base::Colour> patch;  ///< none: the paper is light
};
QrColours qr_colours(base::Colour ink, base::Colour ground);

/// As wide as the square comes out, at most `width`.
std::shared_ptr<const layout::Frame> qr_square(const std::string& text, base::Length width, const QrColours& colours);

}  // namespace tunesheaf::blocks

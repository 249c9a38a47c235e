// Drawings of the signs that no installed font has, or has in another design. In: a sign. Out: its outline in staff
// spaces, y down, origin as text/music_signs.h says. Invariant: solid contours turn one way and holes the other, so
// that overlapping parts join when filled by the non-zero rule. Read next: sign_outlines.cpp, the drawings themselves.
#pragma once
#include <string_view>
#include <vector>

#include "tunesheaf/text/music_signs.h"

namespace tunesheaf::text {

/// Empty when the sign is a glyph of the music family.
const std::vector<PathStep>& unit_outline(MusicSign sign);
/// Lengths of unit outlines stand for staff spaces: this many raw units are one space.
inline constexpr std::int64_t kUnitsPerSpace = 1 << 16;

/// 'T', 'A' or 'B', 1 space high from y = 0 (top), with its width in spaces.
struct Letter {
  std::vector<PathStep> path;
  double width = 0;
};
const Letter& tab_letter(char letter);

std::vector<PathStep> scaled(std::vector<PathStep> unit_path, base::Length staff_space);

}  // namespace tunesheaf::text

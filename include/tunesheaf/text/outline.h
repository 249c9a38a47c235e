// Outlines: closed or open paths of straight lines and cubic curves, y down. In: geometry. Out: steps that a painter
// can fill or stroke as they are. Invariant: a path begins with Move; Curve uses a and b as controls and c as end.
// The shapes below are drawn by us; units are those of the arguments. Read next: text/music_signs.h.
#pragma once
#include <cstdint>
#include <optional>
#include <vector>

#include "tunesheaf/base/length.h"

namespace tunesheaf::text {

enum class PathVerb : std::uint8_t { Move, Line, Curve, Close };

/// Curve uses all three points (two controls, end); Move and Line use a.
struct PathStep {
  PathVerb verb = PathVerb::Move;
  base::Point a, b, c;
  friend constexpr bool operator==(const PathStep&, const PathStep&) = default;
};

/// Exact bounds of the filled path (extremes of the curves, not of their controls); nothing for an empty path.
std::optional<base::Rect> bounds(const std::vector<PathStep>& path);

std::vector<PathStep> moved(std::vector<PathStep> path, base::Point by);

/// A slur or tie to be filled: from `from` to `to`, its middle `rise` away from the straight line between them
/// (negative is upwards), `ends` and `middle` thick.
std::vector<PathStep> slur(base::Point from, base::Point to, base::Length rise, base::Length ends, base::Length middle);

/// A brace to be filled, `height` high from (0, 0) downwards, its tip at x = -width and its arms at x = 0.
std::vector<PathStep> brace(base::Length height, base::Length width);

/// A bracket to be filled for staves from y = 0 to `height`: a bar `thickness` wide whose right edge is x = 0, with
/// curved wings beyond both ends.
std::vector<PathStep> bracket(base::Length height, base::Length thickness);

/// A wavy line to be filled, running to the right from (0, 0) by at most `length` in whole waves of `wave`, thick and
/// thin like a pen held at a slant; `height` is from crest to trough.
std::vector<PathStep> wave(base::Length length, base::Length wave_length, base::Length height);

/// The same running down from (0, 0): the arpeggio sign.
std::vector<PathStep> wave_down(base::Length length, base::Length wave_length, base::Length height);

/// A filled arrow head with its tip at (0, 0), pointing along `direction` (any non-zero vector).
std::vector<PathStep> arrow_head(base::Point direction, base::Length length, base::Length width);

}  // namespace tunesheaf::text

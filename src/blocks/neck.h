// The piece of a neck that boxes stand on: strings, frets, nut. In: its measures and the place of its top left
// crossing. Out: lines added to a frame, and where strings and frets lie. Invariant: every box of a sheet is drawn on
// this one.
#pragma once
#include "pen.h"
#include "tunesheaf/blocks/shapes.h"

namespace tunesheaf::blocks {

/// No figure of a box is smaller.
const Length kLeastBoxText = Length::pt(7);

/// Distance of two strings.
Length string_gap(const style::Style& style, BoxSize size);

struct Neck {
  Length gap;  ///< of the strings
  int strings = 6;
  int first = 1;  ///< fret of the first row; 1: with the nut
  int frets = 4;  ///< rows
  Point at;       ///< crossing of the outermost string and the nut or first line

  Neck(Length string_gap, int string_count, int lowest_fret, int highest_fret);
  Length width() const { return gap * (strings - 1); }
  Length height() const { return row() * frets; }
  Length row() const { return gap * 1.22; }
  /// Middle of the row of a fret.
  Length y_of(int fret) const { return at.y + row() * (fret - first) + row() / 2; }
  /// Figures in and beside the box.
  style::TypeRole figure_role(const style::Style& style) const;
  void draw(Frame& frame, const Setting& setting) const;
  /// The number of the first row beside it; nothing where the nut is.
  void draw_first_fret(Frame& frame, const Setting& setting) const;
};

}  // namespace tunesheaf::blocks

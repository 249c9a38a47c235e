// How a sheet looks: resolved values of every style token. In: the token table and YAML style files that extend one
// another. Out: one Style. Units: lengths on paper in Length; engraving thicknesses in staff spaces (multiples of
// `staff_space`) so that they scale. Invariant: no text is smaller than 7 pt, no line thinner than 0.2 mm is promised
// by the house style, and every text colour keeps a contrast of 4.5 to 1. Read next: style/load.h, styles/house.yaml.
#pragma once
#include <string>

#include "tunesheaf/base/colour.h"
#include "tunesheaf/base/length.h"

namespace tunesheaf::style {

/// A type role: family, size and weight by name; text::TextStyle is made from it by engrave and blocks.
struct TypeRole {
  std::string family;
  int weight = 400;
  bool italic = false;
  base::Length size;
  int tracking = 0;  ///< 1/1000 em
  friend bool operator==(const TypeRole&, const TypeRole&) = default;
};

struct PageStyle {
  base::Size paper;
  base::Length top, bottom, inner, outer;  ///< white edges; inner leaves room for punched holes
  base::Length margin_column;              ///< width of the column for remarks and video times
  base::Length column_gap;
  friend bool operator==(const PageStyle&, const PageStyle&) = default;
};

/// Staff-space multiples; the values are common practice of the engraving handbooks (Ross 1970, Read 1979, Gould 2011,
/// from memory) and the published defaults of the SMuFL standard.
struct EngravingStyle {
  double staff_line = 0.13, ledger_line = 0.16, ledger_reach = 0.35, stem = 0.12, beam = 0.5, beam_gap = 0.25;
  double thin_bar = 0.16, thick_bar = 0.5, bar_gap = 0.4, repeat_dot_gap = 0.3;
  double tuplet_bracket = 0.16, slur_ends = 0.1, slur_middle = 0.22, hairpin = 0.16;
  double tab_line_distance = 1.5;
  double stem_length = 3.5;
  double spacing_base = 2.6;       ///< width in sp of the shortest common duration
  double spacing_ratio = 1.5;      ///< growth of width for each doubling of duration
  double max_stretch_last = 1.25;  ///< a last system filled to less than 0.6 is not stretched further
  double staff_gap = 4.5;          ///< least white between staves of one part, sp
  double part_gap = 6.0;           ///< least white between parts, sp
  friend bool operator==(const EngravingStyle&, const EngravingStyle&) = default;
};

/// White between the blocks of a page, and how far it may grow when a page is filled.
struct RhythmStyle {
  base::Length block_gap;       ///< above a block (tuning, map, shapes)
  base::Length section_gap;     ///< above a section's heading
  base::Length system_gap;      ///< above a system
  base::Length system_stretch;  ///< how much the space above a system may grow
  base::Length note_gap;        ///< least white between two notes in the margin column
  friend bool operator==(const RhythmStyle&, const RhythmStyle&) = default;
};

/// The three sizes of a chord box: distance of neighbouring strings; all else in the box follows from it.
struct BoxStyle {
  base::Length small, medium, large;
  friend bool operator==(const BoxStyle&, const BoxStyle&) = default;
};

struct Style {
  std::string name;
  PageStyle page;
  EngravingStyle engraving;
  RhythmStyle rhythm;
  BoxStyle box;
  base::Length staff_space;        ///< distance of two staff lines
  base::Length least_staff_space;  ///< how small it may become where many staves share a system
  base::Length rule;               ///< thickness of rules and of the lines of tables and boxes
  base::Colour ink, accent, tint, faint, ground;
  TypeRole title, subtitle, body, note, label, section_letter, section_name, chord, lyric, figure, bar_number,
      direction, tempo, small, running, heading;
  std::string music_family;          ///< family of the music signs
  bool boxes_mirrored = false;       ///< for left-handed players
  bool tab_mirrored = false;         ///< the lines of the tab upside down, string 1 the lowest
  std::string show_staves = "both";  ///< both, notation, tab
  std::string sides = "double";      ///< double, single: whether leaves are printed on both sides
  friend bool operator==(const Style&, const Style&) = default;
};

/// The built-in house style on A4 or US Letter ("a4", "letter"; anything else is A4); never fails.
Style house_style(const std::string& paper = "a4");

/// The same style with another staff space: figures of the tab shrink along, to 7 pt at least; lines keep 0.2 mm.
Style with_staff_space(const Style& style, base::Length staff_space);

/// Width of the column that blocks and systems stand in.
base::Length body_width(const Style& style);

}  // namespace tunesheaf::style

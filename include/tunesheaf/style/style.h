// How a sheet looks: resolved values of every style token. In: token tables and YAML style files that extend one
// another. Out: one Style, with the place each token came from. Units: lengths in Length; engraving thicknesses in
// staff spaces (multiples of `staff_space`) so that they scale. Read next: style/tokens.h, styles/house.yaml.
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
};

struct PageStyle {
  base::Size paper;
  base::Length top, bottom, inner, outer;  ///< white edges; inner leaves room for punched holes
  base::Length margin_column;              ///< width of the column for remarks and video times
  base::Length column_gap;
};

/// Staff-space multiples; sources in page.md's engraving rules (handbooks' common values).
struct EngravingStyle {
  double staff_line = 0.13, ledger_line = 0.16, ledger_reach = 0.35, stem = 0.12, beam = 0.5, beam_gap = 0.25;
  double thin_bar = 0.16, thick_bar = 0.5, bar_gap = 0.4, repeat_dot_gap = 0.3;
  double tuplet_bracket = 0.16, slur_ends = 0.1, slur_middle = 0.22, hairpin = 0.16;
  double tab_line_distance = 1.5;
  double stem_length = 3.5;
  double spacing_base = 2.6;       ///< width in sp of the shortest common duration
  double spacing_ratio = 1.5;      ///< growth of width for each doubling of duration
  double max_stretch_last = 1.25;  ///< the last system of a section is not stretched beyond this share of its width
  double staff_gap = 4.5;          ///< least white between staves of one part, sp
  double part_gap = 6.0;           ///< least white between parts, sp
};

struct Style {
  std::string name;
  PageStyle page;
  EngravingStyle engraving;
  base::Length staff_space;  ///< distance of two staff lines
  base::Colour ink, accent, tint, faint, ground;
  TypeRole title, subtitle, body, note, label, section_letter, section_name, chord, lyric, figure, bar_number,
      direction, small, running;
  std::string music_family;          ///< family of the music signs
  bool boxes_mirrored = false;       ///< for left-handed players
  std::string show_staves = "both";  ///< both, notation, tab
};

/// The built-in house style on A4; never fails. `paper` is "a4" or "letter".
Style house_style(const std::string& paper = "a4");

}  // namespace tunesheaf::style

// Columns of a section, bar by bar. In: planned staves with the ink of every onset. Out: for each bar its columns, the
// springs between them and the rods that keep ink apart, for all staves and voices at once; for each bar line what
// stands at it (clefs, keys, meters, repeats). Invariant: a column belongs to one onset, whatever staff it sounds on. A
// gap's natural width is its share of the width of the shortest note that sounds in it; that width grows by
// `spacing_ratio` with each doubling of the duration (rule 6). Read next: layout/springs.h, system.cpp.
#pragma once
#include <map>
#include <utility>
#include <vector>

#include "chord.h"
#include "staff_plan.h"
#include "tunesheaf/layout/springs.h"

namespace tunesheaf::engrave {

struct BarSpacing {
  std::vector<Fraction> onsets;
  std::vector<Length> ink_left;  ///< per column: how far ink reaches to its left, without grace notes (positive)
  /// By column and part, where grace notes stand: the same of the part's own staves, which they stand in front of.
  std::map<std::pair<std::size_t, int>, Length> before_grace;
  Length lead;                          ///< from the end of what stands at the bar line to the first column, at least
  std::vector<layout::Spring> springs;  ///< from column i to i + 1, the last one to the right edge of the bar line
  std::vector<layout::Rod> rods;        ///< between columns of this bar; index onsets.size() is the bar line
  layout::Measure measure;              ///< lead and springs together
};

/// What stands at the left of a bar, as distances from the bar line's right edge (or from the left end of the system).
struct LeadIn {
  Length clef, key, meter, repeat;  ///< left edges
  Length end;
  bool has_clef = false, has_key = false, has_meter = false, has_repeat = false;
};

struct SectionMusic {
  const SectionRequest& request;
  const score::Timeline& timeline;
  const score::Section& section;
  std::vector<StaffPlan>& plans;
  Inks& inks;
  const std::vector<StaffPlan>* cues = nullptr;  ///< over these staves
};

std::vector<BarSpacing> space_bars(SectionMusic music);
/// What the count under the first part needs (count.cpp), between columns at `onsets`.
std::vector<layout::Rod> count_rods(const SectionMusic& music, int bar, const std::vector<Fraction>& onsets);
/// What the letters of strings are made of.
struct StringLetters {
  const score::Timeline& timeline;
  const score::Section& section;
  text::Shaper& shaper;
  const style::Style& style;
};
/// The note of every string of a tab as it is tuned at a bar, string 1 first: what stands at the lines of a mirrored
/// tab, so that nobody takes it for the usual one.
std::vector<text::Line> string_letters(const StaffPlan& plan, const StringLetters& of, int bar);
LeadIn lead_in(const SectionMusic& music, int bar, bool system_start);
/// White and signs after the last bar line of a system that announce the next one's key and meter.
/// At the end of the section those of the section that follows.
LeadIn courtesy(const SectionMusic& music, int next_bar);
/// The key and meter of a staff from a bar on, or from the next section on; what does not change there is not said.
struct Coming {
  const score::Bar* bar = nullptr;
  bool key = false, meter = false;
  int fifths = 0, before = 0;
};
Coming coming(const SectionRequest& request, const StaffPlan& plan, int next_bar);
/// Width of a bar line with its repeat dots, to the left of its right edge.
Length bar_line_width(const SectionMusic& music, int bar);
inline constexpr double kPlusGap = 0.2;    ///< sp on either side of the plus signs of a meter
inline constexpr double kPlusSize = 0.72;  ///< of a plus beside the figures of a meter
Length key_width(int fifths, int before, Inks& inks);
/// Of a meter's upper numbers: the count, or its groups as stated with their plus signs.
Length top_width(const theory::Meter& meter, text::MusicFont& music, Length sp);
Length meter_width(const theory::Meter& meter, Inks& inks);
/// A small clef within the music, and the white beside it.
Length clef_change_width(ClefShape clef, Inks& inks);
bool shows_key(const StaffPlan& plan);
bool shows_meter(const StaffPlan& plan);

}  // namespace tunesheaf::engrave

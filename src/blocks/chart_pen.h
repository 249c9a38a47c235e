// Chord names in large type. In: a ChartName, a size. Out: its width, or its items in a frame. Invariant: what is
// raised stays 7 pt or more. Read next: blocks/chart_page.h.
#pragma once
#include "pen.h"
#include "tunesheaf/blocks/chart_page.h"

namespace tunesheaf::blocks {

/// After measure_chart().
Length chart_name_width(const ChartChord& chord, Length size);
/// On the baseline `at`, its left end.
void put_chart_name(Frame& frame, const Setting& setting, Point at, const ChartName& name, Length size, Span origin);

/// Where the beats and chords of one bar stand.
struct BarPlaces {
  double scale = 1;                                  ///< of the chord names in this bar
  bool crowded = false;                              ///< names stand elsewhere than at their share of the bar
  std::vector<Length> chords;                        ///< left ends
  Length left, right;                                ///< of the room for names
  std::vector<std::pair<Fraction, Length>> anchors;  ///< onset to x, ascending
  Length x_of(Fraction onset) const;
};
struct BarRoom {
  Length left, right;  ///< of the bar, bar line to bar line
  bool first_in_line = false;
};
/// Nothing where the names cannot stand in that room.
std::optional<BarPlaces> places_of(const Setting& setting, const ChartBar& bar, BarRoom room, const ChartSize& size);
/// Room for "4 bars" in a cell that stands for four, the white before it included; nothing for one bar.
Length count_room(const Setting& setting, const ChartBar& bar, Length chord_size);
/// How the words are set that stand in a row with chord names.
style::TypeRole count_role(const Setting& setting, Length chord_size);
std::string count_words(const ChartBar& bar);
/// How high the largest names reach over their baseline.
Length names_height(Length chord_size);
/// White before a bar line, its own width included.
Length bar_end_width(const ChartBar& bar, Length chord_size);
/// A bar that is shown by the sign of repetition alone.
bool is_sign_alone(const ChartBar& bar, bool first_in_line);

/// The row of slashes or of rhythm under the names; `top` is where it may begin.
void put_beats(Frame& frame, const Setting& setting, const ChartBar& bar, const BarPlaces& places, Length top,
               Length chord_size);
void put_hits(Frame& frame, const Setting& setting, const ChartBar& bar, const BarPlaces& places, Length top,
              Length chord_size);
Length beats_height(Length chord_size);
Length hits_height(Length chord_size);
/// The least room for the hits of a bar; nothing for a bar without.
Length hits_width(const Setting& setting, const ChartBar& bar, Length chord_size);
/// Width of a bar's meter, with the white behind it; without it, of its figures.
Length meter_room(const theory::Meter& meter, Length chord_size);
Length meter_figures(const theory::Meter& meter, Length chord_size);
/// The least room for the strum of a bar.
Length strum_width(const Setting& setting, const ChartBar& bar, Length space);
/// A strum in the column of labels: `width` for the whole bar, its top at `at`. Returns its height.
Length put_strum(Frame& frame, const Setting& setting, const ChartBar& bar, Point at, Length width, Length space);

}  // namespace tunesheaf::blocks

// A song as a chart: one page that is read from two metres. In: the Timeline, a style, fonts, the player, the kind of
// names. Out: a sheet of exactly one page with the largest chord names that fit, and what was folded for that; or why
// the song does not fit and the nearest remedy. Invariant: names are at least 16 pt up to 48 bars, never below 9 pt.
// Read next: blocks/chart_page.h.
#pragma once
#include <string>
#include <vector>

#include "tunesheaf/base/result.h"
#include "tunesheaf/blocks/chart.h"
#include "tunesheaf/sheet/sheet.h"

namespace tunesheaf::sheet {

struct ChartRequest {
  const score::Timeline& song;
  const style::Style& style;
  text::Shaper& shaper;
  text::MusicFont& music;
  blocks::ChartPlayer player;
  blocks::ChartNames names = blocks::ChartNames::Hand;
  Binding binding = Binding::Alone;
};

struct Chart {
  Sheet sheet;
  base::Length chord_size;        ///< em of the chord names
  int cells = 0;                  ///< bars that are drawn
  std::vector<std::string> told;  ///< what was folded or left out
};

/// Why there is no chart, as one sentence with the remedy.
struct ChartRefusal {
  std::string sentence;
};

base::Result<Chart, ChartRefusal> make_chart(const ChartRequest& request, diag::Sink& sink);

}  // namespace tunesheaf::sheet

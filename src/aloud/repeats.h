// What has been said already. In: the bars of a part in the order they are said. Out: for each bar, or run of bars,
// either "say it", or the earlier bars it repeats. Invariant: a repeat names bars of the same part that were said
// before, in one section, in order; pick-ups, which have no number, are never named.
//
//   said   1 2 3 4 | 5 6 7 8        5 6 = 1 2, 7 = 6, 8 new:   "Bars 5 to 6: as bars 1 to 2." "Bar 7: as bar 6." "Bar
//   8: …"
#pragma once
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "bars.h"

namespace tunesheaf::aloud {

struct Earlier {
  int section = 0;  ///< index into the Timeline
  int first = 0;    ///< printed number of the first bar
  int count = 1;    ///< how many are named; less than the bars that repeat when each of those is as the one
};

struct Step {
  std::size_t from = 0, count = 1;  ///< bars of the section
  std::optional<Earlier> as;        ///< these bars are as those
  std::optional<int> figure_as;     ///< one bar, whose figure is that of the bar with this number
  std::optional<int> figure_section;
};

class Memory {
 public:
  /// `numbers` are the printed ones, 0 for a pick-up. Remembers the bars.
  std::vector<Step> steps(int part, int section, const std::vector<int>& numbers, const std::vector<BarSaid>& bars);

 private:
  struct Entry {
    int section = 0, number = 0;
    std::string measure, whole, figure;
    bool in_full = false;  ///< said in full, not as a repeat
    bool silent = false;
  };
  std::size_t run_length(const std::vector<Entry>& all, std::size_t from, std::size_t at) const;
  Step next(const std::vector<Entry>& all, std::size_t at, std::size_t least) const;

  std::map<int, std::vector<Entry>> said_;
};

}  // namespace tunesheaf::aloud

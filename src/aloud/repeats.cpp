#include "repeats.h"

#include <algorithm>

namespace tunesheaf::aloud {
namespace {

constexpr std::size_t kShort = 44;  ///< letters: a bar said in as few is quicker heard than looked up

std::string whole_of(const BarSaid& bar) {
  std::string out = bar.held;  // not the measure: whether a bar is short to say depends on what is said
  for (const std::string& sentence : bar.played) out += "\n" + sentence;
  return out;
}

constexpr std::size_t kFewestChordBars = 4;  ///< chords are short: few bars of them are said again

}  // namespace

/// How many bars from `at` on are as those from `from` on. The two runs do not overlap, but for a single bar that is
/// repeated again and again.
std::size_t Memory::run_length(const std::vector<Entry>& all, std::size_t from, std::size_t at) const {
  const bool again_and_again = from + 1 == at;
  std::size_t length = 0;
  while (at + length < all.size()) {
    const std::size_t source = again_and_again ? from : from + length;
    if (source >= at || all[source].number == 0 || all[at + length].number == 0) break;
    if (all[source].section != all[from].section || all[source].whole != all[at + length].whole) break;
    if (all[source].measure != all[at + length].measure) break;
    if (all[source].number - all[from].number != static_cast<int>(source - from)) break;
    ++length;
  }
  return length;
}

/// `least`: so many bars in a row are worth naming; fewer are said.
Step Memory::next(const std::vector<Entry>& all, std::size_t at, std::size_t least) const {
  Step step;
  if (all[at].number == 0) return step;
  std::size_t best = 0, longest = 0;
  for (std::size_t from = 0; from < at; ++from) {
    const std::size_t length = run_length(all, from, at);
    const bool clearer = length == longest && length > 0 && all[from].in_full && !all[best].in_full;
    if (length > longest || clearer) {
      best = from;
      longest = length;
    }
  }
  // A bar that stands alone is named by the bar where it was said in full, not through another repeat.
  if (longest >= least && (longest > 1 || all[at].whole.size() > kShort)) {
    step.count = longest;
    const bool again_and_again = best + 1 == at;
    step.as = Earlier{all[best].section, all[best].number, again_and_again ? 1 : static_cast<int>(longest)};
    return step;
  }
  if (all[at].figure.size() <= kShort || longest > 0) return step;
  for (std::size_t from = 0; from < at; ++from) {
    if (all[from].number == 0 || !all[from].in_full || all[from].figure != all[at].figure) continue;
    if (all[from].measure != all[at].measure) continue;
    step.figure_as = all[from].number;
    step.figure_section = all[from].section;
    break;
  }
  return step;
}

std::vector<Step> Memory::steps(int part, int section, const std::vector<int>& numbers,
                                const std::vector<BarSaid>& bars) {
  std::vector<Entry>& all = said_[part];
  const std::size_t begin = all.size();
  for (std::size_t i = 0; i < bars.size(); ++i) {
    all.push_back({section, numbers[i], bars[i].measure, whole_of(bars[i]), bars[i].figure, false, bars[i].silent});
  }
  std::vector<Step> out;
  for (std::size_t i = begin; i < all.size();) {
    Step step;
    if (all[i].silent) {
      while (i + step.count < all.size() && all[i + step.count].whole == all[i].whole &&
             all[i + step.count].number != 0 && all[i].number != 0) {
        ++step.count;
      }
    } else {
      step = next(all, i, part < 0 ? kFewestChordBars : 1);
      all[i].in_full = !step.as && !step.figure_as;
    }
    step.from = i - begin;
    i += step.count;
    out.push_back(step);
  }
  return out;
}

}  // namespace tunesheaf::aloud

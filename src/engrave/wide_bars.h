// Bars that are wider than the page. In: a section's bars as they are spaced, and its line breaker. Out: the places at
// which such bars are to be broken. Rule: a bar is broken at a beat, best at the beginning of a group of beats and
// where nothing is held over it, into as few pieces as will do and as even as can be (Gould 2011; Ross 1970: a bar is
// parted only where it must be). Invariant: never within a tuplet, unless nothing else is left. Read next:
// broken_bars.h, breaker.h.
#pragma once
#include <functional>
#include <memory>
#include <vector>

#include "breaker.h"
#include "broken_bars.h"

namespace tunesheaf::engrave {

enum class BreakAt : std::uint8_t { Beats, AnyNote };

struct WideBar {
  int bar = 0;                   ///< of the section as it is laid out
  std::vector<Fraction> breaks;  ///< within it; empty: it cannot be broken there
};

/// A section that is being set.
class Setter {
 public:
  virtual ~Setter() = default;
  /// Spaces the bars and breaks them into lines. Out: bars that repeat what stands on another line, to be written out.
  virtual std::set<int> break_lines() = 0;
  /// Of what is spaced.
  virtual std::vector<WideBar> wide(BreakAt at) const = 0;
  /// The lines that break_lines() left.
  virtual EngravedSection run() = 0;
};
using NewSetter = std::function<std::unique_ptr<Setter>(const SectionRequest&, const style::Style&)>;

/// Bars that are too wide are broken at beats; where a beat is too wide, the whole section is set smaller, down to the
/// least size that can be read; where it is too wide even so, it is broken at any note. What was done is said of the
/// systems; their bars are those of the section as written.
EngravedSection engrave_lines(SectionRequest request, const style::Style& style, const NewSetter& set);

/// Every bar that does not fit on a system of its own.
std::vector<WideBar> wide_bars(const SectionMusic& music, const std::vector<BarSpacing>& bars, const Breaker& breaker,
                               BreakAt at);

}  // namespace tunesheaf::engrave

// Bars broken within. In: a request, and the places at which bars of its section are broken because they are wider than
// the page. Out: the same song, in which each such bar stands as several that follow one another without a bar line;
// what goes over the break is tied, as over a bar line. Invariant: events keep their numbers, so that every mark has
// the subject it would have in a whole bar; a broken bar is written out, whatever groove it repeats. Read next:
// wide_bars.h.
#pragma once
#include <memory>
#include <set>
#include <vector>

#include "tunesheaf/engrave/system.h"

namespace tunesheaf::engrave {

/// A bar as it is laid out.
struct BarPiece {
  int bar = 0;              ///< of the section as written
  base::Fraction from;      ///< where it begins in that bar
  base::Fraction in_meter;  ///< and in its meter: a pick-up does not begin at 0
  bool continues = false;   ///< the rest of the bar before it
  bool continued = false;   ///< goes on in the next one
  bool broken() const { return continues || continued; }
};

struct BrokenBars {
  score::Timeline timeline;
  SectionRequest request;  ///< of that timeline
  std::vector<BarPiece> pieces;
  std::vector<std::vector<BarRepeat>> repeats;  ///< by part
};

/// Each place lies within a bar of the section, not at its ends.
std::unique_ptr<const BrokenBars> break_bars(const SectionRequest& request, const std::set<score::Place>& at);

/// The whole bar where none is broken.
BarPiece piece_at(const SectionRequest& request, int bar);
/// As bar_repeats(), for the bars as they are laid out; those that are to be written out are none.
std::vector<BarRepeat> repeats_of(const SectionRequest& request, int part);

}  // namespace tunesheaf::engrave

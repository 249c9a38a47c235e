// The outline of what stands on one side of a line: a staff's ceiling or floor. In: boxes as stretches of x with a
// reach away from the line. Out: the reach over any stretch, and rows that clear everything added before. Invariant: a
// reach never shrinks; what is reserved is added, so that two reservations never overlap. Both sides use positive
// numbers: up for a ceiling, down for a floor. Read next: layout/springs.h, engrave's staff context.
#pragma once
#include <map>

#include "tunesheaf/base/length.h"

namespace tunesheaf::layout {

class Contour {
 public:
  /// Everywhere at least `base`.
  explicit Contour(base::Length base = {});
  /// Something reaches to `reach` between x0 and x1 (swapped when the wrong way round).
  void add(base::Length x0, base::Length x1, base::Length reach);
  /// The farthest reach of anything between x0 and x1.
  base::Length reach(base::Length x0, base::Length x1) const;
  /// Room for something `height` deep between x0 and x1, `gap` off what is there and no nearer than `at_least`; adds it
  /// and returns its near edge.
  base::Length reserve(base::Length x0, base::Length x1, base::Length height, base::Length gap,
                       base::Length at_least = {});
  base::Length farthest() const;
  /// The least distance of two lines so that this floor and that ceiling stay `gap` apart everywhere.
  base::Length distance_to(const Contour& ceiling, base::Length gap) const;

 private:
  void cut(base::Length x);
  std::map<base::Length, base::Length> steps_;  // from x on, the reach; the first key is the far left
};

}  // namespace tunesheaf::layout

// Columns on a line, held apart by springs and rods. In: the spring between each two neighbouring columns, rods that
// keep any two columns at least so far apart, the width wanted. Out: the place of each column. Invariant: springs give
// way, rods never; the last column stands exactly at the width unless the rods alone are longer (overfull) or
// stretching is bounded. Springs by duration: engrave/spacing. Read next: layout/lines.h.
#pragma once
#include <cstddef>
#include <vector>

#include "tunesheaf/base/length.h"

namespace tunesheaf::layout {

/// Between column i and i + 1. At force f it is max(minimum, natural + f * give) long.
struct Spring {
  base::Length natural;
  base::Length give;     ///< 0: stiff
  base::Length minimum;  ///< a rod between the two
};

/// Columns `from` < `to` stand at least `length` apart.
struct Rod {
  std::size_t from = 0, to = 0;
  base::Length length;
};

struct Measure {
  base::Length minimum;  ///< all springs pressed to their rods
  base::Length natural;  ///< no force
  base::Length give;     ///< sum of what yields
};

class SpringLine {
 public:
  /// Rods over several springs are shared out over them by their give (in equal parts over stiff ones), short rods
  /// first.
  SpringLine(std::vector<Spring> springs, std::vector<Rod> rods);
  Measure measure() const;
  /// Places of all columns, the first at 0. Wider than `width` only when the rods are.
  std::vector<base::Length> place(base::Length width) const;
  /// The force that `place` would need; 0 when natural, negative when pressed together.
  double force(base::Length width) const;
  const std::vector<Spring>& springs() const { return springs_; }

 private:
  base::Length length_at(double force) const;
  std::vector<Spring> springs_;
};

}  // namespace tunesheaf::layout

// A frame in rows whose distances give way. In: a frame at its natural height, for each of its items the rows that it
// stands on, and how far each joint between two rows may open or close. Out: the same frame higher or lower. Invariant:
// an item of one row keeps its shape and its distance from its row; what runs from one row to another (lines, brackets)
// is drawn out with them; words between two rows stay between them; share 0 is the frame itself. Read next:
// layout/flow.h.
#pragma once
#include <cstdint>
#include <memory>
#include <vector>

#include "tunesheaf/layout/frame.h"

namespace tunesheaf::layout {

/// The rows an item hangs on: its top on `from`, its foot on `to`.
struct Rows {
  std::uint16_t from = 0, to = 0;
};

class Elastic {
 public:
  /// One entry of `rows` an item of the frame; joint i stands between rows i and i + 1. `open` and `close` are both
  /// positive.
  Elastic(std::shared_ptr<const Frame> natural, std::vector<Rows> rows, std::vector<base::Length> open,
          std::vector<base::Length> close);

  /// How much higher or lower it may become.
  base::Length grow() const { return down(open_, open_.size()); }
  base::Length shrink() const { return down(close_, close_.size()); }
  /// How far a row moves down at a share of what the joints allow: 1 all open, -1 all closed (then negative).
  base::Length shift(std::size_t row, double share) const;
  std::shared_ptr<const Frame> at(double share) const;

 private:
  static base::Length down(const std::vector<base::Length>& joints, std::size_t row);
  std::shared_ptr<const Frame> natural_;
  std::vector<Rows> rows_;
  std::vector<base::Length> open_, close_;
};

}  // namespace tunesheaf::layout

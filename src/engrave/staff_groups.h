// Staves of a system by part, and a system while it is put together. In: the plans of its staves, and items as they are
// drawn. Out: the first and last staff of each part; a frame that knows which staves each item hangs on.
#pragma once
#include <memory>
#include <utility>
#include <vector>

#include "staff_plan.h"
#include "tunesheaf/layout/elastic.h"
#include "tunesheaf/layout/frame.h"

namespace tunesheaf::engrave {

/// Staves of one part that stand together, by index.
struct StaffGroup {
  std::size_t first = 0, last = 0;  // inclusive
};

inline std::vector<StaffGroup> groups_of(const std::vector<StaffPlan>& plans) {
  std::vector<StaffGroup> groups;
  for (std::size_t i = 0; i < plans.size(); ++i) {
    if (i > 0 && plans[i].part == plans[i - 1].part) {
      groups.back().last = i;
    } else {
      groups.push_back({i, i});
    }
  }
  return groups;
}

/// A system being put together: its frame, and the staves that each item hangs on.
struct Stacked {
  std::size_t top = 0;  ///< its top staff: rows count from there
  std::shared_ptr<layout::Frame> frame = std::make_shared<layout::Frame>();
  std::vector<layout::Rows> rows;
  void put(layout::Item item, std::size_t from, std::size_t to) {
    frame->items.push_back(std::move(item));
    hang(from, to);
  }
  /// All items that do not hang on a staff yet.
  void hang(std::size_t from, std::size_t to) {
    rows.resize(frame->items.size(), {static_cast<std::uint16_t>(from - top), static_cast<std::uint16_t>(to - top)});
  }
};

}  // namespace tunesheaf::engrave

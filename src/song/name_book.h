// Names with blanks in them, found in a row of words. In: the names of a song's shapes or patterns; words. Out: the row
// cut into names. Invariant: the longest name wins; where two readings cross each other, both are told.
// Read next: lane_cells.h.
#pragma once
#include <cstddef>
#include <functional>
#include <set>
#include <string>
#include <string_view>
#include <unordered_set>
#include <vector>

namespace tunesheaf::song {

/// Words [first, first + count) form one name; unknown ones are kept together, as the one name they may be meant as.
struct NameRun {
  std::size_t first = 0, count = 1;
  bool known = true;
  friend bool operator==(const NameRun&, const NameRun&) = default;
};

struct NameReading {
  std::vector<NameRun> runs;
  std::vector<NameRun> crossing;  ///< a second reading; empty when there is only one
};

class NameBook {
 public:
  /// Blanks in the name count as one.
  void add(std::string_view name);
  bool has(std::string_view name) const { return names_.count(std::string(name)) != 0; }
  NameReading read(const std::vector<std::string>& words) const;
  const std::vector<std::string>& names() const { return in_order_; }

 private:
  std::vector<std::size_t> lengths_at(const std::vector<std::string>& words, std::size_t first) const;
  std::unordered_set<std::string> names_;
  std::vector<std::string> in_order_;
  std::set<std::size_t, std::greater<>> lengths_;  ///< in words, longest first
};

}  // namespace tunesheaf::song

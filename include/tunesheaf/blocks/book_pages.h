// What a book has besides its songs: title page, contents, index, running lines. In: a Setting whose song holds only
// the book's title and language, and plain rows that say what stands where. Out: frames and flows. Invariant: every row
// that names a page links to its target, a bookmark of the bound document. Read next: book/bind.h.
#pragma once
#include <memory>
#include <string>
#include <vector>

#include "tunesheaf/blocks/setting.h"

namespace tunesheaf::blocks {

/// The whole width between the white edges: a book's own pages have no column for remarks.
base::Length book_width(const style::Style& style);

struct BookTitle {
  std::string title, by, says;
  std::string below;  ///< "23 songs"
};
/// As high as `size`.
std::shared_ptr<const layout::Frame> book_title(const Setting& setting, const BookTitle& words, base::Size size);

struct ContentsRow {
  std::string title, by, key, tuning, difficulty;
  int page = 0;
  std::string target;  ///< name of the song's bookmark
};
struct ContentsGroup {
  std::string heading;  ///< empty: none
  std::vector<ContentsRow> rows;
};
Flow book_contents(const Setting& setting, const std::vector<ContentsGroup>& groups);

struct IndexPlace {
  int page = 0;
  std::string target;
};
struct IndexEntry {
  std::string name, aside;  ///< "C", "x32010"
  std::vector<IndexPlace> places;
};
struct IndexPart {
  std::string heading, target;  ///< target: the name of its bookmark
  std::vector<IndexEntry> entries;
};
/// One column: its width is `width`.
Flow book_index(const Setting& setting, const IndexPart& part, base::Length width);

/// The heading of a part of the book with its bookmark.
layout::FlowItem book_heading(const Setting& setting, const std::string& words, const std::string& target,
                              base::Length width);

/// The line at the foot: the page's number at the outer edge, words at the other.
std::shared_ptr<const layout::Frame> book_running_line(const Setting& setting, const std::string& words, int page,
                                                       bool left_hand);

}  // namespace tunesheaf::blocks

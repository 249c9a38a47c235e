// The printed pages as a flat list of absolute marks. In: page frames. Out: a Document that exporters play and the
// audit reads; nothing after this point knows music or layout. Invariant: items are in painting order; Group and
// GroupEnd nest; coordinates are absolute on the page, y down, in Length. Read next: paint/audit.h, export/player.h.
#pragma once
#include <string>
#include <variant>
#include <vector>

#include "tunesheaf/layout/frame.h"

namespace tunesheaf::paint {

using layout::BookmarkShape;
using layout::GlyphsShape;
using layout::Kind;
using layout::Layer;
using layout::LineShape;
using layout::LinkShape;
using layout::PathShape;
using layout::RectShape;
using layout::Role;
using layout::Subject;

/// Opens a structural group; its items follow until the matching GroupEnd.
struct GroupShape {
  Role role = Role::None;
  std::string name;
};
struct GroupEndShape {};

struct DisplayItem {
  Kind kind;
  Layer layer = Layer::Ink;
  base::Point at;  ///< absolute; shapes stay relative to it
  base::Rect box;  ///< absolute ink box
  source::Span origin;
  Subject subject;
  std::variant<PathShape, LineShape, RectShape, GlyphsShape, LinkShape, BookmarkShape, GroupShape, GroupEndShape> shape;
};

struct Page {
  base::Size size;
  base::Colour ground = base::kWhite;
  std::vector<DisplayItem> items;
};

struct Document {
  std::string title, author, subject, keywords, language;
  std::vector<Page> pages;
};

/// Flattens one page frame. Inside a group, items are sorted by layer, order kept otherwise.
Page flatten(const layout::Frame& page_frame, base::Size paper);

/// The `display` phase: quantised to 1/100 pt, one item per line, every member included. parse(print(d)) prints the
/// same.
std::string print(const Document& document);
/// Throws nothing: on a malformed dump returns nothing and sets `error` to "line N: what is wrong".
std::optional<Document> parse(const std::string& dump, std::string& error);

}  // namespace tunesheaf::paint

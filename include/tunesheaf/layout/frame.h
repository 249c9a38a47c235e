// What layout produces: frames holding positioned items, nested. In: nothing (plain data). Out: printable values that
// paint flattens. Invariant: positions are relative to the parent frame, y down; every mark that stands for something
// in the song carries the span it came from, and its subject when it is a note. No music words here: kinds are names
// given by the modules that draw. Read next: layout/flow.h, paint/display_list.h.
#pragma once
#include <compare>
#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "tunesheaf/base/colour.h"
#include "tunesheaf/base/length.h"
#include "tunesheaf/source/source.h"
#include "tunesheaf/text/outline.h"
#include "tunesheaf/text/shaper.h"

namespace tunesheaf::layout {

/// The name of what an item is ("tab-figure", "note-head"): lower case, hyphens. Made from literals, or interned by
/// the parser of dumps; compares by text.
class Kind {
 public:
  constexpr Kind() = default;
  template <std::size_t N>
  consteval Kind(const char (&literal)[N]) : name_(literal, N - 1) {}  // NOLINT: literals are kinds
  static Kind interned(std::string_view name);
  constexpr std::string_view name() const { return name_; }
  friend constexpr auto operator<=>(Kind a, Kind b) { return a.name_ <=> b.name_; }
  friend constexpr bool operator==(Kind a, Kind b) { return a.name_ == b.name_; }

 private:
  std::string_view name_;
};

/// Painting order, bottom first.
enum class Layer : std::uint8_t { Tint, Line, Knockout, Ink, Text, Overlay };

enum class Cap : std::uint8_t { Butt, Round, Square };

struct Stroke {
  base::Length width;
  base::Colour colour;
  Cap cap = Cap::Butt;
  std::vector<base::Length> dash;  ///< on, off, on, off …; empty for a solid line
};

using text::PathStep;
using text::PathVerb;

struct PathShape {
  std::vector<PathStep> steps;
  std::optional<base::Colour> fill;
  std::optional<Stroke> stroke;
};
struct LineShape {
  base::Point to;  ///< from the item's position to this offset
  Stroke stroke;
};
struct RectShape {
  base::Size size;
  std::optional<base::Colour> fill;
  std::optional<Stroke> stroke;
  base::Length radius;
};
struct GlyphsShape {
  text::Run run;
  base::Colour colour;
};
struct LinkShape {
  base::Size size;
  std::string target;  ///< "https://…" or "#name" of a bookmark in this document
};
struct BookmarkShape {
  std::string title;
  std::string name;  ///< unique in the document
  int level = 1;
};

/// Which note of the timeline an item stands for; -1 where it does not. `staff` numbers the staves of a sheet's parts.
struct Subject {
  std::int32_t staff = -1;
  std::int32_t event = -1;
  std::int32_t note = -1;
  friend constexpr auto operator<=>(const Subject&, const Subject&) = default;
};

struct Item {
  base::Point at;
  Kind kind;
  Layer layer = Layer::Ink;
  source::Span origin;
  Subject subject;
  std::variant<PathShape, LineShape, RectShape, GlyphsShape, LinkShape, BookmarkShape> shape;
};

/// Role in the document's structure, for tagged output and reading order.
enum class Role : std::uint8_t {
  None,
  Section,
  Heading1,
  Heading2,
  Heading3,
  Paragraph,
  Figure,
  Table,
  Caption,
  Artifact
};

struct Frame;
struct PlacedFrame {
  base::Point at;
  std::shared_ptr<const Frame> frame;
};

struct Frame {
  std::string name;
  base::Size size;
  base::Length baseline;  ///< from the top; for text frames the first baseline
  Role role = Role::None;
  source::Span origin;
  std::vector<Item> items;
  std::vector<PlacedFrame> children;
};

/// Ink box of an item relative to its frame (strokes count with half their width on each side).
base::Rect box_of(const Item& item);
/// Ink box of everything in a frame, relative to the frame; nothing for an empty frame.
std::optional<base::Rect> ink_of(const Frame& frame);
/// One item per line, nesting by indent: the `layout` phase.
std::string print(const Frame& frame);

/// Puts a shaped line of text into a frame, its left end of the baseline at `at`.
void add_line(Frame& frame, base::Point at, const text::Line& line, base::Colour colour, Kind kind,
              source::Span origin = {}, Layer layer = Layer::Text, Subject subject = {});

}  // namespace tunesheaf::layout

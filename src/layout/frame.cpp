#include "tunesheaf/layout/frame.h"

#include <algorithm>
#include <mutex>
#include <set>

#include "tunesheaf/base/number.h"

namespace tunesheaf::layout {
namespace {

using base::Length;
using base::Point;
using base::Rect;

Rect between(Point a, Point b) {
  const Length left = std::min(a.x, b.x), top = std::min(a.y, b.y);
  return {left, top, std::max(a.x, b.x) - left, std::max(a.y, b.y) - top};
}

Length half_width(const std::optional<Stroke>& stroke) {
  return stroke ? stroke->width / 2 : Length{};
}

struct BoxOf {
  Rect operator()(const PathShape& path) const {
    const auto box = text::bounds(path.steps);
    return box ? box->grown(half_width(path.stroke)) : Rect{};
  }
  /// A stroke with butt ends does not reach beyond its ends; level and upright lines are exact, slanted ones get the
  /// half width on all sides.
  Rect operator()(const LineShape& line) const {
    const Length half = line.stroke.width / 2;
    const Rect bare = between({}, line.to);
    if (line.stroke.cap != Cap::Butt) return bare.grown(half);
    if (line.to.y == Length{}) return {bare.x, bare.y - half, bare.width, line.stroke.width};
    if (line.to.x == Length{}) return {bare.x - half, bare.y, line.stroke.width, bare.height};
    return bare.grown(half);
  }
  Rect operator()(const RectShape& rect) const {
    return Rect{{}, {}, rect.size.width, rect.size.height}.grown(half_width(rect.stroke));
  }
  Rect operator()(const GlyphsShape& glyphs) const { return glyphs.run.ink; }
  Rect operator()(const LinkShape& link) const { return {{}, {}, link.size.width, link.size.height}; }
  Rect operator()(const BookmarkShape&) const { return {}; }
};

bool is_ink(const Item& item) {
  return !std::holds_alternative<LinkShape>(item.shape) && !std::holds_alternative<BookmarkShape>(item.shape);
}

std::string number(Length length) {
  return base::print_decimal(length.points(), 2);
}
std::string pair(Length a, Length b) {
  return number(a) + "," + number(b);
}

std::string quoted(const std::string& text) {
  std::string out = "\"";
  for (const char c : text) {
    if (c == '"' || c == '\\') out += '\\';
    if (c == '\n') {
      out += "\\n";
      continue;
    }
    out += c;
  }
  return out + '"';
}

std::string colour(base::Colour c) {
  static constexpr char kDigits[] = "0123456789abcdef";
  std::string out = "#";
  for (const unsigned v : {c.red, c.green, c.blue, c.alpha}) {
    out += kDigits[v >> 4U];
    out += kDigits[v & 15U];
  }
  return c.alpha == 255 ? out.substr(0, 7) : out;
}

std::string stroke_text(const Stroke& stroke) {
  static constexpr std::string_view kCaps[] = {"", " round", " square"};
  std::string out = " stroke " + number(stroke.width) + " " + colour(stroke.colour);
  out += kCaps[static_cast<std::size_t>(stroke.cap)];
  if (!stroke.dash.empty()) {
    out += " dash";
    for (const Length d : stroke.dash) out += " " + number(d);
  }
  return out;
}

std::string paint_text(const std::optional<base::Colour>& fill, const std::optional<Stroke>& stroke) {
  return (fill ? " fill " + colour(*fill) : std::string{}) + (stroke ? stroke_text(*stroke) : std::string{});
}

struct TextOf {
  std::string operator()(const PathShape& path) const {
    static constexpr char kLetters[] = "mlcz";
    std::string out = "path";
    for (const PathStep& step : path.steps) {
      out += ' ';
      out += kLetters[static_cast<std::size_t>(step.verb)];
      if (step.verb == PathVerb::Close) continue;
      out += pair(step.a.x, step.a.y);
      if (step.verb == PathVerb::Curve) out += " " + pair(step.b.x, step.b.y) + " " + pair(step.c.x, step.c.y);
    }
    return out + paint_text(path.fill, path.stroke);
  }
  std::string operator()(const LineShape& line) const {
    return "line " + pair(line.to.x, line.to.y) + stroke_text(line.stroke);
  }
  std::string operator()(const RectShape& rect) const {
    return "rect " + pair(rect.size.width, rect.size.height) + paint_text(rect.fill, rect.stroke) +
           (rect.radius == Length{} ? std::string{} : " radius " + number(rect.radius));
  }
  std::string operator()(const GlyphsShape& glyphs) const {
    const text::Run& run = glyphs.run;
    return "text " + quoted(run.text) + " " + run.face.family + " " +
           std::to_string(static_cast<int>(run.face.weight)) +
           (run.face.slant == text::Slant::Italic ? " italic " : " ") + number(run.size) + " wide " +
           number(run.advance) + " " + colour(glyphs.colour);
  }
  std::string operator()(const LinkShape& link) const {
    return "link " + pair(link.size.width, link.size.height) + " " + quoted(link.target);
  }
  std::string operator()(const BookmarkShape& mark) const {
    return "bookmark " + std::to_string(mark.level) + " " + quoted(mark.name) + " " + quoted(mark.title);
  }
};

std::string_view role_name(Role role) {
  static constexpr std::string_view kNames[] = {"",          "section", "heading-1", "heading-2", "heading-3",
                                                "paragraph", "figure",  "table",     "caption",   "artifact"};
  return kNames[static_cast<std::size_t>(role)];
}

std::string_view layer_name(Layer layer) {
  static constexpr std::string_view kNames[] = {"tint", "line", "knockout", "ink", "text", "overlay"};
  return kNames[static_cast<std::size_t>(layer)];
}

std::string origin_text(source::Span origin) {
  if (origin == source::Span{}) return {};
  const std::string file = origin.file == 0 ? std::string{} : std::to_string(origin.file) + ":";
  return " from " + file + std::to_string(origin.begin) + "-" + std::to_string(origin.end);
}

std::string item_text(const Item& item) {
  std::string out = std::string(item.kind.name()) + " " + pair(item.at.x, item.at.y) + " " +
                    std::string(layer_name(item.layer)) + " " + std::visit(TextOf{}, item.shape);
  const Subject& s = item.subject;
  if (s != Subject{}) {
    out += " subject " + std::to_string(s.staff) + "." + std::to_string(s.event) + "." + std::to_string(s.note);
  }
  return out + origin_text(item.origin);
}

void print_into(std::string& out, const Frame& frame, Point at, std::size_t depth) {
  const std::string indent(depth * 2, ' ');
  out += indent + "frame " + (frame.name.empty() ? "-" : frame.name) + " at " + pair(at.x, at.y) + " size " +
         pair(frame.size.width, frame.size.height);
  if (frame.baseline != Length{}) out += " baseline " + number(frame.baseline);
  if (frame.role != Role::None) out += " role " + std::string(role_name(frame.role));
  out += origin_text(frame.origin) + "\n";
  for (const Item& item : frame.items) out += indent + "  " + item_text(item) + "\n";
  for (const PlacedFrame& child : frame.children) {
    if (child.frame) print_into(out, *child.frame, child.at, depth + 1);
  }
}

}  // namespace

Kind Kind::interned(std::string_view name) {
  static std::mutex mutex;
  static std::set<std::string, std::less<>> names;  // node-based: views into it stay good
  const std::scoped_lock lock(mutex);
  auto found = names.find(name);
  if (found == names.end()) found = names.emplace(name).first;
  Kind kind;
  kind.name_ = *found;
  return kind;
}

Rect box_of(const Item& item) {
  return std::visit(BoxOf{}, item.shape).moved(item.at);
}

std::optional<Rect> ink_of(const Frame& frame) {
  std::optional<Rect> ink;
  const auto add = [&ink](const Rect& box) {
    if (box.width == Length{} && box.height == Length{}) return;
    ink = ink ? ink->united(box) : box;
  };
  for (const Item& item : frame.items) {
    if (is_ink(item)) add(box_of(item));
  }
  for (const PlacedFrame& child : frame.children) {
    if (!child.frame) continue;
    if (const auto inner = ink_of(*child.frame)) add(inner->moved(child.at));
  }
  return ink;
}

std::string print(const Frame& frame) {
  std::string out;
  print_into(out, frame, {}, 0);
  return out;
}

void add_line(Frame& frame, Point at, const text::Line& line, base::Colour colour, Kind kind, source::Span origin,
              Layer layer, Subject subject) {
  for (const text::PlacedRun& placed : line.runs) {
    frame.items.push_back({at + Point{placed.x, {}}, kind, layer, origin, subject, GlyphsShape{placed.run, colour}});
  }
}

}  // namespace tunesheaf::layout

#include "tunesheaf/paint/pack.h"

#include <algorithm>
#include <unordered_map>

#include "tunesheaf/base/bytes.h"

namespace tunesheaf::paint {
namespace {

using base::ByteReader;
using base::ByteWriter;
using base::Length;
using Shape = decltype(DisplayItem::shape);

/// Each different text once, by the order in which it came.
class Once {
 public:
  std::uint64_t index_of(const std::string& text) {
    const auto [place, fresh] = known_.emplace(text, known_.size());
    if (fresh) order_.push_back(&place->first);
    return place->second;
  }
  void write(ByteWriter& out) const {
    out.number(order_.size());
    for (const std::string* text : order_) out.text(*text);
  }

 private:
  std::unordered_map<std::string, std::uint64_t> known_;
  std::vector<const std::string*> order_;
};

void put(ByteWriter& out, Length length) {
  out.whole(length.units());
}
void put(ByteWriter& out, base::Point point) {
  put(out, point.x);
  put(out, point.y);
}
void put(ByteWriter& out, base::Size size) {
  put(out, size.width);
  put(out, size.height);
}
void put(ByteWriter& out, const base::Rect& rect) {
  for (const Length side : {rect.x, rect.y, rect.width, rect.height}) put(out, side);
}
void put(ByteWriter& out, base::Colour c) {
  for (const std::uint8_t channel : {c.red, c.green, c.blue, c.alpha}) out.number(channel);
}
void put(ByteWriter& out, const layout::Stroke& stroke) {
  put(out, stroke.width);
  put(out, stroke.colour);
  out.number(static_cast<std::uint64_t>(stroke.cap));
  out.number(stroke.dash.size());
  for (const Length length : stroke.dash) put(out, length);
}
template <class T>
void put(ByteWriter& out, const std::optional<T>& value) {
  out.number(value ? 1 : 0);
  if (value) put(out, *value);
}

struct WriteShape {
  ByteWriter& out;
  void operator()(const PathShape& path) const {
    out.number(path.steps.size());
    for (const layout::PathStep& step : path.steps) {
      out.number(static_cast<std::uint64_t>(step.verb));
      for (const base::Point point : {step.a, step.b, step.c}) put(out, point);
    }
    put(out, path.fill);
    put(out, path.stroke);
  }
  void operator()(const LineShape& line) const {
    put(out, line.to);
    put(out, line.stroke);
  }
  void operator()(const RectShape& rect) const {
    put(out, rect.size);
    put(out, rect.fill);
    put(out, rect.stroke);
    put(out, rect.radius);
  }
  void operator()(const GlyphsShape& glyphs) const {
    const text::Run& run = glyphs.run;
    out.text(run.face.family);
    out.number(static_cast<std::uint64_t>(run.face.weight));
    out.number(static_cast<std::uint64_t>(run.face.slant));
    put(out, run.size);
    out.text(run.text);
    out.number(run.glyphs.size());
    for (const text::Glyph& glyph : run.glyphs) {
      out.number(glyph.id);
      put(out, base::Point{glyph.x, glyph.y});
      out.number(glyph.cluster);
    }
    put(out, run.advance);
    put(out, run.ink);
    put(out, glyphs.colour);
  }
  void operator()(const LinkShape& link) const {
    put(out, link.size);
    out.text(link.target);
  }
  void operator()(const BookmarkShape& mark) const {
    out.text(mark.title);
    out.text(mark.name);
    out.whole(mark.level);
  }
  void operator()(const GroupShape& group) const {
    out.number(static_cast<std::uint64_t>(group.role));
    out.text(group.name);
  }
  void operator()(const GroupEndShape&) const {}
};

class Packer {
 public:
  std::string run(const Document& document) {
    ByteWriter pages;
    pages.number(document.pages.size());
    for (const Page& page : document.pages) add(pages, page);
    ByteWriter out;
    for (const std::string* text :
         {&document.title, &document.author, &document.subject, &document.keywords, &document.language}) {
      out.text(*text);
    }
    kinds_.write(out);
    shapes_.write(out);
    return out.take() + pages.take();
  }

 private:
  void add(ByteWriter& out, const Page& page) {
    put(out, page.size);
    put(out, page.ground);
    out.number(page.items.size());
    for (const DisplayItem& item : page.items) add(out, item);
  }

  void add(ByteWriter& out, const DisplayItem& item) {
    const bool from_song = !(item.origin == source::Span{}), subject = !(item.subject == Subject{});
    out.number(static_cast<std::uint64_t>(item.layer) * 4 + (from_song ? 2U : 0U) + (subject ? 1U : 0U));
    out.number(kinds_.index_of(std::string(item.kind.name())));
    ByteWriter shape;
    shape.number(item.shape.index());
    put(shape, item.box.moved({-item.at.x, -item.at.y}));
    std::visit(WriteShape{shape}, item.shape);
    out.number(shapes_.index_of(shape.bytes()));
    put(out, item.at);
    if (from_song) {
      for (const std::uint32_t n : {item.origin.file, item.origin.begin, item.origin.end}) out.number(n);
    }
    if (subject) {
      for (const std::int32_t n : {item.subject.staff, item.subject.event, item.subject.note}) out.whole(n);
    }
  }

  Once kinds_, shapes_;
};

/// Of a page with much on it; room for more is made when they really come.
constexpr std::size_t kUsualItems = 2000;

class Unpacker {
 public:
  explicit Unpacker(std::string_view bytes) : in_(bytes) {}

  std::optional<Document> run() {
    Document document;
    for (std::string* text :
         {&document.title, &document.author, &document.subject, &document.keywords, &document.language}) {
      *text = in_.text();
    }
    for (std::size_t n = in_.count(); n > 0 && in_.ok(); --n) kinds_.push_back(layout::Kind::interned(in_.text()));
    for (std::size_t n = in_.count(); n > 0 && in_.ok(); --n) {
      ByteReader shape(in_.text());
      shapes_.push_back(read_shape(shape));
      if (!shape.ok() || !shape.at_end()) return std::nullopt;
    }
    for (std::size_t n = in_.count(); n > 0 && in_.ok(); --n) document.pages.push_back(page());
    if (!in_.ok() || !in_.at_end()) return std::nullopt;
    return document;
  }

 private:
  struct Known {
    Shape shape;
    base::Rect box;
  };

  static Length length(ByteReader& in) { return Length::raw(in.whole()); }
  static base::Point point(ByteReader& in) {
    const Length x = length(in);
    return {x, length(in)};
  }
  static base::Size size(ByteReader& in) {
    const Length width = length(in);
    return {width, length(in)};
  }
  static base::Rect rect(ByteReader& in) {
    const base::Point at = point(in);
    const base::Size extent = size(in);
    return {at.x, at.y, extent.width, extent.height};
  }
  static base::Colour colour(ByteReader& in) {
    base::Colour c;
    for (std::uint8_t* channel : {&c.red, &c.green, &c.blue, &c.alpha}) {
      *channel = static_cast<std::uint8_t>(in.at_most(255));
    }
    return c;
  }
  static layout::Stroke stroke(ByteReader& in) {
    layout::Stroke out;
    out.width = length(in);
    out.colour = colour(in);
    out.cap = static_cast<layout::Cap>(in.at_most(static_cast<std::size_t>(layout::Cap::Square)));
    for (std::size_t n = in.count(); n > 0 && in.ok(); --n) out.dash.push_back(length(in));
    return out;
  }
  template <class Read>
  static auto maybe(ByteReader& in, const Read& read) -> std::optional<decltype(read(in))> {
    if (in.at_most(1) == 0) return std::nullopt;
    return read(in);
  }

  static PathShape path(ByteReader& in) {
    PathShape out;
    for (std::size_t n = in.count(); n > 0 && in.ok(); --n) {
      layout::PathStep step{};
      step.verb = static_cast<layout::PathVerb>(in.at_most(static_cast<std::size_t>(layout::PathVerb::Close)));
      for (base::Point* p : {&step.a, &step.b, &step.c}) *p = point(in);
      out.steps.push_back(step);
    }
    out.fill = maybe(in, colour);
    out.stroke = maybe(in, stroke);
    return out;
  }
  static GlyphsShape glyphs(ByteReader& in) {
    GlyphsShape out;
    text::Run& run = out.run;
    run.face.family = in.text();
    run.face.weight = static_cast<text::Weight>(in.at_most(1000));
    run.face.slant = static_cast<text::Slant>(in.at_most(1));
    run.size = length(in);
    run.text = in.text();
    for (std::size_t n = in.count(); n > 0 && in.ok(); --n) {
      text::Glyph glyph;
      glyph.id = static_cast<std::uint32_t>(in.at_most(UINT32_MAX));
      const base::Point at = point(in);
      glyph.x = at.x;
      glyph.y = at.y;
      glyph.cluster = static_cast<std::uint32_t>(in.at_most(run.text.size()));
      run.glyphs.push_back(glyph);
    }
    run.advance = length(in);
    run.ink = rect(in);
    out.colour = colour(in);
    return out;
  }

  static Known read_shape(ByteReader& in) {
    const std::size_t which = in.at_most(std::variant_size_v<Shape> - 1);
    Known out{GroupEndShape{}, rect(in)};
    switch (which) {
      case 0:
        out.shape = path(in);
        break;
      case 1: {
        LineShape line;
        line.to = point(in);
        line.stroke = stroke(in);
        out.shape = line;
        break;
      }
      case 2: {
        RectShape box;
        box.size = size(in);
        box.fill = maybe(in, colour);
        box.stroke = maybe(in, stroke);
        box.radius = length(in);
        out.shape = box;
        break;
      }
      case 3:
        out.shape = glyphs(in);
        break;
      case 4: {
        LinkShape link;
        link.size = size(in);
        link.target = in.text();
        out.shape = link;
        break;
      }
      case 5: {
        BookmarkShape mark;
        mark.title = in.text();
        mark.name = in.text();
        mark.level = static_cast<int>(in.whole());
        out.shape = mark;
        break;
      }
      case 6: {
        GroupShape group;
        group.role = static_cast<Role>(in.at_most(static_cast<std::size_t>(Role::Artifact)));
        group.name = in.text();
        out.shape = group;
        break;
      }
      default:
        break;
    }
    return out;
  }

  Page page() {
    Page out;
    out.size = size(in_);
    out.ground = colour(in_);
    std::size_t n = in_.count();
    out.items.reserve(std::min(n, kUsualItems) + kMarksOfABinder);
    for (; n > 0 && in_.ok(); --n) out.items.push_back(item());
    return out;
  }

  DisplayItem item() {
    DisplayItem out;
    const std::size_t head = in_.at_most(static_cast<std::size_t>(Layer::Overlay) * 4 + 3);
    out.layer = static_cast<Layer>(head / 4);
    const std::size_t kind = in_.number(), shape = in_.number();
    if (kind >= kinds_.size() || shape >= shapes_.size()) {
      in_.fail();
      return out;
    }
    out.kind = kinds_[kind];
    out.shape = shapes_[shape].shape;
    out.at = point(in_);
    out.box = shapes_[shape].box.moved(out.at);
    if ((head & 2U) != 0) {
      for (std::uint32_t* n : {&out.origin.file, &out.origin.begin, &out.origin.end}) {
        *n = static_cast<std::uint32_t>(in_.at_most(UINT32_MAX));
      }
    }
    if ((head & 1U) != 0) {
      for (std::int32_t* n : {&out.subject.staff, &out.subject.event, &out.subject.note}) {
        *n = static_cast<std::int32_t>(in_.whole());
      }
    }
    return out;
  }

  ByteReader in_;
  std::vector<layout::Kind> kinds_;
  std::vector<Known> shapes_;
};

}  // namespace

std::string pack(const Document& document) {
  return Packer().run(document);
}

std::optional<Document> unpack(std::string_view bytes) {
  return Unpacker(bytes).run();
}

}  // namespace tunesheaf::paint

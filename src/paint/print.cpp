#include "tunesheaf/base/number.h"
#include "tunesheaf/paint/display_list.h"
#include "words.h"

namespace tunesheaf::paint {
namespace {

constexpr char kHex[] = "0123456789abcdef";

/// One line of the dump, word by word.
class Writer {
 public:
  Writer& word(std::string_view text) {
    if (!line_.empty() && line_.back() != ' ') line_ += ' ';
    line_ += text;
    return *this;
  }
  Writer& number(std::int64_t value) { return word(std::to_string(value)); }
  Writer& length(base::Length value) { return word(base::print_decimal(value.points(), 2)); }
  Writer& point(base::Point p) { return length(p.x).length(p.y); }
  Writer& size(base::Size s) { return length(s.width).length(s.height); }
  Writer& rect(const base::Rect& r) { return length(r.x).length(r.y).length(r.width).length(r.height); }
  Writer& colour(base::Colour c) {
    std::string text = "#";
    for (const unsigned v : {c.red, c.green, c.blue, c.alpha}) {
      text += kHex[v >> 4U];
      text += kHex[v & 15U];
    }
    return word(text);
  }
  Writer& quoted(std::string_view text) {
    std::string out = "\"";
    for (const char c : text) {
      const auto byte = static_cast<unsigned char>(c);
      if (byte < 0x20 || byte == 0x7F) {
        out += "\\x";
        out += kHex[byte >> 4U];
        out += kHex[byte & 15U];
        continue;
      }
      if (c == '"' || c == '\\') out += '\\';
      out += c;
    }
    return word(out + '"');
  }
  Writer& fill(const std::optional<base::Colour>& c) { return c ? word("fill").colour(*c) : word("nofill"); }
  Writer& stroke(const layout::Stroke& s) {
    word("stroke").length(s.width).colour(s.colour).word(kCapWords[static_cast<std::size_t>(s.cap)]);
    number(static_cast<std::int64_t>(s.dash.size()));
    for (const base::Length d : s.dash) length(d);
    return *this;
  }
  Writer& stroke(const std::optional<layout::Stroke>& s) { return s ? stroke(*s) : word("nostroke"); }
  std::string take() { return std::move(line_) + "\n"; }
  void indent(std::size_t depth) { line_.append(depth * 2, ' '); }

 private:
  std::string line_;
};

struct ShapeWriter {
  Writer& out;
  void operator()(const PathShape& path) const {
    out.word("path").fill(path.fill).stroke(path.stroke);
    for (const layout::PathStep& step : path.steps) {
      out.word(kVerbWords[static_cast<std::size_t>(step.verb)]);
      if (step.verb == layout::PathVerb::Close) continue;
      out.point(step.a);
      if (step.verb == layout::PathVerb::Curve) out.point(step.b).point(step.c);
    }
  }
  void operator()(const LineShape& line) const { out.word("line").point(line.to).stroke(line.stroke); }
  void operator()(const RectShape& rect) const {
    out.word("rect").size(rect.size).length(rect.radius).fill(rect.fill).stroke(rect.stroke);
  }
  void operator()(const GlyphsShape& glyphs) const {
    const text::Run& run = glyphs.run;
    out.word("glyphs").quoted(run.text).quoted(run.face.family).number(static_cast<int>(run.face.weight));
    out.word(run.face.slant == text::Slant::Italic ? "italic" : "upright").length(run.size).length(run.advance);
    out.rect(run.ink).colour(glyphs.colour);
    for (const text::Glyph& g : run.glyphs) out.number(g.id).length(g.x).length(g.y).number(g.cluster);
  }
  void operator()(const LinkShape& link) const { out.word("link").size(link.size).quoted(link.target); }
  void operator()(const BookmarkShape& mark) const {
    out.word("bookmark").number(mark.level).quoted(mark.name).quoted(mark.title);
  }
  void operator()(const GroupShape& group) const {
    out.word("group").word(kRoleWords[static_cast<std::size_t>(group.role)]).quoted(group.name);
  }
  void operator()(const GroupEndShape&) const { out.word("end"); }
};

void print_item(std::string& out, const DisplayItem& item, std::size_t depth) {
  Writer line;
  line.indent(depth);
  line.word(item.kind.name().empty() ? "-" : item.kind.name()).word(kLayerWords[static_cast<std::size_t>(item.layer)]);
  line.word("at").point(item.at).word("box").rect(item.box);
  line.word("from").number(item.origin.file).number(item.origin.begin).number(item.origin.end);
  line.word("subject").number(item.subject.staff).number(item.subject.event).number(item.subject.note);
  std::visit(ShapeWriter{line}, item.shape);
  out += line.take();
}

void print_page(std::string& out, const Page& page) {
  out += Writer{}.word("page").size(page.size).colour(page.ground).take();
  std::size_t depth = 1;
  for (const DisplayItem& item : page.items) {
    if (std::holds_alternative<GroupEndShape>(item.shape) && depth > 1) --depth;
    print_item(out, item, depth);
    if (std::holds_alternative<GroupShape>(item.shape)) ++depth;
  }
}

}  // namespace

std::string print(const Document& document) {
  std::string out = std::string(kFirstLine) + "\n";
  out += Writer{}.word("title").quoted(document.title).take();
  out += Writer{}.word("author").quoted(document.author).take();
  out += Writer{}.word("subject").quoted(document.subject).take();
  out += Writer{}.word("keywords").quoted(document.keywords).take();
  out += Writer{}.word("language").quoted(document.language).take();
  for (const Page& page : document.pages) print_page(out, page);
  return out;
}

}  // namespace tunesheaf::paint

#include <algorithm>
#include <string>

#include "points.h"
#include "tunesheaf/base/number.h"
#include "tunesheaf/base/utf8.h"
#include "tunesheaf/export/player.h"

namespace tunesheaf::exporting {
namespace {

using base::Length;
using base::Point;

/// Text for XML 1.0: markup escaped, characters it does not allow replaced.
std::string escaped(const std::string& text) {
  std::string out;
  for (const char32_t c : base::code_points(text)) {
    switch (c) {
      case U'<':
        out += "&lt;";
        break;
      case U'>':
        out += "&gt;";
        break;
      case U'&':
        out += "&amp;";
        break;
      case U'"':
        out += "&quot;";
        break;
      default: {
        const bool allowed = (c >= 0x20 && c != 0xFFFE && c != 0xFFFF) || c == 9 || c == 10 || c == 13;
        out += base::to_utf8(allowed ? c : 0xFFFD);
      }
    }
  }
  return out;
}

std::string attribute(std::string_view name, const std::string& value) {
  return " " + std::string(name) + "=\"" + value + "\"";
}

std::string hex(base::Colour c) {
  static constexpr char kDigits[] = "0123456789abcdef";
  std::string out = "#";
  for (const unsigned v : {c.red, c.green, c.blue}) {
    out += kDigits[v >> 4U];
    out += kDigits[v & 15U];
  }
  return out;
}

std::string paint(std::string_view what, base::Colour c) {
  std::string out = attribute(what, hex(c));
  if (c.alpha != 255) out += attribute(std::string(what) + "-opacity", base::print_decimal(c.alpha / 255.0, 3));
  return out;
}

std::string stroke(const layout::Stroke& s) {
  std::string out = paint("stroke", s.colour) + attribute("stroke-width", in_pt(s.width));
  if (s.cap == layout::Cap::Round) out += " stroke-linecap=\"round\" stroke-linejoin=\"round\"";
  if (s.cap == layout::Cap::Square) out += " stroke-linecap=\"square\"";
  if (s.dash.empty()) return out;
  std::string dashes;
  for (const Length d : s.dash) dashes += (dashes.empty() ? "" : " ") + in_pt(d);
  return out + attribute("stroke-dasharray", dashes);
}

std::string fill_and_stroke(const std::optional<base::Colour>& fill, const std::optional<layout::Stroke>& line) {
  return (fill ? paint("fill", *fill) : std::string(" fill=\"none\"")) + (line ? stroke(*line) : std::string{});
}

std::string path_data(Point at, const std::vector<layout::PathStep>& steps) {
  static constexpr char kLetters[] = "MLCZ";
  std::string out;
  const auto add = [&](Point p) { out += in_pt(at.x + p.x) + "," + in_pt(at.y + p.y) + " "; };
  for (const layout::PathStep& step : steps) {
    out += kLetters[static_cast<std::size_t>(step.verb)];
    if (step.verb == layout::PathVerb::Close) continue;
    add(step.a);
    if (step.verb != layout::PathVerb::Curve) continue;
    add(step.b);
    add(step.c);
  }
  return out;
}

/// A part of a run's text with the places of its characters: one x and y for each cluster, characters that belong to
/// the cluster before follow on their own.
struct TextPiece {
  std::string text, x, y;
};

/// Characters beyond U+FFFF are counted as two by some readers and as one by others, so they end a piece.
std::vector<TextPiece> pieces_of(const text::Run& run, Point at) {
  std::vector<text::Glyph> glyphs = run.glyphs;
  std::stable_sort(glyphs.begin(), glyphs.end(), [](const auto& a, const auto& b) { return a.cluster < b.cluster; });
  std::vector<TextPiece> pieces;
  bool wide = true;
  for (std::size_t i = 0; i < glyphs.size();) {
    std::size_t next = i;
    while (next < glyphs.size() && glyphs[next].cluster == glyphs[i].cluster) ++next;
    const std::size_t end = next < glyphs.size() ? glyphs[next].cluster : run.text.size();
    const std::string bytes = run.text.substr(glyphs[i].cluster, end - glyphs[i].cluster);
    const std::vector<char32_t> characters = base::code_points(bytes);
    const bool now_wide = characters.size() != 1 || characters[0] > 0xFFFF;
    if (wide || now_wide) pieces.emplace_back();
    wide = now_wide;
    TextPiece& piece = pieces.back();
    piece.x += (piece.x.empty() ? "" : " ") + in_pt(at.x + glyphs[i].x);
    if (piece.y.empty()) piece.y = in_pt(at.y + glyphs[i].y);
    piece.text += bytes;
    i = next;
  }
  return pieces;
}

class SvgPage {
 public:
  explicit SvgPage(const Bytes& out) : out_(out) {}

  void write(const paint::Document& document, const paint::Page& page) {
    const std::string width = in_pt(page.size.width), height = in_pt(page.size.height);
    put("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<svg xmlns=\"http://www.w3.org/2000/svg\"" +
        attribute("width", width + "pt") + attribute("height", height + "pt") +
        attribute("viewBox", "0 0 " + width + " " + height) +
        (document.language.empty() ? "" : attribute("xml:lang", escaped(document.language))) + ">\n");
    put("<title>" + escaped(document.title) + "</title>\n");
    if (!document.subject.empty()) put("<desc>" + escaped(document.subject) + "</desc>\n");
    put("<rect" + attribute("width", width) + attribute("height", height) + paint("fill", page.ground) + "/>\n");
    for (const paint::DisplayItem& item : page.items) {
      at_ = item.at;
      std::visit(*this, item.shape);
    }
    for (; open_ > 0; --open_) put("</g>\n");
    put("</svg>\n");
  }
  bool failed() const { return failed_; }

  void operator()(const paint::PathShape& path) {
    put("<path" + attribute("d", path_data(at_, path.steps)) + fill_and_stroke(path.fill, path.stroke) + "/>\n");
  }
  void operator()(const paint::LineShape& line) {
    put("<line" + attribute("x1", in_pt(at_.x)) + attribute("y1", in_pt(at_.y)) +
        attribute("x2", in_pt(at_.x + line.to.x)) + attribute("y2", in_pt(at_.y + line.to.y)) + stroke(line.stroke) +
        "/>\n");
  }
  void operator()(const paint::RectShape& rect) {
    put("<rect" + attribute("x", in_pt(at_.x)) + attribute("y", in_pt(at_.y)) +
        attribute("width", in_pt(rect.size.width)) + attribute("height", in_pt(rect.size.height)) +
        (rect.radius > Length{} ? attribute("rx", in_pt(rect.radius)) : std::string{}) +
        fill_and_stroke(rect.fill, rect.stroke) + "/>\n");
  }
  void operator()(const paint::GlyphsShape& glyphs) {
    const text::Run& run = glyphs.run;
    for (const TextPiece& piece : pieces_of(run, at_)) {
      put("<text xml:space=\"preserve\"" + attribute("x", piece.x) + attribute("y", piece.y) +
          attribute("font-family", escaped(run.face.family)) + attribute("font-size", in_pt(run.size)) +
          attribute("font-weight", std::to_string(static_cast<int>(run.face.weight))) +
          (run.face.slant == text::Slant::Italic ? attribute("font-style", "italic") : std::string{}) +
          paint("fill", glyphs.colour) + ">" + escaped(piece.text) + "</text>\n");
    }
  }
  /// Places within the document are on other pages, that is, in other files.
  void operator()(const paint::LinkShape& link) {
    if (link.target.starts_with('#')) return;
    put("<a" + attribute("href", escaped(link.target)) + "><rect" + attribute("x", in_pt(at_.x)) +
        attribute("y", in_pt(at_.y)) + attribute("width", in_pt(link.size.width)) +
        attribute("height", in_pt(link.size.height)) + " fill-opacity=\"0\"/></a>\n");
  }
  void operator()(const paint::BookmarkShape& mark) {
    put("<g" + attribute("id", escaped(mark.name)) + "><title>" + escaped(mark.title) + "</title></g>\n");
  }
  void operator()(const paint::GroupShape& group) {
    ++open_;
    put("<g" + (group.name.empty() ? std::string{} : attribute("class", escaped(group.name))) + ">\n");
  }
  void operator()(const paint::GroupEndShape&) {
    if (open_ == 0) return;
    --open_;
    put("</g>\n");
  }

 private:
  void put(const std::string& text) {
    if (!failed_ && !out_(text)) failed_ = true;
  }
  const Bytes& out_;
  Point at_;
  int open_ = 0;
  bool failed_ = false;
};

}  // namespace

std::optional<PlayFault> write_svg(const paint::Document& document, std::size_t page, const Bytes& out) {
  if (page >= document.pages.size()) return PlayFault{"there is no such page"};
  SvgPage writer(out);
  writer.write(document, document.pages[page]);
  if (writer.failed()) return PlayFault{"the bytes of the page could not be kept"};
  return std::nullopt;
}

}  // namespace tunesheaf::exporting

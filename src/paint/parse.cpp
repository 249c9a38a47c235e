#include <algorithm>
#include <limits>

#include "tunesheaf/base/number.h"
#include "tunesheaf/paint/display_list.h"
#include "words.h"

namespace tunesheaf::paint {
namespace {

/// Reads one line word by word. The first fault is kept; after it every read gives zeros.
class Reader {
 public:
  explicit Reader(std::string_view line) : rest_(line) { skip(); }

  bool at_end() const { return rest_.empty(); }
  const std::string& fault() const { return fault_; }
  void fail(std::string what) {
    if (fault_.empty()) fault_ = std::move(what);
    rest_ = {};
  }

  std::string_view word(std::string_view what) {
    const std::size_t length = std::min(rest_.find(' '), rest_.size());
    if (length == 0) fail("expected " + std::string(what));
    const std::string_view taken = rest_.substr(0, length);
    advance(length);
    return taken;
  }
  std::string_view peek() const { return rest_.substr(0, std::min(rest_.find(' '), rest_.size())); }
  void literal(std::string_view wanted) {
    if (word(wanted) != wanted) fail("expected '" + std::string(wanted) + "'");
  }
  template <class Int>
  Int integer(std::string_view what) {
    const auto value = base::parse_integer(word(what));
    if (!value || *value < std::int64_t{std::numeric_limits<Int>::min()} ||
        *value > std::int64_t{std::numeric_limits<Int>::max()}) {
      fail("expected " + std::string(what) + ", a whole number");
      return {};
    }
    return static_cast<Int>(*value);
  }
  base::Length length(std::string_view what) {
    const auto value = base::parse_decimal(word(what));
    if (!value || !(*value > -1e9 && *value < 1e9)) {
      fail("expected " + std::string(what) + ", a length in points");
      return {};
    }
    return base::Length::pt(*value);
  }
  base::Point point(std::string_view what) {
    const base::Length x = length(what);
    return {x, length(what)};
  }
  base::Size size() {
    const base::Length width = length("width");
    return {width, length("height")};
  }
  base::Rect rect() {
    const base::Point corner = point("corner");
    const base::Size extent = size();
    return {corner.x, corner.y, extent.width, extent.height};
  }
  base::Colour colour() {
    const std::string_view text = word("colour");
    std::uint8_t v[4] = {0, 0, 0, 0};
    bool good = text.size() == 9 && text[0] == '#';
    for (std::size_t i = 0; good && i < 4; ++i) {
      const int high = digit(text[1 + 2 * i]), low = digit(text[2 + 2 * i]);
      good = high >= 0 && low >= 0;
      v[i] = static_cast<std::uint8_t>(high * 16 + low);
    }
    if (!good) fail("expected a colour like #102030ff");
    return {v[0], v[1], v[2], v[3]};
  }
  std::string quoted(std::string_view what) {
    if (rest_.empty() || rest_[0] != '"') {
      fail("expected " + std::string(what) + " in quotation marks");
      return {};
    }
    std::string out;
    for (std::size_t i = 1; i < rest_.size(); ++i) {
      if (rest_[i] == '"') {
        advance(i + 1);
        return out;
      }
      if (rest_[i] != '\\') {
        out += rest_[i];
      } else if (i + 3 < rest_.size() && rest_[i + 1] == 'x') {
        out += static_cast<char>(std::max(0, digit(rest_[i + 2])) * 16 + std::max(0, digit(rest_[i + 3])));
        i += 3;
      } else if (i + 1 < rest_.size()) {
        out += rest_[++i];
      }
    }
    fail("quotation marks of " + std::string(what) + " are not closed");
    return {};
  }
  template <class Enum, std::size_t N>
  Enum one_of(const std::array<std::string_view, N>& words, std::string_view what) {
    const std::string_view text = word(what);
    const auto found = std::find(words.begin(), words.end(), text);
    if (found == words.end()) {
      fail("'" + std::string(text) + "' is no " + std::string(what));
      return {};
    }
    return static_cast<Enum>(found - words.begin());
  }
  layout::Stroke stroke() {
    layout::Stroke out;
    literal("stroke");
    out.width = length("stroke width");
    out.colour = colour();
    out.cap = one_of<layout::Cap>(kCapWords, "cap");
    const auto dashes = integer<std::uint16_t>("number of dashes");
    for (int i = 0; i < dashes && fault_.empty(); ++i) out.dash.push_back(length("dash"));
    return out;
  }
  std::optional<layout::Stroke> maybe_stroke() {
    if (peek() != "nostroke") return stroke();
    word("stroke");
    return std::nullopt;
  }
  std::optional<base::Colour> maybe_fill() {
    const std::string_view first = word("fill or nofill");
    if (first == "fill") return colour();
    if (first != "nofill") fail("expected fill or nofill");
    return std::nullopt;
  }

 private:
  static int digit(char c) {
    if (c >= '0' && c <= '9') return c - '0';
    return c >= 'a' && c <= 'f' ? c - 'a' + 10 : -1;
  }
  void advance(std::size_t by) {
    rest_.remove_prefix(by);
    skip();
  }
  void skip() { rest_.remove_prefix(std::min(rest_.find_first_not_of(' '), rest_.size())); }

  std::string_view rest_;
  std::string fault_;
};

PathShape read_path(Reader& in) {
  PathShape path;
  path.fill = in.maybe_fill();
  path.stroke = in.maybe_stroke();
  while (!in.at_end()) {
    layout::PathStep step;
    step.verb = in.one_of<layout::PathVerb>(kVerbWords, "step of a path");
    if (step.verb != layout::PathVerb::Close) step.a = in.point("point");
    if (step.verb == layout::PathVerb::Curve) {
      step.b = in.point("point");
      step.c = in.point("point");
    }
    path.steps.push_back(step);
  }
  return path;
}

std::optional<text::Weight> weight_of(int number) {
  for (const text::Weight w : {text::Weight::Light, text::Weight::Regular, text::Weight::Medium, text::Weight::Semibold,
                               text::Weight::Bold, text::Weight::Black}) {
    if (static_cast<int>(w) == number) return w;
  }
  return std::nullopt;
}

GlyphsShape read_glyphs(Reader& in) {
  GlyphsShape glyphs;
  text::Run& run = glyphs.run;
  run.text = in.quoted("text");
  run.face.family = in.quoted("family");
  const auto weight = weight_of(in.integer<int>("weight"));
  if (weight) {
    run.face.weight = *weight;
  } else {
    in.fail("no such weight");
  }
  const std::string_view slant = in.word("slant");
  run.face.slant = slant == "italic" ? text::Slant::Italic : text::Slant::Upright;
  run.size = in.length("size");
  run.advance = in.length("advance");
  run.ink = in.rect();
  glyphs.colour = in.colour();
  while (!in.at_end()) {
    text::Glyph glyph;
    glyph.id = in.integer<std::uint32_t>("glyph");
    glyph.x = in.length("glyph offset");
    glyph.y = in.length("glyph offset");
    glyph.cluster = in.integer<std::uint32_t>("cluster");
    if (glyph.cluster >= run.text.size()) in.fail("cluster beyond the text");
    run.glyphs.push_back(glyph);
  }
  return glyphs;
}

void read_shape(Reader& in, DisplayItem& item) {
  const std::string_view word = in.word("shape");
  if (word == "path") {
    item.shape = read_path(in);
  } else if (word == "line") {
    LineShape line;
    line.to = in.point("end");
    line.stroke = in.stroke();
    item.shape = line;
  } else if (word == "rect") {
    RectShape rect;
    rect.size = in.size();
    rect.radius = in.length("radius");
    rect.fill = in.maybe_fill();
    rect.stroke = in.maybe_stroke();
    item.shape = rect;
  } else if (word == "glyphs") {
    item.shape = read_glyphs(in);
  } else if (word == "link") {
    LinkShape link;
    link.size = in.size();
    link.target = in.quoted("target");
    item.shape = link;
  } else if (word == "bookmark") {
    BookmarkShape mark;
    mark.level = in.integer<int>("level");
    mark.name = in.quoted("name");
    mark.title = in.quoted("title");
    item.shape = mark;
  } else if (word == "group") {
    GroupShape group;
    group.role = in.one_of<Role>(kRoleWords, "role");
    group.name = in.quoted("name");
    item.shape = group;
  } else if (word == "end") {
    item.shape = GroupEndShape{};
  } else {
    in.fail("'" + std::string(word) + "' is no shape");
  }
}

DisplayItem read_item(Reader& in) {
  DisplayItem item;
  const std::string_view kind = in.word("kind");
  if (kind != "-") item.kind = Kind::interned(kind);
  item.layer = in.one_of<Layer>(kLayerWords, "layer");
  in.literal("at");
  item.at = in.point("place");
  in.literal("box");
  item.box = in.rect();
  in.literal("from");
  item.origin.file = in.integer<std::uint32_t>("file");
  item.origin.begin = in.integer<std::uint32_t>("begin");
  item.origin.end = in.integer<std::uint32_t>("end");
  in.literal("subject");
  item.subject.staff = in.integer<std::int32_t>("staff");
  item.subject.event = in.integer<std::int32_t>("event");
  item.subject.note = in.integer<std::int32_t>("note");
  read_shape(in, item);
  return item;
}

/// Groups must close on their own page.
class Nesting {
 public:
  std::string take(const DisplayItem& item) {
    if (std::holds_alternative<GroupShape>(item.shape)) ++depth_;
    if (!std::holds_alternative<GroupEndShape>(item.shape)) return {};
    return depth_-- > 0 ? std::string{} : "a group ends that was not opened";
  }
  bool open() const { return depth_ > 0; }
  void reset() { depth_ = 0; }

 private:
  int depth_ = 0;
};

std::string read_line(Document& document, Nesting& nesting, std::string_view line, std::size_t number) {
  if (number == 1) return line == kFirstLine ? std::string{} : "not a display list of this version";
  Reader in(line);
  std::string* const texts[] = {&document.title, &document.author, &document.subject, &document.keywords,
                                &document.language};
  static constexpr std::string_view kWords[] = {"title", "author", "subject", "keywords", "language"};
  if (number <= 6) {
    in.literal(kWords[number - 2]);
    *texts[number - 2] = in.quoted(kWords[number - 2]);
  } else if (in.peek() == "page" && !line.starts_with(' ')) {
    if (nesting.open()) return "the page before has a group that does not end";
    in.literal("page");
    Page page;
    page.size = in.size();
    page.ground = in.colour();
    document.pages.push_back(std::move(page));
  } else {
    DisplayItem item = read_item(in);
    if (document.pages.empty()) in.fail("a mark before the first page");
    if (std::string fault = nesting.take(item); !fault.empty()) in.fail(std::move(fault));
    if (in.fault().empty()) document.pages.back().items.push_back(std::move(item));
  }
  if (in.fault().empty() && !in.at_end()) in.fail("more on the line than expected");
  return in.fault();
}

}  // namespace

std::optional<Document> parse(const std::string& dump, std::string& error) {
  Document document;
  Nesting nesting;
  std::size_t number = 0;
  for (std::size_t at = 0; at < dump.size();) {
    const std::size_t end = std::min(dump.find('\n', at), dump.size());
    const std::string fault = read_line(document, nesting, std::string_view(dump).substr(at, end - at), ++number);
    if (!fault.empty()) {
      error = "line " + std::to_string(number) + ": " + fault;
      return std::nullopt;
    }
    at = end + 1;
  }
  if (number < 6 || nesting.open()) {
    error = "line " + std::to_string(number + 1) + ": the list ends too early";
    return std::nullopt;
  }
  return document;
}

}  // namespace tunesheaf::paint

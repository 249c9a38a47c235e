#include "pages.h"

#include <algorithm>
#include <set>

#include "tunesheaf/blocks/title.h"
#include "tunesheaf/blocks/words.h"
#include "tunesheaf/diag/words.h"
#include "tunesheaf/text/cut.h"

namespace tunesheaf::sheet {
namespace {

using base::Length;
using base::Point;
using base::Rect;
using blocks::Flow;
using blocks::Setting;
using layout::Frame;

/// Above all other costs of a page together.
constexpr double kNeverTurn = 1000;

layout::PageShape page_shape(const style::Style& style, Binding binding) {
  const style::PageStyle& page = style.page;
  layout::PageShape shape;
  shape.page = page.paper;
  shape.body = {page.inner, page.top, style::body_width(style), page.paper.height - page.top - page.bottom};
  // The first page begins with a band above the title.
  const Length drop = style.title.size * 0.5;
  shape.first_body = {shape.body.x, shape.body.y + drop, shape.body.width, shape.body.height - drop};
  shape.margin_column = {shape.body.right() + page.column_gap, page.top, page.margin_column, shape.body.height};
  shape.note_gap = style.rhythm.note_gap;
  if (binding == Binding::Book) {
    shape.opens_left = true;
    shape.turn_weight = kNeverTurn;
  }
  return shape;
}

/// "The Heron Stair · handout 14        revised 24 November 2026        page 2 of 5", at the foot of every page.
std::shared_ptr<const Frame> running_line(const Setting& setting, const layout::PageShape& shape,
                                          const std::string& name, std::size_t page, std::size_t pages) {
  const style::Style& style = setting.style;
  const text::TextStyle type = running_style(style);
  auto frame = std::make_shared<Frame>();
  frame->name = "running";
  frame->role = layout::Role::Artifact;
  const Length width = shape.margin_column.right() - shape.body.left();
  frame->baseline = style.running.size;
  std::string left = setting.song.title.value;
  if (!name.empty()) left += " · " + name;
  const auto put = [&](const std::string& text, Length x, bool from_right) {
    const text::Line line = setting.shaper.line(text, type);
    layout::add_line(*frame, {from_right ? x - line.width : x, frame->baseline}, line, style.faint, "running-text");
    return line.width;
  };
  const Length right =
      put("page " + std::to_string(page) + " of " + std::to_string(pages), width, true) + style.running.size * 2;
  Length taken = right;
  if (setting.song.revision) {
    const std::string revised = "revised " + blocks::date_words(setting.song.revision->value);
    const text::Line line = setting.shaper.line(revised, type);
    layout::add_line(*frame, {width - right - line.width, frame->baseline}, line, style.faint, "running-text",
                     setting.song.revision->span);
    taken += line.width;
  }
  // A long title is cut before it meets what stands to its right.
  const Length room = width - taken - style.running.size * 2;
  put(text::cut_to(setting.shaper, left, type, room), {}, false);
  frame->size = {width, style.running.size * 1.3};
  return frame;
}

void report_overfull(const std::vector<source::Span>& places, diag::Sink& sink) {
  for (const source::Span& place : places) {
    sink.add(diag::Kind::SheetOverfull, place, "this bar is too full for the width of the page",
             "not even a beat of it fits on one line, however small it is set",
             "write it in longer values, or choose a style with a smaller staff space");
  }
}

void report_set_smaller(const std::vector<source::Span>& places, diag::Sink& sink) {
  for (const source::Span& place : places) {
    sink.add(diag::Kind::SheetSetSmaller, place,
             "the section is set smaller, for a beat of this bar is wider than the page",
             "a beat stands on one line, and all systems of a section are of one size",
             "write it in longer values, or choose a style with a smaller staff space");
  }
}

void report_broken(const std::vector<source::Span>& places, diag::Sink& sink) {
  for (const source::Span& place : places) {
    sink.add(diag::Kind::SheetOverfull, place, "this bar is wider than the page and goes on on the next system",
             "it is broken at a beat, without a bar line",
             "write it as two bars, or choose a style with smaller staves");
  }
}

void report_remarks_below(const std::vector<source::Span>& places, diag::Sink& sink) {
  for (const source::Span& place : places) {
    sink.add(diag::Kind::SheetOverfull, place, "the remarks on one system are higher than a page",
             "from this one on they stand under the system, not beside it", "say less, or say it of several bars");
  }
}

class Inspector {
 public:
  /// `otherwise`: the place of what comes from no place in the song.
  explicit Inspector(diag::Sink& sink, source::Span otherwise = {}) : sink_(sink), otherwise_(otherwise) {}

  void too_wide(const Frame& frame, Length width) {
    const auto ink = layout::ink_of(frame);
    // Slanted letters lean a little out of their own width.
    if (!ink || ink->right() <= width + Length::pt(3)) return;
    sink_.add(diag::Kind::SheetWordTooWide, origin(frame), "a word or a row is wider than its column",
              "text is broken between words only", "shorten it, or choose a style with smaller text");
  }

  void too_high(const Frame& frame) {
    sink_.add(diag::Kind::SheetOverfull, origin(frame), "this is higher than a page", "it cannot be broken",
              "show fewer parts, or choose a style with a smaller staff space");
  }

  void characters(const Frame& frame) {
    for (const layout::Item& item : frame.items) {
      if (const auto* glyphs = std::get_if<layout::GlyphsShape>(&item.shape)) check_run(glyphs->run, item.origin);
    }
    for (const layout::PlacedFrame& child : frame.children) characters(*child.frame);
  }

  /// Of all characters together, once for each place.
  void tell() const {
    constexpr std::size_t kNamed = 16;
    for (const Missing& m : missing_) {
      const std::size_t count = m.characters.size();
      std::string named;
      for (std::size_t i = 0; i < std::min(count, kNamed); ++i) named += m.characters[i];
      std::string words =
          (count > 1 ? "no font here has the characters " : "no font here has the character ") + diag::quoted(named);
      if (count > kNamed) words += " and " + std::to_string(count - kNamed) + " more";
      const bool asian = std::any_of(m.characters.begin(), m.characters.end(), east_asian);
      const std::string each = count > 1 ? "them" : "it";
      sink_.add(diag::Kind::SheetMissingCharacter, m.span, words,
                count > 1 ? "they would print as empty boxes" : "it would print as an empty box",
                "write " + each + " in other characters, or install a font that has " + each +
                    (asian ? ": on Debian the package fonts-noto-cjk" : ""));
    }
  }

 private:
  static source::Span origin(const Frame& frame) {
    if (!(frame.origin == source::Span{})) return frame.origin;
    for (const layout::Item& item : frame.items) {
      if (!(item.origin == source::Span{})) return item.origin;
    }
    for (const layout::PlacedFrame& child : frame.children) {
      const source::Span found = origin(*child.frame);
      if (!(found == source::Span{})) return found;
    }
    return {};
  }

  void check_run(const text::Run& run, source::Span span) {
    // Shapers mark a character that no font has by glyph 0, or by a bit beyond all glyph numbers.
    constexpr std::uint32_t kUnknown = 0x10000000;
    for (const text::Glyph& glyph : run.glyphs) {
      if (glyph.id != 0 && glyph.id < kUnknown) continue;
      std::size_t end = glyph.cluster + 1;
      while (end < run.text.size() && (static_cast<unsigned char>(run.text[end]) & 0xC0U) == 0x80U) ++end;
      const std::string character = run.text.substr(glyph.cluster, end - glyph.cluster);
      if (!met_.insert(character).second) continue;
      if (span == source::Span{}) span = otherwise_;
      auto place = std::find_if(missing_.begin(), missing_.end(), [&](const Missing& m) { return m.span == span; });
      if (place == missing_.end()) place = missing_.insert(missing_.end(), {span, {}});
      place->characters.push_back(character);
    }
  }

  /// Characters that no font has, by the place where each is met first.
  struct Missing {
    source::Span span;
    std::vector<std::string> characters;
  };
  /// Chinese characters, kana and their punctuation begin with these bytes in UTF-8 (U+3000 to U+9FFF, U+FF00 on).
  static bool east_asian(const std::string& character) {
    const auto first = static_cast<unsigned char>(character.front());
    return (first >= 0xE3 && first <= 0xE9) || first == 0xEF;
  }

  diag::Sink& sink_;
  source::Span otherwise_;
  std::set<std::string> met_;
  std::vector<Missing> missing_;
};

}  // namespace

void report_missing_characters(const Frame& page, source::Span otherwise, diag::Sink& sink) {
  Inspector inspector(sink, otherwise);
  inspector.characters(page);
  inspector.tell();
}

Sheet blank_sheet(const Setting& setting, std::string subject) {
  Sheet sheet;
  sheet.paper = setting.style.page.paper;
  sheet.ground = setting.style.ground;
  sheet.title = setting.song.title.value;
  if (setting.song.by) sheet.author = setting.song.by->value;
  sheet.subject = std::move(subject);
  sheet.language = setting.song.language;
  sheet.printable = printable_area(setting.style);
  sheet.mirror = setting.style.page.outer - setting.style.page.inner;
  return sheet;
}

text::TextStyle running_style(const style::Style& style) {
  const style::TypeRole& role = style.running;
  return {
      {role.family, static_cast<text::Weight>(role.weight), role.italic ? text::Slant::Italic : text::Slant::Upright},
      role.size,
      static_cast<std::int16_t>(role.tracking),
      true};
}

Rect printable_area(const style::Style& style) {
  const Length edge = Length::mm(5);
  const base::Size& paper = style.page.paper;
  return {edge, edge, paper.width - edge * 2, paper.height - edge * 2};
}

void report_widths(const blocks::SectionBlock& block, diag::Sink& sink) {
  if (block.shared_out) {
    sink.add(diag::Kind::SheetOverfull, *block.shared_out,
             "the parts of this section stand in several systems with the same bars",
             "a system of all parts would be higher than a page",
             "show fewer parts, or choose a style with smaller staves");
  }
  report_overfull(block.overfull, sink);
  report_set_smaller(block.set_smaller, sink);
  report_broken(block.broken, sink);
  report_remarks_below(block.remarks_below, sink);
}

Fill measure(const Setting& setting, const Flow& flow, Binding binding) {
  const layout::PageShape shape = page_shape(setting.style, binding);
  const std::vector<layout::PagePlan> plans = layout::break_pages(flow, shape);
  Fill fill{plans.size(), 0, {}};
  if (!plans.empty()) {
    const layout::PlacedItem& last = plans.back().items.back();
    fill.left = shape.body.bottom() - last.at.y - last.frame->size.height;
  }
  for (std::size_t p = 0; p + 1 < plans.size(); ++p) {
    const layout::PlacedItem& last = plans[p].items.back();
    const Length foot = last.at.y + last.frame->size.height;
    fill.empty +=
        std::max(0.0, (shape.body.bottom() - foot) / shape.body.height) / static_cast<double>(plans.size() - 1);
  }
  return fill;
}

std::vector<std::shared_ptr<const Frame>> make_pages(const Setting& setting, const Flow& flow, const std::string& name,
                                                     diag::Sink& sink, Binding binding) {
  const layout::PageShape shape = page_shape(setting.style, binding);
  const std::vector<layout::PagePlan> plans = layout::break_pages(flow, shape);
  Inspector inspector(sink);
  std::vector<std::shared_ptr<const Frame>> pages;
  for (std::size_t p = 0; p < plans.size(); ++p) {
    auto page = std::make_shared<Frame>();
    page->name = "page";
    page->size = shape.page;
    const layout::PagePlan& plan = plans[p];
    std::size_t note = 0;
    if (plan.continuation) page->children.push_back({{shape.body.left(), shape.body.top()}, plan.continuation});
    for (const layout::PlacedItem& placed : plan.items) {
      const layout::FlowItem& item = flow[placed.item];
      page->children.push_back({placed.at, placed.frame});
      inspector.too_wide(*item.frame, shape.body.width);
      inspector.characters(*item.frame);
      // In reading order a note follows what it speaks of.
      for (; note < plan.notes.size() && plan.notes[note].item == placed.item; ++note) {
        const auto& frame = item.notes[plan.notes[note].note].frame;
        page->children.push_back({plan.notes[note].at, frame});
        inspector.too_wide(*frame, shape.margin_column.width + setting.style.page.outer / 2);
        inspector.characters(*frame);
      }
    }
    if (plan.overfull) inspector.too_high(*flow[plan.items.front().item].frame);
    if (p == 0) {
      const auto band = blocks::head_ornament(setting, shape.margin_column.right() - shape.body.left());
      page->children.push_back({{shape.body.left(), shape.body.top() - band->size.height}, band});
    }
    if (binding == Binding::Alone) {
      const Point foot{shape.body.left(), shape.page.height - setting.style.page.bottom * 0.62};
      page->children.push_back({foot, running_line(setting, shape, name, p + 1, plans.size())});
    }
    pages.push_back(std::move(page));
  }
  inspector.tell();
  return pages;
}

}  // namespace tunesheaf::sheet

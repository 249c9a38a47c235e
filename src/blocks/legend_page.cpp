#include "tunesheaf/blocks/legend_page.h"

#include <algorithm>

#include "pen.h"
#include "tunesheaf/engrave/system.h"

namespace tunesheaf::blocks {
namespace {

/// One picture and the words below it, not yet at their heights.
struct Cell {
  FramePtr picture, name, words;
  Length height() const { return name->size.height + words->size.height; }
};

class SignTable {
 public:
  explicit SignTable(const Setting& setting) : setting_(setting), style_(setting.style), gap_(style_.body.size * 1.1) {
    const Length least = style_.note.size * 8;  // some 17 letters a line
    const double fit = (setting.body() + gap_) / (least + gap_);
    columns_ = std::max<std::size_t>(1, static_cast<std::size_t>(fit));
    width_ = (setting.body() + gap_) * (1.0 / static_cast<double>(columns_)) - gap_;
  }

  SignPages run(const std::vector<SignGroup>& groups) {
    title();
    for (const SignGroup& group : groups) add(group);
    return std::move(pages_);
  }

 private:
  void title() {
    auto frame = std::make_shared<Frame>();
    frame->name = "legend-title";
    frame->role = Role::Heading1;
    const style::TypeRole& role = style_.section_name;
    frame->baseline = role.size;
    const Span origin = setting_.song.title.span;
    frame->items.push_back({{},
                            "bookmark",
                            layout::Layer::Overlay,
                            origin,
                            {},
                            layout::BookmarkShape{setting_.song.title.value, "signs", 0}});
    put(*frame, setting_, {{}, role.size}, setting_.song.title.value, {role, style_.ink, "title", origin});
    frame->size = {setting_.body(), role.size * 1.3};
    pages_.flow.push_back(flow_item(frame, {}));
    pages_.flow.back().break_after = layout::BreakAfter::Forbidden;
  }

  void add(const SignGroup& group) {
    auto heading = std::make_shared<Frame>();
    heading->name = "legend-heading";
    heading->role = Role::Heading2;
    heading->baseline = style_.heading.size * 1.1;
    rule(*heading, {{}, style_.rule / 2}, setting_.body(), style_.rule, style_.faint);
    put(*heading, setting_, {{}, heading->baseline}, group.heading, {style_.heading, style_.ink, "legend-heading"});
    heading->size = {setting_.body(), style_.heading.size * 1.35};
    pages_.flow.push_back(flow_item(heading, style_.body.size * 0.7, style_.body.size * 0.3));
    pages_.flow.back().break_after = layout::BreakAfter::Forbidden;
    // As many rows as needed, and as even as they can be.
    for (std::size_t first = 0; first < group.cells.size(); first += columns_) {
      const std::size_t last = std::min(group.cells.size(), first + columns_);
      std::vector<Cell> cells;
      for (std::size_t i = first; i < last; ++i) cells.push_back(cell(group.cells[i]));
      pages_.flow.push_back(flow_item(row(cells), style_.body.size * 0.2, style_.body.size * 0.6));
    }
  }

  Cell cell(const SignCell& sign) {
    engrave::SectionRequest request;
    request.timeline = &setting_.song;
    request.section = sign.section;
    request.parts = setting_.parts;
    request.width = width_;
    request.first_names = engrave::Names::None;
    request.opening = engrave::Opening::Bare;
    request.signs = engrave::form_signs(setting_.song, sign.section);
    const auto engraved = engrave::engrave_section(request, style_, setting_.shaper, setting_.music);
    Cell out;
    for (const engrave::EngravedSystem& system : engraved.systems) {
      if (system.overfull || system.set_smaller) pages_.overfull.push_back(system.overfull_at);
    }
    if (engraved.systems.size() == 1) {
      out.picture = engraved.systems.front().frame;
    } else {
      Stack stack("legend-picture", width_, Role::Figure);
      for (const engrave::EngravedSystem& system : engraved.systems) stack.add(system.frame);
      out.picture = stack.done();
    }
    const Span origin = setting_.song.sections[static_cast<std::size_t>(sign.section)].origin;
    style::TypeRole strong = bold(style_.note);
    out.name = prose(setting_, sign.name, {strong, style_.ink, "legend-name", origin}, width_);
    out.words = prose(setting_, sign.words, {style_.note, style_.ink, "legend-words", origin}, width_);
    return out;
  }

  /// Pictures on one line by their top staves, words on one line below the lowest.
  FramePtr row(const std::vector<Cell>& cells) const {
    Length above, below, words;
    for (const Cell& c : cells) {
      above = std::max(above, c.picture->baseline);
      below = std::max(below, c.picture->size.height - c.picture->baseline);
      words = std::max(words, c.height());
    }
    auto frame = std::make_shared<Frame>();
    frame->name = "legend-row";
    frame->role = Role::Table;
    frame->baseline = above;
    const Length text = above + below + style_.note.size * 0.3;
    Length x;
    for (const Cell& c : cells) {
      frame->children.push_back({{x, above - c.picture->baseline}, c.picture});
      frame->children.push_back({{x, text}, c.name});
      frame->children.push_back({{x, text + c.name->size.height}, c.words});
      x += width_ + gap_;
    }
    frame->size = {setting_.body(), text + words};
    return frame;
  }

  const Setting& setting_;
  const style::Style& style_;
  Length gap_, width_;
  std::size_t columns_ = 1;
  SignPages pages_;
};

}  // namespace

SignPages legend_page(const Setting& setting, const std::vector<SignGroup>& groups) {
  return SignTable(setting).run(groups);
}

}  // namespace tunesheaf::blocks

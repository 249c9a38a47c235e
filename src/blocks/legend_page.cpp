#include "tunesheaf/blocks/legend_page.h"

#include <algorithm>

#include "pen.h"
#include "tunesheaf/engrave/system.h"

namespace tunesheaf::blocks {
namespace {

/// One thing of a column: a heading, or a picture with its words at its right.
struct TablePiece {
  FramePtr frame;
  bool heading = false;
};

class SignTable {
 public:
  explicit SignTable(const Setting& setting) : setting_(setting), style_(setting.style) {
    gap_ = style_.note.size * 1.1;
    const Length least = style_.note.size * 16;  // a picture and some 20 letters a line
    const double fit = (setting.body() + gap_) / (least + gap_);
    columns_ = std::max<std::size_t>(1, static_cast<std::size_t>(fit));
    width_ = (setting.body() + gap_) * (1.0 / static_cast<double>(columns_)) - gap_;
  }

  SignPages run(const std::vector<SignGroup>& groups) {
    title();
    std::vector<TablePiece> pieces;
    for (const SignGroup& group : groups) {
      pieces.push_back({heading(group), true});
      for (const SignCell& sign : group.cells) pieces.push_back({cell(sign), false});
    }
    const style::PageStyle& page = style_.page;
    // The first page begins lower, with a band and the title.
    Length room = page.paper.height - page.top - page.bottom - style_.section_name.size * kTitle -
                  style_.title.size * 0.5 - Length::pt(1);
    for (std::size_t first = 0; first < pieces.size(); room = page.paper.height - page.top - page.bottom) {
      const std::size_t last = fill(pieces, first, room);
      pages_.flow.push_back(flow_item(columns(pieces, first, last, room), {}));
      first = last;
    }
    return std::move(pages_);
  }

 private:
  static constexpr double kTitle = 1.5;  ///< height of the title's line, of its type

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
    frame->size = {setting_.body(), role.size * kTitle};
    pages_.flow.push_back(flow_item(frame, {}));
    pages_.flow.back().break_after = layout::BreakAfter::Forbidden;
  }

  FramePtr heading(const SignGroup& group) const {
    auto frame = std::make_shared<Frame>();
    frame->name = "legend-heading";
    frame->role = Role::Heading2;
    frame->baseline = style_.heading.size * 1.15;
    rule(*frame, {{}, style_.rule / 2}, width_, style_.rule, style_.faint);
    put(*frame, setting_, {{}, frame->baseline}, group.heading, {style_.heading, style_.ink, "legend-heading"});
    frame->size = {width_, style_.heading.size * 1.4};
    return frame;
  }

  // ---------------------------------------------------------------- one sign

  /// Everybody, but beside a cue only its reader.
  std::vector<int> shown(int section) const {
    for (const score::PartMusic& music : setting_.song.sections[static_cast<std::size_t>(section)].parts)
      if (!music.cues.empty()) return {music.part};
    return setting_.parts;
  }

  std::vector<engrave::EngravedSystem> picture(const SignCell& sign, Length width) const {
    style::Style style = style_;
    style.show_staves = sign.staves;
    style.engraving.max_stretch_last = 100;  // all pictures are of one width
    engrave::SectionRequest request;
    request.timeline = &setting_.song;
    request.section = sign.section;
    request.parts = shown(sign.section);
    request.width = width;
    request.first_names = engrave::Names::None;
    request.opening = engrave::Opening::Bare;
    request.chord_names = sign.staves != "tab";  // what a hand strums has its name elsewhere
    request.signs = engrave::form_signs(setting_.song, sign.section);
    return engrave::engrave_section(request, style, setting_.shaper, setting_.music).systems;
  }

  static bool fits(const std::vector<engrave::EngravedSystem>& systems, Length width) {
    if (systems.size() != 1 || systems.front().overfull || systems.front().set_smaller) return false;
    const auto ink = layout::ink_of(*systems.front().frame);
    return !ink || ink->right() <= width;
  }

  FramePtr cell(const SignCell& sign) {
    const Span origin = setting_.song.sections[static_cast<std::size_t>(sign.section)].origin;
    constexpr double kPicture = 0.36;  // of the column
    const Length narrow = width_ * kPicture, between = style_.note.size * 0.6;
    std::vector<engrave::EngravedSystem> systems = picture(sign, narrow);
    const bool beside = fits(systems, narrow + between);
    if (!beside) systems = picture(sign, width_);
    for (const engrave::EngravedSystem& system : systems) {
      if (system.overfull || system.set_smaller) pages_.overfull.push_back(system.overfull_at);
    }
    const Length room = beside ? width_ - narrow - between : width_;
    Prose words;
    words.pieces = {{sign.name + "\u2002", text_style(bold(style_.note))}, {sign.words, text_style(style_.note)}};
    words.width = room;
    words.size = style_.note.size;
    words.colour = style_.ink;
    words.kind = "legend-words";
    words.origin = origin;
    const FramePtr text = prose(setting_, words);
    auto frame = std::make_shared<Frame>();
    frame->name = "legend-cell";
    frame->role = Role::Table;
    if (!beside) {
      Length y;
      for (const engrave::EngravedSystem& system : systems) {
        frame->children.push_back({{{}, y}, system.frame});
        y += system.frame->size.height + style_.note.size * 0.2;
      }
      frame->children.push_back({{{}, y}, text});
      frame->size = {width_, y + text->size.height};
      return frame;
    }
    const FramePtr& drawn = systems.front().frame;
    const Length height = std::max(drawn->size.height, text->size.height);
    frame->children.push_back({{{}, (height - drawn->size.height) / 2}, drawn});
    frame->children.push_back({{narrow + between, (height - text->size.height) / 2}, text});
    frame->size = {width_, height};
    return frame;
  }

  // ---------------------------------------------------------------- columns

  Length before(const TablePiece& piece) const { return style_.note.size * (piece.heading ? 0.75 : 0.2); }

  /// The first piece that does not stand in a column that begins with `first`; no heading ends it.
  std::size_t column(const std::vector<TablePiece>& pieces, std::size_t first, Length height) const {
    Length y;
    std::size_t last = first;
    for (; last < pieces.size(); ++last) {
      const Length next = y + (last > first ? before(pieces[last]) : Length{}) + pieces[last].frame->size.height;
      if (next > height && last > first) break;
      y = next;
    }
    while (last < pieces.size() && last > first + 1 && pieces[last - 1].heading) --last;
    return last;
  }

  /// The first piece that does not stand on a page of this height.
  std::size_t fill(const std::vector<TablePiece>& pieces, std::size_t first, Length height) const {
    for (std::size_t c = 0; c < columns_ && first < pieces.size(); ++c) first = column(pieces, first, height);
    return first;
  }

  /// What a column has left is shared out between its pieces, within reason.
  Length air(const std::vector<TablePiece>& pieces, std::size_t first, std::size_t last, Length room) const {
    if (last < first + 2) return {};
    Length height;
    for (std::size_t i = first; i < last; ++i)
      height += pieces[i].frame->size.height + (i > first ? before(pieces[i]) : Length{});
    return std::clamp((room - height) * (1.0 / static_cast<double>(last - first - 1)), Length{},
                      style_.note.size * 0.5);
  }

  /// Columns as even as they can be: of all heights that hold the pieces the least.
  FramePtr columns(const std::vector<TablePiece>& pieces, std::size_t first, std::size_t last, Length room) const {
    const std::vector<TablePiece> own(pieces.begin() + static_cast<std::ptrdiff_t>(first),
                                      pieces.begin() + static_cast<std::ptrdiff_t>(last));
    Length low, high = room;
    while (high - low > Length::pt(0.5)) {
      const Length middle = (low + high) / 2;
      (fill(own, 0, middle) == own.size() ? high : low) = middle;
    }
    auto frame = std::make_shared<Frame>();
    frame->name = "legend-columns";
    Length x, deepest;
    for (std::size_t at = 0, c = 0; at < own.size() && c < columns_; ++c) {
      const std::size_t end = column(own, at, high);
      const Length more = air(own, at, end, room);
      Length y;
      for (std::size_t i = at; i < end; ++i) {
        if (i > at) y += before(own[i]) + more;
        frame->children.push_back({{x, y}, own[i].frame});
        y += own[i].frame->size.height;
      }
      deepest = std::max(deepest, y);
      at = end;
      x += width_ + gap_;
    }
    frame->size = {setting_.body(), deepest};
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

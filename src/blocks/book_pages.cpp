#include "tunesheaf/blocks/book_pages.h"

#include <algorithm>

#include "pen.h"

namespace tunesheaf::blocks {
namespace {

/// With "…" where it is wider than `room`.
std::string cut(const Setting& setting, std::string text, const style::TypeRole& role, Length room) {
  if (width_of(setting, text, role) <= room) return text;
  do {
    while (!text.empty() && (static_cast<unsigned char>(text.back()) & 0xC0U) == 0x80U) text.pop_back();
    if (!text.empty()) text.pop_back();
  } while (!text.empty() && width_of(setting, text + "…", role) > room);
  return text + "…";
}

void link(Frame& frame, Point at, base::Size size, const std::string& target) {
  frame.items.push_back({at, "link", layout::Layer::Overlay, {}, {}, layout::LinkShape{size, "#" + target}});
}

/// Where the columns of the contents begin; narrow pages have only titles and page numbers.
struct Columns {
  Length key, tuning, difficulty, page;
  bool narrow = false;
};

Columns columns_of(const Setting& setting) {
  const Length width = book_width(setting.style);
  Columns columns;
  columns.page = width;
  columns.narrow = width < setting.style.body.size * 34;
  columns.difficulty = width - setting.style.body.size * 3.2;
  columns.tuning = width * 0.66;
  columns.key = width * 0.53;
  return columns;
}

class Contents {
 public:
  explicit Contents(const Setting& setting) : setting_(setting), style_(setting.style), columns_(columns_of(setting)) {}

  Flow run(const std::vector<ContentsGroup>& groups) {
    head();
    for (const ContentsGroup& group : groups) {
      if (!group.heading.empty()) heading(group.heading);
      for (const ContentsRow& row : group.rows) add(row);
    }
    return std::move(flow_);
  }

 private:
  std::shared_ptr<Frame> line(Length height) const {
    auto frame = std::make_shared<Frame>();
    frame->name = "contents-row";
    frame->role = Role::Paragraph;
    frame->baseline = style_.body.size;
    frame->size = {book_width(style_), height};
    return frame;
  }

  void head() {
    if (columns_.narrow) return;
    auto frame = line(style_.small.size * 1.6);
    const Ink ink{style_.small, style_.faint, "contents-head"};
    const Length y = style_.small.size;
    put(*frame, setting_, {columns_.key, y}, "key", ink);
    put(*frame, setting_, {columns_.tuning, y}, "tuning", ink);
    put(*frame, setting_, {columns_.difficulty, y}, "difficulty", ink, Align::Right);
    put(*frame, setting_, {columns_.page, y}, "page", ink, Align::Right);
    flow_.push_back(flow_item(frame, style_.body.size * 0.5));
    flow_.back().break_after = layout::BreakAfter::Forbidden;
  }

  void heading(const std::string& words) {
    auto frame = line(style_.heading.size * 1.5);
    frame->name = "contents-heading";
    frame->role = Role::Heading2;
    rule(*frame, {{}, style_.rule / 2}, book_width(style_), style_.rule, style_.faint);
    put(*frame, setting_, {{}, style_.heading.size * 1.2}, words, {style_.heading, style_.ink, "contents-heading"});
    flow_.push_back(flow_item(frame, style_.body.size * 0.8));
    flow_.back().break_after = layout::BreakAfter::Forbidden;
  }

  void add(const ContentsRow& row) {
    auto frame = line(style_.body.size * 1.45);
    const Length y = frame->baseline, air = style_.body.size * 0.8;
    const Length room = (columns_.narrow ? columns_.page - style_.body.size * 3 : columns_.key) - air;
    const Ink faint{style_.body, style_.faint, "contents-aside"};
    Length x = put(*frame, setting_, {{}, y}, cut(setting_, row.title, style_.body, room),
                   {style_.body, style_.ink, "contents-title"});
    x += air;
    const style::TypeRole by = italic(style_.body);
    if (!row.by.empty() && x + style_.body.size * 5 < room) {
      put(*frame, setting_, {x, y}, cut(setting_, row.by, by, room - x), {by, style_.faint, "contents-aside"});
    }
    if (!columns_.narrow) {
      put(*frame, setting_, {columns_.key, y},
          cut(setting_, row.key, style_.body, columns_.tuning - columns_.key - air), faint);
      const Length tuning_room = columns_.difficulty - style_.body.size * 1.5 - columns_.tuning - air;
      put(*frame, setting_, {columns_.tuning, y}, cut(setting_, row.tuning, style_.body, tuning_room), faint);
      put(*frame, setting_, {columns_.difficulty, y}, row.difficulty, faint, Align::Right);
    }
    const style::TypeRole strong = bold(style_.body);
    put(*frame, setting_, {columns_.page, y}, std::to_string(row.page), {strong, style_.ink, "contents-page"},
        Align::Right);
    link(*frame, {}, frame->size, row.target);
    flow_.push_back(flow_item(frame, {}));
  }

  const Setting& setting_;
  const style::Style& style_;
  Columns columns_;
  Flow flow_;
};

/// "C  x32010  12, 14, 18": page numbers go on in further lines, each a link.
FramePtr index_entry(const Setting& setting, const IndexEntry& entry, Length width) {
  const style::Style& style = setting.style;
  auto frame = std::make_shared<Frame>();
  frame->name = "index-entry";
  frame->role = Role::Paragraph;
  const style::TypeRole& role = style.note;
  const style::TypeRole strong = bold(role);
  const Length lead = role.size * 1.32, indent = role.size * 1.2, air = role.size * 0.6;
  Length y = role.size * 0.95;
  frame->baseline = y;
  const Length numbers = width_of(setting, "0000, ", role);
  Length x = put(*frame, setting, {{}, y}, cut(setting, entry.name, strong, width - numbers),
                 {strong, style.ink, "index-name"});
  x += air;
  if (!entry.aside.empty() && x + width_of(setting, entry.aside, role) + numbers < width) {
    x += put(*frame, setting, {x, y}, entry.aside, {role, style.faint, "index-aside"}) + air;
  }
  for (std::size_t i = 0; i < entry.places.size(); ++i) {
    const std::string number = std::to_string(entry.places[i].page);
    const std::string words = number + (i + 1 < entry.places.size() ? "," : "");
    const Length needs = width_of(setting, words, role);
    if (x + needs > width && x > indent) {
      x = indent;
      y += lead;
    }
    link(*frame, {x, y - role.size * 0.9}, {width_of(setting, number, role), lead}, entry.places[i].target);
    put(*frame, setting, {x, y}, words, {role, style.ink, "index-page"});
    x += needs + role.size * 0.35;
  }
  frame->size = {width, y + role.size * 0.4};
  return frame;
}

}  // namespace

Length book_width(const style::Style& style) {
  return style.page.paper.width - style.page.inner - style.page.outer;
}

FramePtr book_title(const Setting& setting, const BookTitle& words, base::Size size) {
  const style::Style& style = setting.style;
  Stack stack("book-title", size.width, Role::Section);
  const auto text = [&](const std::string& t, const style::TypeRole& role, Colour colour, Kind kind, Role as) {
    const auto frame = prose(setting, t, {role, colour, kind}, size.width);
    frame->role = as;
    stack.add(frame);
  };
  style::TypeRole title = style.title;
  title.size = title.size * 1.5;
  stack.space(size.height * 0.26);
  rule(stack.frame(), {{}, stack.y()}, size.width, style.rule * 2, style.ink);
  stack.space(title.size * 0.5);
  text(words.title, title, style.ink, "book-title", Role::Heading1);
  stack.space(style.body.size * 0.5);
  if (!words.by.empty()) text(words.by, style.subtitle, style.ink, "book-by", Role::Paragraph);
  stack.space(style.body.size);
  rule(stack.frame(), {{}, stack.y()}, size.width, style.rule, style.faint);
  stack.space(style.body.size * 1.5);
  if (!words.says.empty()) text(words.says, style.body, style.ink, "book-says", Role::Paragraph);
  stack.space(style.body.size);
  text(words.below, style.body, style.faint, "book-below", Role::Paragraph);
  return stack.done();
}

Flow book_contents(const Setting& setting, const std::vector<ContentsGroup>& groups) {
  Flow flow{book_heading(setting, "Contents", "contents", book_width(setting.style))};
  for (auto& item : Contents(setting).run(groups)) flow.push_back(std::move(item));
  return flow;
}

Flow book_index(const Setting& setting, const IndexPart& part, Length width) {
  Flow flow;
  if (part.entries.empty()) return flow;
  flow.push_back(book_heading(setting, part.heading, part.target, width));
  for (const IndexEntry& entry : part.entries) {
    flow.push_back(flow_item(index_entry(setting, entry, width), setting.style.note.size * 0.15));
  }
  return flow;
}

layout::FlowItem book_heading(const Setting& setting, const std::string& words, const std::string& target,
                              Length width) {
  const style::Style& style = setting.style;
  auto frame = std::make_shared<Frame>();
  frame->name = "book-heading";
  frame->role = Role::Heading1;
  frame->items.push_back({{}, "bookmark", layout::Layer::Overlay, {}, {}, layout::BookmarkShape{words, target, 1}});
  rule(*frame, {{}, style.rule / 2}, width, style.rule, style.ink);
  frame->baseline = style.section_name.size * 1.3;
  put(*frame, setting, {{}, frame->baseline}, words, {style.section_name, style.ink, "book-heading"});
  frame->size = {width, style.section_name.size * 1.7};
  layout::FlowItem item = flow_item(frame, style.body.size * 1.6);
  item.break_after = layout::BreakAfter::Forbidden;
  return item;
}

FramePtr book_running_line(const Setting& setting, const std::string& words, int page, bool left_hand) {
  const style::Style& style = setting.style;
  auto frame = std::make_shared<Frame>();
  frame->name = "running";
  frame->role = Role::Artifact;
  frame->baseline = style.running.size;
  const Length width = book_width(style), room = width - style.running.size * 6;
  const style::TypeRole strong = bold(style.running);
  const std::string shown = cut(setting, words, style.running, room);
  put(*frame, setting, {left_hand ? Length{} : width, frame->baseline}, std::to_string(page),
      {strong, style.ink, "running-text"}, left_hand ? Align::Left : Align::Right);
  put(*frame, setting, {left_hand ? width : Length{}, frame->baseline}, shown,
      {style.running, style.faint, "running-text"}, left_hand ? Align::Right : Align::Left);
  frame->size = {width, style.running.size * 1.3};
  return frame;
}

}  // namespace tunesheaf::blocks

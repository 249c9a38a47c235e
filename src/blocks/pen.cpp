#include "pen.h"

#include <algorithm>

#include "tunesheaf/blocks/words.h"
#include "tunesheaf/text/hyphens.h"
#include "tunesheaf/theory/note_value.h"

namespace tunesheaf::blocks {
namespace {

// Leading and the reach of letters as shares of the em, for a face with long ascenders (Gentium: 0.78 and 0.24).
constexpr double kLinePitch = 1.32, kAscent = 0.82, kDescent = 0.26;

text::Weight weight(int number) {
  return static_cast<text::Weight>(number);
}

std::string as_printed(const Setting& setting, const std::string& text) {
  return typographic(text, setting.song.language);
}

}  // namespace

text::TextStyle text_style(const style::TypeRole& role, bool tabular) {
  return {{role.family, weight(role.weight), role.italic ? text::Slant::Italic : text::Slant::Upright},
          role.size,
          static_cast<std::int16_t>(role.tracking),
          tabular};
}

style::TypeRole bold(style::TypeRole role) {
  role.weight = 700;
  return role;
}

style::TypeRole italic(style::TypeRole role) {
  role.italic = true;
  return role;
}

Length put(Frame& frame, const Setting& setting, Point at, const std::string& text, const Ink& ink, Align align) {
  if (text.empty()) return {};
  const text::Line line = setting.shaper.line(as_printed(setting, text), text_style(ink.role, true));
  if (align == Align::Centre) at.x -= line.width / 2;
  if (align == Align::Right) at.x -= line.width;
  layout::add_line(frame, at, line, ink.colour, ink.kind, ink.origin);
  return line.width;
}

Length width_of(const Setting& setting, const std::string& text, const style::TypeRole& role) {
  return text.empty() ? Length{} : setting.shaper.line(as_printed(setting, text), text_style(role, true)).width;
}

namespace {

/// Only where the text may need a second line: letters are wider on the average than this share of the em.
void part_words(const Setting& setting, const Prose& p, std::vector<text::StyledText>& pieces) {
  constexpr double kNarrow = 0.4;
  std::size_t letters = 0;
  for (const text::StyledText& piece : pieces) letters += piece.text.size();
  auto* shaper = dynamic_cast<text::RunningText*>(&setting.shaper);
  if (shaper == nullptr || p.size * (kNarrow * static_cast<double>(letters)) < p.width) return;
  const std::string language = p.parting == Parting::English ? "en" : setting.song.language;
  for (text::StyledText& piece : pieces) piece.text = shaper->running(piece.text, language);
}

/// Sets the lines anew in the least width, to an eighth of the whole, that needs no more of them; returns where that
/// width begins.
Length even_out(const Setting& setting, const Prose& p, const std::vector<text::StyledText>& pieces,
                std::vector<text::Line>& lines) {
  if (lines.size() < 2) return {};
  Length least = p.width / 2, width = p.width;
  for (int i = 0; i < 2; ++i) {
    const Length middle = (least + width) / 2;
    auto tried = setting.shaper.paragraph(pieces, middle, p.alignment, setting.song.language);
    const bool fits =
        tried.size() <= lines.size() &&
        std::all_of(tried.begin(), tried.end(), [&](const text::Line& line) { return line.width <= middle; });
    (fits ? width : least) = middle;
    if (fits) lines = std::move(tried);
  }
  return p.alignment == text::Alignment::Centre ? (p.width - width) / 2 : Length{};
}

}  // namespace

std::shared_ptr<Frame> prose(const Setting& setting, const Prose& p) {
  auto frame = std::make_shared<Frame>();
  frame->name = p.name;
  frame->role = p.role;
  frame->origin = p.origin;
  std::vector<text::StyledText> pieces = p.pieces;
  for (text::StyledText& piece : pieces) piece.text = as_printed(setting, piece.text);
  if (p.parting != Parting::None) part_words(setting, p, pieces);
  auto lines = setting.shaper.paragraph(pieces, p.width, p.alignment, setting.song.language);
  const Length left = p.even ? even_out(setting, p, pieces, lines) : Length{};
  frame->baseline = p.size * kAscent;
  Length y = frame->baseline;
  for (std::size_t i = 0; i < lines.size(); ++i) {
    if (i > 0) y += p.size * kLinePitch;
    layout::add_line(*frame, {left, y}, lines[i], p.colour, p.kind, p.origin);
  }
  frame->size = {p.width, y + p.size * kDescent};
  return frame;
}

std::shared_ptr<Frame> prose(const Setting& setting, const std::string& text, const Ink& ink, Length width,
                             Parting parting) {
  Prose p{{{text, text_style(ink.role)}}, width, ink.role.size, ink.colour, ink.kind, ink.origin};
  p.parting = parting;
  return prose(setting, p);
}

void rule(Frame& frame, Point from, Length width, Length thickness, Colour colour, Kind kind) {
  frame.items.push_back(
      {from, kind, layout::Layer::Line, {}, {}, layout::LineShape{{width, {}}, {thickness, colour, {}, {}}}});
}

Length put_sign(Frame& frame, const Setting& setting, Point at, text::MusicSign sign, Length staff_space, Kind kind,
                Colour colour) {
  const text::Sign& drawn = setting.music.sign(sign, staff_space);
  layout::Item item{at, kind, layout::Layer::Ink, {}, {}, layout::PathShape{drawn.path, colour, std::nullopt}};
  if (drawn.run) item.shape = layout::GlyphsShape{*drawn.run, colour};
  frame.items.push_back(std::move(item));
  return drawn.advance;
}

namespace {
constexpr const char* kLessonWord = "lesson";
}

Length lesson_mark_width(const Setting& setting) {
  return setting.style.label.size * 0.95 + width_of(setting, kLessonWord, setting.style.label);
}

Length put_lesson_mark(Frame& frame, const Setting& setting, Point at, Span origin) {
  const style::Style& style = setting.style;
  const Length half = style.label.size * 0.36;
  const Point middle{at.x + half, at.y - style.label.size * 0.36};
  using text::PathVerb;
  layout::PathShape lozenge;
  lozenge.steps = {{PathVerb::Move, {middle.x, middle.y - half}, {}, {}},
                   {PathVerb::Line, {middle.x + half, middle.y}, {}, {}},
                   {PathVerb::Line, {middle.x, middle.y + half}, {}, {}},
                   {PathVerb::Line, {middle.x - half, middle.y}, {}, {}},
                   {PathVerb::Close, {}, {}, {}}};
  lozenge.stroke = layout::Stroke{style.rule * 1.2, style.accent, {}, {}};
  frame.items.push_back({{}, "lesson-mark", layout::Layer::Ink, origin, {}, std::move(lozenge)});
  put(frame, setting, {at.x + style.label.size * 0.95, at.y}, kLessonWord,
      {style.label, style.accent, "lesson-word", origin});
  return lesson_mark_width(setting);
}

void put_remark_number(Frame& frame, const Setting& setting, Point at, int number, Span origin) {
  const style::Style& style = setting.style;
  const style::TypeRole& role = style.small;
  const std::string text = std::to_string(number);
  const Length radius = role.size * 0.58;
  const Length half = std::max(radius, width_of(setting, text, role) / 2 + role.size * 0.28);  // wider, never higher
  layout::RectShape ring;
  ring.size = {half * 2, radius * 2};
  ring.radius = radius;
  ring.stroke = layout::Stroke{style.rule, style.accent, {}, {}};
  const Length middle = at.y - role.size * 0.36;
  frame.items.push_back({{at.x, middle - radius}, "remark-ring", layout::Layer::Ink, origin, {}, ring});
  put(frame, setting, {at.x + half, at.y}, text, {role, style.accent, "remark-number", origin}, Align::Centre);
}

Length put_play_sign(Frame& frame, const Setting& setting, Point at, Length size) {
  using text::PathVerb;
  const Length height = size * 0.6, width = height * 0.9;
  layout::PathShape sign;
  sign.steps = {{PathVerb::Move, at, {}, {}},
                {PathVerb::Line, {at.x, at.y - height}, {}, {}},
                {PathVerb::Line, {at.x + width, at.y - height / 2}, {}, {}},
                {PathVerb::Close, {}, {}, {}}};
  sign.fill = setting.style.accent;
  frame.items.push_back({{}, "video-sign", layout::Layer::Ink, {}, {}, std::move(sign)});
  return width;
}

Length put_note_value(Frame& frame, const Setting& setting, Point at, base::Fraction unit, Length staff_space,
                      Colour colour) {
  const auto value = theory::value_of_duration(unit);
  if (!value) return put(frame, setting, at, unit.text(), {setting.style.body, colour, "tempo"});
  using text::MusicSign;
  MusicSign sign = MusicSign::NotePictureQuarter;
  switch (value->value) {
    case theory::NoteValue::kBreve:
    case theory::NoteValue::kWhole:
      sign = MusicSign::NotePictureWhole;
      break;
    case theory::NoteValue::kHalf:
      sign = MusicSign::NotePictureHalf;
      break;
    case theory::NoteValue::kQuarter:
      break;
    case theory::NoteValue::kEighth:
      sign = MusicSign::NotePicture8;
      break;
    case theory::NoteValue::k16th:
      sign = MusicSign::NotePicture16;
      break;
    default:
      sign = MusicSign::NotePicture32;
      break;
  }
  Length x = put_sign(frame, setting, at, sign, staff_space, "tempo-note", colour);
  for (int i = 0; i < value->dots; ++i) {
    x += staff_space * 0.3;
    x += put_sign(frame, setting, {at.x + x, at.y - staff_space * 0.5}, MusicSign::AugmentationDot, staff_space,
                  "tempo-dot", colour);
  }
  return x;
}

Stack::Stack(std::string name, Length width, Role role) : frame_(std::make_shared<Frame>()) {
  frame_->name = std::move(name);
  frame_->role = role;
  frame_->size.width = width;
}

void Stack::add(FramePtr frame, Length x) {
  if (frame_->baseline == Length{}) frame_->baseline = y_ + frame->baseline;
  frame_->children.push_back({{x, y_}, frame});
  y_ += frame->size.height;
}

FramePtr Stack::done() {
  frame_->size.height = y_;
  return frame_;
}

std::vector<text::StyledText> finger_pieces(const style::TypeRole& role, const std::vector<std::string>& lines,
                                            const std::string& between) {
  std::vector<text::StyledText> pieces;
  const auto plain = text_style(role), strong = text_style(bold(role));
  for (std::size_t i = 0; i < lines.size(); ++i) {
    std::string rest = i > 0 ? between : std::string();
    const std::string& line = lines[i];
    // Fingers stand before the verb only: "1, 2 and T stay".
    const std::size_t names = line.find_first_not_of("1234T, ");
    std::size_t from = 0;
    if (line.find_first_of("1234T") == 0 && names != std::string::npos) {
      from = line.rfind(' ', names);
      if (!rest.empty()) pieces.push_back({rest, plain});
      rest.clear();
      if (from == std::string::npos) from = 0;
      if (from > 0) pieces.push_back({line.substr(0, from), strong});
    }
    pieces.push_back({rest + line.substr(from), plain});
  }
  return pieces;
}

FramePtr continued_line(const Setting& setting, const std::string& letter, const std::string& name, Span origin) {
  const style::Style& style = setting.style;
  auto frame = std::make_shared<Frame>();
  frame->name = "continuation";
  frame->role = Role::Artifact;
  frame->origin = origin;
  frame->baseline = style.label.size;
  Length x;
  if (!letter.empty()) {
    style::TypeRole role = style.section_name;
    role.italic = false;
    role.size = style.label.size * 1.2;
    x = put(*frame, setting, {{}, frame->baseline}, letter, {role, style.accent, "continuation-letter", origin});
    x += style.label.size * 0.6;
  }
  style::TypeRole words = style.direction;
  words.italic = true;
  words.size = style.label.size;
  put(*frame, setting, {x, frame->baseline}, name.empty() ? "continued" : name + ", continued",
      {words, style.faint, "continuation", origin});
  frame->size = {setting.body(), frame->baseline + style.rhythm.system_gap};
  return frame;
}

layout::FlowItem flow_item(FramePtr frame, Length space_before, Length stretch) {
  layout::FlowItem item;
  item.frame = std::move(frame);
  item.space_before = space_before;
  item.stretch = stretch;
  return item;
}

layout::FlowItem block_heading(const Setting& setting, const std::string& name, const std::string& aside) {
  const style::Style& style = setting.style;
  auto frame = std::make_shared<Frame>();
  frame->name = "heading";
  frame->role = Role::Heading2;
  rule(*frame, {{}, style.rule / 2}, setting.body(), style.rule, style.ink);
  frame->baseline = style.heading.size * 1.2;
  const Length taken =
      put(*frame, setting, {{}, frame->baseline}, name, {style.heading, style.ink, "block-heading"}) + style.body.size;
  frame->size = {setting.body(), style.heading.size * 1.55};
  const Ink beside{style.small, style.faint, "block-aside"};
  if (taken + width_of(setting, aside, style.small) <= setting.body()) {
    put(*frame, setting, {setting.body(), frame->baseline}, aside, beside, Align::Right);
  } else {  // below, in as many lines as it takes
    const auto words = prose(setting, aside, beside, setting.body());
    frame->children.push_back({{{}, frame->size.height}, words});
    frame->size.height += words->size.height + style.small.size * 0.3;
  }
  auto item = flow_item(frame, style.rhythm.block_gap, style.rhythm.block_gap / 2);
  item.break_after = layout::BreakAfter::Forbidden;
  return item;
}

}  // namespace tunesheaf::blocks

#include "practice_figures.h"

#include <algorithm>
#include <utility>

#include "neck.h"
#include "tunesheaf/blocks/move_box.h"
#include "tunesheaf/blocks/move_words.h"
#include "tunesheaf/blocks/practice.h"
#include "tunesheaf/blocks/shapes.h"

namespace tunesheaf::blocks {
namespace {

constexpr int kTimesAPhrase = 4, kTimesARung = 3;

Length box_step(const style::Style& style) {
  return style.body.size * 0.72 * 1.35;
}

/// Boxes to tick, standing on the baseline; returns the x behind them.
Length put_boxes(Frame& frame, const style::Style& style, Point at, int count) {
  const Length edge = style.body.size * 0.72, step = box_step(style);
  for (int i = 0; i < count; ++i) {
    layout::RectShape box;
    box.size = {edge, edge};
    box.stroke = layout::Stroke{style.rule, style.ink, {}, {}};
    frame.items.push_back({{at.x + step * i, at.y - edge}, "tick-box", layout::Layer::Ink, {}, {}, box});
  }
  return at.x + step * count;
}

std::vector<text::StyledText> tick_words(const style::Style& style, const TickRow& row) {
  std::vector<text::StyledText> out{{row.what, text_style(bold(style.body))}};
  if (!row.why.empty()) out.push_back({"  " + row.why, text_style(italic(style.body))});
  return out;
}

/// Draws a row at `x`; returns how far below the baseline of `frame` it reaches.
Length put_tick(Frame& frame, const Setting& setting, Length x, Length width, const TickRow& row, Span origin) {
  const style::Style& style = setting.style;
  const Length end = put_boxes(frame, style, {x, frame.baseline}, kTimesAPhrase) + style.body.size * 0.6;
  const auto words = prose(setting, {tick_words(style, row), x + width - end, style.body.size, style.ink, "loop-words",
                                     origin, Role::None, "loop-words"});
  frame.children.push_back({{end, frame.baseline - words->baseline}, words});
  return frame.baseline - words->baseline + words->size.height;
}

/// The change in pictures from left to right.
struct Pictures {
  std::vector<std::pair<Length, FramePtr>> placed;  ///< by their left edges
  Length width, deepest, height;
};

Pictures pictures_of(const Setting& setting, const Change& change, BoxSize size) {
  const style::Style& style = setting.style;
  const score::ShapeUse& from = setting.song.shapes[static_cast<std::size_t>(change.from)];
  const score::ShapeUse& to = setting.song.shapes[static_cast<std::size_t>(change.to)];
  const Length box = string_gap(style, size) * (from.shape.count() + 1.6);
  Pictures out;
  std::vector<FramePtr> pictures{chord_box(setting, from, size, BoxText::Full, box),
                                 chord_box(setting, to, size, BoxText::Full, box)};
  if (const theory::Move& move = change.move->move; move_fits_a_box(move)) {
    pictures.insert(pictures.begin() + 1, move_box(setting, move, from.shape.count(), size));
  }
  for (const FramePtr& picture : pictures) {
    if (!out.placed.empty()) out.width += style.body.size;
    out.placed.emplace_back(out.width, picture);
    out.width += std::max(box, picture->size.width);
    out.deepest = std::max(out.deepest, picture->baseline);
  }
  for (const auto& [left, picture] : out.placed)
    out.height = std::max(out.height, out.deepest - picture->baseline + picture->size.height);
  return out;
}

FramePtr drill_words(const Setting& setting, const theory::Move& move, Length width, Span origin) {
  const style::Style& style = setting.style;
  Stack stack("drill-words", width, Role::Paragraph);
  for (const std::string& line : move_words(move)) {
    stack.add(prose(setting, {finger_pieces(style.body, {line}, ""), width, style.body.size, style.ink, "move-words",
                              origin, Role::None, "move-line"}));
  }
  return stack.done();
}

/// The pictures as large as leaves room for the words beside them; without such a size, as large as fits the width.
std::pair<Pictures, bool> fitting_pictures(const Setting& setting, const Change& change) {
  const style::Style& style = setting.style;
  Length words;
  for (const std::string& line : move_words(change.move->move))
    words = std::max(words, width_of(setting, line, bold(style.body)));
  words = std::min(words, style.body.size * 13);
  for (const BoxSize size : {BoxSize::Large, BoxSize::Medium}) {
    Pictures out = pictures_of(setting, change, size);
    if (out.width + style.body.size * 2 + words <= setting.body()) return {std::move(out), true};
  }
  Pictures out = pictures_of(setting, change, BoxSize::Large);
  for (const BoxSize smaller : {BoxSize::Medium, BoxSize::Small}) {
    if (out.width > setting.body()) out = pictures_of(setting, change, smaller);
  }
  return {std::move(out), false};
}

}  // namespace

Flow tick_items(const Setting& setting, const std::vector<TickRow>& rows, Span origin) {
  const style::Style& style = setting.style;
  const Length gap = style.body.size, half = (setting.body() - gap) / 2;
  const Length boxes = box_step(style) * kTimesAPhrase + style.body.size * 0.6;
  const auto narrow = [&](const TickRow& row) {
    return boxes + width_of(setting, row.what, bold(style.body)) +
               (row.why.empty() ? Length{} : width_of(setting, "  " + row.why, italic(style.body))) <=
           half;
  };
  Flow out;
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const bool paired = i + 1 < rows.size() && narrow(rows[i]) && narrow(rows[i + 1]);
    auto frame = std::make_shared<Frame>();
    frame->name = "loop";
    frame->role = Role::Paragraph;
    frame->baseline = style.body.size;
    Length height = put_tick(*frame, setting, {}, paired ? half : setting.body(), rows[i], origin);
    if (paired) height = std::max(height, put_tick(*frame, setting, half + gap, half, rows[++i], origin));
    frame->size = {setting.body(), std::max(style.body.size * 1.4, height)};
    if (!out.empty()) out.back().break_after = layout::BreakAfter::Forbidden;
    out.push_back(flow_item(frame, style.body.size * 0.2));
  }
  return out;
}

FramePtr ladder_figure(const Setting& setting, const PracticePlan& plan, Span origin) {
  const style::Style& style = setting.style;
  auto frame = std::make_shared<Frame>();
  frame->name = "ladder";
  frame->role = Role::Figure;
  const double count = static_cast<double>(plan.ladder.size());
  const Length gap = style.body.size * 0.5;
  constexpr int kColumns = 6;  // a shorter ladder has rungs of the same width
  const Length width = (setting.body() - gap * (kColumns - 1)) * (1.0 / kColumns), rise = style.body.size * 0.65;
  const style::TypeRole figure = bold(style.section_name);
  const Length row = style.body.size * 1.35, other_row = plan.other_unit ? style.small.size * 1.5 : Length{};
  const Length rung_height = figure.size * 1.25 + row + other_row;
  // What the figures count has a row of its own where the lowest rung is too narrow or too high for it.
  const Length said = width_of(setting, " a minute", style.small) + style.small.size * 1.2;
  const bool own_row = plan.ladder_unit && (said > width + gap || rise * (count - 1) < style.small.size * 1.4);
  const Length floor = rise * (count - 1) + rung_height + (own_row ? style.small.size * 1.6 : Length{});
  if (plan.ladder_unit) {  // what the figures count: in the corner over the lowest rung
    const Length base = style.small.size;
    const Length note =
        put_note_value(*frame, setting, {{}, base}, *plan.ladder_unit, style.small.size * 0.24, style.ink);
    put(*frame, setting, {note, base}, " a minute", {style.small, style.ink, "ladder-unit", origin});
  }
  for (std::size_t i = 0; i < plan.ladder.size(); ++i) {
    const Rung& rung = plan.ladder[i];
    const Length x = (width + gap) * static_cast<double>(i), top = floor - rung_height - rise * static_cast<double>(i);
    rule(*frame, {x, top + figure.size * 1.25}, width, style.rule * 1.6, style.ink, "ladder-rung");
    const std::string main = rung.per_minute ? std::to_string(*rung.per_minute) : std::to_string(rung.percent) + " %";
    put(*frame, setting, {x, top + figure.size}, main, {figure, style.ink, "ladder-tempo", origin});
    const Length base = top + figure.size * 1.25 + style.body.size * 1.25;
    put_boxes(*frame, style, {x, base}, kTimesARung);
    if (!rung.other) continue;
    const Length below = base + other_row;
    const Length note =
        put_note_value(*frame, setting, {x, below}, *plan.other_unit, style.small.size * 0.24, style.ink);
    put(*frame, setting, {x + note, below}, " = " + std::to_string(*rung.other),
        {style.small, style.ink, "ladder-other", origin});
  }
  frame->baseline = floor;
  frame->size = {setting.body(), floor + style.body.size * 0.2};
  return frame;
}

Flow drill_items(const Setting& setting, const Change& change, Span origin) {
  const style::Style& style = setting.style;
  const auto [pictures, beside] = fitting_pictures(setting, change);
  auto frame = std::make_shared<Frame>();
  frame->name = "drill";
  frame->role = Role::Figure;
  for (const auto& [left, picture] : pictures.placed)
    frame->children.push_back({{left, pictures.deepest - picture->baseline}, picture});
  frame->baseline = pictures.deepest;
  frame->size = {setting.body(), pictures.height};
  const theory::Move& move = change.move->move;
  Flow out;
  if (beside) {
    const Length left = pictures.width + style.body.size * 2;
    const FramePtr words = drill_words(setting, move, setting.body() - left, origin);
    const Length top = std::max(Length{}, std::min(pictures.deepest, pictures.height - words->size.height));
    frame->children.push_back({{left, top}, words});
    frame->size.height = std::max(pictures.height, top + words->size.height);
  }
  out.push_back(flow_item(frame, style.body.size * 0.4));
  if (const std::string gloss = move_box_words(move); !gloss.empty() && move_fits_a_box(move)) {
    out.back().notes.push_back({style.body.size, prose(setting, gloss, {italic(style.note), style.faint, "drill-gloss"},
                                                       setting.margin(), Parting::English)});
  }
  if (beside) return out;
  out.back().break_after = layout::BreakAfter::Forbidden;
  out.push_back(flow_item(drill_words(setting, move, setting.body(), origin), style.body.size * 0.4));
  return out;
}

FramePtr free_page(const Setting& setting, Length height) {
  const style::Style& style = setting.style;
  Stack stack("free-page", setting.body());
  stack.add(prose(setting, "This back is free, so that every section begins a leaf of its own.",
                  {italic(style.note), style.faint, "free-page"}, setting.body()));
  stack.space(style.body.size);
  const Length left = height - stack.y() - style.label.size;
  stack.add(writing_lines(setting, static_cast<int>(left / kWritingPitch)));
  return stack.done();
}

FramePtr writing_lines(const Setting& setting, int lines) {
  const style::Style& style = setting.style;
  auto frame = std::make_shared<Frame>();
  frame->name = "writing-lines";
  frame->role = Role::Artifact;
  put(*frame, setting, {{}, style.label.size}, "Notes", {style.label, style.faint, "writing-label"});
  for (int i = 1; i <= lines; ++i) {
    rule(*frame, {{}, style.label.size + kWritingPitch * i}, setting.body(), style.rule, style.faint, "writing-line");
  }
  frame->baseline = style.label.size;
  frame->size = {setting.body(), style.label.size + kWritingPitch * lines + style.rule};
  return frame;
}

}  // namespace tunesheaf::blocks

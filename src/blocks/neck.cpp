#include "neck.h"

#include <algorithm>

namespace tunesheaf::blocks {

Length string_gap(const style::Style& style, BoxSize size) {
  return size == BoxSize::Small ? style.box.small : size == BoxSize::Medium ? style.box.medium : style.box.large;
}

Neck::Neck(Length string_gap, int string_count, int lowest_fret, int highest_fret)
    : gap(string_gap),
      strings(string_count),
      first(highest_fret <= 4 ? 1 : lowest_fret),
      frets(std::max(4, highest_fret - first + 1)) {}

style::TypeRole Neck::figure_role(const style::Style& style) const {
  style::TypeRole role = style.figure;
  role.size = std::max(kLeastBoxText, std::min(role.size, gap * 0.95));
  return role;
}

void Neck::draw(Frame& frame, const Setting& setting) const {
  const style::Style& style = setting.style;
  for (int f = 0; f <= frets; ++f) {
    if (f == 0 && first == 1) continue;
    rule(frame, {at.x - style.rule / 2, at.y + row() * f}, width() + style.rule, style.rule, style.ink, "box-fret");
  }
  if (first == 1) {
    const Length thick = style.rule * 3.2;
    rule(frame, {at.x - style.rule / 2, at.y - thick / 2 + style.rule / 2}, width() + style.rule, thick, style.ink,
         "box-nut");
  }
  const layout::Stroke thin{style.rule, style.ink, {}, {}};
  for (int s = 0; s < strings; ++s) {
    frame.items.push_back(
        {{at.x + gap * s, at.y}, "box-string", layout::Layer::Line, {}, {}, layout::LineShape{{{}, height()}, thin}});
  }
}

void Neck::draw_first_fret(Frame& frame, const Setting& setting) const {
  if (first == 1) return;
  const style::TypeRole role = figure_role(setting.style);
  put(frame, setting, {at.x + width() + gap * 0.6, y_of(first) + role.size * 0.36}, std::to_string(first),
      {role, setting.style.ink, "box-first-fret"});
}

}  // namespace tunesheaf::blocks

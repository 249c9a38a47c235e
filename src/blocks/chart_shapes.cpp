// Small shapes at the foot of a chart: the player's own, in the order of the song.
#include <algorithm>
#include <array>
#include <string_view>

#include "pen.h"
#include "tunesheaf/blocks/chart_page.h"
#include "tunesheaf/blocks/shapes.h"
#include "tunesheaf/blocks/words.h"

namespace tunesheaf::blocks {
namespace {

/// A few boxes stand no farther apart than this many would.
constexpr int kSparse = 5;

struct FootShape {
  score::ShapeUse use;  ///< with the chart's name of the chord for its ear
  std::string hand;     ///< what the hand calls it, where that is another name
};

/// The key of the page where a section stands.
std::optional<theory::Key> key_at(const Setting& setting, const score::Section& section, int bar) {
  if (!setting.song.key || bar >= static_cast<int>(section.bars.size())) return std::nullopt;
  return section.bars[static_cast<std::size_t>(bar)].key;
}

bool in_numbers(const ChartContent& chart) {
  return chart.names == ChartNames::Degrees || chart.names == ChartNames::Roman;
}

/// As one line of text, figures that the chart raises as raised figures.
std::string as_text(const ChartName& name) {
  std::string raised;
  for (const char c : name.raised) {
    constexpr std::array<std::string_view, 10> kRaisedFigures{"⁰", "¹", "²", "³", "⁴", "⁵", "⁶", "⁷", "⁸", "⁹"};
    if (c >= '0' && c <= '9') {
      raised += kRaisedFigures[static_cast<std::size_t>(c - '0')];
    } else {
      raised += c;
    }
  }
  return name.root + name.quality + raised + name.bass;
}

/// Over a box stands the chord's name; where the chart has numbers, they stand under it.
void name_box(FootShape& foot, const theory::ChordName& chord, const ChartContent& chart,
              const std::optional<theory::Key>& key) {
  const ChartNames names = in_numbers(chart) ? ChartNames::Hand : chart.names;
  foot.use.ear_text = chart_name(chord, chart.player, names, key).text();
  if (in_numbers(chart)) foot.hand = as_text(chart_name(chord, chart.player, chart.names, key));
}

/// Shapes of the song that a chord of the chart is played with, or that stand under a chord's place in the part.
std::vector<FootShape> own_shapes(const Setting& setting, const ChartContent& chart) {
  std::vector<FootShape> out;
  std::vector<int> known;
  for (const score::Section& section : setting.song.sections) {
    for (const score::Harmony& harmony : section.harmony) {
      if (harmony.shape < 0 || std::find(known.begin(), known.end(), harmony.shape) != known.end()) continue;
      const score::ShapeUse& shape = setting.song.shapes[static_cast<std::size_t>(harmony.shape)];
      const auto& part = setting.song.parts[static_cast<std::size_t>(chart.player.own_part)];
      const bool mine =
          shape.part < 0 ? shape.shape.count() == part.tuning.count() : shape.part == chart.player.own_part;
      if (!mine) continue;
      known.push_back(harmony.shape);
      FootShape foot{shape, shape.name.value};
      foot.use.name.value.clear();
      const auto& name = harmony.name ? harmony.name : shape.ear;
      if (name) {
        name_box(foot, *name, chart, key_at(setting, section, harmony.at.bar));
      } else {
        foot.use.ear_text = with_signs(shape.ear_is_claim ? shape.ear_text : shape.name.value);
      }
      if (with_signs(foot.hand) == foot.use.ear_text) foot.hand.clear();
      if (name && with_signs(foot.hand) == theory::print(*name, theory::Accidentals::Signs)) foot.hand.clear();
      out.push_back(std::move(foot));
    }
  }
  return out;
}

std::vector<FootShape> found_shapes(const Setting& setting, const ChartContent& chart) {
  std::vector<FootShape> out;
  const Instead& instead = *chart.player.instead;
  std::vector<std::string> known;
  for (const score::Section& section : setting.song.sections) {
    for (const score::Harmony* harmony : chords_of(section)) {
      if (!harmony->name) continue;
      const std::string page = theory::print(*harmony->name, theory::Accidentals::Signs);
      if (std::find(known.begin(), known.end(), page) != known.end()) continue;
      known.push_back(page);
      const auto chord = std::find_if(instead.chords.begin(), instead.chords.end(),
                                      [&](const InsteadChord& one) { return one.page_name == page; });
      if (chord == instead.chords.end() || !chord->shape) continue;
      FootShape foot;
      foot.use.shape = chord->shape->shape;
      foot.use.used = true;
      foot.use.origin = harmony->origin;
      const auto key = key_at(setting, section, harmony->at.bar);
      name_box(foot, *harmony->name, chart, key);
      const std::string read =
          theory::print(chord_for(*harmony->name, chart.player, ChartNames::Hand, key), theory::Accidentals::Signs);
      if (chart.names == ChartNames::Ear && read != foot.use.ear_text) foot.hand = read;
      out.push_back(std::move(foot));
    }
  }
  return out;
}

/// What the hand calls a shape, to stand under its box.
FramePtr hand_of(const Setting& setting, const FootShape& foot, Length width) {
  const style::Style& style = setting.style;
  if (foot.hand.empty()) return nullptr;
  return prose(setting, {{{foot.hand, text_style(italic(style.note))}},
                         width,
                         style.note.size,
                         style.ink,
                         "shape-hand",
                         foot.use.origin,
                         Role::Caption,
                         "shape-hand",
                         text::Alignment::Centre});
}

/// How the boxes stand: in how many columns, with what distance between two strings.
struct Strip {
  int columns = 1;
  Length gap;
  Length pitch;  ///< of two boxes
};

/// One row where the boxes find room for their fingers, else more; without fingers only where that does not do.
Strip strip_of(const Setting& setting, const std::vector<FootShape>& shapes, Length width, int most_rows) {
  const style::Style& style = setting.style;
  int strings = 3;
  Length fret;  // the widest figure of a first fret
  for (const FootShape& foot : shapes) {
    const theory::Shape& held = foot.use.shape;
    strings = std::max(strings, held.count());
    if (held.highest_fret() <= 4) continue;
    fret = std::max(fret, width_of(setting, std::to_string(held.lowest_fret()), style.figure));
  }
  // The strings, half a dot at both sides, white before the figure of the first fret and behind all.
  const double needs = strings + (fret > Length{} ? 1.0 : 0.6);
  const int count = static_cast<int>(shapes.size());
  const Length most = style.box.medium * 0.72;
  Strip out;
  const auto placed = [&] {
    const int sparse = std::max(out.columns, std::min(kSparse, count + 1));
    out.pitch = std::max(out.gap * needs + fret, width * (1.0 / sparse));
    return out;
  };
  for (int rows = 1; rows <= most_rows; ++rows) {
    out.columns = std::max(1, (count + rows - 1) / rows);
    out.gap = std::min(most, (width / out.columns - fret) * (1 / needs));
    if (out.gap >= style.box.small) return placed();
  }
  out.gap = std::min(style.box.small, (width - fret) * (1 / needs));
  const Length pitch = std::max(out.gap * needs + fret, style.chord.size * 4.2);
  out.columns = std::max(1, static_cast<int>(width / pitch));
  return placed();
}

}  // namespace

FramePtr chart_shapes(const Setting& setting, const ChartContent& chart, Length width, int most_rows) {
  std::vector<FootShape> shapes;
  if (chart.player.instead) {
    shapes = found_shapes(setting, chart);
  } else if (chart.player.own_part >= 0) {
    shapes = own_shapes(setting, chart);
  }
  if (shapes.empty()) return nullptr;
  const Strip strip = strip_of(setting, shapes, width, most_rows);
  style::Style style = setting.style;
  style.box.medium = strip.gap;
  const Setting boxes{setting.song, style, setting.shaper, setting.music, setting.parts, setting.recording};
  const Length pitch = strip.pitch;
  auto frame = std::make_shared<Frame>();
  frame->name = "chart-shapes";
  frame->role = Role::Figure;
  rule(*frame, {{}, style.rule / 2}, width, style.rule, style.faint, "chart-rule");
  const Length gap = style.body.size * 0.5;
  style::TypeRole role = italic(style.body);
  role.size = std::max(Length::pt(11), style.note.size);
  const auto caption =
      prose(setting, shapes_caption(setting.song, chart.player), {role, style.ink, "chart-shapes-for"}, width);
  frame->children.push_back({{{}, gap * 0.6}, caption});
  Length y = caption->size.height + gap * 1.2, deepest, height;
  const auto columns = static_cast<std::size_t>(strip.columns);
  for (std::size_t first = 0; first < shapes.size(); first += columns) {
    std::vector<FramePtr> row;
    const std::size_t last = std::min(shapes.size(), first + columns);
    deepest = height = {};
    for (std::size_t i = first; i < last; ++i) {
      row.push_back(chord_box(boxes, shapes[i].use, BoxSize::Medium, BoxText::NameOnly, pitch));
      deepest = std::max(deepest, row.back()->baseline);
    }
    for (const FramePtr& box : row) height = std::max(height, deepest - box->baseline + box->size.height);
    Length hands;  // all on one line
    for (std::size_t i = 0; i < row.size(); ++i) {
      const Length x = pitch * static_cast<double>(i);
      frame->children.push_back({{x, y + deepest - row[i]->baseline}, row[i]});
      const FramePtr hand = hand_of(boxes, shapes[first + i], pitch);
      if (!hand) continue;
      frame->children.push_back({{x, y + height}, hand});
      hands = std::max(hands, hand->size.height);
    }
    y += height + hands + gap;
  }
  frame->size = {width, y - gap};
  return frame;
}

}  // namespace tunesheaf::blocks

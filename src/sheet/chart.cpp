#include "tunesheaf/sheet/chart.h"

#include <algorithm>
#include <optional>

#include "pages.h"
#include "tunesheaf/base/number.h"
#include "tunesheaf/blocks/chart_page.h"
#include "tunesheaf/blocks/words.h"

namespace tunesheaf::sheet {
namespace {

using base::Length;
using blocks::ChartFold;
using blocks::ChartRows;
using blocks::ChartSize;
using blocks::FoldedChart;
using blocks::Setting;
using layout::Frame;

const Length kLargest = Length::pt(34);
const Length kStep = Length::pt(0.5);
/// Chord names up to 48 bars.
const Length kGood = Length::pt(16);
/// Where folding alone, which loses nothing, may bring the names larger.
const Length kBetter = Length::pt(21);
const Length kLeast = Length::pt(9);
constexpr int kManyBars = 48;
/// Names that all stand over their beats may be smaller by so much than others that do not.
constexpr double kClear = 1.25;

struct Body {
  base::Rect area;
  Length foot_edge;  ///< the running line's baseline
};

/// The whole page between its edges: a chart has no column for remarks.
Body body_of(const style::Style& style) {
  const style::PageStyle& page = style.page;
  const Length side = std::max(page.outer, Length::mm(10));
  const Length left = std::min(page.inner, Length::mm(16));
  const Length top = std::min(page.top, Length::mm(12)),
               bottom = std::clamp(page.bottom, Length::mm(10), Length::mm(13));
  return {{left, top, page.paper.width - left - side, page.paper.height - top - bottom},
          page.paper.height - std::max(bottom * 0.55, Length::mm(6.5))};
}

/// White between head, sections and foot; large print has no page to spare for more.
Length air_of(const style::Style& style) {
  return std::min(style.body.size, Length::pt(10.5));
}

/// A chart laid out at one size, before it is drawn.
struct Fitting {
  FoldedChart chart;
  ChartSize size;
  std::vector<ChartRows> rows;
  std::shared_ptr<const Frame> head, shapes, foot;
  Length white_sections, white_lines;
  bool crowded() const {
    return std::any_of(rows.begin(), rows.end(), [](const ChartRows& one) { return one.crowded; });
  }
};

class Fitter {
 public:
  Fitter(const Setting& setting, const blocks::ChartContent& content)
      : setting_(setting), content_(content), body_(body_of(setting.style)) {}

  /// The first level of folding whose names come out large enough, else the one with the largest names.
  std::optional<Fitting> fit() {
    std::optional<Fitting> best;
    for (int level = 0; level < blocks::kChartFolds; ++level) {
      const auto fold = static_cast<ChartFold>(level);
      auto found = largest(fold);
      if (!found) continue;
      const bool many = found->chart.content.cells() > kManyBars;
      const Length enough = fold < ChartFold::Bars ? kBetter : many ? Length::pt(12) : kGood;
      const bool larger = !best || found->size.chord > best->size.chord;
      if (larger) best = std::move(found);
      if (best->size.chord >= enough) break;
    }
    return best;
  }

  const Body& body() const { return body_; }

 private:
  /// The largest size at which the chart fits when folded so far.
  std::optional<Fitting> largest(ChartFold fold) {
    Fitting fitting;
    fitting.chart = blocks::folded_chart(content_, fold);
    const Length width = body_.area.width;
    fitting.head = blocks::chart_head(setting_, fitting.chart.content, width);
    fitting.foot = blocks::chart_foot(setting_, fitting.chart, width);
    fitting.size.width = width;
    // Two rows of boxes with their fingers, or one row, before boxes are left out; all names in one size, unless that
    // would bring them below what is read across a room.
    std::optional<Fitting> even;
    for (const int rows : fitting.chart.shapes ? std::vector{2, 1} : std::vector{0}) {
      if (rows > 0) fitting.shapes = blocks::chart_shapes(setting_, fitting.chart.content, width, rows);
      even = with_any(fitting, Names::OneSize);
      if (even && even->size.chord >= kGood) return even;
    }
    auto shrunk = with_any(fitting, Names::CrowdedSmaller);
    return !even || (shrunk && shrunk->size.chord > even->size.chord) ? shrunk : even;
  }

  enum class Names : std::uint8_t { OneSize, CrowdedSmaller };

  std::optional<Fitting> with_any(const Fitting& fitting, Names names) const {
    const auto larger = [](std::optional<Fitting> one, std::optional<Fitting> other, double worth) {
      if (!one || !other) return one ? one : other;
      if (one->size.chord >= kGood && other->crowded() && !one->crowded()) worth *= kClear;
      return other->size.chord > one->size.chord * worth ? other : one;
    };
    std::optional<Fitting> four = with_columns(fitting, {4}, names);
    // Four bars a line are a phrase that the eye takes in; eight must bring larger names than that is worth.
    const double worth = four && four->size.chord >= kGood * 1.15 ? 1.3 : 1.0;
    std::optional<Fitting> even = larger(std::move(four), with_columns(fitting, {8}, names), worth);
    if (even && even->size.chord >= kGood && !even->crowded()) return even;
    even = larger(std::move(even), with_columns(fitting, {8, true, true}, names), 1.0);
    if (even && even->size.chord >= kGood && !even->crowded()) return even;
    return larger(std::move(even), with_columns(fitting, {8, true, false}, names), 1.0);
  }

  struct Columns {
    int count;
    bool mixed = false, clear = false;
  };

  std::optional<Fitting> with_columns(Fitting fitting, Columns columns, Names names) const {
    const bool many = fitting.chart.content.cells() > kManyBars;
    fitting.size.columns = columns.count;
    fitting.size.mixed = columns.mixed;
    fitting.size.clear = columns.clear;
    const auto fits = [&](Length chord) {
      fitting.size.chord = chord;
      const Length smaller = std::max(chord * 0.62, !many && chord >= kGood ? kGood : kLeast);
      fitting.size.least = names == Names::OneSize ? chord : smaller;
      return try_size(fitting);
    };
    // In long steps down to the first size that fits, in short ones up again.
    Length chord = kLargest;
    while (chord > kLeast && !fits(chord)) chord = std::max(kLeast, chord - kStep * 4);
    if (chord == kLeast && !fits(chord)) return std::nullopt;
    for (int step = 3; step > 0; --step) {
      if (const Length larger = chord + kStep * step; larger < kLargest && fits(larger)) return fitting;
    }
    fits(chord);
    return fitting;
  }

  Length around(const Fitting& fitting) const {
    const Length air = air_of(setting_.style);
    Length out = fitting.head->size.height + air;
    if (fitting.shapes) out += fitting.shapes->size.height + air;
    if (fitting.foot) out += fitting.foot->size.height + air * 0.4;
    return out;
  }

  bool try_size(Fitting& fitting) const {
    fitting.rows.clear();
    fitting.white_lines = fitting.size.chord * 0.16;
    fitting.white_sections = fitting.size.chord * 0.36;
    Length height = around(fitting);
    int lines = 0;
    for (const blocks::ChartSection& section : fitting.chart.content.sections) {
      auto rows = blocks::chart_rows(setting_, section, fitting.size);
      if (!rows) return false;
      height += rows->height + fitting.white_lines * (static_cast<double>(rows->lines.size()) - 1);
      height += fitting.white_sections;
      lines += static_cast<int>(rows->lines.size()) - 1;
      fitting.rows.push_back(std::move(*rows));
      if (height > body_.area.height) return false;
    }
    share_white(fitting, body_.area.height - height, lines);
    return true;
  }

  /// What is left of the page goes between the sections and, a quarter as much, between their lines.
  static void share_white(Fitting& fitting, Length rest, int lines) {
    const double parts = static_cast<double>(fitting.rows.size()) + lines * 0.25;
    if (parts <= 0) return;
    const Length most = fitting.size.chord * 1.1;
    const Length share = std::min(most, rest * (1.0 / parts));
    fitting.white_sections += share;
    fitting.white_lines += share * 0.25;
  }

  const Setting& setting_;
  const blocks::ChartContent& content_;
  Body body_;
};

void running_line(Frame& page, const Setting& setting, const Body& body, const std::string& left,
                  const std::string& right) {
  const text::TextStyle type = running_style(setting.style);
  const auto put = [&](const std::string& text, bool from_right) {
    if (text.empty()) return;
    const text::Line line = setting.shaper.line(text, type);
    const Length x = from_right ? body.area.right() - line.width : body.area.left();
    layout::add_line(page, {x, body.foot_edge}, line, setting.style.faint, "running-text");
  };
  put(left, false);
  put(right, true);
}

std::shared_ptr<const Frame> page_of(const Setting& setting, const Fitting& fitting, const Body& body,
                                     Binding binding) {
  auto page = std::make_shared<Frame>();
  page->name = "page";
  page->size = setting.style.page.paper;
  const Length air = air_of(setting.style);
  Length y = body.area.top();
  page->children.push_back({{body.area.left(), y}, fitting.head});
  y += fitting.head->size.height + air;
  for (std::size_t i = 0; i < fitting.rows.size(); ++i) {
    const auto& section = fitting.chart.content.sections[i];
    const auto frame = blocks::draw_chart_section(setting, section, fitting.rows[i], fitting.size, fitting.white_lines);
    page->children.push_back({{body.area.left(), y}, frame});
    y += frame->size.height + fitting.white_sections;
  }
  Length foot = body.area.bottom();
  if (fitting.foot) {
    foot -= fitting.foot->size.height;
    page->children.push_back({{body.area.left(), foot}, fitting.foot});
    foot -= air * 0.4;
  }
  if (fitting.shapes) {
    page->children.push_back({{body.area.left(), foot - fitting.shapes->size.height}, fitting.shapes});
  }
  if (binding == Binding::Alone) {
    running_line(*page, setting, body, setting.song.lesson ? setting.song.lesson->value : "",
                 setting.song.revision ? "revised " + blocks::date_words(setting.song.revision->value) : "");
  }
  return page;
}

/// What would bring the song onto one page.
std::string refusal(const blocks::ChartContent& content, const style::Style& style) {
  int bars = 0, longest = 0;
  std::string where;
  for (const blocks::ChartSection& section : content.sections) {
    bars += section.bar_count();
    if (section.bar_count() <= longest) continue;
    longest = section.bar_count();
    where = section.name;
  }
  std::string out = "the song does not fit on one page: its " + std::to_string(bars) +
                    " bars would need chord names below " + base::print_decimal(kLeast.points(), 0) + " pt; ";
  const bool narrow = style.page.paper.width < Length::mm(190);
  if (narrow) return out + "print it on larger paper (--paper a4, or another --style)";
  return out + "its longest section is \"" + where + "\" with " + std::to_string(longest) +
         " bars: write what repeats in it as `times` or as a section that is `like` another, or make two songs of it";
}

}  // namespace

base::Result<Chart, ChartRefusal> make_chart(const ChartRequest& request, diag::Sink& sink) {
  std::vector<int> parts;
  for (std::size_t p = 0; p < request.song.parts.size(); ++p) parts.push_back(static_cast<int>(p));
  const Setting setting{request.song, request.style, request.shaper, request.music, parts, -1};
  blocks::ChartContent content = blocks::chart_content(request.song, request.player, request.names);
  blocks::measure_chart(setting, content);
  Fitter fitter(setting, content);
  const auto fitting = fitter.fit();
  if (!fitting) return ChartRefusal{refusal(content, request.style)};
  Chart chart;
  chart.chord_size = fitting->size.chord;
  chart.cells = fitting->chart.content.cells();
  chart.told = fitting->chart.told;
  chart.sheet = blank_sheet(setting, "Chart");
  const base::Rect& area = fitter.body().area;
  chart.sheet.mirror = request.style.page.paper.width - area.right() - area.left();
  chart.sheet.pages.push_back(page_of(setting, *fitting, fitter.body(), request.binding));
  report_missing_characters(*chart.sheet.pages.front(), request.song.title.span, sink);
  return chart;
}

}  // namespace tunesheaf::sheet

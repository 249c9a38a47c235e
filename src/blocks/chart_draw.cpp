// A section of a chart: its label at the left, its bars in columns.
#include <algorithm>

#include "chart_label.h"
#include "chart_marks.h"

namespace tunesheaf::blocks {
namespace {

using text::MusicSign;

class SectionPen {
 public:
  SectionPen(const Setting& setting, const ChartSection& section, const ChartRows& rows, const ChartSize& size,
             Length white)
      : setting_(setting),
        style_(setting.style),
        section_(section),
        rows_(rows),
        size_(size),
        room_(chart_room(setting, size)),
        white_(white),
        frame_(std::make_shared<Frame>()) {}

  FramePtr draw() {
    frame_->name = "chart-section";
    frame_->role = Role::Section;
    frame_->origin = section_.origin;
    const Length base = rows_.lines.front().above;
    frame_->children.push_back({{{}, base - chart_label_baseline(size_)}, chart_label(setting_, section_, size_)});
    Length y;
    for (const ChartLine& line : rows_.lines) {
      base_ = y + line.above;
      if (!line.cells.empty()) draw_line(line);
      y += line.above + line.below + white_;
    }
    if (section_.bars.empty()) same();
    frame_->baseline = base;
    frame_->size = {size_.width, std::max(y - white_, base + rows_.label_below)};
    return frame_;
  }

 private:
  Length top() const { return base_ - size_.chord * 0.86; }
  Length bottom() const { return base_ + size_.chord * 0.16; }
  const ChartBar& bar(const ChartCell& cell) const { return section_.bars[cell.bar]; }
  Length left_of(const ChartCell& cell) const { return room_.x_of_column(cell.column); }
  Length right_of(const ChartCell& cell) const { return room_.x_of_column(cell.column + cell.span); }

  void same() {
    const style::TypeRole role = same_role(setting_, size_);
    put(*frame_, setting_, {room_.label + size_.chord * 0.26, base_}, "as " + section_.same_as,
        {role, style_.ink, "chart-same", section_.origin});
    for (const ChartMark& mark : same_marks(setting_, section_, size_))
      put_mark(*frame_, setting_, room_, mark, base_ + mark_row_height(room_) * mark.row);
  }

  void draw_line(const ChartLine& line) {
    const auto places = line_places(setting_, section_, line, size_);
    if (!places) return;
    for (std::size_t i = 0; i < line.cells.size(); ++i) {
      const bool first = begins_line(line, i);
      begin_line(line.cells[i], first);
      contents(line.cells[i], (*places)[i], first);
      end_line(line.cells[i]);
    }
    endings(line);
    marks(line, *places);
  }

  void bar_line(Length x, Length thick) {
    frame_->items.push_back({{x, top()},
                             "chart-bar-line",
                             layout::Layer::Line,
                             {},
                             {},
                             layout::LineShape{{{}, bottom() - top()}, {thick, style_.ink, {}, {}}}});
  }

  void dots(Length x) {
    const Length r = size_.chord * 0.07;
    for (const double share : {0.34, 0.66}) {
      layout::RectShape dot;
      dot.size = {r * 2, r * 2};
      dot.radius = r;
      dot.fill = style_.ink;
      const Length y = top() + (bottom() - top()) * share;
      frame_->items.push_back({{x - r, y - r}, "chart-repeat-dot", layout::Layer::Ink, {}, {}, dot});
    }
  }

  Length thin() const { return std::max(style_.rule * 1.4, size_.chord * 0.035); }
  Length thick() const { return size_.chord * 0.13; }

  void begin_line(const ChartCell& cell, bool first) {
    const Length x = left_of(cell);
    if (bar(cell).repeat_begin) {
      bar_line(x + thick() / 2, thick());
      bar_line(x + thick() + size_.chord * 0.1, thin());
      dots(x + thick() + size_.chord * 0.24);
    } else if (first) {
      bar_line(x, thin());
    }
  }

  void end_line(const ChartCell& cell) {
    const Length x = right_of(cell);
    const ChartBar& one = bar(cell);
    const bool next_begins = cell.bar + 1 < section_.bars.size() && section_.bars[cell.bar + 1].repeat_begin;
    if (one.repeat_end) {
      bar_line(x - thick() / 2, thick());
      bar_line(x - thick() - size_.chord * 0.1, thin());
      dots(x - thick() - size_.chord * 0.24);
    } else if (one.final) {
      bar_line(x - thick() / 2, thick());
      bar_line(x - thick() - size_.chord * 0.1, thin());
    } else if (one.doubled) {
      bar_line(x - thin() / 2, thin());
      bar_line(x - size_.chord * 0.12, thin());
    } else if (!next_begins || column_is_last(cell)) {
      bar_line(x - thin() / 2, thin());
    }
  }

  bool column_is_last(const ChartCell& cell) const { return cell.column + cell.span == kChartGrid; }

  void contents(const ChartCell& cell, const BarPlaces& places, bool first) {
    const ChartBar& one = bar(cell);
    if (one.show_meter) meter(one, places);
    if (is_sign_alone(one, first)) {
      repeat_sign(one, cell);
    } else {
      for (std::size_t i = 0; i < places.chords.size(); ++i) {
        put_chart_name(*frame_, setting_, {places.chords[i], base_}, one.chords[i].name, size_.chord * places.scale,
                       one.chords[i].origin);
      }
      if (!one.hits.empty()) {
        put_hits(*frame_, setting_, one, places, base_ + size_.chord * 0.26, size_.chord);
      } else if (one.shows_beats()) {
        put_beats(*frame_, setting_, one, places, base_ + size_.chord * 0.2, size_.chord);
      }
    }
    if (one.count > 1) number(one, cell);
  }

  void repeat_sign(const ChartBar& one, const ChartCell& cell) {
    const Length space = size_.chord * 0.25;
    const text::Sign& sign = setting_.music.sign(MusicSign::RepeatBar, space);
    const Length middle = left_of(cell) + (right_of(cell) - left_of(cell)) / 2;
    put_sign(*frame_, setting_, {middle - sign.box.width / 2, base_ - size_.chord * 0.36}, MusicSign::RepeatBar, space,
             "chart-repeat-bar", style_.ink);
    frame_->items.back().origin = one.origin;
  }

  /// "4 bars" for a cell that stands for four.
  void number(const ChartBar& one, const ChartCell& cell) {
    const style::TypeRole role = count_role(setting_, size_.chord);
    const Length right = right_of(cell) - bar_end_width(one, size_.chord);
    put(*frame_, setting_, {right, base_}, count_words(one), {role, style_.ink, "chart-count", one.origin},
        Align::Right);
  }

  /// As on a staff: the sign of common time or alla breve, or figures; a stated grouping in its groups.
  void meter(const ChartBar& one, const BarPlaces& places) {
    const Length space = size_.chord * 0.235, middle = base_ - size_.chord * 0.36;
    const Length left = places.left - meter_room(one.meter, size_.chord);
    const Length room = meter_figures(one.meter, size_.chord);
    if (one.meter.sign != theory::MeterSign::kFigures) {
      const bool common = one.meter.sign == theory::MeterSign::kCommon;
      put_sign(*frame_, setting_, {left, middle}, common ? MusicSign::TimeCommon : MusicSign::TimeCut, space,
               "chart-meter", style_.ink);
      return;
    }
    std::vector<int> groups = one.meter.grouping;
    if (groups.size() < 2) groups = {one.meter.count};
    figures(groups, {left + room / 2, middle - space * 1.04}, space, one.origin);
    figures({one.meter.unit}, {left + room / 2, middle + space * 1.04}, space, one.origin);
  }

  /// Numbers with plus signs between them, about the middle `at`.
  void figures(const std::vector<int>& numbers, Point at, Length space, Span origin) {
    const Length white = space * 0.28;
    std::vector<std::pair<Length, const text::Sign*>> row;
    Length width;
    for (std::size_t i = 0; i < numbers.size(); ++i) {
      if (i > 0) {
        const text::Sign& plus = setting_.music.sign(MusicSign::TimePlus, space);
        row.emplace_back(width + white, &plus);
        width += plus.advance + white * 2;
      }
      const auto digits = setting_.music.time_number(numbers[i], space);
      for (const auto& [offset, sign] : digits) row.emplace_back(width + offset, sign);
      width += digits.back().first + digits.back().second->advance;
    }
    for (const auto& [offset, sign] : row) {
      layout::Item item{{at.x - width / 2 + offset, at.y},
                        "chart-meter",
                        layout::Layer::Ink,
                        origin,
                        {},
                        layout::PathShape{sign->path, style_.ink, std::nullopt}};
      if (sign->run) item.shape = layout::GlyphsShape{*sign->run, style_.ink};
      frame_->items.push_back(std::move(item));
    }
  }

  void endings(const ChartLine& line) {
    if (!has_ending(section_, line)) return;
    const Length y = base_ - marks_floor(size_) - mark_row_height(room_) * 0.86;
    const layout::Stroke stroke{thin(), style_.ink, {}, {}};
    const auto add = [&](Point from, Point by) {
      frame_->items.push_back({from, "chart-ending", layout::Layer::Line, {}, {}, layout::LineShape{by, stroke}});
    };
    for (std::size_t i = 0; i < line.cells.size(); ++i) {
      const ChartBar& one = bar(line.cells[i]);
      if (one.ending.empty()) continue;
      const Length left = left_of(line.cells[i]) + size_.chord * 0.1;
      const Length right = right_of(line.cells[i]) - (one.ending_end ? size_.chord * 0.1 : Length{});
      const Length begin = one.ending_begin ? left : left - size_.chord * 0.1;
      add({begin, y}, {right - begin, {}});
      if (!one.ending_begin) continue;
      add({left, y}, {{}, mark_row_height(room_) * 0.7});
      style::TypeRole role = style_.label;
      role.size = room_.text;
      const Length room = right_of(line.cells[i]) - size_.chord * 0.1 - left - room_.text * 0.45;
      const Length natural = width_of(setting_, passes(one.ending), role);
      if (natural > room) role.size = std::max(Length::pt(7), role.size * (room / natural));
      put(*frame_, setting_, {left + room_.text * 0.35, y + room_.text * 0.95}, passes(one.ending),
          {role, style_.ink, "chart-ending-number", one.origin});
    }
  }

  static std::string passes(const std::vector<int>& numbers) {
    std::string out;
    for (std::size_t i = 0; i < numbers.size(); ++i) {
      const bool run =
          i > 0 && i + 1 < numbers.size() && numbers[i + 1] == numbers[i] + 1 && numbers[i] == numbers[i - 1] + 1;
      if (run) continue;
      const bool joined = i > 1 && numbers[i] == numbers[i - 1] + 1 && numbers[i - 1] == numbers[i - 2] + 1;
      out += (out.empty() ? "" : joined ? "–" : ", ") + std::to_string(numbers[i]);
    }
    return out + ".";
  }

  void marks(const ChartLine& line, const std::vector<BarPlaces>& places) {
    Length floor = base_ - marks_floor(size_);
    if (has_ending(section_, line)) floor -= mark_row_height(room_);
    for (const ChartMark& mark : line_marks(setting_, section_, line, places, size_)) {
      put_mark(*frame_, setting_, room_, mark, floor - mark_row_height(room_) * mark.row - room_.text * 0.34);
    }
  }

  const Setting& setting_;
  const style::Style& style_;
  const ChartSection& section_;
  const ChartRows& rows_;
  const ChartSize& size_;
  ChartRoom room_;
  Length white_;
  std::shared_ptr<Frame> frame_;
  Length base_;
};

}  // namespace

FramePtr draw_chart_section(const Setting& setting, const ChartSection& section, const ChartRows& rows,
                            const ChartSize& size, Length white) {
  return SectionPen(setting, section, rows, size, white).draw();
}

}  // namespace tunesheaf::blocks

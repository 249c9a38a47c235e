#include "chart_marks.h"

#include <algorithm>
#include <sstream>

#include "tunesheaf/text/cut.h"

namespace tunesheaf::blocks {
namespace {

using song::FormWord;
using text::MusicSign;

constexpr double kBoxPad = 0.35;  // white at the sides of a box, in sizes of its words

ChartMark plain_mark(const Setting& setting, std::string text, style::TypeRole role, Kind kind, Span origin) {
  ChartMark mark;
  mark.text = std::move(text);
  mark.role = std::move(role);
  mark.colour = setting.style.ink;
  mark.kind = kind;
  mark.origin = origin;
  return mark;
}

/// What is read from afar: signs of the form, and changes of key, tempo and feel.
ChartMark bold_mark(const Setting& setting, const ChartRoom& room, const std::string& text, Kind kind, Span origin) {
  style::TypeRole role = bold(setting.style.label);
  role.size = room.text;
  role.tracking = 0;
  return plain_mark(setting, text, role, kind, origin);
}

/// What ends an open repeat, line by line from the top where that is longer than the bars; the places are left open.
std::vector<ChartMark> until_marks(const Setting& setting, const ChartRoom& room, const ChartSection& section) {
  style::TypeRole role = italic(setting.style.body);
  role.size = room.text;
  role.tracking = 0;
  const Length most = room.width - room.label;
  std::vector<ChartMark> marks;
  std::istringstream words(section.until);
  for (std::string word; words >> word;) {
    if (width_of(setting, word, role) > most) word = text::cut_to(setting.shaper, word, text_style(role), most);
    const std::string longer = marks.empty() ? word : marks.back().text + " " + word;
    if (marks.empty() || width_of(setting, longer, role) > most) {
      marks.push_back(plain_mark(setting, word, role, "chart-until", section.origin));
    } else {
      marks.back().text = longer;
    }
    marks.back().width = width_of(setting, marks.back().text, role);
  }
  return marks;
}

class Marks {
 public:
  Marks(const Setting& setting, const ChartSection& section, const ChartLine& line,
        const std::vector<BarPlaces>& places, const ChartSize& size)
      : setting_(setting),
        style_(setting.style),
        section_(section),
        line_(line),
        places_(places),
        room_(chart_room(setting, size)) {}

  std::vector<ChartMark> make() {
    for (std::size_t i = 0; i < line_.cells.size(); ++i) holds(i);
    begin_signs();
    if (section_.change && !line_.cells.empty() && line_.cells.front().bar == 0) {
      add(change_mark(setting_, room_, *section_.change, places_.front().left), room_.width);
    }
    if (!section_.until.empty() && !line_.cells.empty() && line_.cells.front().bar == 0) until();
    for (std::size_t i = 0; i < line_.cells.size(); ++i) cues(i, Where::InItsBar);
    for (std::size_t i = 0; i < line_.cells.size(); ++i) cues(i, Where::OpeningTheSection);
    end_signs();
    stack();
    return std::move(out_);
  }

 private:
  const ChartBar& bar(std::size_t cell) const { return section_.bars[line_.cells[cell].bar]; }
  Length left() const { return room_.label; }
  Length right_of(std::size_t cell) const {
    return room_.x_of_column(line_.cells[cell].column + line_.cells[cell].span);
  }

  style::TypeRole words(const style::TypeRole& base) const {
    style::TypeRole role = base;
    role.size = room_.text;
    role.tracking = 0;
    return role;
  }
  ChartMark plain(std::string text, style::TypeRole role, Kind kind, Span origin) const {
    return plain_mark(setting_, std::move(text), std::move(role), kind, origin);
  }

  void add(ChartMark mark, Length reach) {
    out_.push_back(std::move(mark));
    reach_.push_back(reach);
  }

  void holds(std::size_t cell) {
    for (const ChartHold& hold : bar(cell).holds) {
      ChartMark mark = plain({}, words(style_.body), "chart-hold", bar(cell).origin);
      const bool breath = hold.word == "breath", caesura = hold.word == "caesura";
      mark.sign = breath ? MusicSign::BreathMark : caesura ? MusicSign::Caesura : MusicSign::FermataAbove;
      mark.hold = engrave::hold_shape(hold.word);
      mark.width = mark.hold == engrave::HoldShape::Arc
                       ? setting_.music.sign(*mark.sign, mark_sign_space(room_)).advance
                       : mark_sign_space(room_) * (2 * engrave::hold_half_width(mark.hold));
      mark.x = places_[cell].x_of(hold.at);
      // One hold for the whole bar stands over its chord.
      if (hold.at == Fraction{} && !places_[cell].chords.empty()) mark.x = places_[cell].chords.front();
      add(mark, mark.x + mark.width);
    }
  }

  ChartMark of_cue(const ChartCue& cue) const {
    ChartMark mark = plain(cue.text, words(italic(style_.body)), "chart-cue", cue.origin);
    mark.beat = cue.beat;
    mark.rate = cue.rate;
    switch (cue.kind) {
      case CueKind::Loudness:
        mark.role = bold(words(italic(style_.body)));
        break;
      case CueKind::Tempo:
        // A number is read as in the head; words alone are words.
        if (!cue.rate.empty()) mark.role = bold(words(style_.body));
        mark.boxed = !cue.rate.empty();
        break;
      default:
        break;
    }
    return mark;
  }

  /// Its words cut to the line, with an ellipsis.
  void fit(ChartMark& mark) const {
    Frame scratch;
    const Length pad = mark.boxed ? room_.text * (2 * kBoxPad) : Length{};
    const Length room = room_.width - left() - pad;
    mark.width = put_mark_words(scratch, setting_, mark, {}) + pad;
    if (mark.width <= room + pad) return;
    // "pick-up", a note, and who plays it: the long end of it gives way.
    std::string& cut = mark.rate.size() > mark.text.size() ? mark.rate : mark.text;
    const Length rest = mark.width - pad - width_of(setting_, cut, mark.role);
    cut = text::cut_to(setting_.shaper, cut, text_style(mark.role), room - rest);
    mark.width = put_mark_words(scratch, setting_, mark, {}) + pad;
  }

  /// What belongs to a bar keeps over it; what opens a section may stand anywhere in its line.
  enum class Where : std::uint8_t { InItsBar, OpeningTheSection };

  void cues(std::size_t cell, Where where) {
    for (const ChartCue& cue : bar(cell).cues) {
      const bool first = bar(cell).bar == section_.bars.front().bar && cue.at == Fraction{};
      const bool opens = first && (cue.kind == CueKind::Say || cue.kind == CueKind::Words);
      if (opens != (where == Where::OpeningTheSection)) continue;
      ChartMark mark = of_cue(cue);
      fit(mark);
      const Length x = cue.at == Fraction{} ? places_[cell].left : places_[cell].x_of(cue.at);
      mark.x = std::max(left(), std::min(x, room_.width - mark.width));
      const Length reach = first ? right_of(cell) : std::min(room_.width, mark.x + mark.width + room_.text * 1.5);
      add(std::move(mark), opens ? room_.width : reach);
    }
  }

  /// An open repeat says over its bars what ends it.
  void until() {
    auto marks = until_marks(setting_, room_, section_);
    for (std::size_t i = marks.size(); i-- > 0;) {
      marks[i].x = std::max(left(), std::min(places_.front().left, room_.width - marks[i].width));
      add(marks[i], marks.size() > 1 ? marks[i].x + marks[i].width : room_.width);
    }
  }

  void begin_signs() {
    if (line_.cells.empty() || line_.cells.front().bar != 0) return;
    for (const engrave::FormSign& sign : section_.signs) {
      if (sign.edge != engrave::BarEdge::Begin) continue;
      ChartMark mark = form_marks(setting_, room_, sign).front();  // a picture alone
      mark.x = std::max(left(), std::min(places_.front().left, room_.width - mark.width));
      add(std::move(mark), room_.width);
    }
  }

  void end_signs() {
    if (line_.cells.empty() || line_.cells.back().bar + 1 != section_.bars.size()) return;
    for (const engrave::FormSign& sign : section_.signs) {
      if (sign.edge != engrave::BarEdge::End) continue;
      std::vector<ChartMark> marks = form_marks(setting_, room_, sign);
      const bool alone = marks.size() == 1;
      for (auto mark = marks.rbegin(); mark != marks.rend(); ++mark) {  // the last line is the lowest
        mark->x = std::max(left(), right_of(line_.cells.size() - 1) - mark->width);
        const Length reach = alone ? room_.width : mark->x + mark->width;
        add(std::move(*mark), reach);
      }
    }
  }

  bool free(std::size_t i, Length x, int row) const {
    const Length gap = room_.text * 0.6;
    for (std::size_t j = 0; j < i; ++j) {
      const bool apart = out_[j].x + out_[j].width + gap <= x || x + out_[i].width + gap <= out_[j].x;
      if (out_[j].row == row && !apart) return false;
    }
    return true;
  }

  /// Each mark takes the lowest row that is free at its place, or behind what stands there, as far as it may reach.
  void stack() {
    const Length gap = room_.text * 0.8;
    for (std::size_t i = 0; i < out_.size(); ++i) {
      for (int row = 0;; ++row) {
        std::optional<Length> at;
        if (free(i, out_[i].x, row)) at = out_[i].x;
        for (std::size_t j = 0; j < i && !at; ++j) {
          const Length x = out_[j].x + out_[j].width + gap;
          if (out_[j].row == row && out_[i].x < x && x + out_[i].width <= reach_[i] && free(i, x, row)) at = x;
        }
        if (!at) continue;
        out_[i].x = *at;
        out_[i].row = row;
        break;
      }
    }
  }

  const Setting& setting_;
  const style::Style& style_;
  const ChartSection& section_;
  const ChartLine& line_;
  const std::vector<BarPlaces>& places_;
  ChartRoom room_;
  std::vector<ChartMark> out_;
  std::vector<Length> reach_;  ///< of each mark: how far right it may end when it gives way
};

}  // namespace

Length ChartRoom::x_of_column(int column) const {
  return label + (width - label) * (static_cast<double>(column) / kChartGrid);
}

ChartRoom chart_room(const Setting& setting, const ChartSize& size) {
  return {chart_label_width(setting.style, size.width), size.width, chart_text_size(setting.style, size.chord)};
}

bool begins_line(const ChartLine& line, std::size_t cell) {
  if (cell == 0) return true;
  const ChartCell& before = line.cells[cell - 1];
  return before.column + before.span != line.cells[cell].column;
}

BarRoom bar_room(const ChartRoom& room, const ChartLine& line, std::size_t cell) {
  const ChartCell& at = line.cells[cell];
  return {room.x_of_column(at.column), room.x_of_column(at.column + at.span), begins_line(line, cell)};
}

std::optional<std::vector<BarPlaces>> line_places(const Setting& setting, const ChartSection& section,
                                                  const ChartLine& line, const ChartSize& size) {
  const ChartRoom room = chart_room(setting, size);
  std::vector<BarPlaces> out;
  for (std::size_t i = 0; i < line.cells.size(); ++i) {
    auto places = places_of(setting, section.bars[line.cells[i].bar], bar_room(room, line, i), size);
    if (!places) return std::nullopt;
    out.push_back(std::move(*places));
  }
  return out;
}

ChartMark change_mark(const Setting& setting, const ChartRoom& room, const ChartCue& change, Length x) {
  ChartMark mark = bold_mark(setting, room, change.text, "chart-change", change.origin);
  mark.beat = change.beat;
  mark.rate = change.rate;
  mark.boxed = true;
  Frame scratch;
  mark.width = put_mark_words(scratch, setting, mark, {}) + room.text * (2 * kBoxPad);
  mark.x = std::max(room.label, std::min(x, room.width - mark.width));
  return mark;
}

namespace {
ChartMark form_mark(const Setting& setting, const ChartRoom& room, const engrave::FormSign& sign,
                    const std::string& words) {
  ChartMark mark = bold_mark(setting, room, words, "chart-form-sign", sign.origin);
  if (sign.word == FormWord::Segno) mark.sign = MusicSign::Segno;
  if (sign.word == FormWord::Coda || sign.word == FormWord::ToCoda) mark.sign = MusicSign::Coda;
  mark.width = width_of(setting, mark.text, mark.role);
  if (mark.sign) {
    if (mark.width > Length{}) mark.width += room.text * 0.3;
    mark.width += setting.music.sign(*mark.sign, mark_sign_space(room)).advance;
  }
  return mark;
}
}  // namespace

std::vector<ChartMark> form_marks(const Setting& setting, const ChartRoom& room, const engrave::FormSign& sign) {
  const auto width = [&](const std::string& words) { return form_mark(setting, room, sign, words).width; };
  std::vector<ChartMark> marks;
  for (const std::string& line : engrave::form_lines(sign.text, room.width - room.label, width))
    marks.push_back(form_mark(setting, room, sign, line));
  return marks;
}

std::vector<ChartMark> line_marks(const Setting& setting, const ChartSection& section, const ChartLine& line,
                                  const std::vector<BarPlaces>& places, const ChartSize& size) {
  return Marks(setting, section, line, places, size).make();
}

style::TypeRole same_role(const Setting& setting, const ChartSize& size) {
  style::TypeRole role = italic(setting.style.body);
  role.size = std::max(chart_text_size(setting.style, size.chord), size.chord * 0.62);
  return role;
}

std::vector<ChartMark> same_marks(const Setting& setting, const ChartSection& section, const ChartSize& size) {
  const ChartRoom room = chart_room(setting, size);
  const style::TypeRole role = same_role(setting, size);
  const Length left = room.label + size.chord * 0.26;
  Length x = left + width_of(setting, "as " + section.same_as, role) + role.size;
  int row = 0;
  std::vector<ChartMark> out;
  const auto behind = [&](ChartMark mark) {
    if (x + mark.width > room.width && x > left) {
      x = std::min(left, room.width - mark.width);
      ++row;
    }
    mark.x = x;
    mark.row = row;
    x += mark.width + role.size;
    out.push_back(std::move(mark));
  };
  if (section.change) behind(change_mark(setting, room, *section.change, x));
  if (!section.until.empty()) {
    for (ChartMark& mark : until_marks(setting, room, section)) behind(std::move(mark));
  }
  for (const engrave::FormSign& sign : section.signs)
    for (ChartMark& mark : form_marks(setting, room, sign)) behind(std::move(mark));
  return out;
}

bool has_ending(const ChartSection& section, const ChartLine& line) {
  return std::any_of(line.cells.begin(), line.cells.end(),
                     [&](const ChartCell& cell) { return !section.bars[cell.bar].ending.empty(); });
}

Length put_mark_words(Frame& frame, const Setting& setting, const ChartMark& mark, Point at) {
  Length x = put(frame, setting, at, mark.text, {mark.role, mark.colour, mark.kind, mark.origin});
  if (mark.rate.empty()) return x;
  if (x > Length{}) x += mark.role.size * 0.4;
  x += put_note_value(frame, setting, {at.x + x, at.y}, mark.beat, mark.role.size * 0.22, mark.colour);
  x += mark.role.size * 0.2;
  return x + put(frame, setting, {at.x + x, at.y}, mark.rate, {mark.role, mark.colour, mark.kind, mark.origin});
}

namespace {

Length put_hold(Frame& frame, const ChartRoom& room, const ChartMark& mark, Point foot) {
  const Length space = mark_sign_space(room);
  const double half = engrave::hold_half_width(mark.hold);
  const Point middle{foot.x + space * half, foot.y};
  const layout::Stroke stroke{space * engrave::hold_stroke(mark.hold), mark.colour, layout::Cap::Butt, {}};
  layout::PathShape outline{engrave::hold_outline(mark.hold, middle, space), std::nullopt, stroke};
  frame.items.push_back({{}, mark.kind, layout::Layer::Ink, mark.origin, {}, std::move(outline)});
  layout::RectShape dot;
  dot.radius = space * 0.22;
  dot.size = {dot.radius * 2, dot.radius * 2};
  dot.fill = mark.colour;
  const Point at{middle.x - dot.radius, middle.y - space * 0.3 - dot.radius};
  frame.items.push_back({at, mark.kind, layout::Layer::Ink, mark.origin, {}, dot});
  return space * (2 * half);
}

Length put_mark_sign(Frame& frame, const Setting& setting, const ChartRoom& room, const ChartMark& mark, Point at) {
  const Point foot{at.x, at.y + room.text * 0.12};
  if (mark.hold != engrave::HoldShape::Arc) return put_hold(frame, room, mark, foot);
  const Length space = mark_sign_space(room);
  const text::Sign& drawn = setting.music.sign(*mark.sign, space);
  const Kind kind = mark.kind == Kind("chart-hold") ? mark.kind : Kind("chart-sign");
  put_sign(frame, setting, {foot.x - drawn.box.x, foot.y - drawn.box.bottom()}, *mark.sign, space, kind, mark.colour);
  frame.items.back().origin = mark.origin;
  return drawn.advance;
}

}  // namespace

void put_mark(Frame& frame, const Setting& setting, const ChartRoom& room, const ChartMark& mark, Length y) {
  Point at{mark.x, y};
  if (mark.boxed) {
    const Point corner{mark.x, y - room.text * 0.93};
    const Length height = room.text * 1.22;
    const layout::Stroke stroke{std::max(setting.style.rule * 1.4, Length::pt(0.9)), mark.colour, {}, {}};
    const auto side = [&](Point from, Point by) {
      frame.items.push_back(
          {from, "chart-change-box", layout::Layer::Line, mark.origin, {}, layout::LineShape{by, stroke}});
    };
    side(corner, {mark.width, {}});
    side({corner.x, corner.y + height}, {mark.width, {}});
    side(corner, {{}, height});
    side({corner.x + mark.width, corner.y}, {{}, height});
    at.x += room.text * kBoxPad;
  }
  const bool leads = mark.text.empty() || mark.text != "To Coda";
  if (mark.sign && leads) at.x += put_mark_sign(frame, setting, room, mark, at) + room.text * 0.3;
  at.x += put_mark_words(frame, setting, mark, at);
  if (mark.sign && !leads) put_mark_sign(frame, setting, room, mark, {at.x + room.text * 0.3, at.y});
}

Length mark_row_height(const ChartRoom& room) {
  return room.text * 1.32;
}

Length mark_sign_space(const ChartRoom& room) {
  return room.text * 0.42;
}

Length marks_floor(const ChartSize& size) {
  return names_height(size.chord);
}

}  // namespace tunesheaf::blocks

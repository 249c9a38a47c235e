#include "chart_marks.h"

#include <algorithm>

namespace tunesheaf::blocks {
namespace {

using song::FormWord;
using text::MusicSign;

class Marks {
 public:
  Marks(const Setting& setting, const ChartSection& section, const ChartLine& line,
        const std::vector<BarPlaces>& places, int columns, const ChartSize& size)
      : setting_(setting),
        style_(setting.style),
        section_(section),
        line_(line),
        places_(places),
        columns_(columns),
        room_(chart_room(setting, size)) {}

  std::vector<ChartMark> make() {
    for (std::size_t i = 0; i < line_.cells.size(); ++i) holds(i);
    for (std::size_t i = 0; i < line_.cells.size(); ++i) cues(i);
    signs();
    stack();
    return std::move(out_);
  }

 private:
  const ChartBar& bar(std::size_t cell) const { return section_.bars[line_.cells[cell].bar]; }
  Length left() const { return room_.label; }
  Length right_of(std::size_t cell) const { return room_.x_of_column(line_.cells[cell].column + 1, columns_); }

  style::TypeRole words(const style::TypeRole& base) const {
    style::TypeRole role = base;
    role.size = room_.text;
    role.tracking = 0;
    return role;
  }

  ChartMark plain(std::string text, style::TypeRole role, Kind kind, Span origin) const {
    ChartMark mark;
    mark.text = std::move(text);
    mark.role = std::move(role);
    mark.colour = style_.ink;
    mark.kind = kind;
    mark.origin = origin;
    return mark;
  }

  void holds(std::size_t cell) {
    for (const Fraction& at : bar(cell).holds) {
      ChartMark mark = plain({}, words(style_.body), "chart-hold", bar(cell).origin);
      mark.sign = MusicSign::FermataAbove;
      mark.width = setting_.music.sign(MusicSign::FermataAbove, sign_space()).advance;
      mark.x = places_[cell].x_of(at);
      out_.push_back(mark);
    }
  }

  Length sign_space() const { return room_.text * 0.36; }

  ChartMark of_cue(const ChartCue& cue) const {
    ChartMark mark = plain(cue.text, words(italic(style_.body)), "chart-cue", cue.origin);
    mark.beat = cue.beat;
    mark.rate = cue.rate;
    switch (cue.kind) {
      case CueKind::Stop:
        mark.role = words(style_.label);
        mark.role.weight = 700;
        mark.colour = style_.accent;
        break;
      case CueKind::Count:
        mark.role = words(style_.label);
        break;
      case CueKind::Loudness:
        mark.role = bold(words(italic(style_.body)));
        break;
      case CueKind::Tempo:
        mark.role = words(style_.body);
        break;
      case CueKind::Words:
      case CueKind::Say:
        break;
    }
    return mark;
  }

  /// Cut to the line, with an ellipsis; a whole character at a time.
  void fit(ChartMark& mark) const {
    const Length room = room_.width - left();
    mark.width = width_of(setting_, mark.text, mark.role);
    while (mark.width > room && mark.text.size() > 4) {
      std::string& text = mark.text;
      if (text.ends_with("…")) text.resize(text.size() - std::string_view("…").size());
      while (text.size() > 1 && (static_cast<unsigned char>(text.back()) & 0xC0U) == 0x80U) text.pop_back();
      text.pop_back();
      text += "…";
      mark.width = width_of(setting_, text, mark.role);
    }
  }

  void cues(std::size_t cell) {
    for (const ChartCue& cue : bar(cell).cues) {
      ChartMark mark = of_cue(cue);
      fit(mark);
      Frame scratch;
      if (!mark.rate.empty()) mark.width = put_mark_words(scratch, setting_, mark, {});
      const Length x = cue.at == Fraction{} ? places_[cell].left : places_[cell].x_of(cue.at);
      mark.x = std::max(left(), std::min(x, room_.width - mark.width));
      out_.push_back(std::move(mark));
    }
  }

  void signs() {
    if (line_.cells.empty()) return;
    const bool first = line_.cells.front().bar == 0, last = line_.cells.back().bar + 1 == section_.bars.size();
    for (const engrave::FormSign& sign : section_.signs) {
      const bool begins = sign.edge == engrave::BarEdge::Begin;
      if (begins ? !first : !last) continue;
      ChartMark mark = plain(sign.text, words(italic(style_.body)), "chart-form-sign", sign.origin);
      mark.colour = style_.accent;
      if (sign.word == FormWord::Segno) mark.sign = MusicSign::Segno;
      if (sign.word == FormWord::Coda || sign.word == FormWord::ToCoda) mark.sign = MusicSign::Coda;
      mark.width = width_of(setting_, mark.text, mark.role);
      if (mark.sign) {
        if (mark.width > Length{}) mark.width += room_.text * 0.3;
        mark.width += setting_.music.sign(*mark.sign, sign_space()).advance;
      }
      mark.x = begins ? places_.front().left : right_of(line_.cells.size() - 1) - mark.width;
      mark.x = std::max(left(), std::min(mark.x, room_.width - mark.width));
      out_.push_back(std::move(mark));
    }
  }

  /// Each mark takes the lowest row that is free.
  void stack() {
    const Length gap = room_.text * 0.6;
    for (std::size_t i = 0; i < out_.size(); ++i) {
      for (bool free = false; !free;) {
        free = true;
        for (std::size_t j = 0; j < i && free; ++j) {
          const bool apart =
              out_[j].x + out_[j].width + gap <= out_[i].x || out_[i].x + out_[i].width + gap <= out_[j].x;
          if (out_[j].row == out_[i].row && !apart) {
            ++out_[i].row;
            free = false;
          }
        }
      }
    }
  }

  const Setting& setting_;
  const style::Style& style_;
  const ChartSection& section_;
  const ChartLine& line_;
  const std::vector<BarPlaces>& places_;
  int columns_;
  ChartRoom room_;
  std::vector<ChartMark> out_;
};

}  // namespace

Length ChartRoom::x_of_column(int column, int columns) const {
  return label + (width - label) * (static_cast<double>(column) / columns);
}

ChartRoom chart_room(const Setting& setting, const ChartSize& size) {
  return {chart_label_width(setting.style, size.width), size.width, chart_text_size(setting.style, size.chord)};
}

std::optional<std::vector<BarPlaces>> line_places(const Setting& setting, const ChartSection& section,
                                                  const ChartLine& line, int columns, const ChartSize& size) {
  const ChartRoom room = chart_room(setting, size);
  std::vector<BarPlaces> out;
  for (std::size_t i = 0; i < line.cells.size(); ++i) {
    const ChartCell& cell = line.cells[i];
    const bool first = i == 0 || line.cells[i - 1].column + 1 != cell.column;
    const BarRoom bar{room.x_of_column(cell.column, columns), room.x_of_column(cell.column + 1, columns), first};
    auto places = places_of(setting, section.bars[cell.bar], bar, size);
    if (!places) return std::nullopt;
    out.push_back(std::move(*places));
  }
  return out;
}

std::vector<ChartMark> line_marks(const Setting& setting, const ChartSection& section, const ChartLine& line,
                                  const std::vector<BarPlaces>& places, int columns, const ChartSize& size) {
  return Marks(setting, section, line, places, columns, size).make();
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

Length mark_row_height(const ChartRoom& room) {
  return room.text * 1.25;
}

}  // namespace tunesheaf::blocks

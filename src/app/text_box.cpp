#include "text_box.h"

#include <algorithm>

#include "tunesheaf/base/utf8.h"
#include "words_ear.h"

namespace tunesheaf::app {
namespace {

constexpr std::size_t kPitch = 3;  ///< columns from string to string

/// One row of the grid: what stands on each string, and what lies between it and the next one.
class GridRow {
 public:
  explicit GridRow(std::size_t strings, const std::string& on, const std::string& between)
      : on_(strings, on), between_(strings - 1, between) {}
  void put(std::size_t string, const std::string& sign) { on_[string] = sign; }
  void join(std::size_t from, std::size_t to, const std::string& line) {
    for (std::size_t i = from; i < to; ++i) between_[i] = line;
  }
  std::string text() const {
    std::string out = " ";
    for (std::size_t i = 0; i < on_.size(); ++i) {
      out += on_[i];
      if (i < between_.size()) out += between_[i] + between_[i];
    }
    return out;
  }

 private:
  std::vector<std::string> on_, between_;
};

std::string cap_row(std::size_t strings, bool nut) {
  GridRow row(strings, nut ? "┯" : "┬", nut ? "━" : "─");
  row.put(0, nut ? "┍" : "┌");
  row.put(strings - 1, nut ? "┑" : "┐");
  return row.text();
}

std::string fret_row(std::size_t strings, bool last) {
  GridRow row(strings, last ? "┴" : "┼", "─");
  row.put(0, last ? "└" : "├");
  row.put(strings - 1, last ? "┘" : "┤");
  return row.text();
}

std::string mark_row(const theory::Shape& shape) {
  std::string out = " ";
  for (std::size_t i = 0; i < shape.frets.size(); ++i) {
    const std::string mark = !shape.frets[i] ? "x" : *shape.frets[i] == 0 ? "o" : " ";
    out += mark + (i + 1 < shape.frets.size() ? "  " : "");
  }
  return out;
}

std::string dot_row(const theory::Shape& shape, int fret) {
  GridRow row(shape.frets.size(), "│", " ");
  for (const theory::Barre& barre : theory::barres(shape)) {
    if (barre.fret != fret) continue;
    const std::size_t from = shape.place_of(barre.from_string), to = shape.place_of(barre.to_string);
    row.join(from, to, "━");
    for (std::size_t i = from; i <= to; ++i) row.put(i, "━");
  }
  for (std::size_t i = 0; i < shape.frets.size(); ++i) {
    if (!shape.frets[i] || *shape.frets[i] != fret) continue;
    const bool known = !shape.fingers.empty() && shape.fingers[i] != theory::Finger::None;
    row.put(i, known ? std::string(1, theory::finger_sign(shape.fingers[i])) : "●");
  }
  return row.text();
}

std::string note_row(const std::vector<std::string>& notes) {
  std::string out = " ";
  for (const std::string& note : notes) out += filled(note, kPitch);
  out.erase(out.find_last_not_of(' ') + 1);
  return out;
}

}  // namespace

TextBox text_box(const theory::Shape& shape, const std::vector<std::string>& notes,
                 const std::vector<std::string>& above, const std::vector<std::string>& below) {
  const int low = shape.lowest_fret(), high = shape.highest_fret();
  const int first = high <= 4 ? 1 : low;
  const int frets = std::max(4, high - first + 1);
  TextBox box;
  for (const std::string& line : above) box.lines.push_back(" " + line);
  box.lines.push_back(mark_row(shape));
  box.lines.push_back(cap_row(shape.frets.size(), first == 1));
  for (int fret = first; fret < first + frets; ++fret) {
    std::string line = dot_row(shape, fret);
    if (fret == first && first > 1) line += " " + std::to_string(first);
    box.lines.push_back(line);
    box.lines.push_back(fret_row(shape.frets.size(), fret + 1 == first + frets));
  }
  box.lines.push_back(note_row(notes));
  for (const std::string& line : below) box.lines.push_back(" " + line);
  for (const std::string& line : box.lines) box.columns = std::max(box.columns, base::display_columns(line));
  for (std::string& line : box.lines) line = filled(line, box.columns);
  return box;
}

std::string rows_of(const std::vector<TextBox>& boxes) {
  constexpr std::size_t kScreen = 78, kGap = 3;
  std::size_t widest = 1;
  for (const TextBox& box : boxes) widest = std::max(widest, box.columns);
  const std::size_t per_row = std::max<std::size_t>(1, (kScreen + kGap) / (widest + kGap));
  std::string out;
  for (std::size_t begin = 0; begin < boxes.size(); begin += per_row) {
    const std::size_t end = std::min(begin + per_row, boxes.size());
    std::size_t height = 0;
    for (std::size_t i = begin; i < end; ++i) height = std::max(height, boxes[i].lines.size());
    if (begin > 0) out += "\n";
    for (std::size_t l = 0; l < height; ++l) {
      std::string line;
      for (std::size_t i = begin; i < end; ++i) {
        line = filled(line, (i - begin) * (widest + kGap));
        if (l < boxes[i].lines.size()) line += boxes[i].lines[l];
      }
      line.erase(line.find_last_not_of(' ') + 1);
      out += line + "\n";
    }
  }
  return out;
}

}  // namespace tunesheaf::app

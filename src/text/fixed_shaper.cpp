#include <algorithm>
#include <optional>

#include "tunesheaf/base/utf8.h"
#include "tunesheaf/text/hyphens.h"
#include "tunesheaf/text/shaper.h"

namespace tunesheaf::text {
namespace {

/// One character of a paragraph with its style, before breaking.
struct Cell {
  char32_t character;
  const TextStyle* style;
};

bool is_figure(char32_t c) {
  return c >= U'0' && c <= U'9';
}

base::Length width_of(const Cell& cell) {
  if (cell.character == kSoftHyphen) return {};
  const double em = is_figure(cell.character) ? 0.55 : 0.6;
  return cell.style->size * em + cell.style->size * (cell.style->tracking / 1000.0);
}

std::vector<Cell> cells_of(std::span<const StyledText> pieces) {
  std::vector<Cell> cells;
  for (const StyledText& piece : pieces) {
    for (const char32_t c : base::code_points(piece.text)) cells.push_back({c, &piece.style});
  }
  return cells;
}

class FixedShaper final : public Shaper {
 public:
  using Shaper::line;

  Line line(std::span<const StyledText> pieces) override {
    const std::vector<Cell> cells = cells_of(pieces);
    return set_line(cells.data(), cells.data() + cells.size(), Hyphen::No);
  }

  std::vector<Line> paragraph(std::span<const StyledText> pieces, base::Length width, Alignment alignment,
                              const std::string&) override {
    const std::vector<Cell> cells = cells_of(pieces);
    std::vector<Line> lines;
    const Cell* at = cells.data();
    const Cell* const end = at + cells.size();
    while (true) {
      const Broken next = next_line(at, end, width);
      Line line = set_line(at, next.stop, next.hyphen);
      align(line, width, alignment, next.last_of_paragraph);
      lines.push_back(std::move(line));
      at = next.next;
      if (next.at_end) break;
    }
    return lines;
  }

  FaceMetrics metrics(const Face&, base::Length size) override {
    return {size * 0.8, size * 0.2, size * 0.5, size * 0.7};
  }
  std::vector<PathStep> outline(const Face&, std::uint32_t, base::Length) override { return {}; }
  std::vector<char32_t> missing() const override { return {}; }

 private:
  enum class Hyphen { No, Yes };
  struct Broken {
    const Cell* stop = nullptr;  // end of what is set
    const Cell* next = nullptr;  // where the next line begins
    Hyphen hyphen = Hyphen::No;
    bool last_of_paragraph = false;
    bool at_end = false;
  };

  /// Greedy: the last blank or soft hyphen that fits, or a character anywhere when a word is wider than the line.
  static Broken next_line(const Cell* begin, const Cell* end, base::Length width) {
    base::Length used;
    std::optional<Broken> best;
    for (const Cell* cell = begin; cell != end; ++cell) {
      if (cell->character == U'\n') return {cell, cell + 1, Hyphen::No, true, false};
      if (cell->character == U' ') best = Broken{cell, cell + 1, Hyphen::No, false, false};
      const base::Length next = used + width_of(*cell);
      const base::Length hyphen = width_of({U'-', cell->style});
      if (cell->character == kSoftHyphen && used + hyphen <= width)
        best = Broken{cell, cell + 1, Hyphen::Yes, false, false};
      if (next > width && cell->character != U' ' && cell != begin) {
        return best ? *best : Broken{cell, cell, Hyphen::No, false, false};
      }
      used = next;
    }
    return {end, end, Hyphen::No, true, true};
  }

  static void append(Run& run, const Cell& cell) {
    const auto cluster = static_cast<std::uint32_t>(run.text.size());
    run.text += base::to_utf8(cell.character);
    run.glyphs.push_back({static_cast<std::uint32_t>(cell.character), run.advance, {}, cluster});
    run.advance += width_of(cell);
  }

  static Line set_line(const Cell* begin, const Cell* end, Hyphen hyphen) {
    Line line;
    for (const Cell* cell = begin; cell != end; ++cell) {
      if (cell->character == kSoftHyphen) continue;
      if (cell == begin || line.runs.empty() || cell->style != last_style_of(begin, cell)) open_run(line, *cell->style);
      append(line.runs.back().run, *cell);
    }
    if (hyphen == Hyphen::Yes && begin != end) {
      if (line.runs.empty()) open_run(line, *begin->style);
      append(line.runs.back().run, {U'-', (end - 1)->style});
    }
    finish(line);
    return line;
  }

  /// Style of the nearest set character before `cell`.
  static const TextStyle* last_style_of(const Cell* begin, const Cell* cell) {
    const Cell* before = cell - 1;
    while (before != begin && before->character == kSoftHyphen) --before;
    return before->style;
  }

  static void open_run(Line& line, const TextStyle& style) {
    PlacedRun placed;
    placed.run.face = style.face;
    placed.run.size = style.size;
    line.runs.push_back(std::move(placed));
  }

  static void finish(Line& line) {
    base::Length x;
    for (PlacedRun& placed : line.runs) {
      Run& run = placed.run;
      placed.x = x;
      run.ink = {{}, -(run.size * 0.8), run.advance, run.size * 0.8};
      line.ascent = std::max(line.ascent, run.size * 0.8);
      line.descent = std::max(line.descent, run.size * 0.2);
      const base::Rect ink = run.ink.moved({x, {}});
      line.ink = x == base::Length{} ? ink : line.ink.united(ink);
      x += run.advance;
    }
    line.width = x;
  }

  static void align(Line& line, base::Length width, Alignment alignment, bool last) {
    base::Length shift;
    const base::Length room = width - line.width;
    if (room <= base::Length{}) return;
    if (alignment == Alignment::Centre) shift = room / 2;
    if (alignment == Alignment::Right) shift = room;
    if (alignment == Alignment::Justified && !last) {
      spread(line, room);
      return;
    }
    for (PlacedRun& placed : line.runs) placed.x += shift;
    line.ink = line.ink.moved({shift, {}});
  }

  /// Shares `room` among the blanks of the line, the rest to the first ones.
  static void spread(Line& line, base::Length room) {
    std::int64_t blanks = 0;
    for (const PlacedRun& placed : line.runs) blanks += std::count(placed.run.text.begin(), placed.run.text.end(), ' ');
    if (blanks == 0) return;
    std::int64_t rest = room.units() % blanks;
    const base::Length share = base::Length::raw(room.units() / blanks);
    for (PlacedRun& placed : line.runs) {
      base::Length added;
      for (Glyph& glyph : placed.run.glyphs) {
        glyph.x += added;
        if (placed.run.text[glyph.cluster] != ' ') continue;
        added += share + base::Length::raw(rest > 0 ? 1 : 0);
        rest -= rest > 0 ? 1 : 0;
      }
      placed.run.advance += added;
    }
    finish(line);
  }
};

}  // namespace

std::unique_ptr<Shaper> make_fixed_shaper() {
  return std::make_unique<FixedShaper>();
}

}  // namespace tunesheaf::text

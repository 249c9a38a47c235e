// The printer for people:
//
//   songs/heron.yaml, line 14, column 22: error: no shape is called "hoem"
//       14 |   shape | home | hoem |        <- number in kGutter columns, then " | ", then the line of the song
//                             ~~~~ label     <- underline in display columns; '-' under second labels
//          every name in a shape lane is a shape from `shapes:`
//          home is the nearest name
#include <algorithm>
#include <optional>

#include "printers.h"
#include "tunesheaf/base/utf8.h"
#include "tunesheaf/diag/words.h"

namespace tunesheaf::diag {
namespace {

constexpr std::size_t kWidth = 110;  // columns: fits beside an editor on a common screen
constexpr std::size_t kGutter = 6;
constexpr std::size_t kTextColumn = kGutter + 3;
constexpr std::size_t kNoteIndent = 7;
constexpr const char* kEllipsis = "\u2026";

/// One sign of a source line: what is printed for it, its columns, and the byte of the line where it begins.
struct Cell {
  std::string text;
  std::size_t columns = 0;
  std::size_t offset = 0;
};

std::vector<Cell> cells_of(std::string_view line) {
  std::vector<Cell> cells;
  for (std::size_t i = 0; i < line.size();) {
    const base::DecodedPoint p = base::decode_at(line, i);
    std::string text = shown_point(p.code_point);
    const std::size_t columns = base::display_columns(text);
    cells.push_back({std::move(text), columns, i});
    i += p.length;
  }
  return cells;
}

/// The part of a line that is printed, and the columns of the underline within it.
struct Excerpt {
  std::string text;
  std::size_t underline_begin = 0, underline_columns = 1;
};

std::size_t columns_between(const std::vector<Cell>& cells, std::size_t from, std::size_t to) {
  std::size_t n = 0;
  for (std::size_t i = from; i < to; ++i) n += cells[i].columns;
  return n;
}

std::size_t cell_at(const std::vector<Cell>& cells, std::size_t offset) {
  const auto it = std::partition_point(cells.begin(), cells.end(), [&](const Cell& c) { return c.offset < offset; });
  return static_cast<std::size_t>(it - cells.begin());
}

bool continues_point(char c) {
  return (static_cast<unsigned char>(c) & 0xC0) == 0x80;
}

/// Cuts a line that is too wide, so that the marked place stands a third from the left.
Excerpt excerpt(std::string_view whole, std::size_t begin, std::size_t end) {
  // More bytes than the widest excerpt can show: a line may have millions.
  constexpr std::size_t kBytesBefore = 600, kBytesBehind = 2000;
  std::size_t skipped = begin > kBytesBefore ? begin - kBytesBefore : 0;
  while (skipped > 0 && skipped < begin && continues_point(whole[skipped])) ++skipped;
  std::size_t kept = std::min(whole.size(), begin + kBytesBehind);
  while (kept < whole.size() && continues_point(whole[kept])) ++kept;
  const std::vector<Cell> cells = cells_of(whole.substr(skipped, kept - skipped));
  const std::size_t first = cell_at(cells, begin - skipped);
  const std::size_t last = std::max(first, cell_at(cells, std::min(end, kept) - skipped));
  constexpr std::size_t kRoom = kWidth - kTextColumn;
  std::size_t from = 0, to = cells.size();
  if (skipped > 0 || kept < whole.size() || columns_between(cells, 0, cells.size()) > kRoom) {
    std::size_t left = 0;
    from = first;
    while (from > 0 && left + cells[from - 1].columns <= kRoom / 3) left += cells[--from].columns;
    std::size_t used = from > 0 || skipped > 0 ? 1 : 0;  // the ellipsis
    to = from;
    while (to < cells.size() && used + cells[to].columns + 1 <= kRoom) used += cells[to++].columns;
    while (from > 0 && used + cells[from - 1].columns + 1 <= kRoom) used += cells[--from].columns;
  }
  Excerpt out;
  const bool cut_left = from > 0 || skipped > 0;
  if (cut_left) out.text = kEllipsis;
  for (std::size_t i = from; i < to; ++i) out.text += cells[i].text;
  if (to < cells.size() || kept < whole.size()) out.text += kEllipsis;
  out.underline_begin = (cut_left ? 1 : 0) + columns_between(cells, from, std::min(first, to));
  out.underline_columns = std::max<std::size_t>(1, columns_between(cells, std::min(first, to), std::min(last, to)));
  return out;
}

std::string_view tint(Severity severity) {
  switch (severity) {
    case Severity::Error:
      return "\x1b[1;31m";
    case Severity::Warning:
      return "\x1b[1;33m";
    case Severity::Note:
      break;
  }
  return "\x1b[1;36m";
}

class Printer {
 public:
  Printer(const source::Files& files, bool colour) : files_(files), colour_(colour) {}

  std::string take() { return std::move(out_); }

  void print(const Diagnostic& d) {
    if (!out_.empty()) out_ += "\n";
    tint_ = tint(severity(d.kind));
    head(d);
    shown_line_.reset();
    for (std::size_t i = 0; i < d.labels.size(); ++i) label(d.labels[i], i == 0);
    if (!d.rule.empty()) wrapped(d.rule, kNoteIndent, kNoteIndent + 2, kNoteIndent);
    if (!d.remedy.empty()) wrapped(d.remedy, kNoteIndent, kNoteIndent + 2, kNoteIndent);
  }

 private:
  std::string painted(std::string_view text, std::string_view tint_code) const {
    if (!colour_) return std::string(text);
    return std::string(tint_code) + std::string(text) + "\x1b[0m";
  }

  static std::string place_words(const source::File& file, source::Span span) {
    const source::Place place = file.place(span.begin);
    return shown(file.path()) + ", line " + std::to_string(place.line) + ", column " + std::to_string(place.column);
  }

  void head(const Diagnostic& d) {
    std::string start;
    if (!d.labels.empty()) {
      start = place_words(files_.file(d.labels.front().span.file), d.labels.front().span) + ": ";
      file_ = d.labels.front().span.file;
    }
    const std::string word(name(severity(d.kind)));
    const std::size_t column = base::display_columns(start) + word.size() + 2;
    out_ += start + painted(word, tint_) + ": ";
    wrapped(d.situation, 0, kNoteIndent, column);
  }

  /// Words of one text; the cursor stands at `column` when it is more than `indent`, else `indent` is written first.
  void wrapped(std::string_view raw, std::size_t indent, std::size_t next_indent, std::size_t column) {
    const std::string text = shown(raw);
    out_.append(indent, ' ');
    bool first = true;
    for (std::size_t i = 0; i < text.size();) {
      const std::size_t gap = std::min(text.find(' ', i), text.size());
      const std::string word = text.substr(i, gap - i);
      i = gap + 1;
      const std::size_t columns = base::display_columns(word);
      if (!first && column + 1 + columns > kWidth) {
        out_ += "\n" + std::string(next_indent, ' ');
        column = next_indent;
      } else if (!first) {
        out_ += ' ';
        ++column;
      }
      out_ += word;
      column += columns;
      first = false;
    }
    out_ += '\n';
  }

  void label(const Label& l, bool primary) {
    const source::File& file = files_.file(l.span.file);
    const std::uint32_t line = file.place(l.span.begin).line;
    const std::uint32_t start = file.line_start(line);
    const std::string_view text = file.line(line);
    const std::size_t end = std::min<std::size_t>(l.span.end - start, text.size());
    const Excerpt e = excerpt(text, l.span.begin - start, end);
    if (l.span.file != file_) {
      out_ += std::string(kNoteIndent, ' ') + place_words(file, l.span) + ":\n";
      file_ = l.span.file;
      shown_line_.reset();
    }
    const std::string number = std::to_string(line);
    const std::string source_line =
        std::string(number.size() < kGutter ? kGutter - number.size() : 0, ' ') + number + " | " + e.text + "\n";
    if (shown_line_ != source_line) out_ += source_line;
    shown_line_ = source_line;
    underline(e, l.text, primary);
  }

  void underline(const Excerpt& e, std::string_view text, bool primary) {
    const std::size_t column = kTextColumn + e.underline_begin + e.underline_columns;
    out_ += std::string(kTextColumn + e.underline_begin, ' ');
    out_ += painted(std::string(e.underline_columns, primary ? '~' : '-'), tint_);
    if (text.empty()) {
      out_ += "\n";
    } else if (column + 1 + base::display_columns(shown(text)) <= kWidth) {
      out_ += " " + shown(text) + "\n";
    } else {
      out_ += "\n";
      wrapped(text, kTextColumn, kTextColumn, kTextColumn);
    }
  }

  const source::Files& files_;
  bool colour_;
  std::string_view tint_;
  std::string out_;
  source::FileId file_ = 0;
  std::optional<std::string> shown_line_;
};

}  // namespace

std::string print_people(const std::vector<Diagnostic>& diagnostics, const source::Files& files, bool colour) {
  Printer printer(files, colour);
  for (const Diagnostic& d : diagnostics) printer.print(d);
  return printer.take();
}

}  // namespace tunesheaf::diag

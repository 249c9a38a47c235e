#include <algorithm>
#include <map>
#include <string_view>

#include "context.h"
#include "lane_text.h"
#include "tunesheaf/base/utf8.h"
#include "tunesheaf/song/read.h"
#include "vocabulary.h"

// A stanza is a table: the names are its first column (as wide in every stanza of a block), each bar is a column, and
// within a bar the lanes that part it into the same number of beats share columns for them:
//
//   shape | home       | sixth : - : home |
//   1     | - 0 : h2 : | 2     : - :      |
//
// A bar column is as wide as its widest lane; shorter ones are filled up before the bar line.
namespace tunesheaf::song {
namespace {

/// One lane line taken apart; beats are texts with single blanks between their cells.
struct TidyLine {
  Span span;  ///< what is replaced: from the line's first byte to its last bar line
  std::string name;
  std::vector<std::vector<std::string>> bars;
};

struct Replacement {
  Span span;
  std::string text;
};

std::size_t width(std::string_view text) {
  return base::display_columns(text);
}

std::string padded(std::string text, std::size_t columns) {
  const std::size_t have = width(text);
  if (have < columns) text.append(columns - have, ' ');
  return text;
}

std::vector<std::string> beats_of(const RawBar& bar, std::string_view line) {
  std::vector<std::string> beats(1);
  for (const Token& token : bar.tokens) {
    if (token.colon()) {
      beats.emplace_back();
      continue;
    }
    if (!beats.back().empty()) beats.back() += ' ';
    beats.back() += line.substr(token.begin, token.end - token.begin);
  }
  return beats;
}

/// Widths of the beats of one bar column, for each number of beats that occurs in it, and of the whole column.
struct BarColumn {
  std::map<std::size_t, std::vector<std::size_t>> beats;
  std::size_t total = 1;
};

BarColumn measure(const std::vector<TidyLine>& lines, std::size_t bar) {
  BarColumn column;
  for (const TidyLine& line : lines) {
    if (bar >= line.bars.size()) continue;
    const std::vector<std::string>& beats = line.bars[bar];
    std::vector<std::size_t>& widths = column.beats[beats.size()];
    widths.resize(beats.size(), beats.size() > 1 ? 1 : 0);
    for (std::size_t i = 0; i < beats.size(); ++i) widths[i] = std::max(widths[i], width(beats[i]));
  }
  for (const auto& [count, widths] : column.beats) {
    std::size_t sum = 3 * (count - 1);
    for (const std::size_t beat : widths) sum += beat;
    column.total = std::max(column.total, sum);
  }
  return column;
}

void align(const std::vector<TidyLine>& lines, std::size_t name_width, std::vector<Replacement>& replacements) {
  std::size_t bar_count = 0;
  for (const TidyLine& line : lines) bar_count = std::max(bar_count, line.bars.size());
  std::vector<BarColumn> columns;
  for (std::size_t bar = 0; bar < bar_count; ++bar) columns.push_back(measure(lines, bar));
  for (const TidyLine& line : lines) {
    std::string text = padded(line.name, name_width) + " |";
    for (std::size_t bar = 0; bar < line.bars.size(); ++bar) {
      const std::vector<std::string>& beats = line.bars[bar];
      const std::vector<std::size_t>& widths = columns[bar].beats.at(beats.size());
      std::string body;
      for (std::size_t i = 0; i < beats.size(); ++i) body += (i > 0 ? " : " : "") + padded(beats[i], widths[i]);
      text += " " + padded(std::move(body), columns[bar].total) + " |";
    }
    replacements.push_back({line.span, std::move(text)});
  }
}

class Tidier {
 public:
  void block(const yaml::Node& node) {
    if (node.style != yaml::ScalarStyle::Literal) return;
    for (const yaml::TextLine& line : node.lines) add(line);
    end_stanza();
    // The names of all stanzas of a block share one column, so that the first bars stand below each other.
    for (const std::vector<TidyLine>& stanza : stanzas_) align(stanza, name_width_, replacements_);
    stanzas_.clear();
    name_width_ = 0;
  }

  std::string apply(std::string_view text) {
    std::sort(replacements_.begin(), replacements_.end(),
              [](const Replacement& a, const Replacement& b) { return a.span.begin < b.span.begin; });
    std::string made;
    std::size_t at = 0;
    for (const Replacement& replacement : replacements_) {
      if (replacement.span.begin < at) continue;
      made += text.substr(at, replacement.span.begin - at);
      made += replacement.text;
      at = replacement.span.end;
    }
    made += text.substr(at);
    return made;
  }

 private:
  void add(const yaml::TextLine& line) {
    const RawLine raw = scan_line(line.text);
    if (raw.kind == RawLine::Kind::Blank) {
      end_stanza();
      return;
    }
    if (raw.kind == RawLine::Kind::Comment) return;
    if (raw.kind == RawLine::Kind::Other || !raw.faults.empty() || line.span.length() != line.text.size()) {
      sound_ = false;
      return;
    }
    const std::string_view text = line.text;
    TidyLine tidy;
    // Blanks behind the last bar line go, unless a comment stands there.
    const std::size_t end = raw.comment == std::string::npos ? text.size() : raw.body_end;
    tidy.span = {line.span.file, line.span.begin, line.span.begin + static_cast<std::uint32_t>(end)};
    tidy.name = single_blanks(text.substr(raw.name_begin, raw.name_end - raw.name_begin));
    for (const RawBar& bar : raw.bars) tidy.bars.push_back(beats_of(bar, text));
    lines_.push_back(std::move(tidy));
  }

  void end_stanza() {
    if (sound_ && !lines_.empty()) {
      for (const TidyLine& line : lines_) name_width_ = std::max(name_width_, width(line.name));
      stanzas_.push_back(std::move(lines_));
    }
    lines_.clear();
    sound_ = true;
  }

  std::vector<TidyLine> lines_;
  std::vector<std::vector<TidyLine>> stanzas_;
  std::size_t name_width_ = 0;
  bool sound_ = true;
  std::vector<Replacement> replacements_;
};

}  // namespace

std::string tidy(const yaml::Node& root, const source::File& file) {
  diag::Sink unheard;
  Context context{file, unheard};
  read_with(context, root);
  Tidier tidier;
  for (const yaml::Node* block : context.lane_blocks) tidier.block(*block);
  return tidier.apply(file.text());
}

}  // namespace tunesheaf::song

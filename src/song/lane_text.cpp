#include "lane_text.h"

#include "tunesheaf/diag/words.h"

namespace tunesheaf::song {
namespace {

constexpr std::string_view kNoBreakSpace = "\xC2\xA0";

class LineScanner {
 public:
  explicit LineScanner(std::string_view line) : line_(line) {}

  RawLine scan() {
    name_odd_blanks();
    const std::size_t first = skip_blanks(0);
    if (first == line_.size()) return std::move(raw_);
    if (line_[first] == '#') {
      raw_.kind = RawLine::Kind::Comment;
      raw_.comment = first;
      return std::move(raw_);
    }
    at_ = first;
    if (!read_name(first)) return std::move(raw_);
    read_bars();
    name_repeat_signs();
    return std::move(raw_);
  }

 private:
  std::size_t blank_width(std::size_t at) const {
    if (at >= line_.size()) return 0;
    if (line_[at] == ' ' || line_[at] == '\t' || line_[at] == '\r') return 1;
    return line_.substr(at, kNoBreakSpace.size()) == kNoBreakSpace ? kNoBreakSpace.size() : 0;
  }
  std::size_t skip_blanks(std::size_t at) const {
    while (const std::size_t width = blank_width(at)) at += width;
    return at;
  }
  bool comment_at(std::size_t at) const {
    if (line_[at] != '#') return false;
    if (at == 0) return true;
    const char before = line_[at - 1];
    return before == ' ' || before == '\t' || (at >= 2 && line_.substr(at - 2, 2) == kNoBreakSpace);
  }
  void fault(diag::Kind kind, std::size_t begin, std::size_t end, std::string situation, std::string rule,
             std::string remedy) {
    raw_.faults.push_back({kind, begin, end, std::move(situation), std::move(rule), std::move(remedy)});
  }

  void name_odd_blanks() {
    const std::size_t tab = line_.find('\t');
    const std::size_t hard = line_.find(kNoBreakSpace);
    if (tab != std::string_view::npos && skip_blanks(0) < line_.size()) {
      fault(diag::Kind::TabInLane, tab, tab + 1, "a tab stands in a lane",
            "tabs are as wide as each editor likes, so bar lines would not line up", "put spaces in its place");
    } else if (hard != std::string_view::npos && skip_blanks(0) < line_.size()) {
      fault(diag::Kind::TabInLane, hard, hard + kNoBreakSpace.size(), "a no-break space stands in a lane",
            "cells are parted by plain spaces", "put a plain space in its place");
    }
  }

  bool read_name(std::size_t first) {
    std::size_t last = first;
    while (at_ < line_.size() && line_[at_] != '|' && !comment_at(at_)) {
      const std::size_t width = blank_width(at_);
      at_ += width > 0 ? width : 1;
      if (width == 0) last = at_;
    }
    raw_.name_begin = first;
    raw_.name_end = last;
    if (at_ < line_.size() && line_[at_] == '|') {
      raw_.kind = RawLine::Kind::Lane;
      ++at_;
      return true;
    }
    raw_.kind = RawLine::Kind::Other;
    if (at_ < line_.size()) raw_.comment = at_;
    return false;
  }

  void read_bars() {
    raw_.bars.push_back({at_, at_, {}});
    while (at_ < line_.size()) {
      if (const std::size_t width = blank_width(at_)) {
        at_ += width;
      } else if (comment_at(at_)) {
        raw_.comment = at_;
        break;
      } else if (line_[at_] == '|') {
        bar_line();
      } else {
        raw_.bars.back().tokens.push_back(read_token());
      }
    }
    finish_bars();
  }

  void bar_line() {
    RawBar& bar = raw_.bars.back();
    if (bar.begin == at_) {
      fault(diag::Kind::DoubleBarLine, at_ - 1, at_ + 1, "two bar lines stand together", "each | ends one bar",
            "leave one of them out, or put a space between them for an empty bar");
      bar.begin = ++at_;
      return;
    }
    bar.end = at_++;
    raw_.body_end = at_;
    raw_.bars.push_back({at_, at_, {}});
  }

  /// The last bar is what stands behind the last bar line: it must be nothing.
  void finish_bars() {
    RawBar& rest = raw_.bars.back();
    if (rest.tokens.empty()) {
      if (raw_.body_end == 0) {
        raw_.body_end = rest.begin;
        fault(diag::Kind::MissingBarLine, rest.begin - 1, rest.begin, "the lane ends after its first bar line",
              "each bar stands between two |", "write its bars, each ended by |");
      }
      raw_.bars.pop_back();
      return;
    }
    rest.end = rest.tokens.back().end;
    raw_.body_end = rest.end;
    if (quote_open_) return;  // the bar line is inside the quote
    std::string situation = "the last bar has no | behind it";
    std::string remedy = "end the bar with |";
    if (raw_.comment != std::string::npos && raw_.comment + 1 < line_.size() && line_[raw_.comment + 1] != ' ') {
      situation += ": a comment begins at the # after a blank";
      remedy += ", and leave no blank before a sharp (F#m)";
    }
    fault(diag::Kind::MissingBarLine, rest.tokens.front().begin, rest.end, situation,
          "every bar is ended by a bar line, the last one too", remedy);
  }

  Token read_token() {
    Token token;
    token.begin = at_;
    if (line_[at_] == '"') {
      const std::size_t close = line_.find('"', at_ + 1);
      token.quoted = true;
      token.end = close == std::string_view::npos ? line_.size() : close + 1;
      token.text = std::string(line_.substr(at_ + 1, (close == std::string_view::npos ? token.end : close) - at_ - 1));
      at_ = token.end;
      quote_open_ = close == std::string_view::npos;
      if (quote_open_) {
        fault(diag::Kind::LaneQuoteOpen, token.begin, token.end, "a quote is opened and not closed on its line",
              "a text in quotes ends on the line it begins on", "close it with \"");
      }
      return token;
    }
    while (at_ < line_.size() && line_[at_] != '|' && blank_width(at_) == 0) ++at_;
    token.end = at_;
    token.text = std::string(line_.substr(token.begin, token.end - token.begin));
    return token;
  }

  /// |: and :| are named and then read as plain bar lines.
  void name_repeat_signs() {
    for (RawBar& bar : raw_.bars) {
      if (bar.tokens.empty()) continue;
      Token& first = bar.tokens.front();
      if (!first.quoted && first.begin == bar.begin && first.text.front() == ':') {
        repeat_sign(bar.begin - 1, bar.begin + 1, "|:");
        ++first.begin;
        first.text.erase(0, 1);
        if (first.text.empty()) bar.tokens.erase(bar.tokens.begin());
      }
      if (bar.tokens.empty()) continue;
      Token& last = bar.tokens.back();
      if (!last.quoted && last.end == bar.end && last.text.back() == ':' && bar.end < line_.size() &&
          line_[bar.end] == '|') {
        repeat_sign(bar.end - 1, bar.end + 1, ":|");
        --last.end;
        last.text.pop_back();
        if (last.text.empty()) bar.tokens.pop_back();
      }
    }
  }

  void repeat_sign(std::size_t begin, std::size_t end, const std::string& sign) {
    fault(diag::Kind::RepeatSign, begin, end, "\"" + sign + "\" is a repeat sign",
          "repeats belong to the section, not to a lane: `times: 2`, and `endings` where the passes end differently",
          "write a plain |, and `times` in the section; a colon between beats has a space on both sides");
  }

  std::string_view line_;
  std::size_t at_ = 0;
  bool quote_open_ = false;
  RawLine raw_;
};

}  // namespace

RawLine scan_line(std::string_view line) {
  return LineScanner(line).scan();
}

}  // namespace tunesheaf::song

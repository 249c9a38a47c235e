// Text: keys, values with and without quotes, and blocks of lines.
#include <algorithm>

#include "scanner.h"
#include "tunesheaf/base/ascii.h"
#include "tunesheaf/base/utf8.h"

namespace tunesheaf::yaml {
namespace {

using base::is_digit;

bool is_letter(char c) {
  return (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z') || static_cast<unsigned char>(c) >= 0x80;
}

int hex_value(char c) {
  if (is_digit(c)) return c - '0';
  if (c >= 'a' && c <= 'f') return c - 'a' + 10;
  if (c >= 'A' && c <= 'F') return c - 'A' + 10;
  return -1;
}

// What an escape may stand for: nothing invisible that the byte check refuses in plain sight.
bool may_be_escaped(char32_t c) {
  if (c < 0x20 || (c >= 0x7F && c < 0xA0) || c == 0x2028 || c == 0x2029 || c == 0xFEFF) return false;
  if ((c >= 0x202A && c <= 0x202E) || (c >= 0x2066 && c <= 0x2069)) return false;
  return c <= 0x10FFFF && !(c >= 0xD800 && c <= 0xDFFF);
}

}  // namespace

bool Scanner::comment_at(std::uint32_t at) const {
  return peek(at) == '#' && (at == line_begin_ || text_[at - 1] == ' ' || text_[at - 1] == '\t');
}

// A `#` one space behind a value and tight on the next sign is more often a number or a sharp than a comment.
void Scanner::doubtful_comment(Range value, std::uint32_t hash) {
  const bool one_space = hash == value.end + 1;
  const bool tight = !blank_at(hash + 1) && peek(hash + 1) != '#';
  const char last = value.end > value.begin ? text_[value.end - 1] : ' ';
  const bool word_of_one = value.end < value.begin + 2 || text_[value.end - 2] == ' ';
  const bool note_name = last >= 'A' && last <= 'G' && word_of_one;
  if (one_space && (tight || note_name)) faults_.hash_in_text(rest_of_line(hash), value);
}

// Text without quotes as far as `stop`, a comment or the blanks before either.
Range Scanner::plain_range(std::uint32_t at, std::uint32_t stop) const {
  std::uint32_t end = at;
  for (std::uint32_t i = at; i < stop && !comment_at(i); ++i) {
    if (!blank_at(i)) end = i + 1;
  }
  return {at, end};
}

// The parser behind us knows names of up to 1024 bytes.
bool Scanner::name_fits(Range name) {
  constexpr std::uint32_t kLongestName = 200;
  if (name.end - name.begin <= kLongestName) return true;
  if (base::count_code_points(text_.substr(name.begin, name.end - name.begin)) <= kLongestName) return true;
  faults_.name_too_long(name);
  return false;
}

// `shape | home |`: words, then bar lines with room around them.
bool Scanner::lane_like(std::uint32_t at) const {
  while (blank_at(at) && at < line_end_) ++at;
  for (std::uint32_t i = at; i < line_end_; ++i) {
    if (text_[i] == ':' && blank_at(i + 1)) return false;
    if (comment_at(i)) return false;
    if (text_[i] == '|' && i > at && blank_at(i - 1) && blank_at(i + 1)) return true;
  }
  return false;
}

// `key:value`: where the colon stands, when the text looks like a name and its value run together.
std::optional<std::uint32_t> Scanner::tight_colon(Range text) const {
  if (text.begin >= text.end || !is_letter(text_[text.begin])) return std::nullopt;
  for (std::uint32_t i = text.begin; i < text.end; ++i) {
    const char c = text_[i];
    if (c == ':') {
      if (i + 1 >= text.end || blank_at(i + 1) || text_[i + 1] == '/' || text_[i + 1] == ':') return std::nullopt;
      return i;
    }
    if (!is_letter(c) && !is_digit(c) && c != ' ' && c != '-' && c != '_') return std::nullopt;
  }
  return std::nullopt;
}

std::optional<Scanner::Key> Scanner::find_key(std::uint32_t at) {
  const char c = peek(at);
  if (c == '"' || c == '\'') {
    bool fine = true;
    const std::optional<std::uint32_t> end = quote_end(at, fine);
    if (!end) return std::nullopt;
    const std::uint32_t colon = skip_blanks(*end);
    if (peek(colon) != ':' || !blank_at(colon + 1)) return std::nullopt;
    if (!quoted(at, {at, *end})) return std::nullopt;
    return Key{{at, *end}, colon, c == '"' ? ScalarStyle::DoubleQuoted : ScalarStyle::SingleQuoted};
  }
  if (c == '[' || c == '{' || c == '|' || c == '>') return std::nullopt;
  for (std::uint32_t i = at; i < line_end_ && !comment_at(i); ++i) {
    if (text_[i] != ':' || !blank_at(i + 1)) continue;
    const Range text = plain_range(at, i);
    if (text.begin == text.end) {
      faults_.missing_name({i, i + 1});
      levels_.back().pending = false;
      stop();
      return std::nullopt;
    }
    special(at, text);
    return Key{text, i, ScalarStyle::Plain};
  }
  return std::nullopt;
}

// The value behind `name: ` or `- `, or on the line below its name.
void Scanner::value(std::uint32_t at) {
  Level& top = levels_.back();
  top.pending = false;
  const Range whole = rest_of_line(at);
  top.value = whole;
  switch (peek(at)) {
    case '"':
    case '\'':
      if (const auto end = quoted(at, whole)) {
        const char c = peek(at);
        emit({TokenKind::Scalar,
              {at, *end},
              c == '"' ? ScalarStyle::DoubleQuoted : ScalarStyle::SingleQuoted,
              false,
              {},
              {}});
        levels_.back().value = {at, *end};
        after_value({at, *end}, false);
      }
      return;
    case '[':
    case '{':
      if (const auto end = flow(at)) {
        levels_.back().value = {at, *end};
        after_value({at, *end}, true);
      }
      return;
    case '|':
    case '>':
      return block_text(at);
    default:
      break;
  }
  if (peek(at) == '-' && blank_at(at + 1)) return faults_.dash_after_colon(whole);
  if (special(at, whole)) return;
  plain(at);
}

// True, with a message, when the first sign of a text means something else to the reader of the file.
bool Scanner::special(std::uint32_t at, Range whole) {
  const auto word_end = [&] {
    std::uint32_t i = at + 1;
    while (!blank_at(i) && peek(i) != ',' && peek(i) != '}' && peek(i) != ']') ++i;
    return i;
  };
  const bool alone = word_end() >= whole.end;
  const char next = peek(at + 1);
  switch (peek(at)) {
    case '&':
      if (is_letter(next) || is_digit(next)) {
        faults_.anchor(whole);
      } else {
        faults_.needs_quotes(whole, "&");
      }
      return true;
    case '*':
      if (alone && is_letter(next) && text_[whole.end - 1] != '*') {
        faults_.alias(whole);
      } else {
        faults_.needs_quotes(whole, "*");
      }
      return true;
    case '!':
      if (next == '!' || next == '<' || is_letter(next)) {
        faults_.tag(whole);
      } else {
        faults_.needs_quotes(whole, "!");
      }
      return true;
    case '%':
    case '@':
    case '`':
    case ',':
    case ']':
    case '}':
    case '|':
    case '>':
    case '#':
      faults_.needs_quotes(whole, text_.substr(at, 1));
      return true;
    case '?':
    case '-':
    case ':':
      if (!blank_at(at + 1)) return false;
      faults_.needs_quotes(whole, text_.substr(at, 1));
      return true;
    default:
      return false;
  }
}

void Scanner::plain(std::uint32_t at) {
  const Range text = plain_range(at, line_end_);
  levels_.back().value = text;
  if (lane_like(at) || (peek(text.end - 1) == '|' && text.end - 1 > at && blank_at(text.end - 2))) {
    faults_.lanes_without_bar(text, levels_.back().last);
    skip_lanes_ = true;
    return;
  }
  for (std::uint32_t i = at; i < text.end; ++i) {
    if (text_[i] == ':' && blank_at(i + 1)) return faults_.colon_in_text(text, {i, i + 1});
  }
  text_token_ = tokens_.size();
  if (!emit({TokenKind::Scalar, text, ScalarStyle::Plain, false, {}, {}})) return;
  const std::uint32_t rest = skip_blanks(text.end);
  text_open_ = rest >= line_end_;
  if (!text_open_) doubtful_comment(text, rest);
}

// --- quotes

std::optional<std::uint32_t> Scanner::quote_end(std::uint32_t at, bool& fine) {
  const char quote = peek(at);
  for (std::uint32_t i = at + 1; i < line_end_;) {
    if (quote == '"' && text_[i] == '\\') {
      i = escape_end(i, fine);
    } else if (text_[i] != quote) {
      ++i;
    } else if (quote == '\'' && peek(i + 1) == '\'') {
      i += 2;
    } else {
      return i + 1;
    }
  }
  return std::nullopt;
}

std::uint32_t Scanner::escape_end(std::uint32_t at, bool& fine) {
  const char c = peek(at + 1);
  const std::uint32_t digits = c == 'x' ? 2 : c == 'u' ? 4 : c == 'U' ? 8 : 0;
  if (digits == 0) {
    fine = fine && c != '\0' && std::string_view("\"\\/nt ").find(c) != std::string_view::npos;
    return std::min(at + 2, line_end_);
  }
  char32_t value = 0;
  for (std::uint32_t i = 0; i < digits; ++i) {
    const int digit = hex_value(peek(at + 2 + i));
    if (digit < 0) {
      fine = false;
      return at + 2;
    }
    value = (value << 4) | static_cast<char32_t>(digit);
  }
  fine = fine && may_be_escaped(value);
  return at + 2 + digits;
}

// The end of a quoted text, or nothing after a message. `whole` is the value as the user sees it.
std::optional<std::uint32_t> Scanner::quoted(std::uint32_t at, Range whole) {
  for (std::uint32_t i = at + 1; peek(at) == '"' && i < line_end_ && text_[i] != '"';) {
    bool fine = true;
    const std::uint32_t end = text_[i] == '\\' ? escape_end(i, fine) : i + 1;
    if (!fine) {
      faults_.bad_escape({i, end});
      return std::nullopt;
    }
    i = end;
  }
  bool fine = true;
  const std::optional<std::uint32_t> end = quote_end(at, fine);
  if (!end) faults_.open_quote({at, at + 1}, whole);
  return end;
}

// Behind a quoted text or a closing bracket: the end of the line or a comment.
void Scanner::after_value(Range value, bool bracket) {
  const std::uint32_t rest = skip_blanks(value.end);
  if (rest >= line_end_) return;
  if (comment_at(rest)) return doubtful_comment(value, rest);
  if (bracket) {
    if (peek(rest) == ':') return faults_.bracket_as_name(value);
    return faults_.text_after_bracket(rest_of_line(rest));
  }
  faults_.text_after_quote({value.begin, rest_of_line(rest).end}, rest_of_line(rest));
}

// --- blocks of lines

void Scanner::block_text(std::uint32_t at) {
  const bool lanes = peek(at) == '|';
  std::uint32_t rest = at + 1;
  if (peek(rest) == '-' || peek(rest) == '+') ++rest;
  const std::uint32_t behind = skip_blanks(rest);
  const int parent = levels_.back().indent;
  if (behind < line_end_ && (!comment_at(behind) || behind == rest)) {
    const Range header = rest_of_line(at);
    if (!lanes || header.end - header.begin < 4) {
      faults_.block_mark(header);
    } else {
      faults_.lanes_beside_bar(header);
    }
    skip_lanes_ = true;
    return;
  }
  Token token{TokenKind::Scalar, {at, rest}, lanes ? ScalarStyle::Literal : ScalarStyle::Folded, false, {}, {}};
  block_lines(token, parent);
  levels_.back().value = {at, rest};
  emit(std::move(token));
}

void Scanner::block_lines(Token& token, int parent) {
  std::uint32_t indent = 0;    // not yet known
  std::vector<Range> waiting;  // blank lines, which belong to the block only when more follows
  block_ = Block{parent, token.range, false, {}};
  while (next_line_ < text_.size()) {
    const std::uint32_t begin = next_line_;
    const Range line_before{line_begin_, next_line_};
    take_line(begin);
    std::uint32_t spaces = 0;
    while (peek(begin + spaces) == ' ') ++spaces;
    if (begin + spaces >= line_end_) {
      waiting.push_back({begin, line_end_});
      continue;
    }
    const bool short_of_lanes = indent == 0 || spaces < indent;
    // The parser reads a tab here as a broken indentation, even where nothing follows it.
    if (short_of_lanes && text_[begin + spaces] == '\t' && skip_blanks(begin + spaces) >= line_end_) {
      return tab_line(begin + spaces);
    }
    const bool inside = indent > 0 ? spaces >= indent : static_cast<int>(spaces) > std::max(parent, 0);
    if (!inside) {
      if (peek(begin + spaces) == '#') {
        block_->ended_by_comment = true;
        block_->comment = rest_of_line(begin + spaces);
      }
      take_line(line_before.begin);
      break;
    }
    const bool first = indent == 0;
    if (first) {
      indent = spaces;
      block_->first = rest_of_line(begin + spaces);
    }
    for (const Range& gap : waiting) {
      // Before the first line, blanks beyond its indentation are nothing but blanks.
      const bool wide = first && gap.end - gap.begin > indent;
      if (wide) token.wide_gaps.push_back(gap);
      token.lines.push_back({wide ? gap.end : std::min(gap.begin + indent, gap.end), gap.end});
    }
    waiting.clear();
    token.lines.push_back({begin + indent, line_end_});
    token.range.end = line_end_;
  }
}

}  // namespace tunesheaf::yaml

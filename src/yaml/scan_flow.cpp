// Brackets: { name: value, … } and [ a, b, … ], over several lines if need be.
//
//   state     WantKey --text--> HaveKey --:--> WantValue --node--> HaveValue --,--> WantKey   (a list: WantValue)
#include <algorithm>

#include "scanner.h"

namespace tunesheaf::yaml {

std::optional<std::uint32_t> Scanner::flow(std::uint32_t at) {
  brackets_.clear();
  if (!flow_open(at)) return std::nullopt;
  while (!brackets_.empty()) {
    const std::uint32_t open = brackets_.back().open;
    const std::optional<std::uint32_t> next = flow_space(at);
    if (!next) {
      if (!stopped_) faults_.open_bracket({open, open + 1}, rest_of_line(line_begin_));
      stop();
      return std::nullopt;
    }
    at = *next;
    if (!flow_step(at)) {
      stop();
      return std::nullopt;
    }
  }
  return at;
}

// The next sign that is not a blank, an end of line or a comment; nothing where the brackets cannot go on.
std::optional<std::uint32_t> Scanner::flow_space(std::uint32_t at) {
  for (;;) {
    at = skip_blanks(at);
    if (at < line_end_ && !comment_at(at)) return at;
    const Bracket& top = brackets_.back();
    const bool behind_value = top.state == FlowState::HaveValue && top.item.end > top.item.begin;
    if (at < line_end_ && behind_value) doubtful_comment(top.item, at);
    if (next_line_ >= text_.size()) return std::nullopt;
    take_line(next_line_);
    at = line_begin_;
    while (peek(at) == ' ') ++at;
    const std::uint32_t first = skip_blanks(at);
    if (first >= line_end_ || comment_at(first)) continue;
    if (peek(at) == '\t') {
      tab_line(at);
      return std::nullopt;
    }
    const bool closes = peek(at) == ']' || peek(at) == '}';
    if (column_of(at) <= levels_.back().indent && !closes) return std::nullopt;
    const std::string_view mark = text_.substr(line_begin_, 3);
    if (at == line_begin_ && (mark == "---" || mark == "...") && blank_at(at + 3)) return std::nullopt;
  }
}

// To the end of the entry at most: what a message about a value in brackets underlines.
Range Scanner::flow_rest(std::uint32_t at) const {
  std::uint32_t end = at;
  while (end < line_end_ && text_[end] != ',' && text_[end] != ']' && text_[end] != '}' && !comment_at(end)) ++end;
  while (end > at && blank_at(end - 1)) --end;
  return {at, end > at ? end : at + 1};
}

bool Scanner::flow_step(std::uint32_t& at) {
  const Bracket& top = brackets_.back();
  const char c = peek(at);
  if (c == ']' || c == '}') return flow_close(at);
  if (c == ',') return flow_comma(at);
  if (c == ':' && (flow_colon_at(at) || (top.json_key && top.state == FlowState::HaveKey))) return flow_colon(at);
  if (top.state == FlowState::HaveKey || top.state == FlowState::HaveValue) return flow_after(at);
  if (c == '[' || c == '{') {
    if (top.state != FlowState::WantKey) return flow_open(at);
    faults_.bracket_as_name({at, at + 1});
    return false;
  }
  return flow_text(at);
}

bool Scanner::flow_open(std::uint32_t& at) {
  if (levels_.size() + brackets_.size() > kMaxDepth) {
    faults_.too_deep({at, at + 1});
    stop();
    return false;
  }
  const bool map = peek(at) == '{';
  Bracket bracket;
  bracket.close = map ? '}' : ']';
  bracket.token = tokens_.size();
  bracket.open = at;
  bracket.state = map ? FlowState::WantKey : FlowState::WantValue;
  brackets_.push_back(bracket);
  ++at;
  return emit({map ? TokenKind::MappingBegin : TokenKind::SequenceBegin, {at - 1, at}, {}, true, {}, {}});
}

void Scanner::flow_done(Range item) {
  if (brackets_.empty()) return;
  brackets_.back().state = FlowState::HaveValue;
  brackets_.back().item = item;
}

bool Scanner::flow_close(std::uint32_t& at) {
  Bracket& top = brackets_.back();
  if (peek(at) != top.close) {
    faults_.stray_bracket({at, at + 1}, {top.open, top.open + 1});
    return false;
  }
  if (top.state == FlowState::HaveKey) return flow_comma(at);
  const bool map = top.close == '}';
  if (map && top.state == FlowState::WantValue)
    emit({TokenKind::Null, {top.colon + 1, top.colon + 1}, {}, false, {}, {}});
  if (stopped_) return false;
  ++at;
  tokens_[top.token].range.end = at;
  const Range whole{top.open, at};
  brackets_.pop_back();
  flow_done(whole);
  return emit({TokenKind::End, {}, {}, true, {}, {}});
}

bool Scanner::flow_comma(std::uint32_t& at) {
  Bracket& top = brackets_.back();
  const bool map = top.close == '}';
  switch (top.state) {
    case FlowState::HaveValue:
      break;
    case FlowState::WantValue:
      if (!map) {
        faults_.stray_comma({at, at + 1});
        return false;
      }
      if (!emit({TokenKind::Null, {top.colon + 1, top.colon + 1}, {}, false, {}, {}})) return false;
      break;
    case FlowState::WantKey:
      faults_.stray_comma({at, at + 1});
      return false;
    case FlowState::HaveKey:
      if (const auto colon = tight_colon(top.key)) {
        faults_.missing_space(top.key, *colon);
      } else if (top.item.end > top.item.begin) {
        std::uint32_t comma = top.item.end;
        while (text_[comma] != ',') ++comma;
        faults_.comma_in_text({comma, comma + 1}, top.item, top.key);
      } else {
        faults_.no_pair(top.key);
      }
      return false;
  }
  top.state = map ? FlowState::WantKey : FlowState::WantValue;
  ++at;
  return true;
}

bool Scanner::flow_colon_at(std::uint32_t at) const {
  if (peek(at) != ':') return false;
  const char next = peek(at + 1);
  return blank_at(at + 1) || next == ',' || next == ']' || next == '}';
}

bool Scanner::flow_colon(std::uint32_t& at) {
  Bracket& top = brackets_.back();
  switch (top.state) {
    case FlowState::HaveKey:
      break;
    case FlowState::WantKey:
      faults_.missing_name({at, at + 1});
      return false;
    case FlowState::HaveValue:
      if (top.item.begin < line_begin_) {
        std::uint32_t first = line_begin_;
        while (blank_at(first)) ++first;
        faults_.missing_comma(flow_rest(first));
      } else if (top.close == ']') {
        faults_.pair_in_list({at, at + 1}, top.item);
      } else {
        faults_.colon_in_text({top.item.begin, flow_rest(at + 1).end}, {at, at + 1});
      }
      return false;
    case FlowState::WantValue:
      faults_.needs_quotes(flow_rest(at), ":");
      return false;
  }
  top.state = FlowState::WantValue;
  top.colon = at;
  ++at;
  return true;
}

// A second text behind a finished one.
bool Scanner::flow_after(std::uint32_t at) {
  const Bracket& top = brackets_.back();
  const Range before = top.state == FlowState::HaveKey ? top.key : top.item;
  const char first = text_[before.begin];
  const char c = peek(at);
  const bool in_text = first != '"' && first != '\'' && first != '[' && first != '{';
  if (in_text && (c == '?' || c == '[' || c == '{')) {
    std::uint32_t inside = at + 1;
    while (c != '?' && inside < line_end_ && peek(inside - 1) != (c == '[' ? ']' : '}')) ++inside;
    const Range rest = inside < line_end_ ? flow_rest(inside) : Range{inside, inside};
    faults_.needs_quotes({before.begin, std::max(inside, rest.end > inside + 1 ? rest.end : inside)},
                         text_.substr(at, 1));
  } else if (first == '"' || first == '\'') {
    faults_.text_after_quote({before.begin, flow_rest(at).end}, flow_rest(at));
  } else {
    faults_.missing_comma(flow_rest(at));
  }
  return false;
}

bool Scanner::flow_text(std::uint32_t& at) {
  Bracket& top = brackets_.back();
  const bool key = top.state == FlowState::WantKey;
  const char c = peek(at);
  Range text;
  ScalarStyle style = ScalarStyle::Plain;
  top.json_key = false;
  if (c == '"' || c == '\'') {
    const std::optional<std::uint32_t> end = quoted(at, flow_rest(at));
    if (!end) return false;
    text = {at, *end};
    style = c == '"' ? ScalarStyle::DoubleQuoted : ScalarStyle::SingleQuoted;
    top.json_key = key;
  } else {
    if (special(at, flow_rest(at))) return false;
    if (c == '?') {
      faults_.needs_quotes(flow_rest(at), "?");
      return false;
    }
    text = plain_range(at, flow_plain_end(at));
    if (key && text_.substr(text.begin, text.end - text.begin) == "<<") faults_.merge(text);
  }
  if (!emit({TokenKind::Scalar, text, style, false, {}, {}})) return false;
  at = text.end;
  if (key) {
    if (!name_fits(text)) return false;
    top.state = FlowState::HaveKey;
    top.key = text;
    return true;
  }
  flow_done(text);
  return style != ScalarStyle::Plain || flow_plain(at);
}

std::uint32_t Scanner::flow_plain_end(std::uint32_t at) const {
  std::uint32_t end = at;
  while (end < line_end_ && !comment_at(end) && !flow_colon_at(end) &&
         std::string_view(",?[]{}").find(text_[end]) == std::string_view::npos) {
    ++end;
  }
  return end;
}

// A value without quotes may go on in the next lines.
bool Scanner::flow_plain(std::uint32_t& at) {
  const std::size_t token = tokens_.size() - 1;
  while (skip_blanks(at) >= line_end_) {
    const std::optional<std::uint32_t> next = flow_space(at);
    if (!next) {
      if (!stopped_)
        faults_.open_bracket({brackets_.back().open, brackets_.back().open + 1}, rest_of_line(line_begin_));
      return false;
    }
    at = *next;
    if (std::string_view(",?[]{}").find(peek(at)) != std::string_view::npos || flow_colon_at(at)) return true;
    const Range more = plain_range(at, flow_plain_end(at));
    tokens_[token].range.end = more.end;
    brackets_.back().item.end = more.end;
    at = more.end;
  }
  return true;
}

}  // namespace tunesheaf::yaml

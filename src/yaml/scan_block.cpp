// Block layout: which line belongs to which, told by indentation.
#include <algorithm>
#include <utility>

#include "bytes.h"
#include "scanner.h"

namespace tunesheaf::yaml {

Scanner::Scanner(const source::File& file, diag::Sink& sink)
    : file_(file), sink_(sink), faults_(file, sink), text_(file.text()) {
  levels_.push_back(Level{});
}

bool Scanner::run() {
  next_line_ = byte_order_mark(text_);
  while (!stopped_ && next_line_ < text_.size() && faults_.errors() < kMostErrors) {
    take_line(next_line_);
    block_line();
  }
  if (faults_.errors() > 0) return false;
  pop_deeper_than(-1);
  if (levels_.front().pending) {
    sink_.add(diag::Kind::FileEmpty, {file_.id(), 0, 0}, "the file holds nothing but comments",
              "a song file holds at least `song:` with a title",
              "type the song, or let `tunesheaf new FILE.yaml` write one to start from");
    return false;
  }
  return faults_.errors() == 0;
}

std::optional<std::vector<Token>> scan(const source::File& file, diag::Sink& sink) {
  Scanner scanner(file, sink);
  if (!scanner.run()) return std::nullopt;
  return scanner.take();
}

bool Scanner::emit(Token token) {
  if (token.kind != TokenKind::End && ++nodes_ > kMaxNodes) {
    if (!stopped_) faults_.too_many_values(token.range);
    stop();
    return false;
  }
  tokens_.push_back(std::move(token));
  return true;
}

std::uint32_t Scanner::skip_blanks(std::uint32_t at) const {
  while (at < line_end_ && blank_at(at)) ++at;
  return at;
}

Range Scanner::rest_of_line(std::uint32_t at) const {
  std::uint32_t end = line_end_;
  while (end > at && (text_[end - 1] == ' ' || text_[end - 1] == '\t')) --end;
  return {at, end};
}

void Scanner::take_line(std::uint32_t begin) {
  const std::size_t feed = text_.find('\n', begin);
  line_begin_ = begin;
  line_end_ = static_cast<std::uint32_t>(std::min(feed, text_.size()));
  next_line_ = feed == std::string_view::npos ? line_end_ : line_end_ + 1;
  if (line_end_ > line_begin_ && text_[line_end_ - 1] == '\r') --line_end_;
}

void Scanner::block_line() {
  std::uint32_t at = line_begin_;
  while (peek(at) == ' ') ++at;
  if (skip_blanks(at) >= line_end_) return;
  if (peek(at) == '\t') return tab_line(at);
  if (peek(at) == '#') {
    text_open_ = false;
    comment_ = rest_of_line(at);
    return;
  }
  if (skip_lanes_ && lane_like(at)) return;
  skip_lanes_ = false;
  if (at == line_begin_ && marker_line()) return;
  if (ended_) {
    faults_.second_document(rest_of_line(at));
    return stop();
  }
  const std::optional<Block> block = std::exchange(block_, std::nullopt);
  const std::optional<Range> comment = std::exchange(comment_, std::nullopt);
  if (block && after_block(*block, at)) return;
  structure(at, comment);
}

void Scanner::tab_line(std::uint32_t tab) {
  if (tab_reported_) return;
  tab_reported_ = true;
  std::size_t further = 0;
  for (std::size_t i = next_line_; i < text_.size();) {
    const std::size_t first = text_.find_first_not_of(' ', i);
    if (first != std::string_view::npos && text_[first] == '\t') ++further;
    const std::size_t feed = text_.find('\n', i);
    if (feed == std::string_view::npos) break;
    i = feed + 1;
  }
  faults_.tab_indent({tab, tab + 1}, further);
  // Without a column the line belongs nowhere; what follows would be judged wrongly.
  stop();
}

// `---` at the beginning and `...` at the end are harmless; anything more would start a second document.
bool Scanner::marker_line() {
  const std::string_view mark = text_.substr(line_begin_, 3);
  if ((mark != "---" && mark != "...") || !blank_at(line_begin_ + 3)) {
    if (text_[line_begin_] != '%') return false;
    const std::string_view word = text_.substr(line_begin_, 5);
    if (word != "%YAML" && word.substr(0, 4) != "%TAG") return false;
    faults_.directive(rest_of_line(line_begin_));
    return true;
  }
  const std::uint32_t rest = skip_blanks(line_begin_ + 3);
  const bool bare = rest >= line_end_ || comment_at(rest);
  const bool nothing_yet = levels_.size() == 1 && levels_.front().pending;
  if (mark == "...") {
    ended_ = true;
    if (bare) return true;
  } else if (nothing_yet && !marker_seen_ && !ended_) {
    marker_seen_ = true;
    if (bare) return true;
    faults_.text_beside_marker(rest_of_line(rest));
    stop();
    return true;
  }
  faults_.second_document(rest_of_line(line_begin_));
  stop();
  return true;
}

void Scanner::settle(Level& level) {
  if (!level.pending) return;
  level.pending = false;
  emit({TokenKind::Null, {level.null_at, level.null_at}, {}, false, {}, {}});
}

void Scanner::close_level() {
  settle(levels_.back());
  levels_.pop_back();
  emit({TokenKind::End, {}, {}, false, {}, {}});
}

void Scanner::pop_deeper_than(int indent) {
  while (levels_.size() > 1 && levels_.back().indent > indent) close_level();
}

bool Scanner::push_level(LevelKind kind, int indent, std::uint32_t at) {
  if (levels_.size() > kMaxDepth) {
    faults_.too_deep({at, at + 1});
    stop();
    return false;
  }
  levels_.back().pending = false;
  levels_.back().value = {at, at};
  Level level;
  level.kind = kind;
  level.indent = indent;
  level.pending = false;
  levels_.push_back(level);
  const TokenKind begin = kind == LevelKind::Map ? TokenKind::MappingBegin : TokenKind::SequenceBegin;
  return emit({begin, {at, at}, {}, false, {}, {}});
}

void Scanner::structure(std::uint32_t at, std::optional<Range> comment) {
  const int column = column_of(at);
  if (text_open_ && levels_.back().indent < column) {
    if (continues_text(at)) return;
  }
  text_open_ = false;
  Range inner;
  while (levels_.size() > 1 && levels_.back().indent > column) {
    inner = levels_.back().last;
    close_level();
  }
  // A line between two indents fits neither the inner lines nor the outer ones.
  const Level& top = levels_.back();
  if (inner.end > 0 && top.indent < column && !top.pending) {
    faults_.bad_indent(rest_of_line(at), top.last, inner);
    return stop();
  }
  if (comment && !top.pending && top.indent < column && top.value.end > top.value.begin && !lane_like(at)) {
    faults_.text_after_comment(rest_of_line(at), *comment);
    return stop();
  }
  node(at, column, false);
}

// A line right after a block of lines: deeper than the key means it was meant to belong to the block.
bool Scanner::after_block(const Block& block, std::uint32_t at) {
  if (column_of(at) <= std::max(block.parent, levels_.back().indent)) return false;
  if (block.ended_by_comment) {
    faults_.comment_in_lanes(rest_of_line(at), block.comment);
  } else {
    faults_.first_lane_deeper(rest_of_line(at), block.first);
  }
  skip_lanes_ = true;
  return true;
}

bool Scanner::continues_text(std::uint32_t at) {
  Level& top = levels_.back();
  if (peek(at) == '-' && blank_at(at + 1)) {
    faults_.dash_under_value(rest_of_line(at), top.value);
    stop();
    return true;
  }
  if (lane_like(at)) {
    faults_.lanes_without_bar(rest_of_line(at), top.last);
    skip_lanes_ = true;
    return true;
  }
  for (std::uint32_t i = at; i < line_end_; ++i) {
    if (comment_at(i)) break;
    if (text_[i] != ':' || !blank_at(i + 1)) continue;
    faults_.under_a_value(rest_of_line(at), top.value);
    stop();
    return true;
  }
  const Range more = plain_range(at, line_end_);
  Token& token = tokens_[text_token_];
  token.range.end = more.end;
  top.value.end = more.end;
  const std::uint32_t rest = skip_blanks(more.end);
  if (rest < line_end_) {
    doubtful_comment(token.range, rest);
    text_open_ = false;
  }
  return true;
}

void Scanner::node(std::uint32_t at, int column, bool after_dash) {
  if (stopped_) return;
  const char c = peek(at);
  if (c == '-' && blank_at(at + 1)) return entry(at, column);
  if (c == '?' && blank_at(at + 1)) {
    faults_.question_mark(rest_of_line(at));
    levels_.back().pending = false;
    return;
  }
  if (!after_dash && c != '"' && c != '\'' && lane_like(at)) return own_line_text(at, column, after_dash);
  if (const std::optional<Key> found = find_key(at)) return key(*found, column);
  if (stopped_) return;
  own_line_text(at, column, after_dash);
}

void Scanner::entry(std::uint32_t at, int column) {
  Level* top = &levels_.back();
  if (top->kind == LevelKind::List && top->indent == column) {
    settle(*top);
  } else if (top->pending && (top->indent < column || (top->kind == LevelKind::Map && top->indent == column))) {
    if (!push_level(LevelKind::List, column, at)) return;
  } else {
    if (top->indent == column) {
      faults_.list_mixed(rest_of_line(at), top->last);
    } else {
      faults_.dash_under_value(rest_of_line(at), top->value);
    }
    return stop();
  }
  top = &levels_.back();
  top->pending = true;
  top->null_at = at + 1;
  top->last = {at, at + 1};
  const std::uint32_t rest = skip_blanks(at + 1);
  if (rest >= line_end_ || comment_at(rest)) return;
  if (text_.substr(at, rest - at).find('\t') != std::string_view::npos) {
    return tab_line(static_cast<std::uint32_t>(text_.find('\t', at)));
  }
  node(rest, column_of(rest), true);
}

void Scanner::key(const Key& found, int column) {
  Level* top = &levels_.back();
  const bool list_of_key = top->kind == LevelKind::List && top->indent == column && levels_.size() > 2 &&
                           levels_[levels_.size() - 2].kind == LevelKind::Map &&
                           levels_[levels_.size() - 2].indent == column;
  if (list_of_key) {
    close_level();
    top = &levels_.back();
  }
  if (top->kind == LevelKind::Map && top->indent == column) {
    settle(*top);
  } else if (top->pending && top->indent < column) {
    if (!push_level(LevelKind::Map, column, found.text.begin)) return;
  } else {
    return misplaced_key(found, column);
  }
  top = &levels_.back();
  if (!name_fits(found.text)) return stop();
  const std::string_view word = text_.substr(found.text.begin, found.text.end - found.text.begin);
  if (word == "<<") faults_.merge({found.text.begin, found.colon + 1});
  emit({TokenKind::Scalar, found.text, found.style, false, {}, {}});
  top->pending = true;
  top->null_at = found.colon + 1;
  top->last = found.text;
  top->value = {};
  const std::uint32_t rest = skip_blanks(found.colon + 1);
  if (rest >= line_end_ || comment_at(rest)) return;
  value(rest);
}

void Scanner::misplaced_key(const Key& found, int column) {
  const Level& top = levels_.back();
  if (top.indent == column) {
    faults_.list_mixed(rest_of_line(found.text.begin), top.last);
  } else if (top.value.end > top.value.begin) {
    faults_.under_a_value(rest_of_line(found.text.begin), top.value);
  } else {
    faults_.bad_indent(rest_of_line(found.text.begin), top.last, {});
  }
  stop();
}

// A line that is neither `- ` nor `name:`: the value of the key above, or a slip.
void Scanner::own_line_text(std::uint32_t at, int column, bool after_dash) {
  const Level& top = levels_.back();
  const bool waited_for = top.pending && top.indent < column;
  const char c = peek(at);
  const bool plain_start = c != '"' && c != '\'' && c != '[' && c != '{' && c != '|' && c != '>';
  if (!after_dash && plain_start && lane_like(at)) {
    const bool indented = waited_for || top.indent < column;
    if (indented) {
      faults_.lanes_without_bar(rest_of_line(at), top.last);
    } else {
      faults_.lanes_not_indented(rest_of_line(at), top.last);
    }
    levels_.back().pending = false;
    skip_lanes_ = true;
    return;
  }
  const bool root = top.kind == LevelKind::Root;
  const bool tight_place = !after_dash && plain_start;
  if (tight_place) {
    if (const auto colon = tight_colon(rest_of_line(at))) {
      faults_.missing_space(rest_of_line(at), *colon);
      if (waited_for) push_level(LevelKind::Map, column, at);
      return;
    }
  }
  if (waited_for && (!root || !plain_start)) return value(at);
  if (bool fine = true; (c == '"' || c == '\'') && !quote_end(at, fine)) {
    return faults_.open_quote({at, at + 1}, rest_of_line(at));
  }
  if (top.indent < column && !root) {
    top.value.end > top.value.begin ? faults_.under_a_value(rest_of_line(at), top.value)
                                    : faults_.bad_indent(rest_of_line(at), top.last, {});
  } else if (c == '%' || c == '@' || c == '`' || c == '*' || c == '&' || c == '!') {
    special(at, rest_of_line(at));
  } else {
    faults_.missing_colon(rest_of_line(at));
    if (root) stop();
  }
}

}  // namespace tunesheaf::yaml

#include "build.h"

#include <yaml-cpp/eventhandler.h>
#include <yaml-cpp/exceptions.h>
#include <yaml-cpp/parser.h>

#include <sstream>
#include <string_view>
#include <unordered_map>

#include "bytes.h"

namespace tunesheaf::yaml {
namespace {

/// The parser and the scanner disagree at a byte of the file.
struct Mismatch {
  std::uint32_t offset = 0;
};

std::string_view without_feeds(std::string_view text) {
  while (!text.empty() && text.front() == '\n') text.remove_prefix(1);
  while (!text.empty() && text.back() == '\n') text.remove_suffix(1);
  return text;
}

class Builder : public YAML::EventHandler {
 public:
  Builder(const source::File& file, const std::vector<Token>& tokens, Faults& faults)
      : file_(file), tokens_(tokens), faults_(faults), shift_(byte_order_mark(file.text())) {}

  bool finished() const { return next_ == tokens_.size() && open_.empty() && root_.has_value(); }
  std::uint32_t reached() const { return next_ < tokens_.size() ? tokens_[next_].range.begin : last_; }
  Node take() { return std::move(*root_); }

  void OnDocumentStart(const YAML::Mark&) override {
    if (root_) throw Mismatch{last_};
  }
  void OnDocumentEnd() override {}
  void OnAlias(const YAML::Mark& mark, YAML::anchor_t) override { throw Mismatch{offset(mark)}; }
  void OnAnchor(const YAML::Mark& mark, const std::string&) override { throw Mismatch{offset(mark)}; }

  void OnNull(const YAML::Mark& mark, YAML::anchor_t) override {
    // `~` and `null` are text like any other here; only nothing is nothing.
    if (next_ < tokens_.size() && tokens_[next_].kind == TokenKind::Scalar) {
      const Token& token = expect(TokenKind::Scalar, mark);
      return add(scalar(token, std::string(slice(token.range))));
    }
    const Token& token = expect(TokenKind::Null, mark);
    Node node;
    node.span = span(token.range);
    add(std::move(node));
  }

  void OnScalar(const YAML::Mark& mark, const std::string&, YAML::anchor_t, const std::string& value) override {
    const Token& token = expect(TokenKind::Scalar, mark);
    const bool block = token.style == ScalarStyle::Literal || token.style == ScalarStyle::Folded;
    if (!block && offset(mark) != token.range.begin) throw Mismatch{token.range.begin};
    add(scalar(token, value));
  }

  void OnSequenceStart(const YAML::Mark& mark, const std::string&, YAML::anchor_t, YAML::EmitterStyle::value) override {
    begin(expect(TokenKind::SequenceBegin, mark), NodeKind::Sequence);
  }
  void OnMapStart(const YAML::Mark& mark, const std::string&, YAML::anchor_t, YAML::EmitterStyle::value) override {
    begin(expect(TokenKind::MappingBegin, mark), NodeKind::Mapping);
  }
  void OnSequenceEnd() override { end(); }
  void OnMapEnd() override { end(); }

 private:
  struct Open {
    Node node;
    std::optional<Node> key;
    std::unordered_map<std::string, Range> keys;
  };

  std::uint32_t offset(const YAML::Mark& mark) const { return static_cast<std::uint32_t>(mark.pos) + shift_; }
  std::string_view slice(Range r) const { return file_.text().substr(r.begin, r.end - r.begin); }
  source::Span span(Range r) const { return {file_.id(), r.begin, r.end}; }

  const Token& expect(TokenKind kind, const YAML::Mark& mark) {
    if (next_ >= tokens_.size() || tokens_[next_].kind != kind) throw Mismatch{offset(mark)};
    const Token& token = tokens_[next_++];
    last_ = token.range.begin;
    return token;
  }

  Node scalar(const Token& token, std::string value) const {
    Node node;
    node.kind = NodeKind::Scalar;
    node.span = span(token.range);
    node.style = token.style;
    node.text = std::move(value);
    if (token.style == ScalarStyle::Literal) {
      std::string joined;
      for (const Range& line : token.lines) {
        node.lines.push_back({std::string(slice(line)), span(line)});
        joined += node.lines.back().text + "\n";
      }
      if (without_feeds(joined) != without_feeds(node.text)) throw Mismatch{token.range.begin};
      if (!token.wide_gaps.empty()) node.text = std::move(joined);
    } else if (token.style == ScalarStyle::Folded && !token.wide_gaps.empty()) {
      node.text.erase(0, node.text.find_first_not_of('\n'));
    }
    return node;
  }

  void begin(const Token& token, NodeKind kind) {
    Open open;
    open.node.kind = kind;
    open.node.span = span(token.range);
    open.node.flow = token.flow;
    open_.push_back(std::move(open));
  }

  void end() {
    if (next_ >= tokens_.size() || tokens_[next_].kind != TokenKind::End || open_.empty()) throw Mismatch{last_};
    ++next_;
    if (open_.back().key) throw Mismatch{open_.back().key->span.begin};
    Node node = std::move(open_.back().node);
    open_.pop_back();
    add(std::move(node));
  }

  void add(Node node) {
    if (open_.empty()) {
      root_ = std::move(node);
      return;
    }
    Open& parent = open_.back();
    if (!parent.node.flow) parent.node.span.end = std::max(parent.node.span.end, node.span.end);
    if (parent.node.kind == NodeKind::Sequence) {
      parent.node.items.push_back(std::move(node));
    } else if (!parent.key) {
      if (node.kind != NodeKind::Scalar) throw Mismatch{node.span.begin};
      const Range place{node.span.begin, node.span.end};
      const auto [first, fresh] = parent.keys.emplace(node.text, place);
      if (!fresh) faults_.duplicate_key(place, first->second);
      parent.key = std::move(node);
    } else {
      parent.node.entries.push_back({std::move(*parent.key), std::move(node)});
      parent.key.reset();
    }
  }

  const source::File& file_;
  const std::vector<Token>& tokens_;
  Faults& faults_;
  std::uint32_t shift_;
  std::size_t next_ = 0;
  std::uint32_t last_ = 0;
  std::vector<Open> open_;
  std::optional<Node> root_;
};

// What the parser gets: no byte order mark; `...` at the end turns an open quote into an error; blank lines that are
// wider than the block they open would shift its indentation and become empty ones.
std::string parser_input(const source::File& file, const std::vector<Token>& tokens) {
  std::string text(file.text());
  for (const Token& token : tokens) {
    for (const Range& gap : token.wide_gaps) {
      for (std::uint32_t i = gap.begin; i < gap.end; ++i) text[i] = '\n';
    }
  }
  text.erase(0, byte_order_mark(text));
  return text + "\n...\n";
}

}  // namespace

std::optional<Node> build(const source::File& file, const std::vector<Token>& tokens, diag::Sink& sink) {
  Faults faults(file, sink);
  Builder builder(file, tokens, faults);
  const auto refuse = [&](std::uint32_t offset) {
    const auto size = static_cast<std::uint32_t>(file.text().size());
    const std::uint32_t begin = std::min(offset, size);
    faults.not_readable({begin, std::min(begin + 1, size)});
  };
  try {
    std::istringstream input(parser_input(file, tokens));
    YAML::Parser parser(input);
    parser.HandleNextDocument(builder);
    // A second document would be silently left out.
    if (!builder.finished() || parser.HandleNextDocument(builder)) refuse(builder.reached());
  } catch (const Mismatch& mismatch) {
    refuse(mismatch.offset);
  } catch (const YAML::Exception& error) {
    const bool placed = error.mark.pos >= 0;
    refuse(placed ? static_cast<std::uint32_t>(error.mark.pos) + byte_order_mark(file.text()) : builder.reached());
  }
  if (faults.errors() > 0) return std::nullopt;
  return builder.take();
}

}  // namespace tunesheaf::yaml

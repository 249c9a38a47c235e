// The `nodes` phase: one node per line, `line:column-line:column kind "text"`.
#include "tunesheaf/diag/words.h"
#include "tunesheaf/yaml/node.h"

namespace tunesheaf::yaml {
namespace {

std::string escaped(std::string_view text) {
  std::string out = "\"";
  for (const char c : text) {
    if (c == '"' || c == '\\') out += '\\';
    if (c == '\n') {
      out += "\\n";
    } else if (c == '\t') {
      out += "\\t";
    } else {
      out += c;
    }
  }
  return out + "\"";
}

std::string_view style_word(ScalarStyle style) {
  switch (style) {
    case ScalarStyle::Plain:
      return "plain";
    case ScalarStyle::SingleQuoted:
      return "single-quoted";
    case ScalarStyle::DoubleQuoted:
      return "double-quoted";
    case ScalarStyle::Literal:
      return "lines";
    case ScalarStyle::Folded:
      break;
  }
  return "folded";
}

class NodePrinter {
 public:
  explicit NodePrinter(const source::File& file) : file_(file) {}

  void node(const Node& n, std::size_t depth, const std::string& lead) {
    out_ += std::string(2 * depth, ' ') + lead;
    switch (n.kind) {
      case NodeKind::Null:
        out_ += "nothing" + place(n.span) + "\n";
        return;
      case NodeKind::Scalar:
        out_ += std::string(style_word(n.style)) + " " + escaped(n.text) + place(n.span) + "\n";
        for (const TextLine& line : n.lines) {
          out_ += std::string(2 * depth + 2, ' ') + "| " + escaped(line.text) + place(line.span) + "\n";
        }
        return;
      case NodeKind::Sequence:
        out_ += std::string(n.flow ? "list []" : "list") + place(n.span) + "\n";
        for (const Node& item : n.items) node(item, depth + 1, "- ");
        return;
      case NodeKind::Mapping:
        out_ += std::string(n.flow ? "map {}" : "map") + place(n.span) + "\n";
        for (const Entry& e : n.entries) node(e.value, depth + 1, escaped(e.key.text) + place(e.key.span) + ": ");
        return;
    }
  }

  std::string take() { return std::move(out_); }

 private:
  std::string place(source::Span span) const {
    const source::Place a = file_.place(span.begin);
    const source::Place b = file_.place(span.end);
    return " @" + std::to_string(a.line) + ":" + std::to_string(a.column) + "-" + std::to_string(b.line) + ":" +
           std::to_string(b.column);
  }

  const source::File& file_;
  std::string out_;
};

}  // namespace

std::string print(const Node& node, const source::File& file) {
  NodePrinter printer(file);
  printer.node(node, 0, "");
  return printer.take();
}

}  // namespace tunesheaf::yaml

#include "generated/tree.h"

#include <algorithm>

namespace tunesheaf::generated {
namespace {

bool is_plain(const std::string& words) {
  if (words.empty() || words.front() == ' ' || words.back() == ' ') return false;
  const auto plain = [](char c) {
    const auto byte = static_cast<unsigned char>(c);
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == ' ' || c == '/' ||
           c == '.' || c == '_' || c == '+' || c == '-' || c == '(' || c == ')' || byte >= 0x80;
  };
  if (!std::all_of(words.begin(), words.end(), plain)) return false;
  return words.front() != '-' && words.front() != '.';
}

void write_node(std::string& out, const Node& node, int indent);

void write_entry(std::string& out, const std::string& key, const Node& node, int indent) {
  out += std::string(static_cast<std::size_t>(indent), ' ') + scalar(key) + ":";
  switch (node.kind) {
    case Node::Kind::Text:
      out += " " + (node.raw ? node.text : scalar(node.text)) + "\n";
      break;
    case Node::Kind::Lanes:
      out += " |\n" + node.lanes.text(indent + 2);
      break;
    case Node::Kind::List: {
      out += " [";
      for (std::size_t i = 0; i < node.items.size(); ++i) out += (i > 0 ? ", " : "") + scalar(node.items[i]);
      out += "]\n";
      break;
    }
    case Node::Kind::Map:
      out += "\n";
      write_node(out, node, indent + 2);
      break;
  }
}

void write_node(std::string& out, const Node& node, int indent) {
  for (const auto& [key, value] : node.keys)
    if (!value.empty()) write_entry(out, key, value, indent);
}

bool is_only(const BarCells& bar, const char* sign) {
  return bar.beats.size() == 1 && bar.beats.front().size() == 1 && bar.beats.front().front() == sign;
}

/// A lane that says nothing in a stanza is left out, unless what follows repeats from it.
bool is_needed(const LaneRow& lane, std::size_t from, std::size_t to) {
  for (std::size_t i = from; i < to; ++i)
    if (!lane.bars[i].silent()) return true;
  if (to < lane.bars.size() && (is_only(lane.bars[to], "%") || is_only(lane.bars[to], "%%"))) return true;
  return to + 1 < lane.bars.size() && is_only(lane.bars[to + 1], "%%");
}

}  // namespace

bool BarCells::silent() const {
  for (const auto& beat : beats)
    for (const std::string& cell : beat)
      if (cell != "-") return false;
  return true;
}

std::string BarCells::text() const {
  if (silent()) return "";
  std::string out;
  for (std::size_t b = 0; b < beats.size(); ++b) {
    if (b > 0 && colons) out += " :";
    for (const std::string& cell : beats[b]) out += (out.empty() ? "" : " ") + cell;
  }
  return out;
}

std::string LaneBlock::text(int indent) const {
  std::string out;
  std::vector<int> cuts = breaks;
  cuts.push_back(bars());
  std::size_t from = 0;
  for (const int cut : cuts) {
    const auto to = static_cast<std::size_t>(std::clamp(cut, 0, bars()));
    if (to <= from) continue;
    std::vector<const LaneRow*> rows;
    for (const LaneRow& lane : lanes)
      if (is_needed(lane, from, to)) rows.push_back(&lane);
    if (rows.empty()) rows.push_back(&lanes.front());
    if (!out.empty()) out += "\n";
    for (const LaneRow* lane : rows) {
      out += std::string(static_cast<std::size_t>(indent), ' ') + lane->name + " |";
      for (std::size_t i = from; i < to; ++i) {
        const std::string bar = lane->bars[i].text();
        out += bar.empty() ? " |" : " " + bar + " |";
      }
      out += "\n";
    }
    from = to;
  }
  return out;
}

Node::Node() = default;
Node::Node(const Node& other) = default;
Node::Node(Node&& other) noexcept = default;
Node& Node::operator=(const Node& other) = default;
Node& Node::operator=(Node&& other) noexcept = default;
Node::~Node() = default;

bool Node::empty() const {
  return kind == Kind::Map && keys.empty();
}

Node Node::of_text(std::string words) {
  Node node;
  node.kind = Kind::Text;
  node.text = std::move(words);
  return node;
}

Node Node::of_raw(std::string typed) {
  Node node = of_text(std::move(typed));
  node.raw = true;
  return node;
}

Node Node::of_lanes(LaneBlock block) {
  Node node;
  node.kind = Kind::Lanes;
  node.lanes = std::move(block);
  return node;
}

Node& Node::add(const std::string& key, Node value) {
  keys.push_back({key, std::move(value)});
  return keys.back().second;
}

Node* Node::find(const std::string& key) {
  for (auto& [name, value] : keys)
    if (name == key) return &value;
  return nullptr;
}

const Node* Node::find(const std::string& key) const {
  return const_cast<Node*>(this)->find(key);
}

std::string scalar(const std::string& words) {
  if (is_plain(words)) return words;
  std::string out = "\"";
  for (const char c : words) {
    if (c == '"' || c == '\\') out += '\\';
    out += c;
  }
  return out + "\"";
}

std::string write(const Node& song) {
  std::string out;
  write_node(out, song, 0);
  return out;
}

}  // namespace tunesheaf::generated

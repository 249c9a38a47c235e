// A song file as a tree that can be written and cut. In: keys, texts, lanes. Out: YAML text. A generated song is built
// as one, and shrunk by taking things out of it. Invariant: write() is the only place that knows quotes and indents;
// lanes are rows of bars, so that a bar can be taken out of every lane at once. Read next: generated/shrink.h.
#pragma once
#include <string>
#include <utility>
#include <vector>

namespace tunesheaf::generated {

/// One bar of a lane: its beats, each with its cells; without colons all cells share the bar.
struct BarCells {
  bool colons = true;
  std::vector<std::vector<std::string>> beats;
  /// As typed between bar lines; a bar in which nothing is new is empty.
  std::string text() const;
  bool silent() const;  ///< nothing new
};

struct LaneRow {
  std::string name;
  std::vector<BarCells> bars;
};

/// What one part plays: lanes over the same bars; `breaks` holds the bars before which a stanza begins anew.
struct LaneBlock {
  std::vector<LaneRow> lanes;
  std::vector<int> breaks;
  int bars() const { return lanes.empty() ? 0 : static_cast<int>(lanes.front().bars.size()); }
  std::string text(int indent) const;
};

struct Entry;
struct Node {
  enum class Kind { Text, Map, Lanes, List };
  // Defined where Entry is complete.
  Node();
  Node(const Node& other);
  Node(Node&& other) noexcept;
  Node& operator=(const Node& other);
  Node& operator=(Node&& other) noexcept;
  ~Node();
  Kind kind = Kind::Map;
  std::string text;  ///< as it is, or as the reader shall read it: write() puts quotes where they are needed
  bool raw = false;  ///< text stands as typed, quotes and braces included
  std::vector<Entry> keys;
  LaneBlock lanes;
  std::vector<std::string> items;

  static Node of_text(std::string words);
  static Node of_raw(std::string typed);
  static Node of_lanes(LaneBlock block);
  Node& add(const std::string& key, Node value);
  Node& add(const std::string& key, const std::string& words) { return add(key, of_text(words)); }
  Node* find(const std::string& key);
  const Node* find(const std::string& key) const;
  bool empty() const;
};
struct Entry {
  std::string first;
  Node second;
};

/// The whole song file.
std::string write(const Node& song);
/// A scalar with quotes where the reader wants them.
std::string scalar(const std::string& words);

}  // namespace tunesheaf::generated

// YAML as a tree of plain nodes with places, read by our own strict rules. In: a File. Out: one Node, or diagnostics.
// Scalars stay raw text: nothing is a number or a boolean here. Refused: anchors, aliases, tags, merges, duplicate
// keys, more than one document, control characters, bad UTF-8, files over 4 MiB, nesting over 64, over 500,000 nodes;
// stricter than YAML: a quoted text ends on the line where it begins, and `name: value` pairs stand in {}, not in [].
// Read next: song/keys.h, which gives the names their meaning.
#pragma once
#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "tunesheaf/diag/diagnostic.h"
#include "tunesheaf/source/source.h"

namespace tunesheaf::yaml {

inline constexpr std::size_t kMaxBytes = 4 * 1024 * 1024;
inline constexpr std::size_t kMaxDepth = 64;
inline constexpr std::size_t kMaxNodes = 500'000;

enum class NodeKind : std::uint8_t { Null, Scalar, Sequence, Mapping };
enum class ScalarStyle : std::uint8_t { Plain, SingleQuoted, DoubleQuoted, Literal /* | */, Folded /* > */ };

/// One line of a Literal scalar: its text without indentation, and where that text stands in the file.
struct TextLine {
  std::string text;
  source::Span span;
};

struct Entry;

struct Node {
  NodeKind kind = NodeKind::Null;
  source::Span span;            ///< begin to end of the whole node; for Null an empty span just behind the key
  std::string text;             ///< Scalar only: the value after YAML's own folding and unescaping
  ScalarStyle style{};          ///< Scalar only
  std::vector<TextLine> lines;  ///< Literal only: every line of the block, blank ones included, in order
  std::vector<Node> items;      ///< Sequence only
  std::vector<Entry> entries;   ///< Mapping only, in the order of the file
  bool flow = false;            ///< written in {} or []

  /// The entry of a mapping with this key, or nullptr.
  const Entry* find(std::string_view key) const;
};

struct Entry {
  Node key;  ///< always a Scalar
  Node value;
};

/// Message for a file that is too large to be read at all; `bytes` is its true size (the caller need not load it).
diag::Diagnostic too_large(source::Span place, std::uint64_t bytes);
/// The root node, or nothing when diagnostics of severity Error were added.
std::optional<Node> read(const source::File& file, diag::Sink& sink);
/// One line per node, nesting by indent: the `nodes` phase.
std::string print(const Node& node, const source::File& file);

}  // namespace tunesheaf::yaml

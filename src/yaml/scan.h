// Our own reading of a file's layout, line by line. In: text that passed bytes.h. Out: the sequence of tokens that a
// YAML parser must report for it, each with its true begin and end, or faults in a musician's words.
// Invariant: offsets lie in the file and do not fall; Begin and End tokens nest; the depth is at most kMaxDepth.
// The parser's events are compared with these tokens one by one (build.h): what the two read differently is refused.
#pragma once
#include <cstdint>
#include <optional>
#include <vector>

#include "tunesheaf/diag/diagnostic.h"
#include "tunesheaf/source/source.h"
#include "tunesheaf/yaml/node.h"

namespace tunesheaf::yaml {

enum class TokenKind : std::uint8_t { Scalar, Null, SequenceBegin, MappingBegin, End };

/// Half-open range of bytes.
struct Range {
  std::uint32_t begin = 0, end = 0;
};

struct Token {
  TokenKind kind{};
  Range range;                   ///< a block collection's end and an End's range are not set here
  ScalarStyle style{};           ///< Scalar only
  bool flow = false;             ///< Begin only
  std::vector<Range> lines;      ///< block scalars only: each line without its indentation
  std::vector<Range> wide_gaps;  ///< block scalars only: blank lines before the first, wider than its indentation
};

/// The tokens, or nothing when an error was added.
std::optional<std::vector<Token>> scan(const source::File& file, diag::Sink& sink);

}  // namespace tunesheaf::yaml

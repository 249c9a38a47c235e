// The outside of one lane line: name, bar lines, words, comment. In: a line of text. Out: where everything stands, as
// byte offsets into the line, and the faults that need no knowledge of the lane. Reading and tidying both begin here.
// Invariant: offsets lie inside the line and do not overlap. Read next: lane_cells.h (what the words mean), tidy.cpp.
#pragma once
#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "tunesheaf/diag/diagnostic.h"

namespace tunesheaf::song {

/// A run of signs without blanks, or a text in quotes. A free-standing colon is a token of its own.
struct Token {
  std::size_t begin = 0, end = 0;  ///< quotes included
  std::string text;                ///< quotes dropped
  bool quoted = false;
  bool colon() const { return !quoted && text == ":"; }
};

/// Between two bar lines.
struct RawBar {
  std::size_t begin = 0, end = 0;
  std::vector<Token> tokens;
};

struct LineFault {
  diag::Kind kind{};
  std::size_t begin = 0, end = 0;
  std::string situation, rule, remedy;
};

struct RawLine {
  enum class Kind : unsigned char { Blank, Comment, Lane, Other } kind = Kind::Blank;
  std::size_t name_begin = 0, name_end = 0;
  std::vector<RawBar> bars;
  std::size_t body_end = 0;                 ///< behind the last bar line
  std::size_t comment = std::string::npos;  ///< where its "#" stands
  std::vector<LineFault> faults;
};

RawLine scan_line(std::string_view line);

}  // namespace tunesheaf::song

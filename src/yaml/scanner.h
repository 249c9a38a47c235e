// The scanner behind scan(): block layout (scan_block.cpp), text (scan_text.cpp) and brackets (scan_flow.cpp).
// Invariant: levels_ holds the open block collections from the outside in, with rising indents except for a list that
// stands at the indent of its key; the first level is the file itself, at indent -1.
#pragma once
#include <optional>
#include <string_view>
#include <vector>

#include "faults.h"
#include "scan.h"

namespace tunesheaf::yaml {

class Scanner {
 public:
  Scanner(const source::File& file, diag::Sink& sink);
  /// False when an error was added.
  bool run();
  std::vector<Token> take() { return std::move(tokens_); }

 private:
  enum class LevelKind : std::uint8_t { Root, Map, List };
  struct Level {
    LevelKind kind = LevelKind::Root;
    int indent = -1;
    bool pending = true;        ///< the last key or dash still waits for its value
    std::uint32_t null_at = 0;  ///< where an empty value would stand
    Range last;                 ///< the last key, or the last dash
    Range value;                ///< its value, when it is text or in brackets
  };
  struct Key {
    Range text;
    std::uint32_t colon = 0;
    ScalarStyle style{};
  };
  /// The last block of lines (| or >), until the next line of the file has been understood.
  struct Block {
    int parent = 0;
    Range first;
    bool ended_by_comment = false;
    Range comment;
  };
  enum class FlowState : std::uint8_t { WantKey, HaveKey, WantValue, HaveValue };
  struct Bracket {
    char close = ']';
    std::size_t token = 0;
    std::uint32_t open = 0;
    FlowState state = FlowState::WantValue;
    std::uint32_t colon = 0;
    Range key, item;
    bool json_key = false;
  };

  // --- lines (scan_block.cpp)
  void take_line(std::uint32_t begin);
  void block_line();
  bool marker_line();
  void structure(std::uint32_t at, std::optional<Range> comment);
  void node(std::uint32_t at, int column, bool after_dash);
  void entry(std::uint32_t at, int column);
  void key(const Key& found, int column);
  void own_line_text(std::uint32_t at, int column, bool after_dash);
  bool continues_text(std::uint32_t at);
  bool after_block(const Block& block, std::uint32_t at);
  void misplaced_key(const Key& found, int column);
  void pop_deeper_than(int indent);
  void close_level();
  void settle(Level& level);
  bool push_level(LevelKind kind, int indent, std::uint32_t at);
  void tab_line(std::uint32_t tab);
  Range rest_of_line(std::uint32_t at) const;

  // --- text (scan_text.cpp)
  std::optional<Key> find_key(std::uint32_t at);
  void value(std::uint32_t at);
  bool special(std::uint32_t at, Range whole);
  void plain(std::uint32_t at);
  void block_text(std::uint32_t at);
  void block_lines(Token& token, int parent);
  std::optional<std::uint32_t> quoted(std::uint32_t at, Range whole);
  std::optional<std::uint32_t> quote_end(std::uint32_t at, bool& fine);
  std::uint32_t escape_end(std::uint32_t at, bool& fine);
  void after_value(Range value, bool bracket);
  bool comment_at(std::uint32_t at) const;
  void doubtful_comment(Range value, std::uint32_t hash);
  bool name_fits(Range name);
  bool lane_like(std::uint32_t at) const;
  std::optional<std::uint32_t> tight_colon(Range text) const;
  Range plain_range(std::uint32_t at, std::uint32_t stop) const;

  // --- brackets (scan_flow.cpp)
  std::optional<std::uint32_t> flow(std::uint32_t at);
  bool flow_step(std::uint32_t& at);
  bool flow_open(std::uint32_t& at);
  bool flow_close(std::uint32_t& at);
  bool flow_comma(std::uint32_t& at);
  bool flow_colon(std::uint32_t& at);
  bool flow_text(std::uint32_t& at);
  bool flow_plain(std::uint32_t& at);
  bool flow_after(std::uint32_t at);
  void flow_done(Range item);
  std::uint32_t flow_plain_end(std::uint32_t at) const;
  bool flow_colon_at(std::uint32_t at) const;
  std::optional<std::uint32_t> flow_space(std::uint32_t at);
  Range flow_rest(std::uint32_t at) const;

  // --- all
  bool emit(Token token);
  char peek(std::uint32_t at) const { return at < line_end_ ? text_[at] : '\0'; }
  bool blank_at(std::uint32_t at) const { return at >= line_end_ || text_[at] == ' ' || text_[at] == '\t'; }
  std::uint32_t skip_blanks(std::uint32_t at) const;
  int column_of(std::uint32_t at) const { return static_cast<int>(at - line_begin_); }
  void stop() { stopped_ = true; }

  const source::File& file_;
  diag::Sink& sink_;
  Faults faults_;
  std::string_view text_;
  std::vector<Token> tokens_;
  std::vector<Level> levels_;
  std::vector<Bracket> brackets_;
  std::uint32_t line_begin_ = 0, line_end_ = 0, next_line_ = 0;
  bool stopped_ = false;
  bool text_open_ = false;  ///< the last text without quotes may go on in the next line
  bool skip_lanes_ = false;
  bool tab_reported_ = false;
  bool marker_seen_ = false, ended_ = false;
  std::size_t nodes_ = 0;
  std::optional<Range> comment_;  ///< a comment line since the last line with content
  std::optional<Block> block_;
  std::size_t text_token_ = 0;
};

}  // namespace tunesheaf::yaml

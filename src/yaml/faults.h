// The front door's messages. In: places and words of the user. Out: diagnostics in the sink, each with its situation,
// rule and cure in the words of someone who has never heard of YAML. Invariant: one method, one message, one kind.
#pragma once
#include <string>
#include <string_view>

#include "scan.h"
#include "tunesheaf/diag/diagnostic.h"

namespace tunesheaf::yaml {

/// Scans stop after this many errors, and say no more than this many warnings: what follows is mostly the echo of the
/// first ones.
inline constexpr std::size_t kMostErrors = 25;

class Faults {
 public:
  Faults(const source::File& file, diag::Sink& sink) : file_(file), sink_(sink) {}

  std::size_t errors() const { return errors_; }

  void too_deep(Range at);
  void too_many_values(Range at);
  void tab_indent(Range tab, std::size_t further_lines);
  /// `outer` and `inner`: the nearest lines above that begin further left and right; empty when there is none.
  void bad_indent(Range line, Range outer, Range inner);
  void under_a_value(Range line, Range value);
  void text_after_comment(Range line, Range comment);
  void missing_colon(Range line);
  void missing_space(Range text, std::size_t colon);
  void missing_name(Range colon);
  void name_too_long(Range name);
  /// `sign` is the sign that asks for quotes: at the start of the text, or inside it.
  void needs_quotes(Range value, std::string_view sign);
  void question_mark(Range at);
  void colon_in_text(Range value, Range colon);
  void comma_in_text(Range comma, Range text, Range rest);
  void no_pair(Range text);
  void hash_in_text(Range hash, Range value);
  void open_quote(Range quote, Range value);
  void text_after_quote(Range whole, Range rest);
  void text_after_bracket(Range rest);
  void missing_comma(Range rest);
  void bad_escape(Range escape);
  void open_bracket(Range bracket, Range next);
  void stray_bracket(Range bracket, Range open);
  void stray_comma(Range comma);
  void pair_in_list(Range colon, Range item);
  void bracket_as_name(Range bracket);
  void list_mixed(Range line, Range other);
  void dash_after_colon(Range value);
  void dash_under_value(Range dash, Range value);
  void lanes_without_bar(Range lane, Range key);
  void lanes_beside_bar(Range lane);
  void block_mark(Range header);
  void lanes_not_indented(Range lane, Range key);
  void first_lane_deeper(Range lane, Range first);
  void comment_in_lanes(Range lane, Range comment);
  void duplicate_key(Range key, Range first);
  void second_document(Range at);
  void text_beside_marker(Range rest);
  void anchor(Range at);
  void alias(Range at);
  void tag(Range at);
  void merge(Range at);
  void directive(Range at);
  void not_readable(Range at);

 private:
  std::string_view words(Range range) const;
  std::string line_of(Range range) const;
  std::string column_of(Range range) const;
  void add(diag::Kind kind, std::vector<diag::Label> labels, std::string what, std::string rule, std::string cure);
  diag::Label label(Range range, std::string text = {}) const;

  const source::File& file_;
  diag::Sink& sink_;
  std::size_t errors_ = 0;
  std::size_t warnings_ = 0;
};

}  // namespace tunesheaf::yaml

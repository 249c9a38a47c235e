// What is wrong or doubtful, for musicians. In: a kind, labelled places, words. Out: diagnostics sorted by place, and
// three printers. Wording: the situation, then the rule, then what to do; the user's own words quoted.
// Invariant: labels is not empty once a place is known; the first label is the place that sorts. Read next: kinds.def.
#pragma once
#include <cstdint>
#include <string>
#include <string_view>
#include <unordered_set>
#include <vector>

#include "tunesheaf/source/source.h"

namespace tunesheaf::diag {

enum class Severity : std::uint8_t { Error, Warning, Note };

enum class Kind : std::uint16_t {
#define KIND(name, text, severity) name,
#include "tunesheaf/diag/kinds.def"
#undef KIND
};

std::string_view name(Kind kind);
/// "error", "warning", "note".
std::string_view name(Severity severity);
Severity severity(Kind kind);
/// All kinds in the order of kinds.def.
const std::vector<Kind>& all_kinds();

struct Label {
  source::Span span;
  std::string text;  ///< may be empty: the underline alone
  friend bool operator==(const Label&, const Label&) = default;
};

struct Diagnostic {
  Kind kind{};
  std::vector<Label> labels;  ///< the first is the primary place; may be empty only for faults without a file
  std::string situation;      ///< one sentence, lower-case start, no full stop: what is there
  std::string rule;           ///< what was expected; may be empty
  std::string remedy;         ///< what to do; may be empty
  friend bool operator==(const Diagnostic&, const Diagnostic&) = default;
};

/// Collects diagnostics of one run; one that is equal to an earlier one is not counted again.
class Sink {
 public:
  void add(Diagnostic diagnostic);
  /// One label, three texts.
  void add(Kind kind, source::Span span, std::string situation, std::string rule = {}, std::string remedy = {});
  bool has_errors() const { return errors_ > 0; }
  std::size_t errors() const { return errors_; }
  std::size_t warnings() const { return warnings_; }
  /// Sorted by file and place, those without a place first; equal diagnostics at one place are kept once.
  std::vector<Diagnostic> sorted() const;

 private:
  std::vector<Diagnostic> items_;
  std::unordered_set<std::string> seen_;
  std::size_t errors_ = 0, warnings_ = 0;
};

enum class Format : std::uint8_t { People, Lines, Json };
/// People: several lines of at most 110 columns with the source line and underlines, a blank line between two faults.
/// Lines: path:line:column: severity: situation; rule; remedy [kind], one line each, without the place when there is
/// none. Json: one array; end_line and end_column stand just behind the last character; a fault without a file has
/// null in their place. `colour` (ANSI escapes) affects People only.
std::string print(const std::vector<Diagnostic>& diagnostics, const source::Files& files, Format format, bool colour);

}  // namespace tunesheaf::diag

#include "faults.h"

#include "tunesheaf/diag/words.h"

namespace tunesheaf::yaml {
namespace {

using diag::Kind;

// A text as it stands between double quotes in the file.
std::string in_quotes(std::string_view text) {
  std::string out = "\"";
  for (const char c : diag::shortened(text, 60)) {
    if (c == '"' || c == '\\') out += '\\';
    out += c;
  }
  return out + "\"";
}

}  // namespace

std::string_view Faults::words(Range range) const {
  return file_.text().substr(range.begin, range.end - range.begin);
}

std::string Faults::line_of(Range range) const {
  return std::to_string(file_.place(range.begin).line);
}

std::string Faults::column_of(Range range) const {
  return std::to_string(file_.place(range.begin).column);
}

diag::Label Faults::label(Range range, std::string text) const {
  return {{file_.id(), range.begin, range.end}, std::move(text)};
}

void Faults::add(Kind kind, std::vector<diag::Label> labels, std::string what, std::string rule, std::string cure) {
  if (diag::severity(kind) == diag::Severity::Error) {
    ++errors_;
  } else if (++warnings_ > kMostErrors) {
    return;
  }
  sink_.add({kind, std::move(labels), std::move(what), std::move(rule), std::move(cure)});
}

// --- limits

void Faults::too_deep(Range at) {
  add(Kind::TooDeep, {label(at)}, "this is nested more than 64 deep", "a song needs about six levels",
      "look for brackets that open and never close, or for lines that drift to the right");
}

void Faults::too_many_values(Range at) {
  add(Kind::TooManyNodes, {label(at)}, "the file holds more than 500,000 values up to here",
      "a long song has a few thousand", "check that this is the song file, and split it if it is");
}

// --- indentation

void Faults::tab_indent(Range tab, std::size_t further_lines) {
  const std::string more = further_lines == 0   ? std::string()
                           : further_lines == 1 ? " (and so does 1 more)"
                                                : " (and so do " + std::to_string(further_lines) + " more)";
  add(Kind::TabIndent, {label(tab)}, "this line is indented with a tab" + more,
      "lines are indented with spaces, because a tab is wider in one editor than in the next",
      "put two spaces in place of each tab at the start of a line; most editors can do it for the whole file");
}

void Faults::bad_indent(Range line, Range outer, Range inner) {
  std::vector<diag::Label> labels{label(line)};
  std::string cure = "move it to column ";
  const auto offer = [&](Range place) {
    labels.push_back(label(place, "begins in column " + column_of(place)));
    if (labels.size() > 2) cure += ", or to column ";
    cure += column_of(place) + " if it goes with " + diag::quoted(words(place));
  };
  if (inner.end > inner.begin) offer(inner);
  if (outer.end > outer.begin) offer(outer);
  if (labels.size() == 1) cure = "line it up with the lines it goes with";
  add(Kind::BadIndent, std::move(labels),
      "this line begins in column " + column_of(line) + ", where no line that it could go with begins",
      "lines that belong together begin in the same column", std::move(cure));
}

void Faults::under_a_value(Range line, Range value) {
  add(Kind::BadIndent, {label(line), label(value, "this value is complete")},
      "this line is indented as if it belonged to line " + line_of(value) + ", which already has its value",
      "a line that is indented further belongs to the line above it",
      "move it left, to the column where the line above begins; or, if both lines are one text, put `>` behind the "
      "name in line " +
          line_of(value) + " and the text on the lines below");
}

void Faults::text_after_comment(Range line, Range comment) {
  add(Kind::BadIndent, {label(line), label(comment, "the comment ended the text")},
      "this line goes on with a text that a comment has ended", "a comment cannot stand between the lines of a text",
      "move the comment above the whole text");
}

// --- names and colons

void Faults::missing_colon(Range line) {
  const std::string_view text = words(line);
  const std::size_t gap = text.find(' ');
  const std::string example = gap == std::string_view::npos ? diag::shortened(text, 40) + ": …"
                                                            : diag::shortened(text.substr(0, gap), 40) + ": " +
                                                                  diag::shortened(text.substr(gap + 1), 40);
  add(Kind::MissingColon, {label(line)}, "this line has no colon", "each line is a name, a colon, a space and a value",
      "for example `" + example + "`");
}

void Faults::missing_space(Range text, std::size_t colon) {
  const auto at = static_cast<std::uint32_t>(colon);
  add(Kind::MissingSpace,
      {
          label({at, at + 1}),
      },
      "there is no space behind this colon", "a name is followed by a colon and a space",
      "write `" + diag::shortened(words({text.begin, at + 1}), 40) + " " +
          diag::shortened(words({at + 1, text.end}), 50) + "`");
}

void Faults::missing_name(Range colon) {
  add(Kind::MissingName, {label(colon)}, "there is no name before this colon",
      "each line is a name, a colon, a space and a value", "put the name before the colon, or take the colon away");
}

void Faults::name_too_long(Range name) {
  add(Kind::MissingName, {label(name)}, "this name has more than 200 characters",
      "what stands before a colon is a name", "put the text in quotes behind a name, or shorten the name");
}

// --- texts that need quotes

void Faults::needs_quotes(Range value, std::string_view sign) {
  const bool first = words(value).substr(0, sign.size()) == sign;
  const std::string named = sign == "`" ? std::string("a backtick") : "`" + std::string(sign) + "`";
  add(Kind::NeedsQuotes, {label(value)},
      first ? "this text begins with " + named + ", which has a meaning of its own there"
            : "this text holds " + named + ", which has a meaning of its own inside brackets",
      "such a text stands in quotes", "write " + in_quotes(words(value)));
}

void Faults::question_mark(Range at) {
  add(Kind::NeedsQuotes, {label(at)}, "this line begins with `?` and a space", "each line begins with a name or `- `",
      "take the `?` away, or write " + in_quotes(words(at)) + " if it belongs to the text");
}

void Faults::dash_after_colon(Range value) {
  add(Kind::NeedsQuotes, {label(value)}, "a dash and a space stand behind the colon",
      "the lines of a list begin with `- ` below the name, each on a line of its own",
      "move it to the next line, or write " + in_quotes(words(value)) + " if the dash is part of the text");
}

void Faults::colon_in_text(Range value, Range colon) {
  add(Kind::ColonInText, {label(colon), label(value)}, "this text has a colon and a space inside",
      "a colon and a space end a name, so a text that holds them stands in quotes", "write " + in_quotes(words(value)));
}

void Faults::comma_in_text(Range comma, Range text, Range rest) {
  add(Kind::CommaInText, {label(comma), label(rest, "has no `name:` before it")},
      "inside { } this comma ends the text " + diag::quoted(words(text)),
      "between { and } commas part the entries, so a text with a comma stands in quotes",
      "write " + in_quotes(words({text.begin, rest.end})) + ", or begin a new entry with a name and a colon");
}

void Faults::no_pair(Range text) {
  add(Kind::CommaInText, {label(text)}, diag::quoted(words(text)) + " stands in { } without a value",
      "between { and } each entry is a name, a colon, a space and a value",
      "write `" + diag::shortened(words(text), 40) + ": …`, or use [ ] if this is a list");
}

void Faults::hash_in_text(Range hash, Range value) {
  add(Kind::HashInText, {label(hash, "left out as a comment")},
      "only " + diag::quoted(words(value)) + " is read here: a space and `#` begin a comment",
      "a text that holds ` #` stands in quotes",
      "write " + in_quotes(words({value.begin, hash.end})) +
          "; or, if it is a comment, put two spaces before the # and "
          "one behind it");
}

// --- quotes

void Faults::open_quote(Range quote, Range value) {
  const std::string_view text = words(value);
  if (text.front() == '\'') {
    add(Kind::OpenQuote, {label(quote)}, "this ' opens a quoted text that is not closed on the line",
        "a text that begins with an apostrophe stands in double quotes", "write " + in_quotes(text));
    return;
  }
  add(Kind::OpenQuote, {label(quote)}, "this \" opens a quoted text that is not closed on the line",
      "a quoted text ends with the same quote on the same line",
      "put \" at its end; a text of several lines goes below `name: >` without quotes");
}

void Faults::text_after_quote(Range whole, Range rest) {
  const std::string_view text = words(whole);
  const std::string single = "'" + std::string(diag::shortened(text, 60)) + "'";
  const bool has_single = text.find('\'') != std::string_view::npos;
  add(Kind::TextAfterValue, {label(rest)}, "text goes on behind the closing quote",
      "a value that begins with a quote ends with it",
      "put the whole value in quotes: " + (has_single ? in_quotes(text) : single));
}

void Faults::bad_escape(Range escape) {
  add(Kind::BadEscape, {label(escape)}, diag::quoted(words(escape)) + " has no meaning between double quotes",
      "there a backslash comes only before another sign that it names: \\\" \\\\ \\/ \\n \\t, or \\u and four digits "
      "for a "
      "visible character",
      "write two backslashes for one, or put the text in single quotes");
}

// --- brackets

void Faults::text_after_bracket(Range rest) {
  add(Kind::TextAfterValue, {label(rest)}, "text goes on behind the closing bracket",
      "a value in brackets ends with its bracket", "put the text inside the brackets, or in a line of its own");
}

void Faults::missing_comma(Range rest) {
  add(Kind::TextAfterValue, {label(rest)}, "there is no comma before this",
      "between brackets the entries are parted by commas", "put a comma before " + diag::quoted(words(rest)));
}

void Faults::open_bracket(Range bracket, Range next) {
  const bool list = words(bracket) == "[";
  std::vector<diag::Label> labels{label(bracket)};
  if (next.begin > bracket.begin && next.end > next.begin) labels.push_back(label(next, "the file goes on here"));
  add(Kind::OpenBracket, std::move(labels), "this bracket is never closed",
      std::string("each ") + (list ? "[ needs its ]" : "{ needs its }") +
          "; lines between them are indented further than the name",
      std::string("put ") + (list ? "]" : "}") + " behind the last entry");
}

void Faults::stray_bracket(Range bracket, Range open) {
  const std::string wanted = words(open) == "[" ? "]" : "}";
  add(Kind::StrayBracket, {label(bracket), label(open, "this is still open")},
      "this bracket closes nothing: " + wanted + " is due first", "brackets close in the opposite order",
      "put " + wanted + " here, or take the bracket away");
}

void Faults::stray_comma(Range comma) {
  add(Kind::StrayComma, {label(comma)}, "there is nothing before this comma", "each comma follows an entry",
      "take the comma away, or write the entry");
}

void Faults::pair_in_list(Range colon, Range item) {
  add(Kind::PairInList, {label(colon), label(item)}, "there is a colon in this list",
      "between [ and ] stand plain values; a name and its value stand between { and }",
      "use { } in place of [ ], or put the text in quotes if the colon belongs to it");
}

void Faults::bracket_as_name(Range bracket) {
  add(Kind::StrayBracket, {label(bracket)}, "brackets stand where a name should be", "a name is text",
      "put the name in quotes if the bracket belongs to it");
}

// --- lists

void Faults::list_mixed(Range line, Range other) {
  const bool dash = words(line).substr(0, 1) == "-";
  add(Kind::ListMixed, {label(line), label(other, dash ? "a name" : "a line of a list")},
      dash ? "a line of a list stands among lines with names" : "a line with a name stands among the lines of a list",
      "what belongs together is either a list (`- …`) or lines with names (`name: …`)",
      dash ? "put a name and a colon above the list, or a name in place of the dash"
           : "indent it so that it belongs to the line above, or begin it with `- `");
}

void Faults::dash_under_value(Range dash, Range value) {
  if (value.end <= value.begin) {
    add(Kind::BadIndent, {label(dash)}, "this line of a list stands where no list is open",
        "the lines of a list stand below their name and begin in the same column", "line it up with the list");
    return;
  }
  add(Kind::ListMixed, {label(dash), label(value, "already has this value")},
      "this line of a list stands below a name that already has a value",
      "a name has one value or a list below it, not both", "move the first value down into the list, behind `- `");
}

// --- lanes

void Faults::lanes_without_bar(Range lane, Range key) {
  const std::string name = diag::shortened(words(key), 40);
  add(Kind::LanesWithoutBar, {label(lane), label(key)}, "these lanes have no `|` behind their name",
      "lanes stand on the lines below `name: |`",
      key.end > key.begin && name != "-" ? "write `" + name + ": |` and the lanes below it, indented by two spaces"
                                         : "write a name, `: |`, and the lanes below it, indented by two spaces");
}

void Faults::lanes_beside_bar(Range lane) {
  const std::string_view text = words(lane);
  const std::size_t first = text.find_first_not_of("| ");
  add(Kind::LanesBesideBar, {label(lane)}, "a lane stands on the same line as the `|` behind the name",
      "behind `name: |` the line ends; the lanes stand below it",
      "move " + diag::quoted(first == std::string_view::npos ? text : text.substr(first)) +
          " to a line of its own, indented by two spaces more than the name; a lane in one line stands in quotes");
}

void Faults::block_mark(Range header) {
  add(Kind::LanesBesideBar, {label(header)},
      "behind `" + std::string(words(header).substr(0, 1)) + "` the line goes on",
      "`|` (lanes) and `>` (a long text) end the line; what they hold stands below, indented",
      "move the text to the next line, or write " + in_quotes(words(header)) + " if the sign belongs to it");
}

void Faults::lanes_not_indented(Range lane, Range key) {
  add(Kind::LanesNotIndented, {label(lane), label(key)}, "this lane is not indented",
      "lanes stand below `name: |`, two spaces further in than the name", "put two spaces before each lane");
}

void Faults::first_lane_deeper(Range lane, Range first) {
  add(Kind::FirstLaneDeeper, {label(lane), label(first, "begins in column " + column_of(first))},
      "this line begins further left than the first line of its block",
      "all lanes begin in the same column; the first one sets it",
      "move the first line to column " + column_of(lane) + " as well");
}

void Faults::comment_in_lanes(Range lane, Range comment) {
  add(Kind::FirstLaneDeeper, {label(lane), label(comment, "this comment ended the lanes")},
      "this lane comes after a comment that ended its block", "a comment among lanes is indented like the lanes",
      "put the comment in the same column as the lanes");
}

// --- what a song file does not use

void Faults::duplicate_key(Range key, Range first) {
  add(Kind::DuplicateKey, {label(key), label(first, "first here")},
      diag::quoted(words(key)) + " stands here a second time", "each name stands once among the lines it belongs to",
      "take one of the two away, or give this one a name of its own");
}

void Faults::second_document(Range at) {
  add(Kind::SecondDocument, {label(at)}, "a second text begins here",
      "a song file holds one song; `---` and `...` end it",
      "take this line away, or put what follows into a file of its own");
}

void Faults::text_beside_marker(Range rest) {
  add(Kind::SecondDocument, {label(rest)}, "text stands beside `---`", "`---` stands alone on its line, or not at all",
      "move the text to the next line");
}

void Faults::anchor(Range at) {
  add(Kind::AnchorUsed, {label(at)}, "`&` marks a value for use elsewhere, which a song file does not know",
      "what is used again has a name of its own: a shape, a pattern, a section with `like:`",
      "name it there; if the & belongs to the text, write " + in_quotes(words(at)));
}

void Faults::alias(Range at) {
  add(Kind::AliasUsed, {label(at)}, "`*` stands for a value marked elsewhere, which a song file does not know",
      "what is used again has a name of its own: a shape, a pattern, a section with `like:`",
      "use its name; if the * belongs to the text, write " + in_quotes(words(at)));
}

void Faults::tag(Range at) {
  add(Kind::TagUsed, {label(at)}, "`!` at the start of a value sets a type, which a song file does not know",
      "a text that begins with ! stands in quotes", "write " + in_quotes(words(at)));
}

void Faults::merge(Range at) {
  add(Kind::MergeUsed, {label(at)}, "`<<` takes over the lines of another place, which a song file does not know",
      "a section takes over the bars of another with `like:`", "write `like: ` and the name of that section");
}

void Faults::directive(Range at) {
  add(Kind::DirectiveUsed, {label(at)}, "a line that begins with `%` stands here", "a song file needs no such heading",
      "take the line away");
}

void Faults::not_readable(Range at) {
  add(Kind::NotReadable, {label(at)}, "this cannot be read from here on",
      "a line is `name: value`, `- value`, or stands in a block below `name: |`",
      "put the value in double quotes, or compare the line with one above that is right");
}

}  // namespace tunesheaf::yaml

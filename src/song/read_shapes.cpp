#include <algorithm>

#include "fields.h"
#include "signs.h"
#include "tunesheaf/base/number.h"
#include "tunesheaf/diag/words.h"

namespace tunesheaf::song {
namespace {

using diag::Kind;

/// One word that holds a sign for every string ("x02010") is taken apart.
std::vector<Text> parted(const std::vector<Text>& words, const yaml::Node& value, std::string_view signs) {
  const bool one = words.size() == 1 && words[0].value.size() > 1 && value.kind == yaml::NodeKind::Scalar;
  if (!one || words[0].value.find_first_not_of(signs) != std::string::npos) return words;
  std::vector<Text> cells;
  const Span span = words[0].span;
  const bool exact = span.length() == words[0].value.size();
  for (std::uint32_t i = 0; i < words[0].value.size(); ++i) {
    cells.push_back({words[0].value.substr(i, 1), exact ? Span{span.file, span.begin + i, span.begin + i + 1} : span});
  }
  return cells;
}

void wrong_frets(Context& context, const yaml::Node& key, const Text& word) {
  const std::string& text = word.value;
  std::string remedy =
      "write it like `" + diag::shown(key.text) + ": " + (key.text == "frets" ? "x 0 2 0 1 2`" : ". . 2 . 1 3`");
  const bool run_together = text.size() > 2 && text.find_first_not_of("x0123456789.T-,") == std::string::npos;
  if (run_together) remedy = "put a blank between the strings: " + remedy;
  if (text == "X") remedy = "write a small x";
  context.fault(
      Kind::WrongFrets, word.span, diag::quoted(text) + (key.text == "frets" ? " is no fret" : " is no finger"),
      key.text == "frets" ? "each string has a fret from 0 to 36, or x when it is not played; low string first"
                          : "each string has a finger 1 to 4, T for the thumb, or . for none; low string first",
      remedy);
}

/// "x-0-2-2-1-0" and "x,0,2,2,1,0" are reported once and read as they are meant.
bool read_joined_frets(Context& context, const yaml::Node& key, const Text& word, ShapeDef& shape) {
  const std::string& text = word.value;
  if (text.find_first_not_of("x0123456789-,") != std::string::npos || text.find_first_of("-,") == std::string::npos) {
    return false;
  }
  wrong_frets(context, key, word);
  for (std::size_t begin = 0; begin <= text.size();) {
    const std::size_t end = std::min(text.find_first_of("-,", begin), text.size());
    SignCursor cursor(std::string_view(text).substr(begin, end - begin));
    if (end > begin) shape.frets.push_back({cursor.take_fret(), word.span});
    begin = end + 1;
  }
  return true;
}

}  // namespace

void read_frets(Context& context, const yaml::Node& key, const yaml::Node& value, ShapeDef& shape) {
  shape.frets_span = value.span;
  const auto words = read_words(context, key, value, "one fret for each string, low string first");
  if (!words) return;
  for (const Text& word : parted(*words, value, "x0123456789")) {
    if (read_joined_frets(context, key, word, shape)) continue;
    SignCursor cursor(word.value);
    const auto fret = cursor.take_fret();
    if (word.value == "x") {
      shape.frets.push_back({std::nullopt, word.span});
    } else if (fret && cursor.done()) {
      shape.frets.push_back({*fret, word.span});
    } else {
      wrong_frets(context, key, word);
      shape.frets.push_back({std::nullopt, word.span});
    }
  }
}

void read_fingers(Context& context, const yaml::Node& key, const yaml::Node& value, ShapeDef& shape) {
  shape.fingers_span = value.span;
  const auto words = read_words(context, key, value, "one finger for each string, low string first");
  if (!words) return;
  for (const Text& word : parted(*words, value, ".1234T")) {
    const char c = word.value.size() == 1 ? word.value[0] : '\0';
    const bool good = c == '.' || c == 'T' || (c >= '1' && c <= '4');
    if (!good) wrong_frets(context, key, word);
    shape.fingers.push_back({!good || c == '.' ? 0 : (c == 'T' ? 5 : c - '0'), word.span});
  }
}

ShapeDef read_shape(Context& context, const yaml::Entry& entry) {
  using Row = Field<ShapeDef>;
  using E = const yaml::Entry&;
  static const std::vector<Row> fields{
      {"frets", [](Context& c, E e, ShapeDef& s) { read_frets(c, e.key, e.value, s); }},
      {"fingers", [](Context& c, E e, ShapeDef& s) { read_fingers(c, e.key, e.value, s); }},
      {"thumb", [](Context& c, E e, ShapeDef& s) { s.thumb = read_strings(c, e.key, e.value); }},
      {"hand", [](Context& c, E e, ShapeDef& s) { s.hand = read_text(c, e.key, e.value); }},
      {"ear", [](Context& c, E e, ShapeDef& s) { s.ear = read_text(c, e.key, e.value); }},
      {"part", [](Context& c, E e, ShapeDef& s) { s.part = read_text(c, e.key, e.value); }},
      {"from", [](Context& c, E e, ShapeDef& s) { read_from(c, e, s.from); }},
      {"instead of", [](Context& c, E e, ShapeDef& s) { s.instead_of = read_text(c, e.key, e.value); }},
      {"says", [](Context& c, E e, ShapeDef& s) { s.says = read_text(c, e.key, e.value); }}};
  ShapeDef shape;
  shape.name = text_of(entry.key);
  shape.frets_span = shape.fingers_span = entry.key.span;
  read_fields(context, "shape", entry.key, entry.value, fields, shape);
  return shape;
}

PatternDef read_pattern(Context& context, const yaml::Entry& entry) {
  using Row = Field<PatternDef>;
  using E = const yaml::Entry&;
  static const std::vector<Row> fields{
      {"lanes", [](Context& c, E e, PatternDef& p) { p.stanzas = read_lanes(c, e.key, e.value); }},
      {"meter", [](Context& c, E e, PatternDef& p) { p.meter = read_text(c, e.key, e.value); }},
      {"rings",
       [](Context& c, E e, PatternDef& p) {
         if (const auto yes = read_yes_no(c, e.key, e.value)) p.rings = yes->value;
       }},
      {"says", [](Context& c, E e, PatternDef& p) { p.says = read_text(c, e.key, e.value); }},
      {"from", [](Context& c, E e, PatternDef& p) { read_from(c, e, p.from); }},
      {"instead of", [](Context& c, E e, PatternDef& p) { p.instead_of = read_text(c, e.key, e.value); }}};
  PatternDef pattern;
  pattern.name = text_of(entry.key);
  if (entry.value.kind == yaml::NodeKind::Mapping) {
    read_fields(context, "pattern", entry.key, entry.value, fields, pattern);
  } else {
    pattern.stanzas = read_lanes(context, entry.key, entry.value);
  }
  return pattern;
}

}  // namespace tunesheaf::song

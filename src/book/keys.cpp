// The table of keys of a book, and what is made from it for people and editors.
#include <nlohmann/json.hpp>

#include "tunesheaf/base/edit_distance.h"
#include "tunesheaf/book/book.h"

namespace tunesheaf::book {
namespace {

std::string entry_of(const Key& key) {
  std::string out = std::string(key.name) + (key.place == Place::Song ? "  (of a song)" : "") + "\n";
  out += "    " + std::string(key.meaning) + "\n";
  if (!key.words.empty()) {
    out += "    one of:";
    for (const std::string_view word : key.words) out += (word == key.words.front() ? " " : ", ") + std::string(word);
    out += "; usually " + std::string(key.words.front()) + "\n";
  }
  return out + "    " + std::string(key.example) + "\n";
}

using Json = nlohmann::ordered_json;

Json schema_of(const Key& key);

Json properties(Place place) {
  Json out = Json::object();
  for (const Key& key : keys()) {
    if (key.place == place) out[std::string(key.name)] = schema_of(key);
  }
  return out;
}

Json schema_of(const Key& key) {
  Json out{{"description", key.meaning}};
  switch (key.takes) {
    case Takes::Text:
      out["type"] = "string";
      break;
    case Takes::Words:
      for (const std::string_view word : key.words) out["enum"].push_back(word);
      break;
    case Takes::Names:
      out["type"] = {"string", "array"};
      out["items"] = {{"type", "string"}};
      break;
    case Takes::Songs: {
      const Json song{{"type", "object"},
                      {"properties", properties(Place::Song)},
                      {"required", {"song"}},
                      {"additionalProperties", false}};
      out["type"] = "array";
      out["minItems"] = 1;
      out["items"] = {{"oneOf", Json::array({Json{{"type", "string"}}, song})}};
      break;
    }
  }
  return out;
}

}  // namespace

const std::vector<Key>& keys() {
  static const std::vector<Key> kKeys{
      {Place::Book, "book", Takes::Text, {}, "the title of the book", "book: Songs of the Long Quay"},
      {Place::Book, "by", Takes::Text, {}, "who made it; on the title page", "by: The Friends of the Boats"},
      {Place::Book, "says", Takes::Text, {}, "a paragraph for the title page", "says: Play them slowly first."},
      {Place::Book, "language", Takes::Text, {}, "the language of the title page; usually en", "language: en"},
      {Place::Book,
       "style",
       Takes::Text,
       {},
       "the style of every page, by name or by file; the songs' own styles are not looked at",
       "style: large"},
      {Place::Book, "paper", Takes::Words, {"a4", "letter"}, "the size of the pages", "paper: letter"},
      {Place::Book,
       "order",
       Takes::Words,
       {"as given", "title", "key", "tuning", "difficulty"},
       "how the songs follow one another: by tuning, so that the strings are retuned least; by key round the circle of "
       "fifths; by difficulty, the easiest first",
       "order: tuning"},
      {Place::Book,
       "sides",
       Takes::Words,
       {"double", "single"},
       "printed on both sides of a leaf, so that songs of several pages begin on a left-hand page; or on one side",
       "sides: single"},
      {Place::Book,
       "sheet",
       Takes::Words,
       {"handout", "chart"},
       "which sheet each song is printed as, unless it says so itself",
       "sheet: chart"},
      {Place::Book,
       "songs",
       Takes::Songs,
       {},
       "the songs: files from the folder of the book, or a file with keys of its own",
       "songs: [harbour.yaml, {song: ferry.yaml, sheet: chart}]"},
      {Place::Song, "song", Takes::Text, {}, "its file", "song: harbour.yaml"},
      {Place::Song, "sheet", Takes::Words, {"handout", "chart"}, "which sheet it is printed as", "sheet: chart"},
      {Place::Song, "parts", Takes::Names, {}, "of a handout: only these parts", "parts: [guitar, bass]"},
  };
  return kKeys;
}

std::string print_reference(const std::string& word) {
  std::string out;
  std::vector<std::string> names;
  for (const Key& key : keys()) {
    names.emplace_back(key.name);
    if (word.empty() || key.name == word) out += (out.empty() ? "" : "\n") + entry_of(key);
  }
  if (!out.empty()) return out;
  const auto near = base::nearest_word(word, names);
  return "a book has no key \"" + word + "\"" + (near ? "; the nearest is \"" + *near + "\"" : "") + "\n";
}

std::string json_schema() {
  const Json schema{{"$schema", "https://json-schema.org/draft/2020-12/schema"},
                    {"title", "A book of songs for Tunesheaf"},
                    {"type", "object"},
                    {"properties", properties(Place::Book)},
                    {"required", {"book", "songs"}},
                    {"additionalProperties", false}};
  return schema.dump(2) + "\n";
}

std::string_view word_of(SheetKind sheet) {
  return sheet == SheetKind::Chart ? "chart" : "handout";
}

}  // namespace tunesheaf::book

// A book of songs as written. In: the nodes of BOOK.yaml. Out: a Book, or diagnostics. One table holds every key: the
// reading, the reference and the JSON Schema are made from it. Invariant: no unknown key or word is passed over; the
// songs stand in the order of the file; no song is there twice as the same sheet. Read next: book/order.h.
#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "tunesheaf/diag/diagnostic.h"
#include "tunesheaf/source/source.h"
#include "tunesheaf/yaml/node.h"

namespace tunesheaf::book {

enum class SheetKind : std::uint8_t { Handout, Chart };
enum class Order : std::uint8_t { AsGiven, Title, Key, Tuning, Difficulty };
/// Double: leaves printed on both sides, the wider white at the fold.
enum class Sides : std::uint8_t { Double, Single };

struct Entry {
  source::Spanned<std::string> path;  ///< as typed: from the folder of the book
  SheetKind sheet = SheetKind::Handout;
  std::vector<source::Spanned<std::string>> parts;  ///< of a handout; empty: all
};

struct Book {
  source::Spanned<std::string> title;
  std::string by, says, language = "en";
  std::optional<source::Spanned<std::string>> style;  ///< a name, or a file from the folder of the book
  std::string paper = "a4";
  Order order = Order::AsGiven;
  Sides sides = Sides::Double;
  std::vector<Entry> songs;
};

/// Nothing when there are errors.
std::optional<Book> read(const yaml::Node& root, const source::File& file, diag::Sink& sink);

/// Where a key stands.
enum class Place : std::uint8_t { Book, Song };
enum class Takes : std::uint8_t { Text, Words, Names, Songs };
struct Key {
  Place place{};
  std::string_view name;
  Takes takes{};
  std::vector<std::string_view> words;  ///< of Takes::Words, the usual one first
  std::string_view meaning, example;
};
/// The table.
const std::vector<Key>& keys();
/// Explains the keys whose name is `word`; all of them when it is empty; the nearest when there is none.
std::string print_reference(const std::string& word);
std::string json_schema();
std::string_view word_of(SheetKind sheet);

}  // namespace tunesheaf::book

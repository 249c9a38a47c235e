#include <algorithm>

#include "tunesheaf/base/edit_distance.h"
#include "tunesheaf/book/book.h"
#include "tunesheaf/diag/words.h"

namespace tunesheaf::book {
namespace {

using diag::Kind;
using diag::quoted;
using source::Spanned;
using yaml::Node;
using yaml::NodeKind;

std::string listed(const std::vector<std::string_view>& words) {
  std::string out;
  for (std::size_t i = 0; i < words.size(); ++i) {
    out += (i == 0 ? "" : i + 1 == words.size() ? " or " : ", ") + std::string(words[i]);
  }
  return out;
}

std::vector<std::string> strings(const std::vector<std::string_view>& words) {
  return {words.begin(), words.end()};
}

class Reader {
 public:
  explicit Reader(diag::Sink& sink) : sink_(sink) {}

  std::optional<Book> run(const Node& root) {
    if (root.kind != NodeKind::Mapping) {
      wrong(root, "this is no book", "a book is a list of `key: value`", "see `tunesheaf reference book`");
      return std::nullopt;
    }
    known_keys(root, Place::Book);
    Book book;
    if (const Node* title = value(root, "book")) book.title = text(*title, "book");
    book.by = plain(root, "by");
    book.says = plain(root, "says");
    if (const Node* language = value(root, "language")) book.language = text(*language, "language").value;
    if (const Node* style = value(root, "style")) book.style = text(*style, "style");
    book.paper = words_of("paper")[word(root, Place::Book, "paper", 0)];
    book.order = static_cast<Order>(word(root, Place::Book, "order", 0));
    book.sides = static_cast<Sides>(word(root, Place::Book, "sides", 0));
    const auto usual = static_cast<SheetKind>(word(root, Place::Book, "sheet", 0));
    songs(root, usual, book);
    missing(root, "book", "a book has a title: `book: Songs of the Quay`");
    missing(root, "songs", "a book has songs: `songs: [first.yaml, second.yaml]`");
    if (sink_.has_errors()) return std::nullopt;
    return book;
  }

 private:
  static const Node* value(const Node& mapping, std::string_view key) {
    const yaml::Entry* entry = mapping.find(key);
    return entry == nullptr ? nullptr : &entry->value;
  }

  void wrong(const Node& node, std::string situation, std::string rule, std::string remedy) {
    sink_.add(Kind::BookWrongValue, node.span, std::move(situation), std::move(rule), std::move(remedy));
  }

  void missing(const Node& root, std::string_view key, std::string remedy) {
    if (root.find(key) != nullptr) return;
    const source::Span begin{root.span.file, root.span.begin, root.span.begin};
    sink_.add(Kind::BookKeyMissing, begin, "the key " + diag::quoted(std::string(key)) + " is missing",
              "a book has a title and songs", std::move(remedy));
  }

  void known_keys(const Node& mapping, Place place) {
    std::vector<std::string> known;
    for (const Key& key : keys()) {
      if (key.place == place) known.emplace_back(key.name);
    }
    for (const yaml::Entry& entry : mapping.entries) {
      if (std::find(known.begin(), known.end(), entry.key.text) != known.end()) continue;
      const auto near = base::nearest_word(entry.key.text, known);
      sink_.add(Kind::BookUnknownKey, entry.key.span,
                std::string(place == Place::Book ? "a book" : "a song of a book") + " has no key " +
                    diag::quoted(entry.key.text),
                "every word must be one that is known; nothing is passed over",
                near ? "did you mean " + diag::quoted(*near) + "?" : "`tunesheaf reference book` explains every key");
    }
  }

  Spanned<std::string> text(const Node& node, const std::string& key) {
    if (node.kind == NodeKind::Scalar && !node.text.empty()) return {node.text, node.span};
    wrong(node, diag::quoted(key) + " has no text", "it is one text", "write the text after `" + key + ":`");
    return {"", node.span};
  }

  std::string plain(const Node& root, const std::string& key) {
    const Node* node = value(root, key);
    return node == nullptr ? std::string() : text(*node, key).value;
  }

  static std::vector<std::string> words_of(std::string_view name) {
    for (const Key& key : keys()) {
      if (key.name == name) return strings(key.words);
    }
    return {};
  }

  /// The index of the word behind a key; `usual` when the key is not there.
  std::size_t word(const Node& mapping, Place place, std::string_view name, std::size_t usual) {
    const Node* node = value(mapping, name);
    if (node == nullptr) return usual;
    const auto key =
        std::find_if(keys().begin(), keys().end(), [&](const Key& k) { return k.place == place && k.name == name; });
    const auto found = std::find(key->words.begin(), key->words.end(), node->text);
    if (node->kind == NodeKind::Scalar && found != key->words.end()) {
      return static_cast<std::size_t>(found - key->words.begin());
    }
    const auto near = base::nearest_word(node->text, strings(key->words));
    wrong(*node, diag::quoted(std::string(name)) + " is no " + diag::quoted(node->text), "it is " + listed(key->words),
          near ? "did you mean " + diag::quoted(*near) + "?" : "write one of these words");
    return usual;
  }

  void songs(const Node& root, SheetKind usual, Book& book) {
    const Node* list = value(root, "songs");
    if (list == nullptr) return;
    if (list->kind != NodeKind::Sequence || list->items.empty()) {
      wrong(*list, "there are no songs here", "`songs` is a list with a song in every line",
            "write one file a line, each after `- `");
      return;
    }
    for (const Node& item : list->items) {
      Entry entry;
      entry.sheet = usual;
      if (item.kind == NodeKind::Mapping) {
        known_keys(item, Place::Song);
        const Node* path = value(item, "song");
        if (path == nullptr) {
          wrong(item, "this song names no file", "every song is a file", "write `song: FILE.yaml`");
          continue;
        }
        entry.path = text(*path, "song");
        entry.sheet = static_cast<SheetKind>(word(item, Place::Song, "sheet", static_cast<std::size_t>(usual)));
        if (const Node* parts = value(item, "parts")) names(*parts, entry);
      } else {
        entry.path = text(item, "songs");
      }
      add(std::move(entry), book);
    }
  }

  void names(const Node& node, Entry& entry) {
    if (entry.sheet == SheetKind::Chart) {
      wrong(node, "a chart has no parts to choose", "a chart is for all players", "leave `parts` out here");
    } else if (node.kind == NodeKind::Sequence) {
      for (const Node& name : node.items) entry.parts.push_back(text(name, "parts"));
    } else {
      entry.parts.push_back(text(node, "parts"));
    }
  }

  void add(Entry entry, Book& book) {
    if (entry.path.value.empty()) return;
    for (const Entry& earlier : book.songs) {
      if (earlier.path.value != entry.path.value || earlier.sheet != entry.sheet) continue;
      diag::Diagnostic twice;
      twice.kind = Kind::BookSongTwice;
      twice.labels = {{entry.path.span, ""}, {earlier.path.span, "here already"}};
      twice.situation =
          diag::quoted(entry.path.value) + " is in the book twice as a " + std::string(word_of(entry.sheet));
      twice.rule = "a song stands in a book once, or once as a handout and once as a chart";
      twice.remedy = "take one of them out";
      sink_.add(std::move(twice));
      return;
    }
    book.songs.push_back(std::move(entry));
  }

  diag::Sink& sink_;
};

}  // namespace

std::optional<Book> read(const yaml::Node& root, const source::File&, diag::Sink& sink) {
  return Reader(sink).run(root);
}

}  // namespace tunesheaf::book

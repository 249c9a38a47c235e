// The songs of a book, laid out on all cores. In: the book, where it stands, what its pages are set with, a cache. Out:
// for each entry its pages or what is wrong, in the order of the book. Invariant: the result does not depend on the
// number of threads or on what the cache holds; each thread has fonts and a shaper of its own. Read next: book/bind.h.
#pragma once
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "book_cache.h"
#include "press.h"
#include "tunesheaf/book/book.h"

namespace tunesheaf::app {

struct BookSong {
  std::string path;                        ///< as it can be opened
  std::optional<std::string> text;         ///< the file; nothing when it cannot be read
  std::optional<book::SongPages> pages;    ///< nothing when the song has errors
  std::vector<diag::Diagnostic> findings;  ///< errors and warnings; places are in the song's file, as number 0
  std::string refused;                     ///< why the song cannot stand in the book, where its file is not to blame
};

struct BookBuild {
  const book::Book& book;
  std::string folder;  ///< of the book; empty: where the program stands
  const PressWishes& wishes;
  std::string identity;  ///< of the program, the fonts and the style
  const BookCache& cache;
  unsigned threads = 1;
  std::function<void(std::size_t)> done = {};  ///< told how many songs are done, one call at a time
};

std::vector<BookSong> build_songs(const BookBuild& build);

/// A path of the book from the place of the program.
std::string path_in_book(const std::string& folder, const std::string& path);

}  // namespace tunesheaf::app

// Songs of books that are laid out already, kept from run to run. In: a key made of everything that a song's pages
// depend on. Out: its pages, if they are here and whole. Invariant: what is damaged, half written or of another version
// is as if it were not there; several programs may use one folder at once; nothing that goes wrong here is a fault of
// the book. Read next: book_build.h.
#pragma once
#include <optional>
#include <string>
#include <string_view>

#include "tunesheaf/book/song_pages.h"

namespace tunesheaf::app {

class BookCache {
 public:
  /// An empty folder's name: nothing is kept and nothing found.
  explicit BookCache(std::string folder) : folder_(std::move(folder)) {}
  /// tunesheaf/songs below XDG_CACHE_HOME or ~/.cache (XDG Base Directory Specification); empty without a home.
  static std::string usual_folder();

  std::optional<book::SongPages> find(const std::string& key) const;
  void keep(const std::string& key, const book::SongPages& song) const;
  /// Takes away what nobody has used for sixty days.
  void tidy() const;

 private:
  std::string path_of(const std::string& key) const { return folder_ + "/" + key + ".song"; }
  std::string folder_;
};

/// What this program is: a fingerprint of its own bytes.
std::string program_identity();

}  // namespace tunesheaf::app

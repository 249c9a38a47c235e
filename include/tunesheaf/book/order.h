// The order in which songs follow one another. In: what is known of each song, in the order of the book's file. Out:
// indices, and where a group of songs begins, with its heading. Invariant: every song is there once; songs that the
// order does not part stay as given. Read next: book/retune_order.h, book/bind.h.
#pragma once
#include <string>
#include <vector>

#include "tunesheaf/book/book.h"
#include "tunesheaf/book/song_pages.h"

namespace tunesheaf::book {

struct SongGroup {
  std::string heading;             ///< of a key or a tuning; empty for the other orders
  std::vector<std::size_t> songs;  ///< indices
};

/// Title: by its letters, capital or small, without accents told apart from ASCII letters; numbers by their value.
/// Key: round the circle of fifths from seven flats to seven sharps, in each signature the major side first; songs
/// without a key last. Tuning: instrument by instrument as they first appear, since every instrument keeps its own
/// tuning; within one from its usual tuning by the least way of all strings together, and in one tuning by the capo's
/// fret; songs without strings last. Difficulty: the easiest first; songs without parts last.
std::vector<SongGroup> in_order(const std::vector<const SongPages*>& songs, Order order);

/// Which of two titles stands first: negative, zero, positive.
int compare_titles(const std::string& a, const std::string& b);

}  // namespace tunesheaf::book

// Songs into one document. In: a book, its songs' pages, a style and fonts. Out: title page, contents, the signs, the
// songs in their order, the indexes, with page numbers through. Rules: the title page is page 1, a right-hand page; the
// contents begin on page 2; a song of one page stands where it falls, a song of several pages begins on a left-hand
// page, so that its first two pages lie open together (a page before it is left empty where need be; books printed on
// one side have none of this); left-hand pages are moved so that the wider white is at the fold. Invariant: the same
// songs give the same document, however their pages were come by. Read next: book/order.h, blocks/book_pages.h.
#pragma once
#include <string>
#include <vector>

#include "tunesheaf/book/book.h"
#include "tunesheaf/book/song_pages.h"
#include "tunesheaf/style/style.h"
#include "tunesheaf/text/music_signs.h"
#include "tunesheaf/text/shaper.h"

namespace tunesheaf::book {

struct BindRequest {
  const Book& book;
  std::vector<SongPages*> songs;  ///< as many as the book's entries, in their order; their pages are taken out
  const style::Style& style;
  text::Shaper& shaper;
  text::MusicFont& music;
};

paint::Document bind(const BindRequest& request);

}  // namespace tunesheaf::book

// The shaper for real fonts. In: a FontBook. Out: a Shaper whose lengths are those of the printed page (72 units an
// inch, nothing rounded to pixels). Invariant: no ligatures, so that text copied from the page is the text; characters
// that no font has are kept in missing(). Read next: text/shaper.h.
#pragma once
#include <memory>

#include "tunesheaf/text/font_book.h"
#include "tunesheaf/text/hyphens.h"
#include "tunesheaf/text/shaper.h"

namespace tunesheaf::text {

/// `book` must outlive the shaper. It is a RunningText too, with the hyphenation dictionaries of that folder.
std::unique_ptr<Shaper> make_pango_shaper(FontBook& book, std::string dictionaries = Hyphenator::usual_folder());

}  // namespace tunesheaf::text

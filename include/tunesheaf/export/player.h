// The finished pages as PDF, SVG and PNG. In: a paint::Document and the fonts it was set in. Out: bytes, handed over
// piece by piece. Invariant: the same document and fonts give the same bytes; text stays text in PDF and SVG; nothing
// is decided here that the display list does not say. (The folder's name is a word of the language, hence the
// namespace `exporting`.) Read next: export/safe_file.h, export/files.h.
#pragma once
#include <functional>
#include <optional>
#include <string>
#include <string_view>

#include "tunesheaf/paint/display_list.h"
#include "tunesheaf/text/font_book.h"

namespace tunesheaf::exporting {

/// Takes the next bytes; false when they could not be kept, after which it may still be called.
using Bytes = std::function<bool(std::string_view)>;

/// Why a page could not be drawn; one sentence.
struct PlayFault {
  std::string message;
};

/// All pages in one file: fonts embedded and subset, title and the other fields, language, structure, bookmarks,
/// links. CREATE_DATE is taken from SOURCE_DATE_EPOCH (seconds) where set, and left out otherwise.
std::optional<PlayFault> write_pdf(const paint::Document& document, text::FontBook& fonts, const Bytes& out);

/// One page; text as <text> elements by family name, each cluster at its place.
std::optional<PlayFault> write_svg(const paint::Document& document, std::size_t page, const Bytes& out);

/// One page at `dpi` (24 to 1200): 8-bit grey when the page has no colour, RGB otherwise.
std::optional<PlayFault> write_png(const paint::Document& document, std::size_t page, text::FontBook& fonts, double dpi,
                                   const Bytes& out);

}  // namespace tunesheaf::exporting

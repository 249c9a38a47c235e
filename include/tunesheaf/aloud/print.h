// A Reading as a file. In: a Reading. Out: plain text, a sentence a line, or a page of HTML for a screen reader: one
// language stated, headings of three levels without gaps, the landmarks header, nav and main, a link past the contents,
// and no picture. Invariant: both hold the same sentences in the same order.
#pragma once
#include <string>

#include "tunesheaf/aloud/reading.h"

namespace tunesheaf::aloud {

std::string to_text(const Reading& reading);
std::string to_html(const Reading& reading);

}  // namespace tunesheaf::aloud

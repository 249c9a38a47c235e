// Texts that must end within a given width. In: a text, its style, the room. Out: the text, or its beginning and an
// ellipsis. Invariant: whole characters are kept, none of them half, and what comes out is no wider than the room.
#pragma once
#include <string>

#include "tunesheaf/text/shaper.h"

namespace tunesheaf::text {

/// Empty where not even one character and the ellipsis have room.
std::string cut_to(Shaper& shaper, const std::string& text, const TextStyle& style, base::Length room);

}  // namespace tunesheaf::text

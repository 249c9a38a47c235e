// Whole songs from seeds. In: a seed and a size. Out: the song's tree, from which its YAML text is written. The songs
// are plausible and short, free of errors (doubts may be said), and together they hold every mark, meter, tuning and
// form of the language. Invariant: the same seed and size give the same bytes on every machine. Read next:
// generated/run.h.
#pragma once
#include <cstdint>

#include "generated/tree.h"

namespace tunesheaf::generated {

enum class Size { Small, Usual, Large };

Node make_song(std::uint64_t seed, Size size = Size::Usual);

}  // namespace tunesheaf::generated

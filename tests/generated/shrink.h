// Makes a failing song small. In: its tree and what "still fails" means. Out: a tree from which nothing more of these
// can be taken without losing the failure: parts, sections, keys, bars, lanes, cells. Read next: generated/judge.h.
#pragma once
#include <functional>

#include "generated/tree.h"

namespace tunesheaf::generated {

using StillFails = std::function<bool(const Node&)>;

/// `most_tries` bounds how often `fails` is asked.
Node shrink(Node song, const StillFails& fails, int most_tries = 4000);

}  // namespace tunesheaf::generated

// The parser's reading, held against ours. In: the file and its tokens. Out: the tree of nodes, with the parser's
// values and our spans. Invariant: every event of the parser met the token that scan() foretold; where they differ the
// file is refused with a message at that place.
#pragma once
#include <optional>
#include <vector>

#include "faults.h"
#include "scan.h"

namespace tunesheaf::yaml {

std::optional<Node> build(const source::File& file, const std::vector<Token>& tokens, diag::Sink& sink);

}  // namespace tunesheaf::yaml

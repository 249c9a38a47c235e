#include <algorithm>

#include "build.h"
#include "bytes.h"
#include "scan.h"
#include "tunesheaf/diag/words.h"
#include "tunesheaf/yaml/node.h"

namespace tunesheaf::yaml {

const Entry* Node::find(std::string_view key) const {
  const auto it = std::find_if(entries.begin(), entries.end(), [&](const Entry& e) { return e.key.text == key; });
  return it == entries.end() ? nullptr : &*it;
}

std::optional<Node> read(const source::File& file, diag::Sink& sink) {
  if (!check_bytes(file, sink)) return std::nullopt;
  const std::optional<std::vector<Token>> tokens = scan(file, sink);
  if (!tokens) return std::nullopt;
  return build(file, *tokens, sink);
}

}  // namespace tunesheaf::yaml

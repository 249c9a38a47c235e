// Nodes to Song. In: the root node of a file. Out: a Song, with every fault of spelling and kind added to the sink; a
// Song is returned even when there were faults, holding what could be understood, so that later faults show too.
#pragma once
#include <optional>
#include <string>

#include "tunesheaf/diag/diagnostic.h"
#include "tunesheaf/song/song.h"
#include "tunesheaf/yaml/node.h"

namespace tunesheaf::song {

/// Nothing only when the root is not a mapping at all.
std::optional<Song> read(const yaml::Node& root, const source::File& file, diag::Sink& sink);
/// The `song` phase: one item per line.
std::string print(const Song& song);
/// The same file with its lanes aligned (bar lines and beats in columns); comments and everything else kept byte for
/// byte.
std::string tidy(const yaml::Node& root, const source::File& file);

}  // namespace tunesheaf::song

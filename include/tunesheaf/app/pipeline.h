// The one way through the program: text, nodes, song, checked song, timeline, sheet, display list. In: a path and the
// wishes of the command line. Out: each phase's value, made once when first asked for. Invariant: a phase whose
// predecessor has errors does not run; every finding is in `sink`. Read next: app/commands.h.
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "tunesheaf/app/files.h"
#include "tunesheaf/check/checked.h"
#include "tunesheaf/diag/diagnostic.h"
#include "tunesheaf/score/timeline.h"
#include "tunesheaf/song/song.h"
#include "tunesheaf/source/source.h"
#include "tunesheaf/yaml/node.h"

namespace tunesheaf::app {

/// A song on its way, as far as it has come.
struct Work {
  source::Files files;
  source::FileId file = 0;
  bool from_disk = false;  ///< the song is a file; else it came through a pipe or was made here
  diag::Sink sink;
  std::optional<yaml::Node> nodes;
  std::optional<song::Song> song;
  std::optional<check::CheckedSong> checked;
  std::optional<score::Timeline> timeline;
};

/// Most bytes of a song that are read: one more than the reader of nodes accepts, so that it sees the excess.
inline constexpr std::size_t kMostSongBytes = 4 * 1024 * 1024 + 1;

/// Reads the file; false when there is none to work on.
bool read_text(Work& work, FileAccess& files, const std::string& path);
/// Each brings the work as far as its name, or as far as errors allow; true when its value is there.
bool to_nodes(Work& work);
bool to_song(Work& work);
bool to_checked(Work& work);
bool to_timeline(Work& work);

}  // namespace tunesheaf::app

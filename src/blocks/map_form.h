// The form as the map shows it. In: the song in time. Out: its steps with the bars that are played in each, the jumps
// between them, and which part sounds in which bar. Invariant: a step without bars is not there; of a step that a jump
// comes back to, the first time round is shown. Read next: blocks/map.h.
#pragma once
#include <string>
#include <vector>

#include "tunesheaf/score/timeline.h"

namespace tunesheaf::blocks {

/// One step of the form.
struct MapStep {
  int step = 0;  ///< index into Timeline::form
  const score::Section* section = nullptr;
  std::vector<int> bars;    ///< as played, by their index in the section
  std::vector<int> passes;  ///< how many bars each pass has
  double seconds = -1;      ///< where it begins: in the recording followed, else as played
  int pick_ups = 0;         ///< of its bars; not counted in words

  int count() const { return static_cast<int>(bars.size()); }
};
std::vector<MapStep> map_steps(const score::Timeline& song);
/// Sections whose place in a recording is stated begin there, where they come first; what stands between goes on from
/// the one before.
void set_by_recording(std::vector<MapStep>& steps, int recording);

/// From the end of one step to the beginning of another, both as indices into Timeline::form.
struct MapJump {
  int from = 0, to = 0;
  std::string words;
};
/// Short ways first.
std::vector<MapJump> map_jumps(const score::Timeline& song);

/// FromChords: nobody has music there, the chords are for whoever plays them.
enum class Playing : std::uint8_t { Silent, FromChords, Sounding };
/// Of each part of the song, for each bar of the section.
std::vector<std::vector<Playing>> playing(const score::Timeline& song, const score::Section& section);

}  // namespace tunesheaf::blocks

// When things sound. In: a bar as played and a place in it. Out: seconds from the song's beginning, with the tempo in
// force, its changes within the bar, and the swing of the feel. Invariant: a later place is never earlier in time. Also
// here: facts about bars that only the whole of the printed parts can tell. Read next: score/timeline.h.
#pragma once
#include "tunesheaf/score/timeline.h"

namespace tunesheaf::score {

/// An onset as it is played under a feel: the second of two swung notes comes late, notes between move with them.
/// Onsets that divide the pair by anything but halves (triplets) stay where they are written.
Fraction swung(Fraction onset, const song::Feel& feel);
/// The feel of a section: its own or the song's.
const song::Feel& feel_of(const Timeline& timeline, const Section& section);
/// Seconds at which a place sounds; an onset beyond the bar lies in the bars played after it.
double seconds_at(const Timeline& timeline, std::size_t played, Fraction onset);

struct BarRun {
  int first = 0, count = 0;
};
/// Runs of two bars and more of a section in which none of these parts plays, without a change of meter or key, a
/// repeat, an ending or words inside: what a part's own sheet prints as one rest with a number over it.
std::vector<BarRun> empty_runs(const Section& section, const std::vector<int>& parts);

}  // namespace tunesheaf::score

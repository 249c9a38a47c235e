// When things sound. In: a bar as played and a place in it. Out: seconds from the song's beginning, with the tempo in
// force, its changes within the bar, and the swing of the feel. Invariant: a later place is never earlier in time. Read
// next: score/timeline.h.
#pragma once
#include "tunesheaf/score/timeline.h"

namespace tunesheaf::score {

/// An onset as it is played under a feel: the second of two swung notes comes late, notes between move with them.
/// Onsets that divide the pair by anything but halves (triplets) stay where they are written.
Fraction swung(Fraction onset, const song::Feel& feel);
/// The tempo at a place of a bar as played, without swing: whole notes a minute, their change, seconds since the bar
/// began.
TempoPiece tempo_within(const PlayedBar& bar, Fraction at);
/// The feel of a section: its own or the song's.
const song::Feel& feel_of(const Timeline& timeline, const Section& section);
/// "straight", "swing", or as the song words it.
std::string feel_words(const song::Feel& feel);
/// Whether the feel of a section is not the song's, or not that of what is played just before it.
bool feel_changes(const Timeline& timeline, int section);
/// What a tempo counts: the note value it states, else the one the meter is counted in; in whole notes.
Fraction counted_unit(const song::TempoMark& mark, const theory::Meter& meter);
/// The same in a section, by its first meter.
Fraction counted_unit(const song::TempoMark& mark, const Section& section);
/// Whether two tempos (in whatever unit, the same for both) are heard as two: they differ by more than 4 in a thousand.
bool heard_apart(double rate, double other);
/// The song's tempo where it comes back by itself: a section that states none begins at it, and what is played before
/// the section, some time that it is come to, ends at another.
std::optional<song::TempoMark> returning_tempo(const Timeline& timeline, int section);
/// Seconds at which a place sounds; an onset beyond the bar lies in the bars played after it.
double seconds_at(const Timeline& timeline, std::size_t played, Fraction onset);

}  // namespace tunesheaf::score

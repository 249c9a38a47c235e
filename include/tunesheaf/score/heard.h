// How marks sound. In: an event of a Timeline and one of its notes. Out: numbers that an output can play or tell: when
// the notes of a rolled chord begin, how often a stroke is repeated, the pitch on the way of a glissando. Invariant:
// nothing here depends on the tempo; a note that is rolled begins before its event is half over. Read next: timeline.h.
#pragma once
#include <optional>
#include <vector>

#include "tunesheaf/score/timeline.h"

namespace tunesheaf::score {

/// How long after the event's onset each of its notes begins, in the order of Event::notes, in whole notes. Rolled
/// chords: one note after another, a 64th apart at most, from the low strings with a down stroke and from the high ones
/// with an up stroke; an instrument without strings by pitch. All others begin at once.
std::vector<Fraction> later_than_onset(const Event& event);

/// The finger slides to the note from nowhere.
bool slides_in(const Note& note);
/// By the picking hand: not what is held, hammered, pulled off, tapped or slid to. Before a small note the hand strikes
/// that one.
bool picked(const Event& event, const Note& note);

/// From one stroke to the next, in whole notes; nothing for a note struck once, and for a buzz roll, whose strokes
/// nobody counts (Note::buzz). Rolls: each stroke through the stem halves, as a flag does, from the quarter note on.
/// A tremolo without number, and what lies under a span of tremolo picking, has no pace on paper ("as many strokes as
/// fit"): 32nds are assumed, as three strokes through the stem of a quarter say them (Gould 2011).
std::optional<Fraction> stroke_every(const Event& event, const Note& note);

/// A glissando's way from this note to the one it leads to: shares of the written duration and semitones, as of a bend;
/// empty where the event leads nowhere. `steps`: fret by fret or key by key, each pitch for as long as the others.
std::vector<BendPoint> glide(const Timeline& timeline, const Event& event, const Note& note, bool steps);

/// Frets and keys sound each pitch between; bows, voices and winds slide through them.
bool glides_in_steps(const Part& part);

}  // namespace tunesheaf::score

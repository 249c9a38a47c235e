// One bar of one part in words. In: the section, the part's music, the bar. Out: what the hands hold, what they play,
// and what is said about it, apart from each other, so that repeats can be found. Invariant: two bars with equal
// `measure`, `held` and `played` are played alike; with equal `measure` and `figure` they differ only in the shape that
// is held.
#pragma once
#include <string>
#include <vector>

#include "teller.h"

namespace tunesheaf::aloud {

struct BarSaid {
  std::string measure;              ///< meter and length: the same words mean the same places only within it
  std::string held;                 ///< "shape home; beat 3, shape sixth"
  std::vector<std::string> played;  ///< sentences
  std::string figure;               ///< the same without frets; empty where the shape alone does not tell them
  bool strummed = false;            ///< what the figure is called
  bool silent = false;              ///< nothing begins: `played` is "rest" or "held"
  std::vector<Sentence> asides;     ///< remarks and the like, said whether or not the bar is a repeat
};

BarSaid say_bar(const Teller& teller, const score::Section& section, int part, int bar);
/// What the chart says for everybody.
BarSaid say_chart_bar(const Teller& teller, const score::Section& section, int bar);

/// What sounds from an event's onset on, without the beat: "index plucks string 3, open; string 1, fret 2".
std::string event_words(const Teller& teller, const score::Section& section, const score::Event& event);
/// A strummed stroke: "down", "muted up", "down, over strings 4 to 3".
std::string stroke_words(const Teller& teller, const score::Event& event);
/// Accents and their like, by the names of their signs.
std::vector<std::string> accent_words(const song::Accents& accents);
/// How a drum is struck; nothing for a plain stroke.
std::string drum_stroke_words(const score::Event& event, const score::Note& note);
/// True where fret and finger are those of the shape in force, so that the string alone says them.
bool told_by_shape(const Teller& teller, const score::Event& event);
/// The event without frets and fingers.
std::string figure_words(const score::Event& event);

}  // namespace tunesheaf::aloud

// Phrases of a bar that are not notes on strings. In: strokes, syllables, moves of pedal and vibrato bar. Out: words.
#pragma once
#include <string>
#include <vector>

#include "teller.h"

namespace tunesheaf::aloud {

struct Stroke {
  Fraction onset;
  std::string how;
};
/// "Kick: beat 1; beat 3, accent", or "Hi-hat: every half beat; but beat 4, open" when four or more strokes fill the
/// bar evenly and most of them are alike.
std::string stream_words(const score::Bar& bar, const std::string& label, const std::vector<Stroke>& strokes);

/// One syllable without its hyphen and punctuation.
std::string syllable(const std::string& typed);
/// Syllables of a word are typed apart, "py- lons"; they are joined for one who hears them.
std::string joined_words(const std::vector<std::string>& typed);

std::string pedal_words(const std::string& text);
std::string arm_words(const song::ArmSign& arm);
std::string hold_words(const std::string& text);

}  // namespace tunesheaf::aloud

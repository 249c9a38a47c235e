// Facts of the song in the words of a player. In: numbers and names of the song. Out: short texts for the page, with
// the signs of music. Invariant: no text here depends on a font or a place. Read next: blocks/move_words.h.
#pragma once
#include <string>
#include <vector>

#include "tunesheaf/base/fraction.h"
#include "tunesheaf/base/lists.h"
#include "tunesheaf/score/timeline.h"

namespace tunesheaf::blocks {

/// "1:56", "1:02:03"; parts of a second are cut off.
std::string clock(const base::Fraction& seconds);
std::string clock(double seconds);
/// "1 bar", "8 bars".
std::string counted(int count, const std::string& one, const std::string& many);
/// "1st", "2nd", "11th".
std::string ordinal(int n);
/// "once", "twice", "3 times", "about 4 times", "until the singer sits down (about 4 times)".
std::string times_words(const score::Section& section);
/// "18 cents sharp of this page", "2 semitones below this page", "1 semitone and 20 cents below this page",
/// "2 semitones below this page, and 10 cents sharp of that", "exactly at the pitch of this page".
std::string pitch_words(double cents, const std::string& page = "this page");
/// What a player does about it: "Set the tuner to A4 = 444.6 Hz to play along.", "Move the capo down 2 frets …"; empty
/// when nothing is to be done. `capo` is the fret of the first fretted part's full capo, 0 for none.
std::string pitch_advice(double cents, int capo);
/// 440 · 2^(c/1200) for the cents left after whole semitones are taken out (ISO 16 for the 440).
double tuner_reference(double cents);
/// "strings 6, 4 and 1", "string 6".
using base::list_words;
/// A chord's name as typed, with ♭ and ♯ for the b and # that are accidentals: after a letter A to G at the beginning
/// or after a slash, and before a degree's number.
std::string with_signs(const std::string& chord);
/// The cents that a part's strings are to be tuned by for a recording: what a capo can do for whole semitones (see
/// pitch_advice) is left out.
double string_cents(double cents, int capo);
/// The text with a full stop, unless it ends a sentence already.
std::string sentence_end(std::string text);
/// "24 November 2026" for a date of ISO 8601, "2026-11-24"; every other text as it is.
std::string date_words(const std::string& text);
/// Straight quotes and apostrophes as printers set them, for texts in English (a language tag that begins with "en");
/// marks after a digit stay straight, other languages are left as typed.
std::string typographic(const std::string& text, const std::string& language);
/// The song's key as the page prints it: "G major", "B♭ minor".
std::string key_words(const theory::Key& key);

}  // namespace tunesheaf::blocks

// Readers given anything: they answer with a value or a fault inside the text, and never do more.
#include <gtest/gtest.h>

#include <cmath>
#include <random>
#include <string>
#include <vector>

#include "tunesheaf/theory/chord.h"
#include "tunesheaf/theory/key.h"
#include "tunesheaf/theory/recording.h"
#include "tunesheaf/theory/shape.h"
#include "tunesheaf/theory/tuning.h"

namespace tunesheaf::theory {
namespace {

/// Texts glued together from the words of the readers, and from bytes that mean nothing.
std::vector<std::string> texts(unsigned seed, int count) {
  static const std::vector<std::string> kPieces{
      "C",  "F#", "B♭",  "m",     "maj",       "7",     "9",      "11",     "13",   "sus",      "add",
      "no", "(",  ")",   "/",     ",",         "b",     "#",      "♯",      "-",    "+",        "dim",
      "°",  "ø",  "Δ",   "alt",   " ",         "x",     "0",      "2",      "12",   "E2",       "@5",
      "A4", "=",  "432", "cents", "semitones", "minor", "dorian", "open G", "\xff", "\xe2\x99", "\t",
      "T",  ".",  "4",   "6",     "5",         "omit",  "aug",    "N.C.",   "[",    "]",        "99999999999999999999",
      "−"};
  std::mt19937 random(seed);
  std::vector<std::string> out;
  for (int i = 0; i < count; ++i) {
    std::string text = i % 2 == 0 ? "" : "Eb";
    for (unsigned n = random() % 9; n > 0; --n) text += kPieces[random() % kPieces.size()];
    out.push_back(text);
  }
  return out;
}

TEST(Robust, FaultsLieInsideTheText) {
  int chords = 0;
  for (const std::string& text : texts(7, 60000)) {
    const auto chord = parse_chord(text);
    if (chord) {
      ++chords;
      const auto again = parse_chord(print(*chord));
      ASSERT_TRUE(again.ok()) << text << " printed " << print(*chord);
      EXPECT_TRUE(*again == *chord) << text << " printed " << print(*chord) << " read " << print(*again);
    } else {
      EXPECT_LE(chord.error().at, text.size()) << text;
      const std::string& understood = chord.error().understood;
      EXPECT_TRUE(understood.empty() || parse_chord(understood).ok()) << text;
    }
    const auto key = parse_key(text);
    EXPECT_TRUE(key.ok() || key.error().at <= text.size()) << text;
    const auto tuning = parse_tuning(text, "guitar");
    if (tuning) {
      EXPECT_GE(tuning->count(), 1);
      EXPECT_LE(tuning->count(), kMostStrings);
    } else {
      EXPECT_LE(tuning.error().at, text.size());
    }
    const auto offset = parse_offset(text);
    EXPECT_TRUE(!offset.ok() || std::abs(offset->cents) <= 2400.0) << text;
    const auto frets = parse_frets(text);
    EXPECT_TRUE(frets.ok() || frets.error().at <= text.size()) << text;
    (void)parse_fingers(text);
    (void)parse_pitch(text);
    (void)parse_interval(text);
  }
  EXPECT_GT(chords, 2000);
}

}  // namespace
}  // namespace tunesheaf::theory

// A hand's shape. In: frets "x 0 2 0 1 2" or "x02010", fingers ". . 2 . 1 3". Out: frets and fingers per string, what
// they sound, the barres they mean, and what is impossible about them. Invariant: after check_shape() has passed, each
// finger is on one fret, and the counts agree with the tuning. Lists run low string first, as typed.
// Read next: naming.h (its name), fingering.h (fingers when none are given), move.h.
#pragma once
#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "tunesheaf/base/result.h"
#include "tunesheaf/theory/key.h"
#include "tunesheaf/theory/tuning.h"

namespace tunesheaf::theory {

enum class Finger : std::uint8_t { None, Index, Middle, Ring, Little, Thumb };
/// '.', '1'..'4', 'T'.
char finger_sign(Finger finger);
inline constexpr std::array kFingers{Finger::Index, Finger::Middle, Finger::Ring, Finger::Little, Finger::Thumb};

struct Shape {
  std::vector<std::optional<int>> frets;  // nothing: the string is not played; 0: open
  std::vector<Finger> fingers;            // empty when none are given; else one per string
  int count() const { return static_cast<int>(frets.size()); }
  /// Player's number (1 is the last) of list place i, and back.
  int number_of(std::size_t i) const { return count() - static_cast<int>(i); }
  std::size_t place_of(int string_number) const { return static_cast<std::size_t>(count() - string_number); }
  /// Lowest and highest stopped fret (0 when nothing is stopped).
  int lowest_fret() const;
  int highest_fret() const;
  friend bool operator==(const Shape&, const Shape&) = default;
};

enum class ShapeFault : std::uint8_t {
  Empty,
  BadFret,           // `word` is no fret (x, 0..36)
  BadFinger,         // `word` is no finger (. 1 2 3 4 T)
  WrongStringCount,  // `got` frets for `want` strings
  WrongFingerCount,  // `got` fingers for `want` frets
  FingerOnTwoFrets,  // `finger` on `fret` and `other_fret`
  FingerOnNothing,   // a finger where the string is open or not played: `string`
  FretBeyondNeck,    // `fret` > `want`, on `string`
  FretBelowStart,    // on a short string, between nut and its first fret: `string`, `fret`, `want` = start fret
  FretUnderCapo,     // partial capo: a stopped fret at or behind the capo on a string it holds
  BarreStopsOpen,    // `finger` lies across `string`, which should ring open or at a lower fret
  NothingSounds,
  FingersCross,  // finger `finger` lies behind a lower-numbered one: cannot be held
};
struct ShapeError {
  ShapeFault fault = ShapeFault::Empty;
  std::size_t at = 0;  // byte offset, for parse errors
  std::string word;
  int string = 0;  // player's number
  int fret = 0, other_fret = 0;
  int got = 0, want = 0;
  Finger finger = Finger::None;
};

/// Parted by blanks, or run together while every fret has one digit. x or X: not played.
base::Result<std::vector<std::optional<int>>, ShapeError> parse_frets(std::string_view text);
/// Parted by blanks, or run together. '.', '-' or '0': none.
base::Result<std::vector<Finger>, ShapeError> parse_fingers(std::string_view text);
/// "x02010", or parted by blanks when a fret has two digits.
std::string print_frets(const Shape& shape);
/// "..2.13".
std::string print_fingers(const Shape& shape);

/// Everything impossible about the shape on this neck; empty when it can be held as stated. `frets_on_neck` counts from
/// the nut; 0 means no limit is known.
std::vector<ShapeError> check_shape(const Shape& shape, const Tuning& tuning, const Capo& capo, int frets_on_neck);

/// One sounding note of a shape.
struct SoundingString {
  int string = 1;  // player's number
  int fret = 0;
  std::vector<int> midi;  // the course's keys, first the one it is named by
};
/// Played strings, low string first. Needs the counts to agree.
std::vector<SoundingString> sounding(const Tuning& tuning, const Capo& capo, const Shape& shape);
/// All keys that sound, in the order of the strings.
std::vector<int> sounding_midi(const Tuning& tuning, const Capo& capo, const Shape& shape);

/// One finger across several strings.
struct Barre {
  Finger finger = Finger::Index;
  int fret = 0;
  int from_string = 6, to_string = 1;  // player's numbers, from the low side (larger) to the last
  friend bool operator==(const Barre&, const Barre&) = default;
};
/// Barres that the given fingers mean: a finger on two or more strings at one fret. Empty without fingers.
std::vector<Barre> barres(const Shape& shape);

/// A stopped fret's place from the nut: L * (1 - 2^(-fret/12)), in mm.
double fret_place_mm(double scale_length_mm, double fret);
/// Distance between two frets in mm.
double stretch_mm(double scale_length_mm, int from_fret, int to_fret);

}  // namespace tunesheaf::theory

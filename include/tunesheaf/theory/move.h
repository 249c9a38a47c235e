// The move between two shapes. In: two shapes with fingers (missing ones are filled in by fingering.h). Out: what each
// finger does, in a stable order (index, middle, ring, little, thumb), the guide finger, and how hard it is.
// Invariant: each finger that is down in either shape appears exactly once. Words for the page are made elsewhere.
// Read next: blocks/ for the words, fingering.h.
#pragma once
#include <optional>
#include <vector>

#include "tunesheaf/theory/fingering.h"
#include "tunesheaf/theory/shape.h"

namespace tunesheaf::theory {

enum class MoveKind : std::uint8_t {
  Stays,     // same fret, same strings
  Lifts,     // down before, up after
  Moves,     // to another string (and perhaps fret)
  Slides,    // same string, another fret: need not leave the string
  Added,     // up before, down after
  Flattens,  // same fret, from one string to a barre that contains it
  Unbarres,  // same fret, from a barre to fewer strings of it
};

/// Where a finger stands: a fret, and the strings (player's numbers, the lower string first).
struct FingerPlace {
  int fret = 0;
  int from_string = 1, to_string = 1;
  bool barre() const { return from_string != to_string; }
  friend bool operator==(const FingerPlace&, const FingerPlace&) = default;
};

struct FingerMove {
  Finger finger = Finger::None;
  MoveKind kind = MoveKind::Stays;
  std::optional<FingerPlace> from, to;
  friend bool operator==(const FingerMove&, const FingerMove&) = default;
};

struct Move {
  std::vector<FingerMove> fingers;
  std::optional<Finger> guide;  // a finger that slides while others move; the first of the least distance
  /// Strings that change between ringing and not played: player's numbers.
  std::vector<int> strings_opened, strings_silenced;
  /// Difficulty, in half points; 0: no change, else at least 1. Formula in points: 2 for each finger added; 3 for each
  /// moved to another string, and a half for each string and each fret on the way; 2 for each slide, and a half for
  /// each fret; 1 for each lifted; 2 for each further string that a finger newly lies across; 1 for a barre given up.
  /// Less 1 for each finger that stays while others work, and 1 for a guide finger. A hand that keeps its form and goes
  /// the same way with all fingers counts as one finger. Orders changes as teachers do
  /// (tests/theory/fingering_test.cpp).
  int difficulty = 0;
  bool none() const { return difficulty == 0 && strings_opened.empty() && strings_silenced.empty(); }
};

/// Nothing when one of the shapes has no fingers and cannot be fingered.
std::optional<Move> move_between(const Shape& from, const Shape& to, const Neck& neck = {});

}  // namespace tunesheaf::theory

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
  /// Difficulty: 0 no change. Formula: 2 per finger added, 3 per finger moved plus its way in strings and half its way
  /// in frets, 2 per slide plus half its way in frets, 1 per finger lifted, 2 per barre flattened, 1 unbarred; 4 more
  /// for a barre put down from the air; less 1 for each finger that stays while others work and 1 for a guide finger; a
  /// move of the whole hand in one form (all slide alike) counts as one slide. In half points, never negative.
  int difficulty = 0;
  bool none() const { return difficulty == 0 && strings_opened.empty() && strings_silenced.empty(); }
};

/// Nothing when one of the shapes has no fingers and cannot be fingered.
std::optional<Move> move_between(const Shape& from, const Shape& to, const Neck& neck = {});

}  // namespace tunesheaf::theory

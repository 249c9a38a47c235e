// The familiar shape that a fingering comes from. In: a shape (with fingers or without), the instrument. Out: the
// shapes every learner knows that it is near, each with what is changed: a finger lifted, added or moved, the whole
// carried to other strings or up the neck. Invariant: it is told by the hand alone; what it sounds in this tuning plays
// no part. Read next: move.h, naming.h (what it sounds).
#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "tunesheaf/theory/move.h"
#include "tunesheaf/theory/shape.h"

namespace tunesheaf::theory {

struct FamiliarChange {
  MoveKind kind = MoveKind::Lifts;  // Lifts, Added, Moves (another string) or Slides (another fret)
  Finger finger = Finger::None;     // of the familiar shape; of the new one when added (None when not known)
  std::optional<FingerPlace> from, to;
  friend bool operator==(const FamiliarChange&, const FamiliarChange&) = default;
};

struct Familiar {
  std::string name;      // "D", "Am", "F": what the hand calls it, in the usual tuning
  Shape shape;           // the familiar shape itself, with its fingers
  int strings_over = 0;  // carried so many strings towards string 1 (negative: away from it)
  int frets_up = 0;      // carried so far up the neck
  std::vector<FamiliarChange> changes;
  int distance = 0;  // 0: the shape itself
  bool same() const { return distance == 0; }
};

/// Nearest first, at most `most`; empty when nothing is near: less than two fingers in common (one, of shapes with one
/// finger), or more than two changed. Known for guitars of six strings, ukulele and mandolin; others have none.
std::vector<Familiar> familiar_shapes(const Shape& shape, std::string_view instrument, std::size_t most = 3);

}  // namespace tunesheaf::theory

#include "tunesheaf/theory/move.h"

#include <algorithm>
#include <array>
#include <cstdlib>

namespace tunesheaf::theory {
namespace {

constexpr std::array<Finger, 5> kOrder{Finger::Index, Finger::Middle, Finger::Ring, Finger::Little, Finger::Thumb};

std::optional<FingerPlace> place_of(const Shape& shape, Finger finger) {
  std::optional<FingerPlace> out;
  for (std::size_t i = 0; i < shape.fingers.size() && i < shape.frets.size(); ++i) {
    if (shape.fingers[i] != finger || shape.frets[i].value_or(0) == 0) continue;
    if (!out) out = FingerPlace{*shape.frets[i], shape.number_of(i), shape.number_of(i)};
    out->to_string = shape.number_of(i);
  }
  return out;
}

std::optional<Shape> fingered(const Shape& shape, const Neck& neck) {
  if (!shape.fingers.empty() || shape.highest_fret() == 0) return shape;
  const std::optional<Fingering> found = finger_shape(shape, neck);
  if (!found) return std::nullopt;
  Shape out = shape;
  out.fingers = found->fingers;
  return out;
}

bool share_string(const FingerPlace& a, const FingerPlace& b) {
  return a.from_string >= b.to_string && b.from_string >= a.to_string;
}

MoveKind kind_of(const FingerPlace& from, const FingerPlace& to) {
  if (from == to) return MoveKind::Stays;
  if (from.fret == to.fret && share_string(from, to)) {
    const int width_before = from.from_string - from.to_string, width_after = to.from_string - to.to_string;
    return width_after > width_before ? MoveKind::Flattens : MoveKind::Unbarres;
  }
  if (from.fret != to.fret && share_string(from, to)) return MoveKind::Slides;
  return MoveKind::Moves;
}

int strings_apart(const FingerPlace& a, const FingerPlace& b) {
  if (share_string(a, b)) return 0;
  return std::min(std::abs(a.to_string - b.from_string), std::abs(a.from_string - b.to_string));
}

/// Strings under the finger that were not under it before, the first one aside.
int newly_covered(const FingerMove& move) {
  const int after = move.to ? move.to->from_string - move.to->to_string : 0;
  const bool lies_on = move.from && move.kind != MoveKind::Moves;
  const int before = lies_on ? move.from->from_string - move.from->to_string : 0;
  return std::max(0, after - before);
}

/// Half points of one finger's move; the header states the formula.
int half_points(const FingerMove& move) {
  switch (move.kind) {
    case MoveKind::Stays:
      return 0;
    case MoveKind::Lifts:
    case MoveKind::Unbarres:
      return 2;
    case MoveKind::Added:
    case MoveKind::Flattens:
      return 4 + 4 * newly_covered(move);
    case MoveKind::Slides:
      return 4 + std::abs(move.to->fret - move.from->fret) + 4 * newly_covered(move);
    case MoveKind::Moves:
      return 6 + strings_apart(*move.from, *move.to) + std::abs(move.to->fret - move.from->fret) +
             4 * newly_covered(move);
  }
  return 0;
}

/// The hand keeps its form: every finger goes the same way over strings and frets. Half points of that one way.
std::optional<int> one_form(const std::vector<FingerMove>& fingers) {
  std::optional<int> frets, strings;
  for (const FingerMove& move : fingers) {
    if (!move.from || !move.to || move.kind == MoveKind::Stays) return std::nullopt;
    const int by_strings = move.to->from_string - move.from->from_string;
    const int by_frets = move.to->fret - move.from->fret;
    if (move.to->to_string - move.from->to_string != by_strings) return std::nullopt;
    if (frets && (*frets != by_frets || *strings != by_strings)) return std::nullopt;
    frets = by_frets;
    strings = by_strings;
  }
  if (!frets) return std::nullopt;
  return (*strings == 0 ? 4 : 6) + std::abs(*strings) + std::abs(*frets);
}

std::optional<Finger> guide_of(const std::vector<FingerMove>& fingers) {
  if (one_form(fingers)) return std::nullopt;
  std::optional<Finger> guide;
  int least = 0;
  bool others = false;
  for (const FingerMove& move : fingers) {
    if (move.kind == MoveKind::Stays) continue;
    if (move.kind != MoveKind::Slides) {
      others = others || move.kind == MoveKind::Moves || move.kind == MoveKind::Added;
      continue;
    }
    const int way = std::abs(move.to->fret - move.from->fret);
    others = others || guide.has_value();
    if (guide && way >= least) continue;
    guide = move.finger;
    least = way;
  }
  if (!others) return std::nullopt;
  return guide;
}

int difficulty_of(const Move& move) {
  if (const std::optional<int> way = one_form(move.fingers)) return *way;
  int sum = 0;
  int stays = 0;
  for (const FingerMove& finger : move.fingers) {
    sum += half_points(finger);
    if (finger.kind == MoveKind::Stays) ++stays;
  }
  if (sum == 0) return 0;
  sum -= 2 * stays + (move.guide ? 2 : 0);
  return std::max(sum, 1);
}

}  // namespace

std::optional<Move> move_between(const Shape& from_typed, const Shape& to_typed, const Neck& neck) {
  const std::optional<Shape> from = fingered(from_typed, neck);
  const std::optional<Shape> to = fingered(to_typed, neck);
  if (!from || !to) return std::nullopt;
  Move out;
  for (const Finger finger : kOrder) {
    FingerMove move;
    move.finger = finger;
    move.from = place_of(*from, finger);
    move.to = place_of(*to, finger);
    if (!move.from && !move.to) continue;
    if (!move.from)
      move.kind = MoveKind::Added;
    else if (!move.to)
      move.kind = MoveKind::Lifts;
    else
      move.kind = kind_of(*move.from, *move.to);
    out.fingers.push_back(move);
  }
  for (std::size_t i = 0; i < from->frets.size() && i < to->frets.size(); ++i) {
    const int number = from->number_of(i);
    if (!from->frets[i] && to->frets[i]) out.strings_opened.push_back(number);
    if (from->frets[i] && !to->frets[i]) out.strings_silenced.push_back(number);
  }
  out.guide = guide_of(out.fingers);
  out.difficulty = difficulty_of(out);
  return out;
}

}  // namespace tunesheaf::theory

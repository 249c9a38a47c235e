// Strain, in points:
//   20 for each finger down, 3 more for the little finger, 80 for the thumb over the neck (tried last);
//   barre: 22 and 3 a string for the index, 35 and 8 a string for the others (the ring finger 30), and 25 more when the
//   next string must ring at a lower fret, since a flat finger damps it;
//   12 for each string beyond the second between two neighbouring fingers on one fret;
//   between neighbouring fingers 10 for each fret wider than their natural reach (a fret a finger), 4 for each fret
//   closer than that;
//   1 for each fret between a finger and its own fret in first position (finger n on fret n), up to fret 4;
//   1 for each 4 mm of stretch beyond 60 mm; 15 for each string muted between played ones.
// Fingers are groups of stopped strings in the order fret, then low string first, so they never cross. The search is in
// hand.cpp.
#include "tunesheaf/theory/fingering.h"

#include <algorithm>
#include <array>

#include "hand.h"

namespace tunesheaf::theory {
namespace {

Frets frets_of(const Shape& shape) {
  Frets out{};
  for (std::size_t i = 0; i < shape.frets.size() && i < out.size(); ++i)
    out[i] = static_cast<std::int8_t>(shape.frets[i].value_or(kMute));
  return out;
}

std::vector<int> muted_inside(const Shape& shape) {
  std::vector<int> out;
  std::optional<std::size_t> first, last;
  for (std::size_t i = 0; i < shape.frets.size(); ++i) {
    if (!shape.frets[i]) continue;
    if (!first) first = i;
    last = i;
  }
  for (std::size_t i = first.value_or(0); i < last.value_or(0); ++i) {
    if (!shape.frets[i]) out.push_back(shape.number_of(i));
  }
  return out;
}

}  // namespace

std::optional<Fingering> finger_shape(const Shape& shape, const Neck& neck) {
  if (shape.count() > kMostStrings) return std::nullopt;
  const Frets frets = frets_of(shape);
  const NeckReach& reach = NeckReach::of(neck);
  Hand hand(frets, shape.count(), reach);
  Fingering out;
  out.strain = hand.solve();
  if (out.strain < 0) return std::nullopt;
  const auto fingers = hand.fingers();
  Shape held = shape;
  held.fingers.clear();
  for (std::size_t i = 0; i < shape.frets.size(); ++i) held.fingers.push_back(static_cast<Finger>(fingers[i]));
  out.fingers = held.fingers;
  out.barres = barres(held);
  if (shape.highest_fret() > 0) out.stretch = reach.span(shape.lowest_fret(), shape.highest_fret());
  out.muted_inside = muted_inside(shape);
  return out;
}

bool playable(const Shape& shape, const Neck& neck) {
  if (shape.count() > kMostStrings) return false;
  const Frets frets = frets_of(shape);
  return Hand(frets, shape.count(), NeckReach::of(neck)).solve() >= 0;
}

int strain_of(const Shape& shape, const Neck& neck) {
  std::array<FingerGroup, 4> groups{};
  std::array<int, 4> fingers{};
  int count = 0;
  int thumb = 0;
  for (std::size_t f = 0; f < kFingers.size(); ++f) {
    std::optional<FingerGroup> group;
    for (std::size_t i = 0; i < shape.fingers.size() && i < shape.frets.size(); ++i) {
      if (shape.fingers[i] != kFingers[f] || shape.frets[i].value_or(0) == 0) continue;
      if (!group) group = FingerGroup{*shape.frets[i], static_cast<int>(i), static_cast<int>(i)};
      group->last = static_cast<int>(i);
    }
    if (!group) continue;
    if (kFingers[f] == Finger::Thumb) {
      thumb = 80;
      continue;
    }
    groups[static_cast<std::size_t>(count)] = *group;
    fingers[static_cast<std::size_t>(count++)] = static_cast<int>(f) + 1;
  }
  const Frets frets = frets_of(shape);
  const Hand hand(frets, std::min(shape.count(), kMostStrings), NeckReach::of(neck));
  return hand.strain(groups.data(), fingers.data(), count) + thumb;
}

std::vector<Mute> mutes(const Shape& fingered) {
  std::vector<Mute> out;
  std::optional<std::size_t> first, last;
  for (std::size_t i = 0; i < fingered.frets.size(); ++i) {
    if (!fingered.frets[i]) continue;
    if (!first) first = i;
    last = i;
  }
  const auto finger_on = [&](std::size_t i) {
    if (i >= fingered.fingers.size() || fingered.frets[i].value_or(0) == 0) return Finger::None;
    return fingered.fingers[i];
  };
  for (std::size_t i = 0; i < fingered.frets.size(); ++i) {
    if (fingered.frets[i]) continue;
    Mute mute;
    mute.string = fingered.number_of(i);
    const bool inside = first && i > *first && i < *last;
    const Finger before = i > 0 ? finger_on(i - 1) : Finger::None;
    const Finger after = finger_on(i + 1);
    if (inside && before != Finger::None) {
      mute.by = MutedBy::FingerBefore;
      mute.finger = before;
    } else if (inside && after != Finger::None) {
      mute.by = MutedBy::FingerAfter;
      mute.finger = after;
    } else if (inside && i <= 1) {
      mute.by = MutedBy::ThumbTip;
      mute.finger = Finger::Thumb;
    }
    out.push_back(mute);
  }
  return out;
}

}  // namespace tunesheaf::theory

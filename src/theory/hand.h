// The fingers for one set of frets, without allocation: the shape finder asks this thousands of times.
// In: frets (kMute: not played), the neck. Out: the least strain and its fingers. The formula stands in fingering.cpp.
// Private to theory.
#pragma once
#include <array>
#include <cstdint>

#include "tunesheaf/theory/fingering.h"

namespace tunesheaf::theory {

constexpr int kMute = -1;
using Frets = std::array<int, kMostStrings>;

/// Stopped strings under one finger.
struct FingerGroup {
  int fret = 0;
  int first = 0, last = 0;  // list places
};

class Hand {
 public:
  Hand(const Frets& frets, int count, const Neck& neck);

  /// Least strain, or -1 when no hand can hold it.
  int solve();
  /// Per string after solve(): 0 none, 1..4, 5 thumb.
  std::array<std::uint8_t, kMostStrings> fingers() const;
  /// Strain of given groups and fingers.
  int strain(const FingerGroup* groups, const int* fingers, int count) const;
  double span(int from_fret, int to_fret) const;

 private:
  struct Stop {
    int fret, place;
  };
  int group_strain(const FingerGroup& group, int finger) const;
  int pair_strain(const FingerGroup& before, int finger_before, const FingerGroup& group, int finger) const;
  bool may_lie_across(const FingerGroup& group) const;
  void grow(int from);
  void assign(int next, int least, int so_far);
  void try_thumb();

  const Frets& frets_;
  int count_;
  const Neck& neck_;
  std::array<Stop, kMostStrings> stops_{};
  int stop_count_ = 0;
  int base_ = 0;  // strain that no choice of fingers changes: muted strings, stretch
  std::array<FingerGroup, 4> groups_{}, best_groups_{};
  std::array<int, 4> fingers_{}, best_fingers_{};
  int group_count_ = 0, best_count_ = 0;
  int best_ = -1;
  int thumb_ = -1;
};

}  // namespace tunesheaf::theory

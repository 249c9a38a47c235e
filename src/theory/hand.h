// The fingers for one set of frets, without allocation: the shape finder asks this thousands of times.
// In: frets (kMute: not played), the reach of a hand on the neck. Out: the least strain and its fingers. The formula
// stands in fingering.cpp. Private to theory.
#pragma once
#include <array>
#include <cstdint>
#include <limits>

#include "tunesheaf/theory/fingering.h"

namespace tunesheaf::theory {

constexpr std::int8_t kMute = -1;
using Frets = std::array<std::int8_t, kMostStrings>;

/// Stopped strings under one finger.
struct FingerGroup {
  int fret = 0;
  int first = 0, last = 0;  // list places
};

/// How far two fingers reach on a neck, worked out once for all shapes on it.
class NeckReach {
 public:
  explicit NeckReach(const Neck& neck);
  /// For the neck asked for last, kept.
  static const NeckReach& of(const Neck& neck);

  const Neck& neck() const { return neck_; }
  /// Millimetres between two frets.
  double span(int from_fret, int to_fret) const;
  /// Fingers 1 to 4, a < b, from_fret <= to_fret.
  bool reaches(int from_fret, int to_fret, int a, int b) const {
    return to_fret <= farthest_[index(from_fret)][static_cast<std::size_t>(pair(a, b))];
  }
  /// Whichever two fingers.
  bool all_reach(int from_fret, int to_fret) const {
    return reaches(from_fret, to_fret, 2, 3) && reaches(from_fret, to_fret, 3, 4);
  }
  /// The whole hand, thumb and all.
  bool within_hand(int from_fret, int to_fret) const { return reaches(from_fret, to_fret, 1, 4); }

 private:
  static constexpr int kFrets = 64;
  static constexpr std::size_t index(int fret) {
    return static_cast<std::size_t>(fret < 0 ? 0 : (fret >= kFrets ? kFrets - 1 : fret));
  }
  static constexpr int pair(int a, int b) { return a + b - 3 + (a > 1 ? 1 : 0); }

  Neck neck_;
  std::array<double, kFrets> places_{};                        // mm from the nut, by fret as counted by the player
  std::array<std::array<std::int8_t, 8>, kFrets> farthest_{};  // last fret in reach, by pair of fingers
};

class Hand {
 public:
  Hand(const Frets& frets, int count, const NeckReach& reach);

  /// Least strain, or -1 when no hand can hold it.
  int solve();
  /// Per string after solve(): 0 none, 1..4, 5 thumb.
  std::array<std::uint8_t, kMostStrings> fingers() const;
  /// Strain of given groups and fingers.
  int strain(const FingerGroup* groups, const int* fingers, int count) const;

 private:
  struct Stop {
    int fret, place;
    bool joins;  // one finger may lie on this string and on the next stopped one
  };
  int damped_strain(const FingerGroup& group) const;
  bool in_first_position(const FingerGroup& group) const { return group.fret <= 4 && reach_.neck().capo_fret == 0; }
  int least_strain(int first, int last) const;
  void add_stops(int fret, unsigned strings, unsigned lower);
  void group_all();
  void grow(int from, int at_least);
  void assign();
  bool all_reach(const std::array<std::int8_t, 4>& fingers) const;
  void try_thumb();

  const Frets& frets_;
  int count_;
  const NeckReach& reach_;
  std::array<Stop, kMostStrings> stops_;  // the first stop_count_ are set
  int stop_count_ = 0;
  int base_ = 0;  // strain that no choice of fingers changes: muted strings, stretch
  std::array<FingerGroup, 4> groups_, best_groups_;
  std::array<std::int8_t, 4> best_fingers_;
  bool joins_ = false;  // some finger may lie across two stopped strings
  bool near_ = true;    // any two fingers reach from the lowest to the highest fret
  int group_count_ = 0, best_count_ = 0, fewest_ = 0;
  int best_ = -1;
  int bound_ = std::numeric_limits<int>::max();  // only what costs less is of interest
  int thumb_ = -1;
};

}  // namespace tunesheaf::theory

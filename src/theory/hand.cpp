#include "hand.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>

namespace tunesheaf::theory {
namespace {

constexpr int kTableFrets = 64;

/// Fret places on a neck of length 1.
const std::array<double, kTableFrets>& places() {
  static const std::array<double, kTableFrets> kPlaces = [] {
    std::array<double, kTableFrets> out{};
    for (int i = 0; i < kTableFrets; ++i) out[static_cast<std::size_t>(i)] = fret_place_mm(1.0, i);
    return out;
  }();
  return kPlaces;
}

/// Widest reach in mm between two fingers (index 1 to little 4). One fret at the nut of a 650 mm neck is 36 mm, two are
/// 71: index to middle may spread two frets, the weaker pairs less.
double reach_mm(int a, int b) {
  static constexpr std::array<std::array<double, 5>, 5> kReach{
      {{0, 0, 0, 0, 0}, {0, 0, 75, 110, kWidestStretchMm}, {0, 0, 0, 60, 95}, {0, 0, 0, 0, 60}, {0, 0, 0, 0, 0}}};
  return kReach[static_cast<std::size_t>(a)][static_cast<std::size_t>(b)];
}

}  // namespace

Hand::Hand(const Frets& frets, int count, const Neck& neck) : frets_(frets), count_(count), neck_(neck) {
  int first = -1, last = -1, muted = 0, highest = 0, lowest = 0;
  for (int i = 0; i < count_; ++i) {
    const int fret = frets_[static_cast<std::size_t>(i)];
    if (fret == kMute) continue;
    if (first < 0)
      first = i;
    else
      muted += i - last - 1;
    last = i;
    if (fret <= 0) continue;
    highest = std::max(highest, fret);
    lowest = lowest == 0 ? fret : std::min(lowest, fret);
    int at = stop_count_++;
    for (; at > 0 && stops_[static_cast<std::size_t>(at - 1)].fret > fret; --at) {
      stops_[static_cast<std::size_t>(at)] = stops_[static_cast<std::size_t>(at - 1)];
    }
    stops_[static_cast<std::size_t>(at)] = {fret, i};
  }
  base_ = 15 * muted;
  const double stretch = highest > 0 ? span(lowest, highest) : 0.0;
  if (stretch > 60.0) base_ += static_cast<int>((stretch - 60.0) / 4.0);
}

double Hand::span(int from_fret, int to_fret) const {
  if (from_fret == to_fret) return 0.0;
  const auto place = [&](int fret) {
    return places()[static_cast<std::size_t>(std::clamp(fret + neck_.capo_fret, 0, kTableFrets - 1))];
  };
  return neck_.scale_length_mm * std::abs(place(to_fret) - place(from_fret));
}

int Hand::group_strain(const FingerGroup& group, int finger) const {
  int sum = 20 + (finger == 4 ? 3 : 0);
  if (group.fret <= 4 && neck_.capo_fret == 0) sum += std::abs(group.fret - finger);
  if (group.first == group.last) return sum;
  const int strings = group.last - group.first + 1;
  sum += finger == 1 ? 22 + 3 * strings : (finger == 3 ? 30 : 35) + 8 * strings;
  const int next = group.last + 1;
  if (next < count_) {
    const int fret = frets_[static_cast<std::size_t>(next)];
    if (fret != kMute && fret < group.fret) sum += 25;
  }
  return sum;
}

int Hand::pair_strain(const FingerGroup& before, int finger_before, const FingerGroup& group, int finger) const {
  const int apart = group.fret - before.fret;
  const int natural = finger - finger_before;
  int sum = apart > natural ? 10 * (apart - natural) : 4 * (natural - apart);
  if (apart == 0) sum += 12 * std::max(0, group.first - before.last - 2);
  return sum;
}

int Hand::strain(const FingerGroup* groups, const int* fingers, int count) const {
  int sum = base_;
  for (int g = 0; g < count; ++g) {
    sum += group_strain(groups[g], fingers[g]);
    if (g > 0) sum += pair_strain(groups[g - 1], fingers[g - 1], groups[g], fingers[g]);
  }
  return sum;
}

bool Hand::may_lie_across(const FingerGroup& group) const {
  for (int i = group.first; i <= group.last; ++i) {
    const int fret = frets_[static_cast<std::size_t>(i)];
    if (fret != kMute && fret < group.fret) return false;
  }
  return true;
}

void Hand::grow(int from) {
  if (from == stop_count_) {
    assign(0, 1, base_);
    return;
  }
  if (group_count_ == 4) return;
  const Stop start = stops_[static_cast<std::size_t>(from)];
  FingerGroup group{start.fret, start.place, start.place};
  for (int end = from + 1; end <= stop_count_; ++end) {
    if (!may_lie_across(group)) return;
    groups_[static_cast<std::size_t>(group_count_++)] = group;
    grow(end);
    --group_count_;
    if (end == stop_count_ || stops_[static_cast<std::size_t>(end)].fret != group.fret) return;
    group.last = stops_[static_cast<std::size_t>(end)].place;
  }
}

void Hand::assign(int next, int least, int so_far) {
  if (best_ >= 0 && so_far >= best_) return;
  if (next == group_count_) {
    best_ = so_far;
    best_groups_ = groups_;
    best_fingers_ = fingers_;
    best_count_ = group_count_;
    return;
  }
  const FingerGroup& group = groups_[static_cast<std::size_t>(next)];
  // The fingers after this one need room too.
  const int most = 4 - (group_count_ - next - 1);
  for (int finger = least; finger <= most; ++finger) {
    bool reach = true;
    for (int g = 0; g < next && reach; ++g) {
      const std::size_t i = static_cast<std::size_t>(g);
      reach = span(groups_[i].fret, group.fret) <= reach_mm(fingers_[i], finger);
    }
    if (!reach) continue;
    int cost = so_far + group_strain(group, finger);
    if (next > 0) {
      const std::size_t before = static_cast<std::size_t>(next - 1);
      cost += pair_strain(groups_[before], fingers_[before], group, finger);
    }
    fingers_[static_cast<std::size_t>(next)] = finger;
    assign(next + 1, finger + 1, cost);
  }
}

/// The thumb round the neck on the lowest string, when nothing else will do.
void Hand::try_thumb() {
  if (count_ < 4) return;
  int at = -1;
  for (int i = 0; i < stop_count_; ++i) {
    if (stops_[static_cast<std::size_t>(i)].place == 0) at = i;
  }
  if (at < 0) return;
  const Stop thumb = stops_[static_cast<std::size_t>(at)];
  const int last = stop_count_ - 1;
  if (span(thumb.fret, stops_[static_cast<std::size_t>(last)].fret) > kWidestStretchMm) return;
  std::copy(stops_.begin() + at + 1, stops_.begin() + stop_count_, stops_.begin() + at);
  --stop_count_;
  grow(0);
  if (best_ < 0) return;
  thumb_ = thumb.place;
  best_ += 80;
}

int Hand::solve() {
  const int last = stop_count_ - 1;
  const int highest = last >= 0 ? stops_[static_cast<std::size_t>(last)].fret : 0;
  if (neck_.frets > 0 && highest > 0 && highest + neck_.capo_fret > neck_.frets) return -1;
  if (stop_count_ > 0 && span(stops_[0].fret, highest) > kWidestStretchMm) return -1;
  grow(0);
  if (best_ < 0) try_thumb();
  return best_;
}

std::array<std::uint8_t, kMostStrings> Hand::fingers() const {
  std::array<std::uint8_t, kMostStrings> out{};
  for (int g = 0; g < best_count_; ++g) {
    const FingerGroup& group = best_groups_[static_cast<std::size_t>(g)];
    for (int i = group.first; i <= group.last; ++i) {
      if (frets_[static_cast<std::size_t>(i)] != group.fret) continue;
      out[static_cast<std::size_t>(i)] = static_cast<std::uint8_t>(best_fingers_[static_cast<std::size_t>(g)]);
    }
  }
  if (thumb_ >= 0) out[static_cast<std::size_t>(thumb_)] = 5;
  return out;
}

}  // namespace tunesheaf::theory

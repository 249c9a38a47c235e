#include "hand.h"

#include <algorithm>
#include <bit>
#include <cmath>
#include <cstdlib>

namespace tunesheaf::theory {
namespace {

/// No group of strings costs less.
constexpr int kFinger = 20;

/// Widest reach in mm between two fingers (index 1 to little 4). One fret at the nut of a 650 mm neck is 36 mm, two are
/// 71: index to middle may spread two frets, the weaker pairs less.
double reach_mm(int a, int b) {
  static constexpr std::array<std::array<double, 5>, 5> kReach{
      {{0, 0, 0, 0, 0}, {0, 0, 75, 110, kWidestStretchMm}, {0, 0, 0, 60, 95}, {0, 0, 0, 0, 60}, {0, 0, 0, 0, 0}}};
  return kReach[static_cast<std::size_t>(a)][static_cast<std::size_t>(b)];
}

/// Fret places on a neck of length 1.
const std::array<double, 64>& unit_places() {
  static const std::array<double, 64> kPlaces = [] {
    std::array<double, 64> out{};
    for (std::size_t i = 0; i < out.size(); ++i) out[i] = fret_place_mm(1.0, static_cast<double>(i));
    return out;
  }();
  return kPlaces;
}

/// The finger's own share, over the 20 of any.
inline int finger_strain(const FingerGroup& group, int finger, bool first_position) {
  int sum = finger == 4 ? 3 : 0;
  if (first_position) sum += std::abs(group.fret - finger);
  if (group.first == group.last) return sum;
  const int strings = group.last - group.first + 1;
  return sum + (finger == 1 ? 22 + 3 * strings : (finger == 3 ? 30 : 35) + 8 * strings);
}

/// `natural`: how many fingers later.
inline int pair_strain(const FingerGroup& before, const FingerGroup& group, int natural) {
  const int apart = group.fret - before.fret;
  if (apart > natural) return 10 * (apart - natural);
  const int sum = 4 * (natural - apart);
  return apart == 0 ? sum + 12 * std::max(0, group.first - before.last - 2) : sum;
}

/// Fingers for so many groups, in rising order.
using Choice = std::array<std::int8_t, 4>;
constexpr std::array<Choice, 16> kChoices{{{},
                                           {1},
                                           {2},
                                           {3},
                                           {4},
                                           {1, 2},
                                           {1, 3},
                                           {1, 4},
                                           {2, 3},
                                           {2, 4},
                                           {3, 4},
                                           {1, 2, 3},
                                           {1, 2, 4},
                                           {1, 3, 4},
                                           {2, 3, 4},
                                           {1, 2, 3, 4}}};
constexpr std::array<std::size_t, 6> kChoicesFrom{0, 1, 5, 11, 15, 16};  // by the number of groups

}  // namespace

NeckReach::NeckReach(const Neck& neck) : neck_(neck) {
  for (int i = 0; i < kFrets; ++i) places_[index(i)] = unit_places()[index(i + neck.capo_fret)];
  for (int a = 1; a <= 3; ++a) {
    for (int b = a + 1; b <= 4; ++b) {
      // Frets lie closer up the neck: the last one in reach never falls behind.
      int to = 0;
      for (int from = 0; from < kFrets; ++from) {
        to = std::max(to, from);
        while (to + 1 < kFrets && span(from, to + 1) <= reach_mm(a, b)) ++to;
        farthest_[index(from)][static_cast<std::size_t>(pair(a, b))] = static_cast<std::int8_t>(to);
      }
    }
  }
}

const NeckReach& NeckReach::of(const Neck& neck) {
  thread_local NeckReach last{Neck{}};
  if (last.neck_.scale_length_mm != neck.scale_length_mm || last.neck_.capo_fret != neck.capo_fret) {
    last = NeckReach(neck);
  }
  last.neck_.frets = neck.frets;
  return last;
}

double NeckReach::span(int from_fret, int to_fret) const {
  return neck_.scale_length_mm * std::abs(places_[index(to_fret)] - places_[index(from_fret)]);
}

Hand::Hand(const Frets& frets, int count, const NeckReach& reach) : frets_(frets), count_(count), reach_(reach) {
  // By fret + 1: the strings that stand there, those not played at 0. No branch looks at a single string.
  std::array<std::uint16_t, 64> at{};
  std::uint64_t used = 0;
  for (int i = 0; i < count_; ++i) {
    const auto place = static_cast<std::size_t>(frets_[static_cast<std::size_t>(i)] + 1);
    at[place] = static_cast<std::uint16_t>(at[place] | (1U << static_cast<unsigned>(i)));
    used |= std::uint64_t{1} << place;
  }
  const unsigned played = ((1U << static_cast<unsigned>(count_)) - 1U) & ~static_cast<unsigned>(at[0]);
  if ((at[0] != 0) && played != 0) {
    const unsigned across = (1U << static_cast<unsigned>(std::bit_width(played))) - (played & (0U - played));
    if (const unsigned muted = across & ~played; muted != 0) base_ = 15 * std::popcount(muted);
  }
  unsigned lower = at[1];  // strings that ring at a lower fret
  for (used &= ~std::uint64_t{3}; used != 0; used &= used - 1) {
    const int place = std::countr_zero(used);
    add_stops(place - 1, at[static_cast<std::size_t>(place)], lower);
    lower |= at[static_cast<std::size_t>(place)];
  }
  if (stop_count_ < 2) return;
  const int lowest = stops_[0].fret, highest = stops_[static_cast<std::size_t>(stop_count_ - 1)].fret;
  near_ = reach_.all_reach(lowest, highest);
  const double stretch = reach_.span(lowest, highest);
  if (stretch > 60.0) base_ += static_cast<int>((stretch - 60.0) / 4.0);
}

/// The strings stopped at one fret, given those that ring lower.
void Hand::add_stops(int fret, unsigned strings, unsigned lower) {
  for (unsigned rest = strings; rest != 0;) {
    const int place = std::countr_zero(rest);
    rest &= rest - 1U;
    // What lies between this string and the next one stopped here.
    const unsigned between = (rest & (0U - rest)) - (2U << static_cast<unsigned>(place));
    const bool joins = rest != 0 && (between & lower) == 0;
    joins_ = joins_ || joins;
    stops_[static_cast<std::size_t>(stop_count_++)] = {fret, place, joins};
  }
}

/// What lying across costs, however it is done.
int Hand::damped_strain(const FingerGroup& group) const {
  const int next = group.last + 1;
  if (group.first == group.last || next >= count_) return 0;
  const int fret = frets_[static_cast<std::size_t>(next)];
  return fret != kMute && fret < group.fret ? 25 : 0;
}

int Hand::strain(const FingerGroup* groups, const int* fingers, int count) const {
  int sum = base_;
  for (int g = 0; g < count; ++g) {
    sum += kFinger + finger_strain(groups[g], fingers[g], in_first_position(groups[g])) + damped_strain(groups[g]);
    if (g > 0) sum += pair_strain(groups[g - 1], groups[g], fingers[g] - fingers[g - 1]);
  }
  return sum;
}

/// No finger does it with less: the index alone lies across cheaply, and it has the first group or none.
int Hand::least_strain(int first, int last) const {
  if (first == last) return kFinger;
  const int strings = last - first + 1;
  return kFinger + (group_count_ == 0 ? 22 + 3 * strings : 30 + 8 * strings);
}

void Hand::group_all() {
  // As few fingers as can be: where these cannot, none can, and what costs more need not be tried.
  group_count_ = 0;
  for (int i = 0; i < stop_count_; ++i) {
    const Stop& stop = stops_[static_cast<std::size_t>(i)];
    if (i > 0 && stops_[static_cast<std::size_t>(i - 1)].joins) {
      groups_[static_cast<std::size_t>(group_count_ - 1)].last = stop.place;
      continue;
    }
    if (group_count_ == 4) return;
    groups_[static_cast<std::size_t>(group_count_++)] = {stop.fret, stop.place, stop.place};
  }
  assign();
  if (!joins_ || best_ < 0) return;
  // Equal ones count again: of these the first in the order of search is taken.
  bound_ = best_ + 1;
  fewest_ = group_count_;
  group_count_ = 0;
  grow(0, base_);
}

void Hand::grow(int from, int at_least) {
  if (at_least >= bound_) return;
  if (from == stop_count_) {
    if (group_count_ > fewest_)
      assign();
    else
      bound_ = best_;  // weighed already
    return;
  }
  if (group_count_ == 4) return;
  const Stop& start = stops_[static_cast<std::size_t>(from)];
  FingerGroup group{start.fret, start.place, start.place};
  for (int end = from + 1;; ++end) {
    const int own = least_strain(group.first, group.last);
    groups_[static_cast<std::size_t>(group_count_++)] = group;
    grow(end, at_least + own);
    --group_count_;
    if (!stops_[static_cast<std::size_t>(end - 1)].joins) return;
    group.last = stops_[static_cast<std::size_t>(end)].place;
  }
}

/// The best fingers for the groups; of equals the lower ones.
void Hand::assign() {
  const auto n = static_cast<std::size_t>(group_count_);
  std::array<std::array<int, 5>, 4> own;   // by group and finger
  std::array<std::array<int, 4>, 4> pair;  // by group and fingers since the one before
  int fixed = base_;
  for (std::size_t g = 0; g < n; ++g) {
    const FingerGroup& group = groups_[g];
    fixed += kFinger + damped_strain(group);
    const bool first_position = in_first_position(group);
    for (std::size_t f = g + 1; f <= 5 - n + g; ++f)
      own[g][f] = finger_strain(group, static_cast<int>(f), first_position);
    if (g == 0) continue;
    for (std::size_t apart = 1; apart <= 5 - n; ++apart) {
      pair[g][apart] = pair_strain(groups_[g - 1], group, static_cast<int>(apart));
    }
  }
  for (std::size_t c = kChoicesFrom[n]; c < kChoicesFrom[n + 1]; ++c) {
    const Choice& fingers = kChoices[c];
    int cost = fixed;
    for (std::size_t g = 0; g < n; ++g) {
      cost += own[g][static_cast<std::size_t>(fingers[g])];
      if (g > 0) cost += pair[g][static_cast<std::size_t>(fingers[g] - fingers[g - 1])];
    }
    if (cost >= bound_ || !(near_ || all_reach(fingers))) continue;
    bound_ = best_ = cost;
    best_groups_ = groups_;
    best_fingers_ = fingers;
    best_count_ = group_count_;
  }
}

bool Hand::all_reach(const std::array<std::int8_t, 4>& fingers) const {
  const auto n = static_cast<std::size_t>(group_count_);
  for (std::size_t g = 1; g < n; ++g) {
    for (std::size_t before = 0; before < g; ++before) {
      if (!reach_.reaches(groups_[before].fret, groups_[g].fret, fingers[before], fingers[g])) return false;
    }
  }
  return true;
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
  // The lowest string is no longer a finger's: what lay between it and the next is of no matter.
  std::copy(stops_.begin() + at + 1, stops_.begin() + stop_count_, stops_.begin() + at);
  --stop_count_;
  group_all();
  if (best_ < 0) return;
  thumb_ = thumb.place;
  best_ += 80;
}

int Hand::solve() {
  const int highest = stop_count_ > 0 ? stops_[static_cast<std::size_t>(stop_count_ - 1)].fret : 0;
  const Neck& neck = reach_.neck();
  if (neck.frets > 0 && highest > 0 && highest + neck.capo_fret > neck.frets) return -1;
  if (stop_count_ > 1 && !reach_.within_hand(stops_[0].fret, highest)) return -1;
  group_all();
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

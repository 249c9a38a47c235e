// Strain, in points:
//   20 for each finger down, 3 more for the little finger, 60 more for the thumb over the neck;
//   barre: 22 and 3 a string for the index, 35 and 8 a string for the others (the ring finger 30), and 25 more when the
//   next string must ring at a lower fret, since a flat finger damps it;
//   12 for each string beyond the next between two fingers on one fret;
//   between neighbouring fingers 10 for each fret wider than their natural reach (a fret a finger), 4 for each fret
//   closer than that;
//   1 for each fret between a finger and its own fret in first position (finger n on fret n), up to fret 4;
//   1 for each 4 mm of stretch beyond 60 mm; 15 for each string muted between played ones.
// Fingers are groups of stopped strings in the order fret, then low string first, so they never cross.
#include "tunesheaf/theory/fingering.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>

namespace tunesheaf::theory {
namespace {

constexpr std::array<Finger, 5> kFingers{Finger::Index, Finger::Middle, Finger::Ring, Finger::Little, Finger::Thumb};

struct Stop {
  int fret;
  std::size_t place;
};

struct Group {
  int fret = 0;
  std::size_t first = 0, last = 0;
  int strings = 0;
};

/// Widest reach in mm between two fingers (index 1 to little 4), over what separates their frets. Two frets at the nut
/// of a 650 mm neck are 71 mm, one is 36 mm: index to middle may spread two frets, the weaker pairs less.
double reach_mm(int a, int b) {
  static constexpr std::array<std::array<double, 5>, 5> kReach{
      {{0, 0, 0, 0, 0}, {0, 0, 75, 110, kWidestStretchMm}, {0, 0, 0, 60, 95}, {0, 0, 0, 0, 60}, {0, 0, 0, 0, 0}}};
  return kReach[static_cast<std::size_t>(a)][static_cast<std::size_t>(b)];
}

class Hand {
 public:
  Hand(const Shape& shape, const Neck& neck) : shape_(shape), neck_(neck) {
    for (std::size_t i = 0; i < shape.frets.size(); ++i) {
      if (shape.frets[i].value_or(0) > 0) stops_.push_back({*shape.frets[i], i});
    }
    std::stable_sort(stops_.begin(), stops_.end(), [](Stop a, Stop b) { return a.fret < b.fret; });
  }

  std::optional<Fingering> best() {
    if (shape_.highest_fret() > 0 && neck_.frets > 0 && shape_.highest_fret() + neck_.capo_fret > neck_.frets) {
      return std::nullopt;
    }
    grow(0);
    if (best_ < 0) with_thumb();
    if (best_ < 0) return std::nullopt;
    Fingering out;
    out.fingers.assign(shape_.frets.size(), Finger::None);
    for (std::size_t g = 0; g < best_groups_.size(); ++g) {
      for (const Stop stop : stops_) {
        const Group& group = best_groups_[g];
        if (stop.fret == group.fret && stop.place >= group.first && stop.place <= group.last) {
          out.fingers[stop.place] = kFingers[static_cast<std::size_t>(best_fingers_[g] - 1)];
        }
      }
    }
    if (thumb_) out.fingers[*thumb_] = Finger::Thumb;
    Shape held = shape_;
    held.fingers = out.fingers;
    out.barres = theory::barres(held);
    if (shape_.highest_fret() > 0) out.stretch = span(shape_.lowest_fret(), shape_.highest_fret());
    out.strain = best_;
    out.muted_inside = muted_inside();
    return out;
  }

  /// Strain of given fingers; groups in finger order.
  int strain(const std::vector<Group>& groups, const std::vector<int>& fingers) const {
    int sum = 15 * static_cast<int>(muted_inside().size());
    for (std::size_t g = 0; g < groups.size(); ++g) {
      sum += 20 + (fingers[g] == 4 ? 3 : 0) + barre_strain(groups[g], fingers[g]);
      if (groups[g].fret <= 4 && neck_.capo_fret == 0) sum += std::abs(groups[g].fret - fingers[g]);
      if (g == 0) continue;
      const int apart = groups[g].fret - groups[g - 1].fret;
      const int natural = fingers[g] - fingers[g - 1];
      sum += apart > natural ? 10 * (apart - natural) : 4 * (natural - apart);
      if (apart == 0) sum += 12 * std::max(0, static_cast<int>(groups[g].first - groups[g - 1].last) - 2);
    }
    if (!groups.empty()) {
      const double stretch = span(groups.front().fret, groups.back().fret);
      if (stretch > 60.0) sum += static_cast<int>((stretch - 60.0) / 4.0);
    }
    return sum;
  }

 private:
  double span(int from, int to) const {
    return stretch_mm(neck_.scale_length_mm, from + neck_.capo_fret, to + neck_.capo_fret);
  }

  int barre_strain(const Group& group, int finger) const {
    if (group.first == group.last) return 0;
    const int strings = static_cast<int>(group.last - group.first) + 1;
    const bool damps = group.last + 1 < shape_.frets.size() && shape_.frets[group.last + 1].value_or(99) < group.fret;
    const int base = finger == 1 ? 22 + 3 * strings : (finger == 3 ? 30 : 35) + 8 * strings;
    return base + (damps ? 25 : 0);
  }

  std::vector<int> muted_inside() const {
    std::vector<int> out;
    std::optional<std::size_t> first, last;
    for (std::size_t i = 0; i < shape_.frets.size(); ++i) {
      if (!shape_.frets[i]) continue;
      if (!first) first = i;
      last = i;
    }
    for (std::size_t i = first.value_or(0); i < last.value_or(0); ++i) {
      if (!shape_.frets[i]) out.push_back(shape_.number_of(i));
    }
    return out;
  }

  bool may_lie_across(const Group& group) const {
    for (std::size_t i = group.first; i <= group.last; ++i) {
      if (shape_.frets[i] && *shape_.frets[i] < group.fret) return false;
    }
    return true;
  }

  /// Tries every way to part the stops from `from` on into fingers.
  void grow(std::size_t from) {
    if (from == stops_.size()) {
      try_fingers(0, 1);
      return;
    }
    if (groups_.size() == 4) return;
    Group group{stops_[from].fret, stops_[from].place, stops_[from].place, 1};
    for (std::size_t end = from + 1; end <= stops_.size(); ++end) {
      if (!may_lie_across(group)) return;
      groups_.push_back(group);
      grow(end);
      groups_.pop_back();
      if (end == stops_.size() || stops_[end].fret != group.fret) return;
      group.last = stops_[end].place;
      ++group.strings;
    }
  }

  void try_fingers(std::size_t next, int least) {
    if (next == groups_.size()) {
      const int cost = strain(groups_, fingers_);
      if (best_ < 0 || cost < best_) {
        best_ = cost;
        best_groups_ = groups_;
        best_fingers_ = fingers_;
      }
      return;
    }
    for (int finger = least; finger <= 4; ++finger) {
      if (!within_reach(next, finger)) continue;
      fingers_.push_back(finger);
      try_fingers(next + 1, finger + 1);
      fingers_.pop_back();
    }
  }

  bool within_reach(std::size_t next, int finger) const {
    for (std::size_t g = 0; g < next; ++g) {
      if (span(groups_[g].fret, groups_[next].fret) > reach_mm(fingers_[g], finger)) return false;
    }
    return true;
  }

  /// The thumb round the neck on the lowest string, when nothing else will do.
  void with_thumb() {
    const auto low = std::find_if(stops_.begin(), stops_.end(), [](Stop s) { return s.place == 0; });
    if (low == stops_.end() || shape_.frets.size() < 4) return;
    const Stop thumb = *low;
    if (span(thumb.fret, shape_.highest_fret()) > kWidestStretchMm) return;
    stops_.erase(low);
    grow(0);
    stops_.push_back(thumb);
    if (best_ < 0) return;
    thumb_ = thumb.place;
    best_ += 80;
  }

  const Shape& shape_;
  const Neck& neck_;
  std::vector<Stop> stops_;
  std::vector<Group> groups_, best_groups_;
  std::vector<int> fingers_, best_fingers_;
  int best_ = -1;
  std::optional<std::size_t> thumb_;
};

}  // namespace

std::optional<Fingering> finger_shape(const Shape& shape, const Neck& neck) {
  return Hand(shape, neck).best();
}

bool playable(const Shape& shape, const Neck& neck) {
  return finger_shape(shape, neck).has_value();
}

int strain_of(const Shape& shape, const Neck& neck) {
  std::vector<Group> groups;
  std::vector<int> fingers;
  int thumb = 0;
  for (std::size_t f = 0; f < kFingers.size(); ++f) {
    std::optional<Group> group;
    for (std::size_t i = 0; i < shape.fingers.size() && i < shape.frets.size(); ++i) {
      if (shape.fingers[i] != kFingers[f] || shape.frets[i].value_or(0) == 0) continue;
      if (!group) group = Group{*shape.frets[i], i, i, 0};
      group->last = i;
      ++group->strings;
    }
    if (!group) continue;
    if (kFingers[f] == Finger::Thumb) {
      thumb = 80;
      continue;
    }
    groups.push_back(*group);
    fingers.push_back(static_cast<int>(f) + 1);
  }
  return Hand(shape, neck).strain(groups, fingers) + thumb;
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

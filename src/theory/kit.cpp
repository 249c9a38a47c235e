#include "tunesheaf/theory/kit.h"

#include <algorithm>
#include <array>
#include <numeric>

namespace tunesheaf::theory {

namespace {

using H = DrumHead;
using R = DrumRing;

enum class Set : std::uint8_t { Member, Guest };  ///< of a drum set

struct KitRow {
  std::string_view name;
  int midi, position;
  H head;     ///< on the staff of a drum set
  H by_hand;  ///< on a staff of hand percussion, where its place is its own
  Set set;
  R ring = R::None;
  bool feet = false;
};

// From low to high: this order ranks what is no drum set. Keys: General MIDI Level 1. Places and heads of the drum set:
// Weinberg 1998, from memory; guests stand where the set leaves room, with a head of their own.
constexpr std::array kKitRows = std::to_array<KitRow>({
    {"stomp", 36, -3, H::Cross, H::Cross, Set::Guest, R::None, true},
    {"kick 2", 35, -4, H::Black, H::Black, Set::Member, R::None, true},
    {"kick", 36, -3, H::Black, H::Black, Set::Member, R::None, true},
    {"hat foot", 44, -5, H::Cross, H::Cross, Set::Member, R::None, true},
    {"bass", 64, -2, H::Black, H::Black, Set::Guest},
    {"doum", 64, -2, H::Diamond, H::Black, Set::Guest},
    {"heel", 64, -2, H::Cross, H::Cross, Set::Guest},
    {"floor tom", 43, -1, H::Black, H::Black, Set::Member},
    {"tom 4", 43, -1, H::Black, H::Black, Set::Member},
    {"low conga", 64, -1, H::Diamond, H::Black, Set::Guest},
    {"low timbale", 66, -1, H::Triangle, H::Black, Set::Guest},
    {"low bongo", 61, -1, H::CircleCross, H::Black, Set::Guest},
    {"muffled", 62, -1, H::Cross, H::CircleCross, Set::Guest},
    {"hand drum", 63, 0, H::Diamond, H::Black, Set::Guest},
    {"conga", 63, 0, H::Triangle, H::Black, Set::Guest},
    {"tone", 63, 0, H::Diamond, H::Black, Set::Guest},
    {"open", 63, 0, H::Diamond, H::Black, Set::Guest},
    {"low tom", 45, 0, H::Black, H::Black, Set::Member},
    {"tom 3", 45, 0, H::Black, H::Black, Set::Member},
    {"ghost", 62, 0, H::Cross, H::Black, Set::Guest},
    {"toe", 62, 0, H::CircleCross, H::Cross, Set::Guest},
    {"high conga", 63, 1, H::Diamond, H::Black, Set::Guest},
    {"high timbale", 65, 1, H::Diamond, H::Black, Set::Guest},
    {"high bongo", 60, 1, H::Diamond, H::Black, Set::Guest},
    {"snare", 38, 1, H::Black, H::Black, Set::Member},
    {"cross-stick", 37, 1, H::Cross, H::Cross, Set::Member},
    {"rim", 38, 1, H::CircleCross, H::CircleCross, Set::Member},
    {"mid tom", 47, 2, H::Black, H::Black, Set::Member},
    {"tom 2", 47, 2, H::Black, H::Black, Set::Member},
    {"high tom", 50, 3, H::Black, H::Black, Set::Member},
    {"tom 1", 50, 3, H::Black, H::Black, Set::Member},
    {"tek", 60, 2, H::Diamond, H::Black, Set::Guest},
    {"ka", 61, 3, H::Diamond, H::Black, Set::Guest},
    {"slap", 62, 2, H::CircleCross, H::Cross, Set::Guest},
    {"tap", 62, 2, H::Cross, H::Cross, Set::Guest},
    {"claps", 39, 1, H::Triangle, H::Cross, Set::Guest},
    {"snaps", 39, 3, H::CircleCross, H::Cross, Set::Guest},
    {"cowbell", 56, 2, H::Triangle, H::Triangle, Set::Guest},
    {"wood block", 76, 3, H::Triangle, H::Cross, Set::Guest},
    {"claves", 75, 3, H::Cross, H::Cross, Set::Guest},
    {"guiro", 73, 2, H::Diamond, H::Cross, Set::Guest},
    {"maracas", 70, 2, H::Diamond, H::Cross, Set::Guest},
    {"shaker", 82, 2, H::Cross, H::Cross, Set::Guest},
    {"tambourine", 54, 3, H::Diamond, H::Cross, Set::Guest},
    {"ride", 51, 4, H::Cross, H::Cross, Set::Member},
    {"ride bell", 53, 4, H::Diamond, H::Diamond, Set::Member},
    {"hat", 42, 5, H::Cross, H::Cross, Set::Member},
    {"hat half", 46, 5, H::Cross, H::Cross, Set::Member, R::HalfOpen},
    {"hat open", 46, 5, H::Cross, H::Cross, Set::Member, R::Open},
    {"triangle", 81, 5, H::Triangle, H::Triangle, Set::Guest},
    {"crash", 49, 6, H::Cross, H::Cross, Set::Member},
    {"crash 2", 57, 7, H::Cross, H::Cross, Set::Member},
    {"splash", 55, 7, H::Diamond, H::Diamond, Set::Member},
    {"china", 52, 8, H::CircleCross, H::CircleCross, Set::Member},
});

const KitRow* find(std::string_view drum) {
  const auto row = std::find_if(kKitRows.begin(), kKitRows.end(), [&](const KitRow& r) { return r.name == drum; });
  return row == kKitRows.end() ? nullptr : &*row;
}

bool alike(const DrumPlace& a, const DrumPlace& b) {
  return a.position == b.position && a.head == b.head && a.ring == b.ring;
}

/// Where head, place and ring are taken, the next free head at that place, and else the next place up.
void part_ways(std::vector<DrumPlace>& places) {
  constexpr std::array kHeads{H::Black, H::Cross, H::Diamond, H::Triangle, H::CircleCross};
  for (std::size_t i = 1; i < places.size(); ++i) {
    const auto taken = [&](const DrumPlace& place) {
      return std::any_of(places.begin(), places.begin() + static_cast<std::ptrdiff_t>(i),
                         [&](const DrumPlace& other) { return alike(other, place); });
    };
    DrumPlace place = places[i];
    while (taken(place)) {
      const auto free = std::find_if(kHeads.begin(), kHeads.end(), [&](H head) {
        DrumPlace other = place;
        other.head = head;
        return !taken(other);
      });
      if (free != kHeads.end()) {
        place.head = *free;
      } else {
        ++place.position;
      }
    }
    places[i] = place;
  }
}

constexpr int kMostLines = 5;

/// Ranked from low to high over the places of as few lines as hold them.
DrumStaff ranked(const std::vector<std::string>& drums) {
  DrumStaff staff;
  const int count = static_cast<int>(drums.size());
  staff.lines = std::clamp(count / 2, 1, kMostLines);
  const int room = 2 * staff.lines + 1;
  std::vector<int> places;
  for (int p = -staff.lines; p <= staff.lines; ++p) {
    if (p != 0 || count % 2 == 1 || count > room) places.push_back(p);
  }
  if (count == 1) places = {0};
  std::vector<std::size_t> order(drums.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  const auto rank = [&](std::size_t i) {
    const KitRow* row = find(drums[i]);
    return row == nullptr ? kKitRows.size() : static_cast<std::size_t>(row - kKitRows.data());
  };
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) { return rank(a) < rank(b); });
  staff.places.resize(drums.size());
  for (std::size_t i = 0; i < order.size(); ++i) {
    const KitRow* row = find(drums[order[i]]);
    DrumPlace& place = staff.places[order[i]];
    place = drum_place(drums[order[i]]);
    if (row != nullptr) place.head = row->by_hand;
    place.position = places[i * places.size() / order.size()];
  }
  return staff;
}

}  // namespace

DrumPlace drum_place(std::string_view drum) {
  const KitRow* row = find(drum);
  return row == nullptr ? DrumPlace{} : DrumPlace{row->midi, row->position, row->head, row->ring, row->feet};
}

bool is_of_drum_set(std::string_view drum) {
  const KitRow* row = find(drum);
  return row != nullptr && row->set == Set::Member;
}

DrumStaff drum_staff(const std::vector<std::string>& drums) {
  DrumStaff staff;
  if (std::any_of(drums.begin(), drums.end(), [](const std::string& drum) { return is_of_drum_set(drum); })) {
    for (const std::string& drum : drums) staff.places.push_back(drum_place(drum));
  } else {
    staff = ranked(drums);
  }
  part_ways(staff.places);
  return staff;
}

std::string_view name(DrumHead head) {
  constexpr std::array<std::string_view, 5> kNames{"black", "cross", "diamond", "triangle", "circle-cross"};
  return kNames.at(static_cast<std::size_t>(head));
}

}  // namespace tunesheaf::theory

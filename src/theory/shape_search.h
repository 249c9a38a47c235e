// The search for all shapes of a chord. In: the chord, the neck, the bounds. Out: each shape once, ranked. Invariant:
// nothing is allocated while it looks; a branch is left as soon as nothing under it can be a shape (or, where only the
// best are asked for, one of the best). Private to theory; the cost of a shape is stated in shape_search.cpp.
#pragma once
#include <array>
#include <cstdint>
#include <vector>

#include "hand.h"
#include "tunesheaf/theory/finding.h"

namespace tunesheaf::theory {

class ShapeSearch {
 public:
  ShapeSearch(const ChordName& chord, const Tuning& tuning, const Capo& capo, const FindingLimits& limits,
              const Neck& neck);
  FoundShapes all();

 private:
  /// A string sounding tones of the chord.
  struct Choice {
    std::int8_t fret;
    bool bass;                     // its lowest note is the bass wanted
    bool top;                      // its highest note is the top wanted
    std::uint16_t sound;           // pitch classes of the course
    std::int16_t lowest, highest;  // MIDI keys of the course
  };
  struct Tone {
    std::uint16_t own;
    int missing;  // what it costs to leave it out
  };
  struct Choices {
    std::array<Choice, 48> list;
    int count = 0;
    void add(const Choice& c) { list[static_cast<std::size_t>(count++)] = c; }
  };
  /// What is known of the strings chosen so far.
  struct So {
    std::uint16_t sound = 0;
    std::uint64_t lying = 0;     // frets, from low_, where a finger may still lie on across the next string
    std::int16_t lowest = 1000;  // MIDI keys
    std::int16_t highest = -1000;
    std::int8_t sounding = 0;  // strings played
    std::int8_t lead = 0;      // unplayed strings before the first played one
    std::int8_t gap = 0;       // unplayed strings since the last played one
    std::int8_t inside = 0;    // unplayed strings between played ones
    std::int8_t fingers = 0;   // at least so many are needed
    bool at_low = false;       // a string is stopped at low_
    bool bass_right = false;   // the lowest note is the bass
    bool top_right = false;    // the highest note is the top wanted
    bool open = false;         // an open string rings
    bool thumb = false;        // the lowest string is stopped
  };

  void gather(const Tuning& tuning, const Capo& capo);
  bool stoppable(const Tuning& tuning, const Capo& capo, int number, int fret) const;
  void search_window();
  void search_over_bass(std::size_t place, const Choice& bass);
  void look_ahead();
  void grow(std::size_t place, const So& so);
  So with(const So& so, const Choice& choice, std::size_t place) const;
  int most_fingers(const So& so) const;
  void keep(const So& so);
  int least_strain(const So& so) const { return 20 * so.fingers + 15 * so.inside; }
  int cost_so_far(const So& so) const;
  int ear_cost(const So& so) const;
  int worst_kept() const;
  void note_kept(int cost);
  void rank();

  const FindingLimits& limits_;
  Neck neck_;
  NeckReach reach_hand_;
  FoundShapes out_;
  std::size_t count_ = 0;
  int least_ = 0;
  int low_mute_ = 0, high_mute_ = 0;
  unsigned needed_ = 0, allowed_ = 0;
  int bass_ = 0;
  bool no_bass_ = false;  // no note is heard as the bass
  bool single_ = true;    // each string gives one pitch class
  int low_ = 0;           // lowest stopped fret of the shapes now sought; 0: none stopped
  std::array<Choices, kMostStrings> all_, window_, now_;  // on the neck, within the window, over the bass sought
  std::size_t must_ = kMostStrings;                       // the string that gives the bass sought; none: any
  // What the strings from a place on can still give.
  std::array<std::uint16_t, kMostStrings + 1> reach_{};
  std::array<bool, kMostStrings + 1> reach_low_{};
  std::array<Tone, 16> wanted_{};
  int tone_count_ = 0;
  Frets frets_{};
  std::vector<int> best_costs_;  // a heap of the costs of the `most` best, the greatest first
};

}  // namespace tunesheaf::theory

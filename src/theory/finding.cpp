// Cost of a found shape:
//   half the strain of its fingers (fingering.cpp; 400 when no hand can hold it);
//   11 for each string not played on the low side, 32 on the high side, 13 more for each between played ones; with
//   four strings or fewer 27 and 34, since there every string is wanted;
//   12 for a missing fifth, 16 for a missing root, 8 for another missing tone;
//   25 when the bass is not the stated one (or the root); nothing where any bass will do and the strings do not rise in
//   order, since no player hears a bass there;
//   3 for each fret up the neck, 6 more for each fret beyond the third when open strings ring under it.
#include "tunesheaf/theory/finding.h"

#include <algorithm>
#include <array>
#include <bit>
#include <limits>
#include <map>

#include "chord_tones.h"
#include "hand.h"

namespace tunesheaf::theory {
namespace {

constexpr int kInside = 13, kUp = 3;  // see the formula above
constexpr int kUnheld = 400;
constexpr int kNoKey = 1000;

struct Choice {
  int fret;
  int number;  // 0..11
  int lowest;  // MIDI key of the lowest string of the course
  int highest;
};

class Search {
 public:
  Search(const ChordName& chord, const Tuning& tuning, const Capo& capo, const FindingLimits& limits, const Neck& neck)
      : tuning_(tuning), capo_(capo), limits_(limits), neck_(neck), tones_(tones(chord)) {
    for (const ChordTone& tone : tones_) {
      if (!may_be_left_out(chord, tone)) needed_ |= bit(tone.pitch.number());
    }
    if (chord.bass) needed_ |= bit(chord.bass->number());
    allowed_ = tone_bits(chord);
    bass_ = chord.bass.value_or(chord.root).number();
    no_bass_ = limits.bass == BassRule::Any && !chord.bass && tuning.re_entrant();
    if (capo.full()) neck_.capo_fret = capo.fret;
    count_ = static_cast<std::size_t>(tuning.count());
    least_ = limits.least_sounding > 0 ? limits.least_sounding : std::max(3, tuning.count() - 2);
    least_ = std::min(least_, tuning.count());
    gather();
  }

  std::vector<FoundShape> all() {
    low_ = 0;
    grow(0, 0);  // open strings alone
    for (low_ = std::max(1, limits_.lowest_fret); low_ <= limits_.highest_fret; ++low_) grow(0, 0);
    const auto better = [&](const Light& a, const Light& b) {
      if (a.cost != b.cost) return a.cost < b.cost;
      return std::lexicographical_compare(a.frets.begin(), a.frets.begin() + tuning_.count(), b.frets.begin(),
                                          b.frets.begin() + tuning_.count());
    };
    const std::size_t kept = limits_.most > 0 ? std::min(limits_.most, light_.size()) : light_.size();
    std::partial_sort(light_.begin(), light_.begin() + static_cast<std::ptrdiff_t>(kept), light_.end(), better);
    light_.resize(kept);
    std::vector<FoundShape> out;
    out.reserve(light_.size());
    for (const Light& l : light_) out.push_back(full(l));
    return out;
  }

 private:
  static unsigned bit(int number) { return 1U << static_cast<unsigned>(((number % 12) + 12) % 12); }

  /// The chord tones on each string.
  void gather() {
    choices_.resize(count_);
    for (std::size_t i = 0; i < count_; ++i) {
      const int number = tuning_.count() - static_cast<int>(i);
      const TunedString& string = tuning_.string(number);
      int below = 0, above = 0;
      for (const Pitch pitch : string.course) {
        below = std::min(below, pitch.midi() - string.midi());
        above = std::max(above, pitch.midi() - string.midi());
      }
      for (int fret = 0; fret <= limits_.highest_fret; ++fret) {
        if (fret > 0 && !stoppable(string, number, fret)) continue;
        const int key = sounding_midi(tuning_, capo_, number, fret);
        if ((allowed_ & bit(key)) == 0) continue;
        choices_[i].push_back({fret, ((key % 12) + 12) % 12, key + below, key + above});
      }
    }
    reach_.assign(count_ + 1, 0);
    bass_from_.fill(kNoKey);
  }

  bool stoppable(const TunedString& string, int number, int fret) const {
    const int on_neck = capo_.full() ? fret + capo_.fret : fret;
    if (neck_.frets > 0 && on_neck > neck_.frets) return false;
    if (string.start_fret > 0 && on_neck <= string.start_fret) return false;
    return capo_.full() || !capo_.holds(number) || fret > capo_.fret;
  }

  bool within_window(int fret) const {
    if (fret == 0) return true;
    return low_ > 0 && fret >= low_ && fret <= low_ + limits_.stretch_frets;
  }

  void grow(std::size_t place, unsigned sound) {
    if (place == 0) {
      for (std::size_t i = count_; i-- > 0;) {
        reach_[i] = reach_[i + 1];
        bass_from_[i] = bass_from_[i + 1];
        for (const Choice& c : choices_[i]) {
          if (!within_window(c.fret)) continue;
          reach_[i] |= bit(c.number);
          if (c.number == bass_) bass_from_[i] = std::min(bass_from_[i], c.lowest);
        }
      }
    }
    if ((needed_ & ~(sound | reach_[place])) != 0) return;
    // A wrong lowest note stays unless a string still to come can put the right one under it.
    if (limits_.bass == BassRule::Stated && !so_.bass_right && so_.lowest < bass_from_[place]) return;
    if (so_.sounding + static_cast<int>(count_ - place) < least_) return;
    if (cost_so_far() > worst_kept()) return;
    if (place == count_) {
      finish(sound);
      return;
    }
    // A string left out before the first played one costs nothing; between played ones it counts when the next sounds.
    const So before = so_;
    frets_[place] = kMute;
    if (so_.sounding > 0)
      ++so_.gap;
    else
      ++so_.lead;
    grow(place + 1, sound);
    so_ = before;
    if (before.inside + before.gap > limits_.most_muted_inside) return;
    for (const Choice& c : choices_[place]) {
      if (!within_window(c.fret)) continue;
      frets_[place] = c.fret;
      picked_[place] = &c;
      play(c, place);
      if (so_.fingers <= most_fingers()) grow(place + 1, sound | bit(c.number));
      so_ = before;
    }
  }

  void play(const Choice& c, std::size_t place) {
    so_.inside += so_.gap;
    so_.gap = 0;
    ++so_.sounding;
    if (c.lowest < so_.lowest) {
      so_.lowest = c.lowest;
      so_.bass_right = c.number == bass_;
    }
    if (low_ > 0 && c.fret == low_) ++so_.at_low;
    // Each fret needs a finger of its own, and one more after each lower string that must ring in between.
    const unsigned own = c.fret > 0 ? 1U << static_cast<unsigned>(c.fret - low_) : 0U;
    if (own != 0 && (so_.lying & own) == 0) ++so_.fingers;
    so_.lying = own == 0 ? 0U : ((so_.lying | own) & ((own << 1U) - 1U));
    if (place == 0 && own != 0) so_.thumb = true;
  }

  /// Fingers a hand has for what is stopped so far; the thumb may take the lowest string.
  int most_fingers() const {
    if (limits_.held == HeldRule::Any) return kMostStrings;
    return so_.thumb ? 5 : 4;
  }

  void finish(unsigned sound) {
    if (so_.sounding < least_ || so_.sounding == 0 || (low_ > 0 && so_.at_low == 0)) return;
    if ((needed_ & ~sound) != 0) return;
    const Choice* highest = nullptr;
    for (std::size_t i = 0; i < count_; ++i) {
      if (frets_[i] == kMute) continue;
      if (highest == nullptr || picked_[i]->highest > highest->highest) highest = picked_[i];
    }
    if (limits_.bass == BassRule::Stated && !so_.bass_right) return;
    if (limits_.top && highest->number != limits_.top->number()) return;
    keep(sound, so_.bass_right);
  }

  void keep(unsigned sound, bool right_bass) {
    const int ear = ear_cost(sound, right_bass);
    if (ear + least_strain() / 2 > worst_kept()) return;
    Hand hand(frets_, static_cast<int>(count_), neck_);
    const int strain = hand.solve();
    if (strain < 0 && limits_.held == HeldRule::Playable) return;
    Light light;
    light.frets = frets_;
    light.sound = sound;
    light.strain = strain < 0 ? kUnheld : strain;
    light.playable = strain >= 0;
    if (light.playable) light.fingers = hand.fingers();
    light.cost = light.strain / 2 + ear;
    light_.push_back(light);
    note_kept(light.cost);
  }

  /// No hand does it with less (fingering.cpp): 20 for each finger, 15 for each string muted inside.
  int least_strain() const { return 20 * so_.fingers + 15 * so_.inside; }

  /// What the rest of the strings cannot make cheaper.
  int cost_so_far() const {
    return least_strain() / 2 + low_mute() * so_.lead + kInside * so_.inside + kUp * std::max(0, low_ - 1);
  }
  int low_mute() const { return count_ <= 4 ? 27 : 11; }
  int high_mute() const { return count_ <= 4 ? 34 : 32; }

  /// Where only the best are asked for, the cost of the last of them so far.
  int worst_kept() const {
    return limits_.most > 0 && best_costs_.size() == limits_.most ? best_costs_.front()
                                                                  : std::numeric_limits<int>::max();
  }

  void note_kept(int cost) {
    if (limits_.most == 0) return;
    if (best_costs_.size() == limits_.most) {
      if (cost >= best_costs_.front()) return;
      std::pop_heap(best_costs_.begin(), best_costs_.end());
      best_costs_.pop_back();
    }
    best_costs_.push_back(cost);
    std::push_heap(best_costs_.begin(), best_costs_.end());
  }

  int ear_cost(unsigned sound, bool right_bass) const {
    std::size_t first = 0, last = count_ - 1;
    while (frets_[first] == kMute) ++first;
    while (frets_[last] == kMute) --last;
    bool open = false;
    for (std::size_t i = first; i <= last; ++i) open = open || frets_[i] == 0;
    int cost =
        low_mute() * static_cast<int>(first) + high_mute() * static_cast<int>(count_ - 1 - last) + kInside * so_.inside;
    cost += right_bass || no_bass_ ? 0 : 25;
    cost += kUp * std::max(0, low_ - 1) + (open ? 6 * std::max(0, low_ - 3) : 0);
    for (const ChordTone& tone : tones_) {
      if ((sound & bit(tone.pitch.number())) != 0) continue;
      cost += tone.number == 1 ? 16 : (tone.number == 5 ? 12 : 8);
    }
    return cost;
  }

  /// A found shape before it is written out.
  struct Light {
    Frets frets{};
    std::array<std::uint8_t, kMostStrings> fingers{};
    unsigned sound = 0;
    int cost = 0, strain = 0;
    bool playable = true;
  };

  FoundShape full(const Light& light) const {
    FoundShape out;
    out.cost = light.cost;
    out.playable = light.playable;
    out.strain = light.strain;
    for (std::size_t i = 0; i < count_; ++i) {
      if (light.frets[i] == kMute)
        out.shape.frets.emplace_back(std::nullopt);
      else
        out.shape.frets.emplace_back(light.frets[i]);
      if (light.playable) out.shape.fingers.push_back(static_cast<Finger>(light.fingers[i]));
    }
    for (const ChordTone& tone : tones_) {
      if ((light.sound & bit(tone.pitch.number())) == 0) out.left_out.push_back(tone);
    }
    return out;
  }

  const Tuning& tuning_;
  const Capo& capo_;
  const FindingLimits& limits_;
  Neck neck_;
  std::vector<ChordTone> tones_;
  std::vector<std::vector<Choice>> choices_;
  std::vector<unsigned> reach_;  // the tones that the strings from a place on can still give
  Frets frets_{};
  std::array<const Choice*, kMostStrings> picked_{};
  std::vector<Light> light_;
  std::vector<int> best_costs_;  // a heap of the costs of the `most` best, the greatest first
  unsigned needed_ = 0, allowed_ = 0;
  std::size_t count_ = 0;
  int bass_ = 0, least_ = 0;
  bool no_bass_ = false;  // no note is heard as the bass
  int low_ = 0;           // lowest stopped fret of the shapes now sought; 0: none stopped
  /// What is known of the strings chosen so far.
  struct So {
    int sounding = 0;  // strings played
    int lead = 0;      // unplayed strings before the first played one
    int gap = 0;       // unplayed strings since the last played one
    int inside = 0;    // unplayed strings between played ones
    int at_low = 0;    // strings stopped at low_
    int lowest = kNoKey;
    int fingers = 0;          // at least so many are needed
    unsigned lying = 0;       // frets, from low_, where a finger may still lie on across the next string
    bool bass_right = false;  // the lowest note is the bass
    bool thumb = false;       // the lowest string is stopped
  };
  So so_;
  std::array<int, kMostStrings + 1> bass_from_{};  // lowest key of the bass note that strings from a place on can give
};

/// Best path over the choices of each chord.
struct Cell {
  int cost = 0;
  std::size_t before = 0;
};

}  // namespace

std::vector<FoundShape> find_shapes(const ChordName& chord, const Tuning& tuning, const Capo& capo,
                                    const FindingLimits& limits, const Neck& neck) {
  if (chord.is_none() || tuning.count() == 0 || tuning.count() > kMostStrings) return {};
  return Search(chord, tuning, capo, limits, neck).all();
}

std::vector<ChordName> nearest_playable(const ChordName& chord, const Tuning& tuning, const Capo& capo,
                                        const FindingLimits& limits, const Neck& neck) {
  std::vector<ChordName> tried;
  const auto offer = [&](ChordName name) {
    name = canonical(name);
    if (name == chord || std::find(tried.begin(), tried.end(), name) != tried.end()) return;
    tried.push_back(std::move(name));
  };
  ChordName plain = chord;
  plain.bass.reset();
  offer(plain);
  for (std::size_t i = plain.degrees.size(); i-- > 0;) {
    plain.degrees.resize(i);
    offer(plain);
  }
  std::vector<DegreeTone> all = degree_tones(plain);
  for (const int top : {13, 11, 9, 7, 6}) {
    std::erase_if(all, [&](DegreeTone t) { return t.number == top; });
    offer(canonical(chord.root, all, std::nullopt));
  }
  FindingLimits one = limits;
  one.most = 1;
  std::erase_if(tried, [&](const ChordName& name) { return find_shapes(name, tuning, capo, one, neck).empty(); });
  return tried;
}

std::vector<std::optional<FoundShape>> shapes_for_progression(const std::vector<ChordName>& chords,
                                                              const Tuning& tuning, const Capo& capo,
                                                              const FindingLimits& limits, const Neck& neck,
                                                              std::size_t choices) {
  FindingLimits few = limits;
  few.most = std::max<std::size_t>(choices, 1);
  Neck held = neck;
  if (capo.full()) held.capo_fret = capo.fret;
  std::map<std::string, std::vector<FoundShape>> found;
  std::vector<const std::vector<FoundShape>*> steps;
  std::vector<std::size_t> at;
  for (std::size_t i = 0; i < chords.size(); ++i) {
    const std::string name = print(chords[i]);
    auto it = found.find(name);
    if (it == found.end()) it = found.emplace(name, find_shapes(chords[i], tuning, capo, few, neck)).first;
    if (it->second.empty()) continue;
    steps.push_back(&it->second);
    at.push_back(i);
  }
  std::map<std::pair<const FoundShape*, const FoundShape*>, int> moves;
  const auto move_cost = [&](const FoundShape& a, const FoundShape& b) {
    const auto key = std::make_pair(&a, &b);
    const auto known = moves.find(key);
    if (known != moves.end()) return known->second;
    const std::optional<Move> move = move_between(a.shape, b.shape, held);
    return moves[key] = 2 * (move ? move->difficulty : kUnheld);
  };
  std::vector<std::vector<Cell>> table;
  for (std::size_t s = 0; s < steps.size(); ++s) {
    std::vector<Cell> row(steps[s]->size());
    for (std::size_t j = 0; j < row.size(); ++j) {
      const FoundShape& here = (*steps[s])[j];
      row[j].cost = here.cost;
      if (s == 0) continue;
      int best = -1;
      for (std::size_t k = 0; k < table[s - 1].size(); ++k) {
        const int cost = table[s - 1][k].cost + move_cost((*steps[s - 1])[k], here);
        if (best >= 0 && cost >= best) continue;
        best = cost;
        row[j].before = k;
      }
      row[j].cost += best;
    }
    table.push_back(std::move(row));
  }
  std::vector<std::optional<FoundShape>> out(chords.size());
  if (steps.empty()) return out;
  const auto last = std::min_element(table.back().begin(), table.back().end(),
                                     [](const Cell& a, const Cell& b) { return a.cost < b.cost; });
  std::size_t j = static_cast<std::size_t>(last - table.back().begin());
  for (std::size_t s = steps.size(); s-- > 0;) {
    out[at[s]] = (*steps[s])[j];
    j = table[s][j].before;
  }
  return out;
}

}  // namespace tunesheaf::theory

// Cost of a found shape:
//   half the strain of its fingers (fingering.cpp; 400 when no hand can hold it);
//   11 for each string not played on the low side, 32 on the high side, 13 more for each between played ones; with
//   four strings or fewer 27 and 34, since there every string is wanted;
//   12 for a missing fifth, 16 for a missing root, 8 for another missing tone;
//   25 when the bass is not the stated one (or the root); nothing where any bass will do and the strings do not rise in
//   order, since no player hears a bass there;
//   3 for each fret up the neck, 6 more for each fret beyond the third when open strings ring under it.
#include "shape_search.h"

#include <algorithm>
#include <bit>
#include <limits>

namespace tunesheaf::theory {
namespace {

constexpr int kInside = 13, kUp = 3;  // see the formula above
constexpr int kUnheld = 400;
constexpr int kHighest = 36;

unsigned pitch_bit(int number) {
  return 1U << static_cast<unsigned>(((number % 12) + 12) % 12);
}

/// Has the set more members than so many?
bool more_than(unsigned set, int count) {
  for (; count > 0 && set != 0; --count) set &= set - 1U;
  return set != 0;
}

}  // namespace

ShapeSearch::ShapeSearch(const ChordName& chord, const Tuning& tuning, const Capo& capo, const FindingLimits& limits,
                         const Neck& neck)
    : limits_(limits), neck_(neck), reach_hand_(NeckReach::of([&] {
        Neck held = neck;
        if (capo.full()) held.capo_fret = capo.fret;
        return held;
      }())) {
  if (capo.full()) neck_.capo_fret = capo.fret;
  out_.tones_ = tones(chord);
  out_.strings_ = tuning.count();
  for (const ChordTone& tone : out_.tones_) {
    allowed_ |= pitch_bit(tone.pitch.number());
    if (!may_be_left_out(chord, tone)) needed_ |= pitch_bit(tone.pitch.number());
    if (tone_count_ == static_cast<int>(wanted_.size())) continue;
    const int missing = tone.number == 1 ? 16 : (tone.number == 5 ? 12 : 8);
    wanted_[static_cast<std::size_t>(tone_count_++)] = {static_cast<std::uint16_t>(pitch_bit(tone.pitch.number())),
                                                        missing};
  }
  if (chord.bass) {
    needed_ |= pitch_bit(chord.bass->number());
    allowed_ |= pitch_bit(chord.bass->number());
  }
  bass_ = chord.bass.value_or(chord.root).number();
  no_bass_ = limits.bass == BassRule::Any && !chord.bass && tuning.re_entrant();
  count_ = static_cast<std::size_t>(tuning.count());
  least_ = limits.least_sounding > 0 ? limits.least_sounding : std::max(3, tuning.count() - 2);
  least_ = std::clamp(least_, 1, tuning.count());
  low_mute_ = count_ <= 4 ? 27 : 11;
  high_mute_ = count_ <= 4 ? 34 : 32;
  gather(tuning, capo);
}

/// The chord tones on each string.
void ShapeSearch::gather(const Tuning& tuning, const Capo& capo) {
  for (std::size_t i = 0; i < count_; ++i) {
    const int number = tuning.count() - static_cast<int>(i);
    const TunedString& string = tuning.string(number);
    for (int fret = 0; fret <= std::min(limits_.highest_fret, kHighest); ++fret) {
      if (fret > 0 && (fret < limits_.lowest_fret || !stoppable(tuning, capo, number, fret))) continue;
      const int first = sounding_midi(tuning, capo, number, fret);
      Choice choice{static_cast<std::int8_t>(fret), false, false, 0, 1000, -1000};
      for (const Pitch pitch : string.course) {
        const auto key = static_cast<std::int16_t>(first + pitch.midi() - string.midi());
        choice.sound = static_cast<std::uint16_t>(choice.sound | pitch_bit(key));
        choice.lowest = std::min(choice.lowest, key);
        choice.highest = std::max(choice.highest, key);
      }
      if ((choice.sound & ~allowed_) != 0) continue;
      choice.bass = pitch_bit(choice.lowest) == pitch_bit(bass_);
      choice.top = !limits_.top || pitch_bit(choice.highest) == pitch_bit(limits_.top->number());
      single_ = single_ && std::has_single_bit(choice.sound);
      all_[i].add(choice);
    }
  }
}

bool ShapeSearch::stoppable(const Tuning& tuning, const Capo& capo, int number, int fret) const {
  const int on_neck = capo.full() ? fret + capo.fret : fret;
  if (neck_.frets > 0 && on_neck > neck_.frets) return false;
  const int start = tuning.string(number).start_fret;
  if (start > 0 && on_neck <= start) return false;
  return capo.full() || !capo.holds(number) || fret > capo.fret;
}

FoundShapes ShapeSearch::all() {
  low_ = 0;
  search_window();  // open strings alone
  const int last = std::min(limits_.highest_fret, kHighest);
  for (low_ = std::max(1, limits_.lowest_fret); low_ <= last; ++low_) search_window();
  rank();
  return std::move(out_);
}

/// All shapes whose lowest stopped fret is low_.
void ShapeSearch::search_window() {
  const int last = low_ > 0 ? low_ + limits_.stretch_frets : 0;
  bool any_low = low_ == 0;
  for (std::size_t i = 0; i < count_; ++i) {
    Choices& here = window_[i];
    here.count = 0;
    for (int c = 0; c < all_[i].count; ++c) {
      const Choice& choice = all_[i].list[static_cast<std::size_t>(c)];
      if (choice.fret > last) break;
      if (choice.fret != 0 && choice.fret < low_) continue;
      here.add(choice);
      any_low = any_low || choice.fret == low_;
    }
  }
  if (!any_low) return;
  if (limits_.bass == BassRule::Any) {
    must_ = kMostStrings;
    now_ = window_;
    look_ahead();
    grow(0, {});
    return;
  }
  // Where the bass is settled, each place it can be played at leaves little room below.
  for (std::size_t i = 0; i < count_; ++i) {
    for (int c = 0; c < window_[i].count; ++c) {
      const Choice& choice = window_[i].list[static_cast<std::size_t>(c)];
      if (choice.bass) search_over_bass(i, choice);
    }
  }
}

/// All shapes whose lowest note is this one; of equal ones the first string's.
void ShapeSearch::search_over_bass(std::size_t place, const Choice& bass) {
  must_ = place;
  for (std::size_t i = 0; i < count_; ++i) {
    now_[i].count = 0;
    if (i == place) {
      now_[i].add(bass);
      continue;
    }
    for (int c = 0; c < window_[i].count; ++c) {
      const Choice& choice = window_[i].list[static_cast<std::size_t>(c)];
      if (i < place ? choice.lowest > bass.lowest : choice.lowest >= bass.lowest) now_[i].add(choice);
    }
  }
  look_ahead();
  grow(0, {});
}

void ShapeSearch::look_ahead() {
  reach_[count_] = 0;
  reach_low_[count_] = false;
  for (std::size_t i = count_; i-- > 0;) {
    reach_[i] = reach_[i + 1];
    reach_low_[i] = reach_low_[i + 1];
    for (int c = 0; c < now_[i].count; ++c) {
      const Choice& choice = now_[i].list[static_cast<std::size_t>(c)];
      reach_[i] = static_cast<std::uint16_t>(reach_[i] | choice.sound);
      reach_low_[i] = reach_low_[i] || choice.fret == low_;
    }
  }
}

void ShapeSearch::grow(std::size_t place, const So& so) {
  const unsigned missing = needed_ & ~static_cast<unsigned>(so.sound);
  if ((missing & ~static_cast<unsigned>(reach_[place])) != 0) return;
  const int left = static_cast<int>(count_ - place);
  if (single_ && more_than(missing, left)) return;
  if (low_ > 0 && !so.at_low && !reach_low_[place]) return;
  if (so.sounding + left < least_) return;
  if (limits_.most > 0 && cost_so_far(so) > worst_kept()) return;
  if (place == count_) {
    keep(so);
    return;
  }
  // A string left out before the first played one costs little; between played ones it counts when the next sounds.
  if (place != must_) {
    So without = so;
    ++(so.sounding > 0 ? without.gap : without.lead);
    frets_[place] = kMute;
    grow(place + 1, without);
  }
  if (so.inside + so.gap > limits_.most_muted_inside) return;
  for (int c = 0; c < now_[place].count; ++c) {
    const Choice& choice = now_[place].list[static_cast<std::size_t>(c)];
    const So next = with(so, choice, place);
    if (next.fingers > most_fingers(next)) continue;
    frets_[place] = choice.fret;
    grow(place + 1, next);
  }
}

ShapeSearch::So ShapeSearch::with(const So& so, const Choice& choice, std::size_t place) const {
  So out = so;
  out.sound = static_cast<std::uint16_t>(out.sound | choice.sound);
  out.inside = static_cast<std::int8_t>(out.inside + out.gap);
  out.gap = 0;
  ++out.sounding;
  if (choice.lowest < out.lowest) {
    out.lowest = choice.lowest;
    out.bass_right = choice.bass;
  }
  if (choice.highest > out.highest) {
    out.highest = choice.highest;
    out.top_right = choice.top;
  }
  if (choice.fret == 0) {
    out.open = true;
    out.lying = 0;
    return out;
  }
  // Each fret needs a finger of its own, and one more after each lower string that must ring in between.
  const std::uint64_t own = std::uint64_t{1} << static_cast<unsigned>(choice.fret - low_);
  out.at_low = out.at_low || choice.fret == low_;
  if ((out.lying & own) == 0) ++out.fingers;
  out.lying = (out.lying | own) & ((own << 1U) - 1U);
  out.thumb = out.thumb || place == 0;
  return out;
}

/// Fingers a hand has for what is stopped so far; the thumb may take the lowest string.
int ShapeSearch::most_fingers(const So& so) const {
  if (limits_.held == HeldRule::Any) return kMostStrings;
  return so.thumb ? 5 : 4;
}

void ShapeSearch::keep(const So& so) {
  if (limits_.top && !so.top_right) return;
  const int ear = ear_cost(so);
  if (ear + least_strain(so) / 2 > worst_kept()) return;
  Hand hand(frets_, static_cast<int>(count_), reach_hand_);
  const int strain = hand.solve();
  if (strain < 0 && limits_.held == HeldRule::Playable) return;
  FoundShapes::Found& found = out_.found_.emplace_back();
  found.frets = frets_;
  found.sound = so.sound;
  found.strain = strain < 0 ? kUnheld : strain;
  found.playable = strain >= 0;
  if (found.playable) found.fingers = hand.fingers();
  found.cost = found.strain / 2 + ear;
  note_kept(found.cost);
}

/// What the rest of the strings cannot make cheaper.
int ShapeSearch::cost_so_far(const So& so) const {
  return least_strain(so) / 2 + low_mute_ * so.lead + kInside * so.inside + kUp * std::max(0, low_ - 1);
}

/// All but the strain of the hand.
int ShapeSearch::ear_cost(const So& so) const {
  int cost = low_mute_ * so.lead + high_mute_ * so.gap + kInside * so.inside;
  cost += so.bass_right || no_bass_ ? 0 : 25;
  cost += kUp * std::max(0, low_ - 1) + (so.open ? 6 * std::max(0, low_ - 3) : 0);
  if ((allowed_ & ~static_cast<unsigned>(so.sound)) == 0) return cost;
  for (int i = 0; i < tone_count_; ++i) {
    const Tone& tone = wanted_[static_cast<std::size_t>(i)];
    if ((so.sound & tone.own) == 0) cost += tone.missing;
  }
  return cost;
}

/// Where only the best are asked for, the cost of the last of them so far.
int ShapeSearch::worst_kept() const {
  return limits_.most > 0 && best_costs_.size() == limits_.most ? best_costs_.front() : std::numeric_limits<int>::max();
}

void ShapeSearch::note_kept(int cost) {
  if (limits_.most == 0) return;
  if (best_costs_.size() == limits_.most) {
    if (cost >= best_costs_.front()) return;
    std::pop_heap(best_costs_.begin(), best_costs_.end());
    best_costs_.pop_back();
  }
  best_costs_.push_back(cost);
  std::push_heap(best_costs_.begin(), best_costs_.end());
}

/// By cost in one pass, since costs are small numbers; of equal costs the lower frets first.
void ShapeSearch::rank() {
  std::vector<FoundShapes::Found>& found = out_.found_;
  if (found.empty()) return;
  const auto by_cost = [](const FoundShapes::Found& a, const FoundShapes::Found& b) { return a.cost < b.cost; };
  const auto [least, most] = std::minmax_element(found.begin(), found.end(), by_cost);
  const int base = least->cost;
  std::vector<std::size_t> start(static_cast<std::size_t>(most->cost - base) + 2, 0);
  for (const FoundShapes::Found& f : found) ++start[static_cast<std::size_t>(f.cost - base) + 1];
  for (std::size_t i = 1; i < start.size(); ++i) start[i] += start[i - 1];
  std::vector<FoundShapes::Found> ranked(found.size());
  std::vector<std::size_t> next(start.begin(), start.end() - 1);
  for (const FoundShapes::Found& f : found) ranked[next[static_cast<std::size_t>(f.cost - base)]++] = f;
  const auto at = [&](std::size_t i) { return ranked.begin() + static_cast<std::ptrdiff_t>(i); };
  const std::size_t kept = limits_.most > 0 ? std::min(limits_.most, ranked.size()) : ranked.size();
  for (std::size_t i = 0; i + 1 < start.size() && start[i] < kept; ++i) {
    std::sort(at(start[i]), at(start[i + 1]), [](const auto& a, const auto& b) { return a.frets < b.frets; });
  }
  ranked.resize(kept);
  found = std::move(ranked);
}

FoundShape FoundShapes::operator[](std::size_t i) const {
  const Found& found = found_[i];
  const auto strings = static_cast<std::size_t>(strings_);
  FoundShape out;
  out.cost = found.cost;
  out.playable = found.playable;
  out.strain = found.strain;
  out.shape.frets.resize(strings);
  if (found.playable) out.shape.fingers.resize(strings, Finger::None);
  for (std::size_t s = 0; s < strings; ++s) {
    if (found.frets[s] != kMute) out.shape.frets[s] = found.frets[s];
    if (found.playable) out.shape.fingers[s] = static_cast<Finger>(found.fingers[s]);
  }
  for (const ChordTone& tone : tones_) {
    if ((found.sound & pitch_bit(tone.pitch.number())) == 0) out.left_out.push_back(tone);
  }
  return out;
}

}  // namespace tunesheaf::theory

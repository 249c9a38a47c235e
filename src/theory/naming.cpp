// Names are found by table: every set of semitones over a root lists the formulas it can stand for. The cost of a
// candidate is the sum of
//   the formula's own rarity (0 for major and minor triads, 36 for the rarest);
//   the bass: 0 root, 8 third, 10 fifth, 12 sixth or seventh, 18 any other tone, 20 a note foreign to the chord;
//   what is left out: 5 fifth, 4 a ninth or eleventh below the named tension, 15 third, 40 root;
//   less 12 when the root is in the bass and every tone sounds;
//   less 3 when all tones are in the key, 2 when the root is, 4 when a neighbour has this root or leads to it.
// Names that cost more than kNotCommon, or kTooFar more than the best, are not told.
#include "tunesheaf/theory/naming.h"

#include <algorithm>
#include <bit>
#include <cstdlib>

#include "naming_tables.h"

namespace tunesheaf::theory {
namespace {

constexpr int kNotCommon = 70;
constexpr int kTooFar = 45;

Bits rotated(Bits set, int root) {
  const unsigned s = set;
  const unsigned r = static_cast<unsigned>(root);
  return static_cast<Bits>(((s >> r) | (s << (12U - r))) & 0xFFFU);
}

Bits key_bits(const Key& key) {
  Bits out = 0;
  for (const PitchClass pc : key.scale()) out = static_cast<Bits>(out | bit(pc.number()));
  return out;
}

struct Found {
  int root = 0;
  const Template* shape = nullptr;
  int bass = 0;          // over C
  bool foreign = false;  // the bass is no tone of the chord
  int cost = 0;
  Bits over_root = 0;  // the set it explains
};

struct Place {
  Bits key = 0;
  bool has_key = false;
  std::vector<int> neighbour_roots;
};

bool neighbour_agrees(const Place& place, int root) {
  return std::any_of(place.neighbour_roots.begin(), place.neighbour_roots.end(), [&](int other) {
    const int up = ((other - root) % 12 + 12) % 12;
    return up == 0 || up == 5 || up == 7;
  });
}

int bass_cost(const Template& t, int semitone) {
  switch (t.number[static_cast<std::size_t>(semitone)]) {
    case 1:
      return 0;
    case 3:
      return 8;
    case 5:
      return 10;
    case 6:
    case 7:
      return 12;
    default:
      return 18;
  }
}

void weigh(Found& found, int missing_cost, const Place& place) {
  const Template& t = *found.shape;
  const int bass = (found.bass - found.root + 12) % 12;
  int cost = t.rarity + missing_cost + (found.foreign ? 20 : bass_cost(t, bass));
  if (bass == 0 && missing_cost == 0) cost -= 12;
  if (place.has_key) {
    const unsigned absolute = rotated(t.full, (12 - found.root) % 12);
    if ((absolute & ~static_cast<unsigned>(place.key)) == 0) cost -= 3;
    if ((place.key & bit(found.root)) != 0) cost -= 2;
  }
  if (!place.neighbour_roots.empty() && neighbour_agrees(place, found.root)) cost -= 4;
  found.cost = cost;
}

/// Few sets have more than thirty readings; those that cost too much are not kept.
using FoundList = std::vector<Found>;

void search(Bits set, Bits above_bass, int bass, const Place& place, FoundList& out) {
  const NameTables& all = name_tables();
  for (int root = 0; root < 12; ++root) {
    const Bits over = rotated(set, root);
    for (const Reading reading : all.of(over)) {
      Found found{root, &all.templates[reading.shape], bass, false, 0, over};
      weigh(found, reading.missing_cost, place);
      if (found.cost <= kNotCommon) out.push_back(found);
    }
    // A chord over a foreign bass: only one that is whole without it.
    if (root == bass || (above_bass & bit(root)) == 0) continue;
    const Bits upper = rotated(above_bass, root);
    for (const Reading reading : all.whole_of(upper)) {
      const Template& t = all.templates[reading.shape];
      if ((t.full & bit(bass - root)) != 0) continue;
      Found found{root, &t, bass, true, 0, upper};
      weigh(found, 0, place);
      if (found.cost <= kNotCommon) out.push_back(found);
    }
  }
}

std::vector<Reason> reasons_of(const Found& found, const Place& place) {
  const Template& t = *found.shape;
  std::vector<Reason> out;
  out.reserve(6);
  const int bass = ((found.bass - found.root) % 12 + 12) % 12;
  const unsigned missing = t.full & ~static_cast<unsigned>(found.over_root);
  if (found.foreign)
    out.push_back(Reason::ForeignBass);
  else
    out.push_back(bass == 0 ? Reason::RootInBass : Reason::ChordToneInBass);
  if (missing == 0 && !t.left_out_by_name) out.push_back(Reason::Complete);
  bool tension = false;
  for (unsigned rest = missing; rest != 0; rest &= rest - 1U) {
    const int s = std::countr_zero(rest);
    const int number = t.number[static_cast<std::size_t>(s)];
    if (number == 1)
      out.push_back(Reason::RootLeftOut);
    else if (number == 5)
      out.push_back(Reason::FifthLeftOut);
    else
      tension = true;
  }
  if (tension) out.push_back(Reason::TensionLeftOut);
  for (const ChordDegree& d : t.on_c.degrees) {
    if (d.change != DegreeChange::Omit) continue;
    out.push_back(d.number == 3 ? Reason::ThirdLeftOut : Reason::FifthLeftOut);
  }
  if (t.altered) out.push_back(Reason::TonesAltered);
  if (t.added) out.push_back(Reason::TonesAdded);
  const unsigned absolute = rotated(t.full, (12 - found.root) % 12);
  if (place.has_key && (absolute & ~static_cast<unsigned>(place.key)) == 0)
    out.push_back(Reason::InKey);
  else if (place.has_key && (place.key & bit(found.root)) != 0)
    out.push_back(Reason::RootInKey);
  if (neighbour_agrees(place, found.root)) out.push_back(Reason::NeighbourAgrees);
  return out;
}

NameCandidate candidate(const Found& found, const NamingContext& context, const Place& place) {
  const Template& t = *found.shape;
  NameCandidate out;
  out.cost = found.cost;
  out.name = t.on_c;
  // The key decides the root's spelling; without one the chord with fewer accidentals.
  out.name.root =
      context.key ? spell_class(found.root, *context.key) : t.plain_root[static_cast<std::size_t>(found.root)];
  if (found.foreign) {
    out.name.bass = context.key ? spell_class(found.bass, *context.key) : plain_spelling_class(found.bass);
  } else if (found.bass != found.root) {
    const auto tone = std::find_if(t.tones.begin(), t.tones.end(), [&](const ChordTone& c) {
      return (found.root + c.over_root.semitones) % 12 == found.bass;
    });
    const std::optional<PitchClass> spelled = transpose(out.name.root, tone->over_root);
    out.name.bass = spelled ? *spelled : plain_spelling_class(found.bass);
  }
  if (t.full != found.over_root) {
    out.missing.reserve(static_cast<std::size_t>(std::popcount(t.full & ~static_cast<unsigned>(found.over_root))));
    for (const ChordTone& tone : t.tones) {
      if ((found.over_root & bit(tone.over_root.semitones)) != 0) continue;
      out.missing.push_back(tone);
      if (const auto spelled = transpose(out.name.root, tone.over_root)) {
        out.missing.back().pitch = *spelled;
      } else {
        out.missing.back().pitch = plain_spelling_class((found.root + tone.over_root.semitones) % 12);
      }
    }
  }
  out.reasons = reasons_of(found, place);
  return out;
}

}  // namespace

std::vector<NameCandidate> name_candidates(const std::vector<int>& midi, const NamingContext& context,
                                           std::size_t most) {
  if (midi.empty()) return {};
  const int lowest = *std::min_element(midi.begin(), midi.end());
  Bits set = 0;
  for (const int key : midi) set = static_cast<Bits>(set | bit(key));
  const Bits own = bit(lowest);
  const int bass = std::countr_zero(own);
  const Bits above = static_cast<Bits>(set & ~static_cast<unsigned>(own));
  Place place;
  place.has_key = context.key.has_value();
  if (context.key) place.key = key_bits(*context.key);
  for (const ChordName& chord : context.neighbours) {
    if (!chord.is_none()) place.neighbour_roots.push_back(chord.root.number());
  }
  thread_local FoundList found;  // kept between calls: naming is asked for thousands of times
  found.clear();
  search(set, above, bass, place, found);
  const auto better = [&](const Found& a, const Found& b) {
    if (a.cost != b.cost) return a.cost < b.cost;
    // Of equals the root nearest above the bass: the order does not depend on the pitch the sound stands at.
    const int over_a = (a.root - bass + 12) % 12, over_b = (b.root - bass + 12) % 12;
    if (over_a != over_b) return over_a < over_b;
    return a.shape != b.shape ? a.shape < b.shape : !a.foreign && b.foreign;
  };
  int least = kNotCommon;
  for (const Found& one : found) least = std::min(least, one.cost);
  std::erase_if(found, [&](const Found& one) { return one.cost > least + kTooFar; });
  const std::size_t kept = std::min(most, found.size());
  if (kept == 1) {
    std::iter_swap(found.begin(), std::min_element(found.begin(), found.end(), better));
  } else {
    std::sort(found.begin(), found.end(), better);
  }
  std::vector<NameCandidate> out;
  out.reserve(kept);
  for (std::size_t i = 0; i < kept; ++i) {
    out.push_back(candidate(found[i], context, place));
  }
  return out;
}

std::vector<Interval> intervals_over_bass(const std::vector<int>& midi) {
  std::vector<Interval> out;
  if (midi.empty()) return out;
  const int lowest = *std::min_element(midi.begin(), midi.end());
  Bits seen = 0;
  for (const int key : midi) {
    if ((seen & bit(key - lowest)) != 0) continue;
    seen = static_cast<Bits>(seen | bit(key - lowest));
    out.push_back(usual_interval((key - lowest) % 12));
  }
  return out;
}

ClaimCheck check_claim(const ChordName& stated, const std::vector<int>& midi, const NamingContext& context) {
  ClaimCheck out;
  if (stated.is_none()) {
    out.fits = midi.empty();
    return out;
  }
  Bits sound = 0;
  for (const int key : midi) sound = static_cast<Bits>(sound | bit(key));
  const unsigned allowed = tone_bits(stated);
  Bits told = 0;
  for (const int key : midi) {
    const Bits own = bit(key);
    if ((allowed & own) != 0 || (told & own) != 0) continue;
    told = static_cast<Bits>(told | own);
    out.foreign.push_back(spell(key, context.key).name);
  }
  for (const ChordTone& tone : tones(stated)) {
    if ((sound & bit(tone.pitch.number())) == 0 && !may_be_left_out(stated, tone)) out.absent.push_back(tone);
  }
  bool bass_fits = true;
  if (!midi.empty()) {
    const int lowest = *std::min_element(midi.begin(), midi.end());
    const PitchClass wanted = stated.bass.value_or(stated.root);
    if (wanted.number() != ((lowest % 12) + 12) % 12) {
      out.bass = spell_all({lowest}, stated, context.key).front().name;
      bass_fits = !stated.bass.has_value();
    }
  }
  out.fits = !midi.empty() && out.foreign.empty() && out.absent.empty() && bass_fits;
  return out;
}

std::vector<Pitch> spell_all(const std::vector<int>& midi, const std::optional<ChordName>& chord,
                             const std::optional<Key>& key) {
  std::vector<ChordTone> named;
  if (chord && !chord->is_none()) named = tones(*chord);
  std::vector<Pitch> out;
  for (const int sounding : midi) {
    const int number = ((sounding % 12) + 12) % 12;
    const auto tone =
        std::find_if(named.begin(), named.end(), [&](const ChordTone& t) { return t.pitch.number() == number; });
    if (tone != named.end())
      out.push_back(with_name(sounding, tone->pitch));
    else if (chord && chord->bass && chord->bass->number() == number)
      out.push_back(with_name(sounding, *chord->bass));
    else
      out.push_back(spell(sounding, key));
  }
  return out;
}

}  // namespace tunesheaf::theory

// Names are found by table: every set of semitones over a root lists the formulas it can stand for. The cost of a
// candidate is the sum of
//   the formula's own rarity (0 for major and minor triads, 16 for the rarest);
//   the bass: 0 root, 8 third, 10 fifth, 12 sixth or seventh, 18 any other tone, 20 a note foreign to the chord;
//   what is left out: 5 fifth, 4 a ninth or eleventh below the named tension, 40 root;
//   less 12 when the root is in the bass and every tone sounds;
//   less 3 when all tones are in the key, 2 when the root is, 4 when a neighbour has this root or leads to it.
#include "tunesheaf/theory/naming.h"

#include <algorithm>
#include <array>
#include <bit>
#include <cstdlib>

#include "chord_tones.h"

namespace tunesheaf::theory {
namespace {

using Bits = std::uint16_t;

struct TemplateRow {
  std::string_view suffix;
  int rarity;
};

constexpr std::array kTemplateRows{
    TemplateRow{"", 0},
    TemplateRow{"m", 0},
    TemplateRow{"5", 3},
    TemplateRow{"7", 3},
    TemplateRow{"m7", 4},
    TemplateRow{"maj7", 4},
    TemplateRow{"sus4", 6},
    TemplateRow{"sus2", 6},
    TemplateRow{"dim", 6},
    TemplateRow{"+", 6},
    TemplateRow{"6", 6},
    TemplateRow{"m6", 6},
    TemplateRow{"dim7", 5},
    TemplateRow{"m7b5", 6},
    TemplateRow{"add9", 7},
    TemplateRow{"m(add9)", 8},
    TemplateRow{"7sus4", 7},
    TemplateRow{"9", 7},
    TemplateRow{"m9", 8},
    TemplateRow{"maj9", 8},
    TemplateRow{"6/9", 8},
    TemplateRow{"m6/9", 9},
    TemplateRow{"m(maj7)", 9},
    TemplateRow{"+7", 8},
    TemplateRow{"7b5", 9},
    TemplateRow{"7b9", 8},
    TemplateRow{"7#9", 8},
    TemplateRow{"9sus4", 9},
    TemplateRow{"11", 11},
    TemplateRow{"m11", 10},
    TemplateRow{"maj11", 13},
    TemplateRow{"13", 10},
    TemplateRow{"m13", 12},
    TemplateRow{"maj13", 12},
    TemplateRow{"maj7#11", 10},
    TemplateRow{"maj9#11", 11},
    TemplateRow{"7#11", 10},
    TemplateRow{"9#11", 11},
    TemplateRow{"9b5", 11},
    TemplateRow{"9#5", 10},
    TemplateRow{"maj7#5", 10},
    TemplateRow{"maj7b5", 11},
    TemplateRow{"add4", 10},
    TemplateRow{"m(add4)", 10},
    TemplateRow{"13sus4", 11},
    TemplateRow{"7sus2", 10},
    TemplateRow{"maj7sus4", 11},
    TemplateRow{"maj7sus2", 11},
    TemplateRow{"sus2(add4)", 9},
    TemplateRow{"6sus4", 11},
    TemplateRow{"m(maj9)", 11},
    TemplateRow{"m(maj11)", 13},
    TemplateRow{"13b9", 12},
    TemplateRow{"13#9", 13},
    TemplateRow{"13#11", 12},
    TemplateRow{"maj13#11", 13},
    TemplateRow{"7b13", 11},
    TemplateRow{"9b13", 12},
    TemplateRow{"7(b9,b13)", 12},
    TemplateRow{"7(#9,b13)", 13},
    TemplateRow{"+7b9", 12},
    TemplateRow{"+7#9", 12},
    TemplateRow{"7(b5,b9)", 12},
    TemplateRow{"7(b5,#9)", 13},
    TemplateRow{"7(b9,#9)", 14},
    TemplateRow{"7(b9,#11)", 13},
    TemplateRow{"7(#9,#11)", 14},
    TemplateRow{"13(b5,b9)", 14},
    TemplateRow{"m9b5", 12},
    TemplateRow{"m11b5", 13},
    TemplateRow{"m(maj7,b5)", 12},
    TemplateRow{"dim(maj7)", 12},
    TemplateRow{"maj9#5", 12},
    TemplateRow{"7sus4(b9)", 12},
    TemplateRow{"(b5)", 12},
    TemplateRow{"add#11", 13},
    TemplateRow{"m(add4,add9)", 13},
    TemplateRow{"(add4,add9)", 13},
    TemplateRow{"m7b5(add11)", 12},
    TemplateRow{"m7b9", 14},
    TemplateRow{"m6(add11)", 14},
    TemplateRow{"6(add#11)", 14},
    TemplateRow{"dim7(add9)", 15},
    TemplateRow{"+(add9)", 13},
    TemplateRow{"(no5)", 10},
    TemplateRow{"m(no5)", 11},
    TemplateRow{"7(no3)", 9},
    TemplateRow{"maj7(no3)", 10},
    TemplateRow{"6(no3)", 12},
    TemplateRow{"sus4(no5)", 14},
    TemplateRow{"add9(no5)", 11},
    TemplateRow{"m(add9,no5)", 12},
    TemplateRow{"m(addb9)", 15},
    TemplateRow{"addb9", 15},
    TemplateRow{"m(addb6)", 14},
    TemplateRow{"9(no3)", 11},
};

struct Template {
  ChordName on_c;
  std::vector<ChordTone> tones;  // on C
  std::array<int, 12> number{};  // degree number by semitone over the root; 0: none
  Bits full = 0, needed = 0;
  int rarity = 0;
  bool left_out_by_name = false;  // "no3", "no5"
  bool altered = false, added = false;
  bool robust = false;  // known by third and seventh, third, sixth and ninth, or as 7sus4
};

Bits bit(int semitone) {
  return static_cast<Bits>(1U << static_cast<unsigned>(((semitone % 12) + 12) % 12));
}

std::vector<Template> build_templates() {
  std::vector<Template> out;
  for (const TemplateRow& row : kTemplateRows) {
    Template t;
    t.on_c = parse_chord("C" + std::string(row.suffix)).value();
    t.tones = tones(t.on_c);
    t.rarity = row.rarity;
    for (const ChordTone& tone : t.tones) {
      const int semitone = tone.over_root.semitones % 12;
      t.number[static_cast<std::size_t>(semitone)] = tone.number;
      t.full = static_cast<Bits>(t.full | bit(semitone));
      if (!may_be_left_out(t.on_c, tone)) t.needed = static_cast<Bits>(t.needed | bit(semitone));
    }
    for (const ChordDegree& d : t.on_c.degrees) {
      t.left_out_by_name = t.left_out_by_name || d.change == DegreeChange::Omit;
      t.altered = t.altered || d.change == DegreeChange::Alter;
      t.added = t.added || d.change == DegreeChange::Add;
    }
    const std::vector<DegreeTone> all = degree_tones(t.on_c);
    const bool seventh = contains_number(all, 7);
    const bool sixth_ninth = contains_number(all, 6) && contains_number(all, 9);
    const bool dominant_sus = t.on_c.kind == ChordKind::SuspendedFourth && t.full >> 10U & 1U;
    t.robust = !t.left_out_by_name && ((contains_number(all, 3) && (seventh || sixth_ninth)) || dominant_sus);
    out.push_back(std::move(t));
  }
  return out;
}

struct Tables {
  std::vector<Template> templates = build_templates();
  /// Template numbers by the set of semitones over the root.
  std::vector<std::vector<std::uint16_t>> by_set;
  Tables() : by_set(4096) {
    for (unsigned set = 1; set < 4096; ++set) {
      for (std::size_t i = 0; i < templates.size(); ++i) {
        const Template& t = templates[i];
        if ((set & ~static_cast<unsigned>(t.full)) != 0 || (t.needed & ~set) != 0) continue;
        // Only chords with a seventh (or sixth and ninth) stay themselves without their fifth; of the others the names
        // with "no5" tell the truth. A root is guessed only under at least five tones.
        if (!t.robust && set != t.full) continue;
        if ((set & 1U) == 0 && (std::popcount(set) < 3 || t.tones.size() < 5)) continue;
        by_set[set].push_back(static_cast<std::uint16_t>(i));
      }
    }
  }
};

const Tables& tables() {
  static const Tables kTables;
  return kTables;
}

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

void weigh(Found& found, const Place& place) {
  const Template& t = *found.shape;
  const int bass = ((found.bass - found.root) % 12 + 12) % 12;
  const unsigned missing = t.full & ~static_cast<unsigned>(found.over_root);
  int cost = t.rarity + (found.foreign ? 20 : bass_cost(t, bass));
  for (int s = 0; s < 12; ++s) {
    if ((missing >> static_cast<unsigned>(s) & 1U) == 0) continue;
    const int number = t.number[static_cast<std::size_t>(s)];
    cost += number == 1 ? 40 : (number == 5 ? 5 : 4);
  }
  if (bass == 0 && missing == 0) cost -= 12;
  const unsigned absolute = rotated(t.full, (12 - found.root) % 12);
  if (place.has_key && (absolute & ~static_cast<unsigned>(place.key)) == 0) cost -= 3;
  if (place.has_key && (place.key & bit(found.root)) != 0) cost -= 2;
  if (neighbour_agrees(place, found.root)) cost -= 4;
  found.cost = cost;
}

std::vector<Found> search(Bits set, Bits above_bass, int bass, const Place& place) {
  std::vector<Found> out;
  const Tables& all = tables();
  for (int root = 0; root < 12; ++root) {
    const Bits over = rotated(set, root);
    for (const std::uint16_t i : all.by_set[over]) {
      Found found{root, &all.templates[i], bass, false, 0, over};
      weigh(found, place);
      out.push_back(found);
    }
    // A chord over a foreign bass: only one that is whole without it.
    if (root == bass || (above_bass & bit(root)) == 0) continue;
    const Bits upper = rotated(above_bass, root);
    for (const std::uint16_t i : all.by_set[upper]) {
      const Template& t = all.templates[i];
      if (t.full != upper || t.tones.size() < 3 || t.left_out_by_name || t.rarity > 8) continue;
      if ((t.full & bit(bass - root)) != 0) continue;
      Found found{root, &t, bass, true, 0, upper};
      weigh(found, place);
      out.push_back(found);
    }
  }
  return out;
}

/// The root's spelling: the key's; else of the two twins the one whose chord has fewer accidentals.
PitchClass root_spelling(int root, const Template& t, const std::optional<Key>& key) {
  if (key) return spell_class(root, *key);
  const PitchClass plain = plain_spelling_class(root);
  const auto signs = [&](PitchClass pc) {
    int sum = 0;
    for (const ChordTone& tone : t.tones) {
      const std::optional<PitchClass> spelled = transpose(pc, tone.over_root);
      sum += spelled ? std::abs(spelled->alter) : 9;
    }
    return sum;
  };
  if (plain.alter == 0) return plain;
  const PitchClass twin =
      plain.alter > 0 ? PitchClass{step_up(plain.step, 1), -1} : PitchClass{step_up(plain.step, -1), 1};
  return twin.number() == root && signs(twin) < signs(plain) ? twin : plain;
}

std::vector<Reason> reasons_of(const Found& found, const Place& place) {
  const Template& t = *found.shape;
  std::vector<Reason> out;
  const int bass = ((found.bass - found.root) % 12 + 12) % 12;
  const unsigned missing = t.full & ~static_cast<unsigned>(found.over_root);
  if (found.foreign)
    out.push_back(Reason::ForeignBass);
  else
    out.push_back(bass == 0 ? Reason::RootInBass : Reason::ChordToneInBass);
  if (missing == 0 && !t.left_out_by_name) out.push_back(Reason::Complete);
  bool tension = false;
  for (int s = 0; s < 12; ++s) {
    if ((missing >> static_cast<unsigned>(s) & 1U) == 0) continue;
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
  NameCandidate out;
  out.cost = found.cost;
  out.name = found.shape->on_c;
  out.name.root = root_spelling(found.root, *found.shape, context.key);
  const std::vector<ChordTone> spelled = tones(out.name);
  for (const ChordTone& tone : spelled) {
    const Bits own = bit(tone.over_root.semitones);
    if ((found.over_root & own) == 0) out.missing.push_back(tone);
    if (tone.pitch.number() == found.bass && tone.number != 1) out.name.bass = tone.pitch;
  }
  if (found.foreign) {
    out.name.bass = context.key ? spell_class(found.bass, *context.key) : plain_spelling_class(found.bass);
  }
  out.reasons = reasons_of(found, place);
  return out;
}

}  // namespace

std::vector<NameCandidate> name_candidates(const std::vector<int>& midi, const NamingContext& context,
                                           std::size_t most) {
  if (midi.empty()) return {};
  const int lowest = *std::min_element(midi.begin(), midi.end());
  const int bass = ((lowest % 12) + 12) % 12;
  Bits set = 0, above = 0;
  for (const int key : midi) {
    set = static_cast<Bits>(set | bit(key));
    if (((key % 12) + 12) % 12 != bass) above = static_cast<Bits>(above | bit(key));
  }
  Place place;
  place.has_key = context.key.has_value();
  if (context.key) place.key = key_bits(*context.key);
  for (const ChordName& chord : context.neighbours) {
    if (!chord.is_none()) place.neighbour_roots.push_back(chord.root.number());
  }
  std::vector<Found> found = search(set, above, bass, place);
  std::stable_sort(found.begin(), found.end(), [&](const Found& a, const Found& b) {
    if (a.cost != b.cost) return a.cost < b.cost;
    // Of equals the root nearest above the bass: the order does not depend on the pitch the sound stands at.
    return ((a.root - bass) % 12 + 12) % 12 < ((b.root - bass) % 12 + 12) % 12;
  });
  std::vector<NameCandidate> out;
  for (const Found& f : found) {
    if (out.size() >= most) break;
    out.push_back(candidate(f, context, place));
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

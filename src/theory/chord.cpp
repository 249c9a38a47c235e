#include "tunesheaf/theory/chord.h"

#include <algorithm>
#include <array>
#include <cstdlib>

#include "chord_tones.h"

namespace tunesheaf::theory {
namespace {

struct KindRow {
  std::string_view value;
  std::vector<DegreeTone> formula;
};

constexpr std::size_t kKinds = static_cast<std::size_t>(ChordKind::None) + 1;

/// Formulas by the prose of kind-value in MusicXML 4.0. The functional sixths and the Tristan chord have none there;
/// common practice: over the chord's root, Neapolitan a major triad, Italian 1 3 #6, French 1 3 #4 #6, German 1 3 5 #6,
/// Tristan 1 #4 #6 #9.
const std::array<KindRow, kKinds>& kinds() {
  static const std::array<KindRow, kKinds> kRows{{
      {"major", {{1, 0}, {3, 0}, {5, 0}}},
      {"minor", {{1, 0}, {3, -1}, {5, 0}}},
      {"augmented", {{1, 0}, {3, 0}, {5, 1}}},
      {"diminished", {{1, 0}, {3, -1}, {5, -1}}},
      {"dominant", {{1, 0}, {3, 0}, {5, 0}, {7, -1}}},
      {"major-seventh", {{1, 0}, {3, 0}, {5, 0}, {7, 0}}},
      {"minor-seventh", {{1, 0}, {3, -1}, {5, 0}, {7, -1}}},
      {"diminished-seventh", {{1, 0}, {3, -1}, {5, -1}, {7, -2}}},
      {"augmented-seventh", {{1, 0}, {3, 0}, {5, 1}, {7, -1}}},
      {"half-diminished", {{1, 0}, {3, -1}, {5, -1}, {7, -1}}},
      {"major-minor", {{1, 0}, {3, -1}, {5, 0}, {7, 0}}},
      {"major-sixth", {{1, 0}, {3, 0}, {5, 0}, {6, 0}}},
      {"minor-sixth", {{1, 0}, {3, -1}, {5, 0}, {6, 0}}},
      {"dominant-ninth", {{1, 0}, {3, 0}, {5, 0}, {7, -1}, {9, 0}}},
      {"major-ninth", {{1, 0}, {3, 0}, {5, 0}, {7, 0}, {9, 0}}},
      {"minor-ninth", {{1, 0}, {3, -1}, {5, 0}, {7, -1}, {9, 0}}},
      {"dominant-11th", {{1, 0}, {3, 0}, {5, 0}, {7, -1}, {9, 0}, {11, 0}}},
      {"major-11th", {{1, 0}, {3, 0}, {5, 0}, {7, 0}, {9, 0}, {11, 0}}},
      {"minor-11th", {{1, 0}, {3, -1}, {5, 0}, {7, -1}, {9, 0}, {11, 0}}},
      {"dominant-13th", {{1, 0}, {3, 0}, {5, 0}, {7, -1}, {9, 0}, {11, 0}, {13, 0}}},
      {"major-13th", {{1, 0}, {3, 0}, {5, 0}, {7, 0}, {9, 0}, {11, 0}, {13, 0}}},
      {"minor-13th", {{1, 0}, {3, -1}, {5, 0}, {7, -1}, {9, 0}, {11, 0}, {13, 0}}},
      {"suspended-second", {{1, 0}, {2, 0}, {5, 0}}},
      {"suspended-fourth", {{1, 0}, {4, 0}, {5, 0}}},
      {"Neapolitan", {{1, 0}, {3, 0}, {5, 0}}},
      {"Italian", {{1, 0}, {3, 0}, {6, 1}}},
      {"French", {{1, 0}, {3, 0}, {4, 1}, {6, 1}}},
      {"German", {{1, 0}, {3, 0}, {5, 0}, {6, 1}}},
      {"pedal", {{1, 0}}},
      {"power", {{1, 0}, {5, 0}}},
      {"Tristan", {{1, 0}, {4, 1}, {6, 1}, {9, 1}}},
      {"other", {{1, 0}}},
      {"none", {}},
  }};
  return kRows;
}

const KindRow& row(ChordKind kind) {
  return kinds()[static_cast<std::size_t>(kind)];
}

bool has(const std::vector<DegreeTone>& tones, DegreeTone t) {
  return std::find(tones.begin(), tones.end(), t) != tones.end();
}

bool may_be_altered(int number) {
  return number == 5 || number == 9 || number == 11 || number == 13;
}

/// Changes that make `tones` of the kind's formula, in canonical order: altered, left out, added (so that what is added
/// stays).
std::vector<ChordDegree> changes(ChordKind kind, const std::vector<DegreeTone>& tones) {
  std::vector<ChordDegree> altered, added, omitted;
  std::vector<DegreeTone> extra;
  for (const DegreeTone t : tones) {
    if (!has(formula(kind), t)) extra.push_back(t);
  }
  for (const DegreeTone t : formula(kind)) {
    if (has(tones, t)) continue;
    const auto other = std::find_if(extra.begin(), extra.end(), [&](DegreeTone e) { return e.number == t.number; });
    if (may_be_altered(t.number) && other != extra.end() && other->alter != 0) {
      altered.push_back({DegreeChange::Alter, other->number, other->alter});
      extra.erase(other);
    } else {
      omitted.push_back({DegreeChange::Omit, t.number, 0});
    }
  }
  for (const DegreeTone t : extra) added.push_back({DegreeChange::Add, t.number, t.alter});
  altered.insert(altered.end(), omitted.begin(), omitted.end());
  altered.insert(altered.end(), added.begin(), added.end());
  return altered;
}

/// How roundabout a name is. An added seventh, or a natural tension over a seventh, is better told by another kind;
/// a bare fifth with sixth or seventh is rather that chord without its third.
int roundabout(ChordKind kind, const std::vector<ChordDegree>& all) {
  const bool seventh = contains_number(formula(kind), 7);
  int cost = 0;
  for (const ChordDegree& d : all) {
    switch (d.change) {
      case DegreeChange::Alter:
        cost += 2;
        break;
      case DegreeChange::Omit:
        cost += 3;
        break;
      case DegreeChange::Add: {
        const bool sus = kind == ChordKind::SuspendedFourth || kind == ChordKind::SuspendedSecond;
        cost += 2;
        if (d.number == 7 && !sus) cost += 1;
        if (seventh && d.alter == 0 && d.number >= 9) cost += 1;
        if (d.number == 3) cost += 3;
        if (kind == ChordKind::Power && (d.number == 6 || d.number == 7 || d.number == 3)) cost += 3;
        break;
      }
    }
  }
  return cost;
}

bool eligible(ChordKind kind, const std::vector<DegreeTone>& tones) {
  if (!named_by_tones(kind)) return false;
  const bool sus = kind == ChordKind::SuspendedFourth || kind == ChordKind::SuspendedSecond;
  return !(sus && contains_number(tones, 3));
}

}  // namespace

const std::vector<DegreeTone>& formula(ChordKind kind) {
  return row(kind).formula;
}

bool named_by_tones(ChordKind kind) {
  switch (kind) {
    case ChordKind::Neapolitan:
    case ChordKind::Italian:
    case ChordKind::French:
    case ChordKind::German:
    case ChordKind::Pedal:
    case ChordKind::Tristan:
    case ChordKind::Other:
    case ChordKind::None:
      return false;
    default:
      return true;
  }
}

bool contains_number(const std::vector<DegreeTone>& tones, int number) {
  return std::any_of(tones.begin(), tones.end(), [&](DegreeTone t) { return t.number == number; });
}

int semitones_over(DegreeTone tone) {
  const int steps = tone.number - 1;
  return semitones_of(static_cast<Step>(steps % 7)) + 12 * (steps / 7) + tone.alter;
}

std::vector<DegreeTone> degree_tones(const ChordName& chord) {
  std::vector<DegreeTone> out = formula(chord.kind);
  for (const ChordDegree& d : chord.degrees) {
    const DegreeTone tone{d.number, d.alter};
    const auto same = std::find_if(out.begin(), out.end(), [&](DegreeTone t) { return t.number == d.number; });
    if (d.change == DegreeChange::Omit) {
      std::erase_if(out, [&](DegreeTone t) { return t.number == d.number; });
    } else if (d.change == DegreeChange::Alter && same != out.end()) {
      *same = tone;
    } else {
      out.push_back(tone);
    }
  }
  std::sort(out.begin(), out.end());
  out.erase(std::unique(out.begin(), out.end()), out.end());
  return out;
}

ChordName canonical(PitchClass root, std::vector<DegreeTone> tones, std::optional<PitchClass> bass) {
  std::sort(tones.begin(), tones.end());
  tones.erase(std::unique(tones.begin(), tones.end()), tones.end());
  ChordName best;
  int best_cost = -1;
  for (std::size_t k = 0; k < kKinds; ++k) {
    const ChordKind kind = static_cast<ChordKind>(k);
    if (!eligible(kind, tones)) continue;
    // Each tone that one has and the other lacks costs two at least.
    const std::size_t few = std::min(formula(kind).size(), tones.size());
    const auto apart = static_cast<int>(formula(kind).size() + tones.size() - 2 * few);
    if (best_cost >= 0 && 2 * apart >= best_cost) continue;
    std::vector<ChordDegree> all = changes(kind, tones);
    const int cost = roundabout(kind, all);
    if (best_cost >= 0 && cost >= best_cost) continue;
    best_cost = cost;
    best.kind = kind;
    best.degrees = std::move(all);
  }
  best.root = root;
  if (bass != root) best.bass = bass;
  return best;
}

ChordName canonical(const ChordName& chord) {
  if (chord.kind == ChordKind::None) {
    ChordName none;
    none.kind = ChordKind::None;
    return none;
  }
  if (named_by_tones(chord.kind)) return canonical(chord.root, degree_tones(chord), chord.bass);
  ChordName kept = chord;
  if (kept.bass == kept.root) kept.bass.reset();
  return kept;
}

std::string_view kind_value(ChordKind kind) {
  return row(kind).value;
}

std::optional<ChordKind> kind_from_value(std::string_view value) {
  for (std::size_t k = 0; k < kKinds; ++k) {
    if (kinds()[k].value == value) return static_cast<ChordKind>(k);
  }
  return std::nullopt;
}

std::vector<ChordTone> tones(const ChordName& chord) {
  std::vector<ChordTone> out;
  for (const DegreeTone t : degree_tones(chord)) {
    const Interval over{t.number - 1, semitones_over(t)};
    std::optional<PitchClass> pc = transpose(chord.root, over);
    // Beyond three accidentals no letter helps: the plain name is then the readable one.
    if (!pc) pc = plain_spelling_class(chord.root.number() + over.semitones);
    out.push_back({t.number, t.alter, over, *pc});
  }
  return out;
}

std::uint16_t tone_bits(const ChordName& chord) {
  unsigned bits = 0;
  for (const DegreeTone t : degree_tones(chord)) {
    bits |= 1U << static_cast<unsigned>((chord.root.number() + semitones_over(t) + 12) % 12);
  }
  if (chord.bass && !chord.is_none()) bits |= 1U << static_cast<unsigned>(chord.bass->number());
  return static_cast<std::uint16_t>(bits);
}

namespace {

bool optional_degree(const ChordName& chord, const std::vector<DegreeTone>& all, DegreeTone tone) {
  if (tone.number == 1) return chord.kind != ChordKind::Power;
  if (tone.alter != 0) return false;
  if (tone.number == 5) return chord.kind != ChordKind::Power;
  const bool seventh = contains_number(all, 7);
  const bool has_13 = contains_number(all, 13);
  if (tone.number == 9) return seventh && (has_13 || contains_number(all, 11));
  if (tone.number == 11) return seventh && has_13;
  return false;
}

}  // namespace

bool may_be_left_out(const ChordName& chord, const ChordTone& tone) {
  if (!named_by_tones(chord.kind)) return false;
  const std::vector<DegreeTone> all = degree_tones(chord);
  if (optional_degree(chord, all, {tone.number, tone.alter})) return true;
  if (tone.number != 3) return false;
  const auto needed =
      std::count_if(all.begin(), all.end(), [&](DegreeTone t) { return !optional_degree(chord, all, t); });
  return needed > 4;
}

std::optional<ChordName> transposed(const ChordName& chord, Interval by) {
  if (chord.is_none()) return chord;
  ChordName out = chord;
  const std::optional<PitchClass> root = transpose(chord.root, by);
  if (!root) return std::nullopt;
  out.root = *root;
  if (chord.bass) {
    out.bass = transpose(*chord.bass, by);
    if (!out.bass) return std::nullopt;
  }
  return out;
}

ChordName transposed(const ChordName& chord, int semitones, const std::optional<Key>& into) {
  if (chord.is_none()) return chord;
  const auto named = [&](int number) {
    const int wanted = ((number % 12) + 12) % 12;
    return into ? spell_class(wanted, *into) : plain_spelling_class(wanted);
  };
  ChordName out = chord;
  out.root = named(chord.root.number() + semitones);
  if (chord.bass) {
    // The bass keeps its distance in letters from the root where that can be written: D/F# becomes Eb/G, not Eb/Abb.
    const std::optional<PitchClass> kept = transpose(out.root, between(chord.root, *chord.bass));
    out.bass = kept && std::abs(kept->alter) <= 1 ? *kept : named(chord.bass->number() + semitones);
  }
  return out;
}

std::string roman_numeral(const ChordName& chord, const Key& key, Accidentals how) {
  if (chord.is_none()) return print(chord, how);
  static const std::array<std::string_view, 7> kUpper{"I", "II", "III", "IV", "V", "VI", "VII"};
  static const std::array<std::string_view, 7> kLower{"i", "ii", "iii", "iv", "v", "vi", "vii"};
  const Degree place = degree(chord.root, key);
  const std::vector<DegreeTone> all = degree_tones(chord);
  const bool minor = has(all, {3, -1}) && !has(all, {3, 0});
  const std::size_t index = static_cast<std::size_t>(place.number - 1);
  std::string out = print(Degree{place.number, place.alter}, how);
  out.pop_back();
  out += minor ? kLower[index] : kUpper[index];
  ChordName plain = chord;
  plain.root = {Step::C, 0};
  plain.bass.reset();
  std::string suffix = print(plain, how).substr(1);
  const std::string half = how == Accidentals::Signs ? "m7♭5" : "m7b5";
  if (suffix.starts_with(half)) {
    suffix = "ø7" + suffix.substr(half.size());
  } else if (suffix.starts_with("dim")) {
    suffix = "°" + suffix.substr(3);
  } else if (minor && suffix.starts_with("m") && !suffix.starts_with("maj")) {
    suffix = suffix.substr(1);
  }
  out += suffix;
  if (chord.bass) out += "/" + print(degree(*chord.bass, key), how);
  return out;
}

}  // namespace tunesheaf::theory

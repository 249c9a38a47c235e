#include "naming_tables.h"

#include <bit>
#include <cstdlib>
#include <string>
#include <string_view>

#include "chord_tones.h"

namespace tunesheaf::theory {
namespace {

struct TemplateRow {
  std::string_view suffix;
  int rarity;
};

/// Formulas with how far they are from common: from 30 on another name over a foreign bass is the one that players use.
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
    TemplateRow{"7sus2", 34},
    TemplateRow{"maj7sus4", 11},
    TemplateRow{"maj7sus2", 34},
    TemplateRow{"sus2(add4)", 9},
    TemplateRow{"6sus4", 32},
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
    TemplateRow{"add9(no5)", 11},
    TemplateRow{"m(add9,no5)", 12},
    TemplateRow{"m(addb9)", 25},
    TemplateRow{"addb9", 25},
    TemplateRow{"m(addb6)", 30},
    TemplateRow{"9(no3)", 36},
};

/// Of a root's two spellings the one whose chord has fewer accidentals; of equals the plain one.
PitchClass plain_root(int root, const Template& t) {
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

std::uint16_t missing_cost(const Template& t, unsigned set) {
  int cost = 0;
  for (unsigned s = 0; s < 12; ++s) {
    if ((static_cast<unsigned>(t.full) >> s & 1U) == 0 || (set >> s & 1U) != 0) continue;
    switch (t.number[s]) {
      case 1:
        cost += 40;
        break;
      case 3:
        cost += 15;
        break;
      case 5:
        cost += 5;
        break;
      default:
        cost += 4;
        break;
    }
  }
  return static_cast<std::uint16_t>(cost);
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
      // A seventh over a suspension, the nine of six-nine: the name has them without saying "add".
      t.added = t.added || (d.change == DegreeChange::Add && print(t.on_c).find("add") != std::string::npos);
    }
    const std::vector<DegreeTone> all = degree_tones(t.on_c);
    const bool seventh = contains_number(all, 7);
    const bool sixth_ninth = contains_number(all, 6) && contains_number(all, 9);
    const bool dominant_sus = t.on_c.kind == ChordKind::SuspendedFourth && t.full >> 10U & 1U;
    t.robust = !t.left_out_by_name && ((contains_number(all, 3) && (seventh || sixth_ninth)) || dominant_sus);
    for (int root = 0; root < 12; ++root) t.plain_root[static_cast<std::size_t>(root)] = plain_root(root, t);
    out.push_back(std::move(t));
  }
  return out;
}

/// The sets that template `i` can stand for, with what they lack: in any order.
template <class F>
void readings_of(const Template& t, std::size_t i, F&& take) {
  const unsigned may_lack = t.full & ~static_cast<unsigned>(t.needed);
  const bool third = t.number[3] == 3 || t.number[4] == 3;
  for (unsigned lacks = may_lack;; lacks = (lacks - 1) & may_lack) {
    const unsigned set = t.full & ~lacks;
    // Only chords known by their third and seventh stay themselves without their fifth; of the others the names
    // with "no5" tell the truth. A root is guessed only under four tones or more, a suspension's never.
    const bool itself = t.robust || lacks == 0;
    const bool rooted = (set & 1U) != 0 || (std::popcount(set) >= 4 && third);
    if (set != 0 && itself && rooted) take(set, Reading{static_cast<std::uint16_t>(i), missing_cost(t, set)});
    if (lacks == 0) return;
  }
}

/// All readings one set behind the other, within a set in the order of the templates.
void sort_by_set(const std::vector<std::pair<unsigned, Reading>>& found, std::vector<Reading>& readings,
                 std::array<std::uint32_t, 4097>& first) {
  for (const auto& [set, reading] : found) ++first[set + 1];
  for (std::size_t set = 0; set < 4096; ++set) first[set + 1] += first[set];
  readings.resize(found.size());
  std::array<std::uint32_t, 4097> next = first;
  for (const auto& [set, reading] : found) readings[next[set]++] = reading;
}

NameTables build_tables() {
  NameTables out;
  out.templates = build_templates();
  std::vector<std::pair<unsigned, Reading>> all, whole;
  for (std::size_t i = 0; i < out.templates.size(); ++i) {
    const Template& t = out.templates[i];
    readings_of(t, i, [&](unsigned set, Reading reading) {
      all.emplace_back(set, reading);
      constexpr int kCommon = 8;  // rarity of what stands over a foreign bass
      if (set == t.full && t.tones.size() >= 3 && !t.left_out_by_name && t.rarity <= kCommon)
        whole.emplace_back(set, reading);
    });
  }
  sort_by_set(all, out.readings, out.first);
  sort_by_set(whole, out.whole, out.first_whole);
  return out;
}

}  // namespace

const NameTables& name_tables() {
  static const NameTables kTables = build_tables();
  return kTables;
}

}  // namespace tunesheaf::theory

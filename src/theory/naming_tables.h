// Formulas by the set of semitones they stand for. Built once. Private to theory.
#pragma once
#include <array>
#include <cstdint>
#include <span>
#include <vector>

#include "tunesheaf/theory/chord.h"

namespace tunesheaf::theory {

using Bits = std::uint16_t;

struct Template {
  ChordName on_c;
  std::vector<ChordTone> tones;             // on C
  std::array<int, 12> number{};             // degree number by semitone over the root; 0: none
  std::array<PitchClass, 12> plain_root{};  // spelling of each root without a key
  Bits full = 0, needed = 0;
  int rarity = 0;
  bool left_out_by_name = false;  // "no3", "no5"
  bool altered = false, added = false;
  bool robust = false;  // known by third and seventh, third, sixth and ninth, or as 7sus4
};

/// Bit of a semitone, octaves dropped.
inline Bits bit(int semitone) {
  const int within = semitone % 12;
  return static_cast<Bits>(1U << static_cast<unsigned>(within < 0 ? within + 12 : within));
}

/// A template that a set can stand for, and what its missing tones cost.
struct Reading {
  std::uint16_t shape = 0;  // template number
  std::uint16_t missing_cost = 0;
};

struct NameTables {
  std::vector<Template> templates;
  std::vector<Reading> readings;  // of all sets, one set behind the other
  std::vector<Reading> whole;     // of them those that explain their set fully and may stand over a foreign bass
  std::array<std::uint32_t, 4097> first{};  // by the set of semitones over the root: where its readings begin
  std::array<std::uint32_t, 4097> first_whole{};
  std::span<const Reading> of(Bits set) const {
    return {readings.data() + first[set], readings.data() + first[set + 1U]};
  }
  std::span<const Reading> whole_of(Bits set) const {
    return {whole.data() + first_whole[set], whole.data() + first_whole[set + 1U]};
  }
};
const NameTables& name_tables();

}  // namespace tunesheaf::theory

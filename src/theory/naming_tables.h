// Formulas by the set of semitones they stand for. Built once. Private to theory.
#pragma once
#include <array>
#include <cstdint>
#include <vector>

#include "tunesheaf/theory/chord.h"

namespace tunesheaf::theory {

using Bits = std::uint16_t;

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

/// Bit of a semitone, octaves dropped.
inline Bits bit(int semitone) {
  return static_cast<Bits>(1U << static_cast<unsigned>(((semitone % 12) + 12) % 12));
}

struct NameTables {
  std::vector<Template> templates;
  std::vector<std::vector<std::uint16_t>> by_set;  // template numbers by the set of semitones over the root
};
const NameTables& name_tables();

}  // namespace tunesheaf::theory

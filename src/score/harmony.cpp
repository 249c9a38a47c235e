// Where the chord or the shape changes, and what it is called there.
#include <algorithm>

#include "builder.h"

namespace tunesheaf::score {
namespace {

using check::ChordAt;
using check::InForce;

Harmony of_shape(const Builder& builder, const InForce& shape, int part) {
  Harmony harmony;
  harmony.at = {shape.bar, shape.onset};
  harmony.shape = shape.index;
  harmony.part = part;
  if (shape.cell) harmony.origin = shape.cell->span;
  if (shape.index >= 0) harmony.name = builder.out.shapes[static_cast<std::size_t>(shape.index)].ear;
  return harmony;
}

Harmony of_chord(const ChordAt& chord, int part) {
  Harmony harmony;
  harmony.at = {chord.bar, chord.onset};
  harmony.stated = chord.text;
  harmony.name = chord.name;
  harmony.none = chord.none;
  harmony.part = part;
  if (chord.cell) harmony.origin = chord.cell->span;
  return harmony;
}

/// An onset between two beats that is held over the next one (or over the bar line).
bool pushed(const check::CheckedBar& bar, Place at, const Harmony* next, int bar_index) {
  for (const theory::BarSpan& beat : bar.beats) {
    if (at.onset == beat.onset) return false;
    if (beat.onset < at.onset && at.onset < beat.end()) {
      if (!next) return true;
      if (next->at.bar == bar_index) return beat.end() < next->at.onset;
      return beat.end() < bar.length || next->at.bar > bar_index + 1 || Fraction(0) < next->at.onset;
    }
  }
  return false;
}

}  // namespace

void build_harmony(Builder& builder, const CheckedSection& from, Section& section) {
  std::vector<std::vector<Harmony>> rows;
  rows.emplace_back();
  for (const ChordAt& chord : from.chart.chords) rows.back().push_back(of_chord(chord, -1));
  for (std::size_t p = 0; p < from.parts.size(); ++p) {
    const CheckedMusic& music = from.parts[p];
    std::vector<Harmony> row;
    int last = -1;
    int ending = -1;
    for (const InForce& shape : music.shapes) {
      const int now = from.bars[static_cast<std::size_t>(shape.bar)].ending;
      const bool again = shape.index == last && now == ending;
      last = shape.index;
      ending = now;
      if (again || (shape.index < 0 && !shape.cell) || music.shapes_by_chord) continue;
      if (shape.index >= 0) row.push_back(of_shape(builder, shape, static_cast<int>(p)));
    }
    for (const ChordAt& chord : music.chords) row.push_back(of_chord(chord, static_cast<int>(p)));
    std::stable_sort(row.begin(), row.end(), [](const Harmony& a, const Harmony& b) { return a.at < b.at; });
    rows.push_back(std::move(row));
  }
  // A chord that the chart (or the part) states where a shape begins is that shape's name: one entry holds both.
  const auto join = [&](std::vector<Harmony>& chords, std::vector<Harmony>& shapes) {
    for (Harmony& shape : shapes) {
      if (shape.shape < 0 || !shape.stated.empty()) continue;
      auto chord = std::lower_bound(chords.begin(), chords.end(), shape.at,
                                    [](const Harmony& h, const Place& at) { return h.at < at; });
      for (; chord != chords.end() && chord->at == shape.at; ++chord) {
        if (chord->stated.empty() || chord->shape >= 0) continue;
        shape.stated = chord->stated;
        shape.name = chord->name;
        shape.chart = chord->part < 0;
        chord->stated.clear();
        chord->none = false;
        break;
      }
    }
    std::erase_if(chords, [](const Harmony& h) { return h.shape < 0 && h.stated.empty() && !h.none; });
  };
  for (std::size_t i = 1; i < rows.size(); ++i) join(rows[i], rows[i]);
  for (std::size_t i = 1; i < rows.size(); ++i)
    if (!rows[i].empty() && !rows[0].empty()) {
      join(rows[0], rows[i]);
      break;
    }
  // Chords that a part without a shape lane looks up among the shapes.
  for (Harmony& chord : rows[0])
    for (const CheckedMusic& music : from.parts) {
      if (!music.shapes_by_chord || chord.none) continue;
      const int shape = music.shape_at(chord.at.bar, chord.at.onset);
      if (shape >= 0 && chord.shape < 0) chord.shape = shape;
    }
  for (auto& row : rows)
    for (std::size_t i = 0; i < row.size(); ++i) {
      const Harmony* next = i + 1 < row.size() ? &row[i + 1] : nullptr;
      row[i].push = pushed(from.bars[static_cast<std::size_t>(row[i].at.bar)], row[i].at, next, row[i].at.bar);
    }
  for (auto& row : rows)
    for (Harmony& harmony : row) section.harmony.push_back(std::move(harmony));
  std::stable_sort(section.harmony.begin(), section.harmony.end(),
                   [](const Harmony& a, const Harmony& b) { return a.at < b.at; });
}

}  // namespace tunesheaf::score

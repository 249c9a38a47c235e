// Parts that are read at another pitch than the page has: transposing instruments, capos, and parts beside a capo.
#include <cstdlib>

#include "builder.h"

namespace tunesheaf::score {
namespace {

using theory::Interval;
using theory::Key;

/// Page pitch to staff pitch by the usual names: up to concert by the page's capo, down by the part's own, then the
/// instrument's or the stated transposition.
Interval usual_way(const CheckedData& song, const CheckedPart& part) {
  const int own = part.capo.full() ? part.capo.fret : 0;
  Interval way = theory::usual_interval(song.page_capo - own);
  if (part.def->transposes) {
    way.steps += part.def->transposes->value.steps;
    way.semitones += part.def->transposes->value.semitones;
  } else {
    way.steps -= part.instrument.sounds.steps;
    way.semitones -= part.instrument.sounds.semitones;
  }
  return way;
}

/// The interval of `semitones` that leads from one tonic to another.
Interval tonic_way(theory::PitchClass from, theory::PitchClass to, int semitones) {
  const Interval up = theory::between(from, to);
  const int octaves = (semitones - up.semitones) / 12;
  return {up.steps + 7 * octaves, semitones};
}

}  // namespace

StaffKey staff_key_of(const CheckedData& song, const CheckedPart& part, const std::optional<Key>& page) {
  StaffKey out;
  out.key = page.value_or(Key{});
  if (part.drums()) return out;
  out.from_page = usual_way(song, part);
  // Without a key there is no signature to move.
  if (!page || out.from_page.semitones % 12 == 0) return out;
  if (const auto tonic = theory::transpose(page->tonic, out.from_page)) {
    out.key.tonic = *tonic;
    const auto twin = theory::enharmonic(out.key);
    if (twin && std::abs(twin->fifths()) < std::abs(out.key.fifths())) out.key = *twin;
  } else {
    out.key = theory::transposed(*page, out.from_page.semitones);
  }
  out.from_page = tonic_way(page->tonic, out.key.tonic, out.from_page.semitones);
  return out;
}

std::vector<StaffKey> staff_keys(const CheckedData& song, const CheckedPart& part, const CheckedSection& section) {
  if (part.drums() || usual_way(song, part) == Interval{}) return {};
  std::vector<StaffKey> out;
  out.reserve(section.bars.size());
  for (const check::CheckedBar& bar : section.bars) {
    const bool same = !out.empty() && bar.key == section.bars[out.size() - 1].key;
    out.push_back(same ? out.back() : staff_key_of(song, part, bar.key));
  }
  return out;
}

theory::Pitch on_staff(theory::Pitch page, const StaffKey& staff) {
  if (staff.from_page == Interval{}) return page;
  const auto moved = theory::transpose(page, staff.from_page);
  if (moved && (std::abs(moved->name.alter) < 2 || std::abs(page.name.alter) > 1)) return *moved;
  return theory::spell(page.midi() + staff.from_page.semitones, staff.key);
}

StaffKey staff_key(const Section& section, const PartMusic& music, std::size_t bar) {
  return music.keys.empty() ? StaffKey{section.bars[bar].key, {}} : music.keys[bar];
}

}  // namespace tunesheaf::score

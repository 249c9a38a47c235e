// What the song says of its harmony although it could be computed: the song's key, and the chart's chords over the
// shapes that are played under them.
#include <algorithm>

#include "context.h"
#include "tunesheaf/theory/naming.h"

namespace tunesheaf::check {
namespace {

using theory::ChordName;
using theory::Key;

constexpr std::size_t kFewestChords = 4;

/// Different chords stated or computed, in the order of the song.
std::vector<ChordName> chords_of(const Context& context) {
  std::vector<ChordName> out;
  const auto add = [&](const ChordName& name) {
    if (std::find(out.begin(), out.end(), name) == out.end()) out.push_back(name);
  };
  for (const CheckedSection& section : context.data.sections) {
    if (section.def->key) continue;
    for (const ChordAt& chord : section.chart.chords)
      if (chord.name) add(*chord.name);
    for (const CheckedMusic& music : section.parts) {
      for (const InForce& shape : music.shapes) {
        if (shape.index < 0) continue;
        const CheckedShape& used = context.data.shapes[static_cast<std::size_t>(shape.index)];
        if (used.computed) add(*used.computed);
      }
    }
  }
  return out;
}

unsigned bits_of(const Key& key) {
  unsigned bits = 0;
  for (const theory::PitchClass note : key.scale()) bits |= 1U << static_cast<unsigned>(note.number());
  return bits;
}

std::size_t chords_within(const std::vector<ChordName>& chords, unsigned scale) {
  return static_cast<std::size_t>(std::count_if(
      chords.begin(), chords.end(), [&](const ChordName& chord) { return (theory::tone_bits(chord) & ~scale) == 0; }));
}

const InForce* shape_starting(const CheckedMusic& music, const ChordAt& chord) {
  for (const InForce& shape : music.shapes) {
    if (shape.bar == chord.bar && shape.onset == chord.onset && shape.index >= 0 && shape.cell != nullptr) {
      return &shape;
    }
  }
  return nullptr;
}

void compare(Context& context, const CheckedSection& section, const ChordAt& chord, const InForce& held) {
  const CheckedShape& shape = context.data.shapes[static_cast<std::size_t>(held.index)];
  if (shape.midi.empty() || chord.cell == nullptr) return;
  if (shape.ear && *shape.ear == *chord.name) return;
  std::vector<int> page = shape.midi;
  for (int& key : page) key -= context.data.page_capo;
  ChordName plain = *chord.name;
  plain.bass.reset();  // another instrument may play it
  const auto found = theory::check_claim(plain, page, {context.data.key, {}});
  // A player may leave tones to others, or add colour; both at once is another chord.
  if (found.foreign.empty() || found.absent.empty()) return;
  std::string sounds, missing;
  for (const theory::Pitch& pitch : theory::spell_all(page, *chord.name, context.data.key))
    sounds += (sounds.empty() ? "" : " ") + theory::print(pitch.name);
  for (const auto& tone : found.absent) missing += (missing.empty() ? "no " : ", no ") + theory::print(tone.pitch);
  context.say_both(Kind::ClaimDiffers, chord.cell->span, "stated", held.cell->span, "played under it",
                   "the chart of " + diag::quoted(section.def->name.value) + " says " + diag::quoted(chord.text) +
                       " where the shape " + diag::quoted(shape.def->name.value) + " is held",
                   "you wrote " + theory::print(*chord.name) + "; the shape sounds " + sounds + "; " + missing,
                   shape.computed ? "what sounds is called " + theory::print(*shape.computed) +
                                        "; mend the chord or the shape, or leave the chord to the shape"
                                  : "mend the chord or the shape");
}

}  // namespace

/// Only where the stated key holds few of the chords and another holds them all: music may leave its key.
void check_song_key(Context& context) {
  if (!context.data.key || !context.song.key) return;
  const std::vector<ChordName> chords = chords_of(context);
  if (chords.size() < kFewestChords) return;
  const std::size_t within = chords_within(chords, bits_of(*context.data.key));
  if (within * 3 > chords.size()) return;
  for (int up = 1; up < 12; ++up) {
    const Key other = theory::transposed(*context.data.key, up);
    if (chords_within(chords, bits_of(other)) < chords.size()) continue;
    std::string names;
    for (const ChordName& chord : chords) names += (names.empty() ? "" : " ") + theory::print(chord);
    context.say(Kind::ClaimDiffers, context.song.key->span,
                "the song is said to be in " + theory::print(*context.data.key) + ", and its chords are those of " +
                    theory::print(other),
                std::to_string(within) + " of " + std::to_string(chords.size()) +
                    " chords lie in the stated key; they are " + names,
                "mend `key`: it is the page's key, with the first fretted part's capo off");
    return;
  }
}

void check_chart(Context& context) {
  for (const CheckedSection& section : context.data.sections) {
    for (const ChordAt& chord : section.chart.chords) {
      if (!chord.name) continue;
      for (const CheckedMusic& music : section.parts) {
        if (music.shapes_by_chord) continue;
        if (const InForce* held = shape_starting(music, chord)) compare(context, section, chord, *held);
      }
    }
  }
}

}  // namespace tunesheaf::check

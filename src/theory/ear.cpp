#include "tunesheaf/theory/ear.h"

#include <algorithm>
#include <cstdlib>

namespace tunesheaf::theory {
namespace {

std::optional<Degree> degree_over(const ChordName& name, Pitch pitch) {
  for (const ChordTone& tone : tones(name)) {
    if (tone.pitch.number() == pitch.name.number()) return Degree{tone.number, tone.alter};
  }
  const Interval over = between(name.root, pitch.name);
  return Degree{over.steps + 1, over.deviation()};
}

std::vector<DoubledTone> doubled_of(const std::vector<EarNote>& notes) {
  std::vector<DoubledTone> all;
  for (const EarNote& note : notes) {
    const auto same = std::find_if(all.begin(), all.end(),
                                   [&](const DoubledTone& d) { return d.pitch.number() == note.pitch.name.number(); });
    if (same == all.end())
      all.push_back({note.pitch.name, 1});
    else
      ++same->times;
  }
  std::erase_if(all, [](const DoubledTone& d) { return d.times < 2; });
  return all;
}

/// Where no chord and no key spells the notes, they are spelled as the usual intervals over the lowest.
void spell_over(Pitch lowest, std::vector<Pitch>& notes) {
  for (Pitch& note : notes) {
    const int over = (note.midi() - lowest.midi()) % 12;
    if (over == 6) continue;  // either name will do
    const std::optional<PitchClass> name = transpose(lowest.name, usual_interval(over));
    if (name && std::abs(name->alter) <= 1) note = with_name(note.midi(), *name);
  }
}

}  // namespace

Ear hear(const Tuning& tuning, const Capo& capo, const Shape& shape, const NamingContext& context) {
  Ear out;
  const std::vector<SoundingString> strings = sounding(tuning, capo, shape);
  std::vector<int> midi;
  for (const SoundingString& s : strings) midi.insert(midi.end(), s.midi.begin(), s.midi.end());
  if (midi.empty()) return out;
  out.names = name_candidates(midi, context);
  out.over_lowest = intervals_over_bass(midi);
  std::optional<ChordName> first;
  if (!out.names.empty()) {
    first = out.names.front().name;
    out.missing = out.names.front().missing;
  }
  std::vector<Pitch> spelled = spell_all(midi, first, context.key);
  const Pitch lowest = *std::min_element(spelled.begin(), spelled.end(),
                                         [](const Pitch& a, const Pitch& b) { return a.midi() < b.midi(); });
  if (!first && !context.key) spell_over(lowest, spelled);
  std::size_t next = 0;
  for (const SoundingString& s : strings) {
    for (std::size_t i = 0; i < s.midi.size(); ++i) {
      EarNote note;
      note.string = s.string;
      note.fret = s.fret;
      note.pitch = spelled[next++];
      if (first) note.degree = degree_over(*first, note.pitch);
      note.over_lowest = between(lowest, note.pitch);
      out.notes.push_back(note);
    }
  }
  out.doubled = doubled_of(out.notes);
  return out;
}

}  // namespace tunesheaf::theory

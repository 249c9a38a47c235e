// What marks and words make of the notes beneath them: where a glissando leads, strings that slap the neck, strokes of
// tremolo picking, breaths.
#include <algorithm>

#include "builder.h"

namespace tunesheaf::score {
namespace {

/// The events of a part that begin in its section, each once, in order of time.
std::vector<int> beginnings(const Builder& builder, const PartMusic& music) {
  std::vector<int> out;
  for (const Voice& voice : music.voices)
    for (const auto& bar : voice.bars)
      for (const Segment& segment : bar)
        if (segment.event >= 0 && !segment.rest && !segment.tied_from) out.push_back(segment.event);
  const auto at = [&](int id) { return builder.out.events[static_cast<std::size_t>(id)].at; };
  std::stable_sort(out.begin(), out.end(), [&](int a, int b) { return at(a) < at(b); });
  out.erase(std::unique(out.begin(), out.end()), out.end());
  return out;
}

/// From the first note under the span to the last, or to the one that begins where it ends.
void glissando(Builder& builder, const Mark& mark, const std::vector<int>& events) {
  int first = -1, last = -1, after = -1;
  for (const int id : events) {
    const Event& e = builder.out.events[static_cast<std::size_t>(id)];
    if (e.kind != EventKind::Notes) continue;
    const bool under = e.at >= mark.from && e.at < mark.to;
    if (under && first < 0) first = id;
    if (under) last = id;
    if (e.at == mark.to && after < 0) after = id;
  }
  if (last == first && after >= 0) last = after;
  if (first >= 0 && last != first) builder.out.events[static_cast<std::size_t>(first)].glides_to = last;
}

/// Calls f with each event that begins under the mark.
template <class F>
void each_under(Builder& builder, const Mark& mark, const std::vector<int>& events, F&& f) {
  for (const int id : events) {
    Event& e = builder.out.events[static_cast<std::size_t>(id)];
    if (e.at >= mark.from && e.at < mark.to) f(e);
  }
}

/// A breath, or a break, takes a sixteenth from the note before it, and a quarter of a short one.
void breath(Builder& builder, const CheckedSection& section, Place at, const std::vector<int>& events) {
  constexpr int kMost = 16, kShare = 4;
  const std::vector<Fraction> starts = bar_starts(section);
  const Fraction place = starts[static_cast<std::size_t>(at.bar)] + at.onset;
  for (const int id : events) {
    Event& e = builder.out.events[static_cast<std::size_t>(id)];
    const Fraction begin = starts[static_cast<std::size_t>(e.at.bar)] + e.at.onset;
    if (e.kind == EventKind::Rest || begin + e.duration != place) continue;
    e.breath = true;
    const Fraction taken = base::min(Fraction(1, kMost), e.duration / Fraction(kShare));
    for (Note& note : e.notes) note.sounding_duration = base::min(note.sounding_duration, e.duration - taken);
  }
}

bool is_breath(const Word& word) {
  return word.kind == WordKind::Hold && (word.text == "breath" || word.text == "caesura");
}

}  // namespace

void sound_marks(Builder& builder, const CheckedSection& section, PartMusic& music) {
  const std::vector<Word>& shared = builder.out.sections.back().words;
  const bool breaths = std::any_of(music.words.begin(), music.words.end(), is_breath) ||
                       std::any_of(shared.begin(), shared.end(), is_breath);
  const bool marks = std::any_of(music.marks.begin(), music.marks.end(), [](const Mark& mark) {
    return mark.kind == "glissando" || mark.kind == "snap pizzicato" || mark.kind == "tremolo picking";
  });
  for (const Mark& mark : music.marks)
    if (mark.kind == "body tap") music.taps.push_back({mark.from, {}, mark.origin});
  if (!breaths && !marks) return;
  const std::vector<int> events = beginnings(builder, music);
  for (const Mark& mark : music.marks) {
    if (mark.kind == "glissando") glissando(builder, mark, events);
    if (mark.kind == "snap pizzicato")
      each_under(builder, mark, events, [](Event& e) { e.snap = e.snap || e.kind == EventKind::Notes; });
    if (mark.kind == "tremolo picking") each_under(builder, mark, events, [](Event& e) { e.picked_over = true; });
  }
  for (const std::vector<Word>* words : {&shared, static_cast<const std::vector<Word>*>(&music.words)})
    for (const Word& word : *words)
      if (is_breath(word)) breath(builder, section, word.at, events);
}

}  // namespace tunesheaf::score

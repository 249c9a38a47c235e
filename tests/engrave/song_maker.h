// Timelines for tests, made by hand. In: meter, key, bars, parts, events at onsets. Out: a Timeline of one section
// whose voices fill their bars: gaps become rests, and what runs over a bar line becomes tied segments.
#pragma once
#include <algorithm>
#include <map>
#include <stdexcept>
#include <string>
#include <utility>
#include <vector>

#include "tunesheaf/score/timeline.h"
#include "tunesheaf/theory/key.h"
#include "tunesheaf/theory/meter.h"
#include "tunesheaf/theory/tuning.h"

namespace tunesheaf::test {

using base::Fraction;

class SongMaker {
 public:
  SongMaker(const std::string& meter, const std::string& key, int bars) {
    timeline.meter = *theory::parse_meter(meter);
    timeline.key = *theory::parse_key(key);
    timeline.sections.emplace_back();
    section().name.value = "air";
    section().letter = "A";
    for (int b = 0; b < bars; ++b) {
      score::Bar bar;
      bar.meter = timeline.meter;
      bar.key = *timeline.key;
      bar.length = timeline.meter.bar_length();
      bar.number = b + 1;
      bar.show_meter = bar.show_key = b == 0;
      bar.origin = {0, static_cast<std::uint32_t>(b * 100), static_cast<std::uint32_t>(b * 100 + 90)};
      section().bars.push_back(bar);
    }
    if (bars > 0) section().bars.back().end = score::BarLine::Final;
  }

  score::Section& section() { return timeline.sections.front(); }
  score::Bar& bar(int index) { return section().bars[static_cast<std::size_t>(index)]; }
  score::PartMusic& music(int part) { return section().parts[static_cast<std::size_t>(part)]; }

  int part(const std::string& name, const std::string& clef, int octave_shift, const std::string& tuning = "") {
    score::Part p;
    p.name.value = name;
    p.short_name = name.substr(0, 3) + ".";
    p.clef = clef;
    p.octave_shift = octave_shift;
    if (!tuning.empty()) {
      p.tuning = *theory::parse_tuning_notes(tuning);
      p.tab = true;
    }
    timeline.parts.push_back(p);
    section().parts.emplace_back();
    section().parts.back().part = static_cast<int>(timeline.parts.size()) - 1;
    return static_cast<int>(timeline.parts.size()) - 1;
  }
  int guitar() { return part("guitar", "treble 8vb", 1, "E2 A2 D3 G3 B3 E4"); }
  int drums() {
    const int index = part("drum kit", "percussion", 0);
    timeline.parts.back().kit = {{"hat", theory::drum_place("hat")},
                                 {"snare", theory::drum_place("snare")},
                                 {"kick", theory::drum_place("kick")}};
    return index;
  }

  score::Note fretted(int part, int string, int fret) const {
    score::Note note;
    note.string = string;
    note.fret = fret;
    note.midi = timeline.parts[static_cast<std::size_t>(part)].tuning.string(string).midi() + fret;
    note.written = theory::spell(note.midi, timeline.key);
    return note;
  }
  score::Note pitched(const std::string& name) const {
    score::Note note;
    note.written = *theory::parse_pitch(name);
    note.midi = note.written.midi();
    return note;
  }
  score::Note drum(int index) const {
    score::Note note;
    note.drum = index;
    return note;
  }

  /// Onset in whole notes from the beginning of the section.
  score::Event& event(int part, int voice, Fraction onset, Fraction duration, std::vector<score::Note> notes,
                      int staff = 0) {
    score::Event e;
    e.id = static_cast<int>(timeline.events.size());
    e.duration = duration;
    e.notes = std::move(notes);
    e.at = place(onset);
    e.origin = {0, static_cast<std::uint32_t>(10000 + e.id * 10), static_cast<std::uint32_t>(10000 + e.id * 10 + 8)};
    timeline.events.push_back(e);
    placed_[{part, voice, staff}].push_back({onset, e.id});
    return timeline.events.back();
  }
  score::Event& last() { return timeline.events.back(); }

  score::Place place(Fraction onset) const {
    int b = 0;
    const auto& bars = timeline.sections.front().bars;
    while (b + 1 < static_cast<int>(bars.size()) && onset >= bars[static_cast<std::size_t>(b)].length) {
      onset -= bars[static_cast<std::size_t>(b)].length;
      ++b;
    }
    return {b, onset};
  }

  void harmony(Fraction onset, const std::string& name) {
    score::Harmony h;
    h.at = place(onset);
    h.stated = name;
    section().harmony.push_back(h);
  }
  void word(std::vector<score::Word>& words, score::WordKind kind, Fraction onset, const std::string& text) {
    score::Word w;
    w.kind = kind;
    w.at = place(onset);
    w.text = text;
    words.push_back(w);
  }

  /// Fills the voices; call once, when all events are there.
  score::Timeline& finish() {
    for (auto& [key, events] : placed_) {
      const auto [part, number, staff] = key;
      score::Voice voice;
      voice.number = number;
      voice.staff = staff;
      std::sort(events.begin(), events.end());
      Fraction bar_start;
      for (const score::Bar& bar : section().bars) {
        voice.bars.push_back(fill(events, bar_start, bar_start + bar.length));
        bar_start += bar.length;
      }
      music(part).voices.push_back(voice);
    }
    return timeline;
  }

  score::Timeline timeline;

 private:
  std::vector<score::Segment> fill(const std::vector<std::pair<Fraction, int>>& events, Fraction begin, Fraction end) {
    std::vector<score::Segment> segments;
    Fraction at = begin;
    for (const auto& [onset, id] : events) {
      const Fraction stop = onset + timeline.events[static_cast<std::size_t>(id)].duration;
      if (stop <= begin || onset >= end) continue;
      const Fraction from = max(onset, begin), to = min(stop, end);
      if (from < at) throw std::logic_error("events of one voice overlap");
      if (from > at) segments.push_back({-1, at - begin, from - at, true, false, false});
      segments.push_back({id, from - begin, to - from, false, onset<begin, stop> end});
      at = to;
    }
    if (at < end) segments.push_back({-1, at - begin, end - at, true, false, false});
    return segments;
  }

  std::map<std::tuple<int, int, int>, std::vector<std::pair<Fraction, int>>> placed_;
};

}  // namespace tunesheaf::test

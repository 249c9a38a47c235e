// What the Timeline holds against what was heard. In: a song. Out: a failure for each bar that was heard otherwise.
#pragma once
#include <gtest/gtest.h>

#include <string>
#include <vector>

#include "aloud/listener.h"
#include "tunesheaf/aloud/print.h"
#include "tunesheaf/aloud/words.h"

namespace tunesheaf::test {

/// A stroke over a shape sounds the shape's strings; a muted one, or one over nothing, is an onset alone.
inline std::vector<Heard> notes_of(const score::Event& event, const score::Part& part) {
  std::vector<Heard> out;
  const bool stroke = event.kind == score::EventKind::Slash;
  if (stroke && (event.shape < 0 || event.muted)) return {{event.at.onset, 0, 0, 0, "stroke"}};
  for (const score::Note& note : event.notes) {
    Heard heard{event.at.onset, note.string, note.fret, stroke ? 0 : static_cast<int>(note.finger), ""};
    if (note.drum >= 0) {
      heard = {event.at.onset, 0, 0, 0,
               aloud::capital(aloud::drum_words(part.kit[static_cast<std::size_t>(note.drum)].name))};
    } else if (note.string == 0) {
      heard.finger = 0;
      heard.what = note.dead ? "dead" : theory::print(note.written);
    } else if (note.dead && !stroke) {
      heard.fret = 0;
      heard.what = "dead";
    }
    out.push_back(heard);
  }
  return out;
}

inline HeardBars written(const score::Timeline& song) {
  HeardBars out;
  for (const score::Section& section : song.sections) {
    for (const score::PartMusic& music : section.parts) {
      const score::Part& part = song.parts[static_cast<std::size_t>(music.part)];
      for (const score::Voice& voice : music.voices) {
        for (std::size_t b = 0; b < voice.bars.size(); ++b) {
          auto& bar = out[{heading(section), aloud::capital(aloud::plain(part.name.value)), section.bars[b].number}];
          for (const score::Segment& segment : voice.bars[b]) {
            if (segment.event < 0 || segment.rest) continue;
            const score::Event& event = song.events[static_cast<std::size_t>(segment.event)];
            if (event.at.bar != static_cast<int>(b) || event.at.onset != segment.onset) continue;
            for (const Heard& note : notes_of(event, part)) bar.insert(note);
          }
        }
      }
    }
  }
  return out;
}

inline std::string listed(const std::multiset<Heard>& notes) {
  std::string out;
  for (const Heard& note : notes) out += "  " + note.text() + "\n";
  return out;
}

/// How many notes there were to hear.
inline std::size_t expect_heard(const score::Timeline& song) {
  const std::string text = aloud::to_text(aloud::read(song, {}));
  const HeardBars heard = Listener(song).listen(text);
  const HeardBars expected = written(song);
  std::size_t notes = 0;
  for (const auto& [key, bar] : expected) {
    const auto found = heard.find(key);
    const auto& [section, part, number] = key;
    const std::string where = section + ", " + part + ", bar " + std::to_string(number);
    if (bar.empty() && found == heard.end()) continue;
    EXPECT_TRUE(found != heard.end()) << where << " was not heard";
    if (found == heard.end()) continue;
    EXPECT_TRUE(found->second == bar) << where << "\nwritten:\n" << listed(bar) << "heard:\n" << listed(found->second);
    notes += bar.size();
  }
  for (const auto& [key, bar] : heard) EXPECT_TRUE(expected.count(key) > 0 || bar.empty()) << std::get<0>(key);
  return notes;
}

}  // namespace tunesheaf::test

// The reading is heard by one who sees nothing, and compared with the Timeline: every onset, string, fret and finger,
// every pitch, every drum.
#include <gtest/gtest.h>

#include "aloud/listener.h"
#include "score/support.h"
#include "tunesheaf/aloud/print.h"
#include "tunesheaf/aloud/words.h"

namespace tunesheaf::aloud {
namespace {

using test::Heard;
using test::HeardBars;

/// A stroke over a shape sounds the shape's strings; a muted one, or one over nothing, is an onset alone.
std::vector<Heard> notes_of(const score::Event& event, const score::Part& part) {
  std::vector<Heard> out;
  const bool stroke = event.kind == score::EventKind::Slash;
  if (stroke && (event.shape < 0 || event.muted)) return {{event.at.onset, 0, 0, 0, "stroke"}};
  for (const score::Note& note : event.notes) {
    Heard heard{event.at.onset, note.string, note.fret, stroke ? 0 : static_cast<int>(note.finger), ""};
    if (note.drum >= 0) {
      heard = {event.at.onset, 0, 0, 0, capital(drum_words(part.kit[static_cast<std::size_t>(note.drum)].name))};
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

HeardBars written(const score::Timeline& song) {
  HeardBars out;
  for (const score::Section& section : song.sections) {
    for (const score::PartMusic& music : section.parts) {
      const score::Part& part = song.parts[static_cast<std::size_t>(music.part)];
      for (const score::Voice& voice : music.voices) {
        for (std::size_t b = 0; b < voice.bars.size(); ++b) {
          auto& bar = out[{test::heading(section), capital(plain(part.name.value)), section.bars[b].number}];
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

std::string listed(const std::multiset<Heard>& notes) {
  std::string out;
  for (const Heard& note : notes) out += "  " + note.text() + "\n";
  return out;
}

void expect_heard(const score::Timeline& song) {
  const std::string text = to_text(read(song, {}));
  const HeardBars heard = test::Listener(song).listen(text);
  const HeardBars expected = written(song);
  std::size_t notes = 0;
  for (const auto& [key, bar] : expected) {
    const auto found = heard.find(key);
    const auto& [section, part, number] = key;
    const std::string where = section + ", " + part + ", bar " + std::to_string(number);
    if (bar.empty() && found == heard.end()) continue;
    ASSERT_TRUE(found != heard.end()) << where << " was not heard";
    EXPECT_TRUE(found->second == bar) << where << "\nwritten:\n" << listed(bar) << "heard:\n" << listed(found->second);
    notes += bar.size();
  }
  for (const auto& [key, bar] : heard) EXPECT_TRUE(expected.count(key) > 0 || bar.empty()) << std::get<0>(key);
  EXPECT_GT(notes, 0U);
}

class ReadBack : public testing::TestWithParam<std::filesystem::path> {};

TEST_P(ReadBack, EveryOnsetStringFretAndFingerIsHeard) {
  const score::Built built = score::build_file(GetParam());
  ASSERT_TRUE(built.timeline) << built.findings();
  expect_heard(*built.timeline);
}

INSTANTIATE_TEST_SUITE_P(Demo, ReadBack, testing::ValuesIn(score::songs_in("songs-demo")), score::test_name);
INSTANTIATE_TEST_SUITE_P(Small, ReadBack, testing::ValuesIn(score::songs_in("tests/golden/aloud")), score::test_name);
INSTANTIATE_TEST_SUITE_P(Signs, ReadBack, testing::ValuesIn(score::songs_in("tests/songs")), score::test_name);

}  // namespace
}  // namespace tunesheaf::aloud

// Timelines of small songs, each compared with its golden; what must hold of every Timeline is checked on all of them
// and on the demo songs.
#include <gtest/gtest.h>

#include <map>
#include <set>

#include "score/support.h"
#include "support/golden.h"
#include "tunesheaf/score/page_pitch.h"

namespace tunesheaf::score {

// A song of 10,000 bars has a quarter of a million of them.
static_assert(sizeof(Event) <= 64 && sizeof(Note) <= 48 && sizeof(Segment) <= 24);

namespace {

namespace fs = std::filesystem;

std::vector<fs::path> golden_songs() {
  return songs_in("tests/golden/timeline");
}
std::vector<fs::path> all_songs() {
  std::vector<fs::path> songs = golden_songs();
  for (fs::path& path : songs_in("songs-demo")) songs.push_back(std::move(path));
  return songs;
}

class Golden : public testing::TestWithParam<fs::path> {};

TEST_P(Golden, IsTheTimeline) {
  const Built built = build_file(GetParam());
  ASSERT_TRUE(built.timeline) << built.findings();
  support::expect_golden("timeline/" + GetParam().stem().string() + ".timeline", print(*built.timeline));
}

TEST_P(Golden, ChecksWithoutWarnings) {
  const Built built = build_file(GetParam());
  EXPECT_EQ(built.sink.errors(), 0u) << built.findings();
  EXPECT_EQ(built.sink.warnings(), 0u) << built.findings();
}

INSTANTIATE_TEST_SUITE_P(Songs, Golden, testing::ValuesIn(golden_songs()), test_name);

class EverySong : public testing::TestWithParam<fs::path> {
 protected:
  void SetUp() override {
    built_ = build_file(GetParam());
    ASSERT_TRUE(built_.timeline) << built_.findings();
  }
  const Timeline& timeline() const { return *built_.timeline; }
  const check::CheckedData& checked() const { return **built_.checked; }
  template <class F>
  void each_segment(F&& f) const {
    for (const Section& section : timeline().sections)
      for (const PartMusic& music : section.parts)
        for (const Voice& voice : music.voices)
          for (std::size_t b = 0; b < voice.bars.size(); ++b)
            for (const Segment& segment : voice.bars[b]) f(section, voice, b, segment);
  }
  Built built_;
};

TEST_P(EverySong, SegmentsFillEachBarExactly) {
  for (const Section& section : timeline().sections)
    for (const PartMusic& music : section.parts)
      for (const Voice& voice : music.voices) {
        ASSERT_EQ(voice.bars.size(), section.bars.size());
        for (std::size_t b = 0; b < voice.bars.size(); ++b) {
          Fraction at;
          for (const Segment& segment : voice.bars[b]) {
            EXPECT_EQ(segment.onset, at) << section.name.value << " bar " << b + 1;
            EXPECT_LT(Fraction(0), segment.duration);
            at += segment.duration;
          }
          EXPECT_EQ(at, section.bars[b].length) << section.name.value << " bar " << b + 1;
        }
      }
}

TEST_P(EverySong, AnEventsSegmentsHaveItsDuration) {
  std::map<int, Fraction> sums;
  each_segment([&](const Section&, const Voice&, std::size_t, const Segment& s) {
    if (s.event >= 0) sums[s.event] += s.duration;
  });
  ASSERT_EQ(sums.size(), timeline().events.size());
  for (std::size_t i = 0; i < timeline().events.size(); ++i) {
    const Event& event = timeline().events[i];
    EXPECT_EQ(event.id, static_cast<int>(i));
    EXPECT_EQ(sums[event.id], event.duration) << "event " << i;
  }
}

/// Every struck cell is found in the events of its part: as an event's own place or as one of its notes'.
TEST_P(EverySong, EveryStruckCellIsInOneEvent) {
  for (const Section& section : timeline().sections) {
    const check::CheckedSection* source = nullptr;
    for (const auto& s : checked().sections)
      if (s.def->name.value == section.name.value) source = &s;
    ASSERT_NE(source, nullptr);
    for (std::size_t p = 0; p < section.parts.size(); ++p) {
      std::map<std::tuple<int, Fraction, source::Span>, std::set<int>> found;
      for (const Voice& voice : section.parts[p].voices)
        for (const auto& bar : voice.bars)
          for (const Segment& segment : bar) {
            if (segment.event < 0 || segment.rest) continue;
            const Event& e = timeline().events[static_cast<std::size_t>(segment.event)];
            found[{e.at.bar, e.at.onset, e.origin}].insert(e.id);
            for (const Note& note : e.notes) found[{e.at.bar, e.at.onset, note.origin}].insert(e.id);
          }
      for (const auto& lane : source->parts[p].lanes)
        for (const auto& cell : lane.cells) {
          const auto& content = cell.cell->content;
          const auto* sign = std::get_if<song::StringSign>(&content);
          const bool struck = (sign && !sign->continues) || std::holds_alternative<song::StrumSign>(content) ||
                              std::holds_alternative<song::PitchSign>(content) ||
                              std::holds_alternative<song::DrumSign>(content);
          if (!struck || lane.kind == song::LaneKind::Hits) continue;
          const auto at = found.find({cell.bar, cell.onset, cell.cell->span});
          ASSERT_NE(at, found.end()) << section.name.value << " bar " << cell.bar + 1 << " lane " << lane.name;
          EXPECT_EQ(at->second.size(), 1u);
        }
    }
  }
}

TEST_P(EverySong, TheStaffsPitchIsConcertByThePartsOwnWay) {
  for (const Section& section : timeline().sections)
    for (const PartMusic& music : section.parts) {
      const Part& part = timeline().parts.at(static_cast<std::size_t>(music.part));
      EXPECT_EQ(part.from_page.semitones + part.to_concert.semitones, checked().page_capo);
      for (std::size_t b = 0; b < music.keys.size(); ++b) {
        EXPECT_EQ(music.keys[b].from_page.semitones, part.from_page.semitones);
        EXPECT_LE(std::abs(music.keys[b].key.fifths()), 7);
      }
      for (const Voice& voice : music.voices)
        for (const auto& bar : voice.bars)
          for (const Segment& segment : bar) {
            if (segment.event < 0) continue;
            for (const Note& note : timeline().events[static_cast<std::size_t>(segment.event)].notes) {
              if (note.drum >= 0 || note.dead) continue;
              const theory::Pitch staff = note.more->sounding.value_or(note.written);
              EXPECT_EQ(staff.midi() + part.to_concert.semitones, note.midi) << theory::print(note.written);
            }
          }
    }
}

TEST_P(EverySong, ArrivalsComeFromAnEarlierNoteOnTheSameString) {
  for (const Event& event : timeline().events)
    for (const Note& note : event.notes) {
      if (note.more->link.from_event < 0) continue;
      const Event& from = timeline().events.at(static_cast<std::size_t>(note.more->link.from_event));
      EXPECT_EQ(from.notes.at(static_cast<std::size_t>(note.more->link.from_note)).string, note.string);
      EXPECT_LT(from.at, event.at);
    }
}

TEST_P(EverySong, BendPointsRunThroughTheNote) {
  for (const Event& event : timeline().events)
    for (const Note& note : event.notes) {
      if (note.more->bend.empty()) continue;
      EXPECT_EQ(note.more->bend.front().at, Fraction(0));
      EXPECT_EQ(note.more->bend.back().at, Fraction(1));
      for (std::size_t i = 1; i < note.more->bend.size(); ++i)
        EXPECT_LT(note.more->bend[i - 1].at, note.more->bend[i].at);
    }
}

TEST_P(EverySong, EveryNoteIsHeardForSomeTime) {
  for (const Event& event : timeline().events)
    for (const Note& note : event.notes) EXPECT_LT(Fraction(0), note.sounding_duration) << "event " << event.id;
}

TEST_P(EverySong, BarsGoByInOrder) {
  const auto& played = timeline().played;
  ASSERT_EQ(played.size(), checked().played.size());
  Fraction end;
  for (std::size_t i = 0; i < played.size(); ++i) {
    const Bar& bar = timeline()
                         .sections.at(static_cast<std::size_t>(played[i].section))
                         .bars.at(static_cast<std::size_t>(played[i].bar));
    const bool overlays = bar.pick_up && i > 0;
    EXPECT_EQ(played[i].start, overlays ? end - bar.length : end) << "bar " << i;
    if (!overlays) end += bar.length;
    if (i > 0) {
      EXPECT_GE(played[i].number, played[i - 1].number);
      EXPECT_LE(played[i].number, played[i - 1].number + 1);
    }
  }
}

TEST_P(EverySong, PrintedNumbersCountTheFullBars) {
  int number = 0;
  for (const Section& section : timeline().sections)
    for (const Bar& bar : section.bars) EXPECT_EQ(bar.number, bar.pick_up ? 0 : ++number);
}

TEST_P(EverySong, HarmonyAndWordsStandInTheirSection) {
  for (const Section& section : timeline().sections) {
    const auto inside = [&](const Place& at) {
      return at.bar >= 0 && at.bar < static_cast<int>(section.bars.size()) &&
             at.onset < section.bars[static_cast<std::size_t>(at.bar)].length;
    };
    for (const Harmony& harmony : section.harmony) EXPECT_TRUE(inside(harmony.at));
    for (const Word& word : section.words) EXPECT_TRUE(inside(word.at));
    for (const PartMusic& music : section.parts)
      for (const Word& word : music.words) EXPECT_TRUE(inside(word.at));
  }
}

INSTANTIATE_TEST_SUITE_P(Songs, EverySong, testing::ValuesIn(all_songs()), test_name);

std::string pitch_table(const Built& built) {
  std::string out;
  std::set<std::string> seen;
  for (const Section& section : built.timeline->sections)
    for (const PartMusic& music : section.parts)
      for (const Voice& voice : music.voices)
        for (const auto& bar : voice.bars)
          for (const Segment& segment : bar) {
            if (segment.event < 0) continue;
            for (const Note& note : built.timeline->events[static_cast<std::size_t>(segment.event)].notes) {
              if (note.drum >= 0) continue;
              std::string line = built.timeline->parts[static_cast<std::size_t>(music.part)].name.value;
              if (note.string > 0)
                line += " string " + std::to_string(note.string) + " fret " + std::to_string(note.fret);
              const auto& key = built.timeline->key;
              line += " page " + theory::print(theory::spell(page_of_concert(**built.checked, note.midi), key)) +
                      " staff " + theory::print(note.written) + " concert " +
                      theory::print(theory::plain_spelling(note.midi)) + "\n";
              if (seen.insert(line).second) out += line;
            }
          }
  return out;
}

TEST(PagePitch, OfEveryNoteOfTheWaltz) {
  const Built built = build_file(fs::path(TUNESHEAF_SOURCE_DIR) / "tests/golden/timeline/waltz.yaml");
  ASSERT_TRUE(built.timeline) << built.findings();
  support::expect_golden("timeline/waltz.pitches", pitch_table(built));
}

TEST(Remarks, AreNumberedAsThePageIsRead) {
  const Built built = build_text(
      "t.yaml",
      "song: T\nmeter: 4/4\nparts:\n  fiddle: {instrument: violin}\n  flute: {instrument: flute}\nsections:\n  a:\n"
      "    fiddle: |\n      notes | D5 : D5 : D5 : D5 | D5 |\n      see | - : - : x : - | y |\n"
      "    flute: |\n      notes | D5 | D5 |\n      see | z | - |\n"
      "    remarks: {z: Below., y: Later., x: Above.}\n");
  ASSERT_TRUE(built.timeline) << built.findings();
  std::string order;
  for (const Remark& remark : built.timeline->sections.at(0).remarks) order += remark.text.value + " ";
  EXPECT_EQ(order, "Above. Below. Later. ") << "by bars, in a bar from the top staff down";
}

}  // namespace
}  // namespace tunesheaf::score

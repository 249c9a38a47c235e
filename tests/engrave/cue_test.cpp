// Cues: the notes of another part on a small staff over the rests of their reader.
#include <gtest/gtest.h>

#include <set>

#include "engrave/sample.h"

namespace tunesheaf::test {
namespace {

using engrave::StaffKind;

Fraction quarters(int n) {
  return {n, 4};
}

/// Six bars of a fiddle; a second part rests in all of them but the last, with a cue over bars four and five.
struct Waiting {
  SongMaker song{"4/4", "D major", 6};
  int fiddle = song.part("fiddle", "treble", 0), reader = -1;

  explicit Waiting(int (*make)(SongMaker&), const std::string& first = "F#5") {
    reader = make(song);
    for (int i = 0; i < 24; ++i)
      song.event(fiddle, 1, quarters(i), quarters(1), {song.pitched(i % 4 == 0 ? first : "A5")});
    song.event(reader, 1, quarters(20), quarters(4), {song.pitched("D4")});
    song.music(reader).cues.push_back({fiddle, 3, 5, {}});
    song.finish();
  }

  std::vector<layout::Item> items(std::vector<int> parts, const std::string& kind) const {
    engrave::SectionRequest request;
    request.parts = std::move(parts);
    std::vector<layout::Item> out;
    for (const auto& system : engraved(song.timeline, 190, "both", request).section.systems)
      for (const layout::Item* item : of_kind(*system.frame, kind)) out.push_back(*item);
    return out;
  }
};

int flute(SongMaker& song) {
  return song.part("flute", "treble", 0);
}
int cello(SongMaker& song) {
  return song.part("cello", "bass", 0);
}
int drummer(SongMaker& song) {
  return song.drums();
}

TEST(Cue, HoldsTheNotesOfItsBarsAndNoOthersEachOnce) {
  const Waiting waiting(flute);
  std::set<std::pair<int, int>> seen;
  const auto heads = waiting.items({waiting.reader}, "cue-note-head");
  for (const layout::Item& head : heads) {
    EXPECT_EQ(head.subject.staff, engrave::staff_number(waiting.reader, StaffKind::Chart));
    const score::Event& event = waiting.song.timeline.events[static_cast<std::size_t>(head.subject.event)];
    EXPECT_GE(event.at.bar, 3);
    EXPECT_LT(event.at.bar, 5);
    EXPECT_TRUE(seen.insert({head.subject.event, head.subject.note}).second);
  }
  EXPECT_EQ(heads.size(), 8U);
  EXPECT_EQ(waiting.items({waiting.reader}, "note-head").size(), 1U) << "the reader's own";
}

TEST(Cue, IsTwoThirdsOfTheSizeAndStandsOverItsReader) {
  const Waiting waiting(flute);
  const auto small = waiting.items({waiting.reader}, "cue-note-head"),
             own = waiting.items({waiting.reader}, "note-head");
  const auto lines = waiting.items({waiting.reader}, "staff-line"),
             cue_lines = waiting.items({waiting.reader}, "cue-line");
  ASSERT_FALSE(small.empty() || own.empty() || lines.empty() || cue_lines.empty());
  const Rect a = layout::box_of(small.front()), b = layout::box_of(own.front());
  EXPECT_NEAR(a.height / b.height, 0.65, 0.06);
  for (const layout::Item& line : cue_lines) EXPECT_LT(line.at.y, lines.front().at.y);
  const auto names = waiting.items({waiting.reader}, "cue-name");
  ASSERT_EQ(names.size(), 1U);
  EXPECT_EQ(std::get<layout::GlyphsShape>(names.front().shape).run.text, "fiddle");
}

TEST(Cue, PartsTheRestsBeforeIt) {
  const Waiting waiting(flute);
  const auto counts = waiting.items({waiting.reader}, "rest-count");
  EXPECT_EQ(counts.size(), 1U) << "three bars of rest, then the cue's two bars";
  EXPECT_EQ(waiting.items({waiting.reader}, "rest").size(), 2U) << "the whole rests of the two bars are kept";
}

/// Heights of the cue's heads over the lowest line of its own staff, in half spaces.
std::vector<int> heights(const Waiting& waiting) {
  const auto lines = waiting.items({waiting.reader}, "cue-line");
  const Length low = lines.at(4).at.y, space = (lines.at(4).at.y - lines.at(0).at.y) / 4;
  std::vector<int> out;
  for (const layout::Item& head : waiting.items({waiting.reader}, "cue-note-head")) {
    const double half = (low - middle_y(layout::box_of(head))) / (space / 2);
    out.push_back(static_cast<int>(half + 0.5));
  }
  return out;
}

TEST(Cue, StandsInTheReadersClefAnOctaveNearerWhereItIsFar) {
  EXPECT_EQ(heights(Waiting(flute)).front(), 8) << "F sharp 5 on the top line";
  const Waiting low(cello);
  EXPECT_EQ(heights(low).front(), 6) << "an F in bass clef, two octaves down";
  const auto names = low.items({low.reader}, "cue-name");
  std::string text;
  for (const layout::Item& item : names) text += std::get<layout::GlyphsShape>(item.shape).run.text;
  EXPECT_EQ(text, "fiddle, sounds 2 octaves higher");
  EXPECT_EQ(heights(Waiting(drummer)).front(), 8) << "a drummer reads it as it is written";
}

TEST(Cue, IsReadInTheReadersTransposition) {
  Waiting waiting(flute);
  score::StaffKey key;
  key.key = *theory::parse_key("E major");
  key.from_page = {1, 2};  // a major second up
  waiting.song.music(waiting.reader).keys.assign(6, key);
  EXPECT_EQ(heights(waiting).front(), 9) << "G sharp 5";
  EXPECT_EQ(waiting.items({waiting.reader}, "cue-accidental").size(), 0U) << "it is in the key";
}

TEST(Cue, WhoOnlyWaitsHasAStaffWhereNobodyElseShowsIt) {
  SongMaker song("4/4", "C major", 2);
  const int fiddle = song.part("fiddle", "treble", 0), cello_part = cello(song);
  song.event(fiddle, 1, quarters(0), quarters(4), {song.pitched("A4")});
  song.event(fiddle, 1, quarters(4), quarters(4), {song.pitched("A4")});
  song.music(cello_part).cues.push_back({fiddle, 1, 2, {}});
  song.finish();
  const auto count = [&](std::vector<int> parts, const std::string& kind) {
    engrave::SectionRequest request;
    request.parts = std::move(parts);
    std::size_t found = 0;
    for (const auto& system : engraved(song.timeline, 150, "both", request).section.systems)
      found += of_kind(*system.frame, kind).size();
    return found;
  };
  EXPECT_EQ(count({cello_part}, "cue-note-head"), 1U);
  EXPECT_EQ(count({fiddle, cello_part}, "cue-note-head"), 0U);
  EXPECT_EQ(count({fiddle, cello_part}, "staff-line"), 5U);
}

int flute_beside_a_viola(SongMaker& song) {
  const int viola = song.part("viola", "treble", 0);
  song.event(viola, 1, quarters(4), quarters(4), {song.pitched("B3")});
  return flute(song);
}

TEST(Cue, ThoseBesideOneAnotherStandAtOneHeight) {
  Waiting waiting(flute_beside_a_viola);
  auto& cues = waiting.song.music(waiting.reader).cues;
  cues.insert(cues.begin(), {waiting.fiddle + 1, 1, 2, {}});
  std::set<std::int64_t> heights;
  const auto lines = waiting.items({waiting.reader}, "cue-line");
  for (const layout::Item& line : lines) heights.insert(line.at.y.units());
  EXPECT_EQ(lines.size(), 10U) << "two cues on one system";
  EXPECT_EQ(heights.size(), 5U) << "though the first one's notes hang under its lines";
}

TEST(Cue, ShowsItsClefAgainOnTheNextSystemWhereItsReaderHasNone) {
  Waiting waiting(flute);
  waiting.song.music(waiting.reader).strummed = true;  // slashes, and no clef
  engrave::SectionRequest request;
  request.parts = {waiting.reader};
  std::size_t with_lines = 0;
  for (const auto& system : engraved(waiting.song.timeline, 45, "both", request).section.systems) {
    const auto lines = of_kind(*system.frame, "cue-line"), clefs = of_kind(*system.frame, "cue-clef");
    if (lines.empty()) continue;
    ++with_lines;
    ASSERT_EQ(clefs.size(), 1U);
    for (const layout::Item* head : of_kind(*system.frame, "cue-note-head"))
      EXPECT_GT(layout::box_of(*head).left(), layout::box_of(*clefs.front()).right());
  }
  EXPECT_EQ(with_lines, 2U);
}

}  // namespace
}  // namespace tunesheaf::test

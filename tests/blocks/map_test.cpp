// The section map with the fixed-width shaper: scale, rows, jumps, who plays when.
#include "tunesheaf/blocks/map.h"

#include <gtest/gtest.h>

#include <set>

#include "blocks/bench_setting.h"

namespace tunesheaf::blocks {
namespace {

using base::Length;
using base::Point;
using testing::Bench;
using testing::count_kind;
using testing::each_item;
using testing::has;
using testing::packed;
using testing::text_of;

struct Area {
  Length x, width, y;
};
std::vector<Area> areas(const Flow& flow) {
  std::vector<Area> out;
  Length row;
  for (const layout::FlowItem& item : flow) {
    each_item(*item.frame, {}, [&](const layout::Item& i, Point at) {
      if (i.kind == layout::Kind("map-area"))
        out.push_back({at.x, std::get<layout::RectShape>(i.shape).size.width, row});
    });
    row += Length::pt(1000);
  }
  return out;
}

TEST(Map, WidthsAreBars) {
  Bench bench;
  const auto found = areas(section_map(bench.setting()));
  ASSERT_EQ(found.size(), 4U);  // opening 4, air twice 8, opening 4, last air 4
  const double unit = found[0].width / Length::pt(4);
  EXPECT_NEAR(found[1].width / Length::pt(16), unit, 1e-3);
  EXPECT_NEAR(found[3].width / Length::pt(4), unit, 1e-3);
  EXPECT_NEAR((found[3].x + found[3].width) / bench.setting().body(), 1.0, 1e-3);
}

TEST(Map, RepeatsShareToneAndJumpsAreArrows) {
  Bench bench;
  const Flow flow = section_map(bench.setting());
  EXPECT_EQ(count_kind(flow, "map-arrow"), 2);
  const std::string text = text_of(flow);
  EXPECT_TRUE(has(text, "D.S. al Coda"));
  EXPECT_TRUE(has(text, "To Coda"));
  EXPECT_TRUE(has(packed(text), packed("What D.C. or D.S. brings again is played once, with its last ending.")));
  EXPECT_TRUE(has(text, "0:06")) << "where the recording that is followed has the opening";
  Setting unfollowed = bench.setting();
  unfollowed.recording = -1;
  EXPECT_TRUE(has(text_of(section_map(unfollowed)), "0:07")) << "four bars of 3/4 at 96 are 7.5 s";
  EXPECT_EQ(count_kind(flow, "map-letter"), 5) << "the section that is played twice shows its letter twice";
}

TEST(Map, LongFormsTakeRowsOfOneScale) {
  Bench bench;
  bench.song.form.clear();
  bench.song.played.clear();
  for (int i = 0; i < 40; ++i) {
    song::FormEntry entry;
    bench.song.form.push_back({entry, i % 3});
    const auto& section = bench.song.sections[static_cast<std::size_t>(i % 3)];
    for (std::size_t b = 0; b < section.bars.size(); ++b) {
      bench.song.played.push_back({i % 3, static_cast<int>(b), 1, i, 1, {}, static_cast<double>(i)});
    }
  }
  const auto found = areas(section_map(bench.setting()));
  ASSERT_EQ(found.size(), 40U);
  std::set<Length> rows;
  for (const Area& area : found) {
    rows.insert(area.y);
    EXPECT_LE(area.x + area.width, bench.setting().body() + Length::pt(1));
  }
  EXPECT_GE(rows.size(), 2U);
  for (std::size_t i = 3; i < found.size(); ++i) {
    EXPECT_NEAR(found[i].width / found[i % 3].width, 1.0, 1e-3) << "one scale";
  }
}

struct Stroke {
  Length x, width, y;
};
std::vector<Stroke> runs(const Flow& flow, layout::Kind kind) {
  std::vector<Stroke> out;
  for (const layout::FlowItem& item : flow) {
    each_item(*item.frame, {}, [&](const layout::Item& i, Point at) {
      if (i.kind == kind) out.push_back({at.x, std::get<layout::RectShape>(i.shape).size.width, at.y});
    });
  }
  return out;
}

/// The guitar plays everywhere, the double bass in the last two bars of the opening.
void let_the_bass_enter(score::Timeline& song) {
  score::Section& opening = song.sections[0];
  opening.parts[1].voices = opening.parts[0].voices;
  for (score::Voice& voice : opening.parts[1].voices) {
    for (const std::size_t bar : {0U, 1U})
      for (score::Segment& segment : voice.bars[bar]) segment.rest = true;
  }
}

TEST(Map, TellsWhoPlaysWhen) {
  Bench bench;
  let_the_bass_enter(bench.song);
  const Flow flow = section_map(bench.setting());
  EXPECT_EQ(count_kind(flow, "map-part"), 2) << "the cajon never sounds";
  const std::vector<Area> found = areas(flow);
  const std::vector<Stroke> played = runs(flow, "map-plays");
  ASSERT_EQ(found.size(), 4U);
  ASSERT_EQ(played.size(), 6U) << "the guitar in four steps, the bass in the opening, which is played twice";
  const Length bar = found[0].width / 4, hair = bench.style.rule * 2;
  const auto is = [&](const Stroke& run, Length from, Length to) {
    return base::abs(run.x - from) <= hair && base::abs(run.x + run.width - to) <= hair;
  };
  EXPECT_TRUE(is(played[0], found[0].x, found[0].x + found[0].width)) << "guitar, four bars";
  EXPECT_TRUE(is(played[1], found[0].x + bar * 2, found[0].x + bar * 4)) << "bass, the last two of them";
  EXPECT_GT(played[1].y, played[0].y);
  EXPECT_NEAR((found[3].x + found[3].width) / bench.setting().body(), 1.0, 1e-3) << "the names are left of the scale";
}

TEST(Map, HasNoRowsForOnePartOrWhereAllPlayThroughout) {
  Bench bench;
  EXPECT_EQ(count_kind(section_map(bench.setting()), "map-plays"), 0) << "the guitar alone has music";
  for (score::Section& section : bench.song.sections) section.parts[1].voices = section.parts[0].voices;
  bench.song.parts.pop_back();
  const Flow flow = section_map(bench.setting());
  EXPECT_EQ(count_kind(flow, "map-plays"), 0);
  EXPECT_TRUE(has(packed(text_of(flow)), packed("All parts play throughout.")));
}

TEST(Map, ASectionOfChordsAloneIsNotSilence) {
  Bench bench;
  let_the_bass_enter(bench.song);
  for (score::PartMusic& music : bench.song.sections[2].parts) music.voices.clear();
  score::Harmony harmony;
  harmony.stated = "G";
  bench.song.sections[2].harmony = {harmony};
  const Flow flow = section_map(bench.setting());
  EXPECT_EQ(count_kind(flow, "map-chords"), 2) << "one open bar for each of the two parts";
  EXPECT_TRUE(has(packed(text_of(flow)), packed("An open bar: from the chords, for whoever plays them.")));
}

TEST(Map, ANarrowSectionLosesItsTimesBeforeItsLetter) {
  Bench bench;
  bench.song.sections[0].times = 4;
  bench.song.sections[1].times = 1;
  const auto map_with = [&](int long_bars) {
    bench.song.form.clear();
    bench.song.played.clear();
    for (int step = 0; step < 2; ++step) {
      song::FormEntry entry;
      bench.song.form.push_back({entry, step});
      for (int b = 0; b < (step == 0 ? 1 : long_bars); ++b) bench.song.played.push_back({step, 0, 1, step, 1, {}, 0});
    }
    return section_map(bench.setting());
  };
  EXPECT_EQ(count_kind(map_with(2), "map-times"), 1);
  EXPECT_EQ(count_kind(map_with(200), "map-times"), 0);
  EXPECT_EQ(count_kind(map_with(200), "map-letter"), 1) << "of the long one; the other is as narrow as a stroke";
}

}  // namespace
}  // namespace tunesheaf::blocks

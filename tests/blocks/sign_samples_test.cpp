// Signs in the tables of a sheet look as they do on the staff, and their parts keep off one another.
#include <gtest/gtest.h>

#include <algorithm>

#include "blocks/bench_setting.h"
#include "tunesheaf/blocks/legend.h"

namespace tunesheaf::blocks {
namespace {

using testing::Bench;

std::vector<base::Rect> boxes_in(const Flow& flow, layout::Kind kind) {
  std::vector<base::Rect> out;
  for (const layout::FlowItem& item : flow) {
    testing::each_item(*item.frame, {}, [&](const layout::Item& mark, base::Point at) {
      if (mark.kind == kind) out.push_back(layout::box_of(mark).moved(at - mark.at));
    });
  }
  return out;
}

TEST(SignSamples, ALargeSignStandsWithinItsRow) {
  Bench bench;
  bench.style.note.size = bench.style.body.size = base::Length::pt(14);
  bench.style.figure.size = base::Length::pt(17.5);
  bench.song.sections[0].parts[0].voices[0].bars[1][0].tied_from = true;
  const auto signs = signs_used(bench.setting());
  ASSERT_NE(std::find(signs.begin(), signs.end(), LegendSign::Held), signs.end());
  int seen = 0;
  for (const layout::FlowItem& row : sign_legend(bench.setting())) {
    for (const base::Rect& path : boxes_in({row}, "legend-sign-path")) {
      ++seen;
      EXPECT_GE(path.top(), base::Length{});
    }
  }
  EXPECT_GT(seen, 0);
}

TEST(SignSamples, WhatComesFromNothingHasARingAtItsPoint) {
  const auto paths = [](const char* kind) {
    Bench bench;
    bench.song.sections[0].parts[0].marks.push_back({kind, "", {}, {}, {}});
    return boxes_in(sign_legend(bench.setting()), "legend-sign-path").size();
  };
  EXPECT_EQ(paths("volume swell"), paths("crescendo") + 1);
  EXPECT_EQ(paths("fade out"), paths("diminuendo") + 1);
}

TEST(SignSamples, TheKeyOfTheDrumsStrikesNoCrossThrough) {
  Bench bench;
  bench.song.parts[2].kit = {{"crash", {49, 6, theory::DrumHead::Cross}}};
  const Flow flow = drum_key(bench.setting());
  const auto ledgers = boxes_in(flow, "drum-key-ledger"), heads = boxes_in(flow, "drum-key-head");
  ASSERT_EQ(heads.size(), 1U);
  ASSERT_EQ(ledgers.size(), 2U);
  const base::Length middle = heads[0].x + heads[0].width / 2;
  for (const base::Rect& line : ledgers) EXPECT_FALSE(line.left() < middle && line.right() > middle);
}

}  // namespace
}  // namespace tunesheaf::blocks

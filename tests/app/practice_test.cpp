// Practice sheets of the demo songs: every bar of every section, a clean audit, and what is asked for in vain.
#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <numeric>
#include <set>

#include "audit_rules.h"
#include "press.h"
#include "runner.h"
#include "support/temp_dir.h"
#include "tunesheaf/blocks/legend.h"
#include "tunesheaf/blocks/practice_plan.h"

namespace tunesheaf {
namespace {

using support::holds;
using support::run_words;

std::string demo(const std::string& name) {
  return std::string(TUNESHEAF_SOURCE_DIR) + "/songs-demo/" + name + ".yaml";
}

class PracticeOfDemo : public testing::TestWithParam<const char*> {
 protected:
  void SetUp() override {
    support::use_house_styles();
    app::DiskFiles disk;
    ASSERT_TRUE(app::read_text(work_, disk, demo(GetParam())));
    ASSERT_TRUE(app::to_timeline(work_));
    const auto line = app::parse_command_line({"practice", demo(GetParam())});
    ASSERT_TRUE(line);
    auto press = app::Press::open(work_, *line);
    ASSERT_TRUE(press) << press.error();
    press_ = std::move(press.value());
  }
  app::Work work_;
  std::unique_ptr<app::Press> press_;
};

TEST_P(PracticeOfDemo, AllSectionsInOneSheetPassTheAudit) {
  std::vector<int> all(work_.timeline->sections.size());
  std::iota(all.begin(), all.end(), 0);
  const sheet::Sheet sheet = press_->practice(work_, all);
  const auto breaches = paint::audit(app::Press::paint(sheet), app::audit_rules(sheet));
  EXPECT_EQ(paint::print(breaches), "");
}

/// Whether a frame of that name stands somewhere in another.
bool has_frame(const layout::Frame& frame, const std::string& name) {
  return frame.name == name || std::any_of(frame.children.begin(), frame.children.end(),
                                           [&](const auto& child) { return has_frame(*child.frame, name); });
}

std::vector<int> pages_with(const sheet::Sheet& sheet, const std::string& name) {
  std::vector<int> out;
  for (std::size_t p = 0; p < sheet.pages.size(); ++p) {
    if (has_frame(*sheet.pages[p], name)) out.push_back(static_cast<int>(p) + 1);
  }
  return out;
}

TEST_P(PracticeOfDemo, EverySectionBeginsAFrontAndABackIsFreeOnlyWhereTheNextWouldNot) {
  std::vector<int> all(work_.timeline->sections.size());
  std::iota(all.begin(), all.end(), 0);
  const sheet::Sheet sheet = press_->practice(work_, all);
  const std::vector<int> begins = pages_with(sheet, "practice-title"), free = pages_with(sheet, "free-page");
  ASSERT_EQ(begins.size(), all.size());
  for (const int page : begins) EXPECT_EQ(page % 2, 1) << page;
  for (const int page : free) {
    EXPECT_EQ(page % 2, 0) << page;
    EXPECT_EQ(std::count(begins.begin(), begins.end(), page + 1), 1) << page;
  }
}

TEST_P(PracticeOfDemo, AScreenHasNoBacks) {
  const auto line = app::parse_command_line({"practice", demo(GetParam()), "--set", "sides=single"});
  ASSERT_TRUE(line);
  auto press = app::Press::open(work_, *line);
  ASSERT_TRUE(press) << press.error();
  std::vector<int> all(work_.timeline->sections.size());
  std::iota(all.begin(), all.end(), 0);
  EXPECT_TRUE(pages_with((*press)->practice(work_, all), "free-page").empty());
}

TEST_P(PracticeOfDemo, EachSectionByItselfHoldsExactlyItsOwnNotes) {
  for (std::size_t s = 0; s < work_.timeline->sections.size(); ++s) {
    const sheet::Sheet sheet = press_->practice(work_, {static_cast<int>(s)});
    const auto breaches = paint::audit(app::Press::paint(sheet), app::audit_rules(sheet));
    EXPECT_EQ(paint::print(breaches), "") << work_.timeline->sections[s].name.value;
  }
}

TEST_P(PracticeOfDemo, NeighboursFollowTheOrderOfPlayingAndEveryEndingIsPractised) {
  const score::Timeline& song = *work_.timeline;
  const auto shaper = text::make_fixed_shaper();
  text::MusicFont music(*shaper, "Music");
  const style::Style style = style::house_style();
  const blocks::Setting setting{song, style, *shaper, music, {}, -1};
  int begin = 0, end = 0;
  for (int s = 0; s < static_cast<int>(song.sections.size()); ++s) {
    const blocks::PracticePlan plan = blocks::practice_plan(setting, s);
    begin += plan.begins ? 1 : 0;
    end += plan.ends ? 1 : 0;
    EXPECT_EQ(plan.begins, song.played.front().section == s);
    EXPECT_EQ(plan.ends, song.played.back().section == s);
    for (std::size_t i = 1; i < song.played.size(); ++i) {
      const int from = song.played[i - 1].section, to = song.played[i].section;
      if (from == s && song.played[i - 1].step != song.played[i].step) {
        EXPECT_EQ(std::count(plan.after.begin(), plan.after.end(), to), 1);
      }
    }
    const auto& bars = song.sections[static_cast<std::size_t>(s)].bars;
    for (int b = 0; b < static_cast<int>(bars.size()); ++b) {
      const auto holds = [b](const blocks::Loop& loop) { return loop.first_bar <= b && b <= loop.last_bar; };
      const auto times = std::count_if(plan.loops.begin(), plan.loops.end(), holds);
      EXPECT_EQ(times, plan.loops.empty() ? 0 : 1) << "bar " << b << " in one phrase and no other";
    }
    EXPECT_EQ(plan.ladder.empty(), plan.little);
    if (!plan.ladder.empty()) {
      EXPECT_EQ(plan.ladder.back().percent, 100);
    }
  }
  EXPECT_EQ(begin, 1);
  EXPECT_EQ(end, 1);
}

INSTANTIATE_TEST_SUITE_P(Songs, PracticeOfDemo,
                         testing::Values("heron-stair", "nine-pylons", "biscuit-weather", "lamplighters-goat"),
                         [](const auto& song) {
                           std::string name = song.param;
                           std::replace(name.begin(), name.end(), '-', '_');
                           return name;
                         });

/// What `made` makes of a section for the player of a part.
template <class Made>
auto of_section(const std::string& name, const std::string& section, const std::string& part, const Made& made) {
  support::use_house_styles();
  app::Work work;
  app::DiskFiles disk;
  EXPECT_TRUE(app::read_text(work, disk, demo(name)));
  EXPECT_TRUE(app::to_timeline(work));
  const score::Timeline& song = *work.timeline;
  const auto shaper = text::make_fixed_shaper();
  text::MusicFont music(*shaper, "Music");
  const style::Style style = style::house_style("a4");
  const auto index_of = [](const auto& list, const std::string& wanted) {
    const auto at = std::find_if(list.begin(), list.end(), [&](const auto& one) { return one.name.value == wanted; });
    return static_cast<int>(at - list.begin());
  };
  const blocks::Setting setting{song, style, *shaper, music, {index_of(song.parts, part)}, -1};
  return made(setting, index_of(song.sections, section));
}

blocks::PracticePlan plan_of(const std::string& name, const std::string& section, const std::string& part) {
  return of_section(name, section, part, blocks::practice_plan);
}

std::set<blocks::LegendSign> signs_of(const std::string& name, const std::string& section, const std::string& part) {
  const auto signs = of_section(name, section, part, [](const blocks::Setting& setting, int index) {
    return blocks::sign_list(setting, index).signs;
  });
  return {signs.begin(), signs.end()};
}

std::string said(const std::vector<std::string>& sentences) {
  return std::accumulate(sentences.begin(), sentences.end(), std::string());
}
std::string said(const std::vector<blocks::Step>& route) {
  std::string out;
  for (const blocks::Step& step : route) out += step.text;
  return out;
}

TEST(PracticeSays, TheLadderInTheBeatsOfTheTempoInForce) {
  const blocks::PracticePlan coda = plan_of("lamplighters-goat", "coda", "mandolin");
  EXPECT_EQ(coda.ladder_unit, base::Fraction(1, 2)) << "half 88 is stated within the section before";
  EXPECT_EQ(coda.ladder.back().per_minute, 88);
  EXPECT_TRUE(coda.quickens);
  EXPECT_TRUE(holds(said(coda.route), " halves a minute,")) << said(coda.route);
}

TEST(PracticeSays, SectionsOfOneTempoShareTheRungsAndAMetronomeHasThem) {
  std::set<int> rungs;
  for (const char* section : {"intro", "verse", "refrain"}) {
    for (const blocks::Rung& rung : plan_of("biscuit-weather", section, "ukulele").ladder)
      rungs.insert(*rung.per_minute);
  }
  EXPECT_LE(rungs.size(), 6U);
  for (const int rung : rungs) EXPECT_TRUE((std::set<int>{56, 66, 80, 88, 100, 112}.count(rung))) << rung;
}

TEST(PracticeSays, EveryWayOnAsItIsPlayedAndTheEndingsByTheirNames) {
  const blocks::PracticePlan air = plan_of("heron-stair", "air", "guitar");
  ASSERT_EQ(air.joins.size(), 2U);
  EXPECT_EQ(air.joins[0].bar, 7) << "from the 1st ending back";
  EXPECT_EQ(air.joins[0].section, air.section);
  EXPECT_EQ(air.joins[0].into, 0);
  EXPECT_EQ(air.joins[1].bar, 8) << "from the 2nd on";
  EXPECT_NE(air.joins[1].section, air.section);
  EXPECT_EQ(air.loops.back().why, "2nd ending, after 11");
  EXPECT_TRUE(holds(said(air.route), "then each way on, until the boxes are full.")) << said(air.route);
}

TEST(PracticeSays, WhatAnotherTempoWithinTheSectionIsOnEveryRung) {
  const blocks::PracticePlan steps = plan_of("lamplighters-goat", "goat steps", "mandolin");
  EXPECT_EQ(steps.other_unit, base::Fraction(1, 2));
  for (const blocks::Rung& rung : steps.ladder) ASSERT_TRUE(rung.other) << rung.percent;
  EXPECT_EQ(steps.ladder.back().other, 88);
  EXPECT_NEAR(*steps.ladder.front().other, 88.0 * steps.ladder.front().percent / 100, 4);
  EXPECT_TRUE(holds(said(steps.ladder_gloss), "count from bar 30 on, in halves a minute")) << said(steps.ladder_gloss);
  EXPECT_TRUE(
      holds(said(plan_of("lamplighters-goat", "coda", "mandolin").ladder_gloss), "88 is the tempo at the beginning"));
}

TEST(PracticeSays, TheBarWithTheLongWayAlongTheNeckBeforeTheBusiest) {
  const std::string riff = said(plan_of("nine-pylons", "riff", "guitar").route);
  EXPECT_TRUE(holds(riff, "Play bar 4 and the last notes before it, the longest leap along the neck")) << riff;
  const std::string solo = said(plan_of("nine-pylons", "solo", "guitar").route);
  EXPECT_TRUE(holds(solo, "Play bar 27 ")) << "and not bar 25, where the other hand taps: " << solo;
}

TEST(PracticeSays, ThatTheLadderLeavesOutWhatIsHeldAndWhatSlows) {
  EXPECT_TRUE(holds(said(plan_of("heron-stair", "last air", "guitar").ladder_gloss), "The ladder keeps one tempo"));
  EXPECT_FALSE(holds(said(plan_of("heron-stair", "opening", "guitar").ladder_gloss), "The ladder keeps one tempo"));
}

TEST(PracticeSays, NoPickingHandAloneWhereMostIsBentOrTouched) {
  EXPECT_FALSE(holds(said(plan_of("nine-pylons", "solo", "guitar").route), "picking hand alone"));
  EXPECT_FALSE(holds(said(plan_of("nine-pylons", "coda", "guitar").route), "picking hand alone"));
  EXPECT_TRUE(holds(said(plan_of("nine-pylons", "riff", "guitar").route), "picking hand alone"));
}

TEST(PracticeSays, AllTheBeatsOverWhichSomethingIsHeldAndSwingOnlyWhereEighthsAre) {
  const std::string riff = said(plan_of("nine-pylons", "riff", "guitar").listen);
  EXPECT_TRUE(holds(riff, "In bars 1 to 4 the note on \u201c2 &\u201d is held over 3")) << riff;
  EXPECT_FALSE(holds(said(plan_of("biscuit-weather", "bridge", "ukulele").listen), "The feel is"));
  EXPECT_TRUE(holds(said(plan_of("biscuit-weather", "verse", "ukulele").listen), "The feel is"));
}

TEST(PracticeSays, NoLadderForAPartThatHardlyPlays) {
  const blocks::PracticePlan call = plan_of("lamplighters-goat", "call", "mandolin");
  EXPECT_TRUE(call.little);
  EXPECT_TRUE(call.ladder.empty());
  EXPECT_TRUE(call.loops.empty());
  EXPECT_TRUE(holds(said(call.route), "come in at bar 4.")) << said(call.route);
}

TEST(PracticeSays, ABeatThatMetronomesClickOrThatTheyDoNot) {
  const blocks::PracticePlan goat = plan_of("lamplighters-goat", "goat steps", "mandolin");
  EXPECT_EQ(goat.ladder_unit, base::Fraction(1, 8)) << "seven of them fit no longer beat";
  EXPECT_TRUE(goat.beyond_clicks);
  EXPECT_FALSE(plan_of("biscuit-weather", "verse", "ukulele").beyond_clicks);
}

TEST(PracticeSays, WhichStrokeIsHeldOverWhichBeatAndNothingOfTripletsOnTheBeat) {
  EXPECT_TRUE(
      holds(said(plan_of("biscuit-weather", "verse", "ukulele").listen),
            "In bars 5 to 10 and 12 the stroke on \u201c2 &\u201d is held over 3: nothing new is played there."))
      << said(plan_of("biscuit-weather", "verse", "ukulele").listen);
  EXPECT_FALSE(holds(said(plan_of("nine-pylons", "outro", "guitar").listen), "held over"));
}

TEST(PracticeSays, NothingOfALoudnessThatStays) {
  EXPECT_FALSE(holds(said(plan_of("lamplighters-goat", "first strain", "mandolin").listen), "It begins"));
}

TEST(PracticeSays, OnlyWhatTheStudentsOwnPartDoes) {
  EXPECT_FALSE(holds(said(plan_of("nine-pylons", "chorus", "guitar").listen), "held over"))
      << "the keys hold; the guitar strikes on";
  EXPECT_TRUE(holds(said(plan_of("nine-pylons", "verse", "guitar").listen), "It begins mp and grows from bar 11 on"))
      << said(plan_of("nine-pylons", "verse", "guitar").listen);
}

TEST(PracticeSays, TheOrderOfStringsWhereTheFirstIsNotTheLowest) {
  EXPECT_TRUE(holds(said(plan_of("biscuit-weather", "verse", "ukulele").route), "from string 4 to string 1."));
  EXPECT_TRUE(holds(said(plan_of("nine-pylons", "verse", "guitar").route), "low string first."));
}

TEST(PracticeSigns, AreThoseOnTheSheetAndNoOthers) {
  using blocks::LegendSign;
  const auto intro = signs_of("biscuit-weather", "intro", "ukulele");
  EXPECT_EQ(intro.count(LegendSign::RemarkNumber), 0U) << "its remarks are the clarinet's and the small things'";
  EXPECT_EQ(intro.count(LegendSign::Tie), 1U) << "the stroke on 2 & rings over 3";
  EXPECT_EQ(signs_of("biscuit-weather", "verse", "ukulele").count(LegendSign::RemarkNumber), 1U);
  EXPECT_EQ(signs_of("nine-pylons", "verse", "guitar").count(LegendSign::PartialStrum), 0U)
      << "the tab has the figures";
  EXPECT_EQ(signs_of("heron-stair", "turn", "guitar").count(LegendSign::DownStroke), 0U);
  const auto air = signs_of("heron-stair", "air", "guitar");
  EXPECT_EQ(air.count(LegendSign::FrettingFingers), 1U);
  EXPECT_EQ(air.count(LegendSign::Ending), 1U);
  EXPECT_EQ(air.count(LegendSign::Repeat), 1U);
  const auto riff = signs_of("nine-pylons", "riff", "guitar");
  EXPECT_EQ(riff.count(LegendSign::Marcato), 1U);
  EXPECT_EQ(riff.count(LegendSign::Ending), 0U);
}

TEST(Practice, AnUnknownSectionNamesTheNearest) {
  const support::Outcome run = run_words({"practice", demo("heron-stair"), "--section", "aire"});
  EXPECT_EQ(run.code, 2);
  EXPECT_TRUE(holds(run.err, "the song has no section \"aire\"; the nearest is \"air\"")) << run.err;
}

TEST(Practice, AFolderThatIsAFileIsSaidToBeOne) {
  const support::TempDir folder;
  const std::string file = folder.write("sheets", "kept");
  for (const std::string& target : {file, file + "/"}) {
    const support::Outcome run = run_words({"practice", demo("heron-stair"), "-o", target});
    EXPECT_EQ(run.code, 2);
    EXPECT_TRUE(holds(run.err, "\"" + file + "\" is a file, so no sheets can be put into it; name a folder with -o"))
        << run.err;
  }
  EXPECT_EQ(support::read_file(file), "kept");
}

TEST(Practice, AFolderGetsOneFileForEachSection) {
  support::use_house_styles();
  const support::TempDir folder;
  const support::Outcome run =
      run_words({"practice", demo("heron-stair"), "--section", "opening,air", "-o", folder.path().string()});
  EXPECT_EQ(run.code, 0) << run.err;
  EXPECT_TRUE(std::filesystem::exists(folder.path() / "heron-stair-practice-01-opening.pdf"));
  EXPECT_TRUE(std::filesystem::exists(folder.path() / "heron-stair-practice-02-air.pdf"));
}

}  // namespace
}  // namespace tunesheaf

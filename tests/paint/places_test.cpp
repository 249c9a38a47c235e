// Marks with a place of their own: each rule of the audit about heights, figures, sizes, stems and doubles has a page
// that breaks it.
#include <gtest/gtest.h>

#include <algorithm>

#include "paint/pages.h"
#include "tunesheaf/paint/audit.h"

namespace tunesheaf::paint {
namespace {

using namespace testing;  // NOLINT: the helpers of these tests

constexpr int kStaff = 2;

/// Six lines of a tab 10 pt apart, from y = 40, that know their staff and number; four figures on them.
layout::Frame figures() {
  layout::Frame page;
  page.size = size(300, 150);
  for (int i = 0; i < 6; ++i) {
    page.items.push_back(level_line(20, 40 + 10 * i, 240, "tab-line"));
    page.items.back().subject = {kStaff, -1, i + 1};
  }
  // The fixed shaper's ink is 8 pt high above the baseline: the middle is 4 pt above it.
  words(page, at(50, 54), "7", "tab-figure", {0, 5, 6}, {kStaff, 0, 0});
  words(page, at(90, 64), "7", "tab-figure", {0, 8, 10}, {kStaff, 1, 0});
  words(page, at(130, 44), "7", "tab-figure", {0, 12, 13}, {kStaff, 2, 0});
  words(page, at(170, 94), "7", "tab-figure", {0, 15, 16}, {kStaff, 3, 0});
  return page;
}

AuditRules figure_rules() {
  AuditRules rules;
  rules.may_touch = {MayTouch{"tab-figure", "tab-line"}};
  const int halves[] = {2, 4, 0, 10};
  for (int i = 0; i < 4; ++i) rules.places.push_back({{kStaff, i, 0}, "tab-figure", "tab-line", halves[i], "7"});
  return rules;
}

/// Two heads of 12 by 8 pt with stems at their right sides.
layout::Frame stems() {
  layout::Frame page;
  page.size = size(300, 150);
  for (int i = 0; i < 2; ++i) {
    words(page, at(50 + 60 * i, 90), "oo", "note-head", {}, {kStaff, i, 0});
    page.items.push_back(
        {at(62 + 60 * i, 86), "stem", Layer::Ink, {}, {kStaff, i, -1}, LineShape{at(0, -35), pen(0.5)}});
  }
  return page;
}

AuditRules stem_rules() {
  AuditRules rules;
  rules.may_touch = {MayTouch{"note-head", "stem"}};
  rules.joined = {{"stem", "note-head", "note-head-tied", {"oo"}}};
  return rules;
}

std::vector<std::string> found_by(const layout::Frame& page, const AuditRules& rules) {
  std::vector<std::string> out;
  for (const Breach& breach : audit(document_of(page), rules)) out.push_back(breach.rule);
  return out;
}

using Rules = std::vector<std::string>;

TEST(Places, GoodPagesHaveNoBreach) {
  EXPECT_EQ(found_by(figures(), figure_rules()), Rules{});
  EXPECT_EQ(found_by(stems(), stem_rules()), Rules{});
}

TEST(Places, AFigureOnAnotherStringIsFound) {
  layout::Frame page = figures();
  page.items[6].at.y += Length::pt(10);
  const auto breaches = audit(document_of(page), figure_rules());
  ASSERT_EQ(breaches.size(), 1U);
  EXPECT_EQ(breaches[0].rule, "wrong-height");
  EXPECT_EQ(breaches[0].text, "tab-figure '7' stands 1 line distances off its place");
  EXPECT_EQ(breaches[0].origin, (source::Span{0, 5, 6}));
}

TEST(Places, AFigureBesideAllLinesIsFound) {
  layout::Frame page = figures();
  page.items[6].at.x += Length::pt(225);
  EXPECT_EQ(found_by(page, figure_rules()), Rules{"wrong-height"});
}

TEST(Places, AnotherFigureIsFound) {
  AuditRules rules = figure_rules();
  rules.places[2].text = "8";
  EXPECT_EQ(found_by(figures(), rules), Rules{"wrong-text"});
}

TEST(Places, AFigureLargerThanItsLikeIsFound) {
  layout::Frame page = figures();
  auto& run = std::get<GlyphsShape>(page.items[7].shape).run;
  run.ink = run.ink.grown(Length::pt(1));
  EXPECT_EQ(found_by(page, figure_rules()), Rules{"odd-size"});
}

TEST(Places, AStaffWithoutOneOfItsLinesIsFound) {
  for (const int line : {1, 3, 4}) {
    layout::Frame page = figures();
    page.items.erase(page.items.begin() + line);
    const Rules breaches = found_by(page, figure_rules());
    EXPECT_EQ(std::count(breaches.begin(), breaches.end(), "broken-staff"), 1) << line;
  }
  layout::Frame page = figures();
  page.items[2].at.y += Length::pt(2);
  EXPECT_EQ(found_by(page, figure_rules()), Rules{"broken-staff"});
  page = figures();
  page.items[3] = level_line(20, 70, 200, "tab-line");
  page.items[3].subject = {kStaff, -1, 4};
  EXPECT_EQ(found_by(page, figure_rules()), Rules{"broken-staff"});
}

TEST(Places, AMarkDrawnTwiceIsFound) {
  layout::Frame page = stems();
  page.items.push_back(page.items[1]);
  AuditRules rules = stem_rules();
  rules.may_touch.push_back(MayTouch{"stem", "stem"});
  EXPECT_EQ(found_by(page, rules), Rules{"doubled"});
}

TEST(Places, AStemAwayFromItsHeadIsFound) {
  layout::Frame page = stems();
  page.items[1].at.x += Length::pt(4);
  EXPECT_EQ(found_by(page, stem_rules()), (Rules{"loose", "loose"})) << "the head lacks a stem, the stem a head";
  page = stems();
  page.items[1].at.y -= Length::pt(12);
  EXPECT_EQ(found_by(page, stem_rules()), (Rules{"loose", "loose"}));
}

TEST(Places, AHeadWithoutItsStemIsFound) {
  layout::Frame page = stems();
  page.items.pop_back();
  EXPECT_EQ(found_by(page, stem_rules()), Rules{"loose"});
}

TEST(Places, AHeldHeadMayHaveTheStem) {
  layout::Frame page = stems();
  page.items.push_back({at(152, 86), "stem", Layer::Ink, {}, {kStaff, 0, -1}, LineShape{at(0, -35), pen(0.5)}});
  words(page, at(140, 90), "oo", "note-head-tied", {}, {kStaff, 0, 0});
  AuditRules rules = stem_rules();
  rules.may_touch.push_back(MayTouch{"note-head-tied", "stem"});
  EXPECT_EQ(found_by(page, rules), Rules{});
}

TEST(Places, ASignThatIsWrittenAndNotDrawnIsFound) {
  AuditRules rules = stem_rules();
  rules.wanted = {{kStaff, kStaff, 1, {"accent", "marcato"}, {0, 7, 9}}};
  const auto breaches = audit(document_of(stems()), rules);
  ASSERT_EQ(breaches.size(), 1U);
  EXPECT_EQ(breaches[0].rule, "missing-mark");
  EXPECT_EQ(breaches[0].origin, (source::Span{0, 7, 9}));
  layout::Frame page = stems();
  words(page, at(110, 120), ">", "marcato", {}, {kStaff, 0, -1});
  EXPECT_EQ(found_by(page, rules), Rules{"missing-mark"}) << "on another event";
  page = stems();
  words(page, at(110, 120), ">", "marcato", {}, {kStaff, 1, -1});
  EXPECT_EQ(found_by(page, rules), Rules{});
}

}  // namespace
}  // namespace tunesheaf::paint

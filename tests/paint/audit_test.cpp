#include "tunesheaf/paint/audit.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <chrono>

#include "paint/pages.h"

namespace tunesheaf::paint {
namespace {

using namespace testing;  // NOLINT: the helpers of these tests

AuditRules tab_rules() {
  AuditRules rules;
  rules.printable = {Length::pt(10), Length::pt(5), Length::pt(180), Length::pt(92)};
  rules.expected = {{0, 0, 0}, {0, 1, 0}};
  rules.counted = {"tab-figure"};
  rules.may_touch = {MayTouch{"tab-figure", "tab-line"}};
  rules.on_line = {OnLine{"tab-figure", "tab-line"}};
  rules.least_text = Length::pt(7);
  rules.least_stroke = Length::mm(0.1);
  return rules;
}

std::vector<std::string> found(const layout::Frame& page, const AuditRules& rules = tab_rules()) {
  std::vector<std::string> out;
  for (const Breach& breach : audit(document_of(page), rules)) out.push_back(breach.rule);
  return out;
}

using Rules = std::vector<std::string>;

TEST(Audit, FindsNothingOnAGoodPage) {
  const auto breaches = audit(document_of(tab_page()), tab_rules());
  EXPECT_TRUE(breaches.empty()) << print(breaches);
}

TEST(Audit, FindsWhatReachesOffThePage) {
  layout::Frame page = tab_page();
  words(page, at(175, 20), "wide", "remark", {0, 40, 44});
  const auto breaches = audit(document_of(page), tab_rules());
  ASSERT_EQ(breaches.size(), 1U);
  EXPECT_EQ(breaches[0].rule, "off-page");
  EXPECT_EQ(breaches[0].origin, (source::Span{0, 40, 44}));
  EXPECT_EQ(breaches[0].page, 0);
  EXPECT_EQ(print(breaches), "page 1: off-page at 175,12: remark 'wide' reaches 9 pt out of the printable area\n");
}

TEST(Audit, TintMayReachTheEdge) {
  layout::Frame page = tab_page();
  page.items.push_back(
      {at(0, 0), "tint", Layer::Tint, {}, {}, RectShape{size(200, 100), base::Colour{250, 250, 240}, {}, {}}});
  EXPECT_TRUE(found(page).empty());
}

TEST(Audit, FindsTextOnText) {
  layout::Frame page = tab_page();
  words(page, at(30, 22), "over", "remark");
  EXPECT_EQ(found(page), Rules{"overlap"});
}

TEST(Audit, TextOnTextIsForbiddenEvenWithLeave) {
  layout::Frame page = tab_page();
  words(page, at(30, 22), "over", "remark");
  AuditRules rules = tab_rules();
  rules.may_touch.push_back(MayTouch{"remark", "title"});
  rules.touches_all = {"remark"};
  EXPECT_EQ(found(page, rules), Rules{"overlap"});
}

TEST(Audit, PiecesOfOneLineOfTextAreOneMark) {
  layout::Frame page = tab_page();
  words(page, at(100, 20), "ab", "remark", {0, 1, 9});
  words(page, at(111, 20), "cd", "remark", {0, 1, 9});
  EXPECT_TRUE(found(page).empty());
  words(page, at(121, 20), "ef", "remark", {0, 10, 12});
  EXPECT_EQ(found(page), Rules{"overlap"}) << "another piece of the song is another mark";
}

TEST(Audit, TextOnALineNeedsLeave) {
  AuditRules rules = tab_rules();
  rules.may_touch.clear();
  EXPECT_EQ(found(tab_page(), rules), (Rules{"overlap", "overlap"}));
}

TEST(Audit, InkOnInkNeedsLeaveAndLinesCrossFreely) {
  layout::Frame page = tab_page();
  page.items.push_back({at(60, 30), "wedge", Layer::Ink, {}, {}, RectShape{size(20, 4), base::kBlack, {}, {}}});
  page.items.push_back({at(60, 30), "bar-line", Layer::Line, {}, {}, LineShape{at(0, 60), pen(1)}});
  EXPECT_EQ(found(page), Rules{"overlap"}) << "the wedge stands in the slur";
  AuditRules rules = tab_rules();
  rules.may_touch.push_back(MayTouch{"slur", "wedge"});
  EXPECT_TRUE(found(page, rules).empty());
}

TEST(Audit, ASlurMayArchOverWhatStandsBeneath) {
  layout::Frame page = tab_page();
  page.items.push_back({at(70, 34.5), "dot", Layer::Ink, {}, {}, RectShape{size(3, 3), base::kBlack, {}, {}}});
  EXPECT_TRUE(found(page).empty()) << "under the arch, though inside its box";
}

TEST(Audit, SlantedLinesAreComparedAlongTheirWay) {
  layout::Frame page = tab_page();
  page.items.push_back({at(120, 10), "glide", Layer::Ink, {}, {}, LineShape{at(40, 20), pen(1)}});
  page.items.push_back({at(150, 11), "dot", Layer::Ink, {}, {}, RectShape{size(3, 3), base::kBlack, {}, {}}});
  EXPECT_TRUE(found(page).empty());
  page.items.push_back({at(138, 18), "dot", Layer::Ink, {}, {}, RectShape{size(3, 3), base::kBlack, {}, {}}});
  EXPECT_EQ(found(page), Rules{"overlap"});
}

TEST(Audit, KnockoutsAndLinksMayLieAnywhere) {
  layout::Frame page = tab_page();
  page.items.push_back(
      {at(48, 45), "knockout", Layer::Knockout, {}, {}, RectShape{size(10, 10), base::kWhite, {}, {}}});
  page.items.push_back({at(20, 10), "link", Layer::Overlay, {}, {}, LinkShape{size(40, 20), "https://example.org"}});
  EXPECT_TRUE(found(page).empty());
}

TEST(Audit, FindsMissingRepeatedAndUnexpectedSubjects) {
  AuditRules rules = tab_rules();
  rules.expected.push_back({0, 2, 0});
  const auto missing = audit(document_of(tab_page()), rules);
  ASSERT_EQ(missing.size(), 1U);
  EXPECT_EQ(missing[0].rule, "missing");
  EXPECT_EQ(missing[0].page, -1);
  layout::Frame page = tab_page();
  words(page, at(130, 64), "5", "tab-figure", {}, {0, 1, 0});
  EXPECT_EQ(found(page), Rules{"repeated"});
  rules = tab_rules();
  rules.expected.pop_back();
  EXPECT_EQ(found(tab_page(), rules), Rules{"unexpected"});
}

TEST(Audit, OtherKindsMayBearTheSameSubject) {
  layout::Frame page = tab_page();
  words(page, at(130, 20), "m", "fingering", {}, {0, 1, 0});
  EXPECT_TRUE(found(page).empty());
}

TEST(Audit, FindsFiguresOffTheirLine) {
  layout::Frame page = tab_page();
  page.items[6].at.y += Length::pt(2);
  EXPECT_EQ(found(page), Rules{"off-line"});
  page = tab_page();
  page.items.erase(page.items.begin(), page.items.begin() + 6);
  EXPECT_EQ(found(page), (Rules{"off-line", "off-line"})) << "no lines at all";
}

TEST(Audit, FindsSmallTextAndThinStrokes) {
  AuditRules rules = tab_rules();
  rules.least_text = Length::pt(11);
  EXPECT_EQ(found(tab_page(), rules), (Rules{"small-text", "small-text", "small-text"}));
  layout::Frame page = tab_page();
  page.items.push_back(level_line(20, 93, 20, "rule", 0.1));
  EXPECT_EQ(found(page), Rules{"thin-stroke"});
}

TEST(Audit, ComparesThePageWithWhatWasLaidOut) {
  const Document document = document_of(tab_page());
  AuditRules rules = tab_rules();
  for (const DisplayItem& item : document.pages[0].items) {
    if (!std::holds_alternative<GroupShape>(item.shape) && !std::holds_alternative<GroupEndShape>(item.shape)) {
      if (rules.laid.empty()) rules.laid.emplace_back();
      rules.laid[0].push_back({item.kind, item.box, item.origin});
    }
  }
  EXPECT_EQ(print(audit(document, rules)), "");
  AuditRules fewer = rules;
  fewer.laid[0].pop_back();
  const auto stray = audit(document, fewer);
  ASSERT_EQ(stray.size(), 1U);
  EXPECT_EQ(stray[0].rule, "stray");
  rules.laid[0].back().box.x += Length::pt(1);
  const auto moved = audit(document, rules);
  ASSERT_EQ(moved.size(), 2U) << print(moved);
  EXPECT_EQ(moved[0].rule == "lost" ? moved[1].rule : moved[0].rule, "stray");
}

TEST(Audit, FindsWordsOfTheSongThatAreNowherePrinted) {
  layout::Frame page = tab_page();
  words(page, at(100, 20), "said", "remark", {0, 1, 9});
  AuditRules rules = tab_rules();
  rules.said = {{0, 1, 9}};
  EXPECT_TRUE(found(page, rules).empty());
  rules.said.push_back({0, 20, 24});
  const auto breaches = audit(document_of(page), rules);
  ASSERT_EQ(breaches.size(), 1U);
  EXPECT_EQ(breaches[0].rule, "unsaid");
  EXPECT_EQ(breaches[0].origin, (source::Span{0, 20, 24}));
}

TEST(Audit, GrowsGentlyWithThePage) {
  layout::Frame page;
  page.size = size(2000, 2000);
  for (int y = 0; y < 60; ++y) {
    for (int x = 0; x < 60; ++x) words(page, at(20 + 30 * x, 40 + 30 * y), "12", "tab-figure");
  }
  AuditRules rules;
  const auto start = std::chrono::steady_clock::now();
  EXPECT_TRUE(audit(document_of(page), rules).empty());
  EXPECT_LT(std::chrono::steady_clock::now() - start, std::chrono::seconds(2));
}

}  // namespace
}  // namespace tunesheaf::paint

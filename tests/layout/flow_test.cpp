// Page breaking: against brute force on small flows, the rules of breaks, margin notes, time.
#include "tunesheaf/layout/flow.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <chrono>
#include <limits>
#include <random>

namespace tunesheaf::layout {
namespace {

using base::Length;

std::shared_ptr<const Frame> frame(double height, double baseline = 0) {
  auto f = std::make_shared<Frame>();
  f->size = {Length::pt(100), Length::pt(height)};
  f->baseline = Length::pt(baseline);
  return f;
}

/// Two rows, the joint between them opening or closing as far as told.
std::shared_ptr<const Elastic> elastic(std::shared_ptr<const Frame> natural, double open, double close) {
  return std::make_shared<Elastic>(std::move(natural), std::vector<Rows>{}, std::vector<Length>{Length::pt(open)},
                                   std::vector<Length>{Length::pt(close)});
}

FlowItem item(double height, double space = 10, BreakAfter after = BreakAfter::Allowed) {
  FlowItem i;
  i.frame = frame(height);
  i.space_before = Length::pt(space);
  i.break_after = after;
  return i;
}

PageShape shape(double height = 100) {
  PageShape s;
  s.page = {Length::pt(200), Length::pt(height + 20)};
  s.body = {Length::pt(10), Length::pt(10), Length::pt(100), Length::pt(height)};
  s.first_body = s.body;
  s.margin_column = {Length::pt(120), Length::pt(10), Length::pt(60), Length::pt(height)};
  s.note_gap = Length::pt(5);
  return s;
}

using Breaks = std::vector<std::size_t>;  // last item of each page

Breaks breaks_of(const std::vector<PagePlan>& pages) {
  Breaks out;
  for (const PagePlan& page : pages) out.push_back(page.items.back().item);
  return out;
}

// The cost as flow.h tells it, written again from its words, for flows without notes.
double cost_of(const std::vector<FlowItem>& flow, const PageShape& s, std::size_t first, std::size_t last, bool odd) {
  const base::Rect body = first == 0 ? s.first_body : s.body;
  Length used, stretch, gives;
  for (std::size_t i = first; i <= last; ++i) {
    if (i > first) {
      used += flow[i].space_before;
      gives += flow[i].space_before * 0.3;
      stretch += flow[i].stretch;
    } else if (flow[i].continuation) {
      used += flow[i].continuation->size.height;
    }
    used += flow[i].frame->size.height;
    if (flow[i].elastic) {
      stretch += flow[i].elastic->grow();
      gives += flow[i].elastic->shrink();
    }
  }
  const bool fits = used <= body.height;
  if (used - gives > body.height && first != last) return std::numeric_limits<double>::infinity();
  for (std::size_t i = first; i < last; ++i) {
    if (flow[i].break_after == BreakAfter::Forced) return std::numeric_limits<double>::infinity();
  }
  double cost = 20 + (fits ? 0 : first == last ? 1e5 : 6);
  const bool end = last + 1 == flow.size(), forced = flow[last].break_after == BreakAfter::Forced;
  if (!end && !forced) {
    const Length left = std::max(Length{}, body.height - used);
    const double share = std::max(0.0, (left - stretch) / body.height);
    const double filling = left == Length{} || stretch == Length{} ? 0 : left >= stretch ? 1 : left / stretch;
    cost += 300 * share * share + 3 * filling * filling + flow[last].break_cost + (odd ? flow[last].turn_cost : 0);
    if (flow[last].break_after == BreakAfter::Forbidden) cost += 1e6;
  }
  if (first == last && first != 0 && (end || forced)) cost += 36;
  return cost;
}

double total(const std::vector<FlowItem>& flow, const PageShape& s, const Breaks& breaks) {
  double cost = 0;
  std::size_t first = 0;
  bool odd = true;
  for (const std::size_t last : breaks) {
    cost += cost_of(flow, s, first, last, odd);
    odd = !odd;
    first = last + 1;
  }
  return cost;
}

double brute_force(const std::vector<FlowItem>& flow, const PageShape& s) {
  double best = std::numeric_limits<double>::infinity();
  const std::size_t gaps = flow.size() - 1;
  for (std::size_t mask = 0; mask < (std::size_t{1} << gaps); ++mask) {
    Breaks breaks;
    for (std::size_t i = 0; i < gaps; ++i) {
      if ((mask >> i) & 1U) breaks.push_back(i);
    }
    breaks.push_back(gaps);
    best = std::min(best, total(flow, s, breaks));
  }
  return best;
}

TEST(BreakPages, EqualsBruteForce) {
  std::mt19937 random(7);
  const auto pick = [&random](int low, int high) { return std::uniform_int_distribution<int>(low, high)(random); };
  for (int round = 0; round < 400; ++round) {
    std::vector<FlowItem> flow;
    const int count = pick(1, 11);
    for (int i = 0; i < count; ++i) {
      FlowItem it = item(pick(5, pick(0, 9) == 0 ? 130 : 45), pick(0, 15));
      it.stretch = Length::pt(pick(0, 8));
      const int kind = pick(0, 9);
      if (kind < 2) it.break_after = BreakAfter::Forbidden;
      if (kind == 9) it.break_after = BreakAfter::Forced;
      it.break_cost = pick(-10, 30);
      it.turn_cost = pick(-3, 12) > 5 ? 8 : 0;
      if (pick(0, 2) == 0) it.elastic = elastic(it.frame, pick(0, 12), pick(0, 6));
      if (i > 0 && pick(0, 2) == 0) it.continuation = frame(pick(3, 9));
      flow.push_back(it);
    }
    PageShape s = shape(100);
    s.first_body.y += Length::pt(20);
    s.first_body.height -= Length::pt(20);
    const auto pages = break_pages(flow, s);
    EXPECT_NEAR(total(flow, s, breaks_of(pages)), brute_force(flow, s), 1e-6) << "round " << round;
    std::size_t next = 0;
    for (const PagePlan& page : pages) {
      for (const PlacedItem& placed : page.items) EXPECT_EQ(placed.item, next++);
    }
    EXPECT_EQ(next, flow.size());
  }
}

TEST(BreakPages, HeadingGoesWithWhatItHeads) {
  const std::vector<FlowItem> flow{item(40), item(30), item(10, 10, BreakAfter::Forbidden), item(40)};
  EXPECT_EQ(breaks_of(break_pages(flow, shape())), (Breaks{1, 3}));
}

TEST(BreakPages, NoLoneLastItem) {
  // Three would fit on the first page; the fourth would stand alone on the second.
  const std::vector<FlowItem> flow{item(30), item(30), item(20), item(30)};
  EXPECT_EQ(breaks_of(break_pages(flow, shape())), (Breaks{1, 3}));
}

TEST(BreakPages, CompanyForTheLastItemNeverCostsHalfAPage) {
  const std::vector<FlowItem> flow{item(40), item(45), item(60)};
  EXPECT_EQ(breaks_of(break_pages(flow, shape())), (Breaks{1, 2}));
}

TEST(BreakPages, SpacesShrinkWhereThatSavesAPage) {
  // 109 points of 100: with the spaces at three quarters of their height all stands on one page.
  const std::vector<FlowItem> flow{item(23), item(23, 18), item(27, 18)};
  const auto pages = break_pages(flow, shape());
  ASSERT_EQ(pages.size(), 1U);
  EXPECT_FALSE(pages[0].overfull);
  EXPECT_LE(pages[0].items.back().at.y + Length::pt(27), Length::pt(110));
  const std::vector<FlowItem> too_much{item(23), item(23, 18), item(30, 18)};
  EXPECT_EQ(break_pages(too_much, shape()).size(), 2U);
}

TEST(BreakPages, ForcedBreak) {
  const std::vector<FlowItem> flow{item(10), item(10, 5, BreakAfter::Forced), item(10), item(10)};
  EXPECT_EQ(breaks_of(break_pages(flow, shape())), (Breaks{1, 3}));
}

TEST(BreakPages, GoodPlaceIsTaken) {
  std::vector<FlowItem> flow{item(28), item(28), item(28), item(28), item(28), item(28)};
  flow[1].break_cost = -120;
  EXPECT_EQ(breaks_of(break_pages(flow, shape(110))).front(), 1U);
}

TEST(BreakPages, TooHighAnItemIsReported) {
  const std::vector<FlowItem> flow{item(20), item(150), item(20), item(20)};
  const auto pages = break_pages(flow, shape());
  ASSERT_EQ(breaks_of(pages), (Breaks{0, 1, 3}));
  EXPECT_FALSE(pages[0].overfull);
  EXPECT_TRUE(pages[1].overfull);
  EXPECT_FALSE(pages[2].overfull);
}

TEST(BreakPages, NotesThatNoPageHoldsBeginHigherThanTheirItem) {
  std::vector<FlowItem> flow{item(60)};
  flow[0].notes = {{Length::pt(20), frame(30)}, {Length::pt(40), frame(55)}};
  const auto pages = break_pages(flow, shape());
  ASSERT_EQ(pages.size(), 1U);
  ASSERT_EQ(pages[0].notes.size(), 2U);
  EXPECT_EQ(pages[0].notes[1].at.y, Length::pt(110 - 55)) << "it ends with the column";
  EXPECT_EQ(pages[0].notes[0].at.y, Length::pt(110 - 55 - 5 - 30)) << "and the one before keeps its distance";
}

TEST(BreakPages, SpaceAtTheTopIsDropped) {
  const std::vector<FlowItem> flow{item(60, 30), item(60, 30), item(20, 5)};
  const auto pages = break_pages(flow, shape());
  ASSERT_EQ(pages.size(), 2U);
  EXPECT_EQ(pages[0].items[0].at.y, Length::pt(10));
  EXPECT_EQ(pages[1].items[0].at.y, Length::pt(10));
}

TEST(BreakPages, SpacesGrowToTheFootButNotBeyondTheirStretch) {
  std::vector<FlowItem> flow{item(40), item(40), item(40), item(40), item(40)};
  for (FlowItem& i : flow) i.stretch = Length::pt(30);
  const auto pages = break_pages(flow, shape(100));
  ASSERT_EQ(pages.size(), 3U);
  const auto& filled = pages[1].items;
  EXPECT_EQ(filled.back().at.y + Length::pt(40), Length::pt(110));
  for (FlowItem& i : flow) i.stretch = Length::pt(4);
  const auto tight = break_pages(flow, shape(100));
  EXPECT_EQ(tight[1].items.back().at.y, Length::pt(10 + 40 + 10 + 4));
}

TEST(BreakPages, LastPageKeepsItsSpaces) {
  std::vector<FlowItem> flow{item(20), item(20)};
  flow[1].stretch = Length::pt(50);
  const auto pages = break_pages(flow, shape());
  EXPECT_EQ(pages[0].items[1].at.y, Length::pt(40));
}

TEST(BreakPages, WhatGivesWithinAnItemFillsThePage) {
  std::vector<FlowItem> flow{item(40), item(40, 10), item(60)};
  for (FlowItem& i : flow) i.elastic = elastic(i.frame, 10, 8);
  flow[1].notes = {{Length::pt(30), frame(5), 1}};
  const auto pages = break_pages(flow, shape(100));
  ASSERT_EQ(breaks_of(pages), (Breaks{1, 2}));
  EXPECT_EQ(pages[0].items[0].frame->size.height, Length::pt(45)) << "10 points left, shared by two joints";
  EXPECT_EQ(pages[0].items[1].at.y, Length::pt(10 + 45 + 10));
  EXPECT_EQ(pages[0].notes[0].at.y, Length::pt(65 + 30 + 5)) << "the note moves with its row";
  EXPECT_EQ(pages[1].items[0].frame->size.height, Length::pt(60)) << "the last page stays as it is";
}

TEST(BreakPages, WhatGivesWithinAnItemSavesAPage) {
  std::vector<FlowItem> flow{item(50), item(52, 5)};
  for (FlowItem& i : flow) i.elastic = elastic(i.frame, 10, 4);
  const auto pages = break_pages(flow, shape(100));
  ASSERT_EQ(pages.size(), 1U);
  EXPECT_FALSE(pages[0].overfull);
  EXPECT_LT(pages[0].items[0].frame->size.height, Length::pt(50));
  EXPECT_LE(pages[0].items[1].at.y + pages[0].items[1].frame->size.height, Length::pt(110));
}

TEST(BreakPages, ThePageIsTurnedWhereTheHandsAreFree) {
  std::vector<FlowItem> flow;
  for (int i = 0; i < 8; ++i) {
    flow.push_back(item(30));
    flow.back().turn_cost = i % 4 == 1 ? 0 : 60;
  }
  const Breaks breaks = breaks_of(break_pages(flow, shape(110)));
  EXPECT_EQ(breaks.front(), 1U) << "page 1 ends after the second item, for there the hands are free";
  EXPECT_EQ(breaks.size(), 3U) << "and no page is spent on it";
}

TEST(BreakPages, ContinuationsStandAtTheTopOfTheirPage) {
  std::vector<FlowItem> flow{item(60), item(60), item(20)};
  flow[1].continuation = flow[2].continuation = frame(8);
  const auto pages = break_pages(flow, shape(100));
  ASSERT_EQ(breaks_of(pages), (Breaks{0, 2}));
  EXPECT_EQ(pages[0].continuation, nullptr);
  EXPECT_EQ(pages[1].continuation, flow[1].continuation);
  EXPECT_EQ(pages[1].items[0].at.y, Length::pt(18));
}

TEST(Elastic, RowsMoveAndWhatJoinsThemIsDrawnOut) {
  auto natural = std::make_shared<Frame>();
  natural->size = {Length::pt(100), Length::pt(80)};
  const Stroke stroke{Length::pt(1), {}, Cap::Butt, {}};
  const auto line = [&](double y, double height) {
    return Item{{{}, Length::pt(y)}, "bar-line", Layer::Line, {}, {}, LineShape{{{}, Length::pt(height)}, stroke}};
  };
  natural->items = {line(0, 20), line(50, 20), line(0, 70)};
  const Elastic rows(natural, {{0, 0}, {1, 1}, {0, 1}}, {Length::pt(10)}, {Length::pt(4)});
  EXPECT_EQ(rows.grow(), Length::pt(10));
  EXPECT_EQ(rows.shrink(), Length::pt(4));
  EXPECT_EQ(rows.at(0), natural);
  const auto open = rows.at(0.5), closed = rows.at(-1);
  EXPECT_EQ(open->size.height, Length::pt(85));
  EXPECT_EQ(open->items[0].at.y, Length{});
  EXPECT_EQ(open->items[1].at.y, Length::pt(55));
  EXPECT_EQ(std::get<LineShape>(open->items[2].shape).to.y, Length::pt(75));
  EXPECT_EQ(std::get<LineShape>(open->items[1].shape).to.y, Length::pt(20)) << "what stands on one row keeps its shape";
  EXPECT_EQ(closed->size.height, Length::pt(76));
  EXPECT_EQ(closed->items[1].at.y, Length::pt(46));
}

TEST(MarginNotes, StandAtTheirAnchorAndMoveDown) {
  std::vector<FlowItem> flow{item(40), item(40)};
  flow[0].notes = {{Length::pt(12), frame(20, 8)}, {Length::pt(15), frame(20, 8)}};
  const auto pages = break_pages(flow, shape());
  ASSERT_EQ(pages.size(), 1U);
  ASSERT_EQ(pages[0].notes.size(), 2U);
  EXPECT_EQ(pages[0].notes[0].at.y, Length::pt(10 + 12 - 8));
  EXPECT_EQ(pages[0].notes[1].at.y, Length::pt(14 + 20 + 5));
  EXPECT_EQ(pages[0].notes[0].at.x, Length::pt(120));
}

TEST(MarginNotes, ItemComesDownWhereNotesReachPastIt) {
  std::vector<FlowItem> flow{item(20), item(20)};
  flow[0].notes = {{Length{}, frame(60)}};
  flow[1].notes = {{Length{}, frame(10)}};
  const auto pages = break_pages(flow, shape());
  ASSERT_EQ(pages.size(), 1U);
  EXPECT_EQ(pages[0].notes[1].at.y, Length::pt(75));
  EXPECT_EQ(pages[0].items[1].at.y, Length::pt(55)) << "the note begins no lower than its item's foot";
}

TEST(MarginNotes, NeverOverlapNorLeaveTheirPage) {
  std::mt19937 random(11);
  const auto pick = [&random](int low, int high) { return std::uniform_int_distribution<int>(low, high)(random); };
  for (int round = 0; round < 300; ++round) {
    std::vector<FlowItem> flow;
    for (int i = pick(1, 25); i > 0; --i) {
      FlowItem it = item(pick(20, 60), pick(0, 15));
      it.stretch = Length::pt(pick(0, 10));
      int anchor = 0;
      for (int n = pick(-2, 2); n > 0; --n) {
        anchor += pick(0, 10);
        it.notes.push_back({Length::pt(anchor), frame(pick(8, 30), 6)});
      }
      flow.push_back(it);
    }
    const PageShape s = shape(200);
    for (const PagePlan& page : break_pages(flow, s)) {
      if (page.overfull) continue;
      std::size_t expected = 0;
      for (const PlacedItem& placed : page.items) expected += flow[placed.item].notes.size();
      EXPECT_EQ(page.notes.size(), expected);
      Length end = Length::pt(-100);
      for (const PlacedNote& note : page.notes) {
        const auto& f = flow[note.item].notes[note.note];
        EXPECT_GE(note.at.y, end);
        end = note.at.y + f.frame->size.height + s.note_gap;
        EXPECT_LE(note.at.y + f.frame->size.height, s.margin_column.bottom());
        const auto owner = std::find_if(page.items.begin(), page.items.end(),
                                        [&](const PlacedItem& p) { return p.item == note.item; });
        ASSERT_NE(owner, page.items.end());
        EXPECT_GE(note.at.y, owner->at.y + f.anchor - f.frame->baseline) << "never above its anchor";
      }
    }
  }
}

TEST(BreakPages, NothingForNothing) {
  EXPECT_TRUE(break_pages({}, shape()).empty());
}

TEST(BreakPages, FiveHundredItemsInAMoment) {
  std::vector<FlowItem> flow;
  for (int i = 0; i < 500; ++i) {
    flow.push_back(item(20 + i % 37, 8));
    flow.back().stretch = Length::pt(5);
  }
  const auto begin = std::chrono::steady_clock::now();
  const auto pages = break_pages(flow, shape(700));
  const std::chrono::duration<double> took = std::chrono::steady_clock::now() - begin;
  EXPECT_GT(pages.size(), 20U);
  EXPECT_LT(took.count(), 0.5) << "a generous bound: it takes about a millisecond";
}

}  // namespace
}  // namespace tunesheaf::layout

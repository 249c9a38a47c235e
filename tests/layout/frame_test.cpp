#include "tunesheaf/layout/frame.h"

#include <gtest/gtest.h>

namespace tunesheaf::layout {
namespace {

using base::Length;
using base::Point;
using base::Rect;

Point at(double x, double y) {
  return {Length::pt(x), Length::pt(y)};
}
Rect box(double x, double y, double w, double h) {
  return {Length::pt(x), Length::pt(y), Length::pt(w), Length::pt(h)};
}
Stroke pen(double width, Cap cap = Cap::Butt) {
  return {Length::pt(width), base::kBlack, cap, {}};
}

TEST(BoxOf, StrokesCountWithHalfTheirWidth) {
  EXPECT_EQ(box_of({at(5, 5), "rule", Layer::Line, {}, {}, LineShape{at(10, 0), pen(2)}}), box(5, 4, 10, 2));
  EXPECT_EQ(box_of({at(5, 5), "rule", Layer::Line, {}, {}, LineShape{at(0, -10), pen(2)}}), box(4, -5, 2, 10));
  EXPECT_EQ(box_of({at(5, 5), "rule", Layer::Line, {}, {}, LineShape{at(10, 0), pen(2, Cap::Round)}}),
            box(4, 4, 12, 2));
  EXPECT_EQ(box_of({at(5, 5), "rule", Layer::Line, {}, {}, LineShape{at(-10, 4), pen(2)}}), box(-6, 4, 12, 6));
  EXPECT_EQ(box_of({at(0, 0), "frame", Layer::Ink, {}, {}, RectShape{{Length::pt(6), Length::pt(4)}, {}, pen(2), {}}}),
            box(-1, -1, 8, 6));
}

TEST(BoxOf, PathsAndGlyphsAreTheirInk) {
  const PathShape path{{{PathVerb::Move, at(0, 0), {}, {}}, {PathVerb::Line, at(4, -3), {}, {}}}, base::kBlack, {}};
  EXPECT_EQ(box_of({at(1, 1), "path", Layer::Ink, {}, {}, path}), box(1, -2, 4, 3));
  text::Run run;
  run.ink = box(0, -8, 12, 8);
  EXPECT_EQ(box_of({at(3, 10), "words", Layer::Text, {}, {}, GlyphsShape{run, base::kBlack}}), box(3, 2, 12, 8));
}

TEST(InkOf, GoesThroughChildrenAndLeavesLinksOut) {
  Frame inner;
  inner.items.push_back(
      {at(0, 0), "dot", Layer::Ink, {}, {}, RectShape{{Length::pt(2), Length::pt(2)}, base::kBlack, {}, {}}});
  Frame outer;
  EXPECT_FALSE(ink_of(outer));
  outer.items.push_back({at(-50, 0), "link", Layer::Overlay, {}, {}, LinkShape{{Length::pt(9), Length::pt(9)}, "#x"}});
  EXPECT_FALSE(ink_of(outer));
  outer.children.push_back({at(10, 20), std::make_shared<Frame>(inner)});
  outer.children.push_back({at(30, 20), std::make_shared<Frame>(inner)});
  EXPECT_EQ(ink_of(outer), box(10, 20, 22, 2));
}

TEST(Print, ShowsEveryMemberOnOneLine) {
  auto inner = std::make_shared<Frame>();
  inner->name = "inner";
  inner->role = Role::Heading2;
  inner->origin = {0, 3, 9};
  inner->items.push_back({at(1.5, 2), "bookmark", Layer::Overlay, {}, {}, BookmarkShape{"A \"verse\"", "a", 2}});
  Frame outer;
  outer.name = "outer";
  outer.size = {Length::pt(100), Length::pt(50)};
  outer.baseline = Length::pt(8);
  outer.items.push_back(
      {at(0, 1),
       "staff-line",
       Layer::Line,
       {1, 4, 6},
       {2, 7, 0},
       LineShape{at(90, 0), {Length::pt(0.5), {200, 0, 10, 255}, Cap::Round, {Length::pt(1), Length::pt(2)}}}});
  outer.children.push_back({at(5, 6), inner});
  EXPECT_EQ(print(outer),
            "frame outer at 0,0 size 100,50 baseline 8\n"
            "  staff-line 0,1 line line 90,0 stroke 0.5 #c8000a round dash 1 2 subject 2.7.0 from 1:4-6\n"
            "  frame inner at 5,6 size 0,0 role heading-2 from 3-9\n"
            "    bookmark 1.5,2 overlay bookmark 2 \"a\" \"A \\\"verse\\\"\"\n");
}

TEST(AddLine, PutsEachRunAtItsPlace) {
  const auto shaper = text::make_fixed_shaper();
  const text::TextStyle small{{"Lato"}, Length::pt(10), 0, false}, large{{"Lato"}, Length::pt(20), 0, false};
  const text::StyledText pieces[] = {{"ab", small}, {"C", large}};
  Frame frame;
  add_line(frame, at(7, 30), shaper->line(pieces), base::kBlack, "words", {0, 1, 4});
  ASSERT_EQ(frame.items.size(), 2U);
  EXPECT_EQ(frame.items[1].at, at(19, 30));
  EXPECT_EQ(frame.items[1].origin, (source::Span{0, 1, 4}));
  EXPECT_EQ(frame.items[1].layer, Layer::Text);
}

TEST(Kinds, CompareByTextWhereverTheyCameFrom) {
  EXPECT_EQ(Kind("note-head"), Kind::interned(std::string("note") + "-head"));
  EXPECT_NE(Kind("note-head"), Kind("notehead"));
}

}  // namespace
}  // namespace tunesheaf::layout

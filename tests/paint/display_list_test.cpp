#include "tunesheaf/paint/display_list.h"

#include <gtest/gtest.h>

#include "paint/pages.h"

namespace tunesheaf::paint {
namespace {

using namespace testing;  // NOLINT: the helpers of these tests

layout::Frame rich_page() {
  layout::Frame page = tab_page();
  auto group = std::make_shared<layout::Frame>();
  group->role = Role::Figure;
  group->name = "a \"quoted\" name";
  group->size = size(30, 20);
  words(*group, at(1, 12), "F♯ \\ \"x\"", "chord-name", {1, 2, 3}, {4, 5, 6});
  group->items.push_back({at(2, 3),
                          "tint",
                          Layer::Tint,
                          {},
                          {},
                          RectShape{size(10, 5), base::Colour{1, 2, 3, 128}, std::nullopt, Length::pt(1)}});
  group->items.push_back(
      {at(2, 3),
       "box",
       Layer::Ink,
       {},
       {},
       RectShape{size(10, 5),
                 std::nullopt,
                 layout::Stroke{Length::pt(0.3), base::kBlack, layout::Cap::Round, {Length::pt(1), Length::pt(2)}},
                 {}}});
  group->items.push_back(
      {at(0, 0), "link", Layer::Overlay, {}, {}, LinkShape{size(3, 4), "https://example.org/?a=b c"}});
  group->items.push_back({at(0, 0), "mark", Layer::Overlay, {}, {}, BookmarkShape{"Verse, \n two", "verse-2", 2}});
  page.children.push_back({at(150, 5), group});
  return page;
}

TEST(Flatten, MakesPlacesAbsolute) {
  const Page page = flatten(rich_page(), size(200, 100));
  for (const DisplayItem& item : page.items) {
    if (item.kind != Kind("chord-name")) continue;
    EXPECT_EQ(item.at, at(151, 17));
    EXPECT_EQ(item.box.x, Length::pt(151));
    EXPECT_EQ(item.subject, (Subject{4, 5, 6}));
    return;
  }
  FAIL() << "the chord name is gone";
}

TEST(Flatten, SortsByLayerWithinAGroupAndKeepsOrderOtherwise) {
  const Page page = flatten(rich_page(), size(200, 100));
  std::vector<std::string> kinds;
  for (const DisplayItem& item : page.items) {
    if (kinds.empty() || kinds.back() != item.kind.name()) kinds.emplace_back(item.kind.name());
  }
  const std::vector<std::string> expected = {"tab-line", "slur", "group",     "tint",       "box",  "chord-name",
                                             "link",     "mark", "group-end", "tab-figure", "title"};
  EXPECT_EQ(kinds, expected);
}

TEST(Flatten, FramesWithoutARoleOpenNoGroup) {
  layout::Frame page;
  page.size = size(50, 50);
  auto inner = std::make_shared<layout::Frame>();
  inner->items.push_back(level_line(0, 0, 10, "rule"));
  page.children.push_back({at(5, 6), inner});
  const Page flat = flatten(page, page.size);
  ASSERT_EQ(flat.items.size(), 1U);
  EXPECT_EQ(flat.items[0].at, at(5, 6));
}

TEST(Dump, ParsesBackToTheSamePrint) {
  Document document = document_of(rich_page());
  document.author = "A \"B\" \\ C\tD";
  document.keywords = "ukulele, étude";
  const std::string dump = print(document);
  std::string error;
  const auto back = parse(dump, error);
  ASSERT_TRUE(back) << error;
  EXPECT_EQ(print(*back), dump);
  EXPECT_EQ(back->author, document.author);
  EXPECT_EQ(back->pages[0].items.size(), document.pages[0].items.size());
}

TEST(Dump, HoldsEveryMember) {
  const Document before = document_of(rich_page());
  std::string error;
  const Document after = *parse(print(before), error);
  for (std::size_t i = 0; i < before.pages[0].items.size(); ++i) {
    const DisplayItem &a = before.pages[0].items[i], &b = after.pages[0].items[i];
    EXPECT_EQ(a.kind, b.kind);
    EXPECT_EQ(a.layer, b.layer);
    EXPECT_EQ(a.origin, b.origin);
    EXPECT_EQ(a.subject, b.subject);
    EXPECT_EQ(a.shape.index(), b.shape.index());
    EXPECT_LE(base::abs(a.at.x - b.at.x), Length::raw(6));
    if (const auto* glyphs = std::get_if<GlyphsShape>(&a.shape)) {
      const auto& other = std::get<GlyphsShape>(b.shape);
      EXPECT_EQ(glyphs->run.text, other.run.text);
      EXPECT_EQ(glyphs->run.face, other.run.face);
      EXPECT_EQ(glyphs->run.glyphs.size(), other.run.glyphs.size());
      EXPECT_EQ(glyphs->colour, other.colour);
    }
    if (const auto* rect = std::get_if<RectShape>(&a.shape)) {
      const auto& other = std::get<RectShape>(b.shape);
      EXPECT_EQ(rect->fill, other.fill);
      EXPECT_EQ(rect->radius, other.radius);
      EXPECT_EQ(rect->stroke.has_value(), other.stroke.has_value());
    }
    if (const auto* mark = std::get_if<BookmarkShape>(&a.shape)) {
      EXPECT_EQ(mark->title, std::get<BookmarkShape>(b.shape).title);
    }
  }
}

TEST(Dump, FaultsNameTheirLine) {
  const std::string good = print(document_of(tab_page()));
  const auto fault_of = [](const std::string& dump) {
    std::string error;
    EXPECT_FALSE(parse(dump, error));
    return error;
  };
  const auto with = [&good](const std::string& from, const std::string& to) {
    std::string bad = good;
    bad.replace(bad.find(from), from.size(), to);
    return bad;
  };
  EXPECT_EQ(fault_of("something else\n"), "line 1: not a display list of this version");
  EXPECT_EQ(fault_of(""), "line 1: the list ends too early");
  EXPECT_EQ(fault_of(with("page 200 100", "page 200 wide")), "line 7: expected height, a length in points");
  EXPECT_EQ(fault_of(with("tab-line line", "tab-line lime")), "line 8: 'lime' is no layer");
  EXPECT_EQ(fault_of(with("title \"Test page\"", "title \"Test page")),
            "line 2: quotation marks of title are not closed");
  EXPECT_EQ(fault_of(good + "  x ink at 0 0 box 0 0 0 0 from 0 0 0 subject 0 0 0 end\n").substr(0, 4), "line");
  EXPECT_EQ(fault_of(with("#ffffffff", "#fffffff")).substr(0, 7), "line 7:");
  EXPECT_NE(fault_of(with("\"7\" \"Lato\" 400", "\"7\" \"Lato\" 401")).find("no such weight"), std::string::npos);
}

TEST(Dump, AnyCutOfADumpIsRefusedOrWholeLines) {
  const std::string good = print(document_of(rich_page()));
  for (std::size_t cut = 0; cut < good.size(); cut += 7) {
    std::string error;
    const auto back = parse(good.substr(0, cut), error);
    EXPECT_TRUE(back.has_value() || !error.empty()) << cut;
  }
}

TEST(Dump, IsTheSameUnderAnotherOrderOfInterning) {
  EXPECT_EQ(Kind("tab-line"), Kind::interned(std::string("tab-") + "line"));
}

}  // namespace
}  // namespace tunesheaf::paint

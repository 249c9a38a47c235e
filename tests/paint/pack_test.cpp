// Pages as bytes and back.
#include "tunesheaf/paint/pack.h"

#include <gtest/gtest.h>

#include "paint/pages.h"

namespace tunesheaf::paint {
namespace {

/// One of every shape, with and without a place in the song.
Document sample() {
  layout::Frame page = testing::tab_page();
  page.items.push_back(
      {testing::at(1, 2),
       "box",
       Layer::Tint,
       {1, 2, 3},
       {},
       RectShape{testing::size(9, 8), base::Colour{1, 2, 3, 4},
                 layout::Stroke{
                     base::Length::pt(1), base::kBlack, layout::Cap::Round, {base::Length::pt(2), base::Length::pt(3)}},
                 base::Length::pt(0.5)}});
  page.items.push_back({testing::at(3, 4), "link", Layer::Overlay, {}, {}, LinkShape{testing::size(5, 6), "#verse"}});
  page.items.push_back({testing::at(3, 4), "bookmark", Layer::Overlay, {}, {}, BookmarkShape{"Verse ♯", "verse", 2}});
  auto group = std::make_shared<layout::Frame>();
  group->role = Role::Heading1;
  group->name = "heading";
  group->size = testing::size(50, 20);
  testing::words(*group, testing::at(0, 10), "Heading", "heading");
  page.children.push_back({testing::at(-4, 7), group});
  Document document{"Quarry Lane", "The Gravel Choir", "Handout", "guitar", "en", {}};
  document.pages.push_back(flatten(page, testing::size(200, 100)));
  document.pages.push_back(flatten(layout::Frame{}, testing::size(10, 20)));
  document.pages.back().ground = base::Colour{9, 8, 7, 255};
  return document;
}

TEST(Pack, GivesTheSamePagesBack) {
  const Document before = sample();
  const std::string bytes = pack(before);
  const auto after = unpack(bytes);
  ASSERT_TRUE(after);
  EXPECT_EQ(print(*after), print(before));
  EXPECT_EQ(pack(*after), bytes) << "to the last unit, which the dump rounds away";
}

TEST(Pack, BytesThatAreCutShortGiveNothing) {
  const std::string bytes = pack(sample());
  for (std::size_t kept = 0; kept < bytes.size(); ++kept) {
    EXPECT_FALSE(unpack(std::string_view(bytes).substr(0, kept))) << kept;
  }
  EXPECT_FALSE(unpack(bytes + "x"));
}

/// Whoever reads them has a fingerprint to find this out; here nothing may break.
TEST(Pack, DamagedBytesBreakNothing) {
  const std::string bytes = pack(sample());
  for (std::size_t at = 0; at < bytes.size(); ++at) {
    for (const char other : {'\0', '\x7F', '\xFF'}) {
      std::string damaged = bytes;
      damaged[at] = other;
      const auto read = unpack(damaged);
      EXPECT_TRUE(!read || read->pages.size() <= bytes.size());
    }
  }
}

}  // namespace
}  // namespace tunesheaf::paint

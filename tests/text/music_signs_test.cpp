#include "tunesheaf/text/music_signs.h"

#include <gtest/gtest.h>

#include <set>

#include "sign_outlines.h"
#include "tunesheaf/text/pango_shaper.h"

namespace tunesheaf::text {
namespace {

using base::Length;

const Length kSpace = Length::pt(7);

double spaces(Length length) {
  return length / kSpace;
}

class Signs : public testing::Test {
 protected:
  Signs() {
    auto opened = FontBook::open(FontBook::usual_folders());
    if (!opened) throw std::runtime_error(opened.error().message);
    book_ = std::move(opened.value());
    shaper_ = make_pango_shaper(*book_);
    font_ = std::make_unique<MusicFont>(*shaper_);
  }
  const Sign& sign(MusicSign which) { return font_->sign(which, kSpace); }
  std::unique_ptr<FontBook> book_;
  std::unique_ptr<Shaper> shaper_;
  std::unique_ptr<MusicFont> font_;
};

TEST_F(Signs, EachHasANameAndADrawing) {
  std::set<std::string_view> names;
  for (int i = 0; i < kMusicSigns; ++i) {
    const auto which = static_cast<MusicSign>(i);
    const Sign& drawn = sign(which);
    EXPECT_TRUE(names.insert(name(which)).second) << name(which);
    EXPECT_NE(drawn.run.has_value(), !drawn.path.empty()) << name(which);
    EXPECT_GT(drawn.box.width, Length{}) << name(which);
    EXPECT_LT(base::abs(drawn.box.left()), kSpace * 0.02) << name(which) << " begins at x = 0";
    EXPECT_LT(spaces(drawn.box.height), 9) << name(which);
  }
  EXPECT_TRUE(shaper_->missing().empty());
}

TEST_F(Signs, HeadsFillOneSpaceAboutTheirLine) {
  for (const MusicSign head : {MusicSign::NoteheadBlack, MusicSign::NoteheadHalf, MusicSign::NoteheadWhole}) {
    const base::Rect box = sign(head).box;
    EXPECT_NEAR(spaces(box.top()), -spaces(box.bottom()), 0.03) << name(head);
    EXPECT_NEAR(spaces(box.height), 1.05, 0.1) << name(head);
  }
  EXPECT_NEAR(spaces(sign(MusicSign::NoteheadBlack).box.width), 1.2, 0.05);
}

TEST_F(Signs, StemsMeetHeadsAtTheirSides) {
  const Sign& head = sign(MusicSign::NoteheadBlack);
  EXPECT_EQ(head.stem_up.x, head.box.right());
  EXPECT_EQ(head.stem_down.x, head.box.left());
  EXPECT_LT(spaces(head.stem_up.y), 0) << "above the middle on the right";
  EXPECT_GT(spaces(head.stem_down.y), 0) << "below it on the left";
  EXPECT_GT(spaces(head.stem_up.y), -0.45);
  const Sign& slash = sign(MusicSign::NoteheadSlash);
  EXPECT_NEAR(spaces(slash.stem_up.y), -1, 0.05);
  EXPECT_NEAR(spaces(slash.stem_down.y), 1, 0.05);
}

TEST_F(Signs, RestsHangAndSitOnTheirLines) {
  EXPECT_EQ(sign(MusicSign::RestWhole).box.top(), Length{});
  EXPECT_EQ(sign(MusicSign::RestHalf).box.bottom(), Length{});
  const base::Rect quarter = sign(MusicSign::RestQuarter).box;
  EXPECT_NEAR(spaces(quarter.top()), -spaces(quarter.bottom()), 0.1);
  EXPECT_NEAR(spaces(sign(MusicSign::Rest8).box.height), 1.9, 0.2);
}

TEST_F(Signs, ClefsReachWhereTheyShould) {
  const base::Rect g = sign(MusicSign::GClef).box;
  EXPECT_LT(spaces(g.top()), -3) << "above the top line, 3 spaces over the G line";
  EXPECT_GT(spaces(g.bottom()), 1) << "below the bottom line";
  const base::Rect f = sign(MusicSign::FClef).box;
  EXPECT_NEAR(spaces(f.top()), -0.65, 0.4);
  EXPECT_LT(spaces(f.bottom()), 3);
  const base::Rect c = sign(MusicSign::CClef).box;
  EXPECT_NEAR(spaces(c.top()), -spaces(c.bottom()), 0.06);
  EXPECT_NEAR(spaces(c.height), 4.1, 0.2);
}

TEST_F(Signs, TimeFiguresAreTwoSpacesHigh) {
  for (int i = 0; i < 10; ++i) {
    const base::Rect box = sign(static_cast<MusicSign>(static_cast<int>(MusicSign::Time0) + i)).box;
    EXPECT_NEAR(spaces(box.top()), -1, 0.06) << i;
    EXPECT_NEAR(spaces(box.bottom()), 1, 0.06) << i;
  }
  const auto twelve = font_->time_number(12, kSpace);
  ASSERT_EQ(twelve.size(), 2U);
  EXPECT_GT(twelve[1].first, twelve[0].second->box.right()) << "figures do not touch";
}

TEST_F(Signs, ThirdFlagsAskForLongerStems) {
  EXPECT_EQ(sign(MusicSign::Flag8Up).stem_up.y, Length{});
  EXPECT_LT(spaces(sign(MusicSign::Flag32Up).stem_up.y), -0.5);
  EXPECT_GT(spaces(sign(MusicSign::Flag32Down).stem_down.y), 0.5);
  EXPECT_EQ(sign(MusicSign::Flag16Down).box.height, sign(MusicSign::Flag16Up).box.height);
}

TEST_F(Signs, DynamicsShareABaseline) {
  EXPECT_NEAR(spaces(sign(MusicSign::DynamicM).box.bottom()), 0, 0.1);
  EXPECT_NEAR(spaces(sign(MusicSign::DynamicZ).box.bottom()), 0, 0.1);
  EXPECT_GT(spaces(sign(MusicSign::DynamicP).box.bottom()), 0.4) << "p goes below it";
}

TEST_F(Signs, SizesGoWithTheStaffSpace) {
  const base::Rect once = font_->sign(MusicSign::GClef, Length::pt(5)).box;
  const base::Rect twice = font_->sign(MusicSign::GClef, Length::pt(10)).box;
  EXPECT_NEAR(twice.height / once.height, 2, 0.01);
}

TEST_F(Signs, TabLettersFillTheirHeight) {
  const Sign clef = font_->tab_clef(Length::pt(30));
  EXPECT_NEAR(clef.box.height.points(), 30, 0.1);
  EXPECT_NEAR(clef.box.top().points(), -15, 0.1);
}

TEST_F(Signs, GlyphsComeFromTheMusicFamilyAndReadBackAsText) {
  const Sign& clef = sign(MusicSign::GClef);
  ASSERT_TRUE(clef.run);
  EXPECT_EQ(clef.run->face.family, "Noto Music");
  EXPECT_EQ(clef.run->text, "\U0001D11E");
}

// The fixed shaper has no outlines; its table must stay close to what real fonts measure.
TEST_F(Signs, UsualSizesAreCloseToMeasuredOnes) {
  const auto fixed = make_fixed_shaper();
  MusicFont usual(*fixed);
  for (int i = 0; i < kMusicSigns; ++i) {
    const auto which = static_cast<MusicSign>(i);
    const base::Rect a = sign(which).box, b = usual.sign(which, kSpace).box;
    EXPECT_NEAR(spaces(a.width), spaces(b.width), 0.1) << name(which);
    EXPECT_NEAR(spaces(a.top()), spaces(b.top()), 0.1) << name(which);
    EXPECT_NEAR(spaces(a.bottom()), spaces(b.bottom()), 0.1) << name(which);
  }
}

}  // namespace
}  // namespace tunesheaf::text

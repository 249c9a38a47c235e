#include "tunesheaf/text/pango_shaper.h"

#include <gtest/gtest.h>

namespace tunesheaf::text {
namespace {

using base::Length;

class PangoShaper : public testing::Test {
 protected:
  PangoShaper() {
    auto opened = FontBook::open(FontBook::usual_folders());
    if (!opened) throw std::runtime_error(opened.error().message);
    book_ = std::move(opened.value());
    shaper_ = make_pango_shaper(*book_);
  }
  static TextStyle style(const std::string& family, double size, Weight weight = Weight::Regular) {
    return {{family, weight, Slant::Upright}, Length::pt(size), 0, false};
  }
  static std::string text_of(const Line& line) {
    std::string out;
    for (const PlacedRun& placed : line.runs) out += placed.run.text;
    return out;
  }
  std::vector<Line> set(const std::string& text, double width, Alignment alignment) {
    const StyledText piece{text, style("Gentium Plus", 10)};
    return shaper_->paragraph({&piece, 1}, Length::pt(width), alignment, "en");
  }
  std::unique_ptr<FontBook> book_;
  std::unique_ptr<Shaper> shaper_;
};

TEST_F(PangoShaper, SizesArePointsOfThePage) {
  // 72 units an inch: a capital of a text face stands between 0.6 and 0.8 em.
  const FaceMetrics metrics = shaper_->metrics({"Lato", Weight::Regular, Slant::Upright}, Length::pt(100));
  EXPECT_GT(metrics.cap_height, Length::pt(60));
  EXPECT_LT(metrics.cap_height, Length::pt(80));
  EXPECT_GT(metrics.x_height, Length::pt(40));
  EXPECT_LT(metrics.x_height, metrics.cap_height);
  const Line line = shaper_->line("H", style("Lato", 100));
  EXPECT_LT(base::abs(line.ink.height - metrics.cap_height), Length::pt(1.5));
}

TEST_F(PangoShaper, NothingIsRounded) {
  const Length small = shaper_->line("Waltz", style("Lato", 7)).width;
  const Length large = shaper_->line("Waltz", style("Lato", 70)).width;
  EXPECT_LT(base::abs(large - small * 10.0), Length::pt(0.1));
}

TEST_F(PangoShaper, HasNoLigatures) {
  const Line line = shaper_->line("ffi", style("Gentium Plus", 10));
  ASSERT_EQ(line.runs.size(), 1U);
  EXPECT_EQ(line.runs[0].run.glyphs.size(), 3U);
}

TEST_F(PangoShaper, RunsJoinToTheText) {
  const std::string text = "F♯m7♭5 / A♮ and 𝄪";
  EXPECT_EQ(text_of(shaper_->line(text, style("Lato", 10, Weight::Bold))), text);
}

TEST_F(PangoShaper, OneRunPerFaceWithClustersInItsText) {
  const Line line = shaper_->line("B♭m", style("Lato", 10, Weight::Bold));
  ASSERT_EQ(line.runs.size(), 3U);
  EXPECT_EQ(line.runs[0].run.face.family, "Lato");
  EXPECT_EQ(line.runs[1].run.face.family, "Gentium Plus");
  EXPECT_EQ(line.runs[1].run.face.weight, Weight::Bold);
  EXPECT_EQ(line.runs[1].run.text, "♭");
  EXPECT_EQ(line.runs[1].run.glyphs[0].cluster, 0U);
  EXPECT_EQ(line.runs[2].x, line.runs[0].run.advance + line.runs[1].run.advance);
}

TEST_F(PangoShaper, TabularFiguresAreOneWidth) {
  TextStyle tabular = style("Lato", 10);
  tabular.tabular = true;
  const Length one = shaper_->line("1", tabular).width;
  for (const char* figure : {"0", "4", "7", "8"}) EXPECT_EQ(shaper_->line(figure, tabular).width, one);
}

TEST_F(PangoShaper, TrackingAddsSpaceBetweenLetters) {
  TextStyle tracked = style("Lato", 10);
  const Length tight = shaper_->line("abcd", tracked).width;
  tracked.tracking = 50;
  const Length wide = shaper_->line("abcd", tracked).width;
  EXPECT_GE(wide - tight, Length::pt(1.4));
  EXPECT_LE(wide - tight, Length::pt(2.1));
}

TEST_F(PangoShaper, ParagraphsStayWithinTheirWidth) {
  const auto lines =
      set("Let the thumb keep time on the low strings while the fingers answer above it.", 120, Alignment::Left);
  ASSERT_GE(lines.size(), 3U);
  for (const Line& line : lines) EXPECT_LE(line.ink.right(), Length::pt(120));
}

TEST_F(PangoShaper, JustifiedLinesReachBothEdges) {
  const auto lines =
      set("Let the thumb keep time on the low strings while the fingers answer above it.", 120, Alignment::Justified);
  for (std::size_t i = 0; i + 1 < lines.size(); ++i) {
    EXPECT_LT(base::abs(lines[i].ink.right() - Length::pt(120)), Length::pt(1.5)) << i;
  }
}

TEST_F(PangoShaper, SoftHyphensShowOnlyWhereALineBreaks) {
  EXPECT_EQ(text_of(set("won\u00ADder\u00ADful", 200, Alignment::Left)[0]), "wonderful");
  const auto lines = set("won\u00ADder\u00ADful", 42, Alignment::Left);
  ASSERT_EQ(lines.size(), 2U);
  EXPECT_EQ(text_of(lines[0]), "wonder\u00AD");
  EXPECT_EQ(text_of(lines[1]), "ful");
  EXPECT_EQ(lines[0].runs[0].run.glyphs.size(), 7U) << "six letters and a hyphen";
}

TEST_F(PangoShaper, LineFeedsAlwaysBreak) {
  EXPECT_EQ(set("a\nb", 100, Alignment::Left).size(), 2U);
}

TEST_F(PangoShaper, AlignsToTheRight) {
  const Line line = set("ab", 100, Alignment::Right)[0];
  EXPECT_LT(base::abs(line.runs[0].x + line.runs[0].run.advance - Length::pt(100)), Length::pt(0.1));
}

TEST_F(PangoShaper, KeepsMissingCharacters) {
  EXPECT_TRUE(shaper_->missing().empty());
  shaper_->line("ab\U0001F9A9", style("Lato", 10));
  EXPECT_EQ(shaper_->missing(), std::vector<char32_t>{0x1F9A9});
}

TEST_F(PangoShaper, AnUnknownFamilyFailsByName) {
  try {
    shaper_->line("x", style("No Such Family", 10));
    FAIL() << "a family that is not there was replaced in silence";
  } catch (const std::runtime_error& error) {
    EXPECT_NE(std::string(error.what()).find("No Such Family"), std::string::npos);
  }
}

TEST_F(PangoShaper, ShapesTheSameAgain) {
  const Line first = shaper_->line("Am7", style("Lato", 10));
  const Line again = shaper_->line("Am7", style("Lato", 10));
  EXPECT_EQ(first.width, again.width);
  EXPECT_EQ(first.runs[0].run.glyphs.size(), again.runs[0].run.glyphs.size());
}

TEST_F(PangoShaper, OutlinesAreTheInk) {
  const Line line = shaper_->line("o", style("Gentium Plus", 50));
  const auto drawn = bounds(shaper_->outline(line.runs[0].run.face, line.runs[0].run.glyphs[0].id, Length::pt(50)));
  ASSERT_TRUE(drawn);
  EXPECT_LT(base::abs(drawn->width - line.ink.width), Length::pt(0.6));
  EXPECT_LT(base::abs(drawn->top() - line.ink.top()), Length::pt(0.6));
}

}  // namespace
}  // namespace tunesheaf::text

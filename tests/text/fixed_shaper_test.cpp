#include <gtest/gtest.h>

#include "tunesheaf/text/shaper.h"

namespace tunesheaf::text {
namespace {

using base::Length;

TextStyle plain(double size) {
  return {{"Any"}, Length::pt(size), 0, false};
}

std::string text_of(const Line& line) {
  std::string out;
  for (const PlacedRun& placed : line.runs) out += placed.run.text;
  return out;
}

std::vector<Line> set(const std::string& text, double width, Alignment alignment = Alignment::Left) {
  const StyledText piece{text, plain(10)};
  return make_fixed_shaper()->paragraph({&piece, 1}, Length::pt(width), alignment, "en");
}

TEST(FixedShaper, GivesLettersAndFiguresTheirWidths) {
  const Line line = make_fixed_shaper()->line("ab12", plain(10));
  EXPECT_EQ(line.width, Length::pt(6) * 2 + Length::pt(5.5) * 2);
  EXPECT_EQ(line.ascent, Length::pt(8));
  EXPECT_EQ(line.descent, Length::pt(2));
  ASSERT_EQ(line.runs.size(), 1U);
  EXPECT_EQ(line.runs[0].run.glyphs.size(), 4U);
}

TEST(FixedShaper, CountsCharactersNotBytes) {
  const Line line = make_fixed_shaper()->line("B♭", plain(10));
  EXPECT_EQ(line.width, Length::pt(12));
  EXPECT_EQ(line.runs[0].run.glyphs[1].cluster, 1U);
}

TEST(FixedShaper, TrackingWidensEachLetter) {
  TextStyle style = plain(10);
  style.tracking = 50;
  EXPECT_EQ(make_fixed_shaper()->line("abcd", style).width, Length::pt(26));
}

TEST(FixedShaper, KeepsStylesApart) {
  const StyledText pieces[] = {{"C", plain(10)}, {"7", plain(20)}};
  const Line line = make_fixed_shaper()->line(pieces);
  ASSERT_EQ(line.runs.size(), 2U);
  EXPECT_EQ(line.runs[1].x, Length::pt(6));
  EXPECT_EQ(line.ascent, Length::pt(16));
}

TEST(FixedShaper, BreaksAtBlanks) {
  const auto lines = set("one two three", 48);
  ASSERT_EQ(lines.size(), 2U);
  EXPECT_EQ(text_of(lines[0]), "one two");
  EXPECT_EQ(text_of(lines[1]), "three");
}

TEST(FixedShaper, BreaksWordsThatAreWiderThanTheLine) {
  const auto lines = set("abcdefgh", 30);
  ASSERT_EQ(lines.size(), 2U);
  EXPECT_EQ(text_of(lines[0]), "abcde");
}

TEST(FixedShaper, HyphenatesAtSoftHyphensOnly) {
  const auto lines = set("wonder\u00ADful day", 50);
  ASSERT_EQ(lines.size(), 2U);
  EXPECT_EQ(text_of(lines[0]), "wonder-");
  EXPECT_EQ(text_of(lines[1]), "ful day");
  EXPECT_EQ(text_of(set("wonder\u00ADful", 100)[0]), "wonderful");
}

TEST(FixedShaper, LineFeedsAlwaysBreak) {
  const auto lines = set("a\n\nb", 100);
  ASSERT_EQ(lines.size(), 3U);
  EXPECT_EQ(text_of(lines[1]), "");
}

TEST(FixedShaper, AlignsWithinTheWidth) {
  EXPECT_EQ(set("ab", 100, Alignment::Right)[0].runs[0].x, Length::pt(88));
  EXPECT_EQ(set("ab", 100, Alignment::Centre)[0].runs[0].x, Length::pt(44));
  const auto justified = set("one two three", 48, Alignment::Justified);
  EXPECT_EQ(justified[0].width, Length::pt(48));
  EXPECT_EQ(justified[1].width, Length::pt(30)) << "the last line is left as it is";
}

}  // namespace
}  // namespace tunesheaf::text

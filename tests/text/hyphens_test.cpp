#include "tunesheaf/text/hyphens.h"

#include <gtest/gtest.h>

#include "support/temp_dir.h"
#include "tunesheaf/text/pango_shaper.h"

namespace tunesheaf::text {
namespace {

/// Parted at every "l" before "d", and between two "n".
constexpr const char* kRules = "UTF-8\nl1d\nn1n\n";

std::string shown(std::string text) {
  for (auto at = text.find("\u00ad"); at != std::string::npos; at = text.find("\u00ad")) text.replace(at, 2, "-");
  return text;
}

class Hyphens : public testing::Test {
 protected:
  std::string parted(const std::string& text, const std::string& language) {
    Hyphenator hyphenator(folder_.path().string());
    return shown(hyphenator.parted(text, language));
  }
  support::TempDir folder_;
};

TEST_F(Hyphens, WordsArePartedByTheRulesOfTheirLanguage) {
  folder_.write("hyph_en_US.dic", kRules);
  EXPECT_EQ(parted("holding the tunnel, unbuilded", "en"), "hol-ding the tun-nel, unbuil-ded");
  EXPECT_EQ(parted("holding", "en-GB"), "hol-ding") << "another region's rules where there are none of its own";
  EXPECT_EQ(parted("holding", ""), "hol-ding");
  EXPECT_EQ(parted("holding", "fr"), "holding");
}

TEST_F(Hyphens, NothingFailsWithoutADictionary) {
  EXPECT_EQ(parted("holding", "en"), "holding");
  Hyphenator nowhere("/nonexistent-folder");
  EXPECT_EQ(nowhere.parted("holding", "en"), "holding");
}

TEST_F(Hyphens, WhatIsInstalledIsToldApart) {
  const std::string before = Hyphenator::installed(folder_.path().string());
  folder_.write("hyph_en_US.dic", kRules);
  const std::string after = Hyphenator::installed(folder_.path().string());
  EXPECT_EQ(before, "");
  EXPECT_EQ(after, "hyph_en_US.dic 14\n");
  EXPECT_EQ(Hyphenator::installed("/nonexistent-folder"), "");
}

TEST_F(Hyphens, NamesChordsAndShortWordsStayWhole) {
  folder_.write("hyph_en_US.dic", kRules);
  EXPECT_EQ(parted("Holding Hannah olden well-holding https://example.org/holding holding7", "en"),
            "Holding Hannah olden well-holding https://example.org/holding holding7");
}

TEST_F(Hyphens, LettersOfOtherSetsAreRead) {
  folder_.write("hyph_de_DE.dic",
                "ISO8859-1\nl1d\n\xF6"
                "1l\n");
  EXPECT_EQ(parted("Vergoldung vergölleren тихая", "de"), "Vergol-dung vergö-lleren тихая");
}

TEST_F(Hyphens, TheShaperSetsThemInRunningTextOnly) {
  folder_.write("hyph_en_US.dic", kRules);
  auto book = FontBook::open(FontBook::usual_folders());
  ASSERT_TRUE(book) << book.error().message;
  const auto shaper = make_pango_shaper(*book.value(), folder_.path().string());
  auto* running = dynamic_cast<RunningText*>(shaper.get());
  ASSERT_NE(running, nullptr);
  const std::string text = "a hand is holding on to it as it may";
  const std::string prepared = running->running(text, "en");
  EXPECT_EQ(shown(prepared), "a hand is hol-ding on to it as it\u00a0may") << "the last word is not left alone";
  const StyledText piece{prepared, {{"Gentium Plus", Weight::Regular, Slant::Upright}, base::Length::pt(10), 0, false}};
  const auto lines = shaper->paragraph({&piece, 1}, base::Length::pt(60), Alignment::Left, "en");
  ASSERT_GT(lines.size(), 1U);
  std::string first;
  for (const PlacedRun& run : lines[0].runs) first += run.run.text;
  EXPECT_EQ(shown(first), "a hand is hol-");
  for (const Line& line : lines) EXPECT_LE(line.width, base::Length::pt(61));
}

}  // namespace
}  // namespace tunesheaf::text

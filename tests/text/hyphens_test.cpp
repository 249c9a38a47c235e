#include "tunesheaf/text/hyphens.h"

#include <gtest/gtest.h>
#include <hyphen.h>

#include <filesystem>
#include <random>

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

/// As hyphenator and library part 2,000 words of letters, by the same list of patterns: the places they do not share.
std::string differences(const std::string& folder) {
  const std::string file = folder + "/hyph_en_US.dic";
  HyphenDict* dict = hnj_hyphen_load(file.c_str());
  Hyphenator hyphenator(folder);
  std::mt19937 random(7);
  std::string out;
  for (int i = 0; i < 2000; ++i) {
    std::string word(6 + random() % 12, ' ');
    for (char& c : word) c = "etaoinshrdlucmfwypvbgkqjxz"[std::min(random() % 26, random() % 26)];
    std::vector<char> marks(word.size() + 5);
    char** changed = nullptr;
    int *from = nullptr, *cut = nullptr;
    hnj_hyphen_hyphenate2(dict, word.data(), static_cast<int>(word.size()), marks.data(), nullptr, &changed, &from,
                          &cut);
    std::string theirs;
    for (std::size_t k = 0; k < word.size(); ++k) {
      theirs += word[k];
      if (k >= 2 && k + 4 <= word.size() && (marks[k] & 1) != 0) theirs += "\u00ad";
    }
    if (const std::string ours = hyphenator.parted(word, "en"); ours != theirs)
      out += shown(ours) + " for " + shown(theirs) + "\n";
  }
  hnj_hyphen_free(dict);
  return out;
}

TEST_F(Hyphens, PlainPatternsAreReadAsTheLibraryReadsThem) {
  folder_.write("hyph_en_US.dic",
                "UTF-8\nLEFTHYPHENMIN 2\n% a remark\n.at2e4\na1t\n1na\ne2t1i\nt1i\nn1s2t\n2st.\no3\n4on\n"
                "1o2n3s\na1t\na2t\n");
  EXPECT_EQ(differences(folder_.path().string()), "");
  folder_.write("hyph_en_US.dic", "ISO8859-1\nRIGHTHYPHENMIN 4\na1\ne1\n2s\n");
  EXPECT_EQ(differences(folder_.path().string()), "");
  ASSERT_TRUE(std::filesystem::exists(Hyphenator::usual_folder() + "/hyph_en_US.dic")) << "hyphen-en-us is missing";
  EXPECT_EQ(differences(Hyphenator::usual_folder()), "");
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

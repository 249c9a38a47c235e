// Tidying: lanes in columns, everything else byte for byte, the same song before and after.
#include <gtest/gtest.h>

#include <random>

#include "reading.h"
#include "support/golden.h"

namespace tunesheaf::song {
namespace {

std::string tidied(const std::string& text) {
  const Reading reading = read_text_of_song(text);
  EXPECT_TRUE(reading.nodes) << reading.said();
  return tidy(*reading.nodes, reading.file());
}

std::string tidied_lanes(const std::string& lanes) {
  const std::string head = song_with_lanes("");
  const std::string text = tidied(song_with_lanes(lanes));
  return text.substr(head.size() - 1);
}

TEST(Tidy, AlignsNamesBarsAndBeats) {
  EXPECT_EQ(tidied_lanes("1|0 : h2   :  -|2|\nthumb 4 |  | - : 2 10 : |\nshape | two  finger | home |"),
            "      1       | 0 : h2 : - | 2            |\n"
            "      thumb 4 |            | - : 2 10 :   |\n"
            "      shape   | two finger | home         |\n");
}

TEST(Tidy, KeepsCommentsQuotesAndWhatIsNoLane) {
  EXPECT_EQ(tidied_lanes("1 | 0 | # one  two\n  # alone\nsay | \"a  |  b\" |"),
            "      1   | 0         | # one  two\n"
            "        # alone\n"
            "      say | \"a  |  b\" |\n");
}

TEST(Tidy, LeavesStanzasWithFaultsAlone) {
  const std::string lanes = "1|0 : 2\n2 | 1   |\n\n1|0|";
  EXPECT_EQ(tidied_lanes(lanes), "      1|0 : 2\n      2 | 1   |\n\n      1 | 0 |\n");
}

TEST(Tidy, CountsColumnsNotBytes) {
  EXPECT_EQ(tidied_lanes("lyric | s\u00fc\u00df |\nsay | ab |"),
            "      lyric | s\u00fc\u00df |\n      say   | ab  |\n");
}

TEST(Tidy, TouchesNothingElse) {
  const std::string text =
      "# head  \nsong:   Quarry  Lane   # title\nparts: {player: {instrument:   guitar}}\r\n\nsections:\n  tune:\n"
      "    says: |\n      1|not a lane|\n    player: |\n      1|0|\n";
  const std::string made = tidied(text);
  EXPECT_EQ(made, text.substr(0, text.rfind("1|0|")) + "1 | 0 |\n");
}

TEST(Tidy, WholeSongKeepsItsMeaning) {
  const std::string text = support::read_file(support::golden_folder() / "song" / "heron-stair.yaml");
  const std::string once = tidied(text);
  EXPECT_EQ(tidied(once), once);
  EXPECT_EQ(print(*read_text_of_song(once).song), print(*read_text_of_song(text).song));
  support::expect_golden("song/heron-stair.tidy", once);
}

/// Random lanes with random blanks: names, bars with and without colons, comments, empty bars.
std::string random_lanes(std::mt19937& random) {
  const auto any = [&](std::size_t below) { return static_cast<std::size_t>(random() % below); };
  const std::vector<std::string> cells{"0", "h2", "p0", "x", "-", ".", "12b14", "(5)", "~", "7/", "10"};
  const auto blanks = [&] { return std::string(1 + any(3), ' '); };
  std::string text;
  for (std::size_t stanza = 0; stanza <= any(3); ++stanza) {
    if (stanza > 0) text += "\n";
    for (int lane = 1; lane <= 1 + static_cast<int>(any(3)); ++lane) {
      text += std::to_string(lane) + blanks() + "|";
      for (std::size_t bar = 0; bar < 1 + any(4); ++bar) {
        for (std::size_t beat = 0, beats = 1 + any(4); beat < beats; ++beat) {
          if (beat > 0) text += " :";
          for (std::size_t cell = 0, count = any(4); cell < count; ++cell) text += blanks() + cells[any(cells.size())];
        }
        text += blanks() + "|";
      }
      text += any(4) == 0 ? "  # comment " + std::to_string(any(100)) + "\n" : std::string(any(3), ' ') + "\n";
    }
  }
  return text;
}

TEST(Tidy, AnyLanesKeepTheirMeaning) {
  std::mt19937 random(20260301);
  for (int i = 0; i < 500; ++i) {
    const std::string text = song_with_lanes(random_lanes(random));
    const Reading before = read_text_of_song(text);
    ASSERT_EQ(before.said(), "") << text;
    const std::string once = tidied(text);
    const Reading after = read_text_of_song(once);
    ASSERT_EQ(print(*after.song), print(*before.song)) << text << once;
    ASSERT_EQ(tidied(once), once) << text;
  }
}

}  // namespace
}  // namespace tunesheaf::song

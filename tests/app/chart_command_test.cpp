// The command `chart`: its files, its answers to wrong wishes, and what it says in the terminal.
#include <gtest/gtest.h>

#include <filesystem>

#include "runner.h"
#include "support/temp_dir.h"

namespace tunesheaf::app {
namespace {

namespace fs = std::filesystem;
using support::holds;
using support::Outcome;
using support::read_file;
using support::run_words;
using support::TempDir;

class ChartCommand : public testing::Test {
 protected:
  ChartCommand() { support::use_house_styles(); }
  std::string demo(const std::string& name) const {
    return (fs::path(TUNESHEAF_SOURCE_DIR) / "songs-demo" / (name + ".yaml")).string();
  }
  std::string song(const std::string& name) const {
    return (fs::path(TUNESHEAF_SOURCE_DIR) / "tests" / "songs" / (name + ".yaml")).string();
  }
  std::string out(const std::string& name) const { return folder_.path() / name; }
  const TempDir folder_;
};

TEST_F(ChartCommand, PrintsInEachFormat) {
  EXPECT_EQ(run_words({"chart", demo("heron-stair"), "-o", out("a.pdf")}).code, 0);
  EXPECT_EQ(read_file(out("a.pdf")).rfind("%PDF-", 0), 0U);
  EXPECT_EQ(run_words({"chart", demo("heron-stair"), "-o", out("a.svg"), "--paper", "letter"}).code, 0);
  EXPECT_TRUE(holds(read_file(out("a.svg")), "<svg")) << "one page, one file";
  EXPECT_EQ(run_words({"chart", demo("heron-stair"), "-o", out("a.png"), "--names", "roman"}).code, 0);
  EXPECT_EQ(read_file(out("a.png")).rfind("\x89PNG", 0), 0U);
  EXPECT_EQ(run_words({"chart", demo("heron-stair"), "-o", out("a.txt")}).code, 2);
}

TEST_F(ChartCommand, SaysInTheTerminalWhatItFolded) {
  std::string text = "song: Round and Round\nkey: C major\nsections:\n";
  const std::vector<std::string> roots{"C", "D", "E", "F", "G", "A", "B"};
  for (std::size_t s = 0; s < 12; ++s) {
    text += "  part " + std::to_string(s) + ":\n    chart: |\n";
    for (int t = 0; t < 4; ++t) {
      text += std::string(t > 0 ? "\n" : "") + "      chords |";
      for (std::size_t b = 0; b < 4; ++b) text += " " + roots[(s * 2 + b * 3) % roots.size()] + "m7b5 |";
      text += "\n";
    }
  }
  const Outcome outcome = run_words({"chart", folder_.write("s.yaml", text), "-o", out("a.pdf")});
  EXPECT_EQ(outcome.code, 0) << outcome.err;
  EXPECT_TRUE(holds(outcome.err, "folded to fit one page")) << outcome.err;
}

TEST_F(ChartCommand, SaysWhereItWritesNoChordForWantOfOne) {
  const std::string head = "song: Still Water\nparts:\n  guitar: {instrument: guitar}\nsections:\n";
  const std::string named = "  verse:\n    chart: |\n      chords | C | G |\n    guitar: |\n      1 | 0 | 3 |\n";
  const std::string text = head + named + "  outro:\n    guitar: |\n      1 | 0 : 3 : 0 : - | 0 |\n";
  const auto said = [&](const std::string& song) {
    return run_words({"chart", folder_.write("s.yaml", song), "-o", out("a.pdf")}).err;
  };
  EXPECT_TRUE(holds(said(text), "no chord is named in \"outro\"")) << said(text);
  EXPECT_FALSE(holds(said(head + named), "no chord is named"));
  EXPECT_FALSE(holds(said(text + "    chart: |\n      chords | N.C. | - |\n"), "no chord is named"));
}

TEST_F(ChartCommand, AnswersWrongWishesWithTheNearest) {
  const auto said = [&](const std::vector<std::string>& more) {
    std::vector<std::string> words{"chart", demo("heron-stair"), "-o", out("a.pdf")};
    words.insert(words.end(), more.begin(), more.end());
    const Outcome outcome = run_words(words);
    EXPECT_EQ(outcome.code, 2) << outcome.err;
    return outcome.err;
  };
  EXPECT_TRUE(holds(said({"--for", "B flatt"}), "the nearest is \"B flat\""));
  EXPECT_TRUE(holds(said({"--for", "in concertt"}), "the nearest is \"in concert\""));
  EXPECT_TRUE(holds(said({"--names", "degree"}), "degrees"));
  EXPECT_TRUE(holds(said({"--name", "ear"}), "--names"));
}

TEST_F(ChartCommand, DegreesNeedAKey) {
  const std::string path =
      folder_.write("s.yaml", "song: Keyless\nsections:\n  a:\n    chart: |\n      chords | C | F |\n");
  const Outcome outcome = run_words({"chart", path, "--names", "degrees", "-o", out("a.pdf")});
  EXPECT_EQ(outcome.code, 1);
  EXPECT_TRUE(holds(outcome.err, "states no key")) << outcome.err;
  EXPECT_EQ(run_words({"chart", path, "-o", out("a.pdf")}).code, 0);
}

TEST_F(ChartCommand, NamesChordsThatNoHandCanPlay) {
  const std::string path = folder_.write(
      "s.yaml", "song: Hard\nkey: C major\nsections:\n  a:\n    chart: |\n      chords | C | Gb13(b9,#11)/D | F |\n");
  const Outcome outcome = run_words({"chart", path, "--for", "ukulele", "-o", out("a.pdf")});
  EXPECT_EQ(outcome.code, 0) << outcome.err;
  EXPECT_TRUE(holds(outcome.err, "no hand can play")) << outcome.err;
  EXPECT_TRUE(holds(outcome.err, "the nearest is")) << outcome.err;
}

TEST_F(ChartCommand, RefusesWhatDoesNotFitWithTheRemedy) {
  std::string text = "song: Endless\nkey: C major\nsections:\n";
  const std::vector<std::string> roots{"C", "D", "E", "F", "G", "A", "B", "Bb", "Eb", "Ab", "F#"};
  for (int s = 0; s < 26; ++s) {
    text += "  part " + std::to_string(s) + ":\n    chart: |\n";
    for (int t = 0; t < 12; ++t) {
      text += std::string(t > 0 ? "\n" : "") + "      chords |";
      for (int b = 0; b < 4; ++b)
        text += " " + roots[static_cast<std::size_t>(s * 7 + t * 5 + b * 3 + t * b) % roots.size()] + "m7b5 |";
      text += "\n";
    }
  }
  const std::string path = folder_.write("s.yaml", text);
  const Outcome outcome = run_words({"chart", path, "-o", out("a.pdf")});
  EXPECT_EQ(outcome.code, 1);
  EXPECT_TRUE(holds(outcome.err, "does not fit on one page")) << outcome.err;
  EXPECT_TRUE(holds(outcome.err, "make two songs")) << outcome.err;
  EXPECT_FALSE(fs::exists(out("a.pdf")));
}

TEST_F(ChartCommand, IsAudited) {
  const Outcome outcome = run_words({"audit", demo("nine-pylons"), "--sheet", "chart", "--paper", "letter"});
  EXPECT_EQ(outcome.code, 0) << outcome.out << outcome.err;
  EXPECT_TRUE(holds(outcome.out, "1 page")) << outcome.out;
}

}  // namespace
}  // namespace tunesheaf::app

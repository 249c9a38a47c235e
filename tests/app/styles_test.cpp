// Every style that comes along prints a whole song with a clean audit; tokens of the command line and of a style beside
// the song are heeded, and wrong ones are refused with the nearest.
#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>

#include "runner.h"
#include "support/golden.h"
#include "support/temp_dir.h"
#include "tunesheaf/style/load.h"

namespace tunesheaf::app {
namespace {

namespace fs = std::filesystem;
using support::holds;
using support::Outcome;
using support::run_words;
using support::TempDir;

const fs::path kSource = TUNESHEAF_SOURCE_DIR;
const std::string kSong = kSource / "tests/songs/first-line.yaml";

class EveryStyle : public testing::TestWithParam<std::string> {};

TEST_P(EveryStyle, PrintsAHandoutWithACleanAudit) {
  support::use_house_styles();
  const Outcome audit = run_words({"audit", kSong, "--style", GetParam()});
  EXPECT_EQ(audit.code, 0) << audit.out << audit.err;
  EXPECT_TRUE(holds(audit.out, " 0 breaches")) << audit.out;
  const TempDir folder;
  const std::string page = folder.path() / "page.pdf";
  const Outcome handout = run_words({"handout", kSong, "--style", GetParam(), "-o", page});
  EXPECT_EQ(handout.code, 0) << handout.err;
  EXPECT_EQ(handout.err, "") << "nothing is too wide or too high";
}

TEST_P(EveryStyle, PrintsAChartWithACleanAudit) {
  support::use_house_styles();
  const Outcome audit = run_words({"audit", kSong, "--sheet", "chart", "--style", GetParam()});
  EXPECT_EQ(audit.code, 0) << audit.out << audit.err;
  EXPECT_TRUE(holds(audit.out, "1 pages")) << audit.out;
}

/// Nothing is amiss: no breach, and no warning that something is too wide, too high or set smaller.
void expect_clean(const std::string& song, const std::string& sheet, const std::string& style,
                  const std::string& paper) {
  const Outcome audit = run_words({"audit", song, "--sheet", sheet, "--style", style, "--paper", paper});
  const std::string what = fs::path(song).stem().string() + ", " + sheet + ", " + style + ", " + paper + "\n";
  EXPECT_EQ(audit.code, 0) << what << audit.out;
  EXPECT_TRUE(holds(audit.out, " 0 breaches")) << what << audit.out;
  EXPECT_FALSE(holds(audit.err, "warning")) << what << audit.err;
}

TEST_P(EveryStyle, PrintsEverySheetOfEveryDemoSongWithACleanAudit) {
  support::use_house_styles();
  for (const auto& song : fs::directory_iterator(kSource / "songs-demo")) {
    if (song.path().extension() != ".yaml") continue;
    for (const char* sheet : {"handout", "practice", "chart"}) {
      expect_clean(song.path(), sheet, GetParam(), "a4");
      if (GetParam() == "house") expect_clean(song.path(), sheet, GetParam(), "letter");
    }
  }
}

INSTANTIATE_TEST_SUITE_P(Styles, EveryStyle, testing::ValuesIn(style::style_names((kSource / "styles").string())),
                         [](const auto& param) {
                           std::string name = param.param;
                           std::replace(name.begin(), name.end(), '-', '_');
                           return name;
                         });

std::string display(const std::vector<std::string>& more) {
  std::vector<std::string> words{"phase", "display", kSong};
  words.insert(words.end(), more.begin(), more.end());
  const Outcome outcome = run_words(words);
  EXPECT_EQ(outcome.code, 0) << outcome.err;
  return outcome.out;
}

TEST(Set, ChangesThePage) {
  support::use_house_styles();
  const std::string page = display({"--set", "page.width=200mm", "--set=colour.ink=#000080"});
  EXPECT_TRUE(holds(page, "#000080")) << page.substr(0, 400);
  EXPECT_FALSE(holds(display({}), "#000080"));
  EXPECT_NE(page, display({"--set", "colour.ink=#000080"})) << "both are heeded";
}

TEST(Set, IsRefusedWithTheNearest) {
  const std::pair<const char*, const char*> bad[] = {
      {"staf space=2 mm", "tunesheaf: --set: \"staf space\" is no token of a style; the nearest is staff space\n"},
      {"staff space=2",
       "tunesheaf: --set: \"2\" has no unit; staff space is a length in mm, pt or sp, such as 12 pt\n"},
  };
  for (const char* command : {"handout", "chart", "practice", "audit"}) {
    for (const auto& [text, words] : bad) {
      const Outcome outcome = run_words({command, kSong, "--set", text});
      EXPECT_EQ(outcome.code, 2);
      EXPECT_EQ(outcome.err, words);
    }
  }
  EXPECT_EQ(run_words({"legend", "--set", "body=3"}).code, 2);
}

TEST(MirroredTab, PrintsEverySheetOfEveryDemoSongWithACleanAudit) {
  support::use_house_styles();
  for (const char* staves : {"both", "tab"}) {
    for (const auto& song : fs::directory_iterator(kSource / "songs-demo")) {
      if (song.path().extension() != ".yaml") continue;
      const Outcome audit = run_words({"audit", song.path(), "--style", "left-handed", "--set", "mirrored tab=yes",
                                       "--set", std::string("show staves=") + staves});
      EXPECT_EQ(audit.code, 0) << song.path() << staves << audit.out;
      EXPECT_TRUE(holds(audit.out, " 0 breaches")) << song.path() << staves << audit.out;
    }
  }
}

TEST(SongStyle, IsLookedForBesideTheSong) {
  support::use_house_styles();
  const TempDir folder;
  folder.write("blue.yaml", "style: blue\nextends: ink\ncolour: {ink: \"#000080\"}\n");
  const fs::path song = folder.write("song.yaml", "style: blue.yaml\n" + std::string(support::small_song()));
  const Outcome page = run_words({"phase", "display", song});
  EXPECT_EQ(page.code, 0) << page.err;
  EXPECT_TRUE(holds(page.out, "#000080"));
  const Outcome over = run_words({"phase", "display", song, "--style", "house"});
  EXPECT_FALSE(holds(over.out, "#000080")) << "the command line stands over the song";
}

TEST(SongStyle, ThatIsNotThereIsSaidWhereTheSongNamesIt) {
  support::use_house_styles();
  const TempDir folder;
  const fs::path song = folder.write("song.yaml", "style: larg\n" + std::string(support::small_song()));
  const Outcome outcome = run_words({"handout", song, "--format", "lines"});
  EXPECT_EQ(outcome.code, 1);
  EXPECT_TRUE(holds(outcome.err, "song.yaml:1:8: ")) << outcome.err;
  EXPECT_TRUE(holds(outcome.err, "did you mean \"large\"?")) << outcome.err;
}

TEST(StyleReference, StandsBehindTheWordStyle) {
  const Outcome whole = run_words({"reference", "style"});
  EXPECT_TRUE(holds(whole.out, "key of the song")) << "the song's key of that name comes first";
  EXPECT_TRUE(holds(whole.out, "Tokens of a style"));
  const Outcome one = run_words({"reference", "style", "staff", "space"});
  EXPECT_TRUE(holds(one.out, "staff space  -  token of a style: a length in mm, pt or sp")) << one.out;
}

}  // namespace
}  // namespace tunesheaf::app

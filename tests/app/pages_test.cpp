// Commands that make pages, with real fonts: files in three formats, phases, choices by name, styles.
#include <gtest/gtest.h>

#include "runner.h"
#include "support/temp_dir.h"

namespace tunesheaf::app {
namespace {

using support::holds;
using support::lines_of;
using support::Outcome;
using support::read_file;
using support::run_words;
using support::small_song;
using support::TempDir;

class Pages : public testing::Test {
 protected:
  Pages() : song_(folder_.write("song.yaml", small_song())) { support::use_house_styles(); }

  std::string in_folder(const std::string& name) const { return folder_.path() / name; }

  const TempDir folder_;
  const std::string song_;
};

/// Four pages are under 150 KB, the fonts with them. What stands in a file once, as fonts do, is shared out to the
/// pages here.
TEST_F(Pages, OfAHandoutAreSmallFiles) {
  for (const char* name : {"biscuit-weather", "heron-stair", "lamplighters-goat", "nine-pylons"}) {
    const std::string path = in_folder(std::string(name) + ".pdf");
    const std::string song = std::string(TUNESHEAF_SOURCE_DIR) + "/songs-demo/" + name + ".yaml";
    ASSERT_EQ(run_words({"handout", song, "-o", path}).code, 0);
    const Outcome layout = run_words({"phase", "layout", song});
    double pages = 0;
    for (const std::string& line : lines_of(layout.out)) pages += line.starts_with("page ") ? 1 : 0;
    ASSERT_GE(pages, 4) << name;
    EXPECT_LT(static_cast<double>(std::filesystem::file_size(path)) * 4 / pages, 100000) << name;
  }
}

TEST_F(Pages, ArePrintedBesideTheSong) {
  const Outcome outcome = run_words({"handout", song_});
  EXPECT_EQ(outcome.code, 0) << outcome.err;
  EXPECT_EQ(outcome.out, "");
  EXPECT_EQ(outcome.err, "") << "quiet when nobody watches";
  EXPECT_EQ(read_file(in_folder("song-handout.pdf")).rfind("%PDF-1.", 0), 0U);
}

TEST_F(Pages, ArePrintedInEachFormat) {
  EXPECT_EQ(run_words({"handout", song_, "-o", in_folder("a.PDF")}).code, 0);
  EXPECT_EQ(read_file(in_folder("a.PDF")).rfind("%PDF-", 0), 0U);
  EXPECT_EQ(run_words({"handout", song_, "--output=" + in_folder("a.svg")}).code, 0);
  EXPECT_EQ(run_words({"handout", song_, "-o", in_folder("a.png")}).code, 0);
  int svg = 0, png = 0;
  for (const auto& entry : std::filesystem::directory_iterator(folder_.path())) {
    const std::string bytes = read_file(entry.path());
    if (entry.path().extension() == ".svg") svg += holds(bytes, "<svg") && holds(bytes, "</svg>") ? 1 : 100;
    if (entry.path().extension() == ".png") png += bytes.rfind("\x89PNG", 0) == 0 ? 1 : 100;
  }
  EXPECT_GE(svg, 1);
  EXPECT_EQ(svg, png) << "a picture for each page";
  EXPECT_LT(svg, 100) << "a picture that is none";
}

TEST_F(Pages, HaveTheSizeThatIsAskedFor) {
  EXPECT_TRUE(holds(run_words({"phase", "display", song_}).out, "595.28"));
  EXPECT_TRUE(holds(run_words({"phase", "display", song_, "--paper", "letter"}).out, "612"));
}

TEST_F(Pages, EveryPhasePrintsAndAFaultStopsTheRest) {
  const std::string bad = folder_.write("bad.yaml", std::string(small_song()) + "tempoo: 90\n");
  for (const char* phase : {"nodes", "song", "checked", "timeline", "layout", "display"}) {
    const Outcome outcome = run_words({"phase", phase, song_});
    EXPECT_EQ(outcome.code, 0) << phase;
    EXPECT_GT(lines_of(outcome.out).size(), 8U) << phase;
    EXPECT_EQ(outcome.err, "") << phase;
    EXPECT_EQ(run_words({"phase", phase, song_}).out, outcome.out) << phase;
    const bool stops = std::string(phase) != "nodes";
    const Outcome fault = run_words({"phase", phase, bad});
    EXPECT_EQ(fault.code, stops ? 1 : 0) << phase;
    EXPECT_EQ(holds(fault.err, "tempoo"), stops) << phase;
    EXPECT_EQ(fault.out.empty(), phase != std::string("nodes") && phase != std::string("song")) << phase;
  }
}

TEST_F(Pages, ShowThePartsThatAreChosen) {
  const std::string all = run_words({"phase", "display", song_}).out;
  const std::string one = run_words({"phase", "display", song_, "--parts", "guitar"}).out;
  const std::string both = run_words({"phase", "display", song_, "--parts", " guitar , drums "}).out;
  EXPECT_EQ(both, all);
  EXPECT_LT(one.size(), all.size());
  EXPECT_NE(run_words({"phase", "display", song_, "--parts", "drums,guitar"}).out, all);
}

TEST_F(Pages, NamesThatTheSongDoesNotKnowAreUsageErrors) {
  const std::vector<std::vector<std::string>> cases{
      {"--parts", "guitra", "\"guitra\", the nearest is \"guitar\""},
      {"--parts", "guitar,drms", "\"drms\", the nearest is \"drums\""},
      {"--recording", "studoi", "\"studoi\", the nearest is \"studio\""},
  };
  for (const auto& words : cases) {
    const Outcome outcome = run_words({"handout", song_, words[0], words[1]});
    EXPECT_EQ(outcome.code, 2) << words[1];
    EXPECT_TRUE(holds(outcome.err, words[2])) << outcome.err;
    EXPECT_FALSE(std::filesystem::exists(in_folder("song-handout.pdf")));
  }
  EXPECT_EQ(run_words({"handout", song_, "--recording", "studio"}).code, 0);
}

TEST_F(Pages, FaultsOfTheSongAreSaidInTheWayAskedFor) {
  const std::string bad = folder_.write("bad.yaml", std::string(small_song()) + "tempoo: 90\n");
  const Outcome people = run_words({"handout", bad});
  EXPECT_EQ(people.code, 1);
  EXPECT_TRUE(holds(people.err, "line 15, column 1: error: ")) << people.err;
  EXPECT_TRUE(holds(run_words({"handout", bad, "--format", "lines"}).err, bad + ":15:1: ")) << people.err;
  EXPECT_FALSE(std::filesystem::exists(in_folder("bad-handout.pdf")));
}

struct StyleCase {
  const char* text;
  const char* kind;
  int code;
};

TEST_F(Pages, FaultsOfAStyleAreSaidWithTheirPlace) {
  for (const StyleCase& style :
       {StyleCase{"kit: none\n", "style-unknown-token", 1}, StyleCase{"paper: {margin-top: wide}\n", "style-", 1}}) {
    const std::string file = folder_.write("own.yaml", style.text);
    const Outcome outcome = run_words({"handout", song_, "--style", file, "--format", "lines"});
    EXPECT_EQ(outcome.code, style.code) << style.text << outcome.err;
    EXPECT_TRUE(holds(outcome.err, file + ":1:")) << outcome.err;
    EXPECT_TRUE(holds(outcome.err, style.kind)) << outcome.err;
  }
  const Outcome missing = run_words({"handout", song_, "--style", "hose", "--format", "lines"});
  EXPECT_EQ(missing.code, 1);
  EXPECT_TRUE(holds(missing.err, "style-missing")) << missing.err;
  EXPECT_EQ(run_words({"handout", song_, "--style", "large"}).code, 0);
}

TEST_F(Pages, AnAuditFindsNothingOnThem) {
  for (const char* paper : {"a4", "letter"}) {
    const Outcome outcome = run_words({"audit", song_, "--paper", paper});
    EXPECT_EQ(outcome.code, 0) << outcome.out << outcome.err;
    EXPECT_TRUE(holds(outcome.out, " 0 breaches")) << outcome.out;
  }
}

}  // namespace
}  // namespace tunesheaf::app

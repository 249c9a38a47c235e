// What `new` writes is a song that checks without a word and prints without a breach, for every instrument.
#include <gtest/gtest.h>

#include "runner.h"
#include "support/temp_dir.h"
#include "tunesheaf/theory/instrument.h"

namespace tunesheaf::app {
namespace {

using support::holds;
using support::Outcome;
using support::read_file;
using support::run_words;
using support::TempDir;

/// Writes a new song and expects that check finds nothing wrong and nothing doubtful in it.
std::string expect_good(const TempDir& folder, const std::string& name, std::vector<std::string> options) {
  const std::string path = folder.path() / name;
  std::vector<std::string> words{"new", path};
  words.insert(words.end(), options.begin(), options.end());
  const Outcome made = run_words(words);
  std::string asked;
  for (const std::string& option : options) asked += " " + option;
  EXPECT_EQ(made.code, 0) << asked << ": " << made.err;
  const Outcome checked = run_words({"check", "--strict", path});
  EXPECT_EQ(checked.code, 0) << asked << ": " << checked.out;
  return path;
}

class NewSongIn : public testing::TestWithParam<const char*> {};

TEST_P(NewSongIn, IsGoodForEveryInstrument) {
  const TempDir folder;
  int count = 0;
  for (const std::string& instrument : theory::instrument_names()) {
    expect_good(folder, std::to_string(count++) + ".yaml", {"--instrument", instrument, "--meter", GetParam()});
  }
  EXPECT_GT(count, 20);
}

INSTANTIATE_TEST_SUITE_P(Meters, NewSongIn,
                         testing::Values("2/2", "2/4", "3/4", "4/4", "3/8", "6/8", "7/8 (2+2+3)", "5/4", "12/8"));

TEST(NewSong, IsGoodInOtherTunings) {
  const TempDir folder;
  const std::vector<std::pair<std::string, std::string>> tunings{
      {"guitar", "open G"},
      {"guitar", "drop D"},
      {"guitar", "DADGAD"},
      {"guitar", "D2 G2 C3 F3 A3 D4"},
      {"guitar", "B1 E2 A2 D3 G3 B3 E4"},
      {"ukulele", "A4 D4 F#4 B4"},
      {"ukulele", "G3 C4 E4 A4"},
      {"banjo", "G4 C3 G3 C4 D4"},
      {"bass guitar", "B0 E1 A1 D2 G2"},
      {"mandolin", "G3 D4 A4 D5"},
  };
  int count = 0;
  for (const auto& [instrument, tuning] : tunings) {
    expect_good(folder, std::to_string(count++) + ".yaml", {"--instrument", instrument, "--tuning", tuning});
  }
}

TEST(NewSong, PrintsWithoutABreachForEveryInstrument) {
  support::use_house_styles();
  const TempDir folder;
  int count = 0;
  for (const std::string& instrument : theory::instrument_names()) {
    const std::string meter = std::vector<std::string>{"4/4", "3/4", "6/8", "7/8 (2+2+3)"}[count % 4];
    const std::string path =
        expect_good(folder, std::to_string(count++) + ".yaml", {"--instrument", instrument, "--meter", meter});
    const Outcome audit = run_words({"audit", path});
    EXPECT_EQ(audit.code, 0) << instrument << " in " << meter << ": " << audit.out << audit.err;
    EXPECT_TRUE(holds(audit.out, " 0 breaches")) << audit.out;
    EXPECT_FALSE(holds(audit.out, " 0 notes")) << instrument << " in " << meter << ": " << audit.out;
  }
}

TEST(NewSong, IsPrintedToAFile) {
  support::use_house_styles();
  const TempDir folder;
  const std::string path = expect_good(folder, "mine.yaml", {});
  EXPECT_EQ(run_words({"handout", path}).code, 0);
  EXPECT_EQ(read_file(folder.path() / "mine-handout.pdf").rfind("%PDF-", 0), 0U);
}

TEST(NewSong, DoesNotOverwrite) {
  const TempDir folder;
  const std::string path = folder.write("mine.yaml", "song: Mine\n");
  const Outcome outcome = run_words({"new", path});
  EXPECT_EQ(outcome.code, 1);
  EXPECT_TRUE(holds(outcome.err, "is there already; choose another name")) << outcome.err;
  EXPECT_EQ(read_file(path), "song: Mine\n");
  std::filesystem::create_symlink("nowhere", folder.path() / "link.yaml");
  EXPECT_EQ(run_words({"new", folder.path() / "link.yaml"}).code, 1);
  EXPECT_EQ(run_words({"new", folder.path() / "no/such/folder.yaml"}).code, 1);
}

TEST(NewSong, IsAlreadyTidyAndKeepsItsComments) {
  const TempDir folder;
  const std::string path = expect_good(folder, "mine.yaml", {});
  const std::string text = read_file(path);
  EXPECT_TRUE(holds(text, "# "));
  EXPECT_EQ(run_words({"tidy", path}).code, 0);
  EXPECT_EQ(read_file(path), text);
}

}  // namespace
}  // namespace tunesheaf::app

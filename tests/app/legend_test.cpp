// The leaf of signs as the program makes it.
#include "tunesheaf/song/legend.h"

#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <iterator>
#include <map>
#include <set>

#include "runner.h"
#include "support/temp_dir.h"

namespace tunesheaf {
namespace {

TEST(LegendSheet, IsPrintedWithoutAFinding) {
  support::use_house_styles();
  const support::TempDir folder;
  const std::string target = (folder.path() / "signs.pdf").string();
  const support::Outcome run = support::run_words({"legend", "-o", target});
  EXPECT_EQ(run.code, 0) << run.err;
  EXPECT_EQ(run.err, "");
  std::ifstream file(target, std::ios::binary);
  const std::string bytes((std::istreambuf_iterator<char>(file)), std::istreambuf_iterator<char>());
  EXPECT_EQ(bytes.substr(0, 5), "%PDF-");
}

TEST(LegendSheet, IsOneLeaf) {
  support::use_house_styles();
  for (const char* paper : {"a4", "letter"}) {
    const support::TempDir folder;
    const std::string target = (folder.path() / "signs.svg").string();
    EXPECT_EQ(support::run_words({"legend", "--paper", paper, "-o", target}).code, 0);
    EXPECT_TRUE(std::filesystem::exists(target)) << paper << ": of several pages each has a number in its name";
  }
}

TEST(LegendSheet, AnotherEndingIsRefused) {
  const support::Outcome run = support::run_words({"legend", "-o", "signs.docx"});
  EXPECT_EQ(run.code, 2);
  EXPECT_TRUE(support::holds(run.err, "should end in .pdf, .svg or .png")) << run.err;
}

// ---------------------------------------------------------------- the short table of signs in a handout

/// Everything before the sections of the song of examples, and the section of one of them.
std::string song_of(const song::LegendExample& example) {
  const std::string all = song::legend_song();
  const std::string name = "\"" + std::string(example.name) + "\"", head = "  " + name + ":\n";
  const std::size_t sections = all.find("sections:\n") + std::string("sections:\n").size();
  const std::size_t from = all.find(head, sections);
  const std::size_t end = std::min(all.find("\n  \"", from + head.size()), all.find("\nform:", from)) + 1;
  const std::string section = all.substr(from, end - from);
  static const std::map<std::string_view, std::string> kForms{{"segno", "segno, X, D.S. al fine, X, fine"},
                                                              {"D.S.", "segno, X, D.S."},
                                                              {"D.C.", "X, fine, X, D.C. al fine"},
                                                              {"fine", "X, fine, X, D.C. al fine"},
                                                              {"coda", "X, to coda, X, D.C. al coda, coda, X"},
                                                              {"to coda", "X, to coda, X, D.C. al coda, coda, X"},
                                                              {"fade", "X, fade"}};
  std::string form = example.form.empty() ? "X" : kForms.at(example.form);
  for (std::size_t at = 0; (at = form.find('X', at)) != std::string::npos; at += name.size()) form.replace(at, 1, name);
  std::string shapes = all.substr(0, sections);
  return shapes + section + "form: [" + form + "]\n";
}

/// What the table of signs says on the handout of a song.
std::set<std::string> explained(const std::string& song) {
  const support::TempDir folder;
  const support::Outcome run = support::run_words({"phase", "display", folder.write("song.yaml", song)});
  EXPECT_EQ(run.code, 0) << song << run.err;
  std::set<std::string> out;
  for (const std::string& line : support::lines_of(run.out)) {
    const std::size_t from = line.find('"');
    if (line.find("legend-words") == std::string::npos || from == std::string::npos) continue;
    out.insert(line.substr(from, line.find('"', from + 1) - from));
  }
  return out;
}

/// Signs that a handout does not explain, each with its reason.
const std::map<std::string_view, std::string_view>& unexplained() {
  static const std::string_view kWords = "it stands there in whole words";
  static const std::string_view kRead = "whoever reads music or words knows it, and the map of the form tells repeats";
  static const std::map<std::string_view, std::string_view> kReasons{
      {"retune", kWords},          {"with mute", kWords},
      {"near the bridge", kWords}, {"over the neck", kWords},
      {"brushes", kWords},         {"mallets", kWords},
      {"snares off", kWords},      {"words to sing", kRead},
      {"held vowel", kRead},       {"cue", "beside the part itself it is not printed"},
  };
  return kReasons;
}

TEST(LegendInAHandout, ExplainsEverySignOfTheLeafOrSaysWhyNot) {
  support::use_house_styles();
  for (const song::LegendExample& example : song::legend_examples()) {
    const bool left_out = unexplained().count(example.name) > 0;
    EXPECT_EQ(explained(song_of(example)).empty(), left_out) << example.name;
  }
}

TEST(LegendInAHandout, SaysNothingOfPlainNotes) {
  support::use_house_styles();
  const std::string all = song::legend_song();
  const std::string head = all.substr(0, all.find("sections:\n"));
  EXPECT_TRUE(explained(head + "sections:\n  plain:\n    guitar: |\n      3 | 0 4 |\n").empty());
}

}  // namespace
}  // namespace tunesheaf

// The commands as a user meets them: words in, exit code and sentences out.
#include "tunesheaf/app/commands.h"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "runner.h"
#include "support/temp_dir.h"
#include "tunesheaf/app/command_line.h"
#include "tunesheaf/song/language.h"

namespace tunesheaf::app {
namespace {

using support::holds;
using support::lines_of;
using support::Outcome;
using support::read_file;
using support::run_words;
using support::small_song;
using support::TempDir;

std::size_t columns(const std::string& line) {
  std::size_t count = 0;
  for (const char c : line) count += (static_cast<unsigned char>(c) & 0xC0) != 0x80;
  return count;
}

void expect_short(const std::string& text, const std::string& what) {
  EXPECT_LE(lines_of(text).size(), 24U) << what;
  for (const std::string& line : lines_of(text)) EXPECT_LE(columns(line), 80U) << what << ": " << line;
}

TEST(Help, IsShort) {
  const Outcome all = run_words({"--help"});
  EXPECT_EQ(all.code, 0);
  EXPECT_EQ(all.err, "");
  expect_short(all.out, "--help");
  for (const CommandSpec& command : commands()) {
    const std::string name(command.name);
    EXPECT_TRUE(holds(all.out, "tunesheaf " + name)) << name;
    const Outcome one = run_words({name, "--help"});
    EXPECT_EQ(one.code, 0);
    EXPECT_EQ(one.err, "");
    expect_short(one.out, name);
    for (const OptionSpec& option : command.options) EXPECT_TRUE(holds(one.out, std::string(option.name))) << name;
    EXPECT_EQ(run_words({name, "-h"}).out, one.out);
  }
}

TEST(Help, ComesWithoutAnyWordAsAMistake) {
  const Outcome none = run_words({});
  EXPECT_EQ(none.code, 2);
  EXPECT_EQ(none.out, "");
  EXPECT_EQ(none.err, run_words({"help"}).out);
}

TEST(Help, EveryExampleIsReadWithoutFault) {
  for (const CommandSpec& command : commands()) {
    std::vector<std::string> words = support::words_of(lines_of(std::string(command.example)).front());
    ASSERT_EQ(words.at(0), "tunesheaf");
    words.erase(words.begin());
    EXPECT_TRUE(parse_command_line(words)) << command.example;
  }
}

struct UsageCase {
  std::vector<std::string> words;
  std::string sentence;
};

TEST(Usage, IsExplainedOnOneLine) {
  const std::vector<UsageCase> cases{
      {{"handuot", "a.yaml"}, "there is no command \"handuot\"; the nearest is handout"},
      {{"check", "--strcit", "a.yaml"}, "`check` has no option \"--strcit\"; the nearest is --strict"},
      {{"check", "--qqqqqqq", "a.yaml"}, "`check` has no option \"--qqqqqqq\"; it has --format, --strict"},
      {{"check", "--format", "xml", "a.yaml"}, "\"xml\" is no value for --format; it takes people, lines or json"},
      {{"check", "--format=xml", "a.yaml"}, "\"xml\" is no value for --format; it takes people, lines or json"},
      {{"check", "a.yaml", "--format"}, "--format needs a value: WAY"},
      {{"check", "a.yaml", "--format="}, "--format needs a value: WAY"},
      {{"check", "--strict=yes", "a.yaml"}, "--strict is a switch and takes no value"},
      {{"check", "--strict", "--strict", "a.yaml"}, "--strict is given twice; once is enough"},
      {{"check"}, "something is missing: tunesheaf check SONG.yaml"},
      {{"check", "a.yaml", "b.yaml"}, "\"b.yaml\" is one word too many: tunesheaf check SONG.yaml"},
      {{"phase", "timelien", "a.yaml"}, "the nearest is timeline"},
      {{"handout", "a.yaml", "--paper", "a5"}, "\"a5\" is no value for --paper; it takes a4 or letter"},
      {{"handout", "a.yaml", "-o", "a.docx"}, "\"a.docx\" should end in .pdf, .svg or .png"},
      {{"new", "a.yaml", "--instrument", "gitar"}, "no instrument is called \"gitar\"; the nearest is \"guitar\""},
      {{"new", "a.yaml", "--instrument", "qqqqqqqq"}, "no instrument is called \"qqqqqqqq\"; there are guitar, "},
      {{"new", "a.yaml", "--meter", "4/5"}, "\"4/5\" is no meter; write 4/4, 3/4, 6/8, or 7/8 (2+2+3) with its groups"},
      {{"new", "a.yaml", "--tuning", "drop Q"}, "low string first: E2 A2 D3 G3 B3 E4"},
      {{"new", "a.yaml", "--instrument", "drum kit", "--tuning", "D2"}, "a drum kit has no strings to tune"},
  };
  for (const UsageCase& usage : cases) {
    const Outcome outcome = run_words(usage.words);
    EXPECT_EQ(outcome.code, 2) << usage.sentence;
    EXPECT_EQ(outcome.out, "");
    EXPECT_TRUE(holds(outcome.err, usage.sentence)) << outcome.err;
    EXPECT_EQ(lines_of(outcome.err).size(), 1U) << outcome.err;
    EXPECT_EQ(outcome.err.rfind("tunesheaf: ", 0), 0U) << outcome.err;
  }
}

TEST(Usage, NamesThatBeginWithADashFollowTwoDashes) {
  const auto line = parse_command_line({"check", "--", "-o"});
  ASSERT_TRUE(line);
  EXPECT_EQ(line->operands, std::vector<std::string>{"-o"});
}

TEST(Check, TellsGoodDoubtfulAndBadByTheExitCode) {
  const TempDir folder;
  const std::string good = folder.write("good.yaml", small_song());
  const std::string doubtful =
      folder.write("doubtful.yaml", std::string(small_song()) + "shapes:\n  spare: {frets: x 3 2 0 1 0}\n");
  const std::string bad = folder.write("bad.yaml", std::string(small_song()) + "tempoo: 90\n");
  EXPECT_EQ(run_words({"check", good}).code, 0);
  EXPECT_EQ(run_words({"check", good}).out, good + ": nothing wrong, nothing doubtful\n");
  EXPECT_EQ(run_words({"check", good, "--strict"}).code, 0);
  const Outcome doubt = run_words({"check", doubtful});
  EXPECT_EQ(doubt.code, 0);
  EXPECT_TRUE(holds(doubt.out, "0 errors, 1 warning\n")) << doubt.out;
  EXPECT_EQ(run_words({"check", doubtful, "--strict"}).code, 1);
  const Outcome fault = run_words({"check", bad});
  EXPECT_EQ(fault.code, 1);
  EXPECT_TRUE(holds(fault.out, "line 15, column 1: error: ")) << fault.out;
  EXPECT_TRUE(holds(fault.out, "\n    15 | tempoo: 90\n")) << fault.out;
  EXPECT_TRUE(holds(fault.out, "~~~~~~")) << fault.out;
  EXPECT_TRUE(holds(fault.out, "tempo")) << fault.out;
}

TEST(Check, GivesOneLineForEachFindingOrJson) {
  const TempDir folder;
  const std::string bad = folder.write("bad.yaml", std::string(small_song()) + "tempoo: 90\nby: Twice\nkey: H major\n");
  const Outcome lines = run_words({"check", bad, "--format", "lines"});
  EXPECT_EQ(lines.code, 1);
  const auto each = lines_of(lines.out);
  for (const std::string& line : each) EXPECT_EQ(line.rfind(bad + ":", 0), 0U) << line;
  const Outcome json = run_words({"check", bad, "--format", "json"});
  EXPECT_EQ(json.code, 1);
  const auto parsed = nlohmann::json::parse(json.out, nullptr, false);
  ASSERT_FALSE(parsed.is_discarded()) << json.out;
  const auto& findings = parsed.is_array() ? parsed : parsed.begin().value();
  ASSERT_TRUE(findings.is_array()) << json.out;
  EXPECT_EQ(findings.size(), each.size());
  EXPECT_GE(each.size(), 1U);
  const auto quiet = nlohmann::json::parse(
      run_words({"check", folder.write("good.yaml", small_song()), "--format", "json"}).out, nullptr, false);
  EXPECT_FALSE(quiet.is_discarded());
}

TEST(Reference, ExplainsEveryWordOfTheLanguage) {
  const Outcome all = run_words({"reference"});
  EXPECT_EQ(all.code, 0);
  for (const song::LanguageEntry& entry : song::language()) {
    const std::string word(entry.word);
    const Outcome one = run_words({"reference", word});
    EXPECT_EQ(one.code, 0) << word;
    EXPECT_TRUE(holds(one.out, word)) << word;
    EXPECT_FALSE(holds(one.out, "has no word")) << one.out;
    EXPECT_TRUE(holds(all.out, word)) << word;
    for (const std::string& line : lines_of(one.out)) EXPECT_LE(columns(line), 100U) << line;
  }
  const Outcome near = run_words({"reference", "patern"});
  EXPECT_TRUE(holds(near.out + near.err, "\"pattern\"")) << near.out << near.err;
}

TEST(Schema, IsJsonOnTheTerminalAndInAFile) {
  const TempDir folder;
  const Outcome printed = run_words({"schema"});
  EXPECT_EQ(printed.code, 0);
  const auto schema = nlohmann::json::parse(printed.out, nullptr, false);
  ASSERT_FALSE(schema.is_discarded());
  EXPECT_EQ(schema.at("$schema"), "https://json-schema.org/draft/2020-12/schema");
  const std::string file = folder.path() / "song.schema.json";
  EXPECT_EQ(run_words({"schema", "-o", file}).code, 0);
  EXPECT_EQ(read_file(file), printed.out);
}

TEST(Tidy, AlignsLanesKeepsCommentsAndComesToRest) {
  const TempDir folder;
  const std::string song =
      "# A comment at the top.\n"
      "song: Quarry Lane   # one beside a value\n"
      "parts:\n"
      "  guitar: {instrument: guitar}\n"
      "sections:\n"
      "  verse:\n"
      "    guitar: |\n"
      "      1 | 0 : 12 : 3 : 2 |   # one in a lane\n"
      "      thumb 5 | 0 : - : - : - |\n"
      "# and the last\n";
  const std::string path = folder.write("song.yaml", song);
  const Outcome shown = run_words({"tidy", path, "-o", "-"});
  EXPECT_EQ(shown.code, 0);
  EXPECT_EQ(read_file(path), song) << "-o - leaves the song alone";
  EXPECT_EQ(run_words({"tidy", path}).code, 0);
  const std::string once = read_file(path);
  EXPECT_EQ(once, shown.out);
  EXPECT_NE(once, song);
  for (const char* comment : {"# A comment at the top.", "# one beside a value", "# one in a lane", "# and the last"}) {
    EXPECT_TRUE(holds(once, comment)) << once;
  }
  std::vector<std::size_t> bars;
  for (const std::string& line : lines_of(once)) {
    if (const auto bar = line.find(" |"); bar != std::string::npos && line.rfind("      ", 0) == 0) bars.push_back(bar);
  }
  ASSERT_EQ(bars.size(), 2U) << once;
  EXPECT_EQ(bars[0], bars[1]) << once;
  EXPECT_EQ(run_words({"tidy", path}).code, 0);
  EXPECT_EQ(read_file(path), once);
  EXPECT_EQ(run_words({"check", path}).code, 0);
}

TEST(Tidy, LeavesTheDemoSongsMeaning) {
  for (const auto& entry : std::filesystem::directory_iterator(std::string(TUNESHEAF_SOURCE_DIR) + "/songs-demo")) {
    if (entry.path().extension() != ".yaml") continue;
    const TempDir folder;
    const std::string path = folder.write("song.yaml", read_file(entry.path()));
    const std::string before = run_words({"phase", "timeline", path}).out;
    EXPECT_EQ(run_words({"tidy", path}).code, 0);
    EXPECT_EQ(run_words({"phase", "timeline", path}).out, before) << entry.path();
    const std::string once = read_file(path);
    EXPECT_EQ(run_words({"tidy", path}).code, 0);
    EXPECT_EQ(read_file(path), once) << entry.path();
  }
}

TEST(Tidy, DoesNotTouchASongItCannotRead) {
  const TempDir folder;
  const std::string path = folder.write("song.yaml", "song: [\n");
  const Outcome outcome = run_words({"tidy", path});
  EXPECT_EQ(outcome.code, 1);
  EXPECT_TRUE(holds(outcome.err, "error")) << outcome.err;
  EXPECT_EQ(read_file(path), "song: [\n");
}

}  // namespace
}  // namespace tunesheaf::app

// The README is true: its songs check and print, its command lines are read without fault.
#include <gtest/gtest.h>

#include <set>

#include "runner.h"
#include "support/temp_dir.h"
#include "tunesheaf/app/command_line.h"

namespace tunesheaf::app {
namespace {

using support::holds;
using support::lines_of;
using support::Outcome;
using support::read_file;
using support::run_words;
using support::TempDir;
using support::words_of;

const std::string& readme() {
  static const std::string text = read_file(std::filesystem::path(TUNESHEAF_SOURCE_DIR) / "README.md");
  return text;
}

struct Block {
  std::string language, text;
};

std::vector<Block> fenced_blocks() {
  std::vector<Block> blocks;
  bool inside = false;
  for (const std::string& line : lines_of(readme())) {
    if (line.rfind("```", 0) == 0) {
      inside = !inside;
      if (inside) blocks.push_back({line.substr(3), ""});
    } else if (inside) {
      blocks.back().text += line + "\n";
    }
  }
  EXPECT_FALSE(inside) << "a block that does not end";
  return blocks;
}

TEST(Readme, ItsSongsCheckAndPrint) {
  support::use_house_styles();
  int songs = 0;
  for (const Block& block : fenced_blocks()) {
    if (block.language != "yaml" || block.text.rfind("song:", 0) != 0) continue;
    ++songs;
    const TempDir folder;
    const std::string path = folder.write("song.yaml", block.text);
    const Outcome checked = run_words({"check", "--strict", path});
    EXPECT_EQ(checked.code, 0) << checked.out;
    EXPECT_EQ(checked.out, path + ": nothing wrong, nothing doubtful\n");
    EXPECT_EQ(run_words({"handout", path}).code, 0);
    EXPECT_TRUE(std::filesystem::exists(folder.path() / "song-handout.pdf"));
    const Outcome audit = run_words({"audit", path});
    EXPECT_EQ(audit.code, 0) << audit.out;
  }
  EXPECT_GE(songs, 1);
}

/// "`tunesheaf x …`" in the text and "tunesheaf x …" at the start of lines in sh blocks.
std::vector<std::string> command_lines() {
  std::vector<std::string> found;
  for (const Block& block : fenced_blocks()) {
    if (block.language != "sh") continue;
    for (const std::string& line : lines_of(block.text)) {
      if (line.rfind("tunesheaf ", 0) == 0) found.push_back(line);
    }
  }
  bool inside = false;
  for (const std::string& line : lines_of(readme())) {
    if (line.rfind("```", 0) == 0) inside = !inside;
    for (std::size_t at = line.find("`tunesheaf "); !inside && at != std::string::npos;) {
      const std::size_t end = line.find('`', at + 1);
      found.push_back(line.substr(at + 1, end - at - 1));
      at = line.find("`tunesheaf ", end);
    }
  }
  return found;
}

const CommandSpec* command_named(const std::string& name) {
  for (const CommandSpec& command : commands()) {
    if (command.name == name) return &command;
  }
  return nullptr;
}

bool has_option(const CommandSpec& command, const std::string& name) {
  for (const OptionSpec& option : command.options) {
    if (option.name == name || option.alias == name) return true;
  }
  return false;
}

TEST(Readme, ItsCommandLinesNameCommandsAndOptionsThatExist) {
  const auto lines = command_lines();
  EXPECT_GE(lines.size(), 8U);
  std::set<std::string> named;
  for (const std::string& line : lines) {
    const auto words = words_of(line);
    ASSERT_GE(words.size(), 2U) << line;
    const CommandSpec* command = command_named(words[1]);
    ASSERT_NE(command, nullptr) << line;
    named.insert(words[1]);
    for (std::string word : words) {
      // A synopsis: [--paper a4\|letter]
      std::erase_if(word, [](char c) { return c == '[' || c == ']'; });
      const bool option = word.rfind("-", 0) == 0;
      EXPECT_TRUE(!option || has_option(*command, word.substr(0, word.find('=')))) << line;
    }
    if (!holds(line, "[") && !holds(line, "NAME SONG")) {
      EXPECT_TRUE(parse_command_line({words.begin() + 1, words.end()})) << line;
    }
  }
  for (const CommandSpec& command : commands()) {
    EXPECT_TRUE(named.count(std::string(command.name)) > 0) << "the README does not name " << command.name;
  }
}

TEST(Readme, NamesEveryOptionOfTheHandout) {
  for (const OptionSpec& option : command_named("handout")->options) {
    const bool there = holds(readme(), std::string(option.name)) ||
                       (!option.alias.empty() && holds(readme(), std::string(option.alias) + " "));
    EXPECT_TRUE(there) << option.name;
  }
}

TEST(Readme, ItsExampleOfAnErrorIsWhatCheckSays) {
  EXPECT_FALSE(holds(readme(), "EXAMPLE")) << "a text that was to be filled in";
}

}  // namespace
}  // namespace tunesheaf::app

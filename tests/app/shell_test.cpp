// The manual page and the completions hold what the table holds, and bash really completes with what is written.
#include <gtest/gtest.h>

#include <cstdio>

#include "runner.h"
#include "support/temp_dir.h"
#include "tunesheaf/app/command_line.h"

namespace tunesheaf::app {
namespace {

using support::holds;
using support::Outcome;
using support::run_words;
using support::TempDir;

std::string said(const std::string& what) {
  const Outcome outcome = run_words({"shell", what});
  EXPECT_EQ(outcome.code, 0) << outcome.err;
  return outcome.out;
}

/// With the minus signs of roff turned back.
std::string without_escapes(std::string text) {
  for (std::size_t at = text.find("\\-"); at != std::string::npos; at = text.find("\\-", at)) text.erase(at, 1);
  return text;
}

TEST(Shell, EveryCommandAndOptionIsThere) {
  const std::string man = without_escapes(said("man")), bash = said("bash"), zsh = said("zsh"), fish = said("fish");
  for (const CommandSpec& command : commands()) {
    const std::string name(command.name);
    EXPECT_TRUE(holds(man, "tunesheaf " + name)) << name;
    EXPECT_TRUE(holds(bash, "    " + name + ")\n")) << name;
    EXPECT_TRUE(holds(zsh, "'" + name + ":")) << name;
    EXPECT_TRUE(holds(fish, "-a " + name + " ")) << name;
    for (const OptionSpec& option : command.options) {
      const std::string word(option.name);
      EXPECT_TRUE(holds(man, word)) << word;
      EXPECT_TRUE(holds(bash, word)) << word;
      EXPECT_TRUE(holds(zsh, word)) << word;
      EXPECT_TRUE(holds(fish, "-l " + word.substr(2))) << word;
    }
  }
}

TEST(Shell, WhatItHasNothingForIsNamed) {
  const Outcome outcome = run_words({"shell", "bsh"});
  EXPECT_EQ(outcome.code, 2);
  EXPECT_TRUE(holds(outcome.err, "there is nothing for \"bsh\"")) << outcome.err;
  EXPECT_TRUE(holds(outcome.err, "the nearest is bash")) << outcome.err;
}

/// What bash offers for the last of the words, in a folder with heron.yaml and notes.txt.
std::string offered(const std::string& words) {
  const TempDir folder;
  folder.write("heron.yaml", "song: Heron\n");
  folder.write("notes.txt", "");
  folder.write("complete.bash", said("bash") + "COMP_WORDS=(" + words +
                                    ")\nCOMP_CWORD=$((${#COMP_WORDS[@]} - 1))\n_tunesheaf\n"
                                    "printf '%s ' \"${COMPREPLY[@]}\"\n");
  const std::string command = "cd '" + folder.path().string() + "' && bash complete.bash 2>&1";
  FILE* pipe = popen(command.c_str(), "r");
  std::string out;
  if (pipe == nullptr) return "no bash";
  for (int c = std::fgetc(pipe); c != EOF; c = std::fgetc(pipe)) out += static_cast<char>(c);
  EXPECT_EQ(pclose(pipe), 0) << out;
  return out;
}

TEST(Shell, BashCompletes) {
  EXPECT_EQ(offered("tunesheaf hando"), "handout ");
  EXPECT_EQ(offered("tunesheaf handout --pap"), "--paper ");
  EXPECT_EQ(offered("tunesheaf handout --paper ''"), "a4 letter ");
  EXPECT_EQ(offered("tunesheaf handout --paper = l"), "letter ");
  EXPECT_EQ(offered("tunesheaf handout ''"), "heron.yaml ");
  EXPECT_EQ(offered("tunesheaf handout -o n"), "notes.txt ");
  EXPECT_EQ(offered("tunesheaf shell z"), "zsh ");
  EXPECT_EQ(offered("tunesheaf check --format js"), "json ");
  EXPECT_EQ(offered("tunesheaf unknown x"), " ");
}

}  // namespace
}  // namespace tunesheaf::app

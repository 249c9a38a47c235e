// The command that reads a song aloud: its files, its faults.
#include <gtest/gtest.h>

#include "runner.h"
#include "support/temp_dir.h"

namespace tunesheaf::app {
namespace {

using support::holds;
using support::Outcome;
using support::read_file;
using support::run_words;
using support::TempDir;

TEST(Aloud, SaysTheSongInTheTerminal) {
  const TempDir folder;
  const Outcome said = run_words({"aloud", folder.write("song.yaml", support::small_song())});
  EXPECT_EQ(said.code, 0) << said.err;
  EXPECT_TRUE(holds(said.out, "Quarry Lane\n"));
  EXPECT_TRUE(holds(said.out, "Beat 2: string 1, fret 2.\n")) << said.out;
}

TEST(Aloud, WritesTextAndPages) {
  const TempDir folder;
  const std::string song = folder.write("song.yaml", support::small_song());
  EXPECT_EQ(run_words({"aloud", song, "-o", (folder.path() / "a.txt").string()}).code, 0);
  EXPECT_EQ(run_words({"aloud", song, "-o", (folder.path() / "a.html").string()}).code, 0);
  EXPECT_EQ(read_file(folder.path() / "a.txt"), run_words({"aloud", song}).out);
  EXPECT_TRUE(holds(read_file(folder.path() / "a.html"), "<h1>Quarry Lane</h1>"));
}

TEST(Aloud, NamesWhatIsNotThere) {
  const TempDir folder;
  const std::string song = folder.write("song.yaml", support::small_song());
  const auto fault = [&](std::vector<std::string> more) {
    std::vector<std::string> words{"aloud", song};
    words.insert(words.end(), more.begin(), more.end());
    const Outcome outcome = run_words(words);
    EXPECT_EQ(outcome.code, 2);
    EXPECT_EQ(outcome.out, "");
    return outcome.err;
  };
  EXPECT_EQ(fault({"--part", "guitr"}), "tunesheaf: the song has no part \"guitr\"; the nearest is \"guitar\"\n");
  EXPECT_EQ(fault({"--part", "tuba"}), "tunesheaf: the song has no part \"tuba\"; it has \"guitar\", \"drums\"\n");
  EXPECT_EQ(fault({"--section", "verses"}),
            "tunesheaf: the song has no section \"verses\"; the nearest is \"verse\"\n");
  EXPECT_TRUE(holds(fault({"--bars", "first"}), "\"first\" names no bars; write --bars 5-8"));
  EXPECT_TRUE(holds(fault({"--bars", "4-2"}), "\"4-2\" names no bars"));
  EXPECT_TRUE(holds(fault({"--bars", "1-99"}), "\"1-99\" lies off the song, which has bars 1 to "));
  EXPECT_TRUE(holds(fault({"-o", "lesson.pdf"}), "\"lesson.pdf\" should end in .txt or .html"));
}

TEST(Aloud, AnOldFileIsKeptWhenTheSongIsBroken) {
  const TempDir folder;
  const std::string old = folder.write("lesson.txt", "as it was\n");
  const std::string song = folder.write("song.yaml", "song: Broken\nsections: 4\n");
  EXPECT_EQ(run_words({"aloud", song, "-o", old}).code, 1);
  EXPECT_EQ(read_file(old), "as it was\n");
  const std::string good = folder.write("good.yaml", support::small_song());
  const Outcome nowhere = run_words({"aloud", good, "-o", (folder.path() / "none" / "a.txt").string()});
  EXPECT_EQ(nowhere.code, 1);
  EXPECT_TRUE(holds(nowhere.err, "make that folder first")) << nowhere.err;
}

}  // namespace
}  // namespace tunesheaf::app

// --depfile: the text, and make and ninja really driven by it.
#include "depfile.h"

#include <gtest/gtest.h>

#include <chrono>
#include <thread>

#include "export/shell.h"
#include "runner.h"
#include "support/temp_dir.h"

namespace tunesheaf::app {
namespace {

namespace fs = std::filesystem;
using exporting::testing::Ran;
using support::holds;
using support::Outcome;
using support::read_file;
using support::run_words;
using support::TempDir;

TEST(Depfile, NamesAreEscapedAsMakeReadsThem) {
  EXPECT_EQ(*depfile_text({"a.pdf"}, {"a.yaml", "b.yaml"}), "a.pdf: \\\n  a.yaml \\\n  b.yaml\n\na.yaml:\n\nb.yaml:\n");
  EXPECT_EQ(*depfile_text({"my song.pdf"}, {}), "my\\ song.pdf:\n");
  EXPECT_EQ(*depfile_text({"no. #1 $2 a:b.pdf"}, {}), "no.\\ \\#1\\ $$2\\ a\\:b.pdf:\n");
  EXPECT_EQ(*depfile_text({"a\\ b\\c.pdf"}, {}), "a\\\\\\ b\\c.pdf:\n");
  EXPECT_EQ(*depfile_text({"1.png", "2.png"}, {"s"}), "1.png 2.png: \\\n  s\n\ns:\n");
  EXPECT_TRUE(holds(depfile_text({"a\nb.pdf"}, {}).error(), "line break"));
}

/// A song with a style beside it that extends another, in a folder of its own.
class Driven : public ::testing::Test {
 protected:
  void SetUp() override {
    support::use_house_styles();
    song = write("my song #1.yaml", std::string("style: mine.yaml\n") + support::small_song());
    write("mine.yaml", "extends: base $ one.yaml\nstaff space: 2 mm\n");
    write("base $ one.yaml", "extends: compact\n");
  }
  std::string write(const std::string& name, const std::string& text) { return folder.write(name, text).string(); }
  std::string in(const std::string& name) const { return (folder.path() / name).string(); }
  static Ran shell(const std::string& command) { return exporting::testing::run(command); }
  static std::string program() { return std::string(TUNESHEAF_BINARY_DIR) + "/tunesheaf"; }
  void touch(const std::string& name) const {
    std::this_thread::sleep_for(std::chrono::milliseconds(20));  // longer than a tick of the file system's clock
    fs::last_write_time(in(name), fs::file_time_type::clock::now());
    std::this_thread::sleep_for(std::chrono::milliseconds(20));
  }

  TempDir folder;
  std::string song;
};

TEST_F(Driven, NamesTheSongAndTheChainOfItsStyles) {
  for (const std::string command : {"handout", "chart", "practice"}) {
    const Outcome done = run_words({command, song, "-o", in("out.pdf"), "--depfile", in("out.d")});
    ASSERT_EQ(done.code, 0) << done.err;
    const std::string styles = std::string(TUNESHEAF_SOURCE_DIR) + "/styles/";
    EXPECT_EQ(read_file(in("out.d")), *depfile_text({in("out.pdf")}, {song, in("mine.yaml"), in("base $ one.yaml"),
                                                                      styles + "compact.yaml", styles + "house.yaml"}));
  }
}

TEST_F(Driven, NamesEveryFileThatIsWritten) {
  fs::create_directory(in("sheets"));
  ASSERT_EQ(run_words({"practice", song, "-o", in("sheets"), "--depfile", in("all.d")}).code, 0);
  EXPECT_TRUE(holds(read_file(in("all.d")), "practice-01-verse.pdf: ")) << read_file(in("all.d"));
  ASSERT_EQ(run_words({"legend", "--style", "large", "-o", in("signs.png"), "--depfile", in("signs.d")}).code, 0);
  const std::string rule = read_file(in("signs.d"));
  EXPECT_TRUE(holds(rule, "signs-1.png ") && holds(rule, "signs-2.png")) << rule;
  EXPECT_FALSE(holds(rule, " signs ")) << rule;
}

TEST_F(Driven, NothingIsWrittenWhereTheSongIsBroken) {
  write("my song #1.yaml", "song: [\n");
  EXPECT_EQ(run_words({"handout", song, "--depfile", in("out.d")}).code, 1);
  EXPECT_FALSE(fs::exists(in("out.d")));
}

TEST_F(Driven, ItIsNeverWrittenOverWhatIsReadOrPrinted) {
  const std::string before = read_file(song);
  const Outcome on_song = run_words({"handout", song, "-o", in("out.pdf"), "--depfile", song});
  EXPECT_EQ(on_song.code, 2);
  EXPECT_TRUE(holds(on_song.err, "is read for the sheet")) << on_song.err;
  EXPECT_EQ(read_file(song), before);
  const Outcome on_sheet = run_words({"handout", song, "-o", in("out.pdf"), "--depfile", in("./out.pdf")});
  EXPECT_EQ(on_sheet.code, 2);
  EXPECT_FALSE(fs::exists(in("out.pdf")));
  const Outcome nowhere = run_words({"handout", song, "-o", in("out.pdf"), "--depfile", in("none/out.d")});
  EXPECT_EQ(nowhere.code, 1);
  EXPECT_TRUE(holds(nowhere.err, "cannot write")) << nowhere.err;
}

TEST_F(Driven, NinjaPrintsAgainWhenAStyleOfTheChainChanges) {
  write("build.ninja", "rule sheet\n  command = '" + program() + "' handout $in -o $out --depfile $out.d\n" +
                           "  depfile = $out.d\nbuild my$ song.pdf: sheet my$ song$ #1.yaml\n");
  const std::string ninja =
      "TUNESHEAF_STYLES='" + std::string(TUNESHEAF_SOURCE_DIR) + "/styles' ninja -C '" + folder.path().string() + "'";
  const Ran first = shell(ninja);
  ASSERT_EQ(first.code, 0) << first.output;
  EXPECT_TRUE(holds(shell(ninja).output, "no work to do"));
  for (const char* file : {"base $ one.yaml", "mine.yaml", "my song #1.yaml"}) {
    touch(file);
    EXPECT_TRUE(holds(shell(ninja + " -n").output, "[1/1]")) << file;
    ASSERT_EQ(shell(ninja).code, 0) << file;
    EXPECT_TRUE(holds(shell(ninja).output, "no work to do")) << file;
  }
}

TEST_F(Driven, MakePrintsAgainWhenAStyleOfTheChainChanges) {
  write("Makefile", "my\\ song.pdf: my\\ song\\ \\#1.yaml\n\t'" + program() +
                        "' handout 'my song #1.yaml' -o '$@' --depfile sheet.d\n-include sheet.d\n");
  const std::string make =
      "TUNESHEAF_STYLES='" + std::string(TUNESHEAF_SOURCE_DIR) + "/styles' make -C '" + folder.path().string() + "'";
  const Ran first = shell(make);
  ASSERT_EQ(first.code, 0) << first.output;
  EXPECT_EQ(shell(make + " -q").code, 0);
  for (const char* file : {"base $ one.yaml", "mine.yaml", "my song #1.yaml"}) {
    touch(file);
    EXPECT_EQ(shell(make + " -q").code, 1) << file;
    ASSERT_EQ(shell(make).code, 0) << file;
    EXPECT_EQ(shell(make + " -q").code, 0) << file;
  }
  // A style that is gone is said by the program, not by make.
  fs::remove(in("base $ one.yaml"));
  EXPECT_TRUE(holds(shell(make).output, "is not there"));
}

}  // namespace
}  // namespace tunesheaf::app

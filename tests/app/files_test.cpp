// Files that fail: songs that cannot be read, pages that cannot be written, a kill in the middle, songs made to hurt.
// file-missing, file-unreadable and file-too-large are shown here, since no song can show them.
#include "tunesheaf/app/files.h"

#include <fcntl.h>
#include <gtest/gtest.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <csignal>
#include <set>
#include <thread>

#include "runner.h"
#include "support/temp_dir.h"
#include "tunesheaf/app/pipeline.h"

namespace tunesheaf::app {
namespace {

namespace fs = std::filesystem;
using support::holds;
using support::lines_of;
using support::Outcome;
using support::read_file;
using support::run_words;
using support::small_song;
using support::TempDir;

void expect_unread(const std::string& path, const std::string& kind, const std::string& sentence) {
  for (const char* command : {"check", "handout", "tidy", "audit"}) {
    const Outcome outcome = run_words({command, path});
    EXPECT_EQ(outcome.code, 1) << command << " " << path;
    const std::string said = outcome.out + outcome.err;
    EXPECT_TRUE(holds(said, "error: ")) << said;
    EXPECT_GE(lines_of(said).size(), 3U) << "situation, rule, what to do: " << said;
  }
  EXPECT_TRUE(holds(run_words({"check", path}).out, sentence)) << run_words({"check", path}).out;
  EXPECT_TRUE(holds(run_words({"check", path, "--format", "lines"}).out, kind));
}

TEST(Unread, EachCauseHasItsOwnWords) {
  const TempDir folder;
  const std::string at = folder.path();
  expect_unread(at + "/none.yaml", "file-missing", "there is no file \"" + at + "/none.yaml\"");
  expect_unread(at + "/none/song.yaml", "file-missing", "`tunesheaf new");
  expect_unread(folder.write("plain", "x") / "song.yaml", "file-missing", "there is no file");
  expect_unread(at, "file-unreadable", "\"" + at + "\" is a folder");
  fs::create_symlink("loop.yaml", folder.path() / "loop.yaml");
  expect_unread(at + "/loop.yaml", "file-unreadable", "cannot be read (Too many levels of symbolic links)");
  expect_unread(at + "/" + std::string(300, 'a'), "file-unreadable", "cannot be read");
  expect_unread("", "file-missing", "there is no file");
}

TEST(Unread, APathThatMayNotBeReadIsToldFromOneThatIsNotThere) {
  class Locked : public FileAccess {
   public:
    base::Result<std::string, ReadError> read(const std::string&, std::size_t) override {
      return ReadError{ReadFault::Forbidden, "Permission denied"};
    }
  };
  Locked locked;
  Work work;
  EXPECT_FALSE(read_text(work, locked, "song.yaml"));
  ASSERT_EQ(work.sink.sorted().size(), 1U);
  EXPECT_EQ(work.sink.sorted().front().kind, diag::Kind::FileUnreadable);
  EXPECT_TRUE(holds(work.sink.sorted().front().situation, "may not be read (Permission denied)"));
}

TEST(Unread, TheDiskGivesNoMoreThanAskedFor) {
  const TempDir folder;
  const std::string path = folder.write("long", std::string(200000, 'x'));
  DiskFiles disk;
  EXPECT_EQ(disk.read(path, 100000).value().size(), 100000U);
  EXPECT_EQ(disk.read(path, 300000).value().size(), 200000U);
  EXPECT_EQ(disk.read(path, 0).value().size(), 0U);
}

class Unwritten : public testing::Test {
 protected:
  Unwritten() : song_(folder_.write("song.yaml", small_song())) { support::use_house_styles(); }

  /// Fails with code 1, one sentence that names the file and a cure.
  void expect_fault(const std::vector<std::string>& words, const std::string& reason, const std::string& cure) {
    const Outcome outcome = run_words(words);
    EXPECT_EQ(outcome.code, 1) << words[0];
    EXPECT_TRUE(holds(outcome.err, "cannot write")) << outcome.err;
    EXPECT_TRUE(holds(outcome.err, reason)) << outcome.err;
    EXPECT_TRUE(holds(outcome.err, cure)) << outcome.err;
  }
  std::string in_folder(const std::string& name) const { return folder_.path() / name; }
  std::set<std::string> names() const {
    std::set<std::string> found;
    for (const auto& entry : fs::directory_iterator(folder_.path())) found.insert(entry.path().filename());
    return found;
  }

  const TempDir folder_;
  const std::string song_;
};

TEST_F(Unwritten, AFolderThatIsNotThere) {
  for (const char* name : {"no/a.pdf", "no/a.svg", "no/a.png"}) {
    expect_fault({"handout", song_, "-o", in_folder(name)}, "No such file", "make that folder first");
  }
  expect_fault({"schema", "-o", in_folder("no/schema.json")}, "No such file", "make that folder first");
  expect_fault({"tidy", song_, "-o", in_folder("no/tidy.yaml")}, "No such file", "make that folder first");
  expect_fault({"new", in_folder("no/new.yaml")}, "No such file", "make that folder first");
  EXPECT_EQ(names(), (std::set<std::string>{"song.yaml"}));
}

TEST_F(Unwritten, ATargetThatIsAFolder) {
  fs::create_directories(in_folder("a.pdf/inside"));
  expect_fault({"handout", song_, "-o", in_folder("a.pdf")}, "Is a directory", "name a file in it");
  EXPECT_TRUE(fs::exists(in_folder("a.pdf/inside")));
}

TEST_F(Unwritten, AFullDisk) {
  expect_fault({"schema", "-o", "/dev/full"}, "No space left", "make room");
  fs::create_symlink("/dev/full", in_folder("full.pdf"));
  expect_fault({"handout", song_, "-o", in_folder("full.pdf")}, "No space left", "make room");
}

TEST_F(Unwritten, AFileThatMayNotGrowLeavesTheOldPage) {
  const std::string page = in_folder("page.pdf");
  ASSERT_EQ(run_words({"handout", song_, "-o", page}).code, 0);
  const std::string before = read_file(page);
  const auto present = names();
  folder_.write("song.yaml", std::string(small_song()) + "credits: Another line.\n");
  const pid_t child = fork();
  if (child == 0) {
    signal(SIGXFSZ, SIG_IGN);
    const rlimit limit{2000, 2000};
    setrlimit(RLIMIT_FSIZE, &limit);
    const Outcome outcome = run_words({"handout", song_, "-o", page});
    _exit(outcome.code == 1 && holds(outcome.err, "cannot write") && holds(outcome.err, "make room") ? 0 : 1);
  }
  int status = 0;
  ASSERT_EQ(waitpid(child, &status, 0), child);
  EXPECT_TRUE(WIFEXITED(status) && WEXITSTATUS(status) == 0) << "the child did not see the fault";
  EXPECT_EQ(read_file(page), before);
  EXPECT_EQ(names(), present) << "nothing is left lying about";
}

/// Prints in a child and kills it once a new file stands in the folder; true when the kill came before the end.
bool killed_while_printing(const std::string& song, const std::string& page, const fs::path& folder) {
  const auto entries = [&] { return std::distance(fs::directory_iterator(folder), fs::directory_iterator()); };
  const auto before = entries();
  const pid_t child = fork();
  if (child == 0) _exit(run_words({"handout", song, "-o", page}).code);
  int status = 0;
  while (waitpid(child, &status, WNOHANG) == 0) {
    if (entries() == before) continue;
    kill(child, SIGKILL);
    waitpid(child, &status, 0);
    break;
  }
  return WIFSIGNALED(status) && WTERMSIG(status) == SIGKILL;
}

TEST_F(Unwritten, AKillLeavesTheOldPageWhole) {
  const std::string page = in_folder("page.pdf");
  ASSERT_EQ(run_words({"handout", song_, "-o", page}).code, 0);
  const std::string before = read_file(page);
  folder_.write("song.yaml", std::string(small_song()) + "credits: Another line.\n");
  ASSERT_EQ(run_words({"handout", song_, "-o", in_folder("other.pdf")}).code, 0);
  const std::string after = read_file(in_folder("other.pdf"));
  ASSERT_NE(before, after);
  int killed = 0;
  for (int i = 0; i < 20; ++i) {
    killed += killed_while_printing(song_, page, folder_.path()) ? 1 : 0;
    const std::string now = read_file(page);
    ASSERT_TRUE(now == before || now == after) << "a torn page of " << now.size() << " bytes";
  }
  EXPECT_GT(killed, 0) << "no kill came in time";
  EXPECT_EQ(run_words({"handout", song_, "-o", page}).code, 0);
  EXPECT_EQ(read_file(page), after);
}

struct Bounds {
  double seconds = 0;  ///< of the processor
  long kilobytes = 0;  ///< at its largest
  int code = -1;
};

/// Checks a song in a process of its own.
Bounds bounds_of_check(const std::string& path) {
  const pid_t child = fork();
  if (child == 0) _exit(run_words({"check", path}).code);
  int status = 0;
  rusage usage{};
  wait4(child, &status, 0, &usage);
  const auto seconds = [](const timeval& time) {
    return static_cast<double>(time.tv_sec) + static_cast<double>(time.tv_usec) * 1e-6;
  };
  return {seconds(usage.ru_utime) + seconds(usage.ru_stime), usage.ru_maxrss,
          WIFEXITED(status) ? WEXITSTATUS(status) : -1};
}

std::string repeated(const std::string& piece, int times) {
  std::string text;
  for (int i = 0; i < times; ++i) text += piece;
  return text;
}

std::string aliases_that_multiply() {
  std::string text = "a: &a [x, x, x, x, x, x, x, x, x]\n";
  for (char c = 'b'; c <= 'p'; ++c) {
    const std::string star = "*" + std::string(1, static_cast<char>(c - 1));
    text += std::string(1, c) + ": &" + c + " [" + repeated(star + ", ", 8) + star + "]\n";
  }
  return text;
}

TEST(MadeToHurt, IsRefusedInBoundedTimeAndMemory) {
  const TempDir folder;
  const std::vector<std::pair<std::string, std::string>> cases{
      {"aliases", aliases_that_multiply()},
      {"brackets", "song: " + std::string(100000, '[') + "\n"},
      {"closed brackets", "song: " + std::string(100000, '[') + std::string(100000, ']') + "\n"},
      {"braces", "song: " + repeated("{a: ", 100000) + "\n"},
      {"dashes", "song:\n  " + repeated("- ", 100000) + "x\n"},
      {"huge", "song: A\n" + repeated("by: x\n", 50 * 1024 * 1024 / 6)},
      {"one long line", "song: " + std::string(50 * 1024 * 1024, 'x') + "\n"},
      {"bytes", std::string(1024 * 1024, '\x80')},
      {"many keys", "song: A\nparts:\n" + repeated("  x: {instrument: guitar}\n", 100000)},
      {"long lane", std::string(small_song()) + "      snare | " + repeated("x : ", 500000) + "\n"},
  };
  for (const auto& [name, text] : cases) {
    const std::string path = folder.write("song.yaml", text);
    const Bounds bounds = bounds_of_check(path);
    EXPECT_EQ(bounds.code, 1) << name;
    EXPECT_LT(bounds.seconds, 5.0) << name;
    EXPECT_LT(bounds.kilobytes, 400 * 1024) << name;
  }
}

TEST(MadeToHurt, AHugeFileIsNamedAsSuch) {
  const TempDir folder;
  const std::string path = folder.write("song.yaml", "song: A\n" + repeated("by: x\n", 50 * 1024 * 1024 / 6));
  const Outcome outcome = run_words({"check", path, "--format", "lines"});
  EXPECT_TRUE(holds(outcome.out, "file-too-large")) << outcome.out;
  EXPECT_EQ(lines_of(outcome.out).size(), 1U);
}

}  // namespace
}  // namespace tunesheaf::app

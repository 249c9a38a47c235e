// `watch`, the real program: files are written, replaced, broken, mended, deleted and made again while it runs.
#include <fcntl.h>
#include <gtest/gtest.h>
#include <poll.h>
#include <sys/wait.h>
#include <unistd.h>

#include <chrono>
#include <csignal>
#include <cstdlib>
#include <thread>

#include "runner.h"
#include "support/temp_dir.h"

namespace tunesheaf::app {
namespace {

namespace fs = std::filesystem;
using support::holds;
using support::Outcome;
using support::read_file;
using support::run_words;
using support::TempDir;

/// The program in a process of its own, its words read as they come; on a terminal of its own where asked for.
class Process {
 public:
  enum class To { Pipe, Terminal };

  Process(std::vector<std::string> words, To to) {
    words.insert(words.begin(), std::string(TUNESHEAF_BINARY_DIR) + "/tunesheaf");
    int ends[2] = {-1, -1};
    if (to == To::Terminal) {
      ends[0] = ::posix_openpt(O_RDWR | O_NOCTTY);
      if (ends[0] < 0 || ::grantpt(ends[0]) != 0 || ::unlockpt(ends[0]) != 0) throw std::runtime_error("no terminal");
      ends[1] = ::open(::ptsname(ends[0]), O_RDWR | O_NOCTTY);
    } else if (::pipe(ends) != 0) {
      throw std::runtime_error("no pipe");
    }
    id_ = ::fork();
    if (id_ == 0) {
      ::dup2(ends[1], STDOUT_FILENO);
      ::dup2(ends[1], STDERR_FILENO);
      ::close(ends[0]);
      std::vector<char*> argv;
      for (std::string& word : words) argv.push_back(word.data());
      argv.push_back(nullptr);
      ::execv(argv[0], argv.data());
      ::_exit(127);
    }
    ::close(ends[1]);
    from_ = ends[0];
  }
  ~Process() {
    if (id_ > 0) {
      ::kill(id_, SIGKILL);
      ::waitpid(id_, nullptr, 0);
    }
    ::close(from_);
  }
  Process(const Process&) = delete;
  Process& operator=(const Process&) = delete;

  /// Reads until `piece` has come after all that was waited for before; false after 20 seconds without it.
  bool says(const std::string& piece) {
    const auto end = std::chrono::steady_clock::now() + std::chrono::seconds(20);
    while (std::chrono::steady_clock::now() < end) {
      const std::size_t at = text_.find(piece, seen_);
      if (at != std::string::npos) {
        seen_ = at + piece.size();
        return true;
      }
      if (!read_some(100) && ended_) return false;
    }
    return false;
  }
  /// Nothing more comes for a while.
  bool stays_quiet() {
    const std::size_t before = text_.size();
    const auto end = std::chrono::steady_clock::now() + std::chrono::milliseconds(400);
    while (std::chrono::steady_clock::now() < end) read_some(50);
    return text_.size() == before;
  }
  /// The exit code after this signal; -1 when a signal ended it.
  int ends_after(int signal) {
    ::kill(id_, signal);
    return code();
  }
  int code() {
    int status = 0;
    ::waitpid(id_, &status, 0);
    id_ = -1;
    return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
  }
  const std::string& text() const { return text_; }

 private:
  bool read_some(int milliseconds) {
    pollfd one{from_, POLLIN, 0};
    if (::poll(&one, 1, milliseconds) <= 0) return false;
    char buffer[4096];
    const ssize_t got = ::read(from_, buffer, sizeof buffer);
    ended_ = got <= 0;
    if (got > 0) text_.append(buffer, static_cast<std::size_t>(got));
    return got > 0;
  }

  pid_t id_ = -1;
  int from_ = -1;
  std::string text_;
  std::size_t seen_ = 0;
  bool ended_ = false;
};

class Watch : public ::testing::Test {
 protected:
  void SetUp() override {
    support::use_house_styles();
    song = folder.write("song.yaml", support::small_song()).string();
  }
  std::string in(const std::string& name) const { return (folder.path() / name).string(); }
  static std::string with_title(const std::string& title) {
    std::string text = support::small_song();
    return text.replace(text.find("Quarry Lane"), 11, title);
  }
  /// As editors do it: a file beside it, then renamed over it.
  void rename_over(const std::string& text) {
    folder.write(".song.yaml.new", text);
    fs::rename(in(".song.yaml.new"), song);
  }
  std::string page() const { return read_file(in("song-handout.pdf")); }

  TempDir folder;
  std::string song;
};

constexpr const char* kPrinted = "the handout is printed\n";

TEST_F(Watch, PrintsAgainHoweverTheSongIsSaved) {
  Process watch({"watch", song}, Process::To::Pipe);
  ASSERT_TRUE(watch.says(kPrinted)) << watch.text();
  std::string last = page();
  const auto changed = [&] {
    const std::string now = page();
    const bool other = now != last;
    last = now;
    return other;
  };
  folder.write("song.yaml", with_title("Written In Place"));
  EXPECT_TRUE(watch.says(kPrinted) && changed()) << watch.text();
  rename_over(with_title("Renamed Over"));
  EXPECT_TRUE(watch.says(kPrinted) && changed()) << watch.text();
  rename_over(with_title("Renamed Once More"));
  EXPECT_TRUE(watch.says(kPrinted) && changed()) << watch.text();
  // The old one moved away, the new one written under its name.
  fs::rename(song, in("song.yaml~"));
  folder.write("song.yaml", with_title("Written Anew"));
  EXPECT_TRUE(watch.says(kPrinted) && changed()) << watch.text();
  // On a busy machine the making and the filling of a file may be seen as two saves.
  EXPECT_TRUE(watch.stays_quiet() || (watch.says(kPrinted) && watch.stays_quiet())) << watch.text();
  folder.write("other.yaml", "song: Another\n");
  EXPECT_TRUE(watch.stays_quiet()) << "a file that is none of its own";
  EXPECT_FALSE(holds(watch.text(), "\033")) << "codes of a terminal, where there is none";
  EXPECT_EQ(watch.ends_after(SIGINT), 0);
}

TEST_F(Watch, ManySavesAtOnceArePrintedOnce) {
  Process watch({"watch", song}, Process::To::Pipe);
  ASSERT_TRUE(watch.says(kPrinted)) << watch.text();
  for (int i = 0; i < 20; ++i) rename_over(with_title("Draft " + std::to_string(i)));
  ASSERT_TRUE(watch.says(kPrinted)) << watch.text();
  EXPECT_TRUE(watch.stays_quiet() || watch.says(kPrinted)) << watch.text();
  EXPECT_LE(support::lines_of(watch.text()).size(), 4U) << watch.text();
  EXPECT_EQ(watch.ends_after(SIGTERM), 0);
}

TEST_F(Watch, TheLastGoodPageStaysWhileTheSongIsBroken) {
  Process watch({"watch", song}, Process::To::Pipe);
  ASSERT_TRUE(watch.says(kPrinted)) << watch.text();
  const std::string good = page();
  rename_over("song: Broken\nsectoins: {}\n");
  EXPECT_TRUE(watch.says("did you mean")) << watch.text();
  EXPECT_TRUE(watch.says("the page printed before stays")) << watch.text();
  EXPECT_EQ(page(), good);
  rename_over(with_title("Mended"));
  EXPECT_TRUE(watch.says("mended; the handout is printed\n")) << watch.text();
  EXPECT_NE(page(), good);
  rename_over("song: [\n");
  EXPECT_TRUE(watch.says("stays until this is mended\n")) << watch.text();
  EXPECT_EQ(watch.ends_after(SIGINT), 1) << "it ends with a broken song";
}

TEST_F(Watch, ADeletedSongIsWaitedFor) {
  Process watch({"watch", song}, Process::To::Pipe);
  ASSERT_TRUE(watch.says(kPrinted)) << watch.text();
  const std::string good = page();
  fs::remove(song);
  EXPECT_TRUE(watch.says("there is no file")) << watch.text();
  EXPECT_EQ(page(), good);
  folder.write("song.yaml", with_title("Back Again"));
  EXPECT_TRUE(watch.says(kPrinted)) << watch.text();
  EXPECT_EQ(watch.ends_after(SIGINT), 0);
}

TEST_F(Watch, AFolderThatGoesAndComesBackIsTakenUpAgain) {
  folder.write("songs/song.yaml", support::small_song());
  Process watch({"watch", in("songs/song.yaml")}, Process::To::Pipe);
  ASSERT_TRUE(watch.says(kPrinted)) << watch.text();
  fs::rename(in("songs"), in("away"));
  EXPECT_TRUE(watch.says("there is no file")) << watch.text();
  folder.write("songs/song.yaml", with_title("In A New Folder"));
  EXPECT_TRUE(watch.says(kPrinted)) << watch.text();
  folder.write("songs/song.yaml", with_title("And Saved There"));
  EXPECT_TRUE(watch.says(kPrinted)) << watch.text();
  EXPECT_EQ(watch.ends_after(SIGINT), 0);
}

TEST_F(Watch, StylesAreWatchedTooAndThoseTheyExtend) {
  folder.write("styles/mine.yaml", "extends: base.yaml\n");
  folder.write("styles/base.yaml", "staff space: 2 mm\n");
  folder.write("song.yaml", std::string("style: styles/mine.yaml\n") + support::small_song());
  Process watch({"watch", song}, Process::To::Pipe);
  ASSERT_TRUE(watch.says(kPrinted)) << watch.text();
  folder.write("styles/base.yaml", "staff space: 1.8 mm\n");
  EXPECT_TRUE(watch.says(kPrinted)) << watch.text();
  folder.write("styles/base.yaml", "staff spaec: 1.8 mm\n");
  EXPECT_TRUE(watch.says("did you mean")) << watch.text();
  fs::remove(in("styles/base.yaml"));
  EXPECT_TRUE(watch.says("is not there")) << watch.text();
  folder.write("styles/base.yaml", "staff space: 1.9 mm\n");
  EXPECT_TRUE(watch.says("mended; the handout is printed\n")) << watch.text();
  EXPECT_EQ(watch.ends_after(SIGINT), 0);
}

TEST_F(Watch, ALinkIsWatchedAtBothEnds) {
  fs::create_directory(in("store"));
  fs::rename(song, in("store/real.yaml"));
  fs::create_symlink("store/real.yaml", song);
  Process watch({"watch", song, "--sheet", "chart"}, Process::To::Pipe);
  ASSERT_TRUE(watch.says("the chart is printed\n")) << watch.text();
  folder.write("store/real.yaml", with_title("At The Far End"));
  EXPECT_TRUE(watch.says("the chart is printed\n")) << watch.text();
  EXPECT_EQ(watch.ends_after(SIGINT), 0);
}

TEST_F(Watch, ATerminalIsClearedWhenTheSongIsMended) {
  Process watch({"watch", song, "--sheet=practice"}, Process::To::Terminal);
  ASSERT_TRUE(watch.says("the practice sheets are printed")) << watch.text();
  rename_over("song: [\n");
  ASSERT_TRUE(watch.says("stays until this is mended")) << watch.text();
  rename_over(support::small_song());
  ASSERT_TRUE(watch.says("\033[2J")) << watch.text();
  ASSERT_TRUE(watch.says("mended; the practice sheets are printed")) << watch.text();
  const std::string last = watch.text().substr(watch.text().rfind("\033[2J"));
  EXPECT_FALSE(holds(last, "error")) << last;
  EXPECT_EQ(watch.ends_after(SIGINT), 0);
}

TEST_F(Watch, WhatCannotBeWatchedIsSaidAtOnce) {
  EXPECT_EQ(Process({"watch", in("none.yaml")}, Process::To::Pipe).code(), 1);
  EXPECT_EQ(Process({"watch", in("none/song.yaml")}, Process::To::Pipe).code(), 1);
  EXPECT_EQ(Process({"watch", song, "-o", in("page.txt")}, Process::To::Pipe).code(), 2);
  EXPECT_EQ(Process({"watch", song, "--parts", "gutar"}, Process::To::Pipe).code(), 2);
  const Outcome piped = run_words({"watch", "-"});
  EXPECT_EQ(piped.code, 2);
  EXPECT_TRUE(holds(piped.err, "name a file")) << piped.err;
  const Outcome foreign = run_words({"watch", song, "--for", "ukulele"});
  EXPECT_EQ(foreign.code, 2);
  EXPECT_TRUE(holds(foreign.err, "`handout` has no option \"--for\"")) << foreign.err;
}

}  // namespace
}  // namespace tunesheaf::app

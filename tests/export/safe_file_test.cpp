#include "tunesheaf/export/safe_file.h"

#include <gtest/gtest.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include <csignal>
#include <filesystem>

#include "export/sheets.h"
#include "export/shell.h"
#include "tunesheaf/export/files.h"

namespace tunesheaf::exporting {
namespace {

namespace fs = std::filesystem;
using namespace testing;  // NOLINT: the helpers of these tests

class SafeFiles : public ::testing::Test {
 protected:
  SafeFiles() {
    folder_ = fs::path(TUNESHEAF_BINARY_DIR) / "safe_file_test" /
              ::testing::UnitTest::GetInstance()->current_test_info()->name();
    fs::remove_all(folder_);
    fs::create_directories(folder_);
    name_ = (folder_ / "page.pdf").string();
  }
  ~SafeFiles() override {
    std::error_code error;
    fs::permissions(folder_, fs::perms::owner_all, error);
    fs::remove_all(folder_, error);
  }
  std::size_t files() const {
    return static_cast<std::size_t>(std::distance(fs::directory_iterator(folder_), fs::directory_iterator{}));
  }
  fs::path folder_;
  std::string name_;
};

TEST_F(SafeFiles, AppearsOnlyWhenCommitted) {
  SafeFile file(name_);
  EXPECT_TRUE(file.write("one "));
  EXPECT_TRUE(file.write("two"));
  EXPECT_FALSE(fs::exists(name_));
  EXPECT_TRUE(file.commit());
  EXPECT_EQ(read_file(name_), "one two");
  EXPECT_EQ(files(), 1U) << "nothing is left beside it";
}

TEST_F(SafeFiles, WithoutCommitTheOldOneStays) {
  write_file(name_, "last week's page");
  {
    SafeFile file(name_);
    file.write(std::string(200000, 'x'));
  }
  EXPECT_EQ(read_file(name_), "last week's page");
  EXPECT_EQ(files(), 1U);
}

TEST_F(SafeFiles, KeepsThePermissionsOfTheOldOne) {
  write_file(name_, "old");
  fs::permissions(name_, fs::perms::owner_read | fs::perms::owner_write | fs::perms::group_read);
  SafeFile file(name_);
  file.write("new");
  ASSERT_TRUE(file.commit());
  EXPECT_EQ(fs::status(name_).permissions() & fs::perms::others_read, fs::perms::none);
  EXPECT_EQ(read_file(name_), "new");
}

TEST_F(SafeFiles, ReplacesWhatALinkLeadsTo) {
  const std::string real = (folder_ / "real.pdf").string();
  write_file(real, "old");
  fs::create_symlink(real, name_);
  SafeFile file(name_);
  file.write("new");
  ASSERT_TRUE(file.commit());
  EXPECT_TRUE(fs::is_symlink(name_));
  EXPECT_EQ(read_file(real), "new");
}

TEST_F(SafeFiles, AFolderIsAFault) {
  SafeFile file(folder_.string());
  ASSERT_TRUE(file.fault());
  EXPECT_EQ(file.fault()->code, EISDIR);
  EXPECT_EQ(file.fault()->message(), "cannot write '" + folder_.string() + "': Is a directory");
}

TEST_F(SafeFiles, AMissingFolderIsAFault) {
  SafeFile file((folder_ / "no" / "page.pdf").string());
  ASSERT_TRUE(file.fault());
  EXPECT_EQ(file.fault()->step, FileStep::Create);
  EXPECT_EQ(file.fault()->code, ENOENT);
  EXPECT_FALSE(file.write("x"));
  EXPECT_FALSE(file.commit());
}

TEST_F(SafeFiles, AFullDeviceIsToldAtTheLatestOnCommit) {
  SafeFile file("/dev/full");
  file.write("a few bytes");
  EXPECT_FALSE(file.commit());
  ASSERT_TRUE(file.fault());
  EXPECT_EQ(file.fault()->step, FileStep::Write);
  EXPECT_EQ(file.fault()->code, ENOSPC);
}

TEST_F(SafeFiles, DevicesAreWrittenStraight) {
  SafeFile file("/dev/null");
  EXPECT_TRUE(file.write("gone"));
  EXPECT_TRUE(file.commit()) << file.fault()->message();
}

/// Runs `what` as a user without rights, where this process has them; its answer is the exit code.
int as_nobody(const std::function<bool()>& what) {
  const pid_t child = ::fork();
  if (child == 0) {
    if (::geteuid() == 0 && (::setgid(65534) != 0 || ::setuid(65534) != 0)) ::_exit(2);
    ::_exit(what() ? 0 : 1);
  }
  int status = 0;
  ::waitpid(child, &status, 0);
  return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
}

TEST_F(SafeFiles, AReadOnlyFolderIsAFaultAndTheOldOneStays) {
  // Below /tmp, where a user without rights may go.
  const fs::path open = fs::path("/tmp") / ("tunesheaf-safe-" + std::to_string(::getpid()));
  fs::create_directories(open);
  const std::string name = (open / "page.pdf").string();
  write_file(name, "old");
  fs::permissions(open,
                  fs::perms::owner_read | fs::perms::owner_exec | fs::perms::others_read | fs::perms::others_exec);
  const int answer = as_nobody([&name] {
    SafeFile file(name);
    return file.fault() && file.fault()->code == EACCES && !file.commit();
  });
  EXPECT_EQ(answer, 0);
  EXPECT_EQ(read_file(name), "old");
  fs::permissions(open, fs::perms::owner_all);
  fs::remove_all(open);
}

TEST_F(SafeFiles, AKillLeavesTheOldOne) {
  write_file(name_, "last week's page");
  int ready[2];
  ASSERT_EQ(::pipe(ready), 0);
  const pid_t child = ::fork();
  if (child == 0) {
    SafeFile file(name_);
    file.write(std::string(1 << 20, 'x'));
    file.seal();
    const char done = 'd';
    if (::write(ready[1], &done, 1) != 1) ::_exit(1);
    ::pause();
  }
  char answer = 0;
  ASSERT_EQ(::read(ready[0], &answer, 1), 1);
  ::kill(child, SIGKILL);
  ::waitpid(child, nullptr, 0);
  ::close(ready[0]);
  ::close(ready[1]);
  EXPECT_EQ(read_file(name_), "last week's page");
  SafeFile again(name_);
  again.write("this week's");
  EXPECT_TRUE(again.commit()) << "the leftovers of the killed run are no hindrance";
  EXPECT_EQ(read_file(name_), "this week's");
}

TEST_F(SafeFiles, DocumentsGoIntoOneFileOrOnePerPage) {
  const Press press;
  const paint::Document document = press.document();
  const auto pdf = write_files(document, *press.fonts, name_, Format::Pdf);
  ASSERT_TRUE(pdf.ok());
  EXPECT_EQ(*pdf, std::vector<std::string>{name_});
  const auto png = write_files(document, *press.fonts, (folder_ / "a.b.png").string(), Format::Png, 50);
  ASSERT_TRUE(png.ok());
  EXPECT_EQ(fs::path(png->at(1)).filename(), "a.b-2.png");
  EXPECT_TRUE(fs::exists(png->at(0)) && fs::exists(png->at(1)));
  EXPECT_EQ(files(), 3U);
}

TEST_F(SafeFiles, NoPageTakesItsNameWhenOneFails) {
  const Press press;
  paint::Document document = press.document();
  std::get<paint::GlyphsShape>(document.pages[1].items.at(1).shape).run.face.family = "No Such Family";
  const auto written = write_files(document, *press.fonts, (folder_ / "a.png").string(), Format::Png, 50);
  EXPECT_FALSE(written.ok());
  EXPECT_EQ(files(), 0U);
}

TEST(FormatOf, GoesByTheEnding) {
  EXPECT_EQ(format_of("a/b.PDF"), Format::Pdf);
  EXPECT_EQ(format_of("b.svg"), Format::Svg);
  EXPECT_EQ(format_of("b.png"), Format::Png);
  EXPECT_FALSE(format_of("pdf"));
  EXPECT_FALSE(format_of("b.txt"));
}

}  // namespace
}  // namespace tunesheaf::exporting

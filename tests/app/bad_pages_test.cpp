// Findings that only the printing of a page brings: songs under tests/golden/pages and styles under
// tests/golden/styles say at their end what must be found, one line per finding: `#! line:column kind`.
#include <gtest/gtest.h>

#include <algorithm>

#include "runner.h"
#include "support/golden.h"
#include "support/temp_dir.h"

namespace tunesheaf::app {
namespace {

namespace fs = std::filesystem;
using support::lines_of;
using support::Outcome;
using support::read_file;
using support::run_words;
using support::TempDir;

const fs::path kGoldens = fs::path(TUNESHEAF_SOURCE_DIR) / "tests/golden";

std::vector<fs::path> goldens(const char* topic) {
  std::vector<fs::path> found;
  for (const auto& entry : fs::directory_iterator(kGoldens / topic)) found.push_back(entry.path());
  std::sort(found.begin(), found.end());
  return found;
}

std::vector<std::string> expected_in(const fs::path& path) {
  std::vector<std::string> expected;
  for (const std::string& line : lines_of(read_file(path))) {
    if (line.rfind("#! ", 0) == 0) expected.push_back(line.substr(3));
  }
  return expected;
}

/// "path:2:9: error: words [kind]" as "2:9 kind"; lines about other files are left out.
std::vector<std::string> found_in(const std::string& lines, const fs::path& path) {
  std::vector<std::string> found;
  for (const std::string& line : lines_of(lines)) {
    const std::string begin = path.string() + ":";
    if (line.rfind(begin, 0) != 0) continue;
    const std::string place = line.substr(begin.size(), line.find(": ") - begin.size());
    const std::size_t bracket = line.rfind('[');
    found.push_back(place + " " + line.substr(bracket + 1, line.size() - bracket - 2));
  }
  return found;
}

TEST(BadPages, SayWhatTheirLastLinesSayAndStillPrint) {
  support::use_house_styles();
  EXPECT_GE(goldens("pages").size(), 3U);
  for (const fs::path& song : goldens("pages")) {
    const TempDir folder;
    const std::string page = folder.path() / "page.pdf";
    const Outcome outcome = run_words({"handout", song, "-o", page, "--format", "lines"});
    EXPECT_EQ(outcome.code, 0) << outcome.err;
    EXPECT_EQ(found_in(outcome.err, song), expected_in(song)) << outcome.err;
    EXPECT_TRUE(fs::exists(page)) << "a warning does not stop the page";
  }
}

TEST(BadStyles, SayWhatTheirLastLinesSay) {
  const TempDir folder;
  const fs::path song = folder.write("song.yaml", support::small_song());
  setenv("TUNESHEAF_STYLES", (kGoldens / "styles").c_str(), 1);
  EXPECT_GE(goldens("styles").size(), 5U);
  for (const fs::path& style : goldens("styles")) {
    const Outcome outcome = run_words({"handout", song, "--style", style.stem(), "--format", "lines"});
    EXPECT_EQ(found_in(outcome.err, style), expected_in(style)) << outcome.err;
    EXPECT_EQ(outcome.code, style.stem() == "pale" ? 0 : 1) << "faults stop the page, doubts do not: " << outcome.err;
  }
}

TEST(Unread, IsSaidInTheseWords) {
  std::string said;
  for (const char* path : {"no-such-song.yaml", "/"}) {
    said += run_words({"check", path}).out;
    said += run_words({"check", path, "--format", "lines"}).out;
    said += run_words({"check", path, "--format", "json"}).out;
  }
  support::expect_golden("app/unread.txt", said);
}

}  // namespace
}  // namespace tunesheaf::app

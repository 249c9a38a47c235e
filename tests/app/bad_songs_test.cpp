// Every bad song under tests/golden/bad says at its end what must be found in it, one line per finding in order of
// place: `#! line:column kind`. Together they show every kind of finding there is.
#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <map>
#include <set>
#include <sstream>
#include <string>
#include <vector>

#include "support/temp_dir.h"
#include "tunesheaf/app/pipeline.h"

namespace {

namespace fs = std::filesystem;
using namespace tunesheaf;

std::vector<fs::path> bad_songs() {
  std::vector<fs::path> songs;
  for (const auto& entry : fs::directory_iterator(fs::path(TUNESHEAF_SOURCE_DIR) / "tests/golden/bad")) {
    if (entry.path().extension() == ".yaml") songs.push_back(entry.path());
  }
  std::sort(songs.begin(), songs.end());
  return songs;
}

std::vector<std::string> expected_findings(const fs::path& path) {
  std::ifstream file(path, std::ios::binary);
  std::vector<std::string> lines;
  for (std::string line; std::getline(file, line);) {
    if (line.rfind("#! ", 0) == 0) lines.push_back(line.substr(3));
  }
  return lines;
}

struct Findings {
  std::vector<std::string> lines;
  std::vector<diag::Diagnostic> items;
  std::string printed;
};

Findings findings(const fs::path& path) {
  app::Work work;
  app::DiskFiles disk;
  if (app::read_text(work, disk, path.string())) app::to_checked(work);
  Findings found;
  found.items = work.sink.sorted();
  for (const diag::Diagnostic& item : found.items) {
    std::string place = "-";
    if (!item.labels.empty()) {
      const auto at = work.files.file(item.labels.front().span.file).place(item.labels.front().span.begin);
      place = std::to_string(at.line) + ":" + std::to_string(at.column);
    }
    found.lines.push_back(place + " " + std::string(diag::name(item.kind)));
  }
  found.printed = diag::print(found.items, work.files, diag::Format::People, false);
  return found;
}

class BadSong : public testing::TestWithParam<fs::path> {};

TEST_P(BadSong, SaysWhatItsLastLinesSay) {
  const auto expected = expected_findings(GetParam());
  ASSERT_FALSE(expected.empty()) << GetParam() << " has no `#!` lines";
  const Findings found = findings(GetParam());
  EXPECT_EQ(expected, found.lines) << found.printed;
}

TEST_P(BadSong, EveryFindingSaysWhatToDo) {
  for (const diag::Diagnostic& item : findings(GetParam()).items) {
    EXPECT_FALSE(item.situation.empty());
    EXPECT_FALSE(item.remedy.empty()) << diag::name(item.kind) << ": " << item.situation;
    EXPECT_FALSE(item.labels.empty()) << diag::name(item.kind) << ": " << item.situation;
  }
}

std::string test_name(const testing::TestParamInfo<fs::path>& info) {
  std::string name = info.param.stem().string();
  for (char& c : name) {
    if (std::isalnum(static_cast<unsigned char>(c)) == 0) c = '_';
  }
  return name;
}

INSTANTIATE_TEST_SUITE_P(Golden, BadSong, testing::ValuesIn(bad_songs()), test_name);

TEST(BadSongs, AreAtLeastSixty) {
  EXPECT_GE(bad_songs().size(), 60u);
}

/// Findings that no small song can show stand in other goldens.
const std::map<std::string, std::string> kShownElsewhere{
    {"file-missing", "app/unread.txt"},
    {"file-unreadable", "app/unread.txt"},
    {"file-too-large", "yaml/generated/too-large.txt"},
    {"too-many-values", "yaml/generated/too-many.txt"},
    {"not-readable", "yaml/generated/not-readable.txt"},
    {"style-missing", "styles/missing-parent.yaml"},
    {"style-unknown-token", "styles/unknown-token.yaml"},
    {"style-wrong-value", "styles/wrong-value.yaml"},
    {"style-circle", "styles/circle.yaml"},
    {"style-low-contrast", "styles/pale.yaml"},
    {"book-unknown-key", "book/unknown-key.yaml"},
    {"book-wrong-value", "book/wrong-value.yaml"},
    {"book-key-missing", "book/no-title.yaml"},
    {"book-song-twice", "book/song-twice.yaml"},
    {"book-song-missing", "book/song-missing.yaml"},
    {"book-song-refused", "book/song-refused.yaml"},
    {"book-same-title", "book/same-title.yaml"},
    {"sheet-overfull", "pages/bar-too-full.yaml"},
    {"sheet-set-smaller", "pages/bar-too-full.yaml"},
    {"sheet-missing-character", "pages/character-without-a-font.yaml"},
    {"sheet-word-too-wide", "pages/word-wider-than-the-page.yaml"},
};

TEST(BadSongs, ShowEveryKindOfFinding) {
  std::set<std::string> shown;
  for (const fs::path& song : bad_songs()) {
    for (const std::string& line : expected_findings(song)) shown.insert(line.substr(line.find(' ') + 1));
  }
  for (const auto& [kind, golden] : kShownElsewhere) {
    const std::string text = support::read_file(fs::path(TUNESHEAF_SOURCE_DIR) / "tests/golden" / golden);
    EXPECT_NE(text.find(kind), std::string::npos) << golden << " does not show " << kind;
    EXPECT_TRUE(shown.insert(kind).second) << kind << " is shown by a bad song; it need not stand in this list";
  }
  for (const diag::Kind kind : diag::all_kinds()) {
    EXPECT_TRUE(shown.count(std::string(diag::name(kind))) > 0) << "no bad song shows " << diag::name(kind);
  }
}

}  // namespace

// `book`: what is printed, what is kept, what is refused.
#include <gtest/gtest.h>
#include <sys/wait.h>

#include <algorithm>
#include <map>
#include <thread>

#include "export/shell.h"
#include "runner.h"
#include "support/temp_dir.h"

namespace tunesheaf::app {
namespace {

namespace fs = std::filesystem;
using exporting::testing::Ran;
using support::holds;
using support::lines_of;
using support::Outcome;
using support::read_file;
using support::run_words;
using support::TempDir;

std::string song(const std::string& title, int bars, const std::string& tuning = "usual") {
  std::string text =
      "song: " + title +
      "\nby: The Gravel Choir\nkey: G major\ntempo: 90\nparts:\n  guitar: {instrument: guitar, tuning: \"" + tuning +
      "\"}\nshapes:\n  G: {frets: 3 2 0 0 0 3, fingers: 2 1 . . . 3}\nsections:\n";
  for (int part = 0; part * 8 < bars; ++part) {
    text += "  part " + std::to_string(part + 1) + ":\n    guitar: |\n      shape | G |";
    for (int bar = 1; bar < 8; ++bar) text += " G |";
    text += "\n      1 | 0 h2 : 3 : 2 : " + std::to_string(part) + " |";
    for (int bar = 1; bar < 8; ++bar) text += " " + std::to_string((part + bar) % 9) + " : 2 : 3 : 5 |";
    text += "\n";
  }
  return text;
}

class BookOf : public ::testing::Test {
 protected:
  void SetUp() override {
    support::use_house_styles();
    setenv("XDG_CACHE_HOME", in("cache").c_str(), 1);
    folder.write("quarry.yaml", song("Quarry Lane", 8));
    folder.write("ferry.yaml", song("Ferry Lights", 160));
    folder.write("harbour.yaml", song("Harbour Steps", 8, "drop D"));
    folder.write("anchor.yaml", song("Anchor Road", 96, "open G"));
    folder.write("book.yaml",
                 "book: Songs of the Quay\nby: Friends of the Boats\nsongs:\n"
                 "  - quarry.yaml\n  - ferry.yaml\n  - harbour.yaml\n  - anchor.yaml\n"
                 "  - {song: ferry.yaml, sheet: chart}\n");
  }
  void TearDown() override { unsetenv("XDG_CACHE_HOME"); }

  std::string in(const std::string& name) const { return (folder.path() / name).string(); }
  Outcome bind(std::vector<std::string> more = {}) const {
    more.insert(more.begin(), {"book", in("book.yaml")});
    return run_words(more);
  }
  std::string printed() const { return read_file(in("book.pdf")); }
  /// The words of a page, from 1.
  std::string page(int number) const {
    const std::string n = std::to_string(number);
    return exporting::testing::run("pdftotext -layout -f " + n + " -l " + n + " '" + in("book.pdf") + "' -").output;
  }
  int pages() const {
    const std::string info = exporting::testing::run("pdfinfo '" + in("book.pdf") + "'").output;
    return std::stoi(info.substr(info.find("Pages:") + 6));
  }
  /// Songs in the cache, by name, with the time of their writing.
  std::map<std::string, fs::file_time_type> kept() const {
    std::map<std::string, fs::file_time_type> out;
    if (!fs::exists(in("cache"))) return out;
    for (const auto& entry : fs::recursive_directory_iterator(in("cache"))) {
      if (entry.is_regular_file()) out[entry.path().string()] = entry.last_write_time();
    }
    return out;
  }

  TempDir folder;
};

TEST_F(BookOf, TheContentsNameThePageOfEverySong) {
  const Outcome done = bind();
  ASSERT_EQ(done.code, 0) << done.err;
  EXPECT_TRUE(holds(page(1), "Songs of the Quay") && holds(page(1), "Friends of the Boats") &&
              holds(page(1), "5 songs"));
  const std::string contents = page(2);
  EXPECT_TRUE(holds(contents, "Contents")) << contents;
  int named = 0;
  for (const std::string& line : lines_of(contents)) {
    for (const char* title : {"Quarry Lane", "Ferry Lights", "Harbour Steps", "Anchor Road"}) {
      if (!holds(line, title)) continue;
      ++named;
      const int number = std::stoi(line.substr(line.find_last_of(' ')));
      EXPECT_TRUE(holds(page(number), title)) << line;
      const std::string there = page(number);
      EXPECT_TRUE(holds(there, std::to_string(number))) << "the page bears its number";
    }
  }
  EXPECT_EQ(named, 5) << contents;
  const Ran sound = exporting::testing::run("qpdf --check '" + in("book.pdf") + "'");
  EXPECT_EQ(sound.code, 0) << sound.output;
}

TEST_F(BookOf, SongsOfSeveralPagesBeginOnALeftHandPage) {
  ASSERT_EQ(bind().code, 0);
  const std::string contents = page(2);
  for (const std::string& line : lines_of(contents)) {
    if (!holds(line, "Ferry Lights (handout)") && !holds(line, "Anchor Road")) continue;
    EXPECT_EQ(std::stoi(line.substr(line.find_last_of(' '))) % 2, 0) << line;
  }
  const int double_sided = pages();
  folder.write("book.yaml", read_file(in("book.yaml")) + "sides: single\n");
  ASSERT_EQ(bind().code, 0);
  EXPECT_LT(pages(), double_sided);
}

TEST_F(BookOf, ALeafTurnsBetweenSectionsWhereTheyFitOnTwoPages) {
  ASSERT_EQ(bind().code, 0);
  // A running heading over a continued section stands only where a section is broken; never at the top of a left page.
  for (int number = 4; number <= pages(); number += 2) {
    const auto lines = lines_of(page(number));
    const auto first = std::find_if(lines.begin(), lines.end(),
                                    [](const auto& l) { return l.find_first_not_of(' ') != std::string::npos; });
    if (first == lines.end()) continue;
    EXPECT_FALSE(holds(*first, "continued")) << number << ": " << *first;
  }
}

TEST_F(BookOf, ItsIndexesAndBookmarksAreThere) {
  ASSERT_EQ(bind().code, 0);
  std::string last;
  for (int n = pages(); n > pages() - 2; --n) last += page(n);
  for (const char* words : {"Titles", "Shapes", "Techniques", "hammer-ons", "320003"})
    EXPECT_TRUE(holds(last, words)) << words;
  const std::string outline = exporting::testing::run("mutool show '" + in("book.pdf") + "' outline").output;
  for (const char* words : {"Contents", "Quarry Lane", "Harbour Steps", "part 1", "Techniques"}) {
    EXPECT_TRUE(holds(outline, words)) << outline;
  }
}

TEST_F(BookOf, OrderOfTunings) {
  folder.write("book.yaml", read_file(in("book.yaml")) + "order: tuning\n");
  ASSERT_EQ(bind().code, 0);
  const std::string contents = page(2);
  // Usual, then one string down, then two more and another.
  const std::size_t usual = contents.find("Quarry Lane"), drop = contents.find("Harbour Steps"),
                    open = contents.find("Anchor Road");
  EXPECT_TRUE(usual < drop && drop < open) << contents;
}

TEST_F(BookOf, TheSameBytesWhateverTheThreadsAndTheCache) {
  ASSERT_EQ(bind({"--threads", "1", "--fresh"}).code, 0);
  EXPECT_TRUE(kept().empty());
  const std::string once = printed();
  for (const char* threads : {"1", "2", "7"}) {
    ASSERT_EQ(bind({"--threads", threads}).code, 0);
    EXPECT_TRUE(printed() == once) << threads;
    ASSERT_EQ(bind({"--threads", threads, "--fresh"}).code, 0);
    EXPECT_TRUE(printed() == once) << threads << " fresh";
  }
  EXPECT_EQ(kept().size(), 5U);
}

TEST_F(BookOf, ADamagedCacheIsNoFault) {
  ASSERT_EQ(bind().code, 0);
  const std::string once = printed();
  int way = 0;
  for (const auto& [path, when] : kept()) {
    std::string bytes = read_file(path);
    if (way == 0) bytes.clear();
    if (way == 1) bytes.resize(bytes.size() / 2);
    if (way == 2) bytes[bytes.size() - 9] = static_cast<char>(bytes[bytes.size() - 9] ^ 1);
    if (way == 3) bytes += "more";
    if (way == 4) bytes[40] = 'x';
    ++way;
    exporting::testing::write_file(path, bytes);
  }
  ASSERT_EQ(bind().code, 0);
  EXPECT_TRUE(printed() == once);
  // A folder that cannot be made is none either.
  fs::remove_all(in("cache"));
  folder.write("cache", "a file");
  ASSERT_EQ(bind().code, 0);
  EXPECT_TRUE(printed() == once);
}

TEST_F(BookOf, OnlyWhatChangedIsLaidOutAgain) {
  ASSERT_EQ(bind().code, 0);
  const auto before = kept();
  ASSERT_EQ(before.size(), 5U);
  folder.write("quarry.yaml", song("Quarry Lane", 16));
  ASSERT_EQ(bind().code, 0);
  EXPECT_EQ(kept().size(), 6U);
  const std::string once = printed();
  ASSERT_EQ(bind({"--fresh"}).code, 0);
  EXPECT_TRUE(printed() == once);
  // Another style is another book.
  ASSERT_EQ(bind({"--style", "large"}).code, 0);
  EXPECT_EQ(kept().size(), 11U);
  ASSERT_EQ(bind({"--set", "body.size=12 pt"}).code, 0);
  EXPECT_EQ(kept().size(), 16U);
}

TEST_F(BookOf, TwoRunsAtOnceDoNotDisturbEachOther) {
  ASSERT_EQ(bind({"--fresh"}).code, 0);
  const std::string once = printed();
  const std::string program = std::string(TUNESHEAF_BINARY_DIR) + "/tunesheaf";
  std::vector<std::thread> runs;
  std::vector<int> codes(4, -1);
  for (std::size_t i = 0; i < codes.size(); ++i) {
    runs.emplace_back([&, i] {
      codes[i] = exporting::testing::run(program + " book '" + in("book.yaml") + "' -o '" +
                                         in(std::to_string(i) + ".pdf") + "'")
                     .code;
    });
  }
  for (std::thread& run : runs) run.join();
  for (std::size_t i = 0; i < codes.size(); ++i) {
    EXPECT_EQ(codes[i], 0);
    EXPECT_TRUE(read_file(in(std::to_string(i) + ".pdf")) == once) << i;
  }
}

TEST_F(BookOf, ABrokenSongIsNamedAndTheOldBookStays) {
  ASSERT_EQ(bind().code, 0);
  const std::string old = printed();
  folder.write("quarry.yaml", "song: Broken\nsectoins: {}\n");
  folder.write("anchor.yaml", "song: [\n");
  fs::remove(in("harbour.yaml"));
  const Outcome broken = bind();
  EXPECT_EQ(broken.code, 1);
  for (const char* words :
       {"did you mean \"sections\"", "anchor.yaml, line 1", "\"harbour.yaml\" cannot stand in the book",
        "3 of 5 songs are missing or broken (quarry.yaml, harbour.yaml, anchor.yaml)",
        "one printed before stays as it was"}) {
    EXPECT_TRUE(holds(broken.err, words)) << words << "\n" << broken.err;
  }
  EXPECT_TRUE(printed() == old);
  folder.write("quarry.yaml", song("Quarry Lane", 8));
  folder.write("anchor.yaml", song("Anchor Road", 96, "open G"));
  folder.write("harbour.yaml", song("Harbour Steps", 8, "drop D"));
  ASSERT_EQ(bind().code, 0);
  EXPECT_TRUE(printed() == old);
}

TEST_F(BookOf, WhereItCannotBeWrittenIsSaidBeforeTheWork) {
  folder.write("file", "");
  const Outcome in_file = bind({"-o", in("file/book.pdf")});
  EXPECT_EQ(in_file.code, 1);
  EXPECT_TRUE(holds(in_file.err, "what should be a folder there is a file")) << in_file.err;
  EXPECT_EQ(bind({"-o", in("none/book.pdf")}).code, 1);
  fs::create_directory(in("folder.pdf"));
  EXPECT_EQ(bind({"-o", in("folder.pdf")}).code, 1);
  EXPECT_EQ(bind({"-o", in("book.txt")}).code, 2);
  EXPECT_EQ(bind({"--threads", "many"}).code, 2);
  EXPECT_EQ(bind({"--threads", "0"}).code, 2);
  EXPECT_TRUE(kept().empty());
}

TEST_F(BookOf, ItsDepfileNamesBookStyleAndSongs) {
  folder.write("mine.yaml", "extends: house\n");
  folder.write("book.yaml", read_file(in("book.yaml")) + "style: mine.yaml\n");
  ASSERT_EQ(bind({"--depfile", in("book.d")}).code, 0);
  const std::string rule = read_file(in("book.d"));
  for (const char* name :
       {"book.yaml", "mine.yaml", "house.yaml", "quarry.yaml", "ferry.yaml", "harbour.yaml", "anchor.yaml"}) {
    EXPECT_TRUE(holds(rule, std::string("/") + name + ":")) << rule;
  }
}

/// Every bad book under tests/golden/book says at its end what must be found in it: `#! line:column kind`.
TEST_F(BookOf, BadBooksSayWhatTheirLastLinesSay) {
  folder.write("again.yaml", song("Quarry Lane", 16));
  int books = 0;
  for (const auto& entry : fs::directory_iterator(fs::path(TUNESHEAF_SOURCE_DIR) / "tests/golden/book")) {
    const std::string text = read_file(entry.path());
    const std::string path = folder.write("bad.yaml", text);
    std::vector<std::string> expected, found;
    for (const std::string& line : lines_of(text)) {
      if (line.rfind("#! ", 0) == 0) expected.push_back(line.substr(3));
    }
    const Outcome done = run_words({"book", path, "--format", "lines", "-o", in("bad.pdf")});
    const bool warning = holds(text, "book-same-title");
    EXPECT_EQ(done.code, warning ? 0 : 1) << entry.path() << done.err;
    for (const std::string& line : lines_of(done.err)) {
      const std::size_t kind = line.rfind('[');
      if (line.rfind(path + ":", 0) != 0 || kind == std::string::npos) continue;
      const std::string place =
          line.substr(path.size() + 1, line.find(':', line.find(':', path.size() + 1) + 1) - path.size() - 1);
      found.push_back(place + " " + line.substr(kind + 1, line.size() - kind - 2));
    }
    EXPECT_EQ(found, expected) << entry.path() << "\n" << done.err;
    ++books;
  }
  EXPECT_GE(books, 9);
}

TEST_F(BookOf, ItsKeysAreExplained) {
  const Outcome all = run_words({"reference", "book"});
  EXPECT_TRUE(holds(all.out, "order") && holds(all.out, "one of: as given, title, key, tuning, difficulty")) << all.out;
  EXPECT_TRUE(holds(run_words({"reference", "book", "ordre"}).out, "the nearest is \"order\""));
  const Outcome schema = run_words({"schema", "book"});
  EXPECT_TRUE(holds(schema.out, "\"additionalProperties\": false")) << schema.out;
  EXPECT_EQ(run_words({"schema", "bok"}).code, 2);
}

}  // namespace
}  // namespace tunesheaf::app

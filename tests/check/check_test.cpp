// What check says in words, and what it resolves: goldens of messages and of the `checked` phase, and rules one by one.
#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>

#include "support/golden.h"
#include "tunesheaf/check/checked.h"
#include "tunesheaf/song/read.h"
#include "tunesheaf/yaml/node.h"

namespace tunesheaf::check {
namespace {

namespace fs = std::filesystem;

struct Judged {
  source::Files files;
  diag::Sink sink;
  std::optional<CheckedSong> checked;
  std::string findings() const { return diag::print(sink.sorted(), files, diag::Format::People, false); }
  std::string kinds() const {
    std::string out;
    for (const auto& item : sink.sorted())
      out += std::string(out.empty() ? "" : " ") + std::string(diag::name(item.kind));
    return out;
  }
};

Judged judge(const std::string& name, const std::string& text) {
  Judged judged;
  const source::File& file = judged.files.file(judged.files.add(name, text));
  if (const auto root = yaml::read(file, judged.sink)) {
    if (auto song = song::read(*root, file, judged.sink)) judged.checked = check(std::move(*song), file, judged.sink);
  }
  return judged;
}

std::string text_of(const fs::path& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

std::vector<fs::path> files_in(const std::string& folder) {
  std::vector<fs::path> out;
  for (const auto& entry : fs::directory_iterator(fs::path(TUNESHEAF_SOURCE_DIR) / folder))
    if (entry.path().extension() == ".yaml") out.push_back(entry.path());
  std::sort(out.begin(), out.end());
  return out;
}

/// The bad songs whose faults are this module's, in words.
TEST(Messages, InWords) {
  std::string out;
  for (const fs::path& path : files_in("tests/golden/bad")) {
    const std::string stem = path.stem().string();
    const int number = std::stoi(stem);
    if (number < 210 || number > 304) continue;
    out += judge(path.filename().string(), text_of(path)).findings() + "\n";
  }
  support::expect_golden("check/messages.txt", out);
}

/// Marks where they cannot be, hands and feet that are not there, players and their instruments: one message each.
TEST(Messages, OfMarksAndPlayersInWords) {
  std::string out;
  for (const fs::path& path : files_in("tests/golden/bad")) {
    const int number = std::stoi(path.stem().string());
    if (number < 700 || number > 899) continue;
    const Judged judged = judge(path.filename().string(), text_of(path));
    EXPECT_EQ(judged.sink.sorted().size(), 1u) << path << " makes one mistake\n" << judged.findings();
    out += judged.findings() + "\n";
  }
  support::expect_golden("check/messages_players.txt", out);
}

TEST(Messages, SayTheSituationTheRuleOrTheRemedy) {
  for (const fs::path& path : files_in("tests/golden/bad")) {
    const Judged judged = judge(path.filename().string(), text_of(path));
    for (const auto& item : judged.sink.sorted()) {
      EXPECT_FALSE(item.situation.empty()) << path;
      EXPECT_FALSE(item.remedy.empty()) << path;
      EXPECT_NE(item.situation.back(), '.') << item.situation;
    }
  }
}

class Phase : public testing::TestWithParam<fs::path> {};
TEST_P(Phase, IsTheCheckedSong) {
  const Judged judged = judge(GetParam().filename().string(), text_of(GetParam()));
  ASSERT_TRUE(judged.checked) << judged.findings();
  support::expect_golden("check/" + GetParam().stem().string() + ".checked", print(*judged.checked));
}
INSTANTIATE_TEST_SUITE_P(Songs, Phase, testing::ValuesIn(files_in("tests/golden/check")),
                         [](const auto& at) { return at.param.stem().string(); });

std::string song(const std::string& head, const std::string& sections) {
  return "song: Quarry Lane\n" + head + "sections:\n" + sections;
}
constexpr const char* kGuitar = "parts:\n  guitar: {instrument: guitar}\n";

TEST(Check, NothingIsReturnedWhenThereIsAnError) {
  const Judged judged = judge("song.yaml", song(kGuitar, "  a:\n    guitar: |\n      1 | 0 : 2 |\n"));
  EXPECT_FALSE(judged.checked);
  EXPECT_EQ(judged.kinds(), "bar-does-not-add-up");
}

TEST(Check, AWarningLeavesTheSong) {
  const Judged judged = judge("song.yaml", song(std::string(kGuitar) + "shapes:\n  c: {frets: x 3 2 0 1 0}\n",
                                                "  a:\n    guitar: |\n      1 | 0 |\n"));
  EXPECT_TRUE(judged.checked);
  EXPECT_EQ(judged.kinds(), "unused");
}

struct SharedBar {
  const char* meter;
  const char* bar;
  bool fits;
};
void PrintTo(const SharedBar& s, std::ostream* out) {
  *out << s.meter << " " << s.bar;
}
class Bars : public testing::TestWithParam<SharedBar> {};
TEST_P(Bars, AddUpOrNot) {
  const Judged judged =
      judge("song.yaml", song(std::string("meter: ") + GetParam().meter + "\n" + kGuitar,
                              std::string("  a:\n    guitar: |\n      1 | ") + GetParam().bar + " |\n"));
  EXPECT_EQ(judged.checked.has_value(), GetParam().fits) << judged.findings();
}
INSTANTIATE_TEST_SUITE_P(
    Table, Bars,
    testing::Values(SharedBar{"4/4", "0", true}, SharedBar{"4/4", "0 2", true}, SharedBar{"4/4", "0 2 3", false},
                    SharedBar{"4/4", "0 2 3 5", true}, SharedBar{"4/4", "0 2 3 5 7", false},
                    SharedBar{"4/4", "0 2 3 5 0 2 3 5", true}, SharedBar{"4/4", "0 2 3 5 0 2", false},
                    SharedBar{"4/4", "0 : 2 : 3 : 5", true}, SharedBar{"4/4", "0 : 2 : 3", false},
                    SharedBar{"3/4", "0 2", false}, SharedBar{"3/4", "0 2 3", true}, SharedBar{"6/8", "0 2", true},
                    SharedBar{"6/8", "0 2 3 5 7 8", true}, SharedBar{"6/8", "0 2 3", false},
                    SharedBar{"6/8", "0 2 3 : 5", true}, SharedBar{"3/8", "0 2 3", true}, SharedBar{"2/2", "0 2", true},
                    SharedBar{"2/2", "0 : 2", true}, SharedBar{"2/2", "0 2 3", false},
                    SharedBar{"7/8 (2+2+3)", "0 2 3", true}, SharedBar{"7/8 (2+2+3)", "0 : 2 : 3", true},
                    SharedBar{"7/8 (2+2+3)", "0 2 3 5 7 8 9", true}, SharedBar{"7/8 (2+2+3)", "0 2", false},
                    SharedBar{"5/4", "0 2 3 5 7", true}, SharedBar{"5/4 (3+2)", "0 2", false},
                    SharedBar{"5/4", "0 : 2 : 3 : 5 : 7 8 9", true}));

TEST(Seams, ATieIntoASectionIsJudgedOnEveryPass) {
  const std::string sections =
      "  a:\n    guitar: |\n      1 | - : - : - : 5 |\n  b:\n    guitar: |\n      1 | -5 : - : - : 7 |\n";
  EXPECT_EQ(judge("song.yaml", song(kGuitar, sections + "form: [a, b]\n")).kinds(), "");
  EXPECT_EQ(judge("song.yaml", song(kGuitar, sections + "form: [a, b, b]\n")).kinds(), "tie-differs");
  EXPECT_EQ(judge("song.yaml", song(kGuitar, sections + "form: [b, a]\n")).kinds(), "nothing-before");
}

TEST(Form, ASignWrittenALittleWrongLeadsToTheSign) {
  const Judged judged = judge(
      "song.yaml", song(kGuitar, "  tune:\n    guitar: |\n      1 | 0 : - : - : - |\nform: [tune, to cooda, tune]\n"));
  EXPECT_EQ(judged.kinds(), "unknown-name");
  EXPECT_NE(judged.findings().find("to coda\"?"), std::string::npos) << judged.findings();
}

TEST(Claims, TwoCausesAreTwoLabels) {
  const Judged judged = judge("song.yaml", song("parts:\n  guitar: {instrument: guitar, tuning: D2 A2 D3 G3 A3 "
                                                "D4}\nshapes:\n  c: {frets: x 3 2 0 1 0, ear: C}\n",
                                                "  a:\n    guitar: |\n      shape | c |\n"));
  ASSERT_EQ(judged.kinds(), "claim-differs");
  EXPECT_EQ(judged.sink.sorted().front().labels.size(), 3u);
  EXPECT_TRUE(judged.checked);
}

TEST(Like, ExceptChangesOnlyTheLanesItNames) {
  const Judged judged =
      judge("song.yaml", song(kGuitar,
                              "  a:\n    guitar: |\n      1 | 0 : - : - : - | 2 : - : - : - |\n"
                              "      2 | 1 : - : - : - | 3 : - : - : - |\n"
                              "  b:\n    like: a\n    guitar:\n      except:\n        last: \"1 | 7 |\"\n"));
  ASSERT_TRUE(judged.checked) << judged.findings();
  const CheckedSection& b = (*judged.checked)->sections[1];
  ASSERT_EQ(b.parts[0].lanes.size(), 2u);
  const auto fret = [&](std::size_t lane, std::size_t cell) {
    return std::get<song::StringSign>(b.parts[0].lanes[lane].cells[cell].cell->content).fret.value_or(-1);
  };
  EXPECT_EQ(fret(0, 0), 0);
  EXPECT_EQ(fret(0, 1), 7);
  EXPECT_EQ(fret(1, 1), 3);
}

TEST(Like, WhatIsNotStatedIsTakenOver) {
  const Judged judged =
      judge("song.yaml", song(kGuitar,
                              "  a:\n    times: 3\n    meter: 3/4\n    guitar: |\n      1 | 0 : 2 : 3 |\n"
                              "  b:\n    like: a\n"));
  ASSERT_TRUE(judged.checked) << judged.findings();
  const CheckedSection& b = (*judged.checked)->sections[1];
  EXPECT_EQ(b.times, 3);
  EXPECT_EQ(b.bars[0].length, Fraction(3, 4));
}

TEST(Instruments, OneDefinedByItsStrings) {
  const Judged judged = judge("song.yaml", song("parts:\n  zither: {instrument: box zither, tuning: D3 A3 D4}\n",
                                                "  a:\n    zither: |\n      1 | 0 : 2 : 4 : - |\n"));
  ASSERT_TRUE(judged.checked) << judged.findings();
  EXPECT_EQ((*judged.checked)->parts[0].strings(), 3);
  EXPECT_TRUE((*judged.checked)->parts[0].tab);
}

TEST(Tempo, ImpliedByTwoPlaces) {
  std::string lane = "      1 |";
  for (int i = 0; i < 8; ++i) lane += " 0 |";
  const Judged judged = judge(
      "song.yaml",
      song("meter: 4/4\ntempo: 120\nrecordings:\n  studio: {sounds: +18 cents}\n" + std::string(kGuitar),
           "  a:\n    at: 0:00\n    guitar: |\n" + lane + "\n  b:\n    at: 0:16\n    guitar: |\n      1 | 0 |\n"));
  ASSERT_TRUE(judged.checked) << judged.findings();
  ASSERT_EQ((*judged.checked)->implied_tempos.size(), 1u);
  EXPECT_DOUBLE_EQ((*judged.checked)->implied_tempos[0].second, 120.0);
  EXPECT_EQ(judged.kinds(), "");
}

}  // namespace
TEST(Tempo, EverySectionsDistanceIsKept) {
  std::string text = "meter: 4/4\nrecordings:\n  studio: {sounds: as written}\n" + std::string(kGuitar);
  const std::vector<std::string> times{"0:00", "0:08", "0:17", "0:24", "0:32"};  // the third a second late
  std::string sections;
  for (std::size_t i = 0; i < times.size(); ++i) {
    sections += "  s" + std::to_string(i + 1) + ":\n    at: " + times[i] + "\n    guitar: |\n      1 |";
    for (int bar = 0; bar < 4; ++bar) sections += " " + std::to_string(i) + " : - : - : - |";
    sections += "\n";
  }
  const Judged judged = judge("song.yaml", song(text, sections));
  ASSERT_TRUE(judged.checked) << judged.findings();
  const auto& places = (*judged.checked)->section_times;
  ASSERT_EQ(places.size(), times.size()) << judged.findings();
  // Least squares over 0, 8, 17, 24, 32 seconds: 8 seconds a section, 0.2 late at the start.
  EXPECT_NEAR(places[0].residual, -0.2, 1e-9);
  EXPECT_NEAR(places[2].residual, 0.8, 1e-9);
  EXPECT_NEAR(places[4].residual, -0.2, 1e-9);
  EXPECT_EQ(places[2].stated, base::Fraction(17));
  EXPECT_EQ(places[2].section, 2);
}

}  // namespace tunesheaf::check

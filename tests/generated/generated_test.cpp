// Songs from seeds in every run of the tests: each is accepted, keeps the invariants of its Timeline, survives tidying,
// is laid out, its list of marks is read back the same, and its audit has no breach but those of known-faults.txt, in
// all styles and on both papers; its chart is one page, and its practice sheets hold their sections' bars. A song that
// fails is shrunk and printed.
#include <gtest/gtest.h>

#include <fstream>
#include <iostream>
#include <regex>
#include <set>
#include <sstream>

#include "generated/judge.h"
#include "generated/shrink.h"
#include "generated/song.h"
#include "generated/spoil.h"
#include "tunesheaf/song/language.h"

namespace tunesheaf::generated {
namespace {

constexpr int kSongsAtATime = 30;
constexpr int kGroups = 10;
constexpr std::uint64_t kSongsForWords = 2500;  ///< only written, not printed

std::string report(std::uint64_t seed, const Wish& wish, const std::vector<Failure>& failures) {
  const std::string key = failures.front().key;
  const Node small = shrink(
      make_song(seed),
      [&](const Node& song) {
        for (const Failure& failure : judge(write(song), wish))
          if (failure.key == key) return true;
        return false;
      },
      400);
  std::ostringstream out;
  out << "seed " << seed << ", style " << wish.style << ", paper " << wish.paper << ":\n";
  for (const Failure& failure : failures) out << "  " << failure.key << ": " << failure.what << "\n";
  out << "shrunk, the first of these is still there:\n" << write(small);
  return out.str();
}

/// Causes that are known and not yet mended stand in known-faults.txt, one a line; a line that ends in * stands for all
/// that begin so. The list may only get shorter: a song with any other cause fails. `try_songs 0 1000 --causes` prints
/// the causes there are.
bool is_known(const std::string& key) {
  static const std::vector<std::string> kKnown = [] {
    std::vector<std::string> known;
    std::ifstream file(std::string(TUNESHEAF_SOURCE_DIR) + "/tests/generated/known-faults.txt");
    for (std::string line; std::getline(file, line);)
      if (!line.empty() && line.front() != '#') known.push_back(line);
    return known;
  }();
  return std::any_of(kKnown.begin(), kKnown.end(), [&](const std::string& line) {
    return line.back() == '*' ? key.rfind(line.substr(0, line.size() - 1), 0) == 0 : key == line;
  });
}

class GeneratedSongs : public testing::TestWithParam<int> {};

void judge_group(int group, SheetKind sheet) {
  const auto first = static_cast<std::uint64_t>(group) * kSongsAtATime;
  int failed = 0, clean = 0;
  for (std::uint64_t seed = first; seed < first + kSongsAtATime; ++seed) {
    const Wish wish = wish_for(seed, sheet);
    const std::vector<Failure> all = judge(write(make_song(seed)), wish);
    std::vector<Failure> failures;
    for (const Failure& failure : all)
      if (!is_known(failure.key)) failures.push_back(failure);
    clean += all.empty() ? 1 : 0;
    if (failures.empty()) continue;
    ++failed;
    ADD_FAILURE() << report(seed, wish, failures);
    ASSERT_LT(failed, 3) << "more fail; see try_songs";
  }
  testing::Test::RecordProperty("songs without any fault", clean);
  std::cout << clean << " of " << kSongsAtATime << " songs have no fault at all, known or new\n";
}

TEST_P(GeneratedSongs, HoldWhatAllSongsMustHold) {
  judge_group(GetParam(), SheetKind::Handout);
}

TEST_P(GeneratedSongs, AreChartsOfOnePageOrRefusedWithARemedy) {
  judge_group(GetParam(), SheetKind::Chart);
}

TEST_P(GeneratedSongs, ArePracticeSheetsOfTheirSectionsBars) {
  judge_group(GetParam(), SheetKind::Practice);
}

INSTANTIATE_TEST_SUITE_P(ByTheHundred, GeneratedSongs, testing::Range(0, kGroups));

TEST(Generator, TheSameSeedGivesTheSameBytes) {
  // The published first outputs of the generator for seed 0 pin it on every machine.
  Random random(0);
  EXPECT_EQ(random.next(), 0xE220A8397B1DCDAFULL);
  EXPECT_EQ(random.next(), 0x6E789E6AA1B965F4ULL);
  for (std::uint64_t seed = 0; seed < 50; ++seed) EXPECT_EQ(write(make_song(seed)), write(make_song(seed)));
  EXPECT_NE(write(make_song(1)), write(make_song(2)));
}

TEST(Generator, SizesAreSizes) {
  std::size_t small = 0, usual = 0, large = 0;
  for (std::uint64_t seed = 0; seed < 20; ++seed) {
    small += write(make_song(seed, Size::Small)).size();
    usual += write(make_song(seed)).size();
    large += write(make_song(seed, Size::Large)).size();
  }
  EXPECT_LT(2 * small, usual);
  EXPECT_LT(usual, large);
}

TEST(Generator, ThePageOfASongIsTheSameEachTime) {
  for (std::uint64_t seed = 0; seed < 30; ++seed) {
    const std::string text = write(make_song(seed));
    const std::string once = display_list(text, wish_for(seed));
    ASSERT_FALSE(once.empty()) << seed;
    ASSERT_EQ(display_list(text, wish_for(seed)), once) << seed;
  }
}

/// Names of lanes, keys and signs of the form, and cells, of many songs.
struct Used {
  std::set<std::string> keys, form;
  std::map<std::string, std::set<std::string>> cells;  ///< by lane
  std::set<std::string> sung;                          ///< a syllable and the cell after it
};

void look_at_words(const BarCells& bar, Used& used) {
  std::string before;
  for (const auto& beat : bar.beats)
    for (const std::string& cell : beat) {
      if (!before.empty() && before != "-") used.sung.insert(before + " " + cell);
      before = cell;
    }
}

void look(const Node& node, Used& used) {
  for (const LaneRow& lane : node.lanes.lanes)
    for (const BarCells& bar : lane.bars) {
      for (const auto& beat : bar.beats) used.cells[lane.name].insert(beat.begin(), beat.end());
      if (lane.name == "lyric") look_at_words(bar, used);
    }
  for (const auto& [key, value] : node.keys) {
    used.keys.insert(key);
    if (value.kind == Node::Kind::List) used.form.insert(value.items.begin(), value.items.end());
    look(value, used);
  }
}

const Used& used_in_a_thousand() {
  static const Used kUsed = [] {
    Used used;
    for (std::uint64_t seed = 0; seed < kSongsForWords; ++seed) look(make_song(seed), used);
    return used;
  }();
  return kUsed;
}

TEST(Generator, UsesEveryKeyLaneAndWordOfTheForm) {
  const Used& used = used_in_a_thousand();
  for (const song::LanguageEntry& entry : song::language()) {
    const std::string word(entry.word);
    if (entry.kind == song::EntryKind::Key) {
      EXPECT_TRUE(used.keys.count(word) > 0) << "no song has the key " << word;
    }
    if (entry.kind == song::EntryKind::FormWord) {
      EXPECT_TRUE(used.form.count(word) > 0) << "no form has " << word;
    }
    if (entry.kind != song::EntryKind::Lane || word == "1 ... 12" || word == "thumb N") continue;
    const auto lane = used.cells.find(word);
    const bool said = lane != used.cells.end() && std::any_of(lane->second.begin(), lane->second.end(),
                                                              [](const std::string& cell) { return cell != "-"; });
    EXPECT_TRUE(said) << "no song has the lane " << word;
  }
}

/// The sign's own form with any frets, fingers and pitches.
std::regex pattern_of(std::string_view sign, bool pitches) {
  std::string out;
  for (std::size_t i = 0; i < sign.size(); ++i) {
    const char c = sign[i];
    if (c >= '0' && c <= '9') {
      while (i + 1 < sign.size() && ((sign[i + 1] >= '0' && sign[i + 1] <= '9') || sign[i + 1] == '.')) ++i;
      out += "[0-9]+(\\.5)?";
    } else if (pitches && c >= 'A' && c <= 'G') {
      out += "[A-G][#b]?";
    } else {
      if (std::string_view("\\^$.|?*+()[]{}").find(c) != std::string_view::npos) out += '\\';
      out += c;
    }
  }
  return std::regex(out);
}

/// A sign of the lyric with any syllable: its letters stand for those of every language.
std::regex sung_pattern_of(std::string_view sign) {
  const std::size_t end = std::min(sign.size(), sign.find_first_of(" -"));
  return std::regex("[^ -]+" + std::string(sign.substr(end)));
}

bool on_lane(const std::string& where, const std::string& lane) {
  const bool string = lane.rfind("thumb", 0) == 0 || lane == "fret" ||
                      (lane[0] >= '0' && lane[0] <= '9' && lane.find("va") == std::string::npos &&
                       lane.find("vb") == std::string::npos && lane.find('m') == std::string::npos);
  if (where == "every lane") return true;
  if (where == "string lanes") return string;
  if (where == "notes") return lane == "notes" || lane == "right" || lane == "left";
  if (where == "drums")
    for (const song::LanguageEntry& entry : song::language())
      if (entry.kind == song::EntryKind::Lane && entry.where == "drums" && entry.word == lane) return true;
  return where == lane;
}

TEST(Generator, UsesEverySign) {
  const Used& used = used_in_a_thousand();
  for (const song::LanguageEntry& entry : song::language()) {
    // Comments are no cells; texts in quotes and spans have tests of their own above.
    if (entry.kind != song::EntryKind::Sign || entry.word == "#" || entry.word == "\"...\"" || entry.where == "spans")
      continue;
    const bool sung = entry.where == "lyric";
    const std::regex wanted = sung ? sung_pattern_of(entry.word) : pattern_of(entry.word, entry.where == "notes");
    const auto is_wanted = [&](const std::string& cell) { return std::regex_match(cell, wanted); };
    bool found = sung && std::any_of(used.sung.begin(), used.sung.end(), is_wanted);
    for (const auto& [lane, cells] : used.cells) {
      if (found || !on_lane(std::string(entry.where), lane)) continue;
      found = std::any_of(cells.begin(), cells.end(), is_wanted);
    }
    EXPECT_TRUE(found) << "no song has the sign " << entry.word << " of " << entry.where;
  }
}

TEST(Shrinker, LeavesNoMoreThanTheFaultNeeds) {
  const auto has_trill = [](const Node& song) {
    return write(song).find("tr") != std::string::npos && write(song).find("sections") != std::string::npos;
  };
  std::uint64_t seed = 0;
  while (!has_trill(make_song(seed))) ++seed;
  const Node small = shrink(make_song(seed), has_trill);
  EXPECT_TRUE(has_trill(small));
  EXPECT_LT(write(small).size(), 200U) << write(small);
}

TEST(SpoiltSongs, EndWithFindingsOrPages) {
  int refused = 0, printed = 0;
  for (std::uint64_t number = 0; number < 200; ++number) {
    Random random(number);
    const Outcome outcome = run_spoilt(spoilt(write(make_song(number % 40, Size::Small)), random));
    EXPECT_EQ(outcome.fault, "") << "spoilt song " << number;
    refused += outcome.refused ? 1 : 0;
    printed += outcome.printed ? 1 : 0;
  }
  EXPECT_GT(refused, 20);
  EXPECT_GT(printed, 20);
}

}  // namespace
}  // namespace tunesheaf::generated

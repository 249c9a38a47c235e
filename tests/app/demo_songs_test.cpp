// The demo songs are what a new user reads and prints first: each is free of errors and doubts, as long as a real song,
// and together they use every key, lane and form word that the language has.
#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <memory>
#include <set>
#include <string>
#include <vector>

#include "tunesheaf/app/pipeline.h"
#include "tunesheaf/song/language.h"

namespace {

namespace fs = std::filesystem;
using namespace tunesheaf;
using song::EntryKind;
using song::LaneKind;
using song::LanguageEntry;

constexpr std::size_t kFewestBars = 60;
constexpr std::size_t kMostBars = 120;

std::vector<fs::path> demo_songs() {
  std::vector<fs::path> songs;
  for (const auto& entry : fs::directory_iterator(fs::path(TUNESHEAF_SOURCE_DIR) / "songs-demo")) {
    if (entry.path().extension() == ".yaml") songs.push_back(entry.path());
  }
  std::sort(songs.begin(), songs.end());
  return songs;
}

std::unique_ptr<app::Work> worked(const fs::path& path) {
  auto work = std::make_unique<app::Work>();
  app::DiskFiles disk;
  if (app::read_text(*work, disk, path.string())) app::to_timeline(*work);
  return work;
}

class DemoSong : public testing::TestWithParam<fs::path> {};

TEST_P(DemoSong, ChecksWithoutErrorOrWarning) {
  const auto work = worked(GetParam());
  ASSERT_TRUE(work->timeline.has_value());
  for (const diag::Diagnostic& item : work->sink.sorted()) {
    EXPECT_EQ(diag::severity(item.kind), diag::Severity::Note) << diag::name(item.kind) << ": " << item.situation;
  }
}

TEST_P(DemoSong, IsAsLongAsARealSong) {
  const auto work = worked(GetParam());
  ASSERT_TRUE(work->timeline.has_value());
  EXPECT_GE(work->timeline->played.size(), kFewestBars);
  EXPECT_LE(work->timeline->played.size(), kMostBars);
}

TEST_P(DemoSong, SaysWhereItComesFrom) {
  const auto work = worked(GetParam());
  ASSERT_TRUE(work->song.has_value());
  const song::Song& song = *work->song;
  ASSERT_TRUE(song.video && song.revision && song.credits && song.about);
  EXPECT_EQ(song.video->value.rfind("https://example.org/", 0), 0u) << song.video->value;
  EXPECT_EQ(song.revision->value, "2026-11-24");
  EXPECT_FALSE(song.recordings.empty());
}

std::string name_of_song_file(const testing::TestParamInfo<fs::path>& info) {
  std::string name = info.param.stem().string();
  for (char& c : name) {
    if (std::isalnum(static_cast<unsigned char>(c)) == 0) c = '_';
  }
  return name;
}

INSTANTIATE_TEST_SUITE_P(SongsDemo, DemoSong, testing::ValuesIn(demo_songs()), name_of_song_file);

/// Keys that stand in a file, each with its place, as "section/times".
class KeysUsed {
 public:
  void walk(const yaml::Node& node, const std::string& place) {
    if (node.kind != yaml::NodeKind::Mapping) return;
    for (const yaml::Entry& entry : node.entries) {
      const LanguageEntry* key = find(place, entry.key.text);
      if (key == nullptr) {
        walk(entry.value, "bars");  // a part's own music, under the part's name
        continue;
      }
      used.insert(place + "/" + entry.key.text);
      if (key->type == song::ValueType::Named) {
        walk_named(entry.value, std::string(key->inside));
      } else {
        walk(entry.value, key->inside.empty() ? "bars" : std::string(key->inside));
      }
    }
  }

  std::set<std::string> used;

 private:
  static const LanguageEntry* find(const std::string& place, const std::string& word) {
    for (const LanguageEntry& entry : song::language()) {
      if (entry.kind == EntryKind::Key && entry.where == place && entry.word == word) return &entry;
    }
    return nullptr;
  }

  void walk_named(const yaml::Node& node, const std::string& place) {
    for (const yaml::Entry& named : node.entries) walk(named.value, place);
  }
};

std::vector<const song::Lane*> lanes_of(const std::vector<song::Stanza>& stanzas) {
  std::vector<const song::Lane*> lanes;
  for (const song::Stanza& stanza : stanzas) {
    for (const song::Lane& lane : stanza.lanes) lanes.push_back(&lane);
  }
  return lanes;
}

void add_lanes(std::vector<const song::Lane*>& all, const std::vector<song::PartContent>& parts) {
  const auto add = [&](const std::vector<song::Stanza>& stanzas) {
    for (const song::Lane* lane : lanes_of(stanzas)) all.push_back(lane);
  };
  for (const song::PartContent& part : parts) {
    add(part.stanzas);
    for (const song::Exception& exception : part.except) add(exception.stanzas);
  }
}

std::vector<const song::Lane*> lanes_of(const song::Song& song) {
  std::vector<const song::Lane*> all;
  for (const song::PatternDef& pattern : song.patterns) {
    for (const song::Lane* lane : lanes_of(pattern.stanzas)) all.push_back(lane);
  }
  for (const song::SectionDef& section : song.sections) {
    add_lanes(all, section.parts);
    for (const song::Ending& ending : section.endings) add_lanes(all, ending.parts);
  }
  return all;
}

/// A lane that is written and holds nothing is not a use of it.
bool says_something(const song::Lane& lane) {
  for (const song::LaneBar& bar : lane.bars) {
    for (const song::LaneBeat& beat : bar.beats) {
      for (const song::Cell& cell : beat.cells) {
        if (!std::holds_alternative<song::HoldCell>(cell.content)) return true;
      }
    }
  }
  return false;
}

bool is_use(const song::Lane& lane, const LanguageEntry& entry) {
  if (lane.kind != entry.lane || lane.subject != entry.subject) return false;
  if (lane.kind == LaneKind::Thumb && (lane.string == 0) != (entry.word == "thumb")) return false;
  return says_something(lane);
}

/// The sign or jump as the table words it: the form's own text without blanks too many, in the table's spelling.
std::string form_word(const song::FormEntry& entry) {
  const std::string until = entry.until == song::Until::Coda   ? " al coda"
                            : entry.until == song::Until::Fine ? " al fine"
                                                               : "";
  switch (entry.word) {
    case song::FormWord::Section:
      return {};
    case song::FormWord::Segno:
      return "segno";
    case song::FormWord::Coda:
      return "coda";
    case song::FormWord::ToCoda:
      return "to coda";
    case song::FormWord::Fine:
      return "fine";
    case song::FormWord::DalSegno:
      return "D.S." + until;
    case song::FormWord::DaCapo:
      return "D.C." + until;
    case song::FormWord::Fade:
      return "fade";
  }
  return {};
}

TEST(DemoSongs, AreFour) {
  EXPECT_EQ(demo_songs().size(), 4u);
}

TEST(DemoSongs, UseEveryKeyOfTheLanguage) {
  KeysUsed keys;
  for (const fs::path& path : demo_songs()) {
    const auto work = worked(path);
    ASSERT_TRUE(work->nodes.has_value()) << path;
    keys.walk(*work->nodes, "song");
  }
  for (const LanguageEntry& entry : song::language()) {
    if (entry.kind != EntryKind::Key) continue;
    const std::string key = std::string(entry.where) + "/" + std::string(entry.word);
    EXPECT_TRUE(keys.used.count(key) > 0) << "no demo song uses the key " << key;
  }
}

TEST(DemoSongs, UseEveryLaneOfTheLanguage) {
  std::vector<std::unique_ptr<app::Work>> works;
  std::vector<const song::Lane*> lanes;
  for (const fs::path& path : demo_songs()) {
    works.push_back(worked(path));
    ASSERT_TRUE(works.back()->song.has_value()) << path;
    for (const song::Lane* lane : lanes_of(*works.back()->song)) lanes.push_back(lane);
  }
  for (const LanguageEntry& entry : song::language()) {
    if (entry.kind != EntryKind::Lane) continue;
    // No melody of theirs goes so far; tests/golden/timeline/clefs.yaml and the generated songs do.
    if (entry.word == "clef" || entry.word == "15mb") continue;
    const bool used =
        std::any_of(lanes.begin(), lanes.end(), [&](const song::Lane* lane) { return is_use(*lane, entry); });
    EXPECT_TRUE(used) << "no demo song uses the lane `" << entry.word << "` (" << entry.where << ")";
  }
}

TEST(DemoSongs, UseEveryWordOfTheForm) {
  std::set<std::string> words;
  for (const fs::path& path : demo_songs()) {
    const auto work = worked(path);
    ASSERT_TRUE(work->song.has_value()) << path;
    for (const song::FormEntry& entry : work->song->form) words.insert(form_word(entry));
  }
  for (const LanguageEntry& entry : song::language()) {
    if (entry.kind != EntryKind::FormWord) continue;
    EXPECT_TRUE(words.count(std::string(entry.word)) > 0) << "no demo song's form holds " << entry.word;
  }
}

}  // namespace

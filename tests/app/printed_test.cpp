// Nothing that is written is dropped in silence: for every lane of the language a small song with that lane prints
// another page than the same song without it, or `check` names what is not printed.
#include <gtest/gtest.h>

#include <map>
#include <regex>

#include "page_of.h"
#include "runner.h"
#include "support/temp_dir.h"
#include "tunesheaf/song/language.h"

namespace tunesheaf::app {
namespace {

using song::EntryKind;
using song::LanguageEntry;
using support::holds;
using support::Outcome;
using support::run_words;
using support::TempDir;

/// The lanes of a song's only section: the chart's, and those of its one part.
struct Setting {
  std::string instrument = "guitar";
  std::string part = "1 | 0 : 2 : 3 : 5 | 0 : - : 3 : - |";
  std::string chart{};
  std::string more{};  ///< keys of the song
};

std::string indented(const std::string& lanes, const std::string& name) {
  if (lanes.empty()) return {};
  std::string out = "    " + name + ": |\n";
  for (const std::string& line : support::lines_of(lanes)) out += "      " + line + "\n";
  return out;
}

std::string song_of(const Setting& setting) {
  return "song: Gate Song\nmeter: 4/4\ntempo: 90\nkey: C major\nparts:\n  player: {instrument: " + setting.instrument +
         "}\n" + setting.more + "sections:\n  tune:\n" + indented(setting.chart, "chart") +
         indented(setting.part, "player");
}

bool said_not_printed(const std::string& song) {
  const TempDir folder;
  const Outcome outcome = run_words({"check", folder.write("song.yaml", song), "--format", "lines"});
  return holds(outcome.out + outcome.err, "[not-printed]");
}

void expect_shown(const Setting& without, const Setting& with, const std::string& what) {
  const std::string song = song_of(with);
  const bool differs = support::page_of(song_of(without)) != support::page_of(song);
  EXPECT_TRUE(differs || said_not_printed(song)) << what << " is dropped in silence:\n" << song;
}

const char* const kHomeShape = "shapes:\n  home: {frets: x 3 2 0 1 0}\n";
const char* const kShapeAndPattern =
    "shapes:\n  home: {frets: x 3 2 0 1 0}\npatterns:\n  walk: |\n    2 | - : i : - : i |\n";

/// A lane by what is written for it; `instead` takes the place of the part's usual lane.
struct Written {
  std::string instrument, lanes, instead, more;
};

const std::map<std::string, Written>& written_lanes() {
  static const std::map<std::string, Written> kLanes{
      {"1 ... 12", {"guitar", "2 | 1 : - : - : - | |", "", ""}},
      {"thumb N", {"guitar", "thumb 5 | 0 : - : - : - | |", "", ""}},
      {"string", {"guitar", "string | 1 : 2 : 1 : 1 | |\nfret | 3 : 5 : 3 : 5 | |", "say | one | |", ""}},
      {"fret", {"guitar", "string | 1 : 2 : 1 : 1 | |\nfret | 3 : 5 : 3 : 5 | |", "say | one | |", ""}},
      {"shape", {"guitar", "shape | home | |", "", kHomeShape}},
      {"pattern", {"guitar", "pattern | walk | |", "shape | home | |", kShapeAndPattern}},
      {"strum", {"guitar", "strum | D : D : - U : D | |", "shape | home | |", kHomeShape}},
      {"pluck", {"guitar", "pluck | p : i : m : a | |", "", ""}},
      {"pick", {"guitar", "pick | D : U : D : U | |", "", ""}},
      {"finger", {"guitar", "finger | . : 1 : 3 : 4 | |", "", ""}},
      {"arm", {"guitar", "arm | dip2 : - : - : - | |", "", ""}},
      {"retune", {"guitar", "retune | - | 6=D2 |", "6 | 0 : 2 : 3 : 5 | 0 : - : 3 : - |", ""}},
      {"clef", {"cello", "clef | - : - : tenor : - | |", "notes | A2 : D3 : A3 : D4 | D4 : - : A3 : - |", ""}},
      {"right clef", {"piano", "right clef | - : - : bass : - | |", "right | A4 : E4 : C4 : A3 | |", ""}},
      {"left clef", {"piano", "left clef | - : - : treble : - | |", "left | A3 : C4 : E4 : A4 | |", ""}},
      {"bow", {"violin", "bow | D : U : D : U | |", "notes | A4 : B4 : C5 : D5 | A4 : - : C5 : - |", ""}},
      {"notes", {"violin", "notes | A4 : B4 : C5 : D5 | |", "say | one | |", ""}},
      {"right", {"piano", "right | A4 : B4 : C5 : D5 | |", "left | C3 : - : - : - | |", ""}},
      {"left", {"piano", "left | A2 : B2 : C3 : D3 | |", "right | C5 : - : - : - | |", ""}},
      {"pedal", {"piano", "pedal | on : - : . : - | |", "right | C5 : - : - : - | |", ""}},
      {"chords", {"guitar", "chords | Am : - : G : - | |", "", ""}},
      {"hits", {"guitar", "hits | x : . : x : x | |", "", ""}},
      {"lyric", {"guitar", "lyric | Row : the : boat : now | |", "", ""}},
      {"say", {"guitar", "say | softly now | |", "", ""}},
      {"count", {"guitar", "count | 1 : 2 & : 3 : 4 | |", "", ""}},
      {"dynamics", {"guitar", "dynamics | mf : - : f : - | |", "", ""}},
      {"tempo", {"guitar", "tempo | rit. | a tempo |", "", ""}},
      {"meter", {"guitar", "meter | - | 2/4 |", "1 | 0 : 2 : 3 : 5 | 0 : 3 |", ""}},
      {"key", {"guitar", "key | - | E minor |", "", ""}},
      {"hold", {"guitar", "hold | - : - : @ : - | |", "", ""}},
      {"from", {"guitar", "from | lesson | |", "", ""}},
  };
  return kLanes;
}

/// What `language` calls `see` needs remarks, `thumb` a pattern and `cue` a second part: each is tried in a test of its
/// own.
bool has_its_own_test(const LanguageEntry& lane) {
  return lane.word == "see" || lane.word == "thumb" || lane.word == "cue";
}

std::vector<const LanguageEntry*> lanes_of(std::string_view group, bool in_group) {
  std::vector<const LanguageEntry*> found;
  for (const LanguageEntry& entry : song::language()) {
    if (entry.kind != EntryKind::Lane) continue;
    const bool spans_or_drums = entry.where == "spans" || entry.where == "drums";
    if (in_group ? entry.where == group : !spans_or_drums) found.push_back(&entry);
  }
  return found;
}

class Printed : public testing::Test {
 protected:
  Printed() { support::use_house_styles(); }
};

TEST_F(Printed, EveryLaneOfNotesAndWords) {
  for (const LanguageEntry* lane : lanes_of("", false)) {
    if (has_its_own_test(*lane)) continue;
    const auto found = written_lanes().find(std::string(lane->word));
    ASSERT_NE(found, written_lanes().end()) << "no song is written for the lane " << lane->word;
    const Written& written = found->second;
    Setting without;
    without.instrument = written.instrument;
    without.more = written.more;
    if (!written.instead.empty()) without.part = written.instead;
    Setting with = without;
    if (lane->word == "meter") without.part = "1 | 0 : 2 : 3 : 5 | 0 : 3 : - : - |";
    with.part += "\n" + written.lanes;
    expect_shown(without, with, std::string(lane->word));
  }
}

TEST_F(Printed, EverySharedLaneInTheChart) {
  for (const LanguageEntry* lane : lanes_of("shared", true)) {
    if (has_its_own_test(*lane)) continue;
    const Written& written = written_lanes().at(std::string(lane->word));
    Setting without;
    if (!written.instead.empty()) without.part = written.instead;
    Setting with = without;
    if (lane->word == "meter") without.part = "1 | 0 : 2 : 3 : 5 | 0 : 3 : - : - |";
    with.chart = written.lanes;
    expect_shown(without, with, std::string(lane->word) + " in a chart beside a part");
  }
}

TEST_F(Printed, EverySharedLaneInASongThatIsOnlyAChart) {
  const std::string head = "song: Gate Song\nmeter: 4/4\nsections:\n  tune:\n    chart: |\n      ";
  for (const LanguageEntry* lane : lanes_of("shared", true)) {
    if (has_its_own_test(*lane)) continue;
    const bool chords = lane->word == "chords";
    const std::string plain = head + (chords ? "say | one | |\n" : "chords | Am : - : G : - | C |\n");
    std::string lanes = written_lanes().at(std::string(lane->word)).lanes;
    if (lane->word == "meter") lanes = "meter | 3/4 | 2/4 |";
    const std::string song = (lane->word == "meter" ? head + "chords | Am | C |\n" : plain) + "      " + lanes + "\n";
    EXPECT_TRUE(support::page_of(plain) != support::page_of(song) || said_not_printed(song)) << "dropped in silence:\n"
                                                                                             << song;
  }
}

bool for_drums(std::string_view mark) {
  return mark == "brushes" || mark == "mallets" || mark == "snares off";
}

TEST_F(Printed, EverySpan) {
  for (const LanguageEntry* lane : lanes_of("spans", true)) {
    for (const std::string& word : support::words_of(std::string(lane->choices))) {
      Setting without;
      without.part += "\n2 | 1 : - : - : - | |";  // a chord, for what is done to chords
      if (for_drums(lane->word)) without = {"drum kit", "snare | x : x : x : x | x : - : x : - |", {}, {}};
      Setting with = without;
      with.part += "\n" + std::string(lane->word) + " | " + word + " : - : - : . | |";
      expect_shown(without, with, std::string(lane->word));
    }
  }
}

TEST_F(Printed, EveryDrum) {
  for (const LanguageEntry* lane : lanes_of("drums", true)) {
    Setting without;
    without.instrument = "drum kit";
    without.part = lane->word == "kick" ? "snare | x : - : - : - | |" : "kick | x : - : - : - | |";
    Setting with = without;
    with.part += "\n" + std::string(lane->word) + " | - : x : - : x | |";
    expect_shown(without, with, std::string(lane->word));
  }
}

TEST_F(Printed, RemarksAndTheThumbOfAPattern) {
  Setting without;
  Setting with = without;
  with.part += "\nsee | a | |\n";
  const std::string remarks = "    remarks: {a: Let the thumb lead.}\n";
  EXPECT_NE(support::page_of(song_of(without)), support::page_of(song_of(with) + remarks));
  without.part = with.part = "shape | home | |\npattern | walk | |";
  without.more = kShapeAndPattern;
  with.more = std::string(kShapeAndPattern) + "    thumb | p : - : p : - |\n";
  expect_shown(without, with, "thumb");
}

TEST_F(Printed, CuesOverTheRestsOfAPart) {
  Setting without;
  without.more = "  other: {instrument: violin}\n";
  without.part = "1 | . | 0 : 2 : 3 : 5 |";
  Setting with = without;
  with.part += "\ncue | other | . |";
  const std::string other = "    other: |\n      notes | A4 : B4 : C5 : D5 | |\n";
  EXPECT_NE(support::page_of(song_of(without) + other), support::page_of(song_of(with) + other));
}

TEST_F(Printed, WhosePatternItIsAndWhatTheRecordingHas) {
  const auto song = [](const std::string& key) {
    Setting setting;
    setting.part = "shape | home | |\npattern | walk | |";
    setting.more = "shapes:\n  home: {frets: x 3 2 0 1 0}\npatterns:\n  walk:\n" + key +
                   "    lanes: |\n      2 | - : i : - : i |\n";
    return song_of(setting);
  };
  const std::string lesson = song("    from: lesson\n");
  EXPECT_FALSE(said_not_printed(lesson));
  EXPECT_TRUE(holds(support::page_of(lesson), "the teacher’s own"));
  EXPECT_TRUE(holds(support::page_of(lesson), "lesson-mark"));
  EXPECT_TRUE(holds(support::page_of(song("    instead of: plain strokes\n")), "instead of plain strokes."));
  EXPECT_TRUE(
      holds(support::page_of(song("    says: Even.\n    instead of: plain strokes\n")), "Even. On the recording:"));
  EXPECT_FALSE(holds(support::page_of(song("")), "lesson-mark"));
}

TEST_F(Printed, WhosePartItIs) {
  const auto song = [](const std::string& key) {
    return "song: Gate Song\nparts:\n  player: {instrument: guitar}\nsections:\n  tune:\n    player:\n" + key +
           "      lanes: |\n        1 | 0 : 2 : 3 : 5 |\n";
  };
  const std::string own = song("      from: lesson\n");
  EXPECT_FALSE(said_not_printed(own));
  EXPECT_TRUE(holds(support::page_of(own), "the teacher’s own"));
  EXPECT_FALSE(holds(support::page_of(song("")), "the teacher’s own"));
}

TEST_F(Printed, TheCountOfAllStandsUnderTheFirstStaff) {
  Setting setting;
  setting.chart = "count | 1 : 2 : 3 : 4 | |";
  EXPECT_FALSE(said_not_printed(song_of(setting)));
  const std::string page = support::page_of(song_of(setting));
  std::size_t counted = 0;
  for (const std::string& line : support::lines_of(page)) counted += holds(line, " count ") ? 1 : 0;
  EXPECT_EQ(counted, 4U) << page;
}

TEST_F(Printed, WhatIsSaidOfAPatternStandsBesideItsFirstSystemOnHandoutAndPracticeSheet) {
  const auto song = [](const std::string& says) {
    Setting setting;
    setting.part = "shape | home | |\npattern | walk | |";
    setting.more = "shapes:\n  home: {frets: x 3 2 0 1 0}\npatterns:\n  walk:\n" + says +
                   "    lanes: |\n      2 | - : i : - : i |\n";
    return song_of(setting);
  };
  const std::string with = song("    says: Even.\n");
  EXPECT_FALSE(said_not_printed(with));
  EXPECT_TRUE(holds(support::page_of(with), "Even."));
  const TempDir folder;
  const Outcome audit = run_words({"audit", "--sheet", "practice", folder.write("song.yaml", with)});
  EXPECT_EQ(audit.code, 0) << "words that are missing would be a breach: " << audit.out;
  EXPECT_FALSE(holds(support::page_of(song("")), "Even."));
}

}  // namespace
}  // namespace tunesheaf::app

// Every key of the language changes the page or the timeline, or what `check` says; or `check` names it as changing
// nothing. A key that is none of these is dropped in silence.
#include <gtest/gtest.h>

#include <map>
#include <utility>

#include "page_of.h"
#include "tunesheaf/song/language.h"

namespace tunesheaf::app {
namespace {

using song::EntryKind;
using song::LanguageEntry;
using Key = std::pair<std::string, std::string>;  ///< place and key

/// A song with a gap for each place where a key may stand; what is not filled is left out.
std::string fill(std::string text, const std::map<std::string, std::string>& gaps) {
  for (std::size_t at = text.find('<'); at != std::string::npos; at = text.find('<', at)) {
    const std::size_t end = text.find('>', at);
    const auto gap = gaps.find(text.substr(at + 1, end - at - 1));
    const std::string filling = gap == gaps.end() ? std::string() : gap->second;
    text.replace(at, end - at + 1, filling);
    at += filling.size();
  }
  return text;
}

const char* const kSongOfKeys =
    "song: Gate Song\n"
    "<song>recordings:\n"
    "  studio: {note: The last verse is cut.<recording>}\n"
    "  hall: {sounds: as written}\n"
    "parts:\n"
    "  player: {instrument: guitar<part>}\n"
    "  other: {instrument: guitar, tuning: drop D}\n"
    "shapes:\n"
    "  home: {frets: x 3 2 0 1 0<shape>}\n"
    "patterns:\n"
    "  walk:\n"
    "<pattern>"
    "    lanes: |\n"
    "      thumb | p : - : p : - |\n"
    "      2     | - : i : - : i |\n"
    "sections:\n"
    "  tune:\n"
    "<section>"
    "    player:\n"
    "<bars>"
    "      lanes: |\n"
    "        shape   | home | home |\n"
    "        pattern | walk | walk |\n"
    "        see     | a    |      |\n"
    "    remarks: {a: {text: Let it ring.<remark>}, b: {text: Or not.}}\n"
    "    other: |\n"
    "      shape | home | home |\n"
    "      1     | 3 : 5 : 7 : - | 3 : - : 5 : - |\n"
    "      see   | b |  |\n"
    "  last:\n"
    "    like: tune\n"
    "<last>";

/// What fills a gap without the key and with it.
struct Filling {
  std::string gap, without, with;
};

const std::map<Key, Filling>& fillings() {
  static const std::map<Key, Filling> kFillings{
      {{"song", "by"}, {"song", "", "by: The Gravel Choir\n"}},
      {{"song", "lesson"}, {"song", "", "lesson: handout 14\n"}},
      {{"song", "revision"}, {"song", "", "revision: 2026-03-01\n"}},
      {{"song", "video"}, {"song", "", "video: https://example.org/lessons/14\n"}},
      {{"song", "credits"}, {"song", "", "credits: For private study.\n"}},
      {{"song", "language"}, {"song", "", "language: de\n"}},
      {{"song", "about"}, {"song", "", "about: A slow tune.\n"}},
      {{"song", "style"}, {"song", "", "style: large\n"}},
      {{"song", "key"}, {"song", "", "key: E major\n"}},
      {{"song", "meter"}, {"song", "", "meter: C\n"}},
      {{"song", "tempo"}, {"song", "", "tempo: 90\n"}},
      {{"song", "feel"}, {"song", "", "feel: swing 2:1\n"}},
      {{"song", "counts in"}, {"song", "", "counts in: player\n"}},
      {{"song", "starts"}, {"song", "", "starts: player\n"}},
      {{"recording", "sounds"}, {"recording", "", ", sounds: +18 cents"}},
      {{"recording", "tempo"}, {"recording", "", ", tempo: 104"}},
      {{"recording", "key"}, {"recording", "", ", key: F major"}},
      {{"part", "tuning"}, {"part", "", ", tuning: E2 A2 D3 G3 B3 D4"}},
      {{"part", "capo"}, {"part", "", ", capo: 2"}},
      {{"capo", "fret"}, {"part", ", capo: 2", ", capo: {fret: 3}"}},
      {{"capo", "strings"}, {"part", ", capo: {fret: 2}", ", capo: {fret: 2, strings: 6}"}},
      {{"part", "clef"}, {"part", "", ", clef: treble"}},
      {{"part", "transposes"}, {"part", "", ", transposes: up a major second"}},
      {{"part", "stand in for"}, {"part", "", ", stand in for: violins"}},
      {{"part", "staff"}, {"part", "", ", staff: tab"}},
      {{"part", "frets"}, {"part", "", ", frets: 2"}},
      {{"shape", "fingers"}, {"shape", "", ", fingers: . 3 2 . 1 ."}},
      {{"shape", "thumb"}, {"shape", ", thumb: 5", ", thumb: 5 4"}},
      {{"shape", "hand"}, {"shape", "", ", hand: the C shape"}},
      {{"shape", "ear"}, {"shape", "", ", ear: C6"}},
      {{"shape", "part"}, {"shape", "", ", part: player"}},
      {{"shape", "from"}, {"shape", "", ", from: lesson"}},
      {{"shape", "instead of"}, {"shape", "", ", instead of: a barre"}},
      {{"shape", "says"}, {"shape", "", ", says: Keep the first finger down."}},
      {{"pattern", "meter"}, {"pattern", "", "    meter: 4/2\n"}},
      {{"pattern", "rings"}, {"pattern", "", "    rings: no\n"}},
      {{"pattern", "says"}, {"pattern", "", "    says: Keep it even.\n"}},
      {{"pattern", "from"}, {"pattern", "", "    from: lesson\n"}},
      {{"pattern", "instead of"}, {"pattern", "", "    instead of: plain strokes\n"}},
      {{"section", "letter"}, {"section", "", "    letter: Q\n"}},
      {{"section", "video"}, {"section", "", "    video: 1:56\n"}},
      {{"section", "at"}, {"section", "", "    at: 0:07\n"}},
      {{"section", "says"}, {"section", "", "    says: Let every string ring.\n"}},
      {{"section", "times"}, {"section", "", "    times: 2\n"}},
      {{"times", "until"}, {"section", "    times: 4\n", "    times: {until: the singer sits down, about: 4}\n"}},
      {{"times", "about"},
       {"section", "    times: {until: the singer sits down, about: 4}\n",
        "    times: {until: the singer sits down, about: 6}\n"}},
      {{"section", "endings"},
       {"section", "    times: 2\n",
        "    times: 2\n    endings: {1: {chart: \"chords | D |\"}, 2: {chart: \"chords | G |\"}}\n"}},
      {{"ending", "chart"},
       {"section", "    times: 2\n    endings: {1: {chart: \"chords | D |\"}, 2: {chart: \"chords | G |\"}}\n",
        "    times: 2\n    endings: {1: {chart: \"chords | Am |\"}, 2: {chart: \"chords | G |\"}}\n"}},
      {{"section", "meter"}, {"section", "", "    meter: C\n"}},
      {{"section", "key"}, {"section", "", "    key: E major\n"}},
      {{"section", "tempo"}, {"section", "", "    tempo: slowly 60\n"}},
      {{"section", "feel"}, {"section", "", "    feel: swing 2:1\n"}},
      {{"section", "from"}, {"section", "", "    from: lesson\n"}},
      {{"section", "instead of"}, {"section", "", "    instead of: eight bars of drums\n"}},
      {{"section", "chart"}, {"section", "", "    chart: \"chords | G | C |\"\n"}},
      {{"bars", "from"}, {"bars", "", "      from: lesson\n"}},
      {{"bars", "except"}, {"last", "", "    other: {except: {last: \"1 | 0 |\"}}\n"}},
      {{"remark", "from"}, {"remark", "", ", from: lesson"}},
      {{"remark", "instead of"}, {"remark", "", ", instead of: a pull-off"}},
  };
  return kFillings;
}

/// Pairs of whole songs, for keys that a song cannot be without or that change its first bar.
const std::map<Key, std::pair<std::string, std::string>>& whole_songs() {
  const auto small = [](const std::string& head, const std::string& lanes) {
    return head + "parts:\n  player: {instrument: guitar}\nsections:\n  tune:\n    player: |\n      " + lanes + "\n";
  };
  const std::string title = "song: Gate Song\n";
  const std::string line = "1 | 3 | 3 : 5 : 7 : 8 |";
  const std::string plain = small(title, "1 | 3 : 5 : 7 : 8 |");
  const std::string two = title +
                          "parts:\n  player: {instrument: guitar}\nsections:\n  tune:\n    player: \"1 | 3 |\"\n"
                          "  end:\n    player: \"1 | 5 |\"\n";
  const std::string shapes = title +
                             "parts:\n  player: {instrument: guitar}\nshapes:\n  home: {frets: x 3 2 0 1 0}\n"
                             "sections:\n  tune:\n    player: \"shape | home |\"\n";
  const std::string pattern = title +
                              "parts:\n  player: {instrument: guitar}\nshapes:\n  home: {frets: x 3 2 0 1 0}\n"
                              "patterns:\n  walk: \"2 | o : i : o : i |\"\n"
                              "sections:\n  tune:\n    player: |\n      shape   | home |\n      pattern | walk |\n";
  const auto with = [](std::string text, const std::string& from, const std::string& to) {
    return text.replace(text.find(from), from.size(), to);
  };
  const std::string lanes = with(plain, "player: |\n      1 | 3", "player:\n      lanes: |\n        1 | 3");
  const std::string rung = title +
                           "parts:\n  player: {instrument: guitar}\nsections:\n  tune:\n    player:\n      lanes: |\n"
                           "        1 | 3 : - : 5 : - |\n        2 | - : 3 : - : 5 |\n";
  const std::string wide = with(shapes, "x 3 2 0 1 0", "1 x x x x 5");
  std::string bars;
  for (int bar = 0; bar < 24; ++bar) bars += " 3 5 : 7 8 : 3 5 : 7 8 |";
  const std::string long_one = title +
                               "parts:\n  player: {instrument: guitar}\n  second: {instrument: guitar}\nsections:\n"
                               "  tune:\n    player: |\n      1 |" +
                               bars + "\n    second: |\n      2 |" + bars + "\n";
  static const std::map<Key, std::pair<std::string, std::string>> kSongs{
      {{"song", "song"}, {plain, small("song: Other Song\n", "1 | 3 : 5 : 7 : 8 |")}},
      {{"song", "pick-up"}, {small(title, line), small(title + "pick-up: 1 beat\n", line)}},
      {{"section", "pick-up"},
       {small(title, line), small(title, line).insert(small(title, line).find("    player"), "    pick-up: 1 beat\n")}},
      {{"song", "recordings"},
       {plain, small(title + "recordings: {studio: {sounds: +18 cents}}\n", "1 | 3 : 5 : 7 : 8 |")}},
      {{"song", "parts"}, {plain, with(plain, "instrument: guitar", "instrument: mandolin")}},
      {{"part", "instrument"}, {plain, with(plain, "instrument: guitar", "instrument: bass guitar")}},
      {{"song", "shapes"}, {shapes, with(shapes, "x 3 2 0 1 0", "3 2 0 0 0 3")}},
      {{"shape", "frets"}, {shapes, with(shapes, "x 3 2 0 1 0", "x 3 2 0 1 3")}},
      {{"song", "patterns"}, {pattern, with(pattern, "o : i : o : i", "o : i : o : o")}},
      {{"pattern", "lanes"}, {pattern, with(pattern, "\"2 | o : i : o : i |\"", "{lanes: \"3 | o : i : o : i |\"}")}},
      {{"song", "sections"}, {plain, two}},
      {{"song", "form"}, {two, two + "form: [end, tune]\n"}},
      {{"section", "like"}, {two, with(two, "  end:\n    player: \"1 | 5 |\"", "  end:\n    like: tune")}},
      {{"section", "remarks"},
       {with(plain, " |\n      1", " |\n      see | - |\n      1"),
        with(plain, " |\n      1", " |\n      see | a |\n      1") + "    remarks: {a: Let it ring.}\n"}},
      {{"bars", "lanes"}, {plain, with(lanes, "7 : 8", "7 : 7")}},
      {{"remark", "text"},
       {with(plain, " |\n      1", " |\n      see | a |\n      1") + "    remarks: {a: {text: Let it ring.}}\n",
        with(plain, " |\n      1", " |\n      see | a |\n      1") + "    remarks: {a: {text: Stop it.}}\n"}},
      {{"part", "rings"}, {rung, with(rung, "guitar}", "guitar, rings: yes}")}},
      {{"section", "rings"}, {rung, with(rung, "  tune:\n", "  tune:\n    rings: yes\n")}},
      {{"bars", "rings"}, {rung, with(rung, "      lanes", "      rings: yes\n      lanes")}},
      {{"part", "scale length"}, {wide, with(wide, "guitar}", "guitar, scale length: 1000 mm}")}},
      {{"part", "short"}, {long_one, with(long_one, "guitar}", "guitar, short: Pl.}")}},
      {{"recording", "note"},
       {small(title + "recordings: {studio: {sounds: +18 cents}}\n", line),
        small(title + "recordings: {studio: {sounds: +18 cents, note: Cut.}}\n", line)}},
  };
  return kSongs;
}

/// The page, the timeline or what is said.
bool changes(const std::string& without, const std::string& with) {
  if (support::findings_of(without) != support::findings_of(with)) return true;
  return support::phase_of("timeline", without) != support::phase_of("timeline", with) ||
         support::page_of(without) != support::page_of(with);
}

class PrintedKeys : public testing::TestWithParam<Key> {
 protected:
  PrintedKeys() { support::use_house_styles(); }
};

TEST_P(PrintedKeys, ChangeSomethingOrAreNamed) {
  const auto whole = whole_songs().find(GetParam());
  if (whole != whole_songs().end()) {
    EXPECT_TRUE(changes(whole->second.first, whole->second.second)) << whole->second.second;
    return;
  }
  const auto filling = fillings().find(GetParam());
  ASSERT_NE(filling, fillings().end()) << "no song is written for `" << GetParam().second << "` of a "
                                       << GetParam().first;
  const std::string without = fill(kSongOfKeys, {{filling->second.gap, filling->second.without}});
  const std::string with = fill(kSongOfKeys, {{filling->second.gap, filling->second.with}});
  EXPECT_TRUE(changes(without, with)) << with;
}

std::vector<Key> all_keys() {
  std::vector<Key> out;
  for (const LanguageEntry& entry : song::language())
    if (entry.kind == EntryKind::Key) out.emplace_back(std::string(entry.where), std::string(entry.word));
  return out;
}

std::string key_name(const testing::TestParamInfo<Key>& info) {
  std::string name = info.param.first + "_" + info.param.second;
  for (char& c : name)
    if (std::isalnum(static_cast<unsigned char>(c)) == 0) c = '_';
  return name;
}

INSTANTIATE_TEST_SUITE_P(Language, PrintedKeys, testing::ValuesIn(all_keys()), key_name);

}  // namespace
}  // namespace tunesheaf::app

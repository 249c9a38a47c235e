// Every sign of the language, on the lanes it may stand on, prints another page than the same song without it.
#include <gtest/gtest.h>

#include <map>
#include <utility>

#include "page_of.h"
#include "tunesheaf/song/language.h"

namespace tunesheaf::app {
namespace {

using song::EntryKind;
using song::LanguageEntry;
using support::named_as_not_printed;
using support::page_of;

/// The lanes of two songs that differ in one sign.
struct Pair {
  std::string without, with;
};
using Key = std::pair<std::string, std::string>;  ///< where it may stand, and the sign

Pair on(const std::string& lane, const std::string& without, const std::string& with) {
  return {lane + " | " + without + " | |", lane + " | " + with + " | |"};
}

/// Cells in the second beat, behind what the first beat holds.
Pair string_pair(const std::string& first, const std::string& without, const std::string& with) {
  return on("1", first + " : " + without + " : - : -", first + " : " + with + " : - : -");
}

const std::map<Key, Pair>& string_signs() {
  static const std::map<Key, Pair> kSigns{
      {{"string lanes", "5"}, string_pair("3", "-", "5")},
      {{"string lanes", "x"}, string_pair("3", "5", "x")},
      {{"string lanes", "(5)"}, string_pair("3", "5", "(5)")},
      {{"string lanes", "h5"}, string_pair("3", "5", "h5")},
      {{"string lanes", "p3"}, string_pair("5", "3", "p3")},
      {{"string lanes", "/5"}, string_pair("3", "5", "/5")},
      {{"string lanes", "\\3"}, string_pair("5", "3", "\\3")},
      {{"string lanes", "7/"}, on("1", "7 : 9 : - : -", "7/ : 9 : - : -")},
      {{"string lanes", "7\\"}, string_pair("5", "7", "7\\")},
      {{"string lanes", "7b9"}, string_pair("5", "7", "7b9")},
      {{"string lanes", "7b9r7"}, string_pair("5", "7b9", "7b9r7")},
      {{"string lanes", "15pb17"}, string_pair("5", "15b17", "15pb17")},
      {{"string lanes", "b17"}, string_pair("15", "-", "b17")},
      {{"string lanes", "r15"}, string_pair("15pb17", "-", "r15")},
      {{"string lanes", "~"}, string_pair("7", "-", "~")},
      {{"string lanes", "~~"}, string_pair("7", "~", "~~")},
      {{"string lanes", "7~"}, string_pair("5", "7", "7~")},
      {{"string lanes", "7~~"}, string_pair("5", "7~", "7~~")},
      {{"string lanes", "t12"}, string_pair("5", "12", "t12")},
      {{"string lanes", "17tr19"}, string_pair("5", "17", "17tr19")},
      {{"string lanes", "15="}, string_pair("5", "15", "15=")},
      {{"string lanes", "-5"}, string_pair("5", "5", "-5")},
      {{"string lanes", "g1h3"}, string_pair("5", "3", "g1h3")},
      {{"string lanes", "<12>"}, string_pair("5", "12", "<12>")},
      {{"string lanes", "12<24>"}, string_pair("5", "12", "12<24>")},
      {{"string lanes", "12<t24>"}, string_pair("5", "12<24>", "12<t24>")},
      {{"string lanes", "7<>"}, string_pair("5", "7", "7<>")},
      {{"string lanes", ">5"}, string_pair("3", "5", ">5")},
      {{"string lanes", "^5"}, string_pair("3", ">5", "^5")},
      {{"string lanes", "5'"}, string_pair("3", "5", "5'")},
      {{"string lanes", "5_"}, string_pair("3", "5", "5_")},
      {{"string lanes", "5@"}, string_pair("3", "5", "5@")},
      {{"string", "2"},
       {"string | 1 : - : - : - | |\nfret | 5 : 7 : - : - | |",
        "string | 1 : 2 : - : - | |\nfret | 5 : 7 : - : - | |"}},
  };
  return kSigns;
}

const std::string kShape = "shape | home | |\n";
const std::string kLine = "1 | 3 : 5 : 7 : 8 | |\n";

Pair over_shape(const Pair& pair) {
  return {kShape + pair.without, kShape + pair.with};
}
Pair over_line(const Pair& pair) {
  return {kLine + pair.without, kLine + pair.with};
}
Pair held(const std::string& lane, const std::string& without, const std::string& with) {
  return {"1 | 5 : - : - : - | |\n" + lane + " | " + without + " | |",
          "1 | 5 : - : - : - | |\n" + lane + " | " + with + " | |"};
}

const std::map<Key, Pair>& hand_signs() {
  static const std::map<Key, Pair> kSigns{
      {{"string lanes", "p"}, over_shape(on("2", "o : o : - : -", "p : o : - : -"))},
      {{"string lanes", "o"}, over_shape(on("2", "o : - : - : -", "o : o : - : -"))},
      {{"strum", "D"}, over_shape(on("strum", "D : - : - : -", "D : D : - : -"))},
      {{"strum", "U"}, over_shape(on("strum", "D : D : - : -", "D : U : - : -"))},
      {{"strum", "x"}, over_shape(on("strum", "D : D : - : -", "D : x : - : -"))},
      {{"strum", "D6-4"}, over_shape(on("strum", "D : D : - : -", "D : D5-3 : - : -"))},
      {{"strum", "D~"}, over_shape(on("strum", "D : D : - : -", "D : D~ : - : -"))},
      {{"strum", "D/"}, over_shape(on("strum", "D : D : - : -", "D : D/ : - : -"))},
      {{"strum", "(D)"}, over_shape(on("strum", "D : D : - : -", "D : (D) : - : -"))},
      {{"strum", ">D"}, over_shape(on("strum", "D : D : - : -", "D : >D : - : -"))},
      {{"pluck", "p"}, over_line(on("pluck", "i : m : a : -", "i : p : a : -"))},
      {{"pluck", "m+a"},
       {"1 | 3 : - : - : - | |\n2 | 3 : - : - : - | |\npluck | m : - : - : - | |",
        "1 | 3 : - : - : - | |\n2 | 3 : - : - : - | |\npluck | m+a : - : - : - | |"}},
      {{"pluck", ">p"}, over_line(on("pluck", "p : m : - : -", ">p : m : - : -"))},
      {{"pick", "D"}, over_line(on("pick", "- : U : - : -", "D : U : - : -"))},
      {{"pick", "U"}, over_line(on("pick", "D : D : - : -", "D : U : - : -"))},
      {{"finger", "1"}, over_line(on("finger", "- : 3 : - : -", "1 : 3 : - : -"))},
      {{"finger", "T"}, over_line(on("finger", "1 : 3 : - : -", "T : 3 : - : -"))},
      {{"finger", "1+4"},
       {"1 | 3 : - : - : - | |\n2 | 5 : - : - : - | |\nfinger | 1 : - : - : - | |",
        "1 | 3 : - : - : - | |\n2 | 5 : - : - : - | |\nfinger | 1+4 : - : - : - | |"}},
      {{"retune", "6=D2"}, on("6 | 3 : - : - : - | |\nretune", "6=Eb2", "6=D2")},
      {{"retune", "open G"}, on("6 | 3 : - : - : - | |\nretune", "6=D2", "open G")},
      {{"retune", "back"},
       {"6 | 3 : - : - : - | 3 |\nretune | 6=D2 | |", "6 | 3 : - : - : - | 3 |\nretune | 6=D2 | back |"}},
      {{"arm", "dip2"}, held("arm", "- : - : - : -", "- : dip2 : - : -")},
      {{"arm", "dive5"}, held("arm", "- : dip5 : - : -", "- : dive5 : - : -")},
      {{"arm", "up2"}, held("arm", "- : dive2 : - : -", "- : up2 : - : -")},
      {{"arm", "scoop"}, held("arm", "- : - : - : -", "scoop : - : - : -")},
      {{"arm", "back"}, held("arm", "- : dive5 : - : -", "- : dive5 : back : -")},
      {{"arm", "~"}, held("arm", "- : - : - : -", "- : ~ : - : -")},
  };
  return kSigns;
}

const std::map<Key, Pair>& pitch_and_drum_signs() {
  static const std::map<Key, Pair> kSigns{
      {{"notes", "D5"}, on("notes", "C5 : E5 : - : -", "C5 : D5 : - : -")},
      {{"notes", "D5+F5"}, on("notes", "C5 : D5 : - : -", "C5 : D5+F5 : - : -")},
      {{"notes", "-D5"}, on("notes", "D5 : D5 : - : -", "D5 : -D5 : - : -")},
      {{"notes", "x"}, on("notes", "C5 : D5 : - : -", "C5 : x : - : -")},
      {{"notes", "(D5)"}, on("notes", "C5 : D5 : - : -", "C5 : (D5) : - : -")},
      {{"notes", "<D5>"}, on("notes", "C5 : D5 : - : -", "C5 : <D5> : - : -")},
      {{"notes", "D5="}, on("notes", "C5 : D5 : - : -", "C5 : D5= : - : -")},
      {{"notes", "D5trE5"}, on("notes", "C5 : D5 : - : -", "C5 : D5trE5 : - : -")},
      {{"notes", "gC5-D5"}, on("notes", "C5 : D5 : - : -", "C5 : gC5-D5 : - : -")},
      {{"notes", ">D5"}, on("notes", "C5 : D5 : - : -", "C5 : >D5 : - : -")},
      {{"bow", "D"},
       {"notes | C5 : D5 : - : - | |\nbow | - : U : - : - | |",
        "notes | C5 : D5 : - : - | |\nbow | D : U : - : - | |"}},
      {{"bow", "U"},
       {"notes | C5 : D5 : - : - | |\nbow | D : D : - : - | |",
        "notes | C5 : D5 : - : - | |\nbow | D : U : - : - | |"}},
      {{"drums", "x"}, on("hat", "x : - : - : -", "x : x : - : -")},
      {{"drums", "o"}, on("hat", "x : x : - : -", "x : o : - : -")},
      {{"drums", "h"}, on("hat", "x : o : - : -", "x : h : - : -")},
      {{"drums", "(x)"}, on("snare", "x : x : - : -", "x : (x) : - : -")},
      {{"drums", ">x"}, on("snare", "x : x : - : -", "x : >x : - : -")},
      {{"drums", "fx"}, on("snare", "x : x : - : -", "x : fx : - : -")},
      {{"drums", "dx"}, on("snare", "x : fx : - : -", "x : dx : - : -")},
      {{"drums", "rx"}, on("snare", "x : dx : - : -", "x : rx : - : -")},
      {{"drums", "x/"}, on("snare", "x : x : - : -", "x : x/ : - : -")},
      {{"drums", "xz"}, on("snare", "x : x/// : - : -", "x : xz : - : -")},
      {{"drums", "x!"}, on("crash", "x : x : - : -", "x : x! : - : -")},
      {{"drums", "R"}, on("snare", "x : x : - : -", "x : R : - : -")},
      {{"drums", "L"}, on("snare", "x : R : - : -", "x : L : - : -")},
  };
  return kSigns;
}

const std::map<Key, Pair>& shared_signs() {
  static const std::map<Key, Pair> kSigns{
      {{"every lane", "-"}, on("1", "3 : 5 : - : -", "3 : - : - : -")},
      {{"every lane", "."}, on("1", "3 : - : - : -", "3 : . : - : -")},
      {{"every lane", "%"}, {"1 | 3 : 5 : - : - | |", "1 | 3 : 5 : - : - | % |"}},
      {{"every lane", "%%"}, {"1 | 3 : 5 : - : - | 2 | |", "1 | 3 : 5 : - : - | 2 | %% |"}},
      {{"every lane", "\"...\""}, over_line(on("say", "one", "\"two: three\""))},
      {{"spans", "on"}, over_line(on("palm mute", "- : - : - : -", "on : - : . : -"))},
      {{"chords", "Am7"}, over_line(on("chords", "C", "Am7"))},
      {{"chords", "N.C."}, over_line(on("chords", "C", "N.C."))},
      {{"hold", "@"}, over_line(on("hold", "- : - : - : -", "- : - : @ : -"))},
      {{"lyric", "wa-"},
       {"notes | C5 : D5 : - : - | |\nlyric | wa : ter : - : - | |",
        "notes | C5 : D5 : - : - | |\nlyric | wa- : ter : - : - | |"}},
      {{"lyric", "ah -"},
       {"notes | C5 : D5 : E5 : D5 | |\nlyric | ah : oh : oh : oh | |",
        "notes | C5 : D5 : E5 : D5 | |\nlyric | ah : - : - : oh | |"}},
      {{"see", "a"}, over_line(on("see", "- : - : - : -", "- : a : - : -"))},
  };
  return kSigns;
}

std::string instrument_for(const Key& key) {
  if (key.first == "drums") return "drum kit";
  if (key.first == "lyric") return "voice";
  return key.first == "notes" || key.first == "bow" ? "violin" : "guitar";
}

std::string song_with(const Key& key, const std::string& lanes) {
  std::string song =
      "song: Gate Song\nmeter: 4/4\ntempo: 90\nkey: C major\nparts:\n  player: {instrument: " + instrument_for(key) +
      "}\nshapes:\n  home: {frets: x 3 2 0 1 0}\nsections:\n  tune:\n    player: |\n";
  if (!support::holds(lanes, "shape |"))
    song.erase(song.find("shapes:"), song.find("sections:") - song.find("shapes:"));
  for (const std::string& line : support::lines_of(lanes)) song += "      " + line + "\n";
  if (key.first == "see") song += "    remarks: {a: Let the thumb lead.}\n";
  return song;
}

class PrintedSigns : public testing::Test {
 protected:
  PrintedSigns() { support::use_house_styles(); }

  static void expect_all(const std::map<Key, Pair>& signs) {
    for (const auto& [key, pair] : signs) {
      const std::string with = song_with(key, pair.with);
      EXPECT_TRUE(page_of(song_with(key, pair.without)) != page_of(with) || named_as_not_printed(with))
          << key.second << " on " << key.first << " changes nothing on the page:\n"
          << with;
    }
  }
};

TEST_F(PrintedSigns, OnStrings) {
  expect_all(string_signs());
}
TEST_F(PrintedSigns, OfTheHands) {
  expect_all(hand_signs());
}
TEST_F(PrintedSigns, OfPitchesAndDrums) {
  expect_all(pitch_and_drum_signs());
}
TEST_F(PrintedSigns, OfAllLanes) {
  expect_all(shared_signs());
}

/// "as on string lanes" holds for every lane that says so.
TEST_F(PrintedSigns, AccentsOnEveryLane) {
  const std::vector<std::pair<Key, Pair>> kLanes{
      {{"strum", "D"}, over_shape(on("strum", "D : D : - : -", "D : D# : - : -"))},
      {{"pluck", "p"}, over_line(on("pluck", "p : i : - : -", "p : i# : - : -"))},
      {{"notes", "D5"}, on("notes", "C5 : D5 : - : -", "C5 : D5# : - : -")},
      {{"drums", "x"}, on("snare", "x : x : - : -", "x : x# : - : -")},
  };
  for (const auto& [key, pair] : kLanes) {
    for (const char* accent : {">", "^", "'", "_", "@"}) {
      std::string with = pair.with;
      with.replace(with.find('#'), 1, accent);
      const std::string song = song_with(key, with);
      EXPECT_TRUE(page_of(song_with(key, pair.without)) != page_of(song) || named_as_not_printed(song)) << song;
    }
  }
}

TEST_F(PrintedSigns, HitsOfAChart) {
  const auto song = [](const std::string& hits) {
    return "song: Gate Song\nmeter: 4/4\nsections:\n  tune:\n    chart: |\n      chords | C |\n      hits | " + hits +
           " |\n";
  };
  const std::string plain = page_of(song("x : x : - : -"));
  for (const char* hits : {"x : - : - : -", "x : (x) : - : -", "x : >x : - : -", "x : x' : - : -", "x : x@ : - : -"}) {
    EXPECT_TRUE(plain != page_of(song(hits)) || named_as_not_printed(song(hits))) << song(hits);
  }
}

TEST_F(PrintedSigns, WordsOfTheForm) {
  const auto song = [](const std::string& form) {
    std::string text = "song: Gate Song\nmeter: 4/4\nparts:\n  player: {instrument: guitar}\nsections:\n";
    int fret = 0;
    for (const char* name : {"tune", "middle", "end"})
      text += "  " + std::string(name) + ":\n    player: |\n      1 | " + std::to_string(fret++) + " : 2 : 3 : 5 |\n";
    return text + "form: [" + form + "]\n";
  };
  const std::map<std::string, Pair> kForms{
      {"segno", {"tune, middle, end, D.C.", "tune, segno, middle, end, D.S."}},
      {"coda", {"tune, middle, end", "tune, to coda, middle, D.C. al coda, coda, end"}},
      {"to coda", {"tune, middle, D.C., end", "tune, to coda, middle, D.C. al coda, coda, end"}},
      {"fine", {"tune, middle, end, D.C.", "tune, fine, middle, end, D.C. al fine"}},
      {"D.S.", {"tune, middle, end", "tune, segno, middle, end, D.S."}},
      {"D.S. al coda", {"tune, middle, end", "segno, tune, to coda, middle, D.S. al coda, coda, end"}},
      {"D.S. al fine", {"tune, middle, end", "segno, tune, fine, middle, end, D.S. al fine"}},
      {"D.C.", {"tune, middle, end", "tune, middle, end, D.C."}},
      {"D.C. al coda", {"tune, middle, end", "tune, to coda, middle, D.C. al coda, coda, end"}},
      {"D.C. al fine", {"tune, middle, end", "tune, fine, middle, end, D.C. al fine"}},
      {"fade", {"tune, middle, end", "tune, middle, end, fade"}},
  };
  for (const LanguageEntry& entry : song::language()) {
    if (entry.kind != EntryKind::FormWord) continue;
    const auto pair = kForms.find(std::string(entry.word));
    ASSERT_NE(pair, kForms.end()) << "no form is written for " << entry.word;
    EXPECT_NE(page_of(song(pair->second.without)), page_of(song(pair->second.with))) << entry.word;
  }
  EXPECT_TRUE(support::holds(support::findings_of(song("tune, segno, middle, end")), "[bad-form]"));
}

/// A comment is for the writer alone; everything else of the table stands in one of the lists above.
TEST_F(PrintedSigns, EverySignIsTried) {
  for (const LanguageEntry& entry : song::language()) {
    if (entry.kind != EntryKind::Sign || entry.where == "hits" || entry.word == "#") continue;
    const Key key{std::string(entry.where), std::string(entry.word)};
    const bool tried = string_signs().count(key) + hand_signs().count(key) + pitch_and_drum_signs().count(key) +
                           shared_signs().count(key) >
                       0;
    EXPECT_TRUE(tried) << "no song is written for the sign " << entry.word << " on " << entry.where;
  }
}

}  // namespace
}  // namespace tunesheaf::app

// The commands of the ear and the hand as a player meets them: what is said stands in tests/golden/ear, what programs
// read is parsed, and what is not understood is told with the nearest that would be.
#include <gtest/gtest.h>

#include <filesystem>
#include <nlohmann/json.hpp>

#include "runner.h"
#include "support/golden.h"
#include "support/temp_dir.h"

namespace tunesheaf::app {
namespace {

using nlohmann::json;
using support::expect_golden;
using support::holds;
using support::Outcome;
using support::run_words;
using support::TempDir;
using Words = std::vector<std::string>;

void expect_told(const std::string& golden, const Words& words) {
  const Outcome outcome = run_words(words);
  EXPECT_EQ(outcome.code, 0) << outcome.err;
  EXPECT_EQ(outcome.err, "");
  expect_golden("ear/" + golden + ".txt", outcome.out);
}

json asked(Words words) {
  words.insert(words.end(), {"--format", "json"});
  const Outcome outcome = run_words(words);
  EXPECT_EQ(outcome.code, 0) << outcome.err;
  return json::parse(outcome.out);
}

/// The command line is off, nothing is answered, and the sentence holds every piece.
void expect_fault(const Words& words, const std::vector<std::string>& pieces) {
  const Outcome outcome = run_words(words);
  EXPECT_EQ(outcome.code, 2) << words.back();
  EXPECT_EQ(outcome.out, "");
  for (const std::string& piece : pieces) EXPECT_TRUE(holds(outcome.err, piece)) << outcome.err << "\nlacks: " << piece;
}

const char* kSong =
    "song: The Ferry Bell\n"
    "key: Eb major\n"
    "tempo: 80\n"
    "parts:\n"
    "  guitar: {instrument: guitar, tuning: Eb2 Ab2 Db3 Gb3 Bb3 Eb4}\n"
    "shapes:\n"
    "  bell: {frets: x 0 x x x 1}\n"
    "sections:\n"
    "  verse:\n"
    "    chart: |\n"
    "      chords | Eb | Cm | Ab | Bb7 |\n"
    "    guitar: |\n"
    "      1 | 0 : 2 : 0 : 2 | 0 : 2 : 0 : 2 | 0 : - : - : - | 0 : - : - : - |\n";

// ------------------------------------------------------------------------------------------------ ear

TEST(EarCommand, SaysWhatAShapeSoundsAndIsCalled) {
  expect_told("sus2", {"ear", "x x 0 2 3 0"});
  expect_told("open-g-capo", {"ear", "x02012", "--tuning", "open G", "--capo", "2", "--key", "A major"});
  expect_told("partial-capo", {"ear", "0 0 4 4 0 0", "--capo", "2:5,4,3"});
  expect_told("no-name", {"ear", "xxx02x"});
  expect_told("barre-given", {"ear", "x 7 9 8 8 x / . 1 3 2 2 ."});
  expect_told("muted-inside", {"ear", "2 2 1 x x 3"});
  expect_told("courses", {"ear", "x32010", "--instrument", "12-string guitar"});
  expect_told("beyond-the-hand", {"ear", "1 x 9 x x 4"});
}

TEST(EarCommand, TakesTheShapeInOneWordOrInMany) {
  const Outcome one = run_words({"ear", "x 3 2 0 1 0"});
  EXPECT_EQ(one.out, run_words({"ear", "x32010"}).out);
  EXPECT_EQ(one.out, run_words({"ear", "x", "3", "2", "0", "1", "0"}).out);
}

TEST(EarCommand, TellsProgramsTheSame) {
  const json c7 = asked({"ear", "x3231x"});
  EXPECT_EQ(c7["names"][0]["name"], "C7");
  EXPECT_EQ(c7["names"][0]["missing"][0]["note"], "G");
  EXPECT_EQ(c7["doubled"], json::parse(R"([{"note": "C", "times": 2}])"));
  ASSERT_EQ(c7["sounds"].size(), 4U);
  EXPECT_EQ(c7["sounds"][2]["note"], "Bb3");
  EXPECT_EQ(c7["sounds"][2]["degree"], "b7");
  EXPECT_EQ(c7["playable"], true);
  const json behind = asked({"ear", "x02012", "--tuning", "open G", "--capo", "2"});
  EXPECT_EQ(behind["names"][0]["name"], "D/A");
  EXPECT_EQ(behind["as_fingered"]["name"], "C/G");
  EXPECT_EQ(behind["capo"]["fret"], 2);
  EXPECT_EQ(asked({"ear", "xx0230"})["familiar"]["words"], "the D shape with the middle finger lifted");
  EXPECT_TRUE(asked({"ear", "xxx02x"})["names"].empty());
}

TEST(EarCommand, TuningsThatCannotBe) {
  std::string forty;
  for (int i = 0; i < 40; ++i) forty += "E4 ";
  expect_fault({"ear", "000000", "--tuning", forty}, {"1 to 12 strings", "has 40", "E2 A2 D3 G3 B3 E4"});
  expect_fault({"ear", "000000", "--tuning", " "}, {"1 to 12 strings", "has none"});
  expect_fault({"ear", "000000", "--tuning", ""}, {"--tuning needs a value"});
  expect_fault({"ear", "000000", "--tuning", "E2 A2 D3 G3 B3 E9"}, {"\"E9\"", "higher", "C8"});
  expect_fault({"ear", "000000", "--tuning", "E-1 A2 D3 G3 B3 E4"}, {"\"E-1\"", "lower than anyone hears", "C0"});
  expect_fault({"ear", "000000", "--tuning", "E2 A2 D3 G B3 E4"}, {"\"G\"", "octave"});
  expect_fault({"ear", "000000", "--tuning", "open X"}, {"no tuning of the guitar", "the nearest is \"open"});
  expect_fault({"ear", "0000", "--tuning", "low G"}, {"the ukulele has one"});
  expect_fault({"ear", "0000", "--instrument", "ukelele"}, {"\"ukelele\"", "the nearest is \"ukulele\""});
  expect_fault({"ear", "0000", "--instrument", "piano"}, {"no strings", "tunesheaf tunings"});
}

TEST(EarCommand, ShapesThatCannotBe) {
  expect_fault({"ear", "x 0 0 30 0 0"}, {"string 3", "fret 30", "ends at fret 24", "fret 18"});
  expect_fault({"ear", "x 0 0 23 0 0", "--capo", "3"}, {"ends at fret 21, counted from the capo", "fret 11"});
  expect_fault({"ear", "0232"}, {"4 frets", "6 strings"});
  expect_fault({"ear", "x 3 2 y 1 0"}, {"\"y\" (sign 7)", "x (not played)"});
  expect_fault({"ear", "xxxxxx"}, {"no string is played"});
  expect_fault({"ear", "x32010", "--fingers", ". 3 2 . 1"}, {"5 fingers for 6 frets"});
  expect_fault({"ear", "x32010", "--fingers", ". 1 2 . 3 ."}, {"1 2 3 4"});
  expect_fault({"ear", "x32010", "--capo", "two"}, {"\"two\" is no place for a capo"});
  expect_fault({"ear", "x32010", "--capo", "30"}, {"capo at fret 30"});
  expect_fault({"ear", "x32010", "--capo", "2:9"}, {"string 9", "1 to 6"});
  expect_fault({"ear", "x32010", "--key", "G mixolidian"}, {"mixolydian"});
  expect_fault({"ear", "x32010", "--key", "H"}, {"\"H\" is no key"});
  expect_fault({"ear"}, {"something is missing"});
}

// ------------------------------------------------------------------------------------------------ shapes

TEST(ShapesCommand, DrawsThemBestFirst) {
  expect_told("shapes-am7", {"shapes", "Am7", "--count", "6"});
  expect_told("shapes-ukulele", {"shapes", "F", "--instrument", "ukulele", "--count", "5"});
  expect_told("shapes-open-d", {"shapes", "G13", "--tuning", "open D", "--count", "4"});
  expect_told("shapes-twelve", {"shapes", "Em", "--instrument", "12-string guitar", "--count", "2"});
}

TEST(ShapesCommand, KeepsToTheBounds) {
  const json found = asked({"shapes", "C", "--from-fret", "5", "--to-fret", "9", "--stretch", "2", "--bass", "G",
                            "--top", "E", "--count", "200"});
  ASSERT_FALSE(found["shapes"].empty());
  EXPECT_EQ(found["chord"], "C/G");
  EXPECT_EQ(found["found"], found["shapes"].size());
  for (const json& shape : found["shapes"]) {
    const std::vector<int> midi = shape["midi"];
    EXPECT_EQ(*std::min_element(midi.begin(), midi.end()) % 12, 7) << shape;
    EXPECT_EQ(*std::max_element(midi.begin(), midi.end()) % 12, 4) << shape;
    for (const int key : midi) EXPECT_TRUE(key % 12 == 0 || key % 12 == 4 || key % 12 == 7) << shape;
    for (const char c : shape["frets"].get<std::string>()) {
      EXPECT_TRUE(c == 'x' || c == '0' || c == ' ' || (c >= '5' && c <= '9')) << shape;
    }
  }
  int cost = 0;
  for (const json& shape : found["shapes"]) {
    EXPECT_GE(shape["cost"], cost);
    cost = shape["cost"];
  }
}

TEST(ShapesCommand, BehindACapoTheSameChordHasOtherShapes) {
  EXPECT_EQ(asked({"shapes", "D", "--capo", "2", "--count", "1"})["shapes"][0]["frets"], "x32010");
  EXPECT_EQ(asked({"shapes", "D", "--count", "1"})["shapes"][0]["frets"], "xx0232");
}

TEST(ShapesCommand, ChordsThatAreNone) {
  expect_fault({"shapes", "Cmaj7foo"}, {"from sign 6 on", "\"foo\"", "Cmaj7 would be understood"});
  expect_fault({"shapes", "G7(b9"}, {"bracket", "G7 would be understood"});
  expect_fault({"shapes", "Hm"}, {"capital from A to G"});
  expect_fault({"shapes", "Am/"}, {"after the stroke", "Am would be understood"});
  expect_fault({"shapes", ""}, {"a root from A to G"});
  expect_fault({"shapes", "N.C."}, {"nothing is played"});
}

TEST(ShapesCommand, ChordsThatNoHandCanPlay) {
  expect_fault({"shapes", "C13/F#", "--tuning", "C4 C4 C4 C4"}, {"no hand can play C13/F♯", "nearest"});
  expect_fault({"shapes", "F", "--to-fret", "1", "--bass", "F#"}, {"no hand can play F/F♯"});
  expect_fault({"shapes", "F", "--to-fret", "0"}, {"from 1 to"});
  expect_fault({"shapes", "F", "--from-fret", "7", "--to-fret", "3"}, {"exchange"});
  expect_fault({"shapes", "F", "--stretch", "wide"}, {"--stretch takes a whole number"});
  expect_fault({"shapes", "F", "--top", "Q"}, {"\"Q\" is no note"});
}

TEST(ShapesCommand, PrintsASheet) {
  support::use_house_styles();
  const TempDir folder;
  for (const char* name : {"f.pdf", "f.svg"}) {
    const std::string path = (folder.path() / name).string();
    const Outcome outcome = run_words({"shapes", "Fm7", "--count", "8", "--capo", "1", "-o", path});
    EXPECT_EQ(outcome.code, 0) << outcome.err;
    EXPECT_GT(std::filesystem::file_size(path), 2000U);
  }
  expect_fault({"shapes", "F", "-o", "f.doc"}, {".pdf, .svg or .png"});
}

// ------------------------------------------------------------------------------------------------ move

TEST(MoveCommand, SaysWhatEachFingerDoes) {
  expect_told("move-c-am", {"move", "x32010", "x02210"});
  expect_told("move-barre", {"move", "133211", "355433"});
  expect_told("move-guide", {"move", "xx0232 / ...132", "x02220 / ..123."});
  const json c_am = asked({"move", "x32010", "x02210"});
  ASSERT_EQ(c_am["fingers"].size(), 3U);
  EXPECT_EQ(c_am["fingers"][0]["does"], "stays");
  EXPECT_EQ(c_am["fingers"][2]["does"], "moves");
  EXPECT_EQ(c_am["difficulty"], 2.5);
  EXPECT_EQ(asked({"move", "x32010", "x32010"})["difficulty"], 0.0);
}

TEST(MoveCommand, ShapesThatNoHandCanHold) {
  expect_fault({"move", "x32010", "1 x 9 x x 4"}, {"no hand", "\"1 x 9 x x 4\""});
  expect_fault({"move", "x32010", "x3201"}, {"\"x3201\"", "5 frets"});
  expect_fault({"move", "x32010"}, {"something is missing"});
}

// ------------------------------------------------------------------------------------------------ retune, tunings

TEST(RetuneCommand, SaysTheWayStringByString) {
  expect_told("retune-open-g", {"retune", "open G", "--pitch", "+18 cents"});
  expect_told("retune-up", {"retune", "open A", "--from", "open G", "--pitch", "A4 = 432"});
  expect_told("retune-octave", {"retune", "E3 A2 D3 G3 B3 E4"});
  expect_told("retune-one-note", {"retune", "C2 C3 C3 C3 C4 C4"});
}

TEST(RetuneCommand, ThereAndBackIsNothing) {
  const json there = asked({"retune", "open G"});
  const json back = asked({"retune", "usual", "--from", "open G"});
  ASSERT_EQ(there["strings"].size(), 6U);
  for (std::size_t i = 0; i < 6; ++i) {
    EXPECT_EQ(there["strings"][i]["semitones"].get<int>() + back["strings"][i]["semitones"].get<int>(), 0);
  }
  // Table 1 of every tuner: D2 is 73.42 Hz at A4 = 440.
  EXPECT_NEAR(there["strings"][0]["hertz"].get<double>(), 73.416, 0.01);
  EXPECT_NEAR(asked({"retune", "open G", "--pitch", "A4 = 432"})["strings"][0]["hertz"].get<double>(),
              73.416 * 432 / 440, 0.01);
  EXPECT_EQ(there["order"], json::parse("[6, 5, 1]"));
  EXPECT_EQ(there["nearest"]["name"], "open G");
}

TEST(RetuneCommand, WhatItCannotDo) {
  expect_fault({"retune", "G4 C4 E4 A4"}, {"from 6 strings to 4 strings"});
  expect_fault({"retune", "open G", "--pitch", "432"}, {"up (+) or down (-)", "A4 = 432"});
  expect_fault({"retune", "open G", "--pitch", "+90 semitones"}, {"two octaves"});
  expect_fault({"retune", "open G", "--from", "opne D"}, {"--from", "the nearest is \"open D\""});
}

TEST(TuningsCommand, ListsInstrumentsAndTunings) {
  expect_told("tunings", {"tunings"});
  expect_told("tunings-ukulele", {"tunings", "ukulele"});
  EXPECT_EQ(run_words({"tunings", "bass", "guitar"}).out, run_words({"tunings", "bass guitar"}).out);
  const json all = asked({"tunings"});
  EXPECT_EQ(all[0]["instrument"], "guitar");
  EXPECT_EQ(all[0]["tunings"][0]["notes"], "E2 A2 D3 G3 B3 E4");
  expect_fault({"tunings", "guitr"}, {"the nearest is \"guitar\""});
}

// ------------------------------------------------------------------------------------------------ instead

TEST(InsteadCommand, SaysWhatAnotherPlayerPlays) {
  const TempDir folder;
  const std::string song = folder.write("ferry.yaml", kSong);
  expect_told("instead-usual", {"instead", song, "--for", "usual tuning"});
  expect_told("instead-ukulele", {"instead", song, "--for", "ukulele, a tone down"});
  const json capo = asked({"instead", song, "--for", "usual tuning, capo 1"});
  EXPECT_EQ(capo["capo"], 1);
  ASSERT_EQ(capo["chords"].size(), 4U);
  EXPECT_EQ(capo["chords"][0]["fingered"], "D");
  EXPECT_EQ(capo["chords"][0]["frets"], "xx0232");
  EXPECT_EQ(capo["chords"][3]["fingered"], "A7");
  EXPECT_EQ(capo["options"].size(), 1U);
  const json down = asked({"instead", song, "--for", "no capo, a semitone down"});
  EXPECT_EQ(down["chords"][0]["fingered"], "D");
  EXPECT_EQ(down["semitones"], -1);
  for (const char* way :
       {"3 semitones down", "three half steps lower", "-3 semitones", "a tone down, a semitone down"}) {
    EXPECT_EQ(asked({"instead", song, "--for", std::string("no capo, ") + way})["chords"][0]["fingered"], "C") << way;
  }
  EXPECT_EQ(asked({"instead", song, "--for", "guitar tuned to DADGAD with capo at 3"})["tuning"], "D2 A2 D3 G3 A3 D4");
}

TEST(InsteadCommand, WhatItCannotDo) {
  const TempDir folder;
  const std::string song = folder.write("ferry.yaml", kSong);
  expect_fault({"instead", song}, {"--for"});
  expect_fault({"instead", song, "--for", "opne G"}, {"\"opne G\"", "the nearest is \"open G\""});
  expect_fault({"instead", song, "--for", "piano"}, {"the piano has no frets"});
  expect_fault({"instead", song, "--for", "capo 20"}, {"capo at fret 20"});
  expect_fault({"instead", song, "--for", "DADGAD, open G"}, {"two tunings"});
  expect_fault({"instead", song, "--for", "2 octaves up"}, {"at most 12 semitones"});
  expect_fault({"handout", song, "--instead", "pinao"}, {"--instead"});
  const std::string silent = folder.write("silent.yaml",
                                          "song: Silent\nparts:\n  drums: {instrument: drum kit}\nsections:\n  a:\n"
                                          "    drums: |\n      kick | x : - : x : - |\n");
  const Outcome outcome = run_words({"instead", silent, "--for", "ukulele"});
  EXPECT_EQ(outcome.code, 1);
  EXPECT_TRUE(holds(outcome.err, "names no chord"));
}

TEST(InsteadCommand, IsABlockOfTheHandout) {
  support::use_house_styles();
  const TempDir folder;
  const std::string song = folder.write("ferry.yaml", kSong);
  const Outcome audit = run_words({"audit", song, "--instead", "usual tuning"});
  EXPECT_EQ(audit.code, 0) << audit.out << audit.err;
  const std::string path = (folder.path() / "ferry.svg").string();
  const Outcome with = run_words({"handout", song, "--instead", "usual tuning", "-o", path});
  EXPECT_EQ(with.code, 0) << with.err;
  EXPECT_TRUE(std::filesystem::exists(path));
}

}  // namespace
}  // namespace tunesheaf::app

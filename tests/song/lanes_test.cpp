// Lanes: bars, beats, cells, names, stanzas, and the exact place of each.
#include <gtest/gtest.h>

#include "name_book.h"
#include "print_cells.h"
#include "reading.h"
#include "vocabulary.h"

namespace tunesheaf::song {
namespace {

/// "[a][b]:[c]|..." for one lane: cells in brackets, beats parted by colons, bars by bar lines.
std::string shown(const Lane& lane) {
  std::string text;
  for (const LaneBar& bar : lane.bars) {
    for (std::size_t i = 0; i < bar.beats.size(); ++i) {
      text += i > 0 ? ":" : "";
      for (const Cell& cell : bar.beats[i].cells) text += "[" + print(cell.content) + "]";
    }
    text += bar.repeat_before ? "%|" : bar.repeat_two ? "%%|" : "|";
  }
  return text;
}

std::string shown(const std::string& lane) {
  const Reading reading = read_text_of_song(song_with_lanes(lane));
  EXPECT_EQ(reading.said(), "") << lane;
  return shown(stanzas_of(reading).at(0).lanes.at(0));
}

std::vector<std::string> marks(const std::string& lanes) {
  return read_text_of_song(song_with_lanes(lanes)).marks();
}

TEST(Lanes, BarsBeatsAndCells) {
  EXPECT_EQ(shown("1 | 0 : 2 3 : - |"), "[fret 0]:[fret 2][fret 3]:[-]|");
  EXPECT_EQ(shown("1 | 0 2 | 3 |"), "[fret 0][fret 2]|[fret 3]|");
  EXPECT_EQ(shown("1 |  |   : 0 :  |"), "[-]|[-]:[fret 0]:[-]|");
  EXPECT_EQ(shown("1 | 0 : . | % |"), "[fret 0]:[.]|[-]%|");
  EXPECT_EQ(shown("1 | 0 | . | %% | %% |"), "[fret 0]|[.]|[-]%%|[-]%%|");
  EXPECT_EQ(shown("1|0 : 2|"), "[fret 0]:[fret 2]|");
}

TEST(Lanes, NamesWithBlanks) {
  EXPECT_EQ(shown("shape | home two finger | - : two   finger |"), "[\"home\"][\"two finger\"]|[-]:[\"two finger\"]|");
  EXPECT_EQ(shown("shape | \"two finger\" home |"), "[\"two finger\"][\"home\"]|");
  EXPECT_EQ(shown("shape | some other one |"), "[\"some other one\"]|");  // unknown names stay whole, for the checker
  EXPECT_EQ(shown("shape | some one home |"), "[\"some one\"][\"home\"]|");
}

TEST(Lanes, TextsAndLyrics) {
  EXPECT_EQ(shown("say | a little  softer | \"2 : 1 | or so\" |"), "[\"a little softer\"]|[\"2 : 1 | or so\"]|");
  EXPECT_EQ(shown("lyric | Down by the |"), "[\"Down by the\"]|");
  EXPECT_EQ(shown("lyric | Row the : boat- : - |"), "[\"Row\"][\"the\"]:[\"boat-\"]:[-]|");
  EXPECT_EQ(shown("lyric | don\u2019t : go |"), "[\"don\u2019t\"]:[\"go\"]|");
  EXPECT_EQ(shown("tempo | rit. : - : a tempo |"), "[\"rit.\"]:[-]:[\"a tempo\"]|");
  EXPECT_EQ(shown("meter | 7/8 (2+2+3) | - | 4/4 |"), "[\"7/8 (2+2+3)\"]|[-]|[\"4/4\"]|");
}

TEST(Lanes, CommentsAndStanzas) {
  const Reading reading = read_text_of_song(
      song_with_lanes("1 | 0 : 2 |  # the easy one\n# a line of its own\n2 | 1 |\n\n1 | 3 |\n  \n2 | 0 |"));
  EXPECT_EQ(reading.said(), "");
  ASSERT_EQ(stanzas_of(reading).size(), 3U);
  EXPECT_EQ(stanzas_of(reading)[0].lanes.size(), 2U);
  EXPECT_EQ(stanzas_of(reading)[1].lanes.size(), 1U);
  EXPECT_EQ(shown("chords | F#m7 : G |"), "[chord \"F#m7\"]:[chord \"G\"]|");
}

TEST(Lanes, SlidesAreJoinedAcrossBarsAndStanzas) {
  EXPECT_EQ(shown("1 | 7/ | - : 9 |"), "[fret 7 slides-on]|[-]:[fret 9 shifted]|");
  EXPECT_EQ(shown("1 | 7/ : . : 9 |"), "[fret 7 slides-off-up]:[.]:[fret 9]|");
  const Reading reading = read_text_of_song(song_with_lanes("1 | 7/ |\n\n1 | 9 |"));
  EXPECT_EQ(shown(stanzas_of(reading).at(1).lanes.at(0)), "[fret 9 shifted]|");
}

TEST(Lanes, EverythingKnowsItsPlace) {
  const std::string lanes = "1       | 0 : h2 (5) |\nthumb 4 |   : q |\nshape   | two finger home |";
  const Reading reading = read_text_of_song(song_with_lanes(lanes));
  const auto slice = [&](Span span) { return std::string(reading.file().slice(span)); };
  const Stanza& stanza = stanzas_of(reading).at(0);
  const Lane& first = stanza.lanes.at(0);
  EXPECT_EQ(slice(first.name.span), "1");
  EXPECT_EQ(slice(first.span), "1       | 0 : h2 (5) |");
  EXPECT_EQ(slice(first.bars.at(0).span), "0 : h2 (5)");
  EXPECT_EQ(slice(first.bars.at(0).beats.at(1).span), "h2 (5)");
  EXPECT_EQ(slice(first.bars.at(0).beats.at(1).cells.at(1).span), "(5)");
  const Cell& empty = stanza.lanes.at(1).bars.at(0).beats.at(0).cells.at(0);
  EXPECT_EQ(empty.span.length(), 0U);
  EXPECT_EQ(empty.span.begin, first.bars.at(0).beats.at(0).cells.at(0).span.begin + lanes.find('\n') + 1 + 6);
  EXPECT_EQ(slice(stanza.lanes.at(2).bars.at(0).beats.at(0).cells.at(0).span), "two finger");
  EXPECT_EQ(reading.marks(), std::vector<std::string>{"13:21 wrong-sign"});
}

TEST(Lanes, OneLineInQuotesKnowsItsPlaceToo) {
  const Reading reading = read_text_of_song(
      "song: Base\nparts: {guitar: {instrument: guitar}}\nsections:\n  tune: {guitar: \"1 | 0 : h7 |\"}\n");
  EXPECT_EQ(reading.said(), "");
  const Lane& lane = stanzas_of(reading).at(0).lanes.at(0);
  EXPECT_EQ(reading.file().slice(lane.bars.at(0).beats.at(1).cells.at(0).span), "h7");
}

TEST(Lanes, FaultsAreNamedWhereTheyStand) {
  using Marks = std::vector<std::string>;
  EXPECT_EQ(marks("1 |: 0 : 2 :|"), (Marks{"12:9 repeat-sign", "12:18 repeat-sign"}));
  EXPECT_EQ(marks("1 | 0 || 2 |"), Marks{"12:13 double-bar-line"});
  EXPECT_EQ(marks("1 | 0 : 2"), Marks{"12:11 missing-bar-line"});
  EXPECT_EQ(marks("1 |"), Marks{"12:9 missing-bar-line"});
  EXPECT_EQ(marks("| 0 |"), Marks{"12:7 unknown-lane"});
  EXPECT_EQ(marks("1 | 0 : % |"), Marks{"12:15 percent-not-alone"});
  EXPECT_EQ(marks("1 | 0 | 2 | 3 : %% |"), Marks{"12:23 percent-not-alone"});
  EXPECT_EQ(marks("shape | - | - | - %% |"), Marks{"12:25 percent-not-alone"});
  EXPECT_EQ(marks("1 | 0 : 2 3:5 |"), Marks{"12:18 tight-colon"});
  EXPECT_EQ(marks("1 | 0 : \u2014 |"), Marks{"12:15 long-dash"});
  EXPECT_EQ(marks("1 | 5\u2019 |"), Marks{"12:12 curly-quote"});
  EXPECT_EQ(marks("1 | 0 |\n1 | 2 |"), Marks{"13:7 lane-twice"});
  EXPECT_EQ(marks("say | \"open |"), Marks{"12:13 lane-quote-open"});
  EXPECT_EQ(marks("drum solo"), Marks{"12:7 not-a-lane"});
  EXPECT_EQ(marks("shape | - : % |"), Marks{"12:19 percent-not-alone"});
  EXPECT_EQ(marks("tempo | quater = 60 |"), Marks{"12:15 wrong-sign"});
}

TEST(Lanes, WhatIsNotUnderstoodStillCounts) {
  const Reading reading = read_text_of_song(song_with_lanes("1 | 0 : 5h : 3 |\nplam mute | on | - |"));
  ASSERT_EQ(stanzas_of(reading).size(), 1U);
  EXPECT_EQ(shown(stanzas_of(reading)[0].lanes.at(0)), "[fret 0]:[-]:[fret 3]|");
  EXPECT_EQ(stanzas_of(reading)[0].lanes.at(1).bars.size(), 2U);
}

TEST(Names, LongestWinsAndCrossingsAreTold) {
  NameBook book;
  for (const char* name : {"barre", "five", "barre five", "two", "finger roll", "two finger", "roll"}) book.add(name);
  using Runs = std::vector<NameRun>;
  EXPECT_EQ(book.read({"barre", "five"}).runs, (Runs{{0, 2, true}}));
  EXPECT_TRUE(book.read({"barre", "five"}).crossing.empty());
  const NameReading crossing = book.read({"two", "finger", "roll"});
  EXPECT_EQ(crossing.runs, (Runs{{0, 2, true}, {2, 1, true}}));
  EXPECT_EQ(crossing.crossing, (Runs{{0, 1, true}, {1, 2, true}}));
  EXPECT_EQ(book.read({"two", "five", "no", "such", "roll"}).runs,
            (Runs{{0, 1, true}, {1, 1, true}, {2, 2, false}, {4, 1, true}}));
}

TEST(Names, ShorterFirstNameIsTakenWhereTheLongestLeadsNowhere) {
  NameBook book;
  for (const char* name : {"a", "a b", "b c"}) book.add(name);
  EXPECT_EQ(book.read({"a", "b", "c"}).runs, (std::vector<NameRun>{{0, 1, true}, {1, 2, true}}));
}

}  // namespace
}  // namespace tunesheaf::song

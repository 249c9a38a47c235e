// Rules of the Timeline, one at a time, on songs of a few bars.
#include <gtest/gtest.h>

#include "score/support.h"

namespace tunesheaf::score {
namespace {

std::string guitar_song(const std::string& lanes, const std::string& more = {}, const std::string& meter = "4/4",
                        const std::string& heads = {}) {
  std::string text = "song: Quarry Lane\nmeter: " + meter + "\nparts:\n  guitar: {instrument: guitar}\n" + heads +
                     "sections:\n  verse:\n    guitar: |\n";
  std::size_t begin = 0;
  while (begin < lanes.size()) {
    const std::size_t end = std::min(lanes.find('\n', begin), lanes.size());
    text += "      " + lanes.substr(begin, end - begin) + "\n";
    begin = end + 1;
  }
  return text + more;
}

/// "onset+duration" of every event of the first section, rests in brackets.
std::string rhythm(const Timeline& t) {
  std::string out;
  for (const Event& e : t.events) {
    out += (out.empty() ? "" : " ") + std::to_string(e.at.bar + 1) + ":" + e.at.onset.text() + "+" + e.duration.text();
    if (e.kind == EventKind::Rest) out += "r";
  }
  return out;
}

std::string rhythm_of(const std::string& lanes, const std::string& meter = "4/4") {
  const Built built = build_text("song.yaml", guitar_song(lanes, {}, meter));
  return built.timeline ? rhythm(*built.timeline) : built.findings();
}

TEST(Remarks, OnePlaceKeepsAllThatAreNamedThere) {
  const Built built = build_text("song.yaml", guitar_song("1   | 0 : 2 : 3 : - |\nsee | a,b : - : - : b |",
                                                          "    remarks:\n      a: First.\n      b: Second.\n"));
  ASSERT_TRUE(built.timeline) << built.findings();
  const Section& section = built.timeline->sections[0];
  ASSERT_EQ(section.remarks.size(), 2U);
  std::vector<std::pair<std::string, std::vector<int>>> found;
  for (const PartMusic& music : section.parts)
    for (const Word& word : music.words)
      if (word.kind == WordKind::RemarkRef) found.emplace_back(word.text, word.remarks);
  const std::vector<std::pair<std::string, std::vector<int>>> expected{{"1,2", {0, 1}}, {"2", {1}}};
  EXPECT_EQ(found, expected);
}

TEST(Words, OfAPartWithoutNotesAreSaidForAll) {
  const Built built = build_text("song.yaml",
                                 "song: Quarry Lane\nmeter: 4/4\nparts:\n  guitar: {instrument: guitar}\n"
                                 "  voice: {instrument: voice}\nsections:\n  verse:\n    guitar: |\n"
                                 "      1 | 0 : 2 : 3 : - |\n    voice: |\n      lyric | Hang : it : high : - |\n"
                                 "      say | hummed |\n");
  ASSERT_TRUE(built.timeline) << built.findings();
  const Section& section = built.timeline->sections[0];
  EXPECT_TRUE(section.parts[1].words.empty());
  std::vector<std::pair<std::string, Fraction>> said;
  for (const Word& word : section.words) said.emplace_back(word.text, word.at.onset);
  const std::vector<std::pair<std::string, Fraction>> expected{
      {"Hang", 0}, {"hummed", 0}, {"it", Fraction(1, 4)}, {"high", Fraction(1, 2)}};
  EXPECT_EQ(said, expected);
}

TEST(Rhythm, CellsShareTheirBeat) {
  EXPECT_EQ(rhythm_of("1 | 0 : 2 3 : 0 2 3 : - |"), "1:0+1/4 1:1/4+1/8 1:3/8+1/8 1:1/2+1/12 1:7/12+1/12 1:2/3+1/3");
}

TEST(Rhythm, CellsWithoutColonsShareTheBar) {
  EXPECT_EQ(rhythm_of("1 | 0 2 | 0 - - 2 | 0 2 3 5 0 2 3 5 |"),
            "1:0+1/2 1:1/2+1/2 2:0+3/4 2:3/4+1/4 3:0+1/8 3:1/8+1/8 3:1/4+1/8 3:3/8+1/8 3:1/2+1/8 3:5/8+1/8 3:3/4+1/8 "
            "3:7/8+1/8");
  EXPECT_EQ(rhythm_of("1 | 0 2 3 5 3 2 | 0 3 |", "6/8"),
            "1:0+1/8 1:1/8+1/8 1:1/4+1/8 1:3/8+1/8 1:1/2+1/8 1:5/8+1/8 2:0+3/8 2:3/8+3/8");
  EXPECT_EQ(rhythm_of("1 | 0 2 3 | 0 2 3 5 3 2 0 |", "7/8 (2+2+3)"),
            "1:0+1/4 1:1/4+1/4 1:1/2+3/8 2:0+1/8 2:1/8+1/8 2:1/4+1/8 2:3/8+1/8 2:1/2+1/8 2:5/8+1/8 2:3/4+1/8");
}

TEST(Rhythm, SilenceEndsANote) {
  EXPECT_EQ(rhythm_of("1 | 0 : . : - : 2 |"), "1:0+1/4 1:1/4+1/2r 1:3/4+1/4");
}

TEST(Rhythm, SilenceOnOneStringLeavesTheOther) {
  const Built built = build_text("song.yaml", guitar_song("1 | 0 : - : . : - |\n2 | 0 : - : - : - |"));
  ASSERT_TRUE(built.timeline) << built.findings();
  EXPECT_EQ(rhythm(*built.timeline), "1:0+1");
  EXPECT_EQ(built.timeline->events[0].notes[0].sounding_duration, Fraction(1, 2));
  EXPECT_EQ(built.timeline->events[0].notes[1].sounding_duration, Fraction(1));
}

TEST(Rhythm, StringsAtOneOnsetAreOneEvent) {
  const Built built = build_text("song.yaml", guitar_song("1 | 0 : 2 : - : - |\n2 | 1 : - : - : - |"));
  ASSERT_TRUE(built.timeline) << built.findings();
  ASSERT_EQ(built.timeline->events.size(), 2u);
  EXPECT_EQ(built.timeline->events[0].notes.size(), 2u);
  EXPECT_EQ(built.timeline->events[0].duration, Fraction(1, 4));
}

TEST(Rhythm, AStanzaGoesOnFromTheOneBefore) {
  EXPECT_EQ(rhythm_of("1 | 0 |\n\n1 | 2 |\n\n2 | 3 |"), "1:0+1 2:0+1 3:0+1");
}

TEST(Rhythm, PercentRepeatsTheBarBefore) {
  EXPECT_EQ(rhythm_of("1 | 0 : 2 : - : - | % | % |"), "1:0+1/4 1:1/4+3/4 2:0+1/4 2:1/4+3/4 3:0+1/4 3:1/4+3/4");
}

TEST(Rhythm, TwoPercentsRepeatTheBarTwoBefore) {
  EXPECT_EQ(rhythm_of("1 | 0 | 0 : 2 : - : - | %% | %% | % |"),
            "1:0+1 2:0+1/4 2:1/4+3/4 3:0+1 4:0+1/4 4:1/4+3/4 5:0+1/4 5:1/4+3/4");
}

TEST(Rhythm, ThreeOverTwo) {
  EXPECT_EQ(rhythm_of("1 | 0 2 3 : - : - : - |\n2 | 1 3 : - : - : - |"), "1:0+1/12 1:1/12+1/24 1:1/8+1/24 1:1/6+5/6");
}

TEST(Voices, TheThumbIsTheLowerOne) {
  const Built built = build_text("song.yaml", guitar_song("1 | - : 0 : 2 : 3 |\nthumb 6 | 0 : - : 0 : - |"));
  ASSERT_TRUE(built.timeline) << built.findings();
  const auto& voices = built.timeline->sections[0].parts[0].voices;
  ASSERT_EQ(voices.size(), 2u);
  EXPECT_EQ(voices[0].number, 1);
  EXPECT_EQ(voices[1].number, 2);
  EXPECT_EQ(voices[1].bars[0].size(), 2u);
}

TEST(Voices, AThumbAloneIsTheOnlyVoice) {
  const Built built = build_text("song.yaml", guitar_song("thumb 6 | 0 : - : 0 : - |"));
  ASSERT_TRUE(built.timeline) << built.findings();
  ASSERT_EQ(built.timeline->sections[0].parts[0].voices.size(), 1u);
  EXPECT_EQ(built.timeline->sections[0].parts[0].voices[0].number, 1);
}

TEST(Rings, UntilTheStringIsStruckOrTheShapeNeedsIt) {
  const std::string heads =
      "shapes:\n  a: {frets: x 0 2 2 2 0}\n  d: {frets: x x 0 2 3 2}\npatterns:\n  roll: |\n    4 | i : - : - : - |\n"
      "    2 | - : m : - : - |\n    1 | - : - : a : - |\n";
  const Built built =
      build_text("song.yaml", guitar_song("shape   | a | d |\npattern | roll | roll |", {}, "4/4", heads));
  ASSERT_TRUE(built.timeline) << built.findings();
  const auto& events = built.timeline->events;
  ASSERT_EQ(events.size(), 6u);
  EXPECT_EQ(events[0].notes[0].sounding_duration, Fraction(1));     // fret 2 gives way to the open string
  EXPECT_EQ(events[1].notes[0].sounding_duration, Fraction(3, 4));  // fret 2 gives way to fret 3
  EXPECT_EQ(events[2].notes[0].sounding_duration, Fraction(1, 2));  // the open string is stopped at 2
  EXPECT_EQ(events[2].duration, Fraction(1, 2));
}

TEST(Thumb, WalksOverTheShapesStringsAndBeginsAgainWithEachShape) {
  const std::string heads =
      "shapes:\n  c: {frets: x 3 2 0 1 0, thumb: 5 4}\n  g: {frets: 3 2 0 0 0 3}\npatterns:\n  walk: |\n"
      "    thumb | p : p : p : - |\n";
  const Built built = build_text("song.yaml", guitar_song("shape   | c | g |\npattern | walk | - |", {}, "4/4", heads));
  ASSERT_TRUE(built.timeline) << built.findings();
  std::vector<int> strings;
  for (const Event& e : built.timeline->events) strings.push_back(e.notes[0].string);
  EXPECT_EQ(strings, (std::vector<int>{5, 4, 5, 6, 6, 6}));
}

TEST(Patterns, APatternOfTwoBarsGoesRound) {
  const std::string heads =
      "shapes:\n  c: {frets: x 3 2 0 1 0}\npatterns:\n  two: |\n    strum | D : - : - : - | U : - : - : - |\n";
  const Built built =
      build_text("song.yaml", guitar_song("shape   | c | - | - |\npattern | two | - | - |", {}, "4/4", heads));
  ASSERT_TRUE(built.timeline) << built.findings();
  std::string strokes;
  for (const Event& e : built.timeline->events) strokes += e.stroke == song::StrokeDirection::Up ? 'U' : 'D';
  EXPECT_EQ(strokes, "DUD");
  EXPECT_TRUE(built.timeline->sections[0].parts[0].strummed);
}

TEST(Patterns, WhatIsWrittenOutTakesThePlaceOfThePattern) {
  const std::string heads = "shapes:\n  c: {frets: x 3 2 0 1 0}\npatterns:\n  one: |\n    strum | D : D : D : D |\n";
  const Built built = build_text(
      "song.yaml", guitar_song("shape   | c | - | - |\npattern | one | - | - |\n1 | - | 0 | - |", {}, "4/4", heads));
  ASSERT_TRUE(built.timeline) << built.findings();
  std::vector<int> bars;
  for (const Event& e : built.timeline->events) bars.push_back(e.at.bar);
  EXPECT_EQ(bars, (std::vector<int>{0, 0, 0, 0, 1, 2, 2, 2, 2})) << rhythm(*built.timeline);
}

TEST(Shapes, OneThatIsHeldWithoutAPatternIsStruckOnce) {
  const Built built =
      build_text("song.yaml", guitar_song("shape | c | - |", {}, "4/4", "shapes:\n  c: {frets: x 3 2 0 1 0}\n"));
  ASSERT_TRUE(built.timeline) << built.findings();
  ASSERT_EQ(built.timeline->events.size(), 1u);
  EXPECT_EQ(built.timeline->events[0].kind, EventKind::Slash);
  EXPECT_EQ(built.timeline->events[0].duration, Fraction(2));
  EXPECT_EQ(built.timeline->events[0].notes.size(), 5u);
}

struct FormCase {
  const char* form;
  const char* played;
};
void PrintTo(const FormCase& c, std::ostream* out) {
  *out << c.form;
}
class Form : public testing::TestWithParam<FormCase> {};

TEST_P(Form, IsUnrolled) {
  std::string text = "song: Quarry Lane\nmeter: 4/4\nparts:\n  guitar: {instrument: guitar}\nsections:\n";
  for (const char* name : {"a", "b", "c"}) text += std::string("  ") + name + ":\n    guitar: |\n      1 | 0 |\n";
  text +=
      "  r:\n    times: 2\n    guitar: |\n      1 | 2 |\n    endings:\n      1: {guitar: \"1 | 3 |\"}\n      2: "
      "{guitar: \"1 | 5 |\"}\n";
  const Built built = build_text("song.yaml", text + "form: [" + GetParam().form + "]\n");
  ASSERT_TRUE(built.timeline) << built.findings();
  std::string played;
  for (const PlayedBar& bar : built.timeline->played) {
    played += built.timeline->sections[static_cast<std::size_t>(bar.section)].name.value;
    if (bar.bar > 0) played += std::to_string(bar.bar);
  }
  EXPECT_EQ(played, GetParam().played);
}

INSTANTIATE_TEST_SUITE_P(Cases, Form,
                         testing::Values(FormCase{"a, b, c", "abc"}, FormCase{"a, a, b", "aab"},
                                         FormCase{"r, a", "rr1rr2a"}, FormCase{"a, segno, b, D.S.", "abb"},
                                         FormCase{"a, b, D.C.", "abab"}, FormCase{"a, fine, b, D.C. al fine", "aba"},
                                         FormCase{"a, segno, b, fine, c, D.S. al fine", "abcb"},
                                         FormCase{"a, segno, b, to coda, c, D.S. al coda, coda, a", "abcba"},
                                         FormCase{"a, to coda, b, D.C. al coda, coda, c", "abac"},
                                         FormCase{"r, a, D.C.", "rr1rr2arr2a"}, FormCase{"a, D.C., r", "aarr1rr2"},
                                         FormCase{"a, b, fade", "ab"}));

TEST(PickUp, OverlaysTheEndOfTheBarBefore) {
  const Built built = build_text("song.yaml", guitar_song("1 | 0 | 2 |", "    pick-up: 1 beat\n    times: 2\n"));
  ASSERT_TRUE(built.timeline) << built.findings();
  const auto& played = built.timeline->played;
  ASSERT_EQ(played.size(), 4u);
  EXPECT_EQ(played[0].start, Fraction(0));
  EXPECT_EQ(played[1].start, Fraction(1, 4));
  EXPECT_EQ(played[2].start, Fraction(1));  // sounds under the last beat of the bar before
  EXPECT_EQ(played[3].start, Fraction(5, 4));
  EXPECT_EQ(played[0].number, 0);
  EXPECT_EQ(played[2].number, 1);
  EXPECT_EQ(played[3].number, 2);
}

TEST(PickUp, OfTheSongOpensItsFirstSection) {
  const Built built = build_text(
      "song.yaml",
      guitar_song("1 | 0 | 2 |", "  b:\n    guitar: |\n      1 | 3 |\nform: [b, verse]\n", "4/4", "pick-up: 1/8\n"));
  ASSERT_TRUE(built.timeline) << built.findings();
  EXPECT_TRUE(built.timeline->sections[0].bars[0].pick_up);
  EXPECT_EQ(built.timeline->sections[0].bars[0].length, Fraction(1, 8));
  EXPECT_FALSE(built.timeline->sections[1].bars[0].pick_up);
}

TEST(Letters, StatedOnesAreNotGivenAgain) {
  const Built built =
      build_text("song.yaml", guitar_song("1 | 0 |", "  b:\n    letter: A\n    guitar: |\n      1 | 3 |\n"));
  ASSERT_TRUE(built.timeline) << built.findings();
  EXPECT_EQ(built.timeline->sections[0].letter, "B");
  EXPECT_EQ(built.timeline->sections[1].letter, "A");
}

TEST(Seconds, FollowTempoMeterAndChanges) {
  const Built built =
      build_text("song.yaml", guitar_song("1 | 0 | 2 | 3 |\ntempo | - | 60 | a tempo |", {}, "6/8", "tempo: 120\n"));
  ASSERT_TRUE(built.timeline) << built.findings();
  const auto& played = built.timeline->played;
  EXPECT_DOUBLE_EQ(played[1].seconds, 1.0);  // two dotted quarters at 120 a minute
  EXPECT_DOUBLE_EQ(played[2].seconds, 3.0);
  EXPECT_DOUBLE_EQ(built.timeline->seconds, 4.0);
}

TEST(Letters, SectionsAlikeShareTheirs) {
  const Built built = build_text("song.yaml", guitar_song("1 | 0 |",
                                                          "  bridge:\n    guitar: |\n      1 | 2 |\n"
                                                          "  again:\n    like: verse\n"
                                                          "  changed:\n    like: verse\n    guitar: |\n      1 | 5 |\n"
                                                          "  named:\n    letter: Q\n    like: bridge\n"));
  ASSERT_TRUE(built.timeline) << built.findings();
  std::string letters;
  for (const Section& s : built.timeline->sections) letters += s.letter + " ";
  EXPECT_EQ(letters, "A B A A\u2032 Q ");
}

TEST(Spelling, WithoutAKeyIsPlain) {
  const Built built = build_text("song.yaml", guitar_song("1 | 2 : 4 : 6 : - |"));
  ASSERT_TRUE(built.timeline) << built.findings();
  std::string pitches;
  for (const Event& e : built.timeline->events) pitches += theory::print(e.notes[0].written) + " ";
  EXPECT_EQ(pitches, "F#4 Ab4 Bb4 ");
  EXPECT_FALSE(built.timeline->key);
}

TEST(Push, IsAnOnsetOffTheBeatHeldOverIt) {
  const Built built = build_text("song.yaml",
                                 "song: Quarry Lane\nmeter: 4/4\nparts:\n  guitar: {instrument: guitar}\nsections:\n"
                                 "  verse:\n    chart: |\n      chords | G : - : - : - C | - : Am Bm : D : - |\n"
                                 "    guitar: |\n      1 | 0 | 0 |\n");
  ASSERT_TRUE(built.timeline) << built.findings();
  std::string pushed;
  for (const Harmony& h : built.timeline->sections[0].harmony) pushed += h.stated + (h.push ? "! " : " ");
  EXPECT_EQ(pushed, "G C! Am Bm D ");
}

/// The beginnings of attacks, "!" behind a push, "." behind a stop.
std::string off_beat(const std::string& lanes, const std::string& meter = "4/4") {
  const Built built = build_text("song.yaml", guitar_song(lanes, {}, meter));
  if (!built.timeline) return built.findings();
  std::string out;
  for (const Event& e : built.timeline->events)
    if (e.kind != EventKind::Rest)
      out += (out.empty() ? "" : " ") + std::to_string(e.at.bar + 1) + ":" + e.at.onset.text() + (e.push ? "!" : "") +
             (e.stop ? "." : "");
  return out;
}

TEST(Push, OfANoteIsHeldOverTheNextBeat) {
  EXPECT_EQ(off_beat("1 | 0 2 : - : 3 5 : 7 8 |"), "1:0 1:1/8! 1:1/2 1:5/8 1:3/4 1:7/8");
  EXPECT_EQ(off_beat("1 | 0 : - : - : - 3 | - : 5 : - : - |"), "1:0 1:7/8! 2:1/4");
  EXPECT_EQ(off_beat("1 | 0 : - : - : - 3 | 5 : - : - : - |"), "1:0 1:7/8 2:0");
  EXPECT_EQ(off_beat("1 | 0 - : - 3 |", "6/8"), "1:0 1:9/16") << "a beat of 6/8 is three eighths";
}

TEST(Stop, IsAnAttackThatFallsSilentWithinItsBeat) {
  EXPECT_EQ(off_beat("1 | 0 . : 2 : . : - 3 |"), "1:0. 1:1/4 1:7/8");
  EXPECT_EQ(off_beat("1 | 0 3 - . : 2 : - : . |"), "1:0 1:1/16. 1:1/4");
  EXPECT_EQ(off_beat("1 | 0 - . - : 2 : - : 3 - - . |"), "1:0. 1:1/4 1:3/4.");
  EXPECT_EQ(off_beat("strum | x . : - : - : - |"), "1:0.");
}

TEST(Push, AndStopOfDrumsAreNotSaid) {
  const Built built = build_text("song.yaml",
                                 "song: Quarry Lane\nmeter: 4/4\nparts:\n  drums: {instrument: drum kit}\nsections:\n"
                                 "  verse:\n    drums: |\n      snare | x . : - x/// : - : x . |\n");
  ASSERT_TRUE(built.timeline) << built.findings();
  for (const Event& e : built.timeline->events) EXPECT_FALSE(e.push || e.stop) << e.at.onset.text();
}

TEST(Hits, KnowPushesAndStops) {
  const Built built = build_text("song.yaml",
                                 "song: Quarry Lane\nmeter: 4/4\nsections:\n  verse:\n    chart: |\n"
                                 "      chords | G | G | G |\n"
                                 "      hits | x . : - x : - : - x | - : x : x - . - : x x | x : - : - : - |\n");
  ASSERT_TRUE(built.timeline) << built.findings();
  std::string hits;
  for (std::size_t b = 0; b < 3; ++b)
    for (const Hit& hit : built.timeline->sections[0].hits[b])
      hits += std::to_string(b + 1) + ":" + hit.onset.text() + (hit.push ? "!" : "") + (hit.stop ? "." : "") + " ";
  EXPECT_EQ(hits, "1:0. 1:3/8! 1:7/8! 2:1/4 2:1/2. 2:3/4 2:7/8 3:0 ");
}

TEST(Bends, OneMadeAnewEndsWhatWasSpreadOverTheNote) {
  const Built built = build_text("song.yaml", guitar_song("5 | 6b9r6 b8 : - : - : - |"));
  ASSERT_TRUE(built.timeline) << built.findings();
  std::string moves;
  for (const BendPoint& point : built.timeline->events.at(0).notes.at(0).more->bend)
    moves += point.at.text() + "=" + point.semitones.text() + " ";
  EXPECT_EQ(moves, "0=0 1/24=3 1/12=0 1/8=0 3/16=2 1=2 ");
}

TEST(Speed, IsLinearInBars) {
  // Exact counts stand for time: ten times the bars give ten times the events and played bars.
  const auto events = [](int bars) {
    std::string lane = "1 |";
    for (int i = 0; i < bars; ++i) lane += " 0 2 : 3 : - : 5 |";
    const Built built = build_text("song.yaml", guitar_song(lane));
    return built.timeline ? built.timeline->events.size() : 0;
  };
  EXPECT_EQ(events(10), 40u);
  EXPECT_EQ(events(1000), 4000u);
}

}  // namespace
}  // namespace tunesheaf::score

// What a chart says: chords bar by bar, who starts and rests, the form as played; folding without losing a bar; names
// for every player.
#include "tunesheaf/blocks/chart.h"

#include <gtest/gtest.h>

#include <algorithm>

#include "blocks/bench_setting.h"
#include "tunesheaf/blocks/chart_page.h"

namespace tunesheaf::blocks {
namespace {

using base::Length;
using testing::Bench;
using testing::count_kind;
using testing::text_of;

theory::ChordName chord(const std::string& text) {
  return theory::parse_chord(text).value();
}
theory::Key key(const std::string& text) {
  return theory::parse_key(text).value();
}

/// A section of bars with one chord each; "A B" are two chords in a bar, "" goes on.
score::Section section(const std::string& name, const std::string& letter, const std::vector<std::string>& bars) {
  score::Section out;
  out.name = testing::words(name);
  out.letter = letter;
  for (std::size_t b = 0; b < bars.size(); ++b) {
    score::Bar bar;
    bar.meter = theory::parse_meter("4/4").value();
    bar.length = 1;
    bar.key = key("C major");
    bar.number = static_cast<int>(b) + 1;
    out.bars.push_back(bar);
    std::size_t begin = 0;
    base::Fraction at;
    while (begin < bars[b].size()) {
      const std::size_t end = std::min(bars[b].find(' ', begin), bars[b].size());
      score::Harmony harmony;
      harmony.at = {static_cast<int>(b), at};
      harmony.stated = bars[b].substr(begin, end - begin);
      if (harmony.stated == "N.C.") {
        harmony.none = true;
      } else {
        harmony.name = chord(harmony.stated);
      }
      out.harmony.push_back(harmony);
      begin = end + 1;
      at = at + base::Fraction(1, 2);
    }
  }
  return out;
}

/// Sections in the order of playing, each once.
score::Timeline song_of(std::vector<score::Section> sections) {
  score::Timeline song;
  song.title = testing::words("Tin Kettle");
  song.key = key("C major");
  song.meter = theory::parse_meter("4/4").value();
  song.sections = std::move(sections);
  for (std::size_t s = 0; s < song.sections.size(); ++s) {
    score::FormStep step;
    step.section = static_cast<int>(s);
    song.form.push_back(step);
    for (std::size_t b = 0; b < song.sections[s].bars.size(); ++b) {
      score::PlayedBar played;
      played.section = played.step = static_cast<int>(s);
      played.bar = static_cast<int>(b);
      song.played.push_back(played);
    }
  }
  return song;
}

ChartContent content_of(const score::Timeline& song, ChartNames names = ChartNames::Hand) {
  return chart_content(song, page_player(song), names);
}

std::string name_text(const std::string& text, const ChartPlayer& player, ChartNames names, const std::string& in) {
  return chart_name(chord(text), player, names, key(in)).text();
}

TEST(ChartNamesTest, ArePartedIntoWhatStandsWhere) {
  const ChartPlayer page;
  const auto parts = [&](const std::string& text) {
    const ChartName name = chart_name(chord(text), page, ChartNames::Hand, key("C major"));
    return name.root + "|" + name.quality + "|" + name.raised + "|" + name.bass;
  };
  EXPECT_EQ(parts("C"), "C|||");
  EXPECT_EQ(parts("F#m7"), "F♯|m|7|");
  EXPECT_EQ(parts("Bbmaj7/D"), "B♭||maj7|/D");
  EXPECT_EQ(parts("Gdim7"), "G|dim|7|");
  EXPECT_EQ(parts("A7(b9)"), "A||7♭9|");
  EXPECT_EQ(parts("C6/9"), "C||6/9|");
  EXPECT_EQ(parts("Dsus4"), "D||sus4|");
}

TEST(ChartNamesTest, CountDegreesAndNumeralsFromTheKey) {
  const ChartPlayer page;
  EXPECT_EQ(name_text("Am7", page, ChartNames::Degrees, "G major"), "2m7");
  EXPECT_EQ(name_text("C/G", page, ChartNames::Degrees, "G major"), "4/1");
  EXPECT_EQ(name_text("Bb", page, ChartNames::Degrees, "G major"), "♭3");
  EXPECT_EQ(name_text("Am7", page, ChartNames::Roman, "G major"), "ii7");
  EXPECT_EQ(name_text("C/G", page, ChartNames::Roman, "G major").substr(0, 2), "IV");
  // A transposing player reads the same numbers.
  ChartPlayer other;
  other.up = 2;
  EXPECT_EQ(name_text("Am7", other, ChartNames::Degrees, "G major"), "2m7");
}

TEST(ChartNamesTest, AreSpelledByTheKeyTheyGoTo) {
  ChartPlayer up;
  up.up = 9;
  EXPECT_EQ(name_text("Eb", up, ChartNames::Hand, "Eb major"), "C");
  EXPECT_EQ(name_text("Abm", up, ChartNames::Hand, "Eb major"), "Fm");
  up.up = 2;
  EXPECT_EQ(name_text("F#dim7", up, ChartNames::Hand, "G major"), "G♯dim7");
  EXPECT_EQ(name_text("Bb7", up, ChartNames::Hand, "Eb major"), "C7");
  up.up = 1;
  EXPECT_EQ(name_text("B7", up, ChartNames::Hand, "E minor"), "C7");
}

TEST(ChartPlayers, AreReadAsPeopleSayThem) {
  const Bench bench;  // an open tuning with a capo at fret 2
  const auto player = [&](const std::string& text) {
    const auto read = read_chart_player(text, bench.song);
    EXPECT_TRUE(read) << text << ": " << (read ? "" : read.error().sentence);
    return read ? *read : ChartPlayer{};
  };
  EXPECT_EQ(player("B flat").up, 4) << "the capo's two, and two more";
  EXPECT_EQ(player("b flat instruments").words, "B♭ instruments");
  EXPECT_EQ(player("Eb").up, 11);
  EXPECT_EQ(player("concert").up, 2);
  EXPECT_EQ(player("trumpet").up, 4);
  EXPECT_EQ(player("capo 3").sounds, 3);
  EXPECT_TRUE(player("ukulele").instead.has_value());
  EXPECT_EQ(player("guitar").own_part, 0);
  for (const score::Recording& recording : bench.song.recordings) {
    const ChartPlayer along = player(recording.name.value);
    EXPECT_EQ((along.up + along.sounds - 2 - along.offset) % 12, 0) << recording.name.value;
  }
}

TEST(ChartPlayers, AnUnknownOneHearsOfTheNearest) {
  const Bench bench;
  const auto fault = [&](const std::string& text) {
    const auto read = read_chart_player(text, bench.song);
    EXPECT_FALSE(read) << text;
    return read ? std::string() : read.error().sentence;
  };
  EXPECT_NE(fault("B flatt").find("the nearest is \"B flat\""), std::string::npos);
  EXPECT_NE(fault("ukelele-").find("ukulele"), std::string::npos);
  EXPECT_NE(fault("capo 40").find("fret"), std::string::npos);
}

TEST(ChartContentTest, HoldsChordsOverBarsAndKnowsEqualOnes) {
  const auto song = song_of({section("verse", "A", {"C", "", "F G", "", "N.C."})});
  const ChartContent chart = content_of(song);
  const auto& bars = chart.sections[0].bars;
  ASSERT_EQ(bars.size(), 5U);
  EXPECT_EQ(bars[1].chords.size(), 1U);
  EXPECT_EQ(bars[1].chords[0].name.text(), "C");
  EXPECT_TRUE(bars[1].as_before);
  EXPECT_TRUE(bars[2].shows_beats());
  EXPECT_EQ(bars[3].chords[0].name.text(), "G") << "what is held into the bar";
  EXPECT_FALSE(bars[3].as_before);
  EXPECT_EQ(bars[4].chords[0].name.text(), "N.C.");
}

TEST(ChartContentTest, ABarAfterACueIsStillTheSame) {
  score::Section verse = section("verse", "A", {"C", ""});
  score::Word word;
  word.kind = score::WordKind::Say;
  word.text = "all in";
  verse.words.push_back(word);
  const ChartContent chart = content_of(song_of({verse}));
  EXPECT_EQ(chart.sections[0].bars[0].cues.size(), 1U);
  EXPECT_TRUE(chart.sections[0].bars[1].as_before);
}

TEST(ChartContentTest, TellsWhoStartsAndWhoRests) {
  const Bench bench;
  const ChartContent chart = content_of(bench.song);
  EXPECT_EQ(chart.count_in, "1 2 3");
  EXPECT_FALSE(chart.starts.empty());
  EXPECT_FALSE(chart.counts.empty());
  ASSERT_FALSE(chart.form.empty());
  EXPECT_EQ(chart.form.front().letter, "A");
}

int bars_told(const ChartContent& chart) {
  int out = 0;
  for (const ChartSection& one : chart.sections) {
    int bars = one.bar_count() * one.rounds;
    if (!one.same_as.empty()) {
      const auto same = std::find_if(chart.sections.begin(), chart.sections.end(),
                                     [&](const ChartSection& other) { return other.letter == one.same_as; });
      bars = same->bar_count() * same->rounds;
    }
    out += bars;
  }
  return out;
}

TEST(ChartFolding, GoesInItsOrderAndLosesNoBar) {
  const std::vector<std::string> verse{"C", "Am", "F", "G", "C", "Am", "F", "G"};
  const auto song = song_of({section("verse", "A", verse), section("chorus", "B", {"F", "", "", "", "G", "", "C", ""}),
                             section("verse again", "C", verse)});
  const ChartContent chart = content_of(song);
  const auto folded = [&](ChartFold fold) { return folded_chart(chart, fold); };
  EXPECT_TRUE(folded(ChartFold::Nothing).told.empty());
  EXPECT_EQ(folded(ChartFold::Nothing).content.cells(), 24);
  const FoldedChart rounds = folded(ChartFold::Rounds);
  EXPECT_EQ(rounds.content.sections[0].rounds, 2);
  EXPECT_EQ(rounds.content.cells(), 4 + 8 + 4);
  const FoldedChart sections = folded(ChartFold::Sections);
  EXPECT_EQ(sections.content.sections[2].same_as, "A");
  EXPECT_EQ(sections.content.cells(), 4 + 8);
  const FoldedChart bars = folded(ChartFold::Bars);
  EXPECT_EQ(bars.content.cells(), 4 + 3);
  EXPECT_EQ(bars.content.sections[1].bars[0].count, 4);
  EXPECT_EQ(bars.told.size(), 3U) << "each fold says what it did";
  for (int level = 0; level < kChartFolds; ++level) {
    EXPECT_EQ(bars_told(folded(static_cast<ChartFold>(level)).content), 24) << level;
  }
}

/// Every bar line of a chart stands on the grid of eight columns.
TEST(ChartPage, BarLinesStandOnOneGrid) {
  auto song = song_of({section("verse", "A", {"C", "Am", "F", "G"}),
                       section("bridge", "B", {"C", "Am", "F", "G", "C", "Am", "F", "G", "C"})});
  Bench bench(song);
  const Setting setting = bench.setting();
  ChartContent chart = content_of(bench.song);
  measure_chart(setting, chart);
  const ChartSize size{Length::pt(500), Length::pt(18), Length::pt(9), 8};
  const Length label = chart_label_width(bench.style, size.width);
  int lines = 0;
  for (const ChartSection& one : chart.sections) {
    const auto rows = chart_rows(setting, one, size);
    ASSERT_TRUE(rows);
    const auto frame = draw_chart_section(setting, one, *rows, size, Length::pt(4));
    const auto ink = layout::ink_of(*frame);
    EXPECT_LE(ink->right(), size.width + Length::pt(0.1));
    testing::each_item(*frame, {}, [&](const layout::Item& item, base::Point at) {
      if (item.kind != layout::Kind("chart-bar-line")) return;
      const double column = (at.x - label) / ((size.width - label) * 0.125);
      EXPECT_NEAR(column, std::round(column), 0.05);
      ++lines;
    });
  }
  EXPECT_GE(lines, 5 + 9);
}

TEST(ChartPage, SectionsShareOneNumberOfBarsALine) {
  Bench bench(song_of({section("verse", "A", {"C", "Am", "F", "G"}),
                       section("bridge", "B", {"C", "Am", "F", "G", "C", "Am", "F", "G"})}));
  const Setting setting = bench.setting();
  ChartContent chart = content_of(bench.song);
  measure_chart(setting, chart);
  for (const int columns : {4, 8}) {
    const ChartSize size{Length::pt(500), Length::pt(14), Length::pt(14), columns};
    for (const ChartSection& one : chart.sections) {
      const auto rows = chart_rows(setting, one, size);
      ASSERT_TRUE(rows);
      EXPECT_EQ(rows->columns, columns) << one.name;
      EXPECT_EQ(rows->lines.front().cells.front().span, kChartGrid / columns);
    }
  }
  const ChartSize mixed{Length::pt(500), Length::pt(14), Length::pt(14), 4, true};
  EXPECT_EQ(chart_rows(setting, chart.sections[0], mixed)->columns, 4) << "eight would save it no line";
  EXPECT_EQ(chart_rows(setting, chart.sections[1], mixed)->columns, 8);
}

std::string foot_of(const std::string& meter) {
  score::Section verse = section("verse", "A", {"C Am", "G"});
  for (score::Bar& bar : verse.bars) {
    bar.meter = theory::parse_meter(meter).value();
    bar.length = bar.meter.bar_length();
  }
  verse.harmony[1].at.onset = verse.bars[0].meter.beats()[1].onset;
  score::Timeline song = song_of({verse});
  song.meter = verse.bars[0].meter;
  Bench bench(song);
  const FoldedChart folded = folded_chart(content_of(bench.song), ChartFold::Nothing);
  const auto foot = chart_foot(bench.setting(), folded, Length::pt(500));
  std::string text = foot ? text_of(*foot) : "";
  while (!text.empty() && text.back() == ' ') text.pop_back();
  return text;
}

TEST(ChartPage, TheFootSaysWhatASlashIsWorthWhereItIsNoQuarter) {
  EXPECT_EQ(foot_of("4/4"), "");
  EXPECT_EQ(foot_of("2/2"), "A slash is a half note.");
  EXPECT_EQ(foot_of("6/8"), "A slash is a dotted quarter note.");
  EXPECT_EQ(foot_of("7/8 (2+2+3)"), "The slashes are 2+2+3 eighths.");
}

score::Section with_endings(const std::vector<std::string>& bars) {
  score::Section air = section("air", "A", bars);
  air.times = 2;
  air.bars[7].ending = {1};
  air.bars[8].ending = {2};
  for (const std::size_t b : {7U, 8U}) air.bars[b].ending_begin = air.bars[b].ending_end = true;
  return air;
}

TEST(ChartPage, ASecondEndingStandsBesideTheFirstWhereBothFitElseUnderIt) {
  const auto rows_of = [](const std::vector<std::string>& bars) {
    Bench bench(song_of({with_endings(bars)}));
    const Setting setting = bench.setting();
    ChartContent chart = content_of(bench.song);
    measure_chart(setting, chart);
    return chart_rows(setting, chart.sections[0], {Length::pt(500), Length::pt(26), Length::pt(26), 4}).value();
  };
  const ChartRows beside = rows_of({"C", "Am", "F", "G", "C", "Am", "F", "C", "G"});
  ASSERT_EQ(beside.lines.size(), 2U);
  ASSERT_EQ(beside.lines[1].cells.size(), 5U);
  EXPECT_EQ(beside.lines[1].cells[3].span, 1);
  EXPECT_EQ(beside.lines[1].cells[4].span, 1);
  EXPECT_EQ(beside.lines[1].cells[4].column, 7) << "the line ends at the grid's last column";
  const ChartRows under = rows_of({"C", "Am", "F", "G", "Dm7b5", "Em7b5", "Am7b5", "Dm7b5", "Em7b5"});
  ASSERT_EQ(under.lines.size(), 3U);
  ASSERT_EQ(under.lines[2].cells.size(), 1U);
  EXPECT_EQ(under.lines[2].cells[0].column, under.lines[1].cells[3].column) << "under the first ending";
}

TEST(ChartPage, ACrowdedBarTakesWidthOfItsNeighboursAndKeepsItsSize) {
  Bench bench(song_of({section("verse", "A", {"C", "F#m7 Bm7", "G", "C"})}));
  const Setting setting = bench.setting();
  ChartContent chart = content_of(bench.song);
  measure_chart(setting, chart);
  const ChartSize size{Length::pt(500), Length::pt(26), Length::pt(26), 4};
  const auto rows = chart_rows(setting, chart.sections[0], size);
  ASSERT_TRUE(rows);
  ASSERT_EQ(rows->lines.size(), 1U);
  const auto& cells = rows->lines[0].cells;
  EXPECT_GT(cells[1].span, 2);
  EXPECT_EQ(cells[3].column + cells[3].span, kChartGrid);
}

TEST(ChartContentTest, AChangeOffTheBeatIsPrintedInItsRhythm) {
  score::Section verse = section("verse", "A", {"C", "C F", "C F"});
  for (score::Harmony& harmony : verse.harmony) {
    if (harmony.at.bar == 1 && harmony.at.onset != base::Fraction{}) harmony.at.onset = base::Fraction(3, 8);
  }
  const ChartContent chart = content_of(song_of({verse}));
  const auto& bars = chart.sections[0].bars;
  ASSERT_EQ(bars[1].hits.size(), 2U);
  EXPECT_EQ(bars[1].hits[0].duration, base::Fraction(3, 8));
  EXPECT_EQ(bars[1].hits[1].onset, base::Fraction(3, 8));
  EXPECT_TRUE(bars[2].hits.empty()) << "slashes show a change on the beat";
}

TEST(ChartContentTest, AChangeOfTempoAgainstWhatIsPlayedBeforeIsSaid) {
  auto song = song_of({section("verse", "A", {"C"}), section("bridge", "B", {"F"}), section("end", "C", {"G"})});
  song::TempoMark head;
  head.per_minute = 112;
  song.tempo = head;
  song::TempoMark slower = head;
  slower.words = "slower";
  slower.per_minute = 92;
  song.sections[1].tempo = slower;
  for (score::PlayedBar& bar : song.played) bar.rate = bar.section == 1 ? 23 : 28;
  const ChartContent chart = content_of(song);
  EXPECT_FALSE(chart.sections[0].change);
  ASSERT_TRUE(chart.sections[1].change);
  EXPECT_EQ(chart.sections[1].change->text, "slower");
  EXPECT_EQ(chart.sections[1].change->rate, "= 92");
  ASSERT_TRUE(chart.sections[2].change) << "back to the tempo of the head";
  EXPECT_EQ(chart.sections[2].change->rate, "= 112");
}

score::Word sung(int bar, base::Fraction onset, const std::string& text) {
  score::Word word;
  word.kind = score::WordKind::Lyric;
  word.at = {bar, onset};
  word.text = text;
  return word;
}

TEST(ChartContentTest, WordsAreCutWhereAPhraseEnds) {
  const auto cue = [](const std::vector<std::string>& words) {
    score::Section verse = section("verse", "A", {"C", "F", "G"});
    int at = 0;
    for (const std::string& word : words) {
      verse.words.push_back(sung(at / 8, base::Fraction(at % 8, 8), word));
      at += word == "sea" ? 4 : 1;
    }
    return content_of(song_of({verse})).sections[0].bars[0].cues.at(0).text;
  };
  EXPECT_EQ(cue({"Bring", "in", "the", "chairs,", "the", "wind", "is", "up"}), "“Bring in the chairs …”");
  EXPECT_EQ(cue({"py-", "lons", "to", "the", "sea", "nine", "more", "come"}), "“pylons to the sea …”") << "a long note";
  EXPECT_EQ(cue({"All", "done."}), "“All done.”");
}

TEST(ChartPage, ABarTooFullForItsColumnIsRefused) {
  Bench bench(song_of({section("verse", "A", {"C#m7b5 F#7(#9)"})}));
  const Setting setting = bench.setting();
  ChartContent chart = content_of(bench.song);
  measure_chart(setting, chart);
  EXPECT_FALSE(chart_rows(setting, chart.sections[0], {Length::pt(160), Length::pt(36), Length::pt(30), 8}));
  EXPECT_TRUE(chart_rows(setting, chart.sections[0], {Length::pt(500), Length::pt(16), Length::pt(9), 4}));
}

}  // namespace
}  // namespace tunesheaf::blocks

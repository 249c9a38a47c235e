// Charts with real fonts: one page for every demo song, player and paper; the same sound for every player; what does
// not fit or cannot be played is said.
#include "tunesheaf/sheet/chart.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <map>
#include <memory>
#include <random>
#include <set>

#include "audit_rules.h"
#include "press.h"
#include "runner.h"
#include "support/temp_dir.h"
#include "tunesheaf/app/pipeline.h"
#include "tunesheaf/paint/audit.h"
#include "tunesheaf/style/load.h"
#include "tunesheaf/text/pango_shaper.h"
#include "tunesheaf/theory/naming.h"

namespace tunesheaf::app {
namespace {

namespace fs = std::filesystem;
using blocks::ChartNames;
using blocks::ChartPlayer;
using support::holds;

const fs::path kSource = TUNESHEAF_SOURCE_DIR;

std::vector<std::string> demo_songs() {
  std::vector<std::string> songs;
  for (const auto& entry : fs::directory_iterator(kSource / "songs-demo")) {
    if (entry.path().extension() == ".yaml") songs.push_back(entry.path().string());
  }
  std::sort(songs.begin(), songs.end());
  return songs;
}

std::unique_ptr<Work> worked(const std::string& path) {
  auto work = std::make_unique<Work>();
  DiskFiles disk;
  if (read_text(*work, disk, path)) to_timeline(*work);
  return work;
}

std::unique_ptr<Work> worked_text(const std::string& text) {
  auto work = std::make_unique<Work>();
  work->file = work->files.add("song.yaml", text);
  to_timeline(*work);
  return work;
}

std::vector<std::string> players_of(const score::Timeline& song) {
  std::vector<std::string> players{"usual tuning", "capo 3",  "no capo",  "B flat",  "E flat", "F",
                                   "concert",      "ukulele", "mandolin", "trumpet", "open G", "a semitone down"};
  // A tuning is known for its own instrument alone.
  if (!blocks::read_chart_player("open G", song)) std::erase(players, "open G");
  for (const score::Recording& recording : song.recordings) players.push_back(recording.name.value);
  for (const score::Part& part : song.parts) players.push_back(part.name.value);
  return players;
}

unsigned turned(unsigned bits, int semitones) {
  const auto by = static_cast<unsigned>(((semitones % 12) + 12) % 12);
  return ((bits << by) | (bits >> (12U - by))) & 0xFFFU;
}

int page_capo(const score::Timeline& song) {
  for (const score::Part& part : song.parts) {
    if (part.instrument.family == theory::Family::Fretted) return part.capo;
  }
  return 0;
}

/// What a player reads, and where it sounds, is what the page has, where that sounds: on every chord.
void expect_same_sound(const score::Timeline& song, const ChartPlayer& player, const std::string& who) {
  int checked = 0;
  for (const score::Section& section : song.sections) {
    for (const score::Harmony* harmony : blocks::chords_of(section)) {
      if (!harmony->name || harmony->none) continue;
      const theory::Key key = section.bars[static_cast<std::size_t>(harmony->at.bar)].key;
      const unsigned song_bits = turned(theory::tone_bits(*harmony->name), page_capo(song) + player.offset);
      const auto read = blocks::chord_for(*harmony->name, player, ChartNames::Hand, key);
      EXPECT_EQ(turned(theory::tone_bits(read), player.sounds), song_bits) << who << " " << theory::print(read);
      const auto heard = blocks::chord_for(*harmony->name, player, ChartNames::Ear, key);
      EXPECT_EQ(theory::tone_bits(heard), song_bits) << who << " " << theory::print(heard);
      EXPECT_EQ(read.kind, harmony->name->kind);
      EXPECT_LE(std::abs(read.root.alter), 1) << who << " " << theory::print(read);
      ++checked;
    }
  }
  EXPECT_GT(checked, 3) << who;
}

/// Every shape at the foot sounds the chord it stands for.
void expect_shapes_sound(const score::Timeline& song, const ChartPlayer& player, const std::string& who) {
  if (!player.instead) return;
  const blocks::Instead& instead = *player.instead;
  for (const blocks::InsteadChord& chord : instead.chords) {
    if (!chord.shape) continue;
    const auto named = theory::parse_chord(theory::print(chord.fingered)).value();
    const auto page = turned(theory::tone_bits(named), instead.capo() - page_capo(song) - player.offset);
    for (const int key : theory::sounding_midi(instead.wish.tuning, {}, chord.shape->shape)) {
      const unsigned bit =
          turned(1U << static_cast<unsigned>(key % 12), instead.capo() - page_capo(song) - player.offset);
      EXPECT_NE(page & bit, 0U) << who << " " << chord.page_name;
    }
  }
}

TEST(ChartSound, IsTheSongsForEveryPlayerOfEveryDemoSong) {
  for (const std::string& path : demo_songs()) {
    const auto work = worked(path);
    ASSERT_TRUE(work->timeline) << path;
    const score::Timeline& song = *work->timeline;
    expect_same_sound(song, blocks::page_player(song), path);
    for (const std::string& name : players_of(song)) {
      const auto player = blocks::read_chart_player(name, song);
      ASSERT_TRUE(player) << path << " " << name << ": " << player.error().sentence;
      expect_same_sound(song, *player, path + " for " + name);
      expect_shapes_sound(song, *player, path + " for " + name);
    }
  }
}

blocks::ChartContent content_of_demo(const std::string& name) {
  const auto work = worked((kSource / "songs-demo" / (name + ".yaml")).string());
  return blocks::chart_content(*work->timeline, blocks::page_player(*work->timeline), ChartNames::Hand);
}

const blocks::ChartSection& lettered(const blocks::ChartContent& chart, const std::string& letter) {
  return *std::find_if(chart.sections.begin(), chart.sections.end(),
                       [&](const blocks::ChartSection& one) { return one.letter == letter; });
}

std::string caption_of_demo(const std::string& name) {
  const auto work = worked((kSource / "songs-demo" / (name + ".yaml")).string());
  return blocks::shapes_caption(*work->timeline, blocks::page_player(*work->timeline));
}

TEST(ChartSays, OnWhatStringsTheShapesAreHeld) {
  EXPECT_EQ(caption_of_demo("heron-stair"), "Shapes for guitar tuned D G D G B D, capo at fret 2");
  EXPECT_EQ(caption_of_demo("nine-pylons"), "Shapes for guitar tuned C G C F A D");
  EXPECT_EQ(caption_of_demo("lamplighters-goat"), "Shapes for banjo, capo at fret 7 on string 5, which sounds A");
  EXPECT_EQ(caption_of_demo("biscuit-weather"), "Shapes for ukulele, usual tuning");
  EXPECT_EQ(content_of_demo("nine-pylons").player.notes,
            (std::vector<std::string>{"guitar tuned C G C F A D", "bass guitar tuned C G C F"}));
}

TEST(ChartSays, WhoReadsInAnotherKey) {
  EXPECT_EQ(content_of_demo("heron-stair")
                .reads.find("fiddle and double bass read in A major: G\u00a0is\u00a0A, C/G\u00a0is\u00a0D/A"),
            0U);
  EXPECT_EQ(content_of_demo("biscuit-weather").reads.find("clarinet reads in D major: F\u00a0is\u00a0G"), 0U);
  EXPECT_NE(
      content_of_demo("biscuit-weather").reads.find("; in C′ and E in E major: G\u00a0is\u00a0A, D\u00a0is\u00a0E"),
      std::string::npos);
  EXPECT_EQ(content_of_demo("nine-pylons").reads, "");
}

TEST(ChartSays, WhoseLoudnessItIsWhereOnlyOneOfManyStatesIt) {
  const std::string song =
      "song: Soft\nkey: C major\nparts:\n  guitar: {instrument: guitar}\n  fiddle: {instrument: violin}\n"
      "  bass: {instrument: bass guitar}\nsections:\n  a:\n    guitar: |\n      1 | 0 |\n    bass: |\n      4 | 0 |\n"
      "    fiddle: |\n      notes | C5 |\n      dynamics | p |\n";
  const auto work = worked_text(song);
  const auto chart = blocks::chart_content(*work->timeline, blocks::page_player(*work->timeline), ChartNames::Hand);
  EXPECT_EQ(chart.sections[0].loudness, "");
  EXPECT_EQ(chart.sections[0].who, "fiddle p");
}

TEST(ChartSays, WhoComesInWhereInTheOrderOfPlaying) {
  const auto goat = content_of_demo("lamplighters-goat");
  EXPECT_EQ(goat.starts, "hand drum and kit");
  EXPECT_EQ(goat.enters, "mandolin at the end of A, banjo at B");
  std::vector<std::string> within;
  for (const blocks::ChartBar& bar : lettered(goat, "A").bars) {
    for (const blocks::ChartCue& cue : bar.cues) {
      if (cue.kind == blocks::CueKind::PickUp) within.push_back(cue.rate);
    }
  }
  EXPECT_EQ(within, (std::vector<std::string>{"mandolin"}));
  ASSERT_EQ(lettered(goat, "A").pick_ups.size(), 1U) << "what comes before bar 1 is not said over bar 1";
  EXPECT_EQ(lettered(goat, "A").pick_ups[0].rate, "hand drum, kit");
  const auto biscuit = content_of_demo("biscuit-weather");
  EXPECT_TRUE(biscuit.counted_bar);
  EXPECT_EQ(biscuit.enters, "voice at B");
  EXPECT_EQ(biscuit.rests, "clarinet only in A and E");
  EXPECT_EQ(content_of_demo("nine-pylons").rests, "hand percussion only in D");
}

TEST(ChartSays, WhatAJumpLeavesOutAndWhatChangesBehindIt) {
  const auto goat = content_of_demo("lamplighters-goat");
  ASSERT_FALSE(lettered(goat, "D").signs.empty());
  EXPECT_EQ(lettered(goat, "D").signs.front().text, "2nd time: D.S. al Coda, no repeats, 2nd ending");
  const auto heron = content_of_demo("heron-stair");
  EXPECT_EQ(lettered(heron, "D").signs.front().text, "D.C. al Fine, no repeats, 2nd ending");
  EXPECT_EQ(lettered(heron, "B′").signs.front().text, "1st time: D.S.");
  EXPECT_EQ(lettered(content_of_demo("nine-pylons"), "D").signs.front().text, "2nd time: D.C. al Coda, no repeats")
      << "what comes first behind the jump keeps its repeats";
  const auto biscuit = content_of_demo("biscuit-weather");
  ASSERT_TRUE(lettered(biscuit, "E").change);
  EXPECT_EQ(lettered(biscuit, "E").change->rate, "= 112 · straight");
}

TEST(ChartSays, HoldsOfAnyPartAndTheBarLinesOfTheHandout) {
  const auto heron = content_of_demo("heron-stair");
  const auto& held = lettered(heron, "B′").bars[3].holds;
  ASSERT_EQ(held.size(), 1U) << "the guitar's";
  EXPECT_EQ(held[0].at, base::Fraction{});
  EXPECT_EQ(lettered(heron, "D").bars.back().holds.at(0).word, "long");
  EXPECT_TRUE(lettered(heron, "B").bars.back().final) << "Fine";
  EXPECT_FALSE(lettered(heron, "D").bars.back().final) << "D.C. leaves there";
  EXPECT_TRUE(lettered(heron, "D").bars.back().doubled);
}

TEST(ChartSays, NoRestWhereTheBandPlaysOnBeforeAHit) {
  const std::string head =
      "song: Push\nkey: C major\nparts:\n  guitar: {instrument: guitar}\nsections:\n  a:\n    chart: |\n";
  const auto first_bar = [&](const std::string& lanes) {
    const auto work = worked_text(head + lanes);
    const auto chart = blocks::chart_content(*work->timeline, blocks::page_player(*work->timeline), ChartNames::Hand);
    return chart.sections[0].bars.at(0);
  };
  const std::string chart = "      chords | C |\n      hits | - : - : - : >x |\n    guitar: |\n";
  EXPECT_EQ(first_bar(chart + "      1 | 0 : 0 : 0 : 0 |\n").plays_until, base::Fraction(3, 4));
  EXPECT_EQ(first_bar(chart + "      1 | . : . : . : 0 |\n").plays_until, base::Fraction{});
  const std::string early = "      chords | C |\n      hits | >x : . : - : - |\n    guitar: |\n";
  EXPECT_EQ(first_bar(early + "      1 | 0 : 0 : 0 : 0 |\n").plays_from, base::Fraction(1, 4));
  EXPECT_EQ(first_bar(early + "      1 | 0 : . : 0 : 0 |\n").plays_from, base::Fraction(1, 2));
  EXPECT_EQ(first_bar(early + "      1 | 0 : 0 : 0 : . |\n").plays_from, std::nullopt);
}

TEST(ChartSays, WithoutPartsTheLaneOfHitsTellsWhatGoesOnBeforeAHit) {
  const auto first_bar = [&](const std::string& chords, const std::string& hits) {
    const auto work = worked_text("song: Push\nsections:\n  a:\n    chart: |\n      chords | " + chords +
                                  " |\n      hits | " + hits + " |\n");
    const auto chart = blocks::chart_content(*work->timeline, blocks::page_player(*work->timeline), ChartNames::Hand);
    return chart.sections[0].bars.at(0);
  };
  EXPECT_EQ(first_bar("C", "- : - : - : >x").plays_until, base::Fraction(3, 4)) << "nothing new: it goes on";
  EXPECT_EQ(first_bar("C", ". : - : - : >x").plays_until, base::Fraction{}) << "silence is written";
  EXPECT_EQ(first_bar("N.C.", "- : - : - : >x").plays_until, base::Fraction{}) << "nobody has a chord to play";
}

TEST(ChartSays, WhoCountsInAndWhoStartsAsTheSongStatesIt) {
  const auto head = [&](const std::string& keys, const std::string& first) {
    const auto work = worked_text("song: Start\n" + keys +
                                  "parts:\n  guitar: {instrument: guitar}\n  drums: {instrument: drum kit}\n"
                                  "sections:\n  a:\n    guitar: |\n      1 | 0 : 0 : 0 : 0 | 0 |\n    drums: |\n"
                                  "      snare | " +
                                  first + " | x : x : x : x |\n");
    return blocks::chart_content(*work->timeline, blocks::page_player(*work->timeline), ChartNames::Hand);
  };
  const auto worked_out = head("", ".");
  EXPECT_EQ(worked_out.counts, "guitar");
  EXPECT_EQ(worked_out.starts, "guitar");
  const auto stated = head("counts in: drums\nstarts: [guitar]\n", ".");
  EXPECT_EQ(stated.counts, "drums");
  EXPECT_EQ(stated.count_in, "1 2 3 4");
  EXPECT_EQ(stated.starts, "guitar");
  EXPECT_EQ(stated.enters, "drums at A bar 2");
  const auto nobody = head("counts in: nobody\nstarts: drums, guitar\n", "x");
  EXPECT_EQ(nobody.count_in, "none");
  EXPECT_EQ(nobody.counts, "");
  EXPECT_EQ(nobody.starts, "drums and guitar") << "in the order stated";
}

/// Real fonts, opened once.
class ChartPages : public testing::Test {
 protected:
  static void SetUpTestSuite() {
    support::use_house_styles();
    fonts_ = std::move(text::FontBook::open(text::FontBook::usual_folders()).value()).release();
    shaper_ = text::make_pango_shaper(*fonts_).release();
  }
  static void TearDownTestSuite() {
    delete shaper_;
    delete fonts_;
  }

  static base::Result<sheet::Chart, sheet::ChartRefusal> chart(const score::Timeline& song, const style::Style& style,
                                                               const ChartPlayer& player,
                                                               ChartNames names = ChartNames::Hand) {
    text::MusicFont music(*shaper_, style.music_family);
    diag::Sink sink;
    return sheet::make_chart({song, style, *shaper_, music, player, names}, sink);
  }

  static void expect_clean_page(const sheet::Chart& chart, const std::string& what) {
    ASSERT_EQ(chart.sheet.pages.size(), 1U) << what;
    const auto breaches = paint::audit(Press::paint(chart.sheet), audit_rules(chart.sheet));
    EXPECT_TRUE(breaches.empty()) << what << "\n" << paint::print(breaches).substr(0, 2000);
    EXPECT_GE(chart.chord_size, base::Length::pt(9)) << what;
    if (chart.cells <= 48) {
      EXPECT_GE(chart.chord_size, base::Length::pt(16)) << what << ", " << chart.cells << " bars";
    }
  }

  static text::FontBook* fonts_;
  static text::Shaper* shaper_;
};
text::FontBook* ChartPages::fonts_ = nullptr;
text::Shaper* ChartPages::shaper_ = nullptr;

TEST_F(ChartPages, EveryDemoSongIsOneCleanPageOnBothPapersForAllNames) {
  for (const std::string& path : demo_songs()) {
    const auto work = worked(path);
    const score::Timeline& song = *work->timeline;
    for (const char* paper : {"a4", "letter"}) {
      const style::Style style = style::house_style(paper);
      for (const ChartNames names : {ChartNames::Hand, ChartNames::Ear, ChartNames::Degrees, ChartNames::Roman}) {
        const auto made = chart(song, style, blocks::page_player(song), names);
        ASSERT_TRUE(made) << made.error().sentence;
        expect_clean_page(*made, path + " on " + paper + ", names " + std::to_string(static_cast<int>(names)));
      }
    }
  }
}

TEST_F(ChartPages, EveryPlayerGetsOneCleanPage) {
  const style::Style style = style::house_style("a4");
  for (const std::string& path : demo_songs()) {
    const auto work = worked(path);
    const score::Timeline& song = *work->timeline;
    for (const std::string& name : players_of(song)) {
      const auto made = chart(song, style, *blocks::read_chart_player(name, song));
      ASSERT_TRUE(made) << made.error().sentence;
      expect_clean_page(*made, path + " for " + name);
    }
  }
}

/// Slashes of one bar by their x; those of a bar begin at the same place of the song.
std::map<std::uint32_t, std::set<base::Length>> slashes_by_bar(const paint::Document& page) {
  std::map<std::uint32_t, std::set<base::Length>> bars;
  for (const paint::DisplayItem& item : page.pages.front().items) {
    if (item.kind == paint::Kind("chart-slash")) bars[item.origin.begin].insert(item.box.x);
  }
  return bars;
}

TEST_F(ChartPages, SlashesOfABarAreEvenlyApart) {
  source::Files files;
  diag::Sink sink;
  const auto loaded = style::load_style("house", "a4", (kSource / "styles").string(), files, sink);
  ASSERT_TRUE(loaded);
  const auto work = worked((kSource / "songs-demo/biscuit-weather.yaml").string());
  const auto made = chart(*work->timeline, loaded->style, blocks::page_player(*work->timeline));
  ASSERT_TRUE(made);
  int bars = 0;
  for (const auto& [bar, xs] : slashes_by_bar(Press::paint(made->sheet))) {
    if (xs.size() < 3) continue;
    ++bars;
    const double step = (*xs.rbegin() - *xs.begin()).points() / static_cast<double>(xs.size() - 1);
    for (auto x = std::next(xs.begin()); x != xs.end(); ++x) {
      EXPECT_NEAR((*x - *std::prev(x)).points(), step, step * 0.15) << "bar at byte " << bar;
    }
  }
  EXPECT_GE(bars, 3);
}

TEST_F(ChartPages, WhatEndsAnOpenRepeatIsSaidOverItsBars) {
  const auto work = worked((kSource / "songs-demo/biscuit-weather.yaml").string());
  for (const std::string& name : {std::string("house"), std::string("phone")}) {
    source::Files files;
    diag::Sink sink;
    const auto loaded = style::load_style(name, "a4", (kSource / "styles").string(), files, sink);
    ASSERT_TRUE(loaded);
    const auto made = chart(*work->timeline, loaded->style, blocks::page_player(*work->timeline));
    ASSERT_TRUE(made) << name;
    std::string said;
    const paint::Document page = Press::paint(made->sheet);
    for (const paint::DisplayItem& item : page.pages.front().items) {
      if (item.kind == paint::Kind("chart-until"))
        said = std::get<paint::GlyphsShape>(item.shape).run.text + (said.empty() ? "" : " ") + said;
    }
    EXPECT_EQ(said, "until the singer has found her cup (about twice)") << name;
  }
}

TEST_F(ChartPages, EveryStylePrintsEveryDemoSong) {
  for (const auto& entry : fs::directory_iterator(kSource / "styles")) {
    if (entry.path().extension() != ".yaml") continue;
    source::Files files;
    diag::Sink sink;
    const auto loaded = style::load_style(entry.path().string(), "a4", (kSource / "styles").string(), files, sink);
    ASSERT_TRUE(loaded) << entry.path();
    const bool narrow = loaded->style.page.paper.width < base::Length::mm(190);
    for (const std::string& path : demo_songs()) {
      const auto work = worked(path);
      const auto made = chart(*work->timeline, loaded->style, blocks::page_player(*work->timeline));
      const std::string what = path + " in " + entry.path().stem().string();
      ASSERT_TRUE(made || narrow) << what << ": " << made.error().sentence;
      if (made && !narrow) expect_clean_page(*made, what);
    }
  }
}

TEST_F(ChartPages, ANarrowPageIsCleanOrSaysWhyNot) {
  style::Style narrow = style::house_style("a4");
  narrow.page.paper = {base::Length::mm(100), base::Length::mm(200)};
  narrow.page.inner = narrow.page.outer = narrow.page.top = narrow.page.bottom = base::Length::mm(7);
  int made_here = 0;
  for (const std::string& path : demo_songs()) {
    const auto work = worked(path);
    const auto made = chart(*work->timeline, narrow, blocks::page_player(*work->timeline));
    if (!made) {
      EXPECT_NE(made.error().sentence.find("larger paper"), std::string::npos);
      continue;
    }
    ++made_here;
    ASSERT_EQ(made->sheet.pages.size(), 1U);
    const auto breaches = paint::audit(Press::paint(made->sheet), audit_rules(made->sheet));
    EXPECT_TRUE(breaches.empty()) << path << "\n" << paint::print(breaches).substr(0, 1500);
  }
  const auto twelve = worked((kSource / "tests" / "songs" / "twelve-bars.yaml").string());
  EXPECT_TRUE(chart(*twelve->timeline, narrow, blocks::page_player(*twelve->timeline)));
}

TEST_F(ChartPages, TwelveBarsAndAHundredAndTwentyBothFit) {
  for (const char* name : {"twelve-bars.yaml", "long-way.yaml"}) {
    const auto work = worked((kSource / "tests" / "songs" / name).string());
    ASSERT_TRUE(work->timeline) << name;
    const auto made = chart(*work->timeline, style::house_style("a4"), blocks::page_player(*work->timeline));
    ASSERT_TRUE(made) << name << ": " << made.error().sentence;
    expect_clean_page(*made, name);
    int bars = 0;
    for (const score::Section& section : work->timeline->sections) bars += static_cast<int>(section.bars.size());
    EXPECT_EQ(bars, std::string(name) == "twelve-bars.yaml" ? 12 : 120);
    if (bars == 12) {
      EXPECT_GE(made->chord_size, base::Length::pt(28)) << "a short song is set large";
    }
  }
}

/// Chord-only songs of any make: 1 to 12 sections, 1 to 24 bars each, up to four chords in a bar.
std::string made_up_song(unsigned seed) {
  std::mt19937 random(seed);
  const auto one_of = [&](const std::vector<std::string>& words) { return words[random() % words.size()]; };
  const std::vector<std::string> chords{"C", "Am7", "F#m7b5", "Bbmaj7", "G7(b9)", "D/F#", "Ebm",  "A7sus4",
                                        "B", "E7",  "N.C.",   "Abmaj7", "C#dim7", "F6",   "Gm/D", "D"};
  std::string out = "song: Made Up " + std::to_string(seed) + "\n";
  out += "key: " + one_of({"C major", "Eb major", "A minor", "F# minor", "Bb major"}) + "\n";
  const std::string meter = one_of({"4/4", "3/4", "6/8", "4/4", "2/2"});
  out += "meter: " + meter + "\ntempo: " + std::to_string(60 + random() % 120) + "\nsections:\n";
  const int sections = 1 + static_cast<int>(random() % 9);
  for (int s = 0; s < sections; ++s) {
    out += "  part " + std::string(1, static_cast<char>('a' + s)) + ":\n";
    if (random() % 4 == 0) out += "    times: 2\n";
    out += "    chart: |\n";
    const int stanzas = 1 + static_cast<int>(random() % 4);
    for (int t = 0; t < stanzas; ++t) {
      std::string chord_lane = "      chords |", say_lane = "      say |";
      for (int b = 0; b < 4; ++b) {
        const bool two = meter == "4/4" && random() % 4 == 0;
        chord_lane += " " + (random() % 5 == 0 && b > 0 ? std::string() : one_of(chords)) + (two ? "" : "") + " |";
        say_lane += random() % 9 == 0 ? " everyone softly now |" : " |";
      }
      out += (t > 0 ? "\n" : "") + chord_lane + "\n" + say_lane + "\n";
    }
  }
  return out;
}

TEST_F(ChartPages, ThreeHundredMadeUpSongsAreOneCleanPageEach) {
  const style::Style a4 = style::house_style("a4"), letter = style::house_style("letter");
  int folded = 0;
  for (unsigned seed = 1; seed <= 300; ++seed) {
    const std::string text = made_up_song(seed);
    const auto work = worked_text(text);
    ASSERT_TRUE(work->timeline) << text;
    const auto made = chart(*work->timeline, seed % 2 == 0 ? a4 : letter, blocks::page_player(*work->timeline));
    ASSERT_TRUE(made) << made.error().sentence << "\n" << text;
    expect_clean_page(*made, text);
    folded += made->told.empty() ? 0 : 1;
  }
  EXPECT_LT(folded, 300) << "some need no folding";
}

/// The section of a demo song's chart for its own player.
blocks::ChartSection charted(const std::string& song, const std::string& name) {
  const auto work = worked((kSource / "songs-demo" / (song + ".yaml")).string());
  ChartPlayer player;
  for (std::size_t p = 0; p < work->timeline->parts.size() && player.own_part < 0; ++p) {
    if (work->timeline->parts[p].instrument.family == theory::Family::Fretted) player.own_part = static_cast<int>(p);
  }
  const blocks::ChartContent chart = blocks::chart_content(*work->timeline, player, ChartNames::Hand);
  return *std::find_if(chart.sections.begin(), chart.sections.end(),
                       [&](const blocks::ChartSection& one) { return one.name == name; });
}

TEST(ChartNames, OfTwoKeysAsHardToReadThePagesSide) {
  const auto work = worked((kSource / "songs-demo" / "heron-stair.yaml").string());
  const auto player = blocks::read_chart_player("capo 3", *work->timeline);
  ASSERT_TRUE(player);
  const theory::Key sharp{{theory::Step::F, 1}, theory::Mode::Major};
  EXPECT_EQ(theory::print(blocks::key_for(*work->timeline->key, *player, ChartNames::Hand)), theory::print(sharp))
      << "G major, one semitone lower for the capo one fret higher";
}

TEST(ChartEnds, AStopShortOfTheBarsEndIsPrintedAsItIsStruck) {
  const blocks::ChartBar last = charted("nine-pylons", "riff").bars.back();
  ASSERT_EQ(last.hits.size(), 3U) << "1, 2 and, 4";
  EXPECT_EQ(last.hits[2].onset, base::Fraction(3, 4));
  EXPECT_EQ(last.hits[2].duration, base::Fraction(1, 8)) << "and then nothing";
}

TEST(ChartEnds, OneHeldStrokeHasOneHoldOverIt) {
  const blocks::ChartBar last = charted("heron-stair", "footbridge").bars.back();
  ASSERT_EQ(last.hits.size(), 1U);
  EXPECT_EQ(last.hits[0].duration, last.length);
  ASSERT_EQ(last.holds.size(), 1U);
  EXPECT_EQ(last.holds[0].at, base::Fraction{});
}

TEST(ChartStrums, MutedStrokesAreKnownAsSuch) {
  const auto strum = charted("biscuit-weather", "refrain").bars.front().strum;
  ASSERT_EQ(strum.size(), 6U);
  EXPECT_FALSE(strum[0].muted);
  EXPECT_TRUE(strum[1].muted);
  EXPECT_TRUE(strum[4].muted);
  EXPECT_NE(strum, charted("biscuit-weather", "intro").bars[1].strum);
}

}  // namespace
}  // namespace tunesheaf::app

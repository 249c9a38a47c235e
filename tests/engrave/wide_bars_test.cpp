// Bars wider than the page: broken at beats, at the least size at any note, never in silence.
#include <gtest/gtest.h>

#include <map>
#include <set>

#include "../../src/engrave/broken_bars.h"
#include "engrave/sample.h"

namespace tunesheaf::test {
namespace {

using base::Fraction;
using engrave::BarPiece;
using engrave::BarRepeat;
using engrave::break_bars;
using score::Place;

/// 4/4 with `count` notes to the bar, all of one length.
SongMaker song_of(int bars, int count, const std::string& name = "C5") {
  SongMaker song("4/4", "C major", bars);
  const int p = song.part("fiddle", "treble", 0);
  for (int b = 0; b < bars; ++b)
    for (int i = 0; i < count; ++i)
      song.event(p, 1, Fraction(b) + Fraction(i, count), Fraction(1, count), {song.pitched(name)});
  song.finish();
  return song;
}

std::multiset<int> heads_of(const Engraved& out) {
  std::multiset<int> events;
  for (const auto& system : out.section.systems)
    for (const layout::Item* head : of_kind(*system.frame, "note-head")) events.insert(head->subject.event);
  return events;
}

TEST(WideBars, ABarIsBrokenAtItsMiddleAndLosesNothing) {
  const SongMaker song = song_of(1, 32);
  const Engraved out = engraved(song.timeline, 70);
  ASSERT_EQ(out.section.systems.size(), 2U);
  EXPECT_TRUE(out.section.systems[0].broken);
  EXPECT_FALSE(out.section.systems[1].broken);
  EXPECT_EQ(out.section.systems[0].overfull_at, song.timeline.sections[0].bars[0].origin);
  for (const auto& system : out.section.systems) {
    EXPECT_FALSE(system.overfull);
    EXPECT_FALSE(system.set_smaller);
    EXPECT_EQ(system.first_bar, 0);
    EXPECT_EQ(system.last_bar, 1);
    EXPECT_EQ(of_kind(*system.frame, "note-head").size(), 16U);
    EXPECT_TRUE(of_kind(*system.frame, "bar-number").empty());
  }
  EXPECT_EQ(heads_of(out).size(), 32U);
  // No bar line at the break; the final line at the end is two strokes.
  EXPECT_TRUE(of_kind(*out.section.systems[0].frame, "bar-line").empty());
  EXPECT_EQ(of_kind(*out.section.systems[1].frame, "bar-line").size(), 2U);
  EXPECT_FALSE(of_kind(*out.section.systems[0].frame, "meter").empty());
  EXPECT_TRUE(of_kind(*out.section.systems[1].frame, "meter").empty());
}

TEST(WideBars, OrdinaryBarsAreNotTouchedByABrokenNeighbour) {
  SongMaker song("4/4", "C major", 3);
  const int p = song.part("fiddle", "treble", 0);
  for (const int bar : {0, 2}) song.event(p, 1, Fraction(bar), Fraction(1), {song.pitched("C5")});
  for (int i = 0; i < 32; ++i) song.event(p, 1, Fraction(1) + Fraction(i, 32), Fraction(1, 32), {song.pitched("C5")});
  song.finish();
  const Engraved out = engraved(song.timeline, 70);
  std::size_t broken = 0;
  std::set<int> begun;
  for (const auto& system : out.section.systems) {
    broken += system.broken ? 1U : 0U;
    if (system.broken) {
      EXPECT_EQ(system.last_bar, 2);
    }
    for (int b = system.first_bar; b < system.last_bar; ++b) begun.insert(b);
  }
  EXPECT_EQ(broken, 1U);
  EXPECT_EQ(begun, (std::set<int>{0, 1, 2}));
  EXPECT_EQ(heads_of(out).size(), 34U);
}

TEST(WideBars, WhatIsHeldOverTheBreakIsTied) {
  SongMaker song("4/4", "C major", 1);
  const int p = song.part("fiddle", "treble", 0);
  for (int i = 0; i < 64; ++i) {
    if (i == 32) continue;
    song.event(p, 1, Fraction(i, 64), Fraction(i == 31 ? 2 : 1, 64), {song.pitched("C5")});
  }
  const int low = song.part("cello", "bass", 0);
  song.event(low, 1, Fraction(), Fraction(1), {song.pitched("C3")});
  song.finish();
  const Engraved out = engraved(song.timeline, 150);
  ASSERT_GE(out.section.systems.size(), 2U);
  const int held = 63;  // the cello's whole note: the event after the fiddle's
  std::size_t first = 0, later = 0, ties = 0;
  for (const auto& system : out.section.systems) {
    for (const layout::Item* head : of_kind(*system.frame, "note-head")) first += head->subject.event == held ? 1U : 0U;
    for (const layout::Item* head : of_kind(*system.frame, "note-head-tied"))
      later += head->subject.event == held ? 1U : 0U;
    for (const layout::Item* tie : of_kind(*system.frame, "tie")) ties += tie->subject.event == held ? 1U : 0U;
  }
  EXPECT_EQ(first, 1U);
  EXPECT_EQ(later, out.section.systems.size() - 1);
  EXPECT_EQ(ties, 2 * (out.section.systems.size() - 1));
}

TEST(WideBars, AnAccidentalHoldsOverTheBreakAndIsSaidAgainInParentheses) {
  SongMaker song("4/4", "C major", 1);
  const int p = song.part("fiddle", "treble", 0);
  for (int i = 0; i < 32; ++i)
    song.event(p, 1, Fraction(i, 32), Fraction(1, 32), {song.pitched(i < 31 ? "C#5" : "C5")});
  song.finish();
  const Engraved out = engraved(song.timeline, 70);
  ASSERT_EQ(out.section.systems.size(), 2U);
  EXPECT_EQ(of_kind(*out.section.systems[0].frame, "accidental").size(), 1U);
  // The courtesy sharp, and the natural that is needed.
  EXPECT_EQ(of_kind(*out.section.systems[1].frame, "accidental").size(), 2U);
}

TEST(WideBars, ABeatThatIsTooWideMakesTheSectionSmaller) {
  const SongMaker song = song_of(2, 48);
  const Engraved out = engraved(song.timeline, 34);
  bool smaller = false;
  for (const auto& system : out.section.systems) {
    EXPECT_FALSE(system.overfull);
    smaller = smaller || system.set_smaller;
  }
  EXPECT_TRUE(smaller);
  EXPECT_EQ(heads_of(out).size(), 96U);
}

TEST(WideBars, AtTheLeastSizeABarIsBrokenAtAnyNote) {
  const SongMaker song = song_of(1, 64);
  const Engraved out = engraved(song.timeline, 24);
  for (const auto& system : out.section.systems) EXPECT_FALSE(system.overfull);
  EXPECT_GT(out.section.systems.size(), 4U);
  EXPECT_EQ(heads_of(out).size(), 64U);
}

TEST(BrokenBars, PiecesFollowOneAnotherAndKeepTheirPlaces) {
  SongMaker song("4/4", "C major", 2);
  const int p = song.part("fiddle", "treble", 0);
  song.event(p, 1, Fraction(), Fraction(3, 4), {song.pitched("C5")});
  song.event(p, 1, Fraction(3, 4), Fraction(1, 4), {song.pitched("D5")});
  song.event(p, 1, Fraction(1), Fraction(1), {song.pitched("E5")});
  song.finish();
  song.word(song.music(p).words, score::WordKind::Lyric, Fraction(3, 4), "low");
  song.music(p).marks.push_back({"crescendo", "", {0, Fraction(1, 4)}, {1, Fraction()}, {}});
  engrave::SectionRequest request;
  request.timeline = &song.timeline;
  const auto broken = break_bars(request, {Place{0, Fraction(1, 2)}});
  const score::Section& section = broken->timeline.sections[0];
  ASSERT_EQ(section.bars.size(), 3U);
  EXPECT_EQ(section.bars[0].length, Fraction(1, 2));
  EXPECT_EQ(section.bars[1].length, Fraction(1, 2));
  EXPECT_EQ(section.bars[1].number, 0);
  EXPECT_FALSE(section.bars[1].show_meter);
  EXPECT_TRUE(broken->pieces[0].continued);
  EXPECT_TRUE(broken->pieces[1].continues);
  EXPECT_EQ(broken->pieces[1].in_meter, Fraction(1, 2));
  EXPECT_EQ(broken->pieces[2].bar, 1);
  const auto& voice = section.parts[0].voices[0];
  ASSERT_EQ(voice.bars.size(), 3U);
  ASSERT_EQ(voice.bars[0].size(), 1U);
  EXPECT_TRUE(voice.bars[0][0].tied_to);
  ASSERT_EQ(voice.bars[1].size(), 2U);
  EXPECT_TRUE(voice.bars[1][0].tied_from);
  EXPECT_EQ(voice.bars[1][0].duration, Fraction(1, 4));
  EXPECT_EQ(section.parts[0].words[0].at, (Place{1, Fraction(1, 4)}));
  EXPECT_EQ(section.parts[0].marks[0].from, (Place{0, Fraction(1, 4)}));
  EXPECT_EQ(section.parts[0].marks[0].to, (Place{2, Fraction()}));
  EXPECT_EQ(broken->timeline.events[1].at, (Place{1, Fraction(1, 4)}));
  EXPECT_EQ(broken->timeline.events[2].at, (Place{2, Fraction()}));
}

TEST(BrokenBars, TheRestOfABarOfRestIsNoWholeRest) {
  SongMaker song("4/4", "C major", 1);
  const int p = song.part("fiddle", "treble", 0);
  for (int i = 0; i < 64; ++i) song.event(p, 1, Fraction(i, 64), Fraction(1, 64), {song.pitched("C5")});
  const int low = song.part("cello", "bass", 0);
  song.event(low, 1, Fraction(3, 4), Fraction(1, 4), {song.pitched("C3")});
  song.finish();
  const Engraved out = engraved(song.timeline, 100);
  ASSERT_GE(out.section.systems.size(), 2U);
  // Rests add up to the three beats before the cello's note, however many pieces there are.
  EXPECT_GE(of_kind(*out.section.systems[0].frame, "rest").size(), 1U);
  EXPECT_EQ(heads_of(out).size(), 65U);
}

}  // namespace
}  // namespace tunesheaf::test

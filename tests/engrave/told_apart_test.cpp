// What could be taken for something else is drawn so that it is not: stems at slashes, rests that are needed for the
// count, releases, fades, accents, ledger lines through crosses, letters of the hands.
#include <gtest/gtest.h>

#include "engrave/sample.h"

namespace tunesheaf::test {
namespace {

using layout::Item;
using song::Arrival;

Rect the_only(const layout::Frame& frame, const char* kind) {
  const auto found = of_kind(frame, kind);
  EXPECT_EQ(found.size(), 1u) << kind;
  return found.empty() ? Rect{} : layout::box_of(*found.front());
}

TEST(ToldApart, TheStemOfASlashOnTabGrowsFromTheSlash) {
  SongMaker song("4/4", "C major", 1);
  const int g = song.guitar();
  score::Event& strum = song.event(g, 1, q(0), q(1), {song.fretted(g, 1, 3)});
  strum.kind = score::EventKind::Slash;
  strum.strum = true;
  score::Event& again = song.event(g, 1, q(1), q(1), {song.fretted(g, 1, 3)});
  again.kind = score::EventKind::Slash;
  again.strum = true;
  song.event(g, 1, q(2), q(2), {song.fretted(g, 1, 5)});
  const Engraved e = engraved(song.finish(), 120, "tab");
  const Rect slash = the_only(frame_of(e), "slash");
  const auto stems = of_kind(frame_of(e), "stem");
  EXPECT_TRUE(std::any_of(stems.begin(), stems.end(), [&](const Item* stem) {
    return layout::box_of(*stem).grown(e.style.staff_space * 0.1).overlaps(slash);
  }));
}

/// A bass note of `bass` quarters under a treble that comes in after an eighth.
Engraved after_an_eighth(Fraction bass) {
  SongMaker song("4/4", "C major", 1);
  const int g = song.guitar();
  song.event(g, 2, q(0), bass, {song.fretted(g, 6, 0)});
  song.event(g, 2, bass, q(4) - bass, {song.fretted(g, 5, 2)});
  song.event(g, 1, q(1, 8), q(1, 8), {song.fretted(g, 1, 0)});
  song.event(g, 1, q(1), q(3), {song.fretted(g, 2, 1)});
  return engraved(song.finish(), 120, "tab");
}

TEST(ToldApart, ARestOnTabIsPrintedUnlessTheOtherVoiceShowsItsLength) {
  EXPECT_EQ(of_kind(frame_of(after_an_eighth(q(2))), "rest").size(), 1u) << "over a half note: how long?";
  EXPECT_EQ(of_kind(frame_of(after_an_eighth(q(1, 8))), "rest").size(), 0u) << "over an eighth";
}

TEST(ToldApart, AReleaseHasItsFigureAndThePullOffBeginsThere) {
  SongMaker song("4/4", "C major", 1);
  const int g = song.guitar();
  score::Note bent = song.fretted(g, 2, 12);
  bent.more.set().bend = {{q(0), q(0)}, {q(1, 2), 2}, {q(2, 3), 2}, {q(5, 6), q(0)}, {q(1, 1), q(0)}};
  song.event(g, 1, q(0), q(3), {bent});
  score::Note pulled = song.fretted(g, 2, 10);
  pulled.more.set().link = {Arrival::PullOff, 0, 0};
  song.event(g, 1, q(3), q(1), {pulled});
  const Engraved e = engraved(song.finish(), 200, "tab");
  const Rect released = the_only(frame_of(e), "released-figure"), arc = the_only(frame_of(e), "legato-arc");
  EXPECT_GE(arc.left(), released.left());
  for (const Item* letter : of_kind(frame_of(e), "pull-letter"))
    EXPECT_GT(middle_x(layout::box_of(*letter)), released.left());
}

TEST(ToldApart, OnlyWhatComesFromNothingHasARingAtItsPoint) {
  const auto rings = [](const std::string& kind, const char* drawn) {
    SongMaker song("4/4", "C major", 1);
    const int g = song.guitar();
    song.event(g, 1, q(0), q(2), {song.fretted(g, 2, 5)});
    song.event(g, 1, q(2), q(2), {song.fretted(g, 2, 7)});
    song.music(g).marks.push_back(mark(song, kind, {}, q(4)));
    const Engraved e = engraved(song.finish(), 120, "tab");
    const auto items = of_kind(frame_of(e), drawn);
    EXPECT_GE(items.size(), 2u) << kind;
    return std::count_if(items.begin(), items.end(),
                         [](const Item* item) { return std::holds_alternative<layout::RectShape>(item->shape); });
  };
  EXPECT_EQ(rings("volume swell", "technique-line"), 1);
  EXPECT_EQ(rings("fade in", "technique-line"), 1);
  EXPECT_EQ(rings("fade out", "technique-line"), 1);
  EXPECT_EQ(rings("crescendo", "hairpin"), 0);
}

TEST(ToldApart, ATenutoNeverUnderlinesThePitchOfAHarmonic) {
  SongMaker song("4/4", "C major", 1);
  const int g = song.guitar();
  score::Note touched = song.fretted(g, 2, 12);
  touched.harmonic = song::HarmonicKind::Natural;
  touched.more.set().sounding = touched.written;
  song.event(g, 1, q(0), q(4), {touched}).accents.tenuto = true;
  const Engraved e = engraved(song.finish(), 120, "tab");
  EXPECT_LT(the_only(frame_of(e), "tenuto").bottom(), the_only(frame_of(e), "harmonic-pitch").top());
}

TEST(ToldApart, OneStemHasOneAccentTheStronger) {
  SongMaker song("4/4", "C major", 1);
  const int part = song.drums();
  score::Event& hit = song.event(part, 1, q(0), q(4), {song.drum(1)});
  hit.accents.accent = hit.accents.marcato = true;
  const Engraved e = engraved(song.finish());
  EXPECT_TRUE(of_kind(frame_of(e), "accent").empty());
  EXPECT_EQ(of_kind(frame_of(e), "marcato").size(), 1u);
}

TEST(ToldApart, ALedgerLineDoesNotStrikeThroughACross) {
  SongMaker song("4/4", "C major", 1);
  const int part = song.part("drums", "percussion", 0);
  const theory::DrumStaff staff = theory::drum_staff({"kick", "snare", "hat", "crash"});
  song.timeline.parts[0].kit.push_back({"crash", staff.places[3]});
  song.timeline.parts[0].kit_lines = staff.lines;
  song.event(part, 1, q(0), q(4), {song.drum(0)});
  const Engraved e = engraved(song.finish());
  const Rect head = the_only(frame_of(e), "note-head");
  const auto ledgers = of_kind(frame_of(e), "ledger");
  ASSERT_EQ(ledgers.size(), 2u) << "on either side";
  for (const Item* line : ledgers) {
    const Rect box = layout::box_of(*line);
    EXPECT_FALSE(box.left() < middle_x(head) && box.right() > middle_x(head));
  }
}

TEST(ToldApart, TheSlapOfTheThumbIsNoTap) {
  SongMaker song("4/4", "C major", 1);
  const int g = song.guitar();
  score::Note slapped = song.fretted(g, 4, 3), popped = song.fretted(g, 2, 5);
  slapped.pluck = 'T';
  popped.pluck = 'P';
  song.event(g, 1, q(0), q(2), {slapped});
  song.event(g, 1, q(2), q(2), {popped});
  const Engraved e = engraved(song.finish(), 120, "tab");
  EXPECT_EQ(texts(frame_of(e), "slap-pop"), (std::vector<std::string>{"S", "P"}));
}

TEST(ToldApart, WhatStandsUnderAStaffIsNearerToItThanToTheNextPart) {
  SongMaker song("4/4", "C major", 1);
  const int g = song.guitar(), other = song.guitar();
  for (int i = 0; i < 4; ++i) {
    score::Note fingered = song.fretted(g, 2, 5 + i);
    fingered.finger = 1 + i;
    song.event(g, 1, q(i), q(1), {fingered});
  }
  song.event(other, 1, q(0), q(4), {song.fretted(other, 2, 5)});
  const Engraved e = engraved(song.finish(), 120, "tab");
  const Rect finger = layout::box_of(*of_kind(frame_of(e), "fretting-finger").at(0));
  const Length stem = layout::box_of(*of_kind(frame_of(e), "stem").at(0)).bottom();
  Length next = Length::pt(1000);
  for (const Item* line : of_kind(frame_of(e), "tab-line")) {
    const Length y = layout::box_of(*line).y;
    if (y > finger.bottom()) next = std::min(next, y);
  }
  EXPECT_GT(next - finger.bottom(), (finger.top() - stem) * 1.8);
}

}  // namespace
}  // namespace tunesheaf::test

// Marks across bars and systems, on a tab that stands alone, on notation without a tab; words in rows.
#include <gtest/gtest.h>

#include "engrave/sample.h"

namespace tunesheaf::test {
namespace {

using engrave::StaffKind;
using layout::GlyphsShape;
using layout::Item;
using song::Arrival;

/// Two bars of eighths a system at the least; the first note of every bar is pulled off from the last one before it.
SongMaker pulled_over_bar_lines(int bars) {
  SongMaker song("4/4", "C major", bars);
  const int g = song.guitar();
  for (int i = 0; i < bars * 8; ++i) {
    score::Note note = song.fretted(g, 2, 8 - i % 8);
    note.fret = i % 8 == 7 ? 5 : i % 8 == 0 ? 3 : 7;
    if (i % 8 == 0 && i > 0) note.more.set().link = {Arrival::PullOff, i - 1, 0};
    song.event(g, 1, q(i, 8), q(1, 8), {note});
  }
  song.finish();
  return song;
}

TEST(MarksAcross, APullOffOverABarLineHasItsArcOnStaffAndTab) {
  SongMaker song = pulled_over_bar_lines(2);
  const Engraved e = engraved(song.timeline, 260, "both");
  ASSERT_EQ(e.section.systems.size(), 1u);
  const layout::Frame& frame = frame_of(e);
  for (const char* kind : {"legato-arc", "slur"}) {
    const auto arcs = of_kind(frame, kind);
    ASSERT_EQ(arcs.size(), 1u) << kind;
    const auto bars = of_kind(frame, "bar-line");
    const Rect arc = layout::box_of(*arcs[0]);
    EXPECT_TRUE(std::any_of(bars.begin(), bars.end(), [&](const Item* bar) {
      const Length x = middle_x(layout::box_of(*bar));
      return arc.left() < x && arc.right() > x;
    })) << kind;
  }
}

TEST(MarksAcross, AnArcOverTheEndOfASystemIsTwoHalves) {
  SongMaker song = pulled_over_bar_lines(4);
  const Engraved e = engraved(song.timeline, 110, "both");
  ASSERT_GE(e.section.systems.size(), 2u);
  for (const char* kind : {"legato-arc", "slur"}) {
    std::size_t arcs = 0;
    for (std::size_t s = 0; s < e.section.systems.size(); ++s) arcs += of_kind(frame_of(e, s), kind).size();
    EXPECT_EQ(arcs, 3 + e.section.systems.size() - 1) << kind << ": each break adds one half";
    Length right;
    for (const Item* arc : of_kind(frame_of(e, 0), kind)) right = std::max(right, layout::box_of(*arc).right());
    EXPECT_GT(right, e.section.systems[0].frame->size.width - e.style.staff_space * 3) << kind;
  }
}

TEST(MarksAcross, ASlurBeginsAtTheNoteItComesFrom) {
  SongMaker song("4/4", "C major", 1);
  const int g = song.guitar();
  song.event(g, 1, q(0), q(1), {song.fretted(g, 1, 5)});
  song.event(g, 1, q(1), q(1), {song.fretted(g, 3, 5)});
  score::Note pulled = song.fretted(g, 1, 3);
  pulled.more.set().link = {Arrival::PullOff, 0, 0};
  song.event(g, 1, q(2), q(2), {pulled});
  const Engraved e = engraved(song.finish(), 150, "notation");
  const auto slurs = of_kind(frame_of(e), "slur"), heads = of_kind(frame_of(e), "note-head");
  ASSERT_EQ(slurs.size(), 1u);
  EXPECT_LT(layout::box_of(*slurs[0]).left(), layout::box_of(*heads[0]).right() + e.style.staff_space);
}

TEST(MarksAcross, SlashesOfAChartAreNeverTied) {
  SongMaker song("4/4", "C major", 24);
  for (int b = 0; b < 24; ++b) song.harmony(q(b * 4), b % 2 == 0 ? "Cmaj7" : "F");
  const Engraved e = engraved(song.finish(), 90);
  ASSERT_GT(e.section.systems.size(), 1u);
  for (std::size_t s = 0; s < e.section.systems.size(); ++s) EXPECT_TRUE(of_kind(frame_of(e, s), "tie").empty());
}

TEST(TabAlone, AHeldNoteIsTiedAndItsFigureNamedAgainOnlyOnANewLine) {
  for (const std::string staves : {"tab", "both"}) {
    SongMaker song("4/4", "C major", 2);
    const int g = song.guitar();
    song.event(g, 1, q(0), q(3), {song.fretted(g, 2, 5)});
    song.event(g, 1, q(3), q(2), {song.fretted(g, 2, 7)});
    song.event(g, 1, q(5), q(3), {song.fretted(g, 2, 8)});
    const Engraved e = engraved(song.finish(), 150, staves);
    EXPECT_TRUE(texts(frame_of(e), "tab-figure-held").empty()) << staves;
    std::size_t on_tab = 0;
    for (const Item* tie : of_kind(frame_of(e), "tie"))
      on_tab += engrave::kind_of_staff(tie->subject.staff) == engrave::StaffKind::Tab;
    EXPECT_EQ(on_tab, staves == "tab" ? 2u : 0u);
  }
}

TEST(TabAlone, ArcsKeepOffTheStemsOfTheUpperVoice) {
  SongMaker song("4/4", "C major", 1);
  const int g = song.guitar();
  for (int i = 0; i < 4; ++i) {
    score::Note note = song.fretted(g, 1, 7 - i);
    if (i > 0) note.more.set().link = {Arrival::PullOff, i - 1, 0};
    song.event(g, 1, q(i), q(1), {note});
  }
  song.event(g, 2, q(0), q(4), {song.fretted(g, 6, 0)});
  const Engraved e = engraved(song.finish(), 150, "tab");
  const auto arcs = of_kind(frame_of(e), "legato-arc");
  ASSERT_EQ(arcs.size(), 1u);
  for (const Item* stem : of_kind(frame_of(e), "stem")) {
    EXPECT_FALSE(layout::box_of(*arcs[0]).overlaps(layout::box_of(*stem)));
  }
}

TEST(NotationAlone, SaysTheStringWhereThePitchDoesNot) {
  SongMaker song("4/4", "C major", 1);
  const int g = song.guitar();
  song.event(g, 1, q(0), q(1), {song.fretted(g, 1, 3)});
  song.event(g, 1, q(1), q(1), {song.fretted(g, 2, 8)});  // the same pitch higher up
  song.event(g, 1, q(2), q(1), {song.fretted(g, 2, 6)});
  song.event(g, 1, q(3), q(1), {song.fretted(g, 1, 0)});
  song.finish();
  EXPECT_EQ(texts(frame_of(engraved(song.timeline, 150, "notation")), "string-number"), std::vector<std::string>{"2"});
  EXPECT_TRUE(of_kind(frame_of(engraved(song.timeline, 150, "both")), "string-number").empty()) << "the tab says it";
}

TEST(Rows, HoldsHaveThreeShapesAndTheChartHoldsEveryone) {
  SongMaker song("4/4", "C major", 1);
  const int a = song.guitar(), b = song.part("violin", "treble", 0);
  song.event(a, 1, q(0), q(4), {song.fretted(a, 1, 3)});
  song.event(b, 1, q(0), q(4), {song.pitched("C5")});
  song.word(song.section().words, score::WordKind::Hold, q(0), "@");
  song.word(song.music(a).words, score::WordKind::Hold, q(2), "short");
  song.word(song.music(b).words, score::WordKind::Hold, q(3), "long");
  const Engraved e = engraved(song.finish(), 150, "notation");
  const layout::Frame& frame = frame_of(e);
  ASSERT_EQ(of_kind(frame, "fermata").size(), 2u);
  EXPECT_NE(of_kind(frame, "fermata")[0]->subject.staff, of_kind(frame, "fermata")[1]->subject.staff);
  EXPECT_EQ(of_kind(frame, "fermata-short").size(), 2u) << "the angle and its dot";
  EXPECT_EQ(of_kind(frame, "fermata-long").size(), 2u);
}

TEST(Rows, DynamicsOfNeighboursDoNotTouch) {
  SongMaker song("4/4", "C major", 2);
  const int v = song.part("violin", "treble", 0);
  for (int i = 0; i < 16; ++i) {
    song.event(v, 1, q(i, 8), q(1, 8), {song.pitched("C5")});
    if (i % 2 == 0) song.word(song.music(v).words, score::WordKind::Dynamics, q(i, 8), i % 4 == 0 ? "ffff" : "sfz");
  }
  const Engraved e = engraved(song.finish(), 190);
  const auto said = of_kind(frame_of(e), "dynamics");
  ASSERT_EQ(said.size(), 8u);
  for (std::size_t i = 0; i < said.size(); ++i) {
    for (std::size_t j = 0; j < i; ++j) {
      EXPECT_FALSE(layout::box_of(*said[i]).overlaps(layout::box_of(*said[j]))) << i << " and " << j;
    }
  }
}

TEST(Rows, TheTailOfAnFReachesUnderTheLetterBeforeIt) {
  SongMaker song("4/4", "C major", 1);
  const int v = song.part("violin", "treble", 0);
  const std::vector<std::string> marks{"mp", "mf", "ff", "fp"};
  for (int i = 0; i < 4; ++i) {
    song.event(v, 1, q(i), q(1), {song.pitched("C5")});
    song.word(song.music(v).words, score::WordKind::Dynamics, q(i), marks[static_cast<std::size_t>(i)]);
  }
  const Engraved e = engraved(song.finish(), 190);
  const auto said = of_kind(frame_of(e), "dynamics");
  ASSERT_EQ(said.size(), 4U);
  // From the left end of the first letter to that of the second, in widths of an f less the tail.
  std::vector<Length> steps;
  for (const auto* item : said) {
    const auto& glyphs = std::get<layout::GlyphsShape>(item->shape).run.glyphs;
    ASSERT_EQ(glyphs.size(), 2U);
    steps.push_back(glyphs[1].x - glyphs[0].x);
  }
  EXPECT_LT(steps[1], steps[0]) << "mf is closer than mp";
  EXPECT_LT(steps[2], steps[3]) << "ff is closer than fp";
}

TEST(Rows, AHeldVowelHasALineToItsLastNote) {
  SongMaker song("4/4", "C major", 1);
  const int v = song.part("voice", "treble", 0);
  for (int i = 0; i < 4; ++i) song.event(v, 1, q(i), q(1), {song.pitched("C5")});
  song.word(song.music(v).words, score::WordKind::Lyric, q(0), "oh");
  song.word(song.music(v).words, score::WordKind::Lyric, q(3), "yes");
  const Engraved e = engraved(song.finish());
  EXPECT_EQ(texts(frame_of(e), "lyric"), (std::vector<std::string>{"oh", "yes"}));
  const auto lines = of_kind(frame_of(e), "lyric-extend"), heads = of_kind(frame_of(e), "note-head");
  ASSERT_EQ(lines.size(), 1u);
  const Rect line = layout::box_of(*lines[0]);
  EXPECT_GT(line.right(), layout::box_of(*heads[2]).left());
  EXPECT_LT(line.right(), layout::box_of(*heads[3]).left());
}

TEST(Spans, TheWahPedalShowsItsRingAndItsCross) {
  SongMaker song("4/4", "C major", 1);
  const int g = song.guitar();
  for (int i = 0; i < 4; ++i) song.event(g, 1, q(i), q(1), {song.fretted(g, 1, 3)});
  song.finish();
  song.music(g).marks.push_back({"wah", "open", song.place(q(0)), song.place(q(2)), {}});
  song.music(g).marks.push_back({"wah", "closed", song.place(q(2)), song.place(q(3)), {}});
  const Engraved e = engraved(song.timeline, 150, "tab");
  EXPECT_EQ(of_kind(frame_of(e), "wah-open").size(), 1u);
  EXPECT_EQ(of_kind(frame_of(e), "wah-closed").size(), 1u);
}

TEST(Spans, ATrillStandsOverTheHeadsToo) {
  SongMaker song("4/4", "C major", 1);
  const int g = song.guitar();
  song.event(g, 1, q(0), q(4), {song.fretted(g, 1, 3)});
  song.finish();
  song.music(g).marks.push_back({"trill", "on", song.place(q(0)), {1, Fraction()}, {}});
  const auto trills = of_kind(frame_of(engraved(song.timeline, 150, "both")), "trill");
  EXPECT_EQ(trills.size(), 2u);
}

}  // namespace
}  // namespace tunesheaf::test

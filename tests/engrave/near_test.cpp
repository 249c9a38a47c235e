// What stands at a note says so once and touches it; what goes on over a line or into the next section is announced and
// carried on.
#include <gtest/gtest.h>

#include <set>

#include "engrave/sample.h"

namespace tunesheaf::test {
namespace {

using engrave::StaffKind;
using layout::Item;

std::vector<Rect> boxes(const layout::Frame& frame, const std::string& kind, int staff = -2) {
  std::vector<Rect> out;
  for (const Item* item : of_kind(frame, kind)) {
    if (staff == -2 || item->subject.staff == staff) out.push_back(layout::box_of(*item));
  }
  return out;
}

TEST(Announced, KeyAndMeterOfTheSectionThatFollowsStandBehindTheLastBarLine) {
  for (const bool follows : {false, true}) {
    SongMaker song("4/4", "C major", 2);
    const int part = song.part("flute", "treble", 0);
    for (int b = 0; b < 2; ++b) song.event(part, 1, q(4 * b), q(4), {song.pitched("C5")});
    song.finish();
    score::Section next = song.section();
    for (score::Bar& bar : next.bars) {
      bar.key = *theory::parse_key("D major");
      bar.meter = *theory::parse_meter("3/4");
    }
    song.timeline.sections.push_back(next);
    for (const int section : {0, 1}) {
      score::FormStep step;
      step.section = section;
      song.timeline.form.push_back(step);
      if (section == 0 && !follows) {
        score::FormStep leap;
        leap.entry.word = song::FormWord::DaCapo;
        song.timeline.form.push_back(leap);
      }
    }
    engrave::SectionRequest request;
    if (engrave::goes_on_with(song.timeline, 0, 1)) request.next_section = 1;
    const Engraved e = engraved(song.timeline, 120, "notation", request);
    Length last;
    for (const Rect& line : boxes(frame_of(e), "bar-line")) last = std::max(last, line.right());
    const auto behind = [&](const std::string& kind) {
      const auto all = boxes(frame_of(e), kind);
      return std::count_if(all.begin(), all.end(), [&](const Rect& box) { return box.left() > last; });
    };
    EXPECT_EQ(behind("key-signature"), follows ? 2 : 0);
    EXPECT_EQ(behind("meter"), follows ? 2 : 0);
    EXPECT_FALSE(engrave::goes_on_with(song.timeline, 1, 0));
  }
}

TEST(Near, HalfAndWholeRestsOffTheStaffHaveALine) {
  for (const bool half : {false, true}) {
    SongMaker song("4/4", "C major", 1);
    const int g = song.guitar();
    song.event(g, 1, {}, q(half ? 2 : 3), {song.fretted(g, 1, 3)});
    const Engraved e = engraved(song.finish(), 120, "tab");
    const auto rests = boxes(frame_of(e), "rest"), lines = boxes(frame_of(e), "ledger");
    ASSERT_EQ(rests.size(), 1u);
    ASSERT_EQ(lines.size(), half ? 1u : 0u);
    if (!half) continue;
    EXPECT_LT(lines.front().left(), rests.front().left());
    EXPECT_GT(lines.front().right(), rests.front().right());
    EXPECT_LT(base::abs(middle_y(lines.front()) - rests.front().bottom()), e.style.staff_space * 0.15);
  }
}

TEST(Near, FeetAreWrittenUnderBothHands) {
  SongMaker song("4/4", "C major", 1);
  const int keys = song.part("keys", "treble", 0);
  song.event(keys, 1, {}, q(4), {song.pitched("C5")});
  song.event(keys, 2, {}, q(4), {song.pitched("C3")}, 1);
  song.word(song.music(keys).words, score::WordKind::Pedal, {}, "down");
  const Engraved e = engraved(song.finish(), 120, "notation");
  Length lowest;
  for (const Rect& line : boxes(frame_of(e), "staff-line", engrave::staff_number(keys, StaffKind::Lower))) {
    lowest = std::max(lowest, line.bottom());
  }
  const auto pedals = boxes(frame_of(e), "pedal");
  ASSERT_EQ(pedals.size(), 1u);
  ASSERT_GT(lowest, Length{});
  EXPECT_GT(pedals.front().top(), lowest);
}

TEST(Near, AChordThatIsRepeatedFastHasItsStrokesOnceAndNoWordBesides) {
  for (const int quarters : {2, 4}) {
    SongMaker song("4/4", "C major", 1);
    const int g = song.guitar();
    for (int at = 0; at < 4; at += quarters) {
      song.event(g, 1, q(at), q(quarters), {song.fretted(g, 2, 1), song.fretted(g, 1, 3)}).tremolo = true;
    }
    song.music(g).marks.push_back(mark(song, "tremolo picking", {}, q(4)));
    const Engraved e = engraved(song.finish(), 120, "both");
    const std::size_t chords = static_cast<std::size_t>(4 / quarters);
    EXPECT_EQ(boxes(frame_of(e), "tremolo", engrave::staff_number(g, StaffKind::Notation)).size(), 3 * chords);
    EXPECT_EQ(boxes(frame_of(e), "tremolo", engrave::staff_number(g, StaffKind::Tab)).size(), 3 * chords);
    EXPECT_TRUE(boxes(frame_of(e), "technique-span").empty());
  }
}

TEST(Near, ASlideGoesFromHeadToHeadPastAChordBetweenThem) {
  SongMaker song("3/4", "C major", 1);
  const int g = song.guitar();
  song.event(g, 1, {}, q(2), {song.fretted(g, 1, 2)});
  score::Note to = song.fretted(g, 1, 0);
  to.more.set().link = {song::Arrival::ShiftSlide, 0, 0};
  song.event(g, 1, q(2), q(1), {to});
  song.event(g, 2, q(1), q(1), {song.fretted(g, 3, 2)});
  const Engraved e = engraved(song.finish(), 140, "notation");
  const auto heads = boxes(frame_of(e), "note-head");
  std::vector<Rect> pieces = boxes(frame_of(e), "slide");
  ASSERT_FALSE(pieces.empty());
  std::sort(pieces.begin(), pieces.end(), [](const Rect& a, const Rect& b) { return a.left() < b.left(); });
  Length first = heads.front().right(), last;
  for (const Rect& head : heads) {
    first = std::min(first, head.right());
    last = std::max(last, head.left());
  }
  const Length sp = e.style.staff_space;
  EXPECT_LT(pieces.front().left() - first, sp);
  EXPECT_LT(last - pieces.back().right(), sp);
  for (std::size_t i = 0; i + 1 < pieces.size(); ++i) EXPECT_LT(pieces[i + 1].left() - pieces[i].right(), sp);
}

TEST(Near, ASyllableOfSeveralNotesHasASlurAndItsLineGoesOnOverTheBreak) {
  SongMaker song("4/4", "C major", 8);
  const int v = song.part("voice", "treble", 0);
  for (int i = 0; i < 32; ++i) song.event(v, 1, q(i), q(1), {song.pitched(i % 2 == 0 ? "C5" : "E5")});
  song.word(song.music(v).words, score::WordKind::Lyric, q(0), "oh");
  song.word(song.music(v).words, score::WordKind::Lyric, q(30), "there");
  const Engraved e = engraved(song.finish(), 110, "notation");
  ASSERT_GE(e.section.systems.size(), 2u);
  for (std::size_t i = 0; i < e.section.systems.size(); ++i) {
    EXPECT_GE(of_kind(frame_of(e, i), "slur").size(), 1u) << i;
    EXPECT_GE(of_kind(frame_of(e, i), "lyric-extend").size(), 1u) << i;
  }
}

TEST(Near, ABendBeginsAtItsFigureHoweverLateItMoves) {
  SongMaker song("4/4", "C major", 1);
  const int g = song.guitar();
  score::Note note = song.fretted(g, 2, 7);
  note.more.set().bend = {{Fraction(), Fraction()}, {Fraction(1, 2), Fraction()}, {Fraction(1), Fraction(2)}};
  song.event(g, 1, {}, q(4), {note});
  const Engraved e = engraved(song.finish(), 140, "tab");
  const Rect figure = boxes(frame_of(e), "tab-figure").at(0);
  Length left = Length::pt(10000);
  for (const Rect& stroke : boxes(frame_of(e), "bend")) left = std::min(left, stroke.left());
  EXPECT_LT(left - figure.right(), e.style.staff_space);
}

TEST(Near, AQuarterIsWiderThanAnEighthWhereTheMusicIsPressed) {
  SongMaker song("4/4", "C major", 6);
  const int part = song.part("flute", "treble", 0);
  for (int b = 0; b < 6; ++b) {
    song.event(part, 1, q(4 * b), q(2), {song.pitched("C5")});
    song.event(part, 1, q(4 * b + 2), q(1), {song.pitched("C5")});
    for (int i = 0; i < 2; ++i) {
      song.event(part, 1, q(4 * b + 3) + Fraction(i, 8), Fraction(1, 8), {song.pitched("C5")});
    }
  }
  song.finish();
  for (int width = 60; width <= 160; width += 10) {
    const Engraved e = engraved(song.timeline, width, "notation");
    for (const auto& system : e.section.systems) {
      std::vector<Length> xs;
      for (const Rect& head : boxes(*system.frame, "note-head")) xs.push_back(middle_x(head));
      std::sort(xs.begin(), xs.end());
      for (std::size_t i = 0; i + 3 < xs.size(); i += 4) {
        EXPECT_GT((xs[i + 2] - xs[i + 1]) / (xs[i + 3] - xs[i + 2]), 1.2) << width;
      }
    }
  }
}

TEST(Near, ARestOfATabStandsOverAStruckFigureOnlyWhereItIsNeededForTheCount) {
  const auto rests_with_bass_at = [](int bass, int until = 4) {
    SongMaker song("2/4", "C major", 1);
    const int g = song.guitar();
    song.event(g, 1, q(1, 8), q(3, 8), {song.fretted(g, 2, 1)});  // a rest before it
    song.event(g, 2, q(bass, 8), q(until - bass, 8), {song.fretted(g, 6, 3)});
    if (until < 4) song.event(g, 2, q(until, 8), q(4 - until, 8), {song.fretted(g, 5, 2)});
    song.finish();
    return boxes(frame_of(engraved(song.timeline, 150, "tab")), "rest").size();
  };
  EXPECT_EQ(rests_with_bass_at(0, 1), 0u) << "the next bass note stands where it ends";
  EXPECT_EQ(rests_with_bass_at(0), 1u) << "nothing else says how long it is";
  EXPECT_EQ(rests_with_bass_at(2), 2u) << "the upper voice's, and the lower one's before its figure";
}

TEST(Near, ATapOnTheBodyStandsOverStaffAndTab) {
  SongMaker song("4/4", "C major", 1);
  const int g = song.guitar();
  song.event(g, 1, q(0), q(4), {song.fretted(g, 2, 1)});
  song.finish();
  song.music(g).marks.push_back({"body tap", "x", song.place(q(1)), song.place(q(2)), {}});
  const Engraved e = engraved(song.timeline, 150, "both");
  std::set<int> staves;
  for (const Item* item : of_kind(frame_of(e), "body-tap")) staves.insert(item->subject.staff);
  EXPECT_EQ(staves.size(), 2u);
}

TEST(Near, StringsOfPartialStrumsStandOnOneRowOnANarrowPageToo) {
  SongMaker song("4/4", "C major", 1);
  const int g = song.guitar();
  song.music(g).strummed = true;
  score::ShapeUse use;
  use.shape.frets.assign(6, 0);
  song.timeline.shapes.push_back(use);
  for (int i = 0; i < 8; ++i) {
    score::Event& e = song.event(g, 1, q(i, 8), q(1, 8), {song.fretted(g, 1, 0), song.fretted(g, 2, 0)});
    e.kind = score::EventKind::Slash;
    e.strum = true;
    e.shape = 0;
    e.stroke = i % 2 == 0 ? song::StrokeDirection::Down : song::StrokeDirection::Up;
  }
  const Engraved e = engraved(song.finish(), 60);
  auto strings = boxes(frame_of(e), "partial-stroke");
  std::sort(strings.begin(), strings.end(), [](const Rect& a, const Rect& b) { return a.left() < b.left(); });
  ASSERT_EQ(strings.size(), 8u);
  for (std::size_t i = 1; i < strings.size(); ++i) {
    EXPECT_EQ(strings[i].bottom(), strings.front().bottom());
    EXPECT_GT(strings[i].left(), strings[i - 1].right());
  }
}

TEST(Near, TheFlagOfASmallNoteEndsOverTheHeadItLeansOn) {
  for (const char* main : {"D5", "E5", "F5"}) {
    SongMaker song("4/4", "C major", 1);
    const int p = song.part("fiddle", "treble", 0);
    song.event(p, 1, q(0), q(4), {song.pitched(main)});
    song.last().grace.set().notes.push_back(song.pitched("D5"));
    const Engraved e = engraved(song.finish(), 150);
    const auto flags = boxes(frame_of(e), "grace-flag"), heads = boxes(frame_of(e), "note-head");
    ASSERT_EQ(flags.size(), 1u);
    ASSERT_EQ(heads.size(), 1u);
    EXPECT_LT(flags.front().bottom(), heads.front().top()) << main;
  }
}

}  // namespace
}  // namespace tunesheaf::test

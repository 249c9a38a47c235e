// Rules of engraving that are seen at a glance when they are broken: equal values stand equally, counts stand under the
// notes that are struck, signs that change on the way back stand within the repeat, what is held is tied.
#include <gtest/gtest.h>

#include <set>

#include "engrave/sample.h"

namespace tunesheaf::test {
namespace {

using engrave::kind_of_staff;
using engrave::StaffKind;
using layout::Item;

std::vector<Length> middles(const Engraved& e, const std::string& kind) {
  std::vector<Length> xs;
  for (const Item* item : of_kind(frame_of(e), kind)) xs.push_back(middle_x(layout::box_of(*item)));
  std::sort(xs.begin(), xs.end());
  return xs;
}

std::vector<std::pair<Length, std::string>> words(const Engraved& e, const std::string& kind) {
  std::vector<std::pair<Length, std::string>> found;
  for (const Item* item : of_kind(frame_of(e), kind)) {
    found.emplace_back(middle_x(layout::box_of(*item)), text_of(*item));
  }
  std::sort(found.begin(), found.end());
  return found;
}

/// Three notes in the time of two quarters, twice, on a guitar; a drum kit plays eighths against them.
score::Timeline three_against_four(bool drums) {
  SongMaker song("4/4", "C major", 1);
  const int g = song.guitar();
  for (int i = 0; i < 6; ++i) song.event(g, 1, Fraction(i, 6), Fraction(1, 6), {song.fretted(g, 1, 3 + i)});
  if (drums) {
    const int d = song.drums();
    for (int i = 0; i < 8; ++i) song.event(d, 1, Fraction(i, 8), Fraction(1, 8), {song.drum(1)});
  }
  return song.finish();
}

TEST(Principles, EqualValuesOfATupletStandEquallyFarApart) {
  for (const bool drums : {false, true}) {
    const Engraved e = engraved(three_against_four(drums), 160, "tab");
    const std::vector<Length> xs = middles(e, "tab-figure");
    ASSERT_EQ(xs.size(), 6u);
    const Length least = e.style.staff_space * 0.06;
    for (const std::size_t i : {0u, 3u}) {
      const Length first = xs[i + 1] - xs[i], second = xs[i + 2] - xs[i + 1];
      EXPECT_LE(std::max(first, second) - std::min(first, second), least) << drums << " from " << i;
    }
  }
}

TEST(Principles, EveryStruckThirdOfABeatHasItsSyllable) {
  engrave::SectionRequest request;
  request.beat_count = true;
  const Engraved e = engraved(three_against_four(false), 160, "tab", request);
  std::string said;
  for (const auto& [x, word] : words(e, "count")) said += word + " ";
  EXPECT_EQ(said, "1 (la) li (2) la (li) 3 (la) li (4) la ") << "the last third, not struck, has no room here";
  for (const Length note : middles(e, "tab-figure")) {
    const auto all = words(e, "count");
    const bool under = std::any_of(all.begin(), all.end(), [&](const auto& word) {
      const Length off = word.first > note ? word.first - note : note - word.first;
      return word.second.front() != '(' && off < e.style.staff_space * 0.2;
    });
    EXPECT_TRUE(under) << "each struck note has a syllable under it";
  }
}

TEST(Principles, WhatIsHeldOrSilentOnABeatIsCountedInBracketsAndSmaller) {
  SongMaker song("4/4", "C major", 1);
  const int g = song.guitar();
  song.event(g, 1, {}, Fraction(3, 8), {song.fretted(g, 1, 3)});
  song.event(g, 1, Fraction(3, 8), Fraction(1, 8), {song.fretted(g, 1, 3)});
  song.event(g, 1, q(3), q(1), {song.fretted(g, 1, 3)});
  engrave::SectionRequest request;
  request.beat_count = true;
  const Engraved e = engraved(song.finish(), 160, "tab", request);
  std::string said;
  for (const auto& [x, word] : words(e, "count")) said += word + " ";
  EXPECT_EQ(said, "1 (2) & (3) 4 ");
}

TEST(Principles, BeatsOfUnequalLengthAreCountedWhole) {
  SongMaker song("7/8 (2+2+3)", "C major", 1);
  const int g = song.guitar();
  song.event(g, 1, {}, Fraction(1, 4), {song.fretted(g, 1, 3)});
  song.event(g, 1, q(1), Fraction(1, 4), {song.fretted(g, 1, 3)});
  song.event(g, 1, q(2), Fraction(3, 8), {song.fretted(g, 1, 3)});
  engrave::SectionRequest request;
  request.beat_count = true;
  const Engraved e = engraved(song.finish(), 160, "tab", request);
  std::string said;
  for (const auto& [x, word] : words(e, "count")) said += word + " ";
  EXPECT_EQ(said, "1 (&) 2 (&) 3 (la) (li) ") << "every eighth of the beat in three has its room";
}

TEST(Principles, AMeterThatTheRepeatComesBackToStandsWithinIt) {
  for (const bool returns : {false, true}) {
    SongMaker song("4/4", "C major", 3);
    const int g = song.guitar();
    for (const int b : {1, 2}) {
      song.bar(b).meter = *theory::parse_meter("3/4");
      song.bar(b).length = q(3);
    }
    if (returns) {
      song.bar(2).meter = *theory::parse_meter("2/4");
      song.bar(2).length = q(2);
      song.bar(2).show_meter = true;
    }
    song.bar(1).show_meter = song.bar(1).repeat_begin = true;
    song.bar(2).end = score::BarLine::RepeatEnd;
    song.event(g, 1, {}, q(4), {song.fretted(g, 1, 3)});
    song.event(g, 1, q(4), q(3), {song.fretted(g, 1, 3)});
    song.event(g, 1, q(7), q(returns ? 2 : 3), {song.fretted(g, 1, 3)});
    const Engraved e = engraved(song.finish(), 170, "notation");
    const std::vector<Length> dots = middles(e, "repeat-dot"), meters = middles(e, "meter");
    ASSERT_EQ(dots.size(), 4u);
    const auto after = std::count_if(meters.begin(), meters.end(), [&](Length x) { return x > dots.front(); });
    EXPECT_EQ(after, returns ? 4 : 0) << "digits of the meter of bar 2, and of bar 3 where it has its own";
  }
}

TEST(Principles, AKeyThatChangesWithinASectionHasADoubleBar) {
  for (const bool changes : {false, true}) {
    SongMaker song("4/4", "C major", 2);
    const int g = song.guitar();
    if (changes) {
      song.bar(1).key = *theory::parse_key("D major");
      song.bar(1).show_key = true;
    }
    song.event(g, 1, {}, q(4), {song.fretted(g, 1, 3)});
    song.event(g, 1, q(4), q(4), {song.fretted(g, 1, 3)});
    const Engraved e = engraved(song.finish(), 150, "notation");
    EXPECT_EQ(of_kind(frame_of(e), "bar-line").size(), changes ? 4u : 3u);  // two of them are the final bar
  }
}

TEST(Principles, ASilentPickUpRestsAsLongAsItIs) {
  SongMaker song("4/4", "C major", 2);
  const int g = song.guitar(), d = song.drums();
  song.bar(0).length = q(1);
  song.bar(0).pick_up = true;
  song.event(d, 1, {}, q(1), {song.drum(1)});
  song.event(g, 1, q(1), q(4), {song.fretted(g, 1, 3)});
  const Engraved e = engraved(song.finish(), 150, "notation");
  const std::vector<const Item*> rests = of_kind(frame_of(e), "rest");
  ASSERT_GE(rests.size(), 1u);
  const Rect box = layout::box_of(*rests.front());
  EXPECT_GT(box.height, e.style.staff_space * 2) << "a quarter rest, not a whole one";
}

TEST(Principles, ASlideLeavesWhereItsNoteWasLastHeld) {
  for (const std::string staves : {"tab", "notation"}) {
    SongMaker song("4/4", "C major", 1);
    const int g = song.guitar();
    const score::Event& from = song.event(g, 1, Fraction(1, 8), Fraction(5, 8), {song.fretted(g, 1, 5)});
    score::Note to = song.fretted(g, 1, 9);
    to.more.set().link = {song::Arrival::ShiftSlide, from.id, 0};
    song.event(g, 1, q(3), q(1), {to});
    const Engraved e = engraved(song.finish(), 150, staves);
    const std::vector<const Item*> slides = of_kind(frame_of(e), "slide");
    ASSERT_EQ(slides.size(), 1u) << staves;
    Length held;  // right edge of the last held piece
    for (const char* kind : {"tab-figure-held", "note-head-tied"}) {
      for (const Item* item : of_kind(frame_of(e), kind)) held = std::max(held, layout::box_of(*item).right());
    }
    ASSERT_GT(held, Length{}) << staves;
    EXPECT_GE(layout::box_of(*slides.front()).left(), held) << staves;
    for (const Item* tie : of_kind(frame_of(e), "tie")) {
      EXPECT_LE(layout::box_of(*tie).right(), layout::box_of(*slides.front()).left()) << staves;
    }
  }
}

TEST(Principles, TheEightOfABassClefHangsClearOfTheStaff) {
  SongMaker song("4/4", "C major", 1);
  const int b = song.part("bass", "bass 8vb", 1);
  song.event(b, 1, {}, q(4), {song.pitched("E2")});
  const Engraved e = engraved(song.finish(), 150, "notation");
  Length lowest_line, top_of_eight;
  for (const Item* line : of_kind(frame_of(e), "staff-line")) {
    lowest_line = std::max(lowest_line, layout::box_of(*line).bottom());
  }
  bool found = false;
  for (const Item* clef : of_kind(frame_of(e), "clef")) {
    if (text_of(*clef) != "8") continue;
    found = true;
    top_of_eight = layout::box_of(*clef).top();
  }
  ASSERT_TRUE(found);
  EXPECT_GT(top_of_eight, lowest_line);
}

TEST(Principles, GraceNotesOfOnePartDoNotHoldOthersApart) {
  const auto gap = [](int small) {
    SongMaker song("4/4", "C major", 1);
    const int g = song.guitar(), d = song.drums();
    for (int i = 0; i < 8; ++i) song.event(g, 1, Fraction(i, 8), Fraction(1, 8), {song.fretted(g, 1, i)});
    song.event(d, 1, {}, q(2), {song.drum(1)});
    song.event(d, 1, q(2), q(2), {song.drum(1)}).notes[0].drum_grace = static_cast<std::int8_t>(small);
    const Engraved e = engraved(song.finish(), 150, "notation");
    std::vector<Length> xs;
    for (const Item* head : of_kind(frame_of(e), "note-head")) {
      if (engrave::part_of_staff(head->subject.staff) == 0) xs.push_back(middle_x(layout::box_of(*head)));
    }
    std::sort(xs.begin(), xs.end());
    return xs.at(4) - xs.at(3);
  };
  EXPECT_LE(gap(3), gap(0) * 1.05);
}

TEST(Principles, RestsOfAVoiceStandAtOneHeightInABar) {
  SongMaker song("4/4", "C major", 1);
  const int d = song.drums();
  song.event(d, 1, {}, q(2), {song.drum(0)});
  song.event(d, 1, q(2), q(2), {song.drum(1)});
  song.event(d, 2, Fraction(1, 8), Fraction(3, 8), {song.drum(2)});
  song.event(d, 2, Fraction(5, 8), Fraction(3, 8), {song.drum(2)});
  const Engraved e = engraved(song.finish(), 150, "notation");
  std::set<Length> heights;
  for (const Item* rest : of_kind(frame_of(e), "rest")) heights.insert(layout::box_of(*rest).top());
  EXPECT_EQ(heights.size(), 1u);
}

TEST(Principles, NoFingerIsWrittenAmongTheHeads) {
  SongMaker song("4/4", "C major", 1);
  const int g = song.guitar();
  score::Note low = song.fretted(g, 4, 2), high = song.fretted(g, 1, 3);
  low.finger = 2;
  high.finger = 4;
  song.event(g, 1, {}, q(4), {low, high});
  const Engraved e = engraved(song.finish(), 150, "notation");
  Length top = Length::pt(1000);
  for (const Item* line : of_kind(frame_of(e), "staff-line")) top = std::min(top, layout::box_of(*line).top());
  const std::vector<const Item*> fingers = of_kind(frame_of(e), "fretting-finger");
  ASSERT_EQ(fingers.size(), 2u);
  for (const Item* finger : fingers) EXPECT_LT(layout::box_of(*finger).bottom(), top);
}

// ---------------------------------------------------------------- a tab with its lines upside down

/// A melody on string 1 over a bass on string 6, a chord rolled downwards by a down stroke, on tab alone.
Engraved mirrored(bool mirror) {
  SongMaker song("4/4", "C major", 1);
  const int g = song.guitar();
  for (int i = 0; i < 2; ++i) song.event(g, 1, q(i), q(1), {song.fretted(g, 1, 3 + i)});
  score::Event& chord = song.event(g, 1, q(2), q(2), {song.fretted(g, 1, 0), song.fretted(g, 2, 1)});
  chord.rolled = true;
  chord.stroke = song::StrokeDirection::Down;
  song.event(g, 2, q(0), q(4), {song.fretted(g, 6, 8)});
  return engraved(song.finish(), 150, "tab", {},
                  mirror ? +[](style::Style& style) { style.tab_mirrored = true; } : nullptr);
}

TEST(MirroredTab, EveryFigureStandsOnTheLineOfItsStringFromTheOtherEnd) {
  const Engraved usual = mirrored(false), turned = mirrored(true);
  const auto heights = [](const Engraved& e) {
    std::vector<std::pair<std::string, Length>> found;
    const Length top = layout::box_of(*of_kind(frame_of(e), "tab-line").front()).top();
    for (const Item* item : of_kind(frame_of(e), "tab-figure"))
      found.emplace_back(text_of(*item), middle_y(layout::box_of(*item)) - top);
    std::sort(found.begin(), found.end());
    return found;
  };
  const auto a = heights(usual), b = heights(turned);
  ASSERT_EQ(a.size(), 5u);
  ASSERT_EQ(b.size(), 5u);
  const auto lines = of_kind(frame_of(usual), "tab-line");
  const Length height = layout::box_of(*lines.back()).top() - layout::box_of(*lines.front()).top();
  for (std::size_t i = 0; i < a.size(); ++i) {
    EXPECT_EQ(a[i].first, b[i].first);
    EXPECT_LT(base::abs(a[i].second + b[i].second - height), Length::pt(1)) << a[i].first;  // figures hang a little
  }
}

TEST(MirroredTab, TheBassHasItsStemsAboveAndADownStrokeRollsDown) {
  for (const bool mirror : {false, true}) {
    const Engraved e = mirrored(mirror);
    const Length top = layout::box_of(*of_kind(frame_of(e), "tab-line").front()).top();
    for (const Item* stem : of_kind(frame_of(e), "stem"))
      EXPECT_EQ(layout::box_of(*stem).top() < top, !mirror) << "the melody's, for a whole note has none";
    const Rect roll = layout::box_of(*of_kind(frame_of(e), "roll").front());
    const Rect arrow = layout::box_of(*of_kind(frame_of(e), "roll-arrow").front());
    EXPECT_EQ(middle_y(arrow) < middle_y(roll), !mirror);
  }
}

TEST(MirroredTab, LettersOfTheStringsStandInPlaceOfTheClef) {
  const Engraved e = mirrored(true);
  EXPECT_TRUE(of_kind(frame_of(e), "clef").empty());
  std::vector<std::pair<Length, std::string>> letters;
  for (const Item* item : of_kind(frame_of(e), "string-letter"))
    letters.emplace_back(middle_y(layout::box_of(*item)), text_of(*item));
  std::sort(letters.begin(), letters.end());
  std::string all;
  for (const auto& letter : letters) all += letter.second;
  EXPECT_EQ(all, "EADGBE") << "from the top line down: strings 6 to 1";
}

}  // namespace
}  // namespace tunesheaf::test

// Staves of drums: heads and places, few lines, sticking, small strokes before the stroke.
#include <gtest/gtest.h>

#include "engrave/sample.h"

namespace tunesheaf::test {
namespace {

using layout::Item;

/// One quarter of each drum in turn.
SongMaker kit_of(const std::vector<std::string>& drums, int bars = 1) {
  SongMaker song("4/4", "C major", bars);
  const int part = song.part("drums", "percussion", 0);
  const theory::DrumStaff staff = theory::drum_staff(drums);
  for (std::size_t i = 0; i < drums.size(); ++i) song.timeline.parts[0].kit.push_back({drums[i], staff.places[i]});
  song.timeline.parts[0].kit_lines = staff.lines;
  for (std::size_t i = 0; i < drums.size(); ++i) {
    song.event(part, 1, q(static_cast<int>(i)), q(1), {song.drum(static_cast<int>(i))});
  }
  return song;
}

TEST(Kit, HandPercussionStandsOnFewLinesAndItsBarLinesAreSeen) {
  SongMaker song = kit_of({"bass", "slap"}, 2);
  const Engraved e = engraved(song.finish());
  const layout::Frame& frame = frame_of(e);
  const auto lines = of_kind(frame, "staff-line"), heads = of_kind(frame, "note-head"),
             bars = of_kind(frame, "bar-line");
  ASSERT_EQ(lines.size(), 1u);
  ASSERT_EQ(heads.size(), 2u);
  const Length line = middle_y(layout::box_of(*lines[0]));
  EXPECT_GT(middle_y(layout::box_of(*heads[0])), line) << "the bass tone below the line";
  EXPECT_LT(middle_y(layout::box_of(*heads[1])), line) << "the slap above it";
  ASSERT_FALSE(bars.empty());
  for (const Item* bar : bars) EXPECT_GE(layout::box_of(*bar).height, e.style.staff_space * 1.9);
}

TEST(Kit, WholeRestsHangFromALineOfAnyStaff) {
  for (const std::vector<std::string>& drums :
       {std::vector<std::string>{"claps"}, {"bass", "ghost", "slap", "tap"}, {"kick", "snare"}}) {
    SongMaker song = kit_of(drums, 2);
    const Engraved e = engraved(song.finish());
    const auto rests = of_kind(frame_of(e), "rest"), lines = of_kind(frame_of(e), "staff-line");
    const Rect rest = layout::box_of(*rests.back());
    const bool hangs = std::any_of(lines.begin(), lines.end(), [&](const Item* line) {
      return base::abs(middle_y(layout::box_of(*line)) - rest.top()) < e.style.staff_space * 0.2;
    });
    EXPECT_TRUE(hangs) << drums.size() << " drums";
  }
}

TEST(Kit, StickingStandsInOneRow) {
  SongMaker song = kit_of({"hat", "snare", "floor tom", "crash"});
  for (std::size_t i = 0; i < 4; ++i) song.timeline.events[i].notes[0].hand = i % 2 == 0 ? 'R' : 'L';
  const Engraved e = engraved(song.finish());
  const auto letters = of_kind(frame_of(e), "sticking");
  ASSERT_EQ(letters.size(), 4u);
  for (const Item* letter : letters) EXPECT_EQ(letter->at.y, letters[0]->at.y);
}

TEST(Kit, AFlamIsASmallSlashedStrokeOnTheDrumThatIsStruck) {
  SongMaker song("4/4", "C major", 1);
  const int part = song.drums();
  song.event(part, 1, q(0), q(1), {song.drum(0), song.drum(1)}).notes[1].drum_grace =
      1;  // the hat, and the snare with its flam
  song.event(part, 1, q(1), q(1), {song.drum(1)}).notes[0].drum_grace = 2;
  const Engraved e = engraved(song.finish());
  const layout::Frame& frame = frame_of(e);
  const auto small = of_kind(frame, "grace-head"), heads = of_kind(frame, "note-head");
  ASSERT_EQ(small.size(), 3u);
  const Length snare = middle_y(layout::box_of(*of_kind(frame, "note-head").back()));
  for (const Item* head : small) {
    EXPECT_LE(base::abs(middle_y(layout::box_of(*head)) - snare), e.style.staff_space * 0.1);
  }
  EXPECT_EQ(of_kind(frame, "grace-slash").size(), 1u) << "the flam, not the drag";
  EXPECT_EQ(of_kind(frame, "grace-slur").size(), 2u);
}

TEST(Kit, RingsSayHowFarTheHatIsOpen) {
  SongMaker song = kit_of({"hat", "hat open", "hat half"});
  song.timeline.events[0].notes[0].half_open = true;
  const Engraved e = engraved(song.finish());
  EXPECT_EQ(of_kind(frame_of(e), "drum-ring").size(), 3u);
  EXPECT_EQ(of_kind(frame_of(e), "drum-half").size(), 2u);
}

}  // namespace
}  // namespace tunesheaf::test

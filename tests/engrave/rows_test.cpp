// Rows around staves: what is everyone's stands over the top staff, what belongs to a note stands nearer to it than
// words and lines, and what a line break cuts goes on as it broke off.
#include <gtest/gtest.h>

#include "engrave/sample.h"

namespace tunesheaf::test {
namespace {

using engrave::kind_of_staff;
using engrave::StaffKind;
using layout::Item;

Rect only(const layout::Frame& frame, const std::string& kind) {
  const auto found = of_kind(frame, kind);
  EXPECT_EQ(found.size(), 1u) << kind;
  return found.empty() ? Rect{} : layout::box_of(*found.front());
}
Length top_line(const layout::Frame& frame, int staff) {
  Length top = Length::pt(10000);
  for (const Item* line : of_kind(frame, "staff-line")) {
    if (line->subject.staff == staff) top = std::min(top, line->at.y);
  }
  return top;
}

TEST(RowOrder, SlowerByAndByStandsOverTheTopStaffOnceWhoeverSaysIt) {
  SongMaker song("4/4", "C major", 2);
  const int high = song.part("flute", "treble", 0), low = song.part("fiddle", "treble", 0);
  for (const int p : {high, low}) {
    for (int b = 0; b < 2; ++b) song.event(p, 1, q(4 * b), q(4), {song.pitched("C5")});
  }
  song.music(low).marks.push_back(mark(song, "ritardando", q(2), q(8)));
  song.music(high).marks.push_back(mark(song, "ritardando", q(4), q(8)));
  const Engraved e = engraved(song.finish(), 120, "notation");
  const Rect words = only(frame_of(e), "tempo");
  EXPECT_LT(words.bottom(), top_line(frame_of(e), engrave::staff_number(high, StaffKind::Notation)));
  EXPECT_EQ(of_kind(frame_of(e), "tempo-line").size(), 2u) << "a line and its hook";
  EXPECT_TRUE(of_kind(frame_of(e), "technique-span").empty());
}

/// Distances between the two strokes of the hairpins of a system at their left and right ends.
std::pair<Length, Length> opening(const layout::Frame& frame, const std::string& kind) {
  std::vector<Length> left, right;
  for (const Item* item : of_kind(frame, kind)) {
    const auto* line = std::get_if<layout::LineShape>(&item->shape);
    if (line == nullptr) continue;
    left.push_back(item->at.y);
    right.push_back(item->at.y + line->to.y);
  }
  if (left.size() != 2) return {};
  return {base::abs(left[0] - left[1]), base::abs(right[0] - right[1])};
}

TEST(RowOrder, AHairpinCutByALineBreakGoesOnAsWideAsItBrokeOff) {
  for (const std::string kind : {"crescendo", "diminuendo", "fade in", "fade out"}) {
    SongMaker song("4/4", "C major", 8);
    const int part = song.part("flute", "treble", 0);
    for (int i = 0; i < 32; ++i) song.event(part, 1, q(i), q(1), {song.pitched("C5")});
    song.music(part).marks.push_back(mark(song, kind, q(1), q(31)));
    const Engraved e = engraved(song.finish(), 110, "notation");
    ASSERT_GE(e.section.systems.size(), 2u);
    const std::string drawn = kind.substr(0, 4) == "fade" ? "technique-line" : "hairpin";
    const bool grows = kind == "crescendo" || kind == "fade in";
    for (std::size_t i = 0; i + 1 < e.section.systems.size(); ++i) {
      const auto before = opening(frame_of(e, i), drawn), after = opening(frame_of(e, i + 1), drawn);
      EXPECT_EQ(before.second, after.first) << kind;
      EXPECT_GT(after.first, Length{}) << kind;
      EXPECT_EQ(grows, before.first < before.second) << kind;
    }
  }
}

TEST(RowOrder, SignsOfANoteStandNearerToItThanWordsAndLines) {
  SongMaker song("4/4", "C major", 1);
  const int part = song.part("fiddle", "treble", 0);
  song.event(part, 1, {}, q(4), {song.pitched("C5")}).accents.accent = true;
  song.music(part).marks.push_back(mark(song, "with mute", {}, q(4)));
  song.music(part).marks.push_back(mark(song, "trill", {}, q(4)));
  song.word(song.music(part).words, score::WordKind::Say, {}, "from far off");
  song.word(song.music(part).words, score::WordKind::Hold, {}, "@");
  song.word(song.music(part).words, score::WordKind::Bow, {}, "D");
  song.harmony({}, "C");
  const Engraved e = engraved(song.finish(), 120, "notation");
  const std::vector<std::string> outwards{"accent",         "bow",       "trill",     "fermata",
                                          "technique-span", "direction", "chord-name"};
  for (std::size_t i = 0; i + 1 < outwards.size(); ++i) {
    const Rect near = only(frame_of(e), outwards[i]), far = only(frame_of(e), outwards[i + 1]);
    EXPECT_LT(far.bottom(), near.top()) << outwards[i + 1] << " over " << outwards[i];
  }
}

TEST(RowOrder, AHoldStandsOverWhatSoundsAndTurnedUnderALowerVoiceThatRests) {
  for (const bool lower : {false, true}) {
    SongMaker song("3/4", "C major", 1);
    const int part = song.part("fiddle", "treble", 0);
    song.event(part, 1, {}, q(3), {song.pitched("C5")});
    if (lower) song.event(part, 2, {}, q(2), {song.pitched("E4")});
    song.word(song.music(part).words, score::WordKind::Hold, q(2), "@");
    const Engraved e = engraved(song.finish(), 120, "notation");
    const auto heads = of_kind(frame_of(e), "note-head");
    std::vector<const Item*> holds = of_kind(frame_of(e), "fermata");
    ASSERT_EQ(holds.size(), lower ? 2u : 1u);
    std::sort(holds.begin(), holds.end(), [](const Item* a, const Item* b) { return a->at.y < b->at.y; });
    const Rect head = layout::box_of(*heads.front()), over = layout::box_of(*holds.front());
    EXPECT_LT(base::abs(middle_x(over) - middle_x(head)), e.style.staff_space * 0.2);
    if (!lower) continue;
    const Rect under = layout::box_of(*holds.back());
    EXPECT_GT(under.left(), head.right());
    EXPECT_GT(under.top(), head.bottom());
  }
}

}  // namespace
}  // namespace tunesheaf::test

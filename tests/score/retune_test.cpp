// Strings retuned within the song: what frets sound, where the player is told, and how shapes are heard.
#include <gtest/gtest.h>

#include "score/support.h"

namespace tunesheaf::score {
namespace {

Built retuned_song(const std::string& sections, const std::string& head = "") {
  return build_text("t.yaml",
                    "song: T\nmeter: 3/4\n" + head + "parts:\n  guitar: {instrument: guitar}\nsections:\n" + sections);
}

std::vector<int> keys_of(const Timeline& t, std::size_t section) {
  std::vector<int> out;
  for (const auto& bar : t.sections.at(section).parts.at(0).voices.at(0).bars)
    for (const Segment& s : bar)
      if (s.event >= 0 && !s.rest) out.push_back(t.events[static_cast<std::size_t>(s.event)].notes[0].midi);
  return out;
}

std::vector<std::string> told(const Timeline& t, std::size_t section) {
  std::vector<std::string> out;
  for (const Word& word : t.sections.at(section).parts.at(0).words)
    if (word.kind == WordKind::Retune) out.push_back(word.text);
  return out;
}

constexpr const char* kBridge =
    "  bridge:\n    guitar: |\n      retune | - : 6=D2 : - | |\n      6      | 0 : 0 : 2     | 0 : <12> : 3tr5 |\n";

TEST(Retune, FretsSoundAsTunedFromThereOn) {
  const Built built = retuned_song(std::string(kBridge) + "  outro:\n    guitar: \"6 | 0 : 2 : 3 |\"\n");
  ASSERT_TRUE(built.timeline) << built.findings();
  const Timeline& t = *built.timeline;
  EXPECT_EQ(keys_of(t, 0), (std::vector<int>{40, 38, 40, 38, 50, 41}));
  EXPECT_EQ(keys_of(t, 1), (std::vector<int>{38, 40, 41})) << "the tuning is kept by the section that follows";
  EXPECT_EQ(told(t, 0), std::vector<std::string>{"retune string 6 to D"});
  EXPECT_TRUE(told(t, 1).empty());
}

TEST(Retune, BackIsThePartsOwnTuningAndIsToldAsAWayBack) {
  const Built built = retuned_song("  verse:\n    guitar: |\n      retune | back |\n      6 | 0 : 2 : 3 |\n" +
                                   std::string(kBridge) + "form: [verse, bridge, verse]\n");
  ASSERT_TRUE(built.timeline) << built.findings();
  EXPECT_EQ(keys_of(*built.timeline, 0), (std::vector<int>{40, 42, 43}));
  EXPECT_EQ(told(*built.timeline, 0), std::vector<std::string>{"coming back, retune string 6 to E"});
  const RetunesWithin within = retunes_within(*built.timeline, 0);
  ASSERT_EQ(within.tunings.size(), 1U);
  EXPECT_EQ(within.tunings[0].first, "string 6 in D");
  EXPECT_EQ(within.tunings[0].second, std::vector<int>{1});
  EXPECT_EQ(within.up, std::vector<int>{6}) << "back to E the string goes up";
}

TEST(Retune, AShapeIsHeardInEachTuningItIsHeldIn) {
  const Built built = retuned_song(
      "  verse:\n    guitar: |\n      shape | low |\n      strum | D : D : D |\n"
      "  bridge:\n    guitar: |\n      retune | 6=D2 |\n      shape | low |\n      strum | D : D : D |\n",
      "key: D major\nshapes:\n  low: {frets: 0 0 0 2 3 2}\n");
  ASSERT_TRUE(built.timeline) << built.findings();
  const Timeline& t = *built.timeline;
  ASSERT_EQ(t.shapes.size(), 2U);
  EXPECT_EQ(t.shapes[0].sounding[0]->midi(), 40);
  EXPECT_EQ(t.shapes[1].sounding[0]->midi(), 38);
  EXPECT_EQ(t.shapes[1].tuned, "string 6 in D");
  EXPECT_EQ(t.shapes[1].ear_text, "D");
  EXPECT_TRUE(t.shapes[0].tuned.empty());
}

TEST(Retune, ASecondPassMustComeInTheSameTuning) {
  const Built built =
      retuned_song("  verse:\n    times: 2\n    guitar: |\n      retune | - | 6=D2 |\n      6 | 0 : 2 : 3 | 0 |\n");
  EXPECT_FALSE(built.timeline);
  EXPECT_NE(built.findings().find("in two tunings"), std::string::npos) << built.findings();
}

TEST(Drums, GraceStrokesRollsAndHandsBelongToTheDrumThatHasThem) {
  const Built built = build_text("t.yaml",
                                 "song: T\nmeter: 2/4\nparts:\n  drums: {instrument: drum kit}\nsections:\n  a:\n"
                                 "    drums: |\n      hat   | xR : x |\n      snare | fxL : xz |\n");
  ASSERT_TRUE(built.timeline) << built.findings();
  const Timeline& t = *built.timeline;
  for (const Event& event : t.events) {
    ASSERT_EQ(event.notes.size(), 2U);
    for (const Note& note : event.notes) {
      const bool snare = t.parts[0].kit[static_cast<std::size_t>(note.drum)].name == "snare";
      const bool first = event.at.onset == Fraction(0);
      EXPECT_EQ(note.drum_grace, snare && first ? 1 : 0);
      EXPECT_EQ(note.hand, !first ? 0 : snare ? 'L' : 'R');
      EXPECT_EQ(note.buzz, snare && !first);
    }
  }
}

TEST(Clefs, StandFromTheirPlaceOn) {
  const Built built = build_text("t.yaml",
                                 "song: T\nmeter: 2/4\nparts:\n  cello: {instrument: cello}\nsections:\n  a:\n"
                                 "    cello: |\n      clef  | - : tenor | treble-8 |\n      notes | D3 : A3 | D4 |\n");
  ASSERT_TRUE(built.timeline) << built.findings();
  const auto& clefs = built.timeline->sections[0].parts[0].clefs;
  ASSERT_EQ(clefs.size(), 2U);
  EXPECT_EQ(clefs[0].clef, "tenor");
  EXPECT_EQ(clefs[0].at, (Place{0, Fraction(1, 4)}));
  EXPECT_EQ(clefs[1].clef, "treble 8vb");
  EXPECT_EQ(clefs[1].octave_shift, 1);
}

}  // namespace
}  // namespace tunesheaf::score

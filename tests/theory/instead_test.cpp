#include "tunesheaf/theory/instead.h"

#include <gtest/gtest.h>

#include <algorithm>

#include "theory/shapes.h"
#include "tunesheaf/theory/familiar.h"
#include "tunesheaf/theory/naming.h"

namespace tunesheaf::theory {
namespace {

std::vector<ChordName> chords(std::initializer_list<const char*> names) {
  std::vector<ChordName> out;
  for (const char* name : names) out.push_back(parse_chord(name).value());
  return out;
}

std::string fingered(const InsteadOption& option) {
  std::string out;
  for (const ChordName& c : option.fingered) out += print(c) + " ";
  return out;
}

TEST(Instead, FlatKeysGoBehindACapo) {
  InsteadWishes wishes;
  wishes.key = parse_key("Eb").value();
  const auto song = chords({"Eb", "Cm", "Ab", "Bb7", "N.C.", "Eb"});
  const auto options = play_instead(song, find_tuning("guitar", "usual").value(), wishes);
  ASSERT_EQ(options.size(), 8U);
  // Common practice: Eb is played as D with the capo at 1, or as C with the capo at 3.
  EXPECT_TRUE(options[0].capo == 1 || options[0].capo == 3) << options[0].capo;
  for (const InsteadOption& o : options) {
    if (o.capo == 1) {
      EXPECT_EQ(fingered(o), "D Bm G A7 N.C. D ");
      EXPECT_EQ(print(*o.key), "D major");
    }
    if (o.capo == 3) {
      EXPECT_EQ(fingered(o), "C Am F G7 N.C. C ");
    }
  }
  for (std::size_t i = 1; i < options.size(); ++i) EXPECT_LE(options[i - 1].cost, options[i].cost);
}

TEST(Instead, EveryOptionSoundsTheSameChords) {
  InsteadWishes wishes;
  wishes.key = parse_key("F#m").value();
  wishes.semitones = -1;
  const auto song = chords({"F#m", "D", "A", "E/G#"});
  for (const char* instrument : {"guitar", "ukulele"}) {
    const Tuning tuning = find_tuning(instrument, "usual").value();
    if (tuning.re_entrant()) wishes.limits.bass = BassRule::Any;
    for (const InsteadOption& option : play_instead(song, tuning, wishes)) {
      for (std::size_t i = 0; i < song.size(); ++i) {
        if (!option.shapes[i]) continue;
        unsigned sound = 0;
        for (const int key : sounding_midi(tuning, {option.capo, {}}, option.shapes[i]->shape)) {
          sound |= 1U << static_cast<unsigned>(key % 12);
        }
        const ChordName wanted = transposed(song[i], -1, std::nullopt);
        EXPECT_EQ(sound & ~static_cast<unsigned>(tone_bits(wanted)), 0U) << instrument << " " << option.capo;
      }
      EXPECT_EQ(option.unplayable,
                std::count_if(option.shapes.begin(), option.shapes.end(), [](const auto& s) { return !s; }));
    }
  }
}

TEST(Familiar, TheShapeItselfAndItsNeighbours) {
  const auto d = familiar_shapes(shape("xx0232", "...132"), "guitar");
  ASSERT_FALSE(d.empty());
  EXPECT_EQ(d[0].name, "D");
  EXPECT_TRUE(d[0].same());
  // Common practice: the D shape without its middle finger, and with the little finger added.
  const auto sus2 = familiar_shapes(shape("xx0230", "...13."), "guitar");
  ASSERT_FALSE(sus2.empty());
  EXPECT_EQ(sus2[0].name, "D");
  ASSERT_EQ(sus2[0].changes.size(), 1U);
  EXPECT_EQ(sus2[0].changes[0].kind, MoveKind::Lifts);
  EXPECT_EQ(sus2[0].changes[0].finger, Finger::Middle);
  const auto sus4 = familiar_shapes(shape("xx0233", "...134"), "guitar");
  ASSERT_FALSE(sus4.empty());
  EXPECT_EQ(sus4[0].name, "D");
  EXPECT_EQ(sus4[0].changes[0].kind, MoveKind::Added);
  EXPECT_EQ(sus4[0].changes[0].finger, Finger::Little);
}

TEST(Familiar, CarriedOverAndUp) {
  const auto g = familiar_shapes(shape("355433", "134211"), "guitar");
  ASSERT_FALSE(g.empty());
  EXPECT_EQ(g[0].name, "F");
  EXPECT_EQ(g[0].frets_up, 2);
  EXPECT_TRUE(g[0].changes.empty());
  const auto e = familiar_shapes(shape("xx0221", "...231"), "guitar");
  ASSERT_FALSE(e.empty());
  // The Am shape one string over towards the first.
  const auto am = std::find_if(e.begin(), e.end(), [](const Familiar& f) { return f.name == "Am"; });
  ASSERT_NE(am, e.end());
  EXPECT_EQ(am->strings_over, 1);
  EXPECT_EQ(familiar_shapes(shape("0232", ".132"), "ukulele")[0].name, "G");
  EXPECT_TRUE(familiar_shapes(shape("x 10 x x 7 x", ".4..1."), "guitar").empty());
  EXPECT_TRUE(familiar_shapes(shape("xx0232", "...132"), "piano").empty());
}

}  // namespace
}  // namespace tunesheaf::theory

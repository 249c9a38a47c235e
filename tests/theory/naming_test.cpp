#include "tunesheaf/theory/naming.h"

#include <gtest/gtest.h>

#include <algorithm>

#include "tunesheaf/theory/shape.h"
#include "tunesheaf/theory/tuning.h"

namespace tunesheaf::theory {
namespace {

std::vector<int> keys(std::string_view frets, std::string_view tuning = "usual",
                      std::string_view instrument = "guitar") {
  Shape shape;
  shape.frets = parse_frets(frets).value();
  return sounding_midi(parse_tuning(tuning, instrument).value(), {}, shape);
}

std::string first(const std::vector<int>& midi, const NamingContext& context = {}) {
  const auto names = name_candidates(midi, context, 1);
  return names.empty() ? "none" : print(names[0].name);
}

bool has(const std::vector<Reason>& reasons, Reason wanted) {
  return std::find(reasons.begin(), reasons.end(), wanted) != reasons.end();
}

TEST(Naming, ShapesInUse) {
  EXPECT_EQ(first(keys("x32010")), "C");
  EXPECT_EQ(first(keys("x02210")), "Am");
  EXPECT_EQ(first(keys("320001")), "G7");
  EXPECT_EQ(first(keys("xx0230")), "Dsus2");
  EXPECT_EQ(first(keys("xx0233")), "Dsus4");
  EXPECT_EQ(first(keys("200232")), "D/F#");
  EXPECT_EQ(first(keys("x02010")), "Am7");
  EXPECT_EQ(first(keys("x5453x")), "D7");
  EXPECT_EQ(first(keys("x46654")), "C#m");
  EXPECT_EQ(first(keys("x68886")), "Eb");
  EXPECT_EQ(first(keys("0003", "usual", "ukulele")), "C");
}

TEST(Naming, ShapesInOtherTunings) {
  // The song language's example: two fingers of a familiar shape in open G.
  EXPECT_EQ(first(keys("x02012", "open G")), "C/G");
  EXPECT_EQ(first(keys("000000", "DADGAD")), "Dsus4");
  // Common practice: with the bottom string two lower the six-string F barre sounds a seventh, the seventh in the bass.
  EXPECT_EQ(first(keys("133211", "drop D")), "F7/Eb");
  EXPECT_EQ(first(keys("x32010", "D2 G2 C3 F3 A3 D4")), "Bb");
}

TEST(Naming, GivesItsReasons) {
  const auto c = name_candidates(keys("x3201x"));
  ASSERT_FALSE(c.empty());
  EXPECT_EQ(print(c[0].name), "C");
  EXPECT_TRUE(has(c[0].reasons, Reason::RootInBass));
  const auto seventh = name_candidates(keys("x3231x"));
  EXPECT_EQ(print(seventh[0].name), "C7");
  EXPECT_TRUE(has(seventh[0].reasons, Reason::FifthLeftOut));
  ASSERT_EQ(seventh[0].missing.size(), 1U);
  EXPECT_EQ(print(seventh[0].missing[0].pitch), "G");
  const auto over = name_candidates(keys("200232"));
  EXPECT_TRUE(has(over[0].reasons, Reason::ChordToneInBass));
}

TEST(Naming, SaysWhenThereIsNoCommonName) {
  EXPECT_TRUE(name_candidates({}).empty());
  EXPECT_TRUE(name_candidates({60}).empty());
  EXPECT_TRUE(name_candidates({60, 61}).empty());
  EXPECT_TRUE(name_candidates({60, 61, 62, 63}).empty());
  const auto intervals = intervals_over_bass({60, 61, 62, 75});
  ASSERT_EQ(intervals.size(), 4U);
  EXPECT_EQ(print(intervals[3]), "m3");
}

TEST(Naming, NeverClaimsWhatIsNotThere) {
  for (unsigned set = 1; set < 4096; ++set) {
    std::vector<int> midi;
    for (int s = 0; s < 12; ++s) {
      if ((set >> static_cast<unsigned>(s) & 1U) != 0) midi.push_back(48 + s);
    }
    for (const NameCandidate& c : name_candidates(midi)) {
      const unsigned told = tone_bits(c.name);
      unsigned missing = 0;
      for (const ChordTone& tone : c.missing) missing |= 1U << static_cast<unsigned>(tone.pitch.number());
      EXPECT_EQ(told & ~missing, set) << print(c.name);
      EXPECT_EQ(missing & set, 0U) << print(c.name);
      EXPECT_EQ(c.name.bass.value_or(c.name.root).number(), midi[0] % 12) << print(c.name);
    }
  }
}

TEST(Naming, DoesNotDependOnThePitchItStandsAt) {
  for (unsigned set = 1; set < 4096; set += 2) {
    std::vector<int> midi;
    for (int s = 0; s < 12; ++s) {
      if ((set >> static_cast<unsigned>(s) & 1U) != 0) midi.push_back(40 + s);
    }
    const auto here = name_candidates(midi);
    for (int up = 1; up < 12; ++up) {
      std::vector<int> moved = midi;
      for (int& key : moved) key += up;
      const auto there = name_candidates(moved);
      ASSERT_EQ(there.size(), here.size());
      for (std::size_t i = 0; i < here.size(); ++i) {
        EXPECT_EQ(there[i].cost, here[i].cost);
        EXPECT_EQ(there[i].name.root.number(), (here[i].name.root.number() + up) % 12);
        EXPECT_EQ(there[i].name.kind, here[i].name.kind);
        EXPECT_EQ(there[i].name.degrees, here[i].name.degrees);
      }
    }
  }
}

TEST(Naming, ContextDecidesTheUndecided) {
  // E G A C: a minor seventh with its third lowest, or a sixth chord in inversion; the key and neighbours weigh.
  NamingContext sharp, flat;
  sharp.key = parse_key("C# minor").value();
  flat.key = parse_key("Db").value();
  const std::vector<int> black{49, 52, 56};
  EXPECT_EQ(first(black, sharp), "C#m");
  EXPECT_EQ(first({51, 55, 58}, flat), "Eb");
  NamingContext g;
  g.neighbours = {parse_chord("D7").value(), parse_chord("C").value()};
  const std::vector<int> suspended{50, 55, 57};  // D G A: Dsus4, or Gsus2 over its fifth
  EXPECT_EQ(first(suspended), "Dsus4");
  const auto names = name_candidates({52, 57, 60, 67}, g);
  ASSERT_GE(names.size(), 2U);
  EXPECT_TRUE(has(names[0].reasons, Reason::NeighbourAgrees) || has(names[1].reasons, Reason::NeighbourAgrees));
}

TEST(Naming, ClaimsAreCheckedAgainstTheSound) {
  const auto db = keys("xx6646", "usual");
  const ClaimCheck wrong = check_claim(parse_chord("Eb7/Db").value(), {49, 56, 61, 65, 68, 73});
  EXPECT_FALSE(wrong.fits);
  ASSERT_EQ(wrong.absent.size(), 1U);
  EXPECT_EQ(print(wrong.absent[0].pitch), "G");
  ASSERT_EQ(wrong.foreign.size(), 2U);
  EXPECT_TRUE(check_claim(parse_chord("C/G").value(), keys("x02012", "open G")).fits);
  EXPECT_TRUE(check_claim(parse_chord("C").value(), keys("x02012", "open G")).fits);
  const ClaimCheck bass = check_claim(parse_chord("C/E").value(), keys("x32010"));
  EXPECT_FALSE(bass.fits);
  ASSERT_TRUE(bass.bass);
  EXPECT_EQ(print(*bass.bass), "C");
  EXPECT_FALSE(check_claim(parse_chord("N.C.").value(), keys("x32010")).fits);
  EXPECT_TRUE(check_claim(parse_chord("N.C.").value(), {}).fits);
  EXPECT_FALSE(db.empty());
}

TEST(Naming, SpellsByTheChordAndElseByTheKey) {
  const auto spelled = spell_all({56, 59, 63, 61}, parse_chord("Abm").value(), parse_key("Gb").value());
  std::string out;
  for (const Pitch p : spelled) out += print(p) + " ";
  EXPECT_EQ(out, "Ab3 Cb4 Eb4 Db4 ");
}

}  // namespace
}  // namespace tunesheaf::theory

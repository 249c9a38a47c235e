#include "tunesheaf/theory/ear.h"

#include <gtest/gtest.h>

namespace tunesheaf::theory {
namespace {

Ear ear(std::string_view frets, std::string_view tuning, const Capo& capo = {}, const NamingContext& context = {}) {
  Shape shape;
  shape.frets = parse_frets(frets).value();
  return hear(parse_tuning(tuning, "guitar").value(), capo, shape, context);
}

std::string told(const Ear& e) {
  std::string out = e.names.empty() ? "none:" : print(e.names.front().name) + ":";
  for (const EarNote& n : e.notes) out += " " + print(n.pitch) + (n.degree ? "=" + print(*n.degree) : "");
  return out;
}

TEST(Ear, TellsNotesDegreesDoublingsAndGaps) {
  EXPECT_EQ(told(ear("x32010", "usual")), "C: C3=1 E3=3 G3=5 C4=1 E4=3");
  EXPECT_EQ(told(ear("xx0230", "usual")), "Dsus2: D3=1 A3=5 D4=1 E4=2");
  EXPECT_EQ(told(ear("x3231x", "usual")), "C7: C3=1 E3=3 Bb3=b7 C4=1");
  const Ear c7 = ear("x3231x", "usual");
  ASSERT_EQ(c7.missing.size(), 1U);
  EXPECT_EQ(print(c7.missing[0].pitch), "G");
  ASSERT_EQ(c7.doubled.size(), 1U);
  EXPECT_EQ(c7.doubled[0], (DoubledTone{{Step::C, 0}, 2}));
}

TEST(Ear, InOtherTuningsBehindCapos) {
  // The worked example of the song language: open G, capo 2, as sounding.
  EXPECT_EQ(told(ear("x02012", "open G", {2, {}}, {parse_key("A").value(), {}})), "D/A: A2=5 F#3=3 A3=5 D4=1 F#4=3");
  EXPECT_EQ(told(ear("x02012", "open G")), "C/G: G2=5 E3=3 G3=5 C4=1 E4=3");
}

TEST(Ear, NamesThatPlayersUse) {
  EXPECT_EQ(print(ear("x03210", "usual").names[0].name), "Fmaj7/A");
  EXPECT_EQ(print(ear("x02100", "usual").names[0].name), "E/A");
  EXPECT_EQ(print(ear("000120", "open D").names[0].name), "Gadd9/D");
  EXPECT_EQ(print(ear("x24222", "usual").names[0].name), "F#m/B");
  EXPECT_EQ(print(ear("x46600", "usual").names[0].name), "C#m7");
}

TEST(Ear, NoCommonNameIsSaidWithIntervals) {
  const Ear e = ear("x x x 0 2 x", "usual");  // G and C#
  EXPECT_TRUE(e.names.empty());
  ASSERT_EQ(e.over_lowest.size(), 2U);
  EXPECT_EQ(print(e.over_lowest[1]), "d5");
  EXPECT_EQ(print(e.notes[1].over_lowest), "A4");
  EXPECT_FALSE(e.notes[0].degree);
}

}  // namespace
}  // namespace tunesheaf::theory

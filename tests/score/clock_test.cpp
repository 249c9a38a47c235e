// When things sound: swing by its ratio, tempos that change within a bar, rit. and a tempo; and runs of empty bars.
#include "tunesheaf/score/clock.h"

#include <cmath>

#include "score/support.h"

namespace tunesheaf::score {
namespace {

Built tune(const std::string& head, const std::string& section) {
  return build_text("t.yaml", "song: T\nmeter: 4/4\n" + head +
                                  "parts:\n  fiddle: {instrument: violin}\n  flute: {instrument: flute}\nsections:\n"
                                  "  a:\n" +
                                  section);
}

TEST(Clock, SwungOffBeatsFollowTheRatio) {
  const struct {
    const char* feel;
    Fraction onset, heard;
  } cases[] = {{"straight", {1, 8}, {1, 8}},          {"swing 2:1", {1, 8}, {1, 6}},
               {"swing 3:1", {3, 8}, {7, 16}},        {"swing 3:2", {1, 8}, {3, 20}},
               {"swing 2:1", {1, 4}, {1, 4}},         {"swing 2:1", {1, 12}, {1, 12}},  // a triplet is one already
               {"swing 2:1", {1, 16}, {1, 12}},                                         // halfway to the swung note
               {"swing 2:1", {3, 16}, {5, 24}},                                         // and halfway back
               {"swing 16ths 2:1", {1, 16}, {1, 12}}, {"swing 16ths 2:1", {1, 8}, {1, 8}},
               {"swing 16ths 3:2", {3, 16}, {1, 5}}};
  for (const auto& c : cases) {
    const Built built = tune("tempo: 60\nfeel: " + std::string(c.feel) + "\n", "    fiddle: \"notes | D5 |\"\n");
    ASSERT_TRUE(built.timeline) << built.findings();
    EXPECT_EQ(swung(c.onset, built.timeline->feel), c.heard) << c.feel << " " << c.onset.text();
    EXPECT_NEAR(seconds_at(*built.timeline, 0, c.onset), c.heard.to_double() * 4, 1e-9);
  }
}

TEST(Clock, TheSectionsFeelGoesFirst) {
  const Built built = tune("tempo: 60\nfeel: swing 2:1\n", "    feel: straight\n    fiddle: \"notes | D5 |\"\n");
  ASSERT_TRUE(built.timeline) << built.findings();
  EXPECT_NEAR(seconds_at(*built.timeline, 0, Fraction(1, 8)), 0.5, 1e-9);
}

TEST(Clock, ATempoWithinABarAndBeyondIt) {
  const Built built = tune("tempo: 60\n", "    chart: \"tempo | : : 120 : | |\"\n    fiddle: \"notes | D5 | E5 |\"\n");
  ASSERT_TRUE(built.timeline) << built.findings();
  const Timeline& t = *built.timeline;
  EXPECT_NEAR(seconds_at(t, 0, Fraction(1, 4)), 1.0, 1e-9);
  EXPECT_NEAR(seconds_at(t, 0, Fraction(3, 4)), 2.5, 1e-9);
  EXPECT_NEAR(seconds_at(t, 1, Fraction(0)), 3.0, 1e-9);
  EXPECT_NEAR(seconds_at(t, 0, Fraction(3, 2)), 4.0, 1e-9);  // two beats into the next bar
  EXPECT_NEAR(t.seconds, 5.0, 1e-9);
}

TEST(Clock, ARitardandoSlowsEvenlyAndATempoEndsIt) {
  const Built built =
      tune("tempo: 60\n", "    chart: \"tempo | rit. | a tempo |\"\n    fiddle: \"notes | D5 | E5 |\"\n");
  ASSERT_TRUE(built.timeline) << built.findings();
  const Timeline& t = *built.timeline;
  // From 1 beat a second to 0.7: the integral of 1/rate over four beats.
  const double slow = 4 * std::log(0.7) / (0.7 - 1);
  EXPECT_NEAR(t.played.at(1).seconds, slow, 1e-9);
  EXPECT_NEAR(t.seconds, slow + 4, 1e-9);
  double before = 0, step = 0;
  for (int beat = 1; beat <= 4; ++beat) {
    const double now = seconds_at(t, 0, Fraction(beat, 4));
    EXPECT_GT(now - before, step) << beat;
    step = now - before;
    before = now;
  }
}

TEST(Clock, AnAccelerandoRunsToTheSectionsEnd) {
  const Built built = tune("tempo: 60\n", "    chart: \"tempo | accel. | |\"\n    fiddle: \"notes | D5 | E5 |\"\n");
  ASSERT_TRUE(built.timeline) << built.findings();
  EXPECT_NEAR(built.timeline->seconds, 8 * std::log(1 / 0.7) / (1 / 0.7 - 1), 1e-9);
}

TEST(Clock, ALaneThatSlowsIsHeardToItsEndAndTheTempoComesBackWithTheNextSection) {
  const Built built = build_text("t.yaml",
                                 "song: T\nmeter: 4/4\ntempo: 60\nparts:\n  fiddle: {instrument: violin}\nsections:\n"
                                 "  a:\n    fiddle: |\n      notes | D5 | E5 |\n      ritardando | | on |\n"
                                 "  b:\n    fiddle: |\n      notes | D5 | E5 |\n"
                                 "  c:\n    tempo: 90\n    fiddle: |\n      notes | D5 |\n");
  ASSERT_TRUE(built.timeline) << built.findings();
  const Timeline& t = *built.timeline;
  const double slow = 4 * std::log(0.7) / (0.7 - 1);
  EXPECT_NEAR(t.played.at(1).seconds, 4, 1e-9);
  EXPECT_NEAR(t.played.at(2).seconds, 4 + slow, 1e-9);
  EXPECT_NEAR(t.played.at(3).seconds, 8 + slow, 1e-9);
  EXPECT_FALSE(returning_tempo(t, 0)) << "the song begins with it";
  ASSERT_TRUE(returning_tempo(t, 1));
  EXPECT_EQ(returning_tempo(t, 1)->per_minute, Fraction(60));
  EXPECT_FALSE(returning_tempo(t, 2)) << "it states its own";
}

TEST(Clock, TheTempoThatComesBackAfterAJumpIsPrintedThereToo) {
  const Built built = build_text("t.yaml",
                                 "song: T\nmeter: 4/4\ntempo: 60\nparts:\n  fiddle: {instrument: violin}\nsections:\n"
                                 "  a:\n    fiddle: |\n      notes | D5 |\n"
                                 "  b:\n    fiddle: |\n      notes | D5 |\n"
                                 "  c:\n    fiddle: |\n      notes | D5 | E5 |\n      ritardando | | on |\n"
                                 "  d:\n    tempo: 60\n    fiddle: |\n      notes | D5 |\n"
                                 "form: [a, segno, b, c, D.S., d]\n");
  ASSERT_TRUE(built.timeline) << built.findings();
  EXPECT_FALSE(returning_tempo(*built.timeline, 0));
  EXPECT_TRUE(returning_tempo(*built.timeline, 1))
      << "the first time the tempo is the same, the second time it comes back";
  EXPECT_FALSE(returning_tempo(*built.timeline, 2));
}

TEST(Clock, APickUpKeepsTheTimeOfTheBarsItLiesOver) {
  const Built built = build_text("t.yaml",
                                 "song: T\nmeter: 12/8\ntempo: quarter 60\nparts:\n  fiddle: {instrument: violin}\n"
                                 "sections:\n  a:\n    meter: 1/4\n    fiddle: \"notes | D5 | D5 | . | . |\"\n"
                                 "    chart: \"tempo | | | rit. | |\"\n"
                                 "  b:\n    tempo: quarter 120\n    pick-up: 2 beats\n"
                                 "    fiddle: \"notes | . : E5 | D5 : : : |\"\n");
  ASSERT_TRUE(built.timeline) << built.findings();
  const Timeline& t = *built.timeline;
  ASSERT_EQ(t.played.size(), 6U);
  EXPECT_EQ(t.played[4].start, Fraction(1, 4));
  for (int eighth = 0; eighth < 6; ++eighth) {
    const Fraction at(eighth, 8);
    EXPECT_NEAR(seconds_at(t, 4, at), seconds_at(t, 0, Fraction(1, 4) + at), 1e-9) << eighth;
  }
  EXPECT_NEAR(t.played[5].seconds, 2 + 2 * std::log(0.7) / (0.7 - 1), 1e-9);
  EXPECT_NEAR(seconds_at(t, 4, Fraction(3, 4)), t.played[5].seconds, 1e-9);
}

TEST(Clock, APickUpLongerThanAllBeforeItTakesItsOwnTime) {
  const Built built = tune("tempo: 60\n",
                           "    meter: 1/4\n    fiddle: \"notes | D5 |\"\n  b:\n    pick-up: 2 beats\n"
                           "    fiddle: \"notes | D5 : E5 | D5 : : : |\"\n");
  ASSERT_TRUE(built.timeline) << built.findings();
  EXPECT_NEAR(built.timeline->played.at(1).seconds, 1.0, 1e-9);
  EXPECT_NEAR(built.timeline->played.at(2).seconds, 3.0, 1e-9);
}

TEST(CountedUnit, IsTheStatedValueElseTheMetersOwn) {
  const auto compound = theory::parse_meter("6/8");
  ASSERT_TRUE(compound);
  song::TempoMark mark;
  mark.unit = Fraction(1, 4);
  EXPECT_EQ(counted_unit(mark, *compound), Fraction(3, 8));
  mark.unit_stated = true;
  EXPECT_EQ(counted_unit(mark, *compound), Fraction(1, 4));
}

}  // namespace
}  // namespace tunesheaf::score

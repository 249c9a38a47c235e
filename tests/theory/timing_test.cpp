#include "tunesheaf/theory/timing.h"

#include <gtest/gtest.h>

#include "tunesheaf/theory/instrument.h"

namespace tunesheaf::theory {
namespace {

using base::Fraction;

TEST(Timing, ExactTimesGiveTheirTempo) {
  // 3/4 at 96 beats a minute: a bar lasts 1.875 s.
  std::vector<TimedPlace> places;
  for (int bar = 0; bar < 5; ++bar) places.push_back({Fraction(3 * bar, 4), 7.0 + 1.875 * bar});
  const TempoFit fit = fit_tempo(places).value();
  EXPECT_NEAR(fit.beats_per_minute(Fraction(1, 4)), 96.0, 1e-9);
  EXPECT_NEAR(fit.start_seconds, 7.0, 1e-9);
  for (const double r : fit.residuals) EXPECT_NEAR(r, 0.0, 1e-9);
  EXPECT_FALSE(fit.doubtful);
  EXPECT_NEAR(fit.beats_per_minute(Fraction(3, 8)), 64.0, 1e-9);
}

TEST(Timing, AMistypedTimeStandsOut) {
  std::vector<TimedPlace> places;
  for (int section = 0; section < 6; ++section) places.push_back({Fraction(16 * section), 30.0 * section});
  places[3].seconds = 150.0;  // 2:30 for 1:30
  const TempoFit fit = fit_tempo(places).value();
  ASSERT_TRUE(fit.doubtful);
  EXPECT_EQ(*fit.doubtful, 3U);
  EXPECT_NEAR(fit.doubtful_should_be, 90.0, 1e-9);
  EXPECT_NEAR(fit.residuals[3], 60.0, 1e-9);
  EXPECT_NEAR(fit.residuals[4], 0.0, 1e-9);
}

TEST(Timing, WholeSecondsRaiseNoDoubt) {
  std::vector<TimedPlace> places;
  for (int section = 0; section < 8; ++section) {
    places.push_back({Fraction(12 * section), static_cast<double>(static_cast<int>(23.4 * section + 0.5))});
  }
  EXPECT_FALSE(fit_tempo(places)->doubtful);
}

TEST(Timing, TooLittleToTell) {
  EXPECT_FALSE(fit_tempo({}));
  EXPECT_FALSE(fit_tempo({{Fraction(0), 1.0}}));
  EXPECT_FALSE(fit_tempo({{Fraction(0), 1.0}, {Fraction(0), 2.0}}));
  EXPECT_FALSE(fit_tempo({{Fraction(0), 2.0}, {Fraction(1), 1.0}}));
  EXPECT_EQ(times_running_backwards({{Fraction(0), 2.0}, {Fraction(1), 1.0}, {Fraction(2), 3.0}}),
            (std::vector<std::size_t>{1}));
}

TEST(Instrument, WrittenAndSoundingPitch) {
  const Instrument& trumpet = *find_instrument("trumpet");
  EXPECT_EQ(print(*written_pitch(trumpet, *parse_pitch("Bb3"))), "C4");
  EXPECT_EQ(print(*sounding_pitch(trumpet, *parse_pitch("C4"))), "Bb3");
  EXPECT_EQ(print(*written_pitch(*find_instrument("whistle"), *parse_pitch("D5"))), "D4");
  EXPECT_EQ(print(*written_pitch(*find_instrument("guitar"), *parse_pitch("E2"))), "E2");
  EXPECT_EQ(clef_octaves(Clef::Treble8), -1);
  EXPECT_EQ(clef_octaves(Clef::Treble), 0);
  for (const Instrument& i : instruments()) {
    for (int key = i.lowest; key <= i.highest; ++key) {
      const Pitch p = plain_spelling(key);
      const auto written = written_pitch(i, p);
      ASSERT_TRUE(written);
      EXPECT_EQ(sounding_pitch(i, *written), p);
    }
  }
}

}  // namespace
}  // namespace tunesheaf::theory

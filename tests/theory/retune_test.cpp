#include "tunesheaf/theory/retune.h"

#include <gtest/gtest.h>

#include <cmath>

#include "tunesheaf/theory/recording.h"

namespace tunesheaf::theory {
namespace {

Tuning guitar(std::string_view text) {
  return parse_tuning(text, "guitar").value();
}

Retuning from_usual(std::string_view text, double cents = 0.0) {
  return retune(guitar("usual"), guitar(text), guitar("usual"), named_tunings(), cents).value();
}

TEST(Retune, TensionGoesWithTheSquareOfTheFrequency) {
  EXPECT_NEAR(tension_factor(-1), 0.891, 0.0005);
  EXPECT_NEAR(tension_factor(2), 1.260, 0.0005);
  EXPECT_NEAR(tension_factor(12), 4.0, 1e-12);
  const Retuning g = from_usual("open G");
  EXPECT_EQ(g.strings[0].string, 6);
  EXPECT_EQ(g.strings[0].semitones, -2);
  EXPECT_NEAR(g.strings[0].tension, 0.794, 0.0005);
  EXPECT_NEAR(g.strings[0].hertz_at_440, 73.42, 0.005);
  EXPECT_EQ(g.strings[2].tension, 1.0);
  EXPECT_NEAR(from_usual("open G", 18).strings[0].hertz, 73.416 * std::exp2(18.0 / 1200.0), 0.001);
}

TEST(Retune, LowersBeforeItRaises) {
  EXPECT_EQ(from_usual("open G").order, (std::vector<int>{6, 5, 1}));
  // Open C: the sixth goes down four, the fifth and fourth two; the second goes up one.
  EXPECT_EQ(from_usual("open C").order, (std::vector<int>{6, 5, 4, 2}));
  EXPECT_TRUE(from_usual("usual").order.empty());
}

TEST(Retune, CautionsWhereAStringCanBreak) {
  const Retuning e = from_usual("open E");
  EXPECT_EQ(e.strings[1].caution, Caution::Tight);
  EXPECT_EQ(e.strings[0].caution, Caution::None);
  EXPECT_EQ(from_usual("E2 A2 D3 G3 D4 E4").strings[4].caution, Caution::MayBreak);
  EXPECT_EQ(from_usual("A1 A2 D3 G3 B3 E4").strings[0].caution, Caution::Slack);
  EXPECT_EQ(from_usual("open E", 60).strings[0].caution, Caution::Tight);
}

TEST(Retune, ThereAndBackIsNothing) {
  for (const NamedTuning& a : named_tunings()) {
    for (const NamedTuning& b : named_tunings()) {
      if (a.instrument != b.instrument) continue;
      const auto there = retune(a.tuning, b.tuning, a.tuning, {});
      const auto back = retune(b.tuning, a.tuning, a.tuning, {});
      ASSERT_TRUE(there.ok() && back.ok());
      for (std::size_t i = 0; i < there->strings.size(); ++i) {
        EXPECT_EQ(there->strings[i].semitones + back->strings[i].semitones, 0);
        EXPECT_DOUBLE_EQ(back->strings[i].tension, 1.0);
      }
    }
  }
  EXPECT_FALSE(retune(guitar("usual"), find_tuning("ukulele", "usual").value(), guitar("usual"), {}));
}

TEST(Retune, NearestNamedTuning) {
  const auto nearest = [](std::string_view text) { return nearest_tuning(guitar(text), "guitar").value(); };
  const NearestTuning down = nearest("D2 G2 C3 F3 A3 D4");
  EXPECT_EQ(down.name, "usual");
  EXPECT_EQ(down.semitones, -2);
  EXPECT_TRUE(down.differences.empty());
  EXPECT_EQ(nearest("D2 A2 D3 G3 A3 D4").name, "DADGAD");
  // The usual intervals a fourth down, with the bottom string two lower: not a tuning of that name at that pitch.
  const NearestTuning low = nearest("C#2 G#2 C#3 F#3 A#3 D#4");
  EXPECT_EQ(low.name, "drop D");
  EXPECT_EQ(low.semitones, -1);
  const NearestTuning odd = nearest("E2 A2 D3 G3 B3 D4");
  EXPECT_EQ(odd.name, "usual");
  ASSERT_EQ(odd.differences.size(), 1U);
  EXPECT_EQ(odd.differences[0], (NearestTuning::Difference{1, -2}));
  EXPECT_FALSE(nearest_tuning(guitar("C2 D2 F3 A3 C4 D4"), "guitar"));
  EXPECT_FALSE(nearest_tuning(guitar("usual"), "theremin"));
}

TEST(Retune, AllStringsOnOneNote) {
  EXPECT_TRUE(one_note_tuning(guitar("C2 C3 C3 C3 C4 C4")));
  EXPECT_FALSE(one_note_tuning(guitar("open C")));
}

TEST(Recording, OffsetsAddUpToCents) {
  const auto cents = [](std::string_view text) { return parse_offset(text).value().cents; };
  EXPECT_DOUBLE_EQ(cents("+18 cents"), 18.0);
  EXPECT_DOUBLE_EQ(cents("-2 semitones"), -200.0);
  EXPECT_DOUBLE_EQ(cents("−2 semitones"), -200.0);
  EXPECT_DOUBLE_EQ(cents("-1 semitone +20 cents"), -80.0);
  EXPECT_DOUBLE_EQ(cents("-1 semitone, -20 cents"), -120.0);
  EXPECT_DOUBLE_EQ(cents("as written"), 0.0);
  EXPECT_NEAR(cents("+1/3 semitone"), 33.333, 0.001);
  EXPECT_DOUBLE_EQ(cents("-1/2 tone"), -100.0);
  EXPECT_NEAR(cents("A4 = 432"), -31.766, 0.001);
  EXPECT_NEAR(cents("A4=442 Hz"), 7.851, 0.001);
  EXPECT_NEAR(parse_offset("A4 = 432")->a4_hertz(), 432.0, 1e-9);
  EXPECT_EQ(parse_offset("-1 semitone +20 cents")->semitones(), -1);
  EXPECT_NEAR(parse_offset("-1 semitone +20 cents")->rest_cents(), 20.0, 1e-9);
}

TEST(Recording, FaultsAndPrinting) {
  const auto fault = [](std::string_view text) { return parse_offset(text).error().fault; };
  EXPECT_EQ(fault(""), OffsetFault::Empty);
  EXPECT_EQ(fault("18 cents"), OffsetFault::NoSign);
  EXPECT_EQ(fault("+18"), OffsetFault::UnknownUnit);
  EXPECT_EQ(fault("+1/0 semitone"), OffsetFault::NoNumber);
  EXPECT_EQ(fault("+18 sents"), OffsetFault::UnknownUnit);
  EXPECT_EQ(fault("up a bit"), OffsetFault::NoNumber);
  EXPECT_EQ(fault("+90 semitones"), OffsetFault::OutOfRange);
  EXPECT_EQ(fault("A4 = loud"), OffsetFault::NoNumber);
  EXPECT_EQ(fault("A4 = -3"), OffsetFault::OutOfRange);
  for (const char* text : {"+18 cents", "-2 semitones", "-1 semitone +20 cents", "as written", "A4 = 432", "+1 cent"}) {
    EXPECT_EQ(print(parse_offset(text).value()), text);
  }
}

}  // namespace
}  // namespace tunesheaf::theory

// Small songs of several voices whose pages once broke a rule, each named by the rule that mended it. Every one is laid
// out and audited.
#include <gtest/gtest.h>

#include "generated/judge.h"

namespace tunesheaf::generated {
namespace {

void expect_mended(const std::string& text, const Wish& wish) {
  for (const Failure& failure : judge(text, wish)) ADD_FAILURE() << failure.key << "\n" << failure.what << "\n" << text;
}

TEST(MendedVoices, ADotOfAnotherVoiceStandsPastTheFlag) {
  expect_mended(R"(song: The first
parts:
  cartwheel:
    instrument: ukulele
sections:
  fish market:
    meter: 9/8
    cartwheel: |
      thumb 4 | 14 : - : - | |
      strum | | - : - : >U . - |
)",
                {"house", "letter"});
}

TEST(MendedVoices, OneVoicesGraceNotesStandBeforeTheOthers) {
  expect_mended(R"(song: The weather vane
meter: 5/8 (3+2)
parts:
  almanac:
    instrument: guitar
sections:
  goose step:
    almanac: |
      2 | g2p0 : - |
      thumb 4 | g4h6 : - |
)",
                {"compact", "a4"});
}

TEST(MendedVoices, ABeamOnItsGridStaysClearOfHeads) {
  expect_mended(R"(song: The weather
parts:
  ropewalk:
    instrument: guitar
sections:
  тихая вода:
    ropewalk: |
      thumb 2 | - : 5 : - : - |

      5 | - : - : 3 : - | - 3 5 : - : - : - |
)",
                {"compact", "letter"});
}

TEST(MendedVoices, ASlideFromNowhereEndsBeforeAStem) {
  expect_mended(R"(song: The copper roof and
meter: 2/4
parts:
  stone bridge:
    instrument: baritone ukulele
    tuning: "C#3 G3 G#3 E4"
sections:
  far meadow:
    stone bridge: |
      2 | >0 : - |
      thumb 4 | /13 : - |
)",
                {"compact", "a4"});
}

TEST(MendedVoices, AStaccatoDotStandsPastASlide) {
  expect_mended(R"(song: The windfall
parts:
  grey mare:
    instrument: guitar
sections:
  pedlar:
    grey mare: |
      string | 2 : - : - 4 2 : - |
      fret | - : - : 5 8' \3 : - |
)",
                {"compact", "letter"});
}

TEST(MendedVoices, ARestOfTwoFlagsClearsADiamond) {
  expect_mended(R"(song: The almanac
parts:
  harbour wall:
    instrument: bouzouki
sections:
  blue gate:
    meter: 6/8
    harbour wall: |
      2 | - - h9 : - - - . - 5 |
      thumb 4 | 4 : - <12> |
)",
                {"house", "a4"});
}

TEST(MendedVoices, WordsOfAnOctaveLineStandBeforeTheBarLine) {
  expect_mended(R"(song: The ninepins hält
key: D major
meter: 3/4
parts:
  drystone:
    instrument: guitar
pick-up: 1/8
sections:
  été:
    times: 2
    chart: |
      chords | | | G7sus4 : Em : - Gsus2 | |
    drystone: |
      string | 6 | | | |
      fret | | 0 . : - : - | - : - : 3 | g4p3 : -3 : . |
      8vb | on | | | |
  paper boat:
    key: G major
    drystone:
      lanes: |
        fret | |
)",
                {"house", "a4"});
}

TEST(MendedVoices, ATieEndsBeforeTheStrokesOfATremolo) {
  expect_mended(R"(song: The lantern
parts:
  weather vane:
    instrument: guitar
sections:
  stone bridge:
    weather vane: |
      3 | | - : 0 : - : - |
      4 | | - : 5= : - : - |
      retune | E2 A2 C3 G3 B3 E4 | |
)",
                {"stage", "letter"});
}

TEST(MendedVoices, ARestClearsParentheses) {
  expect_mended(R"(song: The grey
meter: 3/4
parts:
  wet slate:
    instrument: percussion
sections:
  saltbox:
    wet slate: |
      wood block | - : x : - |
      cowbell | - : - : - x - - |
      stomp | - : - : (x) |
      claves | - : - : - - - x |
)",
                {"tab", "letter"});
}

TEST(MendedVoices, ARingKeepsOffAWave) {
  expect_mended(R"(song: The paper boat
meter: 12/8
parts:
  heron:
    instrument: electric guitar
    staff: notation
  ropewalk:
    instrument: violin
sections:
  cartwheel:
    heron: |
      string | 3 |

      string | - : - : 2 3 : - |
      fret | - : - - 4b5.5 : 5 ~~ : - |
    ropewalk: |
      notes | | - : - C#6 - : - : - |
)",
                {"tab", "letter"});
}

TEST(MendedVoices, AHeldHeadStandsPastTheFlagOfASlash) {
  expect_mended(R"(song: The candlewick
meter: 5/8 (3+2)
parts:
  утро:
    instrument: guitar
sections:
  fish market:
    утро: |
      thumb 3 | - : 5 |

      strum | xU D - : - |
)",
                {"stage", "letter"});
}

TEST(MendedVoices, AUnisonOfTwoVoicesHasOnePairOfParentheses) {
  expect_mended(R"(song: The παλιό
parts:
  pedlar:
    instrument: guitar
sections:
  cold supper:
    meter: 7/4
    pedlar: |
      3 | - : - : - : - - (0) - : - : - : - |
      thumb 6 | - : - : - : - : (15) : - : - |
)",
                {"house", "letter"});
}

TEST(MendedVoices, ARingIsAsWideAsItsNumber) {
  expect_mended(R"(song: The harbour
key: "F# minor"
meter: 6/8
parts:
  old ferry:
    instrument: banjo
    short: Rh. Gtr.
    staff: notation
  утро:
    instrument: tenor
sections:
  far meadow:
    old ferry: |
      string | | - : - - 2 |
      fret | | - : - - 9 |
    утро:
      lanes: |
        notes | | - : - - - - - G#3 |
        lyric | | - : corde corde doucement - corde doucement, |
)",
                {"large", "a4"});
}

TEST(MendedVoices, ATieIntoAnOctaveLineIsParted) {
  expect_mended(R"(song: The ropewalk
parts:
  παλιό καφενείο:
    instrument: Irish tenor banjo
sections:
  ropewalk:
    παλιό καφενείο: |
      3 | - : - : - : - 5 - |
      4 | - : - : 5 : - 0_ 0 |
      8vb | - : - : - : on |
)",
                {"house", "a4"});
}

TEST(MendedVoices, SyllablesOfABarWiderThanThePageArePartedAgain) {
  expect_mended(R"(song: The stone bridge
meter: 6/4
parts:
  grey mare:
    instrument: guitar
  tin kettle:
    instrument: soprano
shapes:
  παλιό καφενείο:
    frets: 4 6 4 0 0 0
patterns:
  stone bridge:
    lanes: |
      thumb | - : - : - : - : - : p |
sections:
  طريق:
    grey mare: |
      shape | παλιό καφενείο |
      pattern | stone bridge |
    tin kettle: |
      notes | - : - : - : - : - : - - - - - A#5 |
      lyric | until of? unhurriedly. loose - : - : - : - : - : - |
)",
                {"phone", "a4"});
}

TEST(MendedVoices, ASteepTieKeepsOffTheHeadBesideIt) {
  expect_mended(R"(song: The fish market
meter: 3/4
parts:
  тихая вода:
    instrument: guitar
  παλιό καφενείο:
    instrument: accordion
sections:
  été:
    тихая вода: |
      thumb 5 | |

      thumb 5 | - : - : 5 | |
      4 | | 5 : - : - |
      5 | | 5 : - : - |
      6 | | 5 : - : - |
    παλιό καφενείο: |
      left | | | - : - - - - B3 - : - |
)",
                {"phone", "a4"});
}

TEST(MendedVoices, ASteepSlurKeepsOffTheHeadBesideIt) {
  expect_mended(R"(song: The old ferry
key: Ab minor
parts:
  cold supper:
    instrument: 12-string guitar
    tuning: Fb2/Fb3 Bbb2/Bbb3 Eb3/Eb4 G3/G4 Bbb3/Bbb3 Gb4/Gb4
sections:
  orchard:
    cold supper: |
      2 | x : - : - : - |
      1 | - : - : - : 5^ |
      thumb 3 | g8\6 : 3 : - : - |
)",
                {"compact", "a4"});
}

TEST(MendedVoices, AHeldSlashStandsBesideTheFiguresOfAnotherVoice) {
  expect_mended(R"(song: The heron
parts:
  größe:
    instrument: guitar
sections:
  linden:
    größe: |
      strum | - : - : - : D |

      thumb 4 | 14 : - : - : - |
)",
                {"large", "a4"});
}

TEST(MendedVoices, AHairpinThatPartAndChartSayIsDrawnOnce) {
  expect_mended(R"(song: The moth hour
meter: 5/4
parts:
  almanac:
    instrument: vibraphone
sections:
  περίπατος:
    times: 2
    almanac: |
      left | |
    endings:
      2:
        chart: |
          crescendo | - : - : - : - : on |
        almanac: |
          right | - : - : - : - : G#5 |
          crescendo | - : - : - : - : on |
)",
                {"compact", "a4"});
}

TEST(MendedVoices, AGhostStandsBesideTheOtherVoicesGhostInItsOwnParentheses) {
  expect_mended(R"(song: The παλιό
parts:
  pedlar:
    instrument: guitar
sections:
  cold supper:
    meter: 7/4
    pedlar: |
      3 | - : - : - : - - (0) - : - : - : - |
      4 | 12 : - : - : - - p8 - : - : - : - |
      thumb 6 | - : - : - : - : (15) : - : - |
)",
                {"house", "letter"});
}

TEST(MendedVoices, StrokesStandUnderTheirOwnHead) {
  expect_mended(R"(song: The stone bridge
parts:
  almanac:
    instrument: ukulele
sections:
  paper boat:
    almanac: |
      thumb 4 | - : 0= : - : - |

      2 | 0 : - : - : - |
)",
                {"phone", "a4"});
}

}  // namespace
}  // namespace tunesheaf::generated

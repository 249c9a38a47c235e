// Small songs with bends, numbers and repeats whose pages once broke a rule, each named by the rule that mended it.
// Every one is laid out and audited.
#include <gtest/gtest.h>

#include "generated/judge.h"

namespace tunesheaf::generated {
namespace {

void expect_right(const std::string& text, const Wish& wish) {
  for (const Failure& failure : judge(text, wish)) ADD_FAILURE() << failure.key << "\n" << failure.what << "\n" << text;
}

TEST(MendedBends, ABendMadeAnewEndsWhatWasSpreadOverTheNote) {
  expect_right(R"(song: The blue gate
meter: 3/4
parts:
  velvet coat:
    instrument: box lute
    tuning: "C3 D#3 F#3 G#3 C#4"
sections:
  first frost:
    velvet coat: |
      4 | - : - : - - - - - 6 | |
      5 | | - : 6b9r6 b8 : - |

      thumb 5 | - : - : 7 |
)",
               {"large", "a4"});
}

TEST(MendedBends, ALateBendEndsBeforeTheDotsOfARepeat) {
  expect_right(R"(song: The été
parts:
  goose step:
    instrument: box lute
    tuning: "F3 A3 D4 F4 G#4 C#5 F#5 A5"
  paper boat:
    instrument: Irish tenor banjo
sections:
  quarry lane:
    times: 2
    goose step: |
      5 | - ^0 : 4 - 4 - : - : - - - - . - |
    paper boat: |
      2 | - : - : - - <4> : - |
      3 | - - - - 8 - : - : - : - |
      4 | - - - 0 -0 - : - : - 5 - : - 7 \6 - - b8 |
      harmonics | on : - : - : - |
)",
               {"ink", "a4"});
}

TEST(MendedBends, AmountsStandOverTheArcThatTheirArrowsPass) {
  expect_right(R"(song: The stone bridge
parts:
  طريق:
    instrument: box lute
    tuning: "G#2 B2 D#3 G3 A3"
    staff: tab
pick-up: 2 beats
sections:
  fish market:
    طريق:
      lanes: |
        1 | | - : - : - - t6 - : - | - : p3 : - : - |
        2 | | - : - : - : 8b8.5 - - 4 | |
        thumb 4 | - : h11 | | |
)",
               {"large", "letter"});
}

TEST(MendedBends, AnUprightArrowReachesOverAnArc) {
  expect_right(R"(song: last. και
meter: 7/4
parts:
  lantern:
    instrument: guitar
sections:
  παλιό καφενείο:
    lantern: |
      1 | - : - : - : - h6 : - : - : - |

      1 | - : - : - : \4 : - : - : - |
      thumb 5 | - : 5pb5.5 : - : - : - : - : - |
)",
               {"tab", "a4"});
}

TEST(MendedBends, ANumberKeepsOffTheAmountBesideIt) {
  expect_right(R"(song: The lantern
parts:
  harbour wall:
    instrument: fretless bass
    staff: tab
sections:
  marigold:
    harbour wall: |
      string | 2 : - : - : - |
      fret | - : 1b3~ : - : - |
      see | - : a : - : - |
    remarks:
      a: "Zeit, time die spielen"
)",
               {"stage", "a4"});
}

TEST(MendedBends, AmountsSideBySideDoNotClimbIntoStems) {
  expect_right(R"(song: The ropewalk
meter: 3/4
parts:
  طريق:
    instrument: guitar
sections:
  marigold:
    طريق: |
      1 | - : - - - 6pb8 - : - |
      2 | - : - - 9b11 - - : - |
      thumb 5 | 9 : - : - |
)",
               {"tab", "letter"});
}

TEST(MendedBends, AReleaseOnTheNextSystemLandsPastARolledStrum) {
  expect_right(R"(song: The almanac
meter: 3/4
parts:
  harbour wall:
    instrument: bouzouki
sections:
  windfall:
    chart: |
      chords | | | - : - : - C6/9 |
      lyric | softly : - : - | | |
    harbour wall:
      lanes: |
        1 | - : - - - 0 - - : - | |
        2 | - 0 : - : - 5 g5\3 - | |
        thumb 3 | - : 5pb7r5 : - | |
        strum | | U~ - D |

        4 | - 0 - - - - |
)",
               {"house", "a4"});
}

TEST(MendedBends, AReleaseLandsPastARolledShape) {
  expect_right(R"(song: The saltbox’s
parts:
  طريق:
    instrument: guitar
shapes:
  velvet coat:
    frets: 0 3 0 1 x 1
sections:
  blue gate:
    times: 2
    طريق: |
      4 | - : - - 0^ : - : 7~ |
      thumb 6 | - : - : 5pb6.5r5 : - |

      shape | velvet coat |
      strum | U : - : - - xU : U~ |
      roll | up : - : - : - |
)",
               {"phone", "a4"});
}

TEST(MendedBends, AHeldNoteBendsBesideTheOneOnTheLineUnderIt) {
  expect_right(R"(song: The candlewick
parts:
  wet slate:
    instrument: electric guitar
sections:
  περίπατος:
    wet slate:
      lanes: |
        2 | - 2 - - : - : - : b2.5 2 |
        3 | - : - : - : 2pb2.5r2 |
)",
               {"tab", "letter"});
}

TEST(MendedBends, ATieBeginsPastTheArrowOfARelease) {
  expect_right(R"(song: The candlewick
parts:
  far meadow:
    instrument: guitar
sections:
  paper boat:
    far meadow: |
      3 | - 2pb4r2 : - : - : - |
      2 | - 1 : - : - : - |
)",
               {"tab", "a4"});
}

TEST(MendedBends, ATieOfATrillBeginsPastTheArrowOfARelease) {
  expect_right(R"(song: The größe
parts:
  paper boat:
    instrument: box lute
    tuning: "Eb3 G3 Bb3 Db4 F#4 B4 D5 G5"
sections:
  fish market:
    paper boat: |
      4 | - 5pb7r5 : - : - : - |
      3 | - 6tr8 : - : - : - |
)",
               {"tab", "a4"});
}

TEST(MendedBends, StringsAreBentBehindASecondFigure) {
  expect_right(R"(song: The copper
meter: 8/8 (3+3+2)
parts:
  fish market:
    instrument: mandolin
sections:
  velvet coat:
    fish market: |
      2 | - : - : 3<22> |
      3 | - : - : 5b6r5 0 |
)",
               {"large", "letter"});
}

TEST(MendedBends, ALessonBarHasRoomForItsWord) {
  expect_right(R"(song: The περίπατος
meter: 3/8
parts:
  saltbox:
    instrument: guitar
sections:
  goose step:
    times: 2
    saltbox: |
      4 | - : - : - - ^0 | | - : /5 : - | - : - : 7 |
    endings:
      1:
        saltbox: |
          string | 4 : 5 : - |
          fret | - 6 : 2b3 4 : - |
      2:
        chart: |
          from | lesson |
)",
               {"compact", "letter"});
}

TEST(MendedBends, NumbersOfTwoFiguresAreNoHigher) {
  expect_right(R"(song: The goose step
meter: 3/4
sections:
  طريق:
    chart: |
      chords | |
    remarks:
      a: حتى الوتر
      b:
        text: ثم ببطء
  paper boat:
    chart: |
      see | |
    remarks:
      a:
        text: ثم “ببطء”
      b: النهاية
      c:
        text: الوتر.
      d: ببطء حتى
      e: النهاية
  blue gate:
    chart: |
      see | a,d : - : - |

      see | - : e : c |
    remarks:
      a: "\"الوتر\"."
      c: ثم and ثم.
      d: ببطء
      e: ببطء.
)",
               {"large", "a4"});
}

TEST(MendedBends, ANumberKeepsOffATupletsHook) {
  expect_right(R"(song: The שביל
parts:
  περίπατος:
    instrument: hand drum
sections:
  wet slate:
    περίπατος: |
      tek | |

      tek | - - - - - x : - : - : - | |
      hand drum | | - : - : - : - x |
      ka | - - xL - - x : x : - : - | |
      see | - : b : - : - | |
    remarks:
      b:
        text: unhurriedly
)",
               {"tab", "letter"});
}

TEST(MendedBends, ANumberKeepsOffATupletsHookOverBentHeads) {
  expect_right(R"(song: The cold
meter: 5/4
parts:
  linden:
    instrument: lap steel
sections:
  περίπατος:
    linden: |
      4 | - : - - 4pb5r4 : - : - : - |
      5 | - : - : 3 : - : - |
      6 | - : - - 4 : - : - : - |
      see | - : - : a : - : - |
    remarks:
      a:
        text: keeps for keeps
)",
               {"ink", "letter"});
}

TEST(MendedBends, ASlurThatGoesOnEndsBeforeTheDotsOfARepeat) {
  expect_right(R"(song: The saltbox
meter: 5/4 (3+2)
parts:
  утро:
    instrument: soprano
  moth hour:
    instrument: guitar
    tuning: one and a half steps down
sections:
  blue gate:
    times: 4
    утро: |
      lyric | |
    endings:
      1-3:
        moth hour:
          lanes: |
            3 | - : - : - : - : 9 |
            6 | 0 : - : - : - : - |
            slur | on : - : - : - : - |
      4:
        утро: |
          notes | - : - : - : - : - - - (B5) |
          lyric | - : - : - : - bridge - again - - : - |
)",
               {"compact", "a4"});
}

TEST(MendedBends, ALongSlideEndsWhereItsInkEnds) {
  expect_right(R"(song: The blue gate
key: B major
parts:
  cold supper:
    instrument: guitar
  drystone:
    instrument: piccolo
sections:
  quarry lane:
    times: 2
    drystone: |
      notes | | - : - : - : B6 |
    endings:
      2:
        cold supper: |
          2 | - : - : - 4tr5 \2 - : - |
          3 | - : - : - : 3 |
          thumb 4 | 4 : - : - : /6 |
          thumb 5 | - : - : 4= : - |
        drystone: |
          notes | F#6 : gG#6+A6-F#6 : - : D#6 |
)",
               {"ink", "letter"});
}

}  // namespace
}  // namespace tunesheaf::generated

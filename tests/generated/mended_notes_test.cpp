// Small songs whose notation once broke a rule of the page: ties, slurs, bends, beams and what stands beside heads.
// Each is named by the rule that mended it, laid out and audited.
#include <gtest/gtest.h>

#include <algorithm>

#include "generated/judge.h"

namespace tunesheaf::generated {
namespace {

void expect_kept(const std::string& text, const Wish& wish) {
  for (const Failure& failure : judge(text, wish)) ADD_FAILURE() << failure.key << "\n" << failure.what << "\n" << text;
}

/// Boxes of all marks of a kind on the first page, from left to right.
std::vector<base::Rect> boxes_of(const std::string& text, const Wish& wish, const char* kind) {
  std::vector<base::Rect> out;
  const auto pages = pages_of(text, wish);
  if (!pages) return out;
  for (const paint::DisplayItem& item : pages->document.pages.front().items)
    if (item.kind.name() == kind) out.push_back(item.box);
  std::sort(out.begin(), out.end(), [](const base::Rect& a, const base::Rect& b) { return a.x < b.x; });
  return out;
}

TEST(MendedNotes, TiesWithinAChordBeginPastItsDots) {
  expect_kept(R"(song: The copper
parts:
  wet slate:
    instrument: guitar
    tuning: open E
sections:
  far meadow:
    times: 3
    wet slate: |
      wah | |
    endings:
      3:
        wet slate: |
          4 | - - - - 0 - - : - : - : - |
          5 | - - - - 5 - - : - : - : - |
          6 | - - - - 8 - - : - : - : - - - 8 |
)",
              {"stage", "letter"});
}

TEST(MendedNotes, AHalfTieIsShorterWhereThereIsLittleRoom) {
  expect_kept(R"(song: The windfall
parts:
  stairwell:
    instrument: congas
sections:
  ninepins:
    stairwell: |
      slap | - : - : - : xL// | - R - : - : - : - |
      conga | - : - L : - : x | |
      muffled | - : - : - : x | - : - x : - : - |
      open | | - : - : - x x x : - |
      low conga | - x : - : - : - | |
)",
              {"large", "letter"});
}

TEST(MendedNotes, AHalfTieBeforeAHeadThatStandsBesideAnother) {
  expect_kept(R"(song: The stone
key: A minor
parts:
  tin kettle:
    instrument: guitar
  ropewalk:
    instrument: guitar
    capo: 6
  paper boat:
    instrument: alto
sections:
  orchard:
    meter: 2/2
    tin kettle:
      lanes: |
        string | 3 : - | | |
        fret | - : - - 4 | - : - - 5 | - - - x : - |
    ropewalk: |
      string | 4 : - | |
      thumb 3 | | 0 : - |

      fret | 0 : - |
    paper boat: |
      notes | | | - : - A3 |
)",
              {"stage", "a4"});
}

TEST(MendedNotes, ALongTieBowsRoundWhatTheOtherVoicePlays) {
  expect_kept(R"(song: The far meadow
meter: 8/8 (3+3+2)
parts:
  candlewick:
    instrument: guitar
sections:
  blue gate:
    candlewick:
      lanes: |
        4 | | - : - : 5 | |
        thumb 6 | - : - : 13 | | |
        3 | | - 5 - : - : -5 | |
        5 | | - : - - h1 - : - 0 - - - - - - | |
)",
              {"compact", "a4"});
}

TEST(MendedNotes, ATiePassesWhatStandsBetweenHeadAndFlag) {
  expect_kept(R"(song: The ropewalk
key: E minor
parts:
  طريق:
    instrument: octave mandolin
shapes:
  first frost:
    frets: x 0 1 1
    thumb: 3 2
patterns:
  pedlar:
    meter: 6/8
    lanes: |
      3 | - : i | |
      thumb | p : >p | |
sections:
  old ferry:
    طريق: |
      shape | first frost |
      pattern | pedlar |
)",
              {"stage", "letter"});
}

TEST(MendedNotes, ASlurFromASmallNoteEndsBesideItsHead) {
  expect_kept(R"(song: die needed langsam
meter: 3/4
parts:
  velvet coat:
    instrument: mandola
    tuning: B2 G3 B3 A4
sections:
  ninepins:
    velvet coat: |
      2 | - : - g10\8 - - : - |
      3 | - : 5 -5 - - : - |
)",
              {"ink", "letter"});
}

TEST(MendedNotes, ASlurFromASmallNoteEndsBeforeTheStemOfAnotherVoice) {
  expect_kept(R"(song: The ninepins
parts:
  lantern:
    instrument: banjo
sections:
  brown jug:
    lantern: |
      3 | - : - : - : 7 |
      thumb 5 | - : - : - : g9h10p9 |
)",
              {"ink", "letter"});
}

TEST(MendedNotes, NoArcCurlsBackOverItsEnd) {
  expect_kept(R"(song: The lantern’s End
meter: 3/2
parts:
  harbour wall:
    instrument: guitar
sections:
  drystone:
    key: E minor
    chart: |
      lyric | | | l’ombre- : d’été : garçon? | résonne : encore : encore, |
    harbour wall: |
      5 | - : - : 3 | | | |
      thumb 6 | | g3p2 : - : - | | |
)",
              {"large", "a4"});
}

TEST(MendedNotes, AnArcPassesBehindFigures) {
  const std::string song = R"(song: The almanac
parts:
  harbour wall:
    instrument: box lute
    tuning: "D#3 G#3 C#4 F#4"
sections:
  cold supper:
    chart: |
      meter | | 6/8 |
    harbour wall: |
      1 | - : h10 >0 : - : 6 5 - | |
      2 | - : - : - : 5 | |
      3 | - : - : - : 8 | |
      4 | - : 6 : - : - - h10 | |
      strum | | - : - D - |
)";
  expect_kept(song, {"tab", "letter"});
  // The arc from 6 to 10 is in two pieces, with the figure 5 in the white between them.
  const auto arcs = boxes_of(song, {"tab", "letter"}, "legato-arc");
  const auto figures = boxes_of(song, {"tab", "letter"}, "tab-figure");
  bool behind = false;
  for (std::size_t i = 1; i < arcs.size(); ++i)
    for (const base::Rect& figure : figures)
      behind = behind || (arcs[i - 1].right() < figure.left() && figure.right() < arcs[i].left() &&
                          arcs[i - 1].top() < figure.bottom() && figure.top() < arcs[i - 1].bottom());
  EXPECT_TRUE(behind);
}

TEST(MendedNotes, SlursThatCrossPassBehindOneAnother) {
  expect_kept(R"(song: The thistle
meter: 7/8 (2+2+3)
parts:
  ninepins:
    instrument: Russian guitar
sections:
  blue gate:
    ninepins: |
      strum | - : - : - D - | | |
      slur | | | on : - : - |

      2 | - : - : - 7 - - - /9 | |
      thumb 6 | 5b7 : - : - | p1 : - : - |
)",
              {"large", "letter"});
}

TEST(MendedNotes, ASlurKeepsOffTheNumberAtItsEnd) {
  expect_kept(R"(song: The windfall
parts:
  lantern:
    instrument: tenor banjo
  paper boat:
    instrument: mandolin
    capo: 5
    clef: bass
  far meadow:
    instrument: guitar
  weather vane:
    instrument: guitar
sections:
  stairwell:
    meter: 3/2
    key: G major
    lantern:
      lanes: |
        1 | | | | - - - 0 : - : - |
        2 | | | | - : 3 - - 7 - - : - 3 - - -3 |
        3 | | | 0 : - : - | |
    paper boat: |
      thumb 4 | - 5 : - : - | |
      retune | G3 D4 A4 D5 | |

      string | 1 : - : - | |
      fret | | - : >3 5 : \4 0 - |
      8vb | | - : - : on |
    far meadow: |
      string | 6 : - : - | | | |
      fret | | - : - : - 0 | - 5 5 : 7 0 - - : - | |
    weather vane: |
      3 | | | 5b7 9 - - : - : - | |
      4 | | | - : - : - - h10 9 | |
      5 | | | - : - 8 : - | |
)",
              {"compact", "letter"});
}

TEST(MendedNotes, StrokesThroughAStemKeepOffTheOtherVoice) {
  expect_kept(R"(song: The тихая вода
parts:
  candlewick:
    instrument: banjo
sections:
  thistle:
    times: 3
    candlewick: |
      2 | - : 3 : - : - |
      3 | - : 5 : - : - |
      thumb 5 | - : 0= : - : - |
    endings:
      1-2:
        candlewick: |
          notes | - : - : - : - - G4 |
)",
              {"tab", "letter"});
}

TEST(MendedNotes, AVoiceStandsBesideDisplacedHeads) {
  expect_kept(R"(song: The ninepins
parts:
  cold supper:
    instrument: banjo
    capo: 4
sections:
  quarry lane:
    cold supper: |
      2 | 0 : - : - : - |
      3 | - : - : - : - 3 |

      1 | 4 : - : - : - |
      2 | ~~ : - : - : - |
      3 | b4.5 : - : - : - |
      thumb 4 | - h6 : - : - : - |
      thumb 5 | 4 : - ^4 : - : - |
)",
              {"phone", "a4"});
}

TEST(MendedNotes, ABeamPassesAccidentals) {
  expect_kept(R"(song: The brown jug ושוב
meter: 5/4 (3+2)
parts:
  orchard:
    instrument: lap steel
  windfall:
    instrument: banjo
    capo: 2
sections:
  ropewalk:
    key: D mixolydian
    windfall: |
      4 | - 5 - - - - - : - p4 - - - - - - : - : - : - |
      thumb 5 | - : h4 5 : - : - : - |
)",
              {"stage", "a4"});
}

TEST(MendedNotes, ABeamPassesParentheses) {
  expect_kept(R"(song: The ninepins
key: Ab minor
parts:
  cold supper:
    instrument: banjo
    capo: 4
sections:
  quarry lane:
    cold supper: |
      3 | >0 : - : - - 4 : - 3 |
      thumb 5 | - : - : - : - 4 |
)",
              {"phone", "a4"});
}

TEST(MendedNotes, AParenthesisStandsPastAStem) {
  expect_kept(R"(song: The fish market
parts:
  stairwell:
    instrument: congas
sections:
  grey mare:
    stairwell: |
      muffled | - x : - : - : - |
      slap | - (x) : - : - : - |
      open | x : - : - : - |
      high conga | - : - : - : R |
)",
              {"phone", "a4"});
}

TEST(MendedNotes, AFlagClearsEveryHeadNearItsTip) {
  expect_kept(R"(song: The velvet coat
meter: 3/4
parts:
  ropewalk:
    instrument: guitar
    staff: notation
sections:
  pedlar:
    ropewalk:
      lanes: |
        2 | - : - : - h5 |
        3 | - : - : - ^0 |
        4 | - : - : - <5> |
)",
              {"tab", "a4"});
}

TEST(MendedNotes, RestsOfManyFlagsMakeWayByTheirHeight) {
  expect_kept(R"(song: The утро
parts:
  paper boat:
    instrument: drum kit
sections:
  quarry lane:
    times: 4
    chart: |
      meter | 5/4 (3+2) |
    endings:
      4:
        paper boat: |
          kick | - : x - - - R - - : - : x : x |
          snare | - : - - - - - x - : - : - : - |
)",
              {"compact", "a4"});
}

TEST(MendedNotes, ASlideFromNowhereEndsBeforeAllHeads) {
  expect_kept(R"(song: The almanac
key: Bb major
meter: 3/4
parts:
  velvet coat:
    instrument: guitar
sections:
  fish market:
    velvet coat: |
      5 | 0 : - : - |
      thumb 6 | \6 : - : - |
)",
              {"house", "a4"});
}

TEST(MendedNotes, ASlideBreaksAtAStemBesideItsEnd) {
  expect_kept(R"(song: The quarry
parts:
  velvet coat:
    instrument: guitar
sections:
  утро:
    velvet coat: |
      3 | - : h7 : - : - |

      3 | - - /5 - - - : - : - : - |
      5 | x 5 2 - 3 - : - : - : - - 5 - - - |
)",
              {"phone", "a4"});
}

TEST(MendedNotes, TheSignOfABentHeadStandsPastStems) {
  expect_kept(R"(song: The harbour
meter: 2/4
parts:
  утро:
    instrument: box lute
    tuning: "F#3 A3 C#4 F4 Bb4"
sections:
  ropewalk:
    утро: |
      thumb 3 | - : /6 | |
      5 | | 5pb7 . : - |
)",
              {"ink", "letter"});
}

TEST(MendedNotes, TheAngleOfABendPassesBehindDots) {
  expect_kept(R"(song: The first frost keeps
key: "C# minor"
parts:
  ropewalk:
    instrument: Russian guitar
sections:
  far meadow:
    meter: 9/8
    ropewalk: |
      2 | - : - : h5 |
      3 | - : - : 8 |
      4 | - : - : 7pb8 |
      thumb 7 | - : - : 6 |
)",
              {"house", "letter"});
}

TEST(MendedNotes, TheAngleOfABendPassesBehindHeads) {
  expect_kept(R"(song: The candlewick hält
meter: 7/8 (2+2+3)
parts:
  περίπατος:
    instrument: double bass
sections:
  thistle:
    key: E minor
    περίπατος: |
      2 | - : - - t4 - : - |

      2 | - b5 - - : - : - |
      3 | - 7b9r7 - - : - : - |
)",
              {"ink", "letter"});
}

TEST(MendedNotes, ASlideOffStandsPastBentHeads) {
  expect_kept(R"(song: The first
meter: 7/4
parts:
  quarry lane:
    instrument: charango
    staff: notation
sections:
  coda:
    quarry lane:
      lanes: |
        4 | - : - 4\ - - : - : - : - : - : - |
        5 | - : - 6pb7r6 - 6 : - : - : - : - : - |
)",
              {"compact", "a4"});
}

TEST(MendedNotes, AShakeOfTheBarIsShortBeforeTheNext) {
  expect_kept(R"(song: The été
meter: 7/8 (2+2+3)
parts:
  far meadow:
    instrument: 12-string guitar
sections:
  harbour wall:
    times: 2
    far meadow: |
      5 | - : - : - - 4 | |
      arm | ~ ~ : - : - | |
)",
              {"phone", "a4"});
}

TEST(MendedNotes, WordsOfASpanKeepOffTheSystemLine) {
  expect_kept(R"(song: The linden’s End
parts:
  moth hour:
    instrument: banjo
  cartwheel:
    instrument: baritone ukulele
sections:
  goose step:
    moth hour: |
      strum | |

      strum | - : D : - : - |
    cartwheel: |
      strum | - - - ^xD : - : - D - : - | |
      barre | half : - : - : - | |
)",
              {"large", "a4"});
}

}  // namespace
}  // namespace tunesheaf::generated

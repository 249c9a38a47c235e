// Small songs whose pages once broke a rule, each named by the rule that mended it. Every one is laid out and audited.
#include <gtest/gtest.h>

#include "generated/judge.h"

namespace tunesheaf::generated {
namespace {

void expect_clean(const std::string& text, const Wish& wish) {
  for (const Failure& failure : judge(text, wish)) ADD_FAILURE() << failure.key << "\n" << failure.what << "\n" << text;
}

TEST(Mended, WhatHasNoStringBringsAStaffOfNotation) {
  const std::string song = R"(song: Old Ferry
parts:
  ropewalk: { instrument: guitar, staff: tab }
sections:
  brown jug:
    ropewalk: |
      notes | - : - : - : gG#4-F#4 |
)";
  expect_clean(song, {"compact", "a4"});
  const auto pages = pages_of(song, {"compact", "a4"});
  ASSERT_TRUE(pages);
  int heads = 0, small = 0;
  for (const paint::Page& page : pages->document.pages) {
    for (const paint::DisplayItem& item : page.items) {
      heads += item.kind == paint::Kind("note-head") ? 1 : 0;
      small += item.kind == paint::Kind("grace-head") ? 1 : 0;
    }
  }
  EXPECT_EQ(heads, 1);
  EXPECT_EQ(small, 1);
}

TEST(Mended, ATieIsPartedByAMeterOnItsWay) {
  expect_clean(R"(song: First Frost
parts:
  thistle: { instrument: cello, clef: treble, transposes: up a major sixth }
sections:
  grey mare:
    chart: |
      meter | | 5/8 (3+2) |
    thistle: |
      notes | - : - : D4+G4 : - |

      notes | |
)",
               {"ink", "letter"});
}

TEST(Mended, ATieBowsRoundTheOtherVoice) {
  expect_clean(R"(song: Grey Mare
parts:
  velvet coat: { instrument: guitar }
sections:
  heron:
    velvet coat: |
      3 | - - - t14 : - : - : - >14 | | | | | |
      4 | - : - : - - - - 12 - : - | 3 : - : - : - | | | | |
      thumb 6 | - : 12 : - : - | | | | | |
      5 | | - : >7 : - : - | | | | |
      6 | | - : - : 5 : t3 | 0 : - : - . - - : - | | | |
)",
               {"house", "letter"});
}

TEST(Mended, ABeamPassesTheOtherVoicesHeads) {
  expect_clean(R"(song: Brown Jug
meter: 5/4 (3+2)
parts:
  fish market: { instrument: guitar }
sections:
  ropewalk:
    fish market: |
      thumb 5 | - : - : - : 13 : - |

      string | 5 : - : - : - : - |
      fret | - : - : 0 : - 0 : - |
)",
               {"phone", "a4"});
}

TEST(Mended, ANoteStandsBesideTheSlashOfAnotherVoice) {
  expect_clean(R"(song: Stone Bridge
meter: 6/4
parts:
  grey mare: { instrument: guitar }
sections:
  velvet coat:
    grey mare: |
      thumb 3 | 6 : - : - : - : - : - |

      strum | >U : - : - : - : - : - |
)",
               {"phone", "a4"});
}

TEST(Mended, DotsOfATabStandPastTheFlag) {
  expect_clean(R"(song: Marigold
parts:
  old ferry: { instrument: mandolin, staff: tab }
sections:
  stairwell:
    meter: 6/16
    old ferry: |
      4 | - : 6 |
)",
               {"large", "letter"});
}

TEST(Mended, AFlagClearsADiamond) {
  expect_clean(R"(song: Grey Mare
parts:
  old ferry: { instrument: viola }
sections:
  heron:
    old ferry: |
      notes | - : - : - : - <G4> |
)",
               {"house", "letter"});
}

TEST(Mended, WordsOfAJumpStandWhereNoOtherJumpCrosses) {
  expect_clean(R"(song: Moth Hour
sections:
  millrace:
    times: 2
    chart: |
      hold | | | | |
    endings:
      1:
        chart: |
          count | |
      2:
        chart: |
          crescendo | |
  pedlar:
    like: millrace
  fish market:
    chart: |
      chords | | | |
  weather vane:
    chart: |
      count | | |

      count | | |
  coda:
    times: 2
    chart: |
      dynamics | | | | |
form: [millrace, segno, pedlar, fish market, to coda, weather vane, D.S. al coda, coda]
)",
               {"left-handed", "a4"});
}

/// Ten parts with notation and tab each are higher than a page: the parts stand in several systems.
TEST(Mended, ASystemHigherThanAPageIsSharedOut) {
  std::string song = "song: Full House\nparts:\n", section = "sections:\n  reel:\n";
  for (char part = 'a'; part < 'k'; ++part) {
    const std::string name = std::string("player ") + part;
    song += "  " + name + ": { instrument: guitar }\n";
    section += "    " + name + ": |\n      4 | 2 : 4 : 5 : 7 | 5 : 4 : 2 : 0 |\n";
  }
  expect_clean(song + section, {"house", "a4"});
  expect_clean(song + section, {"large", "letter"});
}

TEST(Mended, AHyphenStandsBesideTheBarLine) {
  expect_clean(R"(song: Kettle
parts:
  tin kettle: { instrument: guitar }
sections:
  inn:
    chart: |
      lyric | - : - : - : la- | - : très : - : - |
    tin kettle: |
      4 | - : - : - - 4 : - | |
      strum | | - : D : - : - |
)",
               {"compact", "letter"});
}

TEST(Mended, ATieOfATabEndsAtTheBarLineBeforeACourtesyMeter) {
  expect_clean(R"(song: Candlewick
meter: 7/8 (2+2+3)
parts:
  pedlar: { instrument: cavaquinho, staff: tab }
sections:
  windfall:
    chart: |
      meter | | 4/4 |
    pedlar: |
      thumb 4 | - : t4 : - |

      thumb 4 | |
)",
               {"ink", "a4"});
}

TEST(Mended, ANameOfACueStandsWithinTheSystem) {
  expect_clean(R"(song: Sons
meter: 2/4
parts:
  copper roof: { instrument: guitar }
  harbour wall: { instrument: cello }
shapes:
  stairwell: { frets: x 0 0 x x x }
sections:
  roof:
    times: 2
    harbour wall: |
      notes | | G3trA3 : - | - : - - A3 - |

      notes | B3 : -B3 | G4 -G4 - >E4 : - - x | - : - E4 G4 G#4 | - : A4 - A4' A4 |
      15ma | | | | - : on |
      8va | | | on : - | |
    copper roof: |
      cue | | | |

      cue | | | | harbour wall |
    endings:
      2:
        copper roof: |
          shape | stairwell |
          3 | - o - - - o : - |
          4 | - - - - o - : - m |
          5 | o : - |
)",
               {"large", "letter"});
}

TEST(Mended, ASignOfTheFormIsBrokenWhereItIsWiderThanThePage) {
  expect_clean(R"(song: The brown jug & Sons
parts:
  thistle: { instrument: 5-string bass guitar }
sections:
  first frost:
    times: 3
    chart: |
      meter | | 5/8 (3+2) |
    thistle: |
      4 | | - : - o |
      see | - : - : - : a | |
    endings:
      3:
        thistle: |
          string | - - 3 : - |
          fret | - - 5b6r5 : b7 |
    remarks:
      a: "answer: keeps last above above for note before keeps the 1432"
form: [segno, first frost, to coda, D.S. al coda, coda]
)",
               {"phone", "a4"});
  expect_clean(R"(song: The almanac
parts:
  old ferry: { instrument: cavaquinho }
sections:
  quiet water:
    times: 2
    old ferry: |
      see | | |
form: [segno, quiet water, fine, D.S. al fine]
)",
               {"phone", "letter", SheetKind::Chart, 251});
}

TEST(Mended, WordsThatGoOnKeepOffTheLineThatJoinsTheStaves) {
  expect_clean(R"(song: The linden
parts:
  moth hour: { instrument: banjo }
  cartwheel: { instrument: baritone ukulele }
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

TEST(Mended, ALineGivesWayToTheWordsAfterIt) {
  expect_clean(R"(song: The goose step
meter: 3/4
parts:
  cartwheel: { instrument: 12-string guitar }
sections:
  stone bridge:
    times: 2
    cartwheel: |
      see | | |
    endings:
      1:
        cartwheel: |
          volume swell | - : - : on |
      2:
        cartwheel: |
          strum | xD : - : - |
          volume swell | - : on : - |
)",
               {"ink", "a4"});
}

TEST(Mended, LettersKeepOffTheDotsOfARepeatThatOpensASystem) {
  expect_clean(R"(song: The saltbox
meter: 6/8
parts:
  ropewalk: { instrument: guitar }
sections:
  fish market:
    times:
      until: every
      about: 4
    ropewalk: |
      5 | 3 : - |
      thumb 6 | 0 : - |
      glissando | on : - |
)",
               {"ink", "letter"});
}

TEST(Mended, TheTypeOfALadderGivesWayOnANarrowPage) {
  expect_clean(R"(song: The candlewick
recordings:
  evening tape: { note: needed window }
parts:
  harbour wall:
    instrument: guitar
    tuning: "F#2 A2 E3 G#3 B3 F#4"
sections:
  candlewick:
    harbour wall: |
      roll | |
)",
               {"phone", "a4"});
}

TEST(Mended, ACountHasRoomInABarOfRest) {
  expect_clean(R"(song: The lantern
parts:
  kettle: { instrument: guitar }
sections:
  saltbox:
    times: 4
    chart: |
      chords | | | | C5 : C5 : - : - |
      lyric | doucement : - : garçon : - | | résonne : résonne : d’été- : très | |

      chords | Gsus2 : Ebmaj7 : Ebmaj7 : - | |
    endings:
      4:
        kettle: |
          notes | - : G4+A4 G4 : F4 : B4 |
)",
               {"ink", "letter", SheetKind::Practice, 165});
}

TEST(Mended, LoudnessAtTheLeftEdgeStaysOnThePage) {
  expect_clean(R"(song: The mill
sections:
  orchard:
    chart: |
      dynamics | | |

      dynamics | | |

      dynamics | | | fff : - : - : - |

      dynamics | | | |
)",
               {"phone", "letter", SheetKind::Practice, 139});
}

/// Thirty remarks on one bar: those that the page cannot hold beside the system stand under it, none is lost.
TEST(Mended, RemarksThatNoPageHoldsGoOnUnderTheSystem) {
  std::string see, remarks;
  for (int i = 0; i < 30; ++i) {
    const std::string name = "r" + std::to_string(i);
    see += (i > 0 ? "," : "") + name;
    remarks += "      " + name + ": \"Remark" + std::to_string(i) +
               " says at length how the hand is to come to rest here, and why it should not hurry.\"\n";
  }
  const std::string song = "song: Talk\nparts:\n  mill: { instrument: guitar }\nsections:\n  weir:\n    mill: |\n" +
                           std::string("      4 | 2 : 4 : 5 : 7 |\n      see | ") + see +
                           " : - : - : - |\n    remarks:\n" + remarks;
  for (const Wish& wish : {Wish{"house", "a4"}, Wish{"large", "letter"}, Wish{"phone", "a4"}}) {
    expect_clean(song, wish);
    const std::string list = display_list(song, wish);
    for (int i = 0; i < 30; ++i) {
      EXPECT_NE(list.find("Remark" + std::to_string(i)), std::string::npos) << "remark " << i << " in " << wish.style;
    }
  }
}

TEST(Mended, AReleaseComesDownBesideTheFiguresOverItsLine) {
  expect_clean(R"(song: The marigold
meter: 3/8
parts:
  copper roof: { instrument: lap steel }
sections:
  first frost:
    copper roof: |
      thumb 5 | 3pb5r3 : - : - | |
      6 | | - : 0 : - |

      4 | | 0 : - : - | | |
      5 | - : 0 : 8tr9 | | | |
)",
               {"large", "a4"});
  expect_clean(R"(song: The ropewalk
parts:
  grey mare: { instrument: guitar, staff: tab }
sections:
  cold supper:
    grey mare: |
      1 | - : - t3 - : - - 3^ - : - 0 0~~ - |
      thumb 2 | - : - : - : 5b8r5 |
)",
               {"phone", "a4"});
}

TEST(Mended, BarsOfRestThatRepeatPlayedBarsAreOnPracticeSheets) {
  expect_clean(R"(song: The pedlar
parts:
  ropewalk:
    instrument: djembe
  утро:
    instrument: guitar
sections:
  harbour wall:
    meter: 2/4
    ropewalk: |
      ghost | | | %% |

      ghost | |
    утро: |
      strum | - : (U) | | . : - |

      strum | |
)",
               {"tab", "a4", SheetKind::Practice, 2078});
}

TEST(Mended, BarsOfRestEndWhereAnEndingIsPlayed) {
  expect_clean(R"(song: The drystone
parts:
  saltbox:
    instrument: lap steel
  marigold:
    instrument: drum kit
sections:
  candlewick:
    times: 3
    marigold: |
      mid tom | | |

      mid tom | %% |
    endings:
      1-2:
        saltbox: |
          thumb 4 | - : - : >0 : - |
)",
               {"ink", "letter", SheetKind::Practice, 805});
}

TEST(Mended, AGlissandoGoesToTheSmallNoteBeforeItsNote) {
  expect_clean(R"(song: The heron
parts:
  heron:
    instrument: classical guitar
sections:
  stairwell:
    times: 2
    heron: |
      4 | - : - - - 5' : - : - - - 5 | - : - : g11h12 : - | | |
      5 | - : - : - : - - 4 - | - : 0 : 12 : - | | |
      6 | - : - - 5b7 - : - : - | - : - : - : 9 9 | | |
      retune | C2 G2 C3 F3 C4 E4 | | | |
      glissando | | on : - : - : . | | |
)",
               {"house", "letter", SheetKind::Practice, 1731});
}

TEST(Mended, AnAmountBesideAnotherMovesAsideSoThatStemsKeepTheirRow) {
  expect_clean(R"(song: The thistle
meter: 9/8
parts:
  lantern:
    instrument: ukulele
    staff: tab
sections:
  drystone:
    lantern: |
      2 | | - 5b5.5 3pb5r3 : . : - | | |
      thumb 4 | 5 : - : - | | | |
      strum | | | | - : - : - D~ - |
)",
               {"ink", "letter", SheetKind::Practice, 2485});
}

TEST(Mended, AShortTieKeepsBetweenParenthesesClearOfASlide) {
  expect_clean(R"(song: The far meadow’s End
parts:
  fish market:
    instrument: guitar
    capo:
      fret: 1
      strings: 6 5 4 3 2 1
sections:
  copper roof:
    times: 3
    fish market: |
      string | - : - 2 : - : - | |
      fret | - : - 3 : - : - | - : - - 5 6^ : - 7 - - : - 5 |

      fret | - 0 : - : - : - 7~~ | |
    endings:
      1-2:
        fish market:
          lanes: |
            5 | - - x - : - : - 7 - - : - |
            staccato | on : - : - : - |
      3:
        fish market:
          lanes: |
            1 | 8 : - : - - p6 - : - |
            2 | - - (0) : - : - : - |
            3 | 6 : - : - : - |
            4 | 5 : - : - \2 - - : - |
            thumb 5 | 5 : - : - : - \4 |
)",
               {"large", "a4", SheetKind::Practice, 1926});
}

}  // namespace
}  // namespace tunesheaf::generated

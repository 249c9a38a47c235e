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

}  // namespace
}  // namespace tunesheaf::generated

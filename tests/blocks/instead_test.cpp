// What to play instead: wishes in words, what is found for them, and the block.
#include "tunesheaf/blocks/instead.h"

#include <gtest/gtest.h>

#include "blocks/bench_setting.h"
#include "support/golden.h"

namespace tunesheaf::blocks {
namespace {

using testing::Bench;
using testing::count_kind;
using testing::text_of;

InsteadWish wish(const std::string& text, const score::Timeline& song) {
  const auto read = read_instead(text, song);
  EXPECT_TRUE(read) << text << ": " << (read ? "" : read.error().sentence);
  return read ? *read : InsteadWish{};
}

/// The keys that a shape sounds behind a capo, against a chord moved by semitones.
bool within(const theory::Shape& shape, const InsteadWish& how, int capo, const theory::ChordName& chord, int up) {
  const unsigned allowed = theory::tone_bits(theory::transposed(chord, up, std::nullopt));
  for (const int key : theory::sounding_midi(how.tuning, {capo, {}}, shape)) {
    if ((allowed >> static_cast<unsigned>(key % 12) & 1U) == 0) return false;
  }
  return true;
}

TEST(InsteadWishes, AreReadAsPlayersSayThem) {
  const Bench bench;
  const InsteadWish usual = wish("usual tuning", bench.song);
  EXPECT_EQ(usual.instrument->name, "guitar");
  EXPECT_EQ(theory::print(usual.tuning), "E2 A2 D3 G3 B3 E4");
  EXPECT_FALSE(usual.capo);
  EXPECT_EQ(wish("capo 3", bench.song).capo, 3);
  EXPECT_EQ(wish("the capo at fret three", bench.song).capo, 3);
  EXPECT_EQ(wish("without a capo", bench.song).capo, 0);
  EXPECT_EQ(wish("ukulele", bench.song).tuning.count(), 4);
  EXPECT_EQ(wish("guitar in open D with capo 2", bench.song).tuning.name, "open D");
  EXPECT_EQ(wish("a semitone down", bench.song).semitones, -1);
  EXPECT_EQ(wish("half a step up", bench.song).semitones, 1);
  EXPECT_EQ(wish("two tones higher", bench.song).semitones, 4);
  EXPECT_EQ(wish("+3 semitones", bench.song).semitones, 3);
  EXPECT_EQ(wish("tuned half step down", bench.song).tuning.name, "half step down");
  EXPECT_EQ(wish_words(wish("ukulele tuned to low G", bench.song)), "ukulele, low G");
  for (const char* none : {"", " , ", "kazoo", "piano", "capo 40", "three octaves up", "open D, open G", "capo high"}) {
    EXPECT_FALSE(read_instead(none, bench.song)) << none;
  }
}

TEST(Instead, EveryShapeSoundsTheChordOfThePage) {
  const Bench bench;
  for (const char* words : {"usual tuning", "ukulele", "mandolin, a tone up", "DADGAD, capo 4", "a semitone down"}) {
    const InsteadWish how = wish(words, bench.song);
    const Instead instead = play_instead(bench.song, how);
    ASSERT_TRUE(instead.any()) << words;
    std::size_t checked = 0;
    for (const score::Section& section : bench.song.sections) {
      for (const score::Harmony& harmony : section.harmony) {
        if (!harmony.name) continue;
        const std::string name = theory::print(*harmony.name, theory::Accidentals::Signs);
        for (const InsteadChord& chord : instead.chords) {
          if (chord.page_name != name || !chord.shape) continue;
          const int up = instead.page_capo + how.semitones;
          EXPECT_TRUE(within(chord.shape->shape, how, instead.capo(), *harmony.name, up)) << words << " " << name;
          ++checked;
        }
      }
    }
    EXPECT_GT(checked, 0U) << words;
  }
}

TEST(Instead, TheBlockShowsEveryChordAndSaysWhere) {
  Bench bench;
  const Instead instead = play_instead(bench.song, wish("usual tuning", bench.song));
  const Flow flow = instead_block(bench.setting(), instead);
  support::expect_golden("blocks/instead.layout", testing::print(flow));
  const std::string text = text_of(flow);
  EXPECT_NE(text.find("Instead"), std::string::npos);
  int boxes = 0;
  for (const InsteadChord& chord : instead.chords) boxes += chord.shape ? 1 : 0;
  EXPECT_EQ(count_kind(flow, "shape-name"), boxes);
  for (const layout::FlowItem& item : flow) EXPECT_LE(item.frame->size.width, bench.setting().body());
  score::Timeline silent;
  EXPECT_TRUE(instead_block(bench.setting(), play_instead(silent, wish("ukulele", silent))).empty());
}

}  // namespace
}  // namespace tunesheaf::blocks

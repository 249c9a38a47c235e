// Short values against what they mean, and near misses against being refused.
#include "tunesheaf/song/values.h"

#include <gtest/gtest.h>

namespace tunesheaf::song {
namespace {

using base::Fraction;

TEST(Values, Times) {
  EXPECT_EQ(parse_time("1:56"), Fraction(116));
  EXPECT_EQ(parse_time("0:00"), Fraction(0));
  EXPECT_EQ(parse_time("1:02.5"), Fraction(125, 2));
  EXPECT_EQ(parse_time("1:02:03"), Fraction(3723));
  EXPECT_EQ(parse_time("75:00"), Fraction(4500));
  for (const char* text : {"", "116", "1:5", "1:75", "1:", ":30", "1:2:03", "1:62:03", "1:005", "1:56 ", "-1:00",
                           "1.5:00", "1:02:03:04", "1:02."}) {
    EXPECT_FALSE(parse_time(text)) << text;
  }
}

TEST(Values, LanguageTags) {
  for (const char* text : {"en", "de-AT", "sr-Latn", "zh-Hant-TW", "es-419", "gsw", "sl-rozaj-biske-1994"}) {
    EXPECT_TRUE(is_language_tag(text)) << text;
  }
  for (const char* text :
       {"", "e", "english", "english please", "en-", "-en", "en--GB", "en_GB", "1n", "en-abcdefghi"}) {
    EXPECT_FALSE(is_language_tag(text)) << text;
  }
}

TEST(Values, Addresses) {
  for (const char* text : {"https://example.org", "http://example.org/a?b=c#d", "HTTPS://example.org/lessons/14"}) {
    EXPECT_TRUE(is_web_address(text)) << text;
  }
  for (const char* text : {"", "example.org", "https://", "https:///x", "ftp://example.org", "javascript:alert(1)",
                           "https://example.org/a b", "on the shelf", "file:///tmp/x", "https://?x"}) {
    EXPECT_FALSE(is_web_address(text)) << text;
  }
}

TEST(Values, Tempos) {
  const auto plain = parse_tempo("96");
  ASSERT_TRUE(plain);
  EXPECT_EQ(plain->per_minute, Fraction(96));
  EXPECT_FALSE(plain->unit_stated);
  const auto dotted = parse_tempo("dotted quarter 60");
  ASSERT_TRUE(dotted);
  EXPECT_EQ(dotted->unit, Fraction(3, 8));
  EXPECT_TRUE(dotted->unit_stated);
  const auto equals = parse_tempo("half = 72.5");
  ASSERT_TRUE(equals);
  EXPECT_EQ(equals->unit, Fraction(1, 2));
  EXPECT_EQ(equals->per_minute, Fraction(145, 2));
  const auto both = parse_tempo("slowly, quarter note = 60");
  ASSERT_TRUE(both);
  EXPECT_EQ(both->words, "slowly");
  EXPECT_EQ(both->unit, Fraction(1, 4));
  const auto words = parse_tempo("a tempo");
  ASSERT_TRUE(words);
  EXPECT_EQ(words->words, "a tempo");
  EXPECT_EQ(words->per_minute, Fraction(0));
  for (const char* text :
       {"", "9", "601", "quater = 96", "96 bpm", "= 96", "quarter =", "4 = 96", "1/4 = 96", "96.5.5"}) {
    EXPECT_FALSE(parse_tempo(text)) << text;
  }
}

TEST(Values, Feels) {
  ASSERT_TRUE(parse_feel("straight"));
  EXPECT_EQ(parse_feel("straight")->unit, Fraction(0));
  EXPECT_EQ(parse_feel("swing")->unit, Fraction(1, 8));
  EXPECT_EQ(parse_feel("swing")->first, Fraction(2));
  const auto sixteenths = parse_feel("swing 16ths 3:2");
  ASSERT_TRUE(sixteenths);
  EXPECT_EQ(sixteenths->unit, Fraction(1, 16));
  EXPECT_EQ(sixteenths->first, Fraction(3));
  EXPECT_EQ(sixteenths->second, Fraction(2));
  EXPECT_EQ(sixteenths->words, "swing 16ths 3:2");
  for (const char* text : {"", "shuffle", "swing 0:1", "swing quarter", "swing 2", "swing 2:1 8ths", "straight 8ths"}) {
    EXPECT_FALSE(parse_feel(text)) << text;
  }
}

TEST(Values, Transpositions) {
  const auto is = [](const char* text, const char* interval) {
    const auto read = parse_transposition(text);
    ASSERT_TRUE(read) << text;
    EXPECT_EQ(theory::print(*read), interval) << text;
  };
  is("up a major second", "M2");
  is("down a minor third", "-m3");
  is("up a fifth", "P5");
  is("up an augmented fourth", "A4");
  is("up an octave and a major sixth", "M13");
  is("down two octaves", "-P15");
  is("up a whole tone", "M2");
  is("down a semitone", "-m2");
  is("not at all", "P1");
  for (const char* text :
       {"", "up", "a major second", "up a second", "up a perfect third", "in B flat", "up five octaves",
        "up a major second and", "up a tone a tone", "up four octaves and a tone"}) {
    EXPECT_FALSE(parse_transposition(text)) << text;
  }
}

TEST(Values, PickUps) {
  EXPECT_EQ(parse_pick_up("1 beat")->amount, Fraction(1));
  EXPECT_EQ(parse_pick_up("1.5 beats")->amount, Fraction(3, 2));
  EXPECT_EQ(parse_pick_up("half a beat")->amount, Fraction(1, 2));
  EXPECT_TRUE(parse_pick_up("1/2 beat")->in_beats);
  EXPECT_FALSE(parse_pick_up("3/8")->in_beats);
  EXPECT_EQ(parse_pick_up("3/8")->amount, Fraction(3, 8));
  for (const char* text : {"", "1", "0 beats", "beat", "1 bar", "1/0", "/8", "2 beats more"}) {
    EXPECT_FALSE(parse_pick_up(text)) << text;
  }
}

TEST(Values, Passes) {
  EXPECT_EQ(parse_passes("2"), std::vector<int>{2});
  EXPECT_EQ(parse_passes("3-4"), (std::vector<int>{3, 4}));
  EXPECT_EQ(parse_passes("1, 3"), (std::vector<int>{1, 3}));
  for (const char* text : {"", "0", "last", "4-3", "1,1", "1-2,2", "100", "1-", "1,,2"}) {
    EXPECT_TRUE(parse_passes(text).empty()) << text;
  }
}

TEST(Values, ExactNumbers) {
  EXPECT_EQ(parse_exact("12.5"), Fraction(25, 2));
  EXPECT_EQ(parse_exact("007"), Fraction(7));
  for (const char* text : {"", ".5", "5.", "1e3", "-1", "1.23456", "1234567"}) EXPECT_FALSE(parse_exact(text)) << text;
}

}  // namespace
}  // namespace tunesheaf::song

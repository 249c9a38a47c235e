#include "tunesheaf/base/utf8.h"

#include <gtest/gtest.h>

namespace tunesheaf::base {
namespace {

TEST(Utf8, EveryScalarValueGoesThereAndBack) {
  for (char32_t c = 0; c <= 0x10FFFF; ++c) {
    if (c >= 0xD800 && c <= 0xDFFF) continue;
    const std::string bytes = to_utf8(c);
    const DecodedPoint p = decode_at(bytes, 0);
    ASSERT_TRUE(p.well_formed) << std::hex << static_cast<unsigned>(c);
    ASSERT_EQ(p.code_point, c);
    ASSERT_EQ(p.length, bytes.size());
  }
}

TEST(Utf8, IllFormedBytesAreFoundWhereTheyStand) {
  const std::vector<std::string> bad = {
      "\x80",              // a byte that only continues
      "\xC0\x80",          // NUL in two bytes
      "\xC1\xBF",          // overlong
      "\xE0\x9F\xBF",      // overlong
      "\xED\xA0\x80",      // half of a surrogate pair
      "\xF0\x8F\xBF\xBF",  // overlong
      "\xF4\x90\x80\x80",  // above U+10FFFF
      "\xF5\x80\x80\x80",
      "\xFF",
      "\xC3",
      "\xE2\x82",
      "\xF0\x9F\x8E",
      "\xC3\x28",
  };
  for (const std::string& bytes : bad) {
    EXPECT_EQ(first_bad_utf8("ab\u266D" + bytes), 5U) << bytes;
    EXPECT_EQ(code_points(bytes).front(), 0xFFFDU);
  }
  EXPECT_EQ(first_bad_utf8("F\u266F m7\u266D5 \U0001D11E"), std::nullopt);
  EXPECT_EQ(first_bad_utf8(""), std::nullopt);
}

TEST(Utf8, CountsCodePoints) {
  EXPECT_EQ(count_code_points("B\u266D7"), 3U);
  EXPECT_EQ(count_code_points("\xFF\xFE"), 2U);
  EXPECT_EQ(to_utf8(0xD800), "\uFFFD");
  EXPECT_EQ(to_utf8(0x110000), "\uFFFD");
}

TEST(Utf8, ColumnsFollowEastAsianWidth) {
  EXPECT_EQ(display_columns("C\u266F"), 2U);
  EXPECT_EQ(display_columns("\u6B4C"), 2U);        // a Han sign
  EXPECT_EQ(display_columns("\uD55C\uAE00"), 4U);  // Hangul
  EXPECT_EQ(display_columns("e\u0301"), 1U);       // a combining accent
  EXPECT_EQ(display_columns("\uFEFF"), 0U);
  EXPECT_EQ(display_columns("\U0001F3B8"), 2U);  // a guitar
  EXPECT_EQ(display_columns("\u201Cx\u201D"), 3U);
  EXPECT_EQ(display_columns(""), 0U);
}

}  // namespace
}  // namespace tunesheaf::base

#include "tunesheaf/base/ascii.h"

#include <gtest/gtest.h>

namespace tunesheaf::base {
namespace {

TEST(Ascii, MakesOnlyPlainLettersSmall) {
  EXPECT_EQ(lower("Open G, B\u266d \u00c9"), "open g, b\u266d \u00c9");
}

TEST(Ascii, TakesBlanksFromBothEndsOnly) {
  EXPECT_EQ(trimmed(" \tcapo 3\t "), "capo 3");
  EXPECT_EQ(trimmed(" \t "), "");
  EXPECT_EQ(trimmed(""), "");
}

}  // namespace
}  // namespace tunesheaf::base

// The reading is heard by one who sees nothing, and compared with the Timeline: every onset, string, fret and finger,
// every pitch, every drum.
#include <gtest/gtest.h>

#include "aloud/compare.h"
#include "score/support.h"

namespace tunesheaf::aloud {
namespace {

using test::expect_heard;

class ReadBack : public testing::TestWithParam<std::filesystem::path> {};

TEST_P(ReadBack, EveryOnsetStringFretAndFingerIsHeard) {
  const score::Built built = score::build_file(GetParam());
  ASSERT_TRUE(built.timeline) << built.findings();
  const std::size_t least = built.timeline->parts.empty() ? 0 : 10;  // a chart alone has no notes
  EXPECT_GE(expect_heard(*built.timeline), least);
}

/// The listener is no friend of the reader: one fret said wrong is heard wrong.
TEST(ReadBackOfASlip, IsNoticed) {
  const score::Built built =
      score::build_file(std::filesystem::path(TUNESHEAF_SOURCE_DIR) / "tests/golden/aloud/harbour.yaml");
  ASSERT_TRUE(built.timeline) << built.findings();
  const std::string text = to_text(read(*built.timeline, {}));
  const test::HeardBars expected = test::written(*built.timeline);
  const auto alike = [&](const std::string& said) { return test::Listener(*built.timeline).listen(said) == expected; };
  EXPECT_TRUE(alike(text));
  const std::vector<std::pair<std::string, std::string>> slips{
      {"string 6, fret 5, hammer on", "string 6, fret 4, hammer on"},
      {"Beat 2 and: string 6, fret 5", "Beat 2 a: string 6, fret 5"},
      {"string 1, fret 3, ring finger", "string 1, fret 3, little finger"},
      {"String 3: fret 2, index finger", "String 3: fret 1, index finger"},
      {"Bar 2, shape high: strumming", "Bar 2, shape low: strumming"}};
  for (const auto& [right, wrong] : slips) {
    std::string slipped = text;
    const auto at = slipped.find(right);
    ASSERT_NE(at, std::string::npos) << right;
    EXPECT_FALSE(alike(slipped.replace(at, right.size(), wrong))) << wrong;
  }
}

INSTANTIATE_TEST_SUITE_P(Demo, ReadBack, testing::ValuesIn(score::songs_in("songs-demo")), score::test_name);
INSTANTIATE_TEST_SUITE_P(Small, ReadBack, testing::ValuesIn(score::songs_in("tests/golden/aloud")), score::test_name);
INSTANTIATE_TEST_SUITE_P(Signs, ReadBack, testing::ValuesIn(score::songs_in("tests/songs")), score::test_name);

}  // namespace
}  // namespace tunesheaf::aloud

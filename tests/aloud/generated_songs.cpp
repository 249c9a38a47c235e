// Songs made from seeds are read aloud and heard back.
#include <gtest/gtest.h>

#include "aloud/compare.h"
#include "generated/song.h"
#include "score/support.h"

namespace tunesheaf::test {
namespace {

constexpr std::uint64_t kSongs = 150;

TEST(GeneratedSongs, AreHeardAsTheyAreWritten) {
  std::uint64_t heard = 0;
  std::size_t notes = 0;
  for (std::uint64_t seed = 1; seed <= kSongs; ++seed) {
    SCOPED_TRACE("seed " + std::to_string(seed));
    const score::Built built = score::build_text("seed.yaml", generated::write(generated::make_song(seed)));
    if (!built.timeline) continue;  // the generator's own tests see to it that its songs are free of errors
    ++heard;
    notes += expect_heard(*built.timeline);
    if (testing::Test::HasFailure()) return;
  }
  EXPECT_GE(heard, kSongs / 2);
  EXPECT_GT(notes, 100 * kSongs / 2);
}

}  // namespace
}  // namespace tunesheaf::test

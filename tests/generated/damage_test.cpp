// Damage done on purpose to the pages of the demo songs: the audit notices it every time.
#include "generated/damage.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>

namespace tunesheaf::generated {
namespace {

const Tally& tally_of_demo_songs() {
  static const Tally kTally = [] {
    std::vector<std::filesystem::path> paths;
    for (const auto& entry : std::filesystem::directory_iterator(std::string(TUNESHEAF_SOURCE_DIR) + "/songs-demo"))
      if (entry.path().extension() == ".yaml") paths.push_back(entry.path());
    std::sort(paths.begin(), paths.end());
    Tally tally;
    for (const auto& path : paths) {
      std::ifstream file(path, std::ios::binary);
      const std::string text{std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
      const auto pages = pages_of(text, {});
      if (pages) damage(*pages, 3, tally);
    }
    return tally;
  }();
  return kTally;
}

TEST(Damage, OfEveryKindOfMarkIsAlwaysCaught) {
  EXPECT_GT(tally_of_demo_songs().size(), 100U) << "kinds of marks on the pages of the demo songs";
  for (const auto& [kind, caught] : tally_of_demo_songs()) {
    for (std::size_t d = 0; d < kDamages.size(); ++d) {
      EXPECT_GT(caught[d].done, 0) << kind;
      EXPECT_EQ(caught[d].caught, caught[d].done) << kind << " " << kDamages[d];
    }
  }
}

}  // namespace
}  // namespace tunesheaf::generated

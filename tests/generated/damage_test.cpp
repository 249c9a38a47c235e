// Damage done on purpose to the pages of the demo songs: what the audit promises to notice, it notices every time.
#include "generated/damage.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>

namespace tunesheaf::generated {
namespace {

/// What is caught every time. What is not yet: a note moved to the side without leaving its height, and most of what
/// happens to marks that stand for no single note.
struct Promise {
  const char* kind;
  std::vector<Damage> damages;
};
const std::vector<Promise> kPromises{
    {"note-head", {Damage::Deleted, Damage::Doubled}},
    {"tab-figure", {Damage::Deleted, Damage::Doubled}},
    {"tab-line", {Damage::Deleted, Damage::Moved, Damage::Doubled, Damage::Resized}},
};

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

TEST(Damage, ThatIsPromisedToBeCaughtIsCaught) {
  for (const Promise& promise : kPromises) {
    const auto found = tally_of_demo_songs().find(promise.kind);
    ASSERT_NE(found, tally_of_demo_songs().end()) << promise.kind;
    for (const Damage damage : promise.damages) {
      const auto d = static_cast<std::size_t>(damage);
      EXPECT_GT(found->second[d].done, 0) << promise.kind;
      EXPECT_EQ(found->second[d].caught, found->second[d].done) << promise.kind << " " << kDamages[d];
    }
  }
}

TEST(Damage, AMarkDrawnTwiceIsAlwaysCaught) {
  for (const auto& [kind, caught] : tally_of_demo_songs()) {
    const auto& doubled = caught[static_cast<std::size_t>(Damage::Doubled)];
    EXPECT_EQ(doubled.caught, doubled.done) << kind;
  }
}

/// The share that is caught over all kinds of marks may only grow.
TEST(Damage, OfEveryKindIsCaughtAsOftenAsBefore) {
  constexpr int kLeast[] = {5, 20, 100, 30};  // percent, in the order of kDamages
  for (std::size_t d = 0; d < kDamages.size(); ++d) {
    int done = 0, caught = 0;
    for (const auto& [kind, one] : tally_of_demo_songs()) {
      done += one[d].done;
      caught += one[d].caught;
    }
    RecordProperty(std::string(kDamages[d]), std::to_string(caught) + " of " + std::to_string(done));
    EXPECT_GE(100 * caught, kLeast[d] * done) << kDamages[d] << ": " << caught << " of " << done;
  }
}

}  // namespace
}  // namespace tunesheaf::generated

#include "tunesheaf/base/edit_distance.h"

#include <gtest/gtest.h>

namespace tunesheaf::base {
namespace {

TEST(EditDistance, CountsInsertDeleteChangeSwap) {
  EXPECT_EQ(edit_distance("", ""), 0U);
  EXPECT_EQ(edit_distance("capo", "capo"), 0U);
  EXPECT_EQ(edit_distance("cpao", "capo"), 1U);
  EXPECT_EQ(edit_distance("cap", "capo"), 1U);
  EXPECT_EQ(edit_distance("cappo", "capo"), 1U);
  EXPECT_EQ(edit_distance("kapo", "capo"), 1U);
  EXPECT_EQ(edit_distance("", "capo"), 4U);
  EXPECT_EQ(edit_distance("B\u266D", "Bb"), 1U);
}

TEST(EditDistance, IsSymmetricAndObeysTheTriangle) {
  const std::vector<std::string> words = {"home", "hoem", "hom", "comes", "strum", "drum", "", "thumb"};
  for (const std::string& a : words) {
    for (const std::string& b : words) {
      EXPECT_EQ(edit_distance(a, b), edit_distance(b, a));
      for (const std::string& c : words) EXPECT_LE(edit_distance(a, c), edit_distance(a, b) + edit_distance(b, c));
    }
  }
}

TEST(NearestWord, IsWhatWasMeant) {
  const std::vector<std::string> known = {"tuning", "tempo", "times", "home", "Two-Finger"};
  EXPECT_EQ(nearest_word("tunning", known), "tuning");
  EXPECT_EQ(nearest_word("hoem", known), "home");
  EXPECT_EQ(nearest_word("TEMPO", known), "tempo");
  EXPECT_EQ(nearest_word("two-fnger", known), "Two-Finger");
  EXPECT_EQ(nearest_word("timpes", known), "times");
  EXPECT_EQ(nearest_word("strum", known), std::nullopt);
  EXPECT_EQ(nearest_word("x", known), std::nullopt);
  EXPECT_EQ(nearest_word("", known), std::nullopt);
  EXPECT_EQ(nearest_word(std::string(100000, 'x'), known), std::nullopt);
}

TEST(NearestWord, TheFirstOfEqualsWins) {
  EXPECT_EQ(nearest_word("bat", {"bar", "beat", "bag"}), "bar");
}

}  // namespace
}  // namespace tunesheaf::base

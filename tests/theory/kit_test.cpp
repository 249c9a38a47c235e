#include "tunesheaf/theory/kit.h"

#include <gtest/gtest.h>

#include <set>
#include <tuple>

namespace tunesheaf::theory {
namespace {

const std::vector<std::string> kAll{
    "kick",      "kick 2",    "snare",      "cross-stick", "rim",          "hat",        "hat open",   "hat half",
    "hat foot",  "ride",      "ride bell",  "crash",       "crash 2",      "splash",     "china",      "high tom",
    "mid tom",   "low tom",   "floor tom",  "tom 1",       "tom 2",        "tom 3",      "tom 4",      "cowbell",
    "shaker",    "maracas",   "claves",     "guiro",       "triangle",     "tambourine", "wood block", "claps",
    "snaps",     "stomp",     "bass",       "slap",        "tone",         "open",       "muffled",    "heel",
    "toe",       "tap",       "ghost",      "doum",        "tek",          "ka",         "conga",      "high conga",
    "low conga", "low bongo", "high bongo", "low timbale", "high timbale", "hand drum"};

std::size_t different(const DrumStaff& staff) {
  std::set<std::tuple<int, DrumHead, DrumRing>> seen;
  for (const DrumPlace& place : staff.places) seen.emplace(place.position, place.head, place.ring);
  return seen.size();
}

TEST(Kit, ASetHasFiveLinesAndItsUsualPlaces) {
  const DrumStaff staff = drum_staff({"kick", "snare", "hat", "hat foot", "ride", "ride bell", "crash", "cross-stick"});
  EXPECT_EQ(staff.lines, 5);
  const std::vector<int> places{-3, 1, 5, -5, 4, 4, 6, 1};
  for (std::size_t i = 0; i < places.size(); ++i) EXPECT_EQ(staff.places[i].position, places[i]);
  EXPECT_EQ(staff.places[2].head, DrumHead::Cross);
  EXPECT_EQ(staff.places[5].head, DrumHead::Diamond) << "the bell is told from the bow of the cymbal";
  EXPECT_TRUE(staff.places[0].feet && staff.places[3].feet);
  EXPECT_FALSE(staff.places[1].feet);
}

TEST(Kit, NoTwoDrumsOfAPartLookAlike) {
  EXPECT_EQ(different(drum_staff(kAll)), kAll.size()) << "all at once";
  for (std::size_t i = 0; i < kAll.size(); ++i) {
    for (std::size_t j = i + 1; j < kAll.size(); ++j) {
      EXPECT_EQ(different(drum_staff({kAll[i], kAll[j]})), 2u) << kAll[i] << " and " << kAll[j];
    }
  }
  EXPECT_EQ(different(drum_staff({"nobody's drum", "nor this", "snare"})), 3u);
}

TEST(Kit, OtherPercussionIsRankedOnAsFewLinesAsHoldIt) {
  const std::vector<std::string> low_to_high{"bass",  "low conga",  "muffled", "open",   "high conga", "slap",
                                             "claps", "wood block", "guiro",   "shaker", "triangle"};
  const std::vector<int> lines{1, 1, 1, 2, 2, 3, 3, 4, 4, 5, 5};
  for (std::size_t count = 1; count <= low_to_high.size(); ++count) {
    std::vector<std::string> drums(low_to_high.begin(), low_to_high.begin() + static_cast<std::ptrdiff_t>(count));
    const DrumStaff staff = drum_staff(drums);
    EXPECT_EQ(staff.lines, lines[count - 1]) << count;
    for (std::size_t i = 1; i < count; ++i) EXPECT_GT(staff.places[i].position, staff.places[i - 1].position) << count;
    EXPECT_EQ(staff.places.front().position, count == 1 ? 0 : -staff.lines) << count;
    EXPECT_EQ(staff.places.back().position, count == 1 ? 0 : staff.lines) << count;
  }
}

TEST(Kit, KeysAreThoseOfGeneralMidi) {
  for (const std::string& drum : kAll) {
    EXPECT_GE(drum_place(drum).midi, 35) << drum;
    EXPECT_LE(drum_place(drum).midi, 82) << drum;
  }
  EXPECT_EQ(drum_place("kick").midi, 36);
  EXPECT_EQ(drum_place("snare").midi, 38);
  EXPECT_EQ(drum_place("hat").midi, 42);
  EXPECT_EQ(drum_place("ride bell").midi, 53);
  EXPECT_EQ(drum_place("cowbell").midi, 56);
}

}  // namespace
}  // namespace tunesheaf::theory

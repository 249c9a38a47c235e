// Every sign of the language against what it says, and every way a sign can break off against what is said about it.
#include "signs.h"

#include <gtest/gtest.h>

#include "print_cells.h"
#include "vocabulary.h"

namespace tunesheaf::song {
namespace {

struct SignCase {
  const char* lane;
  const char* cell;
  const char* printed;
};

SignResult parse(const char* lane, const char* cell) {
  return parse_sign(*find_lane(lane)->entry, cell);
}

const std::vector<SignCase> kSigns{
    {"1", "0", "fret 0"},
    {"1", "12", "fret 12"},
    {"1", "36", "fret 36"},
    {"1", "x", "fret dead"},
    {"1", "(5)", "fret 5 ghost"},
    {"1", "(x)", "fret dead ghost"},
    {"1", "(h5)", "fret 5 ghost hammered"},
    {"1", "h5", "fret 5 hammered"},
    {"1", "p3", "fret 3 pulled"},
    {"1", "/5", "fret 5 slid"},
    {"1", "\\3", "fret 3 slid from-above"},
    {"1", "7/", "fret 7 slides-on"},
    {"1", "7\\", "fret 7 slides-off-down"},
    {"1", "h7/", "fret 7 hammered slides-on"},
    {"1", "7b9", "fret 7 bend=9"},
    {"1", "12b12.5", "fret 12 bend=25/2"},
    {"1", "7b9r7", "fret 7 bend=9 release=7"},
    {"1", "7b9r7b10", "fret 7 bend=9 release=7 bend=10"},
    {"1", "15pb17", "fret 15 prebend=17"},
    {"1", "15pb17r15", "fret 15 prebend=17 release=15"},
    {"1", "7b9~", "fret 7 bend=9 vibrato"},
    {"1", "b17", "fret goes-on bend=17"},
    {"1", "r15", "fret goes-on release=15"},
    {"1", "~", "fret goes-on vibrato"},
    {"1", "~~", "fret goes-on wide-vibrato"},
    {"1", "7~", "fret 7 vibrato"},
    {"1", "7~~", "fret 7 wide-vibrato"},
    {"1", "t12", "fret 12 tapped"},
    {"1", "t12~", "fret 12 tapped vibrato"},
    {"1", "17tr19", "fret 17 trill=19"},
    {"1", "15=", "fret 15 tremolo"},
    {"1", "-5", "fret 5 tied"},
    {"1", "-7b9", "fret 7 tied bend=9"},
    {"1", "g1h3", "fret 3 grace=1/hammered"},
    {"1", "g5p3", "fret 3 grace=5/pulled"},
    {"1", "g5/7", "fret 7 grace=5/slid"},
    {"1", "g1-3", "fret 3 grace=1/struck"},
    {"1", "g3h5p3", "fret 3 grace=3/hammered grace=5/pulled"},
    {"1", "<12>", "fret 12 harmonic=natural"},
    {"1", "<7>~", "fret 7 vibrato harmonic=natural"},
    {"1", "12<24>", "fret 12 harmonic=artificial touch=24"},
    {"1", "12<t24>", "fret 12 harmonic=tapped touch=24"},
    {"1", "7<>", "fret 7 harmonic=pinched"},
    {"1", "7<>~~", "fret 7 wide-vibrato harmonic=pinched"},
    {"1", ">5", "fret 5 >"},
    {"1", "5>", "fret 5 >"},
    {"1", "^5", "fret 5 ^"},
    {"1", "5'", "fret 5 '"},
    {"1", "5_", "fret 5 _"},
    {"1", "5@", "fret 5 @"},
    {"1", ">5'_", "fret 5 >'_"},
    {"1", ">x", "fret dead >"},
    {"1", ">(5)", "fret 5 ghost >"},
    {"1", "p", "pluck p"},
    {"1", ">a", "pluck a >"},
    {"1", "T", "pluck T"},
    {"1", "o", "pluck any"},
    {"thumb 5", "p", "pluck p"},
    {"fret", "h7", "fret 7 hammered"},
    {"string", "12", "string 12"},
    {"strum", "D", "strum down"},
    {"strum", "U", "strum up"},
    {"strum", "x", "strum none muted"},
    {"strum", "xU", "strum up muted"},
    {"strum", "D6-4", "strum down strings=6-4"},
    {"strum", "U1-3", "strum up strings=1-3"},
    {"strum", "D4", "strum down strings=4-4"},
    {"strum", "D~", "strum down rolled"},
    {"strum", "U6-2~", "strum up rolled strings=6-2"},
    {"strum", "D/", "strum down brushed"},
    {"strum", "(D)", "strum down ghost"},
    {"strum", ">D'", "strum down >'"},
    {"pluck", "p", "pluck p"},
    {"pluck", "m+a", "pluck ma"},
    {"pluck", "pima", "pluck pima"},
    {"pluck", ">P", "pluck P >"},
    {"pick", "D", "pick down"},
    {"pick", "U", "pick up"},
    {"finger", "1", "finger 1"},
    {"finger", "1+4", "finger 1+4"},
    {"finger", "T", "finger 5"},
    {"arm", "dip2", "arm dip 2"},
    {"arm", "dip", "arm dip"},
    {"arm", "dive5", "arm dive 5"},
    {"arm", "up0.5", "arm up 1/2"},
    {"arm", "scoop", "arm scoop"},
    {"arm", "back", "arm back"},
    {"arm", "~", "arm shake"},
    {"bow", "D", "\"D\""},
    {"notes", "D5", "note D5"},
    {"notes", "F#4", "note F#4"},
    {"notes", "Bb3", "note Bb3"},
    {"notes", "D5+F5", "note D5+F5"},
    {"right", "-D5+F5", "note D5+F5 tied"},
    {"notes", "x", "note dead"},
    {"notes", "(D5)", "note D5 ghost"},
    {"notes", "<D5>", "note D5 harmonic"},
    {"notes", "D5=", "note D5 tremolo"},
    {"notes", "D5trE5", "note D5 trill=E5"},
    {"left", "gC5-D5", "note D5 grace=C5"},
    {"notes", "gC5+E5-D5", "note D5 grace=C5+E5"},
    {"notes", ">D5'", "note D5 >'"},
    {"snare", "x", "stroke"},
    {"hat", "o", "stroke open"},
    {"hat", "h", "stroke half-open"},
    {"snare", "(x)", "stroke ghost"},
    {"snare", ">x", "stroke >"},
    {"snare", "fx", "stroke grace=1"},
    {"snare", "dx", "stroke grace=2"},
    {"snare", "rx", "stroke grace=3"},
    {"snare", "xz", "stroke buzz"},
    {"snare", "xLz", "stroke buzz hand=L"},
    {"snare", "x/", "stroke roll=1"},
    {"snare", "x//", "stroke roll=2"},
    {"snare", ">x///", "stroke roll=3 >"},
    {"crash", "x!", "stroke choked"},
    {"snare", "R", "stroke hand=R"},
    {"snare", "fL", "stroke grace=1 hand=L"},
    {"snare", "(xR)", "stroke ghost hand=R"},
    {"hits", "x", "stroke"},
    {"hits", "^x'", "stroke ^'"},
    {"chords", "Am7/G", "chord \"Am7/G\""},
    {"chords", "N.C.", "no chord"},
    {"palm mute", "on", "on"},
    {"wah", "closed", "on \"closed\""},
    {"dynamics", "mf", "\"mf\""},
    {"see", "a,b", "\"a,b\""},
    {"hold", "@", "\"@\""},
    {"from", "lesson", "\"lesson\""},
    {"pedal", "change", "\"change\""},
    {"retune", "6=D2", "\"6=D2\""},
    {"clef", "tenor", "\"tenor\""},
    {"count", "&", "\"&\""},
    {"lyric", "wa-", "\"wa-\""},
};

TEST(Signs, SayWhatTheTableSays) {
  for (const SignCase& c : kSigns) {
    const SignResult sign = parse(c.lane, c.cell);
    ASSERT_TRUE(sign.ok()) << c.lane << " | " << c.cell << " | stops at " << sign.error().at << ", expected "
                           << sign.error().expected;
    EXPECT_EQ(print(sign.value()), c.printed) << c.lane << " | " << c.cell;
  }
}

TEST(Signs, EachSignOfTheTableIsInThisTest) {
  for (const LanguageEntry& entry : language()) {
    if (entry.kind != EntryKind::Sign || entry.where == "every lane") continue;
    const bool covered = std::any_of(kSigns.begin(), kSigns.end(), [&](const SignCase& c) {
      const LanguageEntry& lane = *find_lane(c.lane)->entry;
      return sign_group(lane.lane) == entry.where || (entry.where == "bow" && lane.lane == LaneKind::Bow);
    });
    EXPECT_TRUE(covered) << entry.where << " " << entry.word;
  }
}

struct BrokenSign {
  const char* lane;
  const char* cell;
  std::size_t stops_at;
  const char* nearest;  ///< what is offered, or ""
};

const std::vector<BrokenSign> kBroken{
    {"1", "5h", 1, "h5"},        {"1", "5h7", 1, "5 h7"},      {"1", "7\\5", 1, "7 \\5"},
    {"1", "7b", 2, "7b9"},       {"1", "7br", 2, "7b9"},       {"1", "77", 0, "7 7"},
    {"1", "123", 0, "1 2 3"},    {"1", "(5", 2, "(5)"},        {"1", "<12", 3, "<12>"},
    {"1", "12<24", 5, "12<24>"}, {"1", "17tr", 4, "17tr19"},   {"1", "g1", 2, "1"},
    {"1", "15==", 3, "15="},     {"1", "7~~~", 3, "7~~"},      {"1", "h", 1, "h5"},
    {"1", "b", 0, "b17"},        {"string", "13", 0, ""},      {"strum", "d", 0, ""},
    {"strum", "D13", 3, "D"},    {"strum", "D6-", 3, "D6-4"},  {"pluck", "pp", 1, "p"},
    {"pluck", "q", 0, ""},       {"pick", "X", 0, ""},         {"finger", "5", 0, ""},
    {"finger", "14", 1, "1+4"},  {"arm", "dipp2", 3, "dip2"},  {"arm", "scoop3", 5, "scoop"},
    {"notes", "d5", 0, "D5"},    {"notes", "D", 0, ""},        {"notes", "D5+D5", 3, "D5"},
    {"notes", "H4", 0, ""},      {"snare", "X", 0, ""},        {"snare", "xx", 1, "x x"},
    {"hits", "o", 0, ""},        {"dynamics", "mff", 0, "mf"}, {"palm mute", "onn", 0, "on"},
    {"see", "a,,b", 2, ""},      {"1", "1012", 0, "10 12"},    {"1", "0224", 0, "0 2 2 4"},
};

TEST(Signs, BrokenOnesSayWhereAndWhatIsNear) {
  for (const BrokenSign& c : kBroken) {
    const SignResult sign = parse(c.lane, c.cell);
    ASSERT_FALSE(sign.ok()) << c.lane << " | " << c.cell << " | " << print(sign.value());
    EXPECT_EQ(sign.error().at, c.stops_at) << c.lane << " | " << c.cell;
    EXPECT_FALSE(sign.error().expected.empty()) << c.cell;
    const LanguageEntry& lane = *find_lane(c.lane)->entry;
    const std::string near = sign.error().suggestion.empty() ? nearest_sign(lane, c.cell) : sign.error().suggestion;
    EXPECT_EQ(near, c.nearest) << c.lane << " | " << c.cell;
  }
}

TEST(Signs, EveryShortCellIsReadOrBreaksInsideItself) {
  const std::string alphabet = "0579xhpb/\\~()<>tgr=-'.DFRo+m";
  for (const char* lane : {"1", "strum", "pluck", "finger", "arm", "notes", "snare", "hits", "string"}) {
    for (const char a : alphabet) {
      for (const char b : alphabet) {
        for (const char c : alphabet) {
          const std::string cell{a, b, c};
          const SignResult sign = parse(lane, cell.c_str());
          if (sign.ok()) {
            EXPECT_FALSE(print(sign.value()).empty());
            continue;
          }
          ASSERT_LE(sign.error().at, cell.size()) << lane << " " << cell;
          ASSERT_FALSE(sign.error().expected.empty()) << lane << " " << cell;
        }
      }
    }
  }
}

}  // namespace
}  // namespace tunesheaf::song

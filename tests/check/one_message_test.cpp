// One slip of the pen is one message: typical typos, each made once in a demo song that is otherwise in order.
#include <gtest/gtest.h>

#include <fstream>
#include <iterator>

#include "support/golden.h"
#include "tunesheaf/check/checked.h"
#include "tunesheaf/song/read.h"
#include "tunesheaf/yaml/node.h"

namespace tunesheaf::check {
namespace {

struct Typo {
  const char *song, *right, *typed;
};
void PrintTo(const Typo& typo, std::ostream* out) {
  *out << typo.song << ": " << typo.right << " -> " << typo.typed;
}

const char* const kHeron = "heron-stair";
const char* const kBiscuit = "biscuit-weather";
const char* const kPylons = "nine-pylons";
const char* const kGoat = "lamplighters-goat";

std::string whole_song(const std::string& song) {
  std::ifstream in(std::string(TUNESHEAF_SOURCE_DIR) + "/songs-demo/" + song + ".yaml", std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

class OneMessage : public testing::TestWithParam<Typo> {};

TEST_P(OneMessage, ForOneSlip) {
  std::string text = "\n" + whole_song(GetParam().song);
  const std::string right = GetParam().right;
  const std::size_t at = text.find(right);
  ASSERT_NE(at, std::string::npos) << "the song no longer holds " << right;
  text.replace(at, right.size(), GetParam().typed);
  source::Files files;
  diag::Sink sink;
  const source::File& file = files.file(files.add("song.yaml", text));
  if (const auto root = yaml::read(file, sink)) {
    if (auto song = song::read(*root, file, sink)) check(std::move(*song), file, sink);
  }
  EXPECT_EQ(sink.errors() + sink.warnings(), 1u)
      << diag::print(sink.sorted(), files, diag::Format::Lines, false).substr(0, 4000);
}

INSTANTIATE_TEST_SUITE_P(
    Typos, OneMessage,
    testing::Values(Typo{kHeron, "\nparts:", "\nParts:"}, Typo{kHeron, "\nsections:", "\nsection:"},
                    Typo{kHeron, "\nshapes:", "\nshape:"}, Typo{kHeron, "\npatterns:", "\nPatterns:"},
                    Typo{kHeron, "\nrecordings:", "\nrecording:"}, Typo{kHeron, "\nform:", "\nfrom:"},
                    Typo{kHeron, "\nkey:", "\nKey:"}, Typo{kHeron, "\nmeter:", "\nmetre:"},
                    Typo{kHeron, "\ntempo:", "\ntemop:"}, Typo{kHeron, "\nsong:", "\ntitle:"},
                    Typo{kHeron, "\nmeter: 3/4", "\nmeter: 4/4"},
                    Typo{kHeron, "instrument: guitar", "instrument: gitar"}, Typo{kHeron, " tuning:", " tunning:"},
                    Typo{kHeron, " capo:", " cappo:"}, Typo{kHeron, " home: ", " hom: "},
                    Typo{kHeron, "frets:", "fret:"}, Typo{kHeron, "fingers:", "finger:"},
                    Typo{kHeron, " remarks:", " remark:"}, Typo{kHeron, " guitar: |", " gutiar: |"},
                    Typo{kHeron, " guitar: {", " gutiar: {"}, Typo{kBiscuit, " strum ", " strumm "},
                    Typo{kBiscuit, " chart: |", " chords: |"}, Typo{kBiscuit, " lyric ", " lyrics "},
                    Typo{kPylons, " kick ", " kik "}, Typo{kPylons, " drums: |", " drum: |"},
                    Typo{kPylons, " snare ", " snair "}, Typo{kPylons, "instrument: drum kit", "instrument: drumkit"},
                    Typo{kGoat, " endings:", " endngs:"}, Typo{kGoat, " times: 2", " time: 2"},
                    Typo{kGoat, " pick-up:", " pickup:"}, Typo{kHeron, "| waltz roll ", "| waltz rol  "},
                    Typo{kHeron, "at:", "att:"}));

}  // namespace
}  // namespace tunesheaf::check

// Traditional tunes in the public domain, typed from memory, with what is known of them: meter, bars, range, final.
#include <algorithm>

#include "score/support.h"
#include "tunesheaf/score/clock.h"

namespace tunesheaf::score {
namespace {

struct Tune {
  const char* name;
  const char* head;     ///< key, meter
  const char* section;  ///< a pick-up, or nothing
  const char* notes;
  int bars;  ///< full ones
  Fraction pick_up;
  int onsets;
  const char *lowest, *highest, *final;
};

const Tune kTunes[] = {
    {"a jig for a boat",
     "key: C major\nmeter: 6/8\n",
     "",
     "C4 : C4 | C4 - D4 : E4 | E4 - D4 : E4 - F4 | G4 : - | C5 C5 C5 : G4 G4 G4 | E4 E4 E4 : C4 C4 C4 |"
     " G4 - F4 : E4 - D4 | C4 : -",
     8,
     {0},
     27,
     "C4",
     "C5",
     "C4"},
    {"the waltz of dear Augustin",
     "key: C major\nmeter: 3/4\n",
     "",
     "G4 : A4 G4 : F4 | E4 : C4 : C4 | D4 : G3 : G3 | E4 : C4 : C4 | G4 : A4 G4 : F4 | E4 : C4 : C4 | D4 : G3 : G3 |"
     " C4 : - : -",
     8,
     {0},
     24,
     "G3",
     "A4",
     "C4"},
    {"the saints",
     "key: C major\nmeter: 4/4\n",
     "    pick-up: 3 beats\n",
     "C4 : E4 : F4 | G4 : - : - : - | - : C4 : E4 : F4 | G4 : - : - : - | - : C4 : E4 : F4 | G4 : - : E4 : - |"
     " C4 : - : E4 : - | D4 : - : - : - | - : E4 : E4 : D4 | C4 : - : - : C4 | E4 : - : G4 : G4 | F4 : - : - : - |"
     " - : - : E4 : F4 | G4 : - : E4 : - | C4 : - : D4 : - | C4 : - : - : -",
     15,
     {3, 4},
     32,
     "C4",
     "G4",
     "C4"},
    {"green sleeves",
     "key: A minor\nmeter: 6/8\n",
     "    pick-up: 1/8\n",
     "A4 | C5 - D5 : E5 - - F5 E5 - | D5 - B4 : G4 - - A4 B4 - | C5 - A4 : A4 - - G#4 A4 - | B4 - G#4 : E4 - A4 |"
     " C5 - D5 : E5 - - F5 E5 - | D5 - B4 : G4 - - A4 B4 - | C5 - - B4 A4 - : G#4 - - F#4 G#4 - | A4 : -",
     8,
     {1, 8},
     37,
     "E4",
     "F5",
     "A4"},
};

TEST(TraditionalTunes, HaveTheirKnownFacts) {
  for (const Tune& tune : kTunes) {
    const Built built =
        build_text("tune.yaml", "song: " + std::string(tune.name) + "\n" + tune.head +
                                    "tempo: 60\nparts:\n  fiddle: {instrument: violin}\nsections:\n"
                                    "  tune:\n" +
                                    tune.section + "    fiddle: |\n      notes | " + tune.notes + " |\n");
    ASSERT_TRUE(built.timeline) << built.findings();
    EXPECT_EQ(built.sink.warnings(), 0u) << built.findings();
    const Timeline& t = *built.timeline;
    const Section& section = t.sections.at(0);
    const auto full = std::count_if(section.bars.begin(), section.bars.end(), [](const Bar& b) { return !b.pick_up; });
    EXPECT_EQ(full, tune.bars) << tune.name;
    EXPECT_EQ(section.bars.front().pick_up ? section.bars.front().length : Fraction(0), tune.pick_up) << tune.name;
    std::vector<theory::Pitch> pitches;
    Fraction sum;
    for (const Event& event : t.events) {
      sum += event.duration;
      if (event.kind == EventKind::Notes) pitches.push_back(event.notes.at(0).written);
    }
    ASSERT_EQ(static_cast<int>(pitches.size()), tune.onsets) << tune.name;
    const auto [low, high] =
        std::minmax_element(pitches.begin(), pitches.end(),
                            [](const theory::Pitch& a, const theory::Pitch& b) { return a.midi() < b.midi(); });
    EXPECT_EQ(theory::print(*low), tune.lowest) << tune.name;
    EXPECT_EQ(theory::print(*high), tune.highest) << tune.name;
    EXPECT_EQ(theory::print(pitches.back()), tune.final) << tune.name;
    EXPECT_EQ(sum, tune.pick_up + section.bars.back().meter.bar_length() * Fraction(tune.bars)) << tune.name;
  }
}

}  // namespace
}  // namespace tunesheaf::score

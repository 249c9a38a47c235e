#include "tunesheaf/theory/tuning.h"

#include <gtest/gtest.h>

#include "theory/facts.h"
#include "tunesheaf/base/number.h"
#include "tunesheaf/theory/instrument.h"

namespace tunesheaf::theory {
namespace {

TEST(Tuning, NamedOnesHaveTheKeysAndFrequenciesOfTheTable) {
  const auto rows = testing::facts("tunings.tsv");
  EXPECT_EQ(rows.size(), 37U);
  for (const auto& row : rows) {
    const auto tuning = find_tuning(row.at(0), row.at(1));
    ASSERT_TRUE(tuning) << row[0] << " " << row[1];
    const auto midi = testing::split(row.at(2), ' ');
    const auto hertz = testing::split(row.at(3), ' ');
    ASSERT_EQ(midi.size(), tuning->strings.size()) << row[0] << " " << row[1];
    for (std::size_t i = 0; i < midi.size(); ++i) {
      const auto course = testing::split(midi[i], '/');
      const auto sounds = testing::split(hertz[i], '/');
      ASSERT_EQ(course.size(), tuning->strings[i].course.size());
      for (std::size_t j = 0; j < course.size(); ++j) {
        const Pitch pitch = tuning->strings[i].course[j];
        EXPECT_EQ(pitch.midi(), *base::parse_integer(course[j])) << row[0] << " " << row[1];
        EXPECT_NEAR(frequency(pitch), *base::parse_decimal(sounds[j]), 0.006);
      }
    }
  }
}

TEST(Tuning, ReadsNotesNamesAndLetters) {
  const auto notes = parse_tuning("D2 G2 D3 G3 B3 D4", "guitar");
  ASSERT_TRUE(notes);
  EXPECT_TRUE(notes->same_pitches(*find_tuning("guitar", "open G")));
  EXPECT_TRUE(parse_tuning("Open G", "guitar")->same_pitches(*notes));
  EXPECT_TRUE(parse_tuning("DADGAD", "guitar")->same_pitches(*parse_tuning("D A D G A D", "guitar")));
  EXPECT_EQ(print(*parse_tuning("D G C F A D", "guitar")), "D2 G2 C3 F3 A3 D4");
  EXPECT_EQ(print(*parse_tuning("Eb Ab Db Gb Bb Eb", "guitar")), "Eb2 Ab2 Db3 Gb3 Bb3 Eb4");
  EXPECT_EQ(print(*parse_tuning("standard", "mandolin")), "G3 D4 A4 E5");
  EXPECT_EQ(print(*parse_tuning("half step down", "bass guitar")), "Eb1 Ab1 Db2 Gb2");
  EXPECT_EQ(letters(*parse_tuning("open E", "guitar"), Accidentals::Signs), "E B E G♯ B E");
}

TEST(Tuning, StringOneIsTheLastWhateverItsPitch) {
  const Tuning ukulele = find_tuning("ukulele", "usual").value();
  EXPECT_TRUE(ukulele.re_entrant());
  EXPECT_EQ(print(ukulele.string(1).pitch()), "A4");
  EXPECT_EQ(print(ukulele.string(4).pitch()), "G4");
  EXPECT_FALSE(find_tuning("guitar", "usual")->re_entrant());
}

TEST(Tuning, FaultsNameTheWord) {
  const auto fault = [](std::string_view text, std::string_view instrument = "guitar") {
    const auto result = parse_tuning(text, instrument);
    EXPECT_FALSE(result.ok()) << text;
    return result.ok() ? TuningError{} : result.error();
  };
  EXPECT_EQ(fault("").fault, TuningFault::Empty);
  EXPECT_EQ(fault("D2 G2 D3 G3 H3 D4").fault, TuningFault::BadPitch);
  EXPECT_EQ(fault("D2 G2 D3 G3 H3 D4").word, "H3");
  EXPECT_EQ(fault("D2 G2 D3 G3 H3 D4").at, 12U);
  EXPECT_EQ(fault("D2 G2 D3 G B3 D4").fault, TuningFault::NoOctave);
  EXPECT_EQ(fault("D A D").fault, TuningFault::NoOctave);
  EXPECT_EQ(fault("C-1 G2").fault, TuningFault::TooLow);
  EXPECT_EQ(fault("E2 C9").fault, TuningFault::TooHigh);
  EXPECT_EQ(fault("opne G").fault, TuningFault::UnknownName);
  EXPECT_EQ(fault("opne G").nearest, "open G");
  EXPECT_EQ(fault("E2/E3/E4/E5").fault, TuningFault::UnevenCourse);
  std::string forty;
  for (int i = 0; i < 40; ++i) forty += "E3 ";
  EXPECT_EQ(fault(forty).fault, TuningFault::TooManyStrings);
  EXPECT_EQ(fault(forty).count, 40);
}

TEST(Tuning, PrintAndReadAgree) {
  for (const NamedTuning& named : named_tunings()) {
    const auto back = parse_tuning_notes(print(named.tuning));
    ASSERT_TRUE(back) << named.instrument << " " << named.name;
    EXPECT_EQ(back->strings, named.tuning.strings) << named.instrument << " " << named.name;
    EXPECT_EQ(find_tuning(named.instrument, named.name)->strings, named.tuning.strings);
  }
}

TEST(Tuning, TheShortStringOfABanjo) {
  const Tuning banjo = find_tuning("banjo", "open G").value();
  EXPECT_EQ(banjo.string(5).start_fret, 5);
  EXPECT_EQ(sounding_midi(banjo, {}, 5, 0), 67);
  EXPECT_EQ(sounding_midi(banjo, {}, 5, 7), 69);
  EXPECT_EQ(sounding_midi(banjo, {2, {}}, 5, 0), 67);
  EXPECT_EQ(sounding_midi(banjo, {2, {}}, 4, 0), 52);
  EXPECT_EQ(sounding_midi(banjo, {7, {}}, 5, 0), 69);
  EXPECT_EQ(parse_tuning("G4 C3 G3 B3 D4", "banjo")->string(5).start_fret, 5);
}

TEST(Tuning, CaposCountFromThemselvesOrFromTheNut) {
  const Tuning guitar = find_tuning("guitar", "usual").value();
  const Capo full{2, {}}, part{2, {5, 4, 3}};
  EXPECT_EQ(sounding_midi(guitar, full, 6, 0), 42);
  EXPECT_EQ(sounding_midi(guitar, full, 6, 3), 45);
  EXPECT_EQ(sounding_midi(guitar, part, 6, 0), 40);
  EXPECT_EQ(sounding_midi(guitar, part, 4, 0), 52);
  EXPECT_EQ(sounding_midi(guitar, part, 4, 4), 54);
  EXPECT_FALSE(part.full());
  EXPECT_TRUE(full.holds(1));
  EXPECT_FALSE(Capo{}.holds(1));
}

TEST(Instrument, TableIsComplete) {
  for (const Instrument& i : instruments()) {
    EXPECT_EQ(find_instrument(i.name), &i) << i.name;
    for (const std::string& word : i.also) EXPECT_NE(find_instrument(word), nullptr) << word;
    if (i.family == Family::Fretted || i.family == Family::Bowed) {
      ASSERT_TRUE(i.usual) << i.name;
      EXPECT_GT(i.scale_length_mm, 0) << i.name;
    }
    EXPECT_EQ(i.family == Family::Drums, i.clef == Clef::Percussion) << i.name;
    EXPECT_LT(i.lowest, i.highest) << i.name;
    EXPECT_GE(i.program, 0);
    EXPECT_LT(i.program, 128);
  }
  EXPECT_EQ(find_instrument("Fiddle")->name, "violin");
  EXPECT_EQ(find_instrument("cajón")->name, "cajon");
  EXPECT_EQ(print(find_instrument("trumpet")->sounds), "-M2");
  EXPECT_EQ(find_instrument("lute-harp"), nullptr);
}

}  // namespace
}  // namespace tunesheaf::theory

#include "tunesheaf/theory/chord.h"

#include <gtest/gtest.h>

#include <map>

#include "chord_tones.h"
#include "theory/facts.h"

namespace tunesheaf::theory {
namespace {

std::string spelled(const ChordName& chord) {
  std::string out;
  for (const ChordTone& tone : tones(chord)) out += (out.empty() ? "" : " ") + print(tone.pitch);
  return out;
}

std::string house(std::string_view text) {
  const auto chord = parse_chord(text);
  return chord ? print(*chord) : "?";
}

TEST(Chord, KindsHaveTheTonesOfTheStandard) {
  const auto rows = testing::facts("chord_kinds.tsv");
  EXPECT_EQ(rows.size(), 26U);
  for (const auto& row : rows) {
    const auto kind = kind_from_value(row.at(0));
    ASSERT_TRUE(kind) << row[0];
    ChordName chord;
    chord.kind = *kind;
    std::string got;
    for (const ChordTone& tone : tones(chord)) {
      got += (got.empty() ? "" : " ") + print(Degree{tone.number, tone.alter});
    }
    EXPECT_EQ(got, row.at(1)) << row[0];
  }
}

TEST(Chord, EveryKindValueHasItsKindAndIsPrintedAndRead) {
  for (int k = 0; k <= static_cast<int>(ChordKind::None); ++k) {
    ChordName chord;
    chord.root = {Step::E, -1};
    chord.kind = static_cast<ChordKind>(k);
    EXPECT_EQ(kind_from_value(kind_value(chord.kind)), chord.kind);
    if (chord.kind == ChordKind::None) chord.root = {};
    const auto back = parse_chord(print(chord));
    ASSERT_TRUE(back) << print(chord);
    EXPECT_EQ(*back, chord) << print(chord);
  }
}

TEST(Chord, ReadsWhatPlayersWrite) {
  const std::map<std::string, std::string> same{{"C-", "Cm"},
                                                {"Cmin", "Cm"},
                                                {"C minor", "Cm"},
                                                {"CM7", "Cmaj7"},
                                                {"C△", "Cmaj7"},
                                                {"CΔ9", "Cmaj9"},
                                                {"Cma7", "Cmaj7"},
                                                {"C maj7", "Cmaj7"},
                                                {"C°", "Cdim"},
                                                {"Co7", "Cdim7"},
                                                {"Cø", "Cm7b5"},
                                                {"Cm7-5", "Cm7b5"},
                                                {"Cm7(♭5)", "Cm7b5"},
                                                {"Caug", "C+"},
                                                {"C7+", "C+7"},
                                                {"Csus", "Csus4"},
                                                {"C7sus", "C7sus4"},
                                                {"C9sus", "C9sus4"},
                                                {"C69", "C6/9"},
                                                {"C6add9", "C6/9"},
                                                {"C2", "Cadd2"},
                                                {"Cmadd9", "Cm(add9)"},
                                                {"Cno3", "C5"},
                                                {"C(omit 3rd)", "C5"},
                                                {"C7(b9)", "C7b9"},
                                                {"C7-9", "C7b9"},
                                                {"C7+9", "C7#9"},
                                                {"C7b9#11", "C7(b9,#11)"},
                                                {"CmM7", "Cm(maj7)"},
                                                {"C-Δ7", "Cm(maj7)"},
                                                {"Cm/maj7", "Cm(maj7)"},
                                                {"C7/9", "C9"},
                                                {"E♭maj7#11", "Ebmaj7#11"},
                                                {"Db / F", "Db/F"},
                                                {"n.c.", "N.C."},
                                                {"NC", "N.C."},
                                                {"C/C", "C"},
                                                {"C−7", "Cm7"},
                                                {"C7alt", "C+7#9"},
                                                {"C(b5)", "C(b5)"},
                                                {"C13#4", "C13#11"},
                                                {"Csus24", "Csus2(add4)"},
                                                {"C6/9/E", "C6/9/E"},
                                                {"C7no5", "C7(no5)"}};
  for (const auto& [typed, printed] : same) EXPECT_EQ(house(typed), printed) << typed;
  EXPECT_EQ(print(*parse_chord("Ebm7b5/Gb"), Accidentals::Signs), "E♭m7♭5/G♭");
}

TEST(Chord, SaysWhereANameStopsMakingSense) {
  struct Case {
    const char* text;
    ChordFault fault;
    std::size_t at;
    const char* understood;
  };
  for (const Case& c :
       {Case{"", ChordFault::Empty, 0, ""}, Case{"H7", ChordFault::NoRoot, 0, ""},
        Case{"Cfoo", ChordFault::UnknownSuffix, 1, "C"}, Case{"Am7x", ChordFault::UnknownSuffix, 3, "Am7"},
        Case{"C7(b9", ChordFault::UnclosedBracket, 5, "C7"}, Case{"C/H", ChordFault::BadBass, 2, "C"},
        Case{"Cadd8", ChordFault::BadDegree, 4, "C"}, Case{"Cno7", ChordFault::Contradiction, 3, "C"},
        Case{"c", ChordFault::NoRoot, 0, ""}}) {
    const auto result = parse_chord(c.text);
    ASSERT_FALSE(result.ok()) << c.text;
    EXPECT_EQ(result.error(), (ChordError{c.fault, c.at, c.understood})) << c.text << " at " << result.error().at;
  }
  EXPECT_FALSE(parse_chord(std::string(5000, 'C')));
}

TEST(Chord, TonesAreSpelledByInterval) {
  EXPECT_EQ(spelled(*parse_chord("Abm")), "Ab Cb Eb");
  EXPECT_EQ(spelled(*parse_chord("Cdim7")), "C Eb Gb Bbb");
  EXPECT_EQ(spelled(*parse_chord("G#+")), "G# B# D##");
  EXPECT_EQ(spelled(*parse_chord("F#13")), "F# A# C# E G# B D#");
}

/// Names of every formula in a wide vocabulary, on every root: read back as they were.
TEST(Chord, PrintAndReadAgreeOverTheVocabulary) {
  const std::vector<std::string> bases{"",     "m",     "+",       "dim",    "7",        "maj7",  "m7",  "dim7",
                                       "+7",   "m7b5",  "m(maj7)", "6",      "m6",       "6/9",   "9",   "maj9",
                                       "m9",   "11",    "m11",     "maj11",  "13",       "maj13", "m13", "sus2",
                                       "sus4", "7sus4", "9sus4",   "13sus4", "maj7sus4", "5"};
  const std::vector<std::string> changes{"",        "(b5)",     "(#5)",     "(b9)",     "(#9)",    "(#11)",
                                         "(b13)",   "(add9)",   "(add4)",   "(add2)",   "(no3)",   "(no5)",
                                         "(b5,b9)", "(#5,#9)",  "(b9,#9)",  "(b9,#11)", "(addb9)", "(add#11)",
                                         "(add13)", "(b9,b13)", "(addmaj7)"};
  int read = 0;
  for (const char* root : {"C", "F#", "Bb", "Cb", "G##"}) {
    for (const std::string& base : bases) {
      for (const std::string& change : changes) {
        for (const char* bass : {"", "/E", "/Ab"}) {
          const auto chord = parse_chord(root + base + change + bass);
          if (!chord) continue;
          ++read;
          const auto again = parse_chord(print(*chord));
          ASSERT_TRUE(again) << print(*chord);
          EXPECT_TRUE(*again == *chord) << root << base << change << bass << " printed " << print(*chord);
          const auto signs = parse_chord(print(*chord, Accidentals::Signs));
          ASSERT_TRUE(signs) << print(*chord, Accidentals::Signs);
          EXPECT_TRUE(*signs == *chord) << print(*chord, Accidentals::Signs);
        }
      }
    }
  }
  EXPECT_GT(read, 9000);
}

/// Every set of degrees that holds a root has a name that is read back as the same set.
TEST(Chord, EverySetOfDegreesSurvivesItsName) {
  const std::vector<std::vector<DegreeTone>> thirds{{}, {{3, 0}}, {{3, -1}}, {{2, 0}}, {{4, 0}}, {{2, 0}, {4, 0}}};
  const std::vector<std::vector<DegreeTone>> fifths{{}, {{5, 0}}, {{5, -1}}, {{5, 1}}};
  const std::vector<std::vector<DegreeTone>> sevenths{{}, {{6, 0}}, {{7, -1}}, {{7, 0}}, {{7, -2}}};
  const std::vector<std::vector<DegreeTone>> tensions{{},
                                                      {{9, 0}},
                                                      {{9, -1}},
                                                      {{9, 1}},
                                                      {{9, -1}, {9, 1}},
                                                      {{11, 0}},
                                                      {{11, 1}},
                                                      {{13, 0}},
                                                      {{13, -1}},
                                                      {{9, 0}, {11, 0}},
                                                      {{9, 0}, {13, 0}},
                                                      {{9, 0}, {11, 0}, {13, 0}},
                                                      {{9, -1}, {11, 1}, {13, 0}}};
  for (const auto& third : thirds) {
    for (const auto& fifth : fifths) {
      for (const auto& seventh : sevenths) {
        for (const auto& tension : tensions) {
          std::vector<DegreeTone> all{{1, 0}};
          for (const auto* part : {&third, &fifth, &seventh, &tension})
            all.insert(all.end(), part->begin(), part->end());
          const ChordName chord = canonical({Step::D, 0}, all, std::nullopt);
          const auto back = parse_chord(print(chord));
          ASSERT_TRUE(back) << print(chord);
          EXPECT_TRUE(degree_tones(*back) == degree_tones(chord)) << print(chord) << " read as " << print(*back);
          EXPECT_TRUE(*back == chord) << print(chord);
        }
      }
    }
  }
}

TEST(Chord, TransposesWithItsBass) {
  EXPECT_EQ(print(*transposed(*parse_chord("D/F#"), *parse_interval("m2"))), "Eb/G");
  EXPECT_EQ(print(transposed(*parse_chord("Am7/G"), 2, parse_key("D").value())), "Bm7/A");
  EXPECT_EQ(print(transposed(*parse_chord("C7b9"), -1, parse_key("B").value())), "B7b9");
  EXPECT_EQ(print(transposed(*parse_chord("N.C."), 5, std::nullopt)), "N.C.");
}

TEST(Chord, RomanNumerals) {
  const Key c = parse_key("C").value();
  const Key a = parse_key("Am").value();
  EXPECT_EQ(roman_numeral(*parse_chord("Dm7"), c), "ii7");
  EXPECT_EQ(roman_numeral(*parse_chord("G7"), c), "V7");
  EXPECT_EQ(roman_numeral(*parse_chord("Bb"), c), "♭VII");
  EXPECT_EQ(roman_numeral(*parse_chord("Bm7b5"), c), "viiø7");
  EXPECT_EQ(roman_numeral(*parse_chord("Bdim"), c), "vii°");
  EXPECT_EQ(roman_numeral(*parse_chord("C/E"), c), "I/3");
  EXPECT_EQ(roman_numeral(*parse_chord("Fmaj7"), c), "IVmaj7");
  EXPECT_EQ(roman_numeral(*parse_chord("C"), a, Accidentals::Ascii), "bIII");
  EXPECT_EQ(roman_numeral(*parse_chord("Dm"), a), "iv");
}

TEST(Chord, WhatMayBeLeftOut) {
  const auto needed = [](std::string_view text) {
    const ChordName chord = *parse_chord(text);
    std::string out;
    for (const ChordTone& t : tones(chord)) {
      if (!may_be_left_out(chord, t)) out += print(Degree{t.number, t.alter}) + " ";
    }
    return out;
  };
  EXPECT_EQ(needed("C"), "3 ");
  EXPECT_EQ(needed("C5"), "1 5 ");
  EXPECT_EQ(needed("C9"), "3 b7 9 ");
  EXPECT_EQ(needed("C11"), "3 b7 11 ");
  EXPECT_EQ(needed("C13"), "3 b7 13 ");
  EXPECT_EQ(needed("Cm7b5"), "b3 b5 b7 ");
  EXPECT_EQ(needed("C13(b5,b9)"), "b5 b7 b9 13 ");
  EXPECT_EQ(needed("Csus4"), "4 ");
}

}  // namespace
}  // namespace tunesheaf::theory

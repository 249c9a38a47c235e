// Keys, values and their faults, one small song each; and the golden of a whole song.
#include "tunesheaf/song/read.h"

#include <gtest/gtest.h>

#include "reading.h"
#include "support/golden.h"

namespace tunesheaf::song {
namespace {

using Marks = std::vector<std::string>;

const std::string kHead = "song: Quarry Lane\nparts:\n  guitar: {instrument: guitar}\n";
const std::string kTail = "sections:\n  tune:\n    guitar: \"1 | 0 |\"\n";

Reading read_with(const std::string& middle) {
  return read_text_of_song(kHead + middle + kTail);
}

TEST(Reading, WholeSongAsRecorded) {
  const std::string text = support::read_file(support::golden_folder() / "song" / "heron-stair.yaml");
  const Reading reading = read_text_of_song(text);
  EXPECT_EQ(reading.said(), "");
  ASSERT_TRUE(reading.song);
  support::expect_golden("song/heron-stair.song", print(*reading.song));
}

TEST(Reading, FretsInEveryWriting) {
  for (const char* frets : {"x 0 2 0 1 2", "x02012", "[x, 0, 2, 0, 1, 2]", "\"x 0 2 0 1 2\""}) {
    const Reading reading = read_with("shapes:\n  home: {frets: " + std::string(frets) + "}\n");
    EXPECT_EQ(reading.said(), "");
    const ShapeDef& shape = reading.song->shapes.at(0);
    ASSERT_EQ(shape.frets.size(), 6U) << frets;
    EXPECT_FALSE(shape.frets[0].value);
    EXPECT_EQ(shape.frets[5].value, 2);
    EXPECT_EQ(reading.file().slice(shape.frets[2].span), "2") << frets;
    EXPECT_EQ(reading.file().slice(shape.frets[0].span), "x") << frets;
  }
  const Reading high = read_with("shapes:\n  home: {frets: 10 12 12 11 10 10}\n");
  EXPECT_EQ(high.song->shapes.at(0).frets.at(3).value, 11);
}

TEST(Reading, FingersInEveryWriting) {
  for (const char* fingers : {". . 2 . 1 T", "..2.1T", "[., ., 2, ., 1, T]"}) {
    const Reading reading = read_with("shapes:\n  home: {frets: x02010, fingers: " + std::string(fingers) + "}\n");
    EXPECT_EQ(reading.said(), "");
    const ShapeDef& shape = reading.song->shapes.at(0);
    ASSERT_EQ(shape.fingers.size(), 6U) << fingers;
    EXPECT_EQ(shape.fingers[2].value, 2);
    EXPECT_EQ(shape.fingers[5].value, 5);
  }
}

TEST(Reading, FullAndPartialCapo) {
  const Reading full = read_text_of_song(
      "song: A\nparts: {g: {instrument: guitar, capo: 2}}\n"
      "sections: {tune: {g: \"1 | 0 |\"}}\n");
  EXPECT_EQ(full.song->parts.at(0).capo->fret.value, 2);
  EXPECT_TRUE(full.song->parts.at(0).capo->strings.empty());
  const Reading partial = read_text_of_song(
      "song: A\nparts: {g: {instrument: guitar, capo: {fret: 2, strings: 5 4 3}}}\n"
      "sections: {tune: {g: \"1 | 0 |\"}}\n");
  EXPECT_EQ(partial.said(), "");
  EXPECT_EQ(partial.song->parts.at(0).capo->strings.size(), 3U);
}

TEST(Reading, CodaIsSignAndSection) {
  const Reading reading = read_text_of_song(
      "song: A\nsections:\n  tune: {chart: \"chords | G |\"}\n  coda: {chart: \"chords | C |\"}\n"
      "form:\n  - segno\n  - tune\n  - to coda\n  - D.S. al coda\n  - coda\n");
  EXPECT_EQ(reading.said(), "");
  const auto& form = reading.song->form;
  ASSERT_EQ(form.size(), 6U);
  EXPECT_EQ(form[3].word, FormWord::DalSegno);
  EXPECT_EQ(form[3].until, Until::Coda);
  EXPECT_EQ(form[4].word, FormWord::Coda);
  EXPECT_EQ(form[5].word, FormWord::Section);
  EXPECT_EQ(form[5].text.value, "coda");
}

TEST(Reading, SectionsHoldWhatTheySay) {
  const Reading reading = read_text_of_song(kHead +
                                            "sections:\n  tune:\n    at: {studio: 0:07, in concert: 0:21.5}\n"
                                            "    times: {until: the singer sits down, about: 4}\n    guitar:\n"
                                            "      rings: yes\n      except:\n        3-4: \"1 | 0 |\"\n"
                                            "        last: \"1 | 0 |\"\n    endings:\n"
                                            "      3-4: {guitar: \"1 | 2 |\", chart: \"chords | G |\"}\n"
                                            "    remarks:\n      a: Softly.\n");
  EXPECT_EQ(reading.said(), "");
  const SectionDef& section = reading.song->sections.at(0);
  EXPECT_EQ(section.at.at(1).recording->value, "in concert");
  EXPECT_EQ(section.at.at(1).at.value, base::Fraction(43, 2));
  EXPECT_EQ(section.times.count, 4);
  EXPECT_EQ(section.times.until->value, "the singer sits down");
  EXPECT_EQ(section.parts.at(0).except.at(0).last, 4);
  EXPECT_EQ(section.parts.at(0).except.at(1).first, -1);
  EXPECT_TRUE(section.parts.at(0).rings->value);
  EXPECT_EQ(section.endings.at(0).passes, (std::vector<int>{3, 4}));
  EXPECT_EQ(section.endings.at(0).parts.size(), 2U);
  EXPECT_EQ(section.remarks.at(0).text.value, "Softly.");
}

TEST(Reading, TextsStayAsTheyAreTyped) {
  const Reading reading = read_with("lesson: 0211\nrevision: 2.10\nby: no\n");
  EXPECT_EQ(reading.song->lesson->value, "0211");
  EXPECT_EQ(reading.song->revision->value, "2.10");
  EXPECT_EQ(reading.song->by->value, "no");
}

TEST(Reading, UnknownKeysAtEveryPlace) {
  EXPECT_EQ(read_with("tmepo: 96\n").marks(), Marks{"4:1 unknown-key"});
  EXPECT_EQ(read_with("shapes:\n  home: {frets: x02010, ears: C}\n").marks(), Marks{"5:25 unknown-key"});
  EXPECT_EQ(read_with("recordings:\n  live: {sound: +2 cents}\n").marks(), Marks{"5:10 unknown-key"});
  // A slip is read as the key that is meant: what hangs on it is not missing as well.
  EXPECT_EQ(read_with("patterns:\n  roll: {lane: \"1 | p |\"}\n").marks(), Marks{"5:10 unknown-key"});
}

TEST(Reading, MissingKeysAreNamed) {
  EXPECT_EQ(read_text_of_song("by: Someone\n").marks(), (Marks{"1:1 missing-key", "1:1 missing-key"}));
  EXPECT_EQ(read_with("shapes:\n  home: {hand: G}\n").marks(), Marks{"5:3 missing-key"});
  EXPECT_EQ(read_with("shapes:\n  home:\n").marks(), Marks{"5:3 missing-key"});
  EXPECT_EQ(read_with("shapes: {}\n").marks(), Marks{"4:1 missing-key"});
}

TEST(Reading, ValuesOfTheWrongKind) {
  EXPECT_EQ(read_with("meter: [3, 4]\n").marks(), Marks{"4:8 wrong-value"});
  EXPECT_EQ(read_with("meter:\n").marks(), Marks{"4:1 wrong-value"});
  EXPECT_EQ(read_with("shapes: home\n").marks(), Marks{"4:9 wrong-value"});
  EXPECT_EQ(read_with("form: {tune: 2}\n").marks(), Marks{"4:7 wrong-value"});
  EXPECT_EQ(read_text_of_song("just words\n").song.has_value(), false);
}

TEST(Reading, LanesBehindTheWrongSign) {
  const Reading folded =
      read_text_of_song(kHead + "sections:\n  tune:\n    guitar: >\n      1 | 0 : 2 |\n      2 | 1 |\n");
  EXPECT_EQ(folded.marks(), Marks{"6:13 lanes-folded"});
  ASSERT_EQ(stanzas_of(folded).size(), 1U);  // read all the same, so that later phases know the bars
  EXPECT_EQ(stanzas_of(folded)[0].lanes.size(), 2U);
}

TEST(Reading, EveryKeyOfTheTableHasAReader) {
  // A key without one throws; the examples of the table reach each of them (language_test), this one reaches an inner
  // one.
  EXPECT_NO_THROW(read_with("recordings:\n  live:\n    tempo: slowly 60\n"));
}

}  // namespace
}  // namespace tunesheaf::song

// Claims: what a song states although it could be computed. Each rule with a song that breaks it and one that does not.
#include <gtest/gtest.h>

#include "support/golden.h"
#include "tunesheaf/check/checked.h"
#include "tunesheaf/song/read.h"
#include "tunesheaf/yaml/node.h"

namespace tunesheaf::check {
namespace {

/// What is said of a song, as people read it; empty when nothing is.
std::string said(const std::string& text) {
  source::Files files;
  diag::Sink sink;
  const source::File& file = files.file(files.add("song.yaml", text));
  if (const auto root = yaml::read(file, sink)) {
    if (auto song = song::read(*root, file, sink)) check(std::move(*song), file, sink);
  }
  return diag::print(sink.sorted(), files, diag::Format::Lines, false);
}

bool holds(const std::string& text, const std::string& piece) {
  return text.find(piece) != std::string::npos;
}

std::string with_shape(const std::string& shape, const std::string& part = "instrument: guitar") {
  return "song: Claim\nparts:\n  guitar: {" + part + "}\nshapes:\n  one: {" + shape +
         "}\nsections:\n  a:\n    guitar: |\n      shape | one |\n";
}

TEST(ChordClaims, TellBothSidesAndTheNotesBetween) {
  const std::string open =
      said(with_shape("frets: 0 0 0 0 0 0, ear: Eb7/Db", "instrument: guitar, tuning: Db2 Ab2 Db3 F3 Ab3 Db4"));
  EXPECT_TRUE(holds(open, "you wrote Eb7/Db; the shape sounds Db Ab Db F Ab Db; no Eb, no G, no Bb")) << open;
  EXPECT_EQ(said(with_shape("frets: 0 0 0 0 0 0, ear: Db", "instrument: guitar, tuning: Db2 Ab2 Db3 F3 Ab3 Db4")), "");
  // A player may leave the fifth out; a bass that is stated must be lowest.
  EXPECT_EQ(said(with_shape("frets: x 3 2 3 1 x, ear: C7")), "");
  EXPECT_TRUE(holds(said(with_shape("frets: x 3 2 3 1 x, ear: C7/E")), "C is lowest"));
}

TEST(HandClaims, AreToldByTheHandAlone) {
  const std::string d = "frets: x x 0 2 3 0, fingers: . . . 1 3 ., hand: the D shape with the middle finger lifted";
  for (const char* tuning : {"usual", "open G", "DADGAD"}) {
    EXPECT_EQ(said(with_shape(d, std::string("instrument: guitar, tuning: ") + tuning)), "") << tuning;
  }
  const std::string wrong = said(with_shape("frets: x 3 2 0 1 0, hand: the D minor shape"));
  EXPECT_TRUE(holds(wrong, "you wrote the Dm shape; the fingers stand as in the C shape")) << wrong;
  EXPECT_EQ(said(with_shape("frets: 3 5 5 4 3 3, fingers: 1 3 4 2 1 1, hand: the F shape two frets up")), "");
}

TEST(HandClaims, LikenessIsNoClaim) {
  for (const char* hand : {"two fingers of the D shape", "almost the D shape", "like the D shape", "a new shape",
                           "the whole hand", "Bob's shape"}) {
    EXPECT_EQ(said(with_shape(std::string("frets: x 3 2 0 1 0, hand: ") + hand)), "") << hand;
  }
}

std::string with_times(const std::vector<std::string>& times) {
  std::string out =
      "song: Claim\ntempo: 120\nrecordings:\n  studio: {sounds: +5 cents}\nparts:\n"
      "  guitar: {instrument: guitar}\nsections:\n";
  std::string form;
  for (std::size_t i = 0; i < times.size(); ++i) {
    const std::string name = "part " + std::to_string(i + 1), fret = std::to_string(i);
    out += "  " + name + ":\n    at: " + times[i] + "\n    guitar: |\n      1 |";
    for (int bar = 0; bar < 4; ++bar) out += " " + fret + " : - : - : - |";
    out += "\n";
    form += (form.empty() ? "" : ", ") + name;
  }
  return out + "form: [" + form + "]\n";
}

TEST(TimeClaims, AMistypedTimeStandsOut) {
  EXPECT_EQ(said(with_times({"0:00", "0:08", "0:16", "0:24", "0:32"})), "");
  EXPECT_EQ(said(with_times({"0:01", "0:09", "0:16", "0:25", "0:33"})), "");  // whole seconds
  const std::string odd = said(with_times({"0:00", "0:08", "0:22", "0:24", "0:32"}));
  EXPECT_TRUE(holds(odd, "is said to begin at 0:22")) << odd;
  EXPECT_TRUE(holds(odd, "by all the other places it begins at 0:16")) << odd;
  // Three places cannot tell which of them is wrong; then the tempo is compared.
  EXPECT_FALSE(holds(said(with_times({"0:00", "0:12", "0:16"})), "by all the other places"));
  EXPECT_TRUE(holds(said(with_times({"0:00", "0:12", "0:24", "0:36"})), "imply about 80"));
}

std::string with_key(const std::string& heading, const std::string& chords) {
  std::string bars;
  for (std::size_t at = 0; at != std::string::npos; at = chords.find('|', at + 1)) bars += " 0 : - : - : - |";
  return "song: Claim\n" + heading +
         "parts:\n  guitar: {instrument: guitar, capo: 2}\nsections:\n  a:\n    chart: |\n" + "      chords | " +
         chords + " |\n    guitar: |\n      1 |" + bars + "\n";
}

TEST(KeyClaims, TheSongAndTheRecording) {
  const std::string chords = "C | Am | F | G | Dm";
  EXPECT_EQ(said(with_key("key: C major\n", chords)), "");
  EXPECT_EQ(said(with_key("key: G major\n", chords)), "");
  EXPECT_EQ(said(with_key("key: C major\n", "C | Fm | Bb | D7 | Eb")), "");  // music may leave its key
  EXPECT_TRUE(holds(said(with_key("key: E major\n", chords)), "its chords are those of C major"));
  const std::string recording = "key: C major\nrecordings:\n  studio: {sounds: as written, key: ";
  EXPECT_EQ(said(with_key(recording + "D major}\n", chords)), "");
  const std::string wrong = said(with_key(recording + "Eb major}\n", chords));
  EXPECT_TRUE(holds(wrong, "said to be in Eb major, and this page puts it in D major")) << wrong;
  EXPECT_TRUE(holds(wrong, "with the capo at fret 3 it would hold")) << wrong;
}

TEST(ChartClaims, AChordOverAShapeOfAnotherChord) {
  const auto song = [](const std::string& chords) {
    return "song: Claim\nparts:\n  guitar: {instrument: guitar}\nshapes:\n  home: {frets: x 3 2 0 1 0}\nsections:\n"
           "  a:\n    chart: |\n      chords | " +
           chords + " |\n    guitar: |\n      shape | home |\n";
  };
  EXPECT_EQ(said(song("C")), "");
  EXPECT_EQ(said(song("Am7")), "");  // the bass may play the A
  EXPECT_EQ(said(song("C/B")), "");
  const std::string wrong = said(song("Dm"));
  EXPECT_TRUE(holds(wrong, "says \\\"Dm\\\"") || holds(wrong, "says \"Dm\"")) << wrong;
  EXPECT_TRUE(holds(wrong, "the shape sounds C E G C E; no F")) << wrong;
}

}  // namespace
}  // namespace tunesheaf::check

// Marks that are heard: what an output needs to play them is in the Timeline.
#include "tunesheaf/score/heard.h"

#include <gtest/gtest.h>

#include "score/support.h"

namespace tunesheaf::score {
namespace {

Built song_of(const std::string& instrument, const std::string& lanes) {
  return build_text("t.yaml", "song: T\nmeter: 4/4\nkey: C major\nparts:\n  player: {instrument: " + instrument +
                                  "}\nsections:\n  tune:\n    player: |\n" + lanes);
}

const PartMusic& music_of(const Timeline& t) {
  return t.sections.at(0).parts.at(0);
}

/// The events of the first voice that sound, in order.
std::vector<Event> events_of(const Timeline& t) {
  std::vector<Event> out;
  for (const auto& bar : music_of(t).voices.at(0).bars)
    for (const Segment& s : bar)
      if (s.event >= 0 && !s.rest && !s.tied_from) out.push_back(t.events[static_cast<std::size_t>(s.event)]);
  return out;
}

std::vector<std::string> texts(const std::vector<Fraction>& fractions) {
  std::vector<std::string> out;
  for (const Fraction& f : fractions) out.push_back(f.text());
  return out;
}

using Texts = std::vector<std::string>;

TEST(Heard, ThePickingFingerStandsAtTheStruckNoteAlone) {
  const Built built = song_of("guitar",
                              "      1     | 5 : 3 : p0 : - |\n      2     | - : - : 1  : - |\n"
                              "      pluck | a : m : i  : - |\n");
  ASSERT_TRUE(built.timeline) << built.findings();
  const Event third = events_of(*built.timeline).at(2);
  ASSERT_EQ(third.notes.size(), 2u);
  for (const Note& note : third.notes) {
    EXPECT_EQ(note.pluck, note.string == 2 ? 'i' : 0) << "string " << note.string;
    EXPECT_EQ(picked(third, note), note.string == 2) << "string " << note.string;
  }
}

TEST(Heard, ARolledChordBeginsNoteByNoteFromTheSideOfItsStroke) {
  const Built built =
      song_of("piano", "      right | C4+E4+G4 : - : F4+A4 : G4+B4 |\n      roll | up : . : down : . |\n");
  ASSERT_TRUE(built.timeline) << built.findings();
  const auto events = events_of(*built.timeline);
  ASSERT_EQ(events.size(), 3U);
  EXPECT_EQ(texts(later_than_onset(events[0])), (Texts{"0", "1/64", "1/32"}));
  EXPECT_EQ(texts(later_than_onset(events[1])), (Texts{"1/64", "0"})) << "down: from the highest note";
  EXPECT_EQ(texts(later_than_onset(events[2])), (Texts{"0", "0"})) << "not rolled";
}

TEST(Heard, ARollIsOverBeforeHalfOfItsChord) {
  const Built built = song_of(
      "piano", "      right | - : - : - : - - - C4+E4+G4+C5 - - - - |\n      roll | - : - : - : - - - up - - - - |\n");
  ASSERT_TRUE(built.timeline) << built.findings();
  const auto events = events_of(*built.timeline);
  ASSERT_EQ(events.size(), 1U);
  for (const Fraction& later : later_than_onset(events[0])) EXPECT_LE(later + later, events[0].duration);
}

TEST(Heard, StrokesOfRollsAndTremolos) {
  const Built kit = song_of("drum kit", "      snare | x/ : x/// : x/ x/ : xz |\n");
  ASSERT_TRUE(kit.timeline) << kit.findings();
  Texts every;
  for (const Event& e : events_of(*kit.timeline)) {
    const auto pace = stroke_every(e, e.notes[0]);
    every.push_back(pace ? pace->text() : "uncounted");
  }
  EXPECT_EQ(every, (Texts{"1/8", "1/32", "1/16", "1/16", "uncounted"}));
  const Built guitar = song_of("guitar", "      3 | 5= : 5 : - : - |\n");
  ASSERT_TRUE(guitar.timeline) << guitar.findings();
  const auto picked = events_of(*guitar.timeline);
  EXPECT_EQ(stroke_every(picked[0], picked[0].notes[0]), Fraction(1, 32));
  EXPECT_EQ(stroke_every(picked[1], picked[1].notes[0]), std::nullopt);
}

TEST(Heard, NotesUnderASpanOfTremoloPickingAreStrokesToo) {
  const Built built = song_of("guitar", "      3 | 5 : 7 : 5 : 3 |\n      tremolo picking | - : on : - : . |\n");
  ASSERT_TRUE(built.timeline) << built.findings();
  Texts every;
  for (const Event& e : events_of(*built.timeline)) {
    const auto pace = stroke_every(e, e.notes[0]);
    every.push_back(pace ? pace->text() : "once");
    EXPECT_FALSE(e.tremolo) << "on paper the span says it";
  }
  EXPECT_EQ(every, (Texts{"once", "1/32", "1/32", "once"}));
  ASSERT_EQ(music_of(*built.timeline).marks.size(), 1U);
  EXPECT_EQ(music_of(*built.timeline).marks[0].kind, "tremolo picking");
}

TEST(Heard, AGlissandoLeadsFromItsFirstNoteToItsLast) {
  const std::string lanes = " | E5 : - : A5 : - |\n      glissando | on : - : . : - |\n";
  const Built violin = song_of("violin", "      notes" + lanes);
  ASSERT_TRUE(violin.timeline) << violin.findings();
  const auto bowed = events_of(*violin.timeline);
  ASSERT_EQ(bowed[0].glides_to, bowed[1].id);
  EXPECT_EQ(bowed[1].glides_to, -1);
  EXPECT_FALSE(glides_in_steps(violin.timeline->parts[0]));
  const auto slide = glide(*violin.timeline, bowed[0], bowed[0].notes[0], false);
  ASSERT_EQ(slide.size(), 2U);
  EXPECT_EQ(slide[1].semitones, Fraction(5));
  const Built piano = song_of("piano", "      right" + lanes);
  ASSERT_TRUE(piano.timeline) << piano.findings();
  EXPECT_TRUE(glides_in_steps(piano.timeline->parts[0]));
  const auto keys = events_of(*piano.timeline);
  const auto steps = glide(*piano.timeline, keys[0], keys[0].notes[0], true);
  ASSERT_EQ(steps.size(), 5U);
  EXPECT_EQ(steps[1].at, Fraction(1, 5));
  EXPECT_EQ(steps[4].semitones, Fraction(4)) << "the goal itself is the next note's";
}

TEST(Heard, ABreathTakesItsTimeFromTheNoteBefore) {
  const Built built = song_of("violin", "      notes | A4 : - : D5 : E5 |\n      hold | - : - : breath : - |\n");
  ASSERT_TRUE(built.timeline) << built.findings();
  const auto events = events_of(*built.timeline);
  EXPECT_TRUE(events[0].breath);
  EXPECT_EQ(events[0].duration, Fraction(1, 2));
  EXPECT_EQ(events[0].notes[0].sounding_duration, Fraction(7, 16));
  EXPECT_FALSE(events[1].breath);
  EXPECT_EQ(events[1].notes[0].sounding_duration, Fraction(1, 4));
}

TEST(Heard, TapsOnTheBodyAndSnappedStrings) {
  const Built built = song_of("guitar",
                              "      3 | 5 : 7 : 5 : - |\n      body tap | - : x : - x : - |\n"
                              "      snap pizzicato | - : on : . : - |\n      dynamics | p : - : - : - |\n");
  ASSERT_TRUE(built.timeline) << built.findings();
  const auto& taps = music_of(*built.timeline).taps;
  ASSERT_EQ(taps.size(), 2U);
  EXPECT_EQ(taps[0].at.onset, Fraction(1, 4));
  EXPECT_EQ(taps[1].at.onset, Fraction(5, 8));
  EXPECT_EQ(static_cast<int>(taps[0].loudness), 51) << "p";
  const auto events = events_of(*built.timeline);
  EXPECT_FALSE(events[0].snap);
  EXPECT_TRUE(events[1].snap);
  EXPECT_FALSE(events[2].snap);
}

TEST(Cues, AreFactsOfTheReaderAndSoundNowhereTwice) {
  const std::string head =
      "song: T\nmeter: 4/4\nkey: C major\nparts:\n  fiddle: {instrument: violin}\n"
      "  guitar: {instrument: guitar}\nsections:\n  tune:\n    fiddle: |\n"
      "      notes | A4 : B4 : C5 : D5 | E5 | D5 |\n    guitar: |\n      3 | . | . | 0 |\n";
  const Built without = build_text("t.yaml", head),
              with = build_text("t.yaml", head + "      cue | - | fiddle | . |\n");
  ASSERT_TRUE(without.timeline && with.timeline) << with.findings();
  EXPECT_EQ(with.timeline->events.size(), without.timeline->events.size());
  const auto& cues = with.timeline->sections[0].parts[1].cues;
  ASSERT_EQ(cues.size(), 1U);
  EXPECT_EQ(cues[0].part, 0);
  EXPECT_EQ(cues[0].first, 1);
  EXPECT_EQ(cues[0].behind, 2);
}

}  // namespace
}  // namespace tunesheaf::score

#include "support/golden.h"

#include <gtest/gtest.h>

#include "engrave/sample.h"

namespace tunesheaf::test {
namespace {

std::string dump(const Engraved& engraved) {
  std::string out;
  for (const engrave::EngravedSystem& system : engraved.section.systems) {
    out += "bars " + std::to_string(system.first_bar) + " to " + std::to_string(system.last_bar) +
           (system.overfull ? " overfull\n" : "\n") + layout::print(*system.frame);
  }
  return out;
}

void check(const std::string& name, SongMaker& song, const std::string& staves = "both", double width = 150,
           engrave::SectionRequest request = {}) {
  song.finish();
  support::expect_golden("engrave/" + name + ".txt", dump(engraved(song.timeline, width, staves, std::move(request))));
}

TEST(EngraveGolden, StaffOverTab) {
  SongMaker song("4/4", "G major", 1);
  const int g = song.guitar();
  song.event(g, 1, q(0), q(1), {song.fretted(g, 5, 3), song.fretted(g, 3, 0)});
  song.event(g, 1, q(1), q(1, 8), {song.fretted(g, 2, 1)});
  song.event(g, 1, q(3, 8), q(1, 8), {song.fretted(g, 1, 12)});
  song.event(g, 1, q(2), q(2), {song.fretted(g, 1, 1)});
  check("staff-over-tab", song);
}

TEST(EngraveGolden, TabAloneCarriesTheRhythm) {
  SongMaker song("3/4", "C major", 1);
  const int g = song.guitar();
  song.event(g, 1, q(0), q(3, 8), {song.fretted(g, 4, 2)});
  song.event(g, 1, q(3, 8), q(1, 8), {song.fretted(g, 3, 2)});
  check("tab-alone", song, "tab");
}

TEST(EngraveGolden, TwoVoicesAndSeconds) {
  SongMaker song("2/4", "F major", 1);
  const int p = song.part("piano", "treble", 0);
  song.event(p, 1, q(0), q(1), {song.pitched("G4"), song.pitched("A4"), song.pitched("E5")});
  song.event(p, 2, q(0), q(2), {song.pitched("F4")});
  check("two-voices", song);
}

TEST(EngraveGolden, AccidentalsInColumns) {
  SongMaker song("4/4", "C major", 2);
  const int p = song.part("piano", "treble", 0);
  song.event(p, 1, q(0), q(4), {song.pitched("F#4"), song.pitched("Ab4"), song.pitched("C#5"), song.pitched("Eb5")});
  song.event(p, 1, q(4), q(4), {song.pitched("F4"), song.pitched("A4"), song.pitched("C##5")});
  check("accidentals", song);
}

TEST(EngraveGolden, BeamsSecondaryAndFractional) {
  SongMaker song("2/4", "C major", 1);
  const int p = song.part("fiddle", "treble", 0);
  song.event(p, 1, q(0), q(3, 16), {song.pitched("C5")});
  song.event(p, 1, q(3, 16), q(1, 16), {song.pitched("D5")});
  for (int i = 0; i < 4; ++i) song.event(p, 1, q(4 + i, 16), q(1, 16), {song.pitched(i % 2 == 0 ? "E5" : "A4")});
  check("beams", song);
}

TEST(EngraveGolden, TripletsWithAndWithoutBracket) {
  SongMaker song("2/4", "C major", 1);
  const int p = song.part("fiddle", "treble", 0);
  for (int i = 0; i < 3; ++i) song.event(p, 1, q(i, 12), q(1, 12), {song.pitched("B4")});
  song.event(p, 1, q(1, 4), q(2, 12), {song.pitched("G4")});
  song.event(p, 1, q(5, 12), q(1, 12), {song.pitched("A4")});
  check("tuplets", song);
}

TEST(EngraveGolden, TiesOverBarsAndSystems) {
  SongMaker song("4/4", "C major", 2);
  const int g = song.guitar();
  song.event(g, 1, q(2), q(4), {song.fretted(g, 2, 1), song.fretted(g, 1, 0)});
  check("ties-broken", song, "both", 45);
}

TEST(EngraveGolden, DrumsWithTwoVoices) {
  SongMaker song("4/4", "C major", 2);
  const int d = song.drums();
  for (int b = 0; b < 2; ++b) {
    for (int i = 0; i < 4; ++i) song.event(d, 1, q(4 * b + i), q(1), {song.drum(0), song.drum(1)});
    song.event(d, 2, q(4 * b), q(2), {song.drum(2)});
  }
  song.bar(1).groove_repeat = true;
  check("drums", song);
}

TEST(EngraveGolden, StrummedSlashes) {
  SongMaker song("4/4", "C major", 1);
  const int g = song.guitar();
  song.music(g).strummed = true;
  for (int i = 0; i < 8; ++i) {
    score::Event& e = song.event(g, 1, q(i, 8), q(1, 8), {song.fretted(g, 1, 0)});
    e.kind = score::EventKind::Slash;
    e.stroke = i % 2 == 0 ? song::StrokeDirection::Down : song::StrokeDirection::Up;
    e.muted = i == 3;
  }
  check("slashes", song);
}

TEST(EngraveGolden, KeysOnTwoStaves) {
  SongMaker song("3/4", "Eb major", 1);
  const int p = song.part("piano", "treble", 0);
  song.event(p, 1, q(0), q(3), {song.pitched("G4"), song.pitched("Eb5")});
  song.event(p, 2, q(0), q(1), {song.pitched("Eb3")}, 1);
  song.event(p, 2, q(1), q(2), {song.pitched("Bb3"), song.pitched("C4")}, 1);
  check("keys", song);
}

TEST(EngraveGolden, RepeatsAndEndings) {
  SongMaker song("2/4", "C major", 3);
  const int p = song.part("fiddle", "treble", 0);
  for (int b = 0; b < 3; ++b) song.event(p, 1, q(2 * b), q(2), {song.pitched("C5")});
  song.bar(0).repeat_begin = true;
  song.bar(1).end = score::BarLine::RepeatEnd;
  song.bar(1).repeat_times = 3;
  song.bar(1).ending = {1, 2};
  song.bar(2).ending = {3};
  for (const int b : {1, 2}) song.bar(b).ending_begin = song.bar(b).ending_end = true;
  check("repeats", song);
}

TEST(EngraveGolden, KeyAndMeterChange) {
  SongMaker song("2/4", "D major", 3);
  const int p = song.part("viola", "alto", 0);
  for (int b = 0; b < 3; ++b) song.event(p, 1, q(2 * b), q(2), {song.pitched("C#4")});
  song.bar(1).key = *theory::parse_key("C major");
  song.bar(1).show_key = true;
  song.bar(2).key = song.bar(1).key;
  song.bar(2).meter = *theory::parse_meter("6/8");
  song.bar(2).length = Fraction(3, 4);
  song.bar(2).show_meter = true;
  check("changes", song);
}

TEST(EngraveGolden, WordsInTheirRows) {
  SongMaker song("4/4", "C major", 2);
  const int p = song.part("voice", "treble", 0);
  song.event(p, 1, q(0), q(2), {song.pitched("E5")});
  song.event(p, 1, q(2), q(6), {song.pitched("C6")});
  song.harmony(q(0), "Am7");
  song.harmony(q(4), "F");
  auto& words = song.music(p).words;
  song.word(words, score::WordKind::Lyric, q(0), "wa-");
  song.word(words, score::WordKind::Lyric, q(2), "ter");
  song.word(words, score::WordKind::Dynamics, q(0), "mf");
  score::Mark wedge;
  wedge.kind = "diminuendo";
  wedge.from = {0, q(2)};
  wedge.to = {1, q(2)};
  song.music(p).marks.push_back(wedge);
  song.word(song.section().words, score::WordKind::RemarkRef, q(2), "3");
  song.section().words.back().remark = 0;
  song.word(song.section().words, score::WordKind::Say, q(4), "softly");
  song::TempoMark tempo;
  tempo.per_minute = Fraction(88);
  song.section().tempo = tempo;
  song.bar(1).from = score::Authority::Lesson;
  check("rows", song);
}

TEST(EngraveGolden, GraceNotes) {
  SongMaker song("2/4", "C major", 1);
  const int g = song.guitar();
  song.event(g, 1, q(0), q(1), {song.fretted(g, 2, 3)});
  song.last().grace.set().notes = {song.fretted(g, 2, 1)};
  song.event(g, 1, q(1), q(1), {song.fretted(g, 1, 3)});
  song.last().grace.set().notes = {song.fretted(g, 1, 1), song.fretted(g, 1, 2)};
  check("grace", song);
}

TEST(EngraveGolden, ArticulationsDotsAndTremolo) {
  SongMaker song("4/4", "C major", 1);
  const int p = song.part("fiddle", "treble", 0);
  song.event(p, 1, q(0), q(1), {song.pitched("C5")});
  song.last().accents.staccato = true;
  song.event(p, 1, q(1), q(1), {song.pitched("E4")});
  song.last().accents = {true, false, false, true, false};
  song.event(p, 1, q(2), q(3, 8), {song.pitched("A4")});
  song.last().tremolo = true;
  song.event(p, 1, q(7, 8), q(1, 8), {song.pitched("F5")});
  song.last().accents = {false, true, false, false, true};
  check("articulations", song);
}

TEST(EngraveGolden, SlursAndLegato) {
  SongMaker song("4/4", "C major", 1);
  const int g = song.guitar();
  for (int i = 0; i < 4; ++i) {
    score::Event& e = song.event(g, 1, q(i), q(1), {song.fretted(g, 3, 2 + i)});
    if (i == 1) e.notes[0].more.set().link = {song::Arrival::HammerOn, 0, 0};
  }
  score::Mark slur;
  slur.kind = "slur";
  slur.from = {0, q(2)};
  slur.to = {1, q(0)};
  song.music(g).marks.push_back(slur);
  check("slurs", song);
}

TEST(EngraveGolden, ChartWithoutPlayers) {
  SongMaker song("4/4", "C major", 2);
  song.harmony(q(0), "C");
  song.harmony(q(4), "G7");
  check("chart", song);
}

TEST(EngraveGolden, OctaveLine) {
  SongMaker song("2/4", "C major", 1);
  const int p = song.part("flute", "treble", 0);
  song.event(p, 1, q(0), q(2), {song.pitched("C7")});
  score::Mark mark;
  mark.kind = "8va";
  mark.from = {0, q(0)};
  mark.to = {1, q(0)};
  song.music(p).marks.push_back(mark);
  check("octave-line", song);
}

TEST(EngraveGolden, FormSignsAndNames) {
  SongMaker song("2/4", "C major", 2);
  const int f = song.part("fiddle", "treble", 0), b = song.part("double bass", "bass", 1);
  song.event(f, 1, q(0), q(2), {song.pitched("D5")});
  song.event(b, 1, q(2), q(2), {song.pitched("D2")});
  engrave::SectionRequest request;
  request.signs = {{0, engrave::BarEdge::Begin, song::FormWord::Segno, "", {}},
                   {1, engrave::BarEdge::End, song::FormWord::DalSegno, "D.S. al Coda", {}}};
  check("form-signs", song, "both", 150, request);
}

TEST(EngraveGolden, PracticeCount) {
  SongMaker song("4/4", "C major", 1);
  const int g = song.guitar();
  for (int i = 0; i < 3; ++i) song.event(g, 1, q(i, 8), q(1, 8), {song.fretted(g, 1, i)});
  engrave::SectionRequest request;
  request.beat_count = true;
  check("count", song, "both", 150, request);
}

}  // namespace
}  // namespace tunesheaf::test

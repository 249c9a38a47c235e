#include <gtest/gtest.h>

#include <map>
#include <random>
#include <set>

#include "engrave/sample.h"

namespace tunesheaf::test {
namespace {

using engrave::StaffKind;
using layout::Subject;

/// Seeded songs of guitar (staff and tab), fiddle and drums: any onsets on a grid of the bar, any frets, chords, two
/// voices, ties over bars, grace notes, words over and under the staff.
class Generator {
 public:
  explicit Generator(unsigned seed) : random_(seed) {}

  SongMaker song() {
    static const char* kMeters[] = {"4/4", "3/4", "6/8", "2/4", "7/8 (2+2+3)", "5/4", "12/8"};
    static const char* kKeys[] = {"C major", "E major", "Ab major", "F# minor", "G mixolydian", "C minor"};
    SongMaker song(kMeters[up_to(7)], kKeys[up_to(6)], 1 + up_to(9));
    length_ = song.bar(0).length * Fraction(static_cast<std::int64_t>(song.section().bars.size()));
    const int g = song.guitar(), f = song.part("fiddle", "treble", 0), d = song.drums();
    voice(song, g, 1, [&](score::Event& e) {
      const int notes = 1 + up_to(3);
      const int first = 1 + up_to(5 - notes + 1);  // string 6 is the thumb's
      for (int i = 0; i < notes; ++i) e.notes.push_back(song.fretted(g, first + i, up_to(15)));
      if (up_to(9) == 0) e.grace.set().notes = {song.fretted(g, first, up_to(12))};
    });
    if (up_to(2) == 0) {
      voice(song, g, 2, [&](score::Event& e) { e.notes.push_back(song.fretted(g, 6, up_to(5))); });
    }
    voice(song, f, 1, [&](score::Event& e) {
      const int midi = 60 + up_to(36);
      score::Note note;
      note.midi = midi;
      note.written = theory::spell(midi, song.timeline.key);
      e.notes.push_back(note);
      if (up_to(5) == 0) e.accents.accent = true;
      if (up_to(5) == 0) e.accents.staccato = true;
    });
    voice(song, d, 1, [&](score::Event& e) { e.notes.push_back(song.drum(up_to(2))); });
    words(song, g);
    song.finish();
    return song;
  }

  int up_to(int n) { return static_cast<int>(random_() % static_cast<unsigned>(n)); }

 private:
  template <class Fill>
  void voice(SongMaker& song, int part, int number, Fill fill) {
    static const Fraction kSteps[] = {{1, 8}, {1, 4}, {1, 16}, {3, 8}, {1, 12}, {1, 2}, {3, 4}, {3, 16}};
    Fraction at;
    while (at < length_) {
      Fraction step = kSteps[up_to(8)];
      const int times = step == Fraction(1, 12) ? 3 : 1;
      if (times == 3 && at.modulo(Fraction(1, 4)) != Fraction()) continue_odd(step);
      for (int i = 0; i < (step == Fraction(1, 12) ? 3 : 1) && at < length_; ++i) {
        const Fraction duration = min(step, length_ - at);
        if (up_to(6) != 0) fill(song.event(part, number, at, duration, {}));
        at += duration;
      }
    }
  }
  static void continue_odd(Fraction& step) { step = Fraction(1, 8); }

  void words(SongMaker& song, int part) {
    for (std::size_t b = 0; b < song.section().bars.size(); ++b) {
      const Fraction at = song.bar(0).length * Fraction(static_cast<std::int64_t>(b));
      if (up_to(2) == 0) song.harmony(at, up_to(2) == 0 ? "Ebmaj7" : "D");
      if (up_to(3) == 0) song.word(song.music(part).words, score::WordKind::Lyric, at, "stream-");
      if (up_to(4) == 0) song.word(song.music(part).words, score::WordKind::Dynamics, at, "mf");
      if (up_to(4) == 0) song.word(song.section().words, score::WordKind::RemarkRef, at, std::to_string(up_to(20)));
    }
  }

  std::mt19937 random_;
  Fraction length_;
};

class Audit {
 public:
  Audit(const SongMaker& song, const Engraved& engraved) : song_(song), engraved_(engraved) {}

  void run() {
    int next = 0;
    for (const engrave::EngravedSystem& system : engraved_.section.systems) {
      EXPECT_EQ(system.first_bar, next) << "or the bar that was broken on the line before";
      next = system.broken ? system.last_bar - 1 : system.last_bar;
      inside(*system.frame);
      on_lines(*system.frame);
      aligned(*system.frame);
      stems_reach_beams(*system.frame);
      if (!system.overfull) texts_apart(*system.frame);
      for (const char* kind : {"note-head", "tab-figure"}) {
        for (const layout::Item* item : of_kind(*system.frame, kind)) drawn_[item->subject] += 1;
      }
    }
    EXPECT_EQ(next, static_cast<int>(song_.timeline.sections[0].bars.size()));
    all_drawn();
  }

 private:
  void inside(const layout::Frame& frame) {
    const Rect page{{}, {}, frame.size.width, frame.size.height};
    for (const layout::Item& item : frame.items) {
      const Rect box = layout::box_of(item);
      EXPECT_TRUE(page.grown(Length::pt(0.05)).contains(box))
          << item.kind.name() << " at " << box.x.points() << "," << box.y.points() << " size " << box.width.points()
          << "x" << box.height.points() << " in " << frame.size.width.points() << "x" << frame.size.height.points();
    }
  }

  /// Lines of each staff, top to bottom.
  static std::map<int, std::vector<Length>> lines_of(const layout::Frame& frame) {
    std::map<int, std::vector<Length>> lines;
    for (const char* kind : {"staff-line", "tab-line"}) {
      for (const layout::Item* item : of_kind(frame, kind)) lines[item->subject.staff].push_back(item->at.y);
    }
    return lines;
  }

  void on_lines(const layout::Frame& frame) {
    const auto lines = lines_of(frame);
    for (const layout::Item* figure : of_kind(frame, "tab-figure")) {
      const score::Note& note = note_of(figure->subject);
      const Length line = lines.at(figure->subject.staff)[static_cast<std::size_t>(note.string - 1)];
      EXPECT_LE(abs(middle_y(layout::box_of(*figure)) - line), Length::pt(0.05));
    }
    for (const layout::Item* head : of_kind(frame, "note-head")) {
      const score::Note& note = note_of(head->subject);
      const score::Part& part = song_.timeline.parts[static_cast<std::size_t>(head->subject.staff / 4)];
      const int position = note.drum >= 0 ? part.kit[static_cast<std::size_t>(note.drum)].place.position
                                          : note.written.diatonic() + 7 * part.octave_shift - 34;
      const auto& staff = lines.at(head->subject.staff);
      const double spaces = ((staff[4] - staff[0]) * 0.25).points();
      EXPECT_NEAR((staff[2] - head->at.y).points(), spaces * position / 2, 0.02);
    }
  }

  /// What begins together stands on one vertical across all staves (heads of seconds step aside).
  void aligned(const layout::Frame& frame) {
    std::map<int, Length> figures;
    for (const layout::Item* figure : of_kind(frame, "tab-figure")) {
      const Length x = middle_x(layout::box_of(*figure));
      const auto [at, fresh] = figures.emplace(figure->subject.event, x);
      if (!fresh) {
        EXPECT_LE(abs(at->second - x), Length::pt(0.05));
      }
    }
    for (const layout::Item* head : of_kind(frame, "note-head")) {
      const auto figure = figures.find(head->subject.event);
      if (figure == figures.end()) continue;
      const Length off = abs(middle_x(layout::box_of(*head)) - figure->second);
      EXPECT_LE(off, engraved_.style.staff_space * 1.7);
      if (song_.timeline.events[static_cast<std::size_t>(head->subject.event)].notes.size() == 1 &&
          song_.timeline.sections[0].parts[0].voices.size() == 1) {
        EXPECT_LE(off, Length::pt(0.1));
      }
    }
  }

  void stems_reach_beams(const layout::Frame& frame) {
    std::vector<Rect> stems;
    for (const layout::Item* stem : of_kind(frame, "stem")) stems.push_back(layout::box_of(*stem));
    for (const layout::Item* beam : of_kind(frame, "beam")) {
      const Rect box = layout::box_of(*beam).grown(Length::pt(0.1));
      const bool held = std::any_of(stems.begin(), stems.end(), [&](const Rect& stem) { return stem.overlaps(box); });
      EXPECT_TRUE(held) << "a beam without stem";
    }
  }

  void texts_apart(const layout::Frame& frame) {
    static const std::set<std::string_view> kWords{"chord-name", "lyric",  "dynamics",  "tuplet",      "bar-number",
                                                   "tab-figure", "tempo",  "direction", "part-name",   "remark-ring",
                                                   "accidental", "accent", "note-head", "lesson-label"};
    std::vector<std::pair<const layout::Item*, Rect>> boxes;
    for (const layout::Item& item : frame.items) {
      if (kWords.count(item.kind.name()) > 0) boxes.emplace_back(&item, layout::box_of(item).grown(-Length::pt(0.05)));
    }
    for (std::size_t i = 0; i < boxes.size(); ++i) {
      for (std::size_t j = i + 1; j < boxes.size(); ++j) {
        if (boxes[i].first->kind == boxes[j].first->kind &&
            (boxes[i].first->kind == layout::Kind("note-head") || boxes[i].first->kind == layout::Kind("dynamics"))) {
          continue;  // letters of one mark stand close; a unison shares its head
        }
        EXPECT_FALSE(boxes[i].second.overlaps(boxes[j].second))
            << boxes[i].first->kind.name() << " and " << boxes[j].first->kind.name() << " at "
            << boxes[i].second.x.points() << "," << boxes[i].second.y.points() << " and " << boxes[j].second.x.points()
            << "," << boxes[j].second.y.points();
      }
    }
  }

  void all_drawn() {
    std::map<Subject, int> expected;
    for (const score::PartMusic& music : song_.timeline.sections[0].parts) {
      const auto repeats = engrave::bar_repeats(song_.timeline, song_.timeline.sections[0], music.part);
      for (const score::Voice& voice : music.voices) {
        for (std::size_t b = 0; b < voice.bars.size(); ++b) {
          const bool sign = repeats[b] != engrave::BarRepeat::None;  // or written out, at the beginning of a line
          for (const score::Segment& s : voice.bars[b]) {
            if (s.event < 0 || s.tied_from) continue;
            if (sign && drawn_.count({engrave::staff_number(music.part, StaffKind::Notation), s.event, 0}) == 0)
              continue;
            const score::Event& e = song_.timeline.events[static_cast<std::size_t>(s.event)];
            for (int n = 0; n < static_cast<int>(e.notes.size()); ++n) {
              expected[{engrave::staff_number(music.part, StaffKind::Notation), e.id, n}] = 1;
              if (e.notes[static_cast<std::size_t>(n)].string > 0) {
                expected[{engrave::staff_number(music.part, StaffKind::Tab), e.id, n}] = 1;
              }
            }
          }
        }
      }
    }
    EXPECT_EQ(drawn_, expected);
  }

  const score::Note& note_of(const Subject& subject) const {
    return song_.timeline.events.at(static_cast<std::size_t>(subject.event))
        .notes.at(static_cast<std::size_t>(subject.note));
  }

  const SongMaker& song_;
  const Engraved& engraved_;
  std::map<Subject, int> drawn_;
};

TEST(Systems, GeneratedSongsHoldEveryRule) {
  for (unsigned seed = 1; seed <= 60 && !::testing::Test::HasFailure(); ++seed) {
    SCOPED_TRACE("seed " + std::to_string(seed));
    const SongMaker song = Generator(seed).song();
    const Engraved out = engraved(song.timeline, 120 + 10.0 * (seed % 7));
    Audit(song, out).run();
  }
}

TEST(Systems, FullSystemsAreExactlyAsWideAsAsked) {
  const SongMaker song = Generator(5).song();
  const Engraved out = engraved(song.timeline, 110);
  for (std::size_t i = 0; i < out.section.systems.size(); ++i) {
    const layout::Frame& frame = *out.section.systems[i].frame;
    EXPECT_EQ(frame.size.width, Length::mm(110));
    for (const layout::Item* line : of_kind(frame, "staff-line")) {
      const Length end = line->at.x + std::get<layout::LineShape>(line->shape).to.x;
      if (i + 1 < out.section.systems.size() && !out.section.systems[i].overfull) {
        EXPECT_EQ(end, Length::mm(110));
      }
      EXPECT_LE(end, Length::mm(110));
    }
  }
}

TEST(Systems, ABarWiderThanThePageIsSetOnSeveralAndReported) {
  SongMaker song("4/4", "C major", 1);
  const int p = song.part("fiddle", "treble", 0);
  for (int i = 0; i < 64; ++i) song.event(p, 1, Fraction(i, 64), Fraction(1, 64), {song.pitched("C5")});
  song.finish();
  const Engraved out = engraved(song.timeline, 60);
  ASSERT_GT(out.section.systems.size(), 1U);
  EXPECT_TRUE(out.section.systems[0].broken);
  EXPECT_EQ(out.section.systems[0].overfull_at, song.bar(0).origin);
  std::size_t heads = 0;
  for (const engrave::EngravedSystem& system : out.section.systems) {
    EXPECT_FALSE(system.overfull);
    heads += of_kind(*system.frame, "note-head").size();
    for (const layout::Item& item : system.frame->items)
      EXPECT_LE(layout::box_of(item).right(), Length::mm(60) + Length::pt(0.1)) << item.kind.name();
  }
  EXPECT_EQ(heads, 64U);
}

TEST(Systems, PartsThatRestThroughoutAreLeftOut) {
  SongMaker song("4/4", "C major", 1);
  const int f = song.part("fiddle", "treble", 0);
  song.part("flute", "treble", 0);
  song.event(f, 1, Fraction(), Fraction(1), {song.pitched("C5")});
  song.finish();
  const Engraved out = engraved(song.timeline);
  ASSERT_EQ(out.section.systems.size(), 1U);
  EXPECT_EQ(of_kind(*out.section.systems[0].frame, "staff-line").size(), 5U);
}

TEST(Systems, RemarkAnchorsStandInTheirSystem) {
  SongMaker song("4/4", "C major", 6);
  const int f = song.part("fiddle", "treble", 0);
  for (int b = 0; b < 6; ++b) {
    for (int i = 0; i < 8; ++i) song.event(f, 1, Fraction(8 * b + i, 8), Fraction(1, 8), {song.pitched("C5")});
    song.word(song.section().words, score::WordKind::RemarkRef, Fraction(b), std::to_string(b + 1));
  }
  song.finish();
  const Engraved out = engraved(song.timeline, 100);
  std::vector<int> numbers;
  for (const engrave::EngravedSystem& system : out.section.systems) {
    for (const engrave::RemarkAnchor& anchor : system.remarks) {
      EXPECT_GE(anchor.bar, system.first_bar);
      EXPECT_LT(anchor.bar, system.last_bar);
      EXPECT_GT(anchor.at.y, Length{});
      EXPECT_LT(anchor.at.y, system.frame->size.height);
      numbers.push_back(anchor.number);
    }
  }
  EXPECT_EQ(numbers, (std::vector<int>{1, 2, 3, 4, 5, 6}));
}

std::vector<std::string> accidentals_of(const layout::Frame& frame) {
  std::vector<std::pair<Length, std::string>> found;
  for (const layout::Item* item : of_kind(frame, "accidental")) {
    const auto* glyphs = std::get_if<layout::GlyphsShape>(&item->shape);
    found.emplace_back(item->at.x, glyphs != nullptr ? glyphs->run.text : "path");
  }
  std::sort(found.begin(), found.end());
  std::vector<std::string> signs;
  for (const auto& [x, sign] : found) signs.push_back(sign);
  return signs;
}

std::size_t count_of(const Engraved& engraved, const std::string& kind) {
  std::size_t count = 0;
  for (const engrave::EngravedSystem& system : engraved.section.systems) count += of_kind(*system.frame, kind).size();
  return count;
}

/// A fiddle that plays in bars 1 and 6 of eight, and a guitar that plays throughout.
SongMaker fiddle_that_waits() {
  SongMaker song("4/4", "D major", 8);
  const int f = song.part("fiddle", "treble", 0), g = song.guitar();
  song.event(f, 1, {0, 1}, {1, 1}, {song.pitched("A4")});
  song.event(f, 1, {5, 1}, {1, 1}, {song.pitched("D5")});
  for (int b = 0; b < 8; ++b) song.event(g, 1, {b, 1}, {1, 1}, {song.fretted(g, 1, b)});
  return song;
}

TEST(Rests, BarsOfSilenceStandAsOneOnThePlayersOwnSheet) {
  SongMaker song = fiddle_that_waits();
  song.finish();
  engrave::SectionRequest own;
  own.parts = {0};
  const Engraved alone = engraved(song.timeline, 150, "both", own);
  EXPECT_EQ(count_of(alone, "rest-bars"), 6U) << "bars 2 to 5 and 7 to 8, a thick line with two ends each";
  EXPECT_EQ(count_of(alone, "rest"), 0U);
  EXPECT_EQ(count_of(alone, "bar-line"), 5U) << "four bars are left to the eye; the last line is a double stroke";
  EXPECT_EQ(alone.section.systems.back().last_bar, 8);
  EXPECT_EQ(count_of(engraved(song.timeline), "rest-bars"), 0U) << "beside the guitar the bars are counted by it";
}

TEST(Rests, WhatIsSaidOrChangesHoldsTheBarsApart) {
  SongMaker song = fiddle_that_waits();
  song.word(song.music(0).words, score::WordKind::Say, {3, 1}, "breathe");
  song.bar(6).end = score::BarLine::Double;
  song.finish();
  engrave::SectionRequest own;
  own.parts = {0};
  const Engraved alone = engraved(song.timeline, 150, "both", own);
  EXPECT_EQ(count_of(alone, "rest-bars"), 6U) << "bars 2 and 3, bars 4 and 5";
  EXPECT_EQ(count_of(alone, "rest"), 2U) << "bars 7 and 8 stand alone";
}

TEST(Rests, AWholeSectionOfOthersIsRest) {
  SongMaker song("4/4", "D major", 16);
  song.part("fiddle", "treble", 0);
  const int g = song.guitar();
  for (int b = 0; b < 16; ++b) song.event(g, 1, {b, 1}, {1, 1}, {song.fretted(g, 1, b % 5)});
  song.harmony({4, 1}, "D");
  song.finish();
  engrave::SectionRequest own;
  own.parts = {0};
  const Engraved alone = engraved(song.timeline, 150, "both", own);
  ASSERT_EQ(alone.section.systems.size(), 1U);
  EXPECT_EQ(count_of(alone, "rest-bars"), 3U);
  EXPECT_EQ(count_of(alone, "rest-count"), 2U) << "two figures: 16";
}

TEST(Repeats, OneBarTwoBarsAndWhatHoldsThemApart) {
  using engrave::BarRepeat;
  SongMaker song("4/4", "C major", 9);
  const int d = song.drums();
  // a a b c b c a a(with a word) a
  const char* groove = "aabcbcaaa";
  for (int b = 0; b < 9; ++b) {
    const int beats = groove[b] == 'a' ? 4 : groove[b] == 'b' ? 2 : 1;
    for (int i = 0; i < beats; ++i) {
      song.event(d, 1, Fraction(b) + Fraction(i, beats), {1, beats}, {song.drum(i % 2)});
    }
  }
  song.word(song.music(d).words, score::WordKind::Say, {7, 1}, "brushes");
  song.finish();
  const auto repeats = engrave::bar_repeats(song.timeline, song.section(), d);
  const std::vector<BarRepeat> wanted{BarRepeat::None, BarRepeat::One,        BarRepeat::None,
                                      BarRepeat::None, BarRepeat::FirstOfTwo, BarRepeat::SecondOfTwo,
                                      BarRepeat::None, BarRepeat::None,       BarRepeat::One};
  EXPECT_EQ(repeats, wanted);
  EXPECT_EQ(count_of(engraved(song.timeline, 200), "bar-repeat-count"), 1U) << "the 2 over the sign of two bars";
  const Engraved sheet = engraved(song.timeline, 60);
  for (const engrave::EngravedSystem& system : sheet.section.systems) EXPECT_NE(system.first_bar, 5);
}

TEST(Repeats, ABarThatTheChartHoldsIsWrittenOut) {
  SongMaker song("4/4", "C major", 3);
  const int d = song.drums();
  for (int beat = 0; beat < 12; ++beat) song.event(d, 1, Fraction(beat, 4), {1, 4}, {song.drum(beat % 2)});
  song.finish();
  const auto repeats = [&] { return engrave::bar_repeats(song.timeline, song.section(), d); };
  using engrave::BarRepeat;
  EXPECT_EQ(repeats(), (std::vector<BarRepeat>{BarRepeat::None, BarRepeat::One, BarRepeat::One}));
  song.word(song.section().words, score::WordKind::Hold, {9, 4}, "@");
  EXPECT_EQ(repeats(), (std::vector<BarRepeat>{BarRepeat::None, BarRepeat::One, BarRepeat::None}));
}

TEST(Tuplets, BracketsOfABarStandAtOneHeight) {
  SongMaker song("2/4", "C major", 1);
  const int d = song.drums();
  const int hat = 0, kick = 2;
  for (int beat = 0; beat < 2; ++beat) {
    const score::Note drum = song.drum(beat == 0 ? kick : hat);
    song.event(d, 1, Fraction(beat, 4), {2, 12}, {drum});
    song.event(d, 1, Fraction(beat, 4) + Fraction(2, 12), {1, 12}, {drum});
  }
  const Engraved e = engraved(song.finish(), 150);
  const auto brackets = of_kind(frame_of(e), "tuplet-bracket");
  ASSERT_EQ(brackets.size(), 4u) << "two halves each";
  for (const layout::Item* half : brackets) {
    EXPECT_EQ(layout::box_of(*half).top(), layout::box_of(*brackets.front()).top());
  }
}

TEST(BarRepeats, NoLineBeginsWithOne) {
  SongMaker song("4/4", "C major", 12);
  const int d = song.drums();
  for (int b = 0; b < 12; ++b) {
    for (int i = 0; i < 4; ++i) song.event(d, 1, q(4 * b + i), q(1), {song.drum(i % 2)});
  }
  const Engraved sheet = engraved(song.finish(), 70);
  ASSERT_GT(sheet.section.systems.size(), 1U);
  for (std::size_t i = 0; i < sheet.section.systems.size(); ++i) {
    const engrave::EngravedSystem& system = sheet.section.systems[i];
    std::set<int> written;
    for (const layout::Item* head : of_kind(frame_of(sheet, i), "note-head")) written.insert(head->subject.event / 4);
    EXPECT_EQ(written, std::set<int>{system.first_bar}) << "the first bar is written, the others are signs";
    EXPECT_EQ(of_kind(frame_of(sheet, i), "bar-repeat").size(),
              static_cast<std::size_t>(system.last_bar - system.first_bar - 1));
  }
}

TEST(Keys, EveryStaffStandsInItsOwn) {
  SongMaker song("4/4", "C major", 2);
  const int f = song.part("fiddle", "treble", 0), c = song.part("clarinet", "treble", 0);
  for (const int part : {f, c}) song.event(part, 1, {0, 1}, {1, 1}, {song.pitched(part == f ? "F4" : "G4")});
  song.event(c, 1, {1, 1}, {1, 1}, {song.pitched("F#4")});
  song.music(c).keys.assign(2, {*theory::parse_key("D major"), {1, 2}});
  song.harmony({0, 1}, "C");
  song.finish();
  const Engraved both = engraved(song.timeline);
  EXPECT_EQ(count_of(both, "key-signature"), 2U) << "of the clarinet alone";
  EXPECT_EQ(count_of(both, "accidental"), 0U) << "F sharp is in its key";
  const auto name = [](const Engraved& sheet) {
    return std::get<layout::GlyphsShape>(of_kind(*sheet.section.systems[0].frame, "chord-name")[0]->shape).run.text;
  };
  EXPECT_EQ(name(both), "C");
  engrave::SectionRequest own;
  own.parts = {c};
  EXPECT_EQ(name(engraved(song.timeline, 150, "both", own)), "D") << "on the clarinet's own sheet the chords move too";
}

TEST(Meters, GroupsArePrintedAsStated) {
  for (const auto& [meter, figures] :
       {std::pair{"7/8 (2+2+3)", 6U}, std::pair{"5/4 (3+2)", 4U}, std::pair{"7/8", 2U}}) {
    SongMaker song(std::string(meter) == "7/8" ? "6/8" : meter, "C major", 1);
    const int f = song.part("fiddle", "treble", 0);
    song.event(f, 1, {0, 1}, {1, 8}, {song.pitched("G4")});
    song.finish();
    EXPECT_EQ(count_of(engraved(song.timeline), "meter"), figures) << meter;
  }
}

TEST(Systems, TheirStavesGiveWay) {
  SongMaker song = fiddle_that_waits();
  song.finish();
  const Engraved both = engraved(song.timeline);
  const engrave::EngravedSystem& system = both.section.systems.front();
  ASSERT_NE(system.elastic, nullptr);
  EXPECT_GT(system.elastic->grow(), Length{});
  const auto closed = system.elastic->at(-1), open = system.elastic->at(1);
  EXPECT_LT(closed->size.height, system.frame->size.height);
  EXPECT_GT(open->size.height, system.frame->size.height);
  // What joins the staves reaches from the first to the last of them however they stand.
  for (const auto& frame : {closed, open}) {
    const Rect line = layout::box_of(*of_kind(*frame, "system-line").front());
    const auto tab = of_kind(*frame, "tab-line");
    EXPECT_EQ(line.bottom(), tab.back()->at.y);
  }
}

TEST(Accidentals, HoldToTheBarLineForTheirOctaveOnly) {
  SongMaker song("4/4", "C major", 2);
  const int p = song.part("fiddle", "treble", 0);
  const char* notes[] = {"F#4", "F#4", "F#5", "F#4", "F4", "F4", "G4", "F5"};
  for (int i = 0; i < 8; ++i) song.event(p, 1, Fraction(i, 4), Fraction(1, 4), {song.pitched(notes[i])});
  song.finish();
  const Engraved out = engraved(song.timeline);
  ASSERT_EQ(out.section.systems.size(), 1U);
  const layout::Frame& frame = *out.section.systems[0].frame;
  // Sharps for F4 and F5 once each; in the next bar a courtesy natural for each, in parentheses.
  EXPECT_EQ(accidentals_of(frame).size(), 4U);
  EXPECT_EQ(of_kind(frame, "parenthesis").size(), 4U);
}

TEST(Accidentals, HeldNotesNeedNone) {
  SongMaker song("4/4", "C major", 2);
  const int p = song.part("fiddle", "treble", 0);
  song.event(p, 1, Fraction(1, 2), Fraction(1), {song.pitched("F#4")});
  song.finish();
  const Engraved out = engraved(song.timeline);
  EXPECT_EQ(accidentals_of(*out.section.systems[0].frame).size(), 1U);
  EXPECT_EQ(of_kind(*out.section.systems[0].frame, "tie").size(), 1U);
  EXPECT_EQ(of_kind(*out.section.systems[0].frame, "note-head-tied").size(), 1U);
}

TEST(Form, SignsGoToTheSectionsTheyStandAt) {
  SongMaker song("4/4", "C major", 3);
  song.timeline.sections.push_back(song.timeline.sections[0]);
  const auto step = [&](song::FormWord word, int section, song::Until until = song::Until::None) {
    score::FormStep s;
    s.entry.word = word;
    s.entry.until = until;
    s.section = section;
    song.timeline.form.push_back(s);
  };
  step(song::FormWord::Segno, -1);
  step(song::FormWord::Section, 0);
  step(song::FormWord::ToCoda, -1);
  step(song::FormWord::Section, 1);
  step(song::FormWord::DalSegno, -1, song::Until::Coda);
  const auto first = engrave::form_signs(song.timeline, 0), second = engrave::form_signs(song.timeline, 1);
  ASSERT_EQ(first.size(), 2U);
  EXPECT_EQ(first[0].word, song::FormWord::Segno);
  EXPECT_EQ(first[0].edge, engrave::BarEdge::Begin);
  EXPECT_EQ(first[1].text, "To Coda");
  EXPECT_EQ(first[1].bar, 2);
  ASSERT_EQ(second.size(), 1U);
  EXPECT_EQ(second[0].text, "D.S. al Coda");
}

/// The words of the jump that ends the second of two sections, played as `visits` of them say (section, passes).
std::string jump_after(const std::vector<std::pair<int, int>>& visits, int times, const std::string& until) {
  SongMaker song("4/4", "C major", 1);
  song.timeline.sections.push_back(song.timeline.sections[0]);
  song.timeline.sections[1].times = times;
  song.timeline.sections[1].until = until;
  const auto step = [&](song::FormWord word, int section) {
    score::FormStep s;
    s.entry.word = word;
    s.section = section;
    song.timeline.form.push_back(s);
  };
  step(song::FormWord::Section, 0);
  step(song::FormWord::Section, 1);
  step(song::FormWord::DaCapo, -1);
  song.timeline.played.clear();
  for (const auto& [section, passes] : visits) {
    for (int pass = 1; pass <= passes; ++pass) {
      score::PlayedBar bar;
      bar.section = bar.step = section;
      bar.pass = pass;
      song.timeline.played.push_back(bar);
    }
  }
  return engrave::form_signs(song.timeline, 1).front().text;
}

TEST(Form, AJumpSaysWhichTimeTakesItAndWhetherRepeatsAreLeftOut) {
  EXPECT_EQ(jump_after({{0, 1}, {1, 1}, {0, 1}}, 1, ""), "D.C.");
  EXPECT_EQ(jump_after({{0, 1}, {1, 1}, {0, 1}, {1, 1}}, 1, ""), "1st time: D.C.");
  EXPECT_EQ(jump_after({{0, 1}, {1, 2}, {0, 1}}, 2, ""), "2nd time: D.C.");
  EXPECT_EQ(jump_after({{0, 2}, {1, 2}, {0, 1}}, 2, ""), "2nd time: D.C., no repeats");
  EXPECT_EQ(jump_after({{0, 2}, {1, 3}, {0, 2}}, 3, ""), "after \u00d73: D.C.");
  EXPECT_EQ(jump_after({{0, 2}, {1, 3}, {0, 1}}, 3, "all sing"), "last time: D.C., no repeats");
}

}  // namespace
}  // namespace tunesheaf::test

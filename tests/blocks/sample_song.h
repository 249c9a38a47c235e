// A song in time made by hand for tests of blocks and sheets: a waltz in an open tuning with a capo, a double bass in
// its usual tuning, a cajon; five shapes with their moves; three sections, one played twice, a jump back and a coda.
#pragma once
#include <cstddef>
#include <string>
#include <vector>

#include "tunesheaf/score/timeline.h"
#include "tunesheaf/theory/instrument.h"
#include "tunesheaf/theory/key.h"
#include "tunesheaf/theory/naming.h"

namespace tunesheaf::testing {

inline song::Text words(const std::string& text) {
  return {text, {}};
}

inline theory::Tuning tuned(const std::string& notes) {
  return theory::parse_tuning_notes(notes).value();
}

inline score::ShapeUse shape_use(const std::string& name, const std::string& frets, const std::string& fingers,
                                 const theory::Tuning& tuning, const theory::Key& key) {
  score::ShapeUse use;
  use.name = words(name);
  use.shape.frets = theory::parse_frets(frets).value();
  if (!fingers.empty()) use.shape.fingers = theory::parse_fingers(fingers).value();
  std::vector<int> midi;
  for (std::size_t s = 0; s < use.shape.frets.size(); ++s) {
    if (!use.shape.frets[s]) {
      use.sounding.push_back(std::nullopt);
      continue;
    }
    midi.push_back(tuning.strings[s].midi() + *use.shape.frets[s]);
    use.sounding.push_back(theory::spell(midi.back(), key));
  }
  const auto names = theory::name_candidates(midi, {key, {}});
  if (!names.empty()) use.ear = names.front().name;
  use.ear_text = use.ear ? theory::print(*use.ear, theory::Accidentals::Signs) : "no common name";
  use.used = true;
  return use;
}

class SampleSong {
 public:
  score::Timeline build() {
    head();
    parts();
    shapes();
    section("opening", "A", 4, 1, 41);
    section("air", "B", 8, 2, 116);
    section("last air", "C", 4, 1, 0);
    form();
    return song_;
  }

 private:
  void head() {
    song_.title = words("The Heron Stair");
    song_.by = words("Saltmarsh Assembly");
    song_.lesson = words("handout 14");
    song_.revision = words("2026-11-24");
    song_.video = words("https://example.org/lessons/14");
    song_.credits = words("Words and music by the writers. For private study.");
    song_.about = words(
        "A slow waltz for one guitar in an open tuning. Two fingers do nearly all of it; the thumb keeps the time.");
    song_.key = theory::parse_key("G major").value();
    song_.meter = theory::parse_meter("3/4").value();
    song_.tempo = song::TempoMark{{1, 4}, 96, false, ""};
    score::Recording studio;
    studio.name = words("studio");
    studio.cents = 18;
    studio.followed = true;
    score::Recording concert;
    concert.name = words("in concert");
    concert.cents = -200;
    concert.tempo = song::TempoMark{{1, 4}, 104, false, ""};
    song_.recordings = {studio, concert};
  }

  void parts() {
    score::Part guitar;
    guitar.name = words("guitar");
    guitar.instrument = *theory::find_instrument("guitar");
    guitar.tuning = tuned("D2 G2 D3 G3 B3 D4");
    guitar.usual = *guitar.instrument.usual;
    guitar.capo = 2;
    guitar.clef = "treble 8vb";
    guitar.octave_shift = 1;
    guitar.tab = true;
    score::Part bass;
    bass.name = words("double bass");
    bass.instrument = *theory::find_instrument("double bass");
    bass.tuning = bass.usual = *bass.instrument.usual;
    bass.clef = "bass";
    bass.octave_shift = 1;
    score::Part cajon;
    cajon.name = words("cajon");
    cajon.instrument = *theory::find_instrument("drum kit");
    cajon.kit = {{"bass", {36, -3}}, {"slap", {38, 1}}, {"rim", {37, 5, theory::DrumHead::Cross}}};
    cajon.clef = "percussion";
    song_.parts = {guitar, bass, cajon};
  }

  void shapes() {
    const theory::Tuning& tuning = song_.parts[0].tuning;
    const theory::Key key = *song_.key;
    song_.shapes = {shape_use("home", "x 0 0 0 0 0", "", tuning, key),
                    shape_use("two-finger", "x 0 2 0 1 2", ". . 2 . 1 3", tuning, key),
                    shape_use("sixth", "x 0 2 0 0 2", ". . 1 . . 2", tuning, key),
                    shape_use("low step", "0 x 4 2 1 4", ". . 3 2 1 4", tuning, key),
                    shape_use("barre five", "5 5 5 5 5 5", "1 1 1 1 1 1", tuning, key)};
    song_.shapes[2].hand = "two fingers of the D shape, spread";
    song_.shapes[4].from = song::Authority::Lesson;
    song_.shapes[4].instead_of = "home";
    for (std::size_t i = 0; i + 1 < song_.shapes.size(); ++i) add_move(i, i + 1);
    add_move(2, 0);
    add_move(4, 0);
  }

  void add_move(std::size_t from, std::size_t to) {
    const auto move = theory::move_between(song_.shapes[from].shape, song_.shapes[to].shape);
    if (move) song_.moves.push_back({static_cast<int>(from), static_cast<int>(to), 1, *move});
  }

  int add_event(base::Fraction onset, int bar, base::Fraction duration, std::vector<std::pair<int, int>> string_fret) {
    score::Event event;
    event.id = static_cast<int>(song_.events.size());
    event.at = {bar, onset};
    event.duration = duration;
    for (const auto& [string, fret] : string_fret) {
      score::Note note;
      note.string = string;
      note.fret = fret;
      const int midi = song_.parts[0].tuning.string(string).midi() + fret;
      note.written = theory::spell(midi, *song_.key);
      note.midi = midi + 2;
      note.sounding_duration = duration;
      event.notes.push_back(note);
    }
    song_.events.push_back(event);
    return event.id;
  }

  /// Three quarters, the last in halves, hammered.
  void fill_guitar(score::PartMusic& music, int bars) {
    score::Voice voice;
    for (int b = 0; b < bars; ++b) {
      const base::Fraction quarter(1, 4), eighth(1, 8);
      std::vector<score::Segment> bar;
      const auto add = [&](base::Fraction onset, base::Fraction duration, std::vector<std::pair<int, int>> notes) {
        bar.push_back({add_event(onset, b, duration, std::move(notes)), onset, duration, false, false, false});
      };
      add(0, quarter, {{5, 0}, {1, b % 2 == 0 ? 0 : 2}});
      add(quarter, quarter, {{2, 1}, {3, 0}});
      add(base::Fraction(1, 2), eighth, {{4, 0}});
      add(base::Fraction(5, 8), eighth, {{4, 2}});
      score::Note& hammered = song_.events.back().notes.back();
      hammered.more.set().link = {song::Arrival::HammerOn, song_.events.back().id - 1, 0};
      voice.bars.push_back(std::move(bar));
    }
    music.voices = {voice};
  }

  void section(const std::string& name, const std::string& letter, int bars, int times, int video) {
    score::Section section;
    section.name = words(name);
    section.letter = letter;
    section.times = times;
    if (video > 0) section.video = base::Fraction(video);
    section.at = {{0, base::Fraction(video / 6)}};
    section.says = words("Let every string ring until it is needed again.");
    for (int b = 0; b < bars; ++b) {
      score::Bar bar;
      bar.meter = song_.meter;
      bar.key = *song_.key;
      bar.length = bar.meter.bar_length();
      bar.number = ++bar_number_;
      bar.show_meter = bar.show_key = bar_number_ == 1;
      if (b + 1 == bars) bar.end = times > 1 ? score::BarLine::RepeatEnd : score::BarLine::Double;
      bar.repeat_begin = times > 1 && b == 0;
      section.bars.push_back(bar);
    }
    section.parts.resize(song_.parts.size());
    for (std::size_t p = 0; p < section.parts.size(); ++p) section.parts[p].part = static_cast<int>(p);
    fill_guitar(section.parts[0], bars);
    for (int b = 0; b < bars; ++b) {
      score::Harmony harmony;
      harmony.at = {b, base::Fraction()};
      harmony.shape = b % 3;
      harmony.name = song_.shapes[static_cast<std::size_t>(b % 3)].ear;
      section.harmony.push_back(harmony);
    }
    remarks(section);
    song_.sections.push_back(section);
  }

  void remarks(score::Section& section) {
    const auto add = [&](int bar, const std::string& text, song::Authority from) {
      score::Remark remark;
      remark.number = ++remark_number_;
      remark.text = words(text);
      remark.from = from;
      remark.at = {bar, base::Fraction()};
      score::Word word;
      word.kind = score::WordKind::RemarkRef;
      word.at = remark.at;
      word.text = std::to_string(remark.number);
      word.remark = static_cast<int>(section.remarks.size());
      section.parts[0].words.push_back(word);
      section.remarks.push_back(remark);
    };
    add(0, "Hammer from nowhere. The open string must still be ringing when the finger lands.",
        song::Authority::Recording);
    add(2, "The record leaves this pull-off out.", song::Authority::Lesson);
  }

  void form() {
    const auto step = [&](int section) {
      song::FormEntry entry;
      entry.text = song_.sections[static_cast<std::size_t>(section)].name;
      song_.form.push_back({entry, section});
    };
    const auto sign = [&](song::FormWord word, const std::string& text) {
      song::FormEntry entry;
      entry.word = word;
      entry.text = words(text);
      song_.form.push_back({entry, -1});
    };
    step(0);
    sign(song::FormWord::Segno, "segno");
    step(1);
    sign(song::FormWord::ToCoda, "to coda");
    step(0);
    sign(song::FormWord::DalSegno, "D.S. al coda");
    sign(song::FormWord::Coda, "coda");
    step(2);
    for (const int s : {0, 2, 4, 2, 7}) play(s);
  }

  void play(int step) {
    const int index = song_.form[static_cast<std::size_t>(step)].section;
    const score::Section& section = song_.sections[static_cast<std::size_t>(index)];
    for (int pass = 1; pass <= section.times; ++pass) {
      for (std::size_t b = 0; b < section.bars.size(); ++b) {
        const int number = static_cast<int>(song_.played.size()) + 1;
        song_.played.push_back(
            {index, static_cast<int>(b), pass, step, number, base::Fraction(3 * (number - 1), 4), song_.seconds});
        song_.seconds += 3 * 60.0 / 96;
      }
    }
  }

  score::Timeline song_;
  int bar_number_ = 0, remark_number_ = 0;
};

}  // namespace tunesheaf::testing

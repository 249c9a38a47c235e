#include "reading_ear.h"

#include <algorithm>
#include <vector>

#include "tunesheaf/base/edit_distance.h"
#include "tunesheaf/base/number.h"
#include "tunesheaf/base/utf8.h"
#include "words_ear.h"

namespace tunesheaf::app {
namespace {

using theory::ChordFault;
using theory::ShapeError;
using theory::ShapeFault;
using theory::TuningError;
using theory::TuningFault;

std::string quoted(const std::string& text) {
  return "\"" + text + "\"";
}

/// "at the 6th sign": places are counted in signs, from 1.
std::string sign_place(const std::string& text, std::size_t at) {
  return "sign " + std::to_string(base::count_code_points(text.substr(0, at)) + 1);
}

std::vector<std::string> stringed_names() {
  std::vector<std::string> out;
  for (const theory::Instrument& instrument : theory::instruments()) {
    if (!instrument.has_strings()) continue;
    out.push_back(instrument.name);
    out.insert(out.end(), instrument.also.begin(), instrument.also.end());
  }
  return out;
}

std::vector<std::string> tuning_names(const std::string& instrument) {
  std::vector<std::string> out;
  for (const theory::NamedTuning& named : theory::named_tunings()) {
    if (named.instrument == instrument) out.push_back(named.name);
  }
  return out;
}

std::string unknown_tuning(const TuningError& error, const std::string& text, const theory::Instrument& instrument) {
  std::string out = "no tuning of the " + instrument.name + " is called " + quoted(text);
  if (!error.nearest.empty()) return out + "; the nearest is " + quoted(error.nearest);
  for (const theory::NamedTuning& named : theory::named_tunings()) {
    if (named.name != text) continue;
    return out + "; the " + named.instrument + " has one: --instrument " + quoted(named.instrument);
  }
  return out + "; there are " + list_words(tuning_names(instrument.name)) +
         ", or write the notes, low string first: " + theory::print(*instrument.usual);
}

std::string tuning_fault(const TuningError& error, const std::string& text, const theory::Instrument& instrument) {
  const std::string usual = theory::print(*instrument.usual);
  switch (error.fault) {
    case TuningFault::Empty:
      return "a tuning has 1 to 12 strings, and this one has none; write its notes, low string first: " + usual;
    case TuningFault::BadPitch:
      return quoted(error.word) + " (" + sign_place(text, error.at) +
             ") is no note of a tuning; notes are written as " + usual;
    case TuningFault::NoOctave:
      return quoted(error.word) + " (" + sign_place(text, error.at) +
             ") needs its octave; C4 is middle C, and the usual tuning of the " + instrument.name + " is " + usual;
    case TuningFault::TooManyStrings:
      return "a tuning has 1 to 12 strings, and this one has " + std::to_string(error.count) +
             "; write the strings of one neck, courses as E2/E3: " + usual;
    case TuningFault::TooLow:
      return quoted(error.word) + " is lower than anyone hears; the lowest note of a tuning is C0 (16.4 Hz)";
    case TuningFault::TooHigh:
      return quoted(error.word) + " is higher than any string goes; the highest note of a tuning is C8 (4186 Hz)";
    case TuningFault::UnevenCourse:
      return quoted(error.word) + " has more than three strings in one course; the most is three: E2/E3/E3";
    case TuningFault::UnknownName:
      return unknown_tuning(error, text, instrument);
  }
  return {};
}

/// An instrument with so many strings, for a shape that has too many or too few.
std::string instrument_of(int strings) {
  for (const theory::Instrument& instrument : theory::instruments()) {
    const bool fretted = instrument.family == theory::Family::Fretted;
    if (fretted && instrument.usual && instrument.usual->count() == strings) return instrument.name;
  }
  return {};
}

std::string count_fault(const ShapeError& error, const Held& held) {
  std::string out = "the shape has " + counted_words(error.got, "fret") + ", and there are " +
                    counted_words(error.want, "string") + " (" + held.name + ", " + held.tuning_words +
                    "); write one fret for each string, low string first, x for one that is not played";
  const std::string other = instrument_of(error.got);
  if (!other.empty() && other != held.instrument->name)
    out += ", or name another instrument: --instrument " + quoted(other);
  return out;
}

std::string beyond_neck(const ShapeError& error, const Held& held) {
  std::string out = "string " + std::to_string(error.string) + " is stopped at fret " + std::to_string(error.fret) +
                    ", and the neck ends at fret " + std::to_string(error.want);
  if (held.capo.full() && !held.capo.none()) out += ", counted from the capo";
  int octave_lower = error.fret;
  while (octave_lower > error.want) octave_lower -= 12;
  if (octave_lower >= 0) {
    return out + "; the same note an octave lower is at fret " + std::to_string(octave_lower);
  }
  return out + "; the highest note there is at fret " + std::to_string(error.want);
}

std::string shape_fault(const ShapeError& error, const std::string& text, const Held& held) {
  const std::string string = "string " + std::to_string(error.string);
  const std::string finger = "the " + finger_words(error.finger);
  switch (error.fault) {
    case ShapeFault::Empty:
      return "a shape says one fret for each string, low string first: \"x 3 2 0 1 0\"";
    case ShapeFault::BadFret:
      return quoted(error.word) + " (" + sign_place(text, error.at) +
             ") is no fret; write x (not played), 0 (open) or a fret up to 36, as in \"x 3 2 0 1 0\"";
    case ShapeFault::BadFinger:
      return quoted(error.word) + " is no finger; write 1 to 4, T for the thumb, or . for none, as in \". 3 2 . 1 .\"";
    case ShapeFault::WrongStringCount:
      return count_fault(error, held);
    case ShapeFault::WrongFingerCount:
      return "there are " + counted_words(error.got, "finger") + " for " + counted_words(error.want, "fret") +
             "; write one sign for each string, . where no finger is";
    case ShapeFault::FingerOnTwoFrets:
      return finger + " cannot be at fret " + std::to_string(error.fret) + " and at fret " +
             std::to_string(error.other_fret) + "; give one of the two another finger";
    case ShapeFault::FingerOnNothing:
      return finger + " stands on " + string + ", which is open or not played; write . there, or its fret";
    case ShapeFault::FretBeyondNeck:
      return beyond_neck(error, held);
    case ShapeFault::FretBelowStart:
      return string + " is short and begins at fret " + std::to_string(error.want) + "; fret " +
             std::to_string(error.fret) + " is not on it: write 0, or a fret from " + std::to_string(error.want + 1) +
             " on";
    case ShapeFault::FretUnderCapo:
      return string + " is stopped at fret " + std::to_string(error.fret) +
             ", at or behind the capo that holds it; write 0, or a fret from " + std::to_string(held.capo.fret + 1) +
             " on (under a capo on some strings frets count from the nut)";
    case ShapeFault::BarreStopsOpen:
      return finger + " lies across " + string + ", which is to ring lower; use two fingers, or stop the string too";
    case ShapeFault::NothingSounds:
      return "no string is played in this shape; write at least one fret, or 0 for an open string";
    case ShapeFault::FingersCross:
      return finger + " stands behind a lower-numbered finger; along the neck they stand in the order 1 2 3 4";
  }
  return {};
}

std::string chord_fault(const theory::ChordError& error, const std::string& text) {
  std::string what;
  const std::string rest = error.at < text.size() ? text.substr(error.at) : std::string();
  const std::string place = rest.empty()
                                ? "at its end"
                                : "from sign " + std::to_string(base::count_code_points(text.substr(0, error.at)) + 1) +
                                      " on, " + quoted(rest) + ",";
  switch (error.fault) {
    case ChordFault::Empty:
      return "a chord name is a root from A to G, then its kind, then a bass after a stroke: Am7, C△, G7(♭9)/B";
    case ChordFault::NoRoot:
      return quoted(text) + " is no chord name: it begins with its root, a capital from A to G, as in Am7 or E♭/G";
    case ChordFault::UnknownSuffix:
      what = place + " it is not understood";
      break;
    case ChordFault::UnclosedBracket:
      what = "a bracket is opened and not closed, " + place;
      break;
    case ChordFault::BadDegree:
      what = place + " stands no degree of a chord (1 to 13)";
      break;
    case ChordFault::BadBass:
      what = "after the stroke a note must stand, from A to G, " + place;
      break;
    case ChordFault::Contradiction:
      what = place + " it says what the name has ruled out already";
      break;
  }
  if (what.back() == ',') what.pop_back();
  std::string out = quoted(text) + " is no chord name: " + what;
  if (!error.understood.empty()) out += "; " + error.understood + " would be understood";
  return out;
}

std::optional<theory::Capo> parse_capo(const std::string& text) {
  std::string cleaned;
  for (const char c : text) cleaned += c == ':' || c == ',' ? ' ' : c;
  std::vector<int> numbers;
  std::size_t begin = 0;
  while ((begin = cleaned.find_first_not_of(' ', begin)) != std::string::npos) {
    const std::size_t end = std::min(cleaned.find(' ', begin), cleaned.size());
    const auto number = base::parse_integer(cleaned.substr(begin, end - begin));
    if (!number || *number < 0 || *number > 36) return std::nullopt;
    numbers.push_back(static_cast<int>(*number));
    begin = end;
  }
  if (numbers.empty()) return std::nullopt;
  return theory::Capo{numbers[0], {numbers.begin() + 1, numbers.end()}};
}

/// Empty when all is well.
std::string take_capo(const std::string& text, Held& held) {
  const auto capo = parse_capo(text);
  if (!capo) return quoted(text) + " is no place for a capo; write its fret (2), or the fret and its strings (2:5,4,3)";
  const int last = held.frets > 0 ? held.frets - 1 : 36;
  if (capo->fret > last) {
    return "a capo at fret " + std::to_string(capo->fret) + " leaves nothing of the neck; the last place is fret " +
           std::to_string(last);
  }
  for (const int string : capo->strings) {
    if (string < 1 || string > held.tuning.count()) {
      return "the capo cannot hold string " + std::to_string(string) + "; there are strings 1 to " +
             std::to_string(held.tuning.count());
    }
  }
  held.capo = *capo;
  if (held.capo.full()) held.neck.capo_fret = capo->fret;
  return {};
}

}  // namespace

const theory::Tuning& Held::usual() const {
  return instrument->usual && instrument->usual->count() == tuning.count() ? *instrument->usual : tuning;
}

base::Result<const theory::Instrument*, NoInstrument> read_instrument(const std::string& name) {
  const theory::Instrument* instrument = theory::find_instrument(name);
  if (instrument != nullptr && instrument->has_strings()) return instrument;
  std::string text = instrument != nullptr ? "the " + instrument->name + " has no strings that a player tunes"
                                           : "no instrument is called " + quoted(name);
  if (const auto near = base::nearest_word(name, stringed_names()); near && instrument == nullptr) {
    return NoInstrument{text + "; the nearest is " + quoted(*near)};
  }
  return NoInstrument{text + "; `tunesheaf tunings` lists those that have"};
}

std::string tuning_words(const theory::Tuning& tuning, const theory::Instrument& instrument) {
  std::string name = tuning.name;
  for (const theory::NamedTuning& named : theory::named_tunings()) {
    if (!name.empty()) break;
    if (named.instrument == instrument.name && named.tuning.same_pitches(tuning)) name = named.name;
  }
  const std::string notes = theory::print(tuning, kSigns);
  if (name == "usual") return "usual tuning (" + notes + ")";
  return name.empty() ? notes : name + " (" + notes + ")";
}

base::Result<theory::Tuning, Sentence> read_tuning(const std::string& text, const theory::Instrument& instrument) {
  const auto tuning = theory::parse_tuning(text, instrument.name);
  if (!tuning) return Sentence{tuning_fault(tuning.error(), text, instrument)};
  return *tuning;
}

base::Result<Held, std::string> read_held(const CommandLine& line) {
  Held held;
  const auto instrument = read_instrument(line.option("--instrument").value_or("guitar"));
  if (!instrument) return instrument.error().sentence;
  held.instrument = *instrument;
  const auto tuning = read_tuning(line.option("--tuning").value_or("usual"), *held.instrument);
  if (!tuning) return tuning.error().text;
  held.tuning = *tuning;
  const bool named = line.has("--instrument") || held.tuning.count() == held.instrument->usual->count();
  held.name = named ? held.instrument->name : "an instrument of " + counted_words(held.tuning.count(), "string");
  held.tuning_words = tuning_words(held.tuning, *held.instrument);
  held.frets = held.instrument->frets;
  if (held.instrument->scale_length_mm > 0) held.neck.scale_length_mm = held.instrument->scale_length_mm;
  held.neck.frets = held.frets;
  if (const auto capo = line.option("--capo")) {
    if (const std::string fault = take_capo(*capo, held); !fault.empty()) return fault;
  }
  return held;
}

base::Result<theory::Shape, Sentence> read_shape(const std::string& text, const std::string& fingers,
                                                 const Held& held) {
  const std::size_t stroke = text.find('/');
  const std::string frets_text = text.substr(0, stroke);
  const std::string fingers_text = stroke == std::string::npos ? fingers : text.substr(stroke + 1);
  theory::Shape shape;
  const auto frets = theory::parse_frets(frets_text);
  if (!frets) return Sentence{shape_fault(frets.error(), frets_text, held)};
  shape.frets = *frets;
  if (!fingers_text.empty()) {
    const auto read = theory::parse_fingers(fingers_text);
    if (!read) return Sentence{shape_fault(read.error(), fingers_text, held)};
    shape.fingers = *read;
  }
  const auto faults = theory::check_shape(shape, held.tuning, held.capo, held.frets);
  if (!faults.empty()) return Sentence{shape_fault(faults.front(), frets_text, held)};
  return shape;
}

base::Result<theory::ChordName, Sentence> read_chord(const std::string& text) {
  const auto chord = theory::parse_chord(text);
  if (!chord) return Sentence{chord_fault(chord.error(), text)};
  return *chord;
}

base::Result<theory::Key, Sentence> read_key(const std::string& text) {
  const auto key = theory::parse_key(text);
  if (key) return *key;
  std::string out = quoted(text) + " is no key";
  if (key.error().fault == theory::NameFault::UnknownMode || key.error().fault == theory::NameFault::UnknownWord) {
    const std::string word = text.substr(std::min(key.error().at, text.size()));
    out += ": " + quoted(word) + " is not understood";
    if (const auto near = base::nearest_word(word, theory::mode_names()))
      return Sentence{out + "; the nearest is " + *near};
  }
  return Sentence{out + "; write a note and, if need be, its mode: G, E♭ minor, F# mixolydian"};
}

base::Result<int, Sentence> read_count(const CommandLine& line, const std::string& option, int usual, int least,
                                       int most) {
  const auto text = line.option(option);
  if (!text) return usual;
  const auto number = base::parse_integer(*text);
  if (number && *number >= least && *number <= most) return static_cast<int>(*number);
  return Sentence{option + " takes a whole number from " + std::to_string(least) + " to " + std::to_string(most) +
                  ", and " + quoted(*text) + " is none"};
}

}  // namespace tunesheaf::app

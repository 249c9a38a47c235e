#include "new_song.h"

#include <algorithm>
#include <cstdlib>
#include <optional>
#include <vector>

#include "tunesheaf/base/edit_distance.h"
#include "tunesheaf/diag/diagnostic.h"
#include "tunesheaf/song/read.h"
#include "tunesheaf/source/source.h"
#include "tunesheaf/theory/instrument.h"
#include "tunesheaf/theory/meter.h"
#include "tunesheaf/theory/tuning.h"
#include "tunesheaf/yaml/node.h"

namespace tunesheaf::app {
namespace {

/// One bar of a lane: a cell for each beat, taken in turn from `cells`.
std::string bar_of(int beats, const std::vector<std::string>& cells) {
  std::string bar = " ";
  for (int beat = 0; beat < beats; ++beat) {
    if (beat > 0) bar += " : ";
    bar += cells[static_cast<std::size_t>(beat) % cells.size()];
  }
  return bar + " |";
}

/// One cell for a whole bar, padded to the width of `like`.
std::string held_bar(const std::string& cell, const std::string& like) {
  std::string bar = " " + cell;
  while (bar.size() + 1 < like.size()) bar += ' ';
  return bar + "|";
}

/// Remark a in the first of four bars as wide as `like`.
std::vector<std::string> see_bars(const std::string& like) {
  return {held_bar("a", like), held_bar(" ", like), held_bar(" ", like), held_bar(" ", like)};
}

std::string lane(const std::string& name, const std::vector<std::string>& bars, std::size_t name_width) {
  std::string line = "      " + name + std::string(name_width - name.size(), ' ') + " |";
  for (const std::string& bar : bars) line += bar;
  return line + "\n";
}

std::string fretted_body(const theory::Tuning& tuning, const theory::Meter& meter) {
  const int beats = meter.beat_count();
  std::string open, barred, fingers;
  for (const theory::TunedString& string : tuning.strings) {
    const bool long_enough = string.start_fret < 2;
    open += (open.empty() ? "" : " ") + std::string("0");
    barred += (barred.empty() ? "" : " ") + std::string(long_enough ? "2" : "0");
    fingers += (fingers.empty() ? "" : " ") + std::string(long_enough ? "1" : ".");
  }
  const std::string strokes = meter.is_compound() ? bar_of(beats, {"D - U"}) : bar_of(beats, {"D  ", "D U"});
  const std::string melody = bar_of(beats, {"0", "2", "3", "2"});
  const std::string last = bar_of(beats, {"0", "-"});
  std::string text;
  text += "\nshapes:                       # x = not played, 0 = open; low string first\n";
  text += "  open strings: {frets: " + open + "}\n";
  text += "  barre at two: {frets: " + barred + ", fingers: " + fingers + "}\n";
  text += "\npatterns:                     # D and U are strokes; the cells of a beat share it\n";
  text += "  down and up: |\n    strum |" + strokes + "\n";
  text += "\nsections:\n  verse:\n    times: 2\n    says: Keep the hand moving, also where it touches nothing.\n";
  text += "    PART: |                   # names of shapes and patterns, bar by bar\n";
  const std::string wide(std::max<std::size_t>(strokes.size(), 16), ' ');
  text += lane("shape",
               {held_bar("open strings", wide), held_bar("barre at two", wide), held_bar("open strings", wide),
                held_bar("open strings", wide)},
               7);
  text += lane("pattern",
               {held_bar("down and up", wide), held_bar("down and up", wide), held_bar("down and up", wide),
                held_bar("down and up", wide)},
               7);
  text += "  tune:\n    PART: |                   # frets on string 1, one cell a beat; - goes on\n";
  text += lane("1", {melody, melody, melody, last}, 3);
  text += lane("see", see_bars(melody), 3);
  text += "    remarks:\n      a: Let each note last until the next one.\n";
  return text;
}

/// The octave of the C from which a fifth up lies in the instrument's range, as near its middle as can be.
int middle_octave(const theory::Instrument& instrument) {
  int best = 4, least = 1000;
  for (int octave = 0; octave <= 8; ++octave) {
    const int key = 12 * (octave + 1);
    const bool fits = instrument.lowest <= key && key + 7 <= instrument.highest;
    const int off = std::abs(2 * (key + 4) - instrument.lowest - instrument.highest);
    if (fits && off < least) {
      best = octave;
      least = off;
    }
  }
  return best;
}

std::string note_above_c(int octave, int steps) {
  static const std::vector<std::string> kNames{"C", "D", "E", "F", "G", "A", "B"};
  return kNames[static_cast<std::size_t>(steps)] + std::to_string(octave);
}

std::string pitched_body(const theory::Instrument& instrument, int beats) {
  const bool keyed = instrument.family == theory::Family::Keyed;
  const int octave = middle_octave(instrument);
  const auto note = [&](int steps) { return note_above_c(octave, steps); };
  const std::string rise = bar_of(beats, {note(0), note(1), note(2), note(4)});
  const std::string fall = bar_of(beats, {note(4), note(2), note(1), note(2)});
  const std::string last = bar_of(beats, {note(0), "- "});
  std::string text = "\nsections:\n  tune:\n    says: Long breath, even tone.\n";
  text += "    PART: |                   # one note a beat; - goes on, . is silence\n";
  const std::string name = keyed ? "right" : "notes";
  text += lane(name, {rise, fall, rise, last}, 5);
  constexpr int kG2 = 43;  // the lowest note of the left hand below
  if (keyed && instrument.lowest <= kG2) {
    text +=
        lane("left",
             {held_bar("C3+G3", rise), held_bar("G2+D3", rise), held_bar("C3+G3", rise), held_bar("C3+G3", rise)}, 5);
  }
  text += lane("see", see_bars(rise), 5);
  text += "    remarks:\n      a: Begin softly.\n";
  return text;
}

std::string drum_body(const theory::Instrument& instrument, int beats) {
  const std::string even = bar_of(beats, {"x x"});
  const std::string first = bar_of(beats, {"x  ", "   "});
  const std::string second = bar_of(beats, {"   ", "x  "});
  std::string text = "\nsections:\n  groove:\n    times: 4\n    says: Lock the two hands before any fill.\n";
  text += "    PART: |                   # x is a stroke; two cells share a beat\n";
  if (instrument.name == "cajon") {
    text += lane("slap", {second, second}, 5) + lane("bass", {first, first}, 5);
  } else if (instrument.name == "drum kit") {
    text += lane("hat", {even, even}, 5) + lane("snare", {second, second}, 5) + lane("kick", {first, first}, 5);
  } else if (instrument.name == "congas") {
    text += lane("conga", {even, even}, 5);
  } else if (instrument.name == "bongos") {
    text += lane("high bongo", {even, even}, 10) + lane("low bongo", {second, second}, 10);
  } else if (instrument.name == "djembe") {
    text += lane("tone", {second, second}, 5) + lane("bass", {first, first}, 5);
  } else if (instrument.name == "percussion") {
    text += lane("shaker", {even, even}, 10) + lane("tambourine", {second, second}, 10);
  } else {
    text += lane(instrument.name, {even, even}, std::max<std::size_t>(5, instrument.name.size()));
  }
  return text;
}

/// Lanes in line, as `tidy` would have them.
std::string in_line(const std::string& text) {
  source::Files files;
  diag::Sink sink;
  const source::FileId id = files.add("new", text);
  const auto nodes = yaml::read(files.file(id), sink);
  return nodes ? song::tidy(*nodes, files.file(id)) : text;
}

void name_part(std::string& text, const std::string& part) {
  for (auto at = text.find("PART"); at != std::string::npos; at = text.find("PART")) text.replace(at, 4, part);
}

std::string unknown(const std::string& what, const std::string& word, const std::vector<std::string>& known) {
  std::string text = "no " + what + " is called \"" + word + "\"";
  if (const auto near = base::nearest_word(word, known)) return text + "; the nearest is \"" + *near + "\"";
  text += "; there are";
  for (std::size_t i = 0; i < known.size(); ++i) text += (i == 0 ? " " : ", ") + known[i];
  return text;
}

}  // namespace

base::Result<std::string, std::string> write_new_song(const NewSong& wanted) {
  using Outcome = base::Result<std::string, std::string>;
  const auto fault = [](std::string text) { return Outcome::failure(std::move(text)); };
  const theory::Instrument* instrument = theory::find_instrument(wanted.instrument);
  if (instrument == nullptr) return fault(unknown("instrument", wanted.instrument, theory::instrument_names()));
  const auto meter = theory::parse_meter(wanted.meter);
  if (!meter) {
    return fault("\"" + wanted.meter + "\" is no meter; write 4/4, 3/4, 6/8, or 7/8 (2+2+3) with its groups");
  }
  std::optional<theory::Tuning> tuning = instrument->usual;
  if (!wanted.tuning.empty()) {
    if (!instrument->has_strings()) return fault("a " + instrument->name + " has no strings to tune");
    const auto parsed = theory::parse_tuning(wanted.tuning, instrument->name);
    if (!parsed) {
      return fault(
          "\"" + wanted.tuning + "\" is no tuning of a " + instrument->name +
          "; name one, or write its notes with octaves, low string first: " + theory::print(*instrument->usual));
    }
    tuning = *parsed;
  }
  const std::string part = instrument->family == theory::Family::Drums ? "drums" : "lead";
  std::string text = "# A song to start from. Change anything; `tunesheaf check` says what does not fit.\n";
  text += "song: A New Song\nby: Your Name\nlanguage: en\nabout: >\n  What this lesson is about, in a few words.\n\n";
  text += "meter: " + wanted.meter + "\ntempo: 90                     # beats a minute\n\n";
  text += "parts:\n  " + part + ": {instrument: " + instrument->name;
  if (tuning && instrument->family == theory::Family::Fretted) {
    text += ", tuning: " + (wanted.tuning.empty() ? theory::print(*tuning) : wanted.tuning);
  }
  text += "}\n";
  const int beats = meter->beat_count();
  std::string body = instrument->family == theory::Family::Fretted ? fretted_body(*tuning, *meter)
                     : instrument->family == theory::Family::Drums ? drum_body(*instrument, beats)
                                                                   : pitched_body(*instrument, beats);
  name_part(body, part);
  return Outcome(in_line(text + body));
}

}  // namespace tunesheaf::app

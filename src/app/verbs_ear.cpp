// `ear`: what a shape sounds, what it is called and why, and what the hand does for it.
#include <algorithm>
#include <ostream>

#include "json_ear.h"
#include "reading_ear.h"
#include "tunesheaf/base/number.h"
#include "verbs.h"
#include "words_ear.h"

namespace tunesheaf::app {
namespace {

using theory::Ear;

/// All that is told of one shape.
struct Heard {
  Held held;
  theory::Shape shape;
  bool fingers_given = false;
  std::optional<theory::Key> key;
  Ear ear;
  std::optional<theory::Fingering> fingering;  ///< nothing: no hand is likely to hold it
  std::vector<theory::Familiar> familiar;
  std::optional<Ear> behind_capo;  ///< as fingered, where a full capo raises it
  std::optional<Ear> in_usual;     ///< the same frets in the usual tuning, where this is another
};

std::vector<std::string> note_names(const Ear& ear) {
  std::vector<std::string> out;
  for (const theory::EarNote& note : ear.notes) out.push_back(theory::print(note.pitch.name, kSigns));
  return out;
}

std::string joined(const std::vector<std::string>& words) {
  std::string out;
  for (const std::string& word : words) out += (out.empty() ? "" : " ") + word;
  return out;
}

/// As spelled, each pitch class once, unisons and octaves left out.
std::vector<theory::Interval> intervals_of(const Ear& ear) {
  std::vector<theory::Interval> out;
  for (const theory::EarNote& note : ear.notes) {
    const int semitones = note.over_lowest.semitones % 12;
    const bool known =
        std::any_of(out.begin(), out.end(), [&](const theory::Interval& i) { return i.semitones % 12 == semitones; });
    if (semitones != 0 && !known) out.push_back(note.over_lowest);
  }
  return out;
}

std::string first_name(const Ear& ear) {
  return ear.names.empty() ? "no common name" : theory::print(ear.names.front().name, kSigns);
}

Heard hear_all(Held held, theory::Shape shape, std::optional<theory::Key> key) {
  Heard out;
  out.fingers_given = !shape.fingers.empty();
  out.key = key;
  const theory::NamingContext context{key, {}};
  out.ear = theory::hear(held.tuning, held.capo, shape, context);
  out.familiar = theory::familiar_shapes(shape, held.instrument->name, 1);
  if (out.fingers_given) {
    theory::Fingering given;
    given.fingers = shape.fingers;
    given.barres = theory::barres(shape);
    given.strain = theory::strain_of(shape, held.neck);
    given.stretch = theory::stretch_mm(held.neck.scale_length_mm, shape.lowest_fret() + held.neck.capo_fret,
                                       shape.highest_fret() + held.neck.capo_fret);
    out.fingering = given;
  } else {
    out.fingering = theory::finger_shape(shape, held.neck);
    if (out.fingering) shape.fingers = out.fingering->fingers;
  }
  if (held.capo.full() && !held.capo.none()) {
    const std::optional<theory::Key> fingered =
        key ? std::optional(theory::transposed(*key, -held.capo.fret)) : std::nullopt;
    out.behind_capo = theory::hear(held.tuning, {}, shape, {fingered, {}});
  }
  if (!held.usually_tuned()) out.in_usual = theory::hear(held.usual(), held.capo, shape, {});
  out.shape = std::move(shape);
  out.held = std::move(held);
  return out;
}

std::string heading(const Heard& heard) {
  std::string out = theory::print_frets(heard.shape) + " on " + heard.held.name + ", " + heard.held.tuning_words;
  const theory::Capo& capo = heard.held.capo;
  if (!capo.none()) {
    out += ", capo at fret " + std::to_string(capo.fret);
    if (!capo.full()) out += " on " + strings_listed(capo.strings);
  }
  if (heard.key) out += ", in " + theory::print(*heard.key, kSigns);
  return folded(out, 2) + "\n";
}

std::string string_table(const Heard& heard) {
  const bool named = !heard.ear.names.empty();
  Table table({Side::Right, Side::Right, Side::Left, Side::Left});
  table.row({"string", "fret", "sounds", named ? "over the root" : "over the lowest note"});
  for (std::size_t i = 0; i < heard.shape.frets.size(); ++i) {
    const int string = heard.shape.number_of(i);
    if (!heard.shape.frets[i]) {
      table.row({std::to_string(string), "x", "–", "not played"});
      continue;
    }
    std::string sounds, place;
    for (const theory::EarNote& note : heard.ear.notes) {
      if (note.string != string) continue;
      const std::string over = note.degree ? theory::print(*note.degree, kSigns) + "  " + degree_words(*note.degree)
                                           : interval_words(note.over_lowest);
      sounds += (sounds.empty() ? "" : " ") + theory::print(note.pitch, kSigns);
      if (place.empty()) place = over;
    }
    table.row({std::to_string(string), std::to_string(*heard.shape.frets[i]), sounds, place});
  }
  return table.text();
}

std::string name_lines(const Heard& heard) {
  if (heard.ear.names.empty()) {
    std::vector<std::string> intervals;
    for (const theory::Interval& interval : intervals_of(heard.ear)) intervals.push_back(interval_words(interval));
    return "No common name" + (intervals.empty() ? std::string(": one note alone.\n")
                                                 : ": over the lowest note, " + list_words(intervals) + ".\n");
  }
  std::string out;
  for (std::size_t i = 0; i < heard.ear.names.size() && i < 4; ++i) {
    const theory::NameCandidate& candidate = heard.ear.names[i];
    out += folded(std::string(i == 0 ? "Called " : "or     ") + theory::print(candidate.name, kSigns) + ": " +
                      reasons_line(candidate) +
                      (candidate.missing.empty() ? "" : "; without " + tones_listed(candidate.missing)),
                  7) +
           "\n";
  }
  return out;
}

std::string tone_lines(const Heard& heard) {
  std::string out;
  std::vector<std::string> doubled;
  for (const theory::DoubledTone& tone : heard.ear.doubled) {
    doubled.push_back(theory::print(tone.pitch, kSigns) +
                      (tone.times == 2 ? " twice" : " " + std::to_string(tone.times) + " times"));
  }
  if (!doubled.empty()) out += "Doubled: " + list_words(doubled) + ".\n";
  if (!heard.ear.missing.empty()) out += "Missing: " + tones_listed(heard.ear.missing) + ".\n";
  if (heard.behind_capo) {
    out += "As fingered, without the capo: " + first_name(*heard.behind_capo) + " (" +
           joined(note_names(*heard.behind_capo)) + ").\n";
  }
  if (heard.in_usual) {
    out += "In the usual tuning the same frets sound " + first_name(*heard.in_usual) + " (" +
           joined(note_names(*heard.in_usual)) + ").\n";
  }
  return out;
}

std::string barre_words(const theory::Barre& barre) {
  return "the " + finger_words(barre.finger) + " lies across strings " + std::to_string(barre.from_string) + " to " +
         std::to_string(barre.to_string) + " at fret " + std::to_string(barre.fret);
}

std::string hand_lines(const Heard& heard) {
  if (!heard.fingering) {
    return "No hand is likely to hold this: look for a misread fret, or leave a string out.\n";
  }
  std::string out;
  if (heard.shape.highest_fret() == 0) {
    out += "No finger is needed.\n";
  } else {
    theory::Shape fingered = heard.shape;
    std::string line = "Fingers: " + theory::print_fingers(fingered) +
                       (heard.fingers_given ? " (as given)" : " (none given: these strain the hand least)");
    if (heard.fingering->stretch > 0.0) {
      line += "; the hand spans " + base::print_fixed(heard.fingering->stretch, 0) + " mm of neck";
    }
    out += folded(line + ".", 2) + "\n";
    for (const theory::Barre& barre : heard.fingering->barres) out += "Barre: " + barre_words(barre) + ".\n";
  }
  std::vector<int> unstruck;
  for (const theory::Mute& mute : theory::mutes(heard.shape)) {
    if (mute.by == theory::MutedBy::NotStruck) {
      unstruck.push_back(mute.string);
    } else {
      out += folded("Mute " + mute_words(mute) + ".", 2) + "\n";
    }
  }
  if (!unstruck.empty()) out += "Do not strike " + strings_listed(unstruck) + ".\n";
  if (!heard.familiar.empty()) {
    out += folded("Familiar: " + familiar_words(heard.familiar.front()) + ".", 2) + "\n";
  }
  return out;
}

Json as_json(const Heard& heard) {
  Json out;
  out["instrument"] = heard.held.instrument->name;
  out["tuning"] = theory::print(heard.held.tuning);
  out["capo"] = json_of(heard.held.capo);
  out["frets"] = theory::print_frets(heard.shape);
  if (heard.key) out["key"] = theory::print(*heard.key);
  out["sounds"] = Json::array();
  for (const theory::EarNote& note : heard.ear.notes) {
    Json one{{"string", note.string},
             {"fret", note.fret},
             {"note", theory::print(note.pitch)},
             {"midi", note.pitch.midi()},
             {"over_lowest", theory::print(note.over_lowest)}};
    if (note.degree) one["degree"] = theory::print(*note.degree);
    out["sounds"].push_back(one);
  }
  out["names"] = Json::array();
  for (const theory::NameCandidate& candidate : heard.ear.names) out["names"].push_back(json_of(candidate));
  out["over_lowest"] = Json::array();
  for (const theory::Interval& interval : intervals_of(heard.ear))
    out["over_lowest"].push_back(theory::print(interval));
  out["doubled"] = Json::array();
  for (const theory::DoubledTone& tone : heard.ear.doubled) {
    out["doubled"].push_back({{"note", theory::print(tone.pitch)}, {"times", tone.times}});
  }
  out["missing"] = json_of(heard.ear.missing);
  out["playable"] = heard.fingering.has_value();
  if (heard.fingering) out["hand"] = json_of(heard.shape, *heard.fingering);
  out["mutes"] = Json::array();
  for (const theory::Mute& mute : theory::mutes(heard.shape)) {
    out["mutes"].push_back({{"string", mute.string}, {"words", mute_words(mute)}});
  }
  if (!heard.familiar.empty()) {
    out["familiar"] = {{"shape", heard.familiar.front().name}, {"words", familiar_words(heard.familiar.front())}};
  }
  if (heard.behind_capo) out["as_fingered"] = first_name_json(*heard.behind_capo);
  if (heard.in_usual) out["in_usual_tuning"] = first_name_json(*heard.in_usual);
  return out;
}

/// Words of the operands, put together again where the shell has parted them.
std::string all_operands(const CommandLine& line) {
  std::string out;
  for (const std::string& word : line.operands) out += (out.empty() ? "" : " ") + word;
  return out;
}

}  // namespace

bool wants_json(const CommandLine& line) {
  return line.option("--format").value_or("people") == "json";
}

int run_ear(const CommandLine& line, const Console& console) {
  const auto held = read_held(line);
  if (!held) return say_usage(console, held.error());
  const auto shape = read_shape(all_operands(line), line.option("--fingers").value_or(""), *held);
  if (!shape) return say_usage(console, shape.error().text);
  std::optional<theory::Key> key;
  if (const auto text = line.option("--key")) {
    const auto read = read_key(*text);
    if (!read) return say_usage(console, read.error().text);
    key = *read;
  }
  const Heard heard = hear_all(*held, *shape, key);
  if (wants_json(line)) {
    console.out << as_json(heard).dump(2) << "\n";
  } else {
    console.out << heading(heard) << "\n"
                << string_table(heard) << "\n"
                << name_lines(heard) << tone_lines(heard) << "\n"
                << hand_lines(heard);
  }
  return kDone;
}

}  // namespace tunesheaf::app

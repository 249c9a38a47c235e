// `shapes`: every shape of a chord that a hand can hold, best first, on the terminal or as a printed sheet.
#include <algorithm>
#include <cmath>
#include <ostream>

#include "json_ear.h"
#include "reading_ear.h"
#include "shape_sheet.h"
#include "text_box.h"
#include "verbs.h"
#include "words_ear.h"

namespace tunesheaf::app {
namespace {

using theory::FindingLimits;
using theory::FoundShape;

struct Sought {
  Held held;
  theory::ChordName chord;
  FindingLimits limits;
  int count = 12;
};

/// Empty when all is well.
std::string read_bass(const std::string& text, Sought& sought) {
  if (text == "any") {
    sought.limits.bass = theory::BassRule::Any;
    return {};
  }
  const auto note = theory::parse_pitch_class(text);
  if (!note) return "\"" + text + "\" is no bass; write a note from A to G, or any";
  sought.chord.bass = *note == sought.chord.root ? std::nullopt : std::optional(*note);
  return {};
}

/// Empty when all is well.
std::string read_limits(const CommandLine& line, Sought& sought) {
  FindingLimits& limits = sought.limits;
  const int frets = sought.held.frets > 0 ? sought.held.frets : 24;
  const int usual_top = std::min(limits.highest_fret, frets - sought.held.neck.capo_fret);
  struct Bound {
    const char* option;
    int* value;
    int usual, least, most;
  };
  const std::vector<Bound> bounds{{"--from-fret", &limits.lowest_fret, 1, 1, frets},
                                  {"--to-fret", &limits.highest_fret, std::max(1, usual_top), 1, frets},
                                  {"--stretch", &limits.stretch_frets, limits.stretch_frets, 0, 6},
                                  {"--count", &sought.count, sought.count, 1, 500}};
  for (const Bound& bound : bounds) {
    const auto number = read_count(line, bound.option, bound.usual, bound.least, bound.most);
    if (!number) return number.error().text;
    *bound.value = *number;
  }
  if (limits.lowest_fret > limits.highest_fret) {
    return "from fret " + std::to_string(limits.lowest_fret) + " to fret " + std::to_string(limits.highest_fret) +
           " there is no fret; exchange --from-fret and --to-fret";
  }
  if (const auto bass = line.option("--bass")) {
    if (std::string fault = read_bass(*bass, sought); !fault.empty()) return fault;
  } else if (sought.held.tuning.re_entrant()) {
    // Where the strings do not rise in order, players do not ask which note is lowest.
    limits.bass = sought.chord.bass ? theory::BassRule::Stated : theory::BassRule::Any;
  }
  if (const auto top = line.option("--top")) {
    const auto note = theory::parse_pitch_class(*top);
    if (!note) return "\"" + *top + "\" is no note for the top; write a note from A to G, as in --top F#";
    limits.top = *note;
  }
  limits.most = 0;
  return {};
}

theory::FoundShapes found(const Sought& sought, const FindingLimits& limits) {
  return theory::ranked_shapes(sought.chord, sought.held.tuning, sought.held.capo, limits, sought.held.neck);
}

/// What would help where there is no shape: the bounds that would let one through, and the nearest chords.
std::string none_found(const Sought& sought) {
  const std::string name = theory::print(sought.chord, kSigns);
  std::string out = "no hand can play " + name + " on " + sought.held.name + ", " + sought.held.tuning_words +
                    ", within these bounds";
  std::vector<std::string> helps;
  const auto try_out = [&](FindingLimits limits, const std::string& option) {
    limits.most = 1;
    if (!found(sought, limits).empty()) helps.push_back(option);
  };
  FindingLimits limits = sought.limits;
  limits.bass = theory::BassRule::Any;
  if (sought.limits.bass != theory::BassRule::Any) try_out(limits, "--bass any");
  limits = sought.limits;
  limits.stretch_frets = sought.limits.stretch_frets + 1;
  try_out(limits, "--stretch " + std::to_string(limits.stretch_frets));
  limits = sought.limits;
  limits.lowest_fret = 1;
  limits.highest_fret = std::max(limits.highest_fret, 15);
  if (limits.lowest_fret != sought.limits.lowest_fret || limits.highest_fret != sought.limits.highest_fret) {
    try_out(limits, "the whole neck");
  }
  if (!helps.empty()) out += "; there are shapes with " + list_words(helps);
  std::vector<std::string> near;
  for (const theory::ChordName& chord :
       theory::nearest_playable(sought.chord, sought.held.tuning, sought.held.capo, sought.limits, sought.held.neck)) {
    near.push_back(theory::print(chord, kSigns));
  }
  if (!near.empty()) return out + "; the nearest that can be played: " + list_words(near);
  return helps.empty() ? out + ", nor anything near it; try another tuning" : out;
}

std::string missing_line(const FoundShape& shape) {
  std::string out;
  for (const theory::ChordTone& tone : shape.left_out) {
    out += (out.empty() ? "without " : " ") + theory::print(tone.pitch, kSigns);
  }
  return out;
}

TextBox box_of(const Sought& sought, const FoundShape& shape, std::size_t rank) {
  const theory::Ear ear = theory::hear(sought.held.tuning, sought.held.capo, shape.shape, {});
  std::vector<std::string> notes(shape.shape.frets.size());
  const auto tones = theory::tones(sought.chord);
  for (const theory::EarNote& note : ear.notes) {
    std::string& text = notes[shape.shape.place_of(note.string)];
    if (!text.empty()) continue;
    theory::PitchClass name = note.pitch.name;
    for (const theory::ChordTone& tone : tones) {
      if (tone.pitch.number() == name.number()) name = tone.pitch;
    }
    text = theory::print(name, kSigns);
  }
  std::vector<std::string> below;
  if (const std::string missing = missing_line(shape); !missing.empty()) below.push_back(missing);
  return text_box(shape.shape, notes, {std::to_string(rank) + ".  " + theory::print_frets(shape.shape)}, below);
}

/// `shapes`: the best of so many.
std::string people(const Sought& sought, const std::vector<FoundShape>& shapes, std::size_t all) {
  const std::size_t shown = shapes.size();
  std::string head = theory::print(sought.chord, kSigns) + " on " + sought.held.name + ", " + sought.held.tuning_words;
  if (!sought.held.capo.none()) {
    head += ", capo at fret " + std::to_string(sought.held.capo.fret);
    if (sought.held.capo.full()) head += " (frets count from it)";
  }
  std::string out = folded(head + ": " + tones_listed(theory::tones(sought.chord)), 2) + "\n";
  out += (shown < all ? "The best " + (shown > 1 ? std::to_string(shown) + " " : std::string()) + "of " +
                            std::to_string(all) + " shapes"
                      : counted_words(static_cast<int>(shown), "shape") + (shown > 1 ? ", best first" : "")) +
         "; figures in the box are fingers\n\n";
  std::vector<TextBox> boxes;
  for (std::size_t i = 0; i < shown; ++i) boxes.push_back(box_of(sought, shapes[i], i + 1));
  return out + rows_of(boxes);
}

Json as_json(const Sought& sought, const std::vector<FoundShape>& shapes, std::size_t all) {
  Json out{{"chord", theory::print(sought.chord)},          {"instrument", sought.held.instrument->name},
           {"tuning", theory::print(sought.held.tuning)},   {"capo", json_of(sought.held.capo)},
           {"tones", json_of(theory::tones(sought.chord))}, {"found", all}};
  out["shapes"] = Json::array();
  for (std::size_t i = 0; i < shapes.size(); ++i) {
    const theory::Shape& shape = shapes[i].shape;
    Json one{{"frets", theory::print_frets(shape)},
             {"fingers", theory::print_fingers(shape)},
             {"cost", shapes[i].cost},
             {"strain", shapes[i].strain},
             {"midi", theory::sounding_midi(sought.held.tuning, sought.held.capo, shape)}};
    const int base = sought.held.neck.capo_fret;
    const double stretch =
        theory::stretch_mm(sought.held.neck.scale_length_mm, shape.lowest_fret() + base, shape.highest_fret() + base);
    one["stretch_mm"] = shape.highest_fret() == 0 ? 0.0 : std::round(stretch * 10.0) / 10.0;
    one["left_out"] = json_of(shapes[i].left_out);
    out["shapes"].push_back(one);
  }
  return out;
}

}  // namespace

int run_shapes(const CommandLine& line, const Console& console) {
  const auto held = read_held(line);
  if (!held) return say_usage(console, held.error());
  const auto chord = read_chord(line.operands[0]);
  if (!chord) return say_usage(console, chord.error().text);
  if (chord->is_none()) return say_usage(console, "N.C. is no chord: nothing is played there");
  if (held->tuning.count() < 2) {
    return say_usage(console,
                     "one string sounds one note at a time, and a chord needs two; name a tuning of 2 to 12 "
                     "strings, low string first: --tuning \"G3 D4 A4 E5\"");
  }
  Sought sought{*held, *chord, {}, 12};
  if (const std::string fault = read_limits(line, sought); !fault.empty()) return say_usage(console, fault);
  const theory::FoundShapes all = found(sought, sought.limits);
  if (all.empty()) return say_usage(console, none_found(sought));
  std::vector<FoundShape> shapes;
  for (std::size_t i = 0; i < all.size() && i < static_cast<std::size_t>(sought.count); ++i) shapes.push_back(all[i]);
  if (const auto target = line.option("--output")) {
    return print_shape_sheet({sought.held, sought.chord, shapes}, *target, line, console);
  }
  console.out << (wants_json(line) ? as_json(sought, shapes, all.size()).dump(2) + "\n"
                                   : people(sought, shapes, all.size()));
  return kDone;
}

}  // namespace tunesheaf::app

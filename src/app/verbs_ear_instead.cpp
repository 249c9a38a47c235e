// `instead`: what another player plays for the chords of a song.
#include <algorithm>
#include <ostream>

#include "json_ear.h"
#include "text_box.h"
#include "tunesheaf/blocks/instead.h"
#include "verbs.h"
#include "words_ear.h"

namespace tunesheaf::app {
namespace {

using blocks::Instead;
using blocks::InsteadChord;

std::string capo_words(int capo) {
  return capo == 0 ? "no capo" : "capo at fret " + std::to_string(capo);
}

std::string pitch_line(const Instead& instead) {
  const int up = instead.wish.semitones;
  if (up == 0) return "All sounds as the song's own page does";
  return "All sounds " + counted_words(std::abs(up), "semitone") + (up > 0 ? " above" : " below") +
         " the song's own page";
}

std::string page_line(const Instead& instead) {
  if (instead.page_capo == 0) return "";
  return "; that page is played with the " + capo_words(instead.page_capo) + ", and names count from there";
}

std::vector<std::string> notes_of(const Instead& instead, const InsteadChord& chord) {
  const theory::Shape& shape = chord.shape->shape;
  std::vector<std::string> notes(shape.frets.size());
  for (const theory::SoundingString& s : theory::sounding(instead.wish.tuning, {}, shape)) {
    theory::PitchClass name = theory::plain_spelling(s.midi.front()).name;
    for (const theory::ChordTone& tone : theory::tones(chord.fingered)) {
      if (tone.pitch.number() == name.number()) name = tone.pitch;
    }
    const auto& bass = chord.fingered.bass;
    if (bass && bass->number() == name.number()) name = *bass;
    notes[shape.place_of(s.string)] = theory::print(name, kSigns);
  }
  return notes;
}

std::string left_out_lines(const Instead& instead) {
  std::string out;
  for (const InsteadChord& chord : instead.chords) {
    if (chord.shape) continue;
    std::vector<std::string> near;
    for (const theory::ChordName& name : chord.nearest) near.push_back(theory::print(name, kSigns));
    out += folded("No hand can play " + theory::print(chord.fingered, kSigns) + " (for " + chord.page_name + ") there" +
                      (near.empty() ? "" : "; the nearest: " + list_words(near)) + ".",
                  2) +
           "\n";
  }
  if (!instead.unnamed.empty()) {
    out += folded("Left out, since they have no common name: " + list_words(instead.unnamed) + ".", 2) + "\n";
  }
  return out;
}

std::string options_table(const Instead& instead) {
  if (instead.options.size() < 2) return {};
  Table table({Side::Right, Side::Left, Side::Right, Side::Right, Side::Left});
  table.row({"capo", "fingered in", "no shape", "barres", "chords"});
  for (const theory::InsteadOption& option : instead.options) {
    std::string chords;
    std::vector<std::string> seen;
    for (const theory::ChordName& name : option.fingered) {
      const std::string text = theory::print(name, kSigns);
      if (std::find(seen.begin(), seen.end(), text) != seen.end()) continue;
      seen.push_back(text);
      if (seen.size() <= 6) chords += (chords.empty() ? "" : " ") + text;
    }
    if (seen.size() > 6) chords += " …";
    table.row({option.capo == 0 ? "none" : std::to_string(option.capo),
               option.key ? theory::print(*option.key, kSigns) : "–", std::to_string(option.unplayable),
               std::to_string(option.barres), chords});
  }
  return "Every place for the capo, best first, with the chords that have no shape or need a barre\n" + table.text();
}

std::string people(const std::string& title, const Instead& instead) {
  const theory::InsteadOption& best = instead.options.front();
  std::string head = title + ", for " + blocks::wish_words(instead.wish) + ": " + capo_words(best.capo);
  if (best.key) head += ", fingered in " + theory::print(*best.key, kSigns);
  std::string out = folded(head, 2) + "\n" + folded(pitch_line(instead) + page_line(instead) + ".", 2) + "\n\n";
  std::vector<TextBox> boxes;
  for (const InsteadChord& chord : instead.chords) {
    if (!chord.shape) continue;
    boxes.push_back(text_box(chord.shape->shape, notes_of(instead, chord),
                             {"for " + chord.page_name, theory::print(chord.fingered, kSigns)}, {}));
  }
  out += rows_of(boxes);
  if (const std::string rest = left_out_lines(instead); !rest.empty()) out += "\n" + rest;
  if (const std::string table = options_table(instead); !table.empty()) out += "\n" + table;
  return out;
}

Json as_json(const std::string& title, const Instead& instead) {
  Json out{{"song", title},
           {"instrument", instead.wish.instrument->name},
           {"tuning", theory::print(instead.wish.tuning)},
           {"semitones", instead.wish.semitones},
           {"page_capo", instead.page_capo},
           {"capo", instead.capo()}};
  out["chords"] = Json::array();
  for (const InsteadChord& chord : instead.chords) {
    Json one{{"page", chord.page_name}, {"times", chord.times}, {"fingered", theory::print(chord.fingered)}};
    if (chord.shape) {
      one["frets"] = theory::print_frets(chord.shape->shape);
      one["fingers"] = theory::print_fingers(chord.shape->shape);
    } else {
      one["nearest"] = Json::array();
      for (const theory::ChordName& name : chord.nearest) one["nearest"].push_back(theory::print(name));
    }
    out["chords"].push_back(one);
  }
  out["unnamed"] = instead.unnamed;
  out["options"] = Json::array();
  for (const theory::InsteadOption& option : instead.options) {
    Json one{
        {"capo", option.capo}, {"unplayable", option.unplayable}, {"barres", option.barres}, {"cost", option.cost}};
    if (option.key) one["key"] = theory::print(*option.key);
    out["options"].push_back(one);
  }
  return out;
}

}  // namespace

int run_instead(const CommandLine& line, const Console& console) {
  const auto wished = line.option("--for");
  if (!wished)
    return say_usage(console, "say for whom: --for \"usual tuning\", \"capo 3\", ukulele, \"a semitone down\"");
  Work work;
  DiskFiles disk;
  if (!read_text(work, disk, line.operands[0]) || !to_timeline(work)) {
    return say_findings(work, console.err, console.colour, line);
  }
  const auto wish = blocks::read_instead(*wished, *work.timeline);
  if (!wish) return say_usage(console, "--for: " + wish.error().sentence);
  const Instead instead = blocks::play_instead(*work.timeline, *wish);
  if (!instead.any()) {
    return say_failure(console,
                       "the song names no chord and no shape with a common name; write a chords lane in its "
                       "chart, or shapes in a part");
  }
  const std::string& title = work.timeline->title.value;
  // Doubts about the song are for `check`; here they would stand between the player and the answer.
  console.out << (wants_json(line) ? as_json(title, instead).dump(2) + "\n" : people(title, instead));
  return kDone;
}

}  // namespace tunesheaf::app

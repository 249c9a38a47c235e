#include "shape_sheet.h"

#include <ostream>

#include "press.h"
#include "tunesheaf/export/files.h"
#include "verbs.h"
#include "words_ear.h"

namespace tunesheaf::app {
namespace {

score::Part part_of(const Held& held) {
  score::Part part;
  part.name.value = held.instrument->name;
  part.short_name = held.instrument->name;
  part.instrument = *held.instrument;
  part.tuning = held.tuning;
  part.usual = held.usual();
  part.tuning_name = held.usually_tuned() ? "" : held.tuning.name;
  if (held.capo.full()) part.capo = held.capo.fret;
  return part;
}

score::ShapeUse use_of(const ShapeSheet& sheet, const theory::FoundShape& found) {
  score::ShapeUse use;
  use.name.value = theory::print_frets(found.shape);
  use.shape = found.shape;
  use.part = 0;
  use.used = true;
  // Behind a full capo a sheet names what is fingered, and says so.
  const int down = sheet.held.capo.full() ? sheet.held.capo.fret : 0;
  const theory::ChordName name = down == 0 ? sheet.chord : theory::transposed(sheet.chord, -down, std::nullopt);
  use.ear = name;
  use.ear_text = theory::print(name);
  for (const theory::ChordTone& tone : found.left_out) {
    use.hand += (use.hand.empty() ? "without the " : " and ") + degree_words({tone.number, tone.alter});
  }
  const auto tones = theory::tones(name);
  use.sounding.resize(found.shape.frets.size());
  for (const theory::SoundingString& s : theory::sounding(sheet.held.tuning, sheet.held.capo, found.shape)) {
    const int key = s.midi.front() - down;
    theory::Pitch pitch = theory::plain_spelling(key);
    for (const theory::ChordTone& tone : tones) {
      if (tone.pitch.number() == pitch.name.number()) pitch = theory::with_name(key, tone.pitch);
    }
    if (name.bass && name.bass->number() == pitch.name.number()) pitch = theory::with_name(key, *name.bass);
    use.sounding[found.shape.place_of(s.string)] = pitch;
  }
  return use;
}

score::Timeline timeline_of(const ShapeSheet& sheet) {
  score::Timeline timeline;
  timeline.title.value = "Shapes for " + theory::print(sheet.chord, kSigns);
  timeline.parts.push_back(part_of(sheet.held));
  for (const theory::FoundShape& found : sheet.shapes) timeline.shapes.push_back(use_of(sheet, found));
  return timeline;
}

}  // namespace

int print_shape_sheet(const ShapeSheet& sheet, const std::string& target, const CommandLine& line,
                      const Console& console) {
  int code = kDone;
  const auto format = page_format(target, console, code);
  if (!format) return code;
  Work work;
  work.file = work.files.add(target, "");
  work.timeline = timeline_of(sheet);
  const auto press = open_press(work, line, console, code);
  if (!press) return code;
  return write_sheet(press->handout(work), *press, work, {line, target, *format}, console);
}

}  // namespace tunesheaf::app

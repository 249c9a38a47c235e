#include <algorithm>
#include <map>

#include "context.h"
#include "tunesheaf/theory/fingering.h"
#include "tunesheaf/theory/naming.h"

namespace tunesheaf::check {
namespace {

using theory::ShapeFault;

theory::Shape as_theory(const song::ShapeDef& def) {
  theory::Shape shape;
  for (const auto& fret : def.frets) shape.frets.push_back(fret.value);
  for (const auto& finger : def.fingers) {
    const int number = finger.value >= 0 && finger.value <= 5 ? finger.value : 0;
    shape.fingers.push_back(static_cast<theory::Finger>(number));
  }
  return shape;
}

/// The first part that holds each shape, by name.
std::map<std::string, int, std::less<>> first_users(const Context& context) {
  std::map<std::string, int, std::less<>> users;
  const auto look = [&](const song::PartContent& content, const std::vector<song::Stanza>& stanzas) {
    const auto part = part_named(context, content.part.value);
    if (!part) return;
    for (const auto& stanza : stanzas)
      for (const auto& lane : stanza.lanes) {
        if (lane.kind != song::LaneKind::Shape) continue;
        for (const auto& bar : lane.bars)
          for (const auto& beat : bar.beats)
            for (const auto& cell : beat.cells)
              if (const auto* name = std::get_if<song::NameCell>(&cell.content)) users.try_emplace(name->name, *part);
      }
  };
  const auto look_all = [&](const std::vector<song::PartContent>& parts) {
    for (const auto& content : parts) {
      look(content, content.stanzas);
      for (const auto& exception : content.except) look(content, exception.stanzas);
    }
  };
  for (const auto& section : context.song.sections) {
    look_all(section.parts);
    for (const auto& ending : section.endings) look_all(ending.parts);
  }
  return users;
}

std::optional<int> part_of_shape(Context& context, const song::ShapeDef& def,
                                 const std::map<std::string, int, std::less<>>& users) {
  const auto& parts = context.data.parts;
  if (def.part) {
    if (auto part = part_named(context, def.part->value)) return part;
    std::vector<std::string> names;
    for (const auto& part : parts) names.push_back(part.def->name.value);
    context.say(Kind::UnknownName, def.part->span, "there is no part called " + diag::quoted(def.part->value),
                "a shape is for one of the song's `parts`", nearest_remedy(def.part->value, names, "parts"));
  }
  if (auto user = users.find(def.name.value);
      user != users.end() && parts[static_cast<std::size_t>(user->second)].strings() > 0)
    return user->second;
  std::optional<int> fallback;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    if (parts[i].strings() == 0) continue;
    if (parts[i].strings() == static_cast<int>(def.frets.size())) return static_cast<int>(i);
    if (!fallback) fallback = static_cast<int>(i);
  }
  return fallback;
}

Span place_of(const song::ShapeDef& def, const theory::Shape& shape, int string) {
  if (string < 1 || string > shape.count()) return def.frets_span;
  return def.frets[shape.place_of(string)].span;
}

Span finger_place(const song::ShapeDef& def, theory::Finger finger) {
  for (const auto& cell : def.fingers)
    if (cell.value == static_cast<int>(finger)) return cell.span;
  return def.fingers.empty() ? def.frets_span : def.fingers_span;
}

std::string finger_words(theory::Finger finger) {
  return finger == theory::Finger::Thumb ? "the thumb" : std::string("finger ") + theory::finger_sign(finger);
}

void say_strings(Context& context, const song::ShapeDef& def, const CheckedPart& part,
                 const theory::ShapeError& error) {
  const Span tuning = part.def->tuning ? part.def->tuning->span : part.def->instrument.span;
  context.say_both(Kind::ShapeStrings, def.frets_span, std::to_string(error.got) + " strings", tuning,
                   std::to_string(error.want) + " strings",
                   "the shape " + diag::quoted(def.name.value) + " has " + std::to_string(error.got) +
                       " frets, and the part " + diag::quoted(part.def->name.value) + " has " +
                       std::to_string(error.want) + " strings",
                   "a shape says something for every string, from the low one up: a fret, 0 for open, x for not played",
                   "write " + std::to_string(error.want) + " of them");
}

void say_shape_fault(Context& context, const song::ShapeDef& def, const CheckedPart& part, const theory::Shape& shape,
                     const theory::ShapeError& error) {
  const std::string name = "the shape " + diag::quoted(def.name.value);
  const Span string = place_of(def, shape, error.string);
  switch (error.fault) {
    case ShapeFault::WrongStringCount:
      return say_strings(context, def, part, error);
    case ShapeFault::WrongFingerCount:
      return context.say_both(
          Kind::ShapeFingers, def.fingers_span, std::to_string(error.got) + " fingers", def.frets_span,
          std::to_string(error.want) + " frets",
          name + " has " + std::to_string(error.got) + " fingers for " + std::to_string(error.want) + " frets",
          "`fingers` runs along `frets`, with . for a string that no finger stops", "write one sign for each string");
    case ShapeFault::FingerOnTwoFrets:
      return context.say(Kind::FingerOnTwoFrets, finger_place(def, error.finger),
                         name + " puts " + finger_words(error.finger) + " on fret " + std::to_string(error.fret) +
                             " and on fret " + std::to_string(error.other_fret),
                         "a finger can hold several strings, but at one fret only", "give one of them another finger");
    case ShapeFault::FingerOnNothing:
      return context.say(Kind::ImpossibleShape, finger_place(def, error.finger),
                         name + " puts " + finger_words(error.finger) + " on string " + std::to_string(error.string) +
                             ", which is open or not played",
                         "a finger stands where a fret is stopped", "write . there, or the fret it stops");
    case ShapeFault::FretBeyondNeck:
      return context.say(Kind::FretBeyondNeck, string,
                         name + " stops string " + std::to_string(error.string) + " at fret " +
                             std::to_string(error.fret) + ", and the neck ends at fret " + std::to_string(error.want),
                         "frets count from the capo where there is a full one",
                         "write a fret the neck has, or say `frets` in the part");
    case ShapeFault::FretBelowStart:
      return context.say(Kind::FretBeyondNeck, string,
                         name + " stops string " + std::to_string(error.string) + " at fret " +
                             std::to_string(error.fret) + ", and that string begins at fret " +
                             std::to_string(error.want),
                         "a short string is open (0) or stopped behind its own nut", "write 0, or a higher fret");
    case ShapeFault::FretUnderCapo:
      return context.say(Kind::ImpossibleShape, string,
                         name + " stops string " + std::to_string(error.string) + " at fret " +
                             std::to_string(error.fret) + ", at or behind the capo that holds it",
                         "under a partial capo frets count from the nut", "write a fret beyond the capo, or 0");
    case ShapeFault::BarreStopsOpen:
      return context.say(Kind::ImpossibleShape, string,
                         name + " lays " + finger_words(error.finger) + " across string " +
                             std::to_string(error.string) + ", which is to ring lower than that",
                         "a finger across several strings stops every string between them",
                         "give the outer strings two fingers, or stop the string too");
    case ShapeFault::NothingSounds:
      return context.say(Kind::ImpossibleShape, def.frets_span, name + " plays no string at all",
                         "x is a string that is not played, 0 an open one",
                         "write the frets of the strings that sound");
    case ShapeFault::FingersCross:
      return context.say(Kind::ImpossibleShape, finger_place(def, error.finger),
                         name + " puts " + finger_words(error.finger) + " behind a lower finger",
                         "along the neck the fingers stand in the order 1 2 3 4", "exchange the two fingers");
    case ShapeFault::Empty:
    case ShapeFault::BadFret:
    case ShapeFault::BadFinger:
      return;  // faults of reading, said by the reader
  }
}

void check_stretch(Context& context, const CheckedShape& entry, const CheckedPart& part) {
  if (part.instrument.frets == 0 || part.scale_length_mm == 0) return;
  const theory::Shape& shape = entry.shape;
  const int base = part.capo.full() ? part.capo.fret : 0;
  theory::Neck neck{static_cast<double>(part.scale_length_mm), base, part.frets};
  bool wide = false;
  if (shape.fingers.empty()) {
    wide = !theory::playable(shape, neck);
  } else {
    int low = 99, high = 0;
    for (std::size_t i = 0; i < shape.frets.size(); ++i) {
      if (!shape.frets[i] || *shape.frets[i] == 0 || shape.fingers[i] == theory::Finger::Thumb) continue;
      low = std::min(low, *shape.frets[i]);
      high = std::max(high, *shape.frets[i]);
    }
    wide = high > low && theory::stretch_mm(part.scale_length_mm, low + base, high + base) > theory::kWidestStretchMm;
  }
  if (!wide) return;
  context.say(Kind::WideStretch, entry.def->frets_span,
              "no hand is likely to hold the shape " + diag::quoted(entry.def->name.value),
              "between the first and the last finger lie at most about " +
                  std::to_string(static_cast<int>(theory::kWidestStretchMm)) + " mm of neck",
              "look for a misread fret, or leave a string out");
}

void check_thumb(Context& context, CheckedShape& entry) {
  const theory::Shape& shape = entry.shape;
  for (const auto& string : entry.def->thumb) {
    if (string.value < 1 || string.value > shape.count()) {
      context.say(Kind::NoSuchString, string.span,
                  "the thumb of the shape " + diag::quoted(entry.def->name.value) + " plays string " +
                      std::to_string(string.value) + ", and there are " + std::to_string(shape.count()),
                  "strings are counted from 1, the last in the tuning", "name a string the instrument has");
    } else if (!shape.frets[shape.place_of(string.value)]) {
      context.say_both(Kind::MutedString, string.span, "the thumb plays it",
                       entry.def->frets[shape.place_of(string.value)].span, "not played",
                       "the thumb of the shape " + diag::quoted(entry.def->name.value) + " walks over string " +
                           std::to_string(string.value) + ", which the shape does not play",
                       "`thumb` lists strings that sound", "let the string sound, or name another");
    } else {
      entry.thumb.push_back(string.value);
    }
  }
  // Without stated strings the thumb takes the lowest one that sounds, as a player would.
  for (int number = shape.count(); entry.thumb.empty() && number >= 1; --number)
    if (shape.frets[shape.place_of(number)]) entry.thumb.push_back(number);
}

/// What the shape sounds in its tuning.
void hear(const Context& context, CheckedShape& entry) {
  const CheckedPart& part = context.data.parts[static_cast<std::size_t>(entry.part)];
  entry.midi = theory::sounding_midi(entry.tuning, part.capo, entry.shape);
  entry.computed.reset();
  if (entry.midi.empty()) return;
  std::vector<int> page = entry.midi;
  for (int& key : page) key -= context.data.page_capo;
  const auto names = theory::name_candidates(page, {context.data.key, {}}, 1);
  if (!names.empty()) entry.computed = names.front().name;
}

/// Everything theory says of one shape on one part's neck.
CheckedShape resolve(Context& context, const song::ShapeDef& def, int part_index) {
  const CheckedPart& part = context.data.parts[static_cast<std::size_t>(part_index)];
  CheckedShape entry;
  entry.def = &def;
  entry.part = part_index;
  entry.tuning = part.tuning;
  entry.shape = as_theory(def);
  if (def.frets.empty()) {  // said by the reader
    entry.shape.frets.resize(static_cast<std::size_t>(part.strings()));
    entry.shape.fingers.clear();
    return entry;
  }
  const auto faults = theory::check_shape(entry.shape, part.tuning, part.capo, part.frets);
  bool crossed = false;
  for (const auto& fault : faults) {
    const bool cross = fault.fault == ShapeFault::FingersCross;
    if (!cross || !crossed) say_shape_fault(context, def, part, entry.shape, fault);
    crossed = crossed || cross;
  }
  if (entry.shape.count() != part.strings() ||
      (!entry.shape.fingers.empty() && entry.shape.fingers.size() != entry.shape.frets.size())) {
    entry.shape.fingers.clear();
    entry.shape.frets.resize(static_cast<std::size_t>(part.strings()));
    return entry;
  }
  check_thumb(context, entry);
  if (!faults.empty()) {
    entry.midi = theory::sounding_midi(part.tuning, part.capo, entry.shape);
    return entry;
  }
  hear(context, entry);
  if (!entry.midi.empty()) check_stretch(context, entry, part);
  return entry;
}

void read_ear(Context& context, CheckedShape& entry) {
  if (!entry.def->ear) return;
  auto chord = theory::parse_chord(entry.def->ear->value);
  if (chord) {
    entry.ear = *chord;
    return;
  }
  const std::string& understood = chord.error().understood;
  context.say(Kind::BadChord, entry.def->ear->span, context.words(entry.def->ear->span) + " is no chord name",
              "`ear` is the name of what sounds: a root from A to G, then the kind, then a bass after /",
              understood.empty() ? "write a name such as Cmaj7 or G/B"
                                 : "as far as " + diag::quoted(understood) + " it is understood; mend what follows");
}

}  // namespace

void check_shapes(Context& context) {
  const auto users = first_users(context);
  for (const song::ShapeDef& def : context.song.shapes) {
    const auto part = part_of_shape(context, def, users);
    if (!part) {
      context.say(Kind::LaneNotForPart, def.name.span,
                  "the shape " + diag::quoted(def.name.value) + " has no part with strings to be held on", {},
                  "name the instrument in `parts`, or take the shape away");
      CheckedShape entry;
      entry.def = &def;
      entry.part = -1;
      context.data.shapes.push_back(entry);
      continue;
    }
    CheckedShape entry = resolve(context, def, *part);
    read_ear(context, entry);
    context.data.shapes.push_back(std::move(entry));
  }
}

std::optional<int> shape_for(Context& context, std::string_view name, int part, const theory::Tuning& tuning) {
  auto& shapes = context.data.shapes;
  std::optional<std::size_t> first, own;
  for (std::size_t i = 0; i < shapes.size(); ++i) {
    if (shapes[i].def->name.value != name) continue;
    if (shapes[i].part == part && shapes[i].tuning.same_pitches(tuning)) return static_cast<int>(i);
    if (shapes[i].part == part && !own) own = i;
    if (!first) first = i;
  }
  if (!first) return std::nullopt;
  const int other = shapes[*first].part;
  if (other < 0) return static_cast<int>(*first);
  const CheckedPart& mine = context.data.parts[static_cast<std::size_t>(part)];
  const CheckedPart& theirs = context.data.parts[static_cast<std::size_t>(other)];
  if (!own && tuning.same_pitches(shapes[*first].tuning) && mine.capo == theirs.capo) return static_cast<int>(*first);
  CheckedShape entry = own ? shapes[*own] : resolve(context, *shapes[*first].def, part);
  if (!entry.tuning.same_pitches(tuning)) {
    entry.tuning = tuning;
    if (!entry.midi.empty()) hear(context, entry);
  }
  // A shape that nothing has played yet is claimed for the tuning that it is first played in.
  if (own && *own == *first && !shapes[*own].used) {
    shapes[*own] = std::move(entry);
    return static_cast<int>(*own);
  }
  entry.ear.reset();
  entry.used = false;
  shapes.push_back(std::move(entry));
  return static_cast<int>(shapes.size() - 1);
}

int shape_of_chord(Context& context, const ChordAt& chord, int part, const theory::Tuning& tuning) {
  if (chord.none) return -1;
  const auto& shapes = context.data.shapes;
  for (const auto& shape : shapes)
    if (shape.def->name.value == chord.text) return shape_for(context, chord.text, part, tuning).value_or(-1);
  const auto by = [&](auto&& fits) -> int {
    for (std::size_t i = 0; i < shapes.size(); ++i) {
      if (shapes[i].part != part) continue;
      const bool as_tuned = shapes[i].tuning.same_pitches(tuning);
      CheckedShape turned;
      if (!as_tuned) {
        turned = shapes[i];
        turned.tuning = tuning;
        turned.ear.reset();
        hear(context, turned);
      }
      if (!fits(as_tuned ? shapes[i] : turned)) continue;
      return as_tuned ? static_cast<int>(i) : shape_for(context, shapes[i].def->name.value, part, tuning).value_or(-1);
    }
    return -1;
  };
  if (!chord.name) return -1;
  const int stated = by([&](const CheckedShape& s) { return s.ear && *s.ear == *chord.name; });
  if (stated >= 0) return stated;
  return by([&](const CheckedShape& s) { return !s.ear && s.computed && *s.computed == *chord.name; });
}

}  // namespace tunesheaf::check

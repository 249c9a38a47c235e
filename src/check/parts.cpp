#include <algorithm>

#include "context.h"
#include "tunesheaf/base/edit_distance.h"
#include "tunesheaf/base/number.h"

namespace tunesheaf::check {
namespace {

std::string clef_name(theory::Clef clef) {
  switch (clef) {
    case theory::Clef::Treble:
    case theory::Clef::Grand:
      return "treble";
    case theory::Clef::Treble8:
      return "treble 8vb";
    case theory::Clef::Alto:
      return "alto";
    case theory::Clef::Tenor:
      return "tenor";
    case theory::Clef::Bass:
      return "bass";
    case theory::Clef::Bass8:
      return "bass 8vb";
    case theory::Clef::Percussion:
      break;
  }
  return "percussion";
}

/// An instrument that the song defines by its strings alone.
theory::Instrument own_instrument(const std::string& name) {
  theory::Instrument own;
  own.name = name;
  own.clef = theory::Clef::Treble;
  own.scale_length_mm = 650;
  own.frets = 0;
  own.program = 24;
  return own;
}

void resolve_instrument(Context& context, CheckedPart& part) {
  const song::PartDef& def = *part.def;
  const std::string& word = def.instrument.value;
  if (const theory::Instrument* known = theory::find_instrument(word)) {
    part.instrument = *known;
    return;
  }
  part.instrument = own_instrument(word);
  if (word.empty()) {
    // The reader has said that the instrument is missing; a guitar keeps echoes away.
    if (const theory::Instrument* guitar = theory::find_instrument("guitar")) part.instrument = *guitar;
    return;
  }
  const std::vector<std::string> names = theory::instrument_names();
  const bool by_strings = def.tuning && theory::parse_tuning_notes(def.tuning->value).ok();
  const auto near = base::nearest_word(word, names);
  if (by_strings && !near) return;
  if (near) part.instrument = *theory::find_instrument(*near);
  context.say(Kind::UnknownName, def.instrument.span, "there is no instrument called " + diag::quoted(word),
              "a part's instrument is one this program knows, or any name with its strings given as notes in `tuning`",
              nearest_remedy(word, names, "instruments"));
}

std::string tuning_rule(const theory::TuningError& error) {
  using theory::TuningFault;
  switch (error.fault) {
    case TuningFault::Empty:
      return "the tuning is empty; a tuning lists the strings from the low one up, as in D2 G2 D3 G3 B3 D4";
    case TuningFault::BadPitch:
      return diag::quoted(error.word) +
             " is no note; a note is a letter from A to G, # or b, and its octave, as in F#3";
    case TuningFault::NoOctave:
      return diag::quoted(error.word) + " lacks its octave; the open strings of a guitar are E2 A2 D3 G3 B3 E4";
    case TuningFault::TooManyStrings:
      return "there are " + std::to_string(error.count) + " strings; at most " + std::to_string(theory::kMostStrings) +
             " strings (or courses) are possible";
    case TuningFault::TooLow:
      return diag::quoted(error.word) + " is lower than any string sounds (C0 is the lowest)";
    case TuningFault::TooHigh:
      return diag::quoted(error.word) + " is higher than any string can be tuned (C8 is the highest)";
    case TuningFault::UnknownName:
      return "no tuning of that name is known for this instrument";
    case TuningFault::UnevenCourse:
      break;
  }
  return diag::quoted(error.word) + " joins too many strings: a course has one to three";
}

std::pair<int, int> open_strings(const theory::Tuning& tuning) {
  int lowest = 127, highest = 0;
  for (const auto& string : tuning.strings) {
    lowest = std::min(lowest, string.midi());
    highest = std::max(highest, string.midi());
  }
  return {lowest, highest};
}

/// Strings that are tuned otherwise move the instrument's range with them.
void range_as_tuned(CheckedPart& part) {
  const auto [low, high] = open_strings(*part.instrument.usual);
  const auto [lowest, highest] = open_strings(part.tuning);
  part.instrument.lowest += lowest - low;
  part.instrument.highest = std::clamp(part.instrument.highest + highest - high, 0, 127);
}

void resolve_tuning(Context& context, CheckedPart& part) {
  const song::PartDef& def = *part.def;
  if (part.instrument.usual) part.usual = *part.instrument.usual;
  part.tuning = part.usual;
  if (!def.tuning) return;
  if (part.drums() || part.instrument.family == theory::Family::Voice ||
      part.instrument.family == theory::Family::Wind || part.instrument.family == theory::Family::Keyed) {
    context.say(Kind::BadTuning, def.tuning->span,
                "the part " + diag::quoted(def.name.value) + " has a tuning, but its instrument has no strings to tune",
                "only fretted and bowed instruments are tuned string by string", "take the tuning away");
    return;
  }
  auto tuning = theory::parse_tuning(def.tuning->value, part.instrument.name);
  if (!tuning) {
    return say_tuning_fault(context, def.tuning->span, tuning.error());
  }
  part.tuning = *tuning;
  if (part.usual.count() != part.tuning.count()) part.usual = part.tuning;
  if (!part.tuning.name.empty() && part.tuning.name != "usual") part.tuning_name = part.tuning.name;
  if (part.instrument.usual) range_as_tuned(part);
  if (!part.instrument.usual) {
    part.instrument.usual = part.tuning;
    const auto [lowest, highest] = open_strings(part.tuning);
    part.instrument.lowest = lowest;
    part.instrument.highest = std::min(127, highest + 36);
    if (lowest < 48) part.instrument.clef = highest < 60 ? theory::Clef::Bass8 : theory::Clef::Treble8;
    part.clef = clef_name(part.instrument.clef);
  }
}

void resolve_capo(Context& context, CheckedPart& part) {
  const auto& capo = part.def->capo;
  if (!capo) return;
  const int fret = capo->fret.value;
  if (part.strings() == 0) {
    context.say(Kind::BadCapo, capo->fret.span, "a capo needs strings, and this part has none",
                "a capo shortens the strings of a fretted instrument", "take the capo away");
    return;
  }
  const int highest = part.frets > 0 ? part.frets - 1 : 24;
  if (fret < 0 || fret > highest) {
    context.say(Kind::BadCapo, capo->fret.span,
                "the capo stands at fret " + std::to_string(fret) + ", beyond the neck of this instrument",
                "a capo stands at fret 1 to " + std::to_string(highest) + " here",
                "write the fret it is really put at");
    return;
  }
  if (part.instrument.family == theory::Family::Bowed || part.instrument.name == "lap steel") {
    context.say(Kind::BadCapo, capo->fret.span,
                with_article(part.instrument.name) + " has no frets for a capo to stand behind",
                "a capo shortens the strings of a fretted instrument", "take the capo away");
    return;
  }
  part.capo.fret = fret;
  for (const auto& string : capo->strings) {
    if (string.value < 1 || string.value > part.strings()) {
      context.say(Kind::BadCapo, string.span,
                  "the capo holds string " + std::to_string(string.value) + ", but the instrument has " +
                      std::to_string(part.strings()) + " strings",
                  "strings are counted from 1, the last in the tuning", "name the strings the capo presses");
      continue;
    }
    if (std::find(part.capo.strings.begin(), part.capo.strings.end(), string.value) != part.capo.strings.end()) {
      context.say(Kind::BadCapo, string.span, "the capo names string " + std::to_string(string.value) + " twice",
                  "a capo presses a string or leaves it open", "name each string once");
      continue;
    }
    part.capo.strings.push_back(string.value);
  }
}

void resolve_neck(Context& context, CheckedPart& part) {
  part.frets = part.instrument.frets;
  if (const auto& count = part.def->fret_count) {
    part.frets = count->value;
  }
  part.scale_length_mm = part.instrument.scale_length_mm;
  const auto& scale = part.def->scale_length;
  if (!scale) return;
  const std::string& text = scale->value;
  const std::size_t blank = text.find(' ');
  const auto number = base::parse_decimal(std::string_view(text).substr(0, blank));
  const std::string unit = blank == std::string::npos ? "" : text.substr(blank + 1);
  const double mm = number.value_or(0) * (unit == "in" ? 25.4 : unit == "cm" ? 10 : 1);
  const bool known = unit == "in" || unit == "mm" || unit == "cm";
  if (!number || !known || mm < 200 || mm > 1300) {
    context.say(Kind::BadNeck, scale->span,
                "the scale length " + context.words(scale->span) + " is no length of a string",
                "it is measured from nut to bridge, 200 to 1300 mm", "write it as 648 mm or 25.5 in");
    return;
  }
  part.scale_length_mm = static_cast<int>(mm + 0.5);
}

void resolve_staff(Context& context, CheckedPart& part) {
  const song::PartDef& def = *part.def;
  part.clef = clef_name(part.instrument.clef);
  if (def.clef) part.clef = clef_of(def.clef->value);
  const bool fretted = part.instrument.family == theory::Family::Fretted;
  part.tab = fretted;
  if (!def.staff) return;
  const std::string& staff = def.staff->value;
  if (staff != "notation" && part.strings() == 0 && !part.instrument.usual && !def.tuning) {
    context.say(Kind::LaneNotForPart, def.staff->span, "tab needs strings, and this part has none",
                "tab shows frets on strings", "write `staff: notation`, or leave it out");
    return;
  }
  part.notation = staff != "tab";
  part.tab = staff != "notation";
}

}  // namespace

std::string clef_of(const std::string& word) {
  if (word == "treble-8") return "treble 8vb";
  if (word == "bass-8") return "bass 8vb";
  return word == "grand" ? "treble" : word;
}

void say_tuning_fault(Context& context, Span span, const theory::TuningError& error) {
  std::string remedy = "write the strings from the low one up, each with its octave";
  if (!error.nearest.empty()) remedy = "did you mean " + diag::quoted(error.nearest) + "?";
  const bool name = error.fault == theory::TuningFault::UnknownName;
  context.say(name ? Kind::UnknownName : Kind::BadTuning, span, "the tuning " + context.words(span) + " cannot be read",
              tuning_rule(error), remedy);
}

std::optional<int> part_named(const Context& context, std::string_view name) {
  for (std::size_t i = 0; i < context.data.parts.size(); ++i) {
    if (context.data.parts[i].def->name.value == name) return static_cast<int>(i);
  }
  return std::nullopt;
}

void check_parts(Context& context) {
  for (const song::PartDef& def : context.song.parts) {
    CheckedPart part;
    part.def = &def;
    resolve_instrument(context, part);
    resolve_neck(context, part);
    resolve_staff(context, part);
    resolve_tuning(context, part);
    resolve_capo(context, part);
    part.rings = def.rings && def.rings->value;
    check_part(context, part);
    context.data.parts.push_back(std::move(part));
  }
  for (const CheckedPart& part : context.data.parts) {
    if (part.instrument.family != theory::Family::Fretted) continue;
    context.data.page_capo = part.capo.full() ? part.capo.fret : 0;
    break;
  }
}

std::optional<theory::Meter> read_meter(Context& context, Span span, const std::string& text) {
  using theory::MeterFault;
  auto meter = theory::parse_meter(text);
  if (meter) return *meter;
  const theory::MeterError& error = meter.error();
  std::string rule = "a meter is written as 3/4 or 6/8";
  std::string remedy = "write the beats over the note that is counted";
  switch (error.fault) {
    case MeterFault::kGroupingMissing:
      rule = "a meter like this says how its units are grouped, one beat a group";
      remedy = "write it as in 7/8 (2+2+3)";
      break;
    case MeterFault::kGroupingSum:
      rule = "the groups add up to " + std::to_string(error.grouping_sum) + ", not to " + std::to_string(error.count);
      remedy = "let the groups add up to the upper figure";
      break;
    case MeterFault::kGroupingTooLong:
      rule = "a group of " + std::to_string(error.group) + " is too long for one beat; at most 4 units make a beat";
      remedy = "part the long group in two";
      break;
    case MeterFault::kBadUnit:
      rule = "the lower figure is 1, 2, 4, 8, 16, 32 or 64, and here it is " + std::to_string(error.unit);
      break;
    case MeterFault::kBadCount:
      rule = "the upper figure is 1 to 64, and here it is " + std::to_string(error.count);
      break;
    default:
      break;
  }
  context.say(Kind::BadMeter, span, diag::quoted(text) + " is no meter", rule, remedy);
  return std::nullopt;
}

std::optional<theory::Key> read_key(Context& context, Span span, const std::string& text) {
  auto key = theory::parse_key(text);
  if (key) return *key;
  std::string remedy = "write a note and a mode, as in G major, F# minor, D dorian";
  if (key.error().fault == theory::NameFault::UnknownMode) {
    const std::size_t at = std::min(key.error().at, text.size());
    if (auto near = base::nearest_word(text.substr(at), theory::mode_names()))
      remedy = "did you mean " + diag::quoted(text.substr(0, at) + *near) + "?";
  }
  context.say(Kind::BadKey, span, diag::quoted(text) + " is no key",
              "a key is a note from A to G, with # or b, and major, minor or the name of a mode", remedy);
  return std::nullopt;
}

void check_song_heading(Context& context) {
  const song::Song& song = context.song;
  if (song.meter) {
    if (auto meter = read_meter(context, song.meter->span, song.meter->value)) context.data.meter = *meter;
  }
  if (song.key) context.data.key = read_key(context, song.key->span, song.key->value);
}

void check_recordings(Context& context) {
  for (const song::RecordingDef& def : context.song.recordings) {
    CheckedRecording recording;
    recording.def = &def;
    if (def.sounds) {
      auto offset = theory::parse_offset(def.sounds->value);
      if (offset) {
        recording.offset = *offset;
      } else {
        const theory::OffsetError& error = offset.error();
        std::string rule = "it is said in cents or semitones with a sign, or as the pitch of A4";
        if (error.fault == theory::OffsetFault::NoSign) rule = "the number lacks its sign: + is higher, - is lower";
        if (error.fault == theory::OffsetFault::UnknownUnit)
          rule = diag::quoted(error.word) + " is no measure of pitch";
        if (error.fault == theory::OffsetFault::OutOfRange) rule = "it lies more than two octaves away";
        context.say(Kind::BadInterval, def.sounds->span,
                    context.words(def.sounds->span) + " does not say how the recording sounds", rule,
                    "write +18 cents, -2 semitones or A4 = 432");
      }
    }
    if (def.key) recording.key = read_key(context, def.key->span, def.key->value);
    context.data.recordings.push_back(std::move(recording));
  }
}

}  // namespace tunesheaf::check

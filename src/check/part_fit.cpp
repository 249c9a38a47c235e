// What a part says of itself against its instrument: a clef it cannot be read in, a neck without strings, strings tuned
// so far that they break, a part that replaces itself.
#include <algorithm>
#include <cmath>

#include "context.h"
#include "tunesheaf/theory/retune.h"

namespace tunesheaf::check {
namespace {

using theory::Family;

void check_clef(Context& context, const CheckedPart& part) {
  const auto& clef = part.def->clef;
  if (!clef) return;
  const bool percussion = clef->value == "percussion";
  const std::string what = "the clef " + diag::quoted(clef->value) + " on " + diag::quoted(part.def->name.value) +
                           ", " + with_article(part.instrument.name);
  if (percussion != part.drums()) {
    context.say_both(Kind::LaneNotForPart, clef->span, "the clef", part.def->instrument.span, "the instrument", what,
                     part.drums() ? "drums have no pitches; their staff has the percussion clef"
                                  : "the percussion clef stands before drums, which have no pitches",
                     "take the clef away: the instrument brings its own");
  } else if (clef->value == "grand" && part.instrument.family != Family::Keyed) {
    context.say_both(Kind::LaneNotForPart, clef->span, "the clef", part.def->instrument.span, "the instrument", what,
                     "a grand staff has a treble and a bass clef, for the two hands on keys",
                     "write treble or bass, or mend the instrument");
  }
}

void say_no_effect(Context& context, Span span, const std::string& key, const CheckedPart& part,
                   const std::string& rule) {
  context.say(Kind::ChangesNothing, span,
              "`" + key + "` changes nothing for " + diag::quoted(part.def->name.value) + ", " +
                  with_article(part.instrument.name),
              rule, "take it away, or mend the instrument");
}

void check_neck(Context& context, const CheckedPart& part) {
  const song::PartDef& def = *part.def;
  const bool strings = part.strings() > 0;
  if (def.scale_length && !strings)
    say_no_effect(context, def.scale_length->span, "scale length", part, "it is the length of a string");
  if (def.fret_count && part.instrument.family != Family::Fretted)
    say_no_effect(context, def.fret_count->span, "frets", part, "only a fretted instrument has frets");
  if (def.rings && !strings)
    say_no_effect(context, def.rings->span, "rings", part, "a note rings on until its string is needed again");
}

/// Known by a name, whether or not the song uses it.
bool has_a_name(const theory::Tuning& tuning, const std::string& instrument) {
  const auto& named = theory::named_tunings();
  return std::any_of(named.begin(), named.end(), [&](const theory::NamedTuning& known) {
    return known.instrument == instrument && theory::print(known.tuning) == theory::print(tuning);
  });
}

/// A fourth up nearly doubles a string's tension; ten semitones down leave a third of it (physics of strings).
void check_tension(Context& context, const CheckedPart& part) {
  constexpr int kUp = 5, kDown = -10;
  // A tuning known by name was made for its strings.
  if (!part.def->tuning || !part.tuning_name.empty() || !part.instrument.usual) return;
  const theory::Tuning& usual = *part.instrument.usual;
  if (usual.count() != part.tuning.count() || has_a_name(part.tuning, part.instrument.name)) return;
  for (int string = usual.count(); string >= 1; --string) {
    const int up = part.tuning.string(string).midi() - usual.string(string).midi();
    if (kDown < up && up < kUp) continue;
    const long percent = std::lround(theory::tension_factor(up) * 100);
    context.say(Kind::StringTension, part.def->tuning->span,
                "string " + std::to_string(string) + " is tuned to " +
                    theory::print(part.tuning.string(string).pitch()) + ", " + std::to_string(std::abs(up)) +
                    " semitones " + (up > 0 ? "above" : "below") + " its usual " +
                    theory::print(usual.string(string).pitch()),
                "a usual string would then have " + std::to_string(percent) + " % of its tension, and " +
                    (up > 0 ? "can snap and hurt" : "hardly sounds"),
                "look at the octave, or write another instrument; with other strings on it, read the cautions printed "
                "with the tuning");
    return;
  }
}

std::optional<std::size_t> stood_in_for(const Context& context, std::size_t part) {
  const auto& text = context.song.parts[part].stands_in_for;
  for (std::size_t i = 0; text && i < context.song.parts.size(); ++i)
    if (context.song.parts[i].name.value == text->value) return i;
  return std::nullopt;
}

/// The first cell in which the part is told a pitch and no string.
const song::Cell* first_pitch(const Context& context, std::size_t part) {
  for (const CheckedSection& section : context.data.sections) {
    for (const PlacedLane& lane : section.parts[part].lanes) {
      if (lane.kind != song::LaneKind::Notes) continue;
      for (const PlacedCell& cell : lane.cells)
        if (std::holds_alternative<song::PitchSign>(cell.cell->content)) return cell.cell;
    }
  }
  return nullptr;
}

}  // namespace

void check_part(Context& context, const CheckedPart& part) {
  if (part.def->instrument.value.empty()) return;
  check_clef(context, part);
  check_neck(context, part);
  check_tension(context, part);
}

void check_stand_ins(Context& context) {
  const auto& parts = context.song.parts;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    const auto other = stood_in_for(context, i);
    if (!other) continue;
    const song::Text& text = *parts[i].stands_in_for;
    if (*other == i) {
      context.say_both(Kind::StandsInForItself, text.span, "for itself", parts[i].name.span, "this part",
                       "the part " + diag::quoted(text.value) + " stands in for itself",
                       "`stand in for` names what this part replaces on the recording",
                       "name the players of the recording, such as violins, or take it away");
    } else if (stood_in_for(context, *other) == i && i < *other) {
      context.say_both(Kind::StandsInForItself, text.span, "this one for that", parts[*other].stands_in_for->span,
                       "and that one for this",
                       diag::quoted(parts[i].name.value) + " and " + diag::quoted(parts[*other].name.value) +
                           " stand in for each other",
                       "`stand in for` names what a part replaces on the recording",
                       "name the players of the recording in one of them");
    }
  }
}

void check_tab_alone(Context& context) {
  for (std::size_t p = 0; p < context.data.parts.size(); ++p) {
    const CheckedPart& part = context.data.parts[p];
    if (!part.def->staff || part.notation || !part.tab) continue;
    if (const song::Cell* pitch = first_pitch(context, p)) {
      const std::string& name = part.def->name.value;
      context.say_both(Kind::MarksContradict, pitch->span, "a pitch without a string", part.def->staff->span, "tab alone",
                       diag::quoted(name) + " is to be printed as tab, and this lane says pitches",
                       "tab shows frets on strings; where a lane says pitches a notation staff is printed too",
                       "write frets on the strings, or `staff: both`");
    }
  }
}

}  // namespace tunesheaf::check

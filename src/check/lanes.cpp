#include <algorithm>

#include "context.h"

namespace tunesheaf::check {
namespace {

using song::LaneKind;
using theory::Family;

bool for_the_chart(LaneKind kind) {
  switch (kind) {
    case LaneKind::Hits:
    case LaneKind::Lyric:
    case LaneKind::Say:
    case LaneKind::Count:
    case LaneKind::Dynamics:
    case LaneKind::Tempo:
    case LaneKind::Hold:
    case LaneKind::See:
    case LaneKind::From:
    case LaneKind::Mark:
      return true;
    default:
      return false;
  }
}

bool without_arm(const std::string& instrument) {
  constexpr std::string_view kNone =
      "|classical guitar|lap steel|ukulele|baritone ukulele|mandolin|mandola|octave mandolin|bouzouki|banjo|tenor "
      "banjo|Irish tenor banjo|cavaquinho|charango|";
  return among(kNone, instrument);
}

/// Why a mark makes no sense on an instrument.
std::string mark_misfit(const CheckedPart& part, const std::string& mark) {
  constexpr std::string_view kStrings =
      "|palm mute|half palm mute|rake|tremolo picking|barre|harmonics|pizzicato|snap pizzicato|near the bridge|over "
      "the "
      "neck|slide|body tap|";
  constexpr std::string_view kPitches = "|slur|legato|vibrato|8va|8vb|15ma|15mb|feedback|glissando|roll|";
  constexpr std::string_view kDrums = "|brushes|snares off|";
  const Family family = part.instrument.family;
  if (among(kStrings, mark) && part.strings() == 0) return "it is for instruments with strings";
  if (among(kPitches, mark) && part.drums()) return "drums have no pitches to join or to shift";
  if (among(kDrums, mark) && !part.drums()) return "it is for drums";
  if (mark == "mallets" && !part.drums() && family != Family::Keyed)
    return "it is for drums and for bars struck with mallets";
  if (mark == "let ring" && (family == Family::Voice || family == Family::Wind))
    return "a voice or a wind instrument does not ring on";
  if (mark == "with mute" && (part.drums() || family == Family::Voice || family == Family::Keyed))
    return "it is for instruments that have a mute";
  return "";
}

/// Why a lane cannot stand in a part; empty when it can.
std::string misfit(const CheckedPart& part, const PlacedLane& lane) {
  const LaneKind kind = lane.kind;
  const Family family = part.instrument.family;
  const bool drums = part.drums();
  const bool strings = part.strings() > 0;
  switch (kind) {
    case LaneKind::String:
    case LaneKind::Thumb:
    case LaneKind::StringOf:
    case LaneKind::FretOf:
    case LaneKind::Strum:
    case LaneKind::Pluck:
    case LaneKind::Pick:
    case LaneKind::Finger:
      return strings ? "" : "it is for instruments with strings";
    case LaneKind::Retune:
      if (lane.from_pattern) return "a pattern is played over and over; strings are retuned in a section";
      return strings ? "" : "it is for instruments with strings";
    case LaneKind::Cue:
      return lane.from_pattern ? "a pattern is played over and over; cues stand in a section" : "";
    case LaneKind::Clef:
      if (lane.from_pattern) return "a pattern has no staff of its own; clefs change in a section";
      if (drums) return "drums have no pitches for a clef to tell";
      if (lane.subject == "clef")
        return family == Family::Keyed ? "on keys a clef is for one hand: `right clef` or `left clef`" : "";
      return family == Family::Keyed ? "" : "it is for instruments with keys; elsewhere the lane is called `clef`";
    case LaneKind::Arm:
      return family == Family::Fretted && !without_arm(part.instrument.name)
                 ? ""
                 : "only electric guitars and basses have a vibrato bar";
    case LaneKind::Mark:
      return mark_misfit(part, lane.subject);
    case LaneKind::Bow:
      return family == Family::Bowed ? "" : "only bowed instruments have a bow";
    case LaneKind::Right:
    case LaneKind::Left:
    case LaneKind::Pedal:
      return family == Family::Keyed ? "" : "it is for instruments with keys";
    case LaneKind::Kit:
      return drums ? "" : "it is for drums";
    case LaneKind::Notes:
      return drums ? "drums have no pitches" : "";
    default:
      return "";
  }
}

void check_strings_exist(Context& context, const CheckedPart& part, const PlacedLane& lane) {
  if (lane.cells.empty() || lane.from_pattern) return;
  const auto say = [&](Span span, int string) {
    context.say(Kind::NoSuchString, span,
                "the part " + diag::quoted(part.def->name.value) + " has " + std::to_string(part.strings()) +
                    " strings, and this is for string " + std::to_string(string),
                "strings are counted from 1, the last in the tuning", "write it on a string the instrument has");
  };
  if ((lane.kind == LaneKind::String || lane.kind == LaneKind::Thumb) &&
      (lane.string > part.strings() || (lane.string < 1 && lane.kind == LaneKind::String)))
    return say(lane.cells.front().cell->span, lane.string);
  if (lane.kind == LaneKind::Thumb && lane.string == 0)
    return context.say(Kind::NoSuchString, lane.cells.front().cell->span, "this `thumb` lane does not say its string",
                       "outside a pattern the lane is called thumb 4, thumb 5 …", "add the string's number");
  for (const PlacedCell& cell : lane.cells) {
    if (lane.kind == LaneKind::FretOf && cell.string > part.strings())
      return say(cell.second ? cell.second->span : cell.cell->span, cell.string);
    if (const auto* strum = std::get_if<song::StrumSign>(&cell.cell->content))
      for (const auto& string : {strum->from_string, strum->to_string})
        if (string && (*string < 1 || *string > part.strings())) return say(cell.cell->span, *string);
  }
}

/// Notes of a part that its instrument does not have, the first of them low and the first of them high.
struct OutOfReach {
  const PlacedCell* cell = nullptr;
  theory::Pitch pitch{};
  int count = 0;
};

void find_out_of_reach(const Context& context, const CheckedPart& part, const PlacedLane& lane, OutOfReach& low,
                       OutOfReach& high) {
  for (const PlacedCell& cell : lane.cells) {
    const auto* sign = std::get_if<song::PitchSign>(&cell.cell->content);
    if (!sign) continue;
    std::vector<theory::Pitch> pitches = sign->pitches;
    pitches.insert(pitches.end(), sign->grace.begin(), sign->grace.end());
    if (sign->trill) pitches.push_back(*sign->trill);
    for (const theory::Pitch& pitch : pitches) {
      const int midi = pitch.midi() + context.data.page_capo;
      if (midi >= part.instrument.lowest && midi <= part.instrument.highest) continue;
      OutOfReach& found = midi < part.instrument.lowest ? low : high;
      if (found.count++ == 0) {
        found.cell = &cell;
        found.pitch = pitch;
      }
    }
  }
}

void say_out_of_reach(Context& context, const CheckedPart& part, const OutOfReach& found, bool low) {
  if (found.count == 0) return;
  const int up = context.data.page_capo;
  std::string sounding;
  if (up != 0) sounding = " (sounding " + theory::print(theory::plain_spelling(found.pitch.midi() + up)) + ")";
  std::string more;
  if (found.count > 1) more = "; so do " + std::to_string(found.count - 1) + " more notes of this part";
  if (found.count == 2) more = "; so does one more note of this part";
  context.say(Kind::OutOfRange, found.cell->cell->span,
              theory::print(found.pitch) + sounding + (low ? " lies below" : " lies above") + " what " +
                  with_article(part.instrument.name) + " plays" + more,
              "it reaches from " + theory::print(theory::plain_spelling(part.instrument.lowest - up)) + " to " +
                  theory::print(theory::plain_spelling(part.instrument.highest - up)) + " as written on this page",
              "look at the octave; C4 is middle C");
}

/// One message for a part and a side, however many notes lie there: a whole part an octave off is one mistake.
void check_range(Context& context, std::size_t index) {
  const CheckedPart& part = context.data.parts[index];
  if (part.drums()) return;
  OutOfReach low, high;
  for (const CheckedSection& section : context.data.sections)
    for (const PlacedLane& lane : section.parts[index].lanes) find_out_of_reach(context, part, lane, low, high);
  say_out_of_reach(context, part, low, true);
  say_out_of_reach(context, part, high, false);
}

using Moment = std::pair<int, Fraction>;

/// Where something is struck in this part.
std::set<Moment> attacks(const CheckedMusic& music) {
  std::set<Moment> out;
  for (const PlacedLane& lane : music.lanes) {
    if (!plays(lane.kind)) continue;
    for (const PlacedCell& cell : lane.cells)
      if (!std::holds_alternative<song::SilenceCell>(cell.cell->content)) out.insert({cell.bar, cell.onset});
  }
  for (const InForce& shape : music.shapes) out.insert({shape.bar, shape.onset});
  return out;
}

void check_attached(Context& context, const CheckedMusic& music) {
  std::optional<std::set<Moment>> struck;
  for (const PlacedLane& lane : music.lanes) {
    if (lane.from_pattern || !(lane.kind == LaneKind::Pluck || lane.kind == LaneKind::Pick ||
                               lane.kind == LaneKind::Finger || lane.kind == LaneKind::Bow))
      continue;
    if (!struck) struck = attacks(music);
    for (const PlacedCell& cell : lane.cells) {
      if (std::holds_alternative<song::SilenceCell>(cell.cell->content)) continue;
      if (struck->count({cell.bar, cell.onset}) > 0) continue;
      context.say(
          Kind::NothingToMark, cell.cell->span,
          "nothing is struck where the lane " + diag::quoted(lane.name) + " says " + context.words(cell.cell->span),
          "this lane marks notes that begin at the same place", "move it over a note, or write the note");
    }
  }
}

void check_music(Context& context, const CheckedMusic& music, const CheckedPart* part) {
  for (const PlacedLane& lane : music.lanes) {
    if (lane.cells.empty()) continue;
    if (!part) {
      if (for_the_chart(lane.kind)) continue;
      context.say(Kind::LaneNotForPart, lane.cells.front().cell->span,
                  "the lane " + diag::quoted(lane.name) + " stands in a chart",
                  "a chart holds what all players share: chords, hits, lyric, say, tempo, meter, key, dynamics, hold",
                  "write it in a part");
      continue;
    }
    if (const std::string why = misfit(*part, lane); !why.empty()) {
      context.say_both(
          Kind::LaneNotForPart, lane.cells.front().cell->span, "the lane " + diag::quoted(lane.name),
          part->def->instrument.span, "the instrument",
          "the part " + diag::quoted(part->def->name.value) + " cannot have the lane " + diag::quoted(lane.name), why,
          "write it in another part, or mend the instrument");
      continue;
    }
    check_strings_exist(context, *part, lane);
  }
  check_attached(context, music);
}

}  // namespace

void check_lanes(Context& context) {
  for (const CheckedSection& section : context.data.sections) {
    check_music(context, section.chart, nullptr);
    for (std::size_t p = 0; p < section.parts.size(); ++p)
      check_music(context, section.parts[p], &context.data.parts[p]);
  }
  for (std::size_t p = 0; p < context.data.parts.size(); ++p) check_range(context, p);
}

}  // namespace tunesheaf::check

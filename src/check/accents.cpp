// Accents of one sign that undo one another: soft and loud, short and held.
#include "context.h"

namespace tunesheaf::check {
namespace {

struct Loudness {
  const song::Accents* accents = nullptr;
  bool ghost = false, tied = false;
};

Loudness loudness_of(const song::CellContent& content) {
  if (const auto* sign = std::get_if<song::StringSign>(&content)) return {&sign->accents, sign->ghost, sign->tied};
  if (const auto* sign = std::get_if<song::StrumSign>(&content)) return {&sign->accents, sign->ghost, false};
  if (const auto* sign = std::get_if<song::PitchSign>(&content)) return {&sign->accents, sign->ghost, sign->tied};
  if (const auto* sign = std::get_if<song::DrumSign>(&content)) return {&sign->accents, sign->ghost, false};
  if (const auto* sign = std::get_if<song::PluckSign>(&content)) return {&sign->accents, false, false};
  return {};
}

void judge(Context& context, const PlacedCell& cell) {
  const Loudness sign = loudness_of(cell.cell->content);
  if (!sign.accents || !(sign.accents->any() || sign.ghost)) return;
  const auto say = [&](const std::string& what, const std::string& rule, const std::string& remedy) {
    context.say(Kind::MarksContradict, cell.cell->span, context.words(cell.cell->span) + " is " + what, rule, remedy);
  };
  const bool loud = sign.accents->accent || sign.accents->marcato;
  if (sign.ghost && loud)
    return say("a ghost note with an accent", "a ghost note is hardly there; > and ^ are struck harder",
               "take the brackets or the accent away");
  if (sign.accents->staccato && sign.accents->fermata)
    return say("short and held at once", "' is short, @ is held as long as one likes", "take one of them away");
  if (sign.tied && loud)
    return say("tied and accented", "a tied note is not struck again, so nothing can be accented",
               "strike the note, or take the accent away");
}

void judge_all(Context& context, const CheckedMusic& music) {
  for (const PlacedLane& lane : music.lanes)
    for (const PlacedCell& cell : lane.cells) judge(context, cell);
}

}  // namespace

void check_accents(Context& context) {
  for (const CheckedSection& section : context.data.sections) {
    judge_all(context, section.chart);
    for (const CheckedMusic& music : section.parts) judge_all(context, music);
  }
}

}  // namespace tunesheaf::check

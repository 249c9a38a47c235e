// What a cue holds: the notes of another part over bars in which its reader rests, in the reader's clef, key and
// transposition (Gould 2011).
#include <algorithm>

#include "staff_plan.h"

namespace tunesheaf::engrave {

theory::Pitch StaffPlan::pitch(int bar, theory::Pitch written) const {
  if (!cue) return written;
  const auto b = static_cast<std::size_t>(bar);
  const theory::Interval from = cue->own_keys[b].from_page, to = keys[b].from_page;
  const theory::Interval way{to.steps - from.steps, to.semitones - from.semitones};
  if (way == theory::Interval{}) return written;
  const auto moved = theory::transpose(written, way);
  return moved ? *moved : theory::spell(written.midi() + way.semitones, keys[b].key);
}

namespace {

/// The voices of a part on one of its staves sound somewhere in these bars.
bool sounds_on(const score::PartMusic& music, int staff, const score::Cue& cue) {
  return std::any_of(music.voices.begin(), music.voices.end(), [&](const score::Voice& voice) {
    for (auto b = static_cast<std::size_t>(cue.first); b < static_cast<std::size_t>(cue.behind); ++b)
      if (voice.staff == staff && b < voice.bars.size() && sounds(voice.bars[b])) return true;
    return false;
  });
}

/// Middle of all heads, half spaces over the middle line.
double middle_of(const StaffPlan& plan) {
  double sum = 0, count = 0;
  for (const StaffBar& bar : plan.bars)
    for (const Chord& chord : bar.chords)
      for (const Head& head : chord.heads) {
        sum += head.position;
        ++count;
      }
  return count > 0 ? sum / count : 0;
}

StaffPlan plan_cue(const SectionRequest& request, int reader, const score::Cue& cue) {
  const score::Timeline& timeline = *request.timeline;
  const score::Section& section = timeline.sections[static_cast<std::size_t>(request.section)];
  const auto part_of = [&](int part) -> const score::Part& { return timeline.parts[static_cast<std::size_t>(part)]; };
  const auto music_of = [&](int part) -> const score::PartMusic& {
    return section.parts[static_cast<std::size_t>(part)];
  };
  StaffPlan plan;
  plan.part = cue.part;
  plan.number = staff_number(reader, StaffKind::Chart);
  plan.drums = plays_drums(part_of(cue.part));
  if (plan.drums) plan.lines = part_of(cue.part).kit_lines;
  const score::PartMusic& music = music_of(cue.part);
  if (!sounds_on(music, 0, cue) && sounds_on(music, 1, cue)) plan.kind = StaffKind::Lower;
  // A drummer has no clef of pitches: there a cue is in the clef and key of who plays it.
  const bool own_clef = plan.drums || plays_drums(part_of(reader));
  const int as_read_by = own_clef ? cue.part : reader;
  plan.clef = clef_of(part_of(as_read_by), own_clef ? plan.kind : StaffKind::Notation);
  plan.octave_shift = part_of(as_read_by).octave_shift;
  plan.slashes = music.strummed;
  if (plan.slashes) plan.clef = ClefShape::None;
  plan.cue = CuePlan{reader, cue.first, cue.behind, {}, 0, cue.origin};
  for (std::size_t b = 0; b < section.bars.size(); ++b) {
    plan.cue->own_keys.push_back(score::staff_key(section, music, b));
    plan.keys.push_back(score::staff_key(section, music_of(as_read_by), b));
  }
  return plan;
}

/// Heads far from the staff are read an octave nearer, and the name says so.
int octaves_away(const StaffPlan& plan) {
  if (plan.drums || plan.slashes) return 0;
  constexpr double kFar = 6.5;
  const double middle = middle_of(plan);
  if (middle > kFar) return static_cast<int>((middle - kFar) / 7) + 1;
  return middle < -kFar ? -static_cast<int>((-kFar - middle) / 7) - 1 : 0;
}

}  // namespace

std::vector<StaffPlan> plan_cues(const SectionRequest& request, const std::vector<StaffPlan>& plans) {
  const score::Section& section = request.timeline->sections[static_cast<std::size_t>(request.section)];
  std::vector<StaffPlan> out;
  int reader = -1;
  for (const StaffPlan& staff : plans) {
    if (staff.part < 0 || staff.part == reader) continue;
    reader = staff.part;
    for (const score::Cue& cue : section.parts[static_cast<std::size_t>(reader)].cues) {
      StaffPlan plan = plan_cue(request, reader, cue);
      write_staff(request, plan);
      plan.cue->octaves = octaves_away(plan);
      if (plan.cue->octaves != 0) {
        plan.octave_shift -= plan.cue->octaves;
        plan.bars.clear();
        write_staff(request, plan);
      }
      out.push_back(std::move(plan));
    }
  }
  return out;
}

}  // namespace tunesheaf::engrave

// Cues on a system: small staves over the staves of a part that rests. In: the plans of a section's staves. Out:
// columns that leave room for the cues; their ink, put over the reader's staff before any row stands there. Invariant:
// their kinds all begin with "cue-", so that no cue counts as a note of its reader. Read next: staff_plan.h
// (plan_cues).
#pragma once
#include <deque>
#include <vector>

#include "draw.h"
#include "spacing.h"

namespace tunesheaf::engrave {

class CueStaves {
 public:
  CueStaves(const SectionRequest& request, const std::vector<StaffPlan>& plans) : plans_(plan_cues(request, plans)) {}

  /// As space_bars, with the cues' own columns and the room for their clefs.
  std::vector<BarSpacing> space(const SectionMusic& music);
  /// `lead`: what stands at the left of the system.
  void draw(const SystemContext& system, std::deque<StaffContext>& staves, const LeadIn& lead);

  const std::vector<StaffPlan>& plans() const { return plans_; }

 private:
  std::vector<StaffPlan> plans_;
};

/// Room at the left of a system for clef and key of the cues that go on there; nothing where none does.
Length cue_opening(const SectionMusic& music, int bar);

}  // namespace tunesheaf::engrave

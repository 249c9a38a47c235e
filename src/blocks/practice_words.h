// Sentences of a practice sheet. In: the plan of a section so far, and the student's attacks in order. Out: what to do
// in the first minutes, what to listen for, and cautions; each a whole sentence. Invariant: each sentence holds for
// this section: it is said because of something in it.
#pragma once
#include <string>
#include <vector>

#include "tunesheaf/blocks/practice_plan.h"

namespace tunesheaf::blocks {

std::vector<std::string> first_minutes(const Setting& setting, const PracticePlan& plan);
std::vector<std::string> listen_for(const Setting& setting, const PracticePlan& plan,
                                    const std::vector<const score::Event*>& events);
std::vector<std::string> cautions_for(const Setting& setting, const PracticePlan& plan,
                                      const std::vector<const score::Event*>& events);

}  // namespace tunesheaf::blocks

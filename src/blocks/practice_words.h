// Sentences of a practice sheet. In: the plan of a section so far, and the student's attacks in order. Out: the steps
// of learning it in order, what to listen for, what the ladder's figures mean, and cautions; each a whole sentence.
// Invariant: each sentence holds for this section: it is said because of something in it.
#pragma once
#include <string>
#include <vector>

#include "tunesheaf/blocks/practice_plan.h"

namespace tunesheaf::blocks {

std::vector<Step> route_of(const Setting& setting, const PracticePlan& plan,
                           const std::vector<const score::Event*>& events);
std::vector<std::string> listen_for(const Setting& setting, const PracticePlan& plan,
                                    const std::vector<const score::Event*>& events);
std::vector<std::string> about_ladder(const Setting& setting, const PracticePlan& plan);
std::vector<std::string> cautions_for(const Setting& setting, const PracticePlan& plan,
                                      const std::vector<const score::Event*>& events);

}  // namespace tunesheaf::blocks

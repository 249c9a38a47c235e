// The part of the audit that compares marks with what is expected of them one by one. In: a document, rules. Out:
// breaches "doubled", "wrong-height", "wrong-text", "odd-size", "broken-staff",
// "missing-mark" and "loose". Read next: paint/audit.h.
#pragma once
#include <vector>

#include "tunesheaf/paint/audit.h"

namespace tunesheaf::paint {

void check_places(const Document& document, const AuditRules& rules, std::vector<Breach>& out);

}  // namespace tunesheaf::paint

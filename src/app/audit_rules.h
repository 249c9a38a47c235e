// What the audit must know of our sheets: which kinds stand for notes, which may touch, which stand on lines. In: a
// sheet. Out: the rules for its pages. Invariant: a pair that is not listed may not touch. Read next: paint/audit.h.
#pragma once
#include "tunesheaf/paint/audit.h"
#include "tunesheaf/sheet/sheet.h"

namespace tunesheaf::app {

paint::AuditRules audit_rules(const sheet::Sheet& sheet);

}  // namespace tunesheaf::app

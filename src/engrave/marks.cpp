#include "draw.h"
#include "staff_context.h"

namespace tunesheaf::engrave {

void draw_marks(StaffContext& staff) {
  if (staff.plan.kind != StaffKind::Tab) draw_octave_lines(staff);
}

}  // namespace tunesheaf::engrave

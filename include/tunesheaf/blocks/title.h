// The head of a sheet, the text about the song, and the credits at its end. In: a Setting. Out: flows. The title block
// holds title, writer, lesson, key, meter, tempo, feel, the recordings and what their pitch means for the player; the
// square for the video stands beside it in the margin column. Read next: blocks/tuning.h.
#pragma once
#include "tunesheaf/blocks/setting.h"

namespace tunesheaf::blocks {

Flow title_block(const Setting& setting);
Flow about_text(const Setting& setting);
Flow credits(const Setting& setting);

}  // namespace tunesheaf::blocks

// The head of a sheet, the text about the song, and the credits at its end. In: a Setting. Out: flows. The title block
// holds title, writer, lesson, key, meter, tempo, feel, the recordings and what their pitch means for the player; the
// square for the video stands beside it in the margin column. Read next: blocks/tuning.h.
#pragma once
#include <memory>

#include "tunesheaf/blocks/setting.h"

namespace tunesheaf::blocks {

/// The band over the first page: as many lines as the first stringed part has strings (else six), thin to thick.
std::shared_ptr<const layout::Frame> head_ornament(const Setting& setting, base::Length width);
/// What the lesson's mark means, where something carries it.
std::shared_ptr<const layout::Frame> lesson_line(const Setting& setting);
bool has_lesson_choices(const score::Section& section);
Flow title_block(const Setting& setting);
Flow about_text(const Setting& setting);
Flow credits(const Setting& setting);

}  // namespace tunesheaf::blocks

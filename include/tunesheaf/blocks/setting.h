// What every block of a sheet is made from, and what a block is. In: the song in time, a style, the shaper, the signs,
// the choice of parts and recording. Out (of each block): a Flow, items for layout::break_pages from top to bottom,
// each as wide as the body, with its notes for the margin column. Invariant: blocks are pure: the same setting gives
// the same flow. Read next: blocks/title.h, blocks/section.h, sheet/sheet.h.
#pragma once
#include <vector>

#include "tunesheaf/layout/flow.h"
#include "tunesheaf/score/timeline.h"
#include "tunesheaf/style/style.h"
#include "tunesheaf/text/music_signs.h"
#include "tunesheaf/text/shaper.h"

namespace tunesheaf::blocks {

using Flow = std::vector<layout::FlowItem>;

struct Setting {
  const score::Timeline& song;
  const style::Style& style;
  text::Shaper& shaper;
  text::MusicFont& music;
  std::vector<int> parts;  ///< shown, as indices into Timeline::parts, top to bottom; none repeated
  int recording = -1;      ///< the one the player follows, as an index into Timeline::recordings; -1: none

  base::Length body() const { return style::body_width(style); }
  base::Length margin() const { return style.page.margin_column; }
  const score::Recording* followed() const {
    return recording < 0 ? nullptr : &song.recordings[static_cast<std::size_t>(recording)];
  }
};

/// True when something on this sheet is the teacher's own choice, so that its mark must be explained.
bool has_lesson_choices(const Setting& setting);

}  // namespace tunesheaf::blocks

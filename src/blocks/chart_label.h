// The label of a section on a chart. In: the section, the size. Out: a frame as wide as the column of labels: letter
// and name, times, loudness, who rests. Invariant: its first baseline stands chart_label_baseline()
// under its top. Read next: blocks/chart_page.h.
#pragma once
#include "pen.h"
#include "tunesheaf/blocks/chart_page.h"

namespace tunesheaf::blocks {

FramePtr chart_label(const Setting& setting, const ChartSection& section, const ChartSize& size);
Length chart_label_baseline(const ChartSize& size);

}  // namespace tunesheaf::blocks

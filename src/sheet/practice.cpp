#include "tunesheaf/sheet/practice.h"

#include <algorithm>

#include "expected.h"
#include "pages.h"
#include "tunesheaf/blocks/practice.h"

namespace tunesheaf::sheet {
namespace {

using blocks::SameMusic;

constexpr double kLarger = 1.18;

/// Larger staves, type and boxes, for one player on the far side of a stand; a narrower margin pays for it.
style::Style practice_style(const style::Style& style) {
  style::Style out = style::with_staff_space(style, style.staff_space * kLarger);
  for (style::TypeRole* role :
       {&out.body, &out.note, &out.label, &out.chord, &out.lyric, &out.figure, &out.direction, &out.small}) {
    role->size = role->size * kLarger;
  }
  out.box.medium = out.box.medium * kLarger;
  return out;
}

std::vector<int> students_parts(const HandoutRequest& request) {
  const auto& parts = request.song.parts;
  std::vector<int> out;
  for (const std::string& name : request.parts) {
    for (std::size_t i = 0; i < parts.size(); ++i) {
      if (parts[i].name.value == name) out.push_back(static_cast<int>(i));
    }
  }
  if (!out.empty() || parts.empty()) return out;
  const auto fretted = std::find_if(parts.begin(), parts.end(), [](const score::Part& part) {
    return part.instrument.family == theory::Family::Fretted;
  });
  return {fretted == parts.end() ? 0 : static_cast<int>(fretted - parts.begin())};
}

}  // namespace

Sheet make_practice(const HandoutRequest& request, const std::vector<int>& sections, diag::Sink& sink) {
  const score::Timeline& song = request.song;
  const style::Style style = practice_style(request.style);
  const blocks::Setting setting{song, style, request.shaper, request.music, students_parts(request), -1};
  blocks::Flow flow;
  std::vector<int> printed;
  for (const int section : sections) {
    // Named only where the sheet it would point to is here too.
    blocks::PracticePlan plan = blocks::practice_plan(setting, section);
    const bool here = plan.like && plan.like->new_bars.empty() &&
                      std::count(sections.begin(), sections.end(), plan.like->section) > 0;
    if (!here) printed.push_back(section);
    blocks::SectionBlock block =
        blocks::practice_block(setting, std::move(plan), here ? SameMusic::Named : SameMusic::Printed);
    report_widths(block, sink);
    for (auto& item : block.flow) flow.push_back(std::move(item));
  }
  flow.back().break_after = layout::BreakAfter::Allowed;
  Sheet sheet = blank_sheet(setting, "Practice sheets");
  sheet.pages = make_pages(setting, flow, sink);
  sheet.expected = expected_notes(setting, printed);
  return sheet;
}

}  // namespace tunesheaf::sheet

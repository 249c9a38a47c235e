#include "tunesheaf/sheet/practice.h"

#include <algorithm>

#include "expected.h"
#include "pages.h"
#include "tunesheaf/blocks/practice.h"

namespace tunesheaf::sheet {
namespace {

using base::Length;
using blocks::SameMusic;
using blocks::Setting;

/// How much larger than on a handout, for one player on the far side of a stand: the first is wanted, the others are
/// taken where they save a page.
constexpr double kLarger[] = {1.18, 1.1, 1.02};
constexpr int kLeastLines = 3, kMostLines = 12;  // to write on

/// Larger staves, type and boxes.
style::Style practice_style(const style::Style& style, double larger) {
  style::Style out = style::with_staff_space(style, style.staff_space * larger);
  for (style::TypeRole* role :
       {&out.body, &out.note, &out.label, &out.chord, &out.lyric, &out.figure, &out.direction, &out.small}) {
    role->size = role->size * larger;
  }
  out.box.medium = out.box.medium * larger;
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

/// One section on pages of its own: as large as costs no page, with lines to write on down to the foot of the last.
class SectionPages {
 public:
  SectionPages(const HandoutRequest& request, const blocks::PracticePlan& plan) : request_(request), plan_(plan) {}

  blocks::SectionBlock draw(SameMusic same) const {
    double larger = kLarger[0];
    std::size_t fewest = 0;
    Length left;
    for (const double tried : kLarger) {
      const Fill fill = measured(tried, same, kLeastLines);
      if (fewest != 0 && fill.pages >= fewest) continue;
      fewest = fill.pages;
      larger = tried;
      left = fill.left;
    }
    const int room = kLeastLines + static_cast<int>(std::max(0.0, left / blocks::kWritingPitch));
    const int lines = std::min(kMostLines, room);
    const bool fits = lines == kLeastLines || measured(larger, same, lines).pages == fewest;
    return block(larger, same, fits ? lines : kLeastLines);
  }

 private:
  blocks::SectionBlock block(double larger, SameMusic same, int lines) const {
    const style::Style style = practice_style(request_.style, larger);
    const Setting setting = setting_for(style);
    return blocks::practice_block(setting, plan_, same, lines);
  }
  Fill measured(double larger, SameMusic same, int lines) const {
    const Setting setting = setting_for(request_.style);
    return measure(setting, block(larger, same, lines).flow);
  }
  Setting setting_for(const style::Style& style) const {
    return Setting{request_.song, style, request_.shaper, request_.music, students_parts(request_), -1};
  }

  const HandoutRequest& request_;
  const blocks::PracticePlan& plan_;
};

}  // namespace

Sheet make_practice(const HandoutRequest& request, const std::vector<int>& sections, diag::Sink& sink) {
  const Setting setting{request.song, request.style, request.shaper, request.music, students_parts(request), -1};
  blocks::Flow flow;
  std::vector<int> printed;
  for (const int section : sections) {
    // Named only where the sheet it would point to is here too.
    const blocks::PracticePlan plan = blocks::practice_plan(setting, section);
    const bool here = plan.like && plan.like->new_bars.empty() &&
                      std::count(sections.begin(), sections.end(), plan.like->section) > 0;
    if (!here) printed.push_back(section);
    blocks::SectionBlock block = SectionPages(request, plan).draw(here ? SameMusic::Named : SameMusic::Printed);
    report_widths(block, sink);
    for (auto& item : block.flow) flow.push_back(std::move(item));
  }
  flow.back().break_after = layout::BreakAfter::Allowed;
  Sheet sheet = blank_sheet(setting, "Practice sheets");
  sheet.pages = make_pages(setting, flow, "practice sheets", sink);
  sheet.expected = expected_notes(setting, printed);
  return sheet;
}

}  // namespace tunesheaf::sheet

#include "tunesheaf/sheet/practice.h"

#include <algorithm>
#include <map>
#include <utility>

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
constexpr int kLeastLines = 2, kMostLines = 6;  // to write on

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

/// A section on pages of its own, with lines to write on down to the foot of the last.
class SectionPages {
 public:
  SectionPages(const HandoutRequest& request, blocks::PracticePlan plan, SameMusic same)
      : request_(request), plan_(std::move(plan)), same_(same) {}

  std::size_t pages(double larger) { return tried_.try_emplace(larger, laid_out(larger, {})).first->second.fill.pages; }

  /// In a size that pages() has tried. What is left of the last page is for writing, down to its foot.
  blocks::SectionBlock draw(double larger) {
    LaidOut best = std::move(tried_.at(larger));
    tried_.clear();
    const std::size_t pages = best.fill.pages;
    for (int lines = std::min(kMostLines, lines_in(best.fill.left)); lines >= kLeastLines; --lines) {
      LaidOut above = laid_out(larger, {lines, {}});
      if (above.fill.pages != pages) continue;
      LaidOut foot = laid_out(larger, {lines, std::max(base::Length{}, above.fill.left - base::Length::pt(1))});
      return std::move(foot.fill.pages == pages ? foot.block : above.block);
    }
    return std::move(best.block);
  }

  bool printed() const { return same_ == SameMusic::Printed; }
  int section() const { return plan_.section; }

 private:
  struct LaidOut {
    blocks::SectionBlock block;
    Fill fill;
  };
  static int lines_in(base::Length left) { return static_cast<int>(std::max(0.0, left / blocks::kWritingPitch)); }
  LaidOut laid_out(double larger, blocks::Writing writing) const {
    const style::Style style = practice_style(request_.style, larger);
    LaidOut out{blocks::practice_block(setting_for(style), plan_, same_, writing), {}};
    out.fill = measure(setting_for(request_.style), out.block.flow);
    return out;
  }
  Setting setting_for(const style::Style& style) const {
    return Setting{request_.song, style, request_.shaper, request_.music, students_parts(request_), -1};
  }

  const HandoutRequest& request_;
  blocks::PracticePlan plan_;
  SameMusic same_;
  std::map<double, LaidOut> tried_;  ///< by size, without lines
};

/// One size for all sheets of a song: the largest that takes no page more than another.
double size_of_all(std::vector<SectionPages>& all) {
  double best = kLarger[0];
  std::size_t fewest = 0;
  for (const double tried : kLarger) {
    std::size_t pages = 0;
    for (SectionPages& one : all) pages += one.pages(tried);
    if (fewest != 0 && pages >= fewest) continue;
    fewest = pages;
    best = tried;
  }
  return best;
}

}  // namespace

Sheet make_practice(const HandoutRequest& request, const std::vector<int>& sections, diag::Sink& sink) {
  const Setting setting{request.song, request.style, request.shaper, request.music, students_parts(request), -1};
  std::vector<SectionPages> all;
  for (const int section : sections) {
    // Named only where the sheet it would point to is here too.
    blocks::PracticePlan plan = blocks::practice_plan(setting, section);
    const bool here = plan.like && plan.like->new_bars.empty() &&
                      std::count(sections.begin(), sections.end(), plan.like->section) > 0;
    all.emplace_back(request, std::move(plan), here ? SameMusic::Named : SameMusic::Printed);
  }
  const double larger = size_of_all(all);
  blocks::Flow flow;
  std::vector<int> printed;
  for (SectionPages& one : all) {
    if (one.printed()) printed.push_back(one.section());
    blocks::SectionBlock block = one.draw(larger);
    report_widths(block, sink);
    for (auto& item : block.flow) flow.push_back(std::move(item));
  }
  flow.back().break_after = layout::BreakAfter::Allowed;
  Sheet sheet = blank_sheet(setting, "Practice sheets");
  sheet.pages = make_pages(setting, flow, "practice sheets", sink);
  sheet.expected = expected_notes(setting, printed);
  sheet.said = said_words(setting, printed);
  return sheet;
}

}  // namespace tunesheaf::sheet

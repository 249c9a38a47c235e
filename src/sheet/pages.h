// From a flow to pages. In: the flow of all blocks. Out: page frames with running lines; warnings for what is too high,
// too wide or has no letters. Invariant: every item of the flow stands on exactly one page.
#pragma once
#include <memory>
#include <string>
#include <vector>

#include "tunesheaf/blocks/section.h"
#include "tunesheaf/blocks/setting.h"
#include "tunesheaf/diag/diagnostic.h"
#include "tunesheaf/sheet/sheet.h"

namespace tunesheaf::sheet {

/// The paper less a strip of 5 mm, which few printers reach.
base::Rect printable_area(const style::Style& style);
/// What every sheet of a song says of itself: paper, ground, title, author, language, printable area.
Sheet blank_sheet(const blocks::Setting& setting, std::string subject);
/// Type of the lines at the foot of a page.
text::TextStyle running_style(const style::Style& style);
/// Bars too wide for their line, and sections set smaller for the sake of one.
void report_widths(const blocks::SectionBlock& block, diag::Sink& sink);
/// Characters on the page that no font has, each once; at `otherwise` where the text comes from no place in the song.
void report_missing_characters(const layout::Frame& page, source::Span otherwise, diag::Sink& sink);
/// How many pages a flow makes, the share of their height left empty, the last page aside, and the white at the foot of
/// the last.
struct Fill {
  std::size_t pages = 0;
  double empty = 0;
  base::Length left;
};
Fill measure(const blocks::Setting& setting, const blocks::Flow& flow, Binding binding = Binding::Alone);
/// `name`: of the sheet, beside the title at the foot of every page; may be empty.
std::vector<std::shared_ptr<const layout::Frame>> make_pages(const blocks::Setting& setting, const blocks::Flow& flow,
                                                             const std::string& name, diag::Sink& sink,
                                                             Binding binding = Binding::Alone);

}  // namespace tunesheaf::sheet

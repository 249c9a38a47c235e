#include "tunesheaf/sheet/legend.h"

#include <array>
#include <numeric>

#include "expected.h"
#include "pages.h"

namespace tunesheaf::sheet {
namespace {

/// Of a sheet's own staff space; the first is wanted, the others are for a page that is a little too short.
constexpr std::array kStaffs{0.6, 0.57, 0.54, 0.51};

/// Smaller staves, close together, over the whole width: nobody plays from this page.
style::Style legend_style(const style::Style& style, double staff) {
  style::Style out = style::with_staff_space(style, style.staff_space * staff);
  out.page.margin_column = {};
  out.page.column_gap = {};
  out.page.inner = out.page.outer = base::Length::mm(11);
  out.page.top = base::Length::mm(9);
  out.page.bottom = base::Length::mm(11);
  out.engraving.staff_gap = 2.5;
  out.engraving.tab_line_distance = 1.4;
  const base::Length least = base::Length::pt(7);
  out.section_name.size = out.title.size = base::Length::pt(15);
  out.heading.size = base::Length::pt(10.5);
  for (style::TypeRole* role : {&out.direction, &out.chord, &out.lyric})
    role->size = std::max(least, role->size * 0.85);
  out.note.size = least;
  return out;
}

}  // namespace

Sheet make_legend(const HandoutRequest& request, const std::vector<blocks::SignGroup>& groups, diag::Sink& sink) {
  std::vector<int> parts(request.song.parts.size());
  std::iota(parts.begin(), parts.end(), 0);
  style::Style style = legend_style(request.style, kStaffs.front());
  const blocks::Setting setting{request.song, style, request.shaper, request.music, parts, -1};
  blocks::SignPages pages = blocks::legend_page(setting, groups);
  constexpr std::size_t kOnePage = 2;  // the title and the columns under it
  const bool nearly = pages.flow.size() == kOnePage + 1;
  for (std::size_t i = 1; nearly && i < kStaffs.size() && pages.flow.size() > kOnePage; ++i) {
    style = legend_style(request.style, kStaffs[i]);
    pages = blocks::legend_page(setting, groups);
  }
  if (nearly && pages.flow.size() > kOnePage) {  // two pages in any case: then the larger staves
    style = legend_style(request.style, kStaffs.front());
    pages = blocks::legend_page(setting, groups);
  }
  for (const source::Span& place : pages.overfull) {
    sink.add(diag::Kind::SheetOverfull, place, "an example is wider than its column", "a sign stands in one column",
             "choose a style with a smaller staff space");
  }
  Sheet sheet = blank_sheet(setting, "Signs of staff and tab in plain words");
  sheet.pages = make_pages(setting, pages.flow, {}, sink);
  sheet.expected = expected_notes(setting);
  return sheet;
}

}  // namespace tunesheaf::sheet

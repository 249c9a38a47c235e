// Small pages for the tests of paint and export, drawn with the fixed shaper.
#pragma once
#include <memory>
#include <string>

#include "tunesheaf/paint/display_list.h"

namespace tunesheaf::paint::testing {

using base::Length;

inline base::Point at(double x, double y) {
  return {Length::pt(x), Length::pt(y)};
}
inline base::Size size(double w, double h) {
  return {Length::pt(w), Length::pt(h)};
}

inline layout::Stroke pen(double width) {
  return {Length::pt(width), base::kBlack, layout::Cap::Butt, {}};
}

inline layout::Item level_line(double x, double y, double length, Kind kind, double width = 0.5) {
  return {at(x, y), kind, Layer::Line, {}, {}, LineShape{at(length, 0), pen(width)}};
}

inline void words(layout::Frame& frame, base::Point where, const std::string& text, Kind kind, source::Span origin = {},
                  Subject subject = {}) {
  const auto shaper = text::make_fixed_shaper();
  const text::Line line = shaper->line(text, text::TextStyle{{"Lato"}, Length::pt(10), 0, false});
  layout::add_line(frame, where, line, base::kBlack, kind, origin, Layer::Text, subject);
}

/// A page with six tab lines, two figures on them, a title above and a slur over the figures.
inline layout::Frame tab_page() {
  layout::Frame page;
  page.size = size(200, 100);
  for (int i = 0; i < 6; ++i) page.items.push_back(level_line(20, 40 + 10 * i, 160, "tab-line"));
  // The fixed shaper's ink is 8 pt high above the baseline.
  words(page, at(50, 54), "7", "tab-figure", {0, 5, 6}, {0, 0, 0});
  words(page, at(90, 64), "12", "tab-figure", {0, 8, 10}, {0, 1, 0});
  words(page, at(20, 20), "Title", "title");
  page.items.push_back({at(50, 38),
                        "slur",
                        Layer::Ink,
                        {},
                        {},
                        PathShape{text::slur(at(0, 0), at(50, 0), Length::pt(-8), Length::pt(0.5), Length::pt(1)),
                                  base::kBlack, std::nullopt}});
  return page;
}

inline Document document_of(const layout::Frame& page) {
  Document document;
  document.title = "Test page";
  document.language = "en";
  document.pages.push_back(flatten(page, page.size));
  return document;
}

}  // namespace tunesheaf::paint::testing

// A document with text, signs, tab figures, links and bookmarks, set in the real fonts.
#pragma once
#include <stdexcept>

#include "tunesheaf/paint/display_list.h"
#include "tunesheaf/text/music_signs.h"
#include "tunesheaf/text/pango_shaper.h"

namespace tunesheaf::exporting::testing {

using base::Length;

inline base::Point at(double x, double y) {
  return {Length::pt(x), Length::pt(y)};
}

struct Press {
  Press() {
    auto opened = text::FontBook::open(text::FontBook::usual_folders());
    if (!opened) throw std::runtime_error(opened.error().message);
    fonts = std::move(opened.value());
    shaper = text::make_pango_shaper(*fonts);
    signs = std::make_unique<text::MusicFont>(*shaper);
  }
  std::unique_ptr<text::FontBook> fonts;
  std::unique_ptr<text::Shaper> shaper;
  std::unique_ptr<text::MusicFont> signs;

  std::shared_ptr<layout::Frame> frame(layout::Role role, const std::string& words, const std::string& family,
                                       text::Weight weight, double size) const {
    auto made = std::make_shared<layout::Frame>();
    made->role = role;
    text::TextStyle style;
    style.face = {family, weight, text::Slant::Upright};
    style.size = Length::pt(size);
    layout::add_line(*made, {}, shaper->line(words, style), base::kBlack, "words");
    return made;
  }

  /// Six tab lines with figures on them and a clef on a staff above.
  std::shared_ptr<layout::Frame> system() const {
    auto made = std::make_shared<layout::Frame>();
    made->role = layout::Role::Figure;
    const layout::Stroke thin{Length::pt(0.6), base::kBlack, layout::Cap::Butt, {}};
    for (int i = 0; i < 11; ++i) {
      made->items.push_back({at(0, i < 5 ? 6 * i : 40 + 9 * (i - 5)),
                             "staff-line",
                             layout::Layer::Line,
                             {},
                             {},
                             layout::LineShape{at(300, 0), thin}});
    }
    const text::Sign& clef = signs->sign(text::MusicSign::GClef, Length::pt(6));
    made->items.push_back(
        {at(2, 18), "clef", layout::Layer::Ink, {}, {}, layout::GlyphsShape{*clef.run, base::kBlack}});
    const text::Sign& flag = signs->sign(text::MusicSign::Flag8Up, Length::pt(6));
    made->items.push_back(
        {at(80, 3), "flag", layout::Layer::Ink, {}, {}, layout::PathShape{flag.path, base::kBlack, std::nullopt}});
    text::TextStyle style;
    style.face = {"Lato", text::Weight::Semibold, text::Slant::Upright};
    style.size = Length::pt(8);
    style.tabular = true;
    double x = 40;
    for (const char* figure : {"0", "12", "7", "10", "3"}) {
      layout::add_line(*made, at(x, 52), shaper->line(figure, style), base::kBlack, "tab-figure");
      x += 50;
    }
    return made;
  }

  paint::Document document() const {
    layout::Frame page;
    page.size = {Length::mm(210), Length::mm(297)};
    const auto title = frame(layout::Role::Heading1, "Käte’s waltz in B♭", "Gentium Plus", text::Weight::Bold, 24);
    title->items.push_back(
        {{}, "bookmark", layout::Layer::Overlay, {}, {}, layout::BookmarkShape{"Käte’s waltz", "top", 1}});
    page.children.push_back({at(60, 80), title});
    const auto section = std::make_shared<layout::Frame>();
    section->role = layout::Role::Section;
    section->items.push_back(
        {{}, "bookmark", layout::Layer::Overlay, {}, {}, layout::BookmarkShape{"A · Verse", "verse", 2}});
    section->children.push_back({{}, frame(layout::Role::Heading2, "Verse", "Lato", text::Weight::Bold, 12)});
    section->children.push_back(
        {at(0, 20), frame(layout::Role::None, "C♯m7♭5 F♯7 Bm", "Lato", text::Weight::Bold, 10)});
    section->children.push_back({at(0, 40), system()});
    section->items.push_back(
        {at(0, -12),
         "link",
         layout::Layer::Overlay,
         {},
         {},
         layout::LinkShape{{Length::pt(60), Length::pt(14)}, "https://example.org/watch?v=a'b&t=75"}});
    section->items.push_back({at(100, -12),
                              "link",
                              layout::Layer::Overlay,
                              {},
                              {},
                              layout::LinkShape{{Length::pt(60), Length::pt(14)}, "#top"}});
    section->items.push_back({at(200, -12),
                              "link",
                              layout::Layer::Overlay,
                              {},
                              {},
                              layout::LinkShape{{Length::pt(60), Length::pt(14)}, "#nowhere"}});
    page.children.push_back({at(60, 130), section});
    paint::Document made;
    made.title = "Käte’s waltz ♭";
    made.author = "A. Writer";
    made.subject = "Lesson 3";
    made.keywords = "guitar, waltz";
    made.language = "en-GB";
    made.pages.push_back(paint::flatten(page, page.size));
    layout::Frame second;
    second.size = {Length::pt(612), Length::pt(792)};
    second.children.push_back(
        {at(60, 80), frame(layout::Role::Paragraph, "The end, slowly", "Gentium Plus", text::Weight::Regular, 10)});
    made.pages.push_back(paint::flatten(second, second.size));
    return made;
  }
};

}  // namespace tunesheaf::exporting::testing

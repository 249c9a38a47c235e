// Times of single steps from text to bytes, by Google Benchmark: shaping, dump and parse, audit, PDF, PNG, SVG, on a
// page as full as a sheet's: staff lines, tab figures, heads, chord names and remarks.
#include <benchmark/benchmark.h>

#include <stdexcept>

#include "tunesheaf/export/player.h"
#include "tunesheaf/paint/audit.h"
#include "tunesheaf/text/music_signs.h"
#include "tunesheaf/text/pango_shaper.h"

namespace {

using namespace tunesheaf;  // NOLINT: a program of one file
using base::Length;
using base::Point;

Point at(double x, double y) {
  return {Length::pt(x), Length::pt(y)};
}

struct Press {
  Press() {
    auto opened = text::FontBook::open(text::FontBook::usual_folders());
    if (!opened) throw std::runtime_error(opened.error().message);
    fonts = std::move(opened.value());
    shaper = text::make_pango_shaper(*fonts);
  }
  std::unique_ptr<text::FontBook> fonts;
  std::unique_ptr<text::Shaper> shaper;
};

text::TextStyle style(const std::string& family, double size) {
  text::TextStyle made;
  made.face.family = family;
  made.size = Length::pt(size);
  return made;
}

void add_system(layout::Frame& page, Press& press, text::MusicFont& signs, double top) {
  const layout::Stroke thin{Length::pt(0.5), base::kBlack, layout::Cap::Butt, {}};
  for (int i = 0; i < 11; ++i) {
    page.items.push_back({at(50, top + (i < 5 ? 5 * i : 50 + 7.5 * (i - 5))),
                          "staff-line",
                          layout::Layer::Line,
                          {},
                          {},
                          layout::LineShape{at(400, 0), thin}});
  }
  const text::Sign& head = signs.sign(text::MusicSign::NoteheadBlack, Length::pt(5));
  for (int i = 0; i < 32; ++i) {
    const double x = 70 + 11.5 * i;
    page.items.push_back({at(x, top + 2.5 * (i % 9)),
                          "note-head",
                          layout::Layer::Ink,
                          {},
                          {},
                          layout::GlyphsShape{*head.run, base::kBlack}});
    page.items.push_back(
        {at(x, top + 2.5 * (i % 9)), "stem", layout::Layer::Line, {}, {}, layout::LineShape{at(0, 17), thin}});
    layout::add_line(page, at(x, top + 52 + 7.5 * (i % 6)),
                     press.shaper->line(std::to_string(i % 13), style("Lato", 7)), base::kBlack, "tab-figure");
  }
  for (int i = 0; i < 4; ++i) {
    layout::add_line(page, at(70 + 92 * i, top - 12), press.shaper->line("C♯m7", style("Lato", 9)), base::kBlack,
                     "chord");
  }
  const text::StyledText remark{"Let the thumb keep time while the fingers answer above it.", style("Gentium Plus", 8)};
  double y = top;
  for (const text::Line& line : press.shaper->paragraph({&remark, 1}, Length::pt(100), text::Alignment::Left, "en")) {
    layout::add_line(page, at(460, y += 10), line, base::kBlack, "remark");
  }
}

paint::Document sheet(Press& press, int pages) {
  text::MusicFont signs(*press.shaper);
  paint::Document document;
  document.title = "Bench";
  document.language = "en";
  for (int p = 0; p < pages; ++p) {
    layout::Frame page;
    page.size = {Length::mm(210), Length::mm(297)};
    for (int s = 0; s < 6; ++s) add_system(page, press, signs, 60 + 120 * s);
    document.pages.push_back(paint::flatten(page, page.size));
  }
  return document;
}

void open_fonts(benchmark::State& state) {
  for (auto unused : state) benchmark::DoNotOptimize(Press{});
}
BENCHMARK(open_fonts)->Unit(benchmark::kMillisecond);

void lay_out(benchmark::State& state) {
  for (auto unused : state) {
    Press press;
    benchmark::DoNotOptimize(sheet(press, 4));
  }
}
BENCHMARK(lay_out)->Unit(benchmark::kMillisecond);

void dump_and_parse(benchmark::State& state) {
  Press press;
  const paint::Document document = sheet(press, 4);
  std::string error;
  for (auto unused : state) benchmark::DoNotOptimize(paint::parse(paint::print(document), error));
}
BENCHMARK(dump_and_parse)->Unit(benchmark::kMillisecond);

void audit_pages(benchmark::State& state) {
  Press press;
  const paint::Document document = sheet(press, 4);
  for (auto unused : state) benchmark::DoNotOptimize(paint::audit(document, {}));
}
BENCHMARK(audit_pages)->Unit(benchmark::kMillisecond);

void pdf(benchmark::State& state) {
  Press press;
  const paint::Document document = sheet(press, static_cast<int>(state.range(0)));
  for (auto unused : state) {
    std::size_t bytes = 0;
    exporting::write_pdf(document, *press.fonts,
                         [&bytes](std::string_view more) { return (bytes += more.size()) > 0; });
    state.counters["bytes"] = static_cast<double>(bytes);
  }
}
BENCHMARK(pdf)->Arg(1)->Arg(4)->Arg(40)->Unit(benchmark::kMillisecond);

void png(benchmark::State& state) {
  Press press;
  const paint::Document document = sheet(press, 1);
  for (auto unused : state) exporting::write_png(document, 0, *press.fonts, 200, [](std::string_view) { return true; });
}
BENCHMARK(png)->Unit(benchmark::kMillisecond);

void svg(benchmark::State& state) {
  Press press;
  const paint::Document document = sheet(press, 1);
  for (auto unused : state) exporting::write_svg(document, 0, [](std::string_view) { return true; });
}
BENCHMARK(svg)->Unit(benchmark::kMillisecond);

}  // namespace

BENCHMARK_MAIN();

// A whole handout in one warm process: reading, theory and layout together against drawing the same pages, for songs by
// name and for generated ones of 10 to 10,000 bars; how both grow with the bars, and the memory held per bar.
//   bench_handout SONG.yaml…        prints the tables
//   bench_handout gate SONG.yaml…   and fails where a limit of the project is passed
#include <sys/resource.h>

#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <fstream>
#include <iterator>

#include "long_song.h"
#include "tunesheaf/check/checked.h"
#include "tunesheaf/export/player.h"
#include "tunesheaf/score/build.h"
#include "tunesheaf/sheet/sheet.h"
#include "tunesheaf/song/read.h"
#include "tunesheaf/style/style.h"
#include "tunesheaf/text/music_signs.h"
#include "tunesheaf/text/pango_shaper.h"
#include "tunesheaf/yaml/node.h"

namespace {

using namespace tunesheaf;  // NOLINT: a program of one file
using namespace bench;      // NOLINT: the same

[[noreturn]] void give_up(const std::string& why) {
  std::fputs((why + "\n").c_str(), stderr);
  std::exit(1);
}

struct Press {
  std::unique_ptr<text::FontBook> fonts;
  std::unique_ptr<text::Shaper> shaper;
  std::unique_ptr<text::MusicFont> music;
  style::Style style;
};

Press open_press() {
  auto fonts = text::FontBook::open(text::FontBook::usual_folders());
  if (!fonts) give_up(fonts.error().message);
  Press press{std::move(fonts.value()), {}, {}, style::house_style()};
  press.shaper = text::make_pango_shaper(*press.fonts);
  press.music = std::make_unique<text::MusicFont>(*press.shaper, press.style.music_family);
  return press;
}

struct Measure {
  double made = 0, drawn = 0;  ///< seconds of processor time
  std::size_t pages = 0, bytes = 0;
  long peak_kilobytes = 0;
};

score::Timeline timeline_of(const std::string& text) {
  source::Files files;
  diag::Sink sink;
  const source::File& file = files.file(files.add("bench.yaml", text));
  const auto root = yaml::read(file, sink);
  if (!root) give_up("the song cannot be read");
  auto song = song::read(*root, file, sink);
  if (!song) give_up("the song cannot be read");
  const auto checked = check::check(std::move(*song), file, sink);
  if (!checked) give_up(diag::print(sink.sorted(), files, diag::Format::People, false));
  return score::build(*checked);
}

Measure once(const std::string& text, Press& press) {
  Measure m;
  double begin = now();
  const score::Timeline timeline = timeline_of(text);
  diag::Sink sink;
  const sheet::Sheet sheet = sheet::make_handout({timeline, press.style, *press.shaper, *press.music, {}, {}}, sink);
  m.made = seconds(begin);
  begin = now();
  paint::Document document;
  for (const auto& page : sheet.pages) document.pages.push_back(paint::flatten(*page, press.style.page.paper));
  if (exporting::write_pdf(document, *press.fonts, [&m](std::string_view bytes) {
        m.bytes += bytes.size();
        return true;
      })) {
    give_up("the pages cannot be drawn");
  }
  m.drawn = seconds(begin);
  m.pages = sheet.pages.size();
  rusage usage{};
  getrusage(RUSAGE_SELF, &usage);
  m.peak_kilobytes = usage.ru_maxrss;
  return m;
}

Measure best_of(const std::string& text, Press& press, int times) {
  Measure best = once(text, press);
  for (int i = 1; i < times; ++i) {
    const Measure m = once(text, press);
    best.made = std::min(best.made, m.made);
    best.drawn = std::min(best.drawn, m.drawn);
  }
  return best;
}

std::string content_of(const std::string& path) {
  std::ifstream in(path, std::ios::binary);
  if (!in) give_up("cannot read " + path);
  return {std::istreambuf_iterator<char>(in), {}};
}

/// What four pages of the song take: fonts and all else that is there once are counted whole.
double four_pages_kilobytes(const Measure& m) {
  const double pages = static_cast<double>(std::max<std::size_t>(m.pages, 4));
  return static_cast<double>(m.bytes) / 1000 * (4 / pages);
}

}  // namespace

int main(int count, char** words) {
  const bool gate = count > 1 && std::strcmp(words[1], "gate") == 0;
  bool good = true;
  Press press = open_press();
  std::printf("%-32s pages  made ms  drawn ms  made/drawn   bytes  KB of 4 pages (at most 150)\n", "song");
  for (int i = gate ? 2 : 1; i < count; ++i) {
    const Measure m = best_of(content_of(words[i]), press, 15);
    std::printf("%-32s %5zu %8.2f %9.2f %11.2f %7zu %6.0f\n", words[i], m.pages, m.made * 1e3, m.drawn * 1e3,
                m.made / m.drawn, m.bytes, four_pages_kilobytes(m));
    good = good && m.made <= m.drawn && four_pages_kilobytes(m) < 150;
  }
  std::printf("   bars  pages   made ms  drawn ms  us/bar  peak KB\n");
  std::vector<double> sizes, times;
  for (const int bars : {10, 100, 1000, 10000}) {
    const Measure m = best_of(song_of(bars), press, std::max(1, 300 / bars));
    std::printf("%7d %6zu %9.2f %9.2f %7.1f %8ld\n", bars, m.pages, m.made * 1e3, m.drawn * 1e3, m.made * 1e6 / bars,
                m.peak_kilobytes);
    sizes.push_back(bars);
    times.push_back(m.made + m.drawn);
  }
  const double slope = exponent(sizes, times);
  std::printf("exponent of the time over the bars: %.3f\n", slope);
  good = good && slope <= 1.05;
  std::printf("%s\n", good ? "within the limits" : "beyond a limit: made as quickly as drawn, exponent 1.05");
  return gate && !good ? 1 : 0;
}

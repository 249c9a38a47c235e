// From YAML to Timeline on songs of 10 to 10,000 bars and four parts: seconds of each phase, how the expansion grows
// with the cells, its share of the time the YAML takes to read, and the bytes of the finished Timeline per event.
//   bench_timeline          prints the table
//   bench_timeline gate     and fails where a limit of the project is passed
#include <malloc.h>

#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <new>
#include <string>
#include <vector>

#include "long_song.h"
#include "tunesheaf/check/checked.h"
#include "tunesheaf/score/build.h"
#include "tunesheaf/song/read.h"
#include "tunesheaf/yaml/node.h"

namespace {
std::size_t live_bytes = 0;  // what the allocator really gave, its own header aside
}

void* operator new(std::size_t size) {
  void* memory = std::malloc(size);
  if (memory == nullptr) throw std::bad_alloc();
  live_bytes += malloc_usable_size(memory);
  return memory;
}
void operator delete(void* memory) noexcept {
  if (memory != nullptr) live_bytes -= malloc_usable_size(memory);
  std::free(memory);
}
void operator delete(void* memory, std::size_t) noexcept {
  operator delete(memory);
}

namespace {

using namespace tunesheaf;  // NOLINT: a program of one file
using namespace bench;      // NOLINT: the same

struct Measure {
  int bars = 0;
  double yaml = 0, song = 0, check = 0, build = 0, copy = 0;
  std::size_t cells = 0, events = 0, notes = 0, bytes = 0;
};

std::size_t cells_of(const check::CheckedData& data) {
  std::size_t cells = 0;
  for (const auto& section : data.sections)
    for (const auto& music : section.parts)
      for (const auto& lane : music.lanes) cells += lane.cells.size();
  return cells;
}

void once(const std::string& text, Measure& best) {
  source::Files files;
  diag::Sink sink;
  const source::File& file = files.file(files.add("long.yaml", text));
  double begin = now();
  const auto root = yaml::read(file, sink);
  const double yaml = seconds(begin);
  begin = now();
  auto song = song::read(*root, file, sink);
  const double read = seconds(begin);
  begin = now();
  const auto checked = check::check(std::move(*song), file, sink);
  const double check = seconds(begin);
  if (!checked) {
    std::fputs(diag::print(sink.sorted(), files, diag::Format::People, false).c_str(), stderr);
    std::exit(1);
  }
  const std::size_t before = live_bytes;
  begin = now();
  const score::Timeline timeline = score::build(*checked);
  const double build = seconds(begin);
  best.bytes = live_bytes - before;
  begin = now();
  const score::Timeline again = timeline;  // what its bytes alone cost: nothing is worked out
  const double copy = seconds(begin);
  if (again.events.size() != timeline.events.size()) std::exit(1);
  best.cells = cells_of(**checked);
  best.events = timeline.events.size();
  best.notes = 0;
  for (const auto& event : timeline.events) best.notes += event.notes.size();
  const auto least = [](double& value, double one) { value = value == 0 ? one : std::min(value, one); };
  least(best.yaml, yaml);
  least(best.song, read);
  least(best.check, check);
  least(best.build, build);
  least(best.copy, copy);
}

}  // namespace

int main(int count, char** words) {
  const bool gate = count > 1 && std::strcmp(words[1], "gate") == 0;
  std::vector<Measure> all;
  std::printf(
      "   bars   cells  events   notes   yaml ms   song ms  check ms  build ms   copy ms  build/yaml  copy/yaml  "
      "us/event  "
      "B/event\n");
  for (const int bars : {12, 40, 100, 400, 1000, 4000, 10000}) {
    const std::string text = song_of(bars);
    Measure m;
    m.bars = bars;
    for (int i = 0; i < std::clamp(4000 / bars, 3, 50); ++i) once(text, m);
    const auto events = static_cast<double>(m.events);
    std::printf("%7d %7zu %7zu %7zu %9.3f %9.3f %9.3f %9.3f %9.3f %11.3f %10.3f %9.3f %8.1f\n", m.bars, m.cells,
                m.events, m.notes, m.yaml * 1e3, m.song * 1e3, m.check * 1e3, m.build * 1e3, m.copy * 1e3,
                m.build / m.yaml, m.copy / m.yaml, m.build * 1e6 / events, static_cast<double>(m.bytes) / events);
    all.push_back(m);
  }
  std::vector<double> cells, builds;
  for (const Measure& m : all) {
    cells.push_back(static_cast<double>(m.cells));
    builds.push_back(m.build);
  }
  const double slope = exponent(cells, builds);
  const Measure& last = all.back();
  std::printf("exponent of build over cells: %.3f\n", slope);
  const bool good = slope <= 1.05 && last.build <= 0.1 * last.yaml && last.bytes < 200 * last.events;
  std::printf("%s\n", good ? "within the limits" : "beyond a limit: exponent 1.05, a tenth of the YAML, 200 bytes");
  return gate && !good ? 1 : 0;
}

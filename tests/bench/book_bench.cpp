// A book against its songs. Usage: bench_book [SONGS]. Writes generated songs (300 if not said), prints each as a
// handout one after another, then all as one book: with nothing kept, with one song changed, with nothing changed.
// Each way runs five times in turn and the least time counts, of each song for itself. Exit code 1 when the book takes
// more than 0.6 times the sum of its songs, or more than 0.5 times with one song changed.
#include <chrono>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <numeric>
#include <sstream>
#include <thread>

#include "generated/song.h"
#include "support/temp_dir.h"
#include "tunesheaf/app/commands.h"

namespace {

using namespace tunesheaf;  // NOLINT: a program of one file
namespace fs = std::filesystem;

double seconds_of(const std::vector<std::string>& words) {
  std::ostringstream out, err;
  const auto start = std::chrono::steady_clock::now();
  const int code = app::run(words, {out, err, false, false});
  const double seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
  if (code != 0) {
    std::cerr << words[0] << " ended with " << code << "\n" << err.str();
    std::exit(2);  // NOLINT: one thread
  }
  return seconds;
}

bool prints(const std::string& path) {
  std::ostringstream out, err;
  return app::run({"check", path}, {out, err, false, false}) == 0;
}

struct Times {
  double apart = 1e9, fresh = 1e9, changed = 1e9, same = 1e9;
};

}  // namespace

int main(int count, char** words) {
  const int songs = count > 1 ? std::atoi(words[1]) : 300;
  const support::TempDir folder;
  setenv("TUNESHEAF_STYLES", (fs::path(TUNESHEAF_SOURCE_DIR) / "styles").c_str(), 1);
  std::string book = "book: Generated Songs\nsongs:\n";
  std::vector<std::string> paths;
  for (int seed = 0; static_cast<int>(paths.size()) < songs; ++seed) {
    const std::string name = "song-" + std::to_string(seed) + ".yaml";
    const std::string path = folder.write(
        name, generated::write(generated::make_song(static_cast<std::uint64_t>(seed), generated::Size::Usual)));
    if (!prints(path)) continue;  // the generator now and then writes a song that check refuses
    paths.push_back(path);
    book += "  - " + name + "\n";
  }
  const std::string list = folder.write("book.yaml", book), target = folder.path() / "book.pdf";
  Times best;
  std::vector<double> each(paths.size(), 1e9);
  for (int round = 0; round < 5; ++round) {
    for (std::size_t i = 0; i < paths.size(); ++i) each[i] = std::min(each[i], seconds_of({"handout", paths[i]}));
    setenv("XDG_CACHE_HOME", (folder.path() / ("cache" + std::to_string(round))).c_str(), 1);
    best.apart = std::accumulate(each.begin(), each.end(), 0.0);
    best.fresh = std::min(best.fresh, seconds_of({"book", list, "-o", target}));
    std::ofstream(paths.back(), std::ios::app) << "# changed " << round << "\n";
    best.changed = std::min(best.changed, seconds_of({"book", list, "-o", target}));
    best.same = std::min(best.same, seconds_of({"book", list, "-o", target}));
  }
  std::cout << songs << " songs on " << std::thread::hardware_concurrency() << " cores\n"
            << "one after another " << best.apart << " s\n"
            << "book, nothing kept " << best.fresh << " s, " << best.fresh / best.apart << " times\n"
            << "book, one changed " << best.changed << " s, " << best.changed / best.apart << " times\n"
            << "book, none changed " << best.same << " s, " << best.same / best.apart << " times\n"
            << "book of " << fs::file_size(target) / 1024 << " KiB\n";
  return best.fresh <= 0.6 * best.apart && best.changed <= 0.5 * best.apart ? 0 : 1;
}

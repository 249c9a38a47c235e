// Times of the theory core, to be compared with one another in one run: naming a shape, all shapes of a chord, a song
// of 300 chords played another way. Absolute figures are only orientation.
#include <benchmark/benchmark.h>

#include <cstdio>
#include <map>
#include <string>
#include <vector>

#include "tunesheaf/theory/ear.h"
#include "tunesheaf/theory/finding.h"
#include "tunesheaf/theory/instead.h"
#include "tunesheaf/theory/naming.h"

namespace {

using namespace tunesheaf::theory;

const Tuning& guitar() {
  static const Tuning kGuitar = find_tuning("guitar", "usual").value();
  return kGuitar;
}

/// Found shapes of many kinds.
const std::vector<Shape>& shapes() {
  static const std::vector<Shape> kShapes = [] {
    std::vector<Shape> out;
    for (const char* name : {"C", "Am7", "G13", "F#m7b5", "Bbmaj9", "D/F#", "Esus4", "A7#9"}) {
      for (const FoundShape& s : find_shapes(parse_chord(name).value(), guitar())) out.push_back(s.shape);
    }
    return out;
  }();
  return kShapes;
}
/// The same as sounding keys.
const std::vector<std::vector<int>>& sounds() {
  static const std::vector<std::vector<int>> kSounds = [] {
    std::vector<std::vector<int>> out;
    for (const Shape& shape : shapes()) out.push_back(sounding_midi(guitar(), {}, shape));
    return out;
  }();
  return kSounds;
}

/// From frets to every name with its reasons: what naming one shape is.
void name_shape(benchmark::State& state) {
  std::size_t i = 0;
  for (auto _ : state) {
    benchmark::DoNotOptimize(name_candidates(sounding_midi(guitar(), {}, shapes()[i++ % shapes().size()])));
  }
}
BENCHMARK(name_shape);

/// The same with degrees, doublings and spelling, as `ear` tells it.
void hear_shape(benchmark::State& state) {
  std::size_t i = 0;
  for (auto _ : state) benchmark::DoNotOptimize(hear(guitar(), {}, shapes()[i++ % shapes().size()]));
}
BENCHMARK(hear_shape);

void name_first(benchmark::State& state) {
  std::size_t i = 0;
  for (auto _ : state) benchmark::DoNotOptimize(name_candidates(sounds()[i++ % sounds().size()], {}, 1));
}
BENCHMARK(name_first);

void name_all(benchmark::State& state) {
  std::size_t i = 0;
  for (auto _ : state) benchmark::DoNotOptimize(name_candidates(sounds()[i++ % sounds().size()]));
}
BENCHMARK(name_all);

void find(benchmark::State& state, const std::string& name, std::size_t most) {
  const ChordName chord = parse_chord(name).value();
  FindingLimits limits;
  limits.stretch_frets = 4;
  limits.most = most;
  std::size_t found = 0;
  for (auto _ : state) found = ranked_shapes(chord, guitar(), {}, limits).size();
  state.counters["shapes"] = static_cast<double>(found);
}
BENCHMARK_CAPTURE(find, all_of_C, "C", 0);
BENCHMARK_CAPTURE(find, all_of_Am7, "Am7", 0);
BENCHMARK_CAPTURE(find, all_of_D_over_Fsharp, "D/F#", 0);
BENCHMARK_CAPTURE(find, all_of_Gsus4, "Gsus4", 0);
BENCHMARK_CAPTURE(find, all_of_Cmaj9, "Cmaj9", 0);
BENCHMARK_CAPTURE(find, all_of_G13, "G13", 0);
BENCHMARK_CAPTURE(find, all_of_E7sharp9, "E7#9", 0);
BENCHMARK_CAPTURE(find, best_of_C, "C", 24);
BENCHMARK_CAPTURE(find, best_of_Am7, "Am7", 24);
BENCHMARK_CAPTURE(find, best_of_G13, "G13", 24);

void song_instead(benchmark::State& state) {
  std::vector<ChordName> song;
  const std::vector<const char*> names{"Eb", "Cm7", "Ab", "Bb7", "Gm", "Fm7", "Eb/G", "Bbsus4"};
  for (long i = 0; i < state.range(0); ++i) song.push_back(parse_chord(names[static_cast<std::size_t>(i) % 8]).value());
  for (auto _ : state) benchmark::DoNotOptimize(play_instead(song, guitar()));
  state.SetComplexityN(state.range(0));
}
BENCHMARK(song_instead)->Arg(75)->Arg(150)->Arg(300)->Arg(600)->Unit(benchmark::kMillisecond);

/// Keeps the processor time of each run, to set one against another.
class Keeper : public benchmark::ConsoleReporter {
 public:
  void ReportRuns(const std::vector<Run>& runs) override {
    for (const Run& run : runs) {
      if (run.iterations > 0) times_[run.benchmark_name()] = run.cpu_accumulated_time / double(run.iterations);
    }
    ConsoleReporter::ReportRuns(runs);
  }
  void tell(const std::string& what, const std::string& against) const {
    if (!times_.contains(what) || !times_.contains(against)) return;
    std::printf("%-26s is %8.1f times %s\n", what.c_str(), times_.at(what) / times_.at(against), against.c_str());
  }
  void tell_all() const {
    std::printf("\nRatios of processor time in this run\n");
    for (const auto& [name, time] : times_) {
      if (name.starts_with("find/all")) tell(name, "name_shape");
    }
    for (const auto& [name, time] : times_) {
      if (name.starts_with("find/all")) tell(name, "hear_shape");
    }
    for (const char* search : {"find/all_of_C", "find/all_of_Am7", "find/best_of_C", "find/best_of_Am7"}) {
      tell("song_instead/300", search);
    }
    tell("song_instead/300", "song_instead/75");
    tell("song_instead/600", "song_instead/300");
  }

 private:
  std::map<std::string, double> times_;
};

}  // namespace

int main(int count, char** words) {
  benchmark::Initialize(&count, words);
  Keeper keeper;
  benchmark::RunSpecifiedBenchmarks(&keeper);
  keeper.tell_all();
  return 0;
}

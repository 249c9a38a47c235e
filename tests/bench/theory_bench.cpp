// Times of the theory core, to be compared with one another in one run: naming a shape, all shapes of a chord, a song
// of 300 chords played another way. Absolute figures are only orientation.
#include <benchmark/benchmark.h>

#include <string>
#include <vector>

#include "tunesheaf/theory/finding.h"
#include "tunesheaf/theory/instead.h"
#include "tunesheaf/theory/naming.h"

namespace {

using namespace tunesheaf::theory;

const Tuning& guitar() {
  static const Tuning kGuitar = find_tuning("guitar", "usual").value();
  return kGuitar;
}

/// Found shapes of many kinds, as sounding keys.
const std::vector<std::vector<int>>& sounds() {
  static const std::vector<std::vector<int>> kSounds = [] {
    std::vector<std::vector<int>> out;
    for (const char* name : {"C", "Am7", "G13", "F#m7b5", "Bbmaj9", "D/F#", "Esus4", "A7#9"}) {
      for (const FoundShape& s : find_shapes(parse_chord(name).value(), guitar())) {
        out.push_back(sounding_midi(guitar(), {}, s.shape));
      }
    }
    return out;
  }();
  return kSounds;
}

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
  for (auto _ : state) benchmark::DoNotOptimize(find_shapes(chord, guitar(), {}, limits));
}
BENCHMARK_CAPTURE(find, all_of_C, "C", 0);
BENCHMARK_CAPTURE(find, all_of_Am7, "Am7", 0);
BENCHMARK_CAPTURE(find, all_of_G13, "G13", 0);
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

}  // namespace

BENCHMARK_MAIN();

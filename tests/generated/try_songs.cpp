// Songs by the thousand. Usage: try_songs FIRST COUNT [--shrink] [--size small|usual|large] [--print] [--only CAUSE]
// [--causes] [--each] [--sheet handout|chart|practice] Judges each song of the seeds FIRST, FIRST+1 …; counts faults by
// cause and prints one song (shrunk, when asked for) of each cause; with --each also a line for every song that is not
// clean. Exit code 1 when there was any.
#include <chrono>
#include <cstdlib>
#include <iostream>
#include <map>
#include <string>

#include "generated/judge.h"
#include "generated/shrink.h"
#include "generated/song.h"

namespace {

using namespace tunesheaf::generated;  // NOLINT: a program of one file

struct Cause {
  int songs = 0;
  std::uint64_t seed = 0;
  std::string seeds;  ///< the first few
  Failure first;
};

bool has(const std::vector<Failure>& failures, const std::string& key) {
  for (const Failure& failure : failures)
    if (failure.key == key) return true;
  return false;
}

}  // namespace

int main(int count, char** words) {
  if (count < 3) {
    std::cerr << "usage: try_songs FIRST COUNT [--shrink] [--size small|usual|large] [--print] [--causes] "
                 "[--only CAUSE] [--sheet handout|chart|practice]\n";
    return 2;
  }
  const std::uint64_t first = std::strtoull(words[1], nullptr, 10), songs = std::strtoull(words[2], nullptr, 10);
  bool shrinks = false, prints = false, names = false, each = false;
  Size size = Size::Usual;
  SheetKind sheet = SheetKind::Handout;
  std::string only;
  for (int i = 3; i < count; ++i) {
    const std::string word = words[i];
    if (word == "--shrink") shrinks = true;
    if (word == "--print") prints = true;
    if (word == "--causes") names = true;
    if (word == "--each") each = true;
    if (word == "small") size = Size::Small;
    if (word == "large") size = Size::Large;
    if (word == "chart") sheet = SheetKind::Chart;
    if (word == "practice") sheet = SheetKind::Practice;
    if (word == "--only" && i + 1 < count) only = words[++i];
  }
  std::map<std::string, Cause> causes;
  std::uint64_t clean = 0;
  const auto start = std::chrono::steady_clock::now();
  for (std::uint64_t seed = first; seed < first + songs; ++seed) {
    const std::string text = write(make_song(seed, size));
    if (prints) std::cout << text;
    std::map<std::string, Failure> found;
    for (const Failure& failure : judge(text, wish_for(seed, sheet))) found.emplace(failure.key, failure);
    clean += found.empty() ? 1 : 0;
    if (each && !found.empty()) {
      std::cout << "seed " << seed << " in " << wish_for(seed, sheet).style << ", " << wish_for(seed, sheet).paper << ":";
      for (const auto& entry : found) std::cout << " [" << entry.first << "]";
      std::cout << "\n";
    }
    for (const auto& [key, failure] : found) {
      Cause& cause = causes[key];
      if (cause.songs < 8) cause.seeds += (cause.songs > 0 ? " " : "") + std::to_string(seed);
      if (++cause.songs == 1) {
        cause.seed = seed;
        cause.first = failure;
      }
    }
  }
  const double seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
  for (const auto& entry : causes) {
    const std::string& key = entry.first;
    const Cause& cause = entry.second;
    if (names) {
      std::cout << key << "\n";
      continue;
    }
    std::cout << cause.songs << " songs: " << key << " (seeds " << cause.seeds << ")\n  " << cause.first.what << "\n";
    if (!shrinks || (!only.empty() && key != only)) continue;
    const Wish wish = wish_for(cause.seed, sheet);
    const Node small = shrink(
        make_song(cause.seed, size), [&](const Node& song) { return has(judge(write(song), wish), key); }, 600);
    std::cout << "--- " << wish.style << ", " << wish.paper << "\n" << write(small) << "---\n";
    for (const Failure& failure : judge(write(small), wish))
      std::cout << "  " << failure.key << ": " << failure.what << "\n";
  }
  (names ? std::cerr : std::cout) << clean << " of " << songs << " songs are clean; " << seconds << " s\n";
  return causes.empty() ? 0 : 1;
}

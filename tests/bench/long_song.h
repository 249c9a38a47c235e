// A song of any length for the benchmarks, the processor's clock, and how a measure grows. In: a number of bars. Out:
// the text of a song in four parts (guitar, bass, drums, fiddle) in sections of 80 bars.
#pragma once
#include <algorithm>
#include <cmath>
#include <ctime>
#include <string>
#include <vector>

namespace bench {

inline constexpr int kSection = 80;  // bars; a stanza holds four

/// Four bars of a part, with a few of the signs that players use.
inline std::string stanza(const std::string& part) {
  if (part == "guitar")
    return "      1       | 0 : - 3 : h5 : p3 | 5 : - : 3 : 0 | 7~ : - : 5 : 3 | 0 : - : . : - |\n"
           "      2       | 1 : 1 : 3 : 3 | 3 : - : 1 : - | - : 5 : 5 : 5 | 1 : - : - : - |\n"
           "      thumb 4 | 2 : - : 2 : - | 0 : - : 0 : - | 2 : - : 2 : - | 2 : - : 0 : - |\n";
  if (part == "bass")
    return "      4 | 3 : - 3 : - : 3 | 5 : - 5 : - : 5 | 3 : - 3 : - : 3 | 1 : - : - : - |\n"
           "      3 | - : - : 2 : - | - : - : 3 : - | - : - : 5 : - | - : 3 : 2 : 0 |\n";
  if (part == "drums")
    return "      hat   | x x : x x : x x : x x | % | x x : x x : x x : x o | % |\n"
           "      snare | - : x : - : x | % | % | - : x : - : x x |\n"
           "      kick  | x : - : x x : - | % | % | % |\n";
  return "      notes | E5 D5 : C5 : D5 : E5 | G5 : - : - : . | A5 G5 : F5 : E5 D5 : C5 | D5 : - : - : - |\n";
}

inline std::string song_of(int bars) {
  const std::vector<std::string> parts{"guitar", "bass", "drums", "fiddle"};
  std::string text =
      "song: Long Road\nkey: C major\nmeter: 4/4\ntempo: 100\nparts:\n  guitar: {instrument: guitar}\n"
      "  bass: {instrument: bass guitar}\n  drums: {instrument: drum kit}\n  fiddle: {instrument: violin}\nsections:\n";
  int number = 0;
  for (int done = 0; done < bars; done += kSection) {
    text += "  part " + std::to_string(++number) + ":\n";
    for (const std::string& part : parts) {
      text += "    " + part + ": |\n";
      for (int bar = done; bar < std::min(bars, done + kSection); bar += 4)
        text += (bar > done ? "\n" : "") + stanza(part);
    }
  }
  return text;
}

/// Seconds of this process on the processor: what else the machine does is not counted.
inline double now() {
  timespec at{};
  clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &at);
  return static_cast<double>(at.tv_sec) + static_cast<double>(at.tv_nsec) * 1e-9;
}
inline double seconds(double begin) {
  return now() - begin;
}

/// Slope of log(y) over log(x), by least squares.
inline double exponent(const std::vector<double>& xs, const std::vector<double>& ys) {
  double sx = 0, sy = 0, sxx = 0, sxy = 0;
  for (std::size_t i = 0; i < xs.size(); ++i) {
    const double x = std::log(xs[i]), y = std::log(ys[i]);
    sx += x, sy += y, sxx += x * x, sxy += x * y;
  }
  const auto n = static_cast<double>(xs.size());
  return (n * sxy - sx * sy) / (n * sxx - sx * sx);
}

}  // namespace bench

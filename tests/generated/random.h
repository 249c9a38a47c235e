// Numbers that are the same on every machine. In: a seed. Out: an endless row of numbers (SplitMix64, whose step and
// mixing constants are those of the published generator by Steele, Lea and Flood, 2014). Invariant: nothing of the
// standard library decides a value. Read next: generated/song.h.
#pragma once
#include <cstdint>
#include <initializer_list>
#include <string>
#include <utility>
#include <vector>

namespace tunesheaf::generated {

class Random {
 public:
  explicit Random(std::uint64_t seed) : state_(seed) {}

  std::uint64_t next() {
    std::uint64_t z = (state_ += 0x9E3779B97F4A7C15ULL);
    z = (z ^ (z >> 30U)) * 0xBF58476D1CE4E5B9ULL;
    z = (z ^ (z >> 27U)) * 0x94D049BB133111EBULL;
    return z ^ (z >> 31U);
  }

  /// 0 to n - 1; n is at least 1.
  int below(int n) { return static_cast<int>((next() >> 33U) % static_cast<std::uint64_t>(n)); }
  int between(int least, int most) { return least + below(most - least + 1); }
  bool chance(int percent) { return below(100) < percent; }

  template <class T>
  const T& pick(const std::vector<T>& from) {
    return from[static_cast<std::size_t>(below(static_cast<int>(from.size())))];
  }

  /// One of the values, each as likely as its weight says.
  template <class T>
  T weighed(std::initializer_list<std::pair<int, T>> choices) {
    int sum = 0;
    for (const auto& choice : choices) sum += choice.first;
    int at = below(sum);
    for (const auto& choice : choices) {
      if (at < choice.first) return choice.second;
      at -= choice.first;
    }
    return choices.begin()->second;
  }

  template <class T>
  void shuffle(std::vector<T>& row) {
    for (std::size_t i = row.size(); i > 1; --i)
      std::swap(row[i - 1], row[static_cast<std::size_t>(below(static_cast<int>(i)))]);
  }

 private:
  std::uint64_t state_;
};

}  // namespace tunesheaf::generated

// How much of generated damage the audit catches. Usage: damage_songs MOST SONG…
// Prints, for each kind of mark on the songs' pages, how many of the damages of each sort were caught.
#include <cstdlib>
#include <fstream>
#include <iostream>
#include <iterator>

#include "generated/damage.h"

int main(int count, char** words) {
  using namespace tunesheaf::generated;  // NOLINT: a program of one file
  if (count < 3) {
    std::cerr << "usage: damage_songs MOST SONG...\n";
    return 2;
  }
  Tally tally;
  for (int i = 2; i < count; ++i) {
    std::ifstream file(words[i], std::ios::binary);
    const std::string text{std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
    const auto pages = pages_of(text, {});
    if (!pages) {
      std::cerr << words[i] << " is refused\n";
      return 1;
    }
    damage(*pages, std::atoi(words[1]), tally);
  }
  std::array<Caught, 4> all{};
  for (const auto& [kind, caught] : tally) {
    std::cout << kind << ":";
    for (std::size_t d = 0; d < kDamages.size(); ++d) {
      std::cout << " " << kDamages[d] << " " << caught[d].caught << "/" << caught[d].done;
      all[d].done += caught[d].done;
      all[d].caught += caught[d].caught;
    }
    std::cout << "\n";
  }
  std::cout << "all:";
  for (std::size_t d = 0; d < kDamages.size(); ++d)
    std::cout << " " << kDamages[d] << " " << all[d].caught << "/" << all[d].done;
  std::cout << "\n";
  return 0;
}

// Intervals in words, as players say them: "up a major second", "down an octave and a minor third".
#include <array>
#include <string>

#include "tunesheaf/song/values.h"
#include "vocabulary.h"

namespace tunesheaf::song {
namespace {

using theory::Interval;

struct NumberWord {
  std::string_view word;
  int number;
};
constexpr std::array kNumbers = std::to_array<NumberWord>(
    {{"unison", 1},  {"second", 2}, {"2nd", 2},   {"third", 3},  {"3rd", 3},     {"fourth", 4},      {"4th", 4},
     {"fifth", 5},   {"5th", 5},    {"sixth", 6}, {"6th", 6},    {"seventh", 7}, {"7th", 7},         {"octave", 8},
     {"octaves", 8}, {"ninth", 9},  {"9th", 9},   {"tenth", 10}, {"10th", 10},   {"thirteenth", 13}, {"13th", 13}});

struct QualityWord {
  std::string_view word;
  char letter;
};
constexpr std::array kQualities = std::to_array<QualityWord>(
    {{"perfect", 'P'}, {"major", 'M'}, {"minor", 'm'}, {"augmented", 'A'}, {"diminished", 'd'}});

int number_of(const std::string& word) {
  for (const NumberWord& known : kNumbers)
    if (known.word == word) return known.number;
  return 0;
}

char quality_of(const std::string& word) {
  for (const QualityWord& known : kQualities)
    if (known.word == word) return known.letter;
  return 0;
}

/// "a major second", "an octave", "two octaves", "a fifth", "a whole tone".
std::optional<Interval> one_interval(std::vector<std::string> words) {
  if (words.size() == 2 && words.back() == "octaves") {
    const int count = words.front() == "two" ? 2 : words.front() == "three" ? 3 : words.front() == "four" ? 4 : 0;
    if (count == 0) return std::nullopt;
    return Interval{7 * count, 12 * count};
  }
  if (!words.empty() && (words.front() == "a" || words.front() == "an" || words.front() == "one"))
    words.erase(words.begin());
  using WordList = std::vector<std::string>;
  if (words == WordList{"tone"} || words == WordList{"whole", "tone"}) return Interval{1, 2};
  if (words == WordList{"semitone"} || words == WordList{"half", "tone"}) return Interval{1, 1};
  if (words.empty() || words.size() > 2) return std::nullopt;
  const int number = number_of(words.back());
  if (number == 0) return std::nullopt;
  const bool plain = number % 7 == 1 || number % 7 == 4 || number % 7 == 5;
  const char quality = words.size() == 2 ? quality_of(words.front()) : plain ? 'P' : '\0';
  if (quality == '\0') return std::nullopt;
  return theory::parse_interval(quality + std::to_string(number));
}

}  // namespace

std::optional<Interval> parse_transposition(std::string_view text) {
  const std::vector<std::string> words = split_blanks(text);
  if (words == std::vector<std::string>{"not", "at", "all"}) return Interval{};
  if (words.size() < 2 || (words.front() != "up" && words.front() != "down")) return std::nullopt;
  Interval sum;
  std::vector<std::string> term;
  for (std::size_t i = 1; i <= words.size(); ++i) {
    if (i < words.size() && words[i] != "and") {
      term.push_back(words[i]);
      continue;
    }
    const auto interval = one_interval(term);
    if (!interval) return std::nullopt;
    sum.steps += interval->steps;
    sum.semitones += interval->semitones;
    term.clear();
  }
  constexpr int kMost = 48;  // four octaves: no instrument is written further from where it sounds
  if (sum.semitones > kMost) return std::nullopt;
  if (words.front() == "down") sum = {-sum.steps, -sum.semitones};
  return sum;
}

}  // namespace tunesheaf::song

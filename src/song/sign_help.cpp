#include <algorithm>
#include <vector>

#include "signs.h"
#include "tunesheaf/base/edit_distance.h"
#include "vocabulary.h"

namespace tunesheaf::song {
namespace {

constexpr std::size_t kLongestCell = 24;  // a longer cell is not a slip of one or two letters

/// A cell with every number (or pitch) replaced by "0", and those numbers in order.
struct Skeleton {
  std::string text;
  std::vector<std::string> numbers;
};

std::size_t pitch_length(std::string_view text) {
  if (text.empty()) return 0;
  const char letter = text[0];
  if (!((letter >= 'A' && letter <= 'G') || (letter >= 'a' && letter <= 'g'))) return 0;
  std::size_t at = 1;
  while (at < text.size() && (text[at] == '#' || text[at] == 'b')) ++at;
  return at < text.size() && is_digit(text[at]) ? at + 1 : 0;
}

std::size_t number_length(std::string_view text) {
  std::size_t at = 0;
  while (at < text.size() && (is_digit(text[at]) || (at > 0 && text[at] == '.'))) ++at;
  return at;
}

Skeleton skeleton(std::string_view cell, bool pitches) {
  Skeleton made;
  for (std::size_t at = 0; at < cell.size();) {
    const std::size_t length = pitches ? pitch_length(cell.substr(at)) : number_length(cell.substr(at));
    if (length == 0) {
      made.text += cell[at++];
      continue;
    }
    std::string number(cell.substr(at, length));
    if (pitches && number[0] >= 'a') number[0] = static_cast<char>(number[0] - 'a' + 'A');
    made.text += '0';
    made.numbers.push_back(std::move(number));
    at += length;
  }
  return made;
}

/// How many of the letters of `wanted` stand in `known` as well; it decides between signs that are equally near.
std::size_t letters_kept(std::string_view wanted, std::string known) {
  std::size_t kept = 0;
  for (const char c : wanted) {
    const std::size_t at = known.find(c);
    if (at == std::string::npos) continue;
    known.erase(at, 1);
    ++kept;
  }
  return kept;
}

std::string filled(const Skeleton& shape, const std::vector<std::string>& numbers) {
  std::string text;
  std::size_t next = 0;
  for (const char c : shape.text) {
    if (c != '0') {
      text += c;
      continue;
    }
    text += next < numbers.size() ? numbers[next] : shape.numbers[next];
    ++next;
  }
  return text;
}

}  // namespace

std::string nearest_sign(const LanguageEntry& lane, std::string_view cell) {
  if (cell.size() > kLongestCell) return {};
  const bool pitches = sign_group(lane.lane) == "notes";
  const Skeleton wanted = skeleton(cell, pitches);
  std::vector<std::string> words;
  for (const LanguageEntry* sign : signs_of(lane.lane)) words.emplace_back(sign->word);
  for (const std::string& choice : choices_of(lane)) words.push_back(choice);
  std::string best;
  std::size_t least = wanted.text.size() < 3 ? 1 : 2, most_kept = 0;
  for (const std::string& word : words) {
    const Skeleton known = skeleton(word, pitches);
    const std::size_t distance = base::edit_distance(wanted.text, known.text);
    const std::size_t kept = letters_kept(wanted.text, known.text);
    if (distance > least || kept == 0 || (distance == least && kept <= most_kept)) continue;
    const std::string sign = filled(known, wanted.numbers);
    if (sign == cell || !parse_sign(lane, sign).ok()) continue;
    least = distance;
    most_kept = kept;
    best = sign;
  }
  return best;
}

std::string signs_listed(const LanguageEntry& lane) {
  std::string text;
  const auto append = [&](std::string_view word) { text += (text.empty() ? "" : "  ") + std::string(word); };
  for (const LanguageEntry* sign : signs_of(lane.lane)) {
    if (sign_group(lane.lane) != "spans") append(sign->word);
  }
  for (const std::string& choice : choices_of(lane)) append(choice);
  return text;
}

}  // namespace tunesheaf::song

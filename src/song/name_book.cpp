#include "name_book.h"

#include <algorithm>

#include "vocabulary.h"

namespace tunesheaf::song {
namespace {

std::string join(const std::vector<std::string>& words, std::size_t first, std::size_t count) {
  std::string text;
  for (std::size_t i = first; i < first + count; ++i) {
    if (i > first) text += ' ';
    text += words[i];
  }
  return text;
}

/// All of `words` by the longest names, where every word belongs to a name.
std::vector<NameRun> whole_reading(const std::vector<std::vector<std::size_t>>& lengths) {
  const std::size_t n = lengths.size();
  std::vector<char> readable(n + 1, 0);
  readable[n] = 1;
  for (std::size_t i = n; i-- > 0;) {
    for (const std::size_t length : lengths[i]) readable[i] = static_cast<char>(readable[i] | readable[i + length]);
  }
  std::vector<NameRun> runs;
  if (!readable[0]) return runs;
  for (std::size_t i = 0; i < n;) {
    const auto& here = lengths[i];
    const auto longest =
        std::find_if(here.begin(), here.end(), [&](std::size_t length) { return readable[i + length] != 0; });
    runs.push_back({i, *longest, true});
    i += *longest;
  }
  return runs;
}

/// Known names where they stand, the words between them as names that are not known.
std::vector<NameRun> broken_reading(const std::vector<std::vector<std::size_t>>& lengths) {
  std::vector<NameRun> runs;
  for (std::size_t i = 0; i < lengths.size();) {
    if (!lengths[i].empty()) {
      runs.push_back({i, lengths[i].front(), true});
      i += lengths[i].front();
    } else {
      if (!runs.empty() && !runs.back().known) {
        ++runs.back().count;
      } else {
        runs.push_back({i, 1, false});
      }
      ++i;
    }
  }
  return runs;
}

/// Another whole reading one of whose names crosses a border of `runs`.
std::vector<NameRun> crossing_reading(const std::vector<std::vector<std::size_t>>& lengths,
                                      const std::vector<NameRun>& runs) {
  const std::size_t n = lengths.size();
  std::vector<std::size_t> from(n + 1, 0), next_length(n + 1, 0);  // a way from the beginning; one to the end
  std::vector<char> reached(n + 1, 0), readable(n + 1, 0);
  std::vector<std::size_t> border(n + 1, 0);  // end of the run that holds the word
  for (const NameRun& run : runs) {
    for (std::size_t i = run.first; i < run.first + run.count; ++i) border[i] = run.first + run.count;
  }
  reached[0] = readable[n] = 1;
  for (std::size_t i = 0; i < n; ++i) {
    if (!reached[i]) continue;
    for (const std::size_t length : lengths[i]) {
      if (!reached[i + length]) from[i + length] = length;
      reached[i + length] = 1;
    }
  }
  for (std::size_t i = n; i-- > 0;) {
    for (const std::size_t length : lengths[i]) {
      if (!readable[i + length]) continue;
      if (!readable[i]) next_length[i] = length;
      readable[i] = 1;
    }
  }
  for (std::size_t i = 0; i < n; ++i) {
    if (!reached[i]) continue;
    for (const std::size_t length : lengths[i]) {
      if (i + length <= border[i] || !readable[i + length]) continue;
      std::vector<NameRun> other;
      for (std::size_t at = i; at > 0; at -= from[at]) other.push_back({at - from[at], from[at], true});
      std::reverse(other.begin(), other.end());
      other.push_back({i, length, true});
      for (std::size_t at = i + length; at < n; at += next_length[at]) other.push_back({at, next_length[at], true});
      return other;
    }
  }
  return {};
}

}  // namespace

void NameBook::add(std::string_view name) {
  const std::vector<std::string> words = split_blanks(name);
  if (words.empty()) return;
  std::string joined = join(words, 0, words.size());
  if (!names_.insert(joined).second) return;
  in_order_.push_back(std::move(joined));
  lengths_.insert(words.size());
}

std::vector<std::size_t> NameBook::lengths_at(const std::vector<std::string>& words, std::size_t first) const {
  std::vector<std::size_t> found;
  for (const std::size_t length : lengths_) {
    if (first + length <= words.size() && names_.count(join(words, first, length)) != 0) found.push_back(length);
  }
  return found;
}

NameReading NameBook::read(const std::vector<std::string>& words) const {
  NameReading reading;
  if (words.empty()) return reading;
  std::vector<std::vector<std::size_t>> lengths(words.size());
  for (std::size_t i = 0; i < words.size(); ++i) lengths[i] = lengths_at(words, i);
  reading.runs = whole_reading(lengths);
  if (reading.runs.empty()) {
    reading.runs = broken_reading(lengths);
  } else {
    reading.crossing = crossing_reading(lengths, reading.runs);
  }
  return reading;
}

}  // namespace tunesheaf::song

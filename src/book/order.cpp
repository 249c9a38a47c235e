#include "tunesheaf/book/order.h"

#include <algorithm>
#include <limits>
#include <numeric>

#include "tunesheaf/base/utf8.h"
#include "tunesheaf/book/retune_order.h"

namespace tunesheaf::book {
namespace {

using Songs = std::vector<const SongPages*>;
using Indices = std::vector<std::size_t>;

Indices all_of(const Songs& songs) {
  Indices out(songs.size());
  std::iota(out.begin(), out.end(), std::size_t{0});
  return out;
}

template <class Rank>
Indices sorted(const Songs& songs, const Rank& rank) {
  Indices out = all_of(songs);
  std::stable_sort(out.begin(), out.end(),
                   [&](std::size_t a, std::size_t b) { return rank(*songs[a]) < rank(*songs[b]); });
  return out;
}

/// Neighbours with the same heading together.
template <class Heading>
std::vector<SongGroup> grouped(const Songs& songs, const Indices& order, const Heading& heading) {
  std::vector<SongGroup> groups;
  for (const std::size_t i : order) {
    const std::string words = heading(*songs[i]);
    if (groups.empty() || groups.back().heading != words) groups.push_back({words, {}});
    groups.back().songs.push_back(i);
  }
  return groups;
}

std::vector<SongGroup> by_key(const Songs& songs) {
  const auto rank = [](const SongPages& song) {
    return std::make_pair(song.fifths.value_or(std::numeric_limits<int>::max()), song.minor);
  };
  Indices order = sorted(songs, rank);
  // Modes of one signature and side stand apart by their names.
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    const auto ra = rank(*songs[a]), rb = rank(*songs[b]);
    return ra != rb ? ra < rb : songs[a]->key < songs[b]->key;
  });
  return grouped(songs, order, [](const SongPages& song) { return song.fifths ? song.key : "No key stated"; });
}

/// The songs of one instrument by least retuning.
Indices retuned_least(const Songs& songs, const Indices& mine) {
  std::vector<Strings> tunings;
  for (const std::size_t i : mine) tunings.push_back(songs[i]->tuning.strings);
  const Strings& start = songs[mine.front()]->tuning.usual;
  Indices out;
  for (const std::size_t i : least_retuning(start, tunings).order) out.push_back(mine[i]);
  for (auto begin = out.begin(); begin != out.end();) {
    const Strings& tuning = songs[*begin]->tuning.strings;
    const auto end = std::find_if(begin, out.end(), [&](std::size_t i) { return songs[i]->tuning.strings != tuning; });
    std::stable_sort(begin, end,
                     [&](std::size_t a, std::size_t b) { return songs[a]->tuning.capo < songs[b]->tuning.capo; });
    begin = end;
  }
  return out;
}

std::vector<SongGroup> by_tuning(const Songs& songs) {
  Indices order, without;
  std::vector<std::pair<std::string, Indices>> instruments;
  for (const std::size_t i : all_of(songs)) {
    const SongTuning& tuning = songs[i]->tuning;
    if (tuning.strings.empty()) {
      without.push_back(i);
      continue;
    }
    // An instrument with another number of strings is another instrument.
    const std::string name = tuning.instrument + "/" + std::to_string(tuning.strings.size());
    const auto known = std::find_if(instruments.begin(), instruments.end(),
                                    [&](const auto& instrument) { return instrument.first == name; });
    if (known == instruments.end()) {
      instruments.push_back({name, {i}});
    } else {
      known->second.push_back(i);
    }
  }
  for (const auto& [name, mine] : instruments) {
    for (const std::size_t i : retuned_least(songs, mine)) order.push_back(i);
  }
  order.insert(order.end(), without.begin(), without.end());
  return grouped(songs, order, [](const SongPages& song) {
    return song.tuning.strings.empty() ? std::string("Without strings") : song.tuning.words;
  });
}

char32_t small_letter(char32_t c) {
  if (c >= U'A' && c <= U'Z') return c - U'A' + U'a';
  // Latin-1 and Latin Extended-A letters to their base letters, as far as English readers look for them there.
  static constexpr std::u32string_view kBase = U"aaaaaaaceeeeiiiidnooooo*ouuuuytsaaaaaaaceeeeiiiidnooooo*ouuuuyty";
  if (c >= 0xC0 && c <= 0xFF && kBase[c - 0xC0] != U'*') return kBase[c - 0xC0];
  return c;
}

bool is_digit(char32_t c) {
  return c >= U'0' && c <= U'9';
}

/// Leading zeros are passed over; the longer number is the larger.
int compare_numbers(const std::u32string& a, std::size_t& i, const std::u32string& b, std::size_t& k) {
  const auto digits = [](const std::u32string& text, std::size_t& at) {
    while (at + 1 < text.size() && text[at] == U'0' && is_digit(text[at + 1])) ++at;
    const std::size_t begin = at;
    while (at < text.size() && is_digit(text[at])) ++at;
    return text.substr(begin, at - begin);
  };
  const std::u32string x = digits(a, i), y = digits(b, k);
  if (x.size() != y.size()) return x.size() < y.size() ? -1 : 1;
  return x.compare(y);
}

}  // namespace

int compare_titles(const std::string& first, const std::string& second) {
  std::u32string a, b;
  for (const char32_t c : base::code_points(first)) a += small_letter(c);
  for (const char32_t c : base::code_points(second)) b += small_letter(c);
  std::size_t i = 0, k = 0;
  while (i < a.size() && k < b.size()) {
    if (is_digit(a[i]) && is_digit(b[k])) {
      if (const int way = compare_numbers(a, i, b, k); way != 0) return way;
    } else if (a[i] != b[k]) {
      return a[i] < b[k] ? -1 : 1;
    } else {
      ++i;
      ++k;
    }
  }
  return static_cast<int>(i < a.size()) - static_cast<int>(k < b.size());
}

std::vector<SongGroup> in_order(const Songs& songs, Order order) {
  if (songs.empty()) return {};
  switch (order) {
    case Order::Key:
      return by_key(songs);
    case Order::Tuning:
      return by_tuning(songs);
    case Order::Title: {
      Indices list = all_of(songs);
      std::stable_sort(list.begin(), list.end(), [&](std::size_t a, std::size_t b) {
        return compare_titles(songs[a]->title, songs[b]->title) < 0;
      });
      return {{"", list}};
    }
    case Order::Difficulty:
      return {{"", sorted(songs, [](const SongPages& song) { return song.difficulty.value_or(2.0); })}};
    case Order::AsGiven:
      break;
  }
  return {{"", all_of(songs)}};
}

}  // namespace tunesheaf::book

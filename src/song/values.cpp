#include "tunesheaf/song/values.h"

#include <algorithm>
#include <array>
#include <cstdint>
#include <string>

#include "signs.h"
#include "tunesheaf/base/number.h"
#include "vocabulary.h"

namespace tunesheaf::song {
namespace {

using base::Fraction;

bool all_digits(std::string_view text) {
  return !text.empty() && std::all_of(text.begin(), text.end(), is_digit);
}

std::optional<int> small_number(std::string_view text, std::size_t most_digits) {
  if (!all_digits(text) || text.size() > most_digits) return std::nullopt;
  return static_cast<int>(*base::parse_integer(text));
}

struct NoteWord {
  std::string_view word;
  int denominator;
};

constexpr std::array<NoteWord, 14> kNoteWords{{{"whole", 1},
                                               {"half", 2},
                                               {"quarter", 4},
                                               {"eighth", 8},
                                               {"8th", 8},
                                               {"8ths", 8},
                                               {"eighths", 8},
                                               {"sixteenth", 16},
                                               {"16th", 16},
                                               {"16ths", 16},
                                               {"sixteenths", 16},
                                               {"\xE2\x99\xA9", 4},  // the signs of Unicode for a quarter and an eighth
                                               {"\xE2\x99\xAA", 8},
                                               {"thirty-second", 32}}};

std::optional<Fraction> note_value(std::string_view word) {
  for (const NoteWord& known : kNoteWords) {
    if (known.word == word) return Fraction(1, known.denominator);
  }
  return std::nullopt;
}

/// "quarter", "dotted quarter", "dotted quarter note".
std::optional<Fraction> note_value(std::vector<std::string> words) {
  if (!words.empty() && words.back() == "note") words.pop_back();
  const bool dotted = words.size() == 2 && words.front() == "dotted";
  if (dotted) words.erase(words.begin());
  if (words.size() != 1) return std::nullopt;
  const auto value = note_value(std::string_view(words.front()));
  if (!value) return std::nullopt;
  return dotted ? *value * Fraction(3, 2) : *value;
}

std::string joined(const std::vector<std::string>& words) {
  std::string text;
  for (const std::string& word : words) text += (text.empty() ? "" : " ") + word;
  return text;
}

/// The words before a number: a note value, words of tempo, or both ("slowly, quarter").
bool read_tempo_words(std::vector<std::string> words, bool equals, TempoMark& mark) {
  if (words.empty()) return !equals;
  for (std::size_t unit_words = std::min<std::size_t>(3, words.size()); unit_words > 0; --unit_words) {
    const auto first = words.end() - static_cast<std::ptrdiff_t>(unit_words);
    if (const auto unit = note_value(std::vector<std::string>(first, words.end()))) {
      mark.unit = *unit;
      mark.unit_stated = true;
      words.erase(first, words.end());
      break;
    }
  }
  if (equals && !mark.unit_stated) return false;
  mark.words = joined(words);
  if (!mark.words.empty() && mark.words.back() == ',') mark.words.pop_back();
  return true;
}

}  // namespace

std::optional<Fraction> parse_exact(std::string_view text) {
  const std::size_t point = text.find('.');
  const std::string_view whole = text.substr(0, point);
  if (!all_digits(whole) || whole.size() > 6) return std::nullopt;
  const Fraction value(*base::parse_integer(whole));
  if (point == std::string_view::npos) return value;
  const std::string_view part = text.substr(point + 1);
  if (!all_digits(part) || part.size() > 4) return std::nullopt;
  std::int64_t scale = 1;
  for (std::size_t i = 0; i < part.size(); ++i) scale *= 10;
  return value + Fraction(*base::parse_integer(part), scale);
}

std::optional<Fraction> parse_time(std::string_view text) {
  const std::size_t last = text.rfind(':');
  if (last == std::string_view::npos) return std::nullopt;
  const std::string_view seconds_text = text.substr(last + 1);
  const auto seconds = parse_exact(seconds_text);
  if (!seconds || seconds_text.size() < 2 || !is_digit(seconds_text[1]) || *seconds >= Fraction(60)) {
    return std::nullopt;
  }
  if (seconds_text.size() > 2 && seconds_text[2] != '.') return std::nullopt;
  const std::string_view front = text.substr(0, last);
  const std::size_t first = front.find(':');
  if (first == std::string_view::npos) {
    const auto minutes = small_number(front, 3);
    if (!minutes) return std::nullopt;
    return Fraction(*minutes * 60) + *seconds;
  }
  const auto hours = small_number(front.substr(0, first), 2);
  const auto minutes = small_number(front.substr(first + 1), 2);
  if (!hours || !minutes || *minutes >= 60 || front.size() - first != 3) return std::nullopt;
  return Fraction(*hours * 3600 + *minutes * 60) + *seconds;
}

std::optional<TempoMark> parse_tempo(std::string_view text) {
  std::vector<std::string> words = split_blanks(text);
  if (words.empty()) return std::nullopt;
  TempoMark mark;
  const auto number = parse_exact(words.back());
  if (!number) {
    const bool numeric = std::any_of(text.begin(), text.end(), [](char c) { return is_digit(c) || c == '='; });
    if (numeric) return std::nullopt;
    mark.words = joined(words);
    return mark;
  }
  if (*number < Fraction(10) || *number > Fraction(600)) return std::nullopt;
  mark.per_minute = *number;
  words.pop_back();
  const bool equals = !words.empty() && words.back() == "=";
  if (equals) words.pop_back();
  const bool numeric = std::any_of(words.begin(), words.end(), [](const std::string& word) {
    return word.find('=') != std::string::npos || all_digits(word);
  });
  if (numeric || !read_tempo_words(words, equals, mark)) return std::nullopt;
  return mark;
}

std::optional<Feel> parse_feel(std::string_view text) {
  const std::vector<std::string> words = split_blanks(text);
  Feel feel;
  feel.words = joined(words);
  if (words.size() == 1 && words.front() == "straight") return feel;
  if (words.empty() || words.size() > 3 || words.front() != "swing") return std::nullopt;
  feel.unit = Fraction(1, 8);
  feel.first = Fraction(2);
  std::size_t at = 1;
  if (at < words.size()) {
    if (const auto unit = note_value(std::string_view(words[at]))) {
      if (*unit != Fraction(1, 8) && *unit != Fraction(1, 16)) return std::nullopt;
      feel.unit = *unit;
      ++at;
    }
  }
  if (at == words.size()) return feel;
  const std::size_t colon = words[at].find(':');
  if (at + 1 != words.size() || colon == std::string::npos) return std::nullopt;
  const auto first = small_number(words[at].substr(0, colon), 2);
  const auto second = small_number(words[at].substr(colon + 1), 2);
  if (!first || !second || *first == 0 || *second == 0) return std::nullopt;
  feel.first = Fraction(*first);
  feel.second = Fraction(*second);
  return feel;
}

std::optional<PickUp> parse_pick_up(std::string_view text) {
  const std::vector<std::string> words = split_blanks(text);
  if (words == std::vector<std::string>{"half", "a", "beat"}) return PickUp{true, Fraction(1, 2)};
  if (words.empty() || words.size() > 2) return std::nullopt;
  const std::size_t slash = words.front().find('/');
  if (slash != std::string::npos) {
    const auto upper = small_number(words.front().substr(0, slash), 2);
    const auto lower = small_number(words.front().substr(slash + 1), 2);
    if (!upper || !lower || *upper == 0 || *lower == 0) return std::nullopt;
    const bool beats = words.size() == 2;
    if (beats && words.back() != "beat" && words.back() != "beats") return std::nullopt;
    return PickUp{beats, Fraction(*upper, *lower)};
  }
  if (words.size() != 2 || (words.back() != "beat" && words.back() != "beats")) return std::nullopt;
  const auto amount = parse_exact(words.front());
  if (!amount || *amount <= Fraction(0) || *amount > Fraction(99)) return std::nullopt;
  return PickUp{true, *amount};
}

bool is_language_tag(std::string_view text) {
  const auto letter = [](char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'); };
  const std::size_t language = std::min(text.find('-'), text.size());
  if (language < 2 || language > 3 || !std::all_of(text.begin(), text.begin() + static_cast<long>(language), letter)) {
    return false;
  }
  std::size_t length = 1;  // of the subtag so far; the language is one already
  for (const char c : text.substr(language)) {
    if (c == '-') {
      if (length == 0) return false;
      length = 0;
    } else if ((!letter(c) && !is_digit(c)) || ++length > 8) {
      return false;
    }
  }
  return length > 0;
}

bool is_web_address(std::string_view text) {
  const std::size_t colon = text.find("://");
  if (colon == std::string_view::npos) return false;
  std::string scheme(text.substr(0, colon));
  for (char& c : scheme) c = c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
  if (scheme != "http" && scheme != "https") return false;
  const std::string_view rest = text.substr(colon + 3);
  return !rest.empty() && rest.find_first_of(" \t\n\"<>") == std::string_view::npos &&
         std::string_view("/?#:").find(rest.front()) == std::string_view::npos;
}

std::vector<int> parse_passes(std::string_view text) {
  std::vector<int> passes;
  std::size_t begin = 0;
  while (begin <= text.size()) {
    const std::size_t comma = std::min(text.find(',', begin), text.size());
    const std::string item = single_blanks(text.substr(begin, comma - begin));
    const std::size_t dash = item.find('-');
    const auto first = small_number(item.substr(0, dash), 2);
    const auto last = dash == std::string::npos ? first : small_number(item.substr(dash + 1), 2);
    if (!first || !last || *first < 1 || *last < *first) return {};
    for (int pass = *first; pass <= *last; ++pass) {
      if (std::find(passes.begin(), passes.end(), pass) != passes.end()) return {};
      passes.push_back(pass);
    }
    begin = comma + 1;
  }
  return passes;
}

}  // namespace tunesheaf::song

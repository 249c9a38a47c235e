#include "tunesheaf/blocks/words.h"

#include <array>
#include <cmath>
#include <string_view>

#include "tunesheaf/base/number.h"
#include "tunesheaf/theory/key.h"

namespace tunesheaf::blocks {

namespace {

std::string two_digits(std::int64_t n) {
  return (n < 10 ? "0" : "") + std::to_string(n);
}

std::string cents_text(double cents) {
  return base::print_decimal(std::abs(cents), 1) + (std::abs(std::abs(cents) - 1) < 0.05 ? " cent" : " cents");
}

struct Split {
  int semitones;
  double cents;
};
Split split(double cents) {
  const int semitones = static_cast<int>(std::lround(cents / 100));
  double rest = cents - 100.0 * semitones;
  if (std::abs(rest) < 0.05) rest = 0;
  return {semitones, rest};
}

}  // namespace

std::string clock(const base::Fraction& seconds) {
  const std::int64_t all = seconds.floor();
  const std::int64_t hours = all / 3600, minutes = all / 60 % 60;
  return (hours > 0 ? std::to_string(hours) + ":" + two_digits(minutes) : std::to_string(minutes)) + ":" +
         two_digits(all % 60);
}

std::string clock(double seconds) {
  // A hair added, so that a sum of exact bars that comes out as 6.9999… is 7.
  return clock(base::Fraction(static_cast<std::int64_t>(std::floor(seconds + 1e-6))));
}

std::string ordinal(int n) {
  const char* end = "th";
  if (n / 10 % 10 != 1 && n % 10 >= 1 && n % 10 <= 3) end = n % 10 == 1 ? "st" : n % 10 == 2 ? "nd" : "rd";
  return std::to_string(n) + end;
}

std::string counted(int count, const std::string& one, const std::string& many) {
  return std::to_string(count) + " " + (count == 1 ? one : many);
}

std::string times_words(const score::Section& section) {
  std::string count = section.times == 1   ? "once"
                      : section.times == 2 ? "twice"
                                           : std::to_string(section.times) + " times";
  if (section.about) count = "about " + count;
  if (section.until.empty()) return count;
  return "until " + section.until + (section.about ? " (" + count + ")" : "");
}

std::string pitch_words(double cents, const std::string& page) {
  const auto [semitones, rest] = split(cents);
  if (semitones == 0 && rest == 0) return "exactly at the pitch of " + page;
  if (semitones == 0) return cents_text(rest) + (rest > 0 ? " sharp of " : " flat of ") + page;
  const std::string steps = counted(std::abs(semitones), "semitone", "semitones");
  const std::string side = (semitones > 0 ? " above " : " below ") + page;
  if (rest == 0) return steps + side;
  if ((rest > 0) == (semitones > 0)) return steps + " and " + cents_text(rest) + side;
  return steps + side + ", and " + cents_text(rest) + (rest > 0 ? " sharp of that" : " flat of that");
}

std::string pitch_advice(double cents, int capo) {
  const auto [semitones, rest] = split(cents);
  std::string out;
  const int n = std::abs(semitones);
  if (semitones > 0) {
    out = capo > 0 ? "Move the capo up " + counted(n, "fret", "frets")
                   : "Put a capo on at fret " + std::to_string(semitones);
  } else if (semitones < 0) {
    out = capo == n  ? "Take the capo off"
          : capo > n ? "Move the capo down " + counted(n, "fret", "frets")
                     : "Tune every string down " + counted(n, "semitone", "semitones");
  }
  if (rest != 0) {
    out += out.empty() ? "Set" : " and set";
    // No-break spaces keep the reference on one line.
    out += " the tuner to A4\u00a0=\u00a0" + base::print_decimal(tuner_reference(cents), 1) + "\u00a0Hz";
  }
  return out.empty() ? out : out + " to play along.";
}

double tuner_reference(double cents) {
  return 440.0 * std::exp2(split(cents).cents / 1200.0);
}

std::string with_signs(const std::string& chord) {
  std::string out;
  const auto digit_at = [&](std::size_t i) { return i < chord.size() && chord[i] >= '0' && chord[i] <= '9'; };
  for (std::size_t i = 0; i < chord.size(); ++i) {
    const char c = chord[i];
    const char before = i > 0 ? chord[i - 1] : '\0';
    const bool after_root = before >= 'A' && before <= 'G' && (i == 1 || chord[i - 2] == '/');
    if ((c == 'b' || c == '#') && (after_root || digit_at(i + 1))) {
      out += c == 'b' ? "\u266d" : "\u266f";
    } else {
      out += c;
    }
  }
  return out;
}

double string_cents(double cents, int capo) {
  const auto [semitones, rest] = split(cents);
  const bool by_capo = semitones > 0 || capo >= -semitones;
  return by_capo ? rest : cents;
}

std::string sentence_end(std::string text) {
  if (text.empty() || std::string_view(".!?").find(text.back()) != std::string_view::npos) return text;
  return text + ".";
}

std::string date_words(const std::string& text) {
  constexpr std::array kMonths = {"January", "February", "March",     "April",   "May",      "June",
                                  "July",    "August",   "September", "October", "November", "December"};
  if (text.size() != 10 || text[4] != '-' || text[7] != '-') return text;
  const auto number = [&](std::size_t from, std::size_t count) {
    int out = 0;
    for (std::size_t i = from; i < from + count; ++i) {
      if (text[i] < '0' || text[i] > '9') return -1;
      out = out * 10 + (text[i] - '0');
    }
    return out;
  };
  const int year = number(0, 4), month = number(5, 2), day = number(8, 2);
  if (year < 0 || month < 1 || month > 12 || day < 1 || day > 31) return text;
  return std::to_string(day) + " " + kMonths[static_cast<std::size_t>(month - 1)] + " " + text.substr(0, 4);
}

std::string typographic(const std::string& text, const std::string& language) {
  if (language.rfind("en", 0) != 0) return text;
  std::string out;
  const auto opens = [&] {
    if (out.empty()) return true;
    const std::string_view before = out;
    const auto ends = [&](std::string_view end) {
      return before.size() >= end.size() && before.substr(before.size() - end.size()) == end;
    };
    return std::string_view(" \n\t([{/-").find(before.back()) != std::string_view::npos || ends("\u2014") ||
           ends("\u2013") || ends("\u201c") || ends("\u2018") || ends("\u00a0");
  };
  for (std::size_t i = 0; i < text.size(); ++i) {
    const char c = text[i];
    // Inches, seconds and feet keep their straight marks.
    const bool after_digit = i > 0 && text[i - 1] >= '0' && text[i - 1] <= '9';
    const bool before_digit = i + 1 < text.size() && text[i + 1] >= '0' && text[i + 1] <= '9';
    if (c == '"' && !after_digit) {
      out += opens() ? "\u201c" : "\u201d";
    } else if (c == '\'' && !after_digit) {
      // An apostrophe for what was left out has a second quote nowhere in the text: 'tis, the '60s.
      const bool closed = text.find('\'', i + 1) != std::string::npos;
      out += opens() && closed && !before_digit ? "\u2018" : "\u2019";
    } else {
      out += c;
    }
  }
  return out;
}

std::string key_words(const theory::Key& key) {
  return theory::print(key, theory::Accidentals::Signs);
}

}  // namespace tunesheaf::blocks

#include "tunesheaf/theory/recording.h"

#include <cmath>

#include "separators.h"
#include "tunesheaf/base/ascii.h"
#include "tunesheaf/base/number.h"
#include "tunesheaf/theory/pitch.h"

namespace tunesheaf::theory {
namespace {

using base::lower;

constexpr double kMostCents = 2400.0;

/// Typed minus signs of every kind become "-", so that copied text works.
std::string plain_minus(std::string_view text) {
  std::string out;
  for (std::size_t i = 0; i < text.size();) {
    if (text.substr(i).starts_with("−") || text.substr(i).starts_with("–")) {
      out += '-';
      i += 3;
    } else {
      out += text[i++];
    }
  }
  return out;
}

struct Words {
  std::string_view text;
  std::size_t at = 0;
  void skip() {
    while (at < text.size() && separates(text[at])) ++at;
  }
  bool end() const { return at >= text.size(); }
  /// A number with its sign, or a fraction such as +1/3.
  std::string_view number() {
    const std::size_t from = at;
    if (!end() && (text[at] == '+' || text[at] == '-')) ++at;
    while (!end() && (base::is_digit(text[at]) || text[at] == '.' || text[at] == '/')) ++at;
    return text.substr(from, at - from);
  }
  std::string_view word() {
    const std::size_t from = at;
    while (!end() && !separates(text[at])) ++at;
    return text.substr(from, at - from);
  }
};

/// "0.33" or "1/3".
std::optional<double> number_of(std::string_view digits) {
  const std::size_t slash = digits.find('/');
  if (slash == std::string_view::npos) return base::parse_decimal(digits);
  const auto over = base::parse_decimal(digits.substr(0, slash)), under = base::parse_decimal(digits.substr(slash + 1));
  if (!over || !under || !(*under > 0.0)) return std::nullopt;
  return *over / *under;
}

base::Result<PitchOffset, OffsetError> from_a4(std::string_view text, std::size_t at) {
  std::string_view rest = text.substr(at);
  while (!rest.empty() && (separates(rest.front()) || rest.front() == '=')) {
    rest.remove_prefix(1);
    ++at;
  }
  std::string number(rest);
  const std::string low = lower(rest);
  if (low.ends_with("hz")) number.resize(number.size() - 2);
  while (!number.empty() && separates(number.back())) number.pop_back();
  const std::optional<double> hertz = base::parse_decimal(number);
  if (!hertz) return OffsetError{OffsetFault::NoNumber, at, std::string(rest)};
  if (!(*hertz > 0.0)) return OffsetError{OffsetFault::OutOfRange, at, number};
  PitchOffset out;
  out.a4 = *hertz;
  out.cents = cents_between(440.0, *hertz);
  if (!(std::abs(out.cents) <= kMostCents)) return OffsetError{OffsetFault::OutOfRange, at, number};
  return out;
}

}  // namespace

int PitchOffset::semitones() const {
  return static_cast<int>(std::lround(cents / 100.0));
}

double PitchOffset::rest_cents() const {
  return cents - 100.0 * semitones();
}

double PitchOffset::a4_hertz() const {
  return 440.0 * std::exp2(rest_cents() / 1200.0);
}

base::Result<PitchOffset, OffsetError> parse_offset(std::string_view typed) {
  const std::string text = plain_minus(typed);
  Words words{text};
  words.skip();
  if (words.end()) return OffsetError{OffsetFault::Empty, 0, ""};
  const std::string low = lower(std::string_view(text).substr(words.at));
  if (low == "as written" || low == "0" || low == "at pitch") return PitchOffset{};
  if (low.starts_with("a4")) return from_a4(text, words.at + 2);
  if (low.starts_with("a =") || low.starts_with("a=")) return from_a4(text, words.at + 1);
  PitchOffset out;
  for (; !words.end(); words.skip()) {
    const std::size_t at = words.at;
    const std::string_view number = words.number();
    const bool sign = number.starts_with("+") || number.starts_with("-");
    std::string_view digits = number;
    if (digits.starts_with("+")) digits.remove_prefix(1);
    const std::optional<double> value = number_of(digits);
    if (!value) return OffsetError{OffsetFault::NoNumber, at, std::string(words.word())};
    words.skip();
    const std::size_t unit_at = words.at;
    const std::string unit = lower(words.word());
    if (!sign && *value != 0.0) return OffsetError{OffsetFault::NoSign, at, std::string(number)};
    if (unit == "cent" || unit == "cents" || unit == "ct" || unit == "c") {
      out.cents += *value;
    } else if (unit == "semitone" || unit == "semitones" || unit == "half" || unit == "fret" || unit == "frets") {
      out.cents += 100.0 * *value;
    } else if (unit == "tone" || unit == "tones" || unit == "whole") {
      out.cents += 200.0 * *value;
    } else {
      return OffsetError{OffsetFault::UnknownUnit, unit_at, unit};
    }
    // "half step", "whole steps": the second word says no more.
    if (unit == "half" || unit == "whole") {
      words.skip();
      words.word();
    }
    if (!(std::abs(out.cents) <= kMostCents)) return OffsetError{OffsetFault::OutOfRange, at, std::string(number)};
  }
  return out;
}

std::string print(const PitchOffset& offset) {
  if (offset.a4) return "A4 = " + base::print_decimal(*offset.a4, 2);
  const double rounded = std::round(offset.cents * 10.0) / 10.0;
  if (rounded == 0.0) return "as written";
  const auto piece = [](double value, std::string unit, int decimals) {
    const std::string sign = value > 0.0 ? "+" : "";
    if (std::abs(value) != 1.0) unit += "s";
    return sign + base::print_decimal(value, decimals) + " " + unit;
  };
  const double cents = std::round(offset.rest_cents() * 10.0) / 10.0;
  std::string out;
  if (offset.semitones() != 0) out = piece(offset.semitones(), "semitone", 0);
  if (cents != 0.0) out += (out.empty() ? "" : " ") + piece(cents, "cent", 1);
  return out;
}

}  // namespace tunesheaf::theory

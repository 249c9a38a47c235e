#include "tunesheaf/base/number.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <stdexcept>

namespace tunesheaf::base {
namespace {

bool all_digits(std::string_view text) {
  return !text.empty() && std::all_of(text.begin(), text.end(), [](char c) { return c >= '0' && c <= '9'; });
}

std::string_view without_sign(std::string_view text) {
  if (!text.empty() && (text.front() == '+' || text.front() == '-')) text.remove_prefix(1);
  return text;
}

// from_chars knows no plus sign.
std::string_view without_plus(std::string_view text) {
  if (!text.empty() && text.front() == '+') text.remove_prefix(1);
  return text;
}

template <class T>
std::optional<T> convert(std::string_view text) {
  T value{};
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (error != std::errc{} || end != text.data() + text.size()) return std::nullopt;
  return value;
}

}  // namespace

std::optional<std::int64_t> parse_integer(std::string_view text) {
  if (!all_digits(without_sign(text))) return std::nullopt;
  return convert<std::int64_t>(without_plus(text));
}

std::optional<double> parse_decimal(std::string_view text) {
  const std::string_view digits = without_sign(text);
  const std::size_t point = digits.find('.');
  const bool whole = point == std::string_view::npos && all_digits(digits);
  const bool broken =
      point != std::string_view::npos && all_digits(digits.substr(0, point)) && all_digits(digits.substr(point + 1));
  if (!whole && !broken) return std::nullopt;
  return convert<double>(without_plus(text));
}

std::string print_fixed(double value, int decimals) {
  if (!std::isfinite(value)) throw std::invalid_argument("a number to print must be finite");
  std::array<char, 400> buffer{};  // the largest double has 309 digits before the point
  const int digits = std::clamp(decimals, 0, 20);
  const auto [end, error] =
      std::to_chars(buffer.data(), buffer.data() + buffer.size(), value, std::chars_format::fixed, digits);
  if (error != std::errc{}) throw std::invalid_argument("a number too long to print");
  std::string text(buffer.data(), end);
  if (text.front() == '-' && text.find_first_of("123456789") == std::string::npos) text.erase(0, 1);
  return text;
}

std::string print_decimal(double value, int decimals) {
  std::string text = print_fixed(value, decimals);
  if (text.find('.') == std::string::npos) return text;
  text.erase(text.find_last_not_of('0') + 1);
  if (text.back() == '.') text.pop_back();
  return text;
}

}  // namespace tunesheaf::base

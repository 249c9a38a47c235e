// Words as typed on a keyboard. In: text. Out: the same with small letters, or without the blanks around it. Invariant:
// only A to Z and only blanks and tabs are touched, whatever the locale; other letters stay as they are.
#pragma once
#include <string>
#include <string_view>

namespace tunesheaf::base {

constexpr bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

inline std::string lower(std::string_view text) {
  std::string out;
  out.reserve(text.size());
  for (const char c : text) out += c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
  return out;
}

inline std::string trimmed(std::string_view text) {
  const auto first = text.find_first_not_of(" \t");
  if (first == std::string_view::npos) return {};
  return std::string(text.substr(first, text.find_last_not_of(" \t") - first + 1));
}

}  // namespace tunesheaf::base

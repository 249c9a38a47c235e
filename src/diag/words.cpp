#include "tunesheaf/diag/words.h"

#include "tunesheaf/base/utf8.h"

namespace tunesheaf::diag {
namespace {

constexpr const char* kDot = "\u00B7";
constexpr const char* kLeftOut = "\u2026";

bool turns_direction(char32_t c) {
  return (c >= 0x202A && c <= 0x202E) || (c >= 0x2066 && c <= 0x2069) || c == 0x200E || c == 0x200F || c == 0x061C;
}

bool is_control(char32_t c) {
  return c < 0x20 || (c >= 0x7F && c < 0xA0) || c == 0x2028 || c == 0x2029;
}

}  // namespace

std::string shown_point(char32_t c) {
  if (c == U'\t' || c == U'\n' || c == U'\r') return " ";
  if (c == 0xFEFF) return {};
  if (is_control(c) || turns_direction(c) || c == 0xFFFD) return kDot;
  return base::to_utf8(c);
}

std::string shown(std::string_view text) {
  std::string out;
  out.reserve(text.size());
  for (std::size_t i = 0; i < text.size();) {
    const base::DecodedPoint p = base::decode_at(text, i);
    out += shown_point(p.code_point);
    i += p.length;
  }
  return out;
}

std::string shortened(std::string_view text, std::size_t columns) {
  std::string out;
  std::size_t used = 0;
  std::size_t fits = 0;  // length of `out` that leaves one column for the ellipsis
  for (std::size_t i = 0; i < text.size();) {
    const base::DecodedPoint p = base::decode_at(text, i);
    const std::string point = shown_point(p.code_point);
    used += base::display_columns(point);
    if (used > columns) return out.substr(0, fits) + kLeftOut;
    out += point;
    if (used < columns) fits = out.size();
    i += p.length;
  }
  return out;
}

std::string quoted(std::string_view text) {
  constexpr std::size_t kColumns = 60;
  return "\"" + shortened(text, kColumns) + "\"";
}

}  // namespace tunesheaf::diag

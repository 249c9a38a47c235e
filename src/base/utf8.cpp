#include "tunesheaf/base/utf8.h"

#include <algorithm>
#include <array>
#include <cstdint>
#include <iterator>

namespace tunesheaf::base {
namespace {

constexpr char32_t kReplacement = 0xFFFD;

struct Range {
  char32_t first, last;
};

// Signs without a width of their own (general categories Mn, Me, Cf of the Unicode character database, the blocks that
// a song file may meet), in rising order.
constexpr std::array kZeroWidth = std::to_array<Range>({
    {0x0300, 0x036F}, {0x0483, 0x0489}, {0x0591, 0x05BD},   {0x05BF, 0x05BF},   {0x05C1, 0x05C2}, {0x0610, 0x061C},
    {0x064B, 0x065F}, {0x0670, 0x0670}, {0x06D6, 0x06DC},   {0x093C, 0x093C},   {0x0941, 0x0948}, {0x094D, 0x094D},
    {0x0E31, 0x0E31}, {0x0E34, 0x0E3A}, {0x0E47, 0x0E4E},   {0x1AB0, 0x1AFF},   {0x1DC0, 0x1DFF}, {0x200B, 0x200F},
    {0x202A, 0x202E}, {0x2060, 0x206F}, {0x20D0, 0x20FF},   {0x302A, 0x302D},   {0x3099, 0x309A}, {0xFE00, 0xFE0F},
    {0xFE20, 0xFE2F}, {0xFEFF, 0xFEFF}, {0xE0020, 0xE007F}, {0xE0100, 0xE01EF},
});

// East Asian Width W and F (Unicode UAX #11), in rising order.
constexpr std::array kWide = std::to_array<Range>({
    {0x1100, 0x115F},
    {0x2E80, 0x303E},
    {0x3041, 0x33FF},
    {0x3400, 0x4DBF},
    {0x4E00, 0x9FFF},
    {0xA000, 0xA4CF},
    {0xA960, 0xA97F},
    {0xAC00, 0xD7A3},
    {0xF900, 0xFAFF},
    {0xFE30, 0xFE6F},
    {0xFF01, 0xFF60},
    {0xFFE0, 0xFFE6},
    {0x1F300, 0x1F64F},
    {0x1F680, 0x1F6FF},
    {0x1F900, 0x1F9FF},
    {0x20000, 0x2FFFD},
    {0x30000, 0x3FFFD},
});

template <std::size_t N>
bool in_ranges(const std::array<Range, N>& ranges, char32_t c) {
  const auto it = std::upper_bound(ranges.begin(), ranges.end(), c, [](char32_t x, Range r) { return x < r.first; });
  return it != ranges.begin() && c <= std::prev(it)->last;
}

}  // namespace

DecodedPoint decode_at(std::string_view text, std::size_t offset) {
  const auto byte = [&](std::size_t i) { return static_cast<std::uint8_t>(text[offset + i]); };
  const DecodedPoint bad{kReplacement, 1, false};
  const std::uint8_t lead = byte(0);
  if (lead < 0x80) return {lead, 1, true};
  const std::size_t length = lead >= 0xF0 ? 4 : lead >= 0xE0 ? 3 : 2;
  if (lead < 0xC2 || lead > 0xF4 || text.size() - offset < length) return bad;
  char32_t value = lead & (0xFFu >> (length + 1));
  for (std::size_t i = 1; i < length; ++i) {
    if ((byte(i) & 0xC0) != 0x80) return bad;
    value = (value << 6) | (byte(i) & 0x3Fu);
  }
  const bool overlong = (length == 3 && value < 0x800) || (length == 4 && value < 0x10000);
  const bool surrogate = value >= 0xD800 && value <= 0xDFFF;
  if (overlong || surrogate || value > 0x10FFFF) return bad;
  return {value, length, true};
}

std::optional<std::size_t> first_bad_utf8(std::string_view text) {
  for (std::size_t i = 0; i < text.size();) {
    const DecodedPoint p = decode_at(text, i);
    if (!p.well_formed) return i;
    i += p.length;
  }
  return std::nullopt;
}

std::vector<char32_t> code_points(std::string_view text) {
  std::vector<char32_t> out;
  out.reserve(text.size());
  for (std::size_t i = 0; i < text.size();) {
    const DecodedPoint p = decode_at(text, i);
    out.push_back(p.code_point);
    i += p.length;
  }
  return out;
}

std::size_t count_code_points(std::string_view text) {
  std::size_t n = 0;
  for (std::size_t i = 0; i < text.size(); ++n) i += decode_at(text, i).length;
  return n;
}

std::string to_utf8(char32_t c) {
  if (c > 0x10FFFF || (c >= 0xD800 && c <= 0xDFFF)) c = kReplacement;
  std::string out;
  const auto put = [&](char32_t b) { out.push_back(static_cast<char>(static_cast<std::uint8_t>(b))); };
  if (c < 0x80) {
    put(c);
  } else if (c < 0x800) {
    put(0xC0 | (c >> 6));
    put(0x80 | (c & 0x3F));
  } else if (c < 0x10000) {
    put(0xE0 | (c >> 12));
    put(0x80 | ((c >> 6) & 0x3F));
    put(0x80 | (c & 0x3F));
  } else {
    put(0xF0 | (c >> 18));
    put(0x80 | ((c >> 12) & 0x3F));
    put(0x80 | ((c >> 6) & 0x3F));
    put(0x80 | (c & 0x3F));
  }
  return out;
}

int display_columns(char32_t c) {
  if (c < 0x300) return 1;
  if (in_ranges(kZeroWidth, c)) return 0;
  return in_ranges(kWide, c) ? 2 : 1;
}

std::size_t display_columns(std::string_view text) {
  std::size_t n = 0;
  for (std::size_t i = 0; i < text.size();) {
    if (static_cast<unsigned char>(text[i]) < 0x80) {  // most text is ASCII
      ++n, ++i;
      continue;
    }
    const DecodedPoint p = decode_at(text, i);
    n += static_cast<std::size_t>(display_columns(p.code_point));
    i += p.length;
  }
  return n;
}

}  // namespace tunesheaf::base

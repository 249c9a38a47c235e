// UTF-8 text. In: bytes. Out: code points, or the offset of the first byte that is not UTF-8 (RFC 3629: no surrogates,
// no overlong forms, at most U+10FFFF); and the width of text in columns of a screen or an editor.
#pragma once
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace tunesheaf::base {

/// One code point and the bytes it takes. Ill-formed bytes: one byte, U+FFFD, not well formed.
struct DecodedPoint {
  char32_t code_point = 0;
  std::size_t length = 1;
  bool well_formed = true;
};

/// The code point that begins at `offset`, which must be less than text.size().
DecodedPoint decode_at(std::string_view text, std::size_t offset);
/// Byte offset of the first ill-formed sequence, or nothing.
std::optional<std::size_t> first_bad_utf8(std::string_view text);
/// Code points of well-formed text; ill-formed bytes become U+FFFD.
std::vector<char32_t> code_points(std::string_view text);
std::size_t count_code_points(std::string_view text);
std::string to_utf8(char32_t code_point);

/// Columns a code point takes in a fixed-width display: 2 for wide East Asian signs and emoji (Unicode UAX #11), 0 for
/// marks that combine with the sign before and for invisible signs, else 1 (tabs and control characters as well).
int display_columns(char32_t code_point);
std::size_t display_columns(std::string_view text);

}  // namespace tunesheaf::base

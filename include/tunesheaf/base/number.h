// Numbers read and printed without the locale. In: text or values. Out: values or text; a text must be a number from
// end to end: an optional sign, digits, for decimals one point with digits on both sides. No exponents, no spaces.
// Invariant: the same value gives the same text everywhere.
#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace tunesheaf::base {

/// "12", "+18", "-3", "007"; nothing for other text and for what 64 bits cannot hold.
std::optional<std::int64_t> parse_integer(std::string_view text);
/// "12", "+0.5", "-3.25"; nothing for ".5", "5.", "1e3", "nan" and the like.
std::optional<double> parse_decimal(std::string_view text);
/// Fixed notation with at most `decimals` (0 to 20) digits after the point, trailing zeros dropped, never "-0".
/// Throws std::invalid_argument when the value is not finite.
std::string print_decimal(double value, int decimals);
/// Fixed notation with exactly `decimals` (0 to 20) digits after the point, never "-0". Throws as print_decimal does.
std::string print_fixed(double value, int decimals);

}  // namespace tunesheaf::base

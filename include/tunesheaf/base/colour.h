// Colour as printed: sRGB with opacity, 8 bits a channel. Read next: style/style.h, where colours come from.
#pragma once
#include <cstdint>

namespace tunesheaf::base {
struct Colour {
  std::uint8_t red = 0, green = 0, blue = 0, alpha = 255;
  friend constexpr bool operator==(Colour, Colour) = default;
};
inline constexpr Colour kBlack{};
inline constexpr Colour kWhite{255, 255, 255, 255};
}  // namespace tunesheaf::base

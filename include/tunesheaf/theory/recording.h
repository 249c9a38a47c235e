// The pitch of a recording. In: "+18 cents", "-2 semitones", "A4 = 432", "+1 semitone -10 cents". Out: cents above the
// written pitch at A4 = 440. Invariant: within two octaves. Read next: retune.h, song/.
#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

#include "tunesheaf/base/result.h"

namespace tunesheaf::theory {

struct PitchOffset {
  double cents = 0.0;        // all told, semitones and A4 included
  std::optional<double> a4;  // when stated as a frequency
  /// Nearest whole semitones and what is left, -50..50.
  int semitones() const;
  double rest_cents() const;
  /// A4 of the recording in Hz, semitones set aside.
  double a4_hertz() const;
  friend bool operator==(const PitchOffset&, const PitchOffset&) = default;
};

enum class OffsetFault : std::uint8_t { Empty, NoNumber, NoSign, UnknownUnit, OutOfRange };
struct OffsetError {
  OffsetFault fault = OffsetFault::Empty;
  std::size_t at = 0;
  std::string word;
};
/// "as written" or "0" is nothing. A bare number without sign and unit is an error.
base::Result<PitchOffset, OffsetError> parse_offset(std::string_view text);
/// "+18 cents", "-2 semitones", "-1 semitone +20 cents", "as written".
std::string print(const PitchOffset& offset);

}  // namespace tunesheaf::theory

// Written note values. In: a value with dots, or words such as "dotted quarter". Out: its exact duration (whole note =
// 1), its number of flags, its words. Invariant: every value is a power of two of a whole note; dots are 0, 1 or 2.
// Read next: theory/meter.h (which unit a tempo counts), theory/rhythm.h (how durations become values).
#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

#include "tunesheaf/base/fraction.h"

namespace tunesheaf::theory {

/// From longest to shortest. The underlying number n stands for 2^(1-n) whole notes.
enum class NoteValue : std::uint8_t {
  kBreve,
  kWhole,
  kHalf,
  kQuarter,
  kEighth,
  k16th,
  k32nd,
  k64th,
  k128th,
  k256th,
  k512th,
  k1024th,
};
/// Flags (or beams) of the shortest value.
inline constexpr int kMaxFlags = 8;

/// A value with its dots.
struct WrittenValue {
  NoteValue value = NoteValue::kQuarter;
  int dots = 0;
  friend bool operator==(const WrittenValue&, const WrittenValue&) = default;
};

/// Duration of an undotted value: 2 for a breve, 1 for a whole, 1/2, 1/4 …
base::Fraction written_duration(NoteValue value);
/// With `dots` (0 to 3): value x (2 - 1/2^dots).
base::Fraction written_duration(NoteValue value, int dots);
inline base::Fraction written_duration(WrittenValue w) {
  return written_duration(w.value, w.dots);
}

/// The one value that has exactly this duration with at most `max_dots` dots (0 to 2), if there is one.
std::optional<WrittenValue> value_of_duration(base::Fraction duration, int max_dots = 2);

/// 0 for a quarter and longer, 1 for an eighth … 8 for a 1024th.
constexpr int flag_count(NoteValue value) {
  return value <= NoteValue::kQuarter ? 0 : static_cast<int>(value) - static_cast<int>(NoteValue::kQuarter);
}
/// Halves and shorter have stems.
constexpr bool has_stem(NoteValue value) {
  return value >= NoteValue::kHalf;
}

/// What a tempo counts, in words: "quarter", "dotted quarter", "half", "double dotted half"; a trailing "note" or
/// "notes", plurals, hyphens, capitals and the British words (minim, crotchet, quaver …) are understood. Empty when the
/// words name no value.
std::optional<WrittenValue> parse_value_words(std::string_view words);
/// "quarter", "dotted quarter", "16th".
std::string print_value_words(WrittenValue value);

}  // namespace tunesheaf::theory

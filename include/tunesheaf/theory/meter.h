// Meters. In: text such as "3/4", "7/8 (2+2+3)", "C". Out: a Meter, or a fault with its operands; its beats, its beam
// groups, the strength of every point of its bar. Invariant: count >= 1, unit a power of two, and the grouping (where
// there is one) adds up to count. The rules of beats are those of the song language: x/4 and x/2 have x beats; 6/8,
// 9/8, 12/8 … beats of three eighths; 2/8, 3/8, 4/8 beats of one; every other x/8 states its grouping, one beat a
// group. Read next: theory/rhythm.h.
#pragma once
#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "tunesheaf/base/fraction.h"
#include "tunesheaf/base/result.h"
#include "tunesheaf/theory/note_value.h"

namespace tunesheaf::theory {

/// How the meter is written at the head of a staff.
enum class MeterSign : std::uint8_t {
  kFigures,   ///< 4 over 4
  kCommon,    ///< C
  kCut,       ///< C|
  kAdditive,  ///< 3+2 over 8
};

/// A stretch of a bar, from the start of the full bar; whole note = 1.
struct BarSpan {
  base::Fraction onset;
  base::Fraction length;
  base::Fraction end() const { return onset + length; }
  friend bool operator==(const BarSpan&, const BarSpan&) = default;
};

struct Meter {
  int count = 4;
  int unit = 4;
  std::vector<int> grouping;  ///< as stated, in units; empty when none was stated
  MeterSign sign = MeterSign::kFigures;

  base::Fraction bar_length() const { return base::Fraction(count, unit); }
  /// 6/8, 9/8, 12/8, 6/16 … without a stated grouping: beats of three units.
  bool is_compound() const;
  /// Unit 8 or shorter with a stated grouping: one beat a group, beats may differ in length.
  bool has_grouped_beats() const { return unit >= 8 && !grouping.empty(); }
  /// The beats in order; they fill the bar.
  std::vector<BarSpan> beats() const;
  int beat_count() const;
  /// The stretches that a beam may not leave; they fill the bar (Gould 2011: half bars in 4/4, the whole bar in 2/4,
  /// 3/4 and 3/8, the beat in compound meters, the stated groups in additive ones).
  std::vector<BarSpan> beam_groups() const;
  /// The beats in groups, as large as the bar's structure goes: {2,2} beats for 4/4, {3} for 3/4, {3,2} for 5/4 (also
  /// where no grouping is stated), {1,1,1} for 7/8 (2+2+3). The numbers count beats.
  std::vector<int> beat_groups() const;
  /// What a tempo mark without a unit counts: a quarter in 4/4, a dotted quarter in 6/8, a half in 2/2; where the beats
  /// differ in length (7/8), the unit of the meter.
  WrittenValue tempo_unit() const;
  /// Metrical level of an onset in the full bar: 0 the start of the bar, 1 the start of a group of beats (the middle of
  /// 4/4), 2 another beat, 3 the half of a simple beat or the third of a compound one, 4, 5 … each halving;
  /// kOffGrid for points that no halving reaches (tuplets). `onset` is taken modulo the bar.
  static constexpr int kOffGrid = 32;
  int level(base::Fraction onset) const;

  friend bool operator==(const Meter&, const Meter&) = default;
};

enum class MeterFault : std::uint8_t {
  kEmpty,            ///< no text
  kNotAMeter,        ///< neither a fraction nor a sign
  kBadCount,         ///< count below 1 or above 64
  kBadUnit,          ///< unit not 1, 2, 4, 8, 16, 32 or 64
  kGroupingMissing,  ///< 5/8, 7/8, 8/8 … say no grouping
  kGroupingBroken,   ///< a bracket is not closed, or something other than numbers and + stands in it
  kGroupingZero,     ///< a group of 0
  kGroupingTooLong,  ///< a beat of more than 4 units (one written value cannot hold it); `group` is its number
  kGroupingSum,      ///< the groups add up to `grouping_sum`, not to `count`
  kTrailing,         ///< something follows the meter, at `offset`
};

struct MeterError {
  MeterFault fault = MeterFault::kEmpty;
  int count = 0;
  int unit = 0;
  int grouping_sum = 0;
  int group = 0;           ///< the offending group's size
  std::size_t offset = 0;  ///< byte in the text where the fault begins
  friend bool operator==(const MeterError&, const MeterError&) = default;
};

/// "4/4", "6/8", "7/8 (2+2+3)", "5/4 (3+2)", "3+2/8", "C", "C|"; blanks around the parts are allowed.
base::Result<Meter, MeterError> parse_meter(std::string_view text);
/// The text that parse_meter reads back to the same meter.
std::string print_meter(const Meter& meter);

}  // namespace tunesheaf::theory

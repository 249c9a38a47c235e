// The speller: durations to written notes. In: a meter, the bar's length, and spans (notes and rests) that fill the
// bar. Out: written pieces with values, dots, ties, tuplets and beams; join() reads them back. Invariant: the pieces of
// a span have exactly its duration; no piece hides the middle of a 4/4 bar except a whole note, or a dotted half on its
// first beat; rests stay within halves and beats; beams stay within beam groups. Handbooks: Gould 2011, Read 1979, Ross
// 1970. Read next: src/theory/rhythm.cpp, and rhythm_grid.h beside it (the tree of a bar's divisions).
#pragma once
#include <array>
#include <cstdint>
#include <optional>
#include <vector>

#include "tunesheaf/base/fraction.h"
#include "tunesheaf/base/result.h"
#include "tunesheaf/theory/meter.h"
#include "tunesheaf/theory/note_value.h"

namespace tunesheaf::theory {

/// One note (or chord) or rest as the Timeline knows it. Onsets count from the start of the bar as it stands.
struct RhythmSpan {
  base::Fraction onset;
  base::Fraction duration;
  bool rest = false;
  bool tied_from_previous = false;  ///< goes on from the bar (or the span) before
  bool tied_to_next = false;        ///< goes on into the next bar (or span)
  int id = 0;                       ///< the caller's own; carried to the pieces
  friend bool operator==(const RhythmSpan&, const RhythmSpan&) = default;
};

/// Which part of a full bar a shorter bar is.
enum class BarAlign : std::uint8_t {
  kStart,  ///< a bar cut short at its end
  kEnd,    ///< a pick-up: it ends where the full bar ends
  kWithin  ///< it begins at BarShape::from
};

/// What a piece does at one beam level.
enum class BeamMark : std::uint8_t { kNone, kBegin, kContinue, kEnd, kHookForward, kHookBack };

struct SpelledPiece {
  base::Fraction onset;     ///< from the start of the bar as it stands
  base::Fraction duration;  ///< real, tuplets taken in
  NoteValue value = NoteValue::kQuarter;
  int dots = 0;
  bool rest = false;
  bool whole_bar_rest = false;  ///< centred in the bar; `value` is a whole (a breve where the bar holds two wholes)
  bool tie_from_previous = false;
  bool tie_to_next = false;
  int id = 0;       ///< of the source span
  int tuplet = -1;  ///< innermost, index into Spelling::tuplets, or -1
  int beam = -1;    ///< index into Spelling::beams, or -1 (then flags)
  /// Level 1 (the primary beam) is element 0. All kNone where beam is -1.
  std::array<BeamMark, kMaxFlags> beam_marks{};
  base::Fraction end() const { return onset + duration; }
};

/// `actual` notes of `base_value` in the time of `normal`: onset and duration are real time in the bar.
struct Tuplet {
  int first = 0;  ///< first and last piece
  int last = 0;
  int actual = 3;
  int normal = 2;
  NoteValue base_value = NoteValue::kEighth;
  base::Fraction onset;
  base::Fraction duration;
  bool bracket = true;  ///< false where one beam covers exactly the tuplet: the number alone stands at the beam
  int parent = -1;  ///< enclosing tuplet, or -1; the speller itself nests none (uneven divisions are written 9:8, 15:8)
};

/// A primary beam: pieces first to last, all of them notes with flags.
struct Beam {
  int first = 0;
  int last = 0;
  int levels = 1;  ///< most beams over any of its pieces
};

struct Spelling {
  std::vector<SpelledPiece> pieces;
  std::vector<Tuplet> tuplets;
  std::vector<Beam> beams;
};

enum class SpellFault : std::uint8_t {
  kEmpty,       ///< no spans, or a bar without length
  kBarTooLong,  ///< the bar is longer than its meter
  kGap,         ///< span `span` does not begin where the one before ended (or at 0)
  kNoDuration,  ///< span `span` has no duration
  kNotFilled,   ///< the spans do not end with the bar
  kBarOffGrid,  ///< a shorter bar that only a part of a tuplet could fill
  kTooFine,     ///< span `span` needs values shorter than a 1024th, or a division beyond exact reckoning
};

struct SpellError {
  SpellFault fault = SpellFault::kEmpty;
  int span = 0;         ///< index into the input
  base::Fraction at{};  ///< onset in the bar
};

struct BarShape {
  base::Fraction length;  ///< of the bar as it stands, at most the meter's
  BarAlign align = BarAlign::kStart;
  base::Fraction from{};  ///< on the grid of the meter; with `length` within the full bar
};

/// Neighbouring rests become one silence before they are spelt (its id is the first one's). Spans with different ids
/// are never joined.
base::Result<Spelling, SpellError> spell_bar(const Meter& meter, BarShape bar, const std::vector<RhythmSpan>& spans);
/// A full bar.
base::Result<Spelling, SpellError> spell_bar(const Meter& meter, const std::vector<RhythmSpan>& spans);

/// Reads pieces back: pieces tied within the bar and with the same id are one span; neighbouring rests are one.
std::vector<RhythmSpan> join(const std::vector<SpelledPiece>& pieces);

/// Written duration of a piece times its tuplets' ratios: must equal piece.duration (whole-bar rests excepted). The
/// tests and the geometry audit use it.
base::Fraction sounding_duration(const Spelling& spelling, const SpelledPiece& piece);

/// One line for goldens and tests: "Q [8 8] 3{[8 8 8]} rQ"; src/theory/rhythm_print.cpp explains the signs.
std::string print_spelling(const Spelling& spelling);

}  // namespace tunesheaf::theory

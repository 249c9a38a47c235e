// Which staves a section needs, and what is written on them. In: a section and the parts asked for. Out: staves from
// top to bottom, each with its bars spelt into written values, heads at staff positions, accidentals chosen, stems
// decided. Invariant: nothing here knows an x; everything that does not depend on the line break is decided here once.
// Read next: chord.h (ink of one onset), spacing.h (columns), staff_context.h (drawing).
#pragma once
#include <optional>
#include <span>
#include <vector>

#include "tunesheaf/engrave/system.h"
#include "tunesheaf/theory/rhythm.h"

namespace tunesheaf::engrave {

using base::Fraction;
using base::Length;
using base::Point;
using base::Rect;
using source::Span;
using text::MusicSign;

/// One note head (or slash) of a chord. Position: half spaces above the staff's middle line.
struct Head {
  int note = -1;  ///< index into Event::notes; -1 for slashes
  int position = 0;
  MusicSign sign = MusicSign::NoteheadBlack;
  std::optional<MusicSign> accidental;
  bool courtesy = false;  ///< the accidental stands in parentheses
  bool ghost = false;
  bool tied_from = false, tied_to = false;
  // filled by layout_chords(), relative to the column
  Length left;  ///< left edge of the head
  Length accidental_left;
};

/// Parentheses around ghost heads: one pair for those that stand close. Edges relative to the column.
struct Parens {
  int low = 0, high = 0;  ///< positions of the lowest and the highest head within
  int note = -1;          ///< the lowest one's
  Length left, right;     ///< left edges of the two signs
};

/// One written value of one voice: a chord, a slash or a rest.
struct Chord {
  int bar = 0;
  Fraction onset, duration;  ///< real time in the bar
  theory::NoteValue value{};
  int dots = 0;
  int event = -1;
  int voice = 1;  ///< number of the voice
  bool rest = false, whole_bar_rest = false, slash = false;
  bool hidden = false;  ///< the other voice's rest says it already
  bool attack = true;   ///< the event begins here (else it is held from the piece before)
  bool lone = true;     ///< no other voice in this bar on this staff
  bool stem_up = true, has_stem = false;
  int beam = -1, tuplet = -1;  ///< index into StaffBar::beams / tuplets
  std::array<theory::BeamMark, theory::kMaxFlags> beam_marks{};
  std::vector<Head> heads;  ///< low to high
  song::Accents accents;    ///< of the event, or of the hit
  std::vector<Head> grace;  ///< small notes before it, in order
  int rest_position = 0;    ///< half spaces above the middle line
  std::vector<int> dot_positions;
  std::vector<Parens> parens;
  // ink relative to the column (its middle is the middle of a black head in normal place)
  Length dots_left, left, right;
  Length ink_left, ink_right;  ///< the same without the room that marks of the hands want
  Length stem_x;               ///< middle of the stem from x; of a tab 0 but at a slash
  Length grace_width;          ///< of the small notes, to the left of `left`
  // filled while drawing
  Length x, stem_from, stem_tip;
  bool flag() const { return has_stem && beam < 0 && theory::flag_count(value) > 0; }
  int top() const { return heads.back().position; }
  int bottom() const { return heads.front().position; }
};

struct BeamGroup {
  std::vector<int> chords;  ///< indices into StaffBar::chords
  int levels = 1;
};
struct TupletGroup {
  std::vector<int> chords;
  int actual = 3, normal = 2;
  bool bracket = true;
  int parent = -1;
};

struct StaffBar {
  std::vector<Chord> chords;  ///< by voice, then onset
  std::vector<BeamGroup> beams;
  std::vector<TupletGroup> tuplets;
  bool repeat_sign = false;  ///< drums: the groove goes on, see `repeat`
  BarRepeat repeat = BarRepeat::None;
  bool silent = false;  ///< a whole-bar rest and nothing else
  int rest_bars = 0;    ///< the first of so many silent bars that stand as one; -1: within such a run
};

enum class ClefShape : std::uint8_t { Treble, Treble8, Alto, Tenor, Bass, Bass8, Percussion, Tab, None };

/// Another clef from a place on.
struct ClefChange {
  score::Place at;
  ClefShape clef;
  int octave_shift;
  Span origin;
};

/// A staff of cue size over the staves of a part that rests.
struct CuePlan {
  int reader = -1;                        ///< index into Timeline::parts
  int first = 0, behind = 0;              ///< bars, half open: it stands over these alone
  std::vector<score::StaffKey> own_keys;  ///< one per bar: those of the part whose notes they are
  int octaves = 0;                        ///< that its notes sound above what stands there
  Span origin;
};

struct StaffPlan {
  int part = -1;
  StaffKind kind = StaffKind::Notation;
  int number = -1;
  int lines = 5;
  double line_distance = 1;            ///< sp
  bool mirrored = false;               ///< tab: the top line is the last string, not string 1
  ClefShape clef = ClefShape::Treble;  ///< at the beginning of the section
  int octave_shift = 0;                ///< of that clef, as score::Part::octave_shift
  std::vector<ClefChange> clefs;       ///< in order of time, none at the beginning
  /// Nothing where the first clef still stands.
  const ClefChange* clef_change_at(score::Place at) const {
    const ClefChange* found = nullptr;
    for (const ClefChange& change : clefs)
      if (change.at <= at) found = &change;
    return found;
  }
  ClefShape clef_at(score::Place at) const {
    const ClefChange* change = clef_change_at(at);
    return change != nullptr ? change->clef : clef;
  }
  bool drums = false, slashes = false;
  bool rhythm = true;                 ///< shows values (tab beneath notation does not)
  bool alone = true;                  ///< the only staff of its part
  std::vector<score::StaffKey> keys;  ///< one per bar: that of the part's own staff
  std::vector<StaffBar> bars;
  std::optional<CuePlan> cue;
  /// Tab: the line of a string, counted from the top.
  int line_of(int string) const { return mirrored ? lines + 1 - string : string; }
  /// A note of the part as this staff has it: a cue is in the reader's key and transposition.
  theory::Pitch pitch(int bar, theory::Pitch written) const;
  int fifths(int bar) const { return keys[static_cast<std::size_t>(bar)].key.fifths(); }
  /// Key of the bar before; no signature before the first.
  int fifths_before(int bar) const { return bar > 0 ? fifths(bar - 1) : 0; }
  double height() const { return (lines - 1) * line_distance; }  ///< sp
  /// How far bar lines reach beyond the outer lines of a staff that has only one or two, sp.
  double bar_line_overhang() const { return lines == 1 ? 1 : lines == 2 ? 0.5 : 0; }
};

/// Staves of the parts that play in this section; the chart alone when none does.
std::vector<StaffPlan> plan_staves(const SectionRequest& request, const style::Style& style);

bool sounds(std::span<const score::Segment> bar);
ClefShape clef_of(const score::Part& part, StaffKind kind);
/// A drummer who rests throughout has no drums in the Timeline.
bool plays_drums(const score::Part& part);
/// Fills the bars of a plan whose part and clef are known.
void write_staff(const SectionRequest& request, StaffPlan& plan);

/// The cues of the parts that have staves here: a plan each, with `part` the one whose notes they are, in order of the
/// readers' staves. Invariant: StaffPlan::cue is set; bars outside the cue hold nothing.
std::vector<StaffPlan> plan_cues(const SectionRequest& request, const std::vector<StaffPlan>& plans);

/// The way from the page to all these staves at a bar, for the chord names over them; a unison where they differ.
theory::Interval way_of_names(const std::vector<StaffPlan>& plans, int bar);

/// Half spaces above the middle line.
int staff_position(const score::Part& part, ClefShape clef, theory::Pitch written, int octaves_up);

}  // namespace tunesheaf::engrave

// What hands do to strings, drawn on one staff. In: a staff whose heads or figures stand. Out: arcs, slides, bends,
// waves, spans, fingers and strokes around them. Invariant: every mark keeps clear of what stands there and takes its
// row; words stand once per part: on the tab where there is one, else on the notation. What lies near the notes is
// drawn first, what spans them last. Read next: marks.cpp (the order), staff_context.h.
#pragma once
#include <map>
#include <optional>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include "staff_context.h"

namespace tunesheaf::engrave {

inline Length middle_y(const Rect& box) {
  return box.y + box.height / 2;
}

/// Whether a note is reached without a stroke of the other hand.
inline bool legato(song::Arrival how) {
  return how == song::Arrival::HammerOn || how == song::Arrival::PullOff || how == song::Arrival::LegatoSlide;
}

/// An event of the staff as far as it lies on this system.
struct Played {
  const score::Event* event = nullptr;
  const Chord* chord = nullptr;  ///< its first piece on this system
  score::Place from, to;         ///< as written; `to` is exclusive
  bool begins = true;            ///< the attack is on this system
  Length x, left, right;         ///< column, and the edges of its heads or figures; content_left when it goes on
  const score::Note& note(int index) const { return event->notes[static_cast<std::size_t>(index)]; }
};

/// A note reached from another without or with a stroke. An event of -1 lies nowhere; one that is not on this system
/// has no box.
struct Joined {
  int from_event = -1, from_note = -1;
  int to_event = -1, to_note = -1;
  song::Arrival how = song::Arrival::Struck;
  int voice = 1;
};

/// One move of a bent string, from left to right.
struct BendStroke {
  Fraction from, to;  ///< semitones
  Length x0, x1;
  bool held = false;      ///< dashed: nothing moves
  bool straight = false;  ///< bent before it is struck
  bool lets_down() const { return to < from && to <= Fraction(); }
};

/// All that one note's string does on this system, on a tab.
struct BentNote {
  const Played* played = nullptr;
  int note = 0;
  const DrawnNote* figure = nullptr;
  std::vector<BendStroke> strokes;
  std::set<Fraction> levels;  ///< heights above the fret that are reached
  Length left() const { return strokes.front().x0; }
  Length right() const { return strokes.back().x1; }
};

/// The staff as the marks see it.
class Hands {
 public:
  explicit Hands(StaffContext& staff);

  StaffContext& staff;
  const SystemContext& system;
  bool tab = false;            ///< figures, not heads
  bool words = false;          ///< this staff carries the words of its part
  std::vector<Played> played;  ///< by time
  std::vector<Joined> joined;  ///< those that touch this system, by time of arrival
  std::vector<BentNote> bent;  ///< placed by draw_bends_down()

  const score::Event& event(int id) const { return system.timeline.events[static_cast<std::size_t>(id)]; }
  const Played* find(int event) const;
  const DrawnNote* drawn(const Played& p, int note) const { return staff.find(p.event->id, note); }
  StaffContext::Tag tag(layout::Kind kind, const score::Event& event, int note = -1) const;
  /// A place `share` of the way through an event.
  score::Place place(const score::Event& event, Fraction share) const;
  /// Where the room of an event ends on this system: just before the next column.
  Length end_of(const Played& p) const;
  text::Line label(const std::string& words) const;   ///< small upright letters and amounts
  text::Line phrase(const std::string& words) const;  ///< words of technique, in italics

  /// Between the staves of a part run bar lines: the middle of what is so wide and would stand on one, moved to the
  /// side of it that it belongs to.
  Length beside_bar_line(Length middle, Length width) const;

  /// Small words over the staff, near what they speak of: neighbours at about one height share a row, those that would
  /// touch in it move up.
  struct Letter {
    Length x;  ///< middle
    text::Line line;
    StaffContext::Tag tag;
    std::optional<Length> else_at{};  ///< its middle where the amount of a bend stands beside the first place
  };
  void letters_above(std::vector<Letter> letters, double gap = 0.45);
  /// The same, all over the system at one height, where none is in another's way.
  void letters_level(std::vector<Letter> letters, double gap = 0.45);
  /// None of them is in another's way.
  bool have_room(const std::vector<Letter>& some, const std::vector<Letter>& others) const;
  std::vector<Letter> pending;  ///< gathered by the marks near the notes, drawn with the signs of the notes
  Length space(double staff_spaces) const { return staff.space(staff_spaces); }

 private:
  void collect(const StaffBar& bar);
  void join(const StaffBar& bar);
  score::Place after(score::Place at, Fraction duration) const;
  std::pair<Length, Length> stretch_of(const Letter& letter) const;
  Length reach_over(const Letter& letter) const;
  bool reads_on(const Letter& letter) const;
  void put_letters(const std::vector<Letter>& letters, double gap);
};

/// Room beside a column that marks of an event want, in staff spaces; for the spacing of bars.
struct MarkRoom {
  double left = 0, right = 0;
};
MarkRoom mark_room(const score::Event& event, StaffKind kind);

// marks.cpp
/// What stands beside heads and figures: drawn before ties and slurs, which clear it.
void draw_marks_beside(Hands& hands);
/// Marks of hands and strings over, under and between: called when heads, figures, stems, beams, ties, articulations
/// and tuplets of this staff stand, and before holds, words with their lines, chord names, dynamics and lyrics take
/// their rows. The first staff of a part carries its bowing.
void draw_marks(Hands& hands, bool first_of_part);

// marks_legato.cpp
void draw_legato(Hands& hands);  ///< arcs on tab, letters
void draw_slides(Hands& hands);
void draw_slides_beside(Hands& hands);  ///< from nowhere and into nowhere
// marks_bend.cpp
/// Where strings are let down again: arrow heads and figures, drawn before the ties and arcs that clear them.
void draw_bends_down(Hands& hands);
void draw_bends(Hands& hands);
// marks_bend_heads.cpp
void draw_bent_heads(Hands& hands);
// marks_notes.cpp
void draw_rolls(Hands& hands);
void draw_figures_beside(Hands& hands);  ///< touched fret of a harmonic, other fret of a trill
void draw_note_signs(Hands& hands);      ///< taps, harmonics, waves, trills, tremolo
/// A wave over the staff in a row of its own; "tr" with its wave.
void draw_wave(StaffContext& staff, StaffContext::Tag tag, Length from, Length to, bool wide);
void draw_trill_line(StaffContext& staff, StaffContext::Tag tag, Length x, Length to);
// marks_kit.cpp
void draw_drum_signs(Hands& hands);  ///< open, half open, choked
void draw_sticking(Hands& hands);
// marks_fingers.cpp
/// Letters of one moment, from the row nearest the staff outwards.
struct Stack {
  Length x;
  std::vector<text::Line> lines;
  std::vector<StaffContext::Tag> tags;
};
/// One row for all first letters, one for all second ones …: columns of letters stand on common lines.
void draw_stacks(Hands& hands, Side side, const std::vector<Stack>& stacks, double gap);
void draw_fingers(Hands& hands);
void draw_string_numbers(Hands& hands);  ///< notation alone: strings that the pitch does not tell
void draw_pick_strokes(Hands& hands);
void draw_partial_strokes(Hands& hands);
/// "4–3": the strings of a strum over only some of its shape's, in the order struck; else empty.
std::string strings_of_strum(const score::Timeline& timeline, const score::Event& event);
// marks_spans.cpp
void draw_span_signs(Hands& hands);  ///< what stands at the notes under a span
/// Words with their dashed lines. Spans that began on an earlier system go on from content_left.
void draw_spans(Hands& hands);
// marks_arm.cpp
void draw_arm(Hands& hands);

}  // namespace tunesheaf::engrave

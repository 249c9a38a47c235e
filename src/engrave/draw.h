// Drawing one staff of one system, step by step. In: a StaffContext (where everything is) and its plan, whose chords
// are given their x and stems here. Out: items in the context. Order matters: what comes later clears what came before.
// Read next: staff_context.h, system.cpp (the order).
#pragma once
#include <utility>
#include <vector>

#include "chord.h"
#include "spacing.h"
#include "staff_context.h"

namespace tunesheaf::engrave {

/// One chord of the staff with its bar, in time order by voice.
struct Placed {
  StaffBar* bar = nullptr;
  Chord* chord = nullptr;
};
/// Chords of the bars on this system: for each voice in time order. Groove bars shown as a repeat sign have none.
std::vector<std::vector<Placed>> chords_by_voice(StaffPlan& plan, const SystemContext& system);
/// All chords of the system; sets Chord::x.
std::vector<Placed> place_chords(StaffPlan& plan, const SystemContext& system);

// staff.cpp
void draw_lines(StaffContext& staff);
void draw_lead_in(StaffContext& staff, const LeadIn& in, int bar, Length x, bool system_start);
/// What announces the key and the meter after the system, beyond its last bar line.
void draw_courtesy(StaffContext& staff, const SectionMusic& music);
void draw_meter(StaffContext& staff, const theory::Meter& meter, Length x, Length width, Span origin);
void draw_key(StaffContext& staff, ClefShape clef, int fifths, int before, Length x, Span origin);
/// Small clefs within the music: before the bar line of the bar they hold from, else before the note.
void draw_clef_changes(StaffContext& staff, Inks& inks);

// notes.cpp
void draw_notes(StaffContext& staff, StaffPlan& plan, Inks& inks);
/// The line of its own that a whole or a half rest has off the lines of its staff.
void draw_rest_line(StaffContext& staff, StaffContext::Tag tag, Length left, Length right, Length y);
void draw_ledgers(StaffContext& staff, const Chord& chord);
// grace.cpp
void draw_grace(StaffContext& staff, const Chord& chord, Inks& inks);
// tremolo.cpp
/// Length of stem, in staff spaces, that the strokes of a tremolo or roll through it ask for; 0 where there are none.
double tremolo_room(const StaffContext& staff, const Chord& chord);
/// Strokes through the stem, or over the heads of a note that has none.
void draw_tremolo(StaffContext& staff, const Chord& chord);
// beams.cpp
void draw_stems(StaffContext& staff, StaffPlan& plan);
/// Rhythm beneath tab that stands alone, as distances from the outer line: stems begin at `foot`, clear of a figure on
/// that line in parentheses, and all end at `tip`.
struct TabRow {
  Length foot, tip;
  bool over_bends = false;  ///< the stems of the upper voice begin over its bends and their amounts
};
inline constexpr double kBendStep = 1.75;  ///< sp from one height of bends to the next: a line of text
/// How much farther from the tab the short stem of a half note begins.
Length tab_stem_gap(const StaffContext& staff, const Chord& chord);
TabRow tab_row(const StaffContext& staff, const StaffPlan& plan);
// tab.cpp
class HeldFigures;
/// Figures, rests and dots; returns what is held among them, for its ties.
HeldFigures draw_tab(StaffContext& staff, StaffPlan& plan, Inks& inks);
// ties.cpp
void draw_ties(StaffContext& staff, StaffPlan& plan);
// slurs.cpp
void draw_slurs(StaffContext& staff, StaffPlan& plan);
// signs.cpp
void draw_articulations(StaffContext& staff, StaffPlan& plan);
void draw_fermatas(StaffContext& staff, StaffPlan& plan);  ///< of single notes
void draw_tuplets(StaffContext& staff, StaffPlan& plan);
void draw_strokes(StaffContext& staff, StaffPlan& plan);
void draw_octave_lines(StaffContext& staff);

}  // namespace tunesheaf::engrave

// Words and signs in rows over and under staves. In: a drawn staff, or the drawn top staff for what belongs to all.
// Out: rows of chord names, lyrics, dynamics, counts, tempo marks, endings, form signs, remark numbers. Invariant: each
// row clears what stands there already. Read next: staff_context.h.
#pragma once
#include <string>
#include <vector>

#include "staff_context.h"

namespace tunesheaf::engrave {

/// What is printed over the bar for a chord or a shape: the name as stated, else the name as it sounds, else the
/// shape's.
/// `way`: from the page to the staff it stands over.
std::string harmony_text(const score::Harmony& harmony, const score::Timeline& timeline, theory::Interval way = {});

/// Rows of one part: words over its first staff; dynamics and lyrics under its first staff, the count
/// under its last one.
void draw_part_rows_above(StaffContext& staff);
void draw_part_rows_below(StaffContext& staff);
/// Stated counts; where asked for, the beats of the first part too.
void draw_count(StaffContext& staff, bool first_part);
/// Rows that belong to all players: over the top staff and (dynamics, lyrics) under it.
void draw_chart_rows(StaffContext& top);
/// Chords of a system, each once: what the chart says, else the topmost of the parts that says one at that place.
std::vector<score::Harmony> harmony_of_system(const SystemContext& system, const std::vector<int>& parts);
void draw_chord_names(StaffContext& staff, const std::vector<score::Harmony>& harmony);
/// Rings of remarks over all other words of a staff; those of the chart stand over the top staff.
enum class Speaker : std::uint8_t { Part, PartAndChart };
void draw_remark_numbers(StaffContext& staff, Speaker speaker);
/// Endings, tempo, form signs, bar number, the teacher's own bars (bars.cpp).
void draw_bar_rows(StaffContext& top);

/// Takes one row for things at the given stretches and returns its baseline, the same for all of them.
Length take_row(StaffContext& staff, Side side, const std::vector<std::pair<Length, Length>>& stretches, Length ascent,
                Length descent, double gap);

/// Beats of a bar as they are said: numbers always, and a syllable under every note struck between them: "e & a" for
/// quarters of a beat, "la li" for its thirds. Beats of unequal length have all their units said.
std::vector<std::pair<Fraction, std::string>> count_of(const StaffContext& staff, int bar);

}  // namespace tunesheaf::engrave

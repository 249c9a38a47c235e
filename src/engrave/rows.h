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

/// Rows of one part: words over its first staff; dynamics and lyrics under its first staff, pedal
/// signs and the count under its last one.
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
inline constexpr const char* kLessonWord = "lesson";  ///< in the bracket over those bars

/// Takes one row for things at the given stretches and returns its baseline, the same for all of them.
Length take_row(StaffContext& staff, Side side, const std::vector<std::pair<Length, Length>>& stretches, Length ascent,
                Length descent, double gap);

/// Words of a row and where they begin.
struct RowText {
  Length left;
  text::Line line;
  StaffContext::Tag tag;
};
/// One baseline for all, returned; ascent and descent are the font's, so that rows of all systems look alike.
/// `beside`: stretches of lines that are to stand in the same row.
std::optional<Length> draw_row(StaffContext& staff, Side side, const std::vector<RowText>& texts, base::Colour colour,
                               double gap, const std::vector<std::pair<Length, Length>>& beside = {});

// holds.cpp
void draw_bows(StaffContext& staff);
/// Holds and breaths of the part, or of the chart where it stands alone.
void draw_holds(StaffContext& staff);
// lyrics.cpp
void draw_lyrics(StaffContext& staff, const std::vector<score::Word>& words);
// dynamics.cpp
/// Dynamics and hairpins stand in one row.
void draw_dynamics(StaffContext& staff, const std::vector<score::Word>& words, const std::vector<score::Mark>& marks);
void draw_pedal(StaffContext& staff);
/// Half openings of a hairpin at the two ends of what lies on this system, in staff spaces. Where a line break cuts it,
/// it is as wide on either side as its share of the music says.
struct Wedge {
  enum class Way : std::uint8_t { Opens, Closes };
  double left = 0, right = 0;
};
Wedge wedge_on(const SystemContext& system, const score::Mark& mark, Wedge::Way way, double open);

/// Slower or faster by and by: said over the top staff for all, not in the part that says it.
inline bool is_tempo_slope(const score::Mark& mark) {
  return mark.kind == "ritardando" || mark.kind == "accelerando";
}
/// Dashed or solid, with a hook where the span ends.
enum class SpanLine : std::uint8_t { Dashed, Solid };
void draw_span_line(StaffContext& staff, StaffContext::Tag tag, const SpanOnSystem& span, Length from, Length baseline,
                    SpanLine look);

/// A word of the count at its onset in the bar.
struct Counted {
  Fraction at;
  std::string word;
  bool struck = false;  ///< else it is said and nothing is played
};
/// Beats of a bar as they are said: numbers always, and a syllable (theory/count.h) for everything that begins between
/// them; where a beat is parted in three, all three parts. Beats of unequal length have all their units said.
struct CountedBar {
  const StaffPlan& plan;
  const score::Section& section;
  const SectionRequest& request;
  int bar = 0;
};
std::vector<Counted> count_of(const CountedBar& of);
/// The same as it is printed: what is struck as it is; what is only said in brackets and smaller.
struct SpokenWord {
  Fraction at;
  text::Line line;
  bool gives_way = false;  ///< where it has no room: a part of a beat that is not struck
};
std::vector<SpokenWord> spoken_words(const CountedBar& of, text::Shaper& shaper, const style::Style& style);

}  // namespace tunesheaf::engrave

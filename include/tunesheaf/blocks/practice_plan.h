// What a student does with one section, as facts. In: a Setting whose first part is the student's, and a section. Out:
// its shapes and changes, the hardest of them, bars to repeat, tempos to climb, what to listen for, how it joins its
// neighbours, and what it has in common with a section before it. Invariant: nothing here is drawn, and every place
// named is a bar of the section. Read next: blocks/practice.h.
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "tunesheaf/blocks/setting.h"

namespace tunesheaf::blocks {

/// A change of shape in the section; bars are indices.
struct Change {
  int from = -1, to = -1;                ///< shapes
  const score::MoveUse* move = nullptr;  ///< nothing when the hand cannot be told what to do
  int first_bar = 0, last_bar = 0;       ///< where the one is left and the other taken
};

/// A phrase to play by itself.
struct Loop {
  int first_bar = 0, last_bar = 0;  ///< both included
  std::string why;
};

/// A way on out of the section, or back within it: from one bar, an index, into the first of another stretch.
struct Join {
  int bar = 0;
  int section = -1, into = 0;  ///< the section it leads to, perhaps itself, and the index of a bar there
};

struct Rung {
  int percent = 100;
  std::optional<int> per_minute;  ///< nothing when the song has no tempo
  std::optional<int> other;       ///< of PracticePlan::other_unit; nothing without one
};

struct Likeness {
  int section = -1;           ///< an earlier one
  std::vector<int> new_bars;  ///< bars that differ; empty: all is the same
};

/// What a step of the way through a sheet is about; Phrases and Ladder have boxes to tick.
enum class StepKind : std::uint8_t { Tune, Shapes, Change, Picking, Entry, Phrases, Ladder };
struct Step {
  StepKind kind{};
  std::string text;  ///< a whole sentence
};

struct PracticePlan {
  int section = 0, part = -1;
  std::vector<int> shapes;        ///< in the order in which the section needs them
  std::vector<Change> changes;    ///< each pair of shapes once
  std::optional<Change> hardest;  ///< by theory's measure of a move; nothing without changes
  int busiest_bar = 0;            ///< index: most attacks for its length
  bool busiest_alone = true;      ///< no other bar has as many
  int farthest_bar = -1;          ///< index: where the fretting hand's longest leap ends; -1: nowhere far
  bool leaps_in = false;          ///< it begins in the bar before
  double difficulty = 0;          ///< 0 to 1, see practice_plan()
  bool rests = false;             ///< others play, the student does not
  bool little = false;            ///< so few notes that nothing is to be climbed
  std::vector<Rung> ladder;
  std::optional<base::Fraction> ladder_unit;  ///< the note value that its figures count; nothing without a tempo
  std::optional<base::Fraction> other_unit;   ///< what another tempo within the section counts
  int other_bar = 0;                          ///< index: where that begins
  bool quickens = false;                      ///< the tempo grows within the section
  bool gives_way = false;                     ///< it slows within the section, or something is held
  bool beyond_clicks = false;                 ///< the upper rungs are faster than metronomes click
  std::vector<std::string> ladder_gloss;      ///< what its figures do not say; whole sentences
  std::vector<Loop> loops;
  std::vector<Join> joins;            ///< in the order of playing, each once
  std::vector<int> before, after;     ///< sections next to it as played, each once
  bool begins = false, ends = false;  ///< whether the song begins or ends with it
  std::optional<Likeness> like;
  std::vector<Step> route;  ///< from the tuning to the whole section, in the order of doing
  std::vector<std::string> listen, cautions;
};

/// The number of the first step of a kind, from 1; 0 where the way has none.
int step_number(const PracticePlan& plan, StepKind kind);

/// Difficulty: half of it the speed of the busiest bar (1 at ten attacks a second), half of it the hardest change (1 at
/// 12 points of theory::Move); without changes the speed alone. The ladder goes up in tenths of the tempo, from 80 %
/// for difficulty 0 and from 50 % for difficulty 1; so sections of one tempo share its rungs. Each is set to the
/// nearest number of the metronome's old scale (40, 42 … 60, 63 … 72, 76 … 120, 126 … 144, 152 … 208). What it counts
/// is halved where that is slower than a metronome clicks, and taken together where it is faster. A section with hardly
/// a note has no ladder. These are rules of thumb of this project.
PracticePlan practice_plan(const Setting& setting, int section);

/// "1st ending", "1st and 2nd ending".
std::string ending_name(const score::Bar& bar);
/// Printed number of a bar, or "the pick-up".
std::string bar_words(const score::Section& section, int bar);
/// "bar 5", "bars 5 to 8".
std::string bars_words(const score::Section& section, int first, int last);

}  // namespace tunesheaf::blocks

// The ink of one onset on one staff, before any x is known. In: the chords of all voices that begin together. Out: left
// edges of heads (seconds displaced), accidentals packed into columns, dots in spaces, and how far the ink reaches to
// both sides of the column. Invariant: no two accidentals touch, nor an accidental a head. Read next: spacing.h.
#pragma once
#include <map>
#include <string>

#include "staff_plan.h"
#include "tunesheaf/style/style.h"
#include "tunesheaf/text/music_signs.h"

namespace tunesheaf::engrave {

struct Inks {
  const style::Style& style;
  text::Shaper& shaper;
  text::MusicFont& music;
  Length sp;
  std::map<std::string, text::Line> figures;  ///< tab figures shaped once

  const text::Sign& sign(MusicSign s, double size = 1) { return music.sign(s, sp * size); }
  const text::Line& figure(const std::string& words, double size = 1);
  /// Half the room of a small letter or number over or under a note.
  Length half_letter(char letter, bool italic);
  /// The same for small words over a note.
  Length half_label(const std::string& words);
};

inline constexpr double kGraceSize = 0.65;
inline constexpr double kSmallFigure = 0.8;   ///< figures of grace notes and beside others
inline constexpr double kGraceAdvance = 1.5;  ///< sp from one grace note to the next, or to the main note's ink

inline constexpr double kTremoloHalf = 0.55;  ///< sp from a stem to the end of a tremolo stroke through it

inline constexpr double kTabDotStep = 0.55;  ///< sp from one dot beside a stem of a tab to the next

/// Half the height of parentheses around heads as far apart as these, in staff spaces over those of one.
inline double parens_stretch(const Parens& parens) {
  return (parens.high - parens.low) / 4.0;
}

/// Text of a tab figure: "7", "x", "(5)", "<12>".
std::string figure_text(const score::Note& note);
/// The fret of a trill or of a touch that stands beside its figure on a tab; empty for none.
std::string figure_beside(const score::Note& note);

/// From one small figure of a tab to what follows it.
Length grace_figure_room(Inks& inks, const score::Note& note);

void layout_chords(StaffPlan& plan, const score::Timeline& timeline, Inks& inks);
/// Sign of a rest and the height (half spaces over the middle line) of its origin.
std::pair<MusicSign, int> rest_sign(const Chord& rest);
MusicSign flag_sign(theory::NoteValue value, bool up);
/// Strokes of a tremolo or roll that a chord has; 0 for none (tremolo.cpp).
int tremolo_strokes(const score::Timeline& timeline, const Chord& chord);

}  // namespace tunesheaf::engrave

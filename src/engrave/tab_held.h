// What sounds on in a tab: ties from figure to figure, and which held figures are printed again. In: the figures of one
// staff as they are drawn. Out: a tie for every piece of a held note; the figure itself is named again (small, in
// parentheses) only where the line begins and where the hand does something with what it holds: slides, hammers or
// pulls away from it, bends it. Parentheses without a tie are thus left to ghost notes.
#pragma once
#include <map>
#include <set>
#include <utility>
#include <vector>

#include "draw.h"

namespace tunesheaf::engrave {

class HeldFigures {
 public:
  HeldFigures(StaffContext& staff, const StaffPlan& plan);

  /// Whether the figure of a held piece is printed.
  bool named(const Chord& chord, const Head& head) const;
  /// Something else was struck on its string since it began, or is held there by a voice before its own: nothing of
  /// it sounds any more.
  bool struck_anew(const Chord& chord, const score::Note& held) const;
  /// A piece of a note on a string: between `left` and `right` stands its figure (or nothing: they are equal).
  struct Piece {
    score::Place at, end;
    int string = 0;
    bool held = false, bent = false;
    Length left, right;
    StaffContext::Tag tag;
  };
  void add(const Chord& chord, const Head& head, bool held, Length left, Length right);
  void draw_ties();

 private:
  const score::Note& note(const Chord& chord, const Head& head) const;
  bool goes_on_beyond(const Piece& piece) const;
  void tie(const Piece& piece, Length x0, Length x1);

  StaffContext& staff_;
  const StaffPlan& plan_;
  std::map<int, score::Place> last_;    ///< by event: where its last piece stands
  std::set<std::pair<int, int>> left_;  ///< event and note from which the hand goes on to another
  std::vector<Piece> pieces_;
};

}  // namespace tunesheaf::engrave

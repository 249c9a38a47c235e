// The page checked as geometry. In: a Document and rules. Out: every breach, with its page, box and the place in the
// song it came from. Reads the display list, never the picture, and knows no music: which kinds may touch, which must
// stand on which lines, and which subjects are expected is handed in. Invariant: no breach means that every rule held
// for every mark. Sources: rules 8 to 10 of engraving common practice. Read next: paint/display_list.h.
#pragma once
#include <compare>
#include <string>
#include <tuple>
#include <vector>

#include "tunesheaf/paint/display_list.h"

namespace tunesheaf::paint {

/// A mark that must stand, centred, on a level line of another kind.
struct OnLine {
  Kind mark, line;
};

/// Two kinds whose marks may touch each other, in either order.
struct MayTouch {
  Kind a, b;
};

/// Where a mark that stands for a subject must be, and what it says: its middle so many halves of a line distance below
/// the top line of its staff. Lines bear their staff in their subject, and their number (1 is the top) as its note.
struct Place {
  Subject subject;
  Kind mark, line;
  int halves = 0;
  std::string text;  ///< of a mark that is text; empty: not compared
};

/// A mark that belongs to another of the same staff and event and must stand at its side: a stem at a note head. Marks
/// of the kind `partner` whose text is among `texts` must have one; a mark of an event that has partners, or marks of
/// the kind `also`, must stand at the side of one of these.
struct Joined {
  Kind mark, partner, also;
  std::vector<std::string> texts;
};

/// A mark that must stand with an event on one of these staves, in one of these kinds.
struct Wanted {
  std::int32_t first_staff = 0, last_staff = 0, event = -1;
  std::vector<Kind> kinds;
  source::Span origin;
};

/// A mark as it was laid out: what the display list must hold, no more and no less.
struct Laid {
  Kind kind;
  base::Rect box;
  source::Span origin;
  friend constexpr auto operator<=>(const Laid& a, const Laid& b) {
    return std::tie(a.kind, a.box.x, a.box.y, a.box.width, a.box.height) <=>
           std::tie(b.kind, b.box.x, b.box.y, b.box.width, b.box.height);
  }
};

struct AuditRules {
  base::Rect printable;             ///< nothing but tint reaches out of it; empty: the whole page
  std::vector<Subject> expected;    ///< each must be drawn exactly once, and no other
  std::vector<Subject> may_stand;   ///< beside them: drawn once, or not at all where a sign says it
  std::vector<Kind> counted;        ///< the kinds that stand for a subject ("note-head", "tab-figure")
  std::vector<MayTouch> may_touch;  ///< text against text stays forbidden
  std::vector<Kind> touches_all;    ///< kinds that may touch anything but text of their own layer
  std::vector<OnLine> on_line;
  std::vector<Place> places;
  std::vector<Joined> joined;
  std::vector<Wanted> wanted;
  std::vector<std::vector<Laid>> laid;          ///< page by page; empty: not compared
  std::vector<source::Span> said;               ///< each must be the origin of a mark somewhere
  base::Length slack = base::Length::raw(102);  ///< 0.1 pt: overlaps and distances below this do not count
  base::Length least_text, least_stroke;        ///< smallest text and thinnest stroke; zero: not checked
};

/// rule is one of "off-page", "overlap", "missing", "repeated", "unexpected", "off-line", "small-text", "thin-stroke",
/// "doubled" (the same mark twice at one place), "wrong-height", "wrong-text" and "odd-size" (a mark with a place whose
/// size in line distances is not that of its like), "loose" (a stem away from its heads, a head without its
/// stem), "broken-staff" (a line that is missing, uneven or short), "missing-mark" (a sign that
/// is written and stands with none of its event's notes), "lost" (laid out and not on the page), "stray" (on the page
/// and nowhere laid out), "unsaid" (words of the song that are nowhere printed).
struct Breach {
  int page = -1;  ///< from 0; -1 where the breach is on no page (a missing subject)
  base::Rect box;
  source::Span origin;
  std::string rule;
  std::string text;  ///< one sentence with the kinds and the measure
};

/// Marks of layers Line, Ink and Text are checked against one another: lines may cross lines and ink; all else needs
/// leave by may_touch or touches_all. Pieces of one line of text (same kind, origin and baseline) are one mark. Paths
/// and slanted lines are compared slice by slice, so that a slur may arch over what stands beneath it.
std::vector<Breach> audit(const Document& document, const AuditRules& rules);

/// One line per breach: "page 2: overlap at 100.2,300.1: …".
std::string print(const std::vector<Breach>& breaches);

}  // namespace tunesheaf::paint

// One staff of one system while it is drawn: the seam for everything that stands on, over or under a staff. In: where
// the columns are (x of every onset), where the lines are (y of every string), what has been drawn so far (boxes of
// heads and figures, contours above and below). Out: items, in coordinates of the staff: y = 0 is its top line, x is
// the system's. Invariant: what is put on the staff grows its contours, so rows taken afterwards clear it. Staves are
// stacked only when all of them are drawn. Read next: draw_marks() below, rows.cpp for a row of words.
#pragma once
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "staff_plan.h"
#include "tunesheaf/engrave/system.h"
#include "tunesheaf/layout/contour.h"

namespace tunesheaf::engrave {

/// What is said on one system: copies of the section's words, marks and harmonies that touch it.
struct PartWords {
  std::vector<score::Word> words;
  std::vector<score::Mark> marks;
};
struct SystemWords {
  std::map<int, PartWords> by_part;  ///< -1: the chart
  std::vector<score::Harmony> harmony;
};

/// What all staves of a system share.
struct SystemContext {
  const score::Timeline& timeline;
  const score::Section& section;
  const SectionRequest& request;
  const style::Style& style;
  text::Shaper& shaper;
  text::MusicFont& music;
  Length sp;                                                    ///< staff space
  int first_bar = 0, last_bar = 0;                              ///< half open
  bool first = true, last = true;                               ///< of the section's systems
  Length left{}, right{};                                       ///< ends of the staff lines
  Length content_left{};                                        ///< after clef, key and meter
  std::map<score::Place, Length> columns{};                     ///< middle of the heads at every onset
  std::map<score::Place, Length> grace_columns{};               ///< left edge of what stands at an onset on any staff
  std::map<std::pair<score::Place, int>, Length> grace_ends{};  ///< the same of a part that has grace notes there
  /// By bar - first_bar: where music may begin (after clef, key, meter), the left edge of the bar line that ends the
  /// bar, and its right edge.
  std::vector<Length> bar_left{}, bar_right{}, bar_end{};

  SystemWords said{};
  const std::vector<StaffPlan>* plans = nullptr;  ///< all staves of the system

  Length space(double staff_spaces) const { return sp * staff_spaces; }
  const PartWords& said_by(int part) const;
  bool holds(score::Place place) const { return place.bar >= first_bar && place.bar < last_bar; }
  /// Where the grace notes of a part end that stand before this onset.
  Length grace_end(score::Place place, int part) const;
  /// Where what goes on to the next system ends on this one: at the bar line, before the dots of a repeat.
  Length leaves_at() const;
  /// Middle of the column, or between the neighbouring ones by time; the end of the bar for its length.
  Length x_of(score::Place place) const;
};

/// Part of a stretch that lies on this system.
struct SpanOnSystem {
  Length from, to;
  bool begins = true, ends = true;  ///< else it goes on on the neighbouring system
};

/// A head or a figure that stands on the staff.
struct DrawnNote {
  layout::Subject subject;
  score::Place at;
  int voice = 1;
  Rect box;            ///< staff coordinates
  bool attack = true;  ///< else held from before
  bool grace = false;
  bool stem_up = true;
  Length stem_tip;  ///< y of the stem's end, or of the head's own edge on that side
};

enum class Side : std::uint8_t { Above, Below };

/// Ink that has been put on the staff, as what is drawn later sees it: curves and slanted shapes in slices.
struct Obstacle {
  Rect box;
  layout::Kind kind;
  layout::Subject subject;
};

class StaffContext {
 public:
  StaffContext(const SystemContext& system, const StaffPlan& plan);

  const SystemContext& system;
  const StaffPlan& plan;
  const score::PartMusic* music() const;  ///< nothing for the chart
  const score::Part* part() const;
  /// Words and marks of the part that touch this system.
  const std::vector<score::Word>& words() const { return system.said_by(plan.part).words; }
  const std::vector<score::Mark>& marks() const { return system.said_by(plan.part).marks; }

  // ---- geometry
  Length space(double staff_spaces) const { return system.sp * staff_spaces; }
  /// Line 1 is the top one.
  Length line_y(int line) const { return space(plan.line_distance * (line - 1)); }
  /// Tab: string 1 (the last of the tuning list) is the top line, mirrored the lowest.
  Length string_y(int string) const { return line_y(plan.line_of(string)); }
  /// Notation: half spaces above the middle line.
  Length position_y(int position) const { return space(plan.height() / 2 - position * 0.5); }
  Length height() const { return space(plan.height()); }
  std::vector<DrawnNote> notes;
  /// The head or figure with which the note begins (or its held head, where only that is on this system).
  const DrawnNote* find(int event, int note) const;
  /// The last piece of the note that is drawn: where the hand leaves it. Nothing for a grace note.
  const DrawnNote* find_last(int event, int note) const;
  /// All drawn notes of an event that begin on this system.
  std::vector<const DrawnNote*> of_event(int event) const;
  /// `to` is exclusive: the stretch ends just before what sounds there (or at the bar line).
  std::optional<SpanOnSystem> clip(score::Place from, score::Place to) const;

  // ---- rows
  layout::Contour above, below;
  /// y of the row's bottom edge: clear of everything between x0 and x1; the row is taken. The row is `height` high.
  Length reserve_above(Length x0, Length x1, Length height, double gap = 0.4);
  /// y of the row's top edge.
  Length reserve_below(Length x0, Length x1, Length height, double gap = 0.4);
  /// Nearest y that clears what is drawn, without taking it.
  Length clear_above(Length x0, Length x1) const { return -above.reach(x0, x1); }
  Length clear_below(Length x0, Length x1) const { return below.reach(x0, x1); }

  // ---- ends of lines and arcs
  /// x, or as far right of it as what stands there reaches at this height (stems do not count); a little white is kept.
  Length begin_after(Length x, Length y) const;
  Length end_before(Length x, Length y) const;
  /// x, or the right edge of whatever head is struck or held at the same moment at about this height.
  Length right_of_onset(score::Place at, Length y, Length x) const;
  /// x, or the right of the augmentation dots that stand there at about this height.
  Length past_dots(Length x, Length y) const;
  /// Of a box that is drawn from its left edge: moved right until it lies on nothing.
  Length clear_right(Rect box, Length gap) const;

  // ---- ink; every call grows the contours
  struct Tag {
    layout::Kind kind;
    Span origin{};
    layout::Subject subject{};
  };
  void put(layout::Item item);
  void line(Tag tag, Point from, Point to, double thickness, layout::Cap cap = layout::Cap::Butt,
            std::vector<double> dash = {}, layout::Layer layer = layout::Layer::Ink);
  void fill(Tag tag, std::vector<layout::PathStep> steps, Point at = {}, layout::Layer layer = layout::Layer::Ink);
  /// A curve or a slanted shape grows the contours by slices, not by its whole box.
  void fill_sliced(Tag tag, std::vector<layout::PathStep> steps, Point at = {});
  /// A slanted stroke, in slices too.
  void slant(Tag tag, Point from, Point to, double thickness);
  void stroke_sliced(Tag tag, std::vector<layout::PathStep> steps, double thickness, layout::Cap cap);
  /// Open path, stroked.
  void stroke(Tag tag, std::vector<layout::PathStep> steps, Point at, double thickness,
              layout::Cap cap = layout::Cap::Round);
  /// `size`: 1 for normal, 0.65 for grace notes. Returns the box drawn.
  Rect sign(Tag tag, MusicSign sign, Point at, double size = 1);
  const text::Sign& measure(MusicSign sign, double size = 1) const;
  text::Line shape(const std::string& words, const style::TypeRole& role, double size = 1) const;
  /// Left end of the baseline at `at`.
  void words(Tag tag, const text::Line& line, Point at, base::Colour colour, layout::Layer layer = layout::Layer::Text);
  /// White beneath what follows (figures on lines).
  void knock_out(Rect box);
  /// A row of text over or under the staff: left edge, middle or right edge at x; returns the box.
  enum class Anchor : std::uint8_t { Left, Middle, Right };
  Rect words_in_row(Tag tag, Side side, Length x, Anchor anchor, const text::Line& line, base::Colour colour,
                    double gap = 0.45);
  /// Rows of words over the staff from `left`, or from earlier where they would run out of the system; broken where
  /// they are longer than that. Nothing stands on the line that joins the staves at their left.
  void words_in_lines(Tag tag, Length left, const std::string& words, const style::TypeRole& role);
  layout::Subject subject(int event = -1, int note = -1) const { return {plan.number, event, note}; }

  std::vector<layout::Item> items;
  std::vector<Obstacle> obstacles;    ///< of the items that were put, without lines of the staff and ledger lines
  std::vector<RemarkAnchor> remarks;  ///< in staff coordinates

 private:
  void grow(Tag tag, Point from, Point to, Length half);
  void grow_along(Tag tag, const std::vector<layout::PathStep>& steps, Point at, Length half);
};

inline const Length kThinnest = Length::mm(0.2);  ///< what a printer and a copier still show of a line
inline const Length kLeastType = Length::pt(7);   ///< nothing is set smaller, whatever the size of the staff
/// Text style of a role; `size` multiplies the role's own, not below kLeastType.
text::TextStyle text_style(const style::TypeRole& role, double size = 1);

}  // namespace tunesheaf::engrave

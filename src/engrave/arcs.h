// Arcs that are chosen against what stands in their way. In: where an arc would like to lie, how far it may give way,
// and the ink around it. Out: the arc that gives way least and clears all of it; where none does, the one that touches
// least. Invariant: what is tested is the drawn band itself, thickness and all. Read next: ties.cpp, slurs.cpp.
#pragma once
#include <optional>
#include <vector>

#include "staff_context.h"

namespace tunesheaf::engrave {

struct Arc {
  Point from, to;
  double rise = 0;  ///< sp, negative upwards
  double hurt = 0;  ///< how much it touches; 0: clear
};

/// How far an arc may give way, in staff spaces: both ends outwards (to the side of its rise), its middle in all.
struct ArcGive {
  double lift = 0, rise = 0;
};

/// The ink that an arc may meet; asked for once, tried many times.
class ArcField {
 public:
  /// All that stands between x0 and x1 or just beside them, but for what belongs to no one (staff lines, ledger lines).
  ArcField(const StaffContext& staff, Length x0, Length x1);
  /// Marks of this kind are crossed without harm (stems, by arcs that begin at their heads).
  void allow(layout::Kind kind);
  /// How much an arc touches: 0 where it keeps `gap` (sp) off everything.
  /// It is not followed further than to `enough`.
  double hurt(const Arc& arc, double gap, double enough = 1e9) const;
  /// The wish itself where it is clear, else the nearest to it that is.
  Arc fit(const Arc& wish, ArcGive give, double gap) const;

 private:
  struct Box {
    double left, top, right, bottom, weight;
    layout::Kind kind;
  };
  const StaffContext& staff_;
  std::vector<Box> boxes_;
};

/// A curve that passes behind what stands in its way: drawn in pieces that keep `gap` (sp) off it. A straight line is a
/// curve whose handles are its ends. What is only joined by it, or may be crossed, is named in `through`.
struct Curve {
  Point from, a, b, to;
};
void draw_behind(StaffContext& staff, StaffContext::Tag tag, const Curve& curve, double thickness, double gap,
                 const std::vector<layout::Kind>& through);

/// Edges, with their white, of the signs as tall as a staff (meter, key, clef) that a level arc at `y` from x0 to x1
/// would run through: they part a tie, as the end of a line does (Gould 2011).
struct SignsWithin {
  Length left, right;
};
std::optional<SignsWithin> signs_within(const StaffContext& staff, Length x0, Length x1, Length y);

/// The arc; where it still runs through ink it passes behind it, with a little white on either side. Marks of the kinds
/// `through` are crossed.
void draw_arc(StaffContext& staff, StaffContext::Tag tag, const Arc& arc, const std::vector<layout::Kind>& through);

}  // namespace tunesheaf::engrave

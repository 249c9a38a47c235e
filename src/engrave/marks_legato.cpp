// Arcs over figures that are hammered, pulled or slid to, and the strokes of slides. Chains on one string share one
// arc; a slide that is not struck on arrival has both arc and stroke, one that is struck has the stroke alone.
#include <algorithm>
#include <optional>
#include <set>

#include "arcs.h"
#include "marks.h"

namespace tunesheaf::engrave {

using song::Arrival;

namespace {

bool slides(Arrival how) {
  return how == Arrival::LegatoSlide || how == Arrival::ShiftSlide;
}
const char* letter_of(Arrival how) {
  return how == Arrival::PullOff ? "p" : "h";
}
Length middle_x(const Rect& box) {
  return box.x + box.width / 2;
}

/// What an arc over figures may cross.
const std::vector<layout::Kind> kCrossed{"bend", "bend-arrow", "legato-arc"};

class LegatoDrawer {
 public:
  explicit LegatoDrawer(Hands& hands) : hands_(hands), staff_(hands.staff) {}

  void arcs() {
    if (hands_.tab) {
      for (std::size_t i = 0; i < hands_.joined.size(); ++i) {
        const Joined& j = hands_.joined[i];
        if (legato(j.how) && j.from_event >= 0 && !goes_on_before(j)) chain(i);
      }
      for (const Played& p : hands_.played) grace(p);
    }
    for (const Joined& j : hands_.joined) {
      if (from_nowhere(j) && hands_.event(j.to_event).grace->notes.empty()) hammer_from_nowhere(j);
    }
    if (hands_.words) letters();
  }

  void strokes() {
    for (const score::Mark& mark : staff_.marks()) {
      if (mark.kind == "glissando") glissando(mark);
    }
    for (const Joined& j : hands_.joined)
      if (slides(j.how) && j.from_event >= 0) slide(j);
  }

  /// From nowhere and into nowhere: beside one note.
  void strokes_beside() {
    for (const Joined& j : hands_.joined)
      if (j.how == Arrival::SlideInFromBelow || j.how == Arrival::SlideInFromAbove) slide_in(j);
    for (const Played& p : hands_.played) {
      if (p.chord->slash) continue;
      for (std::size_t n = 0; n < p.event->notes.size(); ++n) slide_off(p, static_cast<int>(n));
    }
  }

 private:
  static bool from_nowhere(const Joined& j) {
    return j.how == Arrival::TapFrettingHand || (j.how == Arrival::HammerOn && j.from_event < 0);
  }
  bool below(const Joined& j) const {
    const int under = staff_.plan.mirrored ? 1 : 2;
    if (j.voice != under) return false;
    return std::any_of(hands_.played.begin(), hands_.played.end(),
                       [under](const Played& p) { return p.chord->voice == 3 - under && !p.chord->lone; });
  }
  const score::Note& note(int event, int index) const {
    return hands_.event(event).notes[static_cast<std::size_t>(index)];
  }

  // ---------------------------------------------------------------- arcs on tab

  bool goes_on_before(const Joined& j) const {
    return std::any_of(hands_.joined.begin(), hands_.joined.end(), [&](const Joined& o) {
      return legato(o.how) && o.from_event >= 0 && o.to_event == j.from_event && o.to_note == j.from_note;
    });
  }

  void chain(std::size_t first) {
    const Joined& begin = hands_.joined[first];
    const Joined* end = &begin;
    const DrawnNote* from = staff_.find_last(begin.from_event, begin.from_note);
    std::optional<DrawnNote> let_down;  // pulled off where a bend was let down, not where the string was bent
    if (from != nullptr) {
      let_down = *from;
      let_down->box = leaves(*from);
      if (let_down->box.left() > from->box.left()) {  // clear of the arrow that comes down on it
        let_down->box.width = let_down->box.width / 2;
        let_down->box.x += let_down->box.width;
      }
      from = &*let_down;
    }
    std::vector<const DrawnNote*> under{from, staff_.find(begin.to_event, begin.to_note)};
    for (std::size_t i = first + 1; i < hands_.joined.size(); ++i) {
      const Joined& next = hands_.joined[i];
      if (!legato(next.how) || next.from_event != end->to_event || next.from_note != end->to_note) continue;
      end = &next;
      under.push_back(staff_.find(next.to_event, next.to_note));
    }
    const StaffContext::Tag tag = hands_.tag("legato-arc", hands_.event(end->to_event), end->to_note);
    // The letters stand over the staff, and their arc under them.
    const bool lettered = hands_.words && (begin.how == Arrival::HammerOn || begin.how == Arrival::PullOff);
    const bool lower = below(begin) || (!lettered && crowded(under, false) && !crowded(under, true));
    arc(tag, under, lower, lettered ? 0.8 : 0.25);
  }

  /// Figures of the next string stand where the arc would pass.
  bool crowded(const std::vector<const DrawnNote*>& notes, bool under) const {
    const DrawnNote* first = nullptr;
    const DrawnNote* last = nullptr;
    for (const DrawnNote* n : notes) {
      if (n == nullptr) continue;
      if (first == nullptr) first = n;
      last = n;
    }
    if (first == nullptr) return false;
    return std::any_of(staff_.notes.begin(), staff_.notes.end(), [&](const DrawnNote& o) {
      if (o.box.right() < first->box.left() || o.box.left() > last->box.right()) return false;
      const Length gap = under ? o.box.top() - first->box.bottom() : first->box.top() - o.box.bottom();
      return gap > -(first->box.height / 2) && gap < hands_.space(0.8);
    });
  }

  /// A figure of the same chord stands just where the arc would begin.
  bool hemmed(const DrawnNote& n, bool under) const {
    return std::any_of(staff_.notes.begin(), staff_.notes.end(), [&](const DrawnNote& o) {
      if (&o == &n || o.grace != n.grace || o.box.right() < n.box.left() || o.box.left() > n.box.right()) return false;
      const Length gap = under ? o.box.top() - n.box.bottom() : n.box.top() - o.box.bottom();
      return gap > -(n.box.height / 2) && gap < hands_.space(0.8);
    });
  }

  Point foot(const DrawnNote& n, bool under, bool at_begin, bool at_side) const {
    const double way = under ? 1 : -1;
    if (at_side) {
      return {at_begin ? n.box.right() + hands_.space(0.12) : n.box.left() - hands_.space(0.12),
              middle_y(n.box) + hands_.space(0.42 * way)};
    }
    const Length inwards = std::min(n.box.width / 4, hands_.space(0.25));
    const Length edge = under ? n.box.bottom() : n.box.top();
    return {middle_x(n.box) + (at_begin ? inwards : -inwards), edge + hands_.space(0.2 * way)};
  }

  /// The least hurt of a few: on the side asked for or the other, its feet over the figures or between them.
  void arc(StaffContext::Tag tag, const std::vector<const DrawnNote*>& under, bool below, double turning = 0.25) {
    if (under.front() == nullptr && under.back() == nullptr) return;
    std::optional<Arc> best;
    double worth = 0;
    for (const bool turned : {false, true}) {
      for (const int between : {0, 1, 2, 3}) {
        const bool low = below != turned;
        const Arc arc = arc_between(under, low, (between & 1) != 0, (between & 2) != 0);
        double price = arc.hurt + (turned ? turning : 0);
        if (under.front() != nullptr && ((between & 1) != 0) != hemmed(*under.front(), low)) price += 0.1;
        if (under.back() != nullptr && ((between & 2) != 0) != hemmed(*under.back(), low)) price += 0.1;
        if (best && price >= worth) continue;
        best = arc;
        worth = price;
      }
    }
    draw_arc(staff_, tag, *best, kCrossed);
  }

  Arc arc_between(const std::vector<const DrawnNote*>& under, bool below, bool from_side, bool to_side) const {
    const DrawnNote* first = under.front();
    const DrawnNote* last = under.back();
    Point a, b;
    if (first != nullptr) a = foot(*first, below, true, from_side);
    if (last != nullptr) b = foot(*last, below, false, to_side);
    if (first == nullptr) a = {std::min(hands_.system.content_left, b.x - hands_.space(1.6)), b.y};
    if (last == nullptr) b = {hands_.system.leaves_at() - hands_.space(0.2), a.y};
    // Level: figures of one string stand at one height.
    a.y = b.y = below ? std::max(a.y, b.y) : std::min(a.y, b.y);
    const Length least = hands_.space(0.9);
    if (b.x < a.x + least) {  // a foot beside its figure stays where it is
      const Length middle = to_side == from_side ? (a.x + b.x + least) / 2 : to_side ? b.x : a.x + least;
      a.x = middle - least;
      b.x = middle;
    }
    const double length = (b.x - a.x) / hands_.system.sp, way = below ? 1 : -1;
    const ArcField field(staff_, a.x, b.x);
    return field.fit({a, b, std::clamp(0.42 + 0.06 * length, 0.5, 1.05) * way}, {3.0, 2.4 + 0.15 * length}, 0.1);
  }

  /// A short arc that comes from the left: the finger falls on the string, nothing sounded before.
  void hammer_from_nowhere(const Joined& j) {
    const DrawnNote* to = staff_.find(j.to_event, j.to_note);
    if (to == nullptr || (!hands_.tab && !hands_.words)) return;
    const bool under = below(j) || (!hands_.tab && to->stem_up);
    const Point b = foot(*to, under, false, hemmed(*to, under));
    const Point a{to->box.left() - hands_.space(1.3), b.y};
    const ArcField field(staff_, a.x, b.x);
    draw_arc(staff_, hands_.tag("legato-arc", hands_.event(j.to_event), j.to_note),
             field.fit({a, b, under ? 0.55 : -0.55}, {1.2, 1.2}, 0.1), kCrossed);
  }

  void grace(const Played& p) {
    if (p.event->grace->notes.empty() || !p.begins) return;
    std::vector<const DrawnNote*> small;
    for (const DrawnNote& n : staff_.notes) {
      if (n.grace && n.subject.event == p.event->id) small.push_back(&n);
    }
    std::vector<const score::Note*> notes;
    for (const score::Note& n : p.event->grace->notes) {
      if (n.string >= 1 && n.string <= staff_.plan.lines) notes.push_back(&n);
    }
    if (small.empty() || small.size() != notes.size()) return;
    const StaffContext::Tag tag = hands_.tag("legato-arc", *p.event);
    const Arrival how = p.event->grace->to_main;
    const DrawnNote* main = on_string(p, notes.back()->string);
    if (main == nullptr) return;
    if (legato(how)) {  // one arc from the first small figure of this string
      std::size_t first = small.size() - 1;
      while (first > 0 && notes[first - 1]->string == notes.back()->string) --first;
      arc(tag, {small[first], main}, false);
    }
    if (slides(how)) {
      const bool up = note(p.event->id, main->subject.note).fret >= notes.back()->fret;
      stroke_between(hands_.tag("slide", *p.event), small.back()->box, main->box, up);
    }
  }

  const DrawnNote* on_string(const Played& p, int string) const {
    for (std::size_t n = 0; n < p.event->notes.size(); ++n) {
      if (p.event->notes[n].string == string) return hands_.drawn(p, static_cast<int>(n));
    }
    return nullptr;
  }

  void letters() {
    std::vector<Hands::Letter> row;
    std::set<std::pair<int, std::string>> said;
    for (const Joined& j : hands_.joined) {
      if (j.how != Arrival::HammerOn && j.how != Arrival::PullOff && j.how != Arrival::TapFrettingHand) continue;
      const DrawnNote* to = staff_.find(j.to_event, j.to_note);
      const std::string word = letter_of(j.how);
      if (to == nullptr || !said.emplace(j.to_event, word).second) continue;
      const DrawnNote* from = j.from_event < 0 ? nullptr : staff_.find_last(j.from_event, j.from_note);
      const text::Line line = hands_.label(word);
      const Length x =
          from != nullptr ? (middle_x(leaves(*from)) + middle_x(to->box)) / 2 : to->box.left() - hands_.space(0.6);
      row.push_back({x, line,
                     hands_.tag(j.how == Arrival::PullOff ? layout::Kind("pull-letter") : layout::Kind("hammer-letter"),
                                hands_.event(j.to_event), j.to_note),
                     middle_x(to->box)});
    }
    for (Hands::Letter& letter : row) hands_.pending.push_back(std::move(letter));
  }

  // ---------------------------------------------------------------- slides

  /// Left edge of a head with its accidental, or of a figure.
  Length left_edge(const DrawnNote& n) const {
    Length left = n.box.left();
    const Played* p = hands_.find(n.subject.event);
    if (hands_.tab || p == nullptr) return left;
    for (const Head& head : p->chord->heads) {
      if (head.note == n.subject.note && head.accidental) left = std::min(left, p->chord->x + head.accidental_left);
    }
    return left;
  }

  /// Where the hand leaves a note: its head or figure, or the last of the small heads that its string is bent to, or
  /// the figure to which it is let down.
  Rect leaves(const DrawnNote& note) const {
    Rect box = note.box;
    for (const Obstacle& o : staff_.obstacles)
      if ((o.kind == layout::Kind("bent-head") || o.kind == layout::Kind("released-figure")) &&
          o.subject == note.subject && o.box.left() > box.left())
        box = o.box;
    return box;
  }

  /// Between heads far apart the line is steep enough not to lie along a staff line.
  void steepen(Length run, bool up, Length& y0, Length& y1) const {
    const Length least = std::min(hands_.space(1.1), run * 0.2), rise = up ? y0 - y1 : y1 - y0;
    if (rise >= least) return;
    const Length more = (least - rise) / 2;
    y0 += up ? more : -more;
    y1 += up ? -more : more;
  }

  void stroke_between(StaffContext::Tag tag, Rect from, Rect to, bool up) {
    Length y0 = middle_y(from), y1 = middle_y(to);
    Length x0 = from.right() + hands_.space(0.2), x1 = to.left() - hands_.space(0.2);
    if (hands_.tab) {
      const Length half = hands_.space(up ? 0.42 : -0.42);
      y0 += half;
      y1 -= half;
    } else {  // from head to head, a little off their middles
      const Length off = hands_.space(y1 < y0 ? -0.15 : y1 > y0 ? 0.15 : 0);
      y0 += off;
      y1 -= off;
      steepen(x1 - x0, up, y0, y1);
      x0 = staff_.begin_after(x0, y0);
      x1 = staff_.end_before(x1, y1);
    }
    if (x1 - x0 < hands_.space(0.8)) {
      const Length middle = (x0 + x1) / 2;
      x0 = std::max(from.right() + hands_.space(0.08), middle - hands_.space(0.4));
      x1 = std::min(to.left() - hands_.space(0.08), middle + hands_.space(0.4));
    }
    broken_line(tag, {x0, y0}, {x1, y1});
  }

  /// What stands in the way of a slide, struck during it or beside its notes, breaks its line.
  void broken_line(StaffContext::Tag tag, Point from, Point to) {
    std::vector<std::pair<Length, Length>> gaps;
    const auto y_at = [&](Length x) { return from.y + (to.y - from.y) * ((x - from.x) / (to.x - from.x)); };
    const Length gap = hands_.space(0.22), cap = hands_.space(0.07);
    for (const Obstacle& o : staff_.obstacles) {
      const Length left = std::max(o.box.left() - cap, from.x), right = std::min(o.box.right() + cap, to.x);
      if (left >= right) continue;
      const Length top = std::min(y_at(left), y_at(right)), bottom = std::max(y_at(left), y_at(right));
      if (bottom > o.box.top() - gap && top < o.box.bottom() + gap) gaps.emplace_back(left - gap, right + gap);
    }
    std::sort(gaps.begin(), gaps.end());
    gaps.emplace_back(to.x, to.x);
    Length x = from.x;
    for (const auto& [left, right] : gaps) {
      if (left - x > hands_.space(0.3)) staff_.slant(tag, {x, y_at(x)}, {left, y_at(left)}, 0.14);
      x = std::max(x, right);
    }
  }

  /// From where the hand leaves: a held note's last piece, so that no line runs beside a tie.
  void slide(const Joined& j) {
    const DrawnNote* from = staff_.find_last(j.from_event, j.from_note);
    const DrawnNote* to = staff_.find(j.to_event, j.to_note);
    if (from == nullptr && to == nullptr) return;
    const score::Note& a = note(j.from_event, j.from_note);
    const score::Note& b = note(j.to_event, j.to_note);
    const bool up = hands_.tab ? b.fret >= a.fret : b.midi >= a.midi;
    const StaffContext::Tag tag = hands_.tag("slide", hands_.event(j.to_event), j.to_note);
    Rect from_box, to_box;
    if (to != nullptr) {
      to_box = to->box;
      const Length left = left_edge(*to);
      to_box.width += to_box.x - left;
      to_box.x = left;
    }
    if (from != nullptr) {
      from_box = leaves(*from);
      // What slides off into nowhere as well has that stroke beside it.
      if (a.slide_off != song::SlideOff::None) from_box.width += hands_.space(1.55);
      // Off a string that is bent: a short stroke before the next figure, past the arrow.
      if (hands_.tab && a.more->bend.size() > 1 && to != nullptr) {
        from_box.width = std::max(from_box.width, to_box.left() - hands_.space(1.7) - from_box.left());
      }
    }
    const Length slant = hands_.space(hands_.tab ? 0 : up ? 0.7 : -0.7);
    if (from == nullptr) {
      from_box = {to_box.left() - hands_.space(2.2), to_box.y + slant, {}, to_box.height};
    }
    if (to == nullptr) to_box = {hands_.system.leaves_at(), from_box.y - slant, {}, from_box.height};
    stroke_between(tag, from_box, to_box, up);
  }

  /// The first of the small notes before a note, from the left.
  const DrawnNote* first_small(const Played& p) const {
    const DrawnNote* first = nullptr;
    for (const DrawnNote& n : staff_.notes) {
      const bool own = n.grace && n.subject.event == p.event->id && !p.event->grace->notes.empty();
      if (own && (first == nullptr || n.box.left() < first->box.left())) first = &n;
    }
    return first;
  }

  /// From the first note under the span to the last, or to the one that begins where it ends.
  void glissando(const score::Mark& mark) {
    const Played* first = nullptr;
    const Played* last = nullptr;
    const Played* after = nullptr;
    for (const Played& p : hands_.played) {
      if (!p.begins || p.chord->slash) continue;
      const bool under = p.from >= mark.from && p.from < mark.to;
      if (under && first == nullptr) first = &p;
      if (under) last = &p;
      if (p.from == mark.to && after == nullptr) after = &p;
    }
    if (last == first && after != nullptr) last = after;
    if (first == nullptr || last == first) return;
    const DrawnNote* from = hands_.drawn(*first, 0);
    const DrawnNote* to = hands_.drawn(*last, 0);
    if (from == nullptr || to == nullptr) return;
    const StaffContext::Tag tag{"glissando", mark.origin, staff_.subject(first->event->id, 0)};
    const DrawnNote* small = first_small(*last);  // struck before its note: the line goes to it
    const score::Note& arrives = small != nullptr ? last->event->grace->notes.front() : last->note(0);
    const bool up = first->note(0).midi <= arrives.midi;
    Rect to_box = small != nullptr ? small->box : to->box;
    const Length edge = small != nullptr ? small->box.left() : left_edge(*to);
    to_box.width += to_box.x - edge;
    to_box.x = edge;
    stroke_between(tag, from->box, to_box, up);
    if (!hands_.words) return;
    hands_.pending.push_back({(from->box.right() + to_box.left()) / 2,
                              hands_.phrase("gliss."),
                              {"glissando-word", tag.origin, tag.subject}});
  }

  void slide_in(const Joined& j) {
    const DrawnNote* to = staff_.find(j.to_event, j.to_note);
    if (to == nullptr) return;
    const bool up = j.how == Arrival::SlideInFromBelow;
    const Length y = middle_y(to->box);
    Length right = left_edge(*to) - hands_.space(0.18);
    if (!hands_.tab) right = staff_.end_before(right, y);
    const Length low = hands_.space(hands_.tab ? 0.42 : 0.75), high = hands_.space(hands_.tab ? 0.42 : 0.1);
    if (!hands_.tab) right = before_heads(to->at, right, {y - (up ? high : low), y + (up ? low : high)});
    staff_.slant(hands_.tag("slide-in", hands_.event(j.to_event), j.to_note),
                 {right - hands_.space(1.1), up ? y + low : y - low},
                 {right, up ? y - high + hands_.space(0.1) : y + high}, 0.14);
  }

  /// x, or the left of whatever head of this moment, or stem, a stroke of slide_in() that ends at x would run through.
  Length before_heads(score::Place at, Length x, std::pair<Length, Length> heights) const {
    const Length reach = hands_.space(1.2), white = hands_.space(0.18);
    for (const DrawnNote& n : staff_.notes) {
      if (n.grace || n.at != at || n.box.bottom() <= heights.first || n.box.top() >= heights.second) continue;
      if (n.box.left() < x && n.box.right() > x - reach) x = std::min(x, n.box.left() - white);
    }
    for (const Obstacle& o : staff_.obstacles) {
      if (o.kind != layout::Kind("stem") || o.box.bottom() <= heights.first || o.box.top() >= heights.second) continue;
      if (o.box.left() < x + white / 2 && o.box.right() > x - reach) x = std::min(x, o.box.left() - white);
    }
    return x;
  }

  /// x, or the right of another voice's stem that hangs beside a head of this moment.
  Length past_stems(score::Place at, Length x, Length y) const {
    const Length reach = hands_.space(0.75);
    for (const Obstacle& o : staff_.obstacles) {
      if (o.kind != layout::Kind("stem") || o.box.left() > x + reach || o.box.right() < x - reach) continue;
      if (o.box.top() > y + reach || o.box.bottom() < y - reach) continue;
      const bool here = std::any_of(staff_.notes.begin(), staff_.notes.end(), [&](const DrawnNote& n) {
        return !n.grace && n.at == at && n.subject.event == o.subject.event;
      });
      if (here) x = std::max(x, o.box.right() + hands_.space(0.12));
    }
    return x;
  }

  /// x, or the right of the small heads of this moment, and their signs, that a stroke of slide_off() from x would run
  /// through.
  Length past_bent_heads(score::Place at, Length x, Length y, bool up) const {
    const Length top = y - hands_.space(up ? 0.85 : 0.2), bottom = y + hands_.space(up ? 0.2 : 0.85);
    for (const Obstacle& o : staff_.obstacles) {
      if (o.kind != layout::Kind("bent-head") && o.kind != layout::Kind("bent-accidental")) continue;
      const Played* p = hands_.find(o.subject.event);
      if (p == nullptr || p->from != at || o.box.bottom() <= top || o.box.top() >= bottom) continue;
      x = std::max(x, o.box.right() + hands_.space(0.2));
    }
    return x;
  }

  void slide_off(const Played& p, int n) {
    const song::SlideOff off = p.note(n).slide_off;
    const DrawnNote* from = staff_.find_last(p.event->id, n);
    if (off == song::SlideOff::None || from == nullptr) return;
    if (p.to > score::Place{hands_.system.last_bar, Fraction()}) return;  // it leaves on a later system
    const bool up = off == song::SlideOff::Up;
    const Rect last = leaves(*from);
    const Length y = middle_y(last);
    Length left = staff_.right_of_onset(from->at, y, last.right()) + hands_.space(0.2);
    if (!hands_.tab) {
      left = past_stems(from->at, staff_.past_dots(left, y), y);
      for (const double beside : {0.0, -0.5, 0.5}) left = staff_.begin_after(left, y + hands_.space(beside));
    }
    if (!hands_.tab) left = past_bent_heads(from->at, left, y, up);
    // A bent string is let go when it has moved: behind its arrows.
    if (hands_.tab && p.note(n).more->bend.size() > 1) left = std::max(left, hands_.end_of(p) - hands_.space(1.3));
    const Length near = hands_.space(hands_.tab ? 0.42 : 0.1), far = hands_.space(hands_.tab ? 0.42 : 0.75);
    staff_.slant(hands_.tag("slide-off", *p.event, n), {left, up ? y + near : y - near},
                 {left + hands_.space(1.2), up ? y - far : y + far}, 0.14);
  }

  Hands& hands_;
  StaffContext& staff_;
};

}  // namespace

void draw_legato(Hands& hands) {
  LegatoDrawer(hands).arcs();
}
void draw_slides(Hands& hands) {
  LegatoDrawer(hands).strokes();
}
void draw_slides_beside(Hands& hands) {
  LegatoDrawer(hands).strokes_beside();
}

}  // namespace tunesheaf::engrave

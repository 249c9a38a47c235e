// Bends on tab: curved arrows from the figure up to a common height over the staff, the amount over the arrow head;
// releases curve down to the figure that sounds again; a bend made before the stroke is an upright arrow; what is held
// between two moves is dashed.
//
//            full   full
//             ^------.        amount in whole tones over each head
//            /        \       held: dashed at the height of the heads
//      --- 7 ----------v(7)-- released: the figure in parentheses
#include <algorithm>
#include <numeric>
#include <set>

#include "arcs.h"
#include "draw.h"
#include "marks.h"

namespace tunesheaf::engrave {

namespace {

constexpr double kHeadLength = 0.78, kHeadWidth = 0.6;  ///< of an arrow, sp

/// Whole tones: ¼ ½ ¾ full 1¼ … 2; quarter tones are the finest step the language writes, others as a fraction.
std::string amount_text(Fraction semitones) {
  const Fraction quarters = semitones * Fraction(2);
  if (quarters.den() != 1) return (semitones / Fraction(2)).text();
  const std::int64_t whole = quarters.num() / 4, rest = quarters.num() % 4;
  if (whole == 1 && rest == 0) return "full";
  static constexpr const char* kParts[] = {"", "\u00bc", "\u00bd", "\u00be"};
  return (whole > 0 ? std::to_string(whole) : std::string()) + kParts[rest];
}

class BendDrawer {
 public:
  explicit BendDrawer(Hands& hands) : hands_(hands), staff_(hands.staff), thick_(0.13) {}

  void run() {
    const std::vector<BentNote>& bent = hands_.bent;
    if (bent.empty()) return;
    lay_base(bent);
    for (std::size_t i = 0; i < bent.size(); ++i) draw(bent[i], same_as_before(bent, i));
    amounts();
  }

  void run_down() {
    hands_.bent = all_bent();
    for (const BentNote& b : hands_.bent) {
      for (std::size_t i = 0; i < b.strokes.size(); ++i) {
        if (!b.strokes[i].lets_down()) continue;
        released_figure(b, i);
        head(hands_.tag("bend", *b.played->event, b.note), landing(b, b.strokes[i].x1), false);
      }
    }
  }

 private:
  std::vector<BentNote> all_bent() const {
    std::vector<BentNote> bent;
    for (const Played& p : hands_.played) {
      const auto& notes = p.event->notes;
      const bool any = std::any_of(notes.begin(), notes.end(), [](const auto& n) { return !n.more->bend.empty(); });
      if (p.chord->slash || !any) continue;
      std::vector<BentNote> chord;
      for (const int n : by_line(p)) {
        BentNote b = plan(p, n, offset(p, n));
        if (!b.strokes.empty()) chord.push_back(std::move(b));
      }
      for (BentNote& b : chord) bent.push_back(std::move(b));
    }
    return bent;
  }

  // ---------------------------------------------------------------- where the strokes are

  /// The notes of a chord from its top line down; what is held stands last in the event, whatever its string.
  std::vector<int> by_line(const Played& p) const {
    std::vector<int> notes(p.event->notes.size());
    std::iota(notes.begin(), notes.end(), 0);
    std::stable_sort(notes.begin(), notes.end(), [&](int a, int b) {
      return staff_.plan.line_of(p.note(a).string) < staff_.plan.line_of(p.note(b).string);
    });
    return notes;
  }
  int lowest(const Played& p) const { return by_line(p).back(); }
  /// Those on lower lines of one chord end further right, so that parallel arrows stand side by side: near one another
  /// when the amounts are equal, else far enough apart for two amounts.
  Length offset(const Played& p, int n) const {
    Length off;
    const score::Note* last = nullptr;
    for (const int i : by_line(p)) {
      const score::Note& note = p.note(i);
      if (!note.more->bend.empty()) {
        if (last != nullptr) off += hands_.space(heights(*last) == heights(note) ? 0.9 : 2.3);
        last = &note;
      }
      if (i == n) break;
    }
    return off;
  }
  static std::vector<Fraction> heights(const score::Note& note) {
    std::vector<Fraction> out;
    for (const score::BendPoint& point : note.more->bend) out.push_back(point.semitones);
    return out;
  }

  BentNote plan(const Played& p, int n, Length apart) const {
    BentNote b;
    b.played = &p;
    b.note = n;
    b.figure = hands_.drawn(p, n);
    const score::Note& note = p.note(n);
    if (note.more->bend.empty() || note.string < 1 || note.string > staff_.plan.lines) return b;
    const double leaves = note.slide_off == song::SlideOff::None ? 0.1 : 1.5;  // its stroke stands behind the bend
    const Length end = std::max(hands_.end_of(p) - hands_.space(leaves), p.right + hands_.space(1.0));
    // A note that sounds on has no figure here: it is bent from where it is bent.
    Length pen = b.figure != nullptr ? b.figure->box.right() + hands_.space(0.2)
                 : p.begins          ? p.x
                                     : hands_.system.content_left;
    const bool here = b.figure != nullptr;
    if (note.prebend && here && note.more->bend.front().semitones > Fraction()) {
      // A figure of a line over it in its way: the arrow rises beside the chord.
      const Length x = hooked(b) ? column_left(b) - hands_.space(0.5) : b.figure->box.x + b.figure->box.width / 2;
      b.strokes.push_back({Fraction(), note.more->bend.front().semitones, x, x, false, true});
      b.levels.insert(note.more->bend.front().semitones);
      pen = x;
    }
    const int moves = count_moves(note);
    int moved = 0;
    for (std::size_t i = 1; i < note.more->bend.size(); ++i) {
      const score::BendPoint& from = note.more->bend[i - 1];
      const score::BendPoint& to = note.more->bend[i];
      const score::Place at = hands_.place(*p.event, to.at), since = hands_.place(*p.event, from.at);
      if (at < score::Place{hands_.system.first_bar, Fraction()}) continue;
      if (from.semitones == to.semitones) {
        hold(b, note, i, hands_.system.holds(at) ? hands_.system.x_of(at) : end, end, pen);
        continue;
      }
      if (since.bar >= hands_.system.last_bar) break;
      ++moved;
      // The first one begins at its figure, however late the string moves.
      const bool first = b.strokes.empty() && b.figure != nullptr;
      const Length last = offset(p, lowest(p)) - offset(p, n);
      // So late that the moves to come still have room before the next column.
      Length latest = std::max(pen, end - last - hands_.space(0.9 * (moves - moved + 1)));
      // So early that what it is let down to has room before the next column.
      const Length free = figures_end(p, end), figured = release_by(p, note, end);
      if (to.semitones <= Fraction()) latest = std::max(pen, std::min(latest, figured));
      const Length moves_at = from.at == Fraction() ? pen : std::clamp(hands_.system.x_of(since), pen, latest);
      const Length start = first ? pen : moves_at, begin = std::max(start, moves_at);
      const Length room = (end - begin) / std::max(1, moves - moved + 1);
      const Length wide = std::clamp(hands_.system.x_of(at) - begin, hands_.space(1.2), hands_.space(2.1));
      Length x1 = begin + std::max(std::min(wide, room), hands_.space(0.9)) + apart;
      // Before the next column, and each string of a chord short of the one under it.
      x1 = std::min(x1, std::max(end - last, begin + hands_.space(0.9)));
      if (x1 < p.right + hands_.space(0.55)) x1 = p.right + hands_.space(0.55);
      Lane lane{std::max(begin + hands_.space(0.9), p.right + hands_.space(0.55)), std::max(end - last, x1),
                staff_.string_y(note.string), from.semitones < to.semitones};
      if (to.semitones <= Fraction()) lane.tip = landing(b, x1).y;
      // A release ends where its figure has room, else at least beside what stands over its line.
      if (to.semitones <= Fraction()) x1 = over_released(x1, begin, free, note);
      const auto with_figure =
          to.semitones <= Fraction() ? free_lane(x1, narrowed(lane, begin, free, note)) : std::nullopt;
      x1 = with_figure ? *with_figure : free_lane(x1, lane).value_or(x1);
      if (begin > pen + hands_.space(0.8) && from.semitones > Fraction() && !b.strokes.empty() &&
          !b.strokes.back().held) {
        b.strokes.push_back({from.semitones, from.semitones, pen, begin, true, false});
      }
      b.strokes.push_back({from.semitones, to.semitones, start, x1, false, false});
      for (const Fraction level : {from.semitones, to.semitones}) {
        if (level > Fraction()) b.levels.insert(level);
      }
      pen = x1;
    }
    return b;
  }

  /// Where an arrow may end: from `least` to `most`, over or under the line at `y`.
  struct Lane {
    Length least, most, y;
    bool rises = false;
    std::optional<Length> tip{};  ///< where its head points to, if that is known yet
  };
  /// The x nearest to the wish at which an arrow passes between the figures over its line; nothing where there is none.
  std::optional<Length> free_lane(Length wish, const Lane& lane) const {
    static const std::set<layout::Kind> kFigures{"trill-figure", "touch-figure", "strum-figure", "slide-off"};
    const Length half = hands_.space(0.4);
    const auto meets = [&](const Rect& box, Length x) { return box.left() < x + half && box.right() > x - half; };
    const auto lands = [&](Length x) {
      if (!lane.tip) return true;
      const Rect head = Rect{x, *lane.tip - hands_.space(kHeadLength), {}, hands_.space(kHeadLength)};
      const Rect wide = head.grown(hands_.space(kHeadWidth / 2 + 0.05));
      return std::none_of(staff_.obstacles.begin(), staff_.obstacles.end(),
                          [&](const Obstacle& o) { return o.box.overlaps(wide); });
    };
    const auto free = [&](Length x) {
      return lands(x) &&
             std::none_of(staff_.obstacles.begin(), staff_.obstacles.end(),
                          [&](const Obstacle& o) {
                            return kFigures.count(o.kind) > 0 && o.box.top() < lane.y && meets(o.box, x);
                          }) &&
             std::none_of(staff_.notes.begin(), staff_.notes.end(), [&](const DrawnNote& n) {
               return (lane.rises ? n.box.bottom() : n.box.top()) < lane.y && meets(n.box, x);
             });
    };
    constexpr int kSteps = 16;
    for (int step = 0; step <= kSteps; ++step) {
      for (const double way : {1.0, -1.0}) {
        const Length x = wish + hands_.space(0.25 * step * way);
        if ((step == 0 || (x >= lane.least && x <= lane.most)) && free(x)) return x;
      }
    }
    return std::nullopt;
  }
  /// The part of a lane in which a released figure has room.
  Lane narrowed(Lane lane, Length begin, Length free, const score::Note& note) const {
    const Length half = released_line(note).width / 2;
    lane.least = std::max(lane.least, begin + half + hands_.space(0.3));
    lane.most = std::min(lane.most, free - half);
    return lane;
  }
  /// Where a released figure must end, before the figures that come next.
  Length figures_end(const Played& p, Length end) const {
    Length free = end + hands_.space(0.2);
    for (const DrawnNote& next : staff_.notes)
      if (next.at == p.to && !next.grace) free = std::min(free, next.box.left() - hands_.space(0.2));
    return free;
  }

  text::Line released_line(const score::Note& note) const {
    text::TextStyle look = text_style(hands_.system.style.figure, 0.8);
    look.tabular = true;
    return hands_.system.shaper.line("(" + std::to_string(note.fret) + ")", look);
  }
  /// A release ends where its figure has room: after the arrow that rose, before what comes next.
  /// When a release must begin for its figure to have room.
  Length release_by(const Played& p, const score::Note& note, Length end) const {
    return figures_end(p, end) - released_line(note).width - hands_.space(0.3);
  }
  Length over_released(Length wish, Length begin, Length free, const score::Note& note) const {
    const Length half = released_line(note).width / 2;
    const Length least = begin + half + hands_.space(0.3), most = free - half;
    return least <= most ? std::clamp(wish, least, most) : wish;
  }

  /// Another figure of this moment, of whatever voice, stands over this one.
  bool hooked(const BentNote& b) const {
    return b.figure != nullptr && std::any_of(staff_.notes.begin(), staff_.notes.end(), [&](const DrawnNote& o) {
             return o.at == b.figure->at && !o.grace && o.box.top() < b.figure->box.top();
           });
  }
  Length column_left(const BentNote& b) const {
    Length left = b.figure->box.left();
    for (const DrawnNote& o : staff_.notes)
      if (o.at == b.figure->at && !o.grace) left = std::min(left, o.box.left());
    return left;
  }

  static int count_moves(const score::Note& note) {
    int moves = 0;
    for (std::size_t i = 1; i < note.more->bend.size(); ++i)
      moves += note.more->bend[i].semitones != note.more->bend[i - 1].semitones;
    return moves;
  }

  /// A stretch at one height is dashed when a move follows it, or when the song says that it is held.
  void hold(BentNote& b, const score::Note& note, std::size_t i, Length at, Length end, Length& pen) const {
    const bool last = i + 1 == note.more->bend.size();
    const bool stated = i >= 2 && note.more->bend[i - 2].semitones == note.more->bend[i].semitones;
    if (note.more->bend[i].semitones == Fraction() || b.strokes.empty() || (last && !stated)) return;
    Length to = std::min(last ? end : at, end);
    const bool let_down = !last && note.more->bend[i + 1].semitones <= Fraction();
    if (let_down) to = std::min(to, std::max(release_by(*b.played, note, end), pen + hands_.space(0.9)));
    if (to < pen + hands_.space(0.9)) return;
    if (b.strokes.back().held) {
      b.strokes.back().x1 = to;
    } else {
      b.strokes.push_back({note.more->bend[i].semitones, note.more->bend[i].semitones, pen, to, true, false});
      b.levels.insert(note.more->bend[i].semitones);
    }
    pen = to;
  }

  // ---------------------------------------------------------------- heights

  /// All arrows of a system rise to one height: clear of what stands under any of them.
  void lay_base(const std::vector<BentNote>& bent) {
    const TabRow row = tab_row(staff_, staff_.plan);
    const bool under_stems = staff_.plan.rhythm && row.over_bends;
    for (const BentNote& b : bent) deepest_ = std::max(deepest_, b.levels.size());
    const double levels = std::max(0.0, static_cast<double>(deepest_) - 1);
    const Length words = hands_.label("8").ascent + hands_.space(0.3 + 0.2);  // the amounts, below the stems
    const Length most = std::max(hands_.space(kNear + kOver), row.foot - words - hands_.space(kBendStep * levels));
    Length height;
    for (const BentNote& b : bent) {
      const Length x0 = b.left() - hands_.space(0.5), x1 = b.right() + hands_.space(0.5);
      const Length clear = staff_.above.reach(x0, x1) + hands_.space(kOver);
      height = std::max(height, under_stems ? std::min(height_near(x0, x1, most), most) : clear);
    }
    base_ = -height;
  }

  static constexpr double kNear = 1.6, kOver = 1.5, kOverArc = 0.6;  ///< sp
  /// Clear of figures and what joins them, without the stems over the bends. An arc is passed more closely.
  Length height_near(Length x0, Length x1, Length most) const {
    Length height = hands_.space(kOver);
    for (const Obstacle& o : staff_.obstacles) {
      if (o.box.right() <= x0 || o.box.left() >= x1 || o.kind == layout::Kind("stem")) continue;
      const Length top = -o.box.top(), bottom = -o.box.bottom();
      if (bottom <= hands_.space(kNear))
        height = std::max(height, std::min(top, hands_.space(kNear)) + hands_.space(kOver));
      if (bottom <= most && o.kind == layout::Kind("legato-arc"))
        height = std::max(height, top + hands_.space(kOverArc));
    }
    return height;
  }

  /// y of an arrow's tip; lower levels of the same note lie under the highest by a line of text.
  Length height_of(const BentNote& b, Fraction semitones) const {
    if (semitones <= Fraction()) return middle_of(b);
    const auto above = std::distance(b.levels.upper_bound(semitones), b.levels.end());
    return base_ - hands_.space(kBendStep) * (static_cast<double>(b.levels.size()) - 1 - static_cast<double>(above));
  }
  Length middle_of(const BentNote& b) const { return staff_.string_y(b.played->note(b.note).string); }

  // ---------------------------------------------------------------- ink

  static bool same_as_before(const std::vector<BentNote>& bent, std::size_t i) {
    if (i == 0 || bent[i - 1].played != bent[i].played) return false;
    const auto& a = bent[i - 1].strokes;
    const auto& b = bent[i].strokes;
    return a.size() == b.size() &&
           std::equal(a.begin(), a.end(), b.begin(), [](const BendStroke& x, const BendStroke& y) {
             return x.from == y.from && x.to == y.to && x.held == y.held;
           });
  }

  void draw(const BentNote& b, bool like_the_one_before) {
    for (const BendStroke& s : b.strokes) {
      const StaffContext::Tag tag = hands_.tag("bend", *b.played->event, b.note);
      if (s.held) {
        const Length y = height_of(b, s.to);
        staff_.line(tag, {s.x0 + hands_.space(0.35), y}, {s.x1, y}, thick_, layout::Cap::Butt, {0.45, 0.4});
        continue;
      }
      if (s.straight) {
        std::vector<Curve> ways;
        const Length neck = height_of(b, s.to) + hands_.space(0.6);
        Point foot{s.x0, hooked(b) ? middle_of(b) - hands_.space(0.6) : b.figure->box.top() - hands_.space(0.25)};
        if (hooked(b)) {
          const Length side = b.figure->box.left() - hands_.space(0.15), y = middle_of(b);
          ways.push_back({{side, y}, {(side + s.x0) / 2, y}, {s.x0, (y + foot.y) / 2}, foot});
        }
        ways.push_back({foot, foot, {s.x0, neck}, {s.x0, neck}});
        shaft(tag, ways);
        head(tag, {s.x0, height_of(b, s.to)}, true);
      } else if (s.to > s.from) {
        rise(tag, b, s);
      } else {
        fall(tag, b, s);
      }
      if (s.to > s.from && !like_the_one_before) say(tag, b, s);
      if (s.to < s.from && s.to > Fraction()) say_beside(tag, b, s);
    }
  }

  void rise(StaffContext::Tag tag, const BentNote& b, const BendStroke& s) {
    const Point from{s.x0 + hands_.space(s.from > Fraction() ? 0.3 : 0), height_of(b, s.from)};
    const Point tip{s.x1, height_of(b, s.to)};
    const Length neck = tip.y + hands_.space(0.6), dx = tip.x - from.x, dy = neck - from.y;
    shaft(tag, {{from, {from.x + dx * 0.7, from.y}, {tip.x, from.y + dy * 0.35}, {tip.x, neck}}});
    head(tag, tip, true);
  }

  void fall(StaffContext::Tag tag, const BentNote& b, const BendStroke& s) {
    const Point from{s.x0 + hands_.space(0.3), height_of(b, s.from) + hands_.space(0.06)};
    const Point tip = s.lets_down() ? landing(b, s.x1) : Point{s.x1, height_of(b, s.to)};
    const Length neck = tip.y - hands_.space(0.6), dx = tip.x - from.x, dy = neck - from.y;
    shaft(tag, {{from, {from.x + dx * 0.7, from.y}, {tip.x, from.y + dy * 0.3}, {tip.x, neck}}});
    if (!s.lets_down()) head(tag, tip, false);
  }
  /// Over the figure that sounds again.
  Point landing(const BentNote& b, Length x) const {
    const Length figure = b.figure != nullptr ? b.figure->box.height : released_line(b.played->note(b.note)).ink.height;
    return {x, middle_of(b) - figure / 2 - hands_.space(0.3)};
  }

  /// The line as far as the head's neck. Ties, slides and figures of other strings lie over it.
  void shaft(StaffContext::Tag tag, const std::vector<Curve>& ways) {
    for (const Curve& way : ways) draw_behind(staff_, tag, way, thick_, 0.18, {"bend", "bend-arrow", "legato-arc"});
  }
  void head(StaffContext::Tag tag, Point tip, bool up) {
    staff_.fill({"bend-arrow", tag.origin, tag.subject},
                text::arrow_head({Length{}, up ? -hands_.space(1) : hands_.space(1)}, hands_.space(kHeadLength),
                                 hands_.space(kHeadWidth)),
                tip);
  }

  void say(StaffContext::Tag tag, const BentNote& b, const BendStroke& s) {
    const text::Line line = hands_.label(amount_text(s.to));
    const Length bottom = height_of(b, s.to) - hands_.space(0.3);
    // Where the string is bent on from here, the next arrow has the room over this one.
    const bool on = goes_higher(b, s);
    const Length left = on ? s.x1 - line.width - hands_.space(0.3) : s.x1 - line.width / 2;
    amounts_.push_back(
        {left, on ? bottom + hands_.space(0.5) : bottom, line, {"bend-amount", tag.origin, tag.subject}});
  }
  void say_beside(StaffContext::Tag tag, const BentNote& b, const BendStroke& s) {
    const text::Line line = hands_.label(amount_text(s.to));
    const Length bottom = height_of(b, s.to) - hands_.space(0.35);
    amounts_.push_back({s.x1 + hands_.space(0.35), bottom, line, {"bend-amount", tag.origin, tag.subject}});
  }

  static bool goes_higher(const BentNote& b, const BendStroke& s) {
    return std::any_of(b.strokes.begin(), b.strokes.end(), [&](const BendStroke& o) {
      return o.x0 >= s.x1 && o.from == s.to && o.to > o.from && &o != &s;
    });
  }

  /// Two amounts that would touch at one height give way to their sides, as long as each still stands over its
  /// arrow.
  void part_amounts(Length gap) {
    for (std::size_t i = 1; i < amounts_.size(); ++i) {
      Amount &a = amounts_[i - 1], &b = amounts_[i];
      const Length need = a.left + a.line.width + gap - b.left;
      const Length give = std::min(a.line.width, b.line.width) * 0.4;
      if (a.bottom != b.bottom || need <= Length{} || need > give * 2) continue;
      a.left -= need / 2;
      b.left += need - need / 2;
    }
  }

  /// Those that touch one another even so move to the right when a little is enough, else up.
  void amounts() {
    std::stable_sort(amounts_.begin(), amounts_.end(),
                     [](const Amount& a, const Amount& b) { return a.left < b.left; });
    std::vector<Rect> taken;
    const Length gap = hands_.space(0.35);
    part_amounts(gap);
    for (Amount& a : amounts_) {
      a.left = hands_.beside_bar_line(a.left + a.line.width / 2, a.line.width) - a.line.width / 2;
      Rect box = a.line.ink.moved({a.left, a.bottom - a.line.ink.bottom()});
      const Length aside = room_beside(taken, box, gap);
      a.left += aside;
      box.x += aside;
      for (bool moved = true; moved;) {
        moved = false;
        for (const Rect& other : taken) {
          if (!box.grown(gap).overlaps(other)) continue;
          const Length up = box.bottom() - other.top() + gap;  // as far as is asked for, or this would never end
          box.y -= up;
          a.bottom -= up;
          moved = true;
        }
      }
      taken.push_back(box);
      staff_.words(a.tag, a.line, {a.left, a.bottom - a.line.ink.bottom()}, hands_.system.style.ink);
    }
  }

  /// How far an amount moves to the right, clear of those before it, while it stays over its arrow and off a bar line.
  Length room_beside(const std::vector<Rect>& taken, Rect box, Length gap) const {
    const Length left = box.left();
    for (const Rect& other : taken)
      if (box.grown(gap).overlaps(other)) box.x = std::max(box.x, other.right() + gap);
    const Length middle = box.left() + box.width / 2, way = box.left() - left;
    const bool near =
        way <= std::max(hands_.space(0.6), box.width * 0.45) && hands_.beside_bar_line(middle, box.width) == middle;
    const auto meets_arrow = [&](const Obstacle& o) {
      return o.kind == layout::Kind("bend") && o.box.overlaps(box.grown(hands_.space(0.1)));
    };
    const bool clear =
        way <= hands_.space(0.6) || std::none_of(staff_.obstacles.begin(), staff_.obstacles.end(), meets_arrow);
    return near && clear ? way : Length{};
  }

  void released_figure(const BentNote& b, std::size_t index) {
    const BendStroke& s = b.strokes[index];
    const text::Line line = released_line(b.played->note(b.note));
    const Length left = s.x1 - line.width / 2, baseline = middle_of(b) - (line.ink.top() + line.ink.bottom()) / 2;
    const Rect box{left, baseline + line.ink.top(), line.width, line.ink.height};
    if (!has_room(box) || (index > 0 && left < b.strokes[index - 1].x1 + hands_.space(0.15))) return;
    const Length pad = hands_.space(0.1);
    staff_.knock_out({left - pad, box.top(), line.width + pad + pad, line.ink.height});
    staff_.words(hands_.tag("released-figure", *b.played->event, b.note), line, {left, baseline},
                 hands_.system.style.ink);
  }

  /// Nothing stands at the place of a released figure, and no bar line; else the arrow says enough.
  bool has_room(Rect box) const {
    const Rect wide = box.grown(hands_.space(0.1));
    const SystemContext& system = hands_.system;
    for (std::size_t i = 0; i < system.bar_right.size(); ++i)
      if (wide.right() > system.bar_right[i] && wide.left() < system.bar_end[i]) return false;
    return std::none_of(staff_.notes.begin(), staff_.notes.end(),
                        [&](const DrawnNote& n) { return n.box.overlaps(wide); }) &&
           std::none_of(staff_.obstacles.begin(), staff_.obstacles.end(),
                        [&](const Obstacle& o) { return o.box.overlaps(wide); });
  }

  struct Amount {
    Length left, bottom;
    text::Line line;
    StaffContext::Tag tag;
  };
  Hands& hands_;
  StaffContext& staff_;
  double thick_;
  Length base_;
  std::size_t deepest_ = 0;
  std::vector<Amount> amounts_;
};

}  // namespace

void draw_bends(Hands& hands) {
  BendDrawer(hands).run();
}
void draw_bends_down(Hands& hands) {
  BendDrawer(hands).run_down();
}

}  // namespace tunesheaf::engrave

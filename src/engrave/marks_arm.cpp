// Moves of the vibrato bar: one contour over the staff for all moves of a note and for as long as the bar is away from
// its rest, with the interval in whole tones at its turning points. In: the words of the `arm` lane. A dip is a V, a
// dive stays down, `up` stays up, a scoop comes from below into the note, `back` returns, `~` shakes; between them the
// contour goes on at its level, over bar lines too. All contours of a system hang on one rest line.
//
//      bar ──\  /──\         /──/      rest line at the top of a dip
//             \/ -1  \_______/ -2½
#include <algorithm>
#include <functional>

#include "marks.h"
#include "rows.h"

namespace tunesheaf::engrave {

using Action = song::ArmSign::Action;

namespace {

/// Whole tones with their sign: -½, +1, -1½.
std::string interval_text(Fraction semitones, bool down) {
  const Fraction quarters = semitones * Fraction(2);
  std::string words = down ? "\u2212" : "+";
  if (quarters.den() != 1) return words + (semitones / Fraction(2)).text();
  const std::int64_t whole = quarters.num() / 4, rest = quarters.num() % 4;
  static constexpr const char* kParts[] = {"", "\u00bc", "\u00bd", "\u00be"};
  return words + (whole > 0 ? std::to_string(whole) : std::string()) + kParts[rest];
}

class ArmDrawer {
 public:
  explicit ArmDrawer(Hands& hands) : hands_(hands), staff_(hands.staff) {}

  void run() {
    std::vector<const score::Word*> moves;
    const score::Word *earlier = nullptr, *later = nullptr;
    for (const score::Word& w : staff_.words()) {
      if (w.kind != score::WordKind::Arm || !w.arm) continue;
      if (w.at.bar >= hands_.system.last_bar) {
        later = &w;
        break;
      }
      if (hands_.system.holds(w.at)) {
        moves.push_back(&w);
      } else {
        level_ = level_after(*w.arm);  // a dive may have begun on an earlier system
        earlier = &w;
      }
    }
    if (moves.empty() && level_ == 0) return;
    pen_ = hands_.system.content_left;
    lead_ = level_ != 0;
    const Length right = hands_.system.right - hands_.space(0.6);
    for (std::size_t i = 0; i < moves.size(); ++i) {
      const Length next = i + 1 == moves.size() ? right : before(*moves[i + 1]);
      const score::Word* previous = i == 0 ? earlier : moves[i - 1];
      come_to(*moves[i], previous != nullptr && one_note(*previous, *moves[i]));
      move(*moves[i], std::max(next, hands_.system.x_of(moves[i]->at) + hands_.space(1)));
    }
    if (level_ != 0 || (later != nullptr && !moves.empty() && one_note(*moves.back(), *later))) go_on(right);
    place_amounts();
    draw();
  }

 private:
  /// A piece of the contour, from the rest line.
  struct Piece {
    Length x0, y0, x1, y1;
    bool meets(const Rect& box) const {
      const Length from = std::max(x0, box.x), to = std::min(x1, box.right());
      if (from > to || x0 == x1) return false;
      const auto at = [&](Length x) { return y0 + (y1 - y0) * ((x - x0) / (x1 - x0)); };
      return std::min(at(from), at(to)) < box.bottom() && std::max(at(from), at(to)) > box.y;
    }
  };
  struct Amount {
    StaffContext::Tag tag;
    Length middle, y;
    text::Line line;
    bool under;
  };
  static constexpr double kScoop = 1.3;  ///< sp from the foot of a scoop to its note

  /// What sounds at a move; the latest where there are several.
  const Played* held_at(score::Place at) const {
    const Played* found = nullptr;
    for (const Played& p : hands_.played)
      if (p.from <= at && at < p.to && (found == nullptr || found->from <= p.from)) found = &p;
    return found;
  }
  bool one_note(const score::Word& a, const score::Word& b) const {
    const bool here = hands_.system.holds(b.at);  // else the note goes on into the next system
    const Played* p = held_at(here ? b.at : a.at);
    return p != nullptr && p->from <= a.at && b.at < p->to;
  }

  /// sp from the rest line: more for more, but no octave runs into the next staff.
  static double reach(const song::ArmSign& arm) {
    if (arm.semitones == Fraction()) return 1.5;
    return std::clamp(1.0 + 0.2 * arm.semitones.to_double(), 1.2, 2.4);
  }

  double level_after(const song::ArmSign& arm) const {
    if (arm.action == Action::Dive) return reach(arm);
    if (arm.action == Action::Up) return -reach(arm);
    return arm.action == Action::Back ? 0 : level_;
  }

  /// As far as what precedes a move may go: short of a scoop that leads into it, and of the bar line before it.
  Length before(const score::Word& w) const {
    const SystemContext& system = hands_.system;
    Length x = system.x_of(w.at);
    if (w.arm->action == Action::Scoop) x -= hands_.space(kScoop + 0.6);
    const int bar = w.at.bar - system.first_bar;
    if (w.at.onset == Fraction() && bar > 0) {
      x = std::min(x, system.bar_right[static_cast<std::size_t>(bar) - 1]);
    }
    return x;
  }

  Length depth(double level) const { return hands_.space(level); }

  void line(StaffContext::Tag tag, Length x0, double from, Length x1, double to) {
    const Length y0 = depth(from), y1 = depth(to);
    take(x0, x1, std::min(y0, y1), std::max(y0, y1));
    contour_.push_back({x0, y0, x1, y1});
    later_.push_back([this, tag, x0, y0, x1, y1](Length rest) {
      staff_.line(tag, {x0, rest + y0}, {x1, rest + y1}, 0.14, layout::Cap::Round, {});
    });
  }

  void amount(const score::Word& w, Length middle, double level, bool under) {
    if (w.arm->semitones == Fraction()) return;
    const text::Line shaped = hands_.label(interval_text(w.arm->semitones, under));
    const StaffContext::Tag tag{"arm-interval", w.origin, staff_.subject(w.event)};
    amounts_.push_back({tag, hands_.beside_bar_line(middle, shaped.width), depth(level), shaped, under});
  }

  /// Under the point of a downward move, over that of an upward one, and as far beyond as the contour and the amount
  /// before it make needful.
  void place_amounts() {
    std::vector<Rect> said;
    for (const Amount& a : amounts_) {
      const text::Line& shaped = a.line;
      const Length left = a.middle - shaped.width / 2, gap = hands_.space(0.35);
      Length top = a.under ? a.y + gap : a.y - gap - shaped.ink.height;
      const Length step = hands_.space(a.under ? 0.15 : -0.15);
      const auto box = [&] { return Rect{left, top, shaped.width, shaped.ink.height}.grown(hands_.space(0.15)); };
      const auto taken = [&] {
        return std::any_of(said.begin(), said.end(), [&](const Rect& other) { return box().overlaps(other); }) ||
               std::any_of(contour_.begin(), contour_.end(), [&](const Piece& p) { return p.meets(box()); });
      };
      while (taken()) top += step;
      said.push_back({left, top, shaped.width, shaped.ink.height});
      take(left - hands_.space(0.15), left + shaped.width + hands_.space(0.15), top, top + shaped.ink.height);
      later_.push_back([this, tag = a.tag, shaped, left, top](Length rest) {
        staff_.words(tag, shaped, {left, rest + top - shaped.ink.top()}, hands_.system.style.ink);
      });
    }
  }

  void take(Length x0, Length x1, Length top, Length bottom) {
    stretches_.emplace_back(std::min(x0, x1) - hands_.space(0.1), std::max(x0, x1) + hands_.space(0.1));
    top_ = std::min(top_, top);
    bottom_ = std::max(bottom_, bottom);
  }

  /// The contour stays where it is as far as here.
  void go_on(Length x) {
    if (x > pen_) line({"arm", origin_, staff_.subject()}, pen_, level_, x, level_);
    pen_ = std::max(pen_, x);
  }

  /// From the note's attack, or from the move before, to a move.
  void come_to(const score::Word& w, bool same_note) {
    const bool scoop = w.arm->action == Action::Scoop;
    const Length x = hands_.system.x_of(w.at), foot = x - hands_.space(kScoop);
    const bool joined = level_ != 0 || same_note;
    if (!joined) {
      pen_ = scoop ? foot : x;
      const Played* p = held_at(w.at);
      if (p != nullptr && !scoop) pen_ = std::min(x, p->x);
      origin_ = w.origin;
    }
    if (!lead_) {
      name(w, pen_ - hands_.space(scoop ? 0.4 : 0.3));
      lead_ = true;
    }
    const double low = level_ + reach(*w.arm);
    if (!scoop) return go_on(x);
    if (joined) {
      const Length from = std::max(pen_, foot - hands_.space(0.6));
      go_on(from);
      if (from < foot) line({"arm", w.origin, staff_.subject(w.event)}, from, level_, foot, low);
    }
    line({"arm", w.origin, staff_.subject(w.event)}, foot, low, x, level_);
    amount(w, foot, low, true);
    pen_ = x;
  }

  void move(const score::Word& w, Length next) {
    const song::ArmSign& arm = *w.arm;
    const StaffContext::Tag tag{"arm", w.origin, staff_.subject(w.event)};
    const Length x = pen_, room = next - x;
    origin_ = w.origin;
    if (arm.action == Action::Scoop) return;
    if (arm.action == Action::Vibrato) return shake(w, x, next);
    if (arm.action == Action::Dip) {
      const Length half = std::min(hands_.space(1.05), room / 2);
      const double low = level_ + reach(arm);
      line(tag, x, level_, x + half, low);
      line(tag, x + half, low, x + half + half, level_);
      amount(w, x + half, low, true);
      pen_ = x + half + half;
      return;
    }
    const double to = level_after(arm);
    const Length x1 = x + std::min(hands_.space(to == 0 ? 1.2 : 2.0), room * 0.8);
    line(tag, x, level_, x1, to);
    if (to != 0) amount(w, x1, to, to > 0);
    level_ = to;
    pen_ = x1;
    if (to == 0) go_on(std::min(x1 + hands_.space(1.2), next));
  }

  void shake(const score::Word& w, Length x, Length next) {
    Length end = next;
    if (const Played* p = hands_.find(w.event)) end = std::min(end, hands_.end_of(*p));
    const Length height = hands_.space(0.9), wave = hands_.space(1.2), y = depth(level_);
    const Length room = std::min(end, next - hands_.space(0.4)) - x;
    const Length length = std::max(room, next - x < wave * 2.5 ? wave : wave + wave);  // the next one is near
    take(x, x + length, y - height / 2, y + height / 2);
    contour_.push_back({x, y - height / 2, x + length, y - height / 2});
    contour_.push_back({x, y + height / 2, x + length, y + height / 2});
    const StaffContext::Tag tag{"arm-wave", w.origin, staff_.subject(w.event)};
    later_.push_back([this, tag, x, y, length, wave, height](Length rest) {
      staff_.fill(tag, text::wave(length, wave, height), {x, rest + y});
    });
    pen_ = x + length;
  }

  /// "bar" before the first move of a system, or over it.
  void name(const score::Word& w, Length right) {
    const text::Line shaped = hands_.phrase("bar");
    const auto bar = static_cast<std::size_t>(w.at.bar - hands_.system.first_bar);
    const Length edge = hands_.system.bar_left[bar] + hands_.space(0.25), half = shaped.ink.height / 2;
    Length left = right - shaped.width - hands_.space(0.2), middle;
    if (left < edge) {  // no room before the note: over the move
      left = edge;
      middle = depth(w.arm->action == Action::Up ? -reach(*w.arm) : 0) - hands_.space(0.4) - half;
      if (w.arm->action == Action::Up && w.arm->semitones > Fraction()) middle -= half + half + hands_.space(0.4);
      if (w.arm->action == Action::Vibrato) middle -= hands_.space(0.45);
    }
    take(left, left + shaped.width, middle - half, middle + half);
    later_.push_back([this, shaped, left, middle, origin = w.origin](Length rest) {
      staff_.words({"arm-word", origin, staff_.subject()}, shaped,
                   {left, rest + middle - (shaped.ink.top() + shaped.ink.bottom()) / 2}, hands_.system.style.ink);
    });
  }

  void draw() {
    if (stretches_.empty()) return;
    const Length bottom = take_row(staff_, Side::Above, stretches_, bottom_ - top_, Length{}, 0.5);
    for (const auto& put : later_) put(bottom - bottom_);
  }

  Hands& hands_;
  StaffContext& staff_;
  double level_ = 0;  ///< sp under the rest line
  bool lead_ = false;
  Length pen_, top_, bottom_;
  Span origin_{};
  std::vector<Piece> contour_;
  std::vector<Amount> amounts_;
  std::vector<std::pair<Length, Length>> stretches_;
  std::vector<std::function<void(Length)>> later_;
};

}  // namespace

void draw_arm(Hands& hands) {
  if (hands.words) ArmDrawer(hands).run();
}

}  // namespace tunesheaf::engrave

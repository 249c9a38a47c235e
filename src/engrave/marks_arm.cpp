// Moves of the vibrato bar: a line over the staff that leaves its rest and returns, with the interval in whole tones at
// its turning points. In: the words of the `arm` lane. A dip is a V, a dive stays down, `up` stays up, a scoop comes
// from below into the note, `back` returns, `~` shakes. All moves of a system hang on one rest line.
//
//      bar  \  /      \_________/     /      rest line at the top of a dip
//            \/  -1    \  -2
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
    for (const score::Word& w : staff_.words()) {
      if (w.kind != score::WordKind::Arm || !w.arm) continue;
      if (w.at.bar >= hands_.system.last_bar) break;
      if (hands_.system.holds(w.at)) {
        moves.push_back(&w);
      } else {
        level_after(*w.arm);  // a dive may have begun on an earlier system
      }
    }
    if (moves.empty() && level_ == 0) return;
    pen_ = hands_.system.content_left;
    lead_ = level_ != 0;
    for (std::size_t i = 0; i < moves.size(); ++i) {
      const Length next = i + 1 == moves.size() ? hands_.system.right - hands_.space(0.5) : before(*moves[i + 1]);
      move(*moves[i], std::max(next, hands_.system.x_of(moves[i]->at) + hands_.space(1)));
    }
    if (level_ != 0) held_to(hands_.system.right - hands_.space(0.6));
    draw();
  }

 private:
  static constexpr double kDepth = 1.5;  ///< sp from the rest line to a bent one, whatever the interval

  void level_after(const song::ArmSign& arm) {
    if (arm.action == Action::Dive) level_ = 1;
    if (arm.action == Action::Up) level_ = -1;
    if (arm.action == Action::Back) level_ = 0;
  }

  /// As far as what precedes a move may go: short of a scoop that leads into it, and of the bar line before it.
  Length before(const score::Word& w) const {
    const SystemContext& system = hands_.system;
    Length x = system.x_of(w.at);
    if (w.arm->action == Action::Scoop) x -= hands_.space(1.5);
    const int bar = w.at.bar - system.first_bar;
    if (w.at.onset == Fraction() && bar > 0) {
      x = std::min(x, system.bar_right[static_cast<std::size_t>(bar) - 1]);
    }
    return x;
  }

  Length depth(int level) const { return hands_.space(kDepth * level); }

  void line(StaffContext::Tag tag, Length x0, int from, Length x1, int to, bool dashed = false) {
    const Length y0 = depth(from), y1 = depth(to);
    take(x0, x1, std::min(y0, y1), std::max(y0, y1));
    later_.push_back([this, tag, x0, y0, x1, y1, dashed](Length rest) {
      std::vector<double> dash;
      if (dashed) dash = {0.45, 0.4};
      staff_.line(tag, {x0, rest + y0}, {x1, rest + y1}, 0.14, dashed ? layout::Cap::Butt : layout::Cap::Round, dash);
    });
  }

  void words(StaffContext::Tag tag, Length middle, const std::string& text, int level) {
    const text::Line shaped = hands_.label(text);
    const Length left = hands_.beside_bar_line(middle, shaped.width) - shaped.width / 2;
    // Under the point of a downward move, over that of an upward one; beyond the one before where they would touch.
    Length top = level >= 0 ? depth(level) + hands_.space(0.35) : depth(level) - hands_.space(0.35) - shaped.ink.height;
    const Length step = (shaped.ink.height + hands_.space(0.25)) * (level >= 0 ? 1.0 : -1.0);
    const auto box = [&] { return Rect{left, top, shaped.width, shaped.ink.height}.grown(hands_.space(0.1)); };
    for (const Rect& other : said_)  // from left to right: each is met at most once on its way outwards
      if (box().overlaps(other)) top += step;
    said_.push_back({left, top, shaped.width, shaped.ink.height});
    take(left - hands_.space(0.15), left + shaped.width + hands_.space(0.15), top, top + shaped.ink.height);
    later_.push_back([this, tag, shaped, left, top](Length rest) {
      staff_.words(tag, shaped, {left, rest + top - shaped.ink.top()}, hands_.system.style.ink);
    });
  }

  void take(Length x0, Length x1, Length top, Length bottom) {
    stretches_.emplace_back(std::min(x0, x1) - hands_.space(0.1), std::max(x0, x1) + hands_.space(0.1));
    top_ = std::min(top_, top);
    bottom_ = std::max(bottom_, bottom);
  }

  void held_to(Length x) {
    if (level_ != 0 && x > pen_ + hands_.space(0.6))
      line({"arm", held_origin_, staff_.subject()}, pen_, level_, x, level_, true);
    pen_ = std::max(pen_, x);
  }

  void move(const score::Word& w, Length next) {
    const song::ArmSign& arm = *w.arm;
    const StaffContext::Tag tag{"arm", w.origin, staff_.subject(w.event)};
    const StaffContext::Tag amount{"arm-interval", w.origin, staff_.subject(w.event)};
    const Length x = hands_.system.x_of(w.at), half = hands_.space(1.05);
    const Length room = next - x;
    if (level_ != 0) held_to(x);
    if (!lead_) {
      name(w, arm.action == Action::Scoop ? x - hands_.space(1.7) : x - hands_.space(0.3));
      lead_ = true;
    }
    const bool stated = arm.semitones > Fraction();
    if (arm.action == Action::Dip) {
      line(tag, x, level_, x + half, 1);
      line(tag, x + half, 1, x + half + half, level_);
      if (stated) words(amount, x + half, interval_text(arm.semitones, true), 1);
      pen_ = x + half + half;
    } else if (arm.action == Action::Scoop) {
      line(tag, x - hands_.space(1.3), 1, x - hands_.space(0.1), 0);
      if (stated) words(amount, x - hands_.space(1.3), interval_text(arm.semitones, true), 1);
      pen_ = x;
    } else if (arm.action == Action::Vibrato) {
      shake(w, x, next);
      pen_ = next;
    } else {
      const int to = arm.action == Action::Dive ? 1 : arm.action == Action::Up ? -1 : 0;
      const Length x1 = x + std::min(hands_.space(to == 0 ? 1.2 : 2.4), room * 0.8);
      if (to != level_) line(tag, x, level_, x1, to);
      if (stated && to != 0) words(amount, x1, interval_text(arm.semitones, to > 0), to);
      level_ = to;
      pen_ = x1;
    }
    held_origin_ = w.origin;
  }

  void shake(const score::Word& w, Length x, Length next) {
    Length end = next;
    if (const Played* p = hands_.find(w.event)) end = std::min(end, hands_.end_of(*p));
    const Length height = hands_.space(0.9), wave = hands_.space(1.2);
    const Length room = std::min(end, next - hands_.space(0.4)) - x;
    const Length length = std::max(room, next - x < wave * 2.5 ? wave : wave + wave);  // the next one is near
    take(x, x + length, -(height / 2), height / 2);
    const StaffContext::Tag tag{"arm-wave", w.origin, staff_.subject(w.event)};
    later_.push_back([this, tag, x, length, wave, height](Length rest) {
      staff_.fill(tag, text::wave(length, wave, height), {x, rest});
    });
  }

  /// "bar" before the first move of a system, or over it.
  void name(const score::Word& w, Length right) {
    const text::Line shaped = hands_.phrase("bar");
    const auto bar = static_cast<std::size_t>(w.at.bar - hands_.system.first_bar);
    const Length edge = hands_.system.bar_left[bar] + hands_.space(0.25), half = shaped.ink.height / 2;
    Length left = right - shaped.width - hands_.space(0.2), middle;
    if (left < edge) {  // no room before the note: over the move
      left = edge;
      middle = depth(w.arm->action == Action::Up ? -1 : 0) - hands_.space(0.4) - half;
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
  int level_ = 0;  ///< 1 down, -1 up
  bool lead_ = false;
  Length pen_, top_, bottom_;
  Span held_origin_{};
  std::vector<Rect> said_;  ///< boxes of the intervals, from the rest line
  std::vector<std::pair<Length, Length>> stretches_;
  std::vector<std::function<void(Length)>> later_;
};

}  // namespace

void draw_arm(Hands& hands) {
  if (hands.words) ArmDrawer(hands).run();
}

}  // namespace tunesheaf::engrave

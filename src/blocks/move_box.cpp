#include "tunesheaf/blocks/move_box.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include "neck.h"
#include "pen.h"

namespace tunesheaf::blocks {
namespace {

using layout::Layer;
using theory::FingerMove;
using theory::FingerPlace;
using theory::MoveKind;

/// Lowest and highest fret that a finger leaves or comes to.
std::pair<int, int> frets_of(const theory::Move& move) {
  int low = std::numeric_limits<int>::max(), high = 0;
  for (const FingerMove& f : move.fingers) {
    for (const auto& place : {f.from, f.to}) {
      if (!place) continue;
      low = std::min(low, place->fret);
      high = std::max(high, place->fret);
    }
  }
  return {low, high};
}

bool leaves(const FingerMove& f) {
  return f.from && f.kind != MoveKind::Stays && f.kind != MoveKind::Flattens && f.kind != MoveKind::Unbarres;
}
bool travels(const FingerMove& f) {
  return f.from && f.to && (f.kind == MoveKind::Moves || f.kind == MoveKind::Slides);
}

class MoveBox {
 public:
  MoveBox(const Setting& setting, const theory::Move& move, int strings, Length gap)
      : setting_(setting), style_(setting.style), move_(move), gap_(gap), neck_(neck_of(move, strings, gap)) {
    neck_.at = {gap * 0.5, gap * 0.95 + (neck_.first == 1 ? style_.rule * 2.4 : style_.rule / 2)};
  }

  FramePtr draw() {
    frame_ = std::make_shared<Frame>();
    frame_->name = "move-box";
    frame_->role = Role::Figure;
    neck_.draw(*frame_, setting_);
    neck_.draw_first_fret(*frame_, setting_);
    for (const FingerMove& f : move_.fingers) {
      if (leaves(f) && !covered(*f.from)) ring(*f.from);
    }
    for (const FingerMove& f : move_.fingers) {
      if (f.to) dot(*f.to, f.finger);
    }
    for (const FingerMove& f : move_.fingers) {
      if (leaves(f) && covered(*f.from)) ring_on(*f.from);
    }
    for (const FingerMove& f : move_.fingers) way(f);
    frame_->baseline = {};  // as chord boxes have it, which leave as much room above the neck
    frame_->size = {neck_.at.x * 2 + neck_.width() + gap_ * 1.2, neck_.at.y + neck_.height() + gap_ * 0.2};
    return frame_;
  }

 private:
  /// As much of the neck as the fingers touch.
  static Neck neck_of(const theory::Move& move, int strings, Length gap) {
    const auto [low, high] = frets_of(move);
    return {gap, strings, low, high};
  }

  /// Whether some finger comes to lie over a place.
  bool covered(const FingerPlace& p) const {
    return std::any_of(move_.fingers.begin(), move_.fingers.end(), [&](const FingerMove& f) {
      return f.to && f.to->fret == p.fret && f.to->to_string <= p.from_string && p.to_string <= f.to->from_string;
    });
  }

  /// By the player's number of a string.
  Length x_of(int string) const {
    const int place = style_.boxes_mirrored ? string - 1 : neck_.strings - string;
    return neck_.at.x + gap_ * place;
  }
  Length y_of(int fret) const { return neck_.y_of(fret); }
  Point middle(const FingerPlace& p) const { return {(x_of(p.from_string) + x_of(p.to_string)) / 2, y_of(p.fret)}; }

  layout::RectShape round(const FingerPlace& p, Length r) const {
    layout::RectShape shape;
    shape.size = {base::abs(x_of(p.from_string) - x_of(p.to_string)) + r * 2, r * 2};
    shape.radius = r;
    return shape;
  }
  Point corner(const FingerPlace& p, Length r) const {
    return {std::min(x_of(p.from_string), x_of(p.to_string)) - r, y_of(p.fret) - r};
  }

  /// Where a finger was and another comes: a ring within the barre, or around what has a figure in it.
  void ring_on(const FingerPlace& p) {
    const bool figure = std::any_of(move_.fingers.begin(), move_.fingers.end(), [&](const FingerMove& f) {
      return f.to && f.to->fret == p.fret && f.to->from_string <= p.from_string && p.to_string <= f.to->from_string;
    });
    const Length r = gap_ * (figure ? 0.56 : 0.34);
    layout::RectShape shape = round(p, r);
    shape.stroke = layout::Stroke{style_.rule * 1.4, figure ? style_.ink : style_.ground, {}, {}};
    frame_->items.push_back({corner(p, r), "move-from", Layer::Ink, {}, {}, shape});
  }

  void ring(const FingerPlace& p) {
    const Length r = gap_ * 0.36;
    layout::RectShape shape = round(p, r);
    shape.fill = style_.ground;
    shape.stroke = layout::Stroke{style_.rule * 1.4, style_.ink, {}, {}};
    frame_->items.push_back({corner(p, r), "move-from", Layer::Ink, {}, {}, shape});
  }

  void dot(const FingerPlace& p, theory::Finger finger) {
    const Length r = gap_ * 0.46;
    layout::RectShape shape = round(p, r);
    shape.fill = style_.ink;
    frame_->items.push_back({corner(p, r), "move-to", Layer::Ink, {}, {}, shape});
    if (gap_ < least_gap_with_fingers()) return;  // the words beside the picture name them
    style::TypeRole role = neck_.figure_role(style_);
    role.weight = 700;
    put(*frame_, setting_, {x_of(p.from_string), y_of(p.fret) + role.size * 0.36},
        std::string(1, theory::finger_sign(finger)), {role, style_.ground, "box-finger"}, Align::Centre);
  }

  /// From ring to dot, clear of both.
  void way(const FingerMove& f) {
    if (!travels(f)) return;
    const Point a = middle(*f.from), z = middle(*f.to);
    const double dx = static_cast<double>((z.x - a.x).units()), dy = static_cast<double>((z.y - a.y).units());
    const double length = std::sqrt(dx * dx + dy * dy);
    const double clear_a = static_cast<double>((gap_ * 0.4).units()),
                 clear_z = static_cast<double>((gap_ * 0.5).units());
    if (length <= clear_a + clear_z) return;
    const auto at = [&](double along) {
      return Point{a.x + (z.x - a.x) * (along / length), a.y + (z.y - a.y) * (along / length)};
    };
    const Point tip = at(length - clear_z), tail = at(clear_a);
    const Length head = std::min(gap_ * 0.4, Length::raw(static_cast<std::int64_t>(length - clear_a - clear_z)));
    const double barb = static_cast<double>(head.units());
    const Point neck = length - clear_z - barb * 0.6 > clear_a ? at(length - clear_z - barb * 0.6) : tail;
    frame_->items.push_back({tail,
                             "move-way",
                             Layer::Ink,
                             {},
                             {},
                             layout::LineShape{neck - tail, {style_.rule * 1.6, style_.accent, {}, {}}}});
    const Point direction{head * (dx / length), head * (dy / length)};
    layout::PathShape point{text::moved(text::arrow_head(direction, head, head * 0.8), tip), style_.accent,
                            std::nullopt};
    frame_->items.push_back({{}, "move-way", Layer::Ink, {}, {}, point});
  }

  const Setting& setting_;
  const style::Style& style_;
  const theory::Move& move_;
  Length gap_;
  Neck neck_;
  std::shared_ptr<Frame> frame_;
};

}  // namespace

FramePtr move_box(const Setting& setting, const theory::Move& move, int strings, BoxSize size) {
  return MoveBox(setting, move, strings, string_gap(setting.style, size)).draw();
}

bool move_fits_a_box(const theory::Move& move) {
  constexpr int kMostFrets = 6;  // else the picture is more neck than fingers
  const auto [low, high] = frets_of(move);
  return high - low < kMostFrets;
}

std::string move_box_words(const theory::Move& move) {
  const bool rings = std::any_of(move.fingers.begin(), move.fingers.end(), leaves);
  if (!rings) return {};
  const bool ways = std::any_of(move.fingers.begin(), move.fingers.end(), travels);
  return std::string("In the middle picture a ring is where a finger was, a dot where one comes or stays") +
         (ways ? ", an arrow the way." : ".");
}

}  // namespace tunesheaf::blocks

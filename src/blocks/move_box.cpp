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
      if (f.to) dot(*f.to, f);
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

  /// Where a finger leaves and none comes: in dashes.
  void ring(const FingerPlace& p) {
    const Length r = gap_ * 0.36;
    layout::RectShape shape = round(p, r);
    shape.fill = style_.ground;
    shape.stroke = layout::Stroke{style_.rule * 1.4, style_.ink, {}, {gap_ * 0.17, gap_ * 0.13}};
    frame_->items.push_back({corner(p, r), "move-from", Layer::Ink, {}, {}, shape});
  }

  /// One that comes is full; one that stays is an outline.
  void dot(const FingerPlace& p, const FingerMove& finger) {
    const bool stays = finger.kind == MoveKind::Stays;
    const Length r = gap_ * (stays ? 0.43 : 0.46);
    layout::RectShape shape = round(p, r);
    shape.fill = stays ? style_.ground : style_.ink;
    if (stays) shape.stroke = layout::Stroke{style_.rule * 1.4, style_.ink, {}, {}};
    frame_->items.push_back({corner(p, r), "move-to", Layer::Ink, {}, {}, shape});
    if (gap_ < least_gap_with_fingers()) return;  // the words below the picture name them
    style::TypeRole role = neck_.figure_role(style_);
    role.weight = 700;
    put(*frame_, setting_, {x_of(p.from_string), y_of(p.fret) + role.size * 0.36},
        std::string(1, theory::finger_sign(finger.finger)), {role, stays ? style_.ink : style_.ground, "box-finger"},
        Align::Centre);
  }

  /// Whether a finger stands or stood near a place.
  bool occupied(Point at) const {
    return std::any_of(move_.fingers.begin(), move_.fingers.end(), [&](const FingerMove& f) {
      const auto near = [&](const std::optional<FingerPlace>& p) {
        if (!p) return false;
        const Point m = middle(*p);
        return base::abs(m.x - at.x) < gap_ * 0.55 && base::abs(m.y - at.y) < gap_ * 0.55;
      };
      return near(f.from) || near(f.to);
    });
  }

  /// From ring to dot, in a bow that is seen between neighbouring strings too and keeps clear of other fingers.
  void way(const FingerMove& f) {
    if (!travels(f)) return;
    const Point a = middle(*f.from), z = middle(*f.to);
    const double dx = static_cast<double>((z.x - a.x).units()), dy = static_cast<double>((z.y - a.y).units());
    const double length = std::hypot(dx, dy), gap = static_cast<double>(gap_.units());
    if (length < gap * 0.3) return;
    const Point half{(a.x + z.x) / 2, (a.y + z.y) / 2};
    const Point aside{gap_ * (dy / length), gap_ * (-dx / length)};
    const auto bow_at = [&](double side, double share) {
      return Point{half.x + aside.x * (side * share), half.y + aside.y * (side * share)};
    };
    // Upwards or to the right first; the other side where a finger is in the way.
    const double first = aside.y < Length{} || (aside.y == Length{} && aside.x > Length{}) ? 1 : -1;
    const double side = occupied(bow_at(first, 0.6)) && !occupied(bow_at(-first, 0.6)) ? -first : first;
    bow(a, bow_at(side, length < gap * 1.5 ? 0.95 : 0.75), z);
  }

  static Point on_the_way(Point from, Point to, Length away) {
    const double dx = static_cast<double>((to.x - from.x).units()), dy = static_cast<double>((to.y - from.y).units());
    const double share = static_cast<double>(away.units()) / std::max(1.0, std::hypot(dx, dy));
    return {from.x + (to.x - from.x) * share, from.y + (to.y - from.y) * share};
  }

  void bow(Point a, Point through, Point z) {
    const Point tail = on_the_way(a, through, gap_ * 0.42), tip = on_the_way(z, through, gap_ * 0.5);
    const Length head = gap_ * 0.34;
    const Point neck = on_the_way(tip, through, head * 0.7);
    const auto towards = [](Point from, Point to) {
      return Point{from.x + (to.x - from.x) * (2.0 / 3), from.y + (to.y - from.y) * (2.0 / 3)};
    };
    const Point low{std::min({tail.x, through.x, neck.x}), std::min({tail.y, through.y, neck.y})};
    layout::PathShape line;
    line.steps = {{layout::PathVerb::Move, tail - low, {}, {}},
                  {layout::PathVerb::Curve, towards(tail, through) - low, towards(neck, through) - low, neck - low}};
    line.stroke = layout::Stroke{style_.rule * 1.8, style_.accent, {}, {}};
    frame_->items.push_back({low, "move-way", Layer::Ink, {}, {}, line});
    const Point direction = tip - neck;
    layout::PathShape point{text::moved(text::arrow_head(direction, head, head * 0.85), tip), style_.accent,
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
  const auto any = [&](const auto& holds) { return std::any_of(move.fingers.begin(), move.fingers.end(), holds); };
  std::vector<std::string> signs;
  if (any([](const FingerMove& f) { return f.to && f.kind != MoveKind::Stays; }))
    signs.push_back("a black dot is where a finger comes");
  if (any([](const FingerMove& f) { return f.kind == MoveKind::Stays; })) signs.push_back("an outlined one stays");
  if (any(leaves)) signs.push_back("a ring is where one was");
  if (any(travels)) signs.push_back("an arrow is its way");
  if (signs.empty()) return {};
  std::string out = "In the middle picture ";
  for (std::size_t i = 0; i < signs.size(); ++i) out += (i == 0 ? "" : ", ") + signs[i];
  return out + ".";
}

}  // namespace tunesheaf::blocks

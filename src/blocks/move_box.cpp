#include "tunesheaf/blocks/move_box.h"

#include <algorithm>
#include <cmath>

#include "pen.h"

namespace tunesheaf::blocks {
namespace {

using layout::Layer;
using theory::FingerMove;
using theory::FingerPlace;
using theory::MoveKind;

class MoveBox {
 public:
  MoveBox(const Setting& setting, const theory::Move& move, int strings, Length gap)
      : setting_(setting), style_(setting.style), move_(move), strings_(strings), gap_(gap), fret_(gap * 1.22) {
    int low = 99, high = 0;
    for (const FingerMove& f : move.fingers) {
      for (const auto& place : {f.from, f.to}) {
        if (!place) continue;
        low = std::min(low, place->fret);
        high = std::max(high, place->fret);
      }
    }
    first_ = high <= 4 ? 1 : low;
    frets_ = std::max(4, high - first_ + 1);
    top_ = gap_ * 0.95;
  }

  FramePtr draw() {
    frame_ = std::make_shared<Frame>();
    frame_->name = "move-box";
    frame_->role = Role::Figure;
    grid();
    for (const FingerMove& f : move_.fingers) {
      if (f.from && f.kind != MoveKind::Stays && f.kind != MoveKind::Flattens && f.kind != MoveKind::Unbarres) {
        ring(*f.from);
      }
    }
    for (const FingerMove& f : move_.fingers) way(f);
    for (const FingerMove& f : move_.fingers) {
      if (f.to) dot(*f.to, f.finger);
    }
    frame_->baseline = top_;
    frame_->size = {side() * 2 + gap_ * (strings_ - 1) + gap_ * 1.2, top_ + fret_ * frets_ + gap_ * 0.2};
    return frame_;
  }

 private:
  Length side() const { return gap_ * 0.5; }
  /// By the player's number of a string.
  Length x_of(int string) const {
    const int place = style_.boxes_mirrored ? string - 1 : strings_ - string;
    return side() + gap_ * place;
  }
  Length y_of(int fret) const { return top_ + fret_ * (fret - first_) + fret_ / 2; }
  Point middle(const FingerPlace& p) const { return {(x_of(p.from_string) + x_of(p.to_string)) / 2, y_of(p.fret)}; }

  void grid() {
    const Length left = x_of(style_.boxes_mirrored ? 1 : strings_), width = gap_ * (strings_ - 1);
    for (int f = 0; f <= frets_; ++f) {
      const bool nut = f == 0 && first_ == 1;
      const Length thick = nut ? style_.rule * 3.2 : style_.rule;
      rule(*frame_, {left - style_.rule / 2, top_ + fret_ * f - (nut ? thick / 2 - style_.rule / 2 : Length{})},
           width + style_.rule, thick, style_.ink, nut ? Kind("box-nut") : Kind("box-fret"));
    }
    for (int s = 1; s <= strings_; ++s) {
      frame_->items.push_back({{x_of(s), top_},
                               "box-string",
                               Layer::Line,
                               {},
                               {},
                               layout::LineShape{{{}, fret_ * frets_}, {style_.rule, style_.ink, {}, {}}}});
    }
    if (first_ == 1) return;
    style::TypeRole role = style_.figure;
    role.size = std::max(Length::pt(7), std::min(role.size, gap_ * 0.95));
    put(*frame_, setting_, {left + width + gap_ * 0.6, y_of(first_) + role.size * 0.36}, std::to_string(first_),
        {role, style_.ink, "box-first-fret"});
  }

  layout::RectShape round(const FingerPlace& p, Length r) const {
    layout::RectShape shape;
    shape.size = {base::abs(x_of(p.from_string) - x_of(p.to_string)) + r * 2, r * 2};
    shape.radius = r;
    return shape;
  }
  Point corner(const FingerPlace& p, Length r) const {
    return {std::min(x_of(p.from_string), x_of(p.to_string)) - r, y_of(p.fret) - r};
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
    style::TypeRole role = style_.figure;
    role.size = std::max(Length::pt(7), std::min(role.size, gap_ * 0.95));
    role.weight = 700;
    put(*frame_, setting_, {x_of(p.from_string), y_of(p.fret) + role.size * 0.36},
        std::string(1, theory::finger_sign(finger)), {role, style_.ground, "box-finger"}, Align::Centre);
  }

  /// From ring to dot, clear of both.
  void way(const FingerMove& f) {
    if ((f.kind != MoveKind::Moves && f.kind != MoveKind::Slides) || !f.from || !f.to) return;
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
    const Length head = gap_ * 0.4;
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
  int strings_;
  Length gap_, fret_, top_;
  int first_ = 1, frets_ = 4;
  std::shared_ptr<Frame> frame_;
};

}  // namespace

FramePtr move_box(const Setting& setting, const theory::Move& move, int strings, BoxSize size) {
  const style::BoxStyle& box = setting.style.box;
  const Length gap = size == BoxSize::Small ? box.small : size == BoxSize::Medium ? box.medium : box.large;
  return MoveBox(setting, move, strings, gap).draw();
}

}  // namespace tunesheaf::blocks

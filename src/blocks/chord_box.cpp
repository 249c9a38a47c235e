#include <algorithm>
#include <cmath>

#include "neck.h"
#include "pen.h"
#include "tunesheaf/blocks/shapes.h"
#include "tunesheaf/blocks/words.h"

namespace tunesheaf::blocks {
namespace {

using layout::Layer;
using score::ShapeUse;
using theory::Finger;

/// The grid with all that stands in and on it; origin at the top left of the mark row.
class Grid {
 public:
  Grid(const Setting& setting, const ShapeUse& shape, Length gap, BoxText text = BoxText::Full)
      : setting_(setting),
        style_(setting.style),
        shape_(shape.shape),
        gap_(gap),
        neck_(gap, shape_.count(), shape_.lowest_fret(), shape_.highest_fret()) {
    fingers_inside_ = text == BoxText::Full && gap_ >= least_gap_with_fingers();
    mark_row_ = gap_ * 0.95;
    top_ = mark_row_ + (neck_.first == 1 ? style_.rule * 2.4 : style_.rule / 2);
  }

  Length width() const { return neck_.width(); }
  Length bottom() const { return top_ + neck_.height(); }
  /// What the first-fret figure needs at the right.
  Length aside() const {
    return neck_.first == 1 ? Length{}
                            : gap_ * 0.6 + width_of(setting_, std::to_string(neck_.first), neck_.figure_role(style_));
  }
  style::TypeRole figure_role() const { return neck_.figure_role(style_); }

  Length x_of(std::size_t place) const {
    const int n = style_.boxes_mirrored ? shape_.count() - 1 - static_cast<int>(place) : static_cast<int>(place);
    return gap_ * n;
  }

  void draw(Frame& frame, Point at) {
    at_ = at;
    neck_.at = {at.x, at.y + top_};
    neck_.draw(frame, setting_);
    marks(frame);
    dots(frame);
    neck_.draw_first_fret(frame, setting_);
  }

 private:
  void marks(Frame& frame) {
    const Length r = gap_ * 0.27, y = at_.y + mark_row_ * 0.42;
    const layout::Stroke pen{style_.rule * 1.35, style_.ink, {}, {}};
    for (std::size_t s = 0; s < shape_.frets.size(); ++s) {
      const Length x = at_.x + x_of(s);
      if (!shape_.frets[s]) {
        for (const double side : {1.0, -1.0}) {
          frame.items.push_back({{x - r, y - r * side},
                                 "box-muted",
                                 Layer::Ink,
                                 {},
                                 {},
                                 layout::LineShape{{r * 2, r * (2 * side)}, pen}});
        }
      } else if (*shape_.frets[s] == 0) {
        layout::RectShape ring;
        ring.size = {r * 2, r * 2};
        ring.radius = r;
        ring.stroke = pen;
        frame.items.push_back({{x - r, y - r}, "box-open", Layer::Ink, {}, {}, ring});
      }
    }
  }

  void dots(Frame& frame) {
    const auto barred = theory::barres(shape_);
    for (const theory::Barre& b : barred) {
      const Length a = x_of(shape_.place_of(b.from_string)), z = x_of(shape_.place_of(b.to_string));
      dot(frame, at_.x + std::min(a, z), neck_.y_of(b.fret), base::abs(z - a), b.finger, at_.x + a);
    }
    for (std::size_t s = 0; s < shape_.frets.size(); ++s) {
      const auto fret = shape_.frets[s];
      if (!fret || *fret == 0) continue;
      const Finger finger = shape_.fingers.empty() ? Finger::None : shape_.fingers[s];
      const int number = shape_.number_of(s);
      const bool in_barre = std::any_of(barred.begin(), barred.end(), [&](const theory::Barre& b) {
        return b.finger == finger && b.fret == *fret && number <= b.from_string && number >= b.to_string;
      });
      const Length x = at_.x + x_of(s);
      if (!in_barre) dot(frame, x, neck_.y_of(*fret), {}, finger, x);
    }
  }

  /// A dot, or a bar with round ends `length` long; its finger's figure stands at `figure_x`.
  void dot(Frame& frame, Length x, Length y, Length length, Finger finger, Length figure_x) {
    const Length r = gap_ * (fingers_inside_ ? 0.46 : 0.38);
    layout::RectShape shape;
    shape.size = {length + r * 2, r * 2};
    shape.radius = r;
    shape.fill = style_.ink;
    frame.items.push_back(
        {{x - r, y - r}, length > Length{} ? Kind("box-barre") : Kind("box-dot"), Layer::Ink, {}, {}, shape});
    if (finger == Finger::None || !fingers_inside_) return;
    style::TypeRole role = neck_.figure_role(style_);
    role.weight = 700;
    put(frame, setting_, {figure_x, y + role.size * 0.36}, std::string(1, theory::finger_sign(finger)),
        {role, style_.ground, "box-finger"}, Align::Centre);
  }

  const Setting& setting_;
  const style::Style& style_;
  const theory::Shape& shape_;
  Length gap_, mark_row_, top_;
  Neck neck_;
  bool fingers_inside_ = true;
  Point at_;
};

struct NoteName {
  Length x, width;
  std::string text;
};

style::TypeRole note_role(const style::Style& style) {
  style::TypeRole role = style.small;
  role.size = std::max(kLeastBoxText, role.size);
  return role;
}

/// From left to right.
std::vector<NoteName> note_names(const Setting& setting, const Grid& grid, const ShapeUse& shape) {
  std::vector<NoteName> names;
  for (std::size_t s = 0; s < shape.sounding.size(); ++s) {
    if (!shape.sounding[s]) continue;
    const std::string text = theory::print(shape.sounding[s]->name, theory::Accidentals::Signs);
    names.push_back({grid.x_of(s), width_of(setting, text, note_role(setting.style)), text});
  }
  std::sort(names.begin(), names.end(), [](const NoteName& a, const NoteName& b) { return a.x < b.x; });
  return names;
}

bool crowded(const std::vector<NoteName>& names, Length size) {
  for (std::size_t i = 1; i < names.size(); ++i) {
    const Length white = names[i].x - names[i].width / 2 - names[i - 1].x - names[i - 1].width / 2;
    if (white < size * 0.3) return true;
  }
  return false;
}

/// Names of notes under the strings; where neighbours would touch, every second one stands lower. Their height is the
/// same for all shapes of a part, so that the names of chords below them stand on one line.
Length string_notes(Frame& frame, const Setting& setting, const Grid& grid, const ShapeUse& shape, Length gap,
                    Point at) {
  const style::TypeRole role = note_role(setting.style);
  const std::vector<NoteName> names = note_names(setting, grid, shape);
  const bool two_rows = crowded(names, role.size);
  const Length line = role.size * 1.1;
  for (std::size_t i = 0; i < names.size(); ++i) {
    const Length drop = two_rows && i % 2 == 1 ? line : Length{};
    put(frame, setting, {at.x + names[i].x, at.y + role.size * 0.95 + drop}, names[i].text,
        {role, setting.style.ink, "box-note", shape.origin}, Align::Centre);
  }
  const auto& all = setting.song.shapes;
  const bool any = two_rows || std::any_of(all.begin(), all.end(), [&](const ShapeUse& other) {
                     return other.used && other.part == shape.part && other.shape.count() == shape.shape.count() &&
                            crowded(note_names(setting, Grid(setting, other, gap), other), role.size);
                   });
  return any ? line * 2 : line;
}

/// In the small boxes of a chart, read from afar, all fingers stand under their strings: ink on paper, not paper on a
/// dot of ink.
Length fingers_below(Frame& frame, const Setting& setting, const Grid& grid, const ShapeUse& shape, Point at) {
  const theory::Shape& held = shape.shape;
  const style::TypeRole role = grid.figure_role();
  bool any = false;
  for (std::size_t s = 0; s < held.frets.size() && s < held.fingers.size(); ++s) {
    if (!held.frets[s] || *held.frets[s] == 0 || held.fingers[s] == Finger::None) continue;
    any = true;
    put(frame, setting, {at.x + grid.x_of(s), at.y + role.size * 0.8},
        std::string(1, theory::finger_sign(held.fingers[s])), {role, setting.style.ink, "box-finger", shape.origin},
        Align::Centre);
  }
  return any ? role.size : Length{};
}

/// Lines of text, each in the middle of `width`; returns their height.
Length centred(Frame& frame, const Setting& setting, const std::string& text, const style::TypeRole& role,
               Colour colour, Kind kind, Span origin, Length width, Length y) {
  if (text.empty()) return {};
  Prose words{{{text, text_style(role)}}, width, role.size, colour, kind, origin, Role::None, std::string(kind.name()),
              text::Alignment::Centre};
  words.even = true;
  const auto block = prose(setting, words);
  frame.children.push_back({{{}, y}, block});
  return block->size.height;
}

Length names_above(Frame& frame, const Setting& setting, const ShapeUse& shape, Length width) {
  const style::Style& style = setting.style;
  Length y;
  if (named_above(setting, shape)) {
    y = centred(frame, setting, shape.name.value, style.body, style.ink, "shape-name", shape.name.span, width, {});
  }
  std::string hand = shape.hand == shape.name.value ? "" : shape.hand;
  if (!shape.tuned.empty()) hand += (hand.empty() ? "with " : ", with ") + shape.tuned;
  if (!hand.empty()) {
    y += centred(frame, setting, hand, italic(style.note), style.ink, "shape-hand", shape.origin, width, y);
  }
  if (shape.from == song::Authority::Lesson) {
    const Length x = width / 2 - lesson_mark_width(setting) / 2;
    put_lesson_mark(frame, setting, {x, y + style.label.size}, shape.origin);
    y += style.label.size * 1.3;
    if (!shape.instead_of.empty()) {
      y += centred(frame, setting, "instead of " + shape.instead_of, italic(style.note), style.ink, "shape-instead",
                   shape.origin, width, y);
    }
  }
  return y;
}

}  // namespace

bool named_above(const Setting& setting, const ShapeUse& shape) {
  return with_signs(shape.name.value) != name_on_score(setting, shape);
}

std::string name_on_score(const Setting& setting, const ShapeUse& shape) {
  std::string found;
  for (const score::Section& section : setting.song.sections) {
    for (const score::Harmony& harmony : section.harmony) {
      const auto index = static_cast<std::size_t>(harmony.shape);
      if (harmony.shape < 0 || harmony.stated.empty() || &setting.song.shapes[index] != &shape) continue;
      if (!found.empty() && found != harmony.stated) return with_signs(shape.ear_text);
      found = harmony.stated;
    }
  }
  return with_signs(found.empty() ? shape.ear_text : found);
}

Length least_gap_with_fingers() {
  return kLeastBoxText * (1 / 0.92);
}

FramePtr chord_box(const Setting& setting, const ShapeUse& shape, BoxSize size, BoxText text, Length width) {
  const style::Style& style = setting.style;
  const Length gap = string_gap(style, size);
  Grid grid(setting, shape, gap, text);
  auto frame = std::make_shared<Frame>();
  frame->name = "chord-box";
  frame->role = Role::Figure;
  frame->origin = shape.origin;
  Length y;
  if (text == BoxText::Full) {
    y = names_above(*frame, setting, shape, width) + gap * 0.3;
  } else {
    y = centred(*frame, setting, name_on_score(setting, shape), style.chord, style.ink, "shape-ear", shape.origin,
                width, {});
  }
  const Length x = width / 2 - grid.width() / 2;
  frame->baseline = y;
  // The grid is a frame of its own, so that its text is read after the name above it.
  auto drawn = std::make_shared<Frame>();
  drawn->name = "box-grid";
  grid.draw(*drawn, {x, {}});
  Length height = grid.bottom() + gap * 0.25;
  if (text == BoxText::Full) height += string_notes(*drawn, setting, grid, shape, gap, {x, height});
  if (text == BoxText::NameOnly && gap >= kLeastBoxText * 0.66)
    height += fingers_below(*drawn, setting, grid, shape, {x, height});
  drawn->size = {width, height};
  frame->children.push_back({{{}, y}, drawn});
  y += height;
  if (text == BoxText::Full) {
    y += style.body.size * 0.3;
    y += centred(*frame, setting, name_on_score(setting, shape), style.chord, style.ink, "shape-ear", shape.origin,
                 width, y);
  }
  frame->size = {width, y};
  return frame;
}

}  // namespace tunesheaf::blocks

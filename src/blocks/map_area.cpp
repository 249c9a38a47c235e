#include "map_area.h"

#include <algorithm>
#include <array>
#include <numeric>
#include <optional>

namespace tunesheaf::blocks {
namespace {

using base::Rect;
using layout::Layer;

/// "A", "A′", "B" …: sections alike share the tone of their letter.
int letter_tone(const std::string& letter) {
  return letter.empty() ? 0 : (letter[0] - 'A') % 6;
}

class Area {
 public:
  Area(Frame& frame, const Setting& setting, const MapStep& step, const Rect& box, Pattern pattern)
      : frame_(frame),
        setting_(setting),
        style_(setting.style),
        step_(step),
        section_(*step.section),
        box_(box),
        tone_(pattern == Pattern::Plain ? 0 : letter_tone(section_.letter)) {}

  void draw() {
    layout::RectShape area;
    area.size = {box_.width, box_.height};
    area.fill = tone_ == 1 ? style_.tint : style_.ground;
    area.stroke = layout::Stroke{style_.rule, style_.ink, {}, {}};
    frame_.items.push_back({{box_.x, box_.y}, "map-area", Layer::Tint, section_.origin, {}, area});
    if (tone_ >= 2) hatch();
    letters();
  }

 private:
  void hatch_line(Point a, Point b) {
    const layout::Stroke stroke{style_.rule, style_.faint, {}, {}};
    frame_.items.push_back({a, "map-hatch", Layer::Tint, {}, {}, layout::LineShape{b - a, stroke}});
  }

  /// Slanted or straight lines clipped to the box: patterns that survive a copier.
  void hatch() {
    const Length pitch = style_.body.size * 0.42;
    if (tone_ == 3) {
      for (Length y = box_.top() + pitch; y < box_.bottom(); y += pitch)
        hatch_line({box_.left(), y}, {box_.right(), y});
    } else if (tone_ == 4) {
      for (Length x = box_.left() + pitch; x < box_.right(); x += pitch)
        hatch_line({x, box_.top()}, {x, box_.bottom()});
    } else {
      slants(pitch);
    }
  }

  void slants(Length pitch) {
    for (Length start = box_.left() - box_.height + pitch; start < box_.right(); start += pitch) {
      const Length x0 = std::max(start, box_.left()), x1 = std::min(start + box_.height, box_.right());
      if (x1 <= x0) continue;
      const Length y0 = x0 - start, y1 = x1 - start;
      if (tone_ == 2) {
        hatch_line({x0, box_.bottom() - y0}, {x1, box_.bottom() - y1});
      } else {
        hatch_line({x0, box_.top() + y0}, {x1, box_.top() + y1});
      }
    }
  }

  Length letter_width(const style::TypeRole& role) const { return width_of(setting_, section_.letter, role); }

  /// The letter in every pass, a dashed line between two passes; once only where there is no room for more.
  void letters() {
    const Length bar = box_.width * (1.0 / std::max(1, step_.count()));
    const auto fits = [&](const style::TypeRole& role) {
      const Length needed = letter_width(role) + role.size * 0.4;
      return std::all_of(step_.passes.begin(), step_.passes.end(), [&](int n) { return bar * n > needed; });
    };
    const style::TypeRole& role = fits(style_.section_name) ? style_.section_name : style_.body;
    if (!fits(role) || step_.passes.size() < 2) return letter_with_times();
    int bars = 0;
    for (const int pass : step_.passes) {
      const Rect part{box_.x + bar * bars, box_.y, bar * pass, box_.height};
      if (bars > 0) {
        const layout::Stroke stroke{style_.rule, style_.ink, {}, {style_.rule * 3, style_.rule * 3}};
        frame_.items.push_back(
            {{part.x, box_.y}, "map-pass", Layer::Line, {}, {}, layout::LineShape{{{}, box_.height}, stroke}});
      }
      letter({part.x + part.width / 2, {}}, role);
      bars += pass;
    }
  }

  /// The largest type in which the letter stands clear of the edges of its box.
  std::optional<style::TypeRole> letter_role() const {
    style::TypeRole smallest = style_.small;
    smallest.family = style_.section_name.family;
    for (const style::TypeRole& role : std::array{style_.section_name, style_.body, smallest}) {
      if (letter_width(role) + style_.rule * 4 <= box_.width) return role;
    }
    return std::nullopt;
  }

  /// "×4" in the corner where a repeat without a pass of its own is told; the letter moves aside for it.
  void letter_with_times() {
    const auto role = letter_role();
    if (!role) return;
    Length middle = box_.x + box_.width / 2;
    if (section_.times > 1 && step_.passes.size() == 1) {
      const std::string times = "×" + std::to_string(section_.times);
      const Length pad = style_.rule * 3, half = letter_width(*role) / 2;
      const Length right = box_.right() - pad, left = right - width_of(setting_, times, style_.small) - pad;
      const Length room = left - half;
      if (room >= box_.x + half + pad) {
        middle = std::min(middle, room);
        put(frame_, setting_, {right, box_.y + style_.small.size}, times,
            {style_.small, style_.ink, "map-times", section_.origin}, Align::Right);
      }
    }
    letter({middle, {}}, *role);
  }

  void letter(Point middle, const style::TypeRole& role) {
    const Length width = letter_width(role), pad = role.size * 0.22;
    const Length base = box_.y + box_.height / 2 + role.size * 0.33;
    layout::RectShape knock;
    knock.size = {width + pad + pad, box_.height - style_.rule * 2};
    knock.fill = style_.ground;
    if (tone_ >= 2 && knock.size.width + style_.rule * 2 < box_.width) {
      const Point at{middle.x - knock.size.width / 2, box_.y + style_.rule};
      frame_.items.push_back({at, "map-knockout", Layer::Knockout, {}, {}, knock});
    }
    put(frame_, setting_, {middle.x, base}, section_.letter, {role, style_.accent, "map-letter", section_.origin},
        Align::Centre);
  }

  Frame& frame_;
  const Setting& setting_;
  const style::Style& style_;
  const MapStep& step_;
  const score::Section& section_;
  Rect box_;
  int tone_;
};

}  // namespace

void put_map_area(Frame& frame, const Setting& setting, const MapStep& step, const Rect& box, Pattern pattern) {
  Area(frame, setting, step, box, pattern).draw();
}

}  // namespace tunesheaf::blocks

#include "chart_label.h"

#include <algorithm>

#include "chart_pen.h"
#include "tunesheaf/base/number.h"
#include "tunesheaf/blocks/words.h"
#include "tunesheaf/score/clock.h"

namespace tunesheaf::blocks {
namespace {

Length letter_size(const ChartSize& size) {
  return std::clamp(size.chord, Length::pt(15), Length::pt(28));
}

class Label {
 public:
  Label(const Setting& setting, const ChartSection& section, const ChartSize& size)
      : setting_(setting),
        style_(setting.style),
        section_(section),
        size_(size),
        text_(chart_text_size(setting.style, size.chord)),
        width_(chart_label_width(setting.style, size.width) - size.chord * 0.35),
        stack_("chart-label", chart_label_width(setting.style, size.width), Role::Heading2) {}

  FramePtr draw() {
    head();
    times();
    loudness();
    line(section_.key.empty() ? std::string() : "in " + section_.key, plain());
    tempo();
    line(section_.feel, plain());
    line(section_.who, quiet());
    strum();
    return stack_.done();
  }

 private:
  style::TypeRole sized(style::TypeRole role, double share = 1) const {
    role.size = text_ * share;
    role.tracking = 0;
    return role;
  }
  style::TypeRole plain() const { return sized(style_.body); }
  style::TypeRole quiet() const { return sized(italic(style_.body)); }

  void head() {
    const Length base = chart_label_baseline(size_);
    style::TypeRole letter = style_.section_letter;
    letter.size = letter_size(size_);
    Frame& frame = stack_.frame();
    frame.baseline = base;
    const Length end =
        put(frame, setting_, {{}, base}, section_.letter, {letter, style_.accent, "chart-letter", section_.origin}) +
        text_ * 0.45;
    const style::TypeRole name = sized(style_.section_name, 1.12);
    if (end + width_of(setting_, section_.name, name) <= width_) {
      put(frame, setting_, {end, base}, section_.name, {name, style_.ink, "chart-name", section_.origin});
      stack_.space(base + text_ * 0.42);
      return;
    }
    stack_.space(base + text_ * 0.45);
    line(section_.name, name);
  }

  void line(const std::string& text, const style::TypeRole& role) {
    if (text.empty()) return;
    const Ink ink{role, style_.ink, "chart-label", section_.origin};
    stack_.add(prose(setting_, text, ink, width_));
  }

  /// "×2", "until the singer sits down".
  void times() {
    style::TypeRole role = sized(style_.chord, 1.05);
    const int count = section_.times * section_.rounds;
    if (section_.until.empty() && count > 1) line("×" + std::to_string(count), role);
    if (!section_.until.empty()) line(section_.until, plain());
  }

  void loudness() {
    if (section_.loudness.empty()) return;
    line(section_.loudness, bold(sized(italic(style_.body), 1.15)));
  }

  void strum() {
    for (const ChartBar& bar : section_.bars) {
      if (bar.strum.empty()) continue;
      const Length space = text_ * 0.24;
      const auto strokes = static_cast<double>(bar.strum.size());
      if (space * (strokes * 1.7) > width_) return;
      stack_.space(text_ * 0.2);
      const Length width = std::min(width_, space * (3.2 * strokes));
      const Length height = put_strum(stack_.frame(), setting_, bar, {{}, stack_.y()}, width, space);
      stack_.space(height);
      return;
    }
  }

  void tempo() {
    if (!section_.tempo) return;
    const song::TempoMark& mark = *section_.tempo;
    line(mark.words, plain());
    if (mark.per_minute == Fraction{}) return;
    const Fraction unit = section_.bars.empty() ? mark.unit : score::counted_unit(mark, section_.bars.front().meter);
    const Length base = stack_.y() + text_ * 0.95;
    Frame& frame = stack_.frame();
    const Length x = put_note_value(frame, setting_, {{}, base}, unit, text_ * 0.22, style_.ink) + text_ * 0.15;
    const style::TypeRole role = plain();
    put(frame, setting_, {x, base}, "= " + base::print_decimal(mark.per_minute.to_double(), 1),
        {role, style_.ink, "chart-label", section_.origin});
    stack_.space(text_ * 1.3);
  }

  const Setting& setting_;
  const style::Style& style_;
  const ChartSection& section_;
  const ChartSize& size_;
  Length text_, width_;
  Stack stack_;
};

}  // namespace

Length chart_label_baseline(const ChartSize& size) {
  return letter_size(size) * 0.8;
}

FramePtr chart_label(const Setting& setting, const ChartSection& section, const ChartSize& size) {
  return Label(setting, section, size).draw();
}

}  // namespace tunesheaf::blocks

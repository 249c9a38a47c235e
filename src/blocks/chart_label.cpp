#include "chart_label.h"

#include <algorithm>
#include <sstream>
#include <vector>

#include "chart_pen.h"

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
    for (const ChartCue& cue : section_.pick_ups) pick_up(cue);
    times();
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

  /// One leading for all words of the column; lines of one text as even as can be.
  void line(const std::string& text, const style::TypeRole& role) {
    if (text.empty()) return;
    std::vector<Word> words;
    std::istringstream stream(text);
    for (std::string word; std::getline(stream, word, ' ');) words.push_back({word, width_of(setting_, word, role)});
    const Length blank = width_of(setting_, " ", role);
    std::vector<std::string> lines = broken(words, width_, blank);
    for (Length narrow = width_ * 0.95; lines.size() > 1 && narrow > width_ * 0.4; narrow -= width_ * 0.05) {
      auto even = broken(words, narrow, blank);
      if (even.size() > lines.size()) break;
      lines = std::move(even);
    }
    const Ink ink{role, style_.ink, "chart-label", section_.origin};
    const bool fits = std::all_of(words.begin(), words.end(), [&](const Word& word) { return word.width <= width_; });
    if (!fits) return stack_.add(prose(setting_, text, ink, width_));
    const Length pitch = std::max(role.size, text_) * 1.2;
    for (const std::string& one : lines) {
      put(stack_.frame(), setting_, {{}, stack_.y() + pitch * 0.8}, one, ink);
      stack_.space(pitch);
    }
  }

  /// "pick-up", a note, and who plays it; these on lines of their own where the column is narrow.
  void pick_up(const ChartCue& cue) {
    const Ink ink{quiet(), style_.ink, "chart-label", cue.origin};
    const Length blank = text_ * 0.35, pitch = text_ * 1.2, space = text_ * 0.22;
    Frame scratch;
    const Length note = put_note_value(scratch, setting_, {}, cue.beat, space, style_.ink);
    const Length words = width_of(setting_, cue.text, ink.role), who = width_of(setting_, cue.rate, ink.role);
    const bool beside = words + blank + note <= width_, whole = words + blank * 2 + note + who <= width_;
    const auto base = [&] { return stack_.y() + pitch * 0.8; };
    put(stack_.frame(), setting_, {{}, base()}, cue.text, ink);
    if (!beside) stack_.space(pitch);
    const Length x = beside ? words + blank : Length{};
    put_note_value(stack_.frame(), setting_, {x, base()}, cue.beat, space, style_.ink);
    if (whole) put(stack_.frame(), setting_, {x + note + blank, base()}, cue.rate, ink);
    stack_.space(pitch);
    if (!whole) line(cue.rate, quiet());
  }

  struct Word {
    std::string text;
    Length width;
  };
  static std::vector<std::string> broken(const std::vector<Word>& words, Length width, Length blank) {
    std::vector<std::string> lines;
    Length x;
    for (const Word& word : words) {
      if (!lines.empty() && x + blank + word.width <= width) {
        lines.back() += " " + word.text;
        x += blank + word.width;
      } else {
        lines.push_back(word.text);
        x = word.width;
      }
    }
    return lines;
  }

  /// "×2 mf".
  void times() {
    const style::TypeRole times = bold(sized(style_.label, 1.35));
    const int count = section_.times * section_.rounds;
    const bool counts = section_.until.empty() && count > 1;
    if (!counts) return line(section_.loudness, loud());
    line("×" + std::to_string(count), times);
    if (section_.loudness.empty()) return;
    const style::TypeRole role = loud();
    const Length x = width_of(setting_, "×" + std::to_string(count), times) + text_ * 0.7;
    put(stack_.frame(), setting_, {x, stack_.y() - times.size * 1.2 * 0.2}, section_.loudness,
        {role, style_.ink, "chart-label", section_.origin});
  }
  style::TypeRole loud() const { return bold(sized(italic(style_.body), 1.3)); }

  void strum() {
    for (const ChartBar& bar : section_.bars) {
      if (bar.strum.empty()) continue;
      const auto strokes = static_cast<double>(bar.strum.size());
      Length space = text_ * 0.3;
      if (strum_width(setting_, bar, space) > width_) space = text_ * 0.24;
      if (strum_width(setting_, bar, space) > width_) return;
      stack_.space(text_ * 0.2);
      const Length width = std::min(width_, space * (3.2 * strokes));
      const Length height = put_strum(stack_.frame(), setting_, bar, {{}, stack_.y()}, width, space);
      stack_.space(height);
      return;
    }
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

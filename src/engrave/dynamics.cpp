// Dynamics, hairpins and pedal signs under the staves.
#include <algorithm>
#include <functional>

#include "rows.h"

namespace tunesheaf::engrave {

namespace {

using score::Word;
using score::WordKind;

/// Dynamics and hairpins stand in one row.
class DynamicsRow {
 public:
  explicit DynamicsRow(StaffContext& staff) : staff_(staff), system_(staff.system) {}

  void run(const std::vector<Word>& words, const std::vector<score::Mark>& marks) {
    for (const Word& w : words) {
      if (w.kind == WordKind::Dynamics && system_.holds(w.at)) letters(w);
    }
    keep_apart();
    for (auto mark = marks.begin(); mark != marks.end(); ++mark) {
      // What the part and the chart both say is drawn once.
      const bool said = std::any_of(marks.begin(), mark, [&](const score::Mark& before) {
        return before.kind == mark->kind && before.from == mark->from && before.to == mark->to;
      });
      if (!said) hairpin(*mark);
    }
    if (stretches_.empty()) return;
    Length up = staff_.space(1.1), down = staff_.space(0.6);
    for (const Said& said : said_) {
      up = std::max(up, said.ascent);
      down = std::max(down, said.descent);
    }
    const Length baseline = take_row(staff_, Side::Below, stretches_, up, down, 0.7);
    for (const auto& draw : later_) draw(baseline);
  }

 private:
  static std::optional<MusicSign> sign_of(char letter) {
    switch (letter) {
      case 'p':
        return MusicSign::DynamicP;
      case 'm':
        return MusicSign::DynamicM;
      case 'f':
        return MusicSign::DynamicF;
      case 's':
        return MusicSign::DynamicS;
      case 'z':
        return MusicSign::DynamicZ;
      case 'r':
        return MusicSign::DynamicR;
      default:
        return std::nullopt;
    }
  }

  /// Bar lines run through between the staves of a part: what stands there keeps off them.
  Length within_bar(int bar, Length left, Length width) const {
    const auto i = static_cast<std::size_t>(bar - system_.first_bar);
    const Length gap = staff_.space(0.35);
    left = std::min(left, system_.bar_right[i] - gap - width);
    if (system_.section.bars[static_cast<std::size_t>(bar)].repeat_begin)
      left = std::max(left, system_.bar_left[i] - staff_.space(0.55));  // under the dots
    return std::max(left, (i == 0 ? system_.left : system_.bar_end[i - 1]) + gap);
  }

  void letters(const Word& w) {
    const bool signs =
        !w.text.empty() && std::all_of(w.text.begin(), w.text.end(), [](char c) { return sign_of(c).has_value(); });
    const Length x = system_.x_of(w.at);
    const StaffContext::Tag tag{"dynamics", w.origin, staff_.subject()};
    if (!signs) {
      style::TypeRole role = system_.style.direction;
      role.italic = true;
      const text::Line line = staff_.shape(w.text, role);
      said_.push_back({within_bar(w.at.bar, x - staff_.space(0.6), line.width), line.width, -line.ink.top(),
                       line.ink.bottom(),
                       [this, tag, line](Point at) { staff_.words(tag, line, at, system_.style.ink); }});
      return;
    }
    // One run of glyphs, so that the mark is one thing and is read back as one word.
    text::Run run;
    Length pen;
    for (std::size_t i = 0; i < w.text.size(); ++i) {
      const text::Sign& letter = staff_.measure(*sign_of(w.text[i]));
      if (!letter.run) continue;
      const Length at = pen - letter.box.x;
      run.face = letter.run->face;
      run.size = letter.run->size;
      for (text::Glyph glyph : letter.run->glyphs) {
        glyph.x += at;
        glyph.cluster += static_cast<std::uint32_t>(run.text.size());
        run.glyphs.push_back(glyph);
      }
      const Rect ink = letter.box.moved({at, Length{}});
      run.ink = run.text.empty() ? ink : run.ink.united(ink);
      run.text += letter.run->text;
      pen += letter.box.width * 0.86;  // slanted letters stand close together
      // The tail of an f reaches under the letter before it.
      if (i + 1 < w.text.size() && w.text[i + 1] == 'f') pen -= staff_.measure(MusicSign::DynamicF).box.width * 0.2;
    }
    run.advance = run.ink.right();
    said_.push_back({within_bar(w.at.bar, x - run.advance / 2, run.advance), run.advance, -run.ink.top(),
                     run.ink.bottom(), [this, tag, run](Point at) {
                       staff_.put({at, tag.kind, layout::Layer::Text, tag.origin, tag.subject,
                                   layout::GlyphsShape{run, system_.style.ink}});
                     }});
  }

  /// What follows too closely moves right; at the end of the system all that is in the way moves left.
  void keep_apart() {
    std::stable_sort(said_.begin(), said_.end(), [](const Said& a, const Said& b) { return a.left < b.left; });
    const Length gap = staff_.space(0.7);
    for (std::size_t i = 1; i < said_.size(); ++i) {
      said_[i].left = std::max(said_[i].left, said_[i - 1].left + said_[i - 1].width + gap);
    }
    Length right = system_.right;
    for (auto said = said_.rbegin(); said != said_.rend(); ++said) {
      said->left = std::min(said->left, right - said->width);
      right = said->left - gap;
    }
    for (const Said& said : said_) {
      stretches_.emplace_back(said.left - staff_.space(0.3), said.left + said.width + staff_.space(0.4));
      later_.push_back([draw = said.draw, left = said.left](Length y) { draw({left, y}); });
    }
  }

  void hairpin(const score::Mark& mark) {
    const bool grows = mark.kind == "crescendo";
    if (!grows && mark.kind != "diminuendo" && mark.kind != "decrescendo") return;
    const auto span = staff_.clip(mark.from, mark.to);
    if (!span) return;
    Length from = span->from + staff_.space(0.5), to = span->to;
    for (const auto& [x0, x1] : stretches_) {  // letters at either end push the wedge in
      if (x0 < from && x1 > from) from = x1;
      if (x0 < to && x1 > to) to = x0;
    }
    if (to < from + staff_.space(1.5)) to = from + staff_.space(1.5);
    wedges_.emplace_back(from, to);
    stretches_.emplace_back(from, to);
    const Wedge wedge = wedge_on(system_, mark, grows ? Wedge::Way::Opens : Wedge::Way::Closes, 0.65);
    const StaffContext::Tag tag{"hairpin", mark.origin, staff_.subject()};
    const double thick = system_.style.engraving.hairpin;
    later_.push_back([this, tag, from, to, wedge, thick](Length y) {
      const Length middle = y - staff_.space(0.4);
      for (const double side : {-1.0, 1.0}) {
        staff_.line(tag, {from, middle + staff_.space(wedge.left * side)},
                    {to, middle + staff_.space(wedge.right * side)}, thick, layout::Cap::Round);
      }
    });
  }

  struct Said {
    Length left, width, ascent, descent;
    std::function<void(Point)> draw;
  };
  StaffContext& staff_;
  const SystemContext& system_;
  std::vector<Said> said_;
  std::vector<std::pair<Length, Length>> stretches_, wedges_;
  std::vector<std::function<void(Length)>> later_;
};

}  // namespace

Wedge wedge_on(const SystemContext& system, const score::Mark& mark, Wedge::Way way, double open) {
  const auto time_of = [&](score::Place at) {
    Fraction time = at.onset;
    for (int b = 0; b < at.bar; ++b) time = time + system.section.bars[static_cast<std::size_t>(b)].length;
    return time;
  };
  const Fraction from = time_of(mark.from), whole = time_of(mark.to) - from;
  const auto share_at = [&](int bar, bool cut) {
    if (!cut || whole <= Fraction()) return cut ? 0.5 : 0.0;
    constexpr double kLeast = 0.2;  // of a cut end: never a point, never as wide as the whole
    return std::clamp(((time_of({bar, Fraction()}) - from) / whole).to_double(), kLeast, 1 - kLeast);
  };
  const bool begins = mark.from.bar >= system.first_bar;
  const bool ends = mark.to <= score::Place{system.last_bar, Fraction()};
  const double left = share_at(system.first_bar, !begins), right = ends ? 1 : share_at(system.last_bar, true);
  if (way == Wedge::Way::Opens) return {open * left, open * right};
  return {open * (1 - left), open * (1 - right)};
}

void draw_dynamics(StaffContext& staff, const std::vector<Word>& words, const std::vector<score::Mark>& marks) {
  DynamicsRow(staff).run(words, marks);
}

void draw_pedal(StaffContext& staff) {
  const std::vector<Word>& words = staff.words();
  const SystemContext& system = staff.system;
  struct Press {
    const Word* word;
    MusicSign sign;
    Length left;
  };
  struct Half {
    const Word* word;
    text::Line line;
    Length left;
  };
  std::vector<std::pair<Length, Length>> stretches;
  std::vector<Press> signs;
  std::vector<Half> halves;
  const auto add = [&](const Word& w, MusicSign sign, Length left) {
    const Length width = staff.measure(sign).box.width;
    signs.push_back({&w, sign, left - staff.measure(sign).box.x});
    stretches.emplace_back(left, left + width);
  };
  for (const Word& w : words) {
    if (w.kind != WordKind::Pedal || !system.holds(w.at)) continue;
    const bool lifted = w.text == "." || w.text == "off" || w.text == "up" || w.text == "*";
    Length x = system.x_of(w.at) - staff.space(0.6);
    const auto i = static_cast<std::size_t>(w.at.bar - system.first_bar);
    const Length edge = (i == 0 ? system.content_left : system.bar_end[i - 1]) + staff.space(0.3);
    if (lifted || w.text == "change") {  // a change lifts just before it presses again, in the same bar
      const Length width = staff.measure(MusicSign::PedalUp).box.width + staff.space(0.2);
      if (!lifted) x = std::max(x, edge + width);
      add(w, MusicSign::PedalUp, lifted ? x : x - width);
    }
    if (w.text == "half") {  // clear of the bar line and of the sign before it as of its own
      const text::Line line = staff.shape("\u00bd", system.style.label);
      const Length gap = staff.space(0.45), width = line.width + gap;
      x = std::max(x, edge + width);
      if (!stretches.empty()) x = std::max(x, stretches.back().second + gap + width);
      halves.push_back({&w, line, x - width});
      stretches.emplace_back(halves.back().left, x);
    }
    if (!lifted) add(w, MusicSign::PedalDown, x);
  }
  if (signs.empty()) return;
  const Length y = take_row(staff, Side::Below, stretches, staff.space(2), Length{}, 0.6);
  for (const Press& press : signs) {
    staff.sign({"pedal", press.word->origin, staff.subject()}, press.sign, {press.left, y});
  }
  for (const Half& half : halves) {
    staff.words({"pedal-half", half.word->origin, staff.subject()}, half.line, {half.left, y}, system.style.ink);
  }
}

}  // namespace tunesheaf::engrave

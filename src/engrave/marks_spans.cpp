// Spans over a part: words, then a dashed line with a hook where the span ends. What is drawn elsewhere stands aside:
// slurs and octave lines on notation, hairpins in the row of dynamics. A kind unknown here is printed by its own name,
// so that nothing is dropped.
#include <algorithm>
#include <functional>
#include <map>
#include <set>

#include "marks.h"
#include "rows.h"

namespace tunesheaf::engrave {

namespace {

constexpr double kThick = 0.13, kShortestLine = 1.1, kNiente = 0.32;  // sp

struct Look {
  std::string words;
  enum class Line : std::uint8_t { Dashed, Solid, Swell, Fade } line = Line::Dashed;
  std::optional<MusicSign> sign{};  ///< behind the words
};

/// Lowest fret stopped under the span: where the finger lies across.
int barre_fret(const Hands& hands, const score::Mark& mark) {
  int lowest = 0;
  for (const Played& p : hands.played) {
    if (p.from < mark.from || p.from >= mark.to) continue;
    for (const score::Note& n : p.event->notes) {
      if (n.string > 0 && n.fret > 0 && !n.dead && (lowest == 0 || n.fret < lowest)) lowest = n.fret;
    }
  }
  return lowest;
}

Look look_of(const Hands& hands, const score::Mark& mark) {
  static const std::map<std::string, std::string> kShort{
      {"palm mute", "P.M."},  {"half palm mute", "\u00bd P.M."}, {"harmonics", "harm."},
      {"pizzicato", "pizz."}, {"tremolo picking", "trem."},      {"near the bridge", "near the bridge"}};
  if (mark.kind == "barre") {
    const int fret = barre_fret(hands, mark);
    Look look{(mark.word == "half" ? "half barre" : "barre"), Look::Line::Solid};
    if (fret > 0) look.words += " " + std::to_string(fret);
    return look;
  }
  // A pedal left open or closed, as a mute is: a ring, a cross.
  if (mark.kind == "wah" && mark.word == "open") return {"wah", Look::Line::Dashed, MusicSign::OpenHiHat};
  if (mark.kind == "wah" && mark.word == "closed") return {"wah", Look::Line::Dashed, MusicSign::ClosedHiHat};
  if (mark.kind == "volume swell") return {"swell", Look::Line::Swell};
  if (mark.kind == "fade in") return {"fade in", Look::Line::Swell};
  if (mark.kind == "fade out") return {"fade out", Look::Line::Fade};
  const auto known = kShort.find(mark.kind);
  Look look{known != kShort.end() ? known->second : mark.kind, Look::Line::Dashed};
  if (!mark.word.empty() && mark.word != "on") look.words += " " + mark.word;
  return look;
}

layout::Kind kind_of(const score::Mark& mark) {
  if (mark.kind == "palm mute" || mark.kind == "half palm mute") return "palm-mute";
  if (mark.kind == "let ring") return "let-ring";
  return "technique-span";
}

class SpanDrawer {
 public:
  explicit SpanDrawer(Hands& hands) : hands_(hands), staff_(hands.staff) {}

  /// Signs for the notes under a span, in the order in which they stand away from them. The ornament stands over the
  /// heads too, where the words are the tab's.
  void signs() {
    const auto of_kind = [this](const char* kind) {
      std::vector<const score::Mark*> marks;
      for (const score::Mark& mark : staff_.marks()) {
        if (mark.kind == kind && !drawn_elsewhere(mark) && staff_.clip(mark.from, mark.to)) marks.push_back(&mark);
      }
      return marks;
    };
    if (hands_.words) {
      for (const score::Mark* mark : of_kind("slur")) line_alone(*mark);
      snaps(of_kind("snap pizzicato"));
      if (const auto marks = of_kind("vibrato"); !marks.empty()) waves(marks);
    }
    if (!hands_.words && hands_.tab) return;
    body_taps(of_kind("body tap"));
    for (const score::Mark* mark : of_kind("trill")) line_alone(*mark);
  }

  /// Words with their lines. Spans of one kind share a row; the order of the lanes decides which kind stands nearer.
  void words() {
    static const std::set<std::string> kSigns{"slur", "snap pizzicato", "body tap", "vibrato", "trill"};
    std::vector<std::string> order;
    std::map<std::string, std::vector<const score::Mark*>> by_kind;
    for (const score::Mark& mark : staff_.marks()) {
      if (drawn_elsewhere(mark) || kSigns.count(mark.kind) != 0 || !staff_.clip(mark.from, mark.to)) continue;
      if (by_kind[mark.kind].empty()) order.push_back(mark.kind);
      by_kind[mark.kind].push_back(&mark);
    }
    for (const std::string& kind : order) rows(by_kind[kind]);
  }

 private:
  bool drawn_elsewhere(const score::Mark& mark) const {
    if (mark.kind == "crescendo" || mark.kind == "diminuendo" || mark.kind == "decrescendo") return true;
    if (is_tempo_slope(mark)) return true;
    if (mark.kind == "tremolo picking") return strokes_say_it(mark);
    if (mark.kind == "roll" || mark.kind == "glissando") return true;
    // Figures of a tab are frets: no octave line can be about them.
    if (mark.kind == "8va" || mark.kind == "8vb" || mark.kind == "15ma" || mark.kind == "15mb") return true;
    return mark.kind == "slur" && !(hands_.tab && staff_.plan.alone);
  }

  /// Every note under it has the strokes of a tremolo.
  bool strokes_say_it(const score::Mark& mark) const {
    bool any = false;
    for (const Played& p : hands_.played) {
      if (p.from < mark.from || p.from >= mark.to) continue;
      if (p.chord->slash || !p.event->tremolo) return false;
      any = any || p.begins;
    }
    return any;
  }

  /// A cross in a box for each tap, all in one row.
  void body_taps(const std::vector<const score::Mark*>& marks) {
    const Length half = hands_.space(0.75);
    std::vector<std::pair<Length, Length>> stretches;
    std::vector<const score::Mark*> taps;
    for (const score::Mark* mark : marks) {
      if (!hands_.system.holds(mark->from)) continue;
      taps.push_back(mark);
      const Length x = hands_.system.x_of(mark->from);
      stretches.emplace_back(x - half, x + half);
    }
    if (taps.empty()) return;
    const Length middle = take_row(staff_, Side::Above, stretches, half, half, 0.45);
    const Rect cross = staff_.measure(MusicSign::NoteheadXBlack, 0.8).box;
    for (const score::Mark* mark : taps) {
      const Length x = hands_.system.x_of(mark->from);
      const StaffContext::Tag tag{"body-tap", mark->origin, staff_.subject()};
      staff_.stroke(tag,
                    {{layout::PathVerb::Move, {x - half, middle - half}, {}, {}},
                     {layout::PathVerb::Line, {x + half, middle - half}, {}, {}},
                     {layout::PathVerb::Line, {x + half, middle + half}, {}, {}},
                     {layout::PathVerb::Line, {x - half, middle + half}, {}, {}},
                     {layout::PathVerb::Close, {}, {}, {}}},
                    {}, 0.13, layout::Cap::Butt);
      staff_.sign(tag, MusicSign::NoteheadXBlack, {x - cross.width / 2 - cross.x, middle}, 0.8);
    }
  }

  void snaps(const std::vector<const score::Mark*>& marks) {
    const Rect box = staff_.measure(MusicSign::SnapPizzicato).box;
    std::vector<std::pair<Length, Length>> stretches;
    std::vector<const Played*> snapped;
    for (const Played& p : hands_.played) {
      const bool under = std::any_of(marks.begin(), marks.end(), [&](const score::Mark* mark) {
        return p.from >= mark->from && p.from < mark->to;
      });
      if (!under || !p.begins || (!snapped.empty() && snapped.back()->from == p.from)) continue;  // one for both voices
      snapped.push_back(&p);
      stretches.emplace_back(p.x - box.width / 2, p.x + box.width / 2);
    }
    if (snapped.empty()) return;
    const Length bottom = take_row(staff_, Side::Above, stretches, box.height, Length{}, 0.45);
    for (const Played* p : snapped) {
      staff_.sign(hands_.tag("snap-pizzicato", *p->event), MusicSign::SnapPizzicato,
                  {p->x - box.width / 2 - box.x, bottom - box.bottom()});
    }
  }

  void line_alone(const score::Mark& mark) {
    const auto span = staff_.clip(mark.from, mark.to);
    const StaffContext::Tag tag{"technique-span", mark.origin, staff_.subject()};
    if (mark.kind == "slur") return phrase_arc(*span, mark);
    if (span->begins) {
      draw_trill_line(staff_, {"trill", mark.origin, tag.subject}, span->from + hands_.space(0.7), span->to);
    } else {
      draw_wave(staff_, {"trill-wave", mark.origin, tag.subject}, span->from, span->to, false);
    }
  }

  /// Narrow and wide waves of a lane stand in one row.
  void waves(const std::vector<const score::Mark*>& marks) {
    std::vector<std::pair<Length, Length>> stretches;
    for (const score::Mark* mark : marks) {
      const auto span = staff_.clip(mark->from, mark->to);
      stretches.emplace_back(span->from, std::max(span->to, span->from + hands_.space(3)));
    }
    for (std::size_t i = 0; i + 1 < stretches.size(); ++i) {  // no wave runs into the next one
      stretches[i].second = std::min(stretches[i].second, stretches[i + 1].first - hands_.space(0.4));
    }
    const Length middle = take_row(staff_, Side::Above, stretches, hands_.space(0.55), hands_.space(0.55), 0.5);
    for (std::size_t i = 0; i < marks.size(); ++i) {
      const bool wide = marks[i]->word == "wide";
      const auto [from, to] = stretches[i];
      staff_.fill({"vibrato", marks[i]->origin, staff_.subject()},
                  text::wave(to - from, hands_.space(wide ? 1.5 : 1.1), hands_.space(wide ? 1.05 : 0.6)),
                  {from, middle});
    }
  }

  /// One breath over a tab that stands alone.
  void phrase_arc(const SpanOnSystem& span, const score::Mark& mark) {
    const Length from = span.from + (span.begins ? hands_.space(0.7) : Length{});
    const Length rise = hands_.space(std::clamp(0.7 + 0.04 * ((span.to - from) / hands_.system.sp), 0.9, 1.8));
    const Length y = -staff_.above.reach(from, span.to) - hands_.space(0.4);
    const style::EngravingStyle& e = hands_.system.style.engraving;
    staff_.fill_sliced(
        {"slur", mark.origin, staff_.subject()},
        text::slur({from, y}, {span.to, y}, -rise, hands_.space(e.slur_ends), hands_.space(e.slur_middle)));
  }

  Length pitch_of(const text::Line& line) const {
    return std::max(line.ascent * 0.72 + line.descent, line.ink.height + hands_.space(0.1));
  }

  /// Words wider than their bar, where bar lines run between the staves, stand in two lines.
  std::vector<text::Line> lines_of(const SpanOnSystem& span, const std::string& words) const {
    std::vector<text::Line> whole{hands_.phrase(words)};
    const std::size_t half = words.size() / 2, before = words.rfind(' ', half), after = words.find(' ', half);
    const auto bar = bar_at(span.from);
    if (staff_.plan.alone || !bar || (before == std::string::npos && after == std::string::npos)) return whole;
    const Length room = hands_.system.bar_right[*bar] - hands_.system.bar_left[*bar] - hands_.space(0.7);
    if (whole.front().width <= room) return whole;
    const bool first = after == std::string::npos || (before != std::string::npos && half - before < after - half);
    const std::size_t cut = first ? before : after;
    return {hands_.phrase(words.substr(0, cut)), hands_.phrase(words.substr(cut + 1))};
  }

  /// The bar of the system in which x lies, counted from its first.
  std::optional<std::size_t> bar_at(Length x) const {
    const auto& right = hands_.system.bar_right;
    const auto found = std::find_if(right.begin(), right.end(), [&](Length edge) { return x <= edge; });
    if (found == right.end()) return std::nullopt;
    return static_cast<std::size_t>(found - right.begin());
  }

  /// One row, and others over it for words that would run out of the system behind those before them.
  /// Under a tab no bar lines run: words that are longer than their bar stand there.
  void rows(std::vector<const score::Mark*> marks) {
    const auto fits = [&](const score::Mark* mark) { return !on_bar_line(*mark); };
    const auto under = std::stable_partition(marks.begin(), marks.end(), fits);
    std::vector<const score::Mark*> below(under, marks.end());
    marks.erase(under, marks.end());
    while (!marks.empty()) marks = row(marks, Side::Above);
    while (!below.empty()) below = row(below, Side::Below);
  }

  bool on_bar_line(const score::Mark& mark) const {
    if (staff_.plan.alone || !hands_.tab) return false;
    const One one = planned(mark);
    const Length from = within_bar(one.span, one.width), to = from + one.width;
    const auto& system = hands_.system;
    for (std::size_t i = 0; i < system.bar_right.size(); ++i)
      if (from < system.bar_end[i] && to > system.bar_right[i]) return true;
    return false;
  }

  struct One {
    const score::Mark* mark;
    SpanOnSystem span;
    Look look;
    std::vector<text::Line> lines;  ///< from the top
    Length width;
  };
  One planned(const score::Mark& mark) const {
    One one{&mark, *staff_.clip(mark.from, mark.to), look_of(hands_, mark), {}, {}};
    one.lines = lines_of(one.span, one.span.begins ? one.look.words : "(" + one.look.words + ")");
    for (const text::Line& line : one.lines) one.width = std::max(one.width, line.width);
    if (one.look.sign) one.width += hands_.space(0.4) + staff_.measure(*one.look.sign).box.width;
    return one;
  }

  /// Draws what fits into one row; returns the rest.
  std::vector<const score::Mark*> row(const std::vector<const score::Mark*>& marks, Side side) {
    std::vector<One> ones;
    std::vector<const score::Mark*> later;
    std::vector<std::pair<Length, Length>> stretches;
    Length ascent, descent;
    for (const score::Mark* mark : marks) {
      One one = planned(*mark);
      if (side == Side::Above) one.span.from = within_bar(one.span, one.width);
      const Length gap = hands_.space(0.4), last = hands_.system.right - one.width;
      if (!ones.empty()) {  // the line before gives way, its words do not
        One& before = ones.back();
        const Length least = before.span.from + before.width + gap;
        if (last < least) {
          later.push_back(mark);
          continue;
        }
        one.span.from = std::max(one.span.from, least);
        before.span.to = std::min(before.span.to, std::min(one.span.from, last) - gap);
      }
      one.span.from = std::min(one.span.from, last);
      const text::Line& last_line = one.lines.back();
      const Length over = pitch_of(last_line) * static_cast<double>(one.lines.size() - 1);
      ascent = std::max(ascent, last_line.ascent * 0.72 + over);
      descent = std::max(descent, last_line.descent * 0.7);
      ones.push_back(std::move(one));
    }
    for (const One& one : ones) stretches.emplace_back(one.span.from, std::max(one.span.to, one.span.from + one.width));
    const Length baseline = take_row(staff_, side, stretches, ascent, descent, 0.45);
    for (const One& one : ones) {
      for (std::size_t i = 0; i < one.lines.size(); ++i) {
        const Length over = pitch_of(one.lines[i]) * static_cast<double>(one.lines.size() - 1 - i);
        staff_.words({kind_of(*one.mark), one.mark->origin, staff_.subject()}, one.lines[i],
                     {one.span.from, baseline - over}, hands_.system.style.ink);
      }
      if (one.look.sign) sign(*one.mark, *one.look.sign, one.span.from + one.width, baseline);
      extension(*one.mark, one.span, one.span.from + one.width + hands_.space(0.45), baseline, one.look.line);
    }
    return later;
  }

  void sign(const score::Mark& mark, MusicSign which, Length right, Length baseline) {
    const Rect box = staff_.measure(which).box;
    const layout::Kind kind = which == MusicSign::OpenHiHat ? layout::Kind("wah-open") : layout::Kind("wah-closed");
    staff_.sign({kind, mark.origin, staff_.subject()}, which,
                {right - box.right(), baseline - hands_.space(0.45) - box.y - box.height / 2});
  }

  /// Words of a span that ends within its bar begin earlier rather than reach into the next one, where they would stand
  /// on a bar line or beside a chord name.
  Length within_bar(const SpanOnSystem& span, Length width) const {
    const SystemContext& system = hands_.system;
    const auto bar = bar_at(span.from);
    const Length gap = hands_.space(0.35);
    if (!bar || span.from + width + gap <= system.bar_right[*bar]) return span.from;
    if (staff_.plan.alone && span.to > system.bar_right[*bar]) return span.from;  // it goes on over the line anyway
    return std::max(system.bar_left[*bar], system.bar_right[*bar] - gap - width);
  }

  static layout::Kind line_kind(const score::Mark& mark) {
    if (mark.kind == "palm mute" || mark.kind == "half palm mute") return "palm-mute-line";
    if (mark.kind == "let ring") return "let-ring-line";
    return "technique-line";
  }

  void extension(const score::Mark& mark, const SpanOnSystem& span, Length from, Length baseline, Look::Line look) {
    const StaffContext::Tag tag{line_kind(mark), mark.origin, staff_.subject()};
    if (look == Look::Line::Dashed || look == Look::Line::Solid) {
      const SpanLine line = look == Look::Line::Dashed ? SpanLine::Dashed : SpanLine::Solid;
      return draw_span_line(staff_, tag, span, from, baseline, line);
    }
    if (span.to - from < hands_.space(kShortestLine)) return;
    const Length y = baseline - hands_.space(0.45);
    const Wedge::Way way = look == Look::Line::Swell ? Wedge::Way::Opens : Wedge::Way::Closes;
    const Wedge wedge = wedge_on(hands_.system, mark, way, 0.55);
    Length to = span.to;
    const Length ring = hands_.space(kNiente);
    const bool room = to - from >= hands_.space(kShortestLine) + ring + ring;
    if (wedge.left == 0 && room) {
      niente(tag, {from + ring, y});
      from += ring + ring;
    }
    if (wedge.right == 0 && room) {
      niente(tag, {to - ring, y});
      to -= ring + ring;
    }
    for (const double side : {-1.0, 1.0}) {
      staff_.line(tag, {from, y + hands_.space(wedge.left * side)}, {to, y + hands_.space(wedge.right * side)}, kThick,
                  layout::Cap::Round);
    }
  }

  /// From nothing, or to nothing: a small ring at the point of the wedge tells it from a crescendo (Gould 2011).
  void niente(const StaffContext::Tag& tag, Point middle) {
    const Length r = hands_.space(kNiente) - hands_.space(kThick / 2);
    staff_.put({{middle.x - r, middle.y - r},
                tag.kind,
                layout::Layer::Ink,
                tag.origin,
                tag.subject,
                layout::RectShape{{r + r, r + r},
                                  std::nullopt,
                                  layout::Stroke{hands_.space(kThick), hands_.system.style.ink, layout::Cap::Butt, {}},
                                  r}});
  }

  Hands& hands_;
  StaffContext& staff_;
};

}  // namespace

void draw_span_line(StaffContext& staff, StaffContext::Tag tag, const SpanOnSystem& span, Length from, Length baseline,
                    SpanLine look) {
  const Length y = baseline - staff.space(0.45), to = span.to;
  if (to - from < staff.space(kShortestLine)) return;
  std::vector<double> dash;
  if (look == SpanLine::Dashed) dash = {0.75, 0.6};
  staff.line(tag, {from, y}, {to, y}, kThick, layout::Cap::Butt, dash);
  if (span.ends) staff.line(tag, {to, y - staff.space(kThick / 2)}, {to, y + staff.space(0.8)}, kThick);
}

void draw_span_signs(Hands& hands) {
  SpanDrawer(hands).signs();
}

void draw_spans(Hands& hands) {
  if (hands.words) SpanDrawer(hands).words();
}

}  // namespace tunesheaf::engrave

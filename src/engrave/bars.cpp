#include <algorithm>

#include "rows.h"
#include "tunesheaf/engrave/common_signs.h"
#include "tunesheaf/score/clock.h"

namespace tunesheaf::engrave {

namespace {

constexpr double kOverChords = 1.0;  ///< white under a tempo, in staff spaces

using song::FormWord;

class BarRows {
 public:
  explicit BarRows(StaffContext& top) : top_(top), system_(top.system) {}

  void run() {
    bar_number();
    lesson_brackets();
    endings();
    repeat_times();
    tempos();
    tempo_slopes();
    form_signs_row();
  }

 private:
  const score::Bar& bar(int index) const { return system_.section.bars[static_cast<std::size_t>(index)]; }
  std::size_t local(int index) const { return static_cast<std::size_t>(index - system_.first_bar); }
  Length bar_begin(int index) const {
    return index == system_.first_bar ? system_.left : system_.bar_end[local(index) - 1];
  }

  void bar_number() {
    const score::Bar& first = bar(system_.first_bar);
    if (system_.request.opening == Opening::Bare) return;
    if (first.number <= 0 || (first.number == 1 && system_.first_bar == 0)) return;
    const text::Line line = top_.shape(std::to_string(first.number), system_.style.bar_number);
    // Nothing else stands beside it: a word there would be read together with the number.
    const Length ascent = line.ascent * 0.8, descent = line.descent * 0.8, clear = top_.space(1.4);
    const Length bottom =
        top_.reserve_above(system_.left - top_.space(0.3), system_.left + line.width + clear, ascent + descent, 0.5);
    top_.words({"bar-number", first.origin, top_.subject()}, line, {system_.left, bottom - descent}, system_.style.ink);
  }

  /// The teacher's own bars in a section that else comes from the recording.
  void lesson_brackets() {
    if (system_.section.from == song::Authority::Lesson) return;
    for (int i = system_.first_bar; i < system_.last_bar; ++i) {
      if (bar(i).from != song::Authority::Lesson) continue;
      const int from = i;
      while (i + 1 < system_.last_bar && bar(i + 1).from == song::Authority::Lesson) ++i;
      lesson_bracket(from, i);
    }
  }

  void lesson_bracket(int from, int to) {
    const Length x0 = from == system_.first_bar ? system_.content_left : bar_begin(from) + top_.space(0.3);
    const Length x1 = system_.bar_right[local(to)] - top_.space(0.3);
    const text::Line line = top_.shape(kLessonWord, system_.style.small);
    const Length height = std::max(line.ascent, top_.space(1.2));
    const Length bottom = top_.reserve_above(x0, x1, height, 0.5);
    const Length y = bottom - height + top_.space(0.3);
    const StaffContext::Tag tag{"lesson-bracket", bar(from).origin, top_.subject()};
    top_.line(tag, {x0, bottom}, {x0, y}, 0.1);
    top_.words({"lesson-label", tag.origin, tag.subject}, line, {x0 + top_.space(0.5), bottom - top_.space(0.1)},
               system_.style.ink);
    const Length after = x0 + top_.space(1) + line.width;
    if (after < x1) {
      top_.line(tag, {x0, y}, {x0 + top_.space(0.3), y}, 0.1);
      top_.line(tag, {after, y}, {x1, y}, 0.1, layout::Cap::Butt, {0.5, 0.5});
    }
    top_.line(tag, {x1, bottom}, {x1, y}, 0.1);
  }

  void endings() {
    std::vector<std::pair<int, int>> groups;
    for (int i = system_.first_bar; i < system_.last_bar; ++i) {
      if (bar(i).ending.empty()) continue;
      const int from = i;
      while (i + 1 < system_.last_bar && !bar(i).ending_end && bar(i + 1).ending == bar(i).ending &&
             !bar(i + 1).ending_begin) {
        ++i;
      }
      groups.emplace_back(from, i);
    }
    if (groups.empty()) return;
    const text::Line sample = top_.shape("1.", system_.style.label);
    const Length height = std::max(sample.ascent + top_.space(0.4), top_.space(1.8));
    std::vector<std::pair<Length, Length>> stretches;
    for (const auto& [from, to] : groups) stretches.emplace_back(ending_from(from), system_.bar_end[local(to)]);
    const Length bottom = take_row(top_, Side::Above, stretches, height, Length{}, 0.6);
    for (std::size_t i = 0; i < groups.size(); ++i) {
      ending(groups[i].first, groups[i].second, stretches[i].first, stretches[i].second, bottom, bottom - height);
    }
  }

  Length ending_from(int index) const {
    return index == system_.first_bar ? system_.content_left - top_.space(0.2) : bar_begin(index) + top_.space(0.25);
  }

  void ending(int from, int to, Length x0, Length x1, Length bottom, Length y) {
    const StaffContext::Tag tag{"ending", bar(from).origin, top_.subject()};
    const double thick = system_.style.engraving.thin_bar;
    const bool closes = bar(to).ending_end && bar(to).end != score::BarLine::Single;
    if (bar(from).ending_begin) top_.line(tag, {x0, bottom}, {x0, y}, thick);
    top_.line(tag, {x0 - top_.space(thick / 2), y}, {x1, y}, thick);
    if (closes) top_.line(tag, {x1 - top_.space(thick / 2), bottom}, {x1 - top_.space(thick / 2), y}, thick);
    if (!bar(from).ending_begin) return;
    const text::Line line = top_.shape(passes(bar(from).ending), system_.style.label);
    top_.words({"ending-number", tag.origin, tag.subject}, line, {x0 + top_.space(0.5), bottom - top_.space(0.25)},
               system_.style.ink);
  }

  /// "1.", "1, 2.", "1–3."
  static std::string passes(const std::vector<int>& numbers) {
    std::string words;
    for (std::size_t i = 0; i < numbers.size();) {
      std::size_t j = i;
      while (j + 1 < numbers.size() && numbers[j + 1] == numbers[j] + 1) ++j;
      if (!words.empty()) words += ", ";
      words += std::to_string(numbers[i]);
      if (j >= i + 2) words += "\u2013" + std::to_string(numbers[j]);
      if (j == i + 1) --j;
      i = j + 1;
    }
    return words + ".";
  }

  void repeat_times() {
    for (int i = system_.first_bar; i < system_.last_bar; ++i) {
      if (bar(i).end != score::BarLine::RepeatEnd || bar(i).repeat_times <= 2) continue;
      const std::string times = "\u00d7" + std::to_string(bar(i).repeat_times);
      const text::Line line = top_.shape(system_.section.about ? "about " + times : times, system_.style.label);
      top_.words_in_row({"repeat-times", bar(i).origin, top_.subject()}, Side::Above, system_.bar_end[local(i)],
                        StaffContext::Anchor::Right, line, system_.style.ink);
    }
  }

  void tempos() {
    if (system_.first_bar == 0) {
      const auto returning = score::returning_tempo(*system_.request.timeline, system_.request.section);
      const auto& begins = system_.section.tempo ? system_.section.tempo : returning;
      const score::Timeline& song = *system_.request.timeline;
      const std::string feel = score::feel_words(score::feel_of(song, system_.section));
      const bool opens = !song.played.empty() && song.played.front().section == system_.request.section;
      const bool says = score::feel_changes(song, system_.request.section) || (opens && feel != "straight");
      if (begins) {
        tempo(*begins, {0, Fraction()}, system_.section.origin, says ? feel : "");
      } else if (says) {
        words_at(feel, {0, Fraction()}, system_.section.origin);
      }
    }
    for (const score::Word& w : system_.said_by(-1).words) {
      if (w.kind != score::WordKind::Tempo || !system_.holds(w.at)) continue;
      if (w.tempo) {
        tempo(*w.tempo, w.at, w.origin);
      } else {
        words_at(w.text, w.at, w.origin);
      }
    }
  }

  /// Faster or slower by and by is everyone's, whichever part says it: once over the system, with its dashed line.
  void tempo_slopes() {
    std::vector<score::Mark> slopes;
    for (const auto& [part, said] : system_.said.by_part) {
      for (const score::Mark& mark : said.marks) {
        if (!is_tempo_slope(mark)) continue;
        const auto met = std::find_if(slopes.begin(), slopes.end(), [&](const score::Mark& other) {
          return other.kind == mark.kind && other.from < mark.to && mark.from < other.to;
        });
        if (met == slopes.end()) {
          slopes.push_back(mark);
          continue;
        }
        met->from = std::min(met->from, mark.from);
        met->to = std::max(met->to, mark.to);
      }
    }
    std::stable_sort(slopes.begin(), slopes.end(),
                     [](const score::Mark& a, const score::Mark& b) { return a.from < b.from; });
    for (const score::Mark& mark : slopes) tempo_slope(mark);
  }

  void tempo_slope(const score::Mark& mark) {
    auto span = top_.clip(mark.from, mark.to);
    if (!span) return;
    std::string words = mark.kind == "ritardando" ? "rit." : "accel.";
    if (!mark.word.empty()) words += " " + mark.word;
    const text::Line line = top_.shape(span->begins ? words : "(" + words + ")", system_.style.direction);
    span->from = std::min(span->from, system_.right - line.width);
    const Length baseline = take_row(top_, Side::Above, {{span->from, std::max(span->to, span->from + line.width)}},
                                     line.ascent * 0.72, line.descent * 0.7, 0.6);
    const StaffContext::Tag tag{"tempo", mark.origin, top_.subject()};
    top_.words(tag, line, {span->from, baseline}, system_.style.ink);
    draw_span_line(top_, {"tempo-line", tag.origin, tag.subject}, *span, span->from + line.width + top_.space(0.45),
                   baseline, SpanLine::Dashed);
  }

  void words_at(const std::string& words, score::Place at, Span origin) {
    const text::Line line = top_.shape(words, system_.style.tempo);
    top_.words_in_row({"tempo", origin, top_.subject()}, Side::Above, std::min(tempo_x(at), system_.right - line.width),
                      StaffContext::Anchor::Left, line, system_.style.ink, kOverChords);
  }
  Length bar_x(int index) const {
    return index == system_.first_bar ? system_.content_left - top_.space(0.5) : bar_begin(index);
  }
  /// Where a chord name of the same place begins.
  Length tempo_x(score::Place at) const { return system_.x_of(at) - top_.space(0.6); }

  /// "slowly  quarter = 96, swing", the note as a picture.
  void tempo(const song::TempoMark& mark, score::Place at, Span origin, const std::string& feel = "") {
    if (mark.per_minute == Fraction()) {
      std::string words = mark.words;
      if (!feel.empty()) words += (words.empty() ? "" : ", ") + feel;
      if (!words.empty()) words_at(words, at, origin);
      return;
    }
    const Fraction unit = score::counted_unit(mark, bar(at.bar).meter);
    const auto value = theory::value_of_duration(unit);
    std::string number = std::to_string(mark.per_minute.floor());
    if (mark.per_minute.den() != 1) {
      const Fraction tenths = mark.per_minute * Fraction(10);
      number += "." + std::to_string(tenths.floor() - mark.per_minute.floor() * 10);
    }
    if (!feel.empty()) number += ", " + feel;
    const text::Line before = top_.shape(mark.words.empty() ? "" : mark.words + " ", system_.style.tempo);
    const text::Line after = top_.shape(" = " + number, system_.style.tempo);
    const MusicSign sign = picture(value ? value->value : theory::NoteValue::kQuarter);
    constexpr double kSize = 0.7;
    const Rect box = top_.measure(sign, kSize).box;
    const Length dot = value && value->dots > 0 ? top_.space(0.5) : Length{};
    const Length words = mark.words.empty() ? Length{} : before.width + top_.space(0.4);
    const Length width = words + box.width + dot + after.width;
    const Length left = std::min(tempo_x(at), system_.right - width);
    const Length height = std::max(box.height, after.ascent * 0.8);
    const Length descent = std::max(after.ink.bottom(), box.bottom());
    const Length pad = top_.space(0.8);  // not beside a chord name: over it
    const Length baseline = top_.reserve_above(left - pad, left + width + pad, height + descent, kOverChords) - descent;
    const StaffContext::Tag tag{"tempo", origin, top_.subject()};
    if (!mark.words.empty()) top_.words(tag, before, {left, baseline}, system_.style.ink);
    top_.sign(tag, sign, {left + words - box.x, baseline}, kSize);
    if (dot > Length{}) {
      top_.sign(tag, MusicSign::AugmentationDot,
                {left + words + box.width + top_.space(0.15), baseline - top_.space(0.3)}, kSize);
    }
    top_.words(tag, after, {left + words + box.width + dot, baseline}, system_.style.ink);
  }

  static MusicSign picture(theory::NoteValue value) {
    using theory::NoteValue;
    switch (value) {
      case NoteValue::kBreve:
      case NoteValue::kWhole:
        return MusicSign::NotePictureWhole;
      case NoteValue::kHalf:
        return MusicSign::NotePictureHalf;
      case NoteValue::kEighth:
        return MusicSign::NotePicture8;
      case NoteValue::k16th:
        return MusicSign::NotePicture16;
      case NoteValue::k32nd:
        return MusicSign::NotePicture32;
      default:
        return MusicSign::NotePictureQuarter;
    }
  }

  void form_signs_row() {
    for (const FormSign& sign : system_.request.signs) {
      if (sign.bar < system_.first_bar || sign.bar >= system_.last_bar) continue;
      // On a narrow page a jump and what is said of it stand in several rows, the last lowest.
      const auto width_of = [&](const std::string& words) { return top_.shape(words, system_.style.tempo).width; };
      const auto lines = form_lines(sign.text, system_.request.width - system_.left, width_of);
      for (auto line = lines.rbegin(); line != lines.rend(); ++line) form_sign(sign, *line);
    }
  }

  void form_sign(const FormSign& sign, const std::string& words) {
    const bool begin = sign.edge == BarEdge::Begin;
    const bool segno = sign.word == FormWord::Segno;
    const bool coda = sign.word == FormWord::Coda || sign.word == FormWord::ToCoda;
    const MusicSign picture = segno ? MusicSign::Segno : MusicSign::Coda;
    const text::Line line = top_.shape(words, system_.style.tempo);
    const Rect box = segno || coda ? top_.measure(picture).box : Rect{};
    const Length gap = box.width > Length{} && line.width > Length{} ? top_.space(0.5) : Length{};
    const Length width = line.width + gap + box.width;
    // Words longer than a short system go on to its right.
    const Length left = begin ? bar_x(sign.bar) : std::max(system_.left, system_.bar_end[local(sign.bar)] - width);
    const Length height = std::max(box.height, line.ascent * 0.8);
    const Length pad = top_.space(0.8);  // not beside an arrow of a stroke: over it
    const Length bottom =
        top_.reserve_above(left - pad, left + width + pad, height + top_.space(0.3), 0.6) - top_.space(0.3);
    const StaffContext::Tag tag{"form-sign", sign.origin, top_.subject()};
    if (line.width > Length{}) {
      top_.words(tag, line, {left + (begin ? box.width + gap : Length{}), bottom}, system_.style.ink);
    }
    if (segno || coda) {
      top_.sign(tag, picture, {left + (begin ? Length{} : line.width + gap) - box.x, bottom - box.bottom()});
    }
  }

  StaffContext& top_;
  const SystemContext& system_;
};

}  // namespace

void draw_bar_rows(StaffContext& top) {
  BarRows(top).run();
}

}  // namespace tunesheaf::engrave

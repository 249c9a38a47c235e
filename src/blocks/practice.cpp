#include "tunesheaf/blocks/practice.h"

#include <algorithm>
#include <cctype>
#include <functional>
#include <iterator>
#include <utility>

#include "neck.h"
#include "pen.h"
#include "tunesheaf/blocks/legend.h"
#include "tunesheaf/blocks/move_box.h"
#include "tunesheaf/blocks/move_words.h"
#include "tunesheaf/blocks/shapes.h"
#include "tunesheaf/blocks/words.h"
#include "tunesheaf/text/cut.h"

namespace tunesheaf::blocks {
namespace {

using score::Section;

class PracticeSheet {
 public:
  PracticeSheet(const Setting& setting, PracticePlan plan, SameMusic same, Writing writing)
      : setting_(setting),
        writing_(writing),
        style_(setting.style),
        section_(setting.song.sections[static_cast<std::size_t>(plan.section)]),
        plan_(std::move(plan)) {
    named_only_ = same == SameMusic::Named && plan_.like && plan_.like->new_bars.empty();
  }

  SectionBlock draw() {
    SectionBlock out;
    if (named_only_) {
      head(section_heading(setting_, plan_.section, true));
      ladder();
      cautions();
    } else if (plan_.rests) {
      out = section_block(setting_, plan_.section, Counting::None);
      head(std::move(out.flow.front()));
      rests();
      std::move(out.flow.begin() + 1, out.flow.end(), std::back_inserter(flow_));
    } else {
      out = section_block(setting_, plan_.section, Counting::UnderTheStaff);
      head(std::move(out.flow.front()));
      if (out.flow.size() > 1) practise(std::move(out.flow));
      ladder();
      listen();
      for (auto& item : sign_legend(setting_, signs_used(setting_, plan_.section))) flow_.push_back(std::move(item));
    }
    if (writing_.lines > 0) lines();
    flow_.back().break_after = layout::BreakAfter::Forced;
    const FramePtr name = continuation_line(setting_, plan_.section);
    for (std::size_t i = 1; i < flow_.size(); ++i) flow_[i].continuation = name;
    out.flow = std::move(flow_);
    return out;
  }

 private:
  void head(layout::FlowItem heading) {
    title();
    flow_.push_back(std::move(heading));
    flow_.back().space_before = style_.body.size * 0.4;
    place_in_song();
  }

  /// Whose song it is, what the sheet is for, and for whom: a loose leaf must say so by itself.
  void title() {
    auto frame = std::make_shared<Frame>();
    frame->name = "practice-title";
    frame->role = Role::Paragraph;
    frame->baseline = style_.body.size;
    const score::Timeline& song = setting_.song;
    const std::string name =
        text::cut_to(setting_.shaper, song.title.value, text_style(bold(style_.body)), setting_.body());
    Length x = put(*frame, setting_, {{}, frame->baseline}, name,
                   {bold(style_.body), style_.ink, "practice-title", song.title.span});
    std::string aside = "practice sheet";
    if (plan_.part >= 0) aside += " · " + song.parts[static_cast<std::size_t>(plan_.part)].name.value;
    if (song.key && !section_.bars.empty()) aside += " · " + key_words_here();
    if (const std::string meters = meter_words(); !meters.empty()) aside += " · " + meters;
    const Ink beside{style_.small, style_.ink, "practice-aside", section_.origin};
    frame->size = {setting_.body(), style_.body.size * 1.35};
    if (x + style_.body.size + width_of(setting_, aside, style_.small) <= setting_.body()) {
      put(*frame, setting_, {setting_.body(), frame->baseline}, aside, beside, Align::Right);
    } else {
      const FramePtr below = prose(setting_, aside, beside, setting_.body());
      frame->children.push_back({{{}, frame->size.height}, below});
      frame->size.height += below->size.height;
    }
    flow_.push_back(flow_item(frame, {}));
    flow_.back().break_after = layout::BreakAfter::Forbidden;
  }

  /// The key of the student's staff where the section begins; beside a capo, what it sounds in.
  std::string key_words_here() const {
    constexpr auto kSigns = theory::Accidentals::Signs;
    if (plan_.part < 0) return theory::print(section_.bars.front().key, kSigns);
    const score::Part& part = setting_.song.parts[static_cast<std::size_t>(plan_.part)];
    const score::PartMusic& music = section_.parts[static_cast<std::size_t>(plan_.part)];
    const theory::Key key = score::staff_key(section_, music, 0).key;
    const std::string out = theory::print(key, kSigns);
    if (part.capo == 0) return out;
    return out + " as fingered, sounds " + theory::print(theory::transposed(key, part.to_concert.semitones), kSigns);
  }

  /// All meters of the section, in the order of their first bars.
  std::string meter_words() const {
    std::vector<std::string> out;
    for (const score::Bar& bar : section_.bars) {
      const std::string meter = theory::print_meter(bar.meter);
      if (std::find(out.begin(), out.end(), meter) == out.end()) out.push_back(meter);
    }
    return list_words(out);
  }

  /// `music`: the heading, which stands already, and the systems. In the order of the steps.
  void practise(Flow music) {
    route();
    cautions();
    for (auto& item : shapes_block(setting_, {plan_.section, BoxSize::Medium})) flow_.push_back(std::move(item));
    drill();
    flow_.push_back(block_heading(setting_, "The music", "count aloud; in brackets: said, not struck"));
    std::move(music.begin() + 1, music.end(), std::back_inserter(flow_));
    loops();
  }

  /// "Step 3: the change"; the name alone where the way has no such step.
  std::string step_name(StepKind kind, const std::string& name) const {
    const int number = step_number(plan_, kind);
    if (number > 0) return "Step " + std::to_string(number) + ": " + name;
    std::string out = name;
    out.front() = static_cast<char>(std::toupper(static_cast<unsigned char>(out.front())));
    return out;
  }

  const Section& section(int index) const { return setting_.song.sections[static_cast<std::size_t>(index)]; }

  std::string names(const std::vector<int>& sections) const {
    std::vector<std::string> out;
    for (const int s : sections) {
      out.push_back(section(s).letter.empty() ? section(s).name.value
                                              : section(s).letter + " " + section(s).name.value);
    }
    return list_words(out);
  }

  std::string bar_list(const std::vector<int>& bars) const {
    std::vector<std::string> out;
    for (const int b : bars) out.push_back(bar_words(section_, b));
    return (out.size() == 1 ? "bar " : "bars ") + list_words(out);
  }

  void paragraph(const std::string& text, const style::TypeRole& role, Kind kind, Length before) {
    auto frame = prose(setting_, text, {role, style_.ink, kind, section_.origin}, setting_.body());
    flow_.push_back(flow_item(frame, before));
  }

  void place_in_song() {
    std::string text = plan_.begins ? "The song begins here. " : "";
    if (!plan_.before.empty()) {
      text += (plan_.begins ? "It comes again after " : "Comes after ") + names(plan_.before) + ". ";
    }
    text += way_on();
    if (plan_.ends) text += plan_.after.empty() ? "The song ends here. " : "The last time, the song ends here. ";
    if (plan_.like) {
      const std::string other = names({plan_.like->section});
      if (plan_.like->new_bars.empty()) {
        text += named_only_ ? "It is played exactly as " + other + ": practise it there."
                            : "It is played exactly as " + other + ".";
      } else {
        text += "Like " + other + " but for " + bar_list(plan_.like->new_bars) + ".";
      }
    }
    paragraph(text, style_.body, "practice-place", style_.body.size * 0.3);
  }

  /// "bar 13", "its pick-up".
  std::string first_bar_of(int index) const {
    const std::vector<score::Bar>& bars = section(index).bars;
    if (bars.empty()) return "it";
    return bars.front().number == 0 ? "its pick-up" : "bar " + std::to_string(bars.front().number);
  }

  /// Where its last bar leads: to its own beginning, then to others.
  std::string way_on() const {
    const bool again = section_.times > 1 || !section_.until.empty();
    if (plan_.after.empty() && !again) return {};
    std::vector<std::string> bars;
    if (again) bars.push_back(first_bar_of(plan_.section));
    for (const int next : plan_.after) bars.push_back(first_bar_of(next));
    std::string out = again ? "Goes back to its own beginning" : "";
    if (!plan_.after.empty()) out += (again ? ", then leads to " : "Leads to ") + names(plan_.after);
    return out + ": practise going on from " + (section_.bars.back().ending.empty() ? "the last bar" : "each ending") +
           " into " + list_words(bars) + ". ";
  }

  /// Nothing to play is something to count.
  void rests() {
    const auto bars = static_cast<int>(section_.bars.size());
    const std::string& part = setting_.song.parts[static_cast<std::size_t>(plan_.part)].name.value;
    std::string text = "The " + part + " rests here for " + std::to_string(bars) + (bars == 1 ? " bar" : " bars");
    if (section_.times > 1) text += ", " + std::to_string(section_.times) + " times";
    paragraph(text + ". Count the bars aloud along with the recording until you are never wrong about where they end.",
              style_.body, "practice-rests", style_.body.size * 0.6);
  }

  void route() {
    flow_.push_back(block_heading(setting_, "The way through this sheet"));
    std::vector<std::string> sentences;
    for (const Step& step : plan_.route) sentences.push_back(step.text);
    hanging(sentences, [](std::size_t i) { return std::to_string(i + 1); });
  }

  /// Sentences with their sign in the accent colour, hanging.
  void hanging(const std::vector<std::string>& sentences, const std::function<std::string(std::size_t)>& sign) {
    const Length indent = style_.body.size * 1.6;
    for (std::size_t i = 0; i < sentences.size(); ++i) {
      auto frame = std::make_shared<Frame>();
      frame->name = "practice-step";
      frame->role = Role::Paragraph;
      const auto text = prose(setting_, sentences[i], {style_.body, style_.ink, "practice-step", section_.origin},
                              setting_.body() - indent);
      frame->baseline = text->baseline;
      put(*frame, setting_, {{}, text->baseline}, sign(i),
          {bold(style_.body), style_.accent, "practice-figure", section_.origin});
      frame->children.push_back({{indent, {}}, text});
      frame->size = {setting_.body(), text->size.height};
      flow_.push_back(flow_item(frame, style_.body.size * 0.4));
      if (i + 1 < sentences.size()) flow_.back().break_cost = 15;  // a list had better stay whole
    }
  }

  /// The change in pictures from left to right: the shape, the move, the shape.
  struct Pictures {
    std::vector<std::pair<Length, FramePtr>> placed;  ///< by their left edges
    Length width, deepest;
  };
  Pictures drill_pictures(const Change& change, const score::ShapeUse& from, const score::ShapeUse& to,
                          BoxSize size) const {
    const Length box = string_gap(style_, size) * (from.shape.count() + 1.6);
    Pictures out;
    std::vector<FramePtr> pictures{chord_box(setting_, from, size, BoxText::Full, box),
                                   chord_box(setting_, to, size, BoxText::Full, box)};
    if (const theory::Move& move = change.move->move; move_fits_a_box(move)) {
      pictures.insert(pictures.begin() + 1, move_box(setting_, move, from.shape.count(), size));
    }
    for (const FramePtr& picture : pictures) {
      if (!out.placed.empty()) out.width += style_.body.size;
      out.placed.emplace_back(out.width, picture);
      out.width += std::max(box, picture->size.width);
      out.deepest = std::max(out.deepest, picture->baseline);
    }
    return out;
  }

  void drill() {
    if (!plan_.hardest) return;
    const Change& change = *plan_.hardest;
    const score::ShapeUse& from = setting_.song.shapes[static_cast<std::size_t>(change.from)];
    const score::ShapeUse& to = setting_.song.shapes[static_cast<std::size_t>(change.to)];
    flow_.push_back(block_heading(setting_, step_name(StepKind::Change, "the change"),
                                  bars_words(section_, change.first_bar, change.last_bar)));
    auto frame = std::make_shared<Frame>();
    frame->name = "drill";
    frame->role = Role::Figure;
    Pictures pictures = drill_pictures(change, from, to, BoxSize::Large);
    for (const BoxSize smaller : {BoxSize::Medium, BoxSize::Small}) {
      if (pictures.width > setting_.body()) pictures = drill_pictures(change, from, to, smaller);
    }
    const Length deepest = pictures.deepest;
    Length height;
    for (const auto& [left, picture] : pictures.placed) {
      frame->children.push_back({{left, deepest - picture->baseline}, picture});
      height = std::max(height, deepest - picture->baseline + picture->size.height);
    }
    frame->baseline = deepest;
    frame->size = {setting_.body(), height};
    flow_.push_back(flow_item(frame, style_.body.size * 0.4));
    flow_.back().break_after = layout::BreakAfter::Forbidden;
    flow_.push_back(flow_item(drill_words(change.move->move, setting_.body()), style_.body.size * 0.4));
    const std::string gloss = move_box_words(change.move->move);
    if (gloss.empty() || !move_fits_a_box(change.move->move)) return;
    flow_.back().break_after = layout::BreakAfter::Forbidden;
    paragraph(gloss, italic(style_.note), "drill-gloss", style_.body.size * 0.3);
  }

  FramePtr drill_words(const theory::Move& move, Length width) const {
    Stack stack("drill-words", width, Role::Paragraph);
    for (const std::string& line : move_words(move)) {
      stack.add(prose(setting_, {finger_pieces(style_.body, {line}, ""), width, style_.body.size, style_.ink,
                                 "move-words", section_.origin, Role::None, "move-line"}));
    }
    return stack.done();
  }

  void loops() {
    if (plan_.loops.empty()) return;
    const bool timed = !plan_.ladder.empty() && plan_.ladder.front().per_minute;
    flow_.push_back(
        block_heading(setting_, step_name(StepKind::Phrases, "a phrase at a time"),
                      timed ? "at " + std::to_string(*plan_.ladder.front().per_minute) + "; a box for each clean time"
                            : "a box for each clean time"));
    for (const Loop& loop : plan_.loops) {
      auto frame = std::make_shared<Frame>();
      frame->name = "loop";
      frame->role = Role::Paragraph;
      const Length base = style_.body.size;
      frame->baseline = base;
      const Length end = boxes(*frame, {{}, base}, 4) + style_.body.size * 0.6;
      std::string bars = bars_words(section_, loop.first_bar, loop.last_bar);
      if (!bars.empty() && bars.front() == 'b') bars.front() = 'B';
      const auto words =
          prose(setting_, {{{bars, text_style(bold(style_.body))}, {"  " + loop.why, text_style(italic(style_.body))}},
                           setting_.body() - end,
                           style_.body.size,
                           style_.ink,
                           "loop-words",
                           section_.origin,
                           Role::None,
                           "loop-words"});
      frame->children.push_back({{end, base - words->baseline}, words});
      frame->size = {setting_.body(), std::max(style_.body.size * 1.4, base - words->baseline + words->size.height)};
      flow_.push_back(flow_item(frame, style_.body.size * 0.2));
      if (&loop != &plan_.loops.back()) flow_.back().break_after = layout::BreakAfter::Forbidden;
    }
  }

  /// Boxes to tick, standing on the baseline; returns the x behind them.
  Length boxes(Frame& frame, Point at, int count) {
    const Length edge = style_.body.size * 0.72, step = edge * 1.35;
    for (int i = 0; i < count; ++i) {
      layout::RectShape box;
      box.size = {edge, edge};
      box.stroke = layout::Stroke{style_.rule, style_.ink, {}, {}};
      frame.items.push_back({{at.x + step * i, at.y - edge}, "tick-box", layout::Layer::Ink, {}, {}, box});
    }
    return at.x + step * count;
  }

  /// Rungs side by side, each higher than the one before: beats a minute, the share of the tempo, boxes to tick.
  void ladder() {
    if (plan_.ladder.empty()) return;
    const bool timed = plan_.ladder.front().per_minute.has_value();
    flow_.push_back(block_heading(setting_, step_name(StepKind::Ladder, "up the tempo ladder"),
                                  "a box for each clean time; three, then one rung up"));
    auto frame = std::make_shared<Frame>();
    frame->name = "ladder";
    frame->role = Role::Figure;
    const double count = static_cast<double>(plan_.ladder.size());
    const Length gap = style_.body.size * 0.5;
    constexpr int kColumns = 6;  // a shorter ladder has rungs of the same width
    const Length width = (setting_.body() - gap * (kColumns - 1)) * (1.0 / kColumns), rise = style_.body.size * 0.65;
    const style::TypeRole figure = bold(style_.section_name);
    const Length rung_height = figure.size * 1.25 + style_.body.size * 1.35;
    // What the figures count has a row of its own where the lowest rung is too narrow or too high for it.
    const Length said = width_of(setting_, " a minute", style_.small) + style_.small.size * 1.2;
    const bool own_row = plan_.ladder_unit && (said > width + gap || rise * (count - 1) < style_.small.size * 1.4);
    const Length floor = rise * (count - 1) + rung_height + (own_row ? style_.small.size * 1.6 : Length{});
    if (plan_.ladder_unit) {  // what the figures count: in the corner over the lowest rung
      const Length base = style_.small.size;
      const Length note =
          put_note_value(*frame, setting_, {{}, base}, *plan_.ladder_unit, style_.small.size * 0.24, style_.ink);
      put(*frame, setting_, {note, base}, " a minute", {style_.small, style_.ink, "ladder-unit", section_.origin});
    }
    for (std::size_t i = 0; i < plan_.ladder.size(); ++i) {
      const Rung& rung = plan_.ladder[i];
      const Length x = (width + gap) * static_cast<double>(i),
                   top = floor - rung_height - rise * static_cast<double>(i);
      rule(*frame, {x, top + figure.size * 1.25}, width, style_.rule * 1.6, style_.ink, "ladder-rung");
      const std::string main = rung.per_minute ? std::to_string(*rung.per_minute) : std::to_string(rung.percent) + " %";
      put(*frame, setting_, {x, top + figure.size}, main, {figure, style_.ink, "ladder-tempo", section_.origin});
      const Length base = top + figure.size * 1.25 + style_.body.size * 1.25;
      boxes(*frame, {x, base}, 3);
    }
    frame->baseline = floor;
    frame->size = {setting_.body(), floor + style_.body.size * 0.2};
    flow_.push_back(flow_item(frame, style_.body.size * 0.2));
    if (plan_.quickens) {
      paragraph("100 % is the tempo at the beginning; from there it grows faster.", italic(style_.note), "ladder-gloss",
                style_.body.size * 0.3);
    }
    if (plan_.beyond_clicks) {
      paragraph(
          "Few metronomes click faster than 208 a minute: on the upper rungs play along with the recording, or "
          "without a click.",
          italic(style_.note), "ladder-gloss", style_.body.size * 0.3);
    }
    if (!timed) {
      paragraph("The song states no tempo: 100 % is as fast as the recording.", italic(style_.note), "ladder-gloss",
                style_.body.size * 0.3);
    }
  }

  void listen() {
    if (plan_.listen.empty()) return;
    flow_.push_back(block_heading(setting_, "What to listen for"));
    hanging(plan_.listen, [](std::size_t) { return std::string("\u2013"); });
  }

  void cautions() {
    std::string text;
    for (const std::string& sentence : plan_.cautions) text += (text.empty() ? "" : " ") + sentence;
    if (!text.empty()) paragraph(text, italic(style_.body), "practice-caution", style_.body.size * 0.8);
  }

  void lines() {
    auto frame = std::make_shared<Frame>();
    frame->name = "writing-lines";
    frame->role = Role::Artifact;
    const Length pitch = kWritingPitch;
    put(*frame, setting_, {{}, style_.label.size}, "Notes", {style_.label, style_.faint, "writing-label"});
    for (int i = 1; i <= writing_.lines; ++i) {
      rule(*frame, {{}, style_.label.size + pitch * i}, setting_.body(), style_.rule, style_.faint, "writing-line");
    }
    frame->baseline = style_.label.size;
    frame->size = {setting_.body(), style_.label.size + pitch * writing_.lines + style_.rule};
    flow_.push_back(flow_item(frame, style_.body.size + writing_.drop));
  }

  const Setting& setting_;
  Writing writing_;
  const style::Style& style_;
  const Section& section_;
  PracticePlan plan_;
  bool named_only_ = false;
  Flow flow_;
};

}  // namespace

SectionBlock practice_block(const Setting& setting, PracticePlan plan, SameMusic same, Writing writing) {
  return PracticeSheet(setting, std::move(plan), same, writing).draw();
}

}  // namespace tunesheaf::blocks

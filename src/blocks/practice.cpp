#include "tunesheaf/blocks/practice.h"

#include <algorithm>
#include <cctype>
#include <functional>
#include <iterator>
#include <utility>

#include "pen.h"
#include "practice_figures.h"
#include "tunesheaf/blocks/legend.h"
#include "tunesheaf/blocks/shapes.h"
#include "tunesheaf/blocks/title.h"
#include "tunesheaf/blocks/words.h"
#include "tunesheaf/text/cut.h"

namespace tunesheaf::blocks {
namespace {

using score::Section;

/// The music stands on another sheet.
bool names_only(const PracticePlan& plan, SameMusic same) {
  return same == SameMusic::Named && plan.like && plan.like->new_bars.empty();
}

class PracticeSheet {
 public:
  PracticeSheet(const Setting& setting, PracticePlan plan, SameMusic same, Aside aside)
      : setting_(setting),
        aside_(aside),
        style_(setting.style),
        section_(setting.song.sections[static_cast<std::size_t>(plan.section)]),
        plan_(std::move(plan)) {
    named_only_ = names_only(plan_, same);
  }

  PracticeBlock draw(SectionBlock music) {
    PracticeBlock out;
    static_cast<SectionBlock&>(out) = std::move(music);
    if (named_only_) {
      head(section_heading(setting_, plan_.section, true));
      loops();
      ladder();
      cautions();
    } else if (plan_.rests) {
      head(std::move(out.flow.front()));
      rests();
      std::move(out.flow.begin() + 1, out.flow.end(), std::back_inserter(flow_));
    } else {
      head(std::move(out.flow.front()));
      if (out.flow.size() > 1) practise(std::move(out.flow));
      ladder();
      if (!listened_) listen();
    }
    out.before_lines = std::exchange(flow_.back().break_after, layout::BreakAfter::Forced);
    const FramePtr name = continuation_line(setting_, plan_.section);
    for (std::size_t i = 1; i < flow_.size(); ++i) flow_[i].continuation = name;
    out.flow = std::move(flow_);
    out.breaks = std::move(breaks_);
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
    if (has_lesson_choices(section_)) flow_.push_back(flow_item(lesson_line(setting_), style_.body.size * 0.5));
    for (auto& item : shapes_block(setting_, {plan_.section, BoxSize::Medium})) flow_.push_back(std::move(item));
    if (aside_ == Aside::Body) {
      for (auto& item : sign_legend(setting_, signs())) flow_.push_back(std::move(item));
    }
    breaks_.push_back(flow_.size() - 1);
    drill();
    if (breaks_.back() + 1 < flow_.size()) breaks_.push_back(flow_.size() - 1);
    flow_.push_back(block_heading(setting_, "The music", "count aloud; a count in brackets is not struck"));
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

  /// Where its last bar leads: to its own beginning, then to others.
  std::string way_on() const {
    const bool again = section_.times > 1 || !section_.until.empty();
    if (plan_.after.empty() && !again) return {};
    std::string out = again ? "Goes back to its own beginning" : "";
    if (!plan_.after.empty()) out += (again ? ", then leads to " : "Leads to ") + names(plan_.after);
    return out + ". ";
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

  SignList signs() const { return sign_list(setting_, plan_.section); }

  /// A block as narrow as the margin column, beside the item that was put last.
  void beside(const std::function<Flow(const Setting&)>& block) {
    style::Style narrow = style_;
    narrow.page.inner += setting_.body() - setting_.margin();
    Setting aside{setting_.song, narrow, setting_.shaper, setting_.music, setting_.parts, setting_.recording};
    Stack stack("practice-beside", setting_.margin());
    for (const layout::FlowItem& item : block(aside)) {
      if (stack.y() > Length{}) stack.space(item.space_before);
      stack.add(item.frame);
    }
    const FramePtr frame = stack.done();
    if (frame->size.height == Length{}) return;
    const Length down = flow_.back().notes.empty() ? Length{} : setting_.style.rhythm.note_gap;
    flow_.back().notes.push_back({down + frame->baseline, frame});
  }

  void route() {
    flow_.push_back(block_heading(setting_, "The way through this sheet"));
    if (aside_ == Aside::Margin) beside([&](const Setting& narrow) { return sign_legend(narrow, signs()); });
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

  void drill() {
    if (!plan_.hardest) return;
    const Change& change = *plan_.hardest;
    flow_.push_back(block_heading(setting_, step_name(StepKind::Change, "the change"),
                                  bars_words(section_, change.first_bar, change.last_bar)));
    for (auto& item : drill_items(setting_, change, section_.origin)) flow_.push_back(std::move(item));
  }

  /// Phrases, then ways on; on a sheet that names its music only, the ways on alone.
  void loops() {
    std::vector<TickRow> rows;
    if (!named_only_) {
      for (const Loop& loop : plan_.loops) {
        std::string bars = bars_words(section_, loop.first_bar, loop.last_bar);
        bars.front() = static_cast<char>(std::toupper(static_cast<unsigned char>(bars.front())));
        rows.push_back({bars, loop.why});
      }
    }
    for (const Join& join : plan_.joins) rows.push_back(join_row(join));
    if (rows.empty()) return;
    const bool timed = !plan_.ladder.empty() && plan_.ladder.front().per_minute;
    const bool phrases = !named_only_ && !plan_.loops.empty();
    const std::string name = phrases ? "a phrase at a time" : "the way on";
    flow_.push_back(block_heading(
        setting_, named_only_ ? "The way on" : step_name(StepKind::Phrases, name),
        (timed ? "at " + std::to_string(*plan_.ladder.front().per_minute) + "; " : "") + "a box for each clean time"));
    if (aside_ == Aside::Margin && !named_only_ && !plan_.listen.empty()) {
      beside([&](const Setting& narrow) { return listen_beside(narrow); });
      listened_ = true;
    }
    for (auto& item : tick_items(setting_, rows, section_.origin)) flow_.push_back(std::move(item));
  }

  /// "Bar 12 into bar 5", "1st ending, back to the beginning"; "Bar 13 into bar 14", "on to C turn".
  TickRow join_row(const Join& join) const {
    const std::vector<score::Bar>& bars = section(join.section).bars;
    const auto into = static_cast<std::size_t>(join.into);
    const std::string goal = bars[into].number == 0 ? "the pick-up" : "bar " + std::to_string(bars[into].number);
    std::string from = bars_words(section_, join.bar, join.bar);
    from.front() = static_cast<char>(std::toupper(static_cast<unsigned char>(from.front())));
    std::string why = join.section != plan_.section ? "on to " + names({join.section})
                      : join.into == 0              ? "back to the beginning"
                                                    : "on this sheet";
    const score::Bar& last = section_.bars[static_cast<std::size_t>(join.bar)];
    if (!last.ending.empty()) why = ending_name(last) + ", " + why;
    return {from + " into " + goal, why};
  }

  /// Rungs side by side, and what their figures do not say by themselves.
  void ladder() {
    if (plan_.ladder.empty()) return;
    flow_.push_back(block_heading(setting_, step_name(StepKind::Ladder, "up the tempo ladder"),
                                  "a box for each clean time; three, then one rung up"));
    flow_.push_back(flow_item(ladder_figure(setting_, plan_, section_.origin), style_.body.size * 0.2));
    for (const std::string& gloss : plan_.ladder_gloss)
      paragraph(gloss, italic(style_.note), "ladder-gloss", style_.body.size * 0.3);
  }

  void listen() {
    if (plan_.listen.empty()) return;
    flow_.push_back(block_heading(setting_, "What to listen for"));
    hanging(plan_.listen, [](std::size_t) { return std::string("\u2013"); });
  }

  /// The same in the margin, in the type of remarks.
  Flow listen_beside(const Setting& narrow) const {
    Flow out{block_heading(narrow, "Listen for")};
    for (const std::string& sentence : plan_.listen) {
      out.push_back(flow_item(prose(narrow, sentence, {style_.note, style_.ink, "practice-step", section_.origin},
                                    narrow.body(), Parting::English),
                              style_.note.size * 0.5));
    }
    return out;
  }

  void cautions() {
    std::string text;
    for (const std::string& sentence : plan_.cautions) text += (text.empty() ? "" : " ") + sentence;
    if (!text.empty()) paragraph(text, italic(style_.body), "practice-caution", style_.body.size * 0.8);
  }

  const Setting& setting_;
  Aside aside_;
  const style::Style& style_;
  const Section& section_;
  PracticePlan plan_;
  bool named_only_ = false;
  std::vector<std::size_t> breaks_;
  bool listened_ = false;  ///< what to listen for stands in the margin
  Flow flow_;
};

}  // namespace

SectionBlock practice_music(const Setting& setting, const PracticePlan& plan, SameMusic same) {
  if (names_only(plan, same)) return {};
  return section_block(setting, plan.section, plan.rests ? Counting::None : Counting::UnderTheStaff);
}

PracticeBlock practice_block(const Setting& setting, PracticePlan plan, SameMusic same, Aside aside,
                             SectionBlock music) {
  return PracticeSheet(setting, std::move(plan), same, aside).draw(std::move(music));
}

void add_lines(const Setting& setting, Writing writing, PracticeBlock& block) {
  layout::FlowItem item = flow_item(writing_lines(setting, writing.lines), setting.style.body.size + writing.drop);
  item.continuation = block.flow.back().continuation;
  item.break_after = std::exchange(block.flow.back().break_after, block.before_lines);
  block.flow.push_back(std::move(item));
}

}  // namespace tunesheaf::blocks

#include "tunesheaf/blocks/section.h"

#include <algorithm>
#include <map>
#include <set>
#include <utility>

#include "pen.h"
#include "tunesheaf/base/number.h"
#include "tunesheaf/blocks/words.h"
#include "tunesheaf/score/clock.h"

namespace tunesheaf::blocks {
namespace {

using layout::Layer;
using score::Section;
using song::Authority;
using text::StyledText;

class Heading {
 public:
  Heading(const Setting& setting, int index, bool has_music)
      : setting_(setting),
        style_(setting.style),
        section_(setting.song.sections[static_cast<std::size_t>(index)]),
        index_(index),
        has_music_(has_music) {}

  layout::FlowItem draw() {
    auto frame = std::make_shared<Frame>();
    frame->name = "section-heading";
    frame->role = Role::Heading2;
    frame->origin = section_.origin;
    frame->items.push_back({{},
                            "bookmark",
                            Layer::Overlay,
                            section_.origin,
                            {},
                            layout::BookmarkShape{title(), section_anchor(index_), 1}});
    rule(*frame, {{}, style_.rule / 2}, setting_.body(), style_.rule, style_.ink);
    const Length base = style_.section_letter.size * 0.98;
    frame->baseline = base;
    Length x = put(*frame, setting_, {{}, base}, section_.letter,
                   {style_.section_letter, style_.accent, "section-letter", section_.origin});
    x += style_.section_name.size * 0.6;
    x += put(*frame, setting_, {x, base}, section_.name.value,
             {style_.section_name, style_.ink, "section-name", section_.name.span});
    if (section_.from == Authority::Lesson) {
      x += style_.body.size;
      x += put_lesson_mark(*frame, setting_, {x, base}, section_.origin);
    }
    facts(*frame, x + style_.body.size, base);
    Length y = base + style_.section_letter.size * 0.3;
    y = says(*frame, y);
    frame->size = {setting_.body(), y};
    auto item = flow_item(frame, style_.rhythm.section_gap, style_.rhythm.section_gap * 0.6);
    item.break_after = has_music_ ? layout::BreakAfter::Forbidden : layout::BreakAfter::Allowed;
    if (auto note = times_note()) {
      item.notes.push_back({base, *note});
    }
    return item;
  }

 private:
  std::string title() const {
    return section_.letter.empty() ? section_.name.value : section_.letter + "  " + section_.name.value;
  }

  /// Bars of one pass; a pick-up is not counted.
  int bars_of_a_pass() const {
    int bars = 0;
    for (const score::Bar& bar : section_.bars) {
      const bool first_time = bar.ending.empty() || std::count(bar.ending.begin(), bar.ending.end(), 1) > 0;
      bars += bar.pick_up || !first_time ? 0 : 1;
    }
    return bars;
  }

  std::string like_words() const {
    if (section_.like.empty()) return {};
    return "like " + section_.like;
  }

  /// The printed numbers of its first and last bars: "bars 13–20".
  std::string number_words() const {
    int first = 0, last = 0;
    for (const score::Bar& bar : section_.bars) {
      if (bar.number == 0) continue;
      if (first == 0) first = bar.number;
      last = std::max(last, bar.number);
    }
    if (first == 0) return {};
    if (first == last) return "bar " + std::to_string(first);
    return "bars " + std::to_string(first) + "\u2013" + std::to_string(last);
  }

  std::string fact_words() const {
    std::string out = counted(bars_of_a_pass(), "bar", "bars");
    const auto endings = std::count_if(section_.bars.begin(), section_.bars.end(),
                                       [](const score::Bar& bar) { return bar.ending_begin; });
    if (endings > 1) out += " each time, " + std::to_string(endings) + " endings";
    if (const std::string numbers = number_words(); !numbers.empty()) out = numbers + " · " + out;
    if (section_.times != 1 || !section_.until.empty()) out += " · " + times_words(section_);
    if (const std::string like = like_words(); !like.empty()) out += " · " + like;
    if (section_.feel && !section_.feel->words.empty()) out += " · " + section_.feel->words;
    if (!section_.instead_of.empty()) out += " · on the recording: " + section_.instead_of;
    return out;
  }

  /// To the right of the name, or on a line of its own where the name is long.
  void facts(Frame& frame, Length least_x, Length base) {
    const style::TypeRole& role = style_.small;
    Length x = setting_.body();
    const std::string words = fact_words();
    const Length width = width_of(setting_, words, role);
    if (x - width < least_x) {
      below_ = words;
      return;
    }
    put(frame, setting_, {x, base}, words, {role, style_.ink, "section-facts", section_.origin}, Align::Right);
    // Where there is music the tempo stands over its first bar.
    if (section_.tempo && !has_music_) tempo(frame, x - width, least_x, base);
  }

  /// To the left of the facts, which begin at `right`.
  void tempo(Frame& frame, Length right, Length least_x, Length base) {
    const song::TempoMark& mark = *section_.tempo;
    if (mark.per_minute == base::Fraction{}) return;
    const base::Fraction unit = score::counted_unit(mark, section_);
    const std::string words = "= " + base::print_decimal(mark.per_minute.to_double(), 1);
    const auto value = [&](Frame& on, Length x) {
      return put_note_value(on, setting_, {x, base}, unit, style_.small.size * 0.3, style_.ink) +
             style_.small.size * 0.2;
    };
    Frame tried;
    const Length width = value(tried, {}) + width_of(setting_, words, style_.small);
    const Length x = right - std::max(style_.body.size * 3.4, width + style_.body.size * 0.8);
    if (x < least_x) return;
    put(frame, setting_, {x + value(frame, x), base}, words,
        {style_.small, style_.ink, "section-tempo", section_.origin});
  }

  Length says(Frame& frame, Length y) {
    std::vector<StyledText> pieces;
    if (!below_.empty()) pieces.push_back({below_ + (section_.says ? "  " : ""), text_style(style_.small)});
    if (section_.says) pieces.push_back({section_.says->value, text_style(style_.direction)});
    if (pieces.empty()) return y;
    const Span origin = section_.says ? section_.says->span : section_.origin;
    const auto block =
        prose(setting_, {pieces, setting_.body(), style_.direction.size, style_.ink, "section-says", origin,
                         Role::Paragraph, "section-says", text::Alignment::Left, Parting::OfSong});
    frame.children.push_back({{{}, y}, block});
    return y + block->size.height;
  }

  /// Places in the video (a link) and in the recordings.
  std::optional<FramePtr> times_note() {
    Stack stack("times", setting_.margin(), Role::Paragraph);
    const style::TypeRole& role = style_.note;
    bool any = false;
    if (section_.video) {
      const std::string words = "video " + clock(*section_.video);
      auto line = std::make_shared<Frame>();
      line->name = "video-time";
      line->baseline = role.size * 0.82;
      const Length height = role.size * 1.3;
      const Length x = put_play_sign(*line, setting_, {{}, line->baseline}, role.size) + role.size * 0.35;
      style::TypeRole fitted = role;  // in a narrow margin smaller
      const Length natural = width_of(setting_, words, role);
      if (x + natural > setting_.margin())
        fitted.size = std::max(Length::pt(7), role.size * ((setting_.margin() - x) / natural));
      const Length width =
          x + put(*line, setting_, {x, line->baseline}, words, {fitted, style_.ink, "video-time", section_.origin});
      line->size = {setting_.margin(), height};
      if (setting_.song.video) {
        line->items.push_back(
            {{},
             "video-link",
             Layer::Overlay,
             section_.origin,
             {},
             layout::LinkShape{{width, height}, video_link(setting_.song.video->value, *section_.video)}});
      }
      stack.add(line);
      any = true;
    }
    for (const auto& [recording, seconds] : section_.at) {
      if (recording < 0 || recording >= static_cast<int>(setting_.song.recordings.size())) continue;
      const std::string name = setting_.song.recordings[static_cast<std::size_t>(recording)].name.value;
      stack.add(prose(setting_, name + " " + clock(seconds), {role, style_.faint, "recording-time", section_.origin},
                      setting_.margin()));
      any = true;
    }
    if (!any) return std::nullopt;
    return stack.done();
  }

  const Setting& setting_;
  const style::Style& style_;
  const Section& section_;
  int index_;
  bool has_music_;
  std::string below_;
};

/// A line of a margin note with the lesson's mark alone.
std::shared_ptr<Frame> mark_line(const Setting& setting, source::Span origin, Length indent = {}) {
  const style::TypeRole& role = setting.style.note;
  auto line = std::make_shared<Frame>();
  line->name = "note-mark";
  line->baseline = role.size * 0.82;
  put_lesson_mark(*line, setting, {indent, line->baseline}, origin);
  line->size = {setting.margin(), role.size * 1.25};
  return line;
}

/// "3  Hammer from nowhere …", with the lesson's mark where it is the teacher's own.
FramePtr remark_frame(const Setting& setting, const score::Remark& remark, Length width) {
  const style::Style& style = setting.style;
  Stack stack("remark", width, Role::Paragraph);
  const Length indent = style.note.size * (remark.number < 10 ? 1.55 : 2.0);  // rings of two figures are wider
  if (remark.from == Authority::Lesson) {
    // The mark stands above the text: the note's first line stays beside its bar.
    const auto line = mark_line(setting, remark.text.span, indent);
    put_remark_number(*line, setting, {{}, line->baseline}, remark.number, remark.text.span);
    stack.add(line);
  } else {
    put_remark_number(stack.frame(), setting, {{}, style.note.size * 0.82}, remark.number, remark.text.span);
  }
  std::string text = remark.text.value;
  if (!remark.instead_of.empty()) text += " On the recording: " + sentence_end(remark.instead_of);
  stack.add(prose(setting, text, {style.note, style.ink, "remark", remark.text.span}, width - indent, Parting::OfSong),
            indent);
  return stack.done();
}

engrave::SectionRequest request_for(const Setting& setting, int section, Counting counting) {
  engrave::SectionRequest request;
  request.timeline = &setting.song;
  request.section = section;
  request.parts = setting.parts;
  request.width = setting.body();
  request.signs = engrave::form_signs(setting.song, section);
  const bool printed_on = counting == Counting::None;  // the sections stand one after another
  if (printed_on && engrave::goes_on_with(setting.song, section, section + 1)) request.next_section = section + 1;
  request.beat_count = counting == Counting::UnderTheStaff;
  return request;
}

/// All remarks that one number sign stands for: `see` may name several at one place.
std::vector<int> remarks_at(const Section& section, const engrave::RemarkAnchor& anchor) {
  std::set<int> found{anchor.remark};
  const auto look = [&](const std::vector<score::Word>& words) {
    for (const score::Word& word : words) {
      const bool same = word.kind == score::WordKind::RemarkRef && word.remark == anchor.remark;
      if (same && word.at.bar == anchor.bar) found.insert(word.remarks.begin(), word.remarks.end());
    }
  };
  look(section.words);
  for (const score::PartMusic& music : section.parts) look(music.words);
  return {found.begin(), found.end()};
}

/// Each remark once beside a system, in the order of the numbers. Where the column cannot hold them all, with what
/// stands `above` the system on its page, the last of them stand under the system, as wide as the body. Those are
/// returned.
std::vector<const score::Remark*> add_notes(layout::FlowItem& item, const Setting& setting, const Section& section,
                                            const engrave::EngravedSystem& system, Length above) {
  std::map<int, const engrave::RemarkAnchor*> anchors;  // by the remark's index: numbers grow with it
  for (const engrave::RemarkAnchor& anchor : system.remarks) {
    for (const int index : remarks_at(section, anchor)) anchors.try_emplace(index, &anchor);
  }
  const style::PageStyle& page = setting.style.page;
  const Length foot = page.paper.height - page.top - page.bottom;
  Length end;
  for (const layout::MarginNote& note : item.notes)  // what is said of patterns
    end = std::max(end + setting.style.rhythm.note_gap, above + note.anchor - note.frame->baseline) +
          note.frame->size.height;
  std::vector<const score::Remark*> below;
  for (const auto& [index, anchor] : anchors) {
    const score::Remark& remark = section.remarks[static_cast<std::size_t>(index)];
    const FramePtr frame = remark_frame(setting, remark, setting.margin());
    end = std::max(end + setting.style.rhythm.note_gap, above + anchor->at.y - frame->baseline) + frame->size.height;
    if (end > foot || !below.empty()) {
      below.push_back(&remark);
    } else {
      item.notes.push_back({anchor->at.y, frame, anchor->row});
    }
  }
  return below;
}

/// What stands over the first system on its page at least, or over a later one that opens a page.
Length above_system(const layout::FlowItem& heading, const FramePtr& continuation, bool first, Length gap) {
  if (!first) return continuation == nullptr ? Length{} : continuation->size.height;
  Length foot = heading.frame->size.height + gap;
  for (const layout::MarginNote& note : heading.notes)
    foot = std::max(foot, note.anchor - note.frame->baseline + note.frame->size.height);
  return foot;
}

/// Whether a part plays the pattern in an earlier section, where a handout says it.
bool said_before(const Setting& setting, int section, std::size_t part, const score::PatternWords& pattern) {
  for (std::size_t s = 0; s < static_cast<std::size_t>(section); ++s) {
    const auto& earlier = setting.song.sections[s].parts[part].patterns;
    if (std::any_of(earlier.begin(), earlier.end(),
                    [&](const score::PatternWords& p) { return p.name.span == pattern.name.span; }))
      return true;
  }
  return false;
}

/// "lullaby: Soft strokes. On the recording: the island strum.", under the lesson's mark where it is the teacher's own.
FramePtr pattern_frame(const Setting& setting, const score::PatternWords& pattern) {
  const style::TypeRole& role = setting.style.note;
  std::string words = pattern.says ? pattern.says->value : std::string{};
  if (!pattern.instead_of.empty())
    words += (words.empty() ? "instead of " : " On the recording: ") + sentence_end(pattern.instead_of);
  Stack stack("pattern-says", setting.margin(), Role::Paragraph);
  if (pattern.from == Authority::Lesson) stack.add(mark_line(setting, pattern.name.span));
  if (words.empty()) words = "the teacher’s own.";
  stack.add(prose(setting, {{{pattern.name.value + ": ", text_style(italic(role))}, {words, text_style(role)}},
                            setting.margin(),
                            role.size,
                            setting.style.ink,
                            "pattern-says",
                            pattern.name.span,
                            Role::Paragraph,
                            "pattern-says",
                            text::Alignment::Left,
                            Parting::OfSong}));
  return stack.done();
}

/// Whose the parts are, and what is said of patterns, beside the first system: patterns on a handout once, on every
/// practice sheet that has them.
void add_part_words(layout::FlowItem& item, const Setting& setting, int index, Counting counting) {
  const Section& section = setting.song.sections[static_cast<std::size_t>(index)];
  const auto add = [&](FramePtr frame) { item.notes.push_back({setting.style.note.size, std::move(frame)}); };
  for (const int p : setting.parts) {
    const auto part = static_cast<std::size_t>(p);
    const score::PartMusic& music = section.parts[part];
    if (music.from == Authority::Lesson && section.from != Authority::Lesson)
      add(pattern_frame(setting, {setting.song.parts[part].name, {}, music.from, {}}));
    for (const score::PatternWords& pattern : music.patterns) {
      if (counting == Counting::None && said_before(setting, index, part, pattern)) continue;
      add(pattern_frame(setting, pattern));
    }
  }
}

}  // namespace

std::string section_anchor(int section) {
  return "section-" + std::to_string(section + 1);
}

std::string video_link(const std::string& video, const base::Fraction& seconds) {
  const std::size_t fragment = video.find('#');
  return video.substr(0, fragment) + "#t=" + std::to_string(seconds.floor());
}

FramePtr continuation_line(const Setting& setting, int index) {
  const Section& section = setting.song.sections[static_cast<std::size_t>(index)];
  return continued_line(setting, section.letter, section.name.value, section.origin);
}

layout::FlowItem section_heading(const Setting& setting, int section, bool music) {
  return Heading(setting, section, music).draw();
}

SectionBlock section_block(const Setting& setting, int index, Counting counting) {
  const style::Style& style = setting.style;
  const Section& section = setting.song.sections[static_cast<std::size_t>(index)];
  const engrave::EngravedSection engraved =
      engrave::engrave_section(request_for(setting, index, counting), style, setting.shaper, setting.music);
  SectionBlock block;
  block.flow.push_back(section_heading(setting, index, !engraved.systems.empty()));
  const FramePtr continuation = continuation_line(setting, index);
  for (std::size_t i = 0; i < engraved.systems.size(); ++i) {
    const engrave::EngravedSystem& system = engraved.systems[i];
    // From ink to ink, and on a full page too, systems part more than the staves within them: see kMostShrink.
    constexpr double kMoreThanStaves = 1.15;
    const Length white = std::max(style.rhythm.system_gap, system.white * kMoreThanStaves);
    const Length gap = i == 0 ? style.body.size * 0.6 : white;
    auto item = flow_item(system.frame, gap, style.rhythm.system_stretch);
    if (i == 0) add_part_words(item, setting, index, counting);
    const auto below =
        add_notes(item, setting, section, system, above_system(block.flow.front(), continuation, i == 0, gap));
    item.elastic = system.elastic;
    // The last two systems of a section would rather stay together, and so would the first two; a leaf is best turned
    // between sections, else where everyone rests.
    const std::size_t left = engraved.systems.size() - i - 1;
    if (left == 1 || (i == 0 && left > 0)) item.break_cost = 4;
    if (left == 0) item.break_cost = -4;
    if (left > 0 && !system.hands_free_after) item.turn_cost = 4;
    if (i > 0) item.continuation = continuation;
    if (system.overfull) block.overfull.push_back(system.overfull_at);
    if (system.more_staves) block.shared_out = section.name.span;
    const bool told = !block.broken.empty() && block.broken.back() == system.overfull_at;
    if (system.broken && !system.overfull && !system.set_smaller && !told) block.broken.push_back(system.overfull_at);
    if (system.set_smaller) block.set_smaller.push_back(system.overfull_at);
    block.flow.push_back(std::move(item));
    if (below.empty()) continue;
    block.remarks_below.push_back(below.front()->text.span);
    const double ends_section = std::exchange(block.flow.back().break_cost, 0);
    for (const score::Remark* remark : below) {
      auto under = flow_item(remark_frame(setting, *remark, setting.body()), style.rhythm.note_gap);
      under.continuation = continuation;
      block.flow.push_back(std::move(under));
    }
    block.flow.back().break_cost = ends_section;
  }
  return block;
}

}  // namespace tunesheaf::blocks

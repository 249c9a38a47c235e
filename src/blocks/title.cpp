#include "tunesheaf/blocks/title.h"

#include <algorithm>

#include "pen.h"
#include "tunesheaf/base/number.h"
#include "tunesheaf/base/utf8.h"
#include "tunesheaf/blocks/qr.h"
#include "tunesheaf/blocks/words.h"
#include "tunesheaf/score/clock.h"

namespace tunesheaf::blocks {
namespace {

using text::StyledText;

/// A sentence for a title is set smaller, down to the size of running text, until it leaves the page its music.
FramePtr head_prose(const Setting& setting, const song::Text& words, style::TypeRole role, layout::Kind kind,
                    Role meaning, const char* line) {
  const style::PageStyle& page = setting.style.page;
  constexpr double kMost = 0.25, kStep = 0.92;  // of the page's height
  const Length most = (page.paper.height - page.top - page.bottom) * kMost;
  for (;;) {
    FramePtr frame = prose(setting, {{{words.value, text_style(role)}},
                                     setting.body(),
                                     role.size,
                                     setting.style.ink,
                                     kind,
                                     words.span,
                                     meaning,
                                     line});
    const Length smaller = std::max(role.size * kStep, std::min(role.size, setting.style.body.size));
    if (frame->size.height <= most || smaller == role.size) return frame;
    role.size = smaller;
  }
}

FramePtr title_lines(const Setting& setting) {
  const style::Style& style = setting.style;
  const score::Timeline& song = setting.song;
  Stack stack("title", setting.body(), Role::None);
  stack.add(head_prose(setting, song.title, style.title, "title", Role::Heading1, "title-line"));
  if (song.by) stack.add(head_prose(setting, *song.by, style.subtitle, "writer", Role::Paragraph, "writer-line"));
  return stack.done();
}

/// One fact: a small label with its value below.
struct Fact {
  std::string label;
  std::string value;  ///< empty for the tempo, which holds a picture
  Span origin{};
};

Length put_tempo(Frame& frame, const Setting& setting, Point at, const song::TempoMark& mark) {
  const style::Style& style = setting.style;
  const style::TypeRole& role = style.subtitle;
  style::TypeRole upright = role;
  upright.italic = false;
  Length x;
  if (!mark.words.empty()) x += put(frame, setting, at, mark.words, {role, style.ink, "tempo"}) + role.size * 0.4;
  if (mark.per_minute == base::Fraction{}) return x;
  const base::Fraction unit = score::counted_unit(mark, setting.song.meter);
  x += put_note_value(frame, setting, {at.x + x, at.y}, unit, role.size * 0.21, style.ink) + role.size * 0.15;
  const std::string rate = "= " + base::print_decimal(mark.per_minute.to_double(), 1);
  return x + put(frame, setting, {at.x + x, at.y}, rate, {upright, style.ink, "tempo"});
}

int first_capo(const Setting& setting) {
  for (const int p : setting.parts) {
    const score::Part& part = setting.song.parts[static_cast<std::size_t>(p)];
    if (part.tuning.count() > 0) return part.capo;
  }
  return 0;
}

FramePtr facts(const Setting& setting) {
  const style::Style& style = setting.style;
  const score::Timeline& song = setting.song;
  auto frame = std::make_shared<Frame>();
  frame->name = "facts";
  frame->role = Role::Paragraph;
  style::TypeRole value = style.subtitle;
  value.italic = false;
  const Length label_line = style.label.size, value_line = label_line + value.size * 1.4;
  frame->baseline = label_line;
  Length x, y;
  const Length gap = value.size * 2;
  const auto place = [&](const std::string& label, Length width) {
    if (x > Length{} && x + width > setting.body()) {
      x = {};
      y += value_line + value.size;
    }
    put(*frame, setting, {x, y + label_line}, label, {style.label, style.faint, "fact-label"});
  };
  std::vector<Fact> list;
  if (song.lesson) list.push_back({"Lesson", song.lesson->value, song.lesson->span});
  if (song.key) list.push_back({"Key", key_words(*song.key)});
  if (const int capo = first_capo(setting); song.key && capo > 0) {
    list.push_back({"With the capo", key_words(theory::transposed(*song.key, capo))});
  }
  // A sheet of shapes alone has no bars.
  if (!song.sections.empty()) list.push_back({"Meter", theory::print_meter(song.meter)});
  if (song.tempo) list.push_back({"Tempo", ""});
  if (!song.sections.empty()) list.push_back({"Feel", score::feel_words(song.feel)});
  for (const Fact& fact : list) {
    Frame scratch;
    const Length width = std::max(
        width_of(setting, fact.label, style.label),
        fact.value.empty() ? put_tempo(scratch, setting, {}, *song.tempo) : width_of(setting, fact.value, value));
    place(fact.label, width);
    if (fact.value.empty()) {
      put_tempo(*frame, setting, {x, y + value_line}, *song.tempo);
    } else {
      put(*frame, setting, {x, y + value_line}, fact.value, {value, style.ink, "fact", fact.origin});
    }
    x += width + gap;
  }
  // A sheet that has nothing to say here leaves no gap.
  if (!list.empty()) frame->size = {setting.body(), y + value_line + value.size * 0.3};
  return frame;
}

/// With a capital (of the 26 letters) and a full stop.
std::string sentence(std::string text) {
  if (text.front() >= 'a' && text.front() <= 'z') text.front() = static_cast<char>(text.front() - 'a' + 'A');
  return sentence_end(std::move(text));
}

/// A link as one types it: without "https://" and a last "/".
std::string short_address(std::string link) {
  for (const std::string& scheme : {std::string("https://"), std::string("http://")}) {
    if (link.rfind(scheme, 0) == 0) link.erase(0, scheme.size());
  }
  if (!link.empty() && link.back() == '/') link.pop_back();
  return link;
}

/// An address in lines that end after a slash or a full stop, or before a question mark: a hyphen at the end of a line
/// would be read as part of it. A stretch too long for a line is parted anywhere, without a sign.
std::string in_lines(const Setting& setting, const std::string& address, const style::TypeRole& role, Length width) {
  std::vector<std::string> stretches{""};
  for (const char c : address) {
    if (c == '?' && !stretches.back().empty()) stretches.emplace_back();
    stretches.back() += c;
    if (c == '/' || c == '.') stretches.emplace_back();
  }
  std::string out, line;
  const auto fits = [&](const std::string& more) { return width_of(setting, line + more, role) <= width; };
  const auto add = [&](const std::string& more) {
    if (!fits(more) && !line.empty()) {
      out += line + "\n";
      line.clear();
    }
    line += more;
  };
  for (const std::string& stretch : stretches) {
    if (width_of(setting, stretch, role) <= width) {
      add(stretch);
      continue;
    }
    for (const char32_t c : base::code_points(stretch)) add(base::to_utf8(c));
  }
  return out + line;
}

FramePtr recording_line(const Setting& setting, const score::Recording& recording) {
  const style::Style& style = setting.style;
  const auto plain = text_style(style.body);
  std::vector<StyledText> pieces{{recording.name.value, text_style(italic(style.body))}};
  if (setting.followed() == &recording && setting.song.recordings.size() > 1) {
    pieces.push_back({" (this sheet follows it)", plain});
  }
  std::string text =
      " sounds " + pitch_words(recording.cents, first_capo(setting) > 0 ? "this page with its capo" : "this page");
  if (recording.sounding_key) text += ", in " + key_words(*recording.sounding_key);
  if (recording.tempo && recording.tempo->per_minute != base::Fraction{}) {
    text += ", at " + base::print_decimal(recording.tempo->per_minute.to_double(), 1) + " to the minute";
  }
  text += ".";
  if (const std::string advice = pitch_advice(recording.cents, first_capo(setting)); !advice.empty()) {
    text += " " + advice;
  }
  if (!recording.note.empty()) text += " " + sentence(recording.note);
  pieces.push_back({text, plain});
  return prose(setting, {pieces, setting.body(), style.body.size, style.ink, "recording", recording.name.span,
                         Role::Paragraph, "recording"});
}

/// "keys: here in place of six bowed strings."
FramePtr stand_in_line(const Setting& setting, const score::Part& part) {
  const style::Style& style = setting.style;
  const std::vector<StyledText> pieces{
      {part.name.value, text_style(italic(style.body))},
      {": here in place of " + sentence_end(part.stands_in_for), text_style(style.body)}};
  return prose(setting, {pieces, setting.body(), style.body.size, style.ink, "stand-in", part.name.span,
                         Role::Paragraph, "stand-in"});
}

/// "Counted in by drums; guitar starts.", as far as the song states it.
FramePtr start_line(const Setting& setting) {
  const style::Style& style = setting.style;
  const score::Timeline& song = setting.song;
  std::string text;
  if (song.counts_in) {
    text = song.counts_in->value == song::kNobody ? "nobody counts in" : "counted in by " + song.counts_in->value;
  }
  std::vector<std::string> names;
  for (const song::Text& name : song.starts) names.push_back(name.value);
  if (!names.empty()) {
    text += (text.empty() ? "" : "; ") + list_words(names) + (names.size() == 1 ? " starts" : " start");
  }
  const source::Span origin = song.counts_in ? song.counts_in->span : song.starts.front().span;
  return prose(setting, sentence(text), {style.body, style.ink, "start", origin}, setting.body());
}

layout::MarginNote video_note(const Setting& setting) {
  const style::Style& style = setting.style;
  const song::Text& video = *setting.song.video;
  Stack stack("video", setting.margin());
  const Length top = stack.y();
  if (const FramePtr square = qr_square(video.value, setting.margin(), qr_colours(style.ink, style.ground))) {
    // On light paper the quiet zone hangs into the white around the column, so that the dark part stands on the
    // column's edge.
    const auto ink = layout::ink_of(*square);
    stack.add(square, ink ? -ink->left() : Length{});
  }
  Frame& frame = stack.frame();
  frame.items.push_back({{{}, top},
                         "video-link",
                         layout::Layer::Overlay,
                         video.span,
                         {},
                         layout::LinkShape{{setting.margin(), stack.y()}, video.value}});
  stack.add(prose(setting, "The lesson on video", {style.label, style.faint, "video-label"}, setting.margin()));
  const Ink ink{style.note, style.ink, "video-address", video.span};
  stack.add(prose(setting, in_lines(setting, short_address(video.value), style.note, setting.margin()), ink,
                  setting.margin()));
  stack.frame().baseline = {};
  return {{}, stack.done()};
}

}  // namespace

FramePtr lesson_line(const Setting& setting) {
  const style::Style& style = setting.style;
  auto frame = std::make_shared<Frame>();
  frame->name = "lesson-line";
  frame->role = Role::Paragraph;
  const Length indent = lesson_mark_width(setting) + style.body.size * 0.5;
  const auto words =
      prose(setting, {{{"marks the teacher’s own choices; all else is as on the recording.", text_style(style.body)}},
                      setting.body() - indent,
                      style.body.size,
                      style.ink,
                      "lesson-line",
                      {},
                      Role::None,
                      "lesson-words"});
  frame->baseline = words->baseline;
  put_lesson_mark(*frame, setting, {{}, frame->baseline});
  frame->children.push_back({{indent, {}}, words});
  frame->size = {setting.body(), words->size.height};
  return frame;
}

bool has_lesson_choices(const Setting& setting) {
  using song::Authority;
  for (const score::ShapeUse& shape : setting.song.shapes) {
    if (shape.used && shape.from == Authority::Lesson) return true;
  }
  return std::any_of(setting.song.sections.begin(), setting.song.sections.end(),
                     [](const score::Section& section) { return has_lesson_choices(section); });
}

bool has_lesson_choices(const score::Section& section) {
  const auto own = [](const auto& one) { return one.from == song::Authority::Lesson; };
  const auto any_own = [&](const auto& all) { return std::any_of(all.begin(), all.end(), own); };
  return own(section) || any_own(section.remarks) || any_own(section.bars) ||
         std::any_of(section.parts.begin(), section.parts.end(),
                     [&](const score::PartMusic& music) { return own(music) || any_own(music.patterns); });
}

FramePtr head_ornament(const Setting& setting, Length width) {
  const style::Style& style = setting.style;
  int strings = 6;
  for (const int p : setting.parts) {
    const score::Part& part = setting.song.parts[static_cast<std::size_t>(p)];
    if (part.tuning.count() == 0) continue;
    strings = part.tuning.count();
    break;
  }
  auto frame = std::make_shared<Frame>();
  frame->name = "ornament";
  frame->role = Role::Artifact;
  // It ends below the edge of the paper that a printer leaves white, however many strings there are.
  const Length room = style.page.top - Length::mm(5) - style.rule;
  const Length pitch = std::min(style.rule * 4.2, room / strings);
  for (int i = 0; i < strings; ++i) {
    const double share = strings == 1 ? 0.0 : static_cast<double>(i) / (strings - 1);
    rule(*frame, {{}, pitch * i + style.rule}, width, style.rule * (1 + 1.6 * share), style.ink, "ornament");
  }
  frame->size = {width, pitch * strings};
  return frame;
}

Flow title_block(const Setting& setting) {
  const style::Style& style = setting.style;
  Flow flow;
  flow.push_back(flow_item(title_lines(setting), {}));
  if (setting.song.video) flow.back().notes.push_back(video_note(setting));
  flow.back().break_after = layout::BreakAfter::Forbidden;
  const FramePtr told = facts(setting);
  if (told->size.height > Length{}) {
    flow.push_back(flow_item(told, style.body.size));
    flow.back().break_after = layout::BreakAfter::Forbidden;
  }
  bool first = true;
  for (const score::Recording& recording : setting.song.recordings) {
    flow.push_back(
        flow_item(recording_line(setting, recording), first ? style.body.size * 0.8 : style.body.size * 0.35));
    first = false;
  }
  for (const int part : setting.parts) {
    const score::Part& shown = setting.song.parts[static_cast<std::size_t>(part)];
    if (!shown.stands_in_for.empty()) {
      flow.push_back(flow_item(stand_in_line(setting, shown), style.body.size * 0.35));
    }
  }
  if (setting.song.counts_in || !setting.song.starts.empty()) {
    flow.push_back(flow_item(start_line(setting), style.body.size * (first ? 0.8 : 0.35)));
  }
  if (has_lesson_choices(setting)) flow.push_back(flow_item(lesson_line(setting), style.body.size * 0.4));
  return flow;
}

Flow about_text(const Setting& setting) {
  const style::Style& style = setting.style;
  if (!setting.song.about) return {};
  const song::Text& about = *setting.song.about;
  return {flow_item(
      prose(setting, about.value, {style.body, style.ink, "about", about.span}, setting.body(), Parting::OfSong),
      style.body.size)};
}

Flow credits(const Setting& setting) {
  const style::Style& style = setting.style;
  if (!setting.song.credits) return {};
  const song::Text& text = *setting.song.credits;
  return {flow_item(prose(setting, text.value, {italic(style.note), style.faint, "credits", text.span}, setting.body(),
                          Parting::OfSong),
                    style.rhythm.block_gap)};
}

}  // namespace tunesheaf::blocks

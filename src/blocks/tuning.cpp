#include "tunesheaf/blocks/tuning.h"

#include <algorithm>
#include <cmath>

#include "pen.h"
#include "tunesheaf/base/number.h"
#include "tunesheaf/blocks/words.h"
#include "tunesheaf/theory/retune.h"

namespace tunesheaf::blocks {
namespace {

using theory::StringRetune;

std::string signed_share(double factor) {
  const long share = std::lround((factor - 1) * 100);
  if (share == 0) return "as usual";
  return (share > 0 ? "+" : "\u2212") + std::to_string(std::labs(share)) + " %";
}

std::string way(int semitones) {
  if (semitones == 0) return "stays";
  return counted(std::abs(semitones), "semitone", "semitones") + (semitones > 0 ? " up" : " down");
}

std::string brief_way(int semitones) {
  if (semitones == 0) return "stays";
  return std::to_string(std::abs(semitones)) + (semitones > 0 ? " up" : " down");
}

std::string course_words(const theory::TunedString& string, bool narrow = false) {
  std::string out;
  for (const theory::Pitch& pitch : string.course) {
    out += (out.empty() ? "" : " + ") + theory::print(pitch, theory::Accidentals::Signs);
  }
  if (string.start_fret > 0) out += (narrow ? " (fret " : " (from fret ") + std::to_string(string.start_fret) + ")";
  return out;
}

/// A column of the ladder: what stands in it from top to bottom, and how wide it comes out.
struct Column {
  std::vector<std::string> heads;  ///< line by line, the last next to the cells
  std::vector<std::string> cells;  ///< string 1 first
  Align align = Align::Right;
  Length width, left;
};

class Ladder {
 public:
  Ladder(const Setting& setting, const score::Part& part, const theory::Retuning& retuning, double cents)
      : setting_(setting), style_(setting.style), part_(part), retuning_(retuning), cents_(cents) {
    frame_->name = "ladder";
    frame_->role = Role::Table;
    frame_->origin = part.origin;
  }

  enum class Words : std::uint8_t { Full, Brief, Narrow };

  /// `size`: of the cells, 1 for the body's.
  void fill(Words words, double size) {
    size_ = size;
    fill_columns(words);
    for (Column& c : columns_) {
      for (const std::string& head : c.heads) c.width = std::max(c.width, width_of(setting_, head, style_.label));
      for (const std::string& cell : c.cells)
        c.width = std::max(c.width, width_of(setting_, cell, bold(cells(style_.body))));
    }
  }

  std::vector<Column>& columns() { return columns_; }

  /// `heads`: false under a ladder of the same columns, whose heads hold for both.
  FramePtr draw(bool heads) {
    if (heads) draw_heads();
    const std::size_t count = retuning_.strings.size();
    for (std::size_t row = 0; row < count; ++row) draw_row(row, retuning_.strings[count - 1 - row]);
    frame_->size = {setting_.body(), y_ + style_.rule};
    return frame_;
  }

 private:
  style::TypeRole cells(style::TypeRole role) const {
    role.size = std::max(role.size * size_, std::min(role.size, setting_.style.small.size));
    return role;
  }

  static Length edge(const Column& c) {
    return c.align == Align::Right ? c.left + c.width : c.align == Align::Centre ? c.left + c.width / 2 : c.left;
  }

  void draw_heads() {
    std::size_t lines = 2;
    for (const Column& c : columns_) lines = std::max(lines, c.heads.size());
    const auto base_of = [&](std::size_t line) { return style_.label.size * (1 + 1.3 * static_cast<double>(line)); };
    for (const Column& c : columns_) {
      const Ink ink{style_.label, style_.faint, "ladder-head"};
      for (std::size_t i = 0; i < c.heads.size(); ++i) {
        put(*frame_, setting_, {edge(c), base_of(lines - c.heads.size() + i)}, c.heads[i], ink, c.align);
      }
    }
    frame_->baseline = style_.label.size;
    y_ = base_of(lines - 1) + style_.label.size * 0.5;
  }

  void fill_columns(Words words) {
    const score::Recording* followed = setting_.followed();
    const bool brief = words != Words::Full, narrow = words == Words::Narrow;
    const auto hertz = [&](const std::string& a4) {
      return narrow ? std::vector<std::string>{"A4 =", a4 + " Hz"} : std::vector<std::string>{"A4 = " + a4 + " Hz"};
    };
    columns_ = {{{"String"}, {}, Align::Centre, {}, {}},
                {{"Note"}, {}, Align::Left, {}, {}},
                {hertz("440"), {}, Align::Right, {}, {}}};
    if (followed != nullptr) {
      std::vector<std::string> heads = hertz(base::print_decimal(440.0 * std::exp2(cents_ / 1200.0), 1));
      std::vector<std::string> name{followed->name.value};
      for (std::size_t at; narrow && (at = name.back().find(' ')) != std::string::npos;) {
        name.push_back(name.back().substr(at + 1));
        name[name.size() - 2].resize(at);
      }
      heads.insert(heads.begin(), name.begin(), name.end());
      columns_.push_back({heads, {}, Align::Right, {}, {}});
    }
    std::vector<std::string> way_heads{"From usual"};
    if (brief) way_heads = {"Semitones", "from usual"};
    if (narrow) way_heads = {"Semi-", "tones"};
    columns_.push_back({way_heads, {}, Align::Left, {}, {}});
    columns_.push_back({{"Tension"}, {}, Align::Right, {}, {}});
    columns_.push_back({{"Order"}, {}, Align::Right, {}, {}});
    for (auto s = retuning_.strings.rbegin(); s != retuning_.strings.rend(); ++s) {
      std::size_t c = 0;
      columns_[c++].cells.push_back(std::to_string(s->string));
      columns_[c++].cells.push_back(course_words(part_.tuning.string(s->string), narrow));
      columns_[c++].cells.push_back(base::print_fixed(s->hertz_at_440, 1));
      if (followed != nullptr) columns_[c++].cells.push_back(base::print_fixed(s->hertz, 1));
      columns_[c++].cells.push_back(brief ? brief_way(s->semitones) : way(s->semitones));
      columns_[c++].cells.push_back(signed_share(s->tension));
      columns_[c++].cells.push_back(turn_of(s->string));
    }
  }

  void draw_row(std::size_t row, const StringRetune& string) {
    y_ += style_.body.size * 1.5;
    const Length base = y_ - style_.body.size * 0.34;
    const style::TypeRole plain = cells(style_.body), strong = bold(plain), figure = cells(style_.figure);
    const Colour way_colour = string.semitones == 0 ? style_.faint : style_.ink;
    for (std::size_t i = 0; i < columns_.size(); ++i) {
      const Column& c = columns_[i];
      const bool quiet = i + 3 == columns_.size() || i + 2 == columns_.size();
      const style::TypeRole& role = i == 0 ? figure : i == 1 ? strong : plain;
      const Kind kind = i == 0 ? Kind("ladder-string") : i == 1 ? Kind("ladder-note") : Kind("ladder-cell");
      put(*frame_, setting_, {edge(c), base}, c.cells[row], {role, quiet ? way_colour : style_.ink, kind, part_.origin},
          c.align);
    }
    rule(*frame_, {{}, y_}, setting_.body(), style_.rule, style_.ink, "ladder-line");
  }

  std::string turn_of(int string) const {
    for (std::size_t i = 0; i < retuning_.order.size(); ++i) {
      if (retuning_.order[i] == string) return ordinal(static_cast<int>(i) + 1);
    }
    return "\u2013";
  }

  const Setting& setting_;
  const style::Style& style_;
  const score::Part& part_;
  const theory::Retuning& retuning_;
  double cents_, size_ = 1;
  std::vector<Column> columns_;
  std::shared_ptr<Frame> frame_ = std::make_shared<Frame>();
  Length y_;
};

/// One place for each column of all ladders; the white left over goes between the columns in equal shares. Where there
/// is little of it, the words of the steps give way first, then the heads, in more lines, at last the size of the type.
void share_columns(const Setting& setting, std::vector<Ladder>& ladders) {
  using Words = Ladder::Words;
  constexpr std::pair<Words, double> kSteps[] = {{Words::Full, 1},     {Words::Brief, 1},    {Words::Narrow, 1},
                                                 {Words::Narrow, 0.9}, {Words::Narrow, 0.8}, {Words::Narrow, 0.7}};
  for (const auto& [words, size] : kSteps) {
    for (Ladder& ladder : ladders) ladder.fill(words, size);
    const std::size_t count = ladders.front().columns().size();
    Length gap = setting.body();
    for (std::size_t i = 0; i < count; ++i) {
      Length width;
      for (Ladder& ladder : ladders) width = std::max(width, ladder.columns()[i].width);
      for (Ladder& ladder : ladders) ladder.columns()[i].width = width;
      gap -= width;
    }
    gap = gap / static_cast<std::int64_t>(count - 1);
    for (Ladder& ladder : ladders) {
      Length x;
      for (Column& c : ladder.columns()) {
        c.left = x;
        x += c.width + gap;
      }
    }
    if (gap >= setting.style.body.size * (size < 1 ? 0.4 : 0.7)) return;
  }
}

layout::PathShape warning_sign(const Setting& setting, Length height) {
  using text::PathVerb;
  const Length half = height * 0.58;
  layout::PathShape sign;
  sign.steps = {{PathVerb::Move, {half, -height}, {}, {}},
                {PathVerb::Line, {half + half, {}}, {}, {}},
                {PathVerb::Line, {{}, {}}, {}, {}},
                {PathVerb::Close, {}, {}, {}},
                // The stroke and the dot inside.
                {PathVerb::Move, {half, height * -0.64}, {}, {}},
                {PathVerb::Line, {half, height * -0.34}, {}, {}},
                {PathVerb::Move, {half, height * -0.2}, {}, {}},
                {PathVerb::Line, {half, height * -0.15}, {}, {}}};
  sign.stroke = layout::Stroke{setting.style.rule * 1.6, setting.style.ink, {}, {}};
  return sign;
}

/// `lead` comes before "string 1 goes up".
FramePtr caution(const Setting& setting, const std::vector<std::string>& up, bool may_break, const std::string& lead) {
  if (up.empty()) return nullptr;
  const style::Style& style = setting.style;
  const bool one = up.size() == 1;
  const std::string strings = lead.empty() ? (one ? "String " : "Strings ") : lead + (one ? " string " : " strings ");
  std::string text = " " + strings + list_words(up) + (one ? " goes" : " go") +
                     " up. A string can snap: keep your face away, go up slowly, and ask a repairer if you are unsure.";
  if (may_break) text += " Three semitones or more is much for a string: a lighter one is safer.";
  const Length indent = style.body.size * 2;
  auto frame = std::make_shared<Frame>();
  frame->name = "caution";
  frame->role = Role::Paragraph;
  const auto words = prose(setting, {{{"Caution.", text_style(bold(style.body))}, {text, text_style(style.body)}},
                                     setting.body() - indent,
                                     style.body.size,
                                     style.ink,
                                     "caution",
                                     {},
                                     Role::None,
                                     "caution-words"});
  frame->children.push_back({{indent, {}}, words});
  frame->baseline = words->baseline;
  const Length height = style.body.size * 1.05;
  frame->items.push_back(
      {{{}, words->baseline + style.rule}, "caution-sign", layout::Layer::Ink, {}, {}, warning_sign(setting, height)});
  frame->size = {setting.body(), words->size.height};
  return frame;
}

FramePtr caution(const Setting& setting, const theory::Retuning& retuning) {
  std::vector<std::string> up;
  bool may_break = false;
  for (auto s = retuning.strings.rbegin(); s != retuning.strings.rend(); ++s) {
    if (s->semitones > 0) up.push_back(std::to_string(s->string));
    may_break = may_break || s->caution == theory::Caution::MayBreak;
  }
  return caution(setting, up, may_break, "");
}

/// Where a part's staff stands when that is not the page's key: beside a capo, or a transposing instrument.
std::string staff_words(const score::Part& part) {
  const int to_sound = part.to_concert.semitones % 12, from_page = part.from_page.semitones % 12;
  const auto steps = [](int semitones) { return counted(std::abs(semitones), "semitone", "semitones"); };
  if (to_sound != 0) {
    return "Written " + steps(to_sound) + (to_sound > 0 ? " below" : " above") + " what sounds.";
  }
  if (from_page == 0) return {};
  return "Written as it sounds, " + steps(from_page) + (from_page > 0 ? " above" : " below") +
         " the key at the head of this sheet.";
}

std::string capo_words(const score::Part& part) {
  if (part.partial_capo) {
    const song::CapoDef& capo = *part.partial_capo;
    std::vector<std::string> strings;
    for (const auto& s : capo.strings) strings.push_back(std::to_string(s.value));
    return "Partial capo at fret " + std::to_string(capo.fret.value) +
           (strings.size() == 1 ? ", on string " : ", on strings ") + list_words(strings) +
           "; frets count from the nut, and 0 is a string at the capo.";
  }
  if (part.capo == 0) return staff_words(part);
  return "Capo at fret " + std::to_string(part.capo) +
         "; frets and names on this sheet count from it, and all sounds " +
         counted(part.capo, "semitone", "semitones") + " higher.";
}

std::string near_words(const theory::NearestTuning& near) {
  std::string name = near.name == "usual" ? "the usual tuning" : near.name;
  if (near.semitones == 0 && near.differences.empty()) return {};
  std::string out = "Its intervals are those of " + name;
  if (near.semitones != 0) out += ", " + way(near.semitones);
  std::vector<std::string> but;
  for (const auto& d : near.differences) {
    but.push_back("string " + std::to_string(d.string) + " " + way(d.semitones));
  }
  if (!but.empty()) out += " (but " + list_words(but) + ")";
  return out + ".";
}

bool at_usual(const score::Part& part) {
  return part.tuning.same_pitches(part.usual) || part.usual.count() != part.tuning.count();
}

/// A part by its name, and what is said of it.
FramePtr named_line(const Setting& setting, const score::Part& part, const std::string& text) {
  const style::Style& style = setting.style;
  return prose(setting, {{{part.name.value, text_style(italic(style.body))}, {text, text_style(style.body)}},
                         setting.body(),
                         style.body.size,
                         style.ink,
                         "tuning-line",
                         part.origin,
                         Role::Paragraph,
                         "tuning-line"});
}

/// "guitar, open G: D2 G2 …"
FramePtr part_line(const Setting& setting, const score::Part& part, bool usual) {
  std::string name = usual ? "usual tuning" : part.tuning_name, near_text;
  if (name.empty()) {
    const auto near = theory::nearest_tuning(part.tuning, part.instrument.name);
    if (near && near->differences.size() < 3) {
      if (near->semitones == 0 && near->differences.empty()) name = near->name;
      near_text = near_words(*near);
    }
  }
  std::string text = name.empty() ? ": " : ": " + name + ", ";
  for (const theory::TunedString& s : part.tuning.strings) text += course_words(s) + " ";
  text.back() = '.';
  if (!near_text.empty()) text += " " + near_text;
  if (const std::string capo = capo_words(part); !capo.empty()) text += " " + capo;
  return named_line(setting, part, text);
}

/// What the columns count from, where a recording sets them.
FramePtr recording_aside(const Setting& setting, double cents) {
  if (setting.followed() == nullptr) return nullptr;
  const std::string& name = setting.followed()->name.value;
  const int semitones = static_cast<int>(std::lround(cents / 100));
  std::string text = "Tension at the pitch of this recording: " + name + ".";
  if (semitones != 0) {
    text += " The column for " + name + " is " + counted(std::abs(semitones), "semitone", "semitones") +
            (semitones > 0 ? " above" : " below") + " the notes named, as that recording sounds.";
  }
  return prose(setting, text, {setting.style.note, setting.style.faint, "tuning-aside"}, setting.body());
}

/// Which sections are played in which tuning, where the part is retuned within the song.
void add_retunes(Flow& flow, const Setting& setting, int index) {
  const style::Style& style = setting.style;
  const Length gap = style.body.size * 0.6;
  const score::Part& part = setting.song.parts[static_cast<std::size_t>(index)];
  const score::RetunesWithin within = score::retunes_within(setting.song, index);
  for (const auto& [tuned, sections] : within.tunings) {
    std::vector<std::string> names;
    for (const int s : sections) names.push_back(setting.song.sections[static_cast<std::size_t>(s)].name.value);
    flow.back().break_after = layout::BreakAfter::Forbidden;
    const std::string text = ", retuned within the song: " + tuned + " in " + list_words(names) + ".";
    flow.push_back(flow_item(named_line(setting, part, text), gap));
  }
  std::vector<std::string> up;
  for (auto s = within.up.rbegin(); s != within.up.rend(); ++s) up.push_back(std::to_string(*s));
  if (const FramePtr words = caution(setting, up, false, "Within the song")) {
    flow.back().break_after = layout::BreakAfter::Forbidden;
    flow.push_back(flow_item(words, gap));
  }
}

/// A part whose strings are not at their usual pitch: what is turned.
struct Retuned {
  int part = -1;
  theory::Retuning retuning;
  double cents = 0;
};

std::optional<Retuned> retuned(const Setting& setting, int index) {
  const score::Part& part = setting.song.parts[static_cast<std::size_t>(index)];
  if (at_usual(part)) return std::nullopt;
  const double cents = setting.followed() != nullptr ? string_cents(setting.followed()->cents, part.capo) : 0.0;
  auto retuning = theory::retune(part.usual, part.tuning, part.usual, theory::named_tunings(), cents);
  if (!retuning) return std::nullopt;
  return Retuned{index, std::move(*retuning), cents};
}

/// The ladders of a sheet stand under one row of heads and over one line on the recording, while nothing parts them.
class Ladders {
 public:
  Ladders(Flow& flow, const Setting& setting) : flow_(flow), setting_(setting) {
    for (const int p : setting.parts) {
      if (auto one = retuned(setting, p)) retuned_.push_back(std::move(*one));
    }
    for (const Retuned& one : retuned_) {
      ladders_.emplace_back(setting, part(one.part), one.retuning, one.cents);
    }
    if (!ladders_.empty()) share_columns(setting, ladders_);
  }

  void add(int index) {
    flow_.push_back(flow_item(part_line(setting_, part(index), at_usual(part(index))), gap_));
    if (next_ == retuned_.size() || retuned_[next_].part != index) return;
    const Retuned& one = retuned_[next_];
    hold();
    if (const FramePtr words = caution(setting_, one.retuning)) {
      flow_.push_back(flow_item(words, gap_));
      hold();
    }
    flow_.push_back(flow_item(ladders_[next_].draw(!follows_), gap_));
    follows_ = next_ + 1 < retuned_.size() && retuned_[next_ + 1].part == after(index) &&
               retuned_[next_ + 1].cents == one.cents && !retunes_within(index);
    ++next_;
    if (follows_) {
      hold();
    } else if (const FramePtr line = recording_aside(setting_, one.cents)) {
      hold();
      flow_.push_back(flow_item(line, gap_));
    }
  }

 private:
  const score::Part& part(int index) const { return setting_.song.parts[static_cast<std::size_t>(index)]; }
  /// The next part with strings, or -1.
  int after(int index) const {
    auto p = std::ranges::find(setting_.parts, index);
    while (++p != setting_.parts.end()) {
      if (part(*p).tuning.count() != 0) return *p;
    }
    return -1;
  }
  bool retunes_within(int index) const { return !score::retunes_within(setting_.song, index).tunings.empty(); }
  void hold() { flow_.back().break_after = layout::BreakAfter::Forbidden; }

  Flow& flow_;
  const Setting& setting_;
  Length gap_ = setting_.style.body.size * 0.6;
  std::vector<Retuned> retuned_;
  std::vector<Ladder> ladders_;
  std::size_t next_ = 0;
  bool follows_ = false;  ///< the ladder before left its heads and its line to this one
};

}  // namespace

Flow tuning_ladder(const Setting& setting) {
  Flow flow;
  Ladders ladders(flow, setting);
  for (const int p : setting.parts) {
    const score::Part& part = setting.song.parts[static_cast<std::size_t>(p)];
    if (part.tuning.count() == 0) continue;
    if (flow.empty()) flow.push_back(block_heading(setting, "Tuning"));
    ladders.add(p);
    add_retunes(flow, setting, p);
  }
  return flow;
}

}  // namespace tunesheaf::blocks

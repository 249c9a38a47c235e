#include "tunesheaf/blocks/map.h"

#include <algorithm>
#include <cstdlib>
#include <map>
#include <string_view>
#include <utility>

#include "pen.h"
#include "tunesheaf/blocks/section.h"
#include "tunesheaf/blocks/words.h"

namespace tunesheaf::blocks {
namespace {

using layout::Layer;
using song::FormWord;

/// One step of the form that has bars.
struct Stretch {
  int step = 0;
  const score::Section* section = nullptr;
  int bars = 0;             ///< as played in this step
  std::vector<int> passes;  ///< bars of each pass
  double seconds = 0;       ///< where it begins: in the recording followed, else as played
  int row = 0;
  Length x, width;
  int pick_ups = 0;  ///< of its bars, not counted in words
};

struct Jump {
  int from_step = 0, to_step = 0;  ///< from the end of one step to the beginning of another
  std::string words;
};

std::vector<Stretch> stretches(const score::Timeline& song) {
  std::vector<Stretch> out;
  std::map<int, std::size_t> by_step;
  for (std::size_t i = 0; i < song.form.size(); ++i) {
    const score::FormStep& step = song.form[i];
    if (step.section < 0) continue;
    by_step[static_cast<int>(i)] = out.size();
    out.push_back({static_cast<int>(i), &song.sections[static_cast<std::size_t>(step.section)], 0, {}, -1, 0, {}, {}});
  }
  // Of a step that a jump comes back to, the first time round is shown.
  std::map<int, std::pair<int, int>> seen;  // step: last pass, last bar
  std::map<int, bool> done;
  int current = -1;
  for (const score::PlayedBar& bar : song.played) {
    if (bar.step != current) {
      if (current >= 0) done[current] = true;
      current = bar.step;
    }
    const auto at = by_step.find(bar.step);
    if (at == by_step.end() || done[bar.step]) continue;
    Stretch& stretch = out[at->second];
    if (stretch.seconds < 0) stretch.seconds = bar.seconds;
    auto& [pass, last] = seen[bar.step];
    if (stretch.bars == 0 || pass != bar.pass) stretch.passes.push_back(0);
    pass = bar.pass;
    last = bar.bar;
    ++stretch.passes.back();
    ++stretch.bars;
    stretch.pick_ups += stretch.section->bars[static_cast<std::size_t>(bar.bar)].pick_up ? 1 : 0;
  }
  std::erase_if(out, [](const Stretch& s) { return s.bars == 0; });
  return out;
}

/// Sections whose place in the followed recording is stated begin there, where they come first; what stands between
/// goes on from the one before.
void set_by_recording(std::vector<Stretch>& all, int recording) {
  double ahead = 0;
  std::vector<const score::Section*> placed;
  for (Stretch& s : all) {
    const bool again = std::find(placed.begin(), placed.end(), s.section) != placed.end();
    for (const auto& [of, seconds] : s.section->at) {
      if (of == recording && !again) ahead = seconds.to_double() - s.seconds;
    }
    placed.push_back(s.section);
    s.seconds = std::max(0.0, s.seconds + ahead);
  }
}

/// "D.S. al Coda", as the score has it.
std::string with_capitals(std::string words) {
  for (const auto& [small, large] : {std::pair(" coda", " Coda"), std::pair(" fine", " Fine")}) {
    const std::size_t at = words.find(small);
    if (at != std::string::npos) words.replace(at, std::string_view(small).size(), large);
  }
  return words;
}

int letter_tone(const std::string& letter) {
  // "A", "A′", "B" …: sections alike share the tone of their letter.
  return letter.empty() ? 0 : (letter[0] - 'A') % 6;
}

/// Slanted or straight lines clipped to a box: patterns that survive a copier.
void hatch(Frame& frame, const Setting& setting, const base::Rect& box, int tone) {
  const style::Style& style = setting.style;
  const layout::Stroke stroke{style.rule, style.faint, {}, {}};
  const Length pitch = style.body.size * 0.42;
  const auto line = [&](Point a, Point b) {
    frame.items.push_back({a, "map-hatch", Layer::Tint, {}, {}, layout::LineShape{b - a, stroke}});
  };
  const bool level = tone == 3, slanted = tone == 2 || tone == 5, upright = tone == 4;
  if (level) {
    for (Length y = box.top() + pitch; y < box.bottom(); y += pitch) line({box.left(), y}, {box.right(), y});
  }
  if (upright) {
    for (Length x = box.left() + pitch; x < box.right(); x += pitch) line({x, box.top()}, {x, box.bottom()});
  }
  if (!slanted) return;
  for (Length start = box.left() - box.height + pitch; start < box.right(); start += pitch) {
    const Length x0 = std::max(start, box.left()), x1 = std::min(start + box.height, box.right());
    if (x1 <= x0) continue;
    const Length y0 = x0 - start, y1 = x1 - start;
    if (tone == 2) {
      line({x0, box.bottom() - y0}, {x1, box.bottom() - y1});
    } else {
      line({x0, box.top() + y0}, {x1, box.top() + y1});
    }
  }
}

class Map {
 public:
  explicit Map(const Setting& setting)
      : setting_(setting), style_(setting.style), stretches_(stretches(setting.song)), jumps_(find_jumps()) {
    if (setting.recording >= 0) set_by_recording(stretches_, setting.recording);
  }

  Flow draw() {
    if (stretches_.empty()) return {};
    place();
    int bars = 0;
    bool video = false;
    for (const Stretch& s : stretches_) {
      bars += s.bars - s.pick_ups;
      video = video || s.section->video;
    }
    std::string aside = counted(bars, "bar", "bars") + " to scale";
    if (clock_known()) aside += ", " + clock(setting_.song.seconds) + " as played";
    if (video) aside += "; with a triangle: in the video";
    Flow flow{block_heading(setting_, "Form", aside)};
    for (int row = 0; row < rows_; ++row) {
      flow.push_back(flow_item(draw_row(row), style_.body.size * 0.3));
      if (row + 1 < rows_) flow.back().break_after = layout::BreakAfter::Forbidden;
    }
    if (const FramePtr sentence = rule_of_repeats()) {
      flow.back().break_after = layout::BreakAfter::Forbidden;
      flow.push_back(flow_item(sentence, style_.body.size * 0.3));
    }
    return flow;
  }

 private:
  /// Whether repeats are taken after a jump back: said where both occur.
  FramePtr rule_of_repeats() const {
    const bool jumps = std::any_of(setting_.song.form.begin(), setting_.song.form.end(), [](const auto& step) {
      return step.entry.word == FormWord::DalSegno || step.entry.word == FormWord::DaCapo;
    });
    const bool repeats = std::any_of(stretches_.begin(), stretches_.end(),
                                     [](const Stretch& s) { return s.section->times > 1 || s.passes.size() > 1; });
    if (!jumps || !repeats) return nullptr;
    return prose(setting_, "What D.C. or D.S. brings again is played once, with its last ending.",
                 {italic(style_.note), style_.ink, "map-rule"}, setting_.body());
  }

  /// Rows of one scale: as few as give the narrowest section room for its letter and time.
  void place() {
    int all = 0, least = 1 << 20;
    for (const Stretch& s : stretches_) {
      all += s.bars;
      least = std::min(least, s.bars);
    }
    const Length needed = style_.body.size * 1.9;
    rows_ = 1;
    while (rows_ < 4 && setting_.body() * (static_cast<double>(rows_ * least) / all) < needed) ++rows_;
    for (;; ++rows_) {
      bar_ = setting_.body() * (static_cast<double>(rows_) / all);
      if (fill_rows() || rows_ > static_cast<int>(stretches_.size())) break;
      // A row that is broken before its end needs a smaller scale: the longest row sets it.
      bar_ = setting_.body() * (1.0 / longest_row());
      fill_rows();
      break;
    }
  }

  int longest_row() const {
    std::map<int, int> bars;
    for (const Stretch& s : stretches_) bars[s.row] += s.bars;
    int most = 1;
    for (const auto& [row, count] : bars) most = std::max(most, count);
    return most;
  }

  /// Steps shared out over rows by their bars; true when all fit.
  bool fill_rows() {
    int all = 0;
    for (const Stretch& s : stretches_) all += s.bars;
    const double share = static_cast<double>(all) / rows_;
    int before = 0;
    Length x;
    int row = 0;
    bool fits = true;
    for (Stretch& s : stretches_) {
      const int wanted = std::min(rows_ - 1, static_cast<int>((before + s.bars / 2.0) / share));
      if (wanted != row) {
        row = wanted;
        x = {};
      }
      s.row = row;
      s.x = x;
      s.width = bar_ * s.bars;
      x += s.width;
      fits = fits && x <= setting_.body() + Length::pt(0.5);
      before += s.bars;
    }
    return fits;
  }

  std::vector<Jump> find_jumps() const {
    std::vector<Jump> out;
    const auto& form = setting_.song.form;
    int segno = 0, coda = -1, to_coda = -1;
    for (int i = 0; i < static_cast<int>(form.size()); ++i) {
      const song::FormEntry& entry = form[static_cast<std::size_t>(i)].entry;
      if (entry.word == FormWord::Segno) segno = i;
      if (entry.word == FormWord::Coda) coda = i;
      if (entry.word == FormWord::ToCoda) to_coda = i;
      if (entry.word == FormWord::DalSegno) out.push_back({i, segno, with_capitals(entry.text.value)});
      if (entry.word == FormWord::DaCapo) out.push_back({i, 0, with_capitals(entry.text.value)});
    }
    if (to_coda >= 0 && coda >= 0) out.push_back({to_coda, coda, "To Coda"});
    // Short ways lie low, long ways over them.
    std::stable_sort(out.begin(), out.end(), [](const Jump& a, const Jump& b) {
      return std::abs(a.to_step - a.from_step) < std::abs(b.to_step - b.from_step);
    });
    return out;
  }

  /// The edge between what stands before a step and what stands after it.
  const Stretch* before(int step) const {
    const Stretch* found = nullptr;
    for (const Stretch& s : stretches_) {
      if (s.step < step) found = &s;
    }
    return found;
  }
  const Stretch* after(int step) const {
    for (const Stretch& s : stretches_) {
      if (s.step >= step) return &s;
    }
    return nullptr;
  }

  FramePtr draw_row(int row) {
    auto frame = std::make_shared<Frame>();
    frame->name = "map";
    frame->role = Role::Figure;
    const Length head = jumps_in(row) * (style_.body.size * 1.25) + style_.body.size * 0.4;
    const Length height = style_.body.size * 2.4;
    draw_jumps(*frame, row, head);
    Length time_end = -style_.body.size;
    for (const Stretch& s : stretches_) {
      if (s.row == row) draw_stretch(*frame, s, {s.x, head, s.width, height}, time_end);
    }
    frame->baseline = head;
    frame->size = {setting_.body(), head + height + style_.small.size * 4};
    return frame;
  }

  void draw_stretch(Frame& frame, const Stretch& s, const base::Rect& box, Length& time_end) {
    const score::Section& section = *s.section;
    const int tone = returns(section.letter) ? letter_tone(section.letter) : 0;
    layout::RectShape area;
    area.size = {box.width, box.height};
    area.fill = tone == 1 ? style_.tint : style_.ground;
    area.stroke = layout::Stroke{style_.rule, style_.ink, {}, {}};
    frame.items.push_back({{box.x, box.y}, "map-area", Layer::Tint, section.origin, {}, area});
    if (tone >= 2) hatch(frame, setting_, box, tone);
    letters(frame, s, box);
    if (s.section->times > 1 && s.passes.size() == 1) {
      put(frame, setting_, {box.right() - style_.rule * 3, box.y + style_.small.size},
          "×" + std::to_string(section.times), {style_.small, style_.ink, "map-times", section.origin}, Align::Right);
    }
    times(frame, s, box, time_end);
  }

  /// A pattern helps the eye where a letter comes back, and nowhere else.
  bool returns(const std::string& letter) const {
    if (letter.empty()) return false;
    return std::count_if(stretches_.begin(), stretches_.end(), [&](const Stretch& s) {
             return !s.section->letter.empty() && s.section->letter[0] == letter[0];
           }) > 1;
  }

  /// The letter in every pass, a dashed line between two passes; once only where there is no room for more.
  void letters(Frame& frame, const Stretch& s, const base::Rect& box) {
    const std::string& text = s.section->letter;
    const Length needed = width_of(setting_, text, style_.section_name) + style_.section_name.size * 0.7;
    const bool all = std::all_of(s.passes.begin(), s.passes.end(), [&](int bars) { return bar_ * bars > needed; });
    if (!all || s.passes.size() < 2) return letter(frame, *s.section, box);
    int bars = 0;
    for (const int pass : s.passes) {
      const base::Rect part{box.x + bar_ * bars, box.y, bar_ * pass, box.height};
      if (bars > 0) {
        const layout::Stroke stroke{style_.rule, style_.ink, {}, {style_.rule * 3, style_.rule * 3}};
        frame.items.push_back(
            {{part.x, box.y}, "map-pass", Layer::Line, {}, {}, layout::LineShape{{{}, box.height}, stroke}});
      }
      letter(frame, *s.section, part);
      bars += pass;
    }
  }

  void letter(Frame& frame, const score::Section& section, const base::Rect& box) {
    const style::TypeRole& role = style_.section_name;
    const Length width = width_of(setting_, section.letter, role), pad = role.size * 0.22;
    const Length x = box.x + box.width / 2, base = box.y + box.height / 2 + role.size * 0.33;
    layout::RectShape knock;
    knock.size = {width + pad + pad, box.height - style_.rule * 2};
    knock.fill = style_.ground;
    if (returns(section.letter) && letter_tone(section.letter) >= 2 && knock.size.width + style_.rule * 2 < box.width) {
      frame.items.push_back(
          {{x - knock.size.width / 2, box.y + style_.rule}, "map-knockout", Layer::Knockout, {}, {}, knock});
    }
    put(frame, setting_, {x, base}, section.letter, {role, style_.accent, "map-letter", section.origin}, Align::Centre);
  }

  /// Without a tempo in figures, stated or implied by the times of a recording, no time of ours is printed.
  bool clock_known() const {
    const score::Timeline& song = setting_.song;
    return (song.tempo && song.tempo->per_minute != base::Fraction{}) || !song.implied_tempos.empty();
  }

  /// Beneath a stretch: when it comes as played, its name, and where it is in the video.
  void times(Frame& frame, const Stretch& s, const base::Rect& box, Length& time_end) {
    const Span origin = s.section->origin;
    const style::TypeRole& role = style_.small;
    const Length line = role.size * 1.25, base = box.bottom() + role.size * 1.15, x = box.x + style_.rule;
    const Length gap = role.size * 0.5;
    const std::string name = shortened(s.section->name.value, role, box.width - gap);
    put(frame, setting_, {x, base + line}, name, {role, style_.faint, "map-name", origin});
    if (x < time_end + gap) return;
    if (clock_known()) {
      time_end = x + put(frame, setting_, {x, base}, clock(s.seconds), {role, style_.ink, "map-time", origin});
    }
    if (!s.section->video || !first_step_of(s)) return;
    const std::string time = clock(*s.section->video);
    const Length sign = role.size * 0.75, width = sign + width_of(setting_, time, role);
    if (width + gap > box.width) return;
    put_play_sign(frame, setting_, {x, base + line * 2}, role.size);
    put(frame, setting_, {x + sign, base + line * 2}, time, {role, style_.ink, "map-video-time", origin});
    if (setting_.song.video) {
      frame.items.push_back(
          {{x, base + line * 2 - role.size},
           "video-link",
           Layer::Overlay,
           origin,
           {},
           layout::LinkShape{{width, line}, video_link(setting_.song.video->value, *s.section->video)}});
    }
  }

  /// Cut to `room`, with an ellipsis; a whole character at a time.
  std::string shortened(std::string text, const style::TypeRole& role, Length room) const {
    if (width_of(setting_, text, role) <= room) return text;
    while (!text.empty() && width_of(setting_, text + "…", role) > room) {
      while (text.size() > 1 && (static_cast<unsigned char>(text.back()) & 0xC0U) == 0x80U) text.pop_back();
      text.pop_back();
    }
    return text.empty() ? text : text + "…";
  }

  bool first_step_of(const Stretch& s) const {
    for (const Stretch& other : stretches_) {
      if (other.section == s.section) return &other == &s;
    }
    return false;
  }

  int jumps_in(int row) const {
    int count = 0;
    for (const Jump& jump : jumps_) {
      const Stretch* from = before(jump.from_step);
      count += from != nullptr && from->row == row ? 1 : 0;
    }
    return count;
  }

  /// An angled line from the end of one step up, across, and down to the beginning of another, with its words on it.
  void draw_jumps(Frame& frame, int row, Length top) {
    Length level = top - style_.body.size * 0.9;
    for (const Jump& jump : jumps_) {
      const Stretch *from = before(jump.from_step), *to = after(jump.to_step);
      if (from == nullptr || to == nullptr || from->row != row) continue;
      const Length x0 = from->x + from->width - style_.rule * 5;
      const Length x1 = to->row == row ? to->x + style_.rule * 5 : to->row < row ? Length{} : setting_.body();
      const layout::Stroke stroke{style_.rule, style_.ink, {}, {}};
      const auto line = [&](Point a, Point b) {
        frame.items.push_back({a, "map-jump", Layer::Line, {}, {}, layout::LineShape{b - a, stroke}});
      };
      const Length foot = top - style_.rule * 2;
      line({x0, foot}, {x0, level});
      const Length middle = std::min(x0, x1) + base::abs(x1 - x0) / 2;
      const Length half = jump_words(frame, jump.words, {middle, level}, base::abs(x1 - x0) - style_.rule * 8);
      line({std::min(x0, x1), level}, {middle - half, level});
      line({middle + half, level}, {std::max(x0, x1), level});
      if (to->row == row) line({x1, level}, {x1, foot});
      const Length tip = style_.body.size * 0.5;
      const Point along = to->row == row ? Point{{}, tip} : Point{to->row < row ? -tip : tip, {}};
      const Point end = to->row == row ? Point{x1, foot} : Point{x1, level};
      layout::PathShape head{text::moved(text::arrow_head(along, tip, tip * 0.8), end), style_.ink, std::nullopt};
      frame.items.push_back({{}, "map-arrow", Layer::Ink, {}, {}, head});
      level -= style_.body.size * 1.25;
    }
  }

  /// Words in the middle of a jump's line; half the gap they need, nothing where they find no room.
  Length jump_words(Frame& frame, const std::string& words, Point at, Length room) {
    const style::TypeRole& role = style_.bar_number;
    const Length width = width_of(setting_, words, role) + role.size * 0.6;
    if (width > room) return {};
    put(frame, setting_, {at.x, at.y + role.size * 0.3}, words, {role, style_.ink, "map-jump-words"}, Align::Centre);
    return width / 2;
  }

  const Setting& setting_;
  const style::Style& style_;
  std::vector<Stretch> stretches_;
  std::vector<Jump> jumps_;
  int rows_ = 1;
  Length bar_;
};

}  // namespace

Flow section_map(const Setting& setting) {
  return Map(setting).draw();
}

}  // namespace tunesheaf::blocks

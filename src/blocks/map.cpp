#include "tunesheaf/blocks/map.h"

#include <algorithm>
#include <map>
#include <utility>

#include "map_area.h"
#include "map_parts.h"
#include "tunesheaf/blocks/section.h"
#include "tunesheaf/blocks/words.h"
#include "tunesheaf/text/cut.h"

namespace tunesheaf::blocks {
namespace {

using layout::Layer;
using song::FormWord;

/// A step of the form in its place.
struct Stretch {
  MapStep form;
  int row = 0;
  Length x, width;

  const score::Section& section() const { return *form.section; }
};

class Map {
 public:
  explicit Map(const Setting& setting) : Map(setting, map_steps(setting.song)) {}

  Flow draw() {
    if (stretches_.empty()) return {};
    place();
    Flow flow{block_heading(setting_, "Form", aside())};
    for (int row = 0; row < rows_; ++row) {
      flow.push_back(flow_item(draw_row(row), style_.body.size * 0.3));
      if (row + 1 < rows_) flow.back().break_after = layout::BreakAfter::Forbidden;
    }
    if (const std::string words = rules(); !words.empty()) {
      flow.back().break_after = layout::BreakAfter::Forbidden;
      const style::TypeRole role = italic(style_.note);
      flow.push_back(
          flow_item(prose(setting_, words, {role, style_.ink, "map-rule"}, setting_.body()), style_.body.size * 0.3));
    }
    return flow;
  }

 private:
  Map(const Setting& setting, std::vector<MapStep> steps)
      : setting_(setting),
        style_(setting.style),
        jumps_(map_jumps(setting.song)),
        parts_(setting, steps),
        left_(parts_.label_width()),
        scale_(setting.body() - left_) {
    if (setting.recording >= 0) set_by_recording(steps, setting.recording);
    for (MapStep& step : steps) stretches_.push_back({std::move(step), 0, {}, {}});
  }

  std::string aside() const {
    int bars = 0;
    bool video = false;
    for (const Stretch& s : stretches_) {
      bars += s.form.count() - s.form.pick_ups;
      video = video || s.section().video;
    }
    std::string out = counted(bars, "bar", "bars") + " to scale";
    if (clock_known()) out += ", " + clock(setting_.song.seconds) + " as played";
    if (video) out += "; with a triangle: in the video";
    return out;
  }

  /// Whether repeats are taken after a jump back, said where both occur; and what the rows of the parts need.
  std::string rules() const {
    const bool jumps = std::any_of(setting_.song.form.begin(), setting_.song.form.end(), [](const auto& step) {
      return step.entry.word == FormWord::DalSegno || step.entry.word == FormWord::DaCapo;
    });
    const bool repeats = std::any_of(stretches_.begin(), stretches_.end(), [](const Stretch& s) {
      return s.section().times > 1 || s.form.passes.size() > 1;
    });
    std::string out;
    if (jumps && repeats) out = "What D.C. or D.S. brings again is played once, with its last ending.";
    const std::string more = parts_.words();
    if (!out.empty() && !more.empty()) out += ' ';
    return out + more;
  }

  int all_bars() const {
    int all = 0;
    for (const Stretch& s : stretches_) all += s.form.count();
    return all;
  }

  /// Rows of one scale: as few as give the narrowest section room for its letter and time.
  void place() {
    const int all = all_bars();
    int least = all;
    for (const Stretch& s : stretches_) least = std::min(least, s.form.count());
    const Length needed = style_.body.size * 1.9;
    while (rows_ < 4 && scale_ * (static_cast<double>(rows_ * least) / all) < needed) ++rows_;
    bar_ = scale_ * (static_cast<double>(rows_) / all);
    if (fill_rows()) return;
    // A row that is broken before its end needs a smaller scale: the longest row sets it.
    bar_ = scale_ * (1.0 / longest_row());
    fill_rows();
  }

  int longest_row() const {
    std::map<int, int> bars;
    for (const Stretch& s : stretches_) bars[s.row] += s.form.count();
    int most = 1;
    for (const auto& [row, count] : bars) most = std::max(most, count);
    return most;
  }

  /// Steps shared out over rows by their bars; true when all fit.
  bool fill_rows() {
    const double share = static_cast<double>(all_bars()) / rows_;
    int before = 0, row = 0;
    Length x = left_;
    bool fits = true;
    for (Stretch& s : stretches_) {
      const int bars = s.form.count();
      const int wanted = std::min(rows_ - 1, static_cast<int>((before + bars / 2.0) / share));
      if (wanted != row) {
        row = wanted;
        x = left_;
      }
      s.row = row;
      s.x = x;
      s.width = bar_ * bars;
      x += s.width;
      fits = fits && x <= setting_.body() + Length::pt(0.5);
      before += bars;
    }
    return fits;
  }

  /// The edge between what stands before a step and what stands after it.
  const Stretch* before(int step) const {
    const Stretch* found = nullptr;
    for (const Stretch& s : stretches_) {
      if (s.form.step < step) found = &s;
    }
    return found;
  }
  const Stretch* after(int step) const {
    for (const Stretch& s : stretches_) {
      if (s.form.step >= step) return &s;
    }
    return nullptr;
  }

  FramePtr draw_row(int row) {
    auto frame = std::make_shared<Frame>();
    frame->name = "map";
    frame->role = Role::Figure;
    const Length head = jumps_in(row) * (style_.body.size * 1.25) + style_.body.size * 0.4;
    const Length foot = head + style_.body.size * 2.4;
    const Length rows = foot + (parts_.empty() ? Length{} : style_.small.size * 0.35), bottom = rows + parts_.height();
    draw_jumps(*frame, row, head);
    parts_.put_names(*frame, rows);
    Ends ends{left_ - style_.body.size, left_ - style_.body.size, left_ - style_.body.size};
    Length right = left_;
    for (const Stretch& s : stretches_) {
      if (s.row != row) continue;
      put_map_area(*frame, setting_, s.form, {s.x, head, s.width, foot - head},
                   returns(s.section().letter) ? Pattern::OfItsLetter : Pattern::Plain);
      parts_.put_step(*frame, s.form, {s.x, rows}, bar_);
      times(*frame, s, bottom, ends);
      video_time(*frame, s, bottom, ends);
      edge(*frame, s.x, foot, bottom);
      right = s.x + s.width;
    }
    edge(*frame, right, foot, bottom);
    frame->baseline = head;
    frame->size = {setting_.body(), bottom + style_.small.size * (ends.lower > left_ ? 5.25 : 4)};
    return frame;
  }

  /// The edge of a section goes on through the rows of the parts.
  void edge(Frame& frame, Length x, Length from, Length to) {
    if (parts_.empty()) return;
    const layout::Stroke stroke{style_.rule, style_.ink, {}, {}};
    frame.items.push_back({{x, from}, "map-edge", Layer::Line, {}, {}, layout::LineShape{{{}, to - from}, stroke}});
  }

  bool returns(const std::string& letter) const {
    if (letter.empty()) return false;
    return std::count_if(stretches_.begin(), stretches_.end(), [&](const Stretch& s) {
             return !s.section().letter.empty() && s.section().letter[0] == letter[0];
           }) > 1;
  }

  /// Without a tempo in figures, stated or implied by the times of a recording, no time of ours is printed.
  bool clock_known() const {
    const score::Timeline& song = setting_.song;
    return (song.tempo && song.tempo->per_minute != base::Fraction{}) || !song.implied_tempos.empty();
  }

  /// How far the figures under a row of stretches reach: times as played, times in the video, and those of them that
  /// stand a line lower.
  struct Ends {
    Length times, video, lower;
  };

  /// Beneath a stretch: when it comes as played, and its name.
  void times(Frame& frame, const Stretch& s, Length top, Ends& ends) {
    const Span origin = s.section().origin;
    const style::TypeRole& role = style_.small;
    const Length line = role.size * 1.25, base = top + role.size * 1.15, x = s.x + style_.rule;
    const Length gap = role.size * 0.5;
    // A name of which little is left says nothing; the letter does.
    const std::string& full = s.section().name.value;
    const std::string name = text::cut_to(setting_.shaper, full, text_style(role), s.width - gap);
    if (name.size() * 2 > full.size())
      put(frame, setting_, {x, base + line}, name, {role, style_.faint, "map-name", origin});
    if (x < ends.times + gap) return;
    if (const std::string time = clock(s.form.seconds);
        clock_known() && x + width_of(setting_, time, role) <= setting_.body()) {
      ends.times = x + put(frame, setting_, {x, base}, time, {role, style_.ink, "map-time", origin});
    }
  }

  /// Where a section is in the video; a line lower under a stretch that is narrower than the time.
  void video_time(Frame& frame, const Stretch& s, Length top, Ends& ends) {
    if (!s.section().video || !first_step_of(s)) return;
    const style::TypeRole& role = style_.small;
    const Length line = role.size * 1.25, x = s.x + style_.rule, gap = role.size * 0.5;
    const std::string time = clock(*s.section().video);
    const Length sign = role.size * 0.75, width = sign + width_of(setting_, time, role);
    const bool beneath = width + gap <= s.width && x >= ends.video + gap;
    Length& end = beneath ? ends.video : ends.lower;
    if (x < end + gap || x + width > setting_.body()) return;
    const Length base = top + role.size * 1.15 + line * (beneath ? 2 : 3);
    const Span origin = s.section().origin;
    put_play_sign(frame, setting_, {x, base}, role.size);
    put(frame, setting_, {x + sign, base}, time, {role, style_.ink, "map-video-time", origin});
    end = x + width;
    if (setting_.song.video) {
      frame.items.push_back(
          {{x, base - role.size},
           "video-link",
           Layer::Overlay,
           origin,
           {},
           layout::LinkShape{{width, line}, video_link(setting_.song.video->value, *s.section().video)}});
    }
  }

  bool first_step_of(const Stretch& s) const {
    for (const Stretch& other : stretches_) {
      if (other.form.section == s.form.section) return &other == &s;
    }
    return false;
  }

  int jumps_in(int row) const {
    int count = 0;
    for (const MapJump& jump : jumps_) {
      const Stretch* from = before(jump.from);
      count += from != nullptr && from->row == row ? 1 : 0;
    }
    return count;
  }

  /// An angled line from the end of one step up, across, and down to the beginning of another, with its words on it.
  void draw_jumps(Frame& frame, int row, Length top) {
    Length level = top - style_.body.size * 0.9;
    std::vector<Length> uprights = uprights_of(row);
    for (const MapJump& jump : jumps_) {
      const Stretch *from = before(jump.from), *to = after(jump.to);
      if (from == nullptr || to == nullptr || from->row != row) continue;
      const Length x0 = foot_of(*from), x1 = head_of(*to, row);
      uprights.erase(uprights.begin(), uprights.begin() + (to->row == row ? 2 : 1));
      const layout::Stroke stroke{style_.rule, style_.ink, {}, {}};
      const auto line = [&](Point a, Point b) {
        frame.items.push_back({a, "map-jump", Layer::Line, {}, {}, layout::LineShape{b - a, stroke}});
      };
      const Length foot = top - style_.rule * 2;
      line({x0, foot}, {x0, level});
      const auto [middle, room] = widest_gap(std::min(x0, x1), std::max(x0, x1), uprights);
      const Length half = jump_words(frame, jump.words, {middle, level}, room - style_.rule * 8);
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

  Length foot_of(const Stretch& from) const { return from.x + from.width - style_.rule * 5; }
  Length head_of(const Stretch& to, int row) const {
    return to.row == row ? to.x + style_.rule * 5 : to.row < row ? left_ : setting_.body();
  }

  /// Of the jumps of a row, in order: those of a later one cross the lines of the earlier ones.
  std::vector<Length> uprights_of(int row) {
    std::vector<Length> all;
    for (const MapJump& jump : jumps_) {
      const Stretch *from = before(jump.from), *to = after(jump.to);
      if (from == nullptr || to == nullptr || from->row != row) continue;
      all.push_back(foot_of(*from));
      if (to->row == row) all.push_back(head_of(*to, row));
    }
    return all;
  }

  /// Middle and width of the widest stretch of a line that nothing crosses.
  static std::pair<Length, Length> widest_gap(Length from, Length to, std::vector<Length> crossing) {
    crossing.push_back(to);
    std::sort(crossing.begin(), crossing.end());
    std::pair<Length, Length> best{from, {}};
    for (const Length at : crossing) {
      if (at <= from || at > to) continue;
      if (at - from > best.second) best = {from + (at - from) / 2, at - from};
      from = at;
    }
    return best;
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
  std::vector<MapJump> jumps_;
  PartRows parts_;
  Length left_, scale_;  ///< where the scale begins, and how long it is
  std::vector<Stretch> stretches_;
  int rows_ = 1;
  Length bar_;
};

}  // namespace

Flow section_map(const Setting& setting) {
  return Map(setting).draw();
}

}  // namespace tunesheaf::blocks

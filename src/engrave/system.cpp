#include "tunesheaf/engrave/system.h"

#include <algorithm>
#include <deque>
#include <iterator>
#include <limits>
#include <optional>
#include <set>

#include "breaker.h"
#include "cue_staff.h"
#include "draw.h"
#include "marks.h"
#include "rests.h"
#include "rows.h"
#include "staff_groups.h"
#include "tab_held.h"
#include "tunesheaf/engrave/common_signs.h"
#include "tunesheaf/layout/lines.h"
#include "wide_bars.h"

namespace tunesheaf::engrave {

using layout::Layer;

namespace {

constexpr double kNameShare = 0.17;  ///< of the width, at most, for the names of parts
/// A last system that is fuller than this goes to the margin: one that stops short of it looks like a mistake.
constexpr double kWorthFilling = 0.6;

class SectionEngraver : public Setter {
 public:
  SectionEngraver(const SectionRequest& request, const style::Style& style, text::Shaper& shaper,
                  text::MusicFont& music_font)
      : request_(request),
        style_(style),
        timeline_(*request.timeline),
        section_(timeline_.sections[static_cast<std::size_t>(request.section)]),
        plans_(plan_staves(request, style)),
        inks_{style, shaper, music_font, style.staff_space, {}},
        music_{request_, timeline_, section_, plans_, inks_},
        groups_(groups_of(plans_)),
        cues_(request_, plans_) {}

  std::set<int> break_lines() override {
    if (plans_.empty() || section_.bars.empty()) return {};
    for (StaffPlan& plan : plans_) layout_chords(plan, timeline_, inks_);
    music_.cues = &cues_.plans();
    bars_ = cues_.space(music_);
    first_margin_ = margin(request_.first_names) + request_.first_indent;
    later_margin_ = margin(request_.later_names);
    breaker_.emplace(music_, bars_, first_margin_, later_margin_);
    firsts_ = breaker_->run();
    std::set<int> torn;
    for (const std::size_t first : firsts_) {
      for (const StaffPlan& plan : plans_) {
        const BarRepeat repeat = first < plan.bars.size() ? plan.bars[first].repeat : BarRepeat::None;
        if (repeat != BarRepeat::None) torn.insert(static_cast<int>(first));
        if (repeat == BarRepeat::FirstOfTwo) torn.insert(static_cast<int>(first) + 1);
      }
    }
    return torn;
  }

  std::vector<WideBar> wide(BreakAt at) const override {
    return breaker_ ? wide_bars(music_, bars_, *breaker_, at) : std::vector<WideBar>();
  }

  EngravedSection run() override {
    EngravedSection out;
    if (firsts_.empty()) return out;
    share_out_words(firsts_);
    for (std::size_t i = 0; i < firsts_.size(); ++i) {
      const std::size_t last = i + 1 < firsts_.size() ? firsts_[i + 1] : bars_.size();
      engrave(*breaker_, {firsts_[i], last, i}, i == 0 ? first_margin_ : later_margin_, out.systems);
    }
    return out;
  }

 private:
  Length sp(double spaces) const { return style_.staff_space * spaces; }

  // ---------------------------------------------------------------- margins

  std::string name_of(const StaffGroup& group, Names names) const {
    const int part = plans_[group.first].part;
    if (part < 0 || names == Names::None || groups_.size() < 2) return "";
    const score::Part& p = timeline_.parts[static_cast<std::size_t>(part)];
    if (names == Names::Short && !p.short_name.empty()) return p.short_name;
    return names == Names::Short ? "" : p.name.value;
  }

  /// Long names stand in several lines rather than push the music aside.
  std::vector<text::Line> name_lines(const std::string& name) const {
    if (name.empty()) return {};
    const text::StyledText piece{name, text_style(style_.label)};
    return inks_.shaper.paragraph(std::span<const text::StyledText>(&piece, 1), request_.width * kNameShare,
                                  text::Alignment::Left, timeline_.language);
  }

  Length margin(Names names) const {
    Length width;
    for (const StaffGroup& group : groups_) {
      for (const text::Line& line : name_lines(name_of(group, names))) width = std::max(width, line.width + sp(0.8));
    }
    const bool joined =
        std::any_of(groups_.begin(), groups_.end(), [](const StaffGroup& g) { return g.last > g.first; });
    return width + (joined ? sp(1.6) : Length{});
  }

  /// Words, marks and harmonies to the systems they touch, in one pass.
  void share_out_words(const std::vector<std::size_t>& firsts) {
    said_.assign(firsts.size(), {});
    const auto system_of = [&](int bar) {
      const auto after = std::upper_bound(firsts.begin(), firsts.end(), static_cast<std::size_t>(std::max(0, bar)));
      return static_cast<std::size_t>(after - firsts.begin()) - 1;
    };
    for (const score::Harmony& h : section_.harmony) {
      const bool within = plans_.front().bars[static_cast<std::size_t>(h.at.bar)].rest_bars != 0;
      if (!within) said_[system_of(h.at.bar)].harmony.push_back(h);
    }
    const auto add = [&](const std::vector<score::Word>& words, int part) {
      for (const score::Word& w : words) said_[system_of(w.at.bar)].by_part[part].words.push_back(w);
    };
    add(section_.words, -1);
    for (std::size_t p = 0; p < section_.parts.size(); ++p) {
      const score::PartMusic& music = section_.parts[p];
      const int part = static_cast<int>(p);
      add(music.words, part);
      for (const score::Mark& mark : music.marks) {
        const std::size_t last = system_of(mark.to.onset == Fraction() ? mark.to.bar - 1 : mark.to.bar);
        for (std::size_t i = system_of(mark.from.bar); i <= last; ++i) said_[i].by_part[part].marks.push_back(mark);
      }
    }
  }

  // ---------------------------------------------------------------- places

  struct Line {
    std::size_t first, last, index;  ///< its bars, half open; the how manieth system it is
  };
  void engrave(const Breaker& breaker, const Line& line, Length left, std::vector<EngravedSystem>& systems) {
    const auto [first, last, index] = line;
    const layout::Measure m = breaker.measure(first, last);
    Length room = breaker.available(first, last);
    if (last == bars_.size() && m.natural < room * kWorthFilling) {  // not stretched past its bound
      room = std::min(room, std::max(m.natural * style_.engraving.max_stretch_last, m.minimum));
    }
    EngravedSystem out;
    out.first_bar = static_cast<int>(first);
    out.last_bar = static_cast<int>(last);
    out.overfull = m.minimum > room;
    out.broken = piece_at(request_, out.last_bar - 1).continued;
    out.overfull_at = section_.bars[out.broken ? last - 1 : first].origin;
    out.hands_free_after = hands_free(last);
    SystemContext system{timeline_, section_, request_, style_, inks_.shaper, inks_.music, style_.staff_space};
    system.first_bar = out.first_bar;
    system.last_bar = out.last_bar;
    system.first = first == 0;
    system.last = last == bars_.size();
    system.left = left;
    system.said = std::move(said_[index]);
    system.plans = &plans_;
    place_columns(system, room);
    system.right = left + room + courtesy(music_, out.last_bar).end;
    draw(system, out, systems);
  }

  /// Everyone rests for half a bar or more around the line before `bar`.
  bool hands_free(std::size_t bar) const {
    if (bar >= bars_.size()) return true;
    const auto silence = [&](const StaffPlan& plan, std::size_t b, bool at_end) {
      const Fraction length = section_.bars[b].length;
      Fraction from, to = length;  // of the longest rest at that edge
      for (const Chord& chord : plan.bars[b].chords) {
        if (chord.rest || plan.bars[b].silent) continue;
        if (at_end) from = max(from, chord.onset + chord.duration);
        if (!at_end) to = min(to, chord.onset);
      }
      return (to - from) / length;
    };
    return std::all_of(plans_.begin(), plans_.end(), [&](const StaffPlan& plan) {
      return silence(plan, bar - 1, true) + silence(plan, bar, false) >= Fraction(1, 2);
    });
  }

  void place_columns(SystemContext& system, Length room) {
    std::vector<layout::Spring> springs;
    std::vector<LeadIn> leads;
    for (int b = system.first_bar; b < system.last_bar; ++b) {
      const BarSpacing& bar = bars_[static_cast<std::size_t>(b)];
      leads.push_back(lead_in(music_, b, b == system.first_bar));
      const Length lead = leads.back().end + bar.lead;
      springs.push_back({lead, Length{}, lead});
      springs.insert(springs.end(), bar.springs.begin(), bar.springs.end());
    }
    std::vector<Length> at = layout::SpringLine(springs, {}).place(room);
    if (at.back() > room) {  // rods give way only where one bar is wider than the page; it is reported
      const double squeeze = room / at.back();
      for (Length& x : at) x = x * squeeze;
    }
    std::size_t i = 0;
    for (int b = system.first_bar; b < system.last_bar; ++b) {
      const BarSpacing& bar = bars_[static_cast<std::size_t>(b)];
      const LeadIn& lead = leads[static_cast<std::size_t>(b - system.first_bar)];
      system.bar_left.push_back(system.left + at[i++] + lead.end);
      for (std::size_t c = 0; c < bar.onsets.size(); ++c, ++i) {
        const score::Place place{b, bar.onsets[c]};
        system.columns.emplace_hint(system.columns.end(), place, system.left + at[i]);
        system.grace_columns.emplace_hint(system.grace_columns.end(), place, system.left + at[i] - bar.ink_left[c]);
      }
      for (const auto& [column_and_part, left_ink] : bar.before_grace) {
        const score::Place place{b, bar.onsets[column_and_part.first]};
        system.grace_ends[{place, column_and_part.second}] = system.columns.at(place) - left_ink;
      }
      system.bar_end.push_back(system.left + at[i]);
      system.bar_right.push_back(system.bar_end.back() - bar_line_width(music_, b));
    }
    system.content_left = system.bar_left.front();
    leads_ = std::move(leads);
  }

  // ---------------------------------------------------------------- drawing

  void draw(const SystemContext& system, const EngravedSystem& like, std::vector<EngravedSystem>& systems) {
    std::deque<StaffContext> staves;
    for (StaffPlan& plan : plans_) draw_staff(staves.emplace_back(system, plan), plan);
    for (const StaffGroup& group : groups_) bracket_ends(staves, group);
    cues_.draw(system, staves, leads_.front());
    for (const StaffGroup& group : groups_) {
      draw_part_rows_above(staves[group.first]);
      draw_part_rows_below(staves[group.first]);
      const bool keys = plans_[group.last].kind == StaffKind::Lower;  // feet are written under both hands
      if (plans_[group.first].part >= 0) draw_pedal(staves[keys ? group.last : group.first]);
    }
    for (const StaffGroup& group : groups_) draw_count(staves[group.last], group.first == 0);
    draw_chart_rows(staves.front());
    draw_names(system, staves);
    for (const StaffGroup& group : groups_) {
      draw_remark_numbers(staves[group.first], group.first == 0 ? Speaker::PartAndChart : Speaker::Part);
    }
    draw_bar_rows(staves.front());
    const std::vector<Joint> joints = joints_of(staves);
    for (const StaffGroup& lot : lots_for_page(staves, joints)) {
      systems.push_back(like);
      systems.back().more_staves = lot.first > 0;
      stack(system, staves, joints, lot, systems.back());
    }
  }

  /// The wings of a bracket reach over the left end of its outer staves.
  void bracket_ends(std::deque<StaffContext>& staves, const StaffGroup& group) const {
    if (group.first == group.last || plans_[group.first + 1].kind == StaffKind::Lower) return;
    StaffContext &top = staves[group.first], &bottom = staves[group.last];
    const Length right = top.system.left + sp(0.45);
    top.above.add(top.system.left - sp(0.5), right, sp(1));
    bottom.below.add(top.system.left - sp(0.5), right, bottom.height() + sp(1));
  }

  /// Chord names stand over the topmost staff whose part has any in this section, on every system the same; those of
  /// the chart over the top one.
  void draw_names(const SystemContext& system, std::deque<StaffContext>& staves) const {
    if (!request_.chord_names) return;
    std::vector<int> parts;
    for (const StaffGroup& group : groups_) parts.push_back(plans_[group.first].part);
    const std::vector<score::Harmony> harmony = harmony_of_system(system, parts);
    for (const StaffGroup& group : groups_) {
      const bool speaks = std::any_of(section_.harmony.begin(), section_.harmony.end(),
                                      [&](const score::Harmony& h) { return h.concerns(plans_[group.first].part); });
      if (speaks) return draw_chord_names(staves[group.first], harmony);
    }
  }

  /// Bar lines reach beyond a staff of one or two lines: what stands in rows keeps clear of them.
  void bar_line_ends(StaffContext& staff, const StaffPlan& plan) const {
    const Length beyond = sp(plan.bar_line_overhang());
    if (beyond == Length{}) return;
    for (const Length end : staff.system.bar_end) {
      staff.reserve_above(end - sp(1.6), end, beyond, 0);
      staff.reserve_below(end - sp(1.6), end, beyond, 0);
    }
  }

  void draw_staff(StaffContext& staff, StaffPlan& plan) {
    const SystemContext& system = staff.system;
    draw_lines(staff);
    bar_line_ends(staff, plan);
    for (int b = system.first_bar; b < system.last_bar; ++b) {
      const Length x =
          b == system.first_bar ? system.left : system.bar_end[static_cast<std::size_t>(b - 1 - system.first_bar)];
      draw_lead_in(staff, leads_[static_cast<std::size_t>(b - system.first_bar)], b, x, b == system.first_bar);
    }
    draw_clef_changes(staff, inks_);
    draw_courtesy(staff, music_);
    for (const auto& [dot, origin] : repeat_dots(system, plan)) staff.obstacles.push_back({dot, "repeat-dot", {}});
    if (plan.rhythm) draw_joined_rests(staff);
    const bool tab = plan.kind == StaffKind::Tab;
    std::optional<HeldFigures> held;
    if (tab) held.emplace(draw_tab(staff, plan, inks_));
    if (!tab) draw_notes(staff, plan, inks_);
    if (!tab || plan.rhythm) draw_stems(staff, plan);
    std::optional<Hands> hands;
    if (staff.music() != nullptr) draw_marks_beside(hands.emplace(staff));
    if (held) held->draw_ties();
    if (!tab) draw_ties(staff, plan);
    if (plan.rhythm) {
      draw_articulations(staff, plan);
      draw_tuplets(staff, plan);
    }
    if (!tab) draw_slurs(staff, plan);
    if (plan.rhythm) draw_strokes(staff, plan);
    const bool first_of_part = std::any_of(groups_.begin(), groups_.end(),
                                           [&](const StaffGroup& group) { return &plans_[group.first] == &plan; });
    if (hands) draw_marks(*hands, first_of_part);
    if (plan.rhythm) draw_fermatas(staff, plan);
    if (hands && first_of_part) draw_holds(staff);
    if (!tab) draw_octave_lines(staff);
    if (hands) draw_spans(*hands);
  }

  // ---------------------------------------------------------------- stacking

  /// What stands between two staves: how far their tops are apart, and how far they may move.
  struct Joint {
    Length apart, open, close;
  };

  /// Between staves i and i + 1, at least.
  Length white_between(std::size_t i) const {
    const bool together = plans_[i + 1].part == plans_[i].part;
    return sp(together ? style_.engraving.staff_gap : style_.engraving.part_gap);
  }

  /// Joint i lies between staves i and i + 1.
  std::vector<Joint> joints_of(const std::deque<StaffContext>& staves) const {
    std::vector<Joint> joints;
    for (std::size_t i = 1; i < staves.size(); ++i) {
      const bool together = plans_[i].part == plans_[i - 1].part;
      const Length white = white_between(i - 1);
      const Length height = staves[i - 1].height();
      // What stands under a staff is nearer to it than to the next part, or fingers and dynamics pass for that part's.
      constexpr double kNear = 0.8, kApart = 1.5;
      const Length clear = staves[i - 1].below.distance_to(staves[i].above, sp(together ? kNear : kApart));
      const Length apart = std::max(height + white, clear);
      // How far staves may move to fill a page well; those of one part stay together.
      constexpr double kTightest = 0.75, kCloser = 0.3, kCloserParts = 0.9, kOpenPart = 0.8,
                       kOpenParts = 1.8;  // less than systems part
      joints.push_back({apart, sp(together ? kOpenPart : kOpenParts),
                        apart - std::max(height + white * kTightest, clear - sp(together ? kCloser : kCloserParts))});
    }
    return joints;
  }

  /// Of a page, beneath the heading of a section.
  Length page_height() const {
    const style::PageStyle& page = style_.page;
    return page.paper.height - page.top - page.bottom - style_.section_name.size * 2.5 - style_.rhythm.system_gap;
  }

  /// All staves, or where that is higher than the page as few lots of whole parts as will do, as even as can be.
  std::vector<StaffGroup> lots_for_page(const std::deque<StaffContext>& staves,
                                        const std::vector<Joint>& joints) const {
    const Length height = page_height();
    std::vector<StaffGroup> lots = lots_within(staves, joints, height);
    constexpr double kStep = 0.96;
    for (Length limit = height * kStep; lots.size() > 1; limit = limit * kStep) {
      std::vector<StaffGroup> tried = lots_within(staves, joints, limit);
      if (tried.size() > lots.size()) break;
      lots = std::move(tried);
    }
    return lots;
  }

  std::vector<StaffGroup> lots_within(const std::deque<StaffContext>& staves, const std::vector<Joint>& joints,
                                      Length limit) const {
    std::vector<StaffGroup> lots;
    Length height;  // of the lot at its closest, down to the top of its last staff
    for (const StaffGroup& part : groups_) {
      Length more;
      for (std::size_t i = lots.empty() ? 0 : lots.back().last; i < part.last; ++i)
        more += joints[i].apart - joints[i].close;
      if (!lots.empty() && height + more + staves[part.last].below.farthest() <= limit) {
        lots.back().last = part.last;
        height += more;
        continue;
      }
      lots.push_back(part);
      height = staves[part.first].above.farthest();
      for (std::size_t i = part.first; i < part.last; ++i) height += joints[i].apart - joints[i].close;
    }
    return lots;
  }

  void stack(const SystemContext& system, std::deque<StaffContext>& staves, const std::vector<Joint>& joints,
             const StaffGroup& lot, EngravedSystem& out) {
    std::vector<Length> tops(staves.size()), open, close;
    tops[lot.first] = staves[lot.first].above.farthest();
    for (std::size_t i = lot.first; i < lot.last; ++i) {
      tops[i + 1] = tops[i] + joints[i].apart;
      out.white = std::max(out.white, white_between(i));
      open.push_back(joints[i].open);
      close.push_back(joints[i].close);
    }
    Stacked stacked;
    stacked.top = lot.first;
    layout::Frame& frame = *stacked.frame;
    frame.name = "system";
    frame.role = layout::Role::Figure;
    frame.origin = section_.bars[static_cast<std::size_t>(system.first_bar)].origin;
    frame.baseline = tops[lot.first];
    frame.size = {request_.width, tops[lot.last] + staves[lot.last].below.farthest()};
    for (std::size_t i = lot.first; i <= lot.last; ++i) {
      for (layout::Item& item : staves[i].items) {
        item.at.y += tops[i];
        stacked.put(std::move(item), i, i);
      }
      for (RemarkAnchor anchor : staves[i].remarks) {
        anchor.at.y += tops[i];
        anchor.row = i - lot.first;
        out.remarks.push_back(anchor);
      }
    }
    connect(system, staves, tops, lot, stacked);
    out.frame = stacked.frame;
    if (lot.last > lot.first) {
      out.elastic =
          std::make_shared<layout::Elastic>(out.frame, std::move(stacked.rows), std::move(open), std::move(close));
    }
  }

  void connect(const SystemContext& system, const std::deque<StaffContext>& staves, const std::vector<Length>& tops,
               const StaffGroup& lot, Stacked& stacked) const {
    for (const StaffGroup& group : groups_) {
      if (group.first < lot.first || group.last > lot.last) continue;
      const Length top = tops[group.first], bottom = tops[group.last] + staves[group.last].height();
      bar_lines(system, staves, tops, group, stacked);
      part_name(system, group, (top + bottom) / 2, stacked);
      if (group.last > group.first) join(system, group, top, bottom, stacked);
    }
    if (lot.last > lot.first) {
      rule(stacked, lot, "system-line", {system.left + sp(style_.engraving.thin_bar / 2), tops[lot.first]},
           tops[lot.last] + staves[lot.last].height() - tops[lot.first], style_.engraving.thin_bar,
           stacked.frame->origin, {});
    }
  }

  void rule(Stacked& stacked, StaffGroup on, layout::Kind kind, Point top, Length height, double thickness, Span origin,
            layout::Subject subject) const {
    const layout::Stroke stroke{sp(thickness), style_.ink, layout::Cap::Butt, {}};
    stacked.put({top, kind, Layer::Line, origin, subject, layout::LineShape{{Length{}, height}, stroke}}, on.first,
                on.last);
  }

  void join(const SystemContext& system, const StaffGroup& group, Length top, Length bottom, Stacked& stacked) const {
    const bool keys = plans_[group.first + 1].kind == StaffKind::Lower;
    const layout::Subject subject{plans_[group.first].number, -1, -1};
    const Span origin = timeline_.parts[static_cast<std::size_t>(plans_[group.first].part)].origin;
    layout::PathShape shape{keys ? text::brace(bottom - top, sp(1.1)) : text::bracket(bottom - top, sp(0.45)),
                            style_.ink, std::nullopt};
    stacked.put({{system.left - sp(keys ? 0.3 : 0.4), top},
                 keys ? layout::Kind("brace") : layout::Kind("bracket"),
                 Layer::Ink,
                 origin,
                 subject,
                 std::move(shape)},
                group.first, group.last);
  }

  void part_name(const SystemContext& system, const StaffGroup& group, Length middle, Stacked& stacked) const {
    const std::string name = name_of(group, system.first ? request_.first_names : request_.later_names);
    if (name.empty()) return;
    const score::Part& part = timeline_.parts[static_cast<std::size_t>(plans_[group.first].part)];
    const std::vector<text::Line> lines = name_lines(name);
    const bool joined =
        std::any_of(groups_.begin(), groups_.end(), [](const StaffGroup& g) { return g.last > g.first; });
    const Length right = system.left - sp(joined ? 1.6 : 0) - sp(0.8), pitch = style_.label.size * 1.15;
    const text::Line& first = lines.front();
    Length y =
        middle - pitch * (0.5 * static_cast<double>(lines.size() - 1)) - (first.ink.top() + first.ink.bottom()) / 2;
    for (const text::Line& line : lines) {
      layout::add_line(*stacked.frame, {right - line.width, y}, line, style_.ink, "part-name", part.origin, Layer::Text,
                       {plans_[group.first].number, -1, -1});
      stacked.hang(group.first, group.last);
      y += pitch;
    }
  }

  // ---------------------------------------------------------------- bar lines

  void bar_lines(const SystemContext& system, const std::deque<StaffContext>& staves, const std::vector<Length>& tops,
                 const StaffGroup& group, Stacked& stacked) const {
    const style::EngravingStyle& e = style_.engraving;
    const Length top = tops[group.first] - sp(plans_[group.first].bar_line_overhang());
    const Length height =
        tops[group.last] + staves[group.last].height() + sp(plans_[group.last].bar_line_overhang()) - top;
    const layout::Subject subject{plans_[group.first].number, -1, -1};
    const auto stroke = [&](Length left, double thickness, Span origin) {
      rule(stacked, group, "bar-line", {left + sp(thickness / 2), top}, height, thickness, origin, subject);
    };
    for (int b = system.first_bar; b < system.last_bar; ++b) {
      const score::Bar& bar = section_.bars[static_cast<std::size_t>(b)];
      const auto i = static_cast<std::size_t>(b - system.first_bar);
      const Length end = system.bar_end[i];
      const score::BarLine ends = bar_line_at(request_.signs, section_, b);
      const bool repeats = ends == score::BarLine::RepeatEnd;
      const bool next_begins = b + 1 < system.last_bar && section_.bars[static_cast<std::size_t>(b) + 1].repeat_begin &&
                               leads_[i + 1].repeat < Length{};
      const bool rests_on =
          b + 1 < system.last_bar && plans_[group.first].bars[static_cast<std::size_t>(b) + 1].rest_bars < 0;
      const bool within = rests_on || piece_at(request_, b).continued;
      if (ends == score::BarLine::Single && !next_begins && !within)
        stroke(end - sp(e.thin_bar), e.thin_bar, bar.origin);
      if (ends == score::BarLine::Double) {
        stroke(end - sp(e.thin_bar), e.thin_bar, bar.origin);
        stroke(end - sp(2 * e.thin_bar + e.bar_gap), e.thin_bar, bar.origin);
      }
      if (ends == score::BarLine::Final || repeats) {
        stroke(end - sp(e.thick_bar), e.thick_bar, bar.origin);
        stroke(end - sp(e.thick_bar + e.bar_gap + e.thin_bar), e.thin_bar, bar.origin);
      }
      if (!bar.repeat_begin) continue;
      const bool after_repeat = b > system.first_bar && leads_[i].repeat < Length{} &&
                                section_.bars[static_cast<std::size_t>(b) - 1].end == score::BarLine::RepeatEnd;
      const Length start = i == 0 ? system.left : system.bar_end[i - 1];
      const Length x = start + leads_[i].repeat;
      if (!after_repeat) stroke(x, e.thick_bar, bar.origin);
      stroke(x + sp(e.thick_bar + e.bar_gap), e.thin_bar, bar.origin);
    }
    for (std::size_t s = group.first; s <= group.last; ++s) {
      for (const auto& [dot, origin] : repeat_dots(system, plans_[s])) {
        stacked.put({{dot.x, tops[s] + dot.y},
                     "repeat-dot",
                     Layer::Ink,
                     origin,
                     {plans_[s].number, -1, -1},
                     layout::RectShape{{dot.width, dot.height}, style_.ink, std::nullopt, dot.width / 2}},
                    s, s);
      }
    }
  }

  /// Where the dots of repeats stand, in coordinates of the staff, and the bars they belong to.
  std::vector<std::pair<Rect, Span>> repeat_dots(const SystemContext& system, const StaffPlan& plan) const {
    const style::EngravingStyle& e = style_.engraving;
    const double lines = e.thick_bar + e.bar_gap + e.thin_bar + e.repeat_dot_gap;
    const double apart = plan.lines % 2 == 1 ? 0.5 * plan.line_distance : 1.0 * plan.line_distance;
    std::vector<std::pair<Rect, Span>> dots;
    const auto add = [&](Length left, Span origin) {
      for (const double side : {-1.0, 1.0})
        dots.push_back({{left, sp(plan.height() / 2 + apart * side - 0.25), sp(0.5), sp(0.5)}, origin});
    };
    for (int b = system.first_bar; b < system.last_bar; ++b) {
      const score::Bar& bar = section_.bars[static_cast<std::size_t>(b)];
      const auto i = static_cast<std::size_t>(b - system.first_bar);
      if (bar_line_at(request_.signs, section_, b) == score::BarLine::RepeatEnd)
        add(system.bar_end[i] - sp(lines + 0.5), bar.origin);
      if (bar.repeat_begin)
        add((i == 0 ? system.left : system.bar_end[i - 1]) + leads_[i].repeat + sp(lines), bar.origin);
    }
    return dots;
  }

  const SectionRequest& request_;
  const style::Style& style_;
  const score::Timeline& timeline_;
  const score::Section& section_;
  std::vector<StaffPlan> plans_;
  Inks inks_;
  SectionMusic music_;
  std::vector<StaffGroup> groups_;
  CueStaves cues_;
  std::vector<BarSpacing> bars_;
  Length first_margin_, later_margin_;
  std::optional<Breaker> breaker_;
  std::vector<std::size_t> firsts_;  ///< bars that lines begin with
  std::vector<LeadIn> leads_;
  std::vector<SystemWords> said_;
};

}  // namespace

EngravedSection engrave_section(const SectionRequest& request, const style::Style& style, text::Shaper& shaper,
                                text::MusicFont& music) {
  return engrave_lines(request, style, [&](const SectionRequest& r, const style::Style& s) {
    return std::make_unique<SectionEngraver>(r, s, shaper, music);
  });
}

}  // namespace tunesheaf::engrave

#include "rests.h"

#include <algorithm>

namespace tunesheaf::engrave {

namespace {

constexpr int kLeastBars = 2;

class Joiner {
 public:
  Joiner(std::vector<StaffPlan>& plans, const SectionRequest& request)
      : plans_(plans),
        request_(request),
        section_(request.timeline->sections[static_cast<std::size_t>(request.section)]),
        said_(section_.bars.size()),
        said_at_start_(section_.bars.size()) {
    note(section_.words);
    for (const StaffPlan& plan : plans_) {
      if (plan.part >= 0) note(section_.parts[static_cast<std::size_t>(plan.part)].words);
      for (const ClefChange& change : plan.clefs) note(change.at);
      if (plan.part >= 0) note(section_.parts[static_cast<std::size_t>(plan.part)].cues);
    }
    for (const score::Harmony& h : section_.harmony) {
      if (!is_part_sheet(request_)) note(h.at);
    }
    for (const FormSign& sign : request_.signs) {
      (sign.edge == BarEdge::Begin ? said_at_start_ : said_)[static_cast<std::size_t>(sign.bar)] = true;
    }
  }

  void run() {
    const std::size_t count = section_.bars.size();
    for (std::size_t b = 0; b < count;) {
      std::size_t end = b;
      while (end < count && joins(end) && (end == b || (ends_plainly(end - 1) && begins_plainly(end)))) ++end;
      const auto bars = static_cast<int>(end - b);
      if (bars >= kLeastBars) mark(b, end);
      b = std::max(end, b + 1);
    }
  }

 private:
  void note(score::Place at) {
    (at.onset == Fraction() ? said_at_start_ : said_)[static_cast<std::size_t>(at.bar)] = true;
  }
  void note(const std::vector<score::Word>& words) {
    for (const score::Word& word : words) note(word.at);
  }

  void note(const std::vector<score::Cue>& cues) {
    for (const score::Cue& cue : cues)
      for (int bar = cue.first; bar < cue.behind; ++bar) said_[static_cast<std::size_t>(bar)] = true;
  }

  bool joins(std::size_t b) const {
    const score::Bar& bar = section_.bars[b];
    return !said_[b] && bar.length == bar.meter.bar_length() &&
           std::all_of(plans_.begin(), plans_.end(), [&](const StaffPlan& plan) { return plan.bars[b].silent; });
  }
  bool begins_plainly(std::size_t b) const {
    const score::Bar& bar = section_.bars[b];
    return !said_at_start_[b] && !bar.show_meter && !bar.show_key && !bar.repeat_begin && !bar.ending_begin &&
           bar.from == section_.bars[b - 1].from && bar.ending == section_.bars[b - 1].ending;
  }
  bool ends_plainly(std::size_t b) const {
    return section_.bars[b].end == score::BarLine::Single && !section_.bars[b].ending_end;
  }

  void mark(std::size_t from, std::size_t to) {
    for (StaffPlan& plan : plans_) {
      for (std::size_t b = from; b < to; ++b) plan.bars[b].rest_bars = b == from ? static_cast<int>(to - from) : -1;
    }
  }

  std::vector<StaffPlan>& plans_;
  const SectionRequest& request_;
  const score::Section& section_;
  std::vector<bool> said_, said_at_start_;
};

}  // namespace

bool is_part_sheet(const SectionRequest& request) {
  return !request.parts.empty() && request.parts.size() < request.timeline->parts.size();
}

void join_rests(std::vector<StaffPlan>& plans, const SectionRequest& request) {
  if (!plans.empty()) Joiner(plans, request).run();
}

void draw_joined_rests(StaffContext& staff) {
  const SystemContext& system = staff.system;
  const Length middle = staff.height() / 2;
  for (int bar = system.first_bar; bar < system.last_bar; ++bar) {
    const int bars = staff.plan.bars[static_cast<std::size_t>(bar)].rest_bars;
    if (bars < kLeastBars) continue;
    const auto first = static_cast<std::size_t>(bar - system.first_bar);
    const Length left = system.bar_left[first] + staff.space(1.4);
    const Length right = system.bar_right[first + static_cast<std::size_t>(bars) - 1] - staff.space(1.4);
    const StaffContext::Tag tag{"rest-bars", system.section.bars[static_cast<std::size_t>(bar)].origin,
                                staff.subject()};
    // The bar is drawn over the staff lines, so it must be seen against them: thick, with tall ends.
    staff.line(tag, {left, middle}, {right, middle}, 0.8);
    for (const Length x : {left, right}) {
      staff.line(tag, {x, middle - staff.space(1)}, {x, middle + staff.space(1)}, 0.18);
    }
    const auto digits = system.music.time_number(bars, system.sp);
    Length width;
    for (const auto& [dx, sign] : digits) width = std::max(width, dx + sign->advance);
    const Length at = (left + right - width) / 2;
    const Length bottom = staff.reserve_above(at, at + width, staff.space(2), 0.5);
    for (const auto& [dx, sign] : digits) {
      const Point place{at + dx, bottom - staff.space(1)};
      if (sign->run) {
        staff.put({place, "rest-count", layout::Layer::Ink, tag.origin, tag.subject,
                   layout::GlyphsShape{*sign->run, system.style.ink}});
      } else {
        staff.fill({"rest-count", tag.origin, tag.subject}, sign->path, place);
      }
    }
  }
}

}  // namespace tunesheaf::engrave

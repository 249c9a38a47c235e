#include "tunesheaf/sheet/practice.h"

#include <algorithm>
#include <map>
#include <optional>
#include <utility>

#include "expected.h"
#include "pages.h"
#include "tunesheaf/blocks/practice.h"

namespace tunesheaf::sheet {
namespace {

using base::Length;
using blocks::SameMusic;
using blocks::Setting;

/// How much larger than on a handout, for one player on the far side of a stand. The first is wanted, the others are
/// taken where they save a leaf; in the last two the boxes and the blocks stand closer. The last is no larger than a
/// handout: only a section that takes a leaf less by it has it, whatever the others have.
struct Larger {
  double type, boxes, gaps;
};
constexpr Larger kLarger[] = {{1.18, 1.18, 1}, {1.1, 1.1, 1}, {1.02, 1.02, 1}, {1.02, 0.91, 0.8}, {1, 0.85, 0.6}};
constexpr std::size_t kOfOneSection = std::size(kLarger) - 1;
constexpr int kLeastLines = 2, kMostLines = 6;  // to write on

/// Larger staves, type and boxes.
style::Style practice_style(const style::Style& style, const Larger& larger) {
  style::Style out = style::with_staff_space(style, style.staff_space * larger.type);
  for (style::TypeRole* role :
       {&out.body, &out.note, &out.label, &out.chord, &out.lyric, &out.figure, &out.direction, &out.small}) {
    role->size = role->size * larger.type;
  }
  out.box.medium = out.box.medium * larger.boxes;
  out.rhythm.block_gap = out.rhythm.block_gap * larger.gaps;
  return out;
}

std::vector<int> students_parts(const HandoutRequest& request) {
  const auto& parts = request.song.parts;
  std::vector<int> out;
  for (const std::string& name : request.parts) {
    for (std::size_t i = 0; i < parts.size(); ++i) {
      if (parts[i].name.value == name) out.push_back(static_cast<int>(i));
    }
  }
  if (!out.empty() || parts.empty()) return out;
  const auto fretted = std::find_if(parts.begin(), parts.end(), [](const score::Part& part) {
    return part.instrument.family == theory::Family::Fretted;
  });
  return {fretted == parts.end() ? 0 : static_cast<int>(fretted - parts.begin())};
}

std::size_t sides_of(const style::Style& style) {
  return style.sides == "double" ? 2 : 1;
}
std::size_t leaves(std::size_t pages, std::size_t sides) {
  return (pages + sides - 1) / sides;
}
/// Whether the margin column holds a line of words.
bool wide_margin(const style::Style& style) {
  return style.page.margin_column >= style.note.size * 11;
}

/// A section on pages of its own, with lines to write on down to the foot of the last.
class SectionPages {
 public:
  SectionPages(const HandoutRequest& request, blocks::PracticePlan plan, SameMusic same)
      : request_(request), plan_(std::move(plan)), same_(same) {}

  /// `larger`: an index into kLarger. What can stand in the margin goes there where that saves a leaf.
  std::size_t pages(std::size_t larger) {
    const auto found = tried_.find(larger);
    if (found != tried_.end()) return found->second.fill.pages;
    const blocks::SectionBlock music = engraved(larger);
    LaidOut best = laid_out(larger, blocks::Aside::Body, music);
    const std::size_t sides = sides_of(request_.style);
    if (best.fill.pages > sides && wide_margin(request_.style)) {
      LaidOut other = laid_out(larger, blocks::Aside::Margin, music);
      if (leaves(other.fill.pages, sides) < leaves(best.fill.pages, sides)) best = std::move(other);
    }
    return tried_.emplace(larger, std::move(best)).first->second.fill.pages;
  }

  /// In a size that pages() has tried. What is left of the last page is for writing, down to its foot.
  blocks::PracticeBlock draw(std::size_t larger) {
    LaidOut best = std::move(tried_.at(larger));
    tried_.clear();
    const std::size_t pages = best.fill.pages;
    for (int lines = std::min(kMostLines, lines_in(best.fill.left)); lines >= kLeastLines; --lines) {
      LaidOut above = with_lines(larger, best, {lines, {}});
      if (above.fill.pages != pages) continue;
      LaidOut foot = with_lines(larger, best, {lines, std::max(base::Length{}, above.fill.left - base::Length::pt(1))});
      return std::move(foot.fill.pages == pages ? foot.block : above.block);
    }
    return std::move(best.block);
  }

  bool printed() const { return same_ == SameMusic::Printed; }
  int section() const { return plan_.section; }

 private:
  struct LaidOut {
    blocks::PracticeBlock block;
    Fill fill;
    std::optional<std::pair<std::size_t, double>> parted{};  ///< the item at which a page is to end; its own cost
  };
  static int lines_in(base::Length left) { return static_cast<int>(std::max(0.0, left / blocks::kWritingPitch)); }
  style::Style style_in(std::size_t larger) const { return practice_style(request_.style, kLarger[larger]); }
  blocks::SectionBlock engraved(std::size_t larger) const {
    const style::Style style = style_in(larger);
    return blocks::practice_music(setting_for(style), plan_, same_);
  }
  LaidOut laid_out(std::size_t larger, blocks::Aside aside, const blocks::SectionBlock& music) const {
    const style::Style style = style_in(larger);
    return measured(blocks::practice_block(setting_for(style), plan_, same_, aside, music));
  }
  LaidOut with_lines(std::size_t larger, const LaidOut& bare, blocks::Writing writing) const {
    const style::Style style = style_in(larger);
    blocks::PracticeBlock block = bare.block;
    if (bare.parted) block.flow[bare.parted->first].break_cost = bare.parted->second;
    blocks::add_lines(setting_for(style), writing, block);
    return measured(std::move(block));
  }
  LaidOut measured(blocks::PracticeBlock block) const {
    LaidOut out{std::move(block), {}};
    out.fill = measure(setting_for(request_.style), out.block.flow);
    see_together(out);
    return out;
  }
  /// Where it costs no page, one ends before the change to drill, or before the music: change, music and ladder are
  /// seen at one look.
  void see_together(LaidOut& out) const {
    constexpr double kWelcome = -300;
    for (const std::size_t at : out.block.breaks) {
      if (out.fill.pages < 2) return;
      double& cost = out.block.flow[at].break_cost;
      const double usual = std::exchange(cost, kWelcome);
      const Fill fill = measure(setting_for(request_.style), out.block.flow);
      if (fill.pages == out.fill.pages) {
        out.fill = fill;
        out.parted = {at, usual};
        return;
      }
      cost = usual;
    }
  }
  Setting setting_for(const style::Style& style) const {
    return Setting{request_.song, style, request_.shaper, request_.music, students_parts(request_), -1};
  }

  const HandoutRequest& request_;
  blocks::PracticePlan plan_;
  SameMusic same_;
  std::map<std::size_t, LaidOut> tried_;  ///< by size, without lines
};

/// One size for the sheets of a song: the largest that takes no leaf more than another; where leaves have no backs, no
/// page.
std::size_t size_of_all(std::vector<SectionPages>& all, const style::Style& style) {
  std::size_t best = 0, fewest = 0;
  for (std::size_t tried = 0; tried < kOfOneSection; ++tried) {
    std::size_t taken = 0;
    for (SectionPages& one : all) taken += leaves(one.pages(tried), sides_of(style));
    if (fewest == 0 || taken < fewest) {
      fewest = taken;
      best = tried;
    }
    if (fewest == all.size()) break;
  }
  return best;
}

std::size_t size_of(SectionPages& one, std::size_t of_all, const style::Style& style) {
  const std::size_t sides = sides_of(style), usual = leaves(one.pages(of_all), sides);
  return usual > 1 && leaves(one.pages(kOfOneSection), sides) < usual ? kOfOneSection : of_all;
}

/// A page between two sheets, so that each can be handed out on leaves of its own.
layout::FlowItem free_back(const Setting& setting) {
  const style::PageStyle& page = setting.style.page;
  const Length room = page.paper.height - page.top - page.bottom - setting.style.body.size * 2;
  layout::FlowItem out;
  out.frame = blocks::free_page(setting, room);
  out.break_after = layout::BreakAfter::Forced;
  return out;
}

}  // namespace

Sheet make_practice(const HandoutRequest& request, const std::vector<int>& sections, diag::Sink& sink) {
  const Setting setting{request.song, request.style, request.shaper, request.music, students_parts(request), -1};
  std::vector<SectionPages> all;
  for (const int section : sections) {
    // Named only where the sheet it would point to is here too.
    blocks::PracticePlan plan = blocks::practice_plan(setting, section);
    const bool here = plan.like && plan.like->new_bars.empty() &&
                      std::count(sections.begin(), sections.end(), plan.like->section) > 0;
    all.emplace_back(request, std::move(plan), here ? SameMusic::Named : SameMusic::Printed);
  }
  const bool begins_leaves = sides_of(request.style) == 2 && all.size() > 1;
  const std::size_t of_all = size_of_all(all, request.style);
  blocks::Flow flow;
  std::vector<int> printed;
  for (SectionPages& one : all) {
    if (one.printed()) printed.push_back(one.section());
    const std::size_t larger = size_of(one, of_all, request.style);
    const bool back_is_free = begins_leaves && one.pages(larger) % 2 == 1 && &one != &all.back();
    blocks::PracticeBlock block = one.draw(larger);
    report_widths(block, sink);
    for (auto& item : block.flow) flow.push_back(std::move(item));
    if (back_is_free) flow.push_back(free_back(setting));
  }
  Sheet sheet = blank_sheet(setting, "Practice sheets");
  sheet.pages = make_pages(setting, flow, "practice sheets", sink);
  sheet.expected = expected_notes(setting, printed);
  sheet.said = said_words(setting, printed);
  return sheet;
}

}  // namespace tunesheaf::sheet

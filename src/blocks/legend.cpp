#include "tunesheaf/blocks/legend.h"

#include <algorithm>
#include <map>

#include "pen.h"
#include "sign_sample.h"

namespace tunesheaf::blocks {
namespace {

/// As wide as the widest sign asks for: words set in their place want more than a figure does.
Length sample_width(const Setting& setting, const SignList& list) {
  Length width = setting.style.body.size * 2.8;
  for (const LegendSign sign : list.signs) {
    Frame trial;
    draw_sample(setting, list, trial, {}, width, sign);
    if (const auto ink = layout::ink_of(trial)) width = std::max(width, ink->width);
  }
  return width;
}

/// Rows of signs, two columns or more where the page is wide enough.
class SignRows {
 public:
  SignRows(const Setting& setting, const SignList& list)
      : setting_(setting), style_(setting.style), list_(list), room_(sample_width(setting, list)) {
    sample_ = room_ + style_.body.size * 0.6;
    const Length least = sample_ + style_.note.size * 10;  // words of some 22 letters a line
    columns_ = static_cast<std::size_t>(std::max(1.0, (setting.body() + gap()) / (least + gap())));
    pitch_ = (setting.body() + gap()) * (1.0 / static_cast<double>(columns_));
  }

  void add(const std::vector<LegendSign>& signs, Flow& flow, Length above) {
    for (std::size_t first = 0; first < signs.size(); first += columns_) {
      const bool begins = first == 0;
      const auto end = std::min(first + columns_, signs.size());
      flow.push_back(flow_item(
          row({signs.begin() + static_cast<std::ptrdiff_t>(first), signs.begin() + static_cast<std::ptrdiff_t>(end)},
              begins),
          begins ? above : style_.body.size * 0.45 - reach()));
      flow.back().break_cost = 15;
    }
  }

 private:
  Length gap() const { return style_.body.size * 1.2; }
  /// Slurs, arrows and tall signs reach up here.
  Length reach() const { return style_.figure.size * 0.22; }

  FramePtr row(const std::vector<LegendSign>& signs, bool first) const {
    auto frame = std::make_shared<Frame>();
    frame->name = "legend";
    frame->role = Role::Table;
    Frame trial;
    for (const LegendSign sign : signs) draw_sample(setting_, list_, trial, {}, room_, sign);
    const auto ink = layout::ink_of(trial);
    const Length usual = first ? style_.figure.size * 0.4 : reach();
    // What is large beside its words still stands within its row.
    const Length top = ink ? std::max(usual, -ink->top() - style_.note.size * 0.82) : usual;
    frame->baseline = top + style_.note.size * 0.82;
    Length height;
    for (std::size_t i = 0; i < signs.size(); ++i) {
      const Length x = pitch_ * static_cast<double>(i);
      draw_sample(setting_, list_, *frame, {x, frame->baseline}, room_, signs[i]);
      const auto words = prose(setting_, std::string(words_of(signs[i])), {style_.note, style_.ink, "legend-words"},
                               pitch_ - sample_ - gap(), Parting::English);
      frame->children.push_back({{x + sample_, top}, words});
      height = std::max(height, words->size.height);
    }
    frame->size = {setting_.body(), top + height};
    return frame;
  }

  const Setting& setting_;
  const style::Style& style_;
  const SignList& list_;
  Length room_, sample_, pitch_;
  std::size_t columns_ = 1;
};

/// More signs than these are looked up by groups.
constexpr std::size_t kAtAGlance = 14;

}  // namespace

Flow sign_legend(const Setting& setting) {
  return sign_legend(setting, sign_list(setting));
}

Flow sign_legend(const Setting& setting, const SignList& list) {
  if (list.signs.empty()) return {};
  const style::Style& style = setting.style;
  Flow flow{block_heading(setting, "Signs")};
  SignRows rows(setting, list);
  if (list.signs.size() <= kAtAGlance) {
    rows.add(list.signs, flow, style.body.size * 0.5);
  } else {
    std::map<SignKind, std::vector<LegendSign>> groups;
    for (const LegendSign sign : list.signs) groups[group_of(sign)].push_back(sign);
    for (const auto& [group, signs] : groups) {
      const auto label =
          prose(setting, std::string(words_of(group)), {style.label, style.faint, "legend-group"}, setting.body());
      flow.push_back(flow_item(label, style.body.size * (flow.size() == 1 ? 0.5 : 1.0)));
      flow.back().break_after = layout::BreakAfter::Forbidden;
      rows.add(signs, flow, style.body.size * 0.1);
    }
  }
  flow.back().break_cost = 0;
  const FramePtr name = continued_line(setting, {}, "Signs", {});
  for (std::size_t i = 2; i < flow.size(); ++i) flow[i].continuation = name;
  return flow;
}

}  // namespace tunesheaf::blocks

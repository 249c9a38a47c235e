#include "map_parts.h"

#include <algorithm>

#include "tunesheaf/text/cut.h"

namespace tunesheaf::blocks {

using layout::Layer;

PartRows::PartRows(const Setting& setting, const std::vector<MapStep>& steps) : setting_(setting) {
  if (setting.song.parts.size() < 2) return;
  for (const MapStep& step : steps) {
    if (playing_.count(step.section) == 0) playing_[step.section] = playing(setting.song, *step.section);
  }
  choose(steps);
  name_rows();
}

Playing PartRows::at(const MapStep& step, int part, std::size_t bar) const {
  return playing_.at(step.section)[static_cast<std::size_t>(part)][static_cast<std::size_t>(step.bars[bar])];
}

/// Parts that play somewhere; those that are not on this sheet too, for their silence and entry are heard.
void PartRows::choose(const std::vector<MapStep>& steps) {
  bool rests = false;
  for (int p = 0; p < static_cast<int>(setting_.song.parts.size()); ++p) {
    bool plays = false;
    for (const MapStep& step : steps) {
      for (std::size_t bar = 0; bar < step.bars.size(); ++bar) {
        const Playing how = at(step, p, bar);
        plays = plays || how == Playing::Sounding;
        rests = rests || how == Playing::Silent;
        from_chords_ = from_chords_ || how == Playing::FromChords;
      }
    }
    const bool on_sheet = std::count(setting_.parts.begin(), setting_.parts.end(), p) > 0;
    if (plays) rows_.push_back({p, "", on_sheet});
  }
  all_throughout_ = !rests && !from_chords_ && rows_.size() > 1;
  if (rows_.size() < 2 || all_throughout_) rows_.clear();
}

/// The full names where they leave the form its room, else the short ones.
void PartRows::name_rows() {
  const style::Style& style = setting_.style;
  constexpr double kMost = 0.17;  // of the body's width
  for (const bool full : {true, false}) {
    Length widest;
    for (Row& row : rows_) {
      const score::Part& part = setting_.song.parts[static_cast<std::size_t>(row.part)];
      row.name = full || part.short_name.empty() ? part.name.value : part.short_name;
      if (!full) row.name = text::cut_to(setting_.shaper, row.name, text_style(style.small), setting_.body() * kMost);
      widest = std::max(widest, width_of(setting_, row.name, style.small));
    }
    label_width_ = rows_.empty() ? Length{} : widest + style.small.size * 0.8;
    if (widest <= setting_.body() * kMost) return;
  }
}

void PartRows::put_names(Frame& frame, Length top) const {
  const style::Style& style = setting_.style;
  Length base = top + pitch() * 0.5 + style.small.size * 0.34;
  for (const Row& row : rows_) {
    const Span origin = setting_.song.parts[static_cast<std::size_t>(row.part)].origin;
    put(frame, setting_, {{}, base}, row.name,
        {style.small, row.on_sheet ? style.ink : style.faint, "map-part", origin});
    base += pitch();
  }
}

void PartRows::put_step(Frame& frame, const MapStep& step, Point top, Length bar) const {
  Length middle = top.y + pitch() / 2;
  for (const Row& row : rows_) {
    std::size_t first = 0;
    while (first < step.bars.size()) {
      const Playing how = at(step, row.part, first);
      std::size_t last = first;
      while (last < step.bars.size() && at(step, row.part, last) == how) ++last;
      const Point from{top.x + bar * static_cast<double>(first), middle};
      put_run(frame, from, bar * static_cast<double>(last - first), how, step.section->origin);
      first = last;
    }
    middle += pitch();
  }
}

void PartRows::put_run(Frame& frame, Point from, Length width, Playing how, Span origin) const {
  const style::Style& style = setting_.style;
  // A hair of white at both ends parts the runs of two sections.
  const Length inset = std::min(style.rule * 1.5, width / 4), thick = style.small.size * 0.55;
  layout::RectShape run;
  run.size = {width - inset * 2, thick};
  if (how == Playing::Silent) {
    rule(frame, {from.x + inset, from.y}, width - inset * 2, style.rule, style.ink, "map-rests");
  } else if (how == Playing::Sounding) {
    run.fill = style.faint;
    frame.items.push_back({{from.x + inset, from.y - thick / 2}, "map-plays", Layer::Ink, origin, {}, run});
  } else {
    run.stroke = layout::Stroke{style.rule, style.faint, {}, {}};
    frame.items.push_back({{from.x + inset, from.y - thick / 2}, "map-chords", Layer::Ink, origin, {}, run});
  }
}

std::string PartRows::words() const {
  if (all_throughout_) return "All parts play throughout.";
  return !rows_.empty() && from_chords_ ? "An open bar: from the chords, for whoever plays them." : "";
}

}  // namespace tunesheaf::blocks

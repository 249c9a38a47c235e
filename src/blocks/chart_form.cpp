#include "chart_form.h"

#include <algorithm>

#include "tunesheaf/score/clock.h"

namespace tunesheaf::blocks {
namespace {

using song::FormWord;

const score::Section& section_of(const score::Timeline& song, int section) {
  return song.sections[static_cast<std::size_t>(section)];
}

const score::Bar& bar_of(const score::Timeline& song, const score::PlayedBar& played) {
  return section_of(song, played.section).bars[static_cast<std::size_t>(played.bar)];
}

}  // namespace

void chart_form(const score::Timeline& song, ChartContent& chart) {
  int step = -1, pass = 0;
  for (const score::PlayedBar& bar : song.played) {
    const score::Section& section = section_of(song, bar.section);
    const bool again = bar.step != step || bar.pass < pass;
    if (again && !chart.form.empty() && chart.form.back().section == bar.section) {
      ++chart.form.back().times;
    } else if (again) {
      chart.form.push_back({bar.section, section.letter, 1, !section.until.empty(), bar.step});
    } else if (bar.pass != pass) {
      ++chart.form.back().times;
    }
    step = bar.step;
    pass = bar.pass;
  }
  chart.fades = std::any_of(song.form.begin(), song.form.end(),
                            [](const score::FormStep& one) { return one.entry.word == FormWord::Fade; });
}

ChartChange change_at(const score::Timeline& song, int section) {
  ChartChange out;
  const score::Section& here = section_of(song, section);
  out.feel = score::feel_changes(song, section);
  if (here.bars.empty()) return out;
  out.key = song.key && here.bars.front().key != *song.key;
  const double head =
      song.tempo && song.tempo->per_minute != Fraction{}
          ? song.tempo->per_minute.to_double() * score::counted_unit(*song.tempo, song.meter).to_double()
          : 0;
  for (std::size_t i = 0; i < song.played.size(); ++i) {
    const score::PlayedBar& now = song.played[i];
    if (now.section != section || (i > 0 && song.played[i - 1].step == now.step)) continue;
    if (head > 0 && score::heard_apart(now.rate, head)) out.rate = now.rate;
    if (i == 0) continue;
    const score::PlayedBar& before = song.played[i - 1];
    const score::Bar& last = bar_of(song, before);
    if (head > 0 && score::heard_apart(score::tempo_within(before, last.length).rate, now.rate)) out.rate = now.rate;
    out.key = out.key || last.key != here.bars.front().key;
    out.meter = out.meter || last.meter != bar_of(song, now).meter;
  }
  return out;
}

}  // namespace tunesheaf::blocks

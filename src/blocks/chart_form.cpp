#include "chart_form.h"

#include <algorithm>
#include <cmath>

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

bool is_jump(const engrave::FormSign& sign) {
  return sign.word == FormWord::DaCapo || sign.word == FormWord::DalSegno;
}

/// True when the steps from `begin` to `end` play once what was repeated before, and repeat nothing.
bool without_repeats(const score::Timeline& song, const std::vector<ChartStep>& form, std::size_t begin,
                     std::size_t end) {
  bool once = false;
  for (std::size_t i = begin; i < end; ++i) {
    if (section_of(song, form[i].section).times < 2) continue;
    if (form[i].times > 1) return false;
    once = once || std::any_of(form.begin(), form.begin() + static_cast<std::ptrdiff_t>(begin),
                               [&](const ChartStep& s) { return s.section == form[i].section && s.times > 1; });
  }
  return once;
}

/// Which round leaves by a sign at the end of a section that is played more than once.
std::string last_round(const score::Section& section) {
  if (!section.until.empty()) return "last time: ";
  if (section.times < 2 || section.bars.empty() || !section.bars.back().ending.empty()) return {};
  return section.times == 2 ? "2nd time: " : "after ×" + std::to_string(section.times) + ": ";
}

bool differs(double a, double b) {
  constexpr double kHeard = 0.004;  // of the rate
  return std::abs(a - b) > kHeard * std::max(a, b);
}

}  // namespace

std::string feel_words(const song::Feel& feel) {
  if (!feel.words.empty()) return feel.words;
  return feel.unit == Fraction{} ? "straight" : "swing";
}

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

void complete_jumps(const score::Timeline& song, ChartContent& chart) {
  const auto goes_back = [&](std::size_t i) { return chart.form[i].entry <= chart.form[i - 1].entry; };
  for (std::size_t i = 1; i < chart.form.size(); ++i) {
    if (!goes_back(i)) continue;
    std::size_t end = i + 1;
    while (end < chart.form.size() && !goes_back(end)) ++end;
    if (!without_repeats(song, chart.form, i, end)) continue;
    auto& signs = chart.sections[static_cast<std::size_t>(chart.form[i - 1].section)].signs;
    const auto jump = std::find_if(signs.begin(), signs.end(), is_jump);
    if (jump != signs.end() && !jump->text.ends_with("repeats")) jump->text += ", no repeats";
  }
  for (ChartSection& section : chart.sections) {
    for (engrave::FormSign& sign : section.signs) {
      if (is_jump(sign)) sign.text = last_round(section_of(song, section.section)) + sign.text;
    }
  }
}

ChartChange change_at(const score::Timeline& song, int section) {
  ChartChange out;
  const score::Section& here = section_of(song, section);
  const std::string feel = feel_words(score::feel_of(song, here));
  out.feel = feel != feel_words(song.feel);
  if (here.bars.empty()) return out;
  out.key = song.key && here.bars.front().key != *song.key;
  const double head =
      song.tempo && song.tempo->per_minute != Fraction{}
          ? song.tempo->per_minute.to_double() * score::counted_unit(*song.tempo, song.meter).to_double()
          : 0;
  for (std::size_t i = 0; i < song.played.size(); ++i) {
    const score::PlayedBar& now = song.played[i];
    if (now.section != section || (i > 0 && song.played[i - 1].step == now.step)) continue;
    if (head > 0 && differs(now.rate, head)) out.rate = now.rate;
    if (i == 0) continue;
    const score::PlayedBar& before = song.played[i - 1];
    const score::Bar& last = bar_of(song, before);
    if (head > 0 && differs(score::tempo_within(before, last.length).rate, now.rate)) out.rate = now.rate;
    out.key = out.key || last.key != here.bars.front().key;
    out.meter = out.meter || last.meter != bar_of(song, now).meter;
    out.feel = out.feel || feel_words(score::feel_of(song, section_of(song, before.section))) != feel;
  }
  return out;
}

}  // namespace tunesheaf::blocks

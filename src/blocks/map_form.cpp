#include "map_form.h"

#include <algorithm>
#include <cstdlib>
#include <map>
#include <string_view>
#include <utility>

namespace tunesheaf::blocks {
namespace {

using song::FormWord;

/// "D.S. al Coda", as the score has it.
std::string with_capitals(std::string words) {
  for (const auto& [small, large] : {std::pair(" coda", " Coda"), std::pair(" fine", " Fine")}) {
    const std::size_t at = words.find(small);
    if (at != std::string::npos) words.replace(at, std::string_view(small).size(), large);
  }
  return words;
}

bool sounds(const score::Timeline& song, const score::PartMusic& music, std::size_t bar) {
  for (const score::Voice& voice : music.voices) {
    if (bar >= voice.bars.size()) continue;
    for (const score::Segment& segment : voice.bars[bar]) {
      if (segment.event < 0 || segment.rest) continue;
      if (song.events[static_cast<std::size_t>(segment.event)].kind != score::EventKind::Rest) return true;
    }
  }
  return false;
}

}  // namespace

std::vector<MapStep> map_steps(const score::Timeline& song) {
  std::vector<MapStep> out;
  std::map<int, std::size_t> by_step;
  for (std::size_t i = 0; i < song.form.size(); ++i) {
    const score::FormStep& step = song.form[i];
    if (step.section < 0) continue;
    by_step[static_cast<int>(i)] = out.size();
    out.push_back({static_cast<int>(i), &song.sections[static_cast<std::size_t>(step.section)], {}, {}, -1, 0});
  }
  std::map<int, int> last_pass;
  std::map<int, bool> done;
  int current = -1;
  for (const score::PlayedBar& bar : song.played) {
    if (bar.step != current) {
      if (current >= 0) done[current] = true;
      current = bar.step;
    }
    const auto at = by_step.find(bar.step);
    if (at == by_step.end() || done[bar.step]) continue;
    MapStep& step = out[at->second];
    if (step.seconds < 0) step.seconds = bar.seconds;
    if (step.bars.empty() || last_pass[bar.step] != bar.pass) step.passes.push_back(0);
    last_pass[bar.step] = bar.pass;
    ++step.passes.back();
    step.bars.push_back(bar.bar);
    step.pick_ups += step.section->bars[static_cast<std::size_t>(bar.bar)].pick_up ? 1 : 0;
  }
  std::erase_if(out, [](const MapStep& s) { return s.bars.empty(); });
  return out;
}

void set_by_recording(std::vector<MapStep>& steps, int recording) {
  double ahead = 0;
  std::vector<const score::Section*> placed;
  for (MapStep& step : steps) {
    const bool again = std::find(placed.begin(), placed.end(), step.section) != placed.end();
    for (const auto& [of, seconds] : step.section->at) {
      if (of == recording && !again) ahead = seconds.to_double() - step.seconds;
    }
    placed.push_back(step.section);
    step.seconds = std::max(0.0, step.seconds + ahead);
  }
}

std::vector<MapJump> map_jumps(const score::Timeline& song) {
  std::vector<MapJump> out;
  int segno = 0, coda = -1, to_coda = -1;
  for (int i = 0; i < static_cast<int>(song.form.size()); ++i) {
    const song::FormEntry& entry = song.form[static_cast<std::size_t>(i)].entry;
    if (entry.word == FormWord::Segno) segno = i;
    if (entry.word == FormWord::Coda) coda = i;
    if (entry.word == FormWord::ToCoda) to_coda = i;
    if (entry.word == FormWord::DalSegno) out.push_back({i, segno, with_capitals(entry.text.value)});
    if (entry.word == FormWord::DaCapo) out.push_back({i, 0, with_capitals(entry.text.value)});
  }
  if (to_coda >= 0 && coda >= 0) out.push_back({to_coda, coda, "To Coda"});
  std::stable_sort(out.begin(), out.end(), [](const MapJump& a, const MapJump& b) {
    return std::abs(a.to - a.from) < std::abs(b.to - b.from);
  });
  return out;
}

std::vector<std::vector<Playing>> playing(const score::Timeline& song, const score::Section& section) {
  const std::size_t bars = section.bars.size();
  std::vector<std::vector<Playing>> out(song.parts.size(), std::vector<Playing>(bars, Playing::Silent));
  bool any = false;
  for (std::size_t p = 0; p < std::min(out.size(), section.parts.size()); ++p) {
    for (std::size_t bar = 0; bar < bars; ++bar) {
      if (!sounds(song, section.parts[p], bar)) continue;
      out[p][bar] = Playing::Sounding;
      any = true;
    }
  }
  if (!any && !section.harmony.empty()) {
    for (auto& part : out) part.assign(bars, Playing::FromChords);
  }
  return out;
}

}  // namespace tunesheaf::blocks

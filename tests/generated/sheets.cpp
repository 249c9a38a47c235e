// Charts and practice sheets of generated songs. The bars and notes a practice sheet must hold are taken from the
// Timeline a second time, not from the sheet's own list of what is expected.
#include <algorithm>
#include <map>
#include <optional>
#include <set>

#include "../../src/app/audit_rules.h"
#include "generated/judge.h"
#include "generated/random.h"
#include "tunesheaf/sheet/chart.h"
#include "tunesheaf/sheet/practice.h"

namespace tunesheaf::generated {
namespace {

using base::Length;
using blocks::ChartNames;
using source::Span;

paint::Document document_of(const sheet::Sheet& sheet) {
  paint::Document document;
  document.title = sheet.title;
  document.language = sheet.language;
  for (const auto& frame : sheet.pages) document.pages.push_back(paint::flatten(*frame, sheet.paper));
  return document;
}

void judge_marks(const paint::Document& document, const sheet::Sheet& sheet, const std::string& where,
                 std::vector<Failure>& out) {
  for (const paint::Breach& breach : paint::audit(document, app::audit_rules(sheet)))
    out.push_back({"audit " + cause_of(breach), where + ", " + paint::print({breach})});
}

/// Every fourth chart is for the song's own player, the others for someone with another instrument.
blocks::ChartPlayer player_for(const score::Timeline& song, Random& random) {
  const auto own = blocks::page_player(song);
  const std::string wish =
      random.pick(std::vector<std::string>{"", "", "B flat", "E flat", "capo 3", "usual tuning", "ukulele", "concert"});
  if (wish.empty()) return own;
  auto read = blocks::read_chart_player(wish, song);
  return read ? std::move(read.value()) : own;
}

struct BarDrawn {
  Span origin;
  std::optional<Span> rest;  ///< the first of the bars of rest, written as one, that stand before the line
};

/// Bars in the order in which their lines stand on the pages. Repeated bars have the origin of those they repeat, so
/// bars of rest are found by where they stand.
std::vector<BarDrawn> bars_drawn(const paint::Document& document) {
  std::vector<BarDrawn> out;
  for (const paint::Page& page : document.pages) {
    std::vector<const paint::DisplayItem*> lines, rests;
    for (const paint::DisplayItem& item : page.items) {
      if (item.kind == paint::Kind("bar-line")) lines.push_back(&item);
      if (item.kind == paint::Kind("rest-bars")) rests.push_back(&item);
    }
    std::stable_sort(lines.begin(), lines.end(), [](const auto* a, const auto* b) {
      return a->box.y != b->box.y ? a->box.y < b->box.y : a->box.x < b->box.x;
    });
    std::map<const paint::DisplayItem*, Span> behind;
    for (const auto* rest : rests) {
      const Length middle = rest->box.y + rest->box.height / 2;
      const auto line = std::find_if(lines.begin(), lines.end(), [&](const auto* l) {
        return l->box.y <= middle && middle <= l->box.y + l->box.height && l->box.x >= rest->box.x;
      });
      if (line != lines.end()) behind.emplace(*line, rest->origin);
    }
    for (const auto* line : lines) {
      const auto rest = behind.find(line);
      if (rest != behind.end()) {
        out.push_back({line->origin, rest->second});
      } else if (out.empty() || !(out.back().origin == line->origin)) {
        out.push_back({line->origin, {}});
      }
    }
  }
  return out;
}

class PracticeJudge {
 public:
  PracticeJudge(const score::Timeline& song, int section, const sheet::Sheet& sheet, std::vector<Failure>& out)
      : song_(song),
        section_(song.sections[static_cast<std::size_t>(section)]),
        document_(document_of(sheet)),
        where_("section " + std::to_string(section + 1)),
        out_(out) {
    judge_marks(document_, sheet, where_, out);
  }

  void run() {
    const auto fretted = std::find_if(song_.parts.begin(), song_.parts.end(), [](const score::Part& part) {
      return part.instrument.family == theory::Family::Fretted;
    });
    part_ = fretted == song_.parts.end() ? 0 : static_cast<int>(fretted - song_.parts.begin());
    notes();
    if (!own_.empty() || !bars_drawn(document_).empty()) bars();
  }

 private:
  void say(const std::string& key, const std::string& what) {
    out_.push_back({"practice " + key, where_ + ": " + what});
  }

  void notes() {
    if (song_.parts.empty()) return;
    for (const score::Voice& voice : section_.parts[static_cast<std::size_t>(part_)].voices)
      for (std::size_t b = 0; b < voice.bars.size(); ++b)
        for (const score::Segment& segment : voice.bars[b])
          if (segment.event >= 0) {
            own_.insert(segment.event);
            if (!segment.rest) played_.insert(static_cast<int>(b));
          }
    std::set<int> heard;  // by whoever plays: cues show what others do
    for (const score::PartMusic& music : section_.parts)
      for (const score::Voice& voice : music.voices)
        for (const auto& bar : voice.bars)
          for (const score::Segment& segment : bar) heard.insert(segment.event);
    for (const paint::Page& page : document_.pages)
      for (const paint::DisplayItem& item : page.items)
        if (item.subject.event >= 0 && own_.count(item.subject.event) == 0 &&
            !(item.kind.name().starts_with("cue-") && heard.count(item.subject.event) > 0))
          say("note of elsewhere", std::string(item.kind.name()) + " of event " + std::to_string(item.subject.event));
  }

  /// Each bar's line in its order; a bar has none of its own where the next begins a repeat, or within bars of rest
  /// that are written as one.
  void bars() {
    const std::vector<BarDrawn> drawn = bars_drawn(document_);
    std::size_t at = 0;
    bool within = false;
    for (std::size_t b = 0; b < section_.bars.size(); ++b) {
      const score::Bar& bar = section_.bars[b];
      const bool line_here = at < drawn.size() && drawn[at].origin == bar.origin && !rests_on(drawn, at, b);
      if (b > 0 && section_.bars[b - 1].origin == bar.origin) {  // the line was found with the bar it repeats
        if (!line_here || !drawn[at].rest) continue;
        ++at;
        within = false;
        continue;
      }
      if (bar.repeat_begin) within = false;  // its signs end a rest before it
      const std::size_t right = line_here && bar.repeat_begin ? at + 1 : at;
      const bool rests = right < drawn.size() && drawn[right].rest && *drawn[right].rest == bar.origin;
      within = within || rests;
      if (within && played_.count(static_cast<int>(b)) > 0) say("played bar within a rest", bar_of(b));
      if (line_here) {
        ++at;
        within = rests && bar.repeat_begin;  // else the line was the last bar's own
        continue;
      }
      const bool next_begins = b + 1 < section_.bars.size() && section_.bars[b + 1].repeat_begin;
      if (!within && !next_begins) say("bar is not on the sheet", bar_of(b));
    }
    if (at < drawn.size()) say("bar of elsewhere", std::to_string(drawn.size() - at) + " bar lines too many");
  }

  /// The line ends bars of rest, and not yet behind this bar: what it repeats has the same origin, and the line behind
  /// it is not the next bar's.
  bool rests_on(const std::vector<BarDrawn>& drawn, std::size_t at, std::size_t bar) const {
    if (!drawn[at].rest || bar + 1 == section_.bars.size() || section_.bars[bar + 1].repeat_begin) return false;
    const Span next = section_.bars[bar + 1].origin;
    const auto begins = [&](const BarDrawn& line) { return line.rest ? *line.rest == next : line.origin == next; };
    return at + 1 == drawn.size() || !begins(drawn[at + 1]);
  }

  std::string bar_of(std::size_t bar) const {
    return "bar " + std::to_string(bar + 1) + " of " + std::to_string(section_.bars.size());
  }

  const score::Timeline& song_;
  const score::Section& section_;
  paint::Document document_;
  std::string where_;
  std::vector<Failure>& out_;
  int part_ = -1;
  std::set<int> own_, played_;  // events; bars
};

}  // namespace

void judge_chart(const score::Timeline& song, const style::Style& style, text::Shaper& shaper, std::uint64_t number,
                 std::vector<Failure>& out) {
  Random random(number);
  text::MusicFont music(shaper, style.music_family);
  diag::Sink sink;
  const bool keyed = blocks::states_a_key(song);
  const ChartNames names = static_cast<ChartNames>(random.below(keyed ? 4 : 2));
  const auto chart = sheet::make_chart({song, style, shaper, music, player_for(song, random), names}, sink);
  if (!chart) {
    const std::string& sentence = chart.error().sentence;
    const auto says = [&](const char* words) { return sentence.find(words) != std::string::npos; };
    const bool remedy = says("; print it on larger paper") || says(": write what repeats in it as ");
    if (!says("does not fit on one page: its ") || !remedy)
      out.push_back({"chart is refused without reason or remedy", sentence});
    return;
  }
  const paint::Document document = document_of(chart->sheet);
  if (document.pages.size() != 1)
    out.push_back({"chart is not one page", std::to_string(document.pages.size()) + " pages"});
  const Length least = Length::pt(9);
  if (chart->chord_size < least)
    out.push_back({"chart with names too small", std::to_string(chart->chord_size.points()) + " pt"});
  judge_marks(document, chart->sheet, "chart", out);
}

void judge_practice(const score::Timeline& song, const style::Style& style, text::Shaper& shaper,
                    std::vector<Failure>& out) {
  text::MusicFont music(shaper, style.music_family);
  diag::Sink sink;
  const sheet::HandoutRequest request{song, style, shaper, music, {}, ""};
  std::vector<int> all;
  for (std::size_t s = 0; s < song.sections.size(); ++s) {
    all.push_back(static_cast<int>(s));
    const sheet::Sheet one = sheet::make_practice(request, {static_cast<int>(s)}, sink);
    PracticeJudge(song, static_cast<int>(s), one, out).run();
  }
  if (all.size() < 2) return;
  const sheet::Sheet whole = sheet::make_practice(request, all, sink);
  judge_marks(document_of(whole), whole, "all sections", out);
}

}  // namespace tunesheaf::generated

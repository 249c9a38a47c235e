#include "expected.h"

#include <algorithm>
#include <set>
#include <tuple>

#include "expected_place.h"
#include "tunesheaf/engrave/system.h"

namespace tunesheaf::sheet {
namespace {

using blocks::Setting;
using engrave::StaffKind;

bool plays(const score::PartMusic& music) {
  for (const score::Voice& voice : music.voices) {
    for (const auto& bar : voice.bars) {
      if (std::any_of(bar.begin(), bar.end(), [](const score::Segment& s) { return s.event >= 0 && !s.rest; })) {
        return true;
      }
    }
  }
  return false;
}

/// Staves that show a part's music: the rule of the sheet, written down a second time on purpose, so that the audit
/// does not believe the engraver.
struct Shown {
  bool notation = false, tab = false;
};
Shown shown(const Setting& setting, const score::Part& part, const score::PartMusic& music) {
  const std::string& wanted = setting.style.show_staves;
  Shown out;
  out.tab = part.tuning.count() > 0 && part.tab && !music.strummed && wanted != "notation";
  out.notation = (part.notation && (wanted != "tab" || !out.tab)) || !out.tab;
  return out;
}

/// What has no string has no place on a tab: it brings a staff of notation, whatever was asked for.
bool needs_notation(const score::Timeline& song, const score::PartMusic& music) {
  const auto homeless = [](const score::Note& note) { return note.string < 1; };
  for (const score::Voice& voice : music.voices) {
    for (const auto& bar : voice.bars) {
      for (const score::Segment& segment : bar) {
        if (segment.event < 0 || segment.rest) continue;
        const score::Event& event = song.events[static_cast<std::size_t>(segment.event)];
        if (event.kind != score::EventKind::Notes) continue;
        if (std::any_of(event.notes.begin(), event.notes.end(), homeless)) return true;
        if (std::any_of(event.grace->notes.begin(), event.grace->notes.end(), homeless)) return true;
      }
    }
  }
  return false;
}

class Expecter {
 public:
  explicit Expecter(const Setting& setting) : setting_(setting) {}

  std::vector<Expected> collect(const std::vector<int>& sections) {
    for (std::size_t s = 0; s < setting_.song.sections.size(); ++s) {
      if (!sections.empty() && std::count(sections.begin(), sections.end(), static_cast<int>(s)) == 0) continue;
      const score::Section& section = setting_.song.sections[s];
      for (const int p : setting_.parts) {
        const auto index = static_cast<std::size_t>(p);
        if (index < section.parts.size() && plays(section.parts[index])) part(section, p);
      }
    }
    std::sort(out_.begin(), out_.end(), [](const Expected& a, const Expected& b) { return a.subject < b.subject; });
    return std::move(out_);
  }

 private:
  void part(const score::Section& section, int p) {
    const score::Part& part = setting_.song.parts[static_cast<std::size_t>(p)];
    const score::PartMusic& music = section.parts[static_cast<std::size_t>(p)];
    Shown staves = shown(setting_, part, music);
    staves.notation = staves.notation || needs_notation(setting_.song, music);
    told_.clear();
    const std::vector<engrave::BarRepeat> repeats = engrave::bar_repeats(setting_.song, section, p);
    std::vector<const score::Voice*> voices;
    for (const score::Voice& voice : music.voices) voices.push_back(&voice);
    std::stable_sort(voices.begin(), voices.end(), [](const auto* a, const auto* b) { return a->number < b->number; });
    for (const score::Voice* each : voices) {
      const score::Voice& voice = *each;
      for (std::size_t b = 0; b < voice.bars.size(); ++b) {
        // A bar of a drum groove that goes on is a repeat sign, except where a line of music begins.
        const std::size_t before = out_.size();
        for (const score::Segment& segment : voice.bars[b])
          segment_notes(segment, static_cast<int>(b), p, music, voice, staves);
        const bool again = b < repeats.size() && repeats[b] != engrave::BarRepeat::None;
        for (std::size_t i = before; again && i < out_.size(); ++i) out_[i].or_sign = true;
      }
    }
  }

  void segment_notes(const score::Segment& segment, int bar, int part, const score::PartMusic& music,
                     const score::Voice& voice, const Shown& staves) {
    if (segment.event < 0 || segment.rest || segment.tied_from) return;
    const score::Event& event = setting_.song.events[static_cast<std::size_t>(segment.event)];
    if (event.kind != score::EventKind::Notes) return;
    const score::Place at{bar, segment.onset};
    for (std::size_t n = 0; n < event.notes.size(); ++n) {
      if (event.notes[n].tied_from) continue;
      const score::Note& note = event.notes[n];
      const auto add = [&](StaffKind kind) {
        Expected expected{{engrave::staff_number(part, kind), event.id, static_cast<int>(n)}, note.origin};
        expected.tab = kind == StaffKind::Tab;
        const score::Part& player = setting_.song.parts[static_cast<std::size_t>(part)];
        expected.halves = expected.tab ? height_on_tab(player, note, setting_.style.tab_mirrored)
                                       : height_on_staff(player, kind == StaffKind::Lower, music, note, at);
        if (expected.tab) expected.text = figure_of(note);
        if (kind == (staves.notation ? StaffKind::Notation : StaffKind::Tab)) expected.with = marks_of(event, n);
        out_.push_back(std::move(expected));
      };
      if (staves.notation) add(voice.staff == 1 ? StaffKind::Lower : StaffKind::Notation);
      if (!staves.tab || note.string < 1) continue;
      // Voices that meet on one string at one fret share the figure of the first.
      if (told_.emplace(at, note.string, figure_of(note)).second) add(StaffKind::Tab);
    }
  }

  const Setting& setting_;
  std::vector<Expected> out_;
  std::set<std::tuple<score::Place, int, std::string>> told_;  ///< figures of one part: place, string and text
};

}  // namespace

std::vector<Expected> expected_notes(const Setting& setting, const std::vector<int>& sections) {
  return Expecter(setting).collect(sections);
}

std::vector<source::Span> said_words(const Setting& setting, const std::vector<int>& sections) {
  using score::WordKind;
  static const std::set<WordKind> kKinds{WordKind::Lyric, WordKind::Say, WordKind::Dynamics, WordKind::Tempo,
                                         WordKind::Cue,   WordKind::Arm, WordKind::Retune};
  std::vector<source::Span> out{setting.song.title.span};
  const auto add = [&](const score::Section& section, const std::vector<score::Word>& words) {
    for (const score::Word& word : words) {
      if (kKinds.count(word.kind) > 0 && !word.text.empty()) out.push_back(word.origin);
      for (const int remark : word.remarks) out.push_back(section.remarks[static_cast<std::size_t>(remark)].text.span);
    }
  };
  for (std::size_t s = 0; s < setting.song.sections.size(); ++s) {
    if (!sections.empty() && std::count(sections.begin(), sections.end(), static_cast<int>(s)) == 0) continue;
    const score::Section& section = setting.song.sections[s];
    out.push_back(section.name.span);
    if (section.says) out.push_back(section.says->span);
    add(section, section.words);
    for (const int p : setting.parts) {
      const auto index = static_cast<std::size_t>(p);
      if (index < section.parts.size() && plays(section.parts[index])) {
        add(section, section.parts[index].words);
        for (const score::PatternWords& pattern : section.parts[index].patterns) out.push_back(pattern.name.span);
      }
    }
  }
  std::erase(out, source::Span{});
  return out;
}

}  // namespace tunesheaf::sheet

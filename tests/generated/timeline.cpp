// The invariants of score/timeline.h, and its facts reckoned a second time from the song: pitches from strings, bars as
// played from the form, durations from the notes they are written in.
#include <algorithm>
#include <cmath>
#include <map>

#include "generated/judge.h"
#include "tunesheaf/score/clock.h"
#include "tunesheaf/theory/rhythm.h"

namespace tunesheaf::generated {
namespace {

using score::Fraction;
using score::Timeline;

class TimelineJudge {
 public:
  explicit TimelineJudge(const Timeline& song) : song_(song) {}

  std::vector<Failure> run() {
    for (std::size_t i = 0; i < song_.events.size(); ++i) event(static_cast<int>(i));
    for (const score::Section& section : song_.sections) {
      for (std::size_t p = 0; p < section.parts.size(); ++p) {
        for (const score::Voice& voice : section.parts[p].voices) this->voice(section, voice);
      }
      sorted(section);
    }
    played();
    return std::move(out_);
  }

 private:
  void say(const std::string& key, const std::string& what) { out_.push_back({"timeline " + key, what}); }

  void event(int index) {
    const score::Event& event = song_.events[static_cast<std::size_t>(index)];
    if (event.id != index) say("event without its number", std::to_string(index));
    if (event.duration <= Fraction(0)) say("event without duration", std::to_string(index));
    if (event.at.onset < Fraction(0)) say("event before its bar", std::to_string(index));
    if (event.loudness < 1 || event.loudness > 127) say("loudness out of range", std::to_string(event.loudness));
    if (event.kind == score::EventKind::Notes && event.notes.empty()) say("event without notes", std::to_string(index));
  }

  void voice(const score::Section& section, const score::Voice& voice) {
    if (voice.bars.size() != section.bars.size()) return say("voice lacks bars", section.name.value);
    std::map<int, Fraction> sounded;
    for (std::size_t b = 0; b < voice.bars.size(); ++b) {
      Fraction at;
      std::vector<theory::RhythmSpan> spans;
      for (const score::Segment& segment : voice.bars[b]) {
        if (segment.onset != at)
          return say("segments leave a gap", section.name.value + " bar " + std::to_string(b + 1));
        if (segment.duration <= Fraction(0)) return say("segment without duration", section.name.value);
        at += segment.duration;
        if (segment.event >= 0) sounded[segment.event] += segment.duration;
        spans.push_back({segment.onset, segment.duration, segment.rest, segment.tied_from, segment.tied_to,
                         segment.rest ? -1 : segment.event});
      }
      if (at != section.bars[b].length) {
        say("bar not filled", section.name.value + " bar " + std::to_string(b + 1));
        continue;
      }
      spelling(section.bars[b], spans, section.name.value + " bar " + std::to_string(b + 1));
    }
    for (const auto& [id, duration] : sounded) {
      const score::Event& event = song_.events[static_cast<std::size_t>(id)];
      if (event.duration != duration)
        say("event is longer than its segments", "event " + std::to_string(id) + " of " + section.name.value + ": " +
                                                     event.duration.text() + " and " + duration.text());
    }
  }

  void spelling(const score::Bar& bar, const std::vector<theory::RhythmSpan>& spans, const std::string& where) {
    const theory::BarShape shape{bar.length, bar.pick_up ? theory::BarAlign::kEnd : theory::BarAlign::kStart};
    const auto spelt = theory::spell_bar(bar.meter, shape, spans);
    if (!spelt) return say("bar is not spelt, fault " + std::to_string(static_cast<int>(spelt.error().fault)), where);
    std::vector<theory::RhythmSpan> wanted;
    for (const theory::RhythmSpan& span : spans) {
      if (span.rest && !wanted.empty() && wanted.back().rest) {
        wanted.back().duration += span.duration;
      } else {
        wanted.push_back(span);
      }
    }
    const std::vector<theory::RhythmSpan> read = theory::join(spelt->pieces);
    const bool same = read.size() == wanted.size() &&
                      std::equal(read.begin(), read.end(), wanted.begin(), [](const auto& a, const auto& b) {
                        return a.onset == b.onset && a.duration == b.duration && a.rest == b.rest;
                      });
    if (!same) say("spelling reads back as another rhythm", where + ": " + theory::print_spelling(*spelt));
    for (const theory::SpelledPiece& piece : spelt->pieces)
      if (!piece.whole_bar_rest && theory::sounding_duration(*spelt, piece) != piece.duration)
        say("written value is not the duration", where);
  }

  void sorted(const score::Section& section) {
    const auto by_place = [](const auto& a, const auto& b) { return a.at < b.at; };
    if (!std::is_sorted(section.harmony.begin(), section.harmony.end(), by_place))
      say("harmony not sorted", section.name.value);
    for (std::size_t p = 0; p < section.parts.size(); ++p) {
      for (const score::Voice& voice : section.parts[p].voices)
        for (const auto& bar : voice.bars)
          for (const score::Segment& segment : bar)
            if (segment.event >= 0) notes(song_.events[static_cast<std::size_t>(segment.event)], p, section.parts[p]);
    }
  }

  void notes(const score::Event& event, std::size_t p, const score::PartMusic& music) {
    const score::Part& part = song_.parts[p];
    const int strings = part.tuning.count();
    if (strings == 0) return;
    theory::Capo capo;
    capo.fret = part.capo;
    if (part.partial_capo) {
      capo.fret = part.partial_capo->fret.value;
      for (const auto& string : part.partial_capo->strings) capo.strings.push_back(string.value);
    }
    for (const score::Note& note : event.notes) {
      if (note.string == 0) continue;
      if (note.string > strings) {
        say("note on a string that is not there", std::to_string(note.string));
        continue;
      }
      if (note.dead) continue;
      const int key = theory::sounding_midi(score::tuning_at(part, music, event.at), capo, note.string, note.fret);
      if (note.midi != key && note.harmonic == song::HarmonicKind::None)
        say("pitch is not string and fret", "string " + std::to_string(note.string) + " fret " +
                                                std::to_string(note.fret) + ": " + std::to_string(note.midi) + " and " +
                                                std::to_string(key));
    }
  }

  /// The form walked a second time, by section and pass.
  void played() {
    std::vector<std::pair<int, int>> wanted;
    std::vector<bool> taken(song_.form.size(), false);
    bool after_jump = false;
    std::vector<bool> been(song_.form.size(), false);
    song::Until until = song::Until::None;
    const auto index_of = [&](song::FormWord word, std::size_t from) {
      while (from < song_.form.size() && song_.form[from].entry.word != word) ++from;
      return from;
    };
    for (std::size_t i = 0; i < song_.form.size();) {
      const score::FormStep& step = song_.form[i];
      const song::FormWord word = step.entry.word;
      if (word == song::FormWord::Section) {
        const int times = song_.sections[static_cast<std::size_t>(step.section)].times;
        // Repeats are left out where a step comes round again, not where it comes for the first time after a jump.
        for (int pass = been[i] ? times : 1; pass <= times; ++pass) bars(step.section, pass, wanted);
        been[i] = true;
      }
      if (word == song::FormWord::Fine && after_jump && until == song::Until::Fine) break;
      if (word == song::FormWord::ToCoda && after_jump && until == song::Until::Coda) {
        i = index_of(song::FormWord::Coda, i);
        until = song::Until::None;
        continue;
      }
      if ((word == song::FormWord::DaCapo || word == song::FormWord::DalSegno) && !taken[i]) {
        taken[i] = true;
        after_jump = true;
        until = step.entry.until;
        std::size_t segno = 0;
        for (std::size_t j = 0; j < i; ++j)
          if (song_.form[j].entry.word == song::FormWord::Segno) segno = j;
        i = word == song::FormWord::DaCapo ? 0 : segno;
        continue;
      }
      ++i;
    }
    compare(wanted);
  }

  void bars(int section, int pass, std::vector<std::pair<int, int>>& out) const {
    const auto& bars = song_.sections[static_cast<std::size_t>(section)].bars;
    for (std::size_t b = 0; b < bars.size(); ++b) {
      const std::vector<int>& passes = bars[b].ending;
      if (passes.empty() || std::find(passes.begin(), passes.end(), pass) != passes.end())
        out.emplace_back(section, static_cast<int>(b));
    }
  }

  void compare(const std::vector<std::pair<int, int>>& wanted) {
    if (wanted.size() != song_.played.size())
      return say("bars as played are not those of the form",
                 std::to_string(song_.played.size()) + " and " + std::to_string(wanted.size()));
    Fraction at;
    double seconds = -1;
    std::vector<std::size_t> laid;
    for (std::size_t i = 0; i < wanted.size(); ++i) {
      const score::PlayedBar& bar = song_.played[i];
      if (wanted[i] != std::pair(bar.section, bar.bar)) return say("bar as played is another", std::to_string(i));
      const score::Bar& written =
          song_.sections[static_cast<std::size_t>(bar.section)].bars[static_cast<std::size_t>(bar.bar)];
      // A pick-up overlays the end of what was played before it, where that is long enough.
      const bool overlays = written.pick_up && written.length <= at;
      if (bar.start != (overlays ? at - written.length : at))
        return say("bar as played begins elsewhere", std::to_string(i));
      if (overlays) {
        if (bar.seconds < -1e-9 || !in_step(bar, written.length, laid))
          return say("a pick-up is not in time with what it lies over", std::to_string(i));
        continue;
      }
      if (bar.seconds <= seconds) return say("seconds do not go on", std::to_string(i));
      seconds = bar.seconds;
      at += written.length;
      laid.push_back(i);
    }
    if (!wanted.empty() && song_.seconds <= seconds) say("the song ends before its last bar", "");
  }

  /// Each eighth of a pick-up sounds when the same place of the bars under it does.
  bool in_step(const score::PlayedBar& up, Fraction length, const std::vector<std::size_t>& laid) const {
    for (Fraction at; at < length; at += Fraction(1, 8)) {
      auto under = laid.rbegin();
      while (under + 1 != laid.rend() && song_.played[*under].start > up.start + at) ++under;
      const score::PlayedBar& bar = song_.played[*under];
      const double there = bar.seconds + score::tempo_within(bar, up.start + at - bar.start).seconds;
      if (std::abs(up.seconds + score::tempo_within(up, at).seconds - there) > 1e-6) return false;
    }
    return true;
  }

  const Timeline& song_;
  std::vector<Failure> out_;
};

}  // namespace

std::vector<Failure> judge_timeline(const score::Timeline& song) {
  return TimelineJudge(song).run();
}

}  // namespace tunesheaf::generated

#include <algorithm>
#include <map>
#include <set>

#include "chart_form.h"
#include "chart_players.h"
#include "chart_words.h"
#include "tunesheaf/base/number.h"
#include "tunesheaf/blocks/chart.h"
#include "tunesheaf/blocks/words.h"
#include "tunesheaf/engrave/common_signs.h"
#include "tunesheaf/score/clock.h"

namespace tunesheaf::blocks {
namespace {

using score::WordKind;

/// A new tempo as a cue: its words, the note that is counted, the number.
ChartCue tempo_cue(const song::TempoMark& mark, const theory::Meter& meter, const score::Word& word) {
  ChartCue cue{word.at.onset, CueKind::Tempo, mark.words, word.origin};
  if (mark.per_minute == Fraction{}) return cue;
  cue.beat = score::counted_unit(mark, meter);
  cue.rate = "= " + base::print_decimal(mark.per_minute.to_double(), 1);
  return cue;
}

bool same_tempo(const std::optional<song::TempoMark>& a, const std::optional<song::TempoMark>& b) {
  if (!a || !b) return a.has_value() == b.has_value();
  return a->per_minute == b->per_minute && a->unit == b->unit && a->words == b->words;
}

class Reader {
 public:
  Reader(const score::Timeline& song, const ChartPlayer& player, ChartNames names)
      : song_(song), has_key_(states_a_key(song)) {
    out_.player = player;
    out_.names = names;
  }

  ChartContent read() {
    out_.rests = rests_in_most(song_, said_once_);
    for (std::size_t s = 0; s < song_.sections.size(); ++s) section(static_cast<int>(s));
    chart_form(song_, out_);
    who_starts(song_, said_once_, out_);
    who_reads(song_, out_);
    return std::move(out_);
  }

 private:
  std::optional<theory::Key> key_at(const score::Section& section, int bar) const {
    if (!has_key_ || bar >= static_cast<int>(section.bars.size())) return std::nullopt;
    return section.bars[static_cast<std::size_t>(bar)].key;
  }

  ChartName name_of(const score::Section& section, const score::Harmony& harmony) {
    if (harmony.none) return {"N.C.", {}, {}, {}};
    if (harmony.name) return chart_name(*harmony.name, out_.player, out_.names, key_at(section, harmony.at.bar));
    const score::ShapeUse& shape = song_.shapes[static_cast<std::size_t>(harmony.shape)];
    const std::string name = shape.ear_is_claim ? shape.ear_text : shape.name.value;
    if (std::find(out_.unnamed.begin(), out_.unnamed.end(), name) == out_.unnamed.end()) out_.unnamed.push_back(name);
    return {{}, name, {}, {}};
  }

  void section(int index) {
    const score::Section& from = song_.sections[static_cast<std::size_t>(index)];
    ChartSection out;
    out.section = index;
    out.letter = from.letter;
    out.name = from.name.value;
    out.times = from.until.empty() ? from.times : 1;
    if (!from.until.empty()) out.until = times_words(from);
    out.origin = from.origin;
    out.who = who_rests(song_, from, said_once_);
    out.signs = engrave::form_signs(song_, index);
    tempo_ = from.tempo && !same_tempo(from.tempo, song_.tempo) ? from.tempo : std::nullopt;
    if (from.from == song::Authority::Lesson) out.from_lesson = "lesson";
    bars(from, out);
    chords(from, out);
    strum(from, out);
    words(from, out);
    for (const Stop& stop : stops(song_, from)) {
      const std::string fill = stop.fills.empty() ? "" : ", " + stop.fills;
      out.bars[static_cast<std::size_t>(stop.bar)].cues.push_back({stop.onset, CueKind::Stop, "stop" + fill, {}});
    }
    for (const PickUp& one : pick_ups(song_, from)) {
      ChartCue cue{one.onset, CueKind::PickUp, "pick-up", from.origin, one.length, one.players};
      out.bars[static_cast<std::size_t>(one.bar)].cues.push_back(std::move(cue));
    }
    drop_pick_up(out);
    no_chords(from, out);
    rests_without_chord(out);
    last_strokes(song_, from, out_.player.own_part, out);
    off_beat_changes(out);
    change(index, from, out);
    for (std::size_t b = 1; b < out.bars.size(); ++b) {
      const ChartBar& bar = out.bars[b];
      ChartBar before = out.bars[b - 1];
      before.cues.clear();
      before.holds.clear();
      out.bars[b].as_before = bar.says_the_same(before) && !bar.chords.empty() && bar.cues.empty() &&
                              bar.holds.empty() && !bar.pick_up && bar.ending == out.bars[b - 1].ending;
    }
    out_.sections.push_back(std::move(out));
  }

  /// A pick-up without a chord of its own needs no column: it is told before the first bar. What is said there moves on
  /// a bar.
  static void drop_pick_up(ChartSection& out) {
    if (out.bars.size() < 2 || !out.bars.front().pick_up || !out.bars.front().chords.empty()) return;
    ChartBar& next = out.bars[1];
    for (ChartCue& cue : out.bars.front().cues) {
      cue.at = Fraction{};
      if (cue.kind == CueKind::PickUp) {
        out.pick_ups.push_back(cue);
      } else {
        next.cues.insert(next.cues.begin(), cue);
      }
    }
    next.repeat_begin = next.repeat_begin || out.bars.front().repeat_begin;
    out.bars.erase(out.bars.begin());
  }

  /// Where no chord is in force nobody plays on before a hit.
  void rests_without_chord(ChartSection& out) const {
    if (!song_.parts.empty()) return;  // what sounds is known
    for (ChartBar& bar : out.bars) {
      const bool none =
          bar.chords.empty() || bar.chords.front().onset != Fraction{} || bar.chords.front().name.root == "N.C.";
      if (none) bar.plays_until = Fraction{};
    }
  }

  /// A section without a chord says so, where others have chords.
  void no_chords(const score::Section& from, ChartSection& out) const {
    const bool others = std::any_of(song_.sections.begin(), song_.sections.end(),
                                    [](const score::Section& one) { return !chords_of(one).empty(); });
    if (!others || !chords_of(from).empty()) return;
    for (ChartBar& bar : out.bars) bar.chords.push_back({Fraction{}, {"N.C.", {}, {}, {}}, from.origin});
  }

  /// Chords that change elsewhere than on a beat need their rhythm printed: slashes would put them on one.
  static void off_beat_changes(ChartSection& out) {
    for (ChartBar& bar : out.bars) {
      const auto beats = bar.meter.beats();
      const bool off = std::any_of(bar.chords.begin(), bar.chords.end(), [&](const ChartChord& chord) {
        return std::none_of(beats.begin(), beats.end(), [&](const auto& beat) { return beat.onset == chord.onset; });
      });
      if (!off || !bar.hits.empty() || bar.pick_up) continue;
      for (std::size_t i = 0; i < bar.chords.size(); ++i) {
        if (bar.chords[i].name.root == "N.C.") continue;
        const Fraction end = i + 1 < bar.chords.size() ? bar.chords[i + 1].onset : bar.length;
        bar.hits.push_back({bar.chords[i].onset, end - bar.chords[i].onset, {}});
      }
    }
  }

  /// What is no more as in the head, or as in what was played before.
  void change(int index, const score::Section& from, ChartSection& out) const {
    if (from.bars.empty()) return;
    const ChartChange is = change_at(song_, index);
    ChartCue cue{{}, CueKind::Change, {}, from.origin};
    const auto say = [](std::string& text, const std::string& more) {
      if (!more.empty()) text += (text.empty() ? "" : " · ") + more;
    };
    if (is.key && has_key_) say(cue.text, "in " + key_words(key_for(from.bars.front().key, out_.player, out_.names)));
    const song::TempoMark mark = tempo_.value_or(song::TempoMark{});
    say(cue.text, mark.words);
    if (mark.per_minute != Fraction{}) {
      cue.beat = score::counted_unit(mark, from.bars.front().meter);
      cue.rate = "= " + base::print_decimal(mark.per_minute.to_double(), 1);
    } else if (is.rate > 0) {
      cue.beat = score::counted_unit(song_.tempo.value_or(mark), from.bars.front().meter);
      cue.rate = "= " + base::print_decimal(is.rate / cue.beat.to_double(), 1);
    }
    if (is.feel) say(cue.rate.empty() ? cue.text : cue.rate, score::feel_words(score::feel_of(song_, from)));
    if (is.meter && !out.bars.empty()) out.bars.front().show_meter = true;
    if (!cue.text.empty() || !cue.rate.empty()) out.change = std::move(cue);
  }

  void bars(const score::Section& from, ChartSection& out) const {
    for (std::size_t b = 0; b < from.bars.size(); ++b) {
      const score::Bar& bar = from.bars[b];
      ChartBar made;
      made.bar = static_cast<int>(b);
      made.meter = bar.meter;
      made.length = bar.length;
      // At the song's own meter nothing is shown where it begins: it stands in the head.
      made.show_meter = bar.show_meter && !(out_.sections.empty() && b < 2 && bar.meter == song_.meter);
      made.pick_up = bar.pick_up;
      made.repeat_begin = bar.repeat_begin && (out.times > 1 || !out.until.empty());
      made.repeat_end = bar.end == score::BarLine::RepeatEnd;
      const score::BarLine end = engrave::bar_line_at(out.signs, from, static_cast<int>(b));
      made.final = end == score::BarLine::Final;
      made.doubled = end == score::BarLine::Double;
      made.ending = bar.ending;
      made.ending_begin = bar.ending_begin;
      made.ending_end = bar.ending_end;
      made.origin = bar.origin;
      if (b < from.hits.size()) {
        for (const score::Hit& hit : from.hits[b])
          made.hits.push_back({hit.onset, hit.duration, hit.accents, hit.ghost, false});
        if (!made.hits.empty()) {
          made.plays_until = plays_on(from, b, made.hits.front().onset);
          // Without parts the lane itself says whether the band went on before: by a dot it did not.
          if (song_.parts.empty() && !from.hits[b].front().after_silence) made.plays_until = made.hits.front().onset;
          made.plays_from = plays_again(song_, from, b, made.hits.back().onset + made.hits.back().duration);
        }
      }
      out.bars.push_back(std::move(made));
    }
  }

  void chords(const score::Section& from, ChartSection& out) {
    const auto all = chords_of(from);
    std::size_t next = 0;
    std::optional<ChartChord> held;
    for (ChartBar& bar : out.bars) {
      if (held && !(next < all.size() && all[next]->at.bar == bar.bar && all[next]->at.onset == Fraction{})) {
        bar.chords.push_back({Fraction{}, held->name, held->origin});
      }
      for (; next < all.size() && all[next]->at.bar <= bar.bar; ++next) {
        const score::Harmony& harmony = *all[next];
        const ChartChord chord{harmony.at.onset, name_of(from, harmony), harmony.origin};
        if (!bar.chords.empty() && bar.chords.back().name == chord.name) continue;
        bar.chords.push_back(chord);
      }
      if (!bar.chords.empty()) held = bar.chords.back();
    }
  }

  /// The rhythm of the strumming hand in a section's first bar, where it is another than before.
  void strum(const score::Section& from, ChartSection& out) {
    const auto part = static_cast<std::size_t>(std::max(out_.player.own_part, 0));
    if (part >= from.parts.size() || !from.parts[part].strummed || from.parts[part].voices.empty()) return;
    const auto& voice = from.parts[part].voices.front();
    for (ChartBar& bar : out.bars) {
      if (bar.pick_up || bar.chords.empty() || bar.chords.front().name.root == "N.C.") continue;
      std::vector<ChartHit> struck;
      for (const score::Segment& segment : voice.bars[static_cast<std::size_t>(bar.bar)]) {
        if (segment.event < 0 || segment.rest) continue;
        const score::Event& event = song_.events[static_cast<std::size_t>(segment.event)];
        struck.push_back({segment.onset, segment.duration, {}});
        struck.back().muted = event.muted;
      }
      if (struck.size() > 1 && struck != strummed_ && bar.hits.empty()) bar.strum = struck;
      if (struck.size() > 1) strummed_ = struck;
      return;
    }
  }

  void cue(ChartSection& out, const score::Word& word, CueKind kind, std::string text) const {
    if (text.empty() || word.at.bar >= static_cast<int>(out.bars.size())) return;
    ChartBar& bar = out.bars[static_cast<std::size_t>(word.at.bar)];
    bar.cues.push_back({word.at.onset, kind, std::move(text), word.origin});
  }

  void words(const score::Section& from, ChartSection& out) {
    std::map<int, std::string> counts;
    std::map<int, const score::Word*> count_words;
    for (const score::Word& word : from.words) {
      const auto b = static_cast<std::size_t>(word.at.bar);
      if (b >= out.bars.size()) continue;
      const bool begins = word.at.bar == 0 && word.at.onset == Fraction{};
      switch (word.kind) {
        case WordKind::Say:
        case WordKind::Cue:
          cue(out, word, CueKind::Say, word.text);
          break;
        case WordKind::Count:
          counts[word.at.bar] += (counts[word.at.bar].empty() ? "" : " ") + word.text;
          count_words.emplace(word.at.bar, &word);
          break;
        case WordKind::Tempo:
          if (word.tempo && begins && !tempo_) {
            if (!same_tempo(word.tempo, song_.tempo)) tempo_ = word.tempo;
          } else {
            ChartCue made = word.tempo ? tempo_cue(*word.tempo, out.bars[b].meter, word)
                                       : ChartCue{word.at.onset, CueKind::Tempo, word.text, word.origin};
            if (!made.text.empty() || !made.rate.empty()) out.bars[b].cues.push_back(std::move(made));
          }
          break;
        case WordKind::Hold:
          out.bars[b].holds.push_back({word.at.onset, word.text});
          break;
        case WordKind::Dynamics:
          if (begins) {
            out.loudness = word.text;
          } else {
            cue(out, word, CueKind::Loudness, word.text);
          }
          break;
        default:
          break;
      }
    }
    counted_bars(out, counts, count_words);
    parts_words(from, out);
    for (ChartBar& bar : out.bars) {
      std::stable_sort(bar.cues.begin(), bar.cues.end(),
                       [](const ChartCue& a, const ChartCue& b) { return a.at < b.at; });
    }
  }

  /// Beats counted aloud; those of the song's first bar stand in the head.
  void counted_bars(ChartSection& out, const std::map<int, std::string>& counts,
                    const std::map<int, const score::Word*>& words) {
    std::string before;
    for (const auto& [bar, text] : counts) {
      if (out_.sections.empty() && bar == 0 && !song_.played.empty() && song_.played.front().section == 0) {
        out_.count_in = text;
        out_.counted_bar = true;
      } else if (text != before) {
        cue(out, *words.at(bar), CueKind::Count, "count " + text);
      }
      before = text;
    }
  }

  /// Where the chart states no loudness: that of half the players or more is everyone's, else it is said whose it is.
  void loudness(const std::map<std::string, std::vector<int>>& stated, std::size_t playing, ChartSection& out) const {
    if (!out.loudness.empty()) return;
    for (const auto& [text, parts] : stated) {
      if (parts.size() * 2 >= playing && out.loudness.empty()) {
        out.loudness = text;
        continue;
      }
      std::vector<std::string> names;
      for (const int part : parts) names.push_back(song_.parts[static_cast<std::size_t>(part)].name.value);
      out.who += (out.who.empty() ? "" : "; ") + list_words(names) + " " + text;
    }
  }

  /// What parts say that everyone needs: the words sung, slowing and quickening, loudness where the chart has none.
  void parts_words(const score::Section& from, ChartSection& out) {
    std::string sung = first_words(from, from.words);
    std::map<std::string, std::vector<int>> begins_at;  // loudness, who states it
    std::size_t playing = 0;
    for (const score::PartMusic& music : from.parts) {
      playing += music.voices.empty() ? 0 : 1;
      if (sung.empty()) sung = first_words(from, music.words);
      for (const score::Word& word : music.words) {
        const bool begins = word.at.bar == 0 && word.at.onset == Fraction{};
        if (word.kind == WordKind::Retune)
          cue(out, word, CueKind::Say, song_.parts[static_cast<std::size_t>(music.part)].name.value + ": " + word.text);
        if (word.kind == WordKind::Dynamics && begins) begins_at[word.text].push_back(music.part);
        if (word.kind == WordKind::Hold && word.text != "breath" && word.text != "caesura") {
          hold(word.at, word.text, out);
        }
      }
      for (const score::Mark& mark : music.marks) tempo_mark(mark, out);
      held_notes(music, out);
    }
    loudness(begins_at, playing, out);
    if (sung.empty() || out.bars.empty()) return;
    auto& cues = out.bars.front().cues;
    cues.insert(cues.begin(), {Fraction{}, CueKind::Words, "\u201c" + sung + "\u201d", from.origin});
  }

  /// Where one holds, all wait: once at a place, however many hold there.
  static void hold(score::Place at, const std::string& word, ChartSection& out) {
    if (at.bar >= static_cast<int>(out.bars.size())) return;
    auto& holds = out.bars[static_cast<std::size_t>(at.bar)].holds;
    const bool known = std::any_of(holds.begin(), holds.end(), [&](const ChartHold& h) { return h.at == at.onset; });
    if (!known) holds.push_back({at.onset, word});
  }

  void held_notes(const score::PartMusic& music, ChartSection& out) const {
    for (const score::Voice& voice : music.voices) {
      for (std::size_t b = 0; b < voice.bars.size(); ++b) {
        for (const score::Segment& segment : voice.bars[b]) {
          if (segment.event < 0 || segment.tied_from) continue;
          const score::Event& event = song_.events[static_cast<std::size_t>(segment.event)];
          if (event.accents.fermata) hold({static_cast<int>(b), segment.onset}, {}, out);
        }
      }
    }
  }

  static void tempo_mark(const score::Mark& mark, ChartSection& out) {
    static const std::map<std::string, std::string> kinds{{"ritardando", "rit."},
                                                          {"accelerando", "accel."},
                                                          {"rallentando", "rall."},
                                                          {"crescendo", "cresc."},
                                                          {"diminuendo", "dim."}};
    const auto kind = kinds.find(mark.kind);
    if (kind == kinds.end() || mark.from.bar >= static_cast<int>(out.bars.size())) return;
    ChartBar& bar = out.bars[static_cast<std::size_t>(mark.from.bar)];
    const bool said = std::any_of(bar.cues.begin(), bar.cues.end(), [&](const ChartCue& c) {
      return c.kind == CueKind::Tempo && c.text == kind->second;
    });
    if (!said) bar.cues.push_back({mark.from.onset, CueKind::Tempo, kind->second, mark.origin});
  }

  const score::Timeline& song_;
  ChartContent out_;
  bool has_key_;
  std::set<int> said_once_;               ///< parts whose rests stand in the head
  std::optional<song::TempoMark> tempo_;  ///< of the section that is read
  std::vector<ChartHit> strummed_;
};

}  // namespace

bool ChartBar::says_the_same(const ChartBar& other) const {
  return chords == other.chords && hits == other.hits && plays_until == other.plays_until &&
         plays_from == other.plays_from && cues == other.cues && holds == other.holds && meter == other.meter &&
         length == other.length && pick_up == other.pick_up;
}

bool ChartBar::shows_beats() const {
  const auto late = [](Fraction at) { return at != Fraction{}; };
  return chords.size() > 1 || (chords.size() == 1 && late(chords[0].onset)) ||
         std::any_of(holds.begin(), holds.end(), [&](const ChartHold& hold) { return late(hold.at); });
}

int ChartSection::bar_count() const {
  int out = 0;
  for (const ChartBar& bar : bars) out += bar.count;
  return out;
}

int ChartContent::cells() const {
  int out = 0;
  for (const ChartSection& section : sections) out += static_cast<int>(section.bars.size());
  return out;
}

ChartContent chart_content(const score::Timeline& song, const ChartPlayer& player, ChartNames names) {
  return Reader(song, player, names).read();
}

}  // namespace tunesheaf::blocks

#include <algorithm>
#include <map>
#include <set>

#include "chart_players.h"
#include "tunesheaf/base/number.h"
#include "tunesheaf/blocks/chart.h"
#include "tunesheaf/blocks/words.h"
#include "tunesheaf/score/clock.h"

namespace tunesheaf::blocks {
namespace {

using score::WordKind;

constexpr auto kSigns = theory::Accidentals::Signs;

/// A new tempo as a cue: its words, the note that is counted, the number.
ChartCue tempo_cue(const song::TempoMark& mark, const theory::Meter& meter, const score::Word& word) {
  ChartCue cue{word.at.onset, CueKind::Tempo, mark.words, word.origin};
  if (mark.per_minute == Fraction{}) return cue;
  cue.beat = score::counted_unit(mark, meter);
  cue.rate = "= " + base::print_decimal(mark.per_minute.to_double(), 1);
  return cue;
}

std::string feel_words(const song::Feel& feel) {
  if (!feel.words.empty()) return feel.words;
  return feel.unit == Fraction{} ? "straight" : "swing";
}

bool same_tempo(const std::optional<song::TempoMark>& a, const std::optional<song::TempoMark>& b) {
  if (!a || !b) return a.has_value() == b.has_value();
  return a->per_minute == b->per_minute && a->unit == b->unit && a->words == b->words;
}

/// The first words that are sung in a section.
std::string first_words(const std::vector<score::Word>& words) {
  constexpr int kMost = 7;
  std::string out;
  int count = 0;
  bool joined = false;
  for (const score::Word& word : words) {
    if (word.kind != WordKind::Lyric || word.text.empty()) continue;
    std::string text = word.text;
    const bool goes_on = text.size() > 1 && text.back() == '-';
    if (goes_on) text.pop_back();
    if (!joined && ++count > kMost) return out + " …";
    out += (joined || out.empty() ? "" : " ") + text;
    joined = goes_on;
  }
  return out;
}

class Reader {
 public:
  Reader(const score::Timeline& song, const ChartPlayer& player, ChartNames names)
      : song_(song), has_key_(states_a_key(song)) {
    out_.player = player;
    out_.names = names;
  }

  ChartContent read() {
    for (std::size_t s = 0; s < song_.sections.size(); ++s) section(static_cast<int>(s));
    form();
    who_starts(song_, out_);
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
    out.who = who_rests(song_, from);
    out.signs = engrave::form_signs(song_, index);
    if (from.tempo && !same_tempo(from.tempo, song_.tempo)) out.tempo = from.tempo;
    if (from.feel && feel_words(*from.feel) != feel_words(song_.feel)) out.feel = feel_words(*from.feel);
    if (from.from == song::Authority::Lesson) out.from_lesson = "lesson";
    bars(from, out);
    chords(from, out);
    strum(from, out);
    words(from, out);
    for (const Stop& stop : stops(song_, from)) {
      out.bars[static_cast<std::size_t>(stop.bar)].cues.push_back({stop.onset, CueKind::Stop, "stop", {}});
    }
    drop_pick_up(out);
    no_chords(from, out);
    for (std::size_t b = 1; b < out.bars.size(); ++b) {
      const ChartBar& bar = out.bars[b];
      ChartBar before = out.bars[b - 1];
      before.cues.clear();
      before.holds.clear();
      out.bars[b].as_before = bar.says_the_same(before) && !bar.chords.empty() && bar.cues.empty() &&
                              bar.holds.empty() && !bar.pick_up && bar.ending == out.bars[b - 1].ending;
    }
    first_key(from, out);
    out_.sections.push_back(std::move(out));
  }

  /// A pick-up without a chord of its own needs no column: the head counts it in. What is said there moves on a bar.
  static void drop_pick_up(ChartSection& out) {
    if (out.bars.size() < 2 || !out.bars.front().pick_up || !out.bars.front().chords.empty()) return;
    ChartBar& next = out.bars[1];
    for (ChartCue& cue : out.bars.front().cues) {
      cue.at = Fraction{};
      next.cues.insert(next.cues.begin(), cue);
    }
    next.repeat_begin = next.repeat_begin || out.bars.front().repeat_begin;
    out.bars.erase(out.bars.begin());
  }

  /// A section without a chord says so, where others have chords.
  void no_chords(const score::Section& from, ChartSection& out) const {
    const bool others = std::any_of(song_.sections.begin(), song_.sections.end(),
                                    [](const score::Section& one) { return !chords_of(one).empty(); });
    if (!others || !chords_of(from).empty()) return;
    for (ChartBar& bar : out.bars) bar.chords.push_back({Fraction{}, {"N.C.", {}, {}, {}}, from.origin});
  }

  /// A key other than that of the song, where the section begins or changes.
  void first_key(const score::Section& from, ChartSection& out) {
    if (!has_key_ || from.bars.empty()) return;
    const theory::Key key = from.bars.front().key;
    if (song_.key && key == *song_.key) return;
    out.key = key_words(key_for(key, out_.player, out_.names));
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
      made.final = bar.end == score::BarLine::Final;
      made.doubled = bar.end == score::BarLine::Double;
      made.ending = bar.ending;
      made.ending_begin = bar.ending_begin;
      made.ending_end = bar.ending_end;
      made.origin = bar.origin;
      if (b < from.hits.size()) {
        for (const score::Hit& hit : from.hits[b]) made.hits.push_back({hit.onset, hit.duration, hit.accents, hit.ghost});
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
        struck.push_back({segment.onset, segment.duration, false});
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
          if (word.tempo && begins && !out.tempo) {
            if (!same_tempo(word.tempo, song_.tempo)) out.tempo = word.tempo;
          } else {
            ChartCue made = word.tempo ? tempo_cue(*word.tempo, out.bars[b].meter, word)
                                       : ChartCue{word.at.onset, CueKind::Tempo, word.text, word.origin};
            if (!made.text.empty() || !made.rate.empty()) out.bars[b].cues.push_back(std::move(made));
          }
          break;
        case WordKind::Hold:
          out.bars[b].holds.push_back(word.at.onset);
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
      } else if (text != before) {
        cue(out, *words.at(bar), CueKind::Count, "count " + text);
      }
      before = text;
    }
  }

  /// What parts say that everyone needs: the words sung, slowing and quickening, loudness where the chart has none.
  void parts_words(const score::Section& from, ChartSection& out) {
    std::string sung = first_words(from.words);
    for (const score::PartMusic& music : from.parts) {
      if (sung.empty()) sung = first_words(music.words);
      for (const score::Word& word : music.words) {
        const bool begins = word.at.bar == 0 && word.at.onset == Fraction{};
        if (word.kind == WordKind::Dynamics && begins && out.loudness.empty()) out.loudness = word.text;
      }
      for (const score::Mark& mark : music.marks) tempo_mark(mark, out);
    }
    if (sung.empty() || out.bars.empty()) return;
    auto& cues = out.bars.front().cues;
    cues.insert(cues.begin(), {Fraction{}, CueKind::Words, "\u201c" + sung + "\u201d", from.origin});
  }

  static void tempo_mark(const score::Mark& mark, ChartSection& out) {
    const std::set<std::string> kinds{"ritardando", "accelerando", "rallentando", "crescendo", "diminuendo"};
    if (kinds.count(mark.kind) == 0 || mark.from.bar >= static_cast<int>(out.bars.size())) return;
    ChartBar& bar = out.bars[static_cast<std::size_t>(mark.from.bar)];
    const bool said = std::any_of(bar.cues.begin(), bar.cues.end(),
                                  [&](const ChartCue& c) { return c.kind == CueKind::Tempo && c.text == mark.kind; });
    if (!said) bar.cues.push_back({mark.from.onset, CueKind::Tempo, mark.kind, mark.origin});
  }

  void form() {
    int step = -1, pass = 0;
    for (const score::PlayedBar& bar : song_.played) {
      const score::Section& section = song_.sections[static_cast<std::size_t>(bar.section)];
      const bool again = bar.step != step || bar.pass < pass;
      if (again && !out_.form.empty() && out_.form.back().section == bar.section) {
        ++out_.form.back().times;
      } else if (again) {
        out_.form.push_back({bar.section, section.letter, 1, !section.until.empty()});
      } else if (bar.pass != pass) {
        ++out_.form.back().times;
      }
      step = bar.step;
      pass = bar.pass;
    }
    out_.fades = std::any_of(song_.form.begin(), song_.form.end(),
                             [](const score::FormStep& one) { return one.entry.word == song::FormWord::Fade; });
  }

  const score::Timeline& song_;
  ChartContent out_;
  bool has_key_;
  std::vector<ChartHit> strummed_;
};

}  // namespace

bool ChartBar::says_the_same(const ChartBar& other) const {
  return chords == other.chords && hits == other.hits && cues == other.cues && holds == other.holds &&
         meter == other.meter && length == other.length && pick_up == other.pick_up;
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

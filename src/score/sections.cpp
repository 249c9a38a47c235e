#include <algorithm>
#include <set>
#include <tuple>

#include "builder.h"

namespace tunesheaf::score {
namespace {

theory::Key key_or_plain(const std::optional<theory::Key>& key) {
  return key.value_or(theory::Key{});
}

class SectionMaker {
 public:
  SectionMaker(Builder& builder, std::size_t index)
      : builder_(builder), from_(builder.song.sections[index]), index_(index) {}

  void make() {
    builder_.out.sections.emplace_back();
    heading();
    bars();
    repeats();
    build_words(from_.chart, section().words);
    for (std::size_t p = 0; p < from_.parts.size(); ++p) part(p);
    chart_marks();
    build_harmony(builder_, from_, section());
    section().hits = build_hits(from_);
    remarks();
    groove_repeats();
  }

 private:
  Section& section() { return builder_.out.sections.back(); }

  void heading() {
    const song::SectionDef& def = *from_.def;
    Section& s = section();
    s.name = def.name;
    if (def.video) s.video = def.video->value;
    s.at = from_.at;
    s.says = def.says;
    s.times = from_.times;
    for (const song::SectionDef* source : chain()) {
      if (source->times.until && s.until.empty()) {
        s.until = source->times.until->value;
        s.about = true;
      }
      if (!s.tempo && source->tempo) s.tempo = source->tempo->value;
      if (!s.feel && source->feel) s.feel = source->feel->value;
      if (source->times.span.length() > 0 && source->times.span != source->name.span) break;
    }
    s.from = def.from;
    if (def.instead_of) s.instead_of = def.instead_of->value;
    if (def.like) s.like = def.like->value;
    s.origin = def.name.span;
  }

  /// The section, then the one it is like, and so on.
  std::vector<const song::SectionDef*> chain() const {
    std::vector<const song::SectionDef*> out;
    for (int at = static_cast<int>(index_); at >= 0 && out.size() < 1000;) {
      const CheckedSection& s = builder_.song.sections[static_cast<std::size_t>(at)];
      out.push_back(s.def);
      at = s.like;
    }
    return out;
  }

  void bars() {
    const Bar* before = nullptr;
    int number = 0;
    for (auto s = builder_.out.sections.rbegin() + 1; s != builder_.out.sections.rend(); ++s) {
      if (s->bars.empty()) continue;
      if (!before) before = &s->bars.back();
      for (const Bar& bar : s->bars) number = std::max(number, bar.number);
      if (number > 0) break;
    }
    auto& bars = section().bars;
    bars.reserve(from_.bars.size());
    for (const check::CheckedBar& from : from_.bars) {
      Bar bar;
      bar.meter = from.meter;
      bar.key = key_or_plain(from.key);
      bar.show_meter = !before || !(before->meter == bar.meter);
      bar.show_key = !before || !(before->key == bar.key);
      bar.length = from.length;
      bar.pick_up = from.pick_up;
      bar.number = from.pick_up ? 0 : ++number;
      bar.from = from.from;
      bar.origin = from.span;
      if (from.ending >= 0) {
        const check::CheckedEnding& ending = from_.endings[static_cast<std::size_t>(from.ending)];
        bar.ending = ending.passes;
        const int at = static_cast<int>(bars.size());
        bar.ending_begin = at == ending.first_bar;
        bar.ending_end = at == ending.first_bar + ending.bar_count - 1;
      }
      bars.push_back(bar);
      before = &bars.back();
    }
  }

  /// True when some of the passes is followed by another one.
  bool goes_back(const std::vector<int>& passes) const {
    return std::any_of(passes.begin(), passes.end(), [&](int pass) { return pass < from_.times; });
  }

  void repeats() {
    auto& bars = section().bars;
    if (bars.empty()) return;
    bars.back().end = BarLine::Double;
    if (from_.times < 2 || from_.body_bars == 0) return;
    bars.front().repeat_begin = true;
    std::set<int> without;
    for (int pass = 1; pass <= from_.times; ++pass) without.insert(pass);
    const auto close = [&](Bar& bar) {
      bar.end = BarLine::RepeatEnd;
      bar.repeat_times = from_.times;
    };
    for (const check::CheckedEnding& ending : from_.endings) {
      for (const int pass : ending.passes) without.erase(pass);
      if (ending.bar_count > 0 && goes_back(ending.passes))
        close(bars[static_cast<std::size_t>(ending.first_bar + ending.bar_count - 1)]);
    }
    const bool plain = from_.endings.empty();
    if (plain || goes_back({without.begin(), without.end()}))
      close(bars[static_cast<std::size_t>(from_.body_bars - 1)]);
  }

  void part(std::size_t p) {
    PartMusic music;
    music.part = static_cast<int>(p);
    const CheckedMusic& from = from_.parts[p];
    music.from = from.from;
    music.keys = staff_keys(builder_.song, builder_.song.parts[p], from_);
    build_marks(from, from_, music.marks);
    build_words(from, music.words);
    build_retunes(from, music);
    build_clefs(from, music);
    build_cues(builder_, from_, from, music);
    share_tempos(music.words);
    for (const int index : from.patterns) {
      const song::PatternDef& pattern = builder_.song.song->patterns[static_cast<std::size_t>(index)];
      if (pattern.says || pattern.instead_of || pattern.from == Authority::Lesson)
        music.patterns.push_back(
            {pattern.name, pattern.says, pattern.from, pattern.instead_of ? pattern.instead_of->value : std::string{}});
    }
    build_voices(builder_, from_, static_cast<int>(p), music);
    if (!builder_.song.parts[p].drums()) mark_off_beat(builder_, from_, music);
    attach(builder_, from, music);
    if (p == 0) {
      std::vector<Mark> shared;
      build_marks(from_.chart, from_, shared);
      for (Mark& mark : shared) music.marks.push_back(std::move(mark));
    }
    sound_marks(builder_, from_, music);
    set_loudness(builder_, from_, music);
    if (music.voices.empty() && music.cues.empty()) lend_words(music.words);
    section().parts.push_back(std::move(music));
  }

  /// A change of tempo is everyone's, whichever part it is written in.
  void share_tempos(std::vector<Word>& words) {
    std::vector<Word>& shared = section().words;
    const auto own = std::stable_partition(words.begin(), words.end(),
                                           [](const Word& word) { return word.kind != WordKind::Tempo; });
    for (auto word = own; word != words.end(); ++word) {
      const bool said = std::any_of(shared.begin(), shared.end(), [&](const Word& other) {
        return other.kind == WordKind::Tempo && other.at == word->at && other.text == word->text;
      });
      if (!said) shared.push_back(std::move(*word));
    }
    words.erase(own, words.end());
    std::stable_sort(shared.begin(), shared.end(), [](const Word& a, const Word& b) { return a.at < b.at; });
  }

  /// A part without notes has no staff: what is sung or said in it is said for all, over or under the first staff.
  void lend_words(std::vector<Word>& words) {
    std::vector<Word>& shared = section().words;
    const bool sung =
        std::any_of(shared.begin(), shared.end(), [](const Word& word) { return word.kind == WordKind::Lyric; });
    const auto lent = std::stable_partition(words.begin(), words.end(), [&](const Word& word) {
      return word.kind != WordKind::Say && word.kind != WordKind::Cue && word.kind != WordKind::RemarkRef &&
             (word.kind != WordKind::Lyric || sung);
    });
    std::move(lent, words.end(), std::back_inserter(shared));
    words.erase(lent, words.end());
    std::stable_sort(shared.begin(), shared.end(), [](const Word& a, const Word& b) { return a.at < b.at; });
  }

  /// Without parts nothing carries the chart's spans: they are said in words where they begin.
  void chart_marks() {
    if (!from_.parts.empty()) return;
    std::vector<Mark> shared;
    build_marks(from_.chart, from_, shared);
    for (const Mark& mark : shared) {
      Word word;
      word.kind = WordKind::Say;
      word.at = mark.from;
      word.text = mark.word.empty() ? mark.kind : mark.kind + " " + mark.word;
      word.origin = mark.origin;
      section().words.push_back(std::move(word));
    }
  }

  /// Remarks in the order in which the page is read: by bars, from the top staff down, along the bar. Those nobody
  /// points to stand at the section's beginning.
  void remarks() {
    drop_repeated(section().words);
    for (PartMusic& music : section().parts) drop_repeated(music.words);
    std::vector<std::tuple<int, int, Fraction, Word*>> refs;  // bar, staff from the top, onset
    const auto look = [&](std::vector<Word>& words, int staff) {
      for (Word& word : words)
        if (word.kind == WordKind::RemarkRef) refs.emplace_back(word.at.bar, staff, word.at.onset, &word);
    };
    look(section().words, 0);
    for (std::size_t p = 0; p < section().parts.size(); ++p) look(section().parts[p].words, static_cast<int>(p));
    std::stable_sort(refs.begin(), refs.end(), [](const auto& a, const auto& b) {
      return std::tie(std::get<0>(a), std::get<1>(a), std::get<2>(a)) <
             std::tie(std::get<0>(b), std::get<1>(b), std::get<2>(b));
    });
    std::map<std::string, int> known;
    for (const auto& [bar, staff, onset, word] : refs) {
      std::string numbers;
      for (const std::string& letter : letters(word->text)) {
        const int index = remark(letter, word->at, known);
        if (index < 0) continue;
        if (word->remark < 0) word->remark = index;
        word->remarks.push_back(index);
        numbers +=
            (numbers.empty() ? "" : ",") + std::to_string(section().remarks[static_cast<std::size_t>(index)].number);
      }
      word->text = numbers;
    }
    for (const song::Remark* from : from_.remarks)
      if (known.count(from->letter.value) == 0 && builder_.remark_numbers.count(from) == 0)
        remark(from->letter.value, {}, known);
  }

  const song::Remark* written(const std::string& letter) const {
    for (const song::Remark* remark : from_.remarks)
      if (remark->letter.value == letter) return remark;
    return nullptr;
  }

  /// A section that is like another does not say again what stands beside that one already.
  void drop_repeated(std::vector<Word>& words) {
    for (Word& word : words) {
      if (word.kind != WordKind::RemarkRef) continue;
      std::string fresh;
      for (const std::string& letter : letters(word.text))
        if (builder_.remark_numbers.count(written(letter)) == 0) fresh += (fresh.empty() ? "" : ",") + letter;
      word.text = fresh;
    }
    std::erase_if(words, [](const Word& w) { return w.kind == WordKind::RemarkRef && w.text.empty(); });
  }

  static std::vector<std::string> letters(const std::string& text) {
    std::vector<std::string> out;
    std::string now;
    for (const char c : text + ",") {
      if (c != ',' && c != ' ') {
        now += c;
      } else if (!now.empty()) {
        out.push_back(now);
        now.clear();
      }
    }
    return out;
  }

  int remark(const std::string& letter, Place at, std::map<std::string, int>& known) {
    if (const auto found = known.find(letter); found != known.end()) return found->second;
    for (const song::Remark* from : from_.remarks) {
      if (from->letter.value != letter) continue;
      Remark remark;
      remark.number = builder_.next_remark++;
      remark.text = from->text;
      remark.from = from->from;
      if (from->instead_of) remark.instead_of = from->instead_of->value;
      remark.at = at;
      builder_.remark_numbers[from] = remark.number;
      section().remarks.push_back(std::move(remark));
      return known[letter] = static_cast<int>(section().remarks.size() - 1);
    }
    return -1;
  }

  /// Whether a bar holds the same as the one before it, in every voice; `sounds`: anything at all.
  bool as_before(std::size_t b, bool& sounds) const {
    bool same = true;
    for (const PartMusic& music : builder_.out.sections.back().parts)
      for (const Voice& voice : music.voices) {
        const auto &now = voice.bars[b], &before = voice.bars[b - 1];
        same = same && now.size() == before.size();
        for (std::size_t i = 0; i < now.size(); ++i) {
          sounds = sounds || (now[i].event >= 0 && !now[i].rest);
          same = same && same_segment(now[i], before[i]);
          if (!same && sounds) return false;
        }
      }
    return same;
  }

  bool same_segment(const Segment& a, const Segment& b) const {
    if (a.onset != b.onset || a.duration != b.duration || a.tied_from != b.tied_from || a.tied_to != b.tied_to)
      return false;
    const bool sounds_a = a.event >= 0 && !a.rest, sounds_b = b.event >= 0 && !b.rest;
    if (sounds_a != sounds_b) return false;
    return !sounds_a || same_event(builder_.out.events[static_cast<std::size_t>(a.event)],
                                   builder_.out.events[static_cast<std::size_t>(b.event)]);
  }

  static bool same_event(const Event& a, const Event& b) {
    return a.stroke == b.stroke && a.accents.accent == b.accents.accent && a.accents.marcato == b.accents.marcato &&
           a.accents.staccato == b.accents.staccato && a.muted == b.muted &&
           std::equal(a.notes.begin(), a.notes.end(), b.notes.begin(), b.notes.end(), same_note);
  }

  static bool same_note(const Note& a, const Note& b) {
    return a.string == b.string && a.midi == b.midi && a.dead == b.dead && a.ghost == b.ghost && a.open == b.open &&
           a.half_open == b.half_open && a.choke == b.choke && a.buzz == b.buzz && a.drum_grace == b.drum_grace &&
           a.roll_strokes == b.roll_strokes && a.hand == b.hand && a.drum == b.drum &&
           a.more->link.kind == b.more->link.kind && a.more->bend.size() == b.more->bend.size();
  }

  void groove_repeats() {
    auto& bars = section().bars;
    std::set<int> with_words;
    const auto mark = [&](const std::vector<Word>& words) {
      for (const Word& word : words) with_words.insert(word.at.bar);
    };
    mark(section().words);
    for (const PartMusic& music : section().parts) mark(music.words);
    std::set<int> changes;
    for (const Harmony& harmony : section().harmony) changes.insert(harmony.at.bar);
    for (std::size_t b = 1; b < bars.size(); ++b) {
      const int bar = static_cast<int>(b);
      if (bars[b].show_meter || bars[b].show_key || bars[b].ending_begin || with_words.count(bar) > 0 ||
          changes.count(bar) > 0)
        continue;
      bool sounds = false;
      bars[b].groove_repeat = as_before(b, sounds) && sounds;
    }
  }

  Builder& builder_;
  const CheckedSection& from_;
  std::size_t index_;
};

std::string letter_of(int index) {
  std::string out;
  for (int n = index; n >= 0; n = n / 26 - 1) out.insert(out.begin(), static_cast<char>('A' + n % 26));
  return out;
}

/// A, B, C … in printed order; a section like another shares its letter, with a mark where it is changed.
void letters(Builder& builder) {
  std::map<int, std::string> given;
  std::set<std::string> stated;
  for (const int source : builder.source)
    if (const auto& letter = builder.song.sections[static_cast<std::size_t>(source)].def->letter)
      stated.insert(letter->value);
  int next = 0;
  for (const int source : builder.source) {
    const CheckedSection& from = builder.song.sections[static_cast<std::size_t>(source)];
    Section& section =
        builder.out.sections[static_cast<std::size_t>(builder.printed[static_cast<std::size_t>(source)])];
    if (from.def->letter) {
      section.letter = from.def->letter->value;
    } else if (from.like >= 0 && given.count(from.like) > 0) {
      section.letter = given[from.like] + (from.def->parts.empty() && from.def->endings.empty() ? "" : "\u2032");
    } else {
      do section.letter = letter_of(next++);
      while (stated.count(section.letter) > 0);
    }
    given[source] = section.letter;
  }
}

}  // namespace

void build_sections(Builder& builder) {
  builder.printed.assign(builder.song.sections.size(), -1);
  for (const check::CheckedStep& step : builder.song.form) {
    builder.out.form.push_back({step.entry, -1});
    if (step.section < 0) continue;
    int& printed = builder.printed[static_cast<std::size_t>(step.section)];
    if (printed < 0) {
      printed = static_cast<int>(builder.out.sections.size());
      builder.source.push_back(step.section);
      SectionMaker(builder, static_cast<std::size_t>(step.section)).make();
    }
    builder.out.form.back().section = printed;
  }
  letters(builder);
  for (auto s = builder.out.sections.rbegin(); s != builder.out.sections.rend(); ++s) {
    if (s->bars.empty()) continue;
    if (s->bars.back().end != BarLine::RepeatEnd) s->bars.back().end = BarLine::Final;
    break;
  }
}

}  // namespace tunesheaf::score

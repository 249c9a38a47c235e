// Spans, words, fingers and strength: what stands over and under the notes of a part.
#include <algorithm>
#include <array>
#include <iterator>

#include "builder.h"
#include "tunesheaf/base/number.h"
#include "tunesheaf/score/heard.h"
#include "tunesheaf/theory/note_value.h"

namespace tunesheaf::score {
namespace {

using song::LaneKind;

struct Level {
  const char* sign;
  int velocity;
};
/// MIDI velocities for dynamics, eight steps of about 13 (the MIDI standard names 64 as the middle).
constexpr std::array kLevels = std::to_array<Level>({{"n", 1},
                                                     {"pppp", 16},
                                                     {"ppp", 26},
                                                     {"pp", 38},
                                                     {"p", 51},
                                                     {"mp", 64},
                                                     {"mf", 80},
                                                     {"f", 95},
                                                     {"ff", 108},
                                                     {"fff", 118},
                                                     {"ffff", 126}});
constexpr int kUsual = 80;

std::optional<int> level_of(const std::string& text) {
  for (const Level& level : kLevels)
    if (text == level.sign) return level.velocity;
  return std::nullopt;
}

std::optional<WordKind> word_kind(LaneKind kind) {
  switch (kind) {
    case LaneKind::Lyric:
      return WordKind::Lyric;
    case LaneKind::Say:
      return WordKind::Say;
    case LaneKind::Count:
      return WordKind::Count;
    case LaneKind::Dynamics:
      return WordKind::Dynamics;
    case LaneKind::Tempo:
      return WordKind::Tempo;
    case LaneKind::Hold:
      return WordKind::Hold;
    case LaneKind::Arm:
      return WordKind::Arm;
    case LaneKind::See:
      return WordKind::RemarkRef;
    case LaneKind::From:
      return WordKind::FromLesson;
    case LaneKind::Bow:
      return WordKind::Bow;
    case LaneKind::Pedal:
      return WordKind::Pedal;
    default:
      return std::nullopt;
  }
}

/// "quarter = 96", "96", "rit.", "slowly 60".
song::TempoMark tempo_of(const std::string& text) {
  song::TempoMark tempo;
  std::string words = text;
  std::size_t digits = text.size();
  while (digits > 0 && (std::isdigit(static_cast<unsigned char>(text[digits - 1])) || text[digits - 1] == '.'))
    --digits;
  if (const auto number = base::parse_integer(std::string_view(text).substr(digits)); number && *number > 0) {
    tempo.per_minute = Fraction(*number);
    words = text.substr(0, digits);
  }
  while (!words.empty() && (words.back() == ' ' || words.back() == '=')) words.pop_back();
  if (const auto value = theory::parse_value_words(words)) {
    tempo.unit = theory::written_duration(*value);
    tempo.unit_stated = true;
    words.clear();
  }
  tempo.words = words;
  return tempo;
}

struct Moment {
  int bar;
  Fraction onset;
  friend auto operator<=>(const Moment&, const Moment&) = default;
};

/// Events of a part by the moment they begin.
std::map<Moment, std::vector<int>> by_moment(const Builder& builder, const PartMusic& music) {
  std::map<Moment, std::vector<int>> out;
  for (const Voice& voice : music.voices)
    for (const auto& bar : voice.bars)
      for (const Segment& segment : bar) {
        if (segment.event < 0) continue;
        const Event& e = builder.out.events[static_cast<std::size_t>(segment.event)];
        if (e.kind == EventKind::Rest) continue;
        auto& list = out[{e.at.bar, e.at.onset}];
        if (list.empty() || list.back() != e.id) list.push_back(e.id);
      }
  return out;
}

/// The notes of some events from the lowest up, all or those that `wanted` takes.
template <class F>
std::vector<Note*> notes_of(Builder& builder, const std::vector<int>& events, F&& wanted) {
  std::vector<Note*> notes;
  for (const int id : events) {
    Event& event = builder.out.events[static_cast<std::size_t>(id)];
    for (Note& note : event.notes)
      if (wanted(event, note)) notes.push_back(&note);
  }
  std::stable_sort(notes.begin(), notes.end(), [](const Note* a, const Note* b) { return a->midi < b->midi; });
  return notes;
}

/// One for each note from the lowest up; a single one is for all of them.
template <class T, class F>
void share_out(const std::vector<Note*>& notes, const T& values, F&& set) {
  if (values.empty()) return;
  for (std::size_t i = 0; i < notes.size(); ++i) {
    if (values.size() == 1)
      set(*notes[i], values[0]);
    else if (i < values.size())
      set(*notes[i], values[i]);
  }
}

}  // namespace

void build_marks(const CheckedMusic& music, const CheckedSection& section, std::vector<Mark>& out) {
  const int end = static_cast<int>(section.bars.size());
  for (const PlacedLane& lane : music.lanes) {
    if (lane.kind != LaneKind::Mark) continue;
    std::optional<Mark> open;
    const auto close = [&](Place at) {
      if (!open) return;
      open->to = at;
      out.push_back(*open);
      open.reset();
    };
    for (const PlacedCell& cell : lane.cells) {
      const Place at{cell.bar, cell.onset};
      close(at);
      const auto* sign = std::get_if<song::SpanSign>(&cell.cell->content);
      if (sign && sign->on) open = Mark{lane.subject, sign->word == "on" ? "" : sign->word, at, at, cell.cell->span};
    }
    close({end, Fraction(0)});
  }
}

void build_words(const CheckedMusic& music, std::vector<Word>& out) {
  for (const PlacedLane& lane : music.lanes) {
    const auto kind = word_kind(lane.kind);
    if (!kind) continue;
    for (const PlacedCell& cell : lane.cells) {
      Word word;
      word.kind = *kind;
      word.at = {cell.bar, cell.onset};
      word.origin = cell.cell->span;
      if (const auto* text = std::get_if<song::WordCell>(&cell.cell->content)) {
        word.text = text->text;
      } else if (const auto* arm = std::get_if<song::ArmSign>(&cell.cell->content)) {
        word.arm = *arm;
      } else if (const auto* stroke = std::get_if<song::PickSign>(&cell.cell->content)) {
        word.text = stroke->direction == song::StrokeDirection::Up ? "U" : "D";
      } else if (std::holds_alternative<song::SilenceCell>(cell.cell->content)) {
        if (*kind != WordKind::Pedal) continue;
        word.text = ".";
      }
      if (*kind == WordKind::Tempo) word.tempo = tempo_of(word.text);
      if (*kind == WordKind::FromLesson && word.text != "lesson") continue;
      out.push_back(std::move(word));
    }
  }
  std::stable_sort(out.begin(), out.end(), [](const Word& a, const Word& b) { return a.at < b.at; });
}

void attach(Builder& builder, const CheckedMusic& music, PartMusic& out) {
  const bool needed =
      !out.words.empty() || std::any_of(music.lanes.begin(), music.lanes.end(), [](const PlacedLane& l) {
        return l.kind == LaneKind::Pluck || l.kind == LaneKind::Pick || l.kind == LaneKind::Finger ||
               l.kind == LaneKind::Bow;
      });
  if (!needed) return;
  const auto moments = by_moment(builder, out);
  for (const PlacedLane& lane : music.lanes)
    for (const PlacedCell& cell : lane.cells) {
      const bool bow = lane.kind == LaneKind::Bow || lane.kind == LaneKind::Pick;
      if (lane.kind != LaneKind::Pluck && lane.kind != LaneKind::Finger && !bow) break;
      const auto at = moments.find({cell.bar, cell.onset});
      if (at == moments.end()) continue;
      if (const auto* pluck = std::get_if<song::PluckSign>(&cell.cell->content)) {
        share_out(notes_of(builder, at->second, picked), pluck->fingers,
                  [](Note& note, char finger) { note.pluck = finger; });
        Event& first = builder.out.events[static_cast<std::size_t>(at->second.front())];
        first.accents.accent |= pluck->accents.accent;
        first.accents.marcato |= pluck->accents.marcato;
        first.accents.staccato |= pluck->accents.staccato;
        first.accents.tenuto |= pluck->accents.tenuto;
        first.accents.fermata |= pluck->accents.fermata;
      } else if (const auto* finger = std::get_if<song::FingerSign>(&cell.cell->content)) {
        // An open string has no finger.
        const auto stopped = [](const Event&, const Note& note) { return note.string == 0 || note.fret > 0; };
        share_out(notes_of(builder, at->second, stopped), finger->fingers, [](Note& note, int f) { note.finger = f; });
      } else if (const auto* pick = std::get_if<song::PickSign>(&cell.cell->content)) {
        builder.out.events[static_cast<std::size_t>(at->second.front())].stroke = pick->direction;
      }
    }
  for (Word& word : out.words)
    if (const auto at = moments.find({word.at.bar, word.at.onset}); at != moments.end())
      word.event = at->second.front();
}

namespace {

/// Loudness through a section: steps at dynamics, ramps under hairpins.
class Loudness {
 public:
  Loudness(const std::vector<const Word*>& words, const std::vector<Mark>& marks, const std::vector<Fraction>& starts) {
    for (const Word* word : words) {
      const Fraction at = starts[static_cast<std::size_t>(word->at.bar)] + word->at.onset;
      if (const auto level = level_of(word->text)) {
        steps_.push_back({at, *level});
      } else {
        bursts_.push_back(at);  // sf, sfz, fp …: this stroke alone
      }
    }
    std::stable_sort(steps_.begin(), steps_.end(), [](const Step& a, const Step& b) { return a.at < b.at; });
    for (const Mark& mark : marks) {
      const int way = mark.kind == "crescendo" ? 1 : mark.kind == "diminuendo" ? -1 : 0;
      if (way == 0) continue;
      const Fraction to = starts[std::min(static_cast<std::size_t>(mark.to.bar), starts.size() - 1)] + mark.to.onset;
      ramps_.push_back({starts[static_cast<std::size_t>(mark.from.bar)] + mark.from.onset, to, way});
    }
  }

  bool even() const { return steps_.empty() && bursts_.empty() && ramps_.empty(); }

  int at(Fraction now) const {
    const auto later = [](Fraction t, const Step& step) { return t < step.at; };
    const auto next = std::upper_bound(steps_.begin(), steps_.end(), now, later);
    int level = next == steps_.begin() ? kUsual : std::prev(next)->level;
    for (const Ramp& ramp : ramps_) {
      if (now < ramp.from || !(now < ramp.to)) continue;
      int goal = level + 15 * ramp.way;
      for (const Step& step : steps_)
        if (ramp.to <= step.at) {
          goal = step.level;
          break;
        }
      const Fraction share = (now - ramp.from) / (ramp.to - ramp.from);
      level += static_cast<int>((share * Fraction(goal - level)).floor());
    }
    for (const Fraction burst : bursts_)
      if (burst == now) level += 25;
    return level;
  }

 private:
  struct Step {
    Fraction at;
    int level;
  };
  struct Ramp {
    Fraction from, to;
    int way;
  };
  std::vector<Step> steps_;
  std::vector<Fraction> bursts_;
  std::vector<Ramp> ramps_;
};

int with_accents(const Event& event, int level) {
  if (event.accents.accent) level += 16;
  if (event.accents.marcato) level += 26;
  const bool ghost = event.soft || (!event.notes.empty() && std::all_of(event.notes.begin(), event.notes.end(),
                                                                        [](const Note& n) { return n.ghost; }));
  if (ghost) level -= 36;
  return std::clamp(level, 1, 127);
}

}  // namespace

void set_loudness(Builder& builder, const CheckedSection& section, PartMusic& out) {
  std::vector<const Word*> words;
  for (const Word& word : out.words)
    if (word.kind == WordKind::Dynamics) words.push_back(&word);
  const Section& printed = builder.out.sections.back();
  for (const Word& word : printed.words)
    if (word.kind == WordKind::Dynamics) words.push_back(&word);
  const auto starts = bar_starts(section);
  const Loudness loudness(words, out.marks, starts);
  const bool even = loudness.even();
  for (BodyTap& tap : out.taps)
    tap.loudness = std::clamp(loudness.at(starts[static_cast<std::size_t>(tap.at.bar)] + tap.at.onset), 1, 127);
  for (const Voice& voice : out.voices)
    for (const auto& bar : voice.bars)
      for (const Segment& segment : bar) {
        if (segment.event < 0) continue;
        Event& event = builder.out.events[static_cast<std::size_t>(segment.event)];
        const int level = even ? kUsual : loudness.at(starts[static_cast<std::size_t>(event.at.bar)] + event.at.onset);
        event.loudness = with_accents(event, level);
      }
}

}  // namespace tunesheaf::score

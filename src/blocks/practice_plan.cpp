#include "tunesheaf/blocks/practice_plan.h"

#include <algorithm>
#include <cmath>
#include <set>

#include "practice_words.h"
#include "tunesheaf/base/lists.h"
#include "tunesheaf/blocks/shapes.h"
#include "tunesheaf/blocks/words.h"
#include "tunesheaf/score/clock.h"

namespace tunesheaf::blocks {
namespace {

using base::Fraction;
using score::Event;
using score::Section;

/// One line per bar that says all a player does in it; bars with the same line are played alike.
class BarPrints {
 public:
  BarPrints(const score::Timeline& song, const std::vector<int>& parts) : song_(song), parts_(parts) {}

  std::vector<std::string> of(const Section& section) const {
    std::vector<std::string> out(section.bars.size());
    for (std::size_t b = 0; b < section.bars.size(); ++b) out[b] = section.bars[b].length.text();
    for (const int p : parts_) {
      for (const score::Voice& voice : section.parts[static_cast<std::size_t>(p)].voices) {
        for (std::size_t b = 0; b < voice.bars.size() && b < out.size(); ++b) {
          out[b] += "|" + std::to_string(p) + "." + std::to_string(voice.number) + ":";
          for (const score::Segment& segment : voice.bars[b]) out[b] += print(segment);
        }
      }
    }
    for (const score::Harmony& h : section.harmony) {
      const bool ours = h.part < 0 || h.chart || std::count(parts_.begin(), parts_.end(), h.part) > 0;
      if (ours) out[static_cast<std::size_t>(h.at.bar)] += "@" + std::to_string(h.shape) + h.stated;
    }
    return out;
  }

 private:
  std::string print(const score::Segment& segment) const {
    std::string out = " " + segment.onset.text() + "+" + segment.duration.text();
    if (segment.event < 0 || segment.rest) return out + "r";
    const Event& event = song_.events[static_cast<std::size_t>(segment.event)];
    out += segment.tied_from ? "t" : "";
    const auto& a = event.accents;
    for (const bool sign : {a.accent, a.marcato, a.staccato, a.tenuto, a.fermata, event.strum, event.rolled,
                            event.brushed, event.muted, event.tremolo}) {
      out += sign ? '1' : '0';
    }
    out += static_cast<char>('A' + static_cast<int>(event.stroke));
    for (const score::Note& n : event.grace->notes) out += "g" + print(n);
    for (const score::Note& n : event.notes) out += "," + print(n);
    return out;
  }

  static std::string print(const score::Note& n) {
    std::string out = std::to_string(n.string) + "/" + std::to_string(n.fret) + "/" + std::to_string(n.midi) + "/" +
                      std::to_string(n.drum);
    for (const int sign :
         {static_cast<int>(n.more->link.kind), static_cast<int>(n.vibrato), static_cast<int>(n.harmonic),
          static_cast<int>(n.slide_off), n.dead ? 1 : 0, n.ghost ? 1 : 0, n.open ? 1 : 0}) {
      out += static_cast<char>('a' + sign);
    }
    for (const score::BendPoint& point : n.more->bend) out += "^" + point.at.text() + "=" + point.semitones.text();
    return out;
  }

  const score::Timeline& song_;
  const std::vector<int>& parts_;
};

struct Tempo {
  Fraction unit;  ///< the note that is counted
  double per_minute = 0;
};

class Planner {
 public:
  Planner(const Setting& setting, int section)
      : setting_(setting), song_(setting.song), section_(song_.sections[static_cast<std::size_t>(section)]) {
    plan_.section = section;
    plan_.part = setting.parts.empty() ? -1 : setting.parts.front();
  }

  PracticePlan run() {
    tempo_ = tempo();
    collect();
    rests();
    shapes_and_changes();
    busiest();
    judge();
    ladder();
    loops();
    neighbours();
    joins();
    likeness();
    plan_.route = route_of(setting_, plan_, events_);
    plan_.listen = listen_for(setting_, plan_, events_);
    plan_.ladder_gloss = about_ladder(setting_, plan_);
    plan_.cautions = cautions_for(setting_, plan_, events_);
    return std::move(plan_);
  }

 private:
  /// Attacks of the student's part, in order.
  void collect() {
    attacks_.assign(section_.bars.size(), 0);
    if (plan_.part < 0) return;
    for (const score::Voice& voice : section_.parts[static_cast<std::size_t>(plan_.part)].voices) {
      for (const auto& bar : voice.bars) {
        for (const score::Segment& segment : bar) {
          if (segment.event < 0 || segment.rest || segment.tied_from) continue;
          const Event& event = song_.events[static_cast<std::size_t>(segment.event)];
          if (event.kind == score::EventKind::Rest) continue;
          events_.push_back(&event);
          ++attacks_[static_cast<std::size_t>(event.at.bar)];
        }
      }
    }
    std::stable_sort(events_.begin(), events_.end(), [](const Event* a, const Event* b) { return a->at < b->at; });
  }

  void rests() {
    constexpr std::size_t kLittle = 4;  // attacks
    plan_.little = plan_.part >= 0 && events_.size() < kLittle;
    const auto plays = [](const score::PartMusic& music) {
      for (const score::Voice& voice : music.voices) {
        for (const auto& bar : voice.bars) {
          if (std::any_of(bar.begin(), bar.end(), [](const auto& s) { return s.event >= 0 && !s.rest; })) return true;
        }
      }
      return false;
    };
    plan_.rests =
        plan_.part >= 0 && events_.empty() && std::any_of(section_.parts.begin(), section_.parts.end(), plays);
  }

  void shapes_and_changes() {
    std::set<int> seen;
    std::set<std::pair<int, int>> pairs;
    int held = -1, since = 0;
    for (const Event* event : events_) {
      const int shape = event->shape;
      if (shape < 0) continue;
      if (seen.insert(shape).second) plan_.shapes.push_back(shape);
      if (held >= 0 && shape != held && pairs.insert({held, shape}).second) {
        plan_.changes.push_back({held, shape, find_move(song_, held, shape), since, event->at.bar});
      }
      held = shape;
      since = event->at.bar;
    }
    for (const Change& change : plan_.changes) {
      if (change.move == nullptr || change.move->move.none()) continue;
      const bool harder = !plan_.hardest || change.move->move.difficulty > plan_.hardest->move->move.difficulty;
      if (harder) plan_.hardest = change;
    }
  }

  /// The tempo in force where the section is first played, in the unit that was stated last.
  std::optional<Tempo> tempo() const {
    std::optional<song::TempoMark> mark = song_.tempo;
    const auto take = [&](const std::optional<song::TempoMark>& next) {
      if (next && next->per_minute > Fraction{}) mark = next;
    };
    for (const score::PlayedBar& played : song_.played) {
      const Section& at = song_.sections[static_cast<std::size_t>(played.section)];
      if (played.bar == 0) take(at.tempo);
      if (played.section != plan_.section) {
        for (const score::Word& word : at.words) {
          if (word.at.bar == played.bar) take(word.tempo);
        }
        continue;
      }
      if (!mark || mark->per_minute <= Fraction{}) return std::nullopt;
      const Fraction unit = score::counted_unit(*mark, section_);
      return Tempo{unit, played.rate / unit.to_double()};
    }
    return std::nullopt;
  }

  double seconds_of(int bar) const {
    const double length = section_.bars[static_cast<std::size_t>(bar)].length.to_double();
    if (!tempo_) return length * 2;  // as at 120 quarters a minute
    return length / (tempo_->unit.to_double() * tempo_->per_minute / 60.0);
  }

  double speed(int bar) const {
    const double seconds = seconds_of(bar);
    return seconds > 0 ? attacks_[static_cast<std::size_t>(bar)] / seconds : 0;
  }

  void busiest() {
    int as_busy = 1;
    for (int b = 1; b < static_cast<int>(attacks_.size()); ++b) {
      as_busy = speed(b) > speed(plan_.busiest_bar) ? 1 : as_busy + (speed(b) < speed(plan_.busiest_bar) ? 0 : 1);
      if (speed(b) > speed(plan_.busiest_bar)) plan_.busiest_bar = b;
    }
    plan_.busiest_alone = as_busy == 1;
    farthest();
  }

  /// The bar into or within which a fretting hand without shapes goes farthest along the neck, from one note to the
  /// next.
  void farthest() {
    constexpr int kFar = 4;  // frets: further than fingers reach from one place
    int hand = -1, most = kFar, before = -1;
    for (const Event* event : events_) {
      for (const score::Note& note : event->notes) {
        if (note.string == 0 || note.fret == 0 || event->shape >= 0) continue;
        if (note.more->link.kind == song::Arrival::Tap) continue;  // the other hand's
        if (hand > 0 && std::abs(note.fret - hand) > most) {
          most = std::abs(note.fret - hand);
          plan_.farthest_bar = event->at.bar;
          plan_.leaps_in = before == event->at.bar - 1;
        }
        hand = note.fret;
        before = event->at.bar;
      }
    }
  }

  void judge() {
    constexpr double kFast = 10.0;  // attacks a second
    constexpr double kHard = 24.0;  // half points of theory::Move
    const double fast = attacks_.empty() ? 0 : std::min(1.0, speed(plan_.busiest_bar) / kFast);
    plan_.difficulty = plan_.hardest ? (fast + std::min(1.0, plan_.hardest->move->move.difficulty / kHard)) / 2 : fast;
  }

  void ladder() {
    plan_.quickens = marked("accelerando");
    plan_.gives_way = marked("ritardando") || held();
    if (plan_.little && !plan_.rests) return;
    if (tempo_) click();
    const double start = 80.0 - 35.0 * plan_.difficulty;
    for (int share = 50; share <= 100; share += 10) {
      if (share + 5 < start) continue;
      Rung rung;
      rung.percent = share;
      if (clicked_ > 0) {
        rung.per_minute = share == 100 ? static_cast<int>(std::lround(clicked_)) : on_metronome(clicked_ * share / 100);
        if (share < 100 && *rung.per_minute >= std::lround(clicked_)) continue;
        if (!plan_.ladder.empty() && *rung.per_minute <= *plan_.ladder.back().per_minute) continue;
      }
      plan_.ladder.push_back(rung);
    }
    plan_.beyond_clicks = clicked_ > kFastest;
    other_tempo();
  }

  /// The first tempo within the section that is not the one it begins with, at the same share of itself on each rung.
  void other_tempo() {
    const auto at = std::find_if(section_.words.begin(), section_.words.end(), [](const score::Word& word) {
      return word.tempo && word.tempo->per_minute > Fraction{} && score::Place{} < word.at;
    });
    if (clicked_ <= 0 || at == section_.words.end()) return;
    const Fraction unit = score::counted_unit(*at->tempo, section_);
    const double full = at->tempo->per_minute.to_double();
    if (unit == *plan_.ladder_unit && std::lround(full) == std::lround(clicked_)) return;
    plan_.other_unit = unit;
    plan_.other_bar = at->at.bar;
    for (Rung& rung : plan_.ladder)
      rung.other = rung.percent == 100 ? static_cast<int>(std::lround(full)) : on_metronome(full * rung.percent / 100);
  }

  /// Clicks a minute: fewer are hard to keep to, more are beyond most metronomes. The slow end of a mechanical scale is
  /// 40; electronic ones, of common practice, go on below, and a divided beat is worse where it is a triplet's.
  static constexpr double kSlowest = 30, kFastest = 208;

  /// The beat that a metronome gives: the one of the tempo, or a part or a multiple of it that bars hold evenly.
  void click() {
    const Fraction bar = section_.bars.empty() ? Fraction(1) : section_.bars.front().meter.bar_length();
    Fraction unit = tempo_->unit;
    double per_minute = tempo_->per_minute;
    const auto dotted = [&] { return unit.num() == 3; };
    while (per_minute * 0.6 < kSlowest && Fraction(1, 16) < unit) {
      const int parts = dotted() ? 3 : 2;
      unit = unit / Fraction(parts);
      per_minute *= parts;
    }
    while (per_minute > kFastest) {
      const auto holds = [&](int count) { return (bar / (unit * Fraction(count))).den() == 1; };
      const bool compound =
          section_.bars.front().meter.is_compound() && unit == Fraction(1, section_.bars.front().meter.unit);
      const int together = compound && holds(3) ? 3 : !compound && holds(2) ? 2 : 0;
      if (together == 0) break;
      unit = unit * Fraction(together);
      per_minute /= together;
    }
    plan_.ladder_unit = unit;
    clicked_ = per_minute;
  }

  /// The nearest number of a metronome's scale, whose steps grow with the tempo; in steps of 8 beyond it.
  static int on_metronome(double wanted) {
    struct Stretch {
      int from, step;
    };
    static constexpr Stretch kScale[] = {{0, 2}, {60, 3}, {72, 4}, {120, 6}, {144, 8}};
    Stretch at = kScale[0];
    for (const Stretch& stretch : kScale) {
      if (wanted >= stretch.from) at = stretch;
    }
    return at.from + at.step * static_cast<int>(std::lround((wanted - at.from) / at.step));
  }

  bool marked(std::string_view kind) const {
    return std::any_of(section_.parts.begin(), section_.parts.end(), [&](const score::PartMusic& music) {
      return std::any_of(music.marks.begin(), music.marks.end(),
                         [&](const score::Mark& mark) { return mark.kind == kind; });
    });
  }

  bool held() const {
    const auto holds = [](const std::vector<score::Word>& words) {
      return std::any_of(words.begin(), words.end(),
                         [](const score::Word& word) { return word.kind == score::WordKind::Hold; });
    };
    return holds(section_.words) || std::any_of(section_.parts.begin(), section_.parts.end(),
                                                [&](const score::PartMusic& music) { return holds(music.words); });
  }

  bool silent(int first, int last) const {
    return std::all_of(attacks_.begin() + first, attacks_.begin() + last + 1, [](int count) { return count == 0; });
  }

  void add_loop(int first, int last, const std::string& why) {
    if (plan_.part < 0 || !silent(first, last)) plan_.loops.push_back({first, last, why});
  }

  /// Halves (or fours), then the way on: each bar once. One phrase that is the whole section is the ladder's.
  void loops() {
    if (plan_.little) return;
    const int bars = static_cast<int>(section_.bars.size());
    const int body = body_bars();
    const int step = body > 8 ? 4 : body > 3 ? (body + 1) / 2 : body;
    for (int first = 0; first < body; first += step) {
      const int last = std::min(body, first + step) - 1;
      if (first > 0 || last < bars - 1) add_loop(first, last, "");
    }
    for (int first = body; first < bars;) {
      int last = first;
      while (last + 1 < bars && !section_.bars[static_cast<std::size_t>(last + 1)].ending_begin) ++last;
      add_loop(first, last, ending_words(first));
      first = last + 1;
    }
  }

  /// An ending is learned from the last bar before the endings.
  std::string ending_words(int first) const {
    std::string out = ending_name(section_.bars[static_cast<std::size_t>(first)]);
    if (const int body = body_bars(); body > 0) out += ", after " + bar_words(section_, body - 1);
    return out;
  }

  /// Bars before the endings.
  int body_bars() const {
    const auto first = std::find_if(section_.bars.begin(), section_.bars.end(),
                                    [](const score::Bar& bar) { return !bar.ending.empty(); });
    return static_cast<int>(first - section_.bars.begin());
  }

  /// Wherever the bar that follows, as played, is not the next one on the sheet; the way into an ending is its
  /// phrase's.
  void joins() {
    if (plan_.little) return;
    for (std::size_t i = 1; i < song_.played.size(); ++i) {
      const score::PlayedBar &from = song_.played[i - 1], &to = song_.played[i];
      if (from.section != plan_.section) continue;
      const bool here = to.section == plan_.section;
      if (here && (to.bar == from.bar + 1 || section_.bars[static_cast<std::size_t>(to.bar)].ending_begin)) continue;
      const auto same = [&](const Join& j) { return j.bar == from.bar && j.section == to.section && j.into == to.bar; };
      if (std::none_of(plan_.joins.begin(), plan_.joins.end(), same))
        plan_.joins.push_back({from.bar, to.section, to.bar});
    }
  }

  /// In the order of playing, jumps included; a section that is repeated is not its own neighbour.
  void neighbours() {
    std::vector<std::pair<int, int>> order;  // step of the form, section
    for (const score::PlayedBar& played : song_.played) {
      if (order.empty() || order.back().first != played.step) order.emplace_back(played.step, played.section);
    }
    const auto add = [](std::vector<int>& list, int section) {
      if (std::find(list.begin(), list.end(), section) == list.end()) list.push_back(section);
    };
    for (std::size_t i = 0; i < order.size(); ++i) {
      if (order[i].second != plan_.section) continue;
      if (i == 0) {
        plan_.begins = true;
      } else {
        add(plan_.before, order[i - 1].second);
      }
      if (i + 1 == order.size()) {
        plan_.ends = true;
      } else {
        add(plan_.after, order[i + 1].second);
      }
    }
  }

  /// The earlier section with most bars alike, if it is as long and at least half of them are.
  void likeness() {
    if (plan_.part < 0 || section_.bars.empty()) return;
    const BarPrints prints(song_, setting_.parts);
    const std::vector<std::string> own = prints.of(section_);
    for (int s = 0; s < plan_.section; ++s) {
      const std::vector<std::string> other = prints.of(song_.sections[static_cast<std::size_t>(s)]);
      if (other.size() != own.size()) continue;
      std::vector<int> differ;
      for (std::size_t b = 0; b < own.size(); ++b) {
        if (own[b] != other[b]) differ.push_back(static_cast<int>(b));
      }
      if (differ.size() * 2 > own.size()) continue;
      if (!plan_.like || differ.size() < plan_.like->new_bars.size()) plan_.like = Likeness{s, differ};
    }
  }

  const Setting& setting_;
  const score::Timeline& song_;
  const Section& section_;
  std::vector<const Event*> events_;
  std::vector<int> attacks_;  // by bar
  std::optional<Tempo> tempo_;
  double clicked_ = 0;  // of the ladder's unit a minute, at full tempo; 0 without a tempo
  PracticePlan plan_;
};

}  // namespace

int step_number(const PracticePlan& plan, StepKind kind) {
  const auto at = std::find_if(plan.route.begin(), plan.route.end(), [&](const Step& s) { return s.kind == kind; });
  return at == plan.route.end() ? 0 : static_cast<int>(at - plan.route.begin()) + 1;
}

PracticePlan practice_plan(const Setting& setting, int section) {
  return Planner(setting, section).run();
}

std::string ending_name(const score::Bar& bar) {
  std::vector<std::string> passes;
  for (const int pass : bar.ending) passes.push_back(ordinal(pass));
  return base::list_words(passes) + " ending";
}

std::string bar_words(const score::Section& section, int bar) {
  const int number = section.bars[static_cast<std::size_t>(bar)].number;
  return number == 0 ? "the pick-up" : std::to_string(number);
}

std::string bars_words(const score::Section& section, int first, int last) {
  if (section.bars[static_cast<std::size_t>(first)].number == 0 && first < last) ++first;
  if (section.bars[static_cast<std::size_t>(first)].number == 0) return "the pick-up";
  if (first >= last) return "bar " + bar_words(section, first);
  return "bars " + bar_words(section, first) + (last == first + 1 ? " and " : " to ") + bar_words(section, last);
}

}  // namespace tunesheaf::blocks

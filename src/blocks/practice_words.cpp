#include "practice_words.h"

#include <algorithm>
#include <functional>
#include <optional>

#include "tunesheaf/blocks/shapes.h"
#include "tunesheaf/blocks/words.h"
#include "tunesheaf/score/clock.h"
#include "tunesheaf/score/heard.h"
#include "tunesheaf/theory/count.h"

namespace tunesheaf::blocks {
namespace {

using base::Fraction;
using score::Event;
using score::Section;
using Events = std::vector<const Event*>;

const Section& section_of(const Setting& setting, const PracticePlan& plan) {
  return setting.song.sections[static_cast<std::size_t>(plan.section)];
}
const score::Part* part_of(const Setting& setting, const PracticePlan& plan) {
  return plan.part < 0 ? nullptr : &setting.song.parts[static_cast<std::size_t>(plan.part)];
}

std::string shape_name(const Setting& setting, int shape) {
  return shape_words(setting, setting.song.shapes[static_cast<std::size_t>(shape)]);
}

/// The first attack with a note of which `holds` is true.
const Event* first_with(const Events& events, const std::function<bool(const score::Note&)>& holds) {
  for (const Event* event : events) {
    for (const score::Note& note : event->notes) {
      if (holds(note)) return event;
    }
  }
  return nullptr;
}

std::string in_bar(const Section& section, int bar) {
  return section.bars[static_cast<std::size_t>(bar)].number == 0 ? "In the pick-up"
                                                                 : "In bar " + bar_words(section, bar);
}

/// "low string first", or which string comes first where it is not the lowest.
std::string string_order(const theory::Tuning& tuning) {
  const auto pitch = [&](std::size_t i) { return tuning.strings[i].course.front().midi(); };
  for (std::size_t i = 1; i < tuning.strings.size(); ++i) {
    if (pitch(i) < pitch(0)) return ", from string " + std::to_string(tuning.strings.size()) + " to string 1.";
  }
  return ", low string first.";
}

std::string tune_sentence(const score::Part& part, const score::PartMusic& music) {
  std::string out;
  if (part.tuning.count() == 0) return out;
  const theory::Tuning& tuning = score::tuning_at(part, music, {0, {}});
  if (!tuning.same_pitches(part.tuning) || (part.retuning && !part.retuning->order.empty())) {
    out = "Check the tuning: " + theory::print(tuning, theory::Accidentals::Signs) + string_order(tuning);
  } else {
    out = "Tune: " + theory::print(part.tuning, theory::Accidentals::Signs) + string_order(part.tuning);
  }
  if (part.capo > 0) out += " Capo at fret " + std::to_string(part.capo) + "; listen once more after clamping it on.";
  return out;
}

std::string shapes_sentence(const Setting& setting, const PracticePlan& plan) {
  if (plan.shapes.empty()) return {};
  std::vector<std::string> names;
  for (const int shape : plan.shapes) names.push_back(shape_name(setting, shape));
  constexpr std::size_t kMost = 6;
  const bool many = names.size() > kMost;
  if (many) names.resize(kMost);
  std::string out = names.size() == 1 ? "Lay down the shape " : "Lay down the shapes in turn: ";
  out += list_words(names) + (many ? " and so on" : "");
  return out + ". Pluck the strings one by one: none may buzz, and no finger may lean on a string beside its own.";
}

std::string change_sentence(const Setting& setting, const PracticePlan& plan) {
  const Section& section = section_of(setting, plan);
  const Change& change = *plan.hardest;
  return "Change from " + shape_name(setting, change.from) + " to " + shape_name(setting, change.to) +
         " and back, ten times, with the fretting hand alone and without a metronome. It comes in " +
         bars_words(section, change.first_bar, change.last_bar) + ".";
}

/// Without a change of shape to drill: where the hand has to travel, else where there is most to play.
std::string busiest_sentence(const Setting& setting, const PracticePlan& plan) {
  const Section& section = section_of(setting, plan);
  const bool far = plan.farthest_bar >= 0;
  const int at = far ? plan.farthest_bar : plan.busiest_bar;
  const bool pick_up = section.bars[static_cast<std::size_t>(at)].number == 0;
  return "Play " + std::string(pick_up ? "" : "bar ") + bar_words(section, at) +
         (far && plan.leaps_in ? " and the last notes before it, the longest leap along the neck between them,"
          : far                ? ", where the hand makes its longest leap along the neck,"
          : plan.busiest_alone ? ", the busiest,"
                               : ", one of the busiest,") +
         " alone, without a metronome, so slowly that nothing goes wrong: five times without a slip.";
}

/// Whether most of what begins is struck plainly by the picking hand.
bool mostly_picked(const Events& events) {
  const auto plain = [](const Event* event) {
    return std::all_of(event->notes.begin(), event->notes.end(), [&](const score::Note& n) {
      return n.more->bend.empty() && n.harmonic == song::HarmonicKind::None && score::picked(*event, n);
    });
  };
  return std::count_if(events.begin(), events.end(), plain) * 3 > static_cast<std::ptrdiff_t>(events.size()) * 2;
}

/// The lowest rung of the ladder: " at 58"; without a tempo, nothing.
std::string at_lowest(const PracticePlan& plan) {
  const bool timed = !plan.ladder.empty() && plan.ladder.front().per_minute;
  return timed ? " at " + std::to_string(*plan.ladder.front().per_minute) : "";
}

std::string picking_sentence(const Setting& setting, const PracticePlan& plan, const Events& events) {
  const score::Part* part = part_of(setting, plan);
  if (part == nullptr) return {};
  const std::string how_often = ", four times through" + at_lowest(plan) + ".";
  if (!part->kit.empty()) return "Count aloud and play the feet alone, then the hands alone, then both" + how_often;
  if (part->instrument.family != theory::Family::Fretted) return "Count aloud and clap the rhythm" + how_often;
  if (!mostly_picked(events)) return {};
  const bool strummed = section_of(setting, plan).parts[static_cast<std::size_t>(plan.part)].strummed;
  return std::string("Rest the fretting hand on the strings and ") +
         (strummed ? "strum with the other alone" : "play the picking hand alone") +
         ", counting aloud as the page counts" + how_often;
}

/// "quarter", "quarters"; nothing where no note value has that length.
std::string unit_words(const std::optional<Fraction>& unit, bool many) {
  const auto value = unit ? theory::value_of_duration(*unit) : std::nullopt;
  if (!value) return {};
  std::string out = theory::print_value_words(*value);
  if (!many) return out;
  if (out.ends_with("half")) return out.replace(out.size() - 1, 1, "ves");
  return out + "s";
}

/// " quarters a minute"; only " a minute" where no note value has that length.
std::string tempo_unit_words(const PracticePlan& plan) {
  const std::string unit = unit_words(plan.ladder_unit, true);
  return (unit.empty() ? "" : " " + unit) + " a minute";
}

std::string phrases_sentence(const PracticePlan& plan) {
  const bool timed = !plan.ladder.empty() && plan.ladder.front().per_minute;
  const std::string speed = timed ? at_lowest(plan) + tempo_unit_words(plan) : " at a tempo that feels too slow";
  const std::string end = ", until the boxes are full.";
  if (plan.loops.empty()) return "Play on from the last bar into what follows" + speed + end;
  return "Play a phrase at a time" + speed + (plan.joins.empty() ? "" : ", then each way on") + end;
}

/// A part that hardly plays: where it comes in is all there is to learn.
std::string entry_sentence(const Setting& setting, const PracticePlan& plan, int bar) {
  const Section& section = section_of(setting, plan);
  const std::string where = section.bars[static_cast<std::size_t>(bar)].number == 0
                                ? "with the pick-up"
                                : "at bar " + bar_words(section, bar);
  return "Count aloud along with the recording and come in " + where + ".";
}

/// Frets without a needless ".0", quarter tones as "a quarter tone above fret 9".
std::string bend_goal(int fret, base::Fraction semitones) {
  const base::Fraction goal = base::Fraction(fret) + semitones;
  const int whole = static_cast<int>(goal.floor());
  return goal == base::Fraction(whole) ? "fret " + std::to_string(whole)
                                       : "a quarter tone above fret " + std::to_string(whole);
}

void bends(std::vector<std::string>& out, const Section& section, const Events& events) {
  const Event* event = first_with(events, [](const score::Note& n) { return !n.more->bend.empty(); });
  if (event == nullptr) return;
  for (const score::Note& note : event->notes) {
    if (note.more->bend.empty()) continue;
    base::Fraction most;
    for (const score::BendPoint& point : note.more->bend) most = std::max(most, point.semitones);
    if (!(most > base::Fraction{})) continue;
    const int fret = note.fret;
    out.push_back(in_bar(section, event->at.bar) + " the bend arrives where " + bend_goal(fret, most) +
                  " would be: play that note first, keep it in the ear, then bend to it.");
    return;
  }
}

void ringing(std::vector<std::string>& out, const Section& section, const PracticePlan& plan, const Events& events) {
  const auto& marks = section.parts[static_cast<std::size_t>(plan.part)].marks;
  const auto has = [&](const char* kind) {
    return std::any_of(marks.begin(), marks.end(), [&](const score::Mark& m) { return m.kind == kind; });
  };
  std::size_t long_ones = 0;
  for (const Event* event : events) {
    for (const score::Note& note : event->notes) {
      if (note.string > 0 && note.sounding_duration > event->duration) {
        ++long_ones;
        break;
      }
    }
  }
  if (has("let ring") || long_ones * 3 > events.size()) {
    out.push_back(
        "Each note rings on until its string is needed again: where one is cut short, see which finger touches it.");
  }
  if (has("palm mute"))
    out.push_back("The muted notes are short and all alike; the others are as long as they are written.");
}

/// A degree of loudness that stays, from ppp to fff, and not an accent such as sfz.
bool is_level(const std::string& dynamics) {
  return dynamics.find_first_not_of("pmf") == std::string::npos;
}

void dynamics(std::vector<std::string>& out, const Section& section, const PracticePlan& plan) {
  std::vector<const score::Word*> words;
  const auto look = [&](const std::vector<score::Word>& list) {
    for (const score::Word& word : list) {
      if (word.kind == score::WordKind::Dynamics && is_level(word.text)) words.push_back(&word);
    }
  };
  const score::PartMusic& music = section.parts[static_cast<std::size_t>(plan.part)];
  look(section.words);
  look(music.words);
  std::stable_sort(words.begin(), words.end(), [](const auto* a, const auto* b) { return a->at < b->at; });
  const auto swell = std::find_if(music.marks.begin(), music.marks.end(), [](const score::Mark& mark) {
    return mark.kind == "crescendo" || mark.kind == "diminuendo";
  });
  std::string begins;
  if (!words.empty()) begins = "It begins " + words.front()->text;
  if (swell != music.marks.end()) {
    const bool grows = swell->kind == "crescendo";
    out.push_back((begins.empty() ? "It" : begins + " and") + (grows ? " grows" : " fades") + " from " +
                  bars_words(section, swell->from.bar, swell->from.bar) + " on, little by little: begin " +
                  (grows ? "softer" : "louder") + " than you think.");
    return;
  }
  if (words.empty()) return;
  const bool moves = words.back()->text != words.front()->text;
  if (moves)
    out.push_back(begins + " and comes to " + words.back()->text + ": hear the way from the one to the other.");
}

/// Where in its bar something is struck, as the page counts: "2 &"; nothing on a beat, and where the count has no word.
/// `next`: when the next beat comes in the bar.
struct OffBeat {
  std::string count;
  Fraction next;
};
std::optional<OffBeat> off_beat(const score::Bar& bar, Fraction onset) {
  const Fraction missing = bar.pick_up ? bar.meter.bar_length() - bar.length : Fraction();
  onset = onset + missing;
  const std::vector<theory::BarSpan> beats = bar.meter.beats();
  for (std::size_t i = 0; i < beats.size(); ++i) {
    if (onset <= beats[i].onset || beats[i].end() <= onset) continue;
    const bool in_three = beats[i].length == Fraction(3, bar.meter.unit);
    const Fraction share = (onset - beats[i].onset) / beats[i].length;
    if (!in_three && (share * Fraction(4)).den() != 1) return {};  // a triplet goes by a count of its own
    const std::string_view word = theory::spoken_share(share, in_three);
    if (word.empty()) return {};
    return OffBeat{std::to_string(i + 1) + " " + std::string(word), beats[i].end() - missing};
  }
  return {};
}

/// "In bar 5", "In bars 5 to 8 and 10".
std::string in_bars(const Section& section, const std::vector<int>& bars) {
  if (bars.size() == 1) return in_bar(section, bars.front());
  std::vector<std::string> runs;
  for (std::size_t i = 0, j = 0; i < bars.size(); i = ++j) {
    while (j + 1 < bars.size() && bars[j + 1] == bars[j] + 1) ++j;
    const std::string last = bar_words(section, bars[j]);
    if (i == j || j == i + 1) runs.push_back(bar_words(section, bars[i]));
    if (j == i + 1) runs.push_back(last);
    if (j > i + 1) runs.push_back(bar_words(section, bars[i]) + " to " + last);
  }
  return "In bars " + list_words(runs);
}

/// The beats over which an event is held while nothing else is struck, from the next one on: "3 and 4".
std::vector<std::string> beats_held(const score::Bar& bar, const Event& event, const OffBeat& place,
                                    const Events& events) {
  const auto struck = [&](score::Place at) {
    return std::any_of(events.begin(), events.end(), [&](const Event* e) { return e->at == at; });
  };
  const Fraction end = event.at.onset + event.duration;
  std::vector<std::string> out;
  if (!(place.next < bar.length)) {
    if (!struck({event.at.bar + 1, {}})) out.push_back("1 of the next bar");
    return out;
  }
  const Fraction missing = bar.pick_up ? bar.meter.bar_length() - bar.length : Fraction();
  int number = 0;
  for (const theory::BarSpan& beat : bar.meter.beats()) {
    ++number;
    const Fraction at = beat.onset - missing;
    if (at < place.next) continue;
    if (!(at < end) || struck({event.at.bar, at})) break;
    out.push_back(std::to_string(number));
  }
  return out;
}

/// What is struck off the beat and held over the next one, on which nothing is struck: where, in all the bars that have
/// it at the count of the first.
void held_over(std::vector<std::string>& out, const Section& section, const Events& events) {
  std::string count, what;
  bool all_change = true;  // the chord with it
  std::vector<int> bars;
  std::vector<std::string> over;  // what all of them are held over
  for (const Event* event : events) {
    if (!event->push) continue;
    const score::Bar& bar = section.bars[static_cast<std::size_t>(event->at.bar)];
    const auto place = off_beat(bar, event->at.onset);
    if (!place || (!count.empty() && place->count != count)) continue;
    const std::vector<std::string> beats = beats_held(bar, *event, *place, events);
    if (beats.empty()) continue;
    if (count.empty()) {
      count = place->count;
      what = event->strum ? "stroke" : event->notes.size() > 1 ? "chord" : "note";
      over = beats;
    }
    if (beats.size() < over.size()) over = beats;
    all_change = all_change && std::any_of(section.harmony.begin(), section.harmony.end(),
                                           [&](const score::Harmony& h) { return h.push && h.at == event->at; });
    if (bars.empty() || bars.back() != event->at.bar) bars.push_back(event->at.bar);
  }
  if (bars.empty()) return;
  const std::string quoted = "\u201c" + count + "\u201d", on = list_words(over);
  out.push_back(in_bars(section, bars) +
                (all_change
                     ? " the chord changes ahead of the beat, on " + quoted + ", and is held over " + on + "."
                     : " the " + what + " on " + quoted + " is held over " + on + ": nothing new is played there."));
}

std::string swing_sentence(const song::Feel& feel) {
  const auto value = theory::value_of_duration(feel.unit);
  const std::string unit = value ? theory::print_value_words(*value) : std::string("note");
  const bool triplet = feel.first == feel.second * Fraction(2);
  const bool late = feel.second < feel.first;
  return "The feel is " + feel.words + ": of each two " + unit + "s the first is " +
         (late ? "long and the second short" : "short and the second long") +
         (triplet ? ", as the first and the last of a triplet."
                  : ", as " + feel.first.text() + " to " + feel.second.text() + ".");
}

void rhythm(std::vector<std::string>& out, const Setting& setting, const Section& section, const PracticePlan& plan,
            const Events& events) {
  const auto& voices = section.parts[static_cast<std::size_t>(plan.part)].voices;
  const score::Part& part = setting.song.parts[static_cast<std::size_t>(plan.part)];
  if (voices.size() > 1 && part.instrument.family == theory::Family::Fretted) {
    out.push_back("The lower voice is the clock: play it once alone, and hear it go on when the upper one joins.");
  }
  if (part.kit.empty()) held_over(out, section, events);
  const song::Feel& feel = score::feel_of(setting.song, section);
  const auto off = [&](Fraction at) { return ((at - feel.unit) / (feel.unit * Fraction(2))).den() == 1; };
  const auto halves = [&](const Event* event) {  // the second of two begins or ends something
    return off(event->at.onset) || off(event->at.onset + event->duration);
  };
  const bool swung = feel.first != feel.second && std::any_of(events.begin(), events.end(), halves);
  if (swung) out.push_back(swing_sentence(feel));
}

}  // namespace

std::vector<Step> route_of(const Setting& setting, const PracticePlan& plan, const Events& events) {
  std::vector<Step> out;
  const auto add = [&out](StepKind kind, std::string sentence) {
    if (!sentence.empty()) out.push_back({kind, std::move(sentence)});
  };
  if (const score::Part* part = part_of(setting, plan)) {
    add(StepKind::Tune, tune_sentence(*part, section_of(setting, plan).parts[static_cast<std::size_t>(plan.part)]));
  }
  add(StepKind::Shapes, shapes_sentence(setting, plan));
  if (plan.hardest) add(StepKind::Change, change_sentence(setting, plan));
  if (plan.little) {
    if (!events.empty()) add(StepKind::Entry, entry_sentence(setting, plan, events.front()->at.bar));
    return out;
  }
  if (!plan.hardest && section_of(setting, plan).bars.size() > 1)
    add(StepKind::Change, busiest_sentence(setting, plan));
  add(StepKind::Picking, picking_sentence(setting, plan, events));
  if (!plan.loops.empty() || !plan.joins.empty()) add(StepKind::Phrases, phrases_sentence(plan));
  if (!plan.ladder.empty()) add(StepKind::Ladder, "Play the whole section up the tempo ladder.");
  return out;
}

std::vector<std::string> listen_for(const Setting& setting, const PracticePlan& plan, const Events& events) {
  std::vector<std::string> out;
  if (plan.part < 0 || events.empty()) return out;
  const Section& section = section_of(setting, plan);
  ringing(out, section, plan, events);
  bends(out, section, events);
  rhythm(out, setting, section, plan, events);
  if (first_with(events, [](const score::Note& n) { return n.ghost; }) != nullptr) {
    out.push_back("Notes in brackets are felt more than heard.");
  }
  const auto is_accented = [](const Event* e) { return e->accents.accent || e->accents.marcato; };
  const auto accented = std::find_if(events.begin(), events.end(), is_accented);
  if (accented != events.end() && std::count_if(events.begin(), events.end(), is_accented) == 1) {
    out.push_back("The accent in " + bars_words(section, (*accented)->at.bar, (*accented)->at.bar) +
                  " stands out by itself when the notes beside it stay light.");
  } else if (accented != events.end()) {
    out.push_back("Accents stand out by themselves when the notes beside them stay light: the first is in " +
                  bars_words(section, (*accented)->at.bar, (*accented)->at.bar) + ".");
  }
  dynamics(out, section, plan);
  return out;
}

std::vector<std::string> about_ladder(const Setting& setting, const PracticePlan& plan) {
  std::vector<std::string> out;
  if (plan.ladder.empty()) return out;
  const std::optional<int> full = plan.ladder.back().per_minute;
  if (!full) {
    out.emplace_back("The song states no tempo: 100 % is as fast as the recording.");
    return out;
  }
  if (plan.other_unit) {
    const std::string unit = unit_words(plan.other_unit, true);
    out.push_back("The small figures count from bar " + bar_words(section_of(setting, plan), plan.other_bar) + " on" +
                  (unit.empty() ? "" : ", in " + unit + " a minute") + ".");
  }
  if (plan.quickens) {
    out.push_back(std::to_string(*full) + " is the tempo at the beginning; from there it grows faster.");
  }
  if (plan.gives_way) {
    out.emplace_back(
        "The ladder keeps one tempo: leave out what slows and what is held until the top rung is safe, then play that "
        "freely.");
  }
  if (plan.beyond_clicks) {  // its bars hold no even number of them, or two would be counted as one
    const std::string unit = unit_words(plan.ladder_unit, false);
    out.push_back(
        "Few metronomes click faster than 208 a minute: above that set it to half the figure, a click on every "
        "second " +
        (unit.empty() ? "beat" : unit) +
        ", which meets the first beat of every second bar. The recording goes with the top rung.");
  }
  return out;
}

std::vector<std::string> cautions_for(const Setting& setting, const PracticePlan& plan, const Events& events) {
  std::vector<std::string> out;
  const score::Part* part = part_of(setting, plan);
  if (part == nullptr) return out;
  const bool bent = first_with(events, [](const score::Note& n) { return !n.more->bend.empty(); }) != nullptr;
  bool barred = false;
  for (const int shape : plan.shapes) {
    barred = barred || !theory::barres(setting.song.shapes[static_cast<std::size_t>(shape)].shape).empty();
  }
  std::string hand = "Stop before anything hurts, and shake out the hands every few minutes.";
  if (barred || bent) {
    hand += std::string(" ") +
            (barred && bent ? "Barres and bends"
             : barred       ? "Barres"
                            : "Bends") +
            " tire the hand: short turns, long rests.";
  }
  out.push_back(hand + " Pain that comes back is a matter for a teacher or a doctor.");
  const bool loud = !part->kit.empty() || part->instrument.name.find("electric") != std::string::npos;
  if (loud) out.push_back("Loud practice harms the ears: turn down, or wear protection.");
  return out;
}

}  // namespace tunesheaf::blocks

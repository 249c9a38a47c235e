#include "practice_words.h"

#include <algorithm>
#include <functional>
#include <optional>

#include "tunesheaf/blocks/shapes.h"
#include "tunesheaf/blocks/words.h"
#include "tunesheaf/score/clock.h"

namespace tunesheaf::blocks {
namespace {

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
  if (plan.hardest) {
    return "Change from " + shape_name(setting, plan.hardest->from) + " to " + shape_name(setting, plan.hardest->to) +
           " and back, ten times, with the fretting hand alone and without a clock.";
  }
  const bool pick_up = section.bars[static_cast<std::size_t>(plan.busiest_bar)].number == 0;
  return "Play " + std::string(pick_up ? "" : "bar ") + bar_words(section, plan.busiest_bar) +
         " alone, so slowly that nothing goes wrong, without a clock.";
}

std::string picking_sentence(const Setting& setting, const PracticePlan& plan) {
  const score::Part* part = part_of(setting, plan);
  if (part == nullptr) return {};
  if (!part->kit.empty()) return "Count aloud and play the feet alone, then the hands alone, then both.";
  if (part->instrument.family != theory::Family::Fretted) return "Count aloud and clap the rhythm once through.";
  const bool strummed = section_of(setting, plan).parts[static_cast<std::size_t>(plan.part)].strummed;
  return std::string("Rest the fretting hand on the strings and ") +
         (strummed ? "strum with the other alone" : "play the picking hand alone") +
         ", counting aloud as the page counts.";
}

/// " quarters a minute"; only " a minute" where no note value has that length.
std::string tempo_unit_words(const PracticePlan& plan) {
  const auto value = plan.ladder_unit ? theory::value_of_duration(*plan.ladder_unit) : std::nullopt;
  if (!value) return " a minute";
  std::string unit = theory::print_value_words(*value);
  unit += unit.ends_with("half") ? "" : "s";
  if (unit.ends_with("half")) unit.replace(unit.size() - 1, 1, "ves");
  return " " + unit + " a minute";
}

std::string loop_sentence(const Setting& setting, const PracticePlan& plan) {
  const Section& section = section_of(setting, plan);
  const Loop& loop = plan.loops.size() > 1 ? plan.loops[1] : plan.loops.front();
  std::string out = "Play " + bars_words(section, loop.first_bar, loop.last_bar);
  if (!plan.ladder.empty() && plan.ladder.front().per_minute) {
    out += " at " + std::to_string(*plan.ladder.front().per_minute) + tempo_unit_words(plan);
  } else {
    out += " at a tempo that feels too slow";
  }
  return out + ". Each clean time earns a box of the ladder.";
}

void add_if(std::vector<std::string>& list, std::string sentence) {
  if (!sentence.empty()) list.push_back(std::move(sentence));
}

/// Frets without a needless ".0", quarter tones as "a quarter tone above fret 9".
std::string bend_goal(int fret, base::Fraction semitones) {
  const base::Fraction goal = base::Fraction(fret) + semitones;
  const int whole = static_cast<int>(goal.floor());
  return goal == base::Fraction(whole) ? "fret " + std::to_string(whole)
                                       : "a quarter tone above fret " + std::to_string(whole);
}

void bends(std::vector<std::string>& out, const Section& section, const Events& events) {
  const Event* event = first_with(events, [](const score::Note& n) { return !n.bend.empty(); });
  if (event == nullptr) return;
  for (const score::Note& note : event->notes) {
    if (note.bend.empty()) continue;
    base::Fraction most;
    for (const score::BendPoint& point : note.bend) most = std::max(most, point.semitones);
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

void dynamics(std::vector<std::string>& out, const Section& section, const PracticePlan& plan) {
  std::vector<const score::Word*> words;
  const auto look = [&](const std::vector<score::Word>& list) {
    for (const score::Word& word : list) {
      if (word.kind == score::WordKind::Dynamics) words.push_back(&word);
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
                  bars_words(section, swell->from.bar, swell->from.bar) +
                  " on: in even steps, the most of it at the end.");
    return;
  }
  if (words.empty()) return;
  const bool moves = words.back()->text != words.front()->text;
  out.push_back(begins + (moves ? " and comes to " + words.back()->text + ": hear the way from the one to the other."
                                : ": hear that it stays so where it gets hard."));
}

void rhythm(std::vector<std::string>& out, const Setting& setting, const Section& section, const PracticePlan& plan,
            const Events& events) {
  const auto& voices = section.parts[static_cast<std::size_t>(plan.part)].voices;
  const score::Part& part = setting.song.parts[static_cast<std::size_t>(plan.part)];
  if (voices.size() > 1 && part.instrument.family == theory::Family::Fretted) {
    out.push_back("The lower voice is the clock: play it once alone, and hear it go on when the upper one joins.");
  }
  const auto pushed = std::find_if(events.begin(), events.end(), [](const Event* event) { return event->push; });
  if (pushed != events.end() && part.kit.empty()) {
    const std::string what = (*pushed)->notes.size() > 1 ? " the chord comes" : " a note comes";
    out.push_back(in_bar(section, (*pushed)->at.bar) + what + " ahead of the beat and is held over it.");
  }
  const song::Feel& feel = score::feel_of(setting.song, section);
  if (!feel.words.empty() && feel.words != "straight") {
    out.push_back("The feel is " + feel.words + ": the halves of a beat are not alike.");
  }
}

}  // namespace

std::vector<std::string> first_minutes(const Setting& setting, const PracticePlan& plan) {
  std::vector<std::string> out;
  if (const score::Part* part = part_of(setting, plan))
    add_if(out, tune_sentence(*part, section_of(setting, plan).parts[static_cast<std::size_t>(plan.part)]));
  add_if(out, shapes_sentence(setting, plan));
  add_if(out, change_sentence(setting, plan));
  add_if(out, picking_sentence(setting, plan));
  if (!plan.loops.empty()) add_if(out, loop_sentence(setting, plan));
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
  const auto accented = std::find_if(events.begin(), events.end(),
                                     [](const Event* e) { return e->accents.accent || e->accents.marcato; });
  if (accented != events.end()) {
    out.push_back("Accents stand out by themselves when the notes beside them stay light: the first is in " +
                  bars_words(section, (*accented)->at.bar, (*accented)->at.bar) + ".");
  }
  dynamics(out, section, plan);
  return out;
}

std::vector<std::string> cautions_for(const Setting& setting, const PracticePlan& plan, const Events& events) {
  std::vector<std::string> out;
  const score::Part* part = part_of(setting, plan);
  if (part == nullptr) return out;
  const bool bent = first_with(events, [](const score::Note& n) { return !n.bend.empty(); }) != nullptr;
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

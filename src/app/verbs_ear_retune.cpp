// `retune`: from one tuning to another, string by string; `tunings`: instruments and tunings by name.
#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <ostream>

#include "json_ear.h"
#include "reading_ear.h"
#include "tunesheaf/base/number.h"
#include "tunesheaf/theory/harmonics.h"
#include "tunesheaf/theory/recording.h"
#include "verbs.h"
#include "words_ear.h"

namespace tunesheaf::app {
namespace {

using theory::Caution;
using theory::HarmonicCheck;
using theory::StringRetune;

struct Asked {
  const theory::Instrument* instrument = nullptr;
  theory::Tuning from, to;
  theory::PitchOffset pitch;
  theory::Retuning answer;
  std::optional<theory::NearestTuning> nearest;
  std::vector<HarmonicCheck> checks;  ///< one for each string but the lowest
};

/// For every string the check that a player would choose: against a neighbour if there is one, at the lowest partials.
std::vector<HarmonicCheck> useful_checks(const theory::Tuning& tuning) {
  const std::vector<HarmonicCheck> all = theory::harmonic_checks(tuning);
  std::vector<HarmonicCheck> out;
  const auto worth = [](const HarmonicCheck& c) {
    return 10 * std::abs(c.string_a - c.string_b) + c.node_a.n + c.node_b.n;
  };
  for (int string = tuning.count() - 1; string >= 1; --string) {
    const HarmonicCheck* best = nullptr;
    for (const HarmonicCheck& check : all) {
      if (check.string_b != string) continue;
      if (best == nullptr || worth(check) < worth(*best)) best = &check;
    }
    if (best != nullptr) out.push_back(*best);
  }
  return out;
}

std::string offset_fault(const theory::OffsetError& error, const std::string& text) {
  std::string out = "\"" + text + "\" is no pitch of a recording";
  if (error.fault == theory::OffsetFault::NoSign) out += ": say whether it is up (+) or down (-)";
  if (error.fault == theory::OffsetFault::OutOfRange) out += ": it lies more than two octaves away";
  if (error.fault == theory::OffsetFault::UnknownUnit) out += ": \"" + error.word + "\" is no unit of pitch";
  return out + "; write \"A4 = 432\", \"+18 cents\" or \"-2 semitones\"";
}

/// Empty when all is well.
std::string read_asked(const CommandLine& line, Asked& asked) {
  const auto instrument = read_instrument(line.option("--instrument").value_or("guitar"));
  if (!instrument) return instrument.error().sentence;
  asked.instrument = *instrument;
  const auto to = read_tuning(line.operands[0], *asked.instrument);
  if (!to) return to.error().text;
  asked.to = *to;
  const auto from = read_tuning(line.option("--from").value_or("usual"), *asked.instrument);
  if (!from) return "--from: " + from.error().text;
  asked.from = *from;
  if (const auto text = line.option("--pitch")) {
    const auto pitch = theory::parse_offset(*text);
    if (!pitch) return offset_fault(pitch.error(), *text);
    asked.pitch = *pitch;
  }
  const theory::Tuning& made_for =
      asked.instrument->usual->count() == asked.to.count() ? *asked.instrument->usual : asked.from;
  const auto answer = theory::retune(asked.from, asked.to, made_for, theory::named_tunings(), asked.pitch.cents);
  if (!answer) {
    return "from " + counted_words(asked.from.count(), "string") + " to " + counted_words(asked.to.count(), "string") +
           " nothing can be retuned; name two tunings of one instrument (--from, --instrument)";
  }
  asked.answer = *answer;
  asked.nearest = theory::nearest_tuning(asked.to, asked.instrument->name);
  asked.checks = useful_checks(asked.to);
  return {};
}

std::string share(double factor) {
  const long percent = std::lround((factor - 1.0) * 100.0);
  if (percent == 0) return "as usual";
  return (percent > 0 ? "+" : "−") + std::to_string(std::labs(percent)) + " %";
}

std::string caution_word(Caution caution) {
  switch (caution) {
    case Caution::None:
      return "";
    case Caution::Slack:
      return "slack: may buzz";
    case Caution::Tight:
      return "tight: go slowly";
    case Caution::MayBreak:
      return "may break";
  }
  return {};
}

std::string string_table(const Asked& asked) {
  const bool shifted = asked.pitch.cents != 0.0;
  std::vector<Side> sides{Side::Right, Side::Left, Side::Left, Side::Left, Side::Right};
  std::vector<std::string> head{"string", "from", "to", "goes", "Hz at A4 = 440"};
  if (shifted) {
    sides.push_back(Side::Right);
    head.push_back("Hz here");
  }
  sides.insert(sides.end(), {Side::Right, Side::Right, Side::Left});
  head.insert(head.end(), {"tension", "turn", ""});
  Table table(sides);
  table.row(head);
  for (auto s = asked.answer.strings.rbegin(); s != asked.answer.strings.rend(); ++s) {
    const auto turn = std::find(asked.answer.order.begin(), asked.answer.order.end(), s->string);
    std::vector<std::string> row{std::to_string(s->string), theory::print(s->from, kSigns),
                                 theory::print(s->to, kSigns), way_words(s->semitones),
                                 base::print_fixed(s->hertz_at_440, 1)};
    if (shifted) row.push_back(base::print_fixed(s->hertz, 1));
    row.push_back(share(s->tension));
    row.push_back(turn == asked.answer.order.end() ? "–" : std::to_string(turn - asked.answer.order.begin() + 1));
    row.push_back(caution_word(s->caution));
    table.row(row);
  }
  return table.text();
}

std::string caution_lines(const Asked& asked) {
  std::vector<int> up, breaking, slack;
  for (const StringRetune& s : asked.answer.strings) {
    if (s.semitones > 0) up.push_back(s.string);
    if (s.caution == Caution::MayBreak) breaking.push_back(s.string);
    if (s.caution == Caution::Slack) slack.push_back(s.string);
  }
  std::string out;
  if (!up.empty() || !breaking.empty()) {
    out += folded(
               "Caution. Strings can snap and hit an eye: keep your face away, turn slowly, and let the neck settle "
               "before you go on. An old instrument may not bear more tension: ask a repairer if you are unsure.",
               2) +
           "\n";
  }
  if (!breaking.empty()) {
    const bool one = breaking.size() == 1;
    out += folded(std::string(one ? "String " : "Strings ") + numbers_listed(breaking) + (one ? " stands" : " stand") +
                      " three semitones or more above what " + (one ? "it was" : "they were") +
                      " made for: put on lighter strings, or tune all down and use a capo.",
                  2) +
           "\n";
  }
  if (!slack.empty()) {
    const bool one = slack.size() == 1;
    out += folded(std::string(one ? "String " : "Strings ") + numbers_listed(slack) + (one ? " is" : " are") +
                      " slack and may buzz: a heavier string helps.",
                  2) +
           "\n";
  }
  return out;
}

std::string order_lines(const Asked& asked) {
  if (asked.answer.order.empty()) return "Nothing is to be turned.\n";
  bool down = false, up = false;
  for (const StringRetune& s : asked.answer.strings) {
    down = down || s.semitones < 0;
    up = up || s.semitones > 0;
  }
  std::string out =
      "Turn " + strings_listed(asked.answer.order) + (asked.answer.order.size() > 1 ? ", in this order" : "");
  if (down && up) out += " (what goes down comes first, so that the neck is eased)";
  if (asked.to.count() > 1) out += "; then go over all strings once more, since each one moves the others";
  return folded(out + ".", 2) + "\n";
}

std::string near_lines(const Asked& asked) {
  std::string out;
  if (asked.to.count() > 1 && theory::one_note_tuning(asked.to)) {
    out += "All strings sound one note, " + theory::print(asked.to.strings.front().pitch().name, kSigns) + ".\n";
  }
  if (asked.nearest) {
    const bool itself = asked.nearest->semitones == 0 && asked.nearest->differences.empty();
    out += folded((itself ? "Known as: " : "Near to: ") + nearest_words(*asked.nearest) + ".", 2) + "\n";
  }
  return out;
}

std::string harmonic_at(const theory::Node& node) {
  return "fret " + base::print_decimal(std::round(node.fret * 10.0) / 10.0, 1);
}

std::string check_lines(const Asked& asked) {
  if (asked.checks.empty()) return {};
  double widest = 0.0;
  std::string out = "By ear, with harmonics (touch the string right over the fret):\n";
  for (const HarmonicCheck& c : asked.checks) {
    const int key = asked.to.string(c.string_a).midi() + c.node_a.semitones;
    widest = std::max(widest, std::abs(c.cents));
    out += "  string " + std::to_string(c.string_a) + " at " + harmonic_at(c.node_a) + " sounds like string " +
           std::to_string(c.string_b) + " at " + harmonic_at(c.node_b) + " (" +
           theory::print(theory::plain_spelling(key), kSigns) + ")\n";
  }
  if (widest >= 0.05) {
    out += folded("In even temperament the two lie up to " + base::print_fixed(widest, 1) +
                      " cents apart: a very slow beat is right.",
                  2) +
           "\n";
  }
  return out;
}

std::string people(const Asked& asked) {
  std::string head = asked.instrument->name + ", from " + tuning_words(asked.from, *asked.instrument) + " to " +
                     tuning_words(asked.to, *asked.instrument);
  if (asked.pitch.cents != 0.0) {
    head += ", for a recording at " + theory::print(asked.pitch);
    if (!asked.pitch.a4)
      head += " (tuner at A4 = " + base::print_fixed(asked.pitch.a4_hertz(), 1) + " Hz" +
              (asked.pitch.semitones() != 0 ? ", and the semitones" : "") + ")";
  }
  return folded(head, 2) + "\n\n" + string_table(asked) + "\n" + caution_lines(asked) + order_lines(asked) +
         near_lines(asked) + check_lines(asked);
}

double rounded(double value, double parts) {
  return std::round(value * parts) / parts;
}

Json as_json(const Asked& asked) {
  Json out{{"instrument", asked.instrument->name},
           {"from", theory::print(asked.from)},
           {"to", theory::print(asked.to)},
           {"cents", rounded(asked.pitch.cents, 1000.0)}};
  out["strings"] = Json::array();
  for (const StringRetune& s : asked.answer.strings) {
    out["strings"].push_back({{"string", s.string},
                              {"from", theory::print(s.from)},
                              {"to", theory::print(s.to)},
                              {"semitones", s.semitones},
                              {"hertz_at_440", rounded(s.hertz_at_440, 1000.0)},
                              {"hertz", rounded(s.hertz, 1000.0)},
                              {"tension", rounded(s.tension, 10000.0)},
                              {"caution", caution_word(s.caution)}});
  }
  out["order"] = asked.answer.order;
  out["nearest"] = asked.nearest ? json_of(*asked.nearest) : Json(nullptr);
  out["one_note"] = theory::one_note_tuning(asked.to);
  out["harmonics"] = Json::array();
  for (const HarmonicCheck& c : asked.checks) {
    out["harmonics"].push_back({{"string_a", c.string_a},
                                {"fret_a", rounded(c.node_a.fret, 100.0)},
                                {"string_b", c.string_b},
                                {"fret_b", rounded(c.node_b.fret, 100.0)},
                                {"cents", rounded(c.cents, 100.0)}});
  }
  return out;
}

std::vector<const theory::NamedTuning*> tunings_of(const theory::Instrument& instrument) {
  std::vector<const theory::NamedTuning*> out;
  for (const theory::NamedTuning& named : theory::named_tunings()) {
    if (named.instrument == instrument.name) out.push_back(&named);
  }
  return out;
}

Json instrument_json(const theory::Instrument& instrument) {
  Json out{{"instrument", instrument.name}, {"also", instrument.also}, {"strings", instrument.usual->count()}};
  out["tunings"] = Json::array();
  for (const theory::NamedTuning* named : tunings_of(instrument)) {
    out["tunings"].push_back({{"name", named->name}, {"notes", theory::print(named->tuning)}});
  }
  return out;
}

std::string one_instrument(const theory::Instrument& instrument) {
  std::string out = "Tunings of the " + instrument.name;
  if (!instrument.also.empty()) out += " (also: " + list_words(instrument.also) + ")";
  out += ", low string first; string 1 is the last\n\n";
  Table table({Side::Left, Side::Left});
  for (const theory::NamedTuning* named : tunings_of(instrument)) {
    table.row({named->name, theory::print(named->tuning, kSigns)});
  }
  return out + table.text();
}

std::string all_instruments() {
  std::string out =
      "Instruments with strings, their usual tuning (low string first) and how many tunings have a name\n\n";
  Table table({Side::Left, Side::Left, Side::Right});
  for (const theory::Instrument& instrument : theory::instruments()) {
    if (!instrument.has_strings()) continue;
    table.row(
        {instrument.name, theory::print(*instrument.usual, kSigns), std::to_string(tunings_of(instrument).size())});
  }
  return out + table.text() + "\n`tunesheaf tunings NAME` lists the tunings of one.\n";
}

}  // namespace

int run_retune(const CommandLine& line, const Console& console) {
  Asked asked;
  if (const std::string fault = read_asked(line, asked); !fault.empty()) return say_usage(console, fault);
  console.out << (wants_json(line) ? as_json(asked).dump(2) + "\n" : people(asked));
  return kDone;
}

int run_tunings(const CommandLine& line, const Console& console) {
  if (line.operands.empty()) {
    if (!wants_json(line)) {
      console.out << all_instruments();
      return kDone;
    }
    Json out = Json::array();
    for (const theory::Instrument& instrument : theory::instruments()) {
      if (instrument.has_strings()) out.push_back(instrument_json(instrument));
    }
    console.out << out.dump(2) << "\n";
    return kDone;
  }
  std::string name;
  for (const std::string& word : line.operands) name += (name.empty() ? "" : " ") + word;
  const auto instrument = read_instrument(name);
  if (!instrument) return say_usage(console, instrument.error().sentence);
  console.out << (wants_json(line) ? instrument_json(**instrument).dump(2) + "\n" : one_instrument(**instrument));
  return kDone;
}

}  // namespace tunesheaf::app

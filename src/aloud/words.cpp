#include "tunesheaf/aloud/words.h"

#include <array>
#include <cmath>
#include <map>

#include "tunesheaf/base/number.h"
#include "tunesheaf/song/language.h"
#include "tunesheaf/theory/note_value.h"

namespace tunesheaf::aloud {
namespace {

constexpr std::array<std::string_view, 20> kOrdinals{
    "",           "first",     "second",    "third",       "fourth",     "fifth",     "sixth",
    "seventh",    "eighth",    "ninth",     "tenth",       "eleventh",   "twelfth",   "thirteenth",
    "fourteenth", "fifteenth", "sixteenth", "seventeenth", "eighteenth", "nineteenth"};
constexpr std::array<std::string_view, 10> kTens{"",      "",      "twenty",  "thirty", "forty",
                                                 "fifty", "sixty", "seventy", "eighty", "ninety"};

/// What a note of 1/unit is called as a part of a whole: "halves", "quarters".
std::string unit_words(int unit, bool many) {
  if (unit == 1) return many ? "wholes" : "whole";
  if (unit == 2) return many ? "halves" : "half";
  if (unit == 4) return many ? "quarters" : "quarter";
  return ordinal_word(unit) + (many ? "s" : "");
}

std::string grouping_words(const std::vector<int>& groups) {
  std::string out;
  for (std::size_t i = 0; i < groups.size(); ++i) out += (i == 0 ? "" : " and ") + number_word(groups[i]);
  return out;
}

/// The beat that holds `at`, and how much of it has gone by.
struct InBeat {
  int beat = 1;
  base::Fraction share;
  bool of_three = false;
};

InBeat in_beat(const score::Bar& bar, base::Fraction onset) {
  const base::Fraction full = bar.meter.bar_length();
  const base::Fraction at = bar.pick_up && bar.length < full ? onset + full - bar.length : onset;
  const auto beats = bar.meter.beats();
  InBeat out;
  std::size_t i = 0;
  while (i + 1 < beats.size() && !(at < beats[i].end())) ++i;
  out.beat = static_cast<int>(i) + 1;
  out.share = (at - beats[i].onset) / beats[i].length;
  out.of_three = (beats[i].length * base::Fraction(bar.meter.unit)) == base::Fraction(3);
  return out;
}

}  // namespace

std::string number_word(std::int64_t n) {
  constexpr std::array<std::string_view, 13> kWords{"no",    "one",   "two",  "three", "four",   "five",  "six",
                                                    "seven", "eight", "nine", "ten",   "eleven", "twelve"};
  if (n >= 0 && n < static_cast<std::int64_t>(kWords.size())) return std::string(kWords[static_cast<std::size_t>(n)]);
  return std::to_string(n);
}

std::string ordinal_word(std::int64_t n) {
  if (n < 20) return std::string(kOrdinals[static_cast<std::size_t>(n)]);
  const std::string tens(kTens[static_cast<std::size_t>(n / 10)]);
  if (n % 10 == 0) return tens.substr(0, tens.size() - 1) + "ieth";
  return tens + "-" + std::string(kOrdinals[static_cast<std::size_t>(n % 10)]);
}

std::string fraction_words(base::Fraction f) {
  const bool many = f.num() != 1;
  if (f.den() > 99) return std::to_string(f.num()) + " parts of " + std::to_string(f.den());
  return number_word(f.num()) + " " + unit_words(static_cast<int>(f.den()), many);
}

std::string counted(std::int64_t count, const std::string& one, const std::string& many) {
  return std::to_string(count) + " " + (count == 1 ? one : many);
}

std::string pitch_class_words(theory::PitchClass pitch) {
  std::string out(1, theory::letter(pitch.step));
  constexpr std::array<std::string_view, 4> kSharps{"", " sharp", " double sharp", " triple sharp"};
  constexpr std::array<std::string_view, 4> kFlats{"", " flat", " double flat", " triple flat"};
  const auto& names = pitch.alter < 0 ? kFlats : kSharps;
  out += names[static_cast<std::size_t>(std::min(3, std::abs(pitch.alter)))];
  return out;
}

std::string pitch_words(theory::Pitch pitch) {
  const std::string octave = pitch.octave < 0 ? "minus " + std::to_string(-pitch.octave) : std::to_string(pitch.octave);
  return pitch_class_words(pitch.name) + " " + octave;
}

std::string key_words(const theory::Key& key) {
  return pitch_class_words(key.tonic) + " " + theory::mode_name(key.mode);
}

std::string meter_words(const theory::Meter& meter) {
  std::string out = number_word(meter.count) + " " + unit_words(meter.unit, meter.count != 1) + " time";
  if (meter.sign == theory::MeterSign::kCommon) out += ", called common time";
  if (meter.sign == theory::MeterSign::kCut) out += ", called cut time";
  if (!meter.grouping.empty()) out += ", counted " + grouping_words(meter.grouping);
  return out;
}

std::string tempo_words(const song::TempoMark& tempo, const theory::Meter& meter) {
  std::string out = plain(tempo.words);
  if (!(base::Fraction(0) < tempo.per_minute)) return out;
  const auto value = tempo.unit_stated ? theory::value_of_duration(tempo.unit) : std::optional(meter.tempo_unit());
  const std::string unit = value ? theory::print_value_words(*value) + " notes" : "beats";
  return out + (out.empty() ? "" : ", ") + base::print_decimal(tempo.per_minute.to_double(), 1) + " " + unit +
         " a minute";
}

std::string feel_words(const song::Feel& feel) {
  std::string out = plain(feel.words);
  for (std::size_t at = out.find(':'); at != std::string::npos; at = out.find(':')) out.replace(at, 1, " to ");
  return out;
}

std::string time_words(double seconds) {
  const auto all = static_cast<std::int64_t>(std::floor(seconds + 1e-6));
  std::vector<std::string> words;
  if (all >= 3600) words.push_back(counted(all / 3600, "hour", "hours"));
  if (all / 60 % 60 > 0) words.push_back(counted(all / 60 % 60, "minute", "minutes"));
  if (all % 60 > 0 || words.empty()) words.push_back(counted(all % 60, "second", "seconds"));
  return list_words(words);
}

std::string amount_words(base::Fraction semitones) {
  if (semitones == base::Fraction(1, 2)) return "a quarter tone";
  if (semitones == base::Fraction(1)) return "a semitone";
  if (semitones == base::Fraction(2)) return "a whole tone";
  if (semitones.den() == 1) return counted(semitones.num(), "semitone", "semitones");
  const std::int64_t whole = semitones.floor();
  const std::string rest = fraction_words(semitones - base::Fraction(whole));
  if (whole == 0) return rest + " of a semitone";
  return std::to_string(whole) + " and " + rest + " semitones";
}

std::string dynamics_words(std::string_view sign) {
  static const std::map<std::string_view, std::string_view> kWords{{"pppp", "barely heard"},
                                                                   {"ppp", "as soft as can be"},
                                                                   {"pp", "very soft"},
                                                                   {"p", "soft"},
                                                                   {"mp", "moderately soft"},
                                                                   {"mf", "moderately loud"},
                                                                   {"f", "loud"},
                                                                   {"ff", "very loud"},
                                                                   {"fff", "as loud as can be"},
                                                                   {"ffff", "louder still"},
                                                                   {"sf", "with a sudden accent"},
                                                                   {"sfz", "with a sudden strong accent"},
                                                                   {"fp", "loud, then at once soft"},
                                                                   {"sfp", "with a sudden accent, then soft"},
                                                                   {"rf", "with new force"},
                                                                   {"rfz", "with sudden new force"},
                                                                   {"fz", "with a strong accent"},
                                                                   {"n", "from or to nothing"}};
  const auto found = kWords.find(sign);
  return found == kWords.end() ? plain(sign) : std::string(found->second);
}

std::string drum_words(std::string_view lane) {
  static const std::map<std::string_view, std::string_view> kWords{{"hat", "hi-hat"},
                                                                   {"hat open", "open hi-hat"},
                                                                   {"hat half", "half open hi-hat"},
                                                                   {"hat foot", "hi-hat with the foot"},
                                                                   {"kick 2", "second kick"},
                                                                   {"crash 2", "second crash"},
                                                                   {"rim", "rim shot"},
                                                                   {"bass", "bass tone"},
                                                                   {"tone", "open tone"},
                                                                   {"open", "open stroke"},
                                                                   {"muffled", "muffled stroke"},
                                                                   {"tap", "light tap"},
                                                                   {"ghost", "ghost touch"}};
  const auto found = kWords.find(lane);
  return found == kWords.end() ? std::string(lane) : std::string(found->second);
}

std::string finger_word(int finger) {
  constexpr std::array<std::string_view, 6> kWords{"no", "index", "middle", "ring", "little", "thumb"};
  return std::string(kWords[static_cast<std::size_t>(finger)]);
}

std::string sign_words(std::string_view lane_group, std::string_view sign) {
  for (const song::LanguageEntry& entry : song::language()) {
    if (entry.kind != song::EntryKind::Sign || entry.where != lane_group || entry.word != sign) continue;
    std::string out(entry.value);
    for (char& c : out) c = c == '-' ? ' ' : c;
    return out;
  }
  return {};
}

std::string beat_words(const score::Bar& bar, base::Fraction onset) {
  const InBeat at = in_beat(bar, onset);
  const std::string beat = "beat " + std::to_string(at.beat);
  if (at.share == base::Fraction(0)) return beat;
  if (!at.of_three && at.share == base::Fraction(1, 4)) return beat + " e";
  if (!at.of_three && at.share == base::Fraction(1, 2)) return beat + " and";
  if (!at.of_three && at.share == base::Fraction(3, 4)) return beat + " a";
  if (at.share == base::Fraction(1, 3)) return "second third of " + beat;
  if (at.share == base::Fraction(2, 3)) return "last third of " + beat;
  return fraction_words(at.share) + " into " + beat;
}

std::string capital(std::string text) {
  if (!text.empty() && text[0] >= 'a' && text[0] <= 'z') text[0] = static_cast<char>(text[0] - 'a' + 'A');
  return text;
}

std::string sentence(std::string text) {
  while (!text.empty() && (text.back() == ' ' || text.back() == ',' || text.back() == ';' || text.back() == ':')) {
    text.pop_back();
  }
  if (text.empty() || std::string_view(".!?").find(text.back()) != std::string_view::npos) return text;
  return text + ".";
}

}  // namespace tunesheaf::aloud

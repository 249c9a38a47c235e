#include "tunesheaf/blocks/instead.h"

#include <algorithm>
#include <array>
#include <utility>

#include "tunesheaf/base/ascii.h"
#include "tunesheaf/base/edit_distance.h"
#include "tunesheaf/base/number.h"
#include "tunesheaf/blocks/chart_player.h"
#include "tunesheaf/theory/instrument.h"
#include "tunesheaf/theory/recording.h"

namespace tunesheaf::blocks {
namespace {

using base::lower;
using base::trimmed;

using theory::Family;
using theory::Instrument;

constexpr int kFarthest = 12;  ///< semitones between two versions of a song

std::vector<std::string> words_of(const std::string& text) {
  std::vector<std::string> out;
  std::size_t begin = 0;
  while ((begin = text.find_first_not_of(" -\t", begin)) != std::string::npos) {
    const std::size_t end = std::min(text.find_first_of(" -\t", begin), text.size());
    out.push_back(text.substr(begin, end - begin));
    begin = end;
  }
  return out;
}

/// Parted at commas and the small words between: "guitar in open G with capo 2".
std::vector<std::string> pieces_of(std::string text) {
  for (const std::string_view joint : {" and ", " with ", " tuned to ", " in ", ";"}) {
    for (auto at = text.find(joint); at != std::string::npos; at = text.find(joint)) {
      text.replace(at, joint.size(), ",");
    }
  }
  std::vector<std::string> out;
  std::size_t begin = 0;
  while (begin <= text.size()) {
    const std::size_t end = std::min(text.find(',', begin), text.size());
    if (std::string piece = trimmed(std::string_view(text).substr(begin, end - begin)); !piece.empty()) {
      out.push_back(std::move(piece));
    }
    begin = end + 1;
  }
  return out;
}

std::optional<int> number_of(const std::string& word) {
  constexpr std::array<std::string_view, 13> kWords{"no",    "one",   "two",  "three", "four",   "five",  "six",
                                                    "seven", "eight", "nine", "ten",   "eleven", "twelve"};
  if (word == "a" || word == "an") return 1;
  for (std::size_t i = 1; i < kWords.size(); ++i) {
    if (word == kWords[i]) return static_cast<int>(i);
  }
  const auto number = base::parse_integer(word);
  if (!number || *number < 0 || *number > 99) return std::nullopt;
  return static_cast<int>(*number);
}

/// "capo 3", "capo at 3", "capo at fret three", "no capo", "without a capo".
std::optional<int> capo_of(const std::string& piece) {
  std::vector<std::string> words = words_of(lower(piece));
  const auto is_capo = std::find(words.begin(), words.end(), "capo");
  if (is_capo == words.end()) return std::nullopt;
  if (words.front() == "no" || words.front() == "without") return 0;
  return number_of(words.back());
}

/// "a semitone down", "two tones up", "half a step lower", "-2 semitones".
std::optional<int> shift_of(const std::string& piece) {
  if (piece[0] == '+' || piece[0] == '-') {
    const auto offset = theory::parse_offset(piece);
    if (offset && offset->rest_cents() == 0.0) return offset->semitones();
    return std::nullopt;
  }
  std::vector<std::string> words = words_of(lower(piece));
  if (words.size() < 2) return std::nullopt;
  const std::string& side = words.back();
  const bool up = side == "up" || side == "higher" || side == "above";
  if (!up && side != "down" && side != "lower" && side != "below") return std::nullopt;
  words.pop_back();
  int count = 1;
  if (const auto number = number_of(words.front())) {
    count = *number;
    words.erase(words.begin());
  }
  std::string unit;
  for (const std::string& word : words) {
    if (word != "a") unit += (unit.empty() ? "" : " ") + word;
  }
  if (unit.ends_with("s")) unit.pop_back();
  int size = 0;
  if (unit == "semitone" || unit == "half step" || unit == "half tone" || unit == "fret") size = 1;
  if (unit == "tone" || unit == "step" || unit == "whole step" || unit == "whole tone") size = 2;
  if (unit == "octave") size = 12;
  if (size == 0) return std::nullopt;
  return (up ? 1 : -1) * count * size;
}

/// The part whose player asks: the first with frets that is no bass.
const score::Part* asking_part(const score::Timeline& song) {
  const score::Part* any = nullptr;
  for (const score::Part& part : song.parts) {
    if (part.instrument.family != Family::Fretted || part.tuning.count() == 0) continue;
    const bool low = part.instrument.clef == theory::Clef::Bass || part.instrument.clef == theory::Clef::Bass8;
    if (!low) return &part;
    if (any == nullptr) any = &part;
  }
  return any;
}

std::string tuning_piece(std::string piece) {
  for (const std::string_view before : {"tuned to ", "tuned ", "tuning ", "in "}) {
    if (lower(piece).starts_with(before)) piece = trimmed(std::string_view(piece).substr(before.size()));
  }
  if (lower(piece).ends_with(" tuning")) piece = trimmed(std::string_view(piece).substr(0, piece.size() - 7));
  return piece;
}

std::string not_understood(const std::string& piece, const Instrument& instrument) {
  std::vector<std::string> known;
  for (const Instrument& one : theory::instruments()) {
    if (one.family == Family::Fretted) known.push_back(one.name);
  }
  for (const theory::NamedTuning& named : theory::named_tunings()) {
    if (named.instrument == instrument.name) known.push_back(named.name);
  }
  std::string out = "\"" + piece + "\" is no tuning of the " + instrument.name +
                    ", no instrument with frets, no capo (\"capo 3\") and no change of pitch (\"a semitone down\")";
  if (const auto near = base::nearest_word(piece, known)) out += "; the nearest is \"" + *near + "\"";
  return out;
}

/// An instrument of the song's own is used to the strings that it has there.
std::optional<theory::Tuning> tuning_of(const std::string& words, const Instrument& instrument,
                                        const score::Part* part) {
  if (part != nullptr && &instrument == &part->instrument && words == "usual") {
    theory::Tuning tuning = part->tuning;
    tuning.name = words;
    return tuning;
  }
  const auto parsed = theory::parse_tuning(words, instrument.name);
  if (!parsed) return std::nullopt;
  return *parsed;
}

std::string capo_fault(int capo, const Instrument& instrument) {
  const int last = instrument.frets > 0 ? instrument.frets - 5 : 12;
  if (capo <= last) return {};
  return "a capo at fret " + std::to_string(capo) + " leaves too little of the neck; the last useful place on the " +
         instrument.name + " is fret " + std::to_string(last);
}

/// Chords that stand on the page, in order.
std::vector<const score::Harmony*> page_chords(const score::Timeline& song) {
  std::vector<const score::Harmony*> out;
  for (const score::Section& section : song.sections) {
    for (const score::Harmony* harmony : chords_of(section)) {
      if (!harmony->none) out.push_back(harmony);
    }
  }
  return out;
}

/// The shapes of the best option; where there is none, what is nearest.
void choose_shapes(Instead& instead, const std::vector<std::size_t>& which, const theory::InsteadWishes& wishes) {
  const theory::InsteadOption& best = instead.options.front();
  for (std::size_t i = which.size(); i-- > 0;) {
    instead.chords[which[i]].fingered = best.fingered[i];
    instead.chords[which[i]].shape = best.shapes[i];
  }
  theory::Neck neck = wishes.neck;
  neck.capo_fret = best.capo;
  for (InsteadChord& chord : instead.chords) {
    if (chord.shape) continue;
    chord.nearest = theory::nearest_playable(chord.fingered, instead.wish.tuning, {}, wishes.limits, neck);
  }
}

}  // namespace

std::string wish_words(const InsteadWish& wish) {
  std::string tuning = wish.tuning.name == "usual" ? "usual tuning" : wish.tuning.name;
  if (tuning.empty()) tuning = theory::print(wish.tuning, theory::Accidentals::Signs);
  return wish.instrument->name + ", " + tuning;
}

const theory::Instrument* instrument_of(const score::Part& part) {
  const Instrument* known = theory::find_instrument(part.instrument.name);
  return known != nullptr ? known : &part.instrument;
}

base::Result<InsteadWish, InsteadFault> read_instead(std::string_view text, const score::Timeline& song) {
  const score::Part* part = asking_part(song);
  InsteadWish wish;
  wish.instrument = part != nullptr ? instrument_of(*part) : theory::find_instrument("guitar");
  std::optional<std::string> tuning;
  const std::vector<std::string> pieces = pieces_of(std::string(text));
  if (pieces.empty()) {
    return InsteadFault{"say what to play on: \"usual tuning\", \"capo 3\", \"ukulele\", \"a semitone down\""};
  }
  for (const std::string& piece : pieces) {
    const Instrument* named = theory::find_instrument(tuning_piece(piece));
    if (const auto capo = capo_of(piece)) {
      wish.capo = *capo;
    } else if (const auto shift = shift_of(piece)) {
      wish.semitones += *shift;
    } else if (named != nullptr && named->family == Family::Fretted) {
      wish.instrument = named;
    } else if (named != nullptr) {
      return InsteadFault{"the " + named->name + " has no frets; name an instrument with frets, such as a ukulele"};
    } else if (tuning) {
      return InsteadFault{"two tunings are named, \"" + *tuning + "\" and \"" + piece + "\"; name one"};
    } else {
      tuning = piece;
    }
  }
  const std::string words = tuning_piece(tuning.value_or("usual"));
  const auto parsed = tuning_of(words, *wish.instrument, part);
  if (!parsed) return InsteadFault{not_understood(words, *wish.instrument)};
  wish.tuning = *parsed;
  if (std::abs(wish.semitones) > kFarthest) {
    return InsteadFault{"another version lies at most " + std::to_string(kFarthest) + " semitones away, not " +
                        std::to_string(std::abs(wish.semitones))};
  }
  if (wish.capo) {
    if (std::string fault = capo_fault(*wish.capo, *wish.instrument); !fault.empty()) return InsteadFault{fault};
  }
  return wish;
}

Instead play_instead(const score::Timeline& song, const InsteadWish& wish) {
  Instead out;
  out.wish = wish;
  for (const score::Part& part : song.parts) {
    if (part.instrument.family != Family::Fretted) continue;
    out.page_capo = part.capo;
    break;
  }
  std::vector<theory::ChordName> chords;
  std::vector<std::size_t> which;
  for (const score::Harmony* harmony : page_chords(song)) {
    if (!harmony->name) {
      if (harmony->shape < 0) continue;
      const std::string& name = song.shapes[static_cast<std::size_t>(harmony->shape)].name.value;
      if (std::find(out.unnamed.begin(), out.unnamed.end(), name) == out.unnamed.end()) out.unnamed.push_back(name);
      continue;
    }
    const std::string name = theory::print(*harmony->name, theory::Accidentals::Signs);
    std::size_t place = 0;
    while (place < out.chords.size() && out.chords[place].page_name != name) ++place;
    if (place == out.chords.size()) out.chords.push_back({name, {}, 0, std::nullopt, {}});
    ++out.chords[place].times;
    chords.push_back(*harmony->name);
    which.push_back(place);
  }
  if (chords.empty()) return out;
  theory::InsteadWishes wishes;
  wishes.semitones = out.page_capo + wish.semitones;
  wishes.key = song.key;
  // One shape a chord, as a page of boxes wants it, all chosen together so that they follow one another well.
  wishes.voicing = theory::Voicing::OneForEach;
  wishes.highest_capo = wish.instrument->frets > 0 ? std::min(kHighestCapo, wish.instrument->frets - 5) : kHighestCapo;
  if (wish.capo) wishes.lowest_capo = wishes.highest_capo = *wish.capo;
  if (wish.tuning.re_entrant()) wishes.limits.bass = theory::BassRule::Any;
  if (wish.instrument->scale_length_mm > 0) wishes.neck.scale_length_mm = wish.instrument->scale_length_mm;
  wishes.neck.frets = wish.instrument->frets;
  out.options = theory::play_instead(chords, wish.tuning, wishes);
  choose_shapes(out, which, wishes);
  return out;
}

}  // namespace tunesheaf::blocks

#include "tunesheaf/theory/tuning.h"

#include <algorithm>
#include <cstdlib>

#include "tunesheaf/base/edit_distance.h"
#include "tunesheaf/base/number.h"
#include "tunesheaf/theory/instrument.h"

namespace tunesheaf::theory {
namespace {

constexpr int kLowestKey = 12;    // C0, 16.35 Hz: the end of hearing
constexpr int kHighestKey = 108;  // C8
constexpr std::size_t kMostInCourse = 3;

bool separator(char c) {
  return c == ' ' || c == '\t' || c == ',' || c == '\n';
}

struct NoteWord {
  std::string_view text;
  std::size_t at;
};

std::vector<NoteWord> note_words(std::string_view text) {
  std::vector<NoteWord> out;
  for (std::size_t i = 0; i < text.size();) {
    if (separator(text[i])) {
      ++i;
      continue;
    }
    std::size_t end = i;
    while (end < text.size() && !separator(text[end])) ++end;
    out.push_back({text.substr(i, end - i), i});
    i = end;
  }
  return out;
}

TuningError fault(TuningFault kind, std::size_t at, std::string_view word) {
  TuningError error;
  error.fault = kind;
  error.at = at;
  error.word = std::string(word);
  return error;
}

base::Result<TunedString, TuningError> parse_string(NoteWord word) {
  TunedString out;
  std::string_view notes = word.text;
  if (const std::size_t at = notes.find('@'); at != std::string_view::npos) {
    const std::optional<std::int64_t> fret = base::parse_integer(notes.substr(at + 1));
    if (!fret || *fret < 0 || *fret > 24) return fault(TuningFault::BadPitch, word.at, word.text);
    out.start_fret = static_cast<int>(*fret);
    notes = notes.substr(0, at);
  }
  std::size_t from = 0;
  while (from <= notes.size()) {
    const std::size_t slash = std::min(notes.find('/', from), notes.size());
    const std::string_view note = notes.substr(from, slash - from);
    const std::optional<Pitch> pitch = parse_pitch(note);
    if (!pitch) {
      const TuningFault kind = parse_pitch_class(note) ? TuningFault::NoOctave : TuningFault::BadPitch;
      return fault(kind, word.at + from, note);
    }
    if (pitch->midi() < kLowestKey) return fault(TuningFault::TooLow, word.at + from, note);
    if (pitch->midi() > kHighestKey) return fault(TuningFault::TooHigh, word.at + from, note);
    out.course.push_back(*pitch);
    from = slash + 1;
  }
  if (out.course.size() > kMostInCourse) return fault(TuningFault::UnevenCourse, word.at, word.text);
  return out;
}

/// "DADGAD" or "D A D G A D" as classes; nothing when the text is anything else.
std::vector<PitchClass> parse_letters(std::string_view text) {
  std::vector<PitchClass> out;
  for (std::size_t at = 0; at < text.size();) {
    if (separator(text[at])) {
      ++at;
      continue;
    }
    std::size_t taken = 0;
    const std::optional<PitchClass> pc = read_pitch_class(text.substr(at), taken);
    if (!pc) return {};
    out.push_back(*pc);
    at += taken;
  }
  return out;
}

/// The pitch of that name nearest to `usual`; of two equally near the lower.
Pitch nearest_pitch(PitchClass pc, int usual) {
  const int up = ((pc.number() - usual) % 12 + 12) % 12;
  const int key = up < 6 ? usual + up : usual + up - 12;
  return with_name(key, pc);
}

std::optional<Tuning> tuning_from_letters(std::string_view text, const Tuning& usual) {
  const std::vector<PitchClass> letters = parse_letters(text);
  if (letters.size() != usual.strings.size()) return std::nullopt;
  Tuning out;
  for (std::size_t i = 0; i < letters.size(); ++i) {
    TunedString string = usual.strings[i];
    const int change = nearest_pitch(letters[i], string.midi()).midi() - string.midi();
    for (Pitch& p : string.course) p = with_name(p.midi() + change, letters[i]);
    out.strings.push_back(std::move(string));
  }
  return out;
}

void keep_short_strings(Tuning& tuning, const Tuning& usual) {
  if (tuning.count() != usual.count()) return;
  for (std::size_t i = 0; i < tuning.strings.size(); ++i) {
    if (tuning.strings[i].start_fret == 0) tuning.strings[i].start_fret = usual.strings[i].start_fret;
  }
}

std::vector<std::string> names_for(std::string_view instrument) {
  std::vector<std::string> out;
  for (const NamedTuning& named : named_tunings()) {
    if (named.instrument == instrument) out.push_back(named.name);
  }
  return out;
}

}  // namespace

bool Tuning::re_entrant() const {
  for (std::size_t i = 1; i < strings.size(); ++i) {
    if (strings[i].midi() < strings[i - 1].midi()) return true;
  }
  return false;
}

bool Tuning::same_pitches(const Tuning& other) const {
  return std::equal(strings.begin(), strings.end(), other.strings.begin(), other.strings.end(),
                    [](const TunedString& a, const TunedString& b) {
                      return a.start_fret == b.start_fret &&
                             std::equal(a.course.begin(), a.course.end(), b.course.begin(), b.course.end(),
                                        [](Pitch p, Pitch q) { return p.midi() == q.midi(); });
                    });
}

base::Result<Tuning, TuningError> parse_tuning_notes(std::string_view text) {
  Tuning out;
  const std::vector<NoteWord> all = note_words(text);
  if (all.empty()) return fault(TuningFault::Empty, 0, "");
  if (all.size() > static_cast<std::size_t>(kMostStrings)) {
    TuningError error = fault(TuningFault::TooManyStrings, all[kMostStrings].at, all[kMostStrings].text);
    error.count = static_cast<int>(all.size());
    return error;
  }
  for (const NoteWord& word : all) {
    base::Result<TunedString, TuningError> string = parse_string(word);
    if (!string) return string.error();
    out.strings.push_back(*string);
  }
  return out;
}

base::Result<Tuning, TuningError> parse_tuning(std::string_view text, std::string_view instrument) {
  const std::vector<NoteWord> all = note_words(text);
  if (all.empty()) return fault(TuningFault::Empty, 0, "");
  if (std::optional<Tuning> named = find_tuning(instrument, text)) return *named;
  const Instrument* known = find_instrument(instrument);
  const Tuning* usual = known != nullptr && known->usual ? &*known->usual : nullptr;
  base::Result<Tuning, TuningError> notes = parse_tuning_notes(text);
  if (notes) {
    if (usual != nullptr) keep_short_strings(notes.value(), *usual);
    return notes;
  }
  if (usual != nullptr) {
    if (std::optional<Tuning> lettered = tuning_from_letters(text, *usual)) return *lettered;
  }
  const bool any_note = std::any_of(all.begin(), all.end(), [](const NoteWord& w) { return parse_string(w).ok(); });
  const TuningFault kind = notes.error().fault;
  const bool too_far = kind == TuningFault::TooLow || kind == TuningFault::TooHigh || kind == TuningFault::UnevenCourse;
  if (any_note || too_far || all.size() > static_cast<std::size_t>(kMostStrings)) return notes;
  // One letter a word, yet not one per string: these are notes without octaves.
  if (all.size() > 1 && !parse_letters(text).empty()) return notes;
  TuningError error = fault(TuningFault::UnknownName, all.front().at, text);
  if (known != nullptr) error.nearest = base::nearest_word(text, names_for(known->name)).value_or("");
  return error;
}

std::string print(const Tuning& tuning, Accidentals how) {
  std::string out;
  for (const TunedString& string : tuning.strings) {
    if (!out.empty()) out += ' ';
    for (std::size_t i = 0; i < string.course.size(); ++i) out += (i > 0 ? "/" : "") + print(string.course[i], how);
    if (string.start_fret > 0) out += "@" + std::to_string(string.start_fret);
  }
  return out;
}

std::string letters(const Tuning& tuning, Accidentals how) {
  std::string out;
  for (const TunedString& string : tuning.strings) {
    if (!out.empty()) out += ' ';
    out += print(string.pitch().name, how);
  }
  return out;
}

bool Capo::holds(int string_number) const {
  if (none()) return false;
  return full() || std::find(strings.begin(), strings.end(), string_number) != strings.end();
}

int sounding_midi(const Tuning& tuning, const Capo& capo, int string_number, int fret) {
  const TunedString& string = tuning.string(string_number);
  const int start = string.start_fret;
  const int open = string.midi() - start;  // as if the string began at the nut
  const int behind = capo.holds(string_number) ? std::max(capo.fret, start) : start;
  if (fret == 0) return open + behind;
  if (capo.full()) return open + capo.fret + fret;
  return open + fret;
}

}  // namespace tunesheaf::theory

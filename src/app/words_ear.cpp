#include "words_ear.h"

#include <algorithm>
#include <array>
#include <cstdlib>

#include "tunesheaf/base/number.h"
#include "tunesheaf/base/utf8.h"

namespace tunesheaf::app {
namespace {

using theory::Finger;
using theory::MoveKind;
using theory::Reason;

constexpr std::array<const char*, 14> kOrdinals{"",      "unison",   "second",  "third",     "fourth",
                                                "fifth", "sixth",    "seventh", "octave",    "ninth",
                                                "tenth", "eleventh", "twelfth", "thirteenth"};

/// Thirds, sixths and sevenths are major or minor; the others are plain, lowered or raised.
bool two_sized(int number) {
  return number == 3 || number == 6 || number == 7;
}

}  // namespace

std::string counted_words(int count, const std::string& one) {
  return std::to_string(count) + " " + one + (count == 1 ? "" : "s");
}

std::string numbers_listed(const std::vector<int>& numbers) {
  std::vector<std::string> words;
  words.reserve(numbers.size());
  for (const int n : numbers) words.push_back(std::to_string(n));
  return list_words(words);
}

std::string strings_listed(const std::vector<int>& numbers) {
  return (numbers.size() == 1 ? "string " : "strings ") + numbers_listed(numbers);
}

std::string way_words(int semitones) {
  if (semitones == 0) return "stays";
  return counted_words(std::abs(semitones), "semitone") + (semitones > 0 ? " up" : " down");
}

std::string degree_words(theory::Degree degree) {
  if (degree.number == 1 && degree.alter == 0) return "root";
  const std::size_t n = static_cast<std::size_t>(std::clamp(degree.number, 1, 13));
  std::string name = degree.number == 1 ? "root" : kOrdinals[n];
  if (two_sized(degree.number)) {
    switch (degree.alter) {
      case 0:
        return "major " + name;
      case -1:
        return "minor " + name;
      case -2:
        return "diminished " + name;
      default:
        return "raised " + name;
    }
  }
  if (degree.alter == 0) return name;
  return (degree.alter < 0 ? "lowered " : "raised ") + name;
}

std::string interval_words(theory::Interval interval) {
  int number = interval.number();
  int octaves = 0;
  while (number > 13) {
    number -= 7;
    ++octaves;
  }
  const int deviation = interval.deviation();
  std::string size;
  switch (interval.quality()) {
    case theory::Quality::Diminished:
      size = deviation < -2 || (deviation < -1 && !two_sized((number - 1) % 7 + 1) && number != 2 && number != 9)
                 ? "doubly diminished "
                 : "diminished ";
      break;
    case theory::Quality::Minor:
      size = "minor ";
      break;
    case theory::Quality::Perfect:
      size = number == 1 || number == 8 ? "" : "perfect ";
      break;
    case theory::Quality::Major:
      size = "major ";
      break;
    case theory::Quality::Augmented:
      size = deviation > 1 ? "doubly augmented " : "augmented ";
      break;
  }
  std::string out = size + kOrdinals[static_cast<std::size_t>(number)];
  if (octaves == 1) out += " and an octave";
  if (octaves > 1) out += " and " + std::to_string(octaves) + " octaves";
  return out;
}

std::string reason_words(Reason reason) {
  switch (reason) {
    case Reason::RootInBass:
      return "root in the bass";
    case Reason::ChordToneInBass:
      return "another tone of the chord in the bass";
    case Reason::ForeignBass:
      return "a bass that is no tone of the chord above it";
    case Reason::Complete:
      return "every tone of the chord sounds";
    case Reason::FifthLeftOut:
      return "fifth left out";
    case Reason::RootLeftOut:
      return "root left out";
    case Reason::TensionLeftOut:
      return "a lower tension left out";
    case Reason::ThirdLeftOut:
      return "no third";
    case Reason::InKey:
      return "every tone is in the key";
    case Reason::RootInKey:
      return "its root is in the key";
    case Reason::NeighbourAgrees:
      return "agrees with the chords around it";
    case Reason::TonesAdded:
      return "a tone added";
    case Reason::TonesAltered:
      return "a tone altered";
  }
  return {};
}

std::string tones_listed(const std::vector<theory::ChordTone>& tones) {
  std::vector<std::string> words;
  words.reserve(tones.size());
  for (const theory::ChordTone& tone : tones) {
    words.push_back(theory::print(tone.pitch, kSigns) + " (" + degree_words({tone.number, tone.alter}) + ")");
  }
  return list_words(words);
}

std::string reasons_line(const theory::NameCandidate& candidate) {
  std::string out;
  const theory::ChordName& name = candidate.name;
  for (const Reason reason : candidate.reasons) {
    if (out.size() > 0) out += ", ";
    std::string words = reason_words(reason);
    if (reason == Reason::ChordToneInBass && name.bass) {
      for (const theory::ChordTone& tone : theory::tones(name)) {
        if (tone.pitch.number() == name.bass->number()) {
          words = degree_words({tone.number, tone.alter}) + " in the bass";
        }
      }
    }
    out += words;
  }
  return out.empty() ? "by its tones" : out;
}

std::string finger_words(Finger finger) {
  switch (finger) {
    case Finger::Index:
      return "index finger";
    case Finger::Middle:
      return "middle finger";
    case Finger::Ring:
      return "ring finger";
    case Finger::Little:
      return "little finger";
    case Finger::Thumb:
      return "thumb";
    case Finger::None:
      break;
  }
  return "finger";
}

std::string mute_words(const theory::Mute& mute) {
  std::string string = "string " + std::to_string(mute.string) + ": ";
  switch (mute.by) {
    case theory::MutedBy::NotStruck:
      return string + "do not strike it";
    case theory::MutedBy::FingerBefore:
      return string + "the tip of the " + finger_words(mute.finger) + ", on string " + std::to_string(mute.string + 1) +
             ", leans against it";
    case theory::MutedBy::FingerAfter:
      return string + "the " + finger_words(mute.finger) + ", on string " + std::to_string(mute.string - 1) +
             ", lies flat enough to touch it";
    case theory::MutedBy::ThumbTip:
      return string + "the tip of the thumb, over the edge of the neck, touches it";
  }
  return string;
}

std::string place_words(const theory::FingerPlace& place) {
  const std::string strings =
      place.barre() ? "strings " + std::to_string(place.from_string) + " to " + std::to_string(place.to_string)
                    : "string " + std::to_string(place.from_string);
  return strings + ", fret " + std::to_string(place.fret);
}

std::string familiar_words(const theory::Familiar& familiar) {
  std::string out = "the " + familiar.name + " shape";
  if (familiar.frets_up != 0) {
    out += ", carried " + counted_words(std::abs(familiar.frets_up), "fret") +
           (familiar.frets_up > 0 ? " up the neck" : " towards the nut");
  }
  if (familiar.strings_over != 0) {
    out += ", moved over by " + counted_words(std::abs(familiar.strings_over), "string") +
           (familiar.strings_over > 0 ? " towards string 1" : " away from string 1");
  }
  std::vector<std::string> changes;
  for (const theory::FamiliarChange& change : familiar.changes) {
    const std::string the = (change.finger == Finger::None ? "a " : "the ") + finger_words(change.finger);
    switch (change.kind) {
      case MoveKind::Lifts:
        changes.push_back(the + " lifted");
        break;
      case MoveKind::Added:
        changes.push_back(the + " added on " + place_words(*change.to));
        break;
      case MoveKind::Slides:
        changes.push_back(the + " at fret " + std::to_string(change.to->fret) + " instead of " +
                          std::to_string(change.from->fret));
        break;
      default:
        changes.push_back(the + " moved to " + place_words(*change.to));
        break;
    }
  }
  if (changes.empty()) return out;
  const bool carried = familiar.frets_up != 0 || familiar.strings_over != 0;
  return out + (carried ? ", with " : " with ") + list_words(changes);
}

std::string deed_words(const theory::FingerMove& finger) {
  switch (finger.kind) {
    case MoveKind::Stays:
      return "stays on " + place_words(*finger.from);
    case MoveKind::Lifts:
      return "lifts off " + place_words(*finger.from);
    case MoveKind::Moves:
      return "moves from " + place_words(*finger.from) + " to " + place_words(*finger.to);
    case MoveKind::Slides:
      return "slides along " +
             (finger.to->barre()
                  ? "strings " + std::to_string(finger.to->from_string) + " to " + std::to_string(finger.to->to_string)
                  : "string " + std::to_string(finger.to->from_string)) +
             " from fret " + std::to_string(finger.from->fret) + " to fret " + std::to_string(finger.to->fret);
    case MoveKind::Added:
      return "is added on " + place_words(*finger.to);
    case MoveKind::Flattens:
      return "flattens over " + place_words(*finger.to);
    case MoveKind::Unbarres:
      return "rises from its barre to " + place_words(*finger.to);
  }
  return {};
}

std::string nearest_words(const theory::NearestTuning& near) {
  std::string out = near.name == "usual" ? "the usual tuning" : near.name;
  if (near.semitones != 0 || !near.differences.empty()) out = "the intervals of " + out;
  if (near.semitones != 0) out += ", " + way_words(near.semitones);
  std::vector<std::string> but;
  for (const auto& d : near.differences) {
    but.push_back("string " + std::to_string(d.string) + (d.semitones > 0 ? " higher by " : " lower by ") +
                  counted_words(std::abs(d.semitones), "semitone"));
  }
  return but.empty() ? out : out + ", with " + list_words(but);
}

std::string points(int half_points) {
  return base::print_decimal(half_points / 2.0, 1);
}

std::string filled(std::string text, std::size_t columns) {
  const std::size_t width = base::display_columns(text);
  if (width < columns) text.append(columns - width, ' ');
  return text;
}

std::string Table::text() const {
  std::vector<std::size_t> widths(sides_.size(), 0);
  for (const auto& row : rows_) {
    for (std::size_t c = 0; c < row.size(); ++c) widths[c] = std::max(widths[c], base::display_columns(row[c]));
  }
  std::string out;
  for (const auto& row : rows_) {
    std::string line = " ";
    for (std::size_t c = 0; c < row.size(); ++c) {
      const std::size_t width = base::display_columns(row[c]);
      const std::string gap(widths[c] - width, ' ');
      line += (c == 0 ? " " : "  ") + (sides_[c] == Side::Right ? gap + row[c] : row[c] + gap);
    }
    line.erase(line.find_last_not_of(' ') + 1);
    out += line + "\n";
  }
  return out;
}

std::string folded(const std::string& text, std::size_t indent) {
  constexpr std::size_t kColumns = 78;
  std::string out, line;
  std::size_t begin = 0;
  while (begin < text.size()) {
    const std::size_t end = std::min(text.find(' ', begin + 1), text.size());
    const std::string word = text.substr(begin, end - begin);
    if (base::display_columns(line) + base::display_columns(word) > kColumns &&
        line.find_first_not_of(' ') != std::string::npos) {
      out += line + "\n";
      line = std::string(indent, ' ') + word.substr(word[0] == ' ' ? 1 : 0);
    } else {
      line += word;
    }
    begin = end;
  }
  return out + line;
}

}  // namespace tunesheaf::app

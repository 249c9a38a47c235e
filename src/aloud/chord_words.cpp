// Chord names as they are spoken: root, kind, changed degrees, bass.
#include "tunesheaf/aloud/words.h"
#include "tunesheaf/theory/chord.h"

namespace tunesheaf::aloud {
namespace {

using theory::ChordKind;

std::string kind_words(ChordKind kind) {
  switch (kind) {
    case ChordKind::Major:
      return "major";
    case ChordKind::Dominant:
      return "seventh";
    case ChordKind::MajorMinor:
      return "minor with a major seventh";
    case ChordKind::MajorSixth:
      return "sixth";
    case ChordKind::DominantNinth:
      return "ninth";
    case ChordKind::Dominant11th:
      return "eleventh";
    case ChordKind::Major11th:
      return "major eleventh";
    case ChordKind::Minor11th:
      return "minor eleventh";
    case ChordKind::Dominant13th:
      return "thirteenth";
    case ChordKind::Major13th:
      return "major thirteenth";
    case ChordKind::Minor13th:
      return "minor thirteenth";
    case ChordKind::Power:
      return "power chord";
    case ChordKind::Pedal:
      return "as a held bass note";
    case ChordKind::Other:
      return "alone";
    default:
      break;
  }
  std::string out(theory::kind_value(kind));
  for (char& c : out) c = c == '-' ? ' ' : c;
  return out;
}

std::string degree_words(const theory::ChordDegree& degree) {
  const std::string number = ordinal_word(degree.number);
  const std::string alter = degree.alter == -2   ? "double flat "
                            : degree.alter == -1 ? "flat "
                            : degree.alter == 1  ? "sharp "
                            : degree.alter == 2  ? "double sharp "
                                                 : "";
  switch (degree.change) {
    case theory::DegreeChange::Add:
      return "with an added " + alter + number;
    case theory::DegreeChange::Alter:
      return "with the " + alter + number;
    case theory::DegreeChange::Omit:
      break;
  }
  return "without the " + number;
}

}  // namespace

std::string chord_words(const theory::ChordName& chord) {
  if (chord.is_none()) return "no chord";
  std::string out = pitch_class_words(chord.root) + " " + kind_words(chord.kind);
  for (std::size_t i = 0; i < chord.degrees.size(); ++i)
    out += (i == 0 ? " " : " and ") + degree_words(chord.degrees[i]);
  if (chord.bass) out += " over " + pitch_class_words(*chord.bass);
  return out;
}

std::string chord_words(const std::string& typed) {
  const auto chord = theory::parse_chord(typed);
  return chord ? chord_words(*chord) : plain(typed);
}

}  // namespace tunesheaf::aloud

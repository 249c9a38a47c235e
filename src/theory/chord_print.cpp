#include <algorithm>
#include <cstdlib>

#include "chord_tones.h"
#include "tunesheaf/theory/chord.h"

namespace tunesheaf::theory {
namespace {

std::string_view base_suffix(ChordKind kind) {
  switch (kind) {
    case ChordKind::Major:
      return "";
    case ChordKind::Minor:
      return "m";
    case ChordKind::Augmented:
      return "+";
    case ChordKind::Diminished:
      return "dim";
    case ChordKind::Dominant:
      return "7";
    case ChordKind::MajorSeventh:
      return "maj7";
    case ChordKind::MinorSeventh:
      return "m7";
    case ChordKind::DiminishedSeventh:
      return "dim7";
    case ChordKind::AugmentedSeventh:
      return "+7";
    case ChordKind::HalfDiminished:
      return "m7b5";
    case ChordKind::MajorMinor:
      return "m";
    case ChordKind::MajorSixth:
      return "6";
    case ChordKind::MinorSixth:
      return "m6";
    case ChordKind::DominantNinth:
      return "9";
    case ChordKind::MajorNinth:
      return "maj9";
    case ChordKind::MinorNinth:
      return "m9";
    case ChordKind::Dominant11th:
      return "11";
    case ChordKind::Major11th:
      return "maj11";
    case ChordKind::Minor11th:
      return "m11";
    case ChordKind::Dominant13th:
      return "13";
    case ChordKind::Major13th:
      return "maj13";
    case ChordKind::Minor13th:
      return "m13";
    case ChordKind::SuspendedSecond:
      return "sus2";
    case ChordKind::SuspendedFourth:
      return "sus4";
    case ChordKind::Neapolitan:
      return "N6";
    case ChordKind::Italian:
      return "It6";
    case ChordKind::French:
      return "Fr6";
    case ChordKind::German:
      return "Ger6";
    case ChordKind::Pedal:
      return "ped";
    case ChordKind::Power:
      return "5";
    case ChordKind::Tristan:
      return "Tris";
    case ChordKind::Other:
    case ChordKind::None:
      return "";
  }
  return "";
}

std::string signed_number(const ChordDegree& d) {
  std::string out(static_cast<std::size_t>(std::abs(d.alter)), d.alter < 0 ? 'b' : '#');
  return out + std::to_string(d.number);
}

bool take(std::vector<ChordDegree>& list, int number, int alter) {
  const auto it = std::find(list.begin(), list.end(), ChordDegree{DegreeChange::Add, number, alter});
  if (it == list.end()) return false;
  list.erase(it);
  return true;
}

/// "7", "9", "13", "maj7", "6/9" ... before "sus4", taken out of the list of changes.
std::string suspended_front(std::vector<ChordDegree>& rest) {
  if (take(rest, 6, 0)) return take(rest, 9, 0) ? "6/9" : "6";
  const bool flat = take(rest, 7, -1);
  const bool major = !flat && take(rest, 7, 0);
  if (!flat && !major) return "";
  std::string out = major ? "maj" : "";
  if (!take(rest, 9, 0)) return out + "7";
  return out + (take(rest, 13, 0) ? "13" : "9");
}

/// "7", "9", "11", "13" of a minor chord with major seventh.
std::string major_minor_front(std::vector<ChordDegree>& rest) {
  if (!take(rest, 9, 0)) return "maj7";
  if (!take(rest, 11, 0)) return "maj9";
  return take(rest, 13, 0) ? "maj13" : "maj11";
}

/// One change as it stands inside brackets.
/// `implied` are the degrees that kind and front already tell.
std::string item(const ChordDegree& d, const std::vector<DegreeTone>& implied) {
  const bool seventh = contains_number(implied, 7);
  switch (d.change) {
    case DegreeChange::Omit:
      return "no" + std::to_string(d.number);
    case DegreeChange::Alter:
      return signed_number(d);
    case DegreeChange::Add:
      break;
  }
  if (d.number == 7 && d.alter == 0) return seventh ? "addmaj7" : "maj7";
  const bool in_formula = contains_number(implied, d.number);
  // A bare sign would replace the degree already told; over a triad it would read as a slip for a seventh chord.
  if (d.alter != 0 && seventh && !in_formula && d.number >= 9) return signed_number(d);
  return "add" + signed_number(d);
}

std::string join(const std::vector<std::string>& items) {
  std::string out;
  for (const std::string& s : items) out += (out.empty() ? "" : ",") + s;
  return out;
}

bool ends_in_extension(std::string_view suffix) {
  return suffix.ends_with("7") || suffix.ends_with("9") || suffix.ends_with("11") || suffix.ends_with("13");
}

std::string suffix_of(const ChordName& chord) {
  std::vector<ChordDegree> rest = chord.degrees;
  std::vector<std::string> items;
  std::string out(base_suffix(chord.kind));
  switch (chord.kind) {
    case ChordKind::SuspendedSecond:
    case ChordKind::SuspendedFourth:
      out = suspended_front(rest) + out;
      break;
    case ChordKind::MajorMinor:
      items.push_back(major_minor_front(rest));
      break;
    case ChordKind::MajorSixth:
    case ChordKind::MinorSixth:
      if (take(rest, 9, 0)) out += "/9";
      break;
    case ChordKind::Other:
      items.push_back("1");
      break;
    default:
      break;
  }
  std::vector<DegreeTone> implied = formula(chord.kind);
  for (const ChordDegree& d : chord.degrees) {
    if (std::find(rest.begin(), rest.end(), d) == rest.end()) implied.push_back({d.number, d.alter});
  }
  for (const ChordDegree& d : rest) {
    items.push_back(chord.kind == ChordKind::Other ? signed_number(d) : item(d, implied));
  }
  if (items.empty()) return out;
  // An alteration that an altered one of the same number follows needs the brackets to keep the two together.
  const bool sixth = chord.kind == ChordKind::MajorSixth || chord.kind == ChordKind::MinorSixth;
  const bool sole = items.size() == 1 && rest.size() == 1;
  if (sole && rest[0].change == DegreeChange::Add && chord.kind == ChordKind::Major && items[0].starts_with("add")) {
    return out + items[0];
  }
  const bool bare_sign = items[0].starts_with("b") || items[0].starts_with("#");
  if (sole && bare_sign && !sixth && ends_in_extension(out)) return out + items[0];
  return out + "(" + join(items) + ")";
}

std::string with_signs(std::string_view ascii) {
  std::string out;
  for (const char c : ascii) {
    // "b" is a flat wherever it stands in a suffix: no word of the house spelling has one.
    if (c == 'b')
      out += "♭";
    else if (c == '#')
      out += "♯";
    else
      out += c;
  }
  return out;
}

}  // namespace

std::string print(const ChordName& stated, Accidentals how) {
  if (stated.is_none()) return "N.C.";
  const ChordName chord = canonical(stated);
  const std::string suffix = suffix_of(chord);
  std::string out = print(chord.root, how) + (how == Accidentals::Signs ? with_signs(suffix) : suffix);
  if (chord.bass) out += "/" + print(*chord.bass, how);
  return out;
}

}  // namespace tunesheaf::theory

// Chord names. In: what players write ("Am7", "C△", "F#ø", "G7(b9)/B", "N.C."). Out: root, kind, changed degrees and
// bass, the tones with their spelling, and one house spelling to print. Invariant: parse(print(c)) == c; letters of the
// tones go by interval (the third of Ab minor is Cb). The kinds are those of MusicXML 4.0 (kind-value). Read next:
// naming.h (from sounds to names), finding.h (from names to shapes).
#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "tunesheaf/base/result.h"
#include "tunesheaf/theory/key.h"
#include "tunesheaf/theory/pitch.h"

namespace tunesheaf::theory {

/// Every kind-value of MusicXML 4.0, in the order of the standard.
enum class ChordKind : std::uint8_t {
  Major,
  Minor,
  Augmented,
  Diminished,
  Dominant,
  MajorSeventh,
  MinorSeventh,
  DiminishedSeventh,
  AugmentedSeventh,
  HalfDiminished,
  MajorMinor,
  MajorSixth,
  MinorSixth,
  DominantNinth,
  MajorNinth,
  MinorNinth,
  Dominant11th,
  Major11th,
  Minor11th,
  Dominant13th,
  Major13th,
  Minor13th,
  SuspendedSecond,
  SuspendedFourth,
  Neapolitan,
  Italian,
  French,
  German,
  Pedal,
  Power,
  Tristan,
  Other,
  None,
};

enum class DegreeChange : std::uint8_t { Add, Alter, Omit };

/// One changed degree, as MusicXML's degree element: 9 lowered is {9, -1}.
struct ChordDegree {
  DegreeChange change = DegreeChange::Add;
  int number = 9;  // 1..13
  int alter = 0;   // semitones against the major (1 2 3 4 5 6 b7=-1 9 11 13) degree; -2..2
  friend constexpr bool operator==(ChordDegree, ChordDegree) = default;
};

struct ChordName {
  PitchClass root;
  ChordKind kind = ChordKind::Major;
  std::vector<ChordDegree> degrees;
  std::optional<PitchClass> bass;  // only when it is not the root
  bool is_none() const { return kind == ChordKind::None; }
  friend bool operator==(const ChordName&, const ChordName&) = default;
};

enum class ChordFault : std::uint8_t {
  Empty,
  NoRoot,         // does not start with a capital A..G
  UnknownSuffix,  // what is at `at` means nothing here
  UnclosedBracket,
  BadDegree,      // a degree that is no chord degree (1..13)
  BadBass,        // after the slash there is no note
  Contradiction,  // e.g. "maj" and "m7" on the third twice, a degree added and left out
};
struct ChordError {
  ChordFault fault = ChordFault::Empty;
  std::size_t at = 0;      // byte offset
  std::string understood;  // the longest beginning that is a chord, in house spelling; may be empty
  friend bool operator==(const ChordError&, const ChordError&) = default;
};

base::Result<ChordName, ChordError> parse_chord(std::string_view text);
/// House spelling: C, Cm, C+, Cdim, C7, Cmaj7, Cm7, Cdim7, C+7, Cm7b5, Cm(maj7), C6, C6/9, Csus4, C5, C7(b9,#11), C/E.
std::string print(const ChordName& chord, Accidentals how = Accidentals::Ascii);
/// The value of MusicXML's kind element: "major-seventh".
std::string_view kind_value(ChordKind kind);
std::optional<ChordKind> kind_from_value(std::string_view value);

/// What a tone is to its chord.
struct ChordTone {
  int number = 1;  // degree 1..13
  int alter = 0;   // against the major scale of the root
  Interval over_root;
  PitchClass pitch;
  friend bool operator==(const ChordTone&, const ChordTone&) = default;
};
/// All tones of the formula, from the root up, bass not added; empty for N.C. Kinds without definite tones (pedal: the
/// root alone; other: the root and its added degrees).
std::vector<ChordTone> tones(const ChordName& chord);
/// The same as a set of pitch-class bits (bit 0 is C), the bass included.
std::uint16_t tone_bits(const ChordName& chord);

/// How far a tone may be left out in playing: third, sixth, seventh, altered fifth and named tension are needed; root,
/// natural fifth, the 9 in 11ths and 13ths and the 11 in 13ths may be left out. Where more than four tones would be
/// needed (13b5b9) the third may go too, as on four strings it must. Practice, not formula.
bool may_be_left_out(const ChordName& chord, const ChordTone& tone);

std::optional<ChordName> transposed(const ChordName& chord, Interval by);
/// By semitones with the spelling that `into` wants (or plain when none).
ChordName transposed(const ChordName& chord, int semitones, const std::optional<Key>& into);

/// "ii7", "V/3", "bVII", with the bass as a degree: "I/3". Kind signs: + ° ø.
std::string roman_numeral(const ChordName& chord, const Key& key, Accidentals how = Accidentals::Signs);

}  // namespace tunesheaf::theory

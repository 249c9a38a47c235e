// Keys. In: "G major", "A minor", "F# mixolydian", "Gm". Out: key signature, scale, degrees, spelling of any MIDI key,
// transposed keys. Invariant: a key's tonic has at most one accidental after parsing from a name; the signature is
// -7..7 for every key a player writes, and its enharmonic twin is offered beyond that. Read next: chord.h, naming.h.
#pragma once
#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "tunesheaf/base/result.h"
#include "tunesheaf/theory/pitch.h"

namespace tunesheaf::theory {

enum class Mode : std::uint8_t { Major, Minor, Dorian, Phrygian, Lydian, Mixolydian, Locrian };

struct Key {
  PitchClass tonic;
  Mode mode = Mode::Major;
  /// Sharps positive, flats negative.
  int fifths() const;
  /// Seven notes from the tonic up, spelled.
  std::array<PitchClass, 7> scale() const;
  friend constexpr bool operator==(Key, Key) = default;
};

struct KeyError {
  NameFault fault = NameFault::Empty;
  std::size_t at = 0;
  friend constexpr bool operator==(KeyError, KeyError) = default;
};

/// "G major", "G", "g minor", "Gm", "F# mixolydian", "B♭ major", "ionian" and "aeolian" too.
base::Result<Key, KeyError> parse_key(std::string_view text);
std::string print(Key key, Accidentals how = Accidentals::Ascii);
std::string mode_name(Mode mode);
const std::vector<std::string>& mode_names();

/// The spelling a key wants for a MIDI key: scale notes as in the scale; the others as the raised or lowered degrees in
/// common use (sharp fourth, flat seventh, in minor the raised sixth and seventh), else by the side of the signature.
Pitch spell(int midi, const Key& key);
PitchClass spell_class(int number, const Key& key);
/// With no key the plain spelling.
Pitch spell(int midi, const std::optional<Key>& key);

/// Moves the key by semitones and picks the enharmonic twin with fewer accidentals (flats when equal: Gb, Eb minor).
Key transposed(const Key& key, int semitones);
/// The same key with another name, when there is one with at most seven accidentals.
std::optional<Key> enharmonic(const Key& key);
/// The major key with the same signature, and back.
Key relative_major(const Key& key);
Key relative_minor(const Key& key);

/// Place of a note over the tonic: number 1..7 by letter, and semitones above (+) or below (-) the major scale's note.
struct Degree {
  int number = 1;
  int alter = 0;
  friend constexpr bool operator==(Degree, Degree) = default;
};
Degree degree(PitchClass pc, const Key& key);
/// "1", "b3", "#4".
std::string print(Degree degree, Accidentals how = Accidentals::Ascii);

}  // namespace tunesheaf::theory

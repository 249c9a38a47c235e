// Instruments by trade name. In: "mandolin", "double bass", "drum kit". Out: family, usual tuning, clef, transposition,
// range, neck. Invariant: the table is complete for its kinds: fretted and bowed instruments have a usual tuning, all
// pitched ones a clef and a range. Read next: tuning.h, and song/ for how parts name them.
#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "tunesheaf/theory/pitch.h"
#include "tunesheaf/theory/tuning.h"

namespace tunesheaf::theory {

enum class Family : std::uint8_t { Fretted, Bowed, Keyed, Voice, Wind, Drums };
/// Treble8 is the treble clef with an 8 below (sounds an octave lower); Bass8 likewise. Grand is treble and bass.
enum class Clef : std::uint8_t { Treble, Treble8, Alto, Tenor, Bass, Bass8, Grand, Percussion };

struct Instrument {
  std::string name;               // "12-string guitar"
  std::vector<std::string> also;  // other words for it
  Family family = Family::Fretted;
  Clef clef = Clef::Treble;       // as written; guitar: Treble8
  Interval sounds;                // from written to sounding when the clef itself does not say it (trumpet: -M2)
  int lowest = 0, highest = 127;  // sounding MIDI keys
  int scale_length_mm = 0;        // nut to bridge; 0 where there is none
  int frets = 0;                  // 0: no frets (bowed, fretless)
  int program = 0;                // General MIDI program, 0-based
  std::optional<Tuning> usual;
  bool has_strings() const { return usual.has_value(); }
};

const std::vector<Instrument>& instruments();
/// By name or other word, case ignored.
const Instrument* find_instrument(std::string_view name);
std::vector<std::string> instrument_names();
std::string_view family_name(Family family);

/// Octaves that the clef itself adds to what is written: -1 for the clefs with an 8 below.
int clef_octaves(Clef clef);
/// What the part has on paper for a sounding pitch, and back, before the clef's own octave. Nothing beyond three
/// accidentals.
std::optional<Pitch> written_pitch(const Instrument& instrument, Pitch sounding);
std::optional<Pitch> sounding_pitch(const Instrument& instrument, Pitch written);

}  // namespace tunesheaf::theory

// What the files of score share while one Timeline is built. In: CheckedData. Out: the Timeline, filled in the order
// of the functions below. Read next: build.cpp.
#pragma once
#include <map>
#include <string>
#include <vector>

#include "tunesheaf/check/checked.h"
#include "tunesheaf/score/page_pitch.h"
#include "tunesheaf/score/timeline.h"

namespace tunesheaf::score {

using check::CheckedData;
using check::CheckedMusic;
using check::CheckedPart;
using check::CheckedSection;
using check::PlacedCell;
using check::PlacedLane;

struct Builder {
  const CheckedData& song;
  Timeline& out;
  std::vector<int> printed{};  ///< checked section to its index in Timeline::sections, or -1
  std::vector<int> source{};   ///< and back
  int next_remark = 1;
  std::map<const song::Remark*, int> remark_numbers{};  ///< those printed already
};

/// Something that begins, goes on or falls silent at one onset of one lane.
struct Atom {
  enum class Kind : std::uint8_t { Notes, Slash, Silence, GoesOn } kind = Kind::Notes;
  Fraction at{};  ///< whole notes from the section's beginning
  int bar = 0;
  Fraction onset{}, length{};  ///< in the bar; the cell's own share
  int voice = 1, staff = 0;
  int string = 0;
  bool rings = false;
  int until_bar = 0;                       ///< patterns: where this round of the pattern ends; else 0
  Event event;                             ///< its notes and attributes; Kind::Silence: only the origin
  const song::StringSign* sign = nullptr;  ///< string lanes
};

/// The bars that follow each other in the book without a jump: the body, or one ending.
struct Stretch {
  int first = 0, count = 0;
  Fraction begin{}, end{};
};
std::vector<Stretch> stretches(const CheckedSection& section, const std::vector<Fraction>& starts);
std::vector<Fraction> bar_starts(const CheckedSection& section);

// parts.cpp
void build_parts(Builder& builder);
void build_shapes(Builder& builder);
void build_recordings(Builder& builder);
// kit.cpp
/// Index into the part's kit, which grows by the drum when it is new.
int drum_of(Part& part, const std::string& name);
/// Heads and places on the staff, once all drums of the part are known.
void place_kit(Part& part);
/// The General MIDI key of one stroke: an open hi-hat is another key than a closed one.
int drum_key(const Drum& drum, const song::DrumSign& sign);
// staff_keys.cpp
/// The key of a part's staff where the page stands in `page`.
StaffKey staff_key_of(const CheckedData& song, const CheckedPart& part, const std::optional<theory::Key>& page);
/// One per bar; empty when the part stands in the page's own key.
std::vector<StaffKey> staff_keys(const CheckedData& song, const CheckedPart& part, const CheckedSection& section);
/// A page pitch as the staff has it: the same letters moved, or a plainer spelling where they would need two
/// accidentals.
theory::Pitch on_staff(theory::Pitch page, const StaffKey& staff);
// atoms.cpp
std::vector<Atom> atoms_of(Builder& builder, const CheckedSection& section, int part, const PartMusic& music);
// voices.cpp
void build_voices(Builder& builder, const CheckedSection& section, int part, PartMusic& music);
// links.cpp
/// Where an atom's notes went: an event, and the first of its notes there.
struct AtomPlace {
  int event = -1, first_note = 0, count = 0;
};
/// Arrivals, slides, bends and sounding lengths of one part's events in one section.
void link_events(Builder& builder, const CheckedSection& section, int part, const std::vector<Atom>& atoms,
                 const std::vector<AtomPlace>& places, const PartMusic& music);
// off_beat.cpp
/// Which events of the part's last section are pushes, and which are stops.
void mark_off_beat(Builder& builder, const CheckedSection& section, const PartMusic& music);
/// The hits of the chart, or of the first part that has any: one list per bar; empty without hits.
std::vector<std::vector<Hit>> build_hits(const CheckedSection& section);
// tunings.cpp
/// Tunings of a part in a section, and what the player is told where strings are turned.
void build_retunes(const CheckedMusic& from, PartMusic& out);
/// "string 6 in D, string 1 in D": the strings that are not as the part's own tuning has them.
std::string tuned_words(const theory::Tuning& tuning, const theory::Tuning& own);
// clefs.cpp
void build_clefs(const CheckedMusic& from, PartMusic& out);
/// Octaves that a staff in this clef is written above what sounds.
int octaves_above(const std::string& clef);
// sounds_of_marks.cpp
/// Needs the part's events, marks and words, and the section's words.
void sound_marks(Builder& builder, const CheckedSection& section, PartMusic& music);
// cues.cpp
void build_cues(const Builder& builder, const CheckedSection& section, const CheckedMusic& from, PartMusic& out);
// marks.cpp
void build_marks(const CheckedMusic& music, const CheckedSection& section, std::vector<Mark>& out);
void build_words(const CheckedMusic& music, std::vector<Word>& out);
void attach(Builder& builder, const CheckedMusic& music, PartMusic& out);
void set_loudness(Builder& builder, const CheckedSection& section, PartMusic& out);
// sections.cpp
void build_sections(Builder& builder);
// harmony.cpp
void build_harmony(Builder& builder, const CheckedSection& from, Section& section);
// played.cpp
void build_played(Builder& builder);
void build_moves(Builder& builder);
/// Whole notes a minute.
double wholes_per_minute(const song::TempoMark& tempo, const theory::Meter& meter);

}  // namespace tunesheaf::score

// Lanes: the one way to write what happens in time. In: lines of text, the names of shapes and patterns. Out: bars,
// beats and typed cells, each with its place. Invariant: a bar without colons has one LaneBeat that shares the whole
// bar; otherwise one LaneBeat per written beat. Nothing is counted against a meter here. Read next: song/language.h.
#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "tunesheaf/base/fraction.h"
#include "tunesheaf/source/source.h"
#include "tunesheaf/theory/pitch.h"

namespace tunesheaf::song {

enum class LaneKind : std::uint8_t {
  String,
  Thumb,  // fretted strings by number; Thumb is the lower voice
  StringOf,
  FretOf,  // `string` and `fret`: a single line in two lanes
  Shape,
  Pattern,
  Strum,
  Pluck,
  Pick,
  Finger,
  Arm,
  Mark,  // spans: palm mute, let ring, slur, 8va, crescendo, wah …: subject says which
  Notes,
  Right,
  Left,  // pitches
  Kit,   // a drum: subject says which
  Chords,
  Hits,
  Lyric,
  Say,
  Count,
  Dynamics,
  Tempo,
  Meter,
  Key,
  Hold,
  See,
  From,
  Bow,
  Pedal,
  Retune,  // strings, or all of them, tuned otherwise from here on
  Clef,    // subject: "clef", or of keys "right clef" and "left clef"
  Cue      // the name of a part whose notes are shown small
};

/// How a note is reached from the one before on its string. Reading yields what is written: Struck, HammerOn, PullOff,
/// LegatoSlide, ShiftSlide (the note after "7/") and Tap. Whether something sounds before is known only in time:
/// there a HammerOn from nowhere becomes TapFrettingHand, a LegatoSlide from nowhere one of the SlideIns.
enum class Arrival : std::uint8_t {
  Struck,
  HammerOn,
  PullOff,
  LegatoSlide,  ///< /5 or \3: slid to, not struck
  ShiftSlide,   ///< 7/ 9: slid, struck on arrival
  SlideInFromBelow,
  SlideInFromAbove,  ///< from nowhere
  Tap,
  TapFrettingHand
};

enum class Vibrato : std::uint8_t { None, Narrow, Wide };
enum class HarmonicKind : std::uint8_t { None, Natural, Artificial, Pinched, Tapped, Touched };
enum class SlideOff : std::uint8_t { None, Up, Down };

/// One stage of a bend, as the fret it sounds like ("12b12.5" is 25/2).
struct BendStage {
  enum class Action : std::uint8_t { Bend, Prebend, Release, Hold } action{};
  base::Fraction fret;
};

struct GraceNote {
  int fret = 0;
  Arrival to_main = Arrival::Struck;  ///< how the main note is reached from it
};

/// Articulations and strengths; any of them together.
struct Accents {
  bool accent : 1 = false, marcato : 1 = false, staccato : 1 = false, tenuto : 1 = false, fermata : 1 = false;
  bool any() const { return accent || marcato || staccato || tenuto || fermata; }
  friend bool operator==(const Accents&, const Accents&) = default;
};

/// A sign on a string lane. `continues`: the cell goes on with the sounding note (b17, r15, ~) and `fret` is unset.
struct StringSign {
  std::optional<int> fret;  ///< unset for dead notes and continuations
  bool dead = false, ghost = false, continues = false;
  Arrival arrival = Arrival::Struck;
  bool slides_down = false;     ///< LegatoSlide written with a backslash: the hand comes from above
  bool slides_to_next = false;  ///< the "7/" of "7/ 9"; before silence on its lane it is SlideOff::Up instead
  SlideOff slide_off = SlideOff::None;
  std::vector<BendStage> bends;
  Vibrato vibrato = Vibrato::None;
  std::optional<int> trill;  ///< the other fret
  bool tremolo = false;      ///< tremolo picking
  bool tied = false;         ///< held over from before without a new attack, stated
  std::vector<GraceNote> grace;
  HarmonicKind harmonic = HarmonicKind::None;
  std::optional<int> touch;  ///< artificial harmonics: the fret that is touched
  Accents accents;
};

/// A cell of a `string` lane: the number of the string on which the `fret` lane's note is played.
struct StringNumberCell {
  int string = 0;
};

struct NameCell {
  std::string name;
};

enum class StrokeDirection : std::uint8_t { None, Down, Up };
struct StrumSign {
  StrokeDirection direction = StrokeDirection::Down;
  bool muted = false, rolled = false, brushed = false, ghost = false;
  std::optional<int> from_string, to_string;  ///< only these strings
  Accents accents;
};
/// Fingers of the picking hand (p i m a c, T thumb slap, P pop), several at once. It stands on a `pluck` lane, and on
/// string lanes for "this string, at the fret of the shape"; there `o` is a pluck by no stated finger (fingers empty).
struct PluckSign {
  std::string fingers;
  Accents accents;
};
struct PickSign {
  StrokeDirection direction = StrokeDirection::Down;
};
struct FingerSign {
  std::vector<int> fingers;
};  ///< 1-4, 5 for T

struct ArmSign {
  enum class Action : std::uint8_t { Dip, Dive, Up, Scoop, Back, Vibrato } action{};
  base::Fraction semitones{};  ///< 0 when not stated
};
struct SpanSign {
  bool on = true;
  std::string word;
};

struct PitchSign {
  std::vector<theory::Pitch> pitches;
  bool dead = false, tied = false, ghost = false, tremolo = false, harmonic = false;
  std::vector<theory::Pitch> grace;
  std::optional<theory::Pitch> trill;
  Accents accents;
};

/// A stroke on a drum, and on a `hits` lane.
struct DrumSign {
  bool open = false, half_open = false, ghost = false, choke = false;
  int grace = 0;      ///< 1 flam, 2 drag, 3 ruff
  int roll = 0;       ///< tremolo strokes through the stem, 0 none
  bool buzz = false;  ///< pressed into the head
  char hand = 0;      ///< 'R', 'L' or 0
  Accents accents;
};

/// A stated chord name; `none` is N.C.
struct ChordCell {
  std::string text;
  bool none = false;
};
/// Lyric, say, count, dynamics, tempo, meter, key, hold, see, from, bow, pedal, retune, clef, cue. On say, tempo,
/// meter, key, retune, cue and lyric lanes one cell holds all words of its bar (or beat, with colons); a lyric's beat
/// holds one cell a word.
struct WordCell {
  std::string text;
};

struct HoldCell {};
struct SilenceCell {};

using CellContent =
    std::variant<HoldCell, SilenceCell, StringSign, NameCell, StrumSign, PluckSign, PickSign, FingerSign, ArmSign,
                 SpanSign, PitchSign, DrumSign, ChordCell, WordCell, StringNumberCell>;

struct Cell {
  source::Span span;  ///< empty, at its place, for an empty cell
  CellContent content;
};

struct LaneBeat {
  source::Span span;
  std::vector<Cell> cells;  ///< at least one
};

struct LaneBar {
  source::Span span;
  bool colons = false;
  bool repeat_before = false;  ///< "%": the bar before
  std::vector<LaneBeat> beats;
  bool repeat_two = false;  ///< "%%": the bar two before
};

struct Lane {
  LaneKind kind{};
  source::Spanned<std::string> name;  ///< as written
  int string = 0;                     ///< String and Thumb: the string's number; 0 for a pattern's plain `thumb`
  std::string subject;                ///< Kit: the drum's table name; Mark: the mark's table name
  std::vector<LaneBar> bars;
  source::Span span;
};

/// Lanes that run together; the bars of the next stanza go on from there.
struct Stanza {
  std::vector<Lane> lanes;
  source::Span span;
};

}  // namespace tunesheaf::song

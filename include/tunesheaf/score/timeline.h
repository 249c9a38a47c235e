// The song in time: what is printed bar by bar, and what is played in order. In: a CheckedSong. Out: one Timeline, from
// which every sheet and every sound is made. Invariants: within a bar the segments of a voice fill it exactly; an event
// id is its index in Timeline::events; onsets and durations are exact (whole note = 1); pitches are spelled. Shapes and
// harmony are in page pitch (concert, with the first fretted part's full capo off); the notes of a part are in its own
// staff's pitch and key (StaffKey: a transposing instrument, a capo, a part beside a capo); MIDI numbers are concert.
// Every value knows the span it came from. Read next: score/build.h, engrave/system.h.
#pragma once
#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "tunesheaf/base/fraction.h"
#include "tunesheaf/base/narrow.h"
#include "tunesheaf/score/few.h"
#include "tunesheaf/song/song.h"
#include "tunesheaf/source/source.h"
#include "tunesheaf/theory/chord.h"
#include "tunesheaf/theory/instrument.h"
#include "tunesheaf/theory/key.h"
#include "tunesheaf/theory/kit.h"
#include "tunesheaf/theory/meter.h"
#include "tunesheaf/theory/move.h"
#include "tunesheaf/theory/pitch.h"
#include "tunesheaf/theory/retune.h"
#include "tunesheaf/theory/shape.h"
#include "tunesheaf/theory/tuning.h"

namespace tunesheaf::score {

using base::Fraction;
using song::Authority;
using source::Span;
using Text = song::Text;

/// A place in a section: bar index (0-based, endings included) and onset within that bar.
struct Place {
  int bar = 0;
  base::StoredFraction onset{};
  friend auto operator<=>(const Place&, const Place&) = default;
};

// ---------------------------------------------------------------- notes and events

struct BendPoint {
  Fraction at;         ///< share of the note's written duration, 0 to 1
  Fraction semitones;  ///< above the fretted pitch
};

struct Link {
  song::Arrival kind = song::Arrival::Struck;
  int from_event = -1, from_note = -1;  ///< -1: from nowhere
};

/// What few notes have.
struct NoteExtras {
  Link link;
  Few<BendPoint> bend;  ///< empty: none
  std::optional<theory::Pitch> trill_pitch;
  std::optional<theory::Pitch> sounding;  ///< of a harmonic, in the pitch of the staff as `written` is
  RareNumber trill_fret, touch;
};

/// 48 bytes: a song holds hundreds of thousands.
struct Note {
  Seldom<NoteExtras> more;
  Span origin;
  base::StoredFraction sounding_duration{};  ///< until stopped, struck again, or the written end
  base::Small midi;                          ///< concert MIDI number (capo and the part's transposition included)
  theory::Pitch written;         ///< as on the part's own staff, before Part::octave_shift; spelled in that staff's key
  base::Tiny string;             ///< 0 when the part has no strings
  base::Tiny fret;               ///< as printed on the tab
  base::Tiny finger;             ///< fretting finger 1-4, 5 thumb, 0 not stated
  base::Tiny drum = -1;          ///< index into Part::kit, else -1
  char pluck = 0;                ///< p i m a c T P or 0
  char hand = 0;                 ///< drums: sticking R or L, or 0
  std::int8_t drum_grace = 0;    ///< drums: 1 flam, 2 drag, 3 ruff before this stroke
  std::int8_t roll_strokes = 0;  ///< drums: tremolo strokes through the stem
  song::SlideOff slide_off = song::SlideOff::None;
  song::Vibrato vibrato = song::Vibrato::None;
  song::HarmonicKind harmonic = song::HarmonicKind::None;
  bool dead : 1 = false, ghost : 1 = false;
  bool tied_from : 1 = false;  ///< held from the event before: no attack, no figure on tab
  bool prebend : 1 = false;
  bool open : 1 = false, half_open : 1 = false, choke : 1 = false;  ///< drums: as the stroke is left to ring
  bool buzz : 1 = false;  ///< drums: pressed into the head, a roll of strokes nobody counts
};
using NoteList = Few<Note>;

struct GraceGroup {
  NoteList notes;
  song::Arrival to_main = song::Arrival::Struck;
};

enum class EventKind : std::uint8_t { Notes, Rest, Slash /* rhythm only, or a strum over a shape */ };

/// 64 bytes.
struct Event {
  NoteList notes;  ///< Slash events carry the strummed notes for sound; they print as one slash
  Seldom<GraceGroup> grace;
  int id = -1;
  Place at;
  base::StoredFraction duration{};  ///< written; may run over bar lines
  Span origin;
  int glides_to = -1;        ///< a glissando from here leads to that event
  base::Small shape = -1;    ///< index into Timeline::shapes in force, or -1
  base::Tiny loudness = 80;  ///< MIDI velocity 1-127
  EventKind kind = EventKind::Notes;
  song::Accents accents;
  song::StrokeDirection stroke = song::StrokeDirection::None;
  bool strum : 1 = false, rolled : 1 = false, brushed : 1 = false, muted : 1 = false, tremolo : 1 = false;
  bool picked_over : 1 = false;  ///< a span of tremolo picking lies over it: heard as `tremolo` is, printed as the span
  bool soft : 1 = false;         ///< a strum hardly there
  bool snap : 1 = false;         ///< the string is pulled so that it slaps the neck
  bool breath : 1 =
      false;              ///< a breath or a break is taken from its end: its notes sound shorter than they are written
  bool push : 1 = false;  ///< struck off the beat and held over the next one; not on drums
  bool stop : 1 = false;  ///< silence follows within the beat of the attack; not on drums
};

/// The part of an event that lies in one bar.
struct Segment {
  int event = -1;                        ///< index into Timeline::events; -1 for a rest nobody wrote
  base::StoredFraction onset, duration;  ///< within the bar
  bool rest = false, tied_from = false, tied_to = false;
};

struct Voice {
  int number = 1;      ///< 1 upper (fingers, right hand, hands), 2 lower (thumb, left hand, feet)
  int staff = 0;       ///< 0, or 1 for the lower staff of keys
  Rows<Segment> bars;  ///< one row per bar of the section, each filling its bar
};

struct Mark {        ///< a span over a part: palm mute, let ring, slur, 8va, crescendo, wah …
  std::string kind;  ///< table name of the lane ("palm mute")
  std::string word;  ///< what the first cell said beside "on"
  Place from, to;    ///< to: where it ends (exclusive)
  Span origin;
};

enum class WordKind : std::uint8_t {
  Lyric,
  Say,
  Count,
  Dynamics,
  Tempo,
  Hold,
  Cue,
  Arm,
  RemarkRef,
  FromLesson,
  Bow,
  Pedal,
  Retune  ///< what the player turns, as an instruction
};

struct Word {  ///< something said at a place
  WordKind kind{};
  Place at;
  std::string text;  ///< RemarkRef: the printed numbers of its remarks, "7" or "7,8"
  std::optional<song::ArmSign> arm;
  std::optional<song::TempoMark> tempo;
  int event = -1;              ///< lyric: the event it stands under, if one starts there
  int remark = -1;             ///< RemarkRef: index into Section::remarks, of the first
  std::vector<int> remarks{};  ///< RemarkRef: all of them, in the order of `text`
  Span origin;
};

/// The key a part's own staff stands in at one bar, and the way there from the page.
struct StaffKey {
  theory::Key key;
  theory::Interval from_page;  ///< page pitch to staff pitch, before Part::octave_shift; chord names move by it too
  friend bool operator==(const StaffKey&, const StaffKey&) = default;
};

/// The strings as tuned from a place on.
struct TunedFrom {
  Place at;
  theory::Tuning tuning;
  std::vector<int> strings;  ///< that the player turns here, low string first; empty: the bar is reached so tuned
  std::vector<int> up;       ///< those of them that go up, on some way there
};

/// Another clef from a place on, to the end of the section.
struct ClefFrom {
  Place at;
  int staff = 0;         ///< as Voice::staff
  std::string clef;      ///< as Part::clef
  int octave_shift = 0;  ///< as Part::octave_shift
  Span origin;
};

/// Bars in which the player rests and is shown what another part plays. Its notes are that part's: they sound once.
struct Cue {
  int part = -1;              ///< index into Timeline::parts
  int first = 0, behind = 0;  ///< bars of the section, half open
  Span origin;
};

/// A tap on the body of the instrument.
struct BodyTap {
  Place at;
  base::Tiny loudness = 80;  ///< MIDI velocity
  Span origin;
};

/// What is said of a pattern that a part plays.
struct PatternWords {
  Text name;
  std::optional<Text> says;
  Authority from = Authority::Recording;
  std::string instead_of;  ///< what the recording has
};

struct PartMusic {
  int part = -1;               ///< index into Timeline::parts
  std::vector<StaffKey> keys;  ///< one per bar of the section; empty: the part stands in the page's key throughout
  std::vector<Voice> voices;   ///< empty: the part rests throughout
  std::vector<Mark> marks;
  std::vector<Word> words;
  std::vector<TunedFrom> tunings;         ///< in order of time; empty: as Part::tuning throughout
  std::vector<ClefFrom> clefs;            ///< in order of time; empty: the part's own throughout
  std::vector<BodyTap> taps;              ///< in order of time
  std::vector<Cue> cues;                  ///< in order of time; no two share a bar
  std::vector<PatternWords> patterns;     ///< those that have words, in the order of first use
  Authority from = Authority::Recording;  ///< whose the part is in the whole section, where it is said of it alone
  bool strummed = false;                  ///< all events are slashes
};

// ---------------------------------------------------------------- bars and sections

enum class BarLine : std::uint8_t { Single, Double, Final, RepeatEnd };

struct Bar {
  theory::Meter meter;
  bool show_meter = false;
  theory::Key key;
  bool show_key = false;  ///< the key changes here (or the song begins)
  Fraction length{};      ///< as written (a pick-up is shorter than its meter)
  bool pick_up = false;
  int number = 0;  ///< as printed; 0 for a pick-up
  bool repeat_begin = false;
  BarLine end = BarLine::Single;
  int repeat_times = 0;     ///< with RepeatEnd: how often in all
  std::vector<int> ending;  ///< passes that play this bar; empty: all
  bool ending_begin = false, ending_end = false;
  bool groove_repeat = false;  ///< equal to the bar before in every part
  Authority from = Authority::Recording;
  Span origin;
};

/// Chord or shape in force from a place on; printed where it changes.
struct Harmony {
  Place at;
  int shape = -1;                         ///< index into Timeline::shapes, or -1 for a stated chord alone
  std::string stated;                     ///< as typed, when typed
  std::optional<theory::ChordName> name;  ///< as sounding on the page
  bool none = false;                      ///< N.C.
  bool push = false;                      ///< off the beat and held over it
  int part = -1;                          ///< whose lane it came from; -1 the chart
  bool chart = false;                     ///< a shape of that part whose name the chart states: everyone's chord
  Span origin;
  /// Whether it is said over the music of a part.
  bool concerns(int of_part) const { return part < 0 || chart || part == of_part; }
};

struct Hit {  ///< rhythm hits of the chart
  Fraction onset, duration;
  song::Accents accents;
  bool ghost = false;          ///< softly, hardly there
  bool push = false;           ///< off the beat and held over the next one, or over the bar line
  bool stop = false;           ///< silence is written within its beat
  bool after_silence = false;  ///< silence is written before it; else what was played went on
};

struct Remark {
  int number = 0;  ///< printed; counts through the song
  Text text;
  Authority from = Authority::Recording;
  std::string instead_of;
  Place at;  ///< where `see` points first
};

struct Section {
  Text name;
  std::string letter;  ///< A, B, … by first appearance; sections alike share the letter (A′ when changed)
  std::optional<Fraction> video;             ///< seconds
  std::vector<std::pair<int, Fraction>> at;  ///< recording index, seconds
  std::optional<Text> says;
  int times = 1;
  std::string until;  ///< open repeat
  bool about = false;
  Authority from = Authority::Recording;
  std::string instead_of, like;
  std::optional<song::TempoMark> tempo;
  std::optional<song::Feel> feel;
  std::vector<Bar> bars;               ///< body, then each ending's bars
  std::vector<PartMusic> parts;        ///< same order and number as Timeline::parts
  std::vector<Harmony> harmony;        ///< sorted by place
  std::vector<std::vector<Hit>> hits;  ///< one entry per bar; empty when the song has none
  std::vector<Word> words;             ///< of the chart: for all
  std::vector<Remark> remarks;
  Span origin;
};

// ---------------------------------------------------------------- the song

struct Drum {               ///< one voice of a kit as used in the song
  std::string name;         ///< "snare"
  theory::DrumPlace place;  ///< unlike that of any other drum of the part
};

struct Part {
  Text name;
  std::string short_name;
  theory::Instrument instrument;
  theory::Tuning tuning;    ///< as tuned, without capo; empty when there are no strings
  theory::Tuning usual;     ///< the instrument's own
  std::string tuning_name;  ///< "open G", or empty
  int capo = 0;             ///< full capo
  std::optional<song::CapoDef> partial_capo;
  std::vector<Drum> kit;
  int kit_lines = 5;            ///< lines of its staff
  std::string clef;             ///< "treble", "treble 8vb", "bass", "alto", "tenor", "percussion"
  int octave_shift = 0;         ///< octaves the staff is written above Note::written (guitar +1)
  theory::Interval from_page;   ///< page pitch to Note::written in the song's own key; a unison: as on the page
  theory::Interval to_concert;  ///< Note::written to what sounds
  std::string stands_in_for;
  bool notation = true, tab = false;
  std::optional<theory::Retuning> retuning;  ///< nothing when the strings stay as they are
  Span origin;
};

struct Recording {
  Text name;
  double cents = 0;    ///< against A4 = 440 and the page
  std::string sounds;  ///< as written
  std::optional<song::TempoMark> tempo;
  std::optional<theory::Key> sounding_key;
  std::string note;
  bool followed = false;
};

struct ShapeUse {
  Text name;
  theory::Shape shape;
  std::string hand;                      ///< the hand's name, or empty
  std::optional<theory::ChordName> ear;  ///< computed: what it sounds on the page
  std::string ear_text;                  ///< printed: the claim if stated, else the computed name or "no common name"
  bool ear_is_claim = false;
  std::vector<std::optional<theory::Pitch>> sounding;  ///< per string, low first, spelled in the key, page pitch
  int part = -1;                                       ///< index into parts
  std::string tuned;                                   ///< "string 6 in D": where the part is retuned for it
  Authority from = Authority::Recording;
  std::string instead_of, says;
  bool used = false;
  Span origin;
};

struct MoveUse {
  int from = -1, to = -1;  ///< shapes
  int count = 0;           ///< how often in the song as played
  theory::Move move;
};

struct FormStep {  ///< the form as printed
  song::FormEntry entry;
  int section = -1;  ///< index into sections for FormWord::Section
};

/// A stretch of a bar in one tempo, or in one that changes evenly (rit., accel.). Read by score/clock.h.
struct TempoPiece {
  Fraction from{};       ///< in the bar
  double seconds = 0;    ///< from the bar's beginning
  double rate = 0;       ///< whole notes a minute there
  double per_whole = 0;  ///< by how much the rate changes within a whole note
};

struct PlayedBar {  ///< one bar as it goes by
  int section = 0, bar = 0, pass = 1;
  int step = 0;              ///< index into Timeline::form
  int number = 0;            ///< as played, from 1; a pick-up shares the number before
  Fraction start{};          ///< whole notes from the beginning
  double seconds = 0;        ///< where it begins, at the tempo in force
  double rate = 0;           ///< whole notes a minute at its beginning
  Few<TempoPiece> pieces{};  ///< where the tempo changes in the bar; empty: `rate` throughout
};

struct Timeline {
  Text title;
  std::optional<Text> by, lesson, revision, video, credits, about;
  std::string language = "en";
  std::optional<theory::Key> key;
  theory::Meter meter;
  std::optional<song::TempoMark> tempo;
  song::Feel feel;
  std::optional<Text> counts_in;  ///< as stated: a part, or song::kNobody; nothing: whoever keeps the beat
  std::vector<Text> starts;       ///< as stated; empty: whoever sounds in the first bar
  std::vector<Recording> recordings;
  std::vector<Part> parts;
  std::vector<ShapeUse> shapes;
  std::vector<MoveUse> moves;     ///< neighbours in the song, in order of first use
  std::vector<Section> sections;  ///< each printed once, in order of first appearance in the form
  std::vector<FormStep> form;
  std::vector<Event> events;
  std::vector<PlayedBar> played;
  double seconds = 0;                                          ///< length as played
  std::vector<std::pair<std::string, double>> implied_tempos;  ///< per recording: tempo that the `at` times imply
};

/// The key of a part's staff at a bar of a section, and the way there from the page.
StaffKey staff_key(const Section& section, const PartMusic& music, std::size_t bar);

/// The tuning in force at a place of a section.
const theory::Tuning& tuning_at(const Part& part, const PartMusic& music, Place at);

/// How a part is tuned within the song where it is not as its own tuning has it.
struct RetunesWithin {
  std::vector<std::pair<std::string, std::vector<int>>> tunings;  ///< "string 6 in D", and the sections so tuned
  std::vector<int> up;                                            ///< strings that somewhere go up, low string first
};
RetunesWithin retunes_within(const Timeline& timeline, int part);

/// The `timeline` phase: one item per line.
std::string print(const Timeline& timeline);

}  // namespace tunesheaf::score

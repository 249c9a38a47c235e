// The song with everything resolved. In: a Song and its file. Out: a CheckedSong, or nothing when an error was added to
// the sink. Here theory's answers become messages in a musician's words. Invariant: only check() can make a
// CheckedSong; in it every name is an index, every bar has its meter, key and length, every cell stands at its exact
// onset, and the form is unrolled. Later phases hold no branch for what may be invalid. Read next: score/build.h.
#pragma once
#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "tunesheaf/base/fraction.h"
#include "tunesheaf/diag/diagnostic.h"
#include "tunesheaf/song/song.h"
#include "tunesheaf/source/source.h"
#include "tunesheaf/theory/chord.h"
#include "tunesheaf/theory/instrument.h"
#include "tunesheaf/theory/key.h"
#include "tunesheaf/theory/meter.h"
#include "tunesheaf/theory/recording.h"
#include "tunesheaf/theory/shape.h"
#include "tunesheaf/theory/tuning.h"

namespace tunesheaf::check {

using base::Fraction;
using source::Span;

struct CheckedPart {
  const song::PartDef* def = nullptr;
  theory::Instrument instrument;
  theory::Tuning tuning;    ///< as tuned; empty when the instrument has no strings
  theory::Tuning usual;     ///< the instrument's own; `tuning` again when that has another number of strings
  std::string tuning_name;  ///< "open G", or empty when notes were typed or the tuning is the usual one
  theory::Capo capo;
  int frets = 0;  ///< from the nut; 0: unknown
  int scale_length_mm = 0;
  bool rings = false;
  std::string clef;  ///< as score::Part::clef
  bool notation = true, tab = false;
  int strings() const { return tuning.count(); }
  bool drums() const { return instrument.family == theory::Family::Drums; }
};

/// A shape as one part plays it. The first entries are the song's shapes in order, each for its first user and first
/// tuning; a shape that a second part plays, or that is played in another tuning, has one more entry behind them.
struct CheckedShape {
  const song::ShapeDef* def = nullptr;
  theory::Tuning tuning;  ///< that it is held in
  theory::Shape shape;
  int part = 0;
  std::vector<int> thumb;                     ///< player's numbers
  std::vector<int> midi;                      ///< concert keys, in the order of the strings
  std::optional<theory::ChordName> ear;       ///< the claim, understood
  std::optional<theory::ChordName> computed;  ///< the best name of what sounds on the page
  bool used = false;
};

struct CheckedRecording {
  const song::RecordingDef* def = nullptr;
  theory::PitchOffset offset;
  std::optional<theory::Key> key;
};

/// A cell at its place. Only cells that say something are kept: no holds.
struct PlacedCell {
  int bar = 0;        ///< index into the section's bars
  Fraction onset{};   ///< in the bar
  Fraction length{};  ///< the cell's own share
  int string = 0;     ///< resolved; 0 when the lane has none
  const song::Cell* cell = nullptr;
  const song::Cell* second = nullptr;  ///< string and fret lanes: the string's cell
  int until_bar = 0;                   ///< patterns: the bar behind the last one of this round of the pattern; else 0
};

struct PlacedLane {
  song::LaneKind kind{};
  std::string subject;  ///< drum or mark
  std::string name;     ///< as written
  int string = 0;
  bool lower = false;         ///< the lower voice
  bool from_pattern = false;  ///< cells of a pattern, laid over the bars
  bool rings = false;
  std::vector<PlacedCell> cells;  ///< in order of time
};

/// A shape, pattern or chord in force from a place on (until the next one of the list).
struct InForce {
  int bar = 0;
  Fraction onset{};
  int index = -1;                    ///< into CheckedData::shapes or Song::patterns; -1: none from here on
  const song::Cell* cell = nullptr;  ///< where it is written; nothing for one looked up by a chord's name
};

struct ChordAt {
  int bar = 0;
  Fraction onset{};
  const song::Cell* cell = nullptr;
  std::string text;
  std::optional<theory::ChordName> name;  ///< nothing for N.C.
  bool none = false;
};

/// The strings as tuned from a place on, where they are not as the part says: retuned there, or on the way there.
struct TunedFrom {
  int bar = 0;
  Fraction onset{};
  theory::Tuning tuning;
  const song::Cell* cell = nullptr;  ///< nothing where the bar is reached so tuned
  std::vector<int> strings{};        ///< that are turned here, on some way at least; player's numbers, low string first
  std::vector<int> up{};             ///< those of them that go up
  bool always = true;                ///< false: nothing is turned when it is come to first
};

struct CheckedMusic {
  std::vector<PlacedLane> lanes;   ///< shape, pattern and chords lanes are not here
  std::vector<TunedFrom> tunings;  ///< in order of time; empty: tuned as the part says throughout
  std::vector<InForce> shapes;
  std::vector<int> patterns{};  ///< played here, each once in the order of first use; into Song::patterns
  std::vector<ChordAt> chords;
  bool shapes_by_chord = false;  ///< `shapes` was looked up by the names of chords
  song::Authority from = song::Authority::Recording;
  bool plays = false;  ///< some lane here makes sound, or a shape is held
  /// The shape in force at a place, or -1.
  int shape_at(int bar, Fraction onset) const;
  /// The tuning in force at a place.
  const theory::Tuning& tuning_at(const CheckedPart& part, int bar, Fraction onset) const;
};

struct CheckedBar {
  theory::Meter meter;
  std::optional<theory::Key> key;
  Fraction length{};
  std::vector<theory::BarSpan> beats;  ///< of this bar as it stands; onsets from its own beginning
  bool pick_up = false;
  int ending = -1;  ///< index into the section's endings; -1: the body
  song::Authority from = song::Authority::Recording;
  Span span;
  Span meter_span;  ///< where the meter is stated; empty when nowhere
};

struct CheckedEnding {
  const song::Ending* def = nullptr;
  std::vector<int> passes;
  int first_bar = 0, bar_count = 0;
};

struct CheckedSection {
  const song::SectionDef* def = nullptr;
  int like = -1;
  int times = 1;
  bool until = false;
  int body_bars = 0;
  std::vector<CheckedBar> bars;  ///< body, then each ending's
  std::vector<CheckedEnding> endings;
  std::vector<CheckedMusic> parts;  ///< one per CheckedData::parts
  CheckedMusic chart;
  std::vector<const song::Remark*> remarks;  ///< own, then those of the section it is like
  std::optional<Fraction> video;
  std::vector<std::pair<int, Fraction>> at;  ///< recording index, seconds
  bool in_form = false;
};

/// Bars over which a part is shown what another one plays.
struct CueSpan {
  std::string name;           ///< of the other part, as typed
  int first = 0, behind = 0;  ///< bars, half open; a cue ends where the body or its ending does
  const song::Cell* cell = nullptr;
};
/// The cues of a part in a section, in order of time.
std::vector<CueSpan> cue_spans(const CheckedSection& section, const CheckedMusic& music);

struct CheckedStep {
  song::FormEntry entry;
  int section = -1;
};

struct CheckedPass {  ///< one bar as it goes by
  int step = 0, section = 0, bar = 0, pass = 1;
};

/// A section's stated place in a recording, against the one steady tempo that all of the places imply.
struct SectionTime {
  int recording = 0, section = 0;
  Fraction stated;        ///< seconds
  double residual = 0.0;  ///< seconds; positive: later than that tempo puts it
};

struct CheckedData {
  std::shared_ptr<const song::Song> song;
  std::optional<theory::Key> key;
  theory::Meter meter;
  int page_capo = 0;  ///< the first fretted part's full capo: concert is the page plus so many semitones
  std::vector<CheckedPart> parts;
  std::vector<CheckedShape> shapes;
  std::vector<CheckedRecording> recordings;
  std::vector<CheckedSection> sections;  ///< in the order of the file
  std::vector<CheckedStep> form;
  std::vector<CheckedPass> played;
  /// Per recording: beats a minute (in the song's own tempo unit) that the `at` times imply, by least squares over the
  /// first bars of sections as played.
  std::vector<std::pair<int, double>> implied_tempos;
  /// As the sections are first played. Without the place that stands out, where one does.
  std::vector<SectionTime> section_times;
};

class CheckedSong;
/// Every fault and doubt is added to the sink; nothing is returned when one of them is an error.
std::optional<CheckedSong> check(song::Song song, const source::File& file, diag::Sink& sink);

class CheckedSong {
 public:
  const CheckedData& operator*() const { return *data_; }
  const CheckedData* operator->() const { return data_.get(); }

 private:
  friend std::optional<CheckedSong> check(song::Song song, const source::File& file, diag::Sink& sink);
  explicit CheckedSong(CheckedData data) : data_(std::make_shared<const CheckedData>(std::move(data))) {}
  std::shared_ptr<const CheckedData> data_;
};

/// As score::Part::clef; the word as typed ("treble-8" sounds an octave lower) is one of the language's.
std::string clef_of(const std::string& word);

/// The `checked` phase: one item per line.
std::string print(const CheckedSong& checked);

}  // namespace tunesheaf::check

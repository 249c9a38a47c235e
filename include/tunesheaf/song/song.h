// The song as written, typed but not yet judged. In: the node tree. Out: one Song in which every word knows its place.
// Invariant: nothing of the file is missing from it; names are not resolved, bars not yet counted (check does both).
// The keys, lanes and signs it is read by stand in one table (song/language.h). Read next: song/lane.h,
// check/checked.h.
#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "tunesheaf/base/fraction.h"
#include "tunesheaf/song/lane.h"
#include "tunesheaf/source/source.h"

namespace tunesheaf::song {

using source::Span;
using source::Spanned;
using Text = Spanned<std::string>;

/// Who says so: the recording (the default) or the teacher.
enum class Authority : std::uint8_t { Recording, Lesson };

/// A time in seconds ("1:56" is 116), as a place in a video or in a recording.
using Seconds = Spanned<base::Fraction>;

struct TempoMark {
  base::Fraction unit{1, 4};  ///< the note that is counted (a dotted quarter is 3/8)
  base::Fraction per_minute{};
  bool unit_stated = false;  ///< else the meter's beat
  std::string words;         ///< "slowly", "a tempo", "rit."; may be empty; per_minute 0 when only words
};

struct Feel {
  base::Fraction unit{};               ///< the swung note value: 1/8 or 1/16; 0 when straight
  base::Fraction first{1}, second{1};  ///< "swing 2:1"
  std::string words;                   ///< as written
};

struct RecordingDef {
  Text name;
  std::optional<Text> sounds;  ///< "+18 cents", "-2 semitones", "A4 = 432"
  std::optional<Spanned<TempoMark>> tempo;
  std::optional<Text> key;  ///< a claim
  std::optional<Text> note;
};

struct CapoDef {
  Spanned<int> fret;
  std::vector<Spanned<int>> strings;  ///< empty: all strings
};

struct PartDef {
  Text name;
  Text instrument;
  std::optional<Text> short_name;
  std::optional<Text> tuning;  ///< pitches, low string first, or a tuning's name
  std::optional<CapoDef> capo;
  std::optional<Text> clef;
  std::optional<Spanned<theory::Interval>> transposes;  ///< from what sounds up or down to what is read
  std::optional<Text> stands_in_for;
  std::optional<Spanned<bool>> rings;
  std::optional<Text> staff;         ///< "notation", "tab", "both"
  std::optional<Text> scale_length;  ///< "648 mm" or "25.5 in"
  std::optional<Spanned<int>> fret_count;
};

/// One string of a shape: nothing when it is not played.
using FretCell = Spanned<std::optional<int>>;
/// 0 for '.', 1-4, 5 for the thumb (T).
using FingerCell = Spanned<int>;

struct ShapeDef {
  Text name;
  std::vector<FretCell> frets;      ///< low string first
  std::vector<FingerCell> fingers;  ///< empty when not stated
  Span frets_span, fingers_span;
  std::optional<Text> hand, ear;    ///< ear is a claim
  std::vector<Spanned<int>> thumb;  ///< strings the thumb walks over in a pattern
  std::optional<Text> part;         ///< for one part only
  Authority from = Authority::Recording;
  std::optional<Text> instead_of, says;
};

struct PatternDef {
  Text name;
  std::vector<Stanza> stanzas;
  std::optional<Text> meter;
  bool rings = true;
  std::optional<Text> says;
  Authority from = Authority::Recording;
  std::optional<Text> instead_of;
};

struct Exception {
  Text where;               ///< "first", "last", "3", "3-4"
  int first = 0, last = 0;  ///< 1-based bars; -1 counts from the end
  std::vector<Stanza> stanzas;
};

/// What one part (or the chart) plays in a section or an ending.
struct PartContent {
  Text part;  ///< "chart" for the chart
  std::vector<Stanza> stanzas;
  std::vector<Exception> except;
  std::optional<Spanned<bool>> rings;
  Authority from = Authority::Recording;
};

struct Ending {
  Text label;  ///< "1", "2", "3-4"
  std::vector<int> passes;
  std::vector<PartContent> parts;  ///< chart included
};

struct Remark {
  Text letter;
  Text text;
  Authority from = Authority::Recording;
  std::optional<Text> instead_of;
};

struct Times {
  int count = 1;              ///< as stated, or about
  std::optional<Text> until;  ///< "the singer sits down"
  Span span;
};

struct RecordingTime {
  std::optional<Text> recording;  ///< nothing: the recording this lesson follows
  Seconds at;
};

struct SectionDef {
  Text name;
  std::optional<Text> letter;
  std::optional<Seconds> video;
  std::vector<RecordingTime> at;
  std::optional<Text> says;
  Times times;
  std::vector<Ending> endings;
  std::optional<Text> like;
  std::optional<Text> pick_up;  ///< "1 beat", "1/8"
  std::optional<Text> meter, key;
  std::optional<Spanned<TempoMark>> tempo;
  std::optional<Spanned<Feel>> feel;
  std::optional<Spanned<bool>> rings;
  std::optional<Text> instead_of;
  Authority from = Authority::Recording;
  std::vector<PartContent> parts;  ///< chart included, in the order of the file
  std::vector<Remark> remarks;
};

enum class FormWord : std::uint8_t { Section, Segno, Coda, ToCoda, Fine, DalSegno, DaCapo, Fade };
enum class Until : std::uint8_t { None, Coda, Fine };

/// `coda` in a form is the sign and, where a section bears that name, the section as well: two entries, sign first.
struct FormEntry {
  FormWord word = FormWord::Section;
  Until until = Until::None;  ///< "D.S. al coda", "D.C. al fine"
  Text text;
};

/// Who counts in where no one does.
inline constexpr const char* kNobody = "nobody";

struct Song {
  Text title;
  std::optional<Text> by, lesson, revision, video, credits, language, about, style;
  std::optional<Text> key, meter;
  std::optional<Spanned<TempoMark>> tempo;
  std::optional<Spanned<Feel>> feel;
  std::optional<Text> pick_up;
  std::optional<Text> counts_in;  ///< name of a part, or "nobody"
  std::vector<Text> starts;       ///< names of parts
  std::vector<RecordingDef> recordings;
  std::vector<PartDef> parts;
  std::vector<ShapeDef> shapes;
  std::vector<PatternDef> patterns;
  std::vector<SectionDef> sections;
  std::vector<FormEntry> form;  ///< empty: the sections in order
  Span form_span;
};

}  // namespace tunesheaf::song

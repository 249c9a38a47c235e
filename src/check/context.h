// What the files of check share while one song is checked. In: the song, its file, the sink. Out: CheckedData, filled
// step by step in the order of the functions below. Invariant: indices in CheckedData are valid as soon as they are
// set, whatever else is wrong with the song. Read next: check.cpp.
#pragma once
#include <map>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <tuple>
#include <utility>
#include <vector>

#include "tunesheaf/check/checked.h"
#include "tunesheaf/diag/diagnostic.h"
#include "tunesheaf/diag/words.h"

namespace tunesheaf::check {

using diag::Kind;

/// `list` holds names between bars: "|kick|snare|".
inline bool among(std::string_view list, const std::string& name) {
  return list.find("|" + name + "|") != std::string_view::npos;
}

struct Context {
  const song::Song& song;
  const source::File& file;
  diag::Sink& sink;
  CheckedData& data;
  std::set<std::tuple<const void*, int, int>> muted_said{};  ///< pattern, shape, string: one message each
  struct Misnamed {
    Span span{};
    bool shape = false;
    int more = 0;
  };
  std::map<std::pair<bool, std::string>, Misnamed> misnamed{};  ///< unknown shapes and patterns, each said once
  struct WrongSum {
    Span bar{}, meter_span{};
    std::string lane, pattern, meter;  ///< pattern: empty in a section
    int got = 0, want = 0;
    bool colons = false, pick_up = false;
  };
  std::vector<WrongSum> wrong_sums{};                              ///< bars that do not add up, said when all are known
  std::set<std::pair<const CheckedSection*, int>> unsure_meter{};  ///< bars for which two meters are stated

  void say(Kind kind, Span span, std::string situation, std::string rule = {}, std::string remedy = {}) {
    sink.add(kind, span, std::move(situation), std::move(rule), std::move(remedy));
  }
  /// A fault with two causes.
  void say_both(Kind kind, Span span, std::string label, Span other, std::string other_label, std::string situation,
                std::string rule = {}, std::string remedy = {}) {
    sink.add({kind,
              {{span, std::move(label)}, {other, std::move(other_label)}},
              std::move(situation),
              std::move(rule),
              std::move(remedy)});
  }
  /// The user's own words, quoted.
  std::string words(Span span) const { return diag::quoted(file.slice(span)); }
};

/// One lane through all bars of a section (or ending, or pattern): nothing where a stanza lacks it; "%" already looked
/// up.
struct Track {
  const song::Lane* lane = nullptr;
  std::vector<const song::LaneBar*> bars;
};
struct Tracks {
  std::vector<Track> tracks;
  int bars = 0;
  bool stated = false;
  Span span{};
  std::optional<bool> rings;
  song::Authority from = song::Authority::Recording;
};
/// All that one section holds before its bars are counted: the chart first, then one entry per part.
struct SectionContent {
  std::vector<Tracks> body;
  std::vector<std::vector<Tracks>> endings;
  std::vector<const song::Ending*> ending_defs;
};

// parts.cpp
void check_parts(Context& context);
void check_song_heading(Context& context);
void check_recordings(Context& context);
void say_tuning_fault(Context& context, Span span, const theory::TuningError& error);
std::optional<theory::Meter> read_meter(Context& context, Span span, const std::string& text);
std::optional<theory::Key> read_key(Context& context, Span span, const std::string& text);
std::optional<int> part_named(const Context& context, std::string_view name);

// part_fit.cpp
void check_part(Context& context, const CheckedPart& part);
void check_stand_ins(Context& context);
void check_tab_alone(Context& context);  ///< `staff: tab`, and a lane that tab cannot print

// shapes.cpp
void check_shapes(Context& context);
/// The entry of CheckedData::shapes that `part` plays under this name in a tuning; made when a second part plays it, or
/// the same part in a second tuning.
std::optional<int> shape_for(Context& context, std::string_view name, int part, const theory::Tuning& tuning);
/// The shape that a stated chord means for a part in a tuning: by name, then by ear; -1 when there is none.
int shape_of_chord(Context& context, const ChordAt& chord, int part, const theory::Tuning& tuning);

// tracks.cpp
Tracks gather(Context& context, const std::vector<song::Stanza>& stanzas);
std::vector<SectionContent> gather_sections(Context& context);

// bars.cpp
void check_bars(Context& context, const std::vector<SectionContent>& content);
/// Places a track's cells in bars; `first` is the bar of its first entry.
void place_track(Context& context, const CheckedSection& section, const Track& track, int first,
                 std::vector<PlacedCell>& out);
/// Onset and length of every cell of a lane's bar over the given beats; an empty list when they do not add up.
std::vector<std::pair<theory::BarSpan, const song::Cell*>> share(const song::LaneBar& bar,
                                                                 const std::vector<theory::BarSpan>& beats,
                                                                 Fraction length);

// retune.cpp
/// Needs the form unrolled; shapes are laid after it.
void check_retunes(Context& context, const std::vector<SectionContent>& content);

// patterns.cpp
void lay_patterns(Context& context, const std::vector<SectionContent>& content);
void check_patterns(Context& context);

// sums.cpp
void say_wrong_sums(Context& context);

// lanes.cpp
void check_lanes(Context& context);
// strings.cpp
void check_strings(Context& context);
// playing.cpp
void check_playing(Context& context);
void check_pick_ups(Context& context);
// rhythm.cpp
void check_pick_up_lengths(Context& context);
// spans.cpp
void check_tempo_returns(Context& context);
// cues.cpp
void check_cues(Context& context);
/// Whether something sounds, by bar.
std::vector<bool> sounding_bars(const CheckedSection& section, const CheckedPart& part, const CheckedMusic& music);
// start.cpp
/// Who counts in and who starts, as stated, are parts of the song, and those who start play in the first bar.
void check_start(Context& context);
// accents.cpp
void check_accents(Context& context);
// changes.cpp
void say_changes_nothing(Context& context);
// words.cpp
void check_words(Context& context);
// form.cpp
void check_form(Context& context);
/// After everything else: said only of a song in order.
void check_form_reached(Context& context);
// seams.cpp
void check_seams(Context& context);
// claims.cpp
void check_claims(Context& context);
// claims_hand.cpp
void check_hand(Context& context, const CheckedShape& shape);
// claims_chords.cpp
void check_song_key(Context& context);
void check_chart(Context& context);
void check_times(Context& context);
// unused.cpp
void check_unused(Context& context);
void say_not_printed(Context& context);

/// "did you mean "home"?", or a list of what there is.
std::string nearest_remedy(std::string_view word, const std::vector<std::string>& known, std::string_view kind);
/// Kinds of lanes that make sound by themselves.
bool plays(song::LaneKind kind);
bool on_strings(song::LaneKind kind);
/// Whole notes from the section's beginning to a bar's.
std::vector<Fraction> bar_starts(const CheckedSection& section);
std::string bar_words(int bar);
/// "a viola", "an oboe".
std::string with_article(const std::string& name);

/// The lane as written, with no cells placed yet.
inline PlacedLane empty_lane(const song::Lane& lane) {
  PlacedLane placed;
  placed.kind = lane.kind;
  placed.subject = lane.subject;
  placed.name = lane.name.value;
  placed.string = lane.string;
  placed.lower = lane.kind == song::LaneKind::Thumb || lane.kind == song::LaneKind::Left;
  return placed;
}

}  // namespace tunesheaf::check

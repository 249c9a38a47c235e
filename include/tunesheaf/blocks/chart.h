// What a chart says, before it has any size. In: the song in time, a player, the kind of names. Out: the sections with
// their bars (chords at their beats, rhythm hits, cues, stops, holds), who starts, who rests, loudness, the form as it
// is played; folded as far as a level asks for. Invariant: every bar of the song stands in exactly one cell of a
// section, or in a section that names the earlier one it equals; folding loses no bar. Read next: blocks/chart_page.h.
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "tunesheaf/blocks/chart_player.h"
#include "tunesheaf/engrave/system.h"
#include "tunesheaf/score/timeline.h"

namespace tunesheaf::blocks {

using base::Fraction;

struct ChartChord {
  Fraction onset;
  ChartName name;
  source::Span origin;
  base::Length width{};  ///< of the root at a size of 100 pt; see measure_chart()
  base::Length small{};  ///< of all that stands beside it, at that size
  friend bool operator==(const ChartChord& a, const ChartChord& b) { return a.onset == b.onset && a.name == b.name; }
};

enum class CueKind : std::uint8_t {
  Say,
  Words,  ///< sung, where a section begins
  Count,
  Tempo,
  Stop,
  Loudness,
  PickUp,  ///< `beat` is how long it is, `rate` who plays it
  Change   ///< of key, tempo or feel where a section begins
};

struct ChartCue {
  Fraction at;
  CueKind kind{};
  std::string text;
  source::Span origin;
  base::Fraction beat{};  ///< of a new tempo: the note that is counted; 0 where the cue gives no number
  std::string rate{};     ///< and how many of it in a minute
  friend bool operator==(const ChartCue& a, const ChartCue& b) {
    return a.at == b.at && a.kind == b.kind && a.text == b.text && a.beat == b.beat && a.rate == b.rate;
  }
};

struct ChartHit {
  Fraction onset, duration;
  song::Accents accents;
  bool ghost = false;
  bool muted = false;  ///< struck on muted strings
  friend bool operator==(const ChartHit&, const ChartHit&) = default;
};

/// `word` as in the lane of holds: "short", "long", "breath", "caesura", anything else for a hold as usual.
struct ChartHold {
  Fraction at;
  std::string word;
  friend bool operator==(const ChartHold&, const ChartHold&) = default;
};

struct ChartBar {
  int bar = 0;                     ///< index into the section's bars
  int count = 1;                   ///< bars of the song that this cell stands for, all alike
  std::vector<ChartChord> chords;  ///< in force, the first at the beginning of the bar unless nothing is in force there
  std::vector<ChartHit> hits;      ///< as stated; where chords change off the beat and none are stated, the changes
  Fraction plays_until;            ///< before the first hit the band plays on, so far: no rest there
  std::optional<Fraction> plays_from;  ///< after the last hit it plays on from here
  std::vector<ChartHit> strum;  ///< how the chords are struck from here on, where that is new; no part of what it says
  std::vector<ChartCue> cues;
  std::vector<ChartHold> holds;  ///< of the song or of any part
  theory::Meter meter;
  Fraction length;
  bool show_meter = false;
  bool pick_up = false, repeat_begin = false, repeat_end = false, final = false, doubled = false;
  std::vector<int> ending;  ///< passes; empty: all
  bool ending_begin = false, ending_end = false;
  bool as_before = false;  ///< says what the bar before says
  source::Span origin;
  /// Chords, hits, cues, holds and meter are the same, wherever the bars stand.
  bool says_the_same(const ChartBar& other) const;
  /// True when something happens elsewhere than at the beginning of the bar.
  bool shows_beats() const;
};

struct ChartSection {
  int section = 0;  ///< index into Timeline::sections
  std::string letter, name;
  std::vector<ChartBar> bars;
  int times = 1;                   ///< of the whole section, as its repeat asks
  int rounds = 1;                  ///< folded: how often the bars shown are played in one round of the section
  std::string until;               ///< open repeat, in words
  std::string who;                 ///< "fiddle rests", "drums alone"; empty: all play
  std::string loudness;            ///< "mf" at the beginning, or empty
  std::vector<ChartCue> pick_ups;  ///< before its first bar, where they have no column of their own
  std::optional<ChartCue> change;  ///< key, tempo, feel, where they are not those of the head or of what goes before
  std::string from_lesson;
  std::vector<engrave::FormSign> signs;  ///< with "2nd time" and "no repeats" where the form as played says so
  std::string same_as;  ///< folded: the letter of the earlier section that says the same; `bars` are empty then
  source::Span origin;
  int bar_count() const;
};

/// A step of the form as it goes by.
struct ChartStep {
  int section = 0;
  std::string letter;
  int times = 1;
  bool open = false;  ///< until someone gives a sign
  int entry = 0;      ///< index into Timeline::form
};

struct ChartContent {
  ChartPlayer player;
  ChartNames names = ChartNames::Hand;
  std::vector<ChartSection> sections;
  std::vector<ChartStep> form;
  bool fades = false;
  std::string count_in;              ///< "1 2 3 4", "1 2 3 4 1 2"
  std::string counts;                ///< who counts in, or empty
  std::string starts;                ///< "guitar and drums"
  bool counted_bar = false;          ///< the first bar is the count
  std::string enters;                ///< "fiddle at B, drums at C bar 5", in the order of playing, or empty
  std::string rests;                 ///< "tabla only in D": what a part does in most sections, said once
  std::string reads;                 ///< "fiddle reads in A: G is A, D7 is E7"; empty where all read one key
  std::vector<std::string> unnamed;  ///< shapes without a common name, printed by their own
  int cells() const;                 ///< bars that are drawn
};

ChartContent chart_content(const score::Timeline& song, const ChartPlayer& player, ChartNames names);

/// How much is folded or left out, in the order in which it is tried.
enum class ChartFold : std::uint8_t {
  Nothing,
  Rounds,    ///< a section that is the same stretch over again: once, with the number of times
  Sections,  ///< a section equal to an earlier one: named only
  Bars,      ///< bars alike in a row: one cell with their number
  Shapes,    ///< no shapes at the foot
  Words,     ///< no words that are sung, no strums
  Cues,      ///< no spoken cues and counts
  Who        ///< nothing of who rests
};
inline constexpr int kChartFolds = static_cast<int>(ChartFold::Who) + 1;

struct FoldedChart {
  ChartContent content;
  bool shapes = true;
  std::vector<std::string> told;  ///< what was folded or left out, in words
};
FoldedChart folded_chart(const ChartContent& content, ChartFold fold);

}  // namespace tunesheaf::blocks

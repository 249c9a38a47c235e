// What the makers of lanes share: how a song's bars and parts are planned before they are written. In: theory's tables
// of instruments and meters. Out: plain data. Read next: generated/song.cpp.
#pragma once
#include <functional>
#include <string>
#include <utility>
#include <vector>

#include "generated/random.h"
#include "generated/tree.h"
#include "generated/words.h"
#include "tunesheaf/base/fraction.h"
#include "tunesheaf/theory/instrument.h"
#include "tunesheaf/theory/key.h"
#include "tunesheaf/theory/shape.h"
#include "tunesheaf/theory/tuning.h"

namespace tunesheaf::generated {

using base::Fraction;

struct BarPlan {
  std::string meter;
  std::vector<Fraction> beats;  ///< lengths
};

/// How many cells each beat of a bar has.
using Grid = std::vector<int>;

struct PatternPlan {
  std::string name, meter;
  bool states_meter = false, needs_thumb = false;
};

struct PartPlan {
  std::string name;
  theory::Family family{};
  theory::Tuning tuning;
  theory::Capo capo;
  int neck = 12;                   ///< highest fret as written
  std::vector<int> first_stopped;  ///< by string number - 1: lowest fret that can be stopped
  int low = 48, high = 72;         ///< page pitches that are played, as keys
  std::vector<bool> scale;         ///< by pitch class: what the key has (page pitch)
  int page_capo = 0;               ///< semitones from the page to what the strings sound
  theory::Key key{};               ///< of the song
  bool arm = false;                ///< may have a vibrato bar
  std::vector<std::string> kit, shapes;
  std::vector<PatternPlan> patterns;
  int strings() const { return tuning.count(); }
  /// The key at or just above that one which belongs to the song's scale.
  int near_key(int midi) const {
    for (int up = 0; up < 3; ++up)
      if (scale.empty() || scale[static_cast<std::size_t>((midi + up) % 12)]) return midi + up;
    return midi;
  }
  bool strung() const { return family == theory::Family::Fretted || family == theory::Family::Bowed; }
};

struct SectionPlan {
  std::string name;
  std::vector<BarPlan> bars;
  int times = 1;
  std::vector<std::string> players;  ///< parts that have lanes
};

struct Tools {
  Random& random;
  Words& words;
  bool ending = false;  ///< something may sound on from the section's body
};

BarPlan plan_bar(const std::string& meter);
/// The last beats of a bar, as a pick-up of that length has them.
BarPlan tail(const BarPlan& bar, Fraction length);
Fraction length_of(const BarPlan& bar);
Grid plan_grid(Random& random, const BarPlan& bar);
/// A bar of that grid in which nothing is new.
BarCells blank(const Grid& grid);
BarCells one_cell(const std::string& cell);
/// One cell a beat.
BarCells by_beat(const BarPlan& bar);
int cell_count(const Grid& grid);
std::string& cell_at(BarCells& bar, int index);
/// Bars whose cells share them evenly are now and then written without colons.
void drop_colons(Random& random, const BarPlan& plan, BarCells& bar);

/// Lanes of one part in the making: every lane has all bars of the section.
class Sheaf {
 public:
  explicit Sheaf(int bars) : bars_(bars) {}
  BarCells& bar(const std::string& lane, int index);
  bool has(const std::string& lane) const;
  bool empty() const { return block_.lanes.empty(); }
  LaneBlock take(Random& random);

 private:
  int bars_;
  LaneBlock block_;
};

/// The lanes of each kind of player over bars `from` to `to`.
void play_strings(Tools tools, const PartPlan& part, const std::vector<BarPlan>& bars, Sheaf& out);
void play_pitches(Tools tools, const PartPlan& part, const std::vector<BarPlan>& bars, Sheaf& out);
void play_drums(Tools tools, const PartPlan& part, const std::vector<BarPlan>& bars, Sheaf& out);
void play_part(Tools tools, const PartPlan& part, const std::vector<BarPlan>& bars, Sheaf& out);
/// Rolls, taps, held vowels and bars that bring back the bar two before, in lanes that are made.
void add_more(Random& random, const PartPlan& part, const std::vector<BarPlan>& bars, Sheaf& out);
/// Now and then one who rests is shown what another plays, for the whole stretch or its last bar. `blocks`: parts that
/// play and their lanes.
void add_cues(Random& random, const std::vector<PartPlan>& parts, const std::vector<BarPlan>& bars,
              std::vector<std::pair<std::string, LaneBlock>>& blocks);
/// Spans over a part or a chart.
void add_span(Random& random, const std::string& lane, const std::vector<std::string>& words,
              const std::vector<BarPlan>& bars, Sheaf& out);
/// The words of a lane's table entry; nothing when the language has no such lane.
std::vector<std::string> words_of_lane(const std::string& lane);
/// Chords, words, loudness and what else all share; `plays` says whether a part has staves there.
void write_chart(Tools tools, const std::vector<BarPlan>& bars, bool plays, Sheaf& out);
std::string pitch_name(int midi, const theory::Key& key);

/// Parts with their instruments, tunings, shapes and patterns; added to the song's tree.
std::vector<PartPlan> make_parts(Tools tools, int count, const std::string& meter, const std::string& key, Node& song);

}  // namespace tunesheaf::generated

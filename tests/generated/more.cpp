// What a part bears now and then beside its notes: rolls, glissandi, taps on the body, bars that bring back the bar two
// before, syllables held over several notes, other clefs, strings tuned otherwise. In: lanes that are made. Out: the
// same lanes with these in them, drawn from numbers of their own, so that the song of a seed stays what it was wherever
// none of them stands.
#include <algorithm>

#include "generated/plan.h"

namespace tunesheaf::generated {
namespace {

bool is_note(const std::string& cell) {
  return cell != "-" && cell != "." && cell != "%" && cell != "%%";
}

bool is_tied(const std::string& cell) {
  return cell.size() > 1 && cell.front() == '-';
}

bool any_cell(const BarCells& bar, const std::function<bool(const std::string&)>& is) {
  return std::any_of(bar.beats.begin(), bar.beats.end(),
                     [&](const auto& beat) { return std::any_of(beat.begin(), beat.end(), is); });
}

class More {
 public:
  More(Random& random, const PartPlan& part, const std::vector<BarPlan>& bars, Sheaf& out)
      : random_(random), part_(part), bars_(bars), out_(out), count_(static_cast<int>(bars.size())) {}

  void add() {
    const bool drums = part_.family == theory::Family::Drums;
    if (random_.chance(drums ? 25 : 12)) two_bars_back();
    if (drums && random_.chance(10)) buzz_roll();
    if (drums) return;
    if (part_.strung() && retunes()) retune();
    if (random_.chance(6)) clefs();
    if (out_.has("lyric") && random_.chance(40)) held_vowels();
    if (part_.strung() && random_.chance(5)) body_taps();
    if ((part_.strung() || part_.family == theory::Family::Keyed) && random_.chance(6)) span_in_a_bar("roll");
    if (random_.chance(5)) span_in_a_bar("glissando");
  }

 private:
  const BarPlan& plan(int bar) const { return bars_[static_cast<std::size_t>(bar)]; }

  /// Lanes whose bars lean on nothing outside of themselves, so that they may come again anywhere.
  std::vector<std::string> free_lanes() const {
    if (part_.family == theory::Family::Drums) return part_.kit;
    if (out_.has("strum")) return {"strum"};
    if (out_.has("notes") && !out_.has("lyric") && !out_.has("bow")) return {"notes"};
    return {};
  }

  /// A note after the bar goes on from what sounds at its end; bars that only go on or repeat may lie between.
  bool tied_to(const std::string& lane, int bar) {
    for (int b = bar + 1; b < count_; ++b) {
      if (any_cell(out_.bar(lane, b), is_tied)) return true;
      if (any_cell(out_.bar(lane, b), is_note)) return false;
    }
    return false;
  }

  /// All lanes keep both bars, the one that comes back and the one in whose place it comes.
  bool may_come_back(const std::vector<std::string>& lanes, int b) {
    if (b < 2 || b >= count_ || plan(b).beats != plan(b - 2).beats) return false;
    bool sounds = false;
    for (const std::string& lane : lanes) {
      if (!out_.has(lane)) return false;
      if (any_cell(out_.bar(lane, b), [](const std::string& cell) { return cell == "%%"; })) return false;
      if (lane == "strum" && out_.bar(lane, b).silent()) return false;  // another hand plays there
      if (any_cell(out_.bar(lane, b - 2), is_tied) || tied_to(lane, b)) return false;
      sounds = sounds || any_cell(out_.bar(lane, b - 2), is_note);
    }
    return sounds;
  }

  void two_bars_back() {
    const std::vector<std::string> lanes = free_lanes();
    for (int b = 2; b < count_; ++b) {
      if (!may_come_back(lanes, b)) continue;
      const bool pair = may_come_back(lanes, b + 1);
      for (const std::string& lane : lanes) {
        out_.bar(lane, b) = one_cell("%%");
        if (pair) out_.bar(lane, b + 1) = one_cell("%%");
      }
      return;
    }
  }

  /// Over a note that is not the bar's first the syllable before goes on.
  void held_vowels() {
    for (int b = 0; b < count_; ++b) {
      bool sung = false;
      for (auto& beat : out_.bar("lyric", b).beats)
        for (std::string& cell : beat) {
          const bool ends = cell.find_last_of("-,.!?;") == cell.size() - 1;
          if (sung && cell != "-" && random_.chance(25))
            cell = "-";
          else if (cell != "-")
            sung = !ends;
        }
    }
  }

  void body_taps() {
    const int from = random_.below(count_);
    for (int b = from; b < std::min(count_, from + 2); ++b) {
      BarCells bar = by_beat(plan(b));
      for (auto& beat : bar.beats)
        if (random_.chance(40)) beat.front() = "x";
      if (b == from) bar.beats.front().front() = "x";
      out_.bar("body tap", b) = bar;
    }
  }

  /// One part in ten is retuned; by its name, for then all its sections must say how.
  int number_of_name() const {
    int sum = 0;
    for (const char c : part_.name) sum += static_cast<unsigned char>(c);
    return sum;
  }
  bool retunes() const { return number_of_name() % 10 == 0; }

  /// Every stretch says its tuning at its beginning, so that it may be come to from anywhere. A part that says one
  /// string alone never lets down another one: the rest of its tuning is the same wherever it comes from.
  void retune() {
    theory::Tuning tuning = part_.tuning;
    const int own = number_of_name() / 10;
    const bool alone = own % 2 == 0;
    const int number = alone ? own / 2 % tuning.count() + 1 : random_.between(1, tuning.count());
    theory::TunedString& string = tuning.strings[static_cast<std::size_t>(number - 1)];
    for (theory::Pitch& pitch : string.course) pitch = theory::plain_spelling(pitch.midi() - 2);
    const std::string one = std::to_string(tuning.count() - number + 1) + "=" + theory::print(string.course.front());
    const bool guitar = part_.family == theory::Family::Fretted && part_.tuning.count() == 6 &&
                        part_.tuning.strings.front().midi() == 40;
    const int way = random_.between(1, alone || guitar ? 3 : 2);
    out_.bar("retune", 0) = one_cell(way == 1   ? "back"
                                     : way == 2 ? theory::print(tuning)
                                     : alone    ? one
                                                : std::string("open G"));
  }

  void clefs() {
    const bool keys = part_.family == theory::Family::Keyed;
    const std::string of = !keys ? "notes" : random_.chance(50) ? "left" : "right";
    const std::string lane = keys ? of + " clef" : "clef";
    if (!out_.has(of)) return;
    const int b = random_.below(count_);
    BarCells bar = by_beat(plan(b));
    bar.beats[static_cast<std::size_t>(random_.below(static_cast<int>(bar.beats.size())))].front() =
        part_.low < 50 || keys ? random_.weighed<const char*>({{1, "bass"}, {1, "tenor"}, {1, "treble-8"}})
                               : random_.weighed<const char*>({{2, "treble"}, {1, "treble-8"}, {1, "alto"}});
    out_.bar(lane, b) = bar;
  }

  void buzz_roll() {
    for (const std::string& drum : part_.kit) {
      if (drum != "snare" || !out_.has(drum)) continue;
      for (auto& beat : out_.bar(drum, random_.below(count_)).beats)
        for (std::string& cell : beat)
          if (cell == "x") {
            cell = "xz";
            return;
          }
    }
  }

  void span_in_a_bar(const std::string& lane) {
    const int b = random_.below(count_);
    BarCells bar = by_beat(plan(b));
    bar.beats.front().front() = random_.pick(words_of_lane(lane));
    if (bar.beats.size() > 1) bar.beats[random_.chance(50) ? 1 : bar.beats.size() - 1].front() = ".";
    out_.bar(lane, b) = bar;
  }

  Random& random_;
  const PartPlan& part_;
  const std::vector<BarPlan>& bars_;
  Sheaf& out_;
  int count_;
};

}  // namespace

void add_more(Random& random, const PartPlan& part, const std::vector<BarPlan>& bars, Sheaf& out) {
  More(random, part, bars, out).add();
}

namespace {

/// Something is struck in the bar on a lane of pitches or of a string.
bool strikes(const LaneBlock& block, int bar) {
  return std::any_of(block.lanes.begin(), block.lanes.end(), [&](const LaneRow& row) {
    const bool plays = row.name == "notes" || row.name == "right" || (row.name[0] >= '1' && row.name[0] <= '9');
    return plays && any_cell(row.bars[static_cast<std::size_t>(bar)], [](const std::string& cell) {
             return (cell[0] >= 'A' && cell[0] <= 'G') || (cell[0] >= '0' && cell[0] <= '9');
           });
  });
}

}  // namespace

void add_cues(Random& random, const std::vector<PartPlan>& parts, const std::vector<BarPlan>& bars,
              std::vector<std::pair<std::string, LaneBlock>>& blocks) {
  const int last = static_cast<int>(bars.size()) - 1;
  const std::size_t playing = blocks.size();
  for (const PartPlan& part : parts) {
    const bool rests = std::none_of(blocks.begin(), blocks.end(), [&](const auto& b) { return b.first == part.name; });
    if (!rests || playing == 0 || !random.chance(35)) continue;
    const std::size_t of = static_cast<std::size_t>(random.below(static_cast<int>(playing)));
    if (!strikes(blocks[of].second, last)) continue;
    Sheaf lanes(last + 1);
    const std::string name = blocks[of].first;
    lanes.bar("cue", random.chance(50) ? last : 0) = one_cell(name);
    blocks.emplace_back(part.name, lanes.take(random));
  }
}

}  // namespace tunesheaf::generated

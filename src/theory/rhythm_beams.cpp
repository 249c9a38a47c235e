#include "rhythm_beams.h"

#include <algorithm>

namespace tunesheaf::theory::detail {
namespace {

/// The stretch that holds a run of mixed values: a beat, or a cell of a wide tuplet.
struct Unit {
  Ticks start = 0;
  Ticks length = 0;
  int group = -1;  ///< beam group of the meter; -1 for a cell of a wide tuplet
  int units_in_group = 1;
  bool thirds = false;
  friend bool operator==(const Unit& a, const Unit& b) {
    return a.start == b.start && a.length == b.length && a.group == b.group;
  }
};

struct Run {
  int first = 0;
  int last = 0;
  Unit unit;
  bool merged = false;
};

class Beamer {
 public:
  Beamer(const Meter& meter, TickScale scale, const std::vector<BeamInput>& input,
         const std::vector<BeamTuplet>& tuplets, Spelling& out)
      : scale_(scale), input_(input), tuplets_(tuplets), out_(out) {
    const bool whole_groups = meter.unit > 4;
    for (const BarSpan& span : meter.beam_groups()) {
      Unit group{scale.of(span.onset), scale.of(span.length), static_cast<int>(groups_.size()), 1, false};
      const Ticks quarter = scale.whole() / 4;
      if (!whole_groups) group.units_in_group = static_cast<int>(group.length / quarter);
      group.thirds = whole_groups && group.length % (scale.whole() / meter.unit * 3) == 0;
      groups_.push_back(group);
    }
  }

  void run() {
    std::vector<Run> runs = find_runs();
    merge(runs);
    for (const Run& r : runs) {
      if (r.last > r.first) mark(r);
    }
  }

 private:
  Unit unit_at(const BeamInput& piece) {
    if (piece.tuplet >= 0) {
      const BeamTuplet& t = tuplets_[static_cast<std::size_t>(piece.tuplet)];
      const Unit beat = beat_at(t.start);
      if (t.start + t.length > beat.start + beat.length) {
        return {t.start + (piece.begin - t.start) / t.cell * t.cell, t.cell, -1, 1, false};
      }
    }
    return beat_at(piece.begin);
  }

  Unit beat_at(Ticks at) {
    while (group_ > 0 && at < groups_[group_].start) --group_;
    while (at >= groups_[group_].start + groups_[group_].length) ++group_;
    Unit unit = groups_[group_];
    const Ticks length = unit.length / unit.units_in_group;
    unit.start += (at - unit.start) / length * length;
    unit.length = length;
    return unit;
  }

  std::vector<Run> find_runs() {
    std::vector<Run> runs;
    for (int i = 0; i < static_cast<int>(input_.size()); ++i) {
      const BeamInput& piece = at(i);
      if (piece.flags == 0) continue;
      const Unit unit = unit_at(piece);
      if (!runs.empty() && runs.back().last == i - 1 && runs.back().unit == unit) {
        runs.back().last = i;
      } else {
        runs.push_back({i, i, unit, false});
      }
    }
    return runs;
  }

  /// Plain eighths of neighbouring beats share a beam: in a group of two beats where one of them is full, in a longer
  /// group where both are (so that the beat stays visible in 3/4).
  void merge(std::vector<Run>& runs) const {
    std::vector<Run> out;
    for (const Run& next : runs) {
      if (!out.empty() && may_merge(out.back(), next)) {
        out.back().last = next.last;
        out.back().unit.length = next.unit.start + next.unit.length - out.back().unit.start;
        out.back().merged = true;
      } else {
        out.push_back(next);
      }
    }
    runs = std::move(out);
  }

  bool may_merge(const Run& a, const Run& b) const {
    if (a.last + 1 != b.first || a.unit.group < 0 || a.unit.group != b.unit.group) return false;
    for (int i = a.first; i <= b.last; ++i) {
      if (at(i).flags != 1 || at(i).tuplet >= 0) return false;
    }
    const bool full_a = fills(a);
    const bool full_b = fills(b);
    return b.unit.units_in_group == 2 ? full_a || full_b : full_a && full_b;
  }

  bool fills(const Run& r) const {
    return at(r.first).begin == r.unit.start && at(r.last).end == r.unit.start + r.unit.length;
  }

  void mark(const Run& r) {
    int levels = 1;
    for (int i = r.first; i <= r.last; ++i) levels = std::max(levels, at(i).flags);
    const int beam = static_cast<int>(out_.beams.size());
    out_.beams.push_back({r.first, r.last, levels});
    for (int i = r.first; i <= r.last; ++i) {
      SpelledPiece& piece = out_.pieces[static_cast<std::size_t>(i)];
      piece.beam = beam;
      for (int level = 1; level <= at(i).flags; ++level) {
        piece.beam_marks[static_cast<std::size_t>(level - 1)] = mark_of(r, i, level, levels);
      }
    }
  }

  BeamMark mark_of(const Run& r, int i, int level, int levels) const {
    const bool before = i > r.first && at(i - 1).flags >= level && joined(r, i - 1, level, levels);
    const bool after = i < r.last && at(i + 1).flags >= level && joined(r, i, level, levels);
    if (before) return after ? BeamMark::kContinue : BeamMark::kEnd;
    return after ? BeamMark::kBegin : hook(r, i, level);
  }

  /// Whether pieces i and i+1 may share a beam of this level. Inner beams stop between tuplets and, where there are
  /// 32nds, at the halves (or thirds) of the beat.
  bool joined(const Run& r, int i, int level, int levels) const {
    if (level == 1) return true;
    if (at(i).tuplet != at(i + 1).tuplet) return false;
    if (levels < 3 || at(i).tuplet >= 0 || r.merged) return true;
    const Ticks part = r.unit.length / (r.unit.thirds ? 3 : 2);
    return part * 8 < scale_.whole() || (at(i + 1).begin - r.unit.start) % part != 0;
  }

  /// A partial beam points to the note that completes it to the next longer value.
  BeamMark hook(const Run& r, int i, int level) const {
    if (i == r.first) return BeamMark::kHookForward;
    if (i == r.last) return BeamMark::kHookBack;
    const BeamInput& piece = at(i);
    const bool kin_before = at(i - 1).tuplet == piece.tuplet;
    const bool kin_after = at(i + 1).tuplet == piece.tuplet;
    if (kin_before != kin_after) return kin_after ? BeamMark::kHookForward : BeamMark::kHookBack;
    Ticks from = r.unit.start;
    Ticks longer = scale_.whole() / (Ticks{2} << level);
    if (piece.tuplet >= 0) {
      const BeamTuplet& t = tuplets_[static_cast<std::size_t>(piece.tuplet)];
      from = t.start;
      longer = longer * t.normal / t.actual;
    }
    const bool opens = longer > 0 && (piece.begin - from) % longer == 0;
    return opens ? BeamMark::kHookForward : BeamMark::kHookBack;
  }

  const BeamInput& at(int i) const { return input_[static_cast<std::size_t>(i)]; }

  TickScale scale_;
  const std::vector<BeamInput>& input_;
  const std::vector<BeamTuplet>& tuplets_;
  Spelling& out_;
  std::vector<Unit> groups_;
  std::size_t group_ = 0;
};

}  // namespace

void add_beams(const Meter& meter, TickScale scale, const std::vector<BeamInput>& input,
               const std::vector<BeamTuplet>& tuplets, Spelling& spelling) {
  Beamer(meter, scale, input, tuplets, spelling).run();
}

}  // namespace tunesheaf::theory::detail

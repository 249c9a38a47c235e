#include "even_values.h"

#include <algorithm>

namespace tunesheaf::engrave {

namespace {

struct Stretch {  ///< of neighbouring springs, half open
  std::size_t from, to;
};

class Evener {
 public:
  Evener(std::vector<layout::Spring>& springs, const std::vector<Fraction>& onsets)
      : springs_(springs), onsets_(onsets) {}

  void tuplets(const StaffBar& bar) {
    for (const TupletGroup& group : bar.tuplets) {
      std::vector<Stretch> stretches;
      const Fraction value = bar.chords[static_cast<std::size_t>(group.chords.front())].duration;
      for (const int i : group.chords) {
        const Chord& chord = bar.chords[static_cast<std::size_t>(i)];
        if (chord.duration != value) {
          stretches.clear();
          break;
        }
        stretches.push_back(stretch_of(chord));
      }
      constexpr double kWhatever = 1000;
      if (stretches.size() > 1) make_even(stretches, kWhatever);
    }
  }

  /// Of one voice, one after another; the way from the last note to the bar line is none that is compared.
  void runs(const StaffBar& bar) {
    std::vector<Stretch> stretches;
    const Chord* before = nullptr;
    const auto close = [&] {
      constexpr double kMostWider = 1.8;
      if (stretches.size() > 1) make_even(stretches, kMostWider);
      stretches.clear();
    };
    for (const Chord& chord : bar.chords) {
      const bool goes_on = before != nullptr && chord.voice == before->voice && chord.duration == before->duration &&
                           chord.onset == before->onset + before->duration;
      if (!goes_on) close();
      const Stretch stretch = stretch_of(chord);
      const bool counts = chord.tuplet < 0 && !chord.hidden && !chord.whole_bar_rest && stretch.to < springs_.size();
      if (counts) stretches.push_back(stretch);
      before = counts ? &chord : nullptr;
    }
    close();
  }

 private:
  std::size_t column(Fraction onset) const {
    return static_cast<std::size_t>(std::lower_bound(onsets_.begin(), onsets_.end(), onset) - onsets_.begin());
  }
  Stretch stretch_of(const Chord& chord) const {
    return {column(chord.onset), column(chord.onset + chord.duration)};
  }

  /// None becomes more than `most` times as wide as it was.
  void make_even(const std::vector<Stretch>& stretches, double most) {
    Length natural, give;
    for (const Stretch& s : stretches) {
      const layout::Spring sum = sum_of(s);
      natural = std::max(natural, sum.natural);
      give = std::max(give, sum.give);
    }
    for (const Stretch& s : stretches) {
      const layout::Spring sum = sum_of(s);
      for (std::size_t i = s.from; i < s.to; ++i) {
        layout::Spring& spring = springs_[i];
        spring.natural = std::max(spring.natural, spring.minimum) * std::min(natural / sum.natural, most);
        if (sum.give > Length{}) spring.give = spring.give * std::min(give / sum.give, most);
      }
    }
  }
  layout::Spring sum_of(const Stretch& s) const {
    layout::Spring sum;
    for (std::size_t i = s.from; i < s.to; ++i) {
      sum.natural += std::max(springs_[i].natural, springs_[i].minimum);
      sum.give += springs_[i].give;
    }
    return sum;
  }

  std::vector<layout::Spring>& springs_;
  const std::vector<Fraction>& onsets_;
};

}  // namespace

void even_out(std::vector<layout::Spring>& springs, const std::vector<Fraction>& onsets,
              const std::vector<const StaffBar*>& bars) {
  Evener even(springs, onsets);
  for (const StaffBar* bar : bars) even.runs(*bar);
  for (int again = 0; again < 2; ++again) {  // of two that share columns the second may have moved the first
    for (const StaffBar* bar : bars) even.tuplets(*bar);
  }
}

}  // namespace tunesheaf::engrave

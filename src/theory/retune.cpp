#include "tunesheaf/theory/retune.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>

#include "tunesheaf/theory/instrument.h"

namespace tunesheaf::theory {
namespace {

constexpr double kTightFrom = 0.5;     // semitones over the usual pitch
constexpr double kMayBreakFrom = 2.0;  // more than this
constexpr double kSlackFrom = -4.0;    // less than this

Caution caution_of(double over_usual) {
  if (over_usual > kMayBreakFrom) return Caution::MayBreak;
  if (over_usual >= kTightFrom) return Caution::Tight;
  if (over_usual < kSlackFrom) return Caution::Slack;
  return Caution::None;
}

std::vector<int> safe_order(const std::vector<StringRetune>& strings) {
  std::vector<const StringRetune*> turned;
  for (const StringRetune& s : strings) {
    if (s.semitones != 0) turned.push_back(&s);
  }
  std::stable_sort(turned.begin(), turned.end(), [](const StringRetune* a, const StringRetune* b) {
    const bool a_down = a->semitones < 0, b_down = b->semitones < 0;
    if (a_down != b_down) return a_down;
    // Down: the most first. Up: the least first. Both are the smaller signed number first.
    return a->semitones < b->semitones;
  });
  std::vector<int> out;
  out.reserve(turned.size());
  for (const StringRetune* s : turned) out.push_back(s->string);
  return out;
}

/// Departures of `tuning` from `pattern` shifted by `shift`.
std::vector<NearestTuning::Difference> differences(const Tuning& tuning, const Tuning& pattern, int shift) {
  std::vector<NearestTuning::Difference> out;
  for (int number = tuning.count(); number >= 1; --number) {
    const int apart = tuning.string(number).midi() - pattern.string(number).midi() - shift;
    if (apart != 0) out.push_back({number, apart});
  }
  return out;
}

std::optional<NearestTuning> nearest_of(const Tuning& tuning, const std::vector<NamedTuning>& named) {
  std::optional<NearestTuning> best;
  int best_cost = 0;
  const Tuning* usual = nullptr;
  for (const NamedTuning& candidate : named) {
    if (candidate.tuning.count() != tuning.count()) continue;
    if (candidate.usual) usual = &candidate.tuning;
    // "Half step down" is the usual pattern and is told as such.
    const bool shifted_usual =
        usual != nullptr && !candidate.usual &&
        differences(candidate.tuning, *usual, candidate.tuning.string(1).midi() - usual->string(1).midi()).empty();
    if (shifted_usual) continue;
    for (int number = 1; number <= tuning.count(); ++number) {
      const int shift = tuning.string(number).midi() - candidate.tuning.string(number).midi();
      std::vector<NearestTuning::Difference> apart = differences(tuning, candidate.tuning, shift);
      if (static_cast<int>(apart.size()) * 3 > tuning.count()) continue;
      // Strings that depart weigh most, then any shift, then a name less known than the usual; the way decides ties.
      const int cost = 1000 * (2 * static_cast<int>(apart.size()) + (shift != 0 ? 1 : 0) + (candidate.usual ? 0 : 1)) +
                       std::abs(shift);
      if (best && cost >= best_cost) continue;
      best_cost = cost;
      best = NearestTuning{candidate.name, shift, std::move(apart)};
    }
  }
  return best;
}

}  // namespace

double tension_factor(double semitones) {
  return std::exp2(semitones / 6.0);
}

base::Result<Retuning, RetuneFault> retune(const Tuning& from, const Tuning& to, const Tuning& usual,
                                           const std::vector<NamedTuning>& named, double cents) {
  if (from.count() != to.count() || usual.count() != to.count()) return RetuneFault::StringCount;
  Retuning out;
  for (std::size_t i = 0; i < to.strings.size(); ++i) {
    StringRetune s;
    s.string = to.count() - static_cast<int>(i);
    s.from = from.strings[i].pitch();
    s.to = to.strings[i].pitch();
    s.semitones = s.to.midi() - s.from.midi();
    s.hertz_at_440 = frequency(s.to);
    s.hertz = frequency(static_cast<double>(s.to.midi()) + cents / 100.0);
    const double over_usual = static_cast<double>(s.to.midi() - usual.strings[i].midi()) + cents / 100.0;
    s.tension = tension_factor(over_usual);
    s.caution = caution_of(over_usual);
    out.strings.push_back(s);
  }
  out.order = safe_order(out.strings);
  out.nearest = nearest_of(to, named);
  return out;
}

std::optional<NearestTuning> nearest_tuning(const Tuning& tuning, std::string_view instrument) {
  const Instrument* known = find_instrument(instrument);
  if (known == nullptr) return std::nullopt;
  std::vector<NamedTuning> own;
  for (const NamedTuning& named : named_tunings()) {
    if (named.instrument == known->name) own.push_back(named);
  }
  return nearest_of(tuning, own);
}

bool one_note_tuning(const Tuning& tuning) {
  if (tuning.strings.empty()) return false;
  const int first = tuning.strings.front().pitch().name.number();
  return std::all_of(tuning.strings.begin(), tuning.strings.end(), [&](const TunedString& s) {
    return std::all_of(s.course.begin(), s.course.end(), [&](Pitch p) { return p.name.number() == first; });
  });
}

}  // namespace tunesheaf::theory

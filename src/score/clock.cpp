#include "tunesheaf/score/clock.h"

#include <algorithm>
#include <cmath>

namespace tunesheaf::score {
namespace {

bool halves_only(std::int64_t n) {
  return n > 0 && (n & (n - 1)) == 0;
}

}  // namespace

TempoPiece tempo_within(const PlayedBar& bar, Fraction at) {
  TempoPiece piece;
  piece.rate = bar.rate;
  for (const TempoPiece& next : bar.pieces)
    if (next.from <= at) piece = next;
  const double wholes = (at - piece.from).to_double();
  const double change = piece.per_whole * wholes;
  piece.seconds += change == 0 ? wholes * 60.0 / piece.rate : wholes * 60.0 * std::log1p(change / piece.rate) / change;
  piece.rate += change;
  piece.from = at;
  return piece;
}

Fraction swung(Fraction onset, const song::Feel& feel) {
  if (feel.unit == Fraction(0) || feel.first == feel.second) return onset;
  const Fraction pair = feel.unit * Fraction(2);
  const Fraction in_pair = onset.modulo(pair);
  if (!halves_only((in_pair / feel.unit).den())) return onset;
  const Fraction first = pair * feel.first / (feel.first + feel.second);
  const Fraction base = onset - in_pair;
  if (in_pair <= feel.unit) return base + in_pair * first / feel.unit;
  return base + first + (in_pair - feel.unit) * (pair - first) / feel.unit;
}

const song::Feel& feel_of(const Timeline& timeline, const Section& section) {
  return section.feel ? *section.feel : timeline.feel;
}

double seconds_at(const Timeline& timeline, std::size_t played, Fraction onset) {
  const auto bar_of = [&](std::size_t i) -> const Bar& {
    const PlayedBar& at = timeline.played[i];
    return timeline.sections[static_cast<std::size_t>(at.section)].bars[static_cast<std::size_t>(at.bar)];
  };
  while (bar_of(played).length <= onset && played + 1 < timeline.played.size()) {
    onset -= bar_of(played).length;
    ++played;
  }
  const PlayedBar& bar = timeline.played[played];
  const Bar& printed = bar_of(played);
  const Section& section = timeline.sections[static_cast<std::size_t>(bar.section)];
  // A pick-up ends with its bar: the pairs of swung notes are counted from the bar line on, backwards.
  const Fraction shift = printed.pick_up ? printed.meter.bar_length() - printed.length : Fraction(0);
  return bar.seconds + tempo_within(bar, swung(onset + shift, feel_of(timeline, section)) - shift).seconds;
}

Fraction counted_unit(const song::TempoMark& mark, const theory::Meter& meter) {
  return mark.unit_stated ? mark.unit : theory::written_duration(meter.tempo_unit());
}

Fraction counted_unit(const song::TempoMark& mark, const Section& section) {
  return section.bars.empty() ? mark.unit : counted_unit(mark, section.bars.front().meter);
}

bool heard_apart(double rate, double other) {
  constexpr double kHeard = 0.004;  // of the faster one
  return std::abs(rate - other) > kHeard * std::max(rate, other);
}

std::string feel_words(const song::Feel& feel) {
  if (!feel.words.empty()) return feel.words;
  return feel.unit == Fraction{} ? "straight" : "swing";
}

bool feel_changes(const Timeline& timeline, int section) {
  const auto words_of = [&](int which) {
    return feel_words(feel_of(timeline, timeline.sections[static_cast<std::size_t>(which)]));
  };
  const std::string here = words_of(section);
  if (here != feel_words(timeline.feel)) return true;
  for (std::size_t i = 1; i < timeline.played.size(); ++i) {
    if (timeline.played[i].section == section && words_of(timeline.played[i - 1].section) != here) return true;
  }
  return false;
}

std::optional<song::TempoMark> returning_tempo(const Timeline& timeline, int section) {
  const Section& here = timeline.sections[static_cast<std::size_t>(section)];
  if (here.tempo || !timeline.tempo || timeline.tempo->per_minute <= Fraction{}) return std::nullopt;
  for (std::size_t i = 1; i < timeline.played.size(); ++i) {
    const PlayedBar& now = timeline.played[i];
    const PlayedBar& before = timeline.played[i - 1];
    if (now.section != section || before.step == now.step) continue;
    const Section& left = timeline.sections[static_cast<std::size_t>(before.section)];
    const double rate = tempo_within(before, left.bars[static_cast<std::size_t>(before.bar)].length).rate;
    if (!heard_apart(rate, now.rate)) continue;
    song::TempoMark mark = *timeline.tempo;
    mark.words.clear();
    mark.unit = counted_unit(mark, timeline.meter);
    mark.unit_stated = true;
    return mark;
  }
  return std::nullopt;
}

}  // namespace tunesheaf::score

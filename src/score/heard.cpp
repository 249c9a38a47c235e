#include "tunesheaf/score/heard.h"

#include <algorithm>
#include <cstdlib>
#include <numeric>

namespace tunesheaf::score {
namespace {

constexpr int kRollSteps = 64;    ///< a 64th from note to note, at most
constexpr int kTremoloPace = 32;  ///< a tremolo without number
constexpr int kFastestStroke = 256;

}  // namespace

std::vector<Fraction> later_than_onset(const Event& event) {
  const std::size_t count = event.notes.size();
  std::vector<Fraction> out(count);
  if (!event.rolled || count < 2) return out;
  std::vector<std::size_t> order(count);
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    const Note &x = event.notes[a], &y = event.notes[b];
    return x.string > 0 && y.string > 0 ? x.string > y.string : x.midi < y.midi;
  });
  if (event.stroke == song::StrokeDirection::Up) std::reverse(order.begin(), order.end());
  const Fraction gap =
      base::min(Fraction(1, kRollSteps), event.duration / Fraction(static_cast<std::int64_t>(2 * (count - 1))));
  for (std::size_t i = 0; i < count; ++i) out[order[i]] = gap * Fraction(static_cast<std::int64_t>(i));
  return out;
}

bool slides_in(const Note& note) {
  const song::Arrival how = note.more->link.kind;
  return how == song::Arrival::SlideInFromAbove || how == song::Arrival::SlideInFromBelow;
}

bool picked(const Event& event, const Note& note) {
  if (note.tied_from) return false;
  if (!event.grace->notes.empty()) return true;
  const song::Arrival how = note.more->link.kind;
  return how == song::Arrival::Struck || how == song::Arrival::ShiftSlide || slides_in(note);
}

std::optional<Fraction> stroke_every(const Event& event, const Note& note) {
  if (note.buzz) return std::nullopt;
  if (note.roll_strokes > 0) {
    Fraction every(1, 4);
    while (event.duration < every && Fraction(1, kFastestStroke) < every) every = every / Fraction(2);  // flags
    for (int stroke = 0; stroke < note.roll_strokes; ++stroke) every = every / Fraction(2);
    return every;
  }
  if (event.tremolo || event.picked_over) return Fraction(1, kTremoloPace);
  return std::nullopt;
}

bool glides_in_steps(const Part& part) {
  return part.instrument.family == theory::Family::Keyed || part.instrument.family == theory::Family::Fretted;
}

std::vector<BendPoint> glide(const Timeline& timeline, const Event& event, const Note& note, bool steps) {
  if (event.glides_to < 0) return {};
  const Event& goal = timeline.events[static_cast<std::size_t>(event.glides_to)];
  if (goal.notes.empty()) return {};
  // Of several notes each goes to the one of its own place in the other chord, or to the last.
  std::size_t index = 0;
  while (index < event.notes.size() && &event.notes[index] != &note) ++index;
  const int way = goal.notes[std::min(index, goal.notes.size() - 1)].midi - note.midi;
  if (way == 0) return {};
  if (!steps) return {{Fraction(0), Fraction(0)}, {Fraction(1), Fraction(way)}};
  std::vector<BendPoint> out;
  const int count = std::abs(way);
  for (int i = 0; i < count; ++i) out.push_back({Fraction(i, count), Fraction(way > 0 ? i : -i)});
  return out;
}

}  // namespace tunesheaf::score

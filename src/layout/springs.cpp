#include "tunesheaf/layout/springs.h"

#include <algorithm>
#include <cmath>

namespace tunesheaf::layout {

using base::Length;

namespace {

Length spring_at(const Spring& spring, double force) {
  return std::max(spring.minimum, spring.natural + spring.give * force);
}

void lift(std::vector<Spring>& springs, const Rod& rod) {
  Length now, give;
  for (std::size_t i = rod.from; i < rod.to; ++i) {
    now += springs[i].minimum;
    give += springs[i].give;
  }
  Length lack = rod.length - now;
  if (lack <= Length{}) return;
  // The slack of the natural lengths is used first: a rod that the springs satisfy by themselves bends nothing.
  Length slack;
  for (std::size_t i = rod.from; i < rod.to; ++i) slack += std::max(Length{}, springs[i].natural - springs[i].minimum);
  const double share = slack > Length{} ? std::min(1.0, lack / slack) : 0.0;
  for (std::size_t i = rod.from; i < rod.to && share > 0; ++i) {
    const Length part = std::max(Length{}, springs[i].natural - springs[i].minimum) * share;
    springs[i].minimum += part;
    lack -= part;
  }
  if (lack <= Length{}) return;  // rounding may have given a unit too much
  const Length rest = lack;
  for (std::size_t i = rod.from; i < rod.to; ++i) {
    const double part = give > Length{} ? springs[i].give / give : 1.0 / static_cast<double>(rod.to - rod.from);
    const Length more = i + 1 == rod.to ? lack : std::min(lack, rest * part);
    springs[i].minimum += more;
    lack -= more;
  }
}

}  // namespace

SpringLine::SpringLine(std::vector<Spring> springs, std::vector<Rod> rods) : springs_(std::move(springs)) {
  for (Spring& s : springs_) {
    if (s.give <= Length{}) s.minimum = std::max(s.minimum, s.natural);  // stiff: never shorter than natural
  }
  std::stable_sort(rods.begin(), rods.end(), [](const Rod& a, const Rod& b) { return a.to - a.from < b.to - b.from; });
  for (const Rod& rod : rods) lift(springs_, rod);
}

Measure SpringLine::measure() const {
  Measure m;
  for (const Spring& s : springs_) {
    m.minimum += s.minimum;
    m.natural += std::max(s.minimum, s.natural);
    m.give += s.give;
  }
  return m;
}

Length SpringLine::length_at(double force) const {
  Length sum;
  for (const Spring& s : springs_) sum += spring_at(s, force);
  return sum;
}

double SpringLine::force(Length width) const {
  // Length against force is monotone and piecewise straight: walk its corners (where a spring leaves its rod) upwards.
  std::vector<std::pair<double, Length>> corners;  // force, give that joins there
  Length stiff;
  for (const Spring& s : springs_) {
    if (s.give <= Length{}) {
      stiff += std::max(s.minimum, s.natural);
    } else {
      corners.emplace_back((s.minimum - s.natural) / s.give, s.give);
      stiff += s.minimum;
    }
  }
  if (corners.empty()) return 0;
  std::sort(corners.begin(), corners.end());
  double at = corners.front().first, length = static_cast<double>(stiff.units());
  const auto wanted = static_cast<double>(width.units());
  if (wanted <= length) return at;
  double slope = 0;
  for (std::size_t i = 0; i < corners.size(); ++i) {
    const double step = corners[i].first - at;
    if (length + slope * step >= wanted) break;
    length += slope * step;
    at = corners[i].first;
    slope += static_cast<double>(corners[i].second.units());
  }
  return at + (wanted - length) / slope;
}

std::vector<Length> SpringLine::place(Length width) const {
  const double f = force(width);
  std::vector<Length> at{Length{}};
  double exact = 0;  // rounding is done on places, so that errors never add up
  for (const Spring& s : springs_) {
    exact += std::max(static_cast<double>(s.minimum.units()),
                      static_cast<double>(s.natural.units()) + static_cast<double>(s.give.units()) * f);
    at.push_back(std::max(Length::raw(std::llround(exact)), at.back() + s.minimum));
  }
  const bool has_give =
      std::any_of(springs_.begin(), springs_.end(), [](const Spring& s) { return s.give > Length{}; });
  if (!has_give || measure().minimum > width) return at;
  at.back() = width;
  for (std::size_t i = springs_.size(); i-- > 1;) at[i] = std::min(at[i], at[i + 1] - springs_[i].minimum);
  return at;
}

}  // namespace tunesheaf::layout

#include "tunesheaf/theory/timing.h"

#include <algorithm>
#include <cmath>

namespace tunesheaf::theory {
namespace {

constexpr std::size_t kNoPlace = static_cast<std::size_t>(-1);

struct Line {
  double slope = 0.0, start = 0.0, error = 0.0;  // error: root of the mean square
};

/// Least squares over all places but `without`.
std::optional<Line> line(const std::vector<TimedPlace>& places, std::size_t without) {
  double n = 0, sx = 0, sy = 0, sxx = 0, sxy = 0;
  for (std::size_t i = 0; i < places.size(); ++i) {
    if (i == without) continue;
    const double x = places[i].at.to_double(), y = places[i].seconds;
    n += 1;
    sx += x;
    sy += y;
    sxx += x * x;
    sxy += x * y;
  }
  const double spread = n * sxx - sx * sx;
  if (n < 2 || spread <= 0.0) return std::nullopt;
  Line out;
  out.slope = (n * sxy - sx * sy) / spread;
  out.start = (sy - out.slope * sx) / n;
  for (std::size_t i = 0; i < places.size(); ++i) {
    if (i == without) continue;
    const double off = places[i].seconds - out.start - out.slope * places[i].at.to_double();
    out.error += off * off / n;
  }
  out.error = std::sqrt(out.error);
  return out;
}

}  // namespace

double TempoFit::beats_per_minute(base::Fraction beat) const {
  return 60.0 / (seconds_per_whole * beat.to_double());
}

std::optional<TempoFit> fit_tempo(const std::vector<TimedPlace>& places) {
  const std::optional<Line> all = line(places, kNoPlace);
  if (!all || !(all->slope > 0.0)) return std::nullopt;
  Line used = *all;
  TempoFit out;
  if (places.size() >= 4) {
    std::size_t best = kNoPlace;
    Line without;
    for (std::size_t i = 0; i < places.size(); ++i) {
      const std::optional<Line> rest = line(places, i);
      if (!rest || !(rest->slope > 0.0)) continue;
      if (best == kNoPlace || rest->error < without.error) {
        best = i;
        without = *rest;
      }
    }
    if (best != kNoPlace) {
      const double expected = without.start + without.slope * places[best].at.to_double();
      const bool stands_out =
          std::abs(places[best].seconds - expected) > kTimeSlack && without.error * 4.0 <= all->error;
      if (stands_out) {
        out.doubtful = best;
        out.doubtful_should_be = expected;
        used = without;
      }
    }
  }
  out.seconds_per_whole = used.slope;
  out.start_seconds = used.start;
  for (const TimedPlace& place : places) {
    out.residuals.push_back(place.seconds - used.start - used.slope * place.at.to_double());
  }
  return out;
}

std::vector<std::size_t> times_running_backwards(const std::vector<TimedPlace>& places) {
  std::vector<std::size_t> out;
  for (std::size_t i = 0; i < places.size(); ++i) {
    const bool backwards = std::any_of(places.begin(), places.end(), [&](const TimedPlace& other) {
      return other.at < places[i].at && other.seconds >= places[i].seconds;
    });
    if (backwards) out.push_back(i);
  }
  return out;
}

}  // namespace tunesheaf::theory

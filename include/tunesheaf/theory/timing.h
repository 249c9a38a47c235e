// The tempo that stated times imply. In: places in the music (whole notes from the start) and the seconds at which a
// recording has them. Out: the steady tempo that fits best (least squares), how far each time lies from it, and the one
// that looks mistyped. Invariant: an exact set of times has no residual. Read next: meter.h.
#pragma once
#include <optional>
#include <vector>

#include "tunesheaf/base/fraction.h"

namespace tunesheaf::theory {

struct TimedPlace {
  base::Fraction at;     // whole notes from the start, as played
  double seconds = 0.0;  // in the recording
};

struct TempoFit {
  double seconds_per_whole = 0.0;
  double start_seconds = 0.0;     // where the music begins in the recording
  std::vector<double> residuals;  // stated minus fitted seconds, one per place
  /// The place whose time stands out: without it the others fit at least four times better, and it is then more than
  /// `kTimeSlack` off. Needs four places, else none can be told from the rest.
  std::optional<std::size_t> doubtful;
  double doubtful_should_be = 0.0;  // seconds, by the others
  /// Beats a minute for a beat of that length.
  double beats_per_minute(base::Fraction beat) const;
};

/// Times are typed in whole seconds.
constexpr double kTimeSlack = 1.5;

/// Nothing with fewer than two different places, or when time would stand still or run backwards.
std::optional<TempoFit> fit_tempo(const std::vector<TimedPlace>& places);

/// Indices i where the time of place i is not after that of an earlier place in the music.
std::vector<std::size_t> times_running_backwards(const std::vector<TimedPlace>& places);

}  // namespace tunesheaf::theory

// Who plays when, as a chart says it. In: the song in time. Out: who rests in a section, who counts in and starts,
// where all stop together. Invariant: computed from what sounds, never from names alone.
#pragma once
#include <string>
#include <vector>

#include "tunesheaf/blocks/chart.h"

namespace tunesheaf::blocks {

/// "fiddle rests", "only drums", or empty where all parts play or the song has one part.
std::string who_rests(const score::Timeline& song, const score::Section& section);
/// Fills count_in (unless it is stated), counts, starts and enters.
void who_starts(const score::Timeline& song, ChartContent& chart);

struct Stop {
  int bar = 0;
  Fraction onset;
};
/// Places where everything that sounded before falls silent for a beat or more, not at a bar's beginning.
std::vector<Stop> stops(const score::Timeline& song, const score::Section& section);

}  // namespace tunesheaf::blocks

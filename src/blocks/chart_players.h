// Who plays when, as a chart says it. In: the song in time. Out: who rests in a section, who counts in and starts,
// where all stop together. Invariant: computed from what sounds, never from names alone.
#pragma once
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "tunesheaf/blocks/chart.h"

namespace tunesheaf::blocks {

/// "fiddle rests", "only drums", or empty where all parts play or the song has one part. Nothing of the parts whose
/// rests are `said` elsewhere.
std::string who_rests(const score::Timeline& song, const score::Section& section, const std::set<int>& said);
/// "tabla only in D" for parts that rest in most sections; these parts are put into `said`.
std::string rests_in_most(const score::Timeline& song, std::set<int>& said);
/// Fills count_in (unless it is stated), counts and starts (as stated, else worked out), and enters; of the parts in
/// `said` the head tells where they play.
void who_starts(const score::Timeline& song, const std::set<int>& said, ChartContent& chart);
/// Fills reads: what those read whose part stands in another key than the song's page.
void who_reads(const score::Timeline& song, ChartContent& chart);

struct Stop {
  int bar = 0;
  Fraction onset;
  std::string fills;  ///< "drums fill": who goes on alone in that bar
};
/// Places where everything that sounded before falls silent for a beat or more, not at a bar's beginning.
std::vector<Stop> stops(const score::Timeline& song, const score::Section& section);

struct PickUp {
  int bar = 0;
  Fraction onset, length;
  std::string players;
};
/// Who begins before the first whole bar of a section, and who comes in at the end of its last bar after a rest.
std::vector<PickUp> pick_ups(const score::Timeline& song, const score::Section& section);

/// Puts the strokes of `part` into last bars of sections and endings where it stops before the bar ends, or strikes
/// once and holds: a bare chord name there would have a player go on. Bars with stated hits keep those.
void last_strokes(const score::Timeline& song, const score::Section& from, int part, ChartSection& out);

/// Till where a bar is played on before the first of its hits at `first`: all of it where some part sounds there.
Fraction plays_on(const score::Section& section, std::size_t bar, Fraction first);

/// From which beat after the last hit of a bar, `end`, it is played on, drums that fill alone aside; nothing where not.
std::optional<Fraction> plays_again(const score::Timeline& song, const score::Section& section, std::size_t bar,
                                    Fraction end);

}  // namespace tunesheaf::blocks

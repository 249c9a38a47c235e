// The order of tunings in which a player turns the pegs least. In: the tuning that the instrument has at first, and the
// tunings to come, each as MIDI keys, low string first, all with as many strings. Out: their order and the way of all
// strings together, in semitones. Invariant: with twelve different tunings or fewer no order has a shorter way; with
// more it is a good one, never longer than that of the order given. Equal tunings stay together, as given among
// themselves. Read next: book/order.h.
#pragma once
#include <cstddef>
#include <vector>

namespace tunesheaf::book {

using Strings = std::vector<int>;

struct RetuneOrder {
  std::vector<std::size_t> order;  ///< indices into the tunings
  int semitones = 0;               ///< the sum over all strings and all changes, the first from the start included
};

/// Semitones that all strings together move.
int way_between(const Strings& a, const Strings& b);
int way_of(const Strings& start, const std::vector<Strings>& tunings, const std::vector<std::size_t>& order);

RetuneOrder least_retuning(const Strings& start, const std::vector<Strings>& tunings);
/// The two ways to find it; for tests. All tunings are different.
std::vector<std::size_t> exact_order(const Strings& start, const std::vector<Strings>& tunings);
std::vector<std::size_t> good_order(const Strings& start, const std::vector<Strings>& tunings);

}  // namespace tunesheaf::book

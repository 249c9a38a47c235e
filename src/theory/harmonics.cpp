#include "tunesheaf/theory/harmonics.h"

#include <cmath>
#include <numeric>

namespace tunesheaf::theory {

std::vector<Node> harmonic_nodes(int most) {
  std::vector<Node> out;
  for (int n = 2; n <= most; ++n) {
    const double over = 12.0 * std::log2(static_cast<double>(n));
    for (int k = 1; k < n; ++k) {
      if (std::gcd(k, n) != 1) continue;
      Node node;
      node.k = k;
      node.n = n;
      node.fret = 12.0 * std::log2(static_cast<double>(n) / static_cast<double>(n - k));
      node.semitones = static_cast<int>(std::lround(over));
      node.cents = 100.0 * (over - node.semitones);
      out.push_back(node);
    }
  }
  return out;
}

std::optional<Node> node_at(double fret, int most) {
  constexpr double kNearFrets = 0.4;
  for (const Node& node : harmonic_nodes(most)) {
    if (std::abs(node.fret - fret) <= kNearFrets) return node;
  }
  return std::nullopt;
}

std::vector<HarmonicCheck> harmonic_checks(const Tuning& tuning, int most_partial, double cents) {
  std::vector<HarmonicCheck> out;
  std::vector<Node> first;
  for (const Node& node : harmonic_nodes(most_partial)) {
    // The node nearest the nut is the one a player touches.
    if (node.k == 1) first.push_back(node);
  }
  for (int a = tuning.count(); a >= 2; --a) {
    for (int b = a - 1; b >= 1; --b) {
      for (const Node& node_a : first) {
        for (const Node& node_b : first) {
          const int sounds_a = tuning.string(a).midi() + node_a.semitones;
          const int sounds_b = tuning.string(b).midi() + node_b.semitones;
          const double apart = node_b.cents - node_a.cents;
          if (sounds_a == sounds_b && std::abs(apart) <= cents) out.push_back({a, b, node_a, node_b, apart});
        }
      }
    }
  }
  return out;
}

}  // namespace tunesheaf::theory

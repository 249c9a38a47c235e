// Natural harmonics. In: a fret as the player writes it (12, 7, 5, 4, 3.2). Out: the node k/n of the string it means
// and what sounds there. Invariant: node k/n sounds 12*log2(n) semitones over the open string (physics of strings).
// Read next: tuning.h.
#pragma once
#include <optional>
#include <vector>

#include "tunesheaf/theory/pitch.h"
#include "tunesheaf/theory/tuning.h"

namespace tunesheaf::theory {

struct Node {
  int k = 1, n = 2;    // lowest terms, from the nut
  double fret = 12.0;  // real fret position, 12*log2(n/(n-k))
  int semitones = 12;  // nearest semitone over the open string
  double cents = 0.0;  // how far the partial lies from it
};
/// Nodes of partials 2..most, by partial then k.
std::vector<Node> harmonic_nodes(int most = 8);
/// The node a player means at a fret: the lowest partial within 40 cents of the fret's place (0.4 frets). Nothing when
/// there is none up to the 8th partial.
std::optional<Node> node_at(double fret, int most = 8);

/// Two harmonics that should agree (within `cents` in equal temperament): checks one string against another by ear.
struct HarmonicCheck {
  int string_a = 1, string_b = 2;  // player's numbers
  Node node_a, node_b;
  double cents = 0.0;  // b against a in an exact equal-tempered tuning
};
std::vector<HarmonicCheck> harmonic_checks(const Tuning& tuning, int most_partial = 6, double cents = 3.0);

}  // namespace tunesheaf::theory

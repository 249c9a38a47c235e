// Syllables and the notes they are sung to, over all systems of a section. In: a staff and the words of its part. Out:
// each syllable with where the next one stands, and the notes it is held over. Invariant: a syllable ends at a rest.
// Read next: lyrics.cpp, slurs.cpp.
#pragma once
#include <vector>

#include "staff_context.h"

namespace tunesheaf::engrave {

struct Syllable {
  score::Place from, to;  ///< to: the next syllable of the section, exclusive
  bool hyphen = false;    ///< its word goes on
  bool single = true;     ///< else several words, said to several notes
  Span origin;
  int event = -1;
};
/// Of all words of a section, in order of time; none where the part does not sing.
std::vector<Syllable> syllables_of(const StaffContext& staff, const std::vector<score::Word>& words);

struct Melisma {
  score::Place last;   ///< where the last piece of its notes begins; `from` when there is one only
  bool moves = false;  ///< more than one pitch
};
Melisma melisma_of(const StaffContext& staff, const Syllable& syllable);

}  // namespace tunesheaf::engrave

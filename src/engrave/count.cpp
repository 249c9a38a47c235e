// The count of a bar as it is spoken. In: a bar's meter and where its notes are struck. Out: words at their onsets.
#include <algorithm>
#include <set>

#include "broken_bars.h"
#include "rows.h"

namespace tunesheaf::engrave {

std::vector<std::pair<Fraction, std::string>> count_of(const StaffContext& staff, int bar) {
  struct Syllable {
    Fraction share;
    const char* word;
  };
  static const Syllable kSyllables[] = {{Fraction(1, 4), "e"},
                                        {Fraction(1, 3), "&"},
                                        {Fraction(1, 2), "&"},
                                        {Fraction(2, 3), "a"},
                                        {Fraction(3, 4), "a"}};
  const score::Bar& b = staff.system.section.bars[static_cast<std::size_t>(bar)];
  std::set<Fraction> onsets;
  for (const Chord& chord : staff.plan.bars[static_cast<std::size_t>(bar)].chords) onsets.insert(chord.onset);
  const Fraction missing = piece_at(staff.system.request, bar).in_meter;
  const std::vector<theory::BarSpan> beats = b.meter.beats();
  const bool limps = std::any_of(beats.begin(), beats.end(),
                                 [&](const theory::BarSpan& beat) { return beat.length != beats.front().length; });
  const Fraction unit(1, b.meter.unit);
  std::vector<std::pair<Fraction, std::string>> said;
  int number = 0;
  for (const theory::BarSpan& beat : beats) {
    ++number;
    const auto struck = [&](Fraction share) { return onsets.count(beat.onset + beat.length * share - missing) > 0; };
    const auto say = [&](Fraction at, const std::string& word) {
      if (at >= missing && at - missing < b.length) said.emplace_back(at - missing, word);
    };
    say(beat.onset, std::to_string(number));
    const bool thirds = struck(Fraction(1, 3)) || struck(Fraction(2, 3));
    const bool fine = struck(Fraction(1, 4)) || struck(Fraction(3, 4));
    for (const Syllable& syllable : kSyllables) {
      const bool third = syllable.share.den() == 3;
      const bool counted = limps && (beat.length * syllable.share / unit).den() == 1;
      const bool heard = third == thirds && (struck(syllable.share) || (syllable.share == Fraction(1, 2) && fine));
      if (counted || heard) say(beat.onset + beat.length * syllable.share, syllable.word);
    }
  }
  return said;
}

}  // namespace tunesheaf::engrave

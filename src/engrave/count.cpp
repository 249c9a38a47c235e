// The count of a bar as it is spoken. In: a bar's meter and where its notes are struck. Out: words at their onsets.
#include "tunesheaf/theory/count.h"

#include <algorithm>
#include <functional>
#include <map>

#include "broken_bars.h"
#include "rows.h"

namespace tunesheaf::engrave {
namespace {

/// Where anything begins in a bar (a note, a rest, the rest of a held note), and whether it is struck there.
std::map<Fraction, bool> onsets_of(const StaffContext& staff, int bar) {
  std::map<Fraction, bool> out;
  for (const Chord& chord : staff.plan.bars[static_cast<std::size_t>(bar)].chords) {
    const bool tied = !chord.heads.empty() && std::all_of(chord.heads.begin(), chord.heads.end(),
                                                          [](const Head& head) { return head.tied_from; });
    bool& struck = out[chord.onset];
    struck = struck || (!chord.rest && chord.attack && !tied);
  }
  return out;
}

/// One beat: the words said beside its number, with their shares of it, in order.
std::vector<std::pair<Fraction, std::string>> words_within(const theory::BarSpan& beat, bool units_said,
                                                           const Fraction& unit,
                                                           const std::function<bool(Fraction)>& begins) {
  static const Fraction kShares[] = {{1, 6}, {1, 4}, {1, 3}, {1, 2}, {2, 3}, {3, 4}, {5, 6}};
  const bool in_three = begins({1, 3}) || begins({2, 3}) || begins({1, 6}) || begins({5, 6}) ||
                        (units_said && beat.length / unit == Fraction(3));
  const bool fine = begins({1, 4}) || begins({3, 4});
  std::vector<std::pair<Fraction, std::string>> out;
  for (const Fraction& share : kShares) {
    const std::string_view word = theory::spoken_share(share, in_three);
    const bool unit_here = units_said && (beat.length * share / unit).den() == 1;
    const bool filled = in_three ? share.den() == 3 : share == Fraction(1, 2) && fine;
    if (!word.empty() && (unit_here || filled || begins(share))) out.emplace_back(share, word);
  }
  return out;
}

}  // namespace

std::vector<Counted> count_of(const StaffContext& staff, int bar) {
  const score::Bar& b = staff.system.section.bars[static_cast<std::size_t>(bar)];
  const std::map<Fraction, bool> onsets = onsets_of(staff, bar);
  const Fraction missing = piece_at(staff.system.request, bar).in_meter;
  const std::vector<theory::BarSpan> beats = b.meter.beats();
  const bool limps = std::any_of(beats.begin(), beats.end(),
                                 [&](const theory::BarSpan& beat) { return beat.length != beats.front().length; });
  std::vector<Counted> said;
  int number = 0;
  for (const theory::BarSpan& beat : beats) {
    ++number;
    const auto place = [&](Fraction share) { return beat.onset + beat.length * share - missing; };
    const auto begins = [&](Fraction share) { return onsets.count(place(share)) > 0; };
    const auto say = [&](Fraction share, std::string word) {
      const Fraction at = place(share);
      if (at < Fraction() || at >= b.length) return;
      const auto found = onsets.find(at);
      said.push_back({at, std::move(word), found != onsets.end() && found->second});
    };
    say({}, std::to_string(number));
    for (auto& [share, word] : words_within(beat, limps, Fraction(1, b.meter.unit), begins))
      say(share, std::move(word));
  }
  return said;
}

}  // namespace tunesheaf::engrave

// The count of a bar as it is spoken. In: a bar's meter and where its notes are struck. Out: words at their onsets.
#include "tunesheaf/theory/count.h"

#include <algorithm>
#include <functional>
#include <map>

#include "broken_bars.h"
#include "rows.h"
#include "spacing.h"

namespace tunesheaf::engrave {
namespace {

/// Where anything begins in a bar (a note, a rest, the rest of a held note), and whether it is struck there.
std::map<Fraction, bool> onsets_of(const CountedBar& of) {
  std::map<Fraction, bool> out;
  for (const Chord& chord : of.plan.bars[static_cast<std::size_t>(of.bar)].chords) {
    const bool tied = !chord.heads.empty() && std::all_of(chord.heads.begin(), chord.heads.end(),
                                                          [](const Head& head) { return head.tied_from; });
    bool& struck = out[chord.onset];
    struck = struck || (!chord.rest && chord.attack && !tied);
  }
  if (of.plan.part < 0) return out;
  for (const score::BodyTap& tap : of.section.parts[static_cast<std::size_t>(of.plan.part)].taps) {
    if (tap.at.bar == of.bar) out[tap.at.onset] = true;
  }
  return out;
}

/// Beats of two lengths: then every unit is counted, and none may be missing.
bool beats_differ(const theory::Meter& meter) {
  const std::vector<theory::BarSpan> beats = meter.beats();
  return std::any_of(beats.begin(), beats.end(),
                     [&](const theory::BarSpan& beat) { return beat.length != beats.front().length; });
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

std::vector<Counted> count_of(const CountedBar& of) {
  const score::Bar& b = of.section.bars[static_cast<std::size_t>(of.bar)];
  const std::map<Fraction, bool> onsets = onsets_of(of);
  const Fraction missing = piece_at(of.request, of.bar).in_meter;
  const std::vector<theory::BarSpan> beats = b.meter.beats();
  const bool limps = beats_differ(b.meter);
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

std::vector<SpokenWord> spoken_words(const CountedBar& of, text::Shaper& shaper, const style::Style& style) {
  style::TypeRole small = style.label;
  small.size = std::max(kLeastType, small.size * 0.8);
  small.weight = std::min(small.weight, 400);
  const bool limps = beats_differ(of.section.bars[static_cast<std::size_t>(of.bar)].meter);
  std::vector<SpokenWord> out;
  for (const Counted& one : count_of(of)) {
    const bool number = one.word.front() >= '0' && one.word.front() <= '9';
    out.push_back({one.at,
                   one.struck ? shaper.line(one.word, text_style(style.label))
                              : shaper.line("(" + one.word + ")", text_style(small)),
                   !one.struck && !number && !limps});
  }
  return out;
}

namespace {

/// A place in a bar as the drawing finds it: `share` of the way from one column to the next, or to the bar line.
struct Between {
  std::size_t column = 0;
  double share = 0;
};

Between between(const std::vector<Fraction>& onsets, Fraction at, Fraction bar_length) {
  const auto after = std::upper_bound(onsets.begin(), onsets.end(), at);
  const auto column = static_cast<std::size_t>(after - onsets.begin()) - 1;
  const Fraction from = onsets[column], to = after == onsets.end() ? bar_length : *after;
  return {column, ((at - from) / (to - from)).to_double()};
}

/// What keeps two places `apart`, the second at `to`: whole columns, or shares of those between them.
void keep_apart(Between from, Between to, Length apart, std::vector<layout::Rod>& rods) {
  if (from.share <= 0 && to.share <= 0) {
    rods.push_back({from.column, to.column, apart});
    return;
  }
  const double shares = static_cast<double>(to.column) + to.share - static_cast<double>(from.column) - from.share;
  const std::size_t end = to.column + (to.share > 0 ? 1 : 0);
  for (std::size_t column = from.column; column < end; ++column)
    rods.push_back({column, column + 1, apart * (1 / shares)});
}

}  // namespace

std::vector<layout::Rod> count_rods(const SectionMusic& music, int bar, const std::vector<Fraction>& onsets) {
  std::size_t last = 0;
  while (last + 1 < music.plans.size() && music.plans[last + 1].part == music.plans.front().part) ++last;
  const Length white = music.inks.sp * 0.3, line_width = bar_line_width(music, bar);
  const Fraction length = music.section.bars[static_cast<std::size_t>(bar)].length;
  std::vector<layout::Rod> rods;
  const SpokenWord* before = nullptr;
  const auto words =
      spoken_words({music.plans[last], music.section, music.request, bar}, music.inks.shaper, music.inks.style);
  for (const SpokenWord& word : words) {
    if (word.gives_way) continue;
    if (before != nullptr) {
      keep_apart(between(onsets, before->at, length), between(onsets, word.at, length),
                 (before->line.width + word.line.width) / 2 + white, rods);
    }
    before = &word;
  }
  if (before != nullptr) {
    keep_apart(between(onsets, before->at, length), {onsets.size(), 0}, before->line.width / 2 + white / 2 + line_width,
               rods);
  }
  return rods;
}

}  // namespace tunesheaf::engrave

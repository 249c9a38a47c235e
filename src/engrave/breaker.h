// Where a section's music breaks into systems. In: its bars as they are spaced, with what stands at each bar line. Out:
// the first bar of every system. Invariant: bars that stand as one are never parted; the rest of a broken bar begins a
// system. Read next: layout/lines.h, wide_bars.h.
#pragma once
#include <algorithm>
#include <cstdint>
#include <optional>
#include <vector>

#include "broken_bars.h"
#include "spacing.h"
#include "tunesheaf/layout/lines.h"

namespace tunesheaf::engrave {

class Breaker {
 public:
  Breaker(const SectionMusic& music, const std::vector<BarSpacing>& bars, Length first_margin, Length later_margin)
      : music_(music), first_margin_(first_margin), later_margin_(later_margin) {
    sums_.emplace_back();
    even_.emplace_back();
    for (std::size_t b = 0; b < bars.size(); ++b) {
      const LeadIn start = lead_in(music, static_cast<int>(b), true),
                   inside = lead_in(music, static_cast<int>(b), false);
      const bool continues = piece_at(music.request, static_cast<int>(b)).continues;
      begins_.push_back(continues || b == 0 ? b : begins_.back());
      start_.push_back(start.end);
      inside_.push_back(inside.end);
      courtesy_.push_back(courtesy(music, static_cast<int>(b) + 1).end);
      layout::Measure sum = sums_.back();
      sum.minimum += bars[b].measure.minimum + inside.end;
      sum.natural += bars[b].measure.natural + inside.end;
      sum.give += bars[b].measure.give;
      sums_.push_back(sum);
      even_.push_back(even_.back() + inside.end + even_width(bars[b]));
      const bool goes_on = std::any_of(music.plans.begin(), music.plans.end(), [&](const StaffPlan& plan) {
        return plan.bars[b].rest_bars < 0 || plan.bars[b].repeat == BarRepeat::SecondOfTwo;
      });
      if (!goes_on) units_.push_back(b);
    }
    units_.push_back(bars.size());
  }

  /// Bars that stand as one are never parted; a phrase that comes again is broken alike where that is cheap.
  std::vector<std::size_t> run() const {
    const std::size_t count = units_.size() - 1;
    const auto of_units = [this](std::size_t first, std::size_t last) { return cost(units_[first], units_[last]); };
    constexpr std::size_t kLongSection = 400;  // bars; a song without sections is broken once
    constexpr double kAlike = 0.08;            // of extra cost a system
    std::vector<std::uint64_t> music;
    for (std::size_t u = 0; u < count && count <= kLongSection; ++u) music.push_back(likeness(units_[u]));
    std::vector<std::size_t> firsts = layout::break_lines_alike(count, of_units, layout::find_repeats(music), kAlike);
    for (std::size_t& first : firsts) first = units_[first];
    return firsts;
  }

  layout::Measure measure(std::size_t first, std::size_t last) const {
    const Length more = start_[first] - inside_[first];
    return {sums_[last].minimum - sums_[first].minimum + more, sums_[last].natural - sums_[first].natural + more,
            sums_[last].give - sums_[first].give};
  }
  Length available(std::size_t first, std::size_t last) const {
    return music_.request.width - (first == 0 ? first_margin_ : later_margin_) - courtesy_[last - 1];
  }

  /// First bars of what is never parted, and the number of all bars.
  const std::vector<std::size_t>& units() const { return units_; }

 private:
  /// Squared strain: how far springs are stretched or pressed against what they bear; pressing counts more. A small
  /// cost per system keeps the number of systems down; a last system that is nearly empty is discouraged.
  std::optional<double> cost(std::size_t first, std::size_t last) const {
    if (begins_[last - 1] > first) return std::nullopt;
    const layout::Measure m = measure(first, last);
    const Length room = available(first, last);
    if (m.minimum > room) return std::nullopt;
    const double give = std::max(1.0, static_cast<double>(m.give.units()));
    const double strain = static_cast<double>((room - m.natural).units()) / give;
    constexpr double kPerSystem = 0.03, kLeastFilled = 0.6;
    if (last == start_.size() && strain > 0) {
      constexpr double kLastLoose = 0.2, kLastShort = 7;
      const double filled = m.natural / room;
      return kPerSystem +
             (filled < kLeastFilled ? (kLeastFilled - filled) * kLastShort : kLastLoose * strain * strain);
    }
    const double pressed = strain < 0 ? strain * 2.5 : strain;
    const Length even = even_[last] - even_[first] + start_[first] - inside_[first];
    constexpr double kUneven = 12;  // where ink alone decides, a quarter takes no more room than an eighth
    const double uneven = even > room ? (even - room) / room : 0.0;
    return kPerSystem + pressed * pressed + kUneven * uneven;
  }

  /// Width of a bar below which its longer values would no longer be seen to be longer.
  static Length even_width(const BarSpacing& bar) {
    constexpr double kLeast = 0.85;  // of the natural width
    Length width = bar.lead;
    for (const layout::Spring& s : bar.springs) width += std::max(s.minimum, s.natural * kLeast);
    return width;
  }

  /// The same for bars that look alike on every staff.
  std::uint64_t likeness(std::size_t bar) const {
    std::uint64_t hash = 1469598103934665603U;
    const auto mix = [&hash](std::int64_t value) {
      hash = (hash ^ static_cast<std::uint64_t>(value)) * 1099511628211U;
    };
    for (const StaffPlan& plan : music_.plans) {
      mix(-1);
      for (const Chord& chord : plan.bars[bar].chords) {
        mix(chord.onset.num());
        mix(chord.onset.den());
        mix(chord.duration.num());
        mix(chord.duration.den());
        mix(chord.rest ? 1 : 2);
        for (const Head& head : chord.heads) mix(head.position + 64 * static_cast<int>(head.sign));
        if (plan.kind != StaffKind::Tab || chord.event < 0 || chord.rest) continue;
        for (const score::Note& note : music_.timeline.events[static_cast<std::size_t>(chord.event)].notes) {
          mix(note.string * 64 + note.fret);
        }
      }
    }
    return hash;
  }

  const SectionMusic& music_;
  Length first_margin_, later_margin_;
  std::vector<layout::Measure> sums_;
  std::vector<Length> start_, inside_, courtesy_;
  std::vector<Length> even_;        // sums as sums_, see even_width()
  std::vector<std::size_t> units_;  // see units()
  std::vector<std::size_t>
      begins_;  // the last bar up to this one that begins a system by force: it goes on from another
};

}  // namespace tunesheaf::engrave

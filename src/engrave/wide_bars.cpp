#include "wide_bars.h"

#include <algorithm>
#include <limits>
#include <utility>

namespace tunesheaf::engrave {

namespace {

/// A place where the bar may be broken, or one of its ends.
struct Cut {
  Fraction onset;
  Length x;       ///< of its column, all springs pressed to their rods
  Length before;  ///< from the left end of what follows the opening of a system to that column
  double harm = 0;
};

class BarCutter {
 public:
  BarCutter(const SectionMusic& music, const BarSpacing& spacing, int bar, BreakAt at)
      : music_(music), spacing_(spacing), bar_(bar), at_(at), piece_(piece_at(music.request, bar)) {
    Length x = spacing.lead;
    cuts_.push_back({{}, x, x, 0});
    for (std::size_t c = 1; c < spacing.onsets.size(); ++c) {
      x += spacing.springs[c - 1].minimum;
      const std::optional<double> harm = harm_at(spacing.onsets[c]);
      if (harm) cuts_.push_back({spacing.onsets[c], x, music.inks.sp + ink_before(c), *harm});
    }
    cuts_.push_back({bar_length(), x + spacing.springs.back().minimum, {}, 0});
  }

  /// The fewest pieces, then the most even ones; a piece without a cut in it may be wider than its room.
  std::vector<Fraction> choose(Length first_room, Length later_room) const {
    constexpr double kPiece = 100, kTooWide = 400;
    struct Best {
      double cost = std::numeric_limits<double>::infinity();
      std::size_t from = 0;
    };
    std::vector<Best> best(cuts_.size());
    best[0].cost = 0;
    for (std::size_t from = 0; from + 1 < cuts_.size(); ++from) {
      for (std::size_t to = from + 1; to < cuts_.size(); ++to) {
        const Length width = cuts_[from].before + cuts_[to].x - cuts_[from].x,
                     room = from == 0 ? first_room : later_room;
        const bool too_wide = width > room;
        if (too_wide && to > from + 1) break;
        const double left = too_wide ? 0 : (room - width) / room;
        const double cost = best[from].cost + kPiece + (too_wide ? kTooWide : 0) + 4 * left * left + cuts_[to].harm;
        if (cost < best[to].cost) best[to] = {cost, from};
      }
    }
    std::vector<Fraction> out;
    for (std::size_t at = best.back().from; at > 0; at = best[at].from) out.push_back(cuts_[at].onset);
    std::reverse(out.begin(), out.end());
    return out;
  }

 private:
  const score::Bar& bar() const { return music_.section.bars[static_cast<std::size_t>(bar_)]; }
  Fraction bar_length() const { return bar().length; }

  Length ink_before(std::size_t column) const {
    Length left = spacing_.ink_left[column];
    for (const auto& [at, ink] : spacing_.before_grace)
      if (at.first == column) left = std::max(left, ink);
    return left;
  }

  /// Nothing where the bar may not be broken.
  std::optional<double> harm_at(Fraction onset) const {
    const int level = bar().meter.level(piece_.in_meter + onset);
    constexpr int kBeat = 2;
    if (level > (at_ == BreakAt::Beats ? kBeat : theory::Meter::kOffGrid - 1)) return std::nullopt;
    double harm = level <= 1 ? 0 : level == kBeat ? 0.1 : 0.5;
    for (const StaffPlan& plan : music_.plans) {
      const StaffBar& staff = plan.bars[static_cast<std::size_t>(bar_)];
      if (staff.repeat_sign) continue;
      const auto runs_over = [&](const std::vector<int>& chords) {
        const Chord &first = staff.chords[static_cast<std::size_t>(chords.front())],
                    &last = staff.chords[static_cast<std::size_t>(chords.back())];
        return first.onset < onset && onset < last.onset + last.duration;
      };
      for (const Chord& chord : staff.chords) {
        if (chord.onset >= onset || chord.onset + chord.duration <= onset) continue;
        if (plan.part < 0 && !chord.rest) return std::nullopt;  // a hit of the chart is one slash
        harm += chord.rest ? 0.05 : 0.3;
      }
      for (const BeamGroup& beam : staff.beams) harm += runs_over(beam.chords) ? 0.2 : 0;
      for (const TupletGroup& tuplet : staff.tuplets) {
        if (!runs_over(tuplet.chords)) continue;
        if (at_ == BreakAt::Beats) return std::nullopt;
        harm += 2;
      }
    }
    return harm;
  }

  const SectionMusic& music_;
  const BarSpacing& spacing_;
  int bar_;
  BreakAt at_;
  BarPiece piece_;
  std::vector<Cut> cuts_;
};

/// How much less stands at the left of a system that begins within the bar: no meter and no repeat.
Length less_opening(const LeadIn& in, Length sp) {
  Length end = in.end;
  if (in.has_repeat) end = std::min(end, in.repeat - sp * 0.6);
  if (in.has_meter) end = std::min(end, in.meter - sp * 0.5);
  return in.end - end;
}

}  // namespace

std::vector<WideBar> wide_bars(const SectionMusic& music, const std::vector<BarSpacing>& bars, const Breaker& breaker,
                               BreakAt at) {
  std::vector<WideBar> out;
  const std::vector<std::size_t>& units = breaker.units();
  for (std::size_t u = 0; u + 1 < units.size(); ++u) {
    const std::size_t first = units[u], behind = units[u + 1];
    if (breaker.measure(first, behind).minimum <= breaker.available(first, behind)) continue;
    for (std::size_t b = first; b < behind; ++b) {
      const BarCutter cutter(music, bars[b], static_cast<int>(b), at);
      const LeadIn in = lead_in(music, static_cast<int>(b), true);
      const Length room = (breaker.available(b, b + 1) - in.end) / static_cast<std::int64_t>(behind - first);
      const Length later =
          room + less_opening(in, music.inks.sp) + breaker.available(b + 1, b + 1) - breaker.available(b, b + 1);
      out.push_back({static_cast<int>(b), cutter.choose(room, later)});
    }
  }
  return out;
}

namespace {

/// One way to set a section: at one size, with some of its bars broken.
struct Attempt {
  std::unique_ptr<const BrokenBars> broken;
  std::unique_ptr<Setter> setter;
  std::vector<int> too_wide;  ///< bars as written in which something that cannot be broken is wider than the page
};

/// Each round breaks or writes out at least one bar more, so that there is an end to them.
Attempt attempt(SectionRequest request, const style::Style& style, const NewSetter& set, BreakAt at) {
  Attempt out;
  for (std::set<score::Place> places;;) {
    out.setter.reset();
    out.broken = break_bars(request, places);
    out.setter = set(out.broken->request, style);
    const std::size_t before = places.size() + request.written_out.size();
    for (const int bar : out.setter->break_lines())
      request.written_out.insert(out.broken->pieces[static_cast<std::size_t>(bar)].bar);
    out.too_wide.clear();
    for (const WideBar& wide : out.setter->wide(at)) {
      const BarPiece& piece = out.broken->pieces[static_cast<std::size_t>(wide.bar)];
      if (wide.breaks.empty()) out.too_wide.push_back(piece.bar);
      for (const Fraction onset : wide.breaks) {
        places.insert({piece.bar, piece.from + onset});
        request.written_out.insert(piece.bar);
      }
    }
    const bool hopeless = at == BreakAt::Beats && !out.too_wide.empty();
    if (places.size() + request.written_out.size() == before || hopeless) return out;
  }
}

void as_written(EngravedSystem& system, const std::vector<BarPiece>& pieces) {
  const auto bar = [&](int piece) { return pieces[static_cast<std::size_t>(piece)].bar; };
  system.first_bar = bar(system.first_bar);
  system.last_bar = bar(system.last_bar - 1) + 1;
  for (RemarkAnchor& remark : system.remarks) remark.bar = bar(remark.bar);
}

EngravedSection engrave_wide(const SectionRequest& request, const style::Style& style, const NewSetter& set) {
  constexpr double kSmaller = 0.9, kSmallest = 0.55;  // of the size that was asked for
  Attempt best = attempt(request, style, set, BreakAt::Beats);
  const std::vector<int> smaller_for = best.too_wide;
  style::Style smaller = style;  // what is set keeps a reference
  for (double size = kSmaller; !best.too_wide.empty(); size *= kSmaller) {
    const bool last = size * kSmaller < kSmallest;
    smaller = style::with_staff_space(style, style.staff_space * size);
    best = attempt(request, smaller, set, last ? BreakAt::AnyNote : BreakAt::Beats);
    if (last) break;
  }
  EngravedSection out = best.setter->run();
  const score::Section& section = request.timeline->sections[static_cast<std::size_t>(request.section)];
  std::set<int> told;
  for (EngravedSystem& system : out.systems) {
    as_written(system, best.broken->pieces);
    for (const int bar : smaller_for) {
      if (bar < system.first_bar || bar >= system.last_bar || system.overfull || !told.insert(bar).second) continue;
      system.set_smaller = true;
      system.overfull_at = section.bars[static_cast<std::size_t>(bar)].origin;
    }
  }
  return out;
}

}  // namespace

EngravedSection engrave_lines(SectionRequest request, const style::Style& style, const NewSetter& set) {
  for (;;) {
    const std::unique_ptr<Setter> setter = set(request, style);
    const std::set<int> torn = setter->break_lines();
    if (torn.empty()) return setter->wide(BreakAt::Beats).empty() ? setter->run() : engrave_wide(request, style, set);
    request.written_out.insert(torn.begin(), torn.end());
  }
}

}  // namespace tunesheaf::engrave

#include "tunesheaf/theory/rhythm.h"

#include <algorithm>
#include <numeric>

#include "rhythm_beams.h"
#include "rhythm_grid.h"
#include "rhythm_tuplets.h"

namespace tunesheaf::theory {
namespace {

using base::Fraction;
using detail::BarTime;
using detail::Grid;
using detail::Region;
using detail::Sound;
using detail::Ticks;
using detail::TickScale;

// With this bound every product of ticks, cells and bars stays within 64 bits.
constexpr std::int64_t kMaxOdd = std::int64_t{1} << 36;

std::int64_t odd_part(std::int64_t n) {
  while (n % 2 == 0) n /= 2;
  return n;
}

/// One bar on its way from spans to pieces.
class Speller {
 public:
  Speller(const Meter& meter, BarShape bar, const std::vector<RhythmSpan>& spans)
      : meter_(meter), bar_(bar), spans_(spans) {}

  base::Result<Spelling, SpellError> spell() {
    if (auto bad = check()) return *bad;
    if (auto bad = measure()) return *bad;
    if (sources_.size() == 1 && spans_.front().rest) return whole_bar();
    const Grid grid = Grid::bar(meter_, time_.scale);
    regions_ = detail::find_tuplets(grid, time_);
    for (std::size_t k = 0; k < sources_.size(); ++k) {
      if (!write(grid, k)) return fault(SpellFault::kTooFine, sources_[k]);
    }
    finish_tuplets();
    detail::add_beams(meter_, time_.scale, beam_input_, beam_tuplets_, out_);
    settle_brackets();
    return std::move(out_);
  }

 private:
  SpellError fault(SpellFault what, std::size_t span) const {
    return {what, static_cast<int>(span), span < spans_.size() ? spans_[span].onset : bar_.length};
  }

  std::optional<SpellError> check() const {
    if (spans_.empty() || bar_.length <= Fraction(0)) return fault(SpellFault::kEmpty, 0);
    const Fraction begin = bar_.align == BarAlign::kWithin ? bar_.from : Fraction();
    if (begin + bar_.length > meter_.bar_length()) return fault(SpellFault::kBarTooLong, 0);
    Fraction at(0);
    for (std::size_t k = 0; k < spans_.size(); ++k) {
      if (spans_[k].onset != at) return fault(SpellFault::kGap, k);
      if (spans_[k].duration <= Fraction(0)) return fault(SpellFault::kNoDuration, k);
      at += spans_[k].duration;
    }
    if (at != bar_.length) return fault(SpellFault::kNotFilled, spans_.size());
    return std::nullopt;
  }

  /// Fractions to ticks of the full bar; neighbouring rests become one.
  std::optional<SpellError> measure() {
    Ticks odd = odd_part(bar_.length.den());
    for (std::size_t k = 0; k < spans_.size(); ++k) {
      const std::int64_t part = odd_part(spans_[k].onset.den());
      if (odd % part != 0) odd = part > kMaxOdd ? kMaxOdd + 1 : odd / std::gcd(odd, part) * part;
      const std::int64_t halves = spans_[k].onset.den() / part;
      if (odd > kMaxOdd || halves > (Ticks{1} << TickScale::kShift)) return fault(SpellFault::kTooFine, k);
    }
    if (bar_.length.den() / odd_part(bar_.length.den()) > (Ticks{1} << TickScale::kShift)) {
      return fault(SpellFault::kTooFine, 0);
    }
    time_.scale.odd = odd;
    const Ticks length = time_.scale.of(bar_.length);
    if (!time_.scale.on_grid(length)) return fault(SpellFault::kBarOffGrid, spans_.size());
    if (bar_.align == BarAlign::kWithin) {
      if (!time_.scale.divides(bar_.from) || !time_.scale.on_grid(time_.scale.of(bar_.from)))
        return fault(SpellFault::kBarOffGrid, 0);
      offset_ = time_.scale.of(bar_.from);
    }
    if (bar_.align == BarAlign::kEnd) offset_ = time_.scale.of(meter_.bar_length()) - length;
    time_.spans.reserve(spans_.size());
    for (std::size_t k = 0; k < spans_.size(); ++k) {
      if (k > 0 && spans_[k].rest && spans_[k - 1].rest) continue;
      const Ticks begin = time_.scale.of(spans_[k].onset) + offset_;
      if (k > 0) time_.spans.back().end = begin;
      time_.onsets.push_back(begin);
      time_.spans.push_back({begin, 0, spans_[k].rest ? Sound::kRest : Sound::kNote});
      sources_.push_back(k);
    }
    time_.spans.back().end = length + offset_;
    time_.onsets.push_back(length + offset_);
    return std::nullopt;
  }

  Spelling whole_bar() {
    SpelledPiece piece;
    piece.duration = bar_.length;
    piece.value = bar_.length >= Fraction(2) ? NoteValue::kBreve : NoteValue::kWhole;
    piece.rest = piece.whole_bar_rest = true;
    piece.id = spans_.front().id;
    out_.pieces.push_back(piece);
    return std::move(out_);
  }

  /// Writes one span: piece by piece, broken at the bounds of tuplets.
  bool write(const Grid& bar, std::size_t index) {
    const detail::TickSpan& span = time_.spans[index];
    const std::size_t first = out_.pieces.size();
    Ticks at = span.begin;
    while (at < span.end) {
      while (region_ < regions_.size() && regions_[region_].end() <= at) ++region_;
      Ticks end = span.end;
      int tuplet = -1;
      if (region_ < regions_.size()) {
        const Region& region = regions_[region_];
        if (at >= region.start) tuplet = static_cast<int>(region_);
        end = std::min(end, tuplet >= 0 ? region.end() : region.start);
      }
      const Grid& grid = tuplet >= 0 ? regions_[region_].grid : bar;
      scratch_.clear();
      if (!grid.cut(grid.root(), at, end, span.sound, time_.onsets, scratch_)) return false;
      for (const detail::Piece& piece : scratch_) add(piece, tuplet, spans_[sources_[index]]);
      at = end;
    }
    tie(first, index);
    return true;
  }

  void add(const detail::Piece& piece, int tuplet, const RhythmSpan& source) {
    SpelledPiece& out = out_.pieces.emplace_back();
    out.onset = Fraction(piece.begin - offset_, time_.scale.whole());
    out.duration = Fraction(piece.end - piece.begin, time_.scale.whole());
    out.value = piece.value.value;
    out.dots = piece.value.dots;
    out.rest = source.rest;
    out.id = source.id;
    out.tuplet = tuplet;
    beam_input_.push_back({piece.begin, piece.end, source.rest ? 0 : flag_count(out.value), tuplet});
  }

  void tie(std::size_t first, std::size_t index) {
    const RhythmSpan& source = spans_[sources_[index]];
    if (source.rest) return;
    for (std::size_t k = first; k < out_.pieces.size(); ++k) {
      out_.pieces[k].tie_from_previous = k > first || source.tied_from_previous;
      out_.pieces[k].tie_to_next = k + 1 < out_.pieces.size() || source.tied_to_next;
    }
  }

  /// Fills the list of tuplets. Where every piece is shorter than the figure's value, the figure is doubled: six
  /// sixteenths are a sextuplet, four sixteenths in a compound beat a quadruplet.
  void finish_tuplets() {
    for (std::size_t r = 0; r < regions_.size(); ++r) {
      const Region& region = regions_[r];
      Tuplet tuplet;
      tuplet.actual = region.actual;
      tuplet.normal = region.normal;
      tuplet.onset = Fraction(region.start - offset_, time_.scale.whole());
      tuplet.duration = Fraction(region.length, time_.scale.whole());
      tuplet.base_value = time_.scale.written(region.length / region.normal)->value;
      const auto in = [&](const SpelledPiece& p) { return p.tuplet == static_cast<int>(r); };
      const auto first = std::find_if(out_.pieces.begin(), out_.pieces.end(), in);
      const auto last = std::find_if_not(first, out_.pieces.end(), in);
      tuplet.first = static_cast<int>(first - out_.pieces.begin());
      tuplet.last = static_cast<int>(last - out_.pieces.begin()) - 1;
      NoteValue longest = NoteValue::k1024th;
      for (auto it = first; it != last; ++it) longest = std::min(longest, it->value);
      while (tuplet.base_value < longest) {
        tuplet.actual *= 2;
        tuplet.normal *= 2;
        tuplet.base_value = static_cast<NoteValue>(static_cast<int>(tuplet.base_value) + 1);
      }
      out_.tuplets.push_back(tuplet);
      beam_tuplets_.push_back(
          {region.start, region.length, region.length / region.actual, region.actual, region.normal});
    }
  }

  void settle_brackets() {
    for (Tuplet& tuplet : out_.tuplets) {
      const int beam = out_.pieces[static_cast<std::size_t>(tuplet.first)].beam;
      if (beam < 0) continue;
      const Beam& b = out_.beams[static_cast<std::size_t>(beam)];
      tuplet.bracket = b.first != tuplet.first || b.last != tuplet.last;
    }
  }

  const Meter& meter_;
  const BarShape bar_;
  const std::vector<RhythmSpan>& spans_;
  BarTime time_;
  std::vector<std::size_t> sources_;  ///< index into spans_ of each span in time_
  Ticks offset_ = 0;                  ///< start of the bar in the full bar
  std::vector<Region> regions_;
  std::size_t region_ = 0;
  std::vector<detail::Piece> scratch_;
  std::vector<detail::BeamInput> beam_input_;
  std::vector<detail::BeamTuplet> beam_tuplets_;
  Spelling out_;
};

}  // namespace

base::Result<Spelling, SpellError> spell_bar(const Meter& meter, BarShape bar, const std::vector<RhythmSpan>& spans) {
  return Speller(meter, bar, spans).spell();
}

base::Result<Spelling, SpellError> spell_bar(const Meter& meter, const std::vector<RhythmSpan>& spans) {
  return spell_bar(meter, {meter.bar_length(), BarAlign::kStart}, spans);
}

std::vector<RhythmSpan> join(const std::vector<SpelledPiece>& pieces) {
  std::vector<RhythmSpan> out;
  for (std::size_t k = 0; k < pieces.size(); ++k) {
    const SpelledPiece& p = pieces[k];
    const bool tied = k > 0 && !p.rest && pieces[k - 1].tie_to_next && p.tie_from_previous && pieces[k - 1].id == p.id;
    const bool silent = k > 0 && p.rest && pieces[k - 1].rest;
    if (tied || silent) {
      out.back().duration += p.duration;
      out.back().tied_to_next = p.tie_to_next;
    } else {
      out.push_back({p.onset, p.duration, p.rest, p.tie_from_previous, p.tie_to_next, p.id});
    }
  }
  return out;
}

Fraction sounding_duration(const Spelling& spelling, const SpelledPiece& piece) {
  Fraction duration = written_duration(piece.value, piece.dots);
  for (int t = piece.tuplet; t >= 0; t = spelling.tuplets[static_cast<std::size_t>(t)].parent) {
    const Tuplet& tuplet = spelling.tuplets[static_cast<std::size_t>(t)];
    duration = duration * Fraction(tuplet.normal, tuplet.actual);
  }
  return duration;
}

}  // namespace tunesheaf::theory

// The rules of a spelling, checked on its pieces alone and with fractions only, so that the checks share nothing with
// the speller's tree. In: meter, input spans, spelling. Out: "" or the first broken rule in words. Sources: the
// project's page rules 3 and 5; Gould 2011 on syncopation, rests and beams.
#pragma once
#include <string>
#include <vector>

#include "tunesheaf/theory/rhythm.h"

namespace tunesheaf::theory::testing {

class Rules {
 public:
  Rules(const Meter& meter, const std::vector<RhythmSpan>& spans, const Spelling& spelling)
      : meter_(meter), spans_(spans), s_(spelling), beats_(meter.beats()), groups_(meter.beam_groups()) {}

  std::string broken() const {
    if (join(s_.pieces) != spans_) return "the pieces do not read back as the spans";
    for (std::string (Rules::*rule)() const : {&Rules::exact, &Rules::ties, &Rules::middle, &Rules::rests,
                                               &Rules::beats_visible, &Rules::tuplets, &Rules::beams, &Rules::hooks}) {
      std::string text = (this->*rule)();
      if (!text.empty()) return text;
    }
    return "";
  }

 private:
  using Fraction = base::Fraction;
  const SpelledPiece& piece(int i) const { return s_.pieces[static_cast<std::size_t>(i)]; }
  int count() const { return static_cast<int>(s_.pieces.size()); }
  bool four_four() const { return meter_.count == 4 && meter_.unit == 4 && meter_.grouping.empty(); }
  static bool crosses(const SpelledPiece& p, Fraction at) { return p.onset < at && p.end() > at; }
  bool in_wide_tuplet(const SpelledPiece& p) const {
    if (p.tuplet < 0) return false;
    const Tuplet& t = s_.tuplets[static_cast<std::size_t>(p.tuplet)];
    return beat_of(t.onset) != beat_of(t.onset + t.duration - Fraction(1, 1 << 20));
  }
  int beat_of(Fraction at) const {
    for (std::size_t k = 0; k < beats_.size(); ++k) {
      if (at < beats_[k].end()) return static_cast<int>(k);
    }
    return -1;
  }
  bool on_beat(Fraction at) const {
    for (const BarSpan& b : beats_) {
      if (b.onset == at) return true;
    }
    return at == meter_.bar_length();
  }
  bool boundary(Fraction at) const {
    for (const SpelledPiece& p : s_.pieces) {
      if (p.onset == at || p.end() == at) return true;
    }
    return false;
  }

  std::string exact() const {
    Fraction at(0);
    for (const SpelledPiece& p : s_.pieces) {
      if (p.onset != at) return "a gap before a piece";
      if (!p.whole_bar_rest && sounding_duration(s_, p) != p.duration) return "a value that is not its duration";
      if (p.whole_bar_rest && count() != 1) return "a whole-bar rest beside something";
      if (p.dots > 2 || (p.rest && p.dots > 1)) return "too many dots";
      at = p.end();
    }
    return at == meter_.bar_length() ? "" : "the bar is not filled";
  }

  std::string ties() const {
    for (int i = 0; i + 1 < count(); ++i) {
      if (piece(i).tie_to_next != piece(i + 1).tie_from_previous) return "half a tie";
      if (piece(i).tie_to_next && (piece(i).id != piece(i + 1).id || piece(i).rest || piece(i + 1).rest)) {
        return "a tie between different notes";
      }
    }
    return "";
  }

  /// The middle of 4/4: crossed by a whole or dotted half from the start only, or by a tuplet over the bar.
  std::string middle() const {
    if (!four_four()) return "";
    for (const SpelledPiece& p : s_.pieces) {
      if (!crosses(p, Fraction(1, 2)) || p.whole_bar_rest || in_wide_tuplet(p)) continue;
      if (p.rest) return "a rest over the middle";
      if (p.onset != Fraction(0) || p.value > NoteValue::kHalf) return "a note hides the middle";
    }
    return "";
  }

  /// A rest covers whole beats from a strong place or stays within one.
  std::string rests() const {
    for (const SpelledPiece& p : s_.pieces) {
      if (!p.rest || p.whole_bar_rest || in_wide_tuplet(p)) continue;
      if (beat_of(p.onset) == beat_of(p.end() - Fraction(1, 1 << 20))) {
        const Fraction beat = beats_[static_cast<std::size_t>(beat_of(p.onset))].length;
        if (p.dots > 0 && beat.num() % 3 != 0) return "a dotted rest in a simple beat";
        continue;
      }
      const bool half_bar = pair_of_beats(p);
      bool eighths = false;
      for (const BarSpan& g : groups_) eighths |= meter_.unit >= 8 && p.onset == g.onset && p.end() <= g.end();
      if (!half_bar && !eighths) return "a rest over a beat";
    }
    return "";
  }

  /// Two beats, the first or the second pair of a group of two or four.
  bool pair_of_beats(const SpelledPiece& p) const {
    if (meter_.has_grouped_beats() || p.dots > (meter_.is_compound() ? 1 : 0)) return false;
    int first = 0;
    for (int size : meter_.beat_groups()) {
      for (int k = 0; (size == 2 || size == 4) && k < size; k += 2) {
        const Fraction onset = beats_[static_cast<std::size_t>(first + k)].onset;
        if (p.onset == onset && p.duration == beats_[0].length * Fraction(2)) return true;
      }
      first += size;
    }
    return false;
  }

  /// A note that begins off the beat crosses a beat only as short-long-short with both neighbours plain.
  std::string beats_visible() const {
    for (const SpelledPiece& p : s_.pieces) {
      if (p.rest || in_wide_tuplet(p) || on_beat(p.onset)) continue;
      if (beat_of(p.onset) == beat_of(p.end() - Fraction(1, 1 << 20))) continue;
      const Fraction half = p.duration * Fraction(1, 2);
      if (p.dots != 0 || !on_beat(p.onset + half)) return "a note hides a beat";
      for (Fraction at : {p.onset - half, p.end() + half}) {
        if (!boundary(at)) return "a syncopation whose neighbours hide beats";
      }
      for (const SpelledPiece& q : s_.pieces) {
        if ((q.onset > p.onset - half && q.onset < p.onset) || (q.onset > p.end() && q.onset < p.end() + half)) {
          return "a syncopation beside smaller values";
        }
      }
    }
    return "";
  }

  std::string tuplets() const {
    for (std::size_t t = 0; t < s_.tuplets.size(); ++t) {
      const Tuplet& tuplet = s_.tuplets[t];
      Fraction written(0);
      for (int i = 0; i < count(); ++i) {
        const bool inside = i >= tuplet.first && i <= tuplet.last;
        if (inside != (piece(i).tuplet == static_cast<int>(t))) return "a piece in the wrong tuplet";
        if (inside) written += written_duration(piece(i).value, piece(i).dots);
      }
      if (written != written_duration(tuplet.base_value) * Fraction(tuplet.actual)) return "a tuplet that is not full";
      if (tuplet.duration != written_duration(tuplet.base_value) * Fraction(tuplet.normal)) return "a wrong ratio";
      if (piece(tuplet.first).onset != tuplet.onset) return "a tuplet that begins elsewhere";
      if (piece(tuplet.last).end() != tuplet.onset + tuplet.duration) return "a tuplet that ends elsewhere";
      if (!tuplet.bracket) {
        const int beam = piece(tuplet.first).beam;
        if (beam < 0 || piece(tuplet.last).beam != beam) return "no bracket and no beam";
        const Beam& b = s_.beams[static_cast<std::size_t>(beam)];
        if (b.first != tuplet.first || b.last != tuplet.last) return "no bracket, and a beam that goes on";
      }
    }
    return "";
  }

  std::string beams() const {
    for (std::size_t b = 0; b < s_.beams.size(); ++b) {
      const Beam& beam = s_.beams[b];
      if (beam.last <= beam.first) return "a beam over one note";
      for (int i = beam.first; i <= beam.last; ++i) {
        if (piece(i).rest || flag_count(piece(i).value) == 0) return "a beam over something without flags";
        if (piece(i).beam != static_cast<int>(b)) return "a beam that its piece does not know";
        if (in_wide_tuplet(piece(i)) && piece(i).tuplet != piece(beam.first).tuplet) return "a beam out of a tuplet";
      }
      if (in_wide_tuplet(piece(beam.first))) continue;
      int groups = 0;
      for (const BarSpan& g : groups_) {
        if (piece(beam.first).onset < g.end() && piece(beam.last).end() > g.onset) ++groups;
      }
      if (groups != 1) return "a beam over two groups";
    }
    return beam_levels();
  }

  /// At every level: begin, any number of continues, end; as many levels as flags.
  std::string beam_levels() const {
    for (int level = 0; level < kMaxFlags; ++level) {
      bool open = false;
      for (int i = 0; i < count(); ++i) {
        const BeamMark mark = piece(i).beam_marks[static_cast<std::size_t>(level)];
        const bool wanted = piece(i).beam >= 0 && flag_count(piece(i).value) > level;
        if (wanted != (mark != BeamMark::kNone)) return "beams that are not the flags";
        if (open != (mark == BeamMark::kContinue || mark == BeamMark::kEnd)) return "a broken beam";
        open = mark == BeamMark::kBegin || mark == BeamMark::kContinue;
        if (level == 0 && (mark == BeamMark::kHookBack || mark == BeamMark::kHookForward)) return "a primary hook";
      }
      if (open) return "a beam without end";
    }
    return "";
  }

  /// A partial beam points to a neighbour under the same beam and in the same beat.
  std::string hooks() const {
    for (int i = 0; i < count(); ++i) {
      for (BeamMark mark : piece(i).beam_marks) {
        if (mark != BeamMark::kHookBack && mark != BeamMark::kHookForward) continue;
        const int other = mark == BeamMark::kHookBack ? i - 1 : i + 1;
        if (other < 0 || other >= count() || piece(other).beam != piece(i).beam) return "a hook into nothing";
        if (!in_wide_tuplet(piece(i)) && meter_.unit == 4 && beat_of(piece(other).onset) != beat_of(piece(i).onset)) {
          return "a hook into another beat";
        }
      }
    }
    return "";
  }

  const Meter& meter_;
  const std::vector<RhythmSpan>& spans_;
  const Spelling& s_;
  std::vector<BarSpan> beats_;
  std::vector<BarSpan> groups_;
};

}  // namespace tunesheaf::theory::testing

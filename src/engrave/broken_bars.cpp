#include "broken_bars.h"

#include <algorithm>

namespace tunesheaf::engrave {

namespace {

using base::Fraction;
using score::Place;
using score::Segment;

class BarBreaker {
 public:
  BarBreaker(const SectionRequest& request, const std::set<Place>& at)
      : whole_(request.timeline->sections[static_cast<std::size_t>(request.section)]) {
    out_->timeline = *request.timeline;
    out_->request = request;
    out_->request.timeline = &out_->timeline;
    out_->request.broken = out_.get();
    list_pieces(at);
  }

  std::unique_ptr<const BrokenBars> run() {
    for (std::size_t p = 0; p < whole_.parts.size(); ++p) out_->repeats.push_back(repeats(static_cast<int>(p)));
    score::Section& section = out_->timeline.sections[static_cast<std::size_t>(out_->request.section)];
    bars(section);
    for (score::PartMusic& music : section.parts) part(music);
    for (score::Harmony& harmony : section.harmony) move(harmony.at);
    for (score::Word& word : section.words) move(word.at);
    for (score::Remark& remark : section.remarks) move(remark.at);
    for (FormSign& sign : out_->request.signs)
      sign.bar = sign.edge == BarEdge::Begin ? first_piece(sign.bar) : first_piece(sign.bar + 1) - 1;
    return std::move(out_);
  }

 private:
  void list_pieces(const std::set<Place>& at) {
    for (std::size_t b = 0; b < whole_.bars.size(); ++b) {
      const score::Bar& bar = whole_.bars[b];
      const int index = static_cast<int>(b);
      const Fraction missing = bar.pick_up ? bar.meter.bar_length() - bar.length : Fraction();
      first_.push_back(static_cast<int>(out_->pieces.size()));
      out_->pieces.push_back({index, {}, missing, false, false});
      for (auto it = at.upper_bound({index, {}}); it != at.end() && it->bar == index && it->onset < bar.length; ++it) {
        out_->pieces.back().continued = true;
        out_->pieces.push_back({index, it->onset, missing + it->onset, true, false});
      }
    }
    first_.push_back(static_cast<int>(out_->pieces.size()));
  }

  int first_piece(int bar) const { return first_[static_cast<std::size_t>(bar)]; }
  const score::Bar& bar_of(const BarPiece& piece) const { return whole_.bars[static_cast<std::size_t>(piece.bar)]; }
  Fraction end_of(std::size_t piece) const {
    const BarPiece& p = out_->pieces[piece];
    return p.continued ? out_->pieces[piece + 1].from : bar_of(p).length;
  }

  /// An end may be the beginning of the bar after the last.
  void move(Place& place) const {
    const auto count = static_cast<int>(whole_.bars.size());
    if (place.bar >= count) {
      place.bar += first_.back() - count;
      return;
    }
    auto piece = static_cast<std::size_t>(first_piece(place.bar));
    const auto behind = static_cast<std::size_t>(first_piece(place.bar + 1));
    while (piece + 1 < behind && out_->pieces[piece + 1].from <= place.onset) ++piece;
    place = {static_cast<int>(piece), place.onset - out_->pieces[piece].from};
  }
  void bars(score::Section& section) const {
    section.bars.clear();
    std::vector<std::vector<score::Hit>> hits;
    for (std::size_t i = 0; i < out_->pieces.size(); ++i) {
      const BarPiece& piece = out_->pieces[i];
      score::Bar bar = bar_of(piece);
      bar.length = end_of(i) - piece.from;
      if (piece.continues) {
        bar.number = 0;
        bar.show_key = bar.show_meter = bar.repeat_begin = bar.ending_begin = false;
      }
      if (piece.continued) {
        bar.end = score::BarLine::Single;
        bar.repeat_times = 0;
        bar.ending_end = false;
      }
      section.bars.push_back(std::move(bar));
      if (whole_.hits.empty()) continue;
      hits.emplace_back();
      for (score::Hit hit : whole_.hits[static_cast<std::size_t>(piece.bar)]) {
        if (hit.onset < piece.from || hit.onset >= end_of(i)) continue;
        hit.duration = std::min(hit.duration, end_of(i) - hit.onset);
        hit.onset -= piece.from;
        hits.back().push_back(hit);
      }
    }
    section.hits = std::move(hits);
  }

  void part(score::PartMusic& music) {
    if (!music.keys.empty()) {
      std::vector<score::StaffKey> keys;
      for (const BarPiece& piece : out_->pieces) keys.push_back(music.keys[static_cast<std::size_t>(piece.bar)]);
      music.keys = std::move(keys);
    }
    for (score::Voice& voice : music.voices) break_voice(voice);
    for (score::Mark& mark : music.marks) {
      move(mark.from);
      move(mark.to);
    }
    for (score::Word& word : music.words) move(word.at);
    for (score::TunedFrom& tuned : music.tunings) move(tuned.at);
    for (score::ClefFrom& clef : music.clefs) move(clef.at);
    for (score::BodyTap& tap : music.taps) move(tap.at);
    for (score::Cue& cue : music.cues) {
      cue.first = first_piece(cue.first);
      cue.behind = first_piece(cue.behind);
    }
  }

  void break_voice(score::Voice& voice) {
    score::Rows<Segment> bars;
    for (std::size_t i = 0; i < out_->pieces.size(); ++i) {
      const BarPiece& piece = out_->pieces[i];
      if (static_cast<std::size_t>(piece.bar) >= voice.bars.size()) break;
      const std::vector<Segment> kept = within(voice.bars[static_cast<std::size_t>(piece.bar)], piece.from, end_of(i));
      bars.push_back(kept);
      for (const Segment& segment : kept) {
        if (segment.event < 0 || segment.tied_from) continue;
        out_->timeline.events[static_cast<std::size_t>(segment.event)].at = {static_cast<int>(i), segment.onset};
      }
    }
    voice.bars = std::move(bars);
  }

  static std::vector<Segment> within(std::span<const Segment> bar, Fraction from, Fraction to) {
    std::vector<Segment> out;
    for (Segment segment : bar) {
      const Fraction end = segment.onset + segment.duration;
      if (end <= from || segment.onset >= to) continue;
      segment.tied_from = segment.tied_from || (segment.onset < from && !segment.rest);
      segment.tied_to = segment.tied_to || (end > to && !segment.rest);
      const Fraction begin = base::max(segment.onset, from);
      segment.duration = base::min(end, to) - begin;
      segment.onset = begin - from;
      out.push_back(segment);
    }
    return out;
  }

  std::vector<BarRepeat> repeats(int part) const {
    std::set<int> written = out_->request.written_out;
    for (const BarPiece& piece : out_->pieces)
      if (piece.broken()) written.insert(piece.bar);
    const std::vector<BarRepeat> whole = bar_repeats(*out_->request.timeline, whole_, part, written);
    std::vector<BarRepeat> out;
    for (const BarPiece& piece : out_->pieces) out.push_back(whole[static_cast<std::size_t>(piece.bar)]);
    return out;
  }

  const score::Section& whole_;
  std::unique_ptr<BrokenBars> out_ = std::make_unique<BrokenBars>();
  std::vector<int> first_;  ///< piece with which each bar begins, and the number of all
};

}  // namespace

std::unique_ptr<const BrokenBars> break_bars(const SectionRequest& request, const std::set<score::Place>& at) {
  return BarBreaker(request, at).run();
}

BarPiece piece_at(const SectionRequest& request, int bar) {
  const auto b = static_cast<std::size_t>(bar);
  if (request.broken != nullptr) return request.broken->pieces[b];
  const score::Bar& whole = request.timeline->sections[static_cast<std::size_t>(request.section)].bars[b];
  return {bar, {}, whole.pick_up ? whole.meter.bar_length() - whole.length : base::Fraction(), false, false};
}

std::vector<BarRepeat> repeats_of(const SectionRequest& request, int part) {
  if (request.broken != nullptr) return request.broken->repeats[static_cast<std::size_t>(part)];
  const score::Section& section = request.timeline->sections[static_cast<std::size_t>(request.section)];
  return bar_repeats(*request.timeline, section, part, request.written_out);
}

}  // namespace tunesheaf::engrave

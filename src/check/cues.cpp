// Cues: bars in which a player rests and is shown what another part plays.
#include <algorithm>
#include <map>

#include "playing.h"

namespace tunesheaf::check {
namespace {

/// The bar behind the body or the ending that a bar belongs to.
int end_of_stretch(const CheckedSection& section, int bar) {
  for (const CheckedEnding& ending : section.endings)
    if (bar >= ending.first_bar && bar < ending.first_bar + ending.bar_count)
      return ending.first_bar + ending.bar_count;
  return section.body_bars;
}

/// One voice while its cells go by: what sounds, and in which bars.
class VoiceBars {
 public:
  VoiceBars(const CheckedSection& section, bool drums, std::vector<bool>& sounding)
      : section_(section), drums_(drums), sounding_(sounding) {}

  /// Cells that begin together.
  void take(const std::vector<const PlayedCell*>& cells) {
    const Moment now = cells.front()->at();
    hold_until(now);
    std::set<const PlacedLane*> struck;
    for (const PlayedCell* cell : cells)
      if (!cell->silence()) struck.insert(cell->lane);
    if (!struck.empty()) {
      held_ = struck;
      until_ = cells.front()->cell->until_bar;
      sounding_[static_cast<std::size_t>(now.first)] = true;
    } else {
      for (const PlayedCell* cell : cells) held_.erase(cell->lane);
    }
    if (drums_) held_.clear();  // a stroke is written to the end of its beat at most
    from_ = now.first;
  }
  void end() { hold_until({static_cast<int>(section_.bars.size()), Fraction()}); }

 private:
  void hold_until(Moment now) {
    if (held_.empty()) return;
    int behind = now.second == Fraction() ? now.first : now.first + 1;
    behind = std::min(behind, end_of_stretch(section_, from_));
    if (until_ > 0) behind = std::min(behind, until_);
    for (int bar = from_; bar < behind; ++bar) sounding_[static_cast<std::size_t>(bar)] = true;
    if (behind < now.first) held_.clear();
  }

  const CheckedSection& section_;
  bool drums_;
  std::vector<bool>& sounding_;
  std::set<const PlacedLane*> held_;
  int from_ = 0, until_ = 0;
};

class Cues {
 public:
  explicit Cues(Context& context) : context_(context) {}

  void run() {
    for (const CheckedSection& section : context_.data.sections)
      for (std::size_t p = 0; p < section.parts.size(); ++p) {
        places(section.parts[p]);
        for (const CueSpan& span : cue_spans(section, section.parts[p]))
          if (said_.insert(span.cell).second) judge(section, p, span);
      }
  }

 private:
  void places(const CheckedMusic& music) {
    for (const PlacedLane& lane : music.lanes) {
      if (lane.kind != song::LaneKind::Cue) continue;
      bool open = false;
      for (const PlacedCell& cell : lane.cells) {
        const bool dot = std::holds_alternative<song::SilenceCell>(cell.cell->content);
        if (dot && !open && said_.insert(cell.cell).second)
          context_.say(Kind::NothingToEnd, cell.cell->span, "this dot ends a cue, and none has begun",
                       "a cue goes from the bar that names a part to the bar of a dot",
                       "name the part before it, or take the dot away");
        open = !dot;
        if (cell.onset == Fraction() || !said_.insert(cell.cell).second) continue;
        context_.say(Kind::CueCannot, cell.cell->span, "this cue begins or ends within " + bar_words(cell.bar),
                     "a cue shows whole bars, those in which the player rests",
                     "leave the colons out: one name, one - or one dot a bar");
      }
    }
  }

  void judge(const CheckedSection& section, std::size_t reader, const CueSpan& span) {
    const std::string& own = context_.data.parts[reader].def->name.value;
    const auto part = part_named(context_, span.name);
    if (!part) {
      std::vector<std::string> names;
      for (const CheckedPart& other : context_.data.parts)
        if (other.def->name.value != own) names.push_back(other.def->name.value);
      return context_.say(Kind::UnknownName, span.cell->span, "there is no part called " + diag::quoted(span.name),
                          "a cue names the part whose notes are shown", nearest_remedy(span.name, names, "parts"));
    }
    const auto other = static_cast<std::size_t>(*part);
    if (other == reader)
      return context_.say(Kind::CueCannot, span.cell->span, "the part " + diag::quoted(own) + " is a cue for itself",
                          "a cue shows a player who rests what another part plays", "name the part that plays there");
    const CheckedMusic &mine = section.parts[reader], &theirs = section.parts[other];
    const auto my_bars = sounding_bars(section, context_.data.parts[reader], mine);
    const auto their_bars = sounding_bars(section, context_.data.parts[other], theirs);
    bool heard = false;
    for (int bar = span.first; bar < span.behind; ++bar) {
      const auto b = static_cast<std::size_t>(bar);
      heard = heard || their_bars[b];
      if (!my_bars[b]) continue;
      return context_.say(
          Kind::CueCannot, span.cell->span,
          "the part " + diag::quoted(own) + " plays in " + bar_words(bar) + ", and this cue lies over it",
          "a cue stands over bars in which its reader rests; a note sounds until a dot ends it",
          "end the cue with a dot before that bar, or the notes before the cue");
    }
    if (heard) return;
    const bool one = span.behind == span.first + 1;
    context_.say(Kind::CueCannot, span.cell->span,
                 "the part " + diag::quoted(span.name) + " rests in " +
                     (one ? bar_words(span.first)
                          : "bars " + std::to_string(span.first + 1) + " to " + std::to_string(span.behind)) +
                     " of " + diag::quoted(section.def->name.value),
                 "a cue shows what another part plays over these bars",
                 "name a part that plays there, or move the cue");
  }

  Context& context_;
  std::set<const song::Cell*> said_;
};

}  // namespace

std::vector<bool> sounding_bars(const CheckedSection& section, const CheckedPart& part, const CheckedMusic& music) {
  std::vector<bool> out(section.bars.size(), false);
  std::map<bool, VoiceBars> voices;
  for (const bool lower : {false, true}) voices.try_emplace(lower, section, part.drums(), out);
  const std::vector<PlayedCell> cells = in_time(music);
  for_each_moment(cells, [&](auto begin, auto end) {
    for (const bool lower : {false, true}) {
      std::vector<const PlayedCell*> own;
      for (auto it = begin; it != end; ++it)
        if (it->lane->lower == lower) own.push_back(&*it);
      if (!own.empty()) voices.at(lower).take(own);
    }
  });
  for (auto& [lower, voice] : voices) voice.end();
  return out;
}

std::vector<CueSpan> cue_spans(const CheckedSection& section, const CheckedMusic& music) {
  std::vector<CueSpan> out;
  for (const PlacedLane& lane : music.lanes) {
    if (lane.kind != song::LaneKind::Cue) continue;
    for (const PlacedCell& cell : lane.cells) {
      const auto* word = std::get_if<song::WordCell>(&cell.cell->content);
      const bool open = !out.empty() && cell.bar < out.back().behind;
      if (open && word != nullptr && word->text == out.back().name) continue;
      if (open) out.back().behind = cell.bar;
      if (word != nullptr) out.push_back({word->text, cell.bar, end_of_stretch(section, cell.bar), cell.cell});
    }
  }
  return out;
}

void check_cues(Context& context) {
  Cues(context).run();
}

}  // namespace tunesheaf::check

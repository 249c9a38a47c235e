// Words that have a place in their beat stand under notes: a melody has a note for each of them.
#include <algorithm>

#include "playing.h"

namespace tunesheaf::check {
namespace {

using song::LaneKind;

bool is_melody(const Playing& playing) {
  return std::any_of(playing.music.lanes.begin(), playing.music.lanes.end(),
                     [](const PlacedLane& lane) { return lane.kind == LaneKind::Notes && !lane.cells.empty(); });
}

std::set<Moment> note_beginnings(const Playing& playing) {
  std::set<Moment> out;
  for (const PlayedCell& cell : playing.cells) {
    const auto* sign = cell.sign<song::PitchSign>();
    if (!cell.silence() && !(sign && sign->tied)) out.insert(cell.at());
  }
  return out;
}

/// Syllables of one bar that have no note: one message.
void say_without_note(Context& context, const std::vector<const PlacedCell*>& cells) {
  if (cells.empty()) return;
  std::string list;
  for (std::size_t i = 0; i < cells.size(); ++i)
    list += (i == 0 ? "" : i + 1 == cells.size() ? " and " : ", ") + context.words(cells[i]->cell->span);
  context.say(Kind::SyllableWithoutNote, cells.front()->cell->span,
              std::string("no note begins at the ") + (cells.size() == 1 ? "syllable " : "syllables ") + list + " in " +
                  bar_words(cells.front()->bar),
              "each syllable stands where its note begins; a vowel held over more notes is written once, then -",
              "move the syllable under its note, write the note, or leave the colons out for a cue over the bar");
}

}  // namespace

void judge_lyrics(Context& context, const Playing& playing) {
  if (!is_melody(playing)) return;
  const std::set<Moment> notes = note_beginnings(playing);
  for (const PlacedLane& lane : playing.music.lanes) {
    if (lane.kind != LaneKind::Lyric) continue;
    std::vector<const PlacedCell*> without;
    for (const PlacedCell& cell : lane.cells) {
      // Without colons all words of the bar are one cue over it.
      const bool cue = cell.length == playing.section.bars[static_cast<std::size_t>(cell.bar)].length;
      if (cue || !std::holds_alternative<song::WordCell>(cell.cell->content)) continue;
      if (notes.count({cell.bar, cell.onset}) > 0) continue;
      if (!without.empty() && without.front()->bar != cell.bar) {
        say_without_note(context, without);
        without.clear();
      }
      without.push_back(&cell);
    }
    say_without_note(context, without);
  }
}

}  // namespace tunesheaf::check

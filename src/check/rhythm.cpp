// Durations that no written value can show: asked of the speller itself, for bars whose division is fine enough that it
// could refuse them.
#include "tunesheaf/theory/rhythm.h"

#include <algorithm>
#include <array>
#include <numeric>

#include "playing.h"

namespace tunesheaf::check {
namespace {

using song::LaneKind;
using theory::SpellFault;

/// Divisions of a whole note up to this are always spelt: shortest values of a 512th, tuplets of small numbers.
constexpr std::int64_t kSurelyWritten = 1000;

int voice_of(const PlayedCell& cell) {
  if (cell.lane->kind == LaneKind::Left) return 2;
  if (cell.lane->kind == LaneKind::Kit) {
    const std::string& drum = cell.lane->subject;
    return drum == "kick" || drum == "kick 2" || drum == "hat foot" || drum == "stomp" ? 1 : 0;
  }
  return cell.lane->lower ? 1 : 0;
}

struct SpelledVoice {
  std::vector<Fraction> onsets;
  std::vector<const PlayedCell*> cells;
  std::int64_t division = 1;
};

std::int64_t common(std::int64_t a, std::int64_t b) {
  constexpr std::int64_t kFar = std::int64_t{1} << 40;
  const std::int64_t step = b / std::gcd(a, b);
  return a > kFar / step ? kFar : a * step;
}

void spell(Context& context, const CheckedBar& bar, const SpelledVoice& voice) {
  if (voice.division <= kSurelyWritten) return;
  std::vector<theory::RhythmSpan> spans;
  const bool opens = voice.onsets.front() == Fraction(0);
  if (!opens) spans.push_back({Fraction(0), voice.onsets.front(), true});
  for (std::size_t i = 0; i < voice.onsets.size(); ++i) {
    const Fraction end = i + 1 < voice.onsets.size() ? voice.onsets[i + 1] : bar.length;
    spans.push_back({voice.onsets[i], end - voice.onsets[i], voice.cells[i]->silence()});
  }
  const auto align = bar.pick_up ? theory::BarAlign::kEnd : theory::BarAlign::kStart;
  const auto spelt = theory::spell_bar(bar.meter, {bar.length, align}, spans);
  if (spelt || spelt.error().fault != SpellFault::kTooFine) return;
  const std::size_t at = std::min(static_cast<std::size_t>(spelt.error().span), spans.size() - 1);
  const std::size_t cell = at > 0 && !opens ? at - 1 : at;
  context.say(Kind::RhythmTooFine, voice.cells[cell]->span(),
              "no note value can write this: it lasts " + std::to_string(spans[at].duration.num()) + "/" +
                  std::to_string(spans[at].duration.den()) + " of a whole note",
              "values go down to a 1024th, and the divisions of a bar must have a common measure",
              "share the beat among fewer cells, or write the figure over more beats");
}

}  // namespace

void judge_rhythm(Context& context, const Playing& playing) {
  std::array<SpelledVoice, 3> voices;
  int bar = -1;
  const auto flush = [&] {
    for (SpelledVoice& voice : voices) {
      if (!voice.onsets.empty()) spell(context, playing.section.bars[static_cast<std::size_t>(bar)], voice);
      voice.onsets.clear();
      voice.cells.clear();
      voice.division = 1;
    }
  };
  for (const PlayedCell& cell : playing.cells) {
    if (cell.cell->bar != bar) {
      if (bar >= 0) flush();
      bar = cell.cell->bar;
    }
    const auto* sign = cell.sign<song::StringSign>();
    SpelledVoice& voice = voices[static_cast<std::size_t>(voice_of(cell))];
    if ((sign && sign->continues) || (!voice.onsets.empty() && voice.onsets.back() == cell.cell->onset)) continue;
    voice.onsets.push_back(cell.cell->onset);
    voice.cells.push_back(&cell);
    voice.division = common(voice.division, cell.cell->onset.den());
  }
  if (bar >= 0) flush();
}

/// A pick-up must be as long as something that can be written.
void check_pick_up_lengths(Context& context) {
  for (const CheckedSection& section : context.data.sections) {
    if (section.bars.empty() || !section.bars.front().pick_up) continue;
    const CheckedBar& bar = section.bars.front();
    const std::vector<theory::RhythmSpan> spans{{Fraction(0), bar.length}};
    const auto spelt = theory::spell_bar(bar.meter, {bar.length, theory::BarAlign::kEnd}, spans);
    const auto& text = section.def->pick_up ? section.def->pick_up : context.song.pick_up;
    if (spelt || !text) continue;
    context.say(Kind::BadPickUp, text->span,
                diag::quoted(text->value) + " is a length that no note values fill without a tuplet",
                "a pick-up is as long as whole beats or plain note values: halves, quarters, eighths and so on",
                "write the next plain length, and begin with a silence");
  }
}

}  // namespace tunesheaf::check

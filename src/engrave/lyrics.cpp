// Syllables under the notes they are sung to, their hyphens and the lines of held vowels.
#include <algorithm>
#include <utility>

#include "rows.h"

namespace tunesheaf::engrave {

namespace {

using score::Word;
using score::WordKind;

score::Place next_syllable(const std::vector<Word>& words, score::Place after) {
  score::Place next{1 << 20, {}};
  for (const Word& w : words) {
    if (w.kind == WordKind::Lyric && w.at > after) next = std::min(next, w.at);
  }
  return next;
}

/// Right edge of the last note between two places that is not parted from the first by a rest.
Length last_note_before(const StaffContext& staff, score::Place from, score::Place to) {
  Length right = staff.system.x_of(from);
  for (int b = from.bar; b < std::min(staff.system.last_bar, to.bar + 1); ++b) {
    for (const Chord& chord : staff.plan.bars[static_cast<std::size_t>(b)].chords) {
      const score::Place at{b, chord.onset};
      if (chord.voice != 1 || at <= from || at >= to) continue;
      if (chord.rest) return right;
      right = staff.system.x_of(at) + staff.space(0.6);
    }
  }
  return right;
}

/// Left edge of a hyphen in the middle of a gap, or to the side of the bar line that runs through it there.
Length beside_bar_line(const SystemContext& system, std::pair<Length, Length> gap, Length width) {
  const Length middle = (gap.first + gap.second - width) / 2, white = system.space(0.15);
  for (std::size_t i = 0; i < system.bar_end.size(); ++i) {
    const Length before = system.bar_right[i] - white - width, behind = system.bar_end[i] + white;
    if (middle <= before || middle >= behind) continue;
    const bool left = before >= gap.first, right = behind + width <= gap.second;
    if (left && (!right || middle - before <= behind - middle)) return before;
    if (right) return behind;
  }
  return middle;
}

}  // namespace

void draw_lyrics(StaffContext& staff, const std::vector<Word>& words) {
  const SystemContext& system = staff.system;
  std::vector<RowText> row;
  std::vector<bool> goes_on;
  const bool sung = staff.part() != nullptr && !staff.part()->tab && staff.part()->kit.empty();
  std::vector<std::pair<std::size_t, Length>> vowels;  ///< by index of the row: where the line of a held vowel ends
  for (const Word& w : words) {
    if (w.kind != WordKind::Lyric || !system.holds(w.at)) continue;
    std::string syllable = w.text;
    const bool hyphen = syllable.size() > 1 && syllable.back() == '-';
    if (hyphen) syllable.pop_back();
    const bool held = sung && !hyphen && syllable.find(' ') == std::string::npos;
    const text::Line line = staff.shape(syllable, system.style.lyric);
    row.push_back({system.x_of(w.at) - line.width / 2, line, {"lyric", w.origin, staff.subject(w.event)}});
    goes_on.push_back(hyphen);
    if (held) vowels.push_back({row.size() - 1, last_note_before(staff, w.at, next_syllable(words, w.at))});
  }
  const text::Line dash = staff.shape("-", system.style.lyric);
  const std::size_t count = row.size();
  for (std::size_t i = 0; i < count; ++i) {
    if (!goes_on[i]) continue;
    const Length from = row[i].left + row[i].line.width;
    const Length to = i + 1 < count ? row[i + 1].left : std::min(from + staff.space(3), system.right);
    if (to - from < dash.width) continue;
    const Length left = beside_bar_line(system, {from, to}, dash.width);
    row.push_back({left, dash, {"lyric-hyphen", row[i].tag.origin, row[i].tag.subject}});
  }
  const std::optional<Length> baseline = draw_row(staff, Side::Below, row, system.style.ink, 0.7);
  // The line of words is one thing: nothing of the next staff rises between two syllables.
  if (baseline && count > 1) {
    const Length foot = *baseline + row.front().line.descent * 0.5;
    staff.below.add(row.front().left, row[count - 1].left + row[count - 1].line.width, foot);
  }
  for (const auto& [index, last] : vowels) {
    const bool followed = index + 1 < count;
    const Length to = followed ? std::min(last, row[index + 1].left - staff.space(0.3)) : last;
    const Length from = row[index].left + row[index].line.width + staff.space(0.25);
    if (!baseline || to < from + staff.space(0.8)) continue;
    staff.line({"lyric-extend", row[index].tag.origin, row[index].tag.subject}, {from, *baseline}, {to, *baseline},
               0.12);
  }
}

}  // namespace tunesheaf::engrave

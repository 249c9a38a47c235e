// Syllables under the notes they are sung to, their hyphens and the lines of held vowels.
#include "lyrics.h"

#include <algorithm>
#include <set>
#include <utility>

#include "rows.h"

namespace tunesheaf::engrave {

using score::Word;
using score::WordKind;

std::vector<Syllable> syllables_of(const StaffContext& staff, const std::vector<Word>& words) {
  std::vector<Syllable> syllables;
  const bool sung = staff.part() != nullptr && !staff.part()->tab && staff.part()->kit.empty();
  if (!sung) return syllables;
  for (const Word& w : words) {
    if (w.kind != WordKind::Lyric) continue;
    const bool hyphen = w.text.size() > 1 && w.text.back() == '-';
    syllables.push_back({w.at, w.at, hyphen, w.text.find(' ') == std::string::npos, w.origin, w.event});
  }
  std::stable_sort(syllables.begin(), syllables.end(),
                   [](const Syllable& a, const Syllable& b) { return a.from < b.from; });
  score::Place next{static_cast<int>(staff.plan.bars.size()), Fraction()};
  for (auto s = syllables.rbegin(); s != syllables.rend(); ++s) {
    const auto later = s == syllables.rbegin() ? s : std::prev(s);
    if (later != s && later->from > s->from) next = later->from;
    s->to = next;
  }
  return syllables;
}

Melisma melisma_of(const StaffContext& staff, const Syllable& syllable) {
  Melisma out;
  out.last = syllable.from;
  std::set<int> pitches;
  for (int b = syllable.from.bar; b < std::min(static_cast<int>(staff.plan.bars.size()), syllable.to.bar + 1); ++b) {
    for (const Chord& chord : staff.plan.bars[static_cast<std::size_t>(b)].chords) {
      const score::Place at{b, chord.onset};
      if (chord.voice != 1 || at < syllable.from || at >= syllable.to) continue;
      if (chord.rest) return out;
      out.last = at;
      if (!chord.heads.empty()) pitches.insert(chord.top());
      out.moves = pitches.size() > 1;
    }
  }
  return out;
}

namespace {

/// Lines of held vowels, those that go on from the system before among them.
class VowelLines {
 public:
  VowelLines(const StaffContext& staff, const std::vector<Word>& words) : staff_(staff), system_(staff.system) {
    for (const Syllable& syllable : syllables_of(staff, words)) {
      if (syllable.hyphen || !syllable.single || syllable.from.bar >= system_.last_bar) continue;
      const Melisma notes = melisma_of(staff, syllable);
      if (notes.last == syllable.from || notes.last.bar < system_.first_bar) continue;
      const bool on = notes.last.bar >= system_.last_bar;
      const Length to = on ? system_.bar_right.back() - staff.space(0.3) : system_.x_of(notes.last) + staff.space(0.6);
      const std::optional<Length> from = syllable.from.bar >= system_.first_bar
                                             ? std::nullopt
                                             : std::optional(system_.content_left - staff.space(0.3));
      lines_.push_back({syllable, from, to});
    }
  }

  /// Of a syllable that stands on an earlier system.
  std::optional<std::pair<Length, Length>> carried() const {
    if (lines_.empty() || !lines_.front().from) return std::nullopt;
    return std::pair(*lines_.front().from, lines_.front().to);
  }
  StaffContext::Tag tag_of_carried() const {
    return {"lyric-extend", lines_.front().syllable.origin, staff_.subject(lines_.front().syllable.event)};
  }

  /// Where the line of the syllable at a place ends.
  std::optional<Length> end_at(const Word& w) const {
    for (const Line& line : lines_) {
      if (!line.from && line.syllable.from == w.at && line.syllable.origin.begin == w.origin.begin) return line.to;
    }
    return std::nullopt;
  }

 private:
  struct Line {
    Syllable syllable;
    std::optional<Length> from;
    Length to;
  };
  const StaffContext& staff_;
  const SystemContext& system_;
  std::vector<Line> lines_;
};

struct HeldVowel {
  StaffContext::Tag tag;
  Length from, to;
};

/// `vowels`: by index of the row, where the line ends. What would be too short to be seen is left out.
std::vector<HeldVowel> held_vowels(const StaffContext& staff, const VowelLines& lines, const std::vector<RowText>& row,
                                   std::size_t count, const std::vector<std::pair<std::size_t, Length>>& vowels) {
  std::vector<HeldVowel> out;
  const auto add = [&](const StaffContext::Tag& tag, Length from, Length to, std::size_t next) {
    if (next < count) to = std::min(to, row[next].left - staff.space(0.3));
    if (to >= from + staff.space(0.8)) out.push_back({{"lyric-extend", tag.origin, tag.subject}, from, to});
  };
  if (const auto carried = lines.carried()) add(lines.tag_of_carried(), carried->first, carried->second, 0);
  for (const auto& [index, last] : vowels)
    add(row[index].tag, row[index].left + row[index].line.width + staff.space(0.25), last, index + 1);
  return out;
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

/// Syllables of a bar that is wider than the page, pressed together with it: moved apart until each can be read.
void part_syllables(std::vector<RowText>& row, Length right, Length white) {
  for (std::size_t i = 1; i < row.size(); ++i) {
    const Length end = row[i - 1].left + row[i - 1].line.width;
    if (row[i].left < end) row[i].left = end + white;
  }
  for (std::size_t i = row.size(); i-- > 0;) {
    row[i].left = std::min(row[i].left, right - row[i].line.width);
    if (i > 0 && row[i - 1].left + row[i - 1].line.width > row[i].left) right = row[i].left - white;
  }
}

}  // namespace

void draw_lyrics(StaffContext& staff, const std::vector<Word>& words) {
  const SystemContext& system = staff.system;
  std::vector<RowText> row;
  std::vector<bool> goes_on;
  const bool own = staff.music() != nullptr && &words == &staff.words();
  const VowelLines lines(staff, own ? staff.music()->words : system.section.words);
  std::vector<std::pair<std::size_t, Length>> vowels;  ///< by index of the row: where the line of a held vowel ends
  for (const Word& w : words) {
    if (w.kind != WordKind::Lyric || !system.holds(w.at)) continue;
    std::string syllable = w.text;
    const bool hyphen = syllable.size() > 1 && syllable.back() == '-';
    if (hyphen) syllable.pop_back();
    const text::Line line = staff.shape(syllable, system.style.lyric);
    row.push_back({system.x_of(w.at) - line.width / 2, line, {"lyric", w.origin, staff.subject(w.event)}});
    goes_on.push_back(hyphen);
    const std::optional<Length> end = lines.end_at(w);
    if (end) vowels.push_back({row.size() - 1, *end});
  }
  const bool pressed = std::adjacent_find(row.begin(), row.end(), [](const RowText& a, const RowText& b) {
                         return b.left < a.left + a.line.width;
                       }) != row.end();
  if (pressed) part_syllables(row, system.right, staff.space(0.3));
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
  const std::vector<HeldVowel> held = held_vowels(staff, lines, row, count, vowels);
  std::vector<std::pair<Length, Length>> stretches;
  for (const HeldVowel& vowel : held) stretches.emplace_back(vowel.from, vowel.to);
  std::optional<Length> baseline = draw_row(staff, Side::Below, row, system.style.ink, 0.7, stretches);
  // The line of words is one thing: nothing of the next staff rises between two syllables.
  if (baseline && count > 1) {
    const Length foot = *baseline + row.front().line.descent * 0.5;
    staff.below.add(row.front().left, row[count - 1].left + row[count - 1].line.width, foot);
  }
  if (!baseline && !held.empty()) baseline = take_row(staff, Side::Below, stretches, dash.ascent * 0.78, Length{}, 0.7);
  for (const HeldVowel& vowel : held) staff.line(vowel.tag, {vowel.from, *baseline}, {vowel.to, *baseline}, 0.12);
}

}  // namespace tunesheaf::engrave

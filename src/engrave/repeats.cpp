#include <algorithm>
#include <set>

#include "tunesheaf/engrave/system.h"

namespace tunesheaf::engrave {

namespace {

using score::Event;
using score::Note;
using score::Segment;

bool alike(const song::Accents& a, const song::Accents& b) {
  return a.accent == b.accent && a.marcato == b.marcato && a.staccato == b.staccato && a.tenuto == b.tenuto &&
         a.fermata == b.fermata;
}

bool alike(const Note& a, const Note& b) {
  return a.drum == b.drum && a.midi == b.midi && a.dead == b.dead && a.ghost == b.ghost && a.open == b.open &&
         a.half_open == b.half_open && a.choke == b.choke && a.tied_from == b.tied_from && a.buzz == b.buzz &&
         a.roll_strokes == b.roll_strokes && a.drum_grace == b.drum_grace && a.hand == b.hand;
}

bool alike(const Event& a, const Event& b) {
  return a.kind == b.kind && a.stroke == b.stroke && a.muted == b.muted && a.tremolo == b.tremolo &&
         alike(a.accents, b.accents) && a.grace->notes.size() == b.grace->notes.size() &&
         std::equal(a.notes.begin(), a.notes.end(), b.notes.begin(), b.notes.end(),
                    [](const Note& x, const Note& y) { return alike(x, y); });
}

class Comparer {
 public:
  Comparer(const score::Timeline& timeline, const score::Section& section, const score::PartMusic& music,
           const std::set<int>& written)
      : timeline_(timeline), section_(section), music_(music), written_(written) {
    for (const score::Word& word : music.words) said_.insert(word.at.bar);
    for (const score::Word& word : section.words)  // everyone holds what the chart holds
      if (word.kind == score::WordKind::Hold) said_.insert(word.at.bar);
  }

  std::vector<BarRepeat> run() const {
    const auto count = static_cast<int>(section_.bars.size());
    std::vector<BarRepeat> out(section_.bars.size(), BarRepeat::None);
    const auto at = [&out](int bar) -> BarRepeat& { return out[static_cast<std::size_t>(bar)]; };
    for (int b = 1; b < count; ++b) {
      if (at(b) != BarRepeat::None) continue;
      if (goes_on(b) && same(b, b - 1)) {
        at(b) = BarRepeat::One;
        continue;
      }
      // Two bars come again: written once, and neither of them may be a sign in itself.
      const bool two = b >= 2 && b + 1 < count && at(b - 1) != BarRepeat::One && at(b - 2) != BarRepeat::One &&
                       goes_on(b) && goes_on(b + 1) && same(b, b - 2) && same(b + 1, b - 1) && !same(b + 1, b);
      if (!two) continue;
      at(b) = BarRepeat::FirstOfTwo;
      at(b + 1) = BarRepeat::SecondOfTwo;
    }
    return out;
  }

 private:
  /// Nothing changes, is said or held in the bar, and no repeat or ending begins there.
  bool goes_on(int b) const {
    const score::Bar& bar = section_.bars[static_cast<std::size_t>(b)];
    const score::Bar& before = section_.bars[static_cast<std::size_t>(b - 1)];
    return written_.count(b) == 0 && !bar.show_meter && !bar.show_key && !bar.ending_begin && !bar.repeat_begin &&
           said_.count(b) == 0 && before.end == score::BarLine::Single && bar.length == before.length;
  }

  bool same(int a, int b) const {
    bool sounds = false;
    for (const score::Voice& voice : music_.voices) {
      const auto& now = voice.bars[static_cast<std::size_t>(a)];
      const auto& then = voice.bars[static_cast<std::size_t>(b)];
      if (now.size() != then.size()) return false;
      for (std::size_t i = 0; i < now.size(); ++i) {
        if (!same(now[i], then[i])) return false;
        sounds = sounds || (now[i].event >= 0 && !now[i].rest);
      }
    }
    return sounds;
  }
  bool same(const Segment& a, const Segment& b) const {
    if (a.onset != b.onset || a.duration != b.duration || a.rest != b.rest || a.tied_from || a.tied_to || b.tied_from ||
        b.tied_to || (a.event < 0) != (b.event < 0)) {
      return false;
    }
    if (a.rest || a.event < 0) return true;
    return alike(timeline_.events[static_cast<std::size_t>(a.event)],
                 timeline_.events[static_cast<std::size_t>(b.event)]);
  }

  const score::Timeline& timeline_;
  const score::Section& section_;
  const score::PartMusic& music_;
  const std::set<int>& written_;
  std::set<int> said_;
};

}  // namespace

std::vector<BarRepeat> bar_repeats(const score::Timeline& timeline, const score::Section& section, int part,
                                   const std::set<int>& written) {
  const auto p = static_cast<std::size_t>(part);
  if (timeline.parts[p].kit.empty() || p >= section.parts.size()) {
    return std::vector<BarRepeat>(section.bars.size(), BarRepeat::None);
  }
  return Comparer(timeline, section, section.parts[p], written).run();
}

}  // namespace tunesheaf::engrave

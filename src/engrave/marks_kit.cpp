// Signs over and under staves of drums: rings for open and half-open strokes, chokes, and the sticking, all its letters
// in one row.
#include <algorithm>

#include "kit.h"
#include "marks.h"

namespace tunesheaf::engrave {

namespace {

/// A ring says something only of a drum that is also struck closed; the hi-hat always states it.
bool states_open(const Hands& hands, int drum) {
  const score::Drum& d = hands.staff.part()->kit[static_cast<std::size_t>(drum)];
  if (d.name.find("hat") != std::string::npos) return true;
  for (const Played& p : hands.played) {
    for (const score::Note& n : p.event->notes) {
      if (n.drum == drum && !n.open) return true;
    }
  }
  return false;
}

class KitSigns {
 public:
  explicit KitSigns(Hands& hands) : hands_(hands), staff_(hands.staff) {}

  void run() {
    for (const Played& p : hands_.played) {
      if (!p.begins || p.chord->slash) continue;
      for (std::size_t n = 0; n < p.event->notes.size(); ++n) note(p, static_cast<int>(n));
    }
    hands_.letters_above(std::move(letters_), 0.4);
  }

 private:
  void note(const Played& p, int n) {
    const score::Note& note = p.note(n);
    const DrawnNote* head = hands_.drawn(p, n);
    const score::Drum* drum = drum_of(note, *staff_.part());
    if (head == nullptr || drum == nullptr) return;
    const Length middle = head->box.x + head->box.width / 2;
    const bool half = note.half_open || drum->place.ring == theory::DrumRing::HalfOpen;
    const bool open = drum->place.ring == theory::DrumRing::Open || (note.open && states_open(hands_, note.drum));
    if (open || half) ring(hands_.tag("drum-ring", *p.event, n), middle, half);
    if (note.choke) letters_.push_back({middle, hands_.label("choke"), hands_.tag("choke", *p.event, n)});
  }

  void ring(StaffContext::Tag tag, Length middle, bool half) {
    const Rect box = staff_.measure(MusicSign::OpenHiHat).box;
    const Length left = middle - box.width / 2;
    const Length reach = hands_.space(0.3);  // clear of the stem beside the head too
    const Length bottom = staff_.reserve_above(left - reach, left + box.width + reach, box.height, 0.4);
    const Rect drawn = staff_.sign(tag, MusicSign::OpenHiHat, {left - box.x, bottom - box.bottom()});
    if (!half) return;
    const Length over = hands_.space(0.2);
    staff_.line({"drum-half", tag.origin, tag.subject}, {drawn.left() - over, drawn.bottom() + over},
                {drawn.right() + over, drawn.top() - over}, 0.13, layout::Cap::Round);
  }

  Hands& hands_;
  StaffContext& staff_;
  std::vector<Hands::Letter> letters_;
};

}  // namespace

void draw_drum_signs(Hands& hands) {
  if (hands.staff.plan.drums && hands.staff.part() != nullptr) KitSigns(hands).run();
}

void draw_sticking(Hands& hands) {
  std::map<score::Place, Stack> moments;
  for (const Played& p : hands.played) {
    if (!p.begins || p.chord->slash) continue;
    for (std::size_t n = p.event->notes.size(); n-- > 0;) {
      const char hand = p.event->notes[n].hand;
      if (hand == 0) continue;
      Stack& stack = moments[p.from];
      stack.x = p.x;
      stack.lines.push_back(hands.label(std::string(1, hand)));
      stack.tags.push_back(hands.tag("sticking", *p.event, static_cast<int>(n)));
    }
  }
  std::vector<Stack> stacks;
  for (auto& [place, stack] : moments) stacks.push_back(std::move(stack));
  draw_stacks(hands, Side::Below, stacks, 0.45);
}

}  // namespace tunesheaf::engrave

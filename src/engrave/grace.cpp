#include <algorithm>

#include "draw.h"

namespace tunesheaf::engrave {

namespace {

struct Small {
  Length left, stem_x, y_top, y_bottom;
};

Small draw_small_head(StaffContext& staff, const Chord& chord, const Head& head, Length x) {
  const score::Event& event = staff.system.timeline.events[static_cast<std::size_t>(chord.event)];
  const StaffContext::Tag tag{"grace-head", event.origin, staff.subject(chord.event)};
  const Length y = staff.position_y(head.position);
  if (head.accidental) {
    staff.sign({"accidental", event.origin, tag.subject}, *head.accidental, {x, y}, kGraceSize);
    x += staff.measure(*head.accidental, kGraceSize).box.width + staff.space(0.15);
  }
  const text::Sign& shape = staff.measure(head.sign, kGraceSize);
  const Rect box = staff.sign(tag, head.sign, {x, y}, kGraceSize);
  const style::EngravingStyle& e = staff.system.style.engraving;
  const int side = head.position > 0 ? 1 : -1;
  for (int p = 6; p <= std::abs(head.position); p += 2) {
    const Length ledger = staff.position_y(p * side), reach = staff.space(0.25);
    staff.line({"ledger", event.origin, tag.subject}, {box.left() - reach, ledger}, {box.right() + reach, ledger},
               e.ledger_line, layout::Cap::Butt, {}, layout::Layer::Line);
  }
  staff.notes.push_back({tag.subject, {chord.bar, chord.onset}, chord.voice, box, true, true, true, {}});
  return {x, x + shape.stem_up.x - staff.space(e.stem * 0.4), y + shape.stem_up.y, y};
}

}  // namespace

void draw_grace(StaffContext& staff, const Chord& chord, Inks&) {
  const score::Event& event = staff.system.timeline.events[static_cast<std::size_t>(chord.event)];
  const Length end = staff.system.grace_end({chord.bar, chord.onset}, staff.plan.part);
  Length x = end - chord.grace_width;
  const style::EngravingStyle& e = staff.system.style.engraving;
  const StaffContext::Tag stem_tag{"grace-stem", event.origin, staff.subject(chord.event)};
  std::vector<Small> heads;
  for (const Head& head : chord.grace) {
    heads.push_back(draw_small_head(staff, chord, head, x));
    x += staff.space(kGraceAdvance);
    if (head.accidental) x += staff.measure(*head.accidental, kGraceSize).box.width + staff.space(0.15);
  }
  Length tip = heads.front().y_top;
  for (const Small& s : heads) tip = std::min(tip, s.y_top);
  tip -= staff.space(2.5);
  if (heads.size() == 1 && chord.lone && !chord.heads.empty()) {  // a flag ends over the head it leans on
    const Length over = staff.position_y(chord.top()) - staff.space(0.7 + 2.05);
    tip = std::max(tip - staff.space(1.5), std::min(tip, over));
  }
  for (const Small& s : heads) {
    staff.line(stem_tag, {s.stem_x, s.y_top}, {s.stem_x, tip}, e.stem * 0.8);
  }
  if (heads.size() == 1) {
    staff.sign({"grace-flag", event.origin, stem_tag.subject}, MusicSign::Flag8Up,
               {heads[0].stem_x - staff.space(e.stem * 0.4), tip}, kGraceSize);
    staff.line({"grace-slash", event.origin, stem_tag.subject},
               {heads[0].stem_x - staff.space(0.55), tip + staff.space(1.35)},
               {heads[0].stem_x + staff.space(0.6), tip + staff.space(0.47)}, 0.1);
  } else {
    const int levels = 2;
    const Length left = heads.front().stem_x - staff.space(e.stem * 0.4);
    const Length right = heads.back().stem_x + staff.space(e.stem * 0.4);
    for (int level = 0; level < levels; ++level) {
      const Length top = tip + staff.space(level * 0.5), bottom = top + staff.space(e.beam * 0.6);
      staff.fill({"grace-beam", event.origin, stem_tag.subject}, {{layout::PathVerb::Move, {left, top}, {}, {}},
                                                                  {layout::PathVerb::Line, {right, top}, {}, {}},
                                                                  {layout::PathVerb::Line, {right, bottom}, {}, {}},
                                                                  {layout::PathVerb::Line, {left, bottom}, {}, {}},
                                                                  {layout::PathVerb::Close, {}, {}, {}}});
    }
  }
}

}  // namespace tunesheaf::engrave

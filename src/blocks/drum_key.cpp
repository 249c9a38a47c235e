// Which head on the staff is which drum of a kit.
#include <algorithm>

#include "pen.h"
#include "tunesheaf/blocks/legend.h"
#include "tunesheaf/engrave/drum_heads.h"

namespace tunesheaf::blocks {
namespace {

using layout::Layer;
using text::MusicSign;

/// The drums of a kit from the lowest head up, and how far apart their heads stand.
struct Kit {
  std::vector<score::Drum> drums;
  Length step, clef;
  int lines = 5;
  int highest = 4, lowest = -4;
};
Kit kit_of(const Setting& setting, const score::Part& part) {
  const style::Style& style = setting.style;
  Kit kit{part.kit, style.staff_space * 6, style.staff_space * 3, part.kit_lines};
  std::stable_sort(kit.drums.begin(), kit.drums.end(),
                   [](const score::Drum& a, const score::Drum& b) { return a.place.position < b.place.position; });
  for (const score::Drum& drum : kit.drums) {
    kit.highest = std::max(kit.highest, drum.place.position);
    kit.lowest = std::min(kit.lowest, drum.place.position);
    kit.step = std::max(kit.step, width_of(setting, drum.name, style.small) + style.staff_space * 1.2);
  }
  return kit;
}

/// What a lane of its own says of the hi-hat's opening, over the head.
void drum_ring(Frame& frame, const Setting& setting, const theory::DrumPlace& place, Point foot) {
  if (place.ring == theory::DrumRing::None) return;
  const Length sp = setting.style.staff_space;
  const base::Rect box = setting.music.sign(MusicSign::OpenHiHat, sp).box;
  const Length left = foot.x - box.width / 2;
  put_sign(frame, setting, {left - box.x, foot.y - box.bottom()}, MusicSign::OpenHiHat, sp, "drum-key-ring",
           setting.style.ink);
  if (place.ring != theory::DrumRing::HalfOpen) return;
  const layout::Stroke stroke{sp * 0.13, setting.style.ink, layout::Cap::Round, {}};
  const Length reach = sp * 0.2;
  frame.items.push_back({{left - reach, foot.y + reach},
                         "drum-key-half",
                         Layer::Ink,
                         {},
                         {},
                         layout::LineShape{{box.width + reach + reach, -(box.height + reach + reach)}, stroke}});
}

void drum_head(Frame& frame, const Setting& setting, const score::Drum& drum, int lines, Point middle, Length names) {
  const style::Style& style = setting.style;
  const Length sp = style.staff_space;
  const MusicSign head = engrave::drum_head_sign(drum.place.head);
  const int position = drum.place.position;
  const Length half = setting.music.sign(head, sp).advance / 2;
  const auto line = [&](int at, Length from, Length to) {
    rule(frame, {middle.x + from, middle.y - sp * (at / 2.0)}, to - from, sp * style.engraving.ledger_line, style.ink,
         "drum-key-ledger");
  };
  const auto ledger = [&](int at) {
    const bool crossed = at == position && engrave::is_cross(head);
    const Length reach = half + sp * (crossed ? engrave::kCrossLedger : 0.35);
    if (!crossed) return line(at, -reach, reach);
    const Length in = half * (1 - 2 * engrave::kCrossLedgerIn);
    line(at, -reach, -in);
    line(at, in, reach);
  };
  for (int p = lines + 1; p <= position; p += 2) ledger(p);
  for (int p = -lines - 1; p >= position; p -= 2) ledger(p);
  put_sign(frame, setting, {middle.x - half, middle.y - sp * (position / 2.0)}, head, sp, "drum-key-head", style.ink);
  drum_ring(frame, setting, drum.place, {middle.x, middle.y - sp * (position / 2.0 + 1.0)});
  put(frame, setting, {middle.x, names}, drum.name, {style.small, style.ink, "drum-key-name"}, Align::Centre);
}

/// Five lines with the heads of drums `first` to `last` - 1 in their places and their names below.
FramePtr kit_frame(const Setting& setting, const Kit& kit, std::size_t first, std::size_t last, Span origin) {
  const style::Style& style = setting.style;
  const Length sp = style.staff_space;
  auto frame = std::make_shared<Frame>();
  frame->name = "drum-key";
  frame->role = Role::Figure;
  frame->origin = origin;
  const Length middle = sp * (kit.highest / 2.0 + 0.8);
  const Length width = kit.clef + kit.step * static_cast<double>(last - first);
  for (int line = 0; line < kit.lines; ++line) {
    rule(*frame, {{}, middle + sp * (line - (kit.lines - 1) / 2.0)}, width, sp * style.engraving.staff_line, style.ink,
         "drum-key-line");
  }
  put_sign(*frame, setting, {sp * 0.6, middle}, MusicSign::PercussionClef, sp, "drum-key-clef", style.ink);
  const Length names = middle + sp * (-kit.lowest / 2.0 + 1.0) + style.small.size;
  for (std::size_t i = first; i < last; ++i) {
    const Length x = kit.clef + kit.step * (static_cast<double>(i - first) + 0.5);
    drum_head(*frame, setting, kit.drums[i], kit.lines, {x, middle}, names);
  }
  frame->baseline = middle;
  frame->size = {setting.body(), names + style.small.size * 0.4};
  return frame;
}

}  // namespace

Flow drum_key(const Setting& setting) {
  Flow flow;
  for (const int p : setting.parts) {
    const score::Part& part = setting.song.parts[static_cast<std::size_t>(p)];
    if (part.kit.empty()) continue;
    flow.push_back(block_heading(setting, "The " + part.name.value + " on the staff"));
    const Kit kit = kit_of(setting, part);
    const std::size_t fit = std::max<std::size_t>(1, static_cast<std::size_t>((setting.body() - kit.clef) / kit.step));
    const std::size_t rows = (kit.drums.size() + fit - 1) / fit, in_row = (kit.drums.size() + rows - 1) / rows;
    for (std::size_t first = 0; first < kit.drums.size(); first += in_row) {
      const std::size_t last = std::min(kit.drums.size(), first + in_row);
      flow.push_back(flow_item(kit_frame(setting, kit, first, last, part.origin), setting.style.body.size * 0.8));
    }
  }
  return flow;
}

}  // namespace tunesheaf::blocks

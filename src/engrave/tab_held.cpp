#include "tab_held.h"

#include <algorithm>
#include <array>
#include <optional>

#include "arcs.h"

namespace tunesheaf::engrave {

HeldFigures::HeldFigures(StaffContext& staff, const StaffPlan& plan) : staff_(staff), plan_(plan) {
  const SystemContext& system = staff.system;
  const int bars = static_cast<int>(plan.bars.size());
  for (int bar = system.first_bar; bar < std::min(bars, system.last_bar + 2); ++bar) {  // arrivals may stand beyond
    for (const Chord& chord : plan.bars[static_cast<std::size_t>(bar)].chords) {
      if (chord.rest || chord.event < 0) continue;
      last_[chord.event] = {bar, chord.onset};
      for (const score::Note& arrived : system.timeline.events[static_cast<std::size_t>(chord.event)].notes) {
        if (arrived.more->link.from_event >= 0)
          left_.emplace(arrived.more->link.from_event, arrived.more->link.from_note);
      }
    }
  }
}

const score::Note& HeldFigures::note(const Chord& chord, const Head& head) const {
  return staff_.system.timeline.events[static_cast<std::size_t>(chord.event)]
      .notes[static_cast<std::size_t>(head.note)];
}

bool HeldFigures::struck_anew(const Chord& chord, const score::Note& held) const {
  const auto& events = staff_.system.timeline.events;
  const score::Place began = events[static_cast<std::size_t>(chord.event)].at, here{chord.bar, chord.onset};
  const auto sounds_here = [&](int event) {
    const auto& chords = plan_.bars[static_cast<std::size_t>(chord.bar)].chords;
    return std::any_of(chords.begin(), chords.end(), [&](const Chord& c) {
      return c.event == event && c.onset <= chord.onset && chord.onset < c.onset + c.duration;
    });
  };
  for (int bar = began.bar; bar <= chord.bar; ++bar) {
    for (const Chord& other : plan_.bars[static_cast<std::size_t>(bar)].chords) {
      const score::Place at{bar, other.onset};
      if (other.rest || other.event < 0 || other.event == chord.event || !other.attack) continue;
      if (at < began || at > here) continue;
      // Of two that were struck at once the first voice's goes on.
      const bool at_once = at == began && !held.tied_from;
      if (at_once && (other.voice >= chord.voice || !sounds_here(other.event))) continue;
      const auto& notes = events[static_cast<std::size_t>(other.event)].notes;
      if (other.slash) return true;  // a strum
      const bool same = std::any_of(notes.begin(), notes.end(),
                                    [&](const score::Note& n) { return n.string == held.string && !n.tied_from; });
      if (same) return true;
    }
  }
  return false;
}

bool HeldFigures::named(const Chord& chord, const Head& head) const {
  const score::Place at{chord.bar, chord.onset};
  if (at == score::Place{staff_.system.first_bar, Fraction()}) return true;
  if (!plan_.rhythm) return false;
  const score::Note& held = note(chord, head);
  if (!held.more->bend.empty()) return true;  // its curves stand where a tie would
  const bool leaves = left_.count({chord.event, head.note}) > 0 || held.slide_off != song::SlideOff::None;
  return leaves && at == last_.at(chord.event);
}

void HeldFigures::add(const Chord& chord, const Head& head, bool held, Length left, Length right) {
  const score::Note& sounding = note(chord, head);
  const Span origin = sounding.origin.length() > 0
                          ? sounding.origin
                          : staff_.system.timeline.events[static_cast<std::size_t>(chord.event)].origin;
  pieces_.push_back({{chord.bar, chord.onset},
                     {chord.bar, chord.onset + chord.duration},
                     sounding.string,
                     held,
                     !sounding.more->bend.empty(),
                     left,
                     right,
                     {"tie", origin, staff_.subject(chord.event, head.note)}});
}

/// The next bar, on another system, begins with what this piece holds.
bool HeldFigures::goes_on_beyond(const Piece& piece) const {
  const auto next = static_cast<std::size_t>(staff_.system.last_bar);
  if (next >= plan_.bars.size()) return false;
  for (const Chord& chord : plan_.bars[next].chords) {
    if (chord.rest || chord.slash || chord.event < 0 || chord.onset != Fraction()) continue;
    for (const Head& head : chord.heads) {
      if (head.note >= 0 && head.tied_from && note(chord, head).string == piece.string) return true;
    }
  }
  return false;
}

void HeldFigures::draw_ties() {
  std::stable_sort(pieces_.begin(), pieces_.end(), [](const Piece& a, const Piece& b) {
    return a.string != b.string ? a.string < b.string : a.at < b.at;
  });
  const SystemContext& system = staff_.system;
  for (std::size_t i = 0; i < pieces_.size(); ++i) {
    const Piece& piece = pieces_[i];
    const Piece* before = i > 0 && pieces_[i - 1].string == piece.string ? &pieces_[i - 1] : nullptr;
    const bool last = i + 1 == pieces_.size() || pieces_[i + 1].string != piece.string;
    if (piece.held && before != nullptr && !before->bent) tie(piece, before->right, piece.left);
    if (piece.held && before == nullptr && !piece.bent) {
      const Length from = std::max(piece.left - staff_.space(2), system.content_left - staff_.space(0.4));
      tie(piece, from, piece.left);
    }
    const bool at_end = piece.end.bar + 1 == system.last_bar &&
                        piece.end.onset == system.section.bars[static_cast<std::size_t>(piece.end.bar)].length;
    if (plan_.rhythm && last && at_end && !piece.bent && goes_on_beyond(piece)) {
      // A meter may stand behind.
      tie(piece, piece.right, std::min(system.leaves_at(), system.bar_end.back()) - staff_.space(0.2));
    }
  }
}

/// Over its string where the figures of the next one leave room, else flatter, or under it.
void HeldFigures::tie(const Piece& piece, Length x0, Length x1) {
  const Length pad = staff_.space(0.18), y = staff_.string_y(piece.string);
  x0 = staff_.begin_after(x0 + pad, y);  // past a second figure beside it
  x1 -= pad;
  if (x1 < x0 + staff_.space(0.35)) return;  // no white between them
  if (const auto signs = signs_within(staff_, x0, x1, y)) {
    tie(piece, x0 - pad, signs->left + pad);
    return tie(piece, signs->right - pad, x1 + pad);
  }
  struct Look {
    double off, share, dislike;
  };
  static constexpr std::array<Look, 6> kLooks{
      {{0.3, 1, 0}, {0.3, 0.6, 0.02}, {0.2, 0.6, 0.04}, {0.3, 0.35, 0.05}, {0.15, 0.4, 0.08}, {0.12, 0.25, 0.1}}};
  const double length = (x1 - x0) / staff_.system.sp, rise = std::clamp(0.24 + 0.05 * length, 0.3, 0.5);
  const ArcField field(staff_, x0, x1);
  std::optional<Arc> best;
  double worth = 0;
  for (const double way : {-1.0, 1.0}) {
    for (const Look& look : kLooks) {
      const Length foot = y + staff_.space(look.off * way);
      Arc arc{{x0, foot}, {x1, foot}, rise * look.share * way};
      arc.hurt = field.hurt(arc, 0.03);
      const double price = arc.hurt + look.dislike + (way > 0 ? 0.15 : 0);
      if (best && price >= worth) continue;
      best = arc;
      worth = price;
    }
  }
  draw_arc(staff_, piece.tag, *best, {"stem"});
}

}  // namespace tunesheaf::engrave

// Ties. The tie of a lone head, and of the outermost head on its side, lies outside the head; ties within a chord lie
// between the heads, after dots and before what stands left of the next heads (Gould 2011). Each is the least hurt of a
// few ways to draw it, the outer ties of a chord being drawn before the inner ones.
#include <algorithm>
#include <array>
#include <optional>

#include "arcs.h"
#include "draw.h"

namespace tunesheaf::engrave {

namespace {

/// A head at one end of a tie; nothing at the edge of a system, or at signs that part the tie: then where it ends.
struct TieEnd {
  const Chord* chord = nullptr;
  const Head* head = nullptr;
  std::optional<Length> edge{};
};

class TieDrawer {
 public:
  TieDrawer(StaffContext& staff, StaffPlan& plan) : staff_(staff), plan_(plan) {}

  void run() {
    for (const auto& voice : chords_by_voice(plan_, staff_.system)) {
      std::vector<const Chord*> chords;
      for (const Placed& p : voice) {
        if (!p.chord->rest && !p.chord->heads.empty()) chords.push_back(p.chord);
      }
      for (std::size_t i = 0; i < chords.size(); ++i) {
        if (i == 0) from_before(*chords[i]);
        if (i + 1 < chords.size()) {
          between(*chords[i], *chords[i + 1]);
        } else {
          beyond(*chords[i]);
        }
      }
    }
  }

 private:
  bool upwards(const Chord& chord, std::size_t head) const {
    if (!chord.lone) return chord.stem_up;
    const std::size_t count = chord.heads.size();
    if (count == 1) return !chord.stem_up;
    if (count % 2 == 1 && head == count / 2) return !chord.stem_up;
    return head >= count / 2;  // the upper half curves up, the lower half down
  }

  /// A head that sounds on from the other. Slashes of the chart belong to no event: each is struck.
  static bool held_over(const Chord& from, const Head& head, const Chord& to, const Head& other) {
    if (from.event < 0) return false;
    if (from.event == to.event && !to.attack) return other.note == head.note;
    return other.tied_from && other.position == head.position;
  }

  /// Heads of a chord from the outermost inwards, on either side.
  static std::vector<std::size_t> from_outside(const Chord& chord) {
    std::vector<std::size_t> order;
    for (std::size_t low = 0, high = chord.heads.size(); low < high;) {
      order.push_back(low++);
      if (low < high) order.push_back(--high);
    }
    return order;
  }

  void between(const Chord& from, const Chord& to) {
    if (from.bar + 1 < to.bar) return;
    for (const std::size_t i : from_outside(from)) {
      const Head& head = from.heads[i];
      const auto other =
          std::find_if(to.heads.begin(), to.heads.end(), [&](const Head& h) { return held_over(from, head, to, h); });
      if (other == to.heads.end()) continue;
      if (other->position == head.position) {
        tie(from, i, {&from, &head}, {&to, &*other});
        continue;
      }
      // An octave line or a clef begins under it: a half at either height, as where signs part it.
      const Length middle = (from.x + to.x) / 2, white = staff_.space(0.2);
      tie(from, i, {&from, &head}, {nullptr, nullptr, middle - white});
      tie(to, static_cast<std::size_t>(other - to.heads.begin()), {nullptr, nullptr, middle + white}, {&to, &*other});
    }
  }

  /// Half a curve at the left of the system, from behind the clef.
  void from_before(const Chord& chord) {
    if (chord.onset != Fraction() || chord.bar != staff_.system.first_bar) return;
    for (const std::size_t i : from_outside(chord)) {
      if (chord.heads[i].tied_from) tie(chord, i, {}, {&chord, &chord.heads[i]});
    }
  }

  /// Half a curve to the end of the system, where the next bar goes on with it.
  void beyond(const Chord& chord) {
    const int next_bar = staff_.system.last_bar;
    if (next_bar >= static_cast<int>(plan_.bars.size()) || chord.bar != next_bar - 1) return;
    for (const Chord& next : plan_.bars[static_cast<std::size_t>(next_bar)].chords) {
      if (next.voice != chord.voice || next.onset != Fraction() || next.rest) continue;
      for (const std::size_t i : from_outside(chord)) {
        const bool held = std::any_of(next.heads.begin(), next.heads.end(),
                                      [&](const Head& other) { return held_over(chord, chord.heads[i], next, other); });
        if (held) tie(chord, i, {&chord, &chord.heads[i]}, {});
      }
    }
  }

  // ---------------------------------------------------------------- one tie

  struct Look {
    double off;      ///< sp from the middle of the head
    bool over_head;  ///< begins and ends over the heads, not between them
    double share;    ///< of the usual rise
    double dislike;
  };

  void tie(const Chord& chord, std::size_t index, TieEnd from, TieEnd to) {
    const Arc whole = best_of(chord, index, from, to);
    const score::Event& event = staff_.system.timeline.events[static_cast<std::size_t>(chord.event)];
    const StaffContext::Tag tag{"tie", event.origin, staff_.subject(chord.event, chord.heads[index].note)};
    const auto signs = whole.hurt > 0 ? signs_within(staff_, whole.from.x, whole.to.x, whole.from.y) : std::nullopt;
    if (!signs) return draw(tag, whole);
    // A meter or a key on the way parts the tie, as the end of a line does (Gould 2011).
    if (from.chord != nullptr) draw(tag, best_of(chord, index, from, {nullptr, nullptr, signs->left}));
    if (to.chord != nullptr) draw(tag, best_of(chord, index, {nullptr, nullptr, signs->right}, to));
  }

  void draw(StaffContext::Tag tag, const Arc& arc) { draw_arc(staff_, tag, arc, {"stem", "bend-angle"}); }

  /// The best of the usual ways that is clear; where all of them meet ink, one that bows further out.
  Arc best_of(const Chord& chord, std::size_t index, const TieEnd& from, const TieEnd& to) const {
    const bool up = upwards(chord, index);
    const bool outermost = index == (up ? chord.heads.size() - 1 : 0);
    const Length y = staff_.position_y(chord.heads[index].position);
    std::optional<Arc> best;
    double worth = 0;
    for (const bool turned : {false, true}) {
      for (const Look& look : looks(chord, outermost && !turned)) {
        for (const double least : {kLeast, kLeastInCramped}) {
          double cramped = 0;
          const Arc arc = place(look, up != turned, y, from, to, least, cramped);
          const double touches = arc.hurt > 0 ? 1 + arc.hurt : 0;
          const double price = touches + look.dislike + (turned ? 0.5 : 0) + cramped;
          if (!best || price < worth) {
            best = arc;
            worth = price;
          }
          if (cramped == 0) break;
        }
      }
      if (best->hurt == 0) return *best;
    }
    for (const bool turned : {false, true}) {
      double cramped = 0;
      const Arc wish = place(looks(chord, true).front(), up != turned, y, from, to, kLeast, cramped);
      ArcField field(staff_, wish.from.x, wish.to.x);
      field.allow("stem");
      const double length = (wish.to.x - wish.from.x) / staff_.system.sp;
      // Further out it would not be read as a tie; a long one has to pass what the other voice plays meanwhile.
      const Arc arc = field.fit(wish, {std::min(1.0 + 0.15 * length, 3.0), std::min(0.9 + 0.3 * length, 6.0)}, kWhite);
      if (arc.hurt < best->hurt) best = arc;
      if (best->hurt == 0) break;
    }
    return *best;
  }

  static std::vector<Look> looks(const Chord& chord, bool outermost) {
    if (chord.slash) return {{1.25, true, 1, 0}};
    const double over = outermost ? 0 : 0.3, between = outermost && chord.heads.size() == 1 ? 0.15 : 0.1;
    return {{0.66, true, 1, over},
            {0.66, true, 0.7, over + 0.03},
            {0.8, true, 1, over + 0.05},
            {0.95, true, 0.8, over + 0.08},
            {0.28, false, 1, between},
            {0.12, false, 0.8, between + 0.03},
            {0.4, false, 0.6, between + 0.04},
            {0.2, false, 0.55, between + 0.05},
            {0.0, false, 0.6, between + 0.06},
            {0.5, false, 1, between + 0.06}};
  }

  static constexpr double kLeast = 0.9, kLeastInCramped = 0.55;  ///< length of a tie in sp
  static constexpr double kWhite = 0.08;                         ///< sp from a tie to any ink
  /// What a short tie between signs gives up at either end, in sp: where it is steep its band is as thick to its sides.
  static constexpr double kSteepEnd = 0.06;

  /// `least` is its shortest length; `cramped` is set to what is to be paid where there is less room than that.
  Arc place(const Look& look, bool up, Length height, const TieEnd& from, const TieEnd& to, double least,
            double& cramped) const {
    const double way = up ? -1 : 1;
    const Length y = height + staff_.space(look.off * way);
    const double pad = look.over_head ? -0.25 : 0.15;
    Length a, b;
    if (to.chord != nullptr) b = staff_.end_before(to.chord->x + to.head->left - staff_.space(pad), y);
    if (from.chord != nullptr) {
      const Length right = from.chord->x + from.head->left + staff_.measure(from.head->sign).box.width;
      a = staff_.begin_after(right + staff_.space(pad), y);
      if (!look.over_head) a = staff_.begin_after(staff_.past_dots(a, y), y);
    } else {
      a = std::max(b - staff_.space(2), from.edge.value_or(staff_.system.content_left + staff_.space(0.15)));
    }
    if (to.chord == nullptr) b = to.edge.value_or(staff_.system.leaves_at() - staff_.space(0.2));
    const double room = (b - a) / staff_.system.sp;
    cramped = room < kLeast ? 0.2 * (kLeast - room) + 0.3 * (kLeast - least) : 0;
    if (room < least) {
      // At an edge the tie grows to the side of its head, else to both sides.
      const Length half = staff_.space(least / 2);
      const Length middle = to.chord == nullptr ? b - half : from.chord == nullptr ? a + half : (a + b) / 2;
      a = middle - half;
      b = middle + half;
    }
    const double length = (b - a) / staff_.system.sp;
    Arc arc{{a, y}, {b, y}, std::clamp(0.32 + 0.09 * length, 0.4, 1.15) * look.share * way};
    ArcField field(staff_, a, b);
    field.allow("stem");
    arc.hurt = field.hurt(arc, kWhite);
    const Length in = staff_.space(kSteepEnd);
    const bool half = from.chord == nullptr || to.chord == nullptr;  // which may lie over its head
    if (arc.hurt == 0 || half || room - 2 * kSteepEnd < least) return arc;
    Arc shorter = arc;
    shorter.from.x += in;
    shorter.to.x -= in;
    shorter.hurt = field.hurt(shorter, kWhite);
    return shorter.hurt == 0 ? shorter : arc;
  }

  StaffContext& staff_;
  StaffPlan& plan_;
};

}  // namespace

void draw_ties(StaffContext& staff, StaffPlan& plan) {
  TieDrawer(staff, plan).run();
}

}  // namespace tunesheaf::engrave

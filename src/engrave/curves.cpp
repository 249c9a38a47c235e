#include <algorithm>
#include <cmath>
#include <set>
#include <string_view>

#include "draw.h"

namespace tunesheaf::engrave {

namespace {

bool legato(song::Arrival arrival) {
  return arrival == song::Arrival::HammerOn || arrival == song::Arrival::PullOff ||
         arrival == song::Arrival::LegatoSlide;
}

class CurveDrawer {
 public:
  CurveDrawer(StaffContext& staff, StaffPlan& plan)
      : staff_(staff), plan_(plan), style_(staff.system.style.engraving) {}

  void ties() {
    for (const auto& voice : chords_by_voice(plan_, staff_.system)) {
      std::vector<const Chord*> chords = sounding(voice);
      for (std::size_t i = 0; i < chords.size(); ++i) {
        const Chord* next = i + 1 < chords.size() ? chords[i + 1] : nullptr;
        if (i == 0) ties_from_before(*chords[i]);
        if (next != nullptr) {
          ties_between(*chords[i], *next);
        } else {
          ties_beyond(*chords[i]);
        }
      }
    }
  }

  void slurs() {
    for (const auto& voice : chords_by_voice(plan_, staff_.system)) {
      const std::vector<const Chord*> chords = sounding(voice);
      legato_slurs(chords);
      marked_slurs(chords);
    }
  }

 private:
  const score::Event& event(const Chord& chord) const {
    return staff_.system.timeline.events[static_cast<std::size_t>(chord.event)];
  }
  static std::vector<const Chord*> sounding(const std::vector<Placed>& voice) {
    std::vector<const Chord*> chords;
    for (const Placed& p : voice) {
      if (!p.chord->rest && !p.chord->heads.empty()) chords.push_back(p.chord);
    }
    return chords;
  }

  // ---------------------------------------------------------------- ties

  bool upwards(const Chord& chord, std::size_t head) const {
    if (!chord.lone) return chord.stem_up;
    const std::size_t count = chord.heads.size();
    if (count == 1) return !chord.stem_up;
    if (count % 2 == 1 && head == count / 2) return !chord.stem_up;
    return head >= count / 2;  // the upper half curves up, the lower half down
  }

  Length head_right(const Chord& chord, const Head& head) const {
    if (chord.dots > 0) {
      const Length dot = staff_.measure(MusicSign::AugmentationDot).box.width;
      return chord.x + chord.dots_left + dot * chord.dots + staff_.space(0.25 * chord.dots);
    }
    return chord.x + head.left + staff_.measure(head.sign).box.width;
  }

  void tie(const Chord& chord, std::size_t head, Length from, Length to) {
    const bool up = upwards(chord, head);
    const int position = chord.heads[head].position;
    const double way = up ? -1 : 1;
    const bool inner = chord.heads.size() > 1;
    const bool under_flag = up && chord.stem_up && chord.flag() && !chord.slash;  // low and flat, beneath its curl
    const double off = chord.slash ? 1.25 : under_flag ? 0.05 : inner ? 0.28 : 0.62;
    const Length y = staff_.position_y(position) + staff_.space(off * way);
    const Length pad = staff_.space(inner || under_flag ? 0.2 : -0.25);
    Point a{from + pad, y}, b{to - pad, y};
    b.x = std::min(b.x, staff_.system.right);
    if (b.x - a.x < staff_.space(0.9)) a.x = b.x - staff_.space(0.9);
    const double length = (b.x - a.x) / staff_.system.sp;
    const double rise = under_flag ? 0.4 : std::clamp(0.32 + 0.09 * length, 0.4, 1.15);
    staff_.fill_sliced(
        {"tie", event(chord).origin, staff_.subject(chord.event, chord.heads[head].note)},
        text::slur(a, b, staff_.space(rise * way), staff_.space(style_.slur_ends), staff_.space(style_.slur_middle)));
  }

  /// A head that sounds on from the other. Slashes of the chart belong to no event: each is struck.
  static bool held_over(const Chord& from, const Head& head, const Chord& to, const Head& other) {
    if (from.event < 0) return false;
    if (from.event == to.event && !to.attack) return other.note == head.note;
    return other.tied_from && other.position == head.position;
  }

  void ties_between(const Chord& from, const Chord& to) {
    for (std::size_t i = 0; i < from.heads.size(); ++i) {
      const Head& head = from.heads[i];
      for (const Head& other : to.heads) {
        if (!held_over(from, head, to, other) || from.bar * 2 + 2 < to.bar * 2) continue;
        tie(from, i, head_right(from, head), to.x + other.left);
        break;
      }
    }
  }

  /// Half a curve at the left of the system, from behind the clef.
  void ties_from_before(const Chord& chord) {
    if (chord.onset != Fraction()) return;
    for (std::size_t i = 0; i < chord.heads.size(); ++i) {
      if (!chord.heads[i].tied_from) continue;
      const Length to = chord.x + chord.heads[i].left;
      tie(chord, i, std::max(to - staff_.space(2), staff_.system.content_left + staff_.space(0.1)), to);
    }
  }

  /// Half a curve to the end of the system, where the next bar goes on with it.
  void ties_beyond(const Chord& chord) {
    const int next_bar = staff_.system.last_bar;
    if (next_bar >= static_cast<int>(plan_.bars.size()) || chord.bar != next_bar - 1) return;
    for (const Chord& next : plan_.bars[static_cast<std::size_t>(next_bar)].chords) {
      if (next.voice != chord.voice || next.onset != Fraction() || next.rest) continue;
      for (std::size_t i = 0; i < chord.heads.size(); ++i) {
        for (const Head& other : next.heads) {
          if (!held_over(chord, chord.heads[i], next, other)) continue;
          tie(chord, i, head_right(chord, chord.heads[i]), staff_.system.right - staff_.space(0.2));
        }
      }
    }
  }

  // ---------------------------------------------------------------- slurs

  /// Edge of a chord on the side of the curve: the head, or the end of its stem.
  Length edge(const Chord& chord, bool up) const {
    const int outer = up ? chord.top() : chord.bottom();
    const Length head = staff_.position_y(outer) + staff_.space(up ? -0.5 : 0.5);
    if (!chord.has_stem || chord.stem_up != up) return head;
    return up ? std::min(head, chord.stem_tip) : std::max(head, chord.stem_tip);
  }

  void slur(const std::vector<const Chord*>& under, bool begins, bool ends, Span origin, layout::Kind kind) {
    const Chord& first = *under.front();
    const Chord& last = *under.back();
    bool up = !first.lone ? first.stem_up
                          : std::any_of(under.begin(), under.end(), [](const Chord* c) { return !c->stem_up; });
    const double way = up ? -1 : 1;
    Point a{first.x, edge(first, up) + staff_.space(0.45 * way)}, b{last.x, edge(last, up) + staff_.space(0.45 * way)};
    if (first.has_stem && first.stem_up == up) a.x += staff_.space(up ? 0.55 : -0.3);
    if (last.has_stem && last.stem_up == up) b.x += staff_.space(up ? 0.3 : -0.55);
    if (!begins) a = {staff_.system.content_left, b.y};
    if (!ends) b = {staff_.system.right, a.y};
    if (!begins && !ends) a.y = b.y = up ? -staff_.space(1) : staff_.height() + staff_.space(1);
    if (b.x - a.x < staff_.space(1)) b.x = a.x + staff_.space(1);
    const double length = (b.x - a.x) / staff_.system.sp;
    double rise = std::clamp(0.6 + 0.08 * length, 0.75, 2.2);
    for (const Point& p : obstacles(a.x, b.x, up)) {
      const double t = (p.x - a.x) / (b.x - a.x);
      if (t < 0.06 || t > 0.94) continue;
      const double beyond = (p.y - (a.y + (b.y - a.y) * t)) / staff_.system.sp * way + 0.35;
      if (beyond > 0) rise = std::max(rise, beyond / (3.4 * t * (1 - t) + 0.12));
    }
    rise = std::min(rise, 1.5 + 0.3 * length);
    staff_.fill_sliced(
        {kind, origin, staff_.subject(first.event)},
        text::slur(a, b, staff_.space(rise * way), staff_.space(style_.slur_ends), staff_.space(style_.slur_middle)));
  }

  /// Corners of what stands between, on the side of the curve.
  std::vector<Point> obstacles(Length from, Length to, bool up) const {
    static const std::set<std::string_view> kInTheWay{
        "note-head",  "note-head-tied", "accidental", "dot",    "flag",   "stem",    "beam",        "grace-head",
        "grace-stem", "grace-beam",     "staccato",   "tenuto", "accent", "marcato", "parenthesis", "rest"};
    std::vector<Point> corners;
    for (const layout::Item& item : staff_.items) {
      if (kInTheWay.count(item.kind.name()) == 0) continue;
      const Rect box = layout::box_of(item);
      if (box.right() <= from || box.left() >= to) continue;
      const Length y = up ? box.top() : box.bottom();
      corners.push_back({box.left(), y});
      corners.push_back({box.right(), y});
    }
    return corners;
  }

  bool legato_into(const Chord& chord) const {
    if (chord.slash || chord.event < 0 || !chord.attack) return false;
    const auto& notes = event(chord).notes;
    return std::any_of(notes.begin(), notes.end(),
                       [](const score::Note& n) { return legato(n.link.kind) && n.link.from_event >= 0; });
  }

  static constexpr int kNone = -2, kBefore = -1;

  /// Index of the chord that a hammered, pulled or slid chord comes from; kBefore: it stands on an earlier system.
  int source_of(const std::vector<const Chord*>& chords, std::size_t to) const {
    if (!legato_into(*chords[to])) return kNone;
    for (const score::Note& note : event(*chords[to]).notes) {
      if (!legato(note.link.kind) || note.link.from_event < 0) continue;
      for (std::size_t k = 0; k < to; ++k) {
        if (chords[k]->event == note.link.from_event && chords[k]->attack) return static_cast<int>(k);
      }
    }
    const auto& notes = event(*chords[to]).notes;
    const bool before = std::any_of(notes.begin(), notes.end(), [&](const score::Note& n) {
      if (!legato(n.link.kind) || n.link.from_event < 0) return false;
      const score::Place at = staff_.system.timeline.events[static_cast<std::size_t>(n.link.from_event)].at;
      return at.bar < staff_.system.first_bar;
    });
    if (before) return kBefore;
    return to == 0 ? kNone : static_cast<int>(to) - 1;  // it comes from the other voice
  }
  bool comes_from(const Chord& to, const Chord& from) const {
    const auto& notes = event(to).notes;
    return std::any_of(notes.begin(), notes.end(), [&](const score::Note& n) {
      return legato(n.link.kind) && n.link.from_event >= 0 && n.link.from_event == from.event;
    });
  }

  /// One curve over a chain of chords, each reached from the one before without a stroke; halves where a system ends.
  void legato_slurs(const std::vector<const Chord*>& chords) {
    std::vector<int> source;
    std::vector<bool> goes_on(chords.size(), false);
    for (std::size_t i = 0; i < chords.size(); ++i) {
      source.push_back(source_of(chords, i));
      if (source[i] >= 0) goes_on[static_cast<std::size_t>(source[i])] = true;
    }
    for (std::size_t i = 0; i < chords.size(); ++i) {
      const bool beyond = chords[i]->attack && leads_beyond(*chords[i]);
      if (goes_on[i] || (source[i] == kNone && !beyond)) continue;
      std::size_t first = i;
      while (source[first] >= 0) first = static_cast<std::size_t>(source[first]);
      const std::vector<const Chord*> under(chords.begin() + static_cast<std::ptrdiff_t>(first),
                                            chords.begin() + static_cast<std::ptrdiff_t>(i + 1));
      slur(under, source[first] != kBefore, !beyond, event(*chords[i]).origin, "slur");
    }
  }

  /// A chord of the next system is reached from this one without a stroke.
  bool leads_beyond(const Chord& chord) const {
    const int bars = static_cast<int>(plan_.bars.size());
    if (chord.event < 0 || chord.slash) return false;
    for (int b = staff_.system.last_bar; b < std::min(bars, staff_.system.last_bar + 2); ++b) {
      for (const Chord& next : plan_.bars[static_cast<std::size_t>(b)].chords) {
        if (next.voice == chord.voice && !next.rest && legato_into(next) && comes_from(next, chord)) return true;
      }
    }
    return false;
  }

  void marked_slurs(const std::vector<const Chord*>& chords) {
    if (staff_.music() == nullptr) return;
    const SystemContext& system = staff_.system;
    for (const score::Mark& mark : staff_.marks()) {
      if (mark.kind != "slur") continue;
      std::vector<const Chord*> under;
      for (const Chord* chord : chords) {
        const score::Place at{chord->bar, chord->onset};
        if (at >= mark.from && at < mark.to) under.push_back(chord);
      }
      if (under.empty()) continue;
      const bool begins = mark.from >= score::Place{system.first_bar, Fraction()};
      const bool ends = mark.to <= score::Place{system.last_bar, Fraction()};
      if (under.size() < 2 && begins && ends) continue;
      slur(under, begins, ends, mark.origin, "slur");
    }
  }

  StaffContext& staff_;
  StaffPlan& plan_;
  const style::EngravingStyle& style_;
};

}  // namespace

void draw_ties(StaffContext& staff, StaffPlan& plan) {
  CurveDrawer(staff, plan).ties();
}
void draw_slurs(StaffContext& staff, StaffPlan& plan) {
  CurveDrawer(staff, plan).slurs();
}

}  // namespace tunesheaf::engrave

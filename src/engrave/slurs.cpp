// Slurs: over notes that are reached without a stroke, over marked spans, and from small notes to their own.
#include <algorithm>
#include <optional>

#include "arcs.h"
#include "draw.h"
#include "lyrics.h"
#include "marks.h"

namespace tunesheaf::engrave {

namespace {

class SlurDrawer {
 public:
  SlurDrawer(StaffContext& staff, StaffPlan& plan) : staff_(staff), plan_(plan) {}

  /// Short ones first: those that reach further lie outside them.
  void run() {
    for (const auto& voice : chords_by_voice(plan_, staff_.system)) {
      const std::vector<const Chord*> chords = sounding(voice);
      for (const Chord* chord : chords) {
        if (!chord->grace.empty()) grace_slur(*chord);
      }
      legato_slurs(chords);
      marked_slurs(chords);
      if (!voice.empty() && voice.front().chord->voice == 1) sung_slurs(chords);
    }
    std::stable_sort(wishes_.begin(), wishes_.end(),
                     [&](const Wish& x, const Wish& y) { return length_of(x) < length_of(y); });
    for (const Wish& w : wishes_) slur(w);
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

  // ---------------------------------------------------------------- slurs

  /// Edge of a chord on the side of the curve: the head, or the end of its stem.
  Length edge(const Chord& chord, bool up) const {
    const int outer = up ? chord.top() : chord.bottom();
    const Length head = staff_.position_y(outer) + staff_.space(up ? -0.5 : 0.5);
    if (!chord.has_stem || chord.stem_up != up) return head;
    return up ? std::min(head, chord.stem_tip) : std::max(head, chord.stem_tip);
  }

  struct Wish {
    std::vector<const Chord*> under;
    bool begins = true, ends = true;
    Span origin;
  };

  void wish(const std::vector<const Chord*>& under, bool begins, bool ends, Span origin) {
    const bool said = std::any_of(wishes_.begin(), wishes_.end(), [&](const Wish& w) {
      return w.under.front() == under.front() && w.under.back() == under.back() && w.begins == begins && w.ends == ends;
    });
    if (!said) wishes_.push_back({under, begins, ends, origin});  // a span and a legato may say the same
  }

  Length length_of(const Wish& w) const {
    const Length from = w.begins ? w.under.front()->x : staff_.system.content_left;
    const Length to = w.ends ? w.under.back()->x : staff_.system.leaves_at();
    return to - from;
  }

  /// On its usual side; on the other where that lies clear and this cannot: of two slurs that end under one another
  /// one lies over the notes and one under them.
  void slur(const Wish& w) {
    const Chord& first = *w.under.front();
    const bool up = !first.lone
                        ? first.stem_up
                        : std::any_of(w.under.begin(), w.under.end(), [](const Chord* c) { return !c->stem_up; });
    Arc arc = arc_over(w, up);
    if (arc.hurt > 0) {
      const Arc turned = arc_over(w, !up);
      if (turned.hurt == 0) arc = turned;
    }
    draw_arc(staff_, {"slur", w.origin, staff_.subject(first.event)}, arc, {"stem", "beam"});
  }

  Arc arc_over(const Wish& w, bool up) const {
    const Chord& first = *w.under.front();
    const Chord& last = *w.under.back();
    const double way = up ? -1 : 1;
    Point a{first.x, edge(first, up) + staff_.space(0.45 * way)}, b{last.x, edge(last, up) + staff_.space(0.45 * way)};
    if (first.has_stem && first.stem_up == up) a.x += staff_.space(up ? 0.55 : -0.3);
    if (last.has_stem && last.stem_up == up) b.x += staff_.space(up ? 0.3 : -0.55);
    if (!w.begins) a = {staff_.system.content_left, b.y};
    if (!w.ends) b = {staff_.system.leaves_at(), a.y};
    if (!w.begins && !w.ends) a.y = b.y = up ? -staff_.space(1) : staff_.height() + staff_.space(1);
    if (b.x - a.x < staff_.space(1)) b.x = a.x + staff_.space(1);
    const double length = (b.x - a.x) / staff_.system.sp;
    const double rise = std::clamp(0.6 + 0.08 * length, 0.75, 2.2);
    return ArcField(staff_, a.x, b.x).fit({a, b, rise * way}, {4.0, 1.5 + 0.3 * length}, 0.15);
  }

  // ---------------------------------------------------------------- from small notes

  /// From the first small head to the head of its note, beneath both; to the side of the note's head where another
  /// voice stands under it.
  void grace_slur(const Chord& chord) {
    if (struck_apart(chord)) return;
    std::optional<Rect> small;
    for (const DrawnNote& note : staff_.notes) {
      const bool own = note.grace && note.subject.event == chord.event && note.at.bar == chord.bar;
      if (own && !small) small = note.box;
    }
    if (!small) return;
    const Point from{small->left() + staff_.space(0.35), small->bottom() + staff_.space(0.16)};
    const Head& main = staff_.plan.drums ? struck_again(chord) : head_of_string(chord);
    Arc best = arc_to(chord, main, from);
    if (best.hurt > 0 && &main != &chord.heads.front()) {  // beneath the whole chord
      const Arc lower = arc_to(chord, chord.heads.front(), from);
      if (lower.hurt == 0) best = lower;
    }
    draw_arc(staff_, {"grace-slur", event(chord).origin, staff_.subject(chord.event)}, best, {});
  }

  Arc arc_to(const Chord& chord, const Head& main, Point from) const {
    // A stem that hangs from the head's left edge is not crossed: the curve ends beside it.
    const bool hangs = chord.has_stem && !chord.stem_up;
    const Length beneath = staff_.position_y(main.position) + staff_.space(hangs && !main.accidental ? 0.2 : 0.65);
    const Arc wish{from, {chord.x + main.left + staff_.space(hangs ? -0.2 : 0.1), beneath}, 0.6};
    Arc best = ArcField(staff_, wish.from.x, wish.to.x).fit(wish, {1.2, 2.6}, 0.08);
    // Else to the head's side: from under the small head, flatter, or from its right end.
    for (const auto& [later, rise] : {std::pair{0.0, 0.45}, {0.0, 0.28}, {0.4, 0.3}}) {
      for (const double off : {0.35, 0.0, -0.35, 0.55}) {
        if (best.hurt == 0) return best;
        const Length y = staff_.position_y(main.position) + staff_.space(off);
        const Point side{staff_.end_before(chord.x + main.left - staff_.space(0.12), y), y};
        const Point begin{std::min(from.x + staff_.space(later), side.x - staff_.space(0.75)), from.y};
        if (begin.x < from.x - staff_.space(0.6)) continue;
        const Arc beside = ArcField(staff_, begin.x, side.x).fit({begin, side, rise}, {0.7, 1.7}, 0.05);
        if (beside.hurt < best.hurt) best = beside;
      }
    }
    return best;
  }

  /// A plucked string's small note that is struck by itself, and its main note as well: a slur would join them.
  bool struck_apart(const Chord& chord) const {
    const score::Part* part = staff_.part();
    const score::GraceGroup& grace = *event(chord).grace;
    const bool plucked = part != nullptr && part->instrument.family == theory::Family::Fretted;
    return plucked && !grace.notes.empty() && grace.to_main == song::Arrival::Struck;
  }

  /// On the string of the small notes; else the lowest that is struck, as the curve lies beneath.
  const Head& head_of_string(const Chord& chord) const {
    const score::Event& e = event(chord);
    const int string = e.grace->notes.empty() ? 0 : static_cast<int>(e.grace->notes.back().string);
    for (const Head& head : chord.heads)
      if (string > 0 && head.note >= 0 && e.notes[static_cast<std::size_t>(head.note)].string == string) return head;
    for (const Head& head : chord.heads)
      if (!head.tied_from) return head;
    return chord.heads.front();
  }

  /// The drum that the small strokes lead to.
  static const Head& struck_again(const Chord& chord) {
    for (const Head& head : chord.heads) {
      if (head.note == chord.grace.back().note) return head;
    }
    return chord.heads.front();
  }

  bool legato_into(const Chord& chord) const {
    if (chord.slash || chord.event < 0 || !chord.attack) return false;
    const auto& notes = event(chord).notes;
    return std::any_of(notes.begin(), notes.end(),
                       [](const score::Note& n) { return legato(n.more->link.kind) && n.more->link.from_event >= 0; });
  }

  static constexpr int kNone = -2, kBefore = -1;

  /// Index of the chord that a hammered, pulled or slid chord comes from; kBefore: it stands on an earlier system.
  int source_of(const std::vector<const Chord*>& chords, std::size_t to) const {
    if (!legato_into(*chords[to])) return kNone;
    for (const score::Note& note : event(*chords[to]).notes) {
      if (!legato(note.more->link.kind) || note.more->link.from_event < 0) continue;
      for (std::size_t k = 0; k < to; ++k) {
        if (chords[k]->event == note.more->link.from_event && chords[k]->attack) return static_cast<int>(k);
      }
    }
    const auto& notes = event(*chords[to]).notes;
    const bool before = std::any_of(notes.begin(), notes.end(), [&](const score::Note& n) {
      if (!legato(n.more->link.kind) || n.more->link.from_event < 0) return false;
      const score::Place at = staff_.system.timeline.events[static_cast<std::size_t>(n.more->link.from_event)].at;
      return at.bar < staff_.system.first_bar;
    });
    if (before) return kBefore;
    return to == 0 ? kNone : static_cast<int>(to) - 1;  // it comes from the other voice
  }
  bool comes_from(const Chord& to, const Chord& from) const {
    const auto& notes = event(to).notes;
    return std::any_of(notes.begin(), notes.end(), [&](const score::Note& n) {
      return legato(n.more->link.kind) && n.more->link.from_event >= 0 && n.more->link.from_event == from.event;
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
      wish(under, source[first] != kBefore, !beyond, event(*chords[i]).origin);
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
      wish(under, begins, ends, mark.origin);
    }
  }

  /// Several notes of one syllable (Gould 2011). Words said to several notes at once have none.
  void sung_slurs(const std::vector<const Chord*>& chords) {
    if (staff_.music() == nullptr) return;
    for (const Syllable& syllable : syllables_of(staff_, staff_.music()->words)) {
      if (!syllable.single) continue;
      const Melisma notes = melisma_of(staff_, syllable);
      if (!notes.moves) continue;
      std::vector<const Chord*> under;
      for (const Chord* chord : chords) {
        const score::Place at{chord->bar, chord->onset};
        if (at >= syllable.from && at <= notes.last) under.push_back(chord);
      }
      if (under.empty()) continue;
      const bool begins = syllable.from.bar >= staff_.system.first_bar, ends = notes.last.bar < staff_.system.last_bar;
      if (under.size() > 1 || !begins || !ends) wish(under, begins, ends, syllable.origin);
    }
  }

  StaffContext& staff_;
  StaffPlan& plan_;
  std::vector<Wish> wishes_;
};

}  // namespace

void draw_slurs(StaffContext& staff, StaffPlan& plan) {
  SlurDrawer(staff, plan).run();
}

}  // namespace tunesheaf::engrave

#include "chord.h"

#include <algorithm>
#include <set>

#include "chord_room.h"

namespace tunesheaf::engrave {

const text::Line& Inks::figure(const std::string& words, double size) {
  const std::string key = size == 1 ? words : words + "|s";
  const auto found = figures.find(key);
  if (found != figures.end()) return found->second;
  text::TextStyle look = text_style(style.figure, size);
  look.tabular = true;
  return figures.emplace(key, shaper.line(words, look)).first->second;
}

Length Inks::half_letter(char letter, bool italic) {
  const std::string words(1, letter), key = words + (italic ? "|i" : "|l");
  auto found = figures.find(key);
  if (found == figures.end()) {
    style::TypeRole role = italic ? style.note : style.small;
    role.italic = italic;
    found = figures.emplace(key, shaper.line(words, text_style(role))).first;
  }
  return found->second.width / 2 + sp * 0.1;
}

Length Inks::half_label(const std::string& words) {
  const std::string key = words + "|w";
  auto found = figures.find(key);
  if (found == figures.end()) found = figures.emplace(key, shaper.line(words, text_style(style.small))).first;
  return found->second.width / 2 + sp * 0.27;
}

std::string figure_text(const score::Note& note) {
  if (note.dead) return "x";
  std::string words = std::to_string(note.fret);
  if (note.harmonic == song::HarmonicKind::Natural) words = "<" + words + ">";
  return note.ghost ? "(" + words + ")" : words;
}

Length grace_figure_room(Inks& inks, const score::Note& note) {
  const Length figure = inks.figure(figure_text(note), kSmallFigure).width + inks.sp * 0.45;
  return std::max(inks.sp * kGraceAdvance, figure);
}

std::string figure_beside(const score::Note& note) {
  if (note.more->trill_fret) return "(" + std::to_string(*note.more->trill_fret) + ")";
  if (note.more->touch && note.harmonic != song::HarmonicKind::None)
    return "<" + std::to_string(*note.more->touch) + ">";
  return {};
}

std::pair<MusicSign, int> rest_sign(const Chord& rest) {
  using theory::NoteValue;
  switch (rest.value) {
    case NoteValue::kBreve:
      return {MusicSign::RestDoubleWhole, rest.rest_position};
    case NoteValue::kWhole:
      return {MusicSign::RestWhole, rest.rest_position + 2};
    case NoteValue::kHalf:
      return {MusicSign::RestHalf, rest.rest_position};
    case NoteValue::kQuarter:
      return {MusicSign::RestQuarter, rest.rest_position};
    case NoteValue::kEighth:
      return {MusicSign::Rest8, rest.rest_position};
    case NoteValue::k16th:
      return {MusicSign::Rest16, rest.rest_position};
    case NoteValue::k32nd:
      return {MusicSign::Rest32, rest.rest_position};
    default:
      return {MusicSign::Rest64, rest.rest_position};
  }
}

MusicSign flag_sign(theory::NoteValue value, bool up) {
  switch (theory::flag_count(value)) {
    case 1:
      return up ? MusicSign::Flag8Up : MusicSign::Flag8Down;
    case 2:
      return up ? MusicSign::Flag16Up : MusicSign::Flag16Down;
    case 3:
      return up ? MusicSign::Flag32Up : MusicSign::Flag32Down;
    default:
      return up ? MusicSign::Flag64Up : MusicSign::Flag64Down;
  }
}

namespace {

class OnsetLayout {
 public:
  OnsetLayout(std::vector<Chord*> chords, const score::Timeline& timeline, Inks& inks)
      : chords_(std::move(chords)), timeline_(timeline), inks_(inks), sp_(inks.sp) {
    head_width_ = inks_.sign(MusicSign::NoteheadBlack).box.width;
    stem_ = sp_ * inks_.style.engraving.stem;
  }

  void run() {
    for (Chord* chord : chords_) place_heads(*chord);
    part_voices();
    for (Chord* chord : chords_) place_stem(*chord);
    for (Chord* chord : chords_) place_parens(*chord);
    pack_accidentals();
    place_dots();
    for (Chord* chord : chords_) measure(*chord);
    Length small;  // one voice's grace notes stand before the other's
    for (Chord* chord : chords_)
      if (!chord->grace.empty()) small = chord->grace_width += small;
  }

 private:
  bool trembles(const Chord& chord) const { return chord.has_stem && tremolo_strokes(timeline_, chord) > 0; }

  Rect head_box(const Head& head) {
    const Rect box = inks_.sign(head.sign).box;
    return box.moved({head.left, sp_ * (-0.5 * head.position)});
  }

  void place_heads(Chord& chord) {
    if (chord.rest) return;
    const auto count = static_cast<int>(chord.heads.size());
    bool displaced = false;
    for (int step = 0; step < count; ++step) {
      const auto i = static_cast<std::size_t>(chord.stem_up ? step : count - 1 - step);
      Head& head = chord.heads[i];
      const Length width = inks_.sign(head.sign).box.width;
      head.left = -(head_width_ / 2);
      if (width < head_width_) head.left = -(width / 2);
      if (step > 0) {
        const auto before = static_cast<std::size_t>(chord.stem_up ? step - 1 : count - step);
        const int way = std::abs(head.position - chord.heads[before].position);
        displaced = way <= 1 && !displaced;
        if (displaced) head.left += chord.stem_up ? width - stem_ : stem_ - width;
      }
    }
  }

  /// Heads of two voices a second apart or crossing stand side by side; one head serves both in a true unison.
  void part_voices() {
    Chord* up = nullptr;
    Chord* down = nullptr;
    for (Chord* chord : chords_) {
      if (chord->rest || chord->heads.empty()) continue;
      if (chord->stem_up && up == nullptr) {
        up = chord;
      } else if (!chord->stem_up) {
        down = chord;
      }
    }
    if (up == nullptr || down == nullptr) return;
    if (up->slash || down->slash) return part_slash(*up, *down);
    const int gap = up->bottom() - down->top();
    if (gap > 1) return;
    if (gap == 0 && up->heads.front().sign == down->heads.back().sign && up->dots == down->dots &&
        up->heads.size() == 1 && down->heads.size() == 1) {
      return;
    }
    // Voices that cross: the lower one stands right of the upper one's flag.
    Length beside = up->flag() ? inks_.sign(flag_sign(up->value, true)).box.right() + sp_ * 0.2 : sp_ * 0.3;
    beside += parenthesis_beside(*up) + parenthesis_beside(*down);
    const bool strokes = trembles(*up) || trembles(*down);
    if (strokes) beside = std::max(beside, sp_ * (kTremoloHalf + 0.15));
    const bool ghosts = parenthesis_beside(*up) > Length{} && parenthesis_beside(*down) > Length{};
    const bool touch = gap >= 0 && !strokes && !ghosts;
    Length way = touch ? head_width_ - stem_ : Length{};
    for (const Head& head : up->heads) {  // displaced ones count as well
      const Length right = head.left + inks_.sign(head.sign).box.width;
      for (const Head& other : down->heads) {
        if (!touch) way = std::max(way, right - other.left + beside);
        if (std::abs(head.position - other.position) <= 1) way = std::max(way, right - stem_ - other.left);
      }
    }
    for (Head& head : down->heads) head.left += way;
  }

  /// Of a parenthesis between this chord and what stands beside it.
  Length parenthesis_beside(const Chord& chord) {
    const bool ghost = std::any_of(chord.heads.begin(), chord.heads.end(), [](const Head& h) { return h.ghost; });
    return ghost ? inks_.sign(MusicSign::ParenthesisLeft).box.width + sp_ * 0.1 : Length{};
  }

  /// A slash is taller and wider than a head: notes of the other voice that come near stand to its right.
  void part_slash(const Chord& up, Chord& down) {
    Length beyond;
    for (const Head& head : up.heads) {
      const Rect box = parenthesised(head);
      const auto pass = [&](const Rect& ink, const Head& other) {
        const Rect near = parenthesised(other).grown(sp_ * 0.1);
        if (ink.top() < near.bottom() && near.top() < ink.bottom())
          beyond = std::max(beyond, ink.right() - near.left() + sp_ * 0.1);
      };
      const Length stem = head.left + inks_.sign(head.sign).stem_up.x, along = sp_ * 3.5;
      const Length flag = up.flag() ? inks_.sign(flag_sign(up.value, true)).box.right() : Length{};
      for (const Head& other : down.heads) {
        pass(box, other);
        if (up.has_stem) pass({stem - stem_, box.top() - along, stem_ + flag, along}, other);
      }
    }
    for (Head& head : down.heads) head.left += beyond;
  }

  Rect parenthesised(const Head& head) {
    const Rect box = head_box(head);
    if (!head.ghost) return box;
    const Rect sign = inks_.sign(MusicSign::ParenthesisLeft).box;
    const Length side = sign.width + sp_ * 0.1;
    return {box.x - side, std::min(box.y, box.y + (box.height - sign.height) / 2), box.width + side + side,
            std::max(box.height, sign.height)};
  }

  void place_stem(Chord& chord) {
    if (!chord.has_stem || chord.heads.empty()) return;
    // The stem belongs to the heads in normal place: the first to be set.
    const Head& head = chord.stem_up ? chord.heads.front() : chord.heads.back();
    const text::Sign& sign = inks_.sign(head.sign);
    chord.stem_x = chord.stem_up ? head.left + sign.stem_up.x - stem_ / 2 : head.left + sign.stem_down.x + stem_ / 2;
  }

  // ---- parentheses of ghost notes

  /// Ghost heads no further apart than a fifth share one pair, which is drawn out.
  void place_parens(Chord& chord) {
    for (const Head& head : chord.heads) {
      if (!head.ghost || shared_before(chord, head)) continue;
      if (!chord.parens.empty() && head.position - chord.parens.back().high <= 4) {
        chord.parens.back().high = head.position;
      } else {
        chord.parens.push_back({head.position, head.position, head.note, {}, {}});
      }
    }
    const Length gap = sp_ * 0.1, width = inks_.sign(MusicSign::ParenthesisLeft).box.width;
    for (Parens& parens : chord.parens) {
      Length left, right;
      bool any = false;
      const Rect reach = parens_box(parens, Length{});
      const auto enclose = [&](const Head& head) {
        const Rect box = head_box(head);
        if (box.bottom() <= reach.top() || box.top() >= reach.bottom()) return;
        // One that stands farther to the side is left outside.
        if (any && (box.left() >= right + gap + width || box.right() <= left - gap - width)) return;
        left = any ? std::min(left, box.left()) : box.left();
        right = any ? std::max(right, box.right()) : box.right();
        any = true;
      };
      for (const Head& head : chord.heads) enclose(head);
      for (const Chord* other : chords_)
        for (const Head& head : other->heads)
          if (other != &chord && !head.ghost) enclose(head);  // another ghost stands beside this one, in its own
      for (const Chord* other : chords_) {                    // a stem that stands beside them
        if (!any || !other->has_stem || other->heads.empty()) continue;
        const Rect stem = stem_box(*other);
        if (stem.bottom() <= reach.top() || stem.top() >= reach.bottom()) continue;
        if (stem.left() > left - gap - width && stem.left() < left) left = stem.left();
        if (stem.right() < right + gap + width && stem.right() > right) right = stem.right();
      }
      parens.left = left - gap - width;
      parens.right = right + gap;
    }
  }

  /// Of the least length.
  Rect stem_box(const Chord& chord) const {
    const Length along = sp_ * 3.5, top = sp_ * (-0.5 * chord.top()), bottom = sp_ * (-0.5 * chord.bottom());
    const Length over = chord.stem_up ? along : Length{};
    return {chord.stem_x - stem_ / 2, top - over, stem_, bottom - top + along};
  }

  /// The head of a unison that stands in the parentheses of a voice before.
  bool shared_before(const Chord& chord, const Head& head) const {
    for (const Chord* other : chords_) {
      if (other == &chord) break;
      for (const Head& same : other->heads)
        if (same.ghost && same.position == head.position && same.left == head.left) return true;
    }
    return false;
  }

  Rect parens_box(const Parens& parens, Length left) {
    const Rect sign = inks_.sign(MusicSign::ParenthesisLeft).box;
    const Length more = sp_ * parens_stretch(parens);
    return {left, sp_ * (-0.25 * (parens.low + parens.high)) + sign.top() - more, sign.width,
            sign.height + more + more};
  }

  template <typename Take>
  void each_paren(const Chord& chord, Take take) {
    for (const Parens& parens : chord.parens) {
      take(parens_box(parens, parens.left));
      take(parens_box(parens, parens.right));
    }
  }

  // ---- accidentals

  void pack_accidentals() {
    std::vector<Head*> wanting;
    std::vector<Rect> taken;
    for (Chord* chord : chords_) {
      for (Head& head : chord->heads) {
        taken.push_back(head_box(head));
        if (head.accidental) wanting.push_back(&head);
      }
      each_paren(*chord, [&](const Rect& box) { taken.push_back(box); });
      if (chord->has_stem && !chord->stem_up && !chord->heads.empty()) {  // hangs at the left of its heads
        taken.push_back(stem_box(*chord));
      }
    }
    std::stable_sort(wanting.begin(), wanting.end(),
                     [](const Head* a, const Head* b) { return a->position > b->position; });
    // From outside in, top and bottom by turns: the outer ones share the column next to the heads.
    std::vector<Head*> order;
    for (std::size_t i = 0, j = wanting.size(); i < j;) {
      order.push_back(wanting[i++]);
      if (i < j) order.push_back(wanting[--j]);
    }
    for (Head* head : order) taken.push_back(place_accidental(*head, taken));
  }

  Rect accidental_box(const Head& head, Length left) {
    Rect box = inks_.sign(*head.accidental).box.moved({left, sp_ * (-0.5 * head.position)});
    if (head.courtesy) {
      const Length paren = inks_.sign(MusicSign::ParenthesisLeft).box.width + sp_ * 0.1;
      box = {box.x - paren, box.y, box.width + paren + paren, box.height};
    }
    return box;
  }

  Rect place_accidental(Head& head, const std::vector<Rect>& taken) {
    const Length gap = sp_ * 0.18;
    Length right = -(head_width_ / 2);
    for (bool moved = true; moved;) {
      moved = false;
      const Rect at_zero = accidental_box(head, Length{});
      const Length left = right - gap - at_zero.right();
      const Rect box = at_zero.moved({left, Length{}});
      for (const Rect& other : taken) {
        const Rect near{other.x - gap, other.y - sp_ * 0.05, other.width + gap + gap, other.height + sp_ * 0.1};
        if (box.overlaps(near) && other.left() < right) {
          right = other.left();
          moved = true;
        }
      }
      head.accidental_left = left;
    }
    return accidental_box(head, head.accidental_left);
  }

  // ---- dots

  /// All dots of an onset stand in one column, each in a space of its own.
  void place_dots() {
    Length right;
    for (Chord* chord : chords_) {
      for (const Head& head : chord->heads) right = std::max(right, head_box(head).right());
      each_paren(*chord, [&](const Rect& box) { right = std::max(right, box.right()); });
      if (!chord->flag() || !chord->stem_up) continue;
      // Its own dots stand under the flag; those of a slash, whose stem begins at its top, and of another voice's
      // higher heads stand beside it.
      const bool beside = std::any_of(chords_.begin(), chords_.end(), [&](const Chord* c) {
        return c->dots > 0 && !c->rest && (c == chord ? c->slash : c->top() > chord->top());
      });
      if (beside) right = std::max(right, chord->stem_x + inks_.sign(flag_sign(chord->value, true)).box.right());
      if (chord->dots > 0) right = std::max(right, chord->stem_x + sp_ * 0.35);
    }
    std::set<int> used;
    for (Chord* chord : chords_) {
      if (chord->dots == 0) continue;
      if (chord->rest) {
        chord->dots_left = inks_.sign(rest_sign(*chord).first).box.width / 2 + sp_ * 0.3;
        chord->dot_positions.push_back(chord->rest_position + 1);
        continue;
      }
      chord->dots_left = right + sp_ * 0.3;
      for (auto head = chord->heads.rbegin(); head != chord->heads.rend(); ++head) {
        int at = head->position;
        if (at % 2 == 0) at += chord->lone || chord->stem_up ? 1 : -1;
        if (used.count(at) > 0) at -= 2;
        if (used.insert(at).second) chord->dot_positions.push_back(at);
      }
    }
  }

  void measure(Chord& chord) {
    if (chord.rest) {
      const Length width = inks_.sign(rest_sign(chord).first).box.width;
      chord.left = -(width / 2);
      chord.right = width / 2;
    }
    for (const Head& head : chord.heads) {
      const Rect box = head_box(head);
      chord.left = std::min(chord.left, box.left());
      chord.right = std::max(chord.right, box.right());
      if (std::abs(head.position) >= 6) {
        const Length reach = sp_ * inks_.style.engraving.ledger_reach;
        chord.left = std::min(chord.left, head_box(head).left() - reach);
        chord.right = std::max(chord.right, head_box(head).right() + reach);
      }
      if (head.accidental) chord.left = std::min(chord.left, accidental_box(head, head.accidental_left).left());
    }
    each_paren(chord, [&](const Rect& box) {
      chord.left = std::min(chord.left, box.left());
      chord.right = std::max(chord.right, box.right());
    });
    if (chord.flag()) {
      const text::Sign& flag = inks_.sign(flag_sign(chord.value, chord.stem_up));
      chord.right = std::max(chord.right, chord.stem_x + flag.box.right());
    }
    if (!chord.dot_positions.empty()) {
      const Length dot = inks_.sign(MusicSign::AugmentationDot).box.width;
      chord.right = std::max(chord.right, chord.dots_left + dot * chord.dots + sp_ * (0.25 * (chord.dots - 1)));
    }
    for (const Head& head : chord.grace) {
      chord.grace_width += sp_ * kGraceAdvance;
      if (head.accidental) chord.grace_width += inks_.sign(*head.accidental, kGraceSize).box.width + sp_ * 0.15;
    }
  }

  std::vector<Chord*> chords_;
  const score::Timeline& timeline_;
  Inks& inks_;
  Length sp_, head_width_, stem_;
};

}  // namespace

void layout_chords(StaffPlan& plan, const score::Timeline& timeline, Inks& inks) {
  // Lines of a tab lie as far apart as its figures are high, at least: those above one another may not touch.
  if (plan.kind == StaffKind::Tab)
    plan.line_distance = std::max(plan.line_distance, inks.figure("8").ink.height / inks.sp);
  for (StaffBar& bar : plan.bars) {
    if (plan.kind == StaffKind::Tab) {
      for (Chord& chord : bar.chords) layout_tab(chord, timeline, inks, plan.rhythm);
      part_held_slashes(plan, bar, timeline, inks);
      room_for_marks(plan, bar, timeline, inks);
      continue;
    }
    std::map<Fraction, std::vector<Chord*>> onsets;
    for (Chord& chord : bar.chords) {
      if (!chord.hidden) onsets[chord.onset].push_back(&chord);
    }
    for (auto& [onset, chords] : onsets) OnsetLayout(std::move(chords), timeline, inks).run();
    room_for_marks(plan, bar, timeline, inks);
  }
}

}  // namespace tunesheaf::engrave

// Bends on notation: small heads for the pitches the string is bent to and let down to, joined to the head of the note
// by angled strokes, as a grace note after the beat is. The tab or the label says how far; the head says what sounds.
#include <algorithm>

#include "arcs.h"
#include "chord.h"
#include "marks.h"
#include "tunesheaf/theory/key.h"

namespace tunesheaf::engrave {

namespace {

class BentHeads {
 public:
  explicit BentHeads(Hands& hands) : hands_(hands), staff_(hands.staff) {}

  void run() {
    if (staff_.plan.drums || staff_.plan.slashes || staff_.part() == nullptr) return;
    for (const Played& p : hands_.played) {
      if (!p.begins || p.chord->slash) continue;
      taken_ = p.right;
      above_.reset();
      for (std::size_t n = 0; n < p.event->notes.size(); ++n) note(p, static_cast<int>(n));
    }
  }

 private:
  void note(const Played& p, int n) {
    const score::Note& note = p.note(n);
    const DrawnNote* head = hands_.drawn(p, n);
    if (head == nullptr || note.more->bend.size() < 2) return;
    Length x = p.right;
    const Length middle = head->box.y + head->box.height / 2;
    const Length right = staff_.right_of_onset(p.from, middle, head->box.right());
    const Length begin = staff_.past_dots(right + hands_.space(0.15), middle);
    Point at{staff_.begin_after(begin, middle), middle};
    Length end = hands_.end_of(p);
    for (const DrawnNote& held : staff_.notes) {  // a head tied over stands in the way
      if (held.subject.event == p.event->id && !held.attack) end = std::min(end, held.box.left() - hands_.space(0.4));
    }
    end = std::max(end, x + hands_.space(1.4));
    int moves = 0;
    for (std::size_t i = 1; i < note.more->bend.size(); ++i)
      moves += note.more->bend[i].semitones != note.more->bend[i - 1].semitones;
    if (note.prebend && note.more->bend.front().semitones > Fraction()) ++moves;
    if (moves == 0) return;
    const Length step = std::clamp((end - x) / moves, hands_.space(1.35), hands_.space(2.2));
    // Under another bent note of its chord the angle points down, clear of that one's head and sign.
    const bool under = above_ && at.y > *above_;
    above_ = at.y;
    Fraction before;
    if (note.prebend) before = Fraction();
    for (const score::BendPoint& point : note.more->bend) {
      if (point.semitones == before) continue;
      const bool up = point.semitones > before;
      before = point.semitones;
      const Length width = small_width() + accidental_width(p, n, point.semitones);
      x = at.x + std::max(step, hands_.space(0.9) + width);
      if (taken_ > p.right) x = std::max(x, taken_ + hands_.space(0.35) + width);  // beside the other bent note's head
      const Point to = small_head(p, n, point.semitones, x);
      angle(at, {to.x, to.y}, up && !under, hands_.tag("bend-angle", *p.event, n));
      at = {x + hands_.space(0.15), to.y};
    }
    taken_ = at.x;
  }

  Length small_width() const { return staff_.measure(MusicSign::NoteheadBlack, kGraceSize).box.width; }

  theory::Pitch pitch_of(const Played& p, int n, Fraction semitones) const {
    // A quarter tone is written as the half tone it leans to.
    const auto halves = static_cast<int>((semitones + Fraction(1, 2)).floor());
    const score::Note& note = p.note(n);
    return halves == 0 ? note.written : theory::spell(note.written.midi() + halves, key_of(p));
  }
  const theory::Key& key_of(const Played& p) const {
    return staff_.plan.keys[static_cast<std::size_t>(p.from.bar)].key;
  }
  std::optional<MusicSign> sign_of(const Played& p, int n, theory::Pitch pitch) const {
    if (pitch == p.note(n).written) return std::nullopt;  // back on the head's own pitch
    return accidental(pitch, key_of(p));
  }
  Length accidental_width(const Played& p, int n, Fraction semitones) const {
    const auto sign = sign_of(p, n, pitch_of(p, n, semitones));
    return sign ? staff_.measure(*sign, kGraceSize).box.width + hands_.space(0.15) : Length{};
  }

  /// Its right edge at `right`, or further where something stands there: then `right` is moved; returns its left
  /// middle.
  Point small_head(const Played& p, int n, Fraction semitones, Length& right) {
    const score::Note& note = p.note(n);
    const theory::Pitch pitch = pitch_of(p, n, semitones);
    const int octaves = staff_.part()->octave_shift;
    const int written_at = staff_position(*staff_.part(), staff_.plan.clef, note.written, octaves);
    int shown_at = written_at;
    for (const Head& head : p.chord->heads) {
      if (head.note == n) shown_at = head.position;
    }
    const int position = staff_position(*staff_.part(), staff_.plan.clef, pitch, octaves) + shown_at - written_at;
    const Length y = staff_.position_y(position);
    const StaffContext::Tag tag = hands_.tag("bent-head", *p.event, n);
    const auto sign = sign_of(p, n, pitch);
    Rect whole = staff_.measure(MusicSign::NoteheadBlack, kGraceSize).box.moved({right - small_width(), y});
    if (sign) {
      const Rect box = staff_.measure(*sign, kGraceSize).box;
      whole = whole.united(box.moved({whole.x - hands_.space(0.15) - box.right(), y}));
    }
    right += staff_.clear_right(whole, hands_.space(0.12)) - whole.x;
    const Length left = right - small_width();
    Length edge = left;
    if (sign) {
      const Rect box = staff_.measure(*sign, kGraceSize).box;
      edge = left - hands_.space(0.15) - box.width;
      staff_.sign({"bent-accidental", tag.origin, tag.subject}, *sign, {edge - box.x, y}, kGraceSize);
    }
    const int side = position > 0 ? 1 : -1;
    for (int at = 6; at <= std::abs(position); at += 2) {
      const Length ledger = staff_.position_y(at * side), reach = hands_.space(0.22);
      staff_.line({"ledger", tag.origin, tag.subject}, {left - reach, ledger}, {right + reach, ledger},
                  hands_.system.style.engraving.ledger_line, layout::Cap::Butt, {}, layout::Layer::Line);
    }
    staff_.sign(tag, MusicSign::NoteheadBlack, {left, y}, kGraceSize);
    return {edge, y};
  }

  static std::optional<MusicSign> accidental(theory::Pitch pitch, const theory::Key& key) {
    for (const theory::PitchClass& pc : key.scale()) {
      if (pc == pitch.name) return std::nullopt;
    }
    switch (pitch.name.alter) {
      case 0:
        return MusicSign::Natural;
      case 1:
        return MusicSign::Sharp;
      case -1:
        return MusicSign::Flat;
      case 2:
        return MusicSign::DoubleSharp;
      case -2:
        return MusicSign::DoubleFlat;
      default:
        return std::nullopt;
    }
  }

  /// Two strokes that meet over (a bend) or under (a release) the straight way between the heads; on the other side
  /// where flags, dots or stems are in the way.
  void angle(Point from, Point to, bool up, StaffContext::Tag tag) {
    to.x -= hands_.space(0.15);
    const ArcField field(staff_, from.x, to.x);
    Point begin = from;
    const auto apex = [&](bool over, double off) {
      const Length edge = over ? std::min(from.y, to.y) : std::max(from.y, to.y);
      return Point{(from.x + to.x) / 2, edge + hands_.space(over ? -off : off)};
    };
    const Length right = std::max(from.x, to.x - hands_.space(0.5));
    const Length start = from.x;
    Point best = apex(up, 0.55);
    double least = -1;
    for (const double past : {0.0, 0.3, 0.6, 0.9}) {  // past a dot that lies over or under the head's own height
      from.x = std::min(start + hands_.space(past), right);
      for (const bool over : {up, !up}) {
        for (const double off : {0.55, 0.3, 0.9}) {
          const Point tip = apex(over, off);
          const double hurt = field.hurt({from, tip, 0}, 0.04) + field.hurt({tip, to, 0}, 0.04);
          if (least >= 0 && hurt >= least) continue;
          least = hurt;
          best = tip;
          begin = from;
        }
      }
      if (least == 0) break;
    }
    if (least > 0) {  // no way round: it passes behind what stands there
      draw_behind(staff_, tag, {begin, begin, best, best}, 0.13, 0.12, {"bend-angle", "tie"});
      return draw_behind(staff_, tag, {best, best, to, to}, 0.13, 0.12, {"bend-angle", "tie"});
    }
    staff_.slant(tag, begin, best, 0.13);
    staff_.slant(tag, best, to, 0.13);
  }

  Hands& hands_;
  StaffContext& staff_;
  Length taken_;                 ///< right edge of what stands beside the chord
  std::optional<Length> above_;  ///< middle of the bent note of the chord before
};

}  // namespace

void draw_bent_heads(Hands& hands) {
  BentHeads(hands).run();
}

}  // namespace tunesheaf::engrave

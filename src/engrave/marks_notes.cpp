// Signs of single notes and chords: rolled and brushed chords, touched frets and trill frets beside the figure, taps,
// harmonics with what they sound, waves of vibrato, trills, tremolo picking on tab.
#include <algorithm>
#include <map>
#include <set>

#include "chord.h"
#include "marks.h"
#include "rows.h"
#include "tunesheaf/score/heard.h"

namespace tunesheaf::engrave {

using song::Arrival;
using song::HarmonicKind;
using song::Vibrato;

namespace {

const char* harmonic_letters(HarmonicKind kind) {
  switch (kind) {
    case HarmonicKind::Artificial:
      return "A.H.";
    case HarmonicKind::Pinched:
      return "P.H.";
    case HarmonicKind::Tapped:
      return "T.H.";
    case HarmonicKind::Touched:
      return "touch";
    default:
      return "";
  }
}

class NoteSigns {
 public:
  explicit NoteSigns(Hands& hands) : hands_(hands), staff_(hands.staff) {}

  void run() {
    for (const Played& p : hands_.played) {
      if (p.chord->slash) continue;
      wave_or_trill(p);
      // Notation has the strokes at its stems (tremolo.cpp).
      if (hands_.tab && p.event->tremolo && p.begins) tremolo(p);
      if (hands_.words && p.begins) {
        taps(p);
        harmonics(p);
      }
    }
    std::vector<Hands::Letter> pitches;  // from low to high: rows are taken upwards
    for (auto& [pitch, letter] : sounding_) pitches.push_back(std::move(letter));
    hands_.letters_above(std::move(pitches), 0.35);
    for (Hands::Letter& letter : letters_) hands_.pending.push_back(std::move(letter));
    hands_.letters_above(std::move(hands_.pending), 0.4);
    hands_.pending.clear();
  }

 private:
  /// The broadest wave of the event; one is enough for a chord.
  void wave_or_trill(const Played& p) {
    Vibrato widest = Vibrato::None;
    bool trill = false;
    int whose = -1;
    for (std::size_t n = 0; n < p.event->notes.size(); ++n) {
      const score::Note& note = p.event->notes[n];
      if (note.more->trill_fret || note.more->trill_pitch) trill = true;
      if (note.vibrato > widest) {
        widest = note.vibrato;
        whose = static_cast<int>(n);
      }
    }
    if (trill && (hands_.words || !hands_.tab)) draw_trill(p, hands_.tag("trill", *p.event));
    if (widest != Vibrato::None && hands_.words) {
      const auto span = staff_.clip(p.from, p.to);
      if (!span) return;
      Length from = p.begins ? p.x - hands_.space(0.3) : span->from;
      // Under way from the moment the string is bent.
      const score::Note& note = p.note(whose);
      if (note.more->bend.size() > 1 && p.begins) {
        from = std::max(from, std::min(p.right + hands_.space(3.0), span->to - hands_.space(2.3)));
      }
      draw_wave(staff_, hands_.tag("vibrato", *p.event, whose), from, span->to, widest == Vibrato::Wide);
    }
  }

 public:
  static void draw_wave(StaffContext& staff, StaffContext::Tag tag, Length from, Length to, bool wide) {
    const Length height = staff.space(wide ? 1.05 : 0.6), wave = staff.space(wide ? 1.5 : 1.1);
    const Length length = std::max(to - from, wave + wave);
    const Length bottom = staff.reserve_above(from, from + length, height, 0.5);
    staff.fill(tag, text::wave(length, wave, height), {from, bottom - height / 2});
  }

  /// "tr" and a wave as far as the note goes.
  static void draw_trill_line(StaffContext& staff, StaffContext::Tag tag, Length x, Length to) {
    const text::Sign& sign = staff.measure(MusicSign::Trill);
    const Length left = x - sign.box.width / 2;
    const Length wave_from = left + sign.box.width + staff.space(0.25), wave = staff.space(0.95);
    const bool line = to - wave_from > wave + wave;
    const Length right = line ? to : left + sign.box.width;
    const Length bottom = staff.reserve_above(left, right, sign.box.height, 0.5);
    staff.sign(tag, MusicSign::Trill, {left - sign.box.x, bottom - sign.box.bottom()});
    if (!line) return;
    const Length height = staff.space(0.55);
    staff.fill({"trill-wave", tag.origin, tag.subject}, text::wave(to - wave_from, wave, height),
               {wave_from, bottom - sign.box.height / 2});
  }

 private:
  void draw_trill(const Played& p, StaffContext::Tag tag) {
    const auto span = staff_.clip(p.from, p.to);
    if (!span) return;
    if (p.begins) {
      draw_trill_line(staff_, tag, p.x, span->to);
    } else {
      draw_wave(staff_, {"trill-wave", tag.origin, tag.subject}, span->from, span->to, false);
    }
  }

  /// Three strokes over the figures.
  void tremolo(const Played& p) {
    const Length half = hands_.space(0.6), thick = hands_.space(0.36), step = hands_.space(0.62),
                 lift = hands_.space(0.3);
    const Length height = step * 2 + thick + lift;
    const Length bottom = staff_.reserve_above(p.x - half, p.x + half, height, 0.45);
    const StaffContext::Tag tag = hands_.tag("tremolo", *p.event);
    for (int i = 0; i < 3; ++i) {
      const Length y = bottom - step * i;
      staff_.fill(tag, {{layout::PathVerb::Move, {p.x - half, y}, {}, {}},
                        {layout::PathVerb::Line, {p.x + half, y - lift}, {}, {}},
                        {layout::PathVerb::Line, {p.x + half, y - lift - thick}, {}, {}},
                        {layout::PathVerb::Line, {p.x - half, y - thick}, {}, {}},
                        {layout::PathVerb::Close, {}, {}, {}}});
    }
  }

  void taps(const Played& p) {
    for (std::size_t n = 0; n < p.event->notes.size(); ++n) {
      if (p.event->notes[n].more->link.kind != Arrival::Tap) continue;
      letters_.push_back({p.x, hands_.label("T"), hands_.tag("tap", *p.event, static_cast<int>(n))});
      return;
    }
  }

  void harmonics(const Played& p) {
    HarmonicKind kind = HarmonicKind::None;
    for (std::size_t n = 0; n < p.event->notes.size(); ++n) {
      const score::Note& note = p.event->notes[n];
      if (note.harmonic == HarmonicKind::None) continue;
      if (note.more->sounding) {
        sounding_.emplace(
            note.more->sounding->midi(),
            Hands::Letter{p.x, hands_.label(theory::print(*note.more->sounding, theory::Accidentals::Signs)),
                          hands_.tag("harmonic-pitch", *p.event, static_cast<int>(n))});
      }
      if (kind == note.harmonic) continue;
      kind = note.harmonic;
      const std::string letters = harmonic_letters(kind);
      if (letters.empty()) continue;
      letters_.push_back({p.x, hands_.label(letters), hands_.tag("harmonic-letters", *p.event, static_cast<int>(n))});
    }
  }

  Hands& hands_;
  StaffContext& staff_;
  std::vector<Hands::Letter> letters_;
  std::multimap<int, Hands::Letter> sounding_;  ///< by pitch
};

/// Top and bottom of all strings or heads struck with a chord, in whichever voice.
std::pair<Length, Length> reach_of(const Hands& hands, const Played& p) {
  Length top, bottom;
  bool any = false;
  const auto take = [&](Length t, Length b) {
    top = any ? std::min(top, t) : t;
    bottom = any ? std::max(bottom, b) : b;
    any = true;
  };
  for (const DrawnNote& n : hands.staff.notes) {
    if (n.at == p.from && n.attack && !n.grace) take(n.box.top(), n.box.bottom());
  }
  if (!any) take(Length{}, hands.staff.height());
  return {top, bottom};
}

/// Left of the ink of all that is struck with a chord, with accidentals and parentheses.
Length ink_left(const Hands& hands, const Played& p) {
  Length left = p.left;
  for (const Played& other : hands.played) {
    if (other.from != p.from || !other.begins) continue;
    left = std::min({left, other.left, other.chord->x + other.chord->ink_left});
    const auto& notes = other.event->notes;
    if (other.event->kind == score::EventKind::Notes && std::any_of(notes.begin(), notes.end(), score::slides_in))
      left = std::min(left, other.left - hands.space(1.3));
  }
  for (const Obstacle& o : hands.staff.obstacles)  // another voice's, at the same moment
    if (o.kind == layout::Kind("rest") && o.box.left() <= p.x && o.box.right() >= p.x)
      left = std::min(left, o.box.left());
  return left;
}

}  // namespace

void draw_rolls(Hands& hands) {
  StaffContext& staff = hands.staff;
  std::set<score::Place> rolled;
  for (const Played& p : hands.played) {
    if (!p.begins || (!p.event->rolled && !p.event->brushed)) continue;
    if (p.chord->slash && !p.event->rolled) continue;  // a brushed slash is named in words
    if (!rolled.insert(p.from).second) continue;       // one sign for both voices
    const auto [top, bottom] = reach_of(hands, p);
    const bool rises = (p.event->stroke != song::StrokeDirection::Up) != staff.plan.mirrored;
    // Towards the high strings is upwards on tab and staff alike: a down stroke rolls up, on a mirrored tab down.
    // Over a slash the arrow of the stroke says the direction already.
    const bool arrow = !p.chord->slash && (p.event->stroke != song::StrokeDirection::None || p.event->brushed);
    const Length x = ink_left(hands, p) - hands.space(0.75);
    const Length head = hands.space(arrow ? 0.9 : 0), width = hands.space(0.75);
    const Length from = top - hands.space(0.2) + (rises ? head : Length{});
    const Length to = bottom + hands.space(0.2) - (rises ? Length{} : head);
    const layout::Kind kind = p.event->brushed ? layout::Kind("brush") : layout::Kind("roll");
    const StaffContext::Tag tag = hands.tag(kind, *p.event);
    if (p.event->brushed) {
      staff.line(tag, {x, from - hands.space(rises ? 0.1 : 0)}, {x, to + hands.space(rises ? 0 : 0.1)}, 0.16);
    } else {
      const Length wave = hands.space(0.95), height = hands.space(0.6);
      const Length length = std::max(to - from, wave);
      const Length whole = wave * static_cast<double>(length.units() / wave.units());
      staff.fill(tag, text::wave_down(length, wave, height), {x, rises ? from : to - whole});
    }
    if (!arrow) continue;
    const Length tip = rises ? top - hands.space(0.25) : bottom + hands.space(0.25);
    staff.fill({"roll-arrow", tag.origin, tag.subject},
               text::arrow_head({Length{}, rises ? -hands.space(1) : hands.space(1)}, hands.space(0.95), width),
               {x, tip});
  }
}

void draw_figures_beside(Hands& hands) {
  if (!hands.tab) return;
  StaffContext& staff = hands.staff;
  text::TextStyle look = text_style(hands.system.style.figure, 0.8);
  look.tabular = true;
  for (const Played& p : hands.played) {
    if (!p.begins || p.chord->slash) continue;
    for (std::size_t n = 0; n < p.event->notes.size(); ++n) {
      const score::Note& note = p.event->notes[n];
      const DrawnNote* figure = hands.drawn(p, static_cast<int>(n));
      if (figure == nullptr) continue;
      const std::string words = figure_beside(note);
      if (words.empty()) continue;
      const text::Line line = hands.system.shaper.line(words, look);
      const Length left = figure->box.right() + hands.space(0.25), pad = hands.space(0.1);
      const Length baseline = middle_y(figure->box) - (line.ink.top() + line.ink.bottom()) / 2;
      staff.knock_out({left - pad, baseline + line.ink.top(), line.width + pad + pad, line.ink.height});
      const layout::Kind kind = note.more->trill_fret ? layout::Kind("trill-figure") : layout::Kind("touch-figure");
      staff.words(hands.tag(kind, *p.event, static_cast<int>(n)), line, {left, baseline}, hands.system.style.ink);
    }
  }
}

void draw_note_signs(Hands& hands) {
  if (hands.staff.plan.drums) return;
  NoteSigns(hands).run();
}

void draw_wave(StaffContext& staff, StaffContext::Tag tag, Length from, Length to, bool wide) {
  NoteSigns::draw_wave(staff, tag, from, to, wide);
}
void draw_trill_line(StaffContext& staff, StaffContext::Tag tag, Length x, Length to) {
  NoteSigns::draw_trill_line(staff, tag, x, to);
}

}  // namespace tunesheaf::engrave

// What lies between the notes of a string: arrivals, slides, bends, and how long each note is heard.
#include <algorithm>
#include <iterator>

#include "builder.h"

namespace tunesheaf::score {
namespace {

using song::Arrival;
using song::BendStage;

struct OnString {
  int event = -1, note = -1;
  Fraction at{};
  bool rings = false, slides = false;
  std::optional<Fraction> let_go{};  ///< when a new shape took the finger away
  /// A finger that leaves with the change of shape may still pull the string off.
  bool sounds_at(Fraction now) const { return event >= 0 && (!let_go || *let_go >= now); }
};

class Linker {
 public:
  Linker(Builder& builder, const CheckedSection& section, int part, const PartMusic& music)
      : builder_(builder),
        section_(section),
        music_(section.parts[static_cast<std::size_t>(part)]),
        starts_(bar_starts(section)) {
    for (const Mark& mark : music.marks) {
      if (mark.kind == "let ring") let_ring_.push_back(&mark);
      if (mark.kind == "palm mute") palm_mute_.push_back(&mark);
    }
  }

  void run(const std::vector<Atom>& atoms, const std::vector<AtomPlace>& places) {
    std::vector<OnString> body;
    for (const Stretch& stretch : stretches(section_, starts_)) {
      strings_ = body;
      shape_ = 0;
      auto first = std::lower_bound(atoms.begin(), atoms.end(), stretch.begin,
                                    [](const Atom& a, Fraction t) { return a.at < t; });
      while (shape_ < music_.shapes.size() && shape_at(shape_) < stretch.begin) ++shape_;
      for (auto it = first; it != atoms.end() && it->at < stretch.end; ++it) {
        shapes_until(it->at);
        one(*it, places[static_cast<std::size_t>(it - atoms.begin())]);
      }
      shapes_until(stretch.end);
      if (stretch.first == 0) body = strings_;
      for (const OnString& last : strings_) {
        if (last.slides) note(last).slide_off = song::SlideOff::Up;
        stop(last, stretch.end);
      }
    }
  }

 private:
  Note& note(const OnString& at) {
    return builder_.out.events[static_cast<std::size_t>(at.event)].notes[static_cast<std::size_t>(at.note)];
  }
  OnString& on(int string) {
    const auto at = static_cast<std::size_t>(string);
    if (strings_.size() <= at) strings_.resize(at + 1);
    return strings_[at];
  }
  Fraction shape_at(std::size_t i) const {
    return starts_[static_cast<std::size_t>(music_.shapes[i].bar)] + music_.shapes[i].onset;
  }

  /// The note is heard until `now` at most: to there when it rings, else to its written end.
  void stop(const OnString& last, Fraction now) {
    if (last.event < 0 || last.let_go || now <= last.at) return;
    const Fraction written = builder_.out.events[static_cast<std::size_t>(last.event)].duration;
    note(last).sounding_duration = last.rings ? now - last.at : base::min(written, now - last.at);
  }

  /// A new shape stops the strings whose finger it needs elsewhere, or that it stops itself.
  void shapes_until(Fraction now) {
    for (; shape_ < music_.shapes.size() && shape_at(shape_) <= now; ++shape_) {
      const int index = music_.shapes[shape_].index;
      if (index < 0) continue;
      const theory::Shape& shape = builder_.song.shapes[static_cast<std::size_t>(index)].shape;
      for (int string = 1; string < static_cast<int>(strings_.size()) && string <= shape.count(); ++string) {
        OnString& last = on(string);
        if (last.event < 0 || last.let_go || last.at >= shape_at(shape_)) continue;
        const auto fret = shape.frets[shape.place_of(string)];
        const int held = note(last).fret;
        const bool goes = held > 0 ? fret != held : fret.value_or(0) > 0;
        if (!goes || !last.rings) continue;
        stop(last, shape_at(shape_));
        last.let_go = shape_at(shape_);
      }
    }
  }

  /// Spans of one kind do not overlap and stand in order of time.
  static bool within(const std::vector<const Mark*>& spans, const Atom& atom) {
    if (spans.empty()) return false;
    const Place at{atom.bar, atom.onset};
    const auto next =
        std::upper_bound(spans.begin(), spans.end(), at, [](const Place& p, const Mark* m) { return p < m->from; });
    return next != spans.begin() && at < (*std::prev(next))->to;
  }

  void one(const Atom& atom, const AtomPlace& place) {
    if (atom.kind == Atom::Kind::GoesOn) return place.event >= 0 ? held(atom, place) : goes_on(atom);
    if (atom.kind == Atom::Kind::Silence) {
      silence(atom);
      return;
    }
    if (place.event < 0) return;
    Event& event = builder_.out.events[static_cast<std::size_t>(place.event)];
    const bool rings = (atom.rings || within(let_ring_, atom)) && !within(palm_mute_, atom);
    for (int i = 0; i < place.count; ++i) {
      const int index = place.first_note + i;
      Note& struck = event.notes[static_cast<std::size_t>(index)];
      struck.sounding_duration = event.duration;
      if (struck.string == 0) continue;
      OnString& last = on(struck.string);
      stop(last, atom.at);
      if (atom.sign) arrive(struck, *atom.sign, last, last.sounds_at(atom.at), event);
      last = {place.event, index, atom.at, rings && !struck.dead, atom.sign && atom.sign->slides_to_next, {}};
      if (atom.sign) bend(struck, atom.sign->bends, Fraction(0), Fraction(1));
    }
  }

  void silence(const Atom& atom) {
    for (std::size_t string = 0; string < strings_.size(); ++string) {
      if (atom.string != 0 && static_cast<int>(string) != atom.string) continue;
      OnString& last = strings_[string];
      if (last.slides && last.sounds_at(atom.at)) note(last).slide_off = song::SlideOff::Up;
      stop(last, atom.at);
      last = {};
    }
  }

  static void arrive(Note& struck, const song::StringSign& sign, const OnString& last, bool sounds,
                     const Event& event) {
    Arrival how = sign.arrival;
    if (how == Arrival::Struck && last.slides && sounds) how = Arrival::ShiftSlide;
    if (how == Arrival::Struck) return;
    Link& link = struck.more.set().link;
    link.kind = how;
    if (!event.grace->notes.empty()) return;
    if (how == Arrival::LegatoSlide && !sounds)
      link.kind = sign.slides_down ? Arrival::SlideInFromAbove : Arrival::SlideInFromBelow;
    if (how == Arrival::Tap || how == Arrival::TapFrettingHand) return;
    if (sounds) {
      link.from_event = last.event;
      link.from_note = last.note;
    }
  }

  /// Stages of a bend from `begin` to `end` (shares of the note): each stage is reached after an equal part of the way.
  static void bend(Note& struck, const std::vector<BendStage>& stages, Fraction begin, Fraction end) {
    if (stages.empty()) return;
    Few<BendPoint>& curve = struck.more.set().bend;
    const Fraction fret(struck.fret);
    Fraction now = curve.empty() ? Fraction(0) : curve.back().semitones;
    std::size_t first = 0;
    if (begin == Fraction(0) && stages.front().action == BendStage::Action::Prebend) {
      struck.prebend = true;
      now = stages.front().fret - fret;
      first = 1;
    }
    if (!curve.empty() && curve.back().at == Fraction(1)) curve.pop_back();
    // What was to be spread over the whole note is done when it is bent anew.
    const bool spread = std::any_of(curve.begin(), curve.end(), [&](const BendPoint& p) { return p.at > begin; });
    for (BendPoint& point : curve)
      if (spread) point.at = point.at * begin;
    if (curve.empty() && begin != Fraction(0)) curve.push_back({Fraction(0), now});
    if (curve.empty() || curve.back().at != begin) curve.push_back({begin, now});
    const auto count = static_cast<std::int64_t>(stages.size() - first);
    for (std::size_t i = first; i < stages.size(); ++i) {
      now = stages[i].fret - fret;
      const Fraction share(static_cast<std::int64_t>(i - first) + 1, count + 1);
      curve.push_back({begin + (end - begin) * share, now});
    }
    if (curve.back().at != Fraction(1)) curve.push_back({Fraction(1), now});
  }

  /// The note was tied into another event: it goes on from where its bend stood.
  void held(const Atom& atom, const AtomPlace& place) {
    Event& event = builder_.out.events[static_cast<std::size_t>(place.event)];
    Note& now = event.notes[static_cast<std::size_t>(place.first_note)];
    now.sounding_duration = event.duration;
    OnString& last = on(atom.string);
    if (last.sounds_at(atom.at)) {
      stop(last, atom.at);
      const Note& before = note(last);
      const Few<BendPoint>& bent = before.more->bend;
      if (!bent.empty() && bent.back().semitones != Fraction(0))
        now.more.set().bend.push_back({Fraction(0), bent.back().semitones});
    }
    last.event = place.event;
    last.note = place.first_note;
    last.at = atom.at;
    last.let_go.reset();
    if (!atom.sign) return;
    now.vibrato = atom.sign->vibrato;
    now.slide_off = atom.sign->slide_off;
    bend(now, atom.sign->bends, Fraction(0), Fraction(1));
    if (now.more->bend.size() == 1) now.more.set().bend.push_back({Fraction(1), now.more->bend.back().semitones});
  }

  void goes_on(const Atom& atom) {
    if (atom.string < 0) return;
    const OnString& last = on(atom.string);
    if (!last.sounds_at(atom.at) || !atom.sign) return;
    Note& sounding = note(last);
    const Fraction whole = builder_.out.events[static_cast<std::size_t>(last.event)].duration;
    if (atom.sign->vibrato != song::Vibrato::None) sounding.vibrato = atom.sign->vibrato;
    if (atom.sign->slide_off != song::SlideOff::None) sounding.slide_off = atom.sign->slide_off;
    if (whole == Fraction(0)) return;
    const Fraction begin = base::min((atom.at - last.at) / whole, Fraction(1));
    if (begin == Fraction(1)) return;
    const Fraction end = base::min(begin + atom.length / whole, Fraction(1));
    bend(sounding, atom.sign->bends, begin, end);
  }

  Builder& builder_;
  const CheckedSection& section_;
  const CheckedMusic& music_;
  std::vector<const Mark*> let_ring_, palm_mute_;
  std::vector<Fraction> starts_;
  std::vector<OnString> strings_;  ///< by number
  std::size_t shape_ = 0;
};

/// A chord written out and rolled by a lane: upwards is the way of a down stroke.
void roll(Builder& builder, const Mark& mark, const std::vector<AtomPlace>& places) {
  for (const AtomPlace& place : places) {
    if (place.event < 0) continue;
    Event& event = builder.out.events[static_cast<std::size_t>(place.event)];
    if (event.at != mark.from || event.notes.size() < 2) continue;
    event.rolled = true;
    if (mark.word == "up") event.stroke = song::StrokeDirection::Down;
    if (mark.word == "down") event.stroke = song::StrokeDirection::Up;
  }
}

}  // namespace

void link_events(Builder& builder, const CheckedSection& section, int part, const std::vector<Atom>& atoms,
                 const std::vector<AtomPlace>& places, const PartMusic& music) {
  Linker(builder, section, part, music).run(atoms, places);
  for (const Mark& mark : music.marks) {
    if (mark.kind == "roll") roll(builder, mark, places);
  }
}

}  // namespace tunesheaf::score

// Cells to atoms: every cell of a lane that makes or ends a sound, at its onset in the section.
#include <algorithm>
#include <tuple>

#include "builder.h"
#include "tunesheaf/theory/harmonics.h"

namespace tunesheaf::score {
namespace {

using song::LaneKind;

class AtomMaker {
 public:
  AtomMaker(Builder& builder, const CheckedSection& section, int part, const PartMusic& music)
      : builder_(builder),
        section_(section),
        part_index_(part),
        part_(builder.song.parts[static_cast<std::size_t>(part)]),
        music_(section.parts[static_cast<std::size_t>(part)]),
        keys_(music.keys),
        starts_(bar_starts(section)) {}

  std::vector<Atom> make() {
    std::vector<char> busy(section_.bars.size(), 0);
    std::vector<Head> heads;
    std::size_t cells = 0;
    for (const PlacedLane& lane : music_.lanes) {
      if (!plays(lane.kind) || lane.cells.empty()) continue;
      for (const PlacedCell& cell : lane.cells) busy[static_cast<std::size_t>(cell.bar)] = 1;
      Head head{&lane, 0, -1, false};
      if (lane.kind == LaneKind::Kit) {
        head.drum = drum_of(builder_.out.parts[static_cast<std::size_t>(part_index_)], lane.subject);
        head.feet = builder_.out.parts[static_cast<std::size_t>(part_index_)]
                        .kit[static_cast<std::size_t>(head.drum)]
                        .place.feet;
      }
      heads.push_back(head);
      cells += lane.cells.size();
    }
    atoms_.reserve(cells);
    held_shapes(busy);
    const auto held = static_cast<std::ptrdiff_t>(atoms_.size());
    merge_lanes(std::move(heads));
    if (held > 0) {
      std::rotate(atoms_.begin(), atoms_.begin() + held, atoms_.end());
      std::stable_sort(atoms_.begin(), atoms_.end(), [](const Atom& a, const Atom& b) { return a.at < b.at; });
    }
    return std::move(atoms_);
  }

 private:
  /// A lane and how far it is read.
  struct Head {
    const PlacedLane* lane;
    std::size_t next;
    int drum;
    bool feet;
    const PlacedCell& cell() const { return lane->cells[next]; }
  };

  /// Each lane is in order of time already; so that no heavy atom is moved they are made in the order of all of them.
  void merge_lanes(std::vector<Head> heads) {
    while (!heads.empty()) {
      std::size_t first = 0;
      for (std::size_t i = 1; i < heads.size(); ++i) {
        const PlacedCell &a = heads[i].cell(), &b = heads[first].cell();
        if (a.bar != b.bar ? a.bar < b.bar : a.onset < b.onset) first = i;
      }
      one(heads[first], heads[first].cell());
      if (++heads[first].next == heads[first].lane->cells.size())
        heads.erase(heads.begin() + static_cast<std::ptrdiff_t>(first));
    }
  }

  static bool plays(LaneKind kind) {
    return kind == LaneKind::String || kind == LaneKind::Thumb || kind == LaneKind::FretOf || kind == LaneKind::Strum ||
           kind == LaneKind::Notes || kind == LaneKind::Right || kind == LaneKind::Left || kind == LaneKind::Kit;
  }

  const std::optional<theory::Key>& key(int bar) const { return section_.bars[static_cast<std::size_t>(bar)].key; }

  theory::Pitch on_staff(theory::Pitch page, int bar) const {
    return keys_.empty() ? page : score::on_staff(page, keys_[static_cast<std::size_t>(bar)]);
  }
  theory::Pitch staff_pitch(int midi, int bar) const {
    return on_staff(theory::spell(page_of_concert(builder_.song, midi), key(bar)), bar);
  }
  /// The fretted note on a string, pitch and spelling filled in.
  Note string_note(const Atom& atom, int string, int fret) {
    Note note;
    note.string = string;
    note.fret = fret;
    const Stop& stop = stop_at(atom, string, fret);
    note.midi = stop.midi;
    note.written = stop.written;
    return note;
  }

  const theory::Tuning& tuning(int bar, Fraction onset) const { return music_.tuning_at(part_, bar, onset); }

  struct Stop {
    int midi = -1;
    theory::Pitch written;
  };
  /// What a fret gives is worked out once as long as the key and the tuning stay.
  const Stop& stop_at(const Atom& atom, int string, int fret) {
    const auto bar = static_cast<std::size_t>(atom.bar);
    const theory::Tuning& tuned = tuning(atom.bar, atom.onset);
    if (atom.bar != stops_bar_ || &tuned != std::get<2>(stops_for_)) {
      const auto wanted = std::tuple(key(atom.bar), keys_.empty() ? StaffKey{} : keys_[bar], &tuned);
      if (!(wanted == stops_for_)) stops_.clear();
      stops_for_ = wanted;
      stops_bar_ = atom.bar;
    }
    const auto place = static_cast<std::size_t>(string * 64 + fret);
    if (fret < 0 || fret > 63) return spare_ = made_stop(tuned, atom.bar, string, fret);
    if (stops_.size() <= place) stops_.resize(place + 1);
    if (stops_[place].midi < 0) stops_[place] = made_stop(tuned, atom.bar, string, fret);
    return stops_[place];
  }
  Stop made_stop(const theory::Tuning& tuned, int bar, int string, int fret) const {
    const int midi = theory::sounding_midi(tuned, part_.capo, string, fret);
    return {midi, staff_pitch(midi, bar)};
  }

  Atom blank(const PlacedLane& lane, const PlacedCell& cell) {
    Atom atom;
    atom.bar = cell.bar;
    atom.onset = cell.onset;
    atom.length = cell.length;
    atom.at = starts_[static_cast<std::size_t>(cell.bar)] + cell.onset;
    atom.voice = lane.lower ? 2 : 1;
    atom.staff = lane.kind == LaneKind::Left ? 1 : 0;
    atom.string = cell.string;
    atom.rings = lane.rings;
    atom.until_bar = cell.until_bar;
    atom.event.at = {cell.bar, cell.onset};
    atom.event.origin = cell.cell->span;
    atom.event.shape = music_.shape_at(cell.bar, cell.onset);
    return atom;
  }

  void one(const Head& head, const PlacedCell& cell) {
    const song::CellContent& content = cell.cell->content;
    atoms_.push_back(blank(*head.lane, cell));
    Atom& atom = atoms_.back();
    if (head.drum >= 0) {
      if (head.feet) atom.voice = 2;
      atom.string = -1 - head.drum;  // so that a silence knows whose it is
    }
    if (std::holds_alternative<song::SilenceCell>(content)) {
      atom.kind = Atom::Kind::Silence;
    } else if (const auto* sign = std::get_if<song::StringSign>(&content)) {
      string_sign(atom, *sign);
    } else if (const auto* pluck = std::get_if<song::PluckSign>(&content)) {
      plucked(atom, *pluck);
    } else if (const auto* strum = std::get_if<song::StrumSign>(&content)) {
      strummed(atom, *strum);
    } else if (const auto* pitch = std::get_if<song::PitchSign>(&content)) {
      pitched(atom, *pitch);
    } else if (const auto* hit = std::get_if<song::DrumSign>(&content)) {
      drummed(atom, head.drum, *hit);
    } else {
      atoms_.pop_back();
    }
  }

  void string_sign(Atom& atom, const song::StringSign& sign) {
    atom.sign = &sign;
    if (sign.continues) {
      atom.kind = Atom::Kind::GoesOn;
      return;
    }
    Note note = string_note(atom, atom.string, sign.fret.value_or(0));
    note.dead = sign.dead;
    note.ghost = sign.ghost;
    note.tied_from = sign.tied;
    note.vibrato = sign.vibrato;
    note.slide_off = sign.slide_off;
    note.harmonic = sign.harmonic;
    if (sign.touch) note.more.set().touch = sign.touch;
    note.origin = atom.event.origin;
    if (sign.trill) {
      NoteExtras& more = note.more.set();
      more.trill_fret = sign.trill;
      more.trill_pitch = string_note(atom, atom.string, *sign.trill).written;
    }
    harmonic(note, sign, atom);
    atom.event.accents = sign.accents;
    atom.event.tremolo = sign.tremolo;
    for (const song::GraceNote& grace : sign.grace) {
      Note small = string_note(atom, atom.string, grace.fret);
      small.origin = atom.event.origin;
      GraceGroup& group = atom.event.grace.set();
      group.notes.push_back(std::move(small));
      group.to_main = grace.to_main;
    }
    atom.event.notes.push_back(std::move(note));
  }

  void harmonic(Note& note, const song::StringSign& sign, const Atom& atom) {
    using song::HarmonicKind;
    if (sign.harmonic == HarmonicKind::None || !sign.fret) return;
    // A pinched harmonic has no pitch of its own on paper; the octave stands for it.
    int above = 12;
    int base = note.midi;
    if (sign.harmonic == HarmonicKind::Natural) {
      base = theory::sounding_midi(tuning(atom.bar, atom.onset), part_.capo, atom.string, 0);
      if (const auto node = theory::node_at(*sign.fret)) above = node->semitones;
    } else if (sign.harmonic != HarmonicKind::Pinched && sign.touch) {
      if (const auto node = theory::node_at(*sign.touch - *sign.fret)) above = node->semitones;
    }
    note.midi = base + above;
    note.more.set().sounding = staff_pitch(note.midi, atom.bar);
  }

  void plucked(Atom& atom, const song::PluckSign& sign) {
    atom.event.accents = sign.accents;
    const int shape = atom.event.shape;
    if (shape < 0 || atom.string < 1) {
      atom.kind = Atom::Kind::Slash;
      atom.event.kind = EventKind::Slash;
      return;
    }
    const theory::Shape& frets = builder_.song.shapes[static_cast<std::size_t>(shape)].shape;
    std::optional<int> fret;
    if (atom.string <= frets.count()) fret = frets.frets[frets.place_of(atom.string)];
    Note note = string_note(atom, atom.string, fret.value_or(0));
    note.dead = !fret;  // a string that the shape damps is heard as a knock
    if (!sign.fingers.empty()) note.pluck = sign.fingers.front();
    note.origin = atom.event.origin;
    atom.event.notes.push_back(std::move(note));
  }

  void strike_shape(Atom& atom, std::optional<int> from, std::optional<int> to, bool up, bool muted) {
    atom.kind = Atom::Kind::Slash;
    atom.event.kind = EventKind::Slash;
    const int shape = atom.event.shape;
    if (shape < 0) return;
    const theory::Shape& frets = builder_.song.shapes[static_cast<std::size_t>(shape)].shape;
    const int low = std::max(from.value_or(frets.count()), to.value_or(from ? *from : 1));
    const int high = std::min(from.value_or(frets.count()), to.value_or(from ? *from : 1));
    for (int string = std::min(low, frets.count()); string >= std::max(high, 1); --string) {
      const auto fret = frets.frets[frets.place_of(string)];
      if (!fret) continue;
      Note note = string_note(atom, string, *fret);
      note.dead = muted;
      note.origin = atom.event.origin;
      atom.event.notes.push_back(std::move(note));
    }
    if (up) std::reverse(atom.event.notes.begin(), atom.event.notes.end());
  }

  void strummed(Atom& atom, const song::StrumSign& sign) {
    atom.event.strum = true;
    atom.event.stroke = sign.direction;
    atom.event.muted = sign.muted;
    atom.event.rolled = sign.rolled;
    atom.event.brushed = sign.brushed;
    atom.event.accents = sign.accents;
    strike_shape(atom, sign.from_string, sign.to_string, sign.direction == song::StrokeDirection::Up, sign.muted);
    atom.event.soft = sign.ghost;
    for (Note& note : atom.event.notes) note.ghost = sign.ghost;
  }

  void pitched(Atom& atom, const song::PitchSign& sign) {
    atom.event.accents = sign.accents;
    atom.event.tremolo = sign.tremolo;
    const auto note_of = [&](const theory::Pitch& pitch) {
      Note note;
      note.written = on_staff(pitch, atom.bar);
      note.midi = concert_of_page(builder_.song, pitch.midi());
      note.origin = atom.event.origin;
      return note;
    };
    for (const theory::Pitch& pitch : sign.pitches) {
      Note note = note_of(pitch);
      note.dead = sign.dead;
      note.ghost = sign.ghost;
      note.tied_from = sign.tied;
      if (sign.trill) note.more.set().trill_pitch = on_staff(*sign.trill, atom.bar);
      if (sign.harmonic) {
        note.harmonic = song::HarmonicKind::Natural;
        note.more.set().sounding = note.written;
      }
      atom.event.notes.push_back(std::move(note));
    }
    if (sign.pitches.empty()) {
      // A stroke without a pitch stands on the middle of the instrument's staff.
      Note note = note_of(theory::plain_spelling(71));
      note.written = theory::plain_spelling(71);
      note.dead = true;
      atom.event.notes.push_back(std::move(note));
    }
    for (const theory::Pitch& pitch : sign.grace) atom.event.grace.set().notes.push_back(note_of(pitch));
  }

  void drummed(Atom& atom, int drum, const song::DrumSign& sign) {
    Part& part = builder_.out.parts[static_cast<std::size_t>(part_index_)];
    Note note;
    note.drum = drum;
    note.midi = drum_key(part.kit[static_cast<std::size_t>(note.drum)], sign);
    note.ghost = sign.ghost;
    note.open = sign.open;
    note.half_open = sign.half_open;
    note.choke = sign.choke;
    note.buzz = sign.buzz;
    note.roll_strokes = static_cast<std::int8_t>(sign.roll);
    note.drum_grace = static_cast<std::int8_t>(sign.grace);
    note.hand = sign.hand;
    note.origin = atom.event.origin;
    atom.event.accents = sign.accents;
    atom.event.notes.push_back(std::move(note));
  }

  /// A shape that is named in a bar where nothing is played is struck once where it begins.
  void held_shapes(const std::vector<char>& busy) {
    if (music_.shapes_by_chord) return;
    for (const check::InForce& shape : music_.shapes) {
      if (shape.index < 0 || busy[static_cast<std::size_t>(shape.bar)]) continue;
      Atom atom;
      atom.bar = shape.bar;
      atom.onset = shape.onset;
      atom.at = starts_[static_cast<std::size_t>(shape.bar)] + shape.onset;
      atom.event.at = {shape.bar, shape.onset};
      atom.event.shape = shape.index;
      atom.event.strum = true;
      if (shape.cell) atom.event.origin = shape.cell->span;
      strike_shape(atom, {}, {}, false, false);
      atoms_.push_back(std::move(atom));
    }
  }

  Builder& builder_;
  const CheckedSection& section_;
  int part_index_;
  const CheckedPart& part_;
  const CheckedMusic& music_;
  const std::vector<StaffKey>& keys_;
  std::vector<Stop> stops_;  ///< by string and fret
  Stop spare_;
  std::tuple<std::optional<theory::Key>, StaffKey, const theory::Tuning*> stops_for_;
  int stops_bar_ = -1;  ///< whose key that is
  std::vector<Fraction> starts_;
  std::vector<Atom> atoms_;
};

}  // namespace

std::vector<Atom> atoms_of(Builder& builder, const CheckedSection& section, int part, const PartMusic& music) {
  return AtomMaker(builder, section, part, music).make();
}

}  // namespace tunesheaf::score

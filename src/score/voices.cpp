// Atoms to events, and events to the segments that fill each bar. One voice holds one event at a time: it lasts to the
// next onset or silence of the voice. Strokes on drums are written to the end of their beat at most.
#include <algorithm>
#include <set>
#include <utility>

#include "builder.h"

namespace tunesheaf::score {
namespace {

using VoiceKey = std::pair<int, int>;  // staff, number

/// Strings (or drums) of the open event: never more than a hand or two.
class Sounding {
 public:
  void clear() { numbers_.clear(); }
  bool empty() const { return numbers_.empty(); }
  bool has(int number) const { return std::find(numbers_.begin(), numbers_.end(), number) != numbers_.end(); }
  void insert(int number) {
    if (!has(number)) numbers_.push_back(number);
  }
  void erase(int number) { std::erase(numbers_, number); }

 private:
  std::vector<int> numbers_;
};

class VoiceMaker {
 public:
  VoiceMaker(Builder& builder, const CheckedSection& section, int part, std::vector<Atom>& atoms)
      : builder_(builder),
        section_(section),
        drums_(builder.song.parts[static_cast<std::size_t>(part)].drums()),
        atoms_(atoms),
        places_(atoms.size()),
        starts_(bar_starts(section)),
        stretches_(stretches(section, starts_)) {
    for (const Atom& atom : atoms)
      if (atom.until_bar > 0) pattern_onsets_.push_back(atom.at);
  }

  void make(PartMusic& music) {
    std::set<VoiceKey> keys;
    for (const Atom& atom : atoms_)
      if (atom.kind == Atom::Kind::Notes || atom.kind == Atom::Kind::Slash) keys.insert({atom.staff, atom.voice});
    std::set<int> upper;
    for (const auto& [staff, number] : keys)
      if (number == 1) upper.insert(staff);
    for (const VoiceKey& key : keys) {
      Voice voice;
      voice.staff = key.first;
      voice.number = upper.count(key.first) > 0 || key.first > 0 ? key.second : 1;
      for (const Stretch& stretch : stretches_) {
        ids_.clear();
        begins_.clear();
        events_of(key, stretch);
        fill(voice, stretch);
      }
      music.voices.push_back(std::move(voice));
    }
  }

  std::vector<AtomPlace>& places() { return places_; }

 private:
  Event& event(int id) { return builder_.out.events[static_cast<std::size_t>(id)]; }

  void events_of(const VoiceKey& key, const Stretch& stretch) {
    int open = -1;
    Sounding sounding;
    std::vector<std::size_t> group;
    const auto flush = [&] {
      if (!group.empty()) open = take(group, open, sounding);
      group.clear();
    };
    const int last = stretch.first + stretch.count;
    auto first = std::lower_bound(atoms_.begin(), atoms_.end(), stretch.begin,
                                  [](const Atom& a, Fraction t) { return a.at < t; });
    for (auto it = first; it != atoms_.end() && it->bar < last; ++it) {
      if (VoiceKey(it->staff, it->voice) != key) continue;
      const auto index = static_cast<std::size_t>(it - atoms_.begin());
      if (!group.empty() && atoms_[group.front()].at != it->at) flush();
      group.push_back(index);
    }
    flush();
    if (open >= 0) close(stretch.end);
  }

  /// One onset of the voice. Returns the event that is open after it.
  int take(const std::vector<std::size_t>& group, int open, Sounding& sounding) {
    const Fraction now = atoms_[group.front()].at;
    int made = -1;
    for (const std::size_t i : group) {
      const Atom& atom = atoms_[i];
      if (atom.kind != Atom::Kind::Notes && atom.kind != Atom::Kind::Slash) continue;
      if (made < 0) {
        if (open >= 0) close(now);
        sounding.clear();
        made = first(i, sounding);
      } else {
        merge(made, i, sounding);
      }
    }
    if (made >= 0) {
      for (const std::size_t i : group)
        if (atoms_[i].kind == Atom::Kind::GoesOn) hold(made, i, sounding);
      return made;
    }
    for (const std::size_t i : group) {
      if (atoms_[i].kind != Atom::Kind::Silence) continue;
      if (open < 0) return rest(i, now, open);
      if (event(open).kind == EventKind::Rest) continue;
      if (atoms_[i].string == 0) {
        sounding.clear();
      } else {
        sounding.erase(atoms_[i].string);
      }
      if (sounding.empty()) return rest(i, now, open);
    }
    return open;
  }

  /// The event of the first atom at an onset; the others there are merged into it.
  int first(std::size_t index, Sounding& sounding) {
    Atom& atom = atoms_[index];
    const int id = add(std::move(atom.event), atom.at);
    Event& made = event(id);
    if (atom.kind == Atom::Kind::Slash) made.kind = EventKind::Slash;
    if (atom.until_bar > 0) until_[id] = atom.until_bar;
    places_[index] = {id, 0, static_cast<int>(made.notes.size())};
    for (std::size_t n = 0; n < made.notes.size(); ++n) sounds(id, n, sounding);
    if (atom.string != 0) sounding.insert(atom.string);
    if (sounding.empty()) sounding.insert(0);
    return id;
  }

  void sounds(int id, std::size_t n, Sounding& sounding) {
    const int string = event(id).notes[n].string;
    sounding.insert(string);
    if (string <= 0) return;
    if (last_.size() <= static_cast<std::size_t>(string)) last_.resize(static_cast<std::size_t>(string) + 1, {-1, -1});
    last_[static_cast<std::size_t>(string)] = {id, static_cast<int>(n)};
  }

  int rest(std::size_t atom, Fraction now, int open) {
    if (open >= 0) close(now);
    const int id = add(std::move(atoms_[atom].event), now);
    event(id).kind = EventKind::Rest;
    event(id).notes.clear();
    places_[atom].event = id;
    return id;
  }

  int add(Event&& from, Fraction begin) {
    const int id = static_cast<int>(builder_.out.events.size());
    builder_.out.events.push_back(std::move(from));
    event(id).id = id;
    ids_.push_back(id);
    begins_.push_back(begin);
    return id;
  }

  void merge(int id, std::size_t index, Sounding& sounding) {
    Event& from = atoms_[index].event;
    Event& into = event(id);
    AtomPlace& place = places_[index];
    place = {id, static_cast<int>(into.notes.size()), 0};
    if (atoms_[index].until_bar > 0) until_[id] = std::max(until_[id], atoms_[index].until_bar);
    if (atoms_[index].kind == Atom::Kind::Notes) into.kind = EventKind::Notes;
    for (Note& note : from.notes) {
      const bool twice = std::any_of(into.notes.begin(), into.notes.end(),
                                     [&](const Note& n) { return note.string > 0 && n.string == note.string; });
      if (twice) continue;
      into.notes.push_back(std::move(note));
      ++place.count;
      sounds(id, into.notes.size() - 1, sounding);
    }
    if (atoms_[index].string != 0) sounding.insert(atoms_[index].string);
    if (sounding.empty()) sounding.insert(0);
    into.accents.accent |= from.accents.accent;
    into.accents.marcato |= from.accents.marcato;
    if (into.accents.marcato) into.accents.accent = false;  // two drums on one stem: the stronger holds
    into.accents.staccato |= from.accents.staccato;
    into.accents.tenuto |= from.accents.tenuto;
    into.accents.fermata |= from.accents.fermata;
    into.strum |= from.strum;
    into.rolled |= from.rolled;
    into.brushed |= from.brushed;
    into.muted |= from.muted;
    into.soft |= from.soft;
    into.tremolo |= from.tremolo;
    if (from.stroke != song::StrokeDirection::None) into.stroke = from.stroke;
    for (const Note& note : from.grace->notes) into.grace.set().notes.push_back(note);
    if (!from.grace->notes.empty()) into.grace.set().to_main = from.grace->to_main;
  }

  /// A string that goes on (bent further, shaken) while another is struck: its note is tied into the new event.
  void hold(int id, std::size_t index, Sounding& sounding) {
    const int string = atoms_[index].string;
    if (string < 0 || last_.size() <= static_cast<std::size_t>(string) || sounding.has(string)) return;
    const auto [last_event, last_note] = last_[static_cast<std::size_t>(string)];
    if (last_event < 0) return;
    const Note& last = event(last_event).notes[static_cast<std::size_t>(last_note)];
    Note note;
    note.written = last.written;
    note.midi = last.midi;
    note.string = string;
    note.fret = last.fret;
    note.tied_from = true;
    note.origin = atoms_[index].event.origin;
    Event& into = event(id);
    places_[index] = {id, static_cast<int>(into.notes.size()), 1};
    into.notes.push_back(note);
    sounding.insert(string);
  }

  /// The open event, which is the last that was made, lasts to here at most.
  void close(Fraction end) {
    const int id = ids_.back();
    Event& e = event(id);
    const Fraction begin = begins_.back();
    if (drums_ && e.kind == EventKind::Notes && !rolls(e)) end = base::min(end, beat_end(e));
    e.duration = base::min(end, limit(id, begin)) - begin;
  }

  /// A round of a pattern is written within its bars; what is written out ends where a pattern takes over.
  Fraction limit(int id, Fraction begin) const {
    if (pattern_onsets_.empty()) return starts_.back();
    if (const auto at = until_.find(id); at != until_.end())
      return starts_[std::min(static_cast<std::size_t>(at->second), starts_.size() - 1)];
    const auto next = std::upper_bound(pattern_onsets_.begin(), pattern_onsets_.end(), begin);
    return next == pattern_onsets_.end() ? starts_.back() : *next;
  }

  Fraction beat_end(const Event& e) const {
    const check::CheckedBar& bar = section_.bars[static_cast<std::size_t>(e.at.bar)];
    for (const theory::BarSpan& beat : bar.beats)
      if (e.at.onset < beat.end()) return starts_[static_cast<std::size_t>(e.at.bar)] + beat.end();
    return starts_[static_cast<std::size_t>(e.at.bar) + 1];
  }

  /// A roll lasts as long as it is written.
  static bool rolls(const Event& e) {
    return std::any_of(e.notes.begin(), e.notes.end(), [](const Note& n) { return n.roll_strokes > 0 || n.buzz; });
  }

  static bool all_tied(const Event& e) {
    return !e.notes.empty() && std::all_of(e.notes.begin(), e.notes.end(), [](const Note& n) { return n.tied_from; });
  }

  void fill(Voice& voice, const Stretch& stretch) {
    std::size_t next = 0;
    for (int b = stretch.first; b < stretch.first + stretch.count; ++b) {
      const Fraction begin = starts_[static_cast<std::size_t>(b)], end = starts_[static_cast<std::size_t>(b) + 1];
      std::vector<Segment>& bar = bar_;  // filled here, then kept with no room to spare
      bar.clear();
      Fraction cursor = begin;
      const auto rest_to = [&](Fraction to) {
        if (cursor < to) bar.push_back({-1, cursor - begin, to - cursor, true, false, false});
        cursor = to;
      };
      while (next < ids_.size()) {
        const Event& e = event(ids_[next]);
        const Fraction from = begins_[next], to = from + e.duration;
        if (from >= end) break;
        rest_to(base::max(from, begin));
        const bool quiet = e.kind == EventKind::Rest;
        const bool tied = !quiet && (from < begin || (from >= begin && all_tied(e)));
        Segment segment{e.id, cursor - begin, base::min(to, end) - cursor, quiet, tied, !quiet && end < to};
        if (segment.tied_from && from >= begin) tie_back(voice, bar);
        bar.push_back(segment);
        cursor = base::min(to, end);
        if (end < to) break;
        ++next;
        if (cursor == end) break;
      }
      rest_to(end);
      voice.bars.push_back(bar);
    }
  }

  /// The segment before a tied event is tied to it.
  static void tie_back(Voice& voice, std::vector<Segment>& bar) {
    const std::size_t bars = voice.bars.size();
    if (!bar.empty()) {
      bar.back().tied_to = !bar.back().rest;
    } else if (bars > 0 && !voice.bars[bars - 1].empty()) {
      Segment& before = voice.bars[bars - 1].back();
      before.tied_to = !before.rest;
    }
  }

  Builder& builder_;
  const CheckedSection& section_;
  bool drums_;
  std::vector<Atom>& atoms_;
  std::vector<AtomPlace> places_;
  std::vector<Fraction> starts_;
  std::vector<Stretch> stretches_;
  std::vector<Fraction> pattern_onsets_;
  std::map<int, int> until_;               ///< event made by a pattern: the bar behind its round
  std::vector<std::pair<int, int>> last_;  ///< by string: event and note that were struck there last
  std::vector<Segment> bar_;               ///< the bar that is being filled
  std::vector<int> ids_;                   ///< events of the voice in the stretch, in order
  std::vector<Fraction> begins_;           ///< of each of them, in the section
};

}  // namespace

std::vector<Fraction> bar_starts(const CheckedSection& section) {
  std::vector<Fraction> starts;
  starts.reserve(section.bars.size() + 1);
  Fraction at;
  for (const check::CheckedBar& bar : section.bars) {
    starts.push_back(at);
    at += bar.length;
  }
  starts.push_back(at);
  return starts;
}

std::vector<Stretch> stretches(const CheckedSection& section, const std::vector<Fraction>& starts) {
  std::vector<Stretch> out;
  const auto add = [&](int first, int count) {
    if (count > 0)
      out.push_back(
          {first, count, starts[static_cast<std::size_t>(first)], starts[static_cast<std::size_t>(first + count)]});
  };
  add(0, section.body_bars);
  for (const check::CheckedEnding& ending : section.endings) add(ending.first_bar, ending.bar_count);
  return out;
}

void build_voices(Builder& builder, const CheckedSection& section, int part, PartMusic& music) {
  std::vector<Atom> atoms = atoms_of(builder, section, part, music);
  const std::size_t first = builder.out.events.size();
  VoiceMaker maker(builder, section, part, atoms);
  maker.make(music);
  link_events(builder, section, part, atoms, maker.places(), music);
  bool slashes = builder.out.events.size() > first;
  for (std::size_t i = first; i < builder.out.events.size(); ++i)
    slashes = slashes && builder.out.events[i].kind != EventKind::Notes;
  music.strummed = slashes;
}

}  // namespace tunesheaf::score

#include "staff_plan.h"

#include <algorithm>
#include <map>
#include <set>

#include "accidentals.h"
#include "broken_bars.h"
#include "kit.h"
#include "rests.h"
#include "stems.h"
#include "tunesheaf/engrave/common_signs.h"
#include "tunesheaf/engrave/drum_heads.h"

namespace tunesheaf::engrave {

using score::Event;
using score::Segment;
using score::Timeline;

bool sounds(std::span<const Segment> bar) {
  return std::any_of(bar.begin(), bar.end(), [](const Segment& s) { return s.event >= 0 && !s.rest; });
}

namespace {

bool plays(const score::PartMusic& music) {
  for (const score::Voice& voice : music.voices) {
    for (const auto& bar : voice.bars) {
      if (sounds(bar)) return true;
    }
  }
  return false;
}

ClefShape clef_named(const std::string& name) {
  static const std::map<std::string, ClefShape> kNames{
      {"treble", ClefShape::Treble},        {"treble 8vb", ClefShape::Treble8}, {"bass", ClefShape::Bass},
      {"bass 8vb", ClefShape::Bass8},       {"alto", ClefShape::Alto},          {"tenor", ClefShape::Tenor},
      {"percussion", ClefShape::Percussion}};
  const auto found = kNames.find(name);
  return found == kNames.end() ? ClefShape::Treble : found->second;
}

/// A clef that stands already is not written again.
void take_clefs(StaffPlan& plan, const score::PartMusic& music) {
  if (plan.kind == StaffKind::Tab || plan.drums) return;
  for (const score::ClefFrom& from : music.clefs) {
    if (from.staff != (plan.kind == StaffKind::Lower ? 1 : 0)) continue;
    const ClefShape shape = clef_named(from.clef);
    if (from.at == score::Place{}) {
      plan.clef = shape;
      plan.octave_shift = from.octave_shift;
    } else if (plan.clef_at(from.at) != shape) {
      plan.clefs.push_back({from.at, shape, from.octave_shift, from.origin});
    }
  }
}

MusicSign head_sign(const score::Note& note, const score::Part& part, theory::NoteValue value) {
  const bool whole = value <= theory::NoteValue::kWhole, half = value == theory::NoteValue::kHalf;
  if (const score::Drum* drum = drum_of(note, part); drum != nullptr) return drum_head_sign(drum->place.head, value);
  if (note.dead) return whole ? MusicSign::NoteheadXWhole : half ? MusicSign::NoteheadXHalf : MusicSign::NoteheadXBlack;
  if (note.harmonic != song::HarmonicKind::None) {
    return whole || half ? MusicSign::NoteheadDiamondWhite : MusicSign::NoteheadDiamondBlack;
  }
  if (value == theory::NoteValue::kBreve) return MusicSign::NoteheadDoubleWhole;
  return whole ? MusicSign::NoteheadWhole : half ? MusicSign::NoteheadHalf : MusicSign::NoteheadBlack;
}

MusicSign slash_sign(const Event& event, theory::NoteValue value) {
  if (event.muted) return MusicSign::NoteheadXBlack;
  if (value <= theory::NoteValue::kWhole) return MusicSign::NoteheadSlashWhole;
  return value == theory::NoteValue::kHalf ? MusicSign::NoteheadSlashHalf : MusicSign::NoteheadSlash;
}

Head slash_head(MusicSign sign) {
  Head head;
  head.sign = sign;
  return head;
}

/// Everything under it is played as harmonics, whatever the lanes of the notes say.
struct HarmonicSpan {
  score::Place from, to;
};

std::vector<HarmonicSpan> harmonic_spans(const score::PartMusic& music) {
  std::vector<HarmonicSpan> found;
  for (const score::Mark& mark : music.marks)
    if (mark.kind == "harmonics") found.push_back({mark.from, mark.to});
  return found;
}

MusicSign diamond(MusicSign head) {
  return head == MusicSign::NoteheadBlack                                      ? MusicSign::NoteheadDiamondBlack
         : head == MusicSign::NoteheadHalf || head == MusicSign::NoteheadWhole ? MusicSign::NoteheadDiamondWhite
                                                                               : head;
}

struct OctaveMark {
  score::Place from, to;
  int octaves;  ///< the staff is written higher (8vb: +1) or lower (8va: -1)
};

std::vector<OctaveMark> octave_marks(const score::PartMusic& music) {
  static const std::map<std::string, int> kMarks{{"8va", -1}, {"8vb", 1}, {"15ma", -2}, {"15mb", 2}};
  std::vector<OctaveMark> found;
  for (const score::Mark& mark : music.marks) {
    const auto known = kMarks.find(mark.kind);
    if (known != kMarks.end()) found.push_back({mark.from, mark.to, known->second});
  }
  return found;
}

class Writer {
 public:
  Writer(const SectionRequest& request, const score::Section& section)
      : request_(request), timeline_(*request.timeline), section_(section) {}

  void write(StaffPlan& plan) {
    plan.bars.resize(section_.bars.size());
    if (plan.keys.empty()) keys_of(plan);
    repeats_.assign(section_.bars.size(), BarRepeat::None);
    if (!plan.cue) repeats_ = repeats_of(request_, plan.part);
    octave_marks_ = octave_marks(section_.parts[static_cast<std::size_t>(plan.part)]);
    harmonic_spans_ = harmonic_spans(section_.parts[static_cast<std::size_t>(plan.part)]);
    const int first = plan.cue ? plan.cue->first : 0;
    const int behind = plan.cue ? plan.cue->behind : static_cast<int>(section_.bars.size());
    for (int bar = first; bar < behind; ++bar) write_bar(plan, bar);
    clefs_over_rests(plan);
    if (plan.kind == StaffKind::Tab) {
      for (StaffBar& bar : plan.bars) tab_stems(bar);
      return;
    }
    if (!plan.drums && !plan.slashes) choose_accidentals(plan, request_);
    for (StaffBar& bar : plan.bars) {
      decide_stems(bar, plan.drums ? Stems::OfDrums : Stems::ByPitch);
      fit_rests(bar, plan.lines);
    }
  }

  void write_chart(StaffPlan& plan) {
    plan.bars.resize(section_.bars.size());
    keys_of(plan);
    for (std::size_t b = 0; b < section_.bars.size(); ++b) {
      const score::Bar& bar = section_.bars[b];
      std::vector<theory::RhythmSpan> spans;
      if (has_hits(static_cast<int>(b))) {
        Fraction at;
        for (const score::Hit& hit : section_.hits[b]) {
          if (hit.onset > at) spans.push_back({at, hit.onset - at, true, false, false, 0});
          spans.push_back({hit.onset, hit.duration, false, false, false, static_cast<int>(spans.size())});
          at = hit.onset + hit.duration;
        }
        if (at < bar.length) spans.push_back({at, bar.length - at, true, false, false, 0});
        if (section_.hits[b].empty()) {  // those of the whole bar are elsewhere in it
          silence(plan.bars[b], bar, static_cast<int>(b));
          continue;
        }
        spell(plan.bars[b], bar, spans, static_cast<int>(b), 1);
        const bool goes_on = piece_at(request_, static_cast<int>(b)).continues;
        if (!goes_on && !section_.hits[b].front().after_silence) play_on(plan.bars[b], bar, section_.hits[b].front().onset);
        std::size_t next = 0;
        for (Chord& chord : plan.bars[b].chords) {
          chord.event = -1;  // a hit is no event of the timeline
          if (chord.rest || chord.slash) continue;
          Event event;
          chord.slash = true;
          chord.heads.push_back(slash_head(slash_sign(event, chord.value)));
          const auto& hits = section_.hits[b];
          chord.attack = next < hits.size() && hits[next].onset == chord.onset;
          if (!chord.attack) continue;
          chord.heads.back().ghost = hits[next].ghost;
          chord.accents = hits[next++].accents;
        }
      } else {
        plan.bars[b].chords = beat_slashes(bar, static_cast<int>(b), bar.length);
        continue;
      }
      decide_stems(plan.bars[b], Stems::ByPitch);
    }
  }

 private:
  /// The bar states its rhythm, in this piece of it or in another.
  bool has_hits(int bar) const {
    if (section_.hits.empty()) return false;
    const auto says = [&](int b) { return !section_.hits[static_cast<std::size_t>(b)].empty(); };
    bool any = says(bar);
    for (int b = bar; !any && piece_at(request_, b).continues; --b) any = says(b - 1);
    for (int b = bar; !any && piece_at(request_, b).continued; ++b) any = says(b + 1);
    return any;
  }

  /// A slash without a stem for each beat that begins before `end`: the time is kept, in whatever rhythm.
  std::vector<Chord> beat_slashes(const score::Bar& bar, int index, Fraction end) const {
    const BarPiece piece = piece_at(request_, index);
    std::vector<Chord> slashes;
    for (const theory::BarSpan& beat : bar.meter.beats()) {
      if (beat.onset < piece.from) continue;
      const Fraction onset = beat.onset - piece.from;
      if (onset >= end) break;
      Chord chord;
      chord.bar = index;
      chord.onset = onset;
      chord.duration = min(beat.length, end - onset);
      chord.value = theory::NoteValue::kQuarter;
      chord.slash = true;
      chord.heads.push_back(slash_head(MusicSign::NoteheadSlash));
      slashes.push_back(chord);
    }
    return slashes;
  }

  /// Until the first hit of a bar the time is kept: slashes stand where the speller put rests.
  void play_on(StaffBar& out, const score::Bar& bar, Fraction first_hit) const {
    std::vector<Chord> slashes = beat_slashes(bar, out.chords.empty() ? 0 : out.chords.front().bar, first_hit);
    if (slashes.empty()) return;
    for (Chord& chord : out.chords) chord.hidden = chord.hidden || (chord.rest && chord.onset < first_hit);
    const int more = static_cast<int>(slashes.size());
    for (BeamGroup& beam : out.beams)
      for (int& index : beam.chords) index += more;
    for (TupletGroup& tuplet : out.tuplets)
      for (int& index : tuplet.chords) index += more;
    out.chords.insert(out.chords.begin(), slashes.begin(), slashes.end());
  }

  void keys_of(StaffPlan& plan) const {
    for (std::size_t b = 0; b < section_.bars.size(); ++b) {
      plan.keys.push_back(plan.part < 0
                              ? score::StaffKey{section_.bars[b].key, {}}
                              : score::staff_key(section_, section_.parts[static_cast<std::size_t>(plan.part)], b));
    }
  }

  void write_bar(StaffPlan& plan, int index) {
    const auto b = static_cast<std::size_t>(index);
    const score::PartMusic& music = section_.parts[static_cast<std::size_t>(plan.part)];
    const score::Bar& bar = section_.bars[b];
    StaffBar& out = plan.bars[b];
    std::vector<const score::Voice*> voices;
    for (const score::Voice& voice : music.voices) {
      const bool here = plan.kind == StaffKind::Tab || voice.staff == (plan.kind == StaffKind::Lower ? 1 : 0);
      if (here && b < voice.bars.size() && sounds(voice.bars[b])) voices.push_back(&voice);
    }
    std::stable_sort(voices.begin(), voices.end(),
                     [](const score::Voice* a, const score::Voice* c) { return a->number < c->number; });
    if (voices.empty()) {
      silence(out, bar, index);
      out.silent = true;
      return;
    }
    out.repeat = repeats_[b];
    out.repeat_sign = out.repeat != BarRepeat::None;
    for (const score::Voice* voice : voices) {
      const std::span<const Segment> segments = voice->bars[b];
      std::vector<theory::RhythmSpan> spans;
      for (std::size_t i = 0; i < segments.size(); ++i) {
        const Segment& s = segments[i];
        spans.push_back({s.onset, s.duration, s.rest || s.event < 0, s.tied_from, s.tied_to, static_cast<int>(i)});
      }
      const std::size_t begin = out.chords.size();
      spell(out, bar, spans, index, voice->number);
      std::set<int> seen;
      for (std::size_t i = begin; i < out.chords.size(); ++i) {
        Chord& chord = out.chords[i];
        chord.lone = voices.size() == 1;
        // The first voice has the strings of the melody: on a mirrored tab those are the lines below.
        if (voices.size() > 1) chord.stem_up = (voice == voices.front()) != plan.mirrored;
        const auto id = static_cast<std::size_t>(chord.event);  // the speller's id: a segment
        const Segment& segment = segments[id];
        chord.event = chord.rest ? -1 : segment.event;
        if (chord.rest) {
          continue;
        }
        chord.attack = !segment.tied_from && seen.insert(static_cast<int>(id)).second;
        fill_heads(plan, chord);
      }
    }
  }

  /// A clef within a bar of rest holds from its beginning: nothing is read in between, and the rest has the middle.
  static void clefs_over_rests(StaffPlan& plan) {
    for (ClefChange& change : plan.clefs)
      if (plan.bars[static_cast<std::size_t>(change.at.bar)].silent) change.at.onset = Fraction();
    for (std::size_t i = plan.clefs.size(); i-- > 0;) {  // of two at one place the later holds
      if (i + 1 < plan.clefs.size() && plan.clefs[i].at == plan.clefs[i + 1].at)
        plan.clefs.erase(plan.clefs.begin() + static_cast<std::ptrdiff_t>(i));
    }
    if (plan.clefs.empty() || plan.clefs.front().at != score::Place{}) return;
    plan.clef = plan.clefs.front().clef;
    plan.octave_shift = plan.clefs.front().octave_shift;
    plan.clefs.erase(plan.clefs.begin());
  }

  /// The whole rest means a full bar; one that is not full holds rests as long as itself, written as a note would be.
  void silence(StaffBar& out, const score::Bar& bar, int index) const {
    const bool full = bar.length == bar.meter.bar_length();
    spell(out, bar, {{Fraction(), bar.length, full, false, false, 0}}, index, 1);
    out.beams.clear();
    out.tuplets.clear();
    for (Chord& chord : out.chords) {
      chord.event = -1;
      chord.rest = true;
      chord.has_stem = false;
      chord.beam = chord.tuplet = -1;
    }
  }

  void fill_heads(const StaffPlan& plan, Chord& chord) const {
    const Event& event = timeline_.events[static_cast<std::size_t>(chord.event)];
    if (event.kind == score::EventKind::Slash) {
      chord.slash = true;
      chord.heads.push_back(slash_head(slash_sign(event, chord.value)));
      chord.heads.back().tied_from = !chord.attack;
      chord.heads.back().ghost = event.soft && chord.attack;
      chord.accents = event.accents;
      return;
    }
    chord.accents = event.accents;
    const score::Part& part = timeline_.parts[static_cast<std::size_t>(plan.part)];
    const score::Place at{chord.bar, chord.onset};
    const ClefChange* change = plan.clef_change_at(at);
    const ClefShape clef = change != nullptr ? change->clef : plan.clef;
    int octaves = change != nullptr ? change->octave_shift : plan.octave_shift;
    for (const OctaveMark& mark : octave_marks_) {
      if (at >= mark.from && at < mark.to) octaves += mark.octaves;
    }
    const bool harmonics = !plan.drums && std::any_of(harmonic_spans_.begin(), harmonic_spans_.end(),
                                                      [&](const HarmonicSpan& s) { return at >= s.from && at < s.to; });
    const auto head_of = [&](const score::Note& note, int index, theory::NoteValue value) {
      Head head;
      head.note = index;
      head.ghost = note.ghost;
      head.sign = head_sign(note, part, value);
      if (harmonics) head.sign = diamond(head.sign);
      head.tied_from = !chord.attack || note.tied_from;
      const score::Drum* drum = drum_of(note, part);
      head.position = drum != nullptr ? drum->place.position
                                      : staff_position(part, clef, plan.pitch(chord.bar, note.written), octaves);
      return head;
    };
    for (std::size_t i = 0; i < event.notes.size(); ++i) {
      chord.heads.push_back(head_of(event.notes[i], static_cast<int>(i), chord.value));
    }
    std::stable_sort(chord.heads.begin(), chord.heads.end(),
                     [](const Head& a, const Head& b) { return a.position < b.position; });
    if (chord.heads.empty()) chord.rest = true;
    if (!chord.attack) return;
    for (std::size_t i = 0; i < event.grace->notes.size(); ++i) {
      chord.grace.push_back(head_of(event.grace->notes[i], static_cast<int>(i), theory::NoteValue::kEighth));
    }
    if (plan.drums && chord.grace.empty()) small_drum_heads(chord, event, part);
  }

  /// Chord::event holds the span's id until the caller replaces it.
  void spell(StaffBar& out, const score::Bar& bar, const std::vector<theory::RhythmSpan>& spans, int index,
             int voice) const {
    theory::BarShape shape{bar.length, bar.pick_up ? theory::BarAlign::kEnd : theory::BarAlign::kStart};
    if (const BarPiece piece = piece_at(request_, index); piece.broken())
      shape = {bar.length, theory::BarAlign::kWithin, piece.in_meter};
    const auto spelt = theory::spell_bar(bar.meter, shape, spans);
    const int base = static_cast<int>(out.chords.size());
    if (!spelt) {
      for (const theory::RhythmSpan& span : spans) out.chords.push_back(nearest(span, index, voice));
      return;
    }
    const int beam_base = static_cast<int>(out.beams.size()), tuplet_base = static_cast<int>(out.tuplets.size());
    for (const theory::SpelledPiece& piece : spelt->pieces) {
      Chord chord;
      chord.bar = index;
      chord.onset = piece.onset;
      chord.duration = piece.duration;
      chord.value = piece.value;
      chord.dots = piece.dots;
      chord.rest = piece.rest;
      chord.whole_bar_rest = piece.whole_bar_rest;
      chord.voice = voice;
      chord.event = piece.id;
      chord.has_stem = !piece.rest && theory::has_stem(piece.value);
      chord.beam = piece.beam < 0 ? -1 : beam_base + piece.beam;
      chord.beam_marks = piece.beam_marks;
      chord.tuplet = piece.tuplet < 0 ? -1 : tuplet_base + piece.tuplet;
      out.chords.push_back(chord);
    }
    for (const theory::Beam& beam : spelt->beams) {
      BeamGroup group;
      group.levels = beam.levels;
      for (int i = beam.first; i <= beam.last; ++i) group.chords.push_back(base + i);
      out.beams.push_back(group);
    }
    for (const theory::Tuplet& tuplet : spelt->tuplets) {
      TupletGroup group;
      group.actual = tuplet.actual;
      group.normal = tuplet.normal;
      group.bracket = tuplet.bracket;
      group.parent = tuplet.parent < 0 ? -1 : tuplet_base + tuplet.parent;
      for (int i = tuplet.first; i <= tuplet.last; ++i) group.chords.push_back(base + i);
      out.tuplets.push_back(group);
    }
  }

  /// What no written value can say (finer than the speller goes) is written as the next shorter value.
  static Chord nearest(const theory::RhythmSpan& span, int index, int voice) {
    Chord chord;
    chord.bar = index;
    chord.onset = span.onset;
    chord.duration = span.duration;
    chord.rest = span.rest;
    chord.voice = voice;
    chord.event = span.id;
    chord.value = theory::NoteValue::k1024th;
    for (int v = static_cast<int>(theory::NoteValue::k1024th); v >= 0; --v) {
      if (theory::written_duration(static_cast<theory::NoteValue>(v)) > span.duration) break;
      chord.value = static_cast<theory::NoteValue>(v);
    }
    chord.has_stem = !chord.rest && theory::has_stem(chord.value);
    return chord;
  }

  const SectionRequest& request_;
  const Timeline& timeline_;
  const score::Section& section_;
  std::vector<OctaveMark> octave_marks_;
  std::vector<HarmonicSpan> harmonic_spans_;
  std::vector<BarRepeat> repeats_;
};

StaffPlan make_plan(const Timeline& timeline, int part_index, StaffKind kind, const style::Style& style) {
  const score::Part& part = timeline.parts[static_cast<std::size_t>(part_index)];
  StaffPlan plan;
  plan.part = part_index;
  plan.kind = kind;
  plan.number = staff_number(part_index, kind);
  plan.clef = clef_of(part, kind);
  plan.octave_shift = part.octave_shift;
  plan.drums = plays_drums(part);
  if (plan.drums) plan.lines = part.kit_lines;
  if (kind == StaffKind::Tab) {
    plan.lines = std::max(1, part.tuning.count());
    plan.line_distance = style.engraving.tab_line_distance;
    plan.mirrored = style.tab_mirrored;
  }
  return plan;
}

}  // namespace

int staff_position(const score::Part&, ClefShape clef, theory::Pitch written, int octaves_up) {
  int middle = 34;  // B4
  switch (clef) {
    case ClefShape::Alto:
      middle = 28;
      break;
    case ClefShape::Tenor:
      middle = 26;
      break;
    case ClefShape::Bass:
    case ClefShape::Bass8:
      middle = 22;
      break;
    default:
      break;
  }
  return written.diatonic() + 7 * octaves_up - middle;
}

theory::Interval way_of_names(const std::vector<StaffPlan>& plans, int bar) {
  const auto way = [&](const StaffPlan& plan) { return plan.keys[static_cast<std::size_t>(bar)].from_page; };
  for (const StaffPlan& plan : plans) {
    if (plan.drums || !(way(plan) == way(plans.front()))) return {};
  }
  return plans.empty() ? theory::Interval{} : way(plans.front());
}

ClefShape clef_of(const score::Part& part, StaffKind kind) {
  if (kind == StaffKind::Tab) return ClefShape::Tab;
  if (kind == StaffKind::Lower) return ClefShape::Bass;
  return part.kit.empty() ? clef_named(part.clef) : ClefShape::Percussion;
}

bool plays_drums(const score::Part& part) {
  return !part.kit.empty() || part.instrument.family == theory::Family::Drums;
}

void write_staff(const SectionRequest& request, StaffPlan& plan) {
  Writer(request, request.timeline->sections[static_cast<std::size_t>(request.section)]).write(plan);
}

std::vector<StaffPlan> plan_staves(const SectionRequest& request, const style::Style& style) {
  const Timeline& timeline = *request.timeline;
  const score::Section& section = timeline.sections[static_cast<std::size_t>(request.section)];
  std::vector<int> parts = request.parts;
  if (parts.empty()) {
    for (std::size_t i = 0; i < timeline.parts.size(); ++i) parts.push_back(static_cast<int>(i));
  }
  // On the sheet of a few parts a section in which only others play is bars of rest; else who is silent is left out.
  const auto shown = [&](int index) {
    const auto i = static_cast<std::size_t>(index);
    if (i >= section.parts.size()) return false;
    if (plays(section.parts[i])) return true;
    // Who only waits has a staff where no other shows what is waited for.
    return std::any_of(section.parts[i].cues.begin(), section.parts[i].cues.end(), [&](const score::Cue& cue) {
      return std::find(parts.begin(), parts.end(), cue.part) == parts.end();
    });
  };
  const bool all_rest = is_part_sheet(request) && std::none_of(parts.begin(), parts.end(), shown) &&
                        std::any_of(section.parts.begin(), section.parts.end(), plays);
  std::vector<StaffPlan> plans;
  for (const int index : parts) {
    const auto i = static_cast<std::size_t>(index);
    if (i >= section.parts.size() || (!shown(index) && !all_rest)) continue;
    const score::PartMusic& music = section.parts[i];
    const score::Part& part = timeline.parts[i];
    const bool strings = part.tuning.count() > 0;
    const bool tab = strings && part.tab && !music.strummed && style.show_staves != "notation";
    const bool notation = (part.notation && style.show_staves != "tab") || !tab || needs_notation(timeline, music);
    const bool two =
        std::any_of(music.voices.begin(), music.voices.end(), [](const score::Voice& v) { return v.staff == 1; });
    const std::size_t first = plans.size();
    if (notation) plans.push_back(make_plan(timeline, index, StaffKind::Notation, style));
    if (notation && two) plans.push_back(make_plan(timeline, index, StaffKind::Lower, style));
    if (tab) plans.push_back(make_plan(timeline, index, StaffKind::Tab, style));
    for (std::size_t p = first; p < plans.size(); ++p) {
      take_clefs(plans[p], music);
      plans[p].alone = plans.size() - first == 1;
      plans[p].slashes = music.strummed;
      if (music.strummed) plans[p].clef = ClefShape::None;
      plans[p].rhythm = plans[p].kind != StaffKind::Tab || plans[p].alone;
    }
  }
  Writer writer(request, section);
  for (StaffPlan& plan : plans) writer.write(plan);
  join_rests(plans, request);
  const bool chart = !section.harmony.empty() || !section.hits.empty() || !section.words.empty();
  if (plans.empty() && chart && !section.bars.empty()) {
    StaffPlan plan;
    plan.kind = StaffKind::Chart;
    plan.clef = ClefShape::None;
    plan.slashes = true;
    writer.write_chart(plan);
    plans.push_back(std::move(plan));
  }
  return plans;
}

}  // namespace tunesheaf::engrave

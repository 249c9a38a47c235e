// The `timeline` phase. Every member that is not at its default is written, one item per line, nesting by indent.
#include <sstream>

#include "tunesheaf/base/number.h"
#include "tunesheaf/score/heard.h"
#include "tunesheaf/score/timeline.h"
#include "tunesheaf/theory/naming.h"

namespace tunesheaf::score {
namespace {

std::string quoted(const std::string& text) {
  std::string out = "\"";
  for (const char c : text) {
    if (c == '"' || c == '\\') out += '\\';
    out += c == '\n' ? ' ' : c;
  }
  return out + "\"";
}

const char* arrival_name(song::Arrival arrival) {
  using song::Arrival;
  switch (arrival) {
    case Arrival::Struck:
      return "struck";
    case Arrival::HammerOn:
      return "hammer-on";
    case Arrival::PullOff:
      return "pull-off";
    case Arrival::LegatoSlide:
      return "legato-slide";
    case Arrival::ShiftSlide:
      return "shift-slide";
    case Arrival::SlideInFromBelow:
      return "slide-in-from-below";
    case Arrival::SlideInFromAbove:
      return "slide-in-from-above";
    case Arrival::Tap:
      return "tap";
    case Arrival::TapFrettingHand:
      break;
  }
  return "tap-fretting-hand";
}

const char* harmonic_name(song::HarmonicKind kind) {
  using song::HarmonicKind;
  switch (kind) {
    case HarmonicKind::None:
      return "none";
    case HarmonicKind::Natural:
      return "natural";
    case HarmonicKind::Artificial:
      return "artificial";
    case HarmonicKind::Pinched:
      return "pinched";
    case HarmonicKind::Tapped:
      return "tapped";
    case HarmonicKind::Touched:
      break;
  }
  return "touched";
}

const char* word_name(WordKind kind) {
  constexpr const char* kNames[] = {"lyric", "say",    "count",       "dynamics", "tempo", "hold",  "cue",
                                    "arm",   "remark", "from-lesson", "bow",      "pedal", "retune"};
  return kNames[static_cast<std::size_t>(kind)];
}

const char* bar_line_name(BarLine line) {
  constexpr const char* kNames[] = {"single", "double", "final", "repeat-end"};
  return kNames[static_cast<std::size_t>(line)];
}

std::string place(const Place& at) {
  return std::to_string(at.bar + 1) + ":" + at.onset.text();
}

std::string tempo_text(const song::TempoMark& tempo) {
  std::string out = tempo.words.empty() ? "" : quoted(tempo.words) + " ";
  if (tempo.unit_stated) out += tempo.unit.text() + "=";
  return out + tempo.per_minute.text();
}

std::string accents_text(const song::Accents& a) {
  std::string out;
  if (a.accent) out += " accent";
  if (a.marcato) out += " marcato";
  if (a.staccato) out += " staccato";
  if (a.tenuto) out += " tenuto";
  if (a.fermata) out += " fermata";
  return out;
}

class Printer {
 public:
  explicit Printer(const Timeline& timeline) : t_(timeline) {}

  std::string print() {
    head();
    for (const Recording& recording : t_.recordings) recording_line(recording);
    for (const Part& part : t_.parts) part_lines(part);
    for (std::size_t i = 0; i < t_.shapes.size(); ++i) shape_line(i);
    for (const MoveUse& move : t_.moves)
      out_ << "move " << shape_name(move.from) << " -> " << shape_name(move.to) << " times " << move.count
           << " difficulty " << move.move.difficulty << "\n";
    for (const Section& section : t_.sections) section_lines(section);
    for (const FormStep& step : t_.form)
      out_ << "form " << quoted(step.entry.text.value)
           << (step.section >= 0 ? " section " + std::to_string(step.section + 1) : "") << "\n";
    for (const PlayedBar& bar : t_.played)
      out_ << "played " << bar.number << " section " << bar.section + 1 << " bar " << bar.bar + 1 << " pass "
           << bar.pass << " at " << bar.start.text() << " " << base::print_fixed(bar.seconds, 3) << " s\n";
    out_ << "seconds " << base::print_fixed(t_.seconds, 3) << "\n";
    for (const auto& [name, tempo] : t_.implied_tempos)
      out_ << "implied-tempo " << quoted(name) << " " << base::print_fixed(tempo, 1) << "\n";
    return out_.str();
  }

 private:
  void head() {
    out_ << "song " << quoted(t_.title.value) << "\n";
    const auto line = [&](const char* name, const std::optional<Text>& text) {
      if (text) out_ << name << " " << quoted(text->value) << "\n";
    };
    line("by", t_.by);
    line("lesson", t_.lesson);
    line("revision", t_.revision);
    line("video", t_.video);
    line("credits", t_.credits);
    line("about", t_.about);
    out_ << "language " << t_.language << "\n";
    if (t_.key) out_ << "key " << theory::print(*t_.key) << "\n";
    out_ << "meter " << theory::print_meter(t_.meter) << "\n";
    if (t_.tempo) out_ << "tempo " << tempo_text(*t_.tempo) << "\n";
    if (t_.counts_in) out_ << "counts-in " << quoted(t_.counts_in->value) << "\n";
    for (const Text& name : t_.starts) out_ << "starts " << quoted(name.value) << "\n";
    if (t_.feel.unit != Fraction(0))
      out_ << "feel " << t_.feel.unit.text() << " " << t_.feel.first.text() << ":" << t_.feel.second.text() << "\n";
  }

  void recording_line(const Recording& r) {
    out_ << "recording " << quoted(r.name.value) << " cents " << base::print_fixed(r.cents, 1);
    if (r.tempo) out_ << " tempo " << tempo_text(*r.tempo);
    if (r.sounding_key) out_ << " sounds-in " << theory::print(*r.sounding_key);
    if (r.followed) out_ << " followed";
    out_ << "\n";
  }

  void part_lines(const Part& p) {
    out_ << "part " << quoted(p.name.value) << " instrument " << quoted(p.instrument.name) << " clef "
         << quoted(p.clef);
    if (p.octave_shift != 0) out_ << " octave-shift " << p.octave_shift;
    if (p.from_page != theory::Interval{}) out_ << " from-page " << theory::print(p.from_page);
    if (p.to_concert != theory::Interval{}) out_ << " to-concert " << theory::print(p.to_concert);
    if (p.notation) out_ << " notation";
    if (p.tab) out_ << " tab";
    if (p.tuning.count() > 0) out_ << " tuning " << quoted(theory::print(p.tuning));
    if (!p.kit.empty() && p.kit_lines != 5) out_ << " lines " << p.kit_lines;
    if (!p.tuning_name.empty()) out_ << " named " << quoted(p.tuning_name);
    if (p.capo != 0) out_ << " capo " << p.capo;
    if (p.partial_capo) out_ << " partial-capo " << p.partial_capo->fret.value;
    if (!p.stands_in_for.empty()) out_ << " stands-in-for " << quoted(p.stands_in_for);
    out_ << "\n";
    if (p.retuning)
      for (const auto& string : p.retuning->strings)
        out_ << "  retune " << string.string << " " << theory::print(string.from) << " to " << theory::print(string.to)
             << " semitones " << string.semitones << "\n";
    for (const Drum& drum : p.kit)
      out_ << "  drum " << quoted(drum.name) << " key " << drum.place.midi << " position " << drum.place.position << " "
           << theory::name(drum.place.head) << (drum.place.feet ? " feet" : "") << "\n";
  }

  std::string shape_name(int index) const {
    return index < 0 ? "-" : quoted(t_.shapes[static_cast<std::size_t>(index)].name.value);
  }

  void shape_line(std::size_t i) {
    const ShapeUse& s = t_.shapes[i];
    out_ << "shape " << quoted(s.name.value) << " frets " << theory::print_frets(s.shape);
    if (!s.shape.fingers.empty()) out_ << " fingers " << theory::print_fingers(s.shape);
    out_ << " ear " << quoted(s.ear_text) << (s.ear_is_claim ? " claimed" : "") << " sounding";
    for (const auto& pitch : s.sounding) out_ << " " << (pitch ? theory::print(*pitch) : "x");
    if (!s.hand.empty()) out_ << " hand " << quoted(s.hand);
    if (s.part >= 0) out_ << " part " << s.part + 1;
    if (!s.tuned.empty()) out_ << " tuned " << quoted(s.tuned);
    if (s.from == Authority::Lesson) out_ << " from-lesson";
    if (!s.instead_of.empty()) out_ << " instead-of " << quoted(s.instead_of);
    if (!s.says.empty()) out_ << " says " << quoted(s.says);
    if (!s.used) out_ << " unused";
    out_ << "\n";
  }

  void section_lines(const Section& s) {
    out_ << "section " << quoted(s.name.value) << " letter " << s.letter << " times " << s.times;
    if (!s.until.empty()) out_ << " until " << quoted(s.until);
    if (s.video) out_ << " video " << s.video->text();
    for (const auto& [recording, at] : s.at) out_ << " at " << recording + 1 << "=" << at.text();
    if (!s.like.empty()) out_ << " like " << quoted(s.like);
    if (s.from == Authority::Lesson) out_ << " from-lesson";
    if (!s.instead_of.empty()) out_ << " instead-of " << quoted(s.instead_of);
    if (s.tempo) out_ << " tempo " << tempo_text(*s.tempo);
    if (s.feel) out_ << " feel " << quoted(s.feel->words);
    if (s.says) out_ << " says " << quoted(s.says->value);
    out_ << "\n";
    for (std::size_t b = 0; b < s.bars.size(); ++b) bar_line(s, b);
    for (const Harmony& h : s.harmony) harmony_line(h);
    for (std::size_t b = 0; b < s.hits.size(); ++b)
      for (const Hit& hit : s.hits[b])
        out_ << "  hit " << b + 1 << ":" << hit.onset.text() << " for " << hit.duration.text()
             << accents_text(hit.accents) << (hit.ghost ? " ghost" : "") << (hit.push ? " push" : "")
             << (hit.stop ? " stop" : "") << (hit.after_silence ? " after-silence" : "") << "\n";
    words(s.words, "  ");
    for (const PartMusic& music : s.parts) part_music(music);
    for (const Remark& r : s.remarks)
      out_ << "  remark " << r.number << " at " << place(r.at) << " " << quoted(r.text.value)
           << (r.from == Authority::Lesson ? " from-lesson" : "")
           << (r.instead_of.empty() ? "" : " instead-of " + quoted(r.instead_of)) << "\n";
  }

  void bar_line(const Section& s, std::size_t b) {
    const Bar& bar = s.bars[b];
    out_ << "  bar " << b + 1 << " number " << bar.number << " length " << bar.length.text();
    if (bar.show_meter) out_ << " meter " << theory::print_meter(bar.meter);
    if (bar.show_key) out_ << " key " << theory::print(bar.key);
    if (bar.pick_up) out_ << " pick-up";
    if (bar.repeat_begin) out_ << " repeat-begin";
    for (const int pass : bar.ending) out_ << (bar.ending.front() == pass ? " ending " : ",") << pass;
    if (bar.ending_begin) out_ << " ending-begin";
    if (bar.ending_end) out_ << " ending-end";
    if (bar.end != BarLine::Single) out_ << " end " << bar_line_name(bar.end);
    if (bar.repeat_times != 0) out_ << " times " << bar.repeat_times;
    if (bar.groove_repeat) out_ << " groove-repeat";
    if (bar.from == Authority::Lesson) out_ << " from-lesson";
    out_ << "\n";
  }

  void harmony_line(const Harmony& h) {
    out_ << "  harmony " << place(h.at);
    if (h.shape >= 0) out_ << " shape " << shape_name(h.shape);
    if (!h.stated.empty()) out_ << " stated " << quoted(h.stated);
    if (h.name) out_ << " name " << quoted(theory::print(*h.name));
    if (h.none) out_ << " none";
    if (h.push) out_ << " push";
    out_ << (h.part < 0 ? " chart" : " part " + std::to_string(h.part + 1)) << "\n";
  }

  void words(const std::vector<Word>& list, const char* indent) {
    for (const Word& w : list) {
      out_ << indent << "word " << word_name(w.kind) << " " << place(w.at);
      if (!w.text.empty()) out_ << " " << quoted(w.text);
      if (w.arm) out_ << " arm " << static_cast<int>(w.arm->action) << " " << w.arm->semitones.text();
      if (w.tempo && Fraction(0) < w.tempo->per_minute) out_ << " tempo " << tempo_text(*w.tempo);
      if (w.event >= 0) out_ << " event " << w.event;
      for (const int remark : w.remarks) out_ << " remark " << remark + 1;
      out_ << "\n";
    }
  }

  void pattern_words(const PatternWords& pattern) {
    out_ << "    pattern " << quoted(pattern.name.value);
    if (pattern.says) out_ << " says " << quoted(pattern.says->value);
    if (pattern.from == Authority::Lesson) out_ << " from-lesson";
    if (!pattern.instead_of.empty()) out_ << " instead-of " << quoted(pattern.instead_of);
    out_ << "\n";
  }

  void part_music(const PartMusic& music) {
    if (music.voices.empty() && music.marks.empty() && music.words.empty() && music.cues.empty()) return;
    out_ << "  part " << quoted(t_.parts[static_cast<std::size_t>(music.part)].name.value)
         << (music.strummed ? " strummed" : "") << "\n";
    for (std::size_t b = 0; b < music.keys.size(); ++b)
      if (b == 0 || !(music.keys[b] == music.keys[b - 1]))
        out_ << "    staff-key " << b + 1 << " " << theory::print(music.keys[b].key) << " from-page "
             << theory::print(music.keys[b].from_page) << "\n";
    for (const TunedFrom& from : music.tunings) {
      out_ << "    tuned " << place(from.at) << " " << quoted(theory::print(from.tuning));
      for (const int string : from.strings) out_ << (string == from.strings.front() ? " turned " : ",") << string;
      out_ << "\n";
    }
    for (const ClefFrom& from : music.clefs)
      out_ << "    clef " << place(from.at) << " staff " << from.staff << " " << quoted(from.clef) << "\n";
    for (const Cue& cue : music.cues)
      out_ << "    cue of " << quoted(t_.parts[static_cast<std::size_t>(cue.part)].name.value) << " bars "
           << cue.first + 1 << "-" << cue.behind << "\n";
    for (const PatternWords& pattern : music.patterns) pattern_words(pattern);
    for (const BodyTap& tap : music.taps)
      out_ << "    body-tap " << place(tap.at) << " loudness " << tap.loudness << "\n";
    for (const Mark& m : music.marks)
      out_ << "    mark " << quoted(m.kind) << (m.word.empty() ? "" : " " + quoted(m.word)) << " " << place(m.from)
           << " to " << place(m.to) << "\n";
    words(music.words, "    ");
    steps_ = glides_in_steps(t_.parts[static_cast<std::size_t>(music.part)]);
    for (const Voice& voice : music.voices) {
      out_ << "    voice " << voice.number << " staff " << voice.staff << "\n";
      for (std::size_t b = 0; b < voice.bars.size(); ++b)
        for (const Segment& segment : voice.bars[b]) segment_lines(b, segment);
    }
  }

  void segment_lines(std::size_t bar, const Segment& s) {
    out_ << "      " << bar + 1 << ":" << s.onset.text() << " for " << s.duration.text();
    if (s.rest) out_ << " rest";
    if (s.event >= 0) out_ << " event " << s.event;
    if (s.tied_from) out_ << " tied-from";
    if (s.tied_to) out_ << " tied-to";
    out_ << "\n";
    if (s.event < 0) return;
    const Event& e = t_.events[static_cast<std::size_t>(s.event)];
    if (e.at.bar == static_cast<int>(bar) && e.at.onset == s.onset && e.kind != EventKind::Rest) event_lines(e);
  }

  void event_lines(const Event& e) {
    out_ << "        " << (e.kind == EventKind::Slash ? "slash" : "notes") << " for " << e.duration.text()
         << " loudness " << e.loudness << accents_text(e.accents);
    if (e.stroke != song::StrokeDirection::None) out_ << (e.stroke == song::StrokeDirection::Down ? " down" : " up");
    if (e.strum) out_ << " strum";
    if (e.rolled) out_ << " rolled";
    if (e.brushed) out_ << " brushed";
    if (e.muted) out_ << " muted";
    if (e.soft) out_ << " soft";
    if (e.tremolo) out_ << " tremolo";
    if (e.snap) out_ << " snap";
    if (e.breath) out_ << " breath";
    if (e.glides_to >= 0) out_ << " glides-to " << e.glides_to;
    if (e.push) out_ << " push";
    if (e.stop) out_ << " stop";
    if (e.shape >= 0) out_ << " over " << shape_name(e.shape);
    out_ << "\n";
    for (const Note& n : e.grace->notes) {
      note_line("grace", n, &e.grace->to_main);
      out_ << "\n";
    }
    const std::vector<Fraction> later = later_than_onset(e);
    for (std::size_t i = 0; i < e.notes.size(); ++i) {
      const Note& n = e.notes[i];
      note_line("note", n, nullptr);
      if (later[i] != Fraction(0)) out_ << " later " << later[i].text();
      if (const auto every = stroke_every(e, n)) out_ << " stroke-every " << every->text();
      for (const BendPoint& point : glide(t_, e, n, steps_))
        out_ << " glide@" << point.at.text() << "=" << point.semitones.text();
      out_ << "\n";
    }
  }

  void note_line(const char* what, const Note& n, const song::Arrival* to_main) {
    out_ << "          " << what << " ";
    if (n.drum >= 0) {
      out_ << "drum " << n.drum + 1;
    } else {
      out_ << theory::print(n.written);
    }
    out_ << " midi " << n.midi;
    if (n.string != 0) out_ << " string " << n.string << " fret " << n.fret;
    if (n.finger != 0) out_ << " finger " << n.finger;
    if (n.pluck != 0) out_ << " pluck " << n.pluck;
    if (n.dead) out_ << " dead";
    if (n.ghost) out_ << " ghost";
    if (n.open) out_ << " open";
    if (n.half_open) out_ << " half-open";
    if (n.choke) out_ << " choke";
    if (n.drum_grace != 0) out_ << " drum-grace " << static_cast<int>(n.drum_grace);
    if (n.roll_strokes != 0) out_ << " roll " << static_cast<int>(n.roll_strokes);
    if (n.buzz) out_ << " buzz";
    if (n.hand != 0) out_ << " hand " << n.hand;
    if (n.tied_from) out_ << " tied";
    if (to_main) out_ << " to-main " << arrival_name(*to_main);
    if (n.more->link.kind != song::Arrival::Struck) {
      out_ << " " << arrival_name(n.more->link.kind);
      if (n.more->link.from_event >= 0) out_ << " from " << n.more->link.from_event << "." << n.more->link.from_note;
    }
    if (n.slide_off != song::SlideOff::None)
      out_ << (n.slide_off == song::SlideOff::Up ? " slide-off-up" : " slide-off-down");
    if (n.prebend) out_ << " prebend";
    for (const BendPoint& point : n.more->bend) out_ << " bend@" << point.at.text() << "=" << point.semitones.text();
    if (n.vibrato != song::Vibrato::None) out_ << (n.vibrato == song::Vibrato::Wide ? " wide-vibrato" : " vibrato");
    if (n.more->trill_fret) out_ << " trill " << *n.more->trill_fret;
    if (n.more->trill_pitch) out_ << " trill-to " << theory::print(*n.more->trill_pitch);
    if (n.harmonic != song::HarmonicKind::None) out_ << " harmonic " << harmonic_name(n.harmonic);
    if (n.more->touch) out_ << " touch " << *n.more->touch;
    if (n.more->sounding) out_ << " sounding " << theory::print(*n.more->sounding);
    if (n.sounding_duration != Fraction(0)) out_ << " sounds " << n.sounding_duration.text();
  }

  const Timeline& t_;
  bool steps_ = false;  ///< the part that is printed glides in steps
  std::ostringstream out_;
};

}  // namespace

std::string print(const Timeline& timeline) {
  return Printer(timeline).print();
}

}  // namespace tunesheaf::score

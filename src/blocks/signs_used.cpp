#include <algorithm>
#include <map>
#include <set>
#include <span>
#include <string>
#include <utility>

#include "tunesheaf/blocks/legend.h"
#include "tunesheaf/engrave/common_signs.h"
#include "tunesheaf/engrave/system.h"
#include "tunesheaf/theory/rhythm.h"

namespace tunesheaf::blocks {
namespace {

using score::Event;
using score::Note;
using song::Arrival;
using song::HarmonicKind;

class Collector {
 public:
  explicit Collector(const Setting& setting) : setting_(setting) {}

  SignList collect() {
    for (const score::Section& section : setting_.song.sections) add(section);
    for (const score::FormStep& step : setting_.song.form) form(step.entry.word);
    return found();
  }

  SignList collect(int section) {
    add(setting_.song.sections[static_cast<std::size_t>(section)]);
    for (const engrave::FormSign& sign : engrave::form_signs(setting_.song, section)) form(sign.word);
    return found();
  }

 private:
  /// One row says what a tie is.
  SignList found() {
    if (found_.count(LegendSign::Held) > 0) found_.erase(LegendSign::Tie);
    return {{found_.begin(), found_.end()}, std::move(printed_)};
  }

  /// A sign that stands for several words, of which this one is printed.
  void found(LegendSign sign, const std::string& printed) {
    found_.insert(sign);
    printed_.try_emplace(sign, printed);
  }

  void add(const score::Section& section) {
    section_ = &section;
    for (const int p : setting_.parts) {
      const auto index = static_cast<std::size_t>(p);
      owner_ = &setting_.song.parts[index];
      if (index < section.parts.size()) part(section.parts[index]);
    }
    shared(section);
  }

  /// What stands over all parts.
  void shared(const score::Section& section) {
    for (const score::Word& word : section.words) said(word);
    for (const score::Harmony& harmony : section.harmony) {
      if (harmony.none) found_.insert(LegendSign::NoChord);
    }
    for (const score::Bar& bar : section.bars) {
      if (bar.repeat_begin || bar.end == score::BarLine::RepeatEnd) found_.insert(LegendSign::Repeat);
      if (bar.ending_begin) found_.insert(LegendSign::Ending);
      if (bar.end == score::BarLine::RepeatEnd && bar.repeat_times > 2) found_.insert(LegendSign::RepeatTimes);
    }
  }

  void form(song::FormWord word) {
    using song::FormWord;
    static const std::map<FormWord, LegendSign> kSigns{
        {FormWord::Segno, LegendSign::Segno},       {FormWord::DalSegno, LegendSign::Segno},
        {FormWord::Coda, LegendSign::Coda},         {FormWord::ToCoda, LegendSign::Coda},
        {FormWord::DaCapo, LegendSign::DaCapo},     {FormWord::Fine, LegendSign::Fine},
        {FormWord::Fade, LegendSign::RepeatAndFade}};
    if (const auto found = kSigns.find(word); found != kSigns.end()) found_.insert(found->second);
  }

  void said(const score::Word& word) {
    if (word.kind == score::WordKind::RemarkRef) found_.insert(LegendSign::RemarkNumber);
    if (word.kind == score::WordKind::Arm) found_.insert(LegendSign::ArmMove);
    if (word.kind == score::WordKind::Bow) found_.insert(LegendSign::Bow);
    if (word.kind == score::WordKind::Pedal) found_.insert(LegendSign::Pedal);
    if (word.kind == score::WordKind::Dynamics) found_.insert(LegendSign::Dynamics);
    if (word.kind == score::WordKind::Tempo) tempo(word.text);
    if (word.kind != score::WordKind::Hold) return;
    static const std::map<std::string, LegendSign> kSigns{{"breath", LegendSign::Breath},
                                                          {"caesura", LegendSign::Caesura},
                                                          {"short", LegendSign::ShortHold},
                                                          {"long", LegendSign::LongHold}};
    const auto found = kSigns.find(word.text);
    found_.insert(found == kSigns.end() ? LegendSign::Fermata : found->second);
  }

  /// Abbreviations are explained; numbers and whole words speak for themselves.
  void tempo(const std::string& text) {
    for (const char* word : {"rit", "accel", "rall"})
      if (text.rfind(word, 0) == 0) found(LegendSign::TempoChange, std::string(word) + ".");
  }

  void part(const score::PartMusic& music) {
    held(music);
    closed(music);
    figures_ = owner_->tuning.count() > 0 && owner_->tab && !music.strummed && setting_.style.show_staves != "notation";
    for (const score::Voice& voice : music.voices) {
      for (std::size_t b = 0; b < voice.bars.size(); ++b) {
        const auto bar = voice.bars[b];
        spelt_ties(bar, section_->bars[b]);
        for (const score::Segment& segment : bar) {
          if (segment.event < 0) continue;
          const Event& now = setting_.song.events[static_cast<std::size_t>(segment.event)];
          event(now);
          if (tied(segment, now)) found_.insert(LegendSign::Tie);
        }
      }
    }
    for (const score::Mark& mark : music.marks) span(mark);
    for (const score::Word& word : music.words) said(word);
    cues(music);
    for (const engrave::BarRepeat repeat : engrave::bar_repeats(setting_.song, *section_, music.part)) {
      if (repeat != engrave::BarRepeat::None) found_.insert(LegendSign::BarRepeat);
    }
  }

  /// Held over a bar line or over a beat: written as two that are tied.
  bool tied(const score::Segment& segment, const Event& event) const {
    if (segment.rest || !owner_->kit.empty()) return false;
    const bool again = std::any_of(event.notes.begin(), event.notes.end(), [](const Note& n) { return n.tied_from; });
    return segment.tied_from || again || (event.kind == score::EventKind::Slash && event.push);
  }

  /// A tab that stands alone ties what it holds; beneath notation only what a line of music begins with is recalled.
  void held(const score::PartMusic& music) {
    const std::string& staves = setting_.style.show_staves;
    if (owner_->tuning.count() == 0 || !owner_->tab || music.strummed || staves == "notation") return;
    if (setting_.style.tab_mirrored && !music.voices.empty()) found_.insert(LegendSign::MirroredTab);
    const bool alone = (!owner_->notation || staves == "tab") && !engrave::needs_notation(setting_.song, music);
    for (const score::Voice& voice : music.voices) {
      for (std::size_t b = 0; b < voice.bars.size(); ++b) {
        for (const score::Segment& segment : voice.bars[b]) {
          if (segment.event < 0 || segment.rest) continue;
          const Event& event = setting_.song.events[static_cast<std::size_t>(segment.event)];
          if (event.kind != score::EventKind::Notes) continue;
          const bool again = std::any_of(event.notes.begin(), event.notes.end(),
                                         [&](const Note& n) { return segment.tied_from || n.tied_from; });
          if (again && (alone || (b > 0 && segment.onset == base::Fraction()))) found_.insert(LegendSign::Held);
        }
        if (alone && found_.count(LegendSign::HalfOnTab) == 0 && holds_a_half(voice.bars[b], section_->bars[b]))
          found_.insert(LegendSign::HalfOnTab);
      }
    }
  }

  /// The bar's notes as they are written.
  static std::vector<theory::SpelledPiece> written(std::span<const score::Segment> segments, const score::Bar& bar) {
    std::vector<theory::RhythmSpan> spans;
    for (std::size_t i = 0; i < segments.size(); ++i) {
      const score::Segment& s = segments[i];
      spans.push_back({s.onset, s.duration, s.rest || s.event < 0, s.tied_from, s.tied_to, static_cast<int>(i)});
    }
    const theory::BarShape shape{bar.length, bar.pick_up ? theory::BarAlign::kEnd : theory::BarAlign::kStart};
    auto spelt = theory::spell_bar(bar.meter, shape, spans);
    return spelt ? std::move(spelt->pieces) : std::vector<theory::SpelledPiece>{};
  }
  template <class F>
  static bool any_note(std::span<const score::Segment> segments, const score::Bar& bar, F&& is) {
    const auto pieces = written(segments, bar);
    return std::any_of(pieces.begin(), pieces.end(), [&](const auto& piece) { return !piece.rest && is(piece); });
  }
  /// Some note of the bar is written as a half, which a tab shows by its stem alone.
  static bool holds_a_half(std::span<const score::Segment> segments, const score::Bar& bar) {
    return any_note(segments, bar, [](const auto& piece) { return piece.value == theory::NoteValue::kHalf; });
  }
  /// A length within a bar that no single note has is written as two that are tied, where there is a staff for them.
  void spelt_ties(std::span<const score::Segment> segments, const score::Bar& bar) {
    if (found_.count(LegendSign::Tie) > 0 || !owner_->kit.empty()) return;
    if (any_note(segments, bar, [](const auto& piece) { return piece.tie_to_next; })) found_.insert(LegendSign::Tie);
  }

  /// Who rests through a section has a staff for a cue only where nobody else shows it.
  void cues(const score::PartMusic& music) {
    for (const score::Cue& cue : music.cues) {
      const auto& parts = setting_.parts;
      const bool shown = !music.voices.empty() || std::find(parts.begin(), parts.end(), cue.part) == parts.end();
      if (shown) found_.insert(LegendSign::Cue);
    }
  }

  void span(const score::Mark& mark) {
    const std::string& kind = mark.kind;
    if (kind == "wah" && (mark.word == "open" || mark.word == "closed")) {
      found_.insert(LegendSign::Wah);
      return;
    }
    static const std::map<std::string, LegendSign> kSigns{{"palm mute", LegendSign::PalmMute},
                                                          {"half palm mute", LegendSign::HalfPalmMute},
                                                          {"let ring", LegendSign::LetRing},
                                                          {"barre", LegendSign::Barre},
                                                          {"volume swell", LegendSign::Swell},
                                                          {"fade in", LegendSign::FadeIn},
                                                          {"fade out", LegendSign::FadeOut},
                                                          {"crescendo", LegendSign::Louder},
                                                          {"slur", LegendSign::Slur},
                                                          {"vibrato", LegendSign::Vibrato},
                                                          {"trill", LegendSign::Trill},
                                                          {"tremolo picking", LegendSign::Tremolo},
                                                          {"rake", LegendSign::Rake},
                                                          {"harmonics", LegendSign::NaturalHarmonic},
                                                          {"roll", LegendSign::Rolled},
                                                          {"glissando", LegendSign::Glissando},
                                                          {"body tap", LegendSign::BodyTap},
                                                          {"snap pizzicato", LegendSign::SnapPizzicato},
                                                          {"pizzicato", LegendSign::Pizzicato},
                                                          {"8va", LegendSign::OctaveLine},
                                                          {"8vb", LegendSign::OctaveLine},
                                                          {"15ma", LegendSign::OctaveLine},
                                                          {"15mb", LegendSign::OctaveLine},
                                                          {"accelerando", LegendSign::TempoChange},
                                                          {"ritardando", LegendSign::TempoChange},
                                                          {"diminuendo", LegendSign::Softer},
                                                          {"distortion", LegendSign::EffectSpan},
                                                          {"wah", LegendSign::EffectSpan},
                                                          {"feedback", LegendSign::EffectSpan},
                                                          {"slide", LegendSign::WithSlide}};
    const auto known = kSigns.find(kind);
    if (known == kSigns.end()) return;
    if (known->second == LegendSign::EffectSpan) return found(known->second, kind);
    if (known->second == LegendSign::TempoChange) return found(known->second, kind == "ritardando" ? "rit." : "accel.");
    found_.insert(known->second);
  }

  void event(const Event& event) {
    if (event.kind == score::EventKind::Slash) found_.insert(LegendSign::Slash);
    // Strums are drawn as arrows, strokes of a pick by the signs of a bow; a roll or a brush has an arrow of its own.
    const bool arrow = !event.strum && (event.rolled || event.brushed);
    if (event.stroke == song::StrokeDirection::Down && !arrow) {
      found_.insert(event.strum ? LegendSign::StrumDown : LegendSign::DownStroke);
    }
    if (event.stroke == song::StrokeDirection::Up && !arrow) {
      found_.insert(event.strum ? LegendSign::StrumUp : LegendSign::UpStroke);
    }
    if (event.rolled) found_.insert(LegendSign::Rolled);
    if (event.brushed) found_.insert(LegendSign::Brush);
    if (!figures_ && partial(event)) {
      const auto [from, to] = std::pair<int, int>(event.notes.front().string, event.notes.back().string);
      found(LegendSign::PartialStrum, std::to_string(from) + "\u2013" + std::to_string(to));
    }
    if (event.muted) found_.insert(LegendSign::Dead);
    if (event.soft) found_.insert(LegendSign::Ghost);
    if (event.tremolo) found_.insert(LegendSign::Tremolo);
    if (event.accents.marcato) found_.insert(LegendSign::Marcato);
    if (event.accents.accent) found_.insert(LegendSign::Accent);
    if (event.accents.staccato) found_.insert(LegendSign::Staccato);
    if (event.accents.tenuto) found_.insert(LegendSign::Tenuto);
    if (event.accents.fermata) found_.insert(LegendSign::Fermata);
    if (!event.grace->notes.empty()) found_.insert(LegendSign::Grace);
    if (event.kind == score::EventKind::Slash) return;  // the strummed notes are not printed
    for (const Note& n : event.notes) note(n);
  }

  /// A strum over some of the strings that its shape sounds.
  bool partial(const Event& event) const {
    if (event.kind != score::EventKind::Slash || !event.strum || event.shape < 0 || event.notes.empty()) return false;
    const auto& frets = setting_.song.shapes[static_cast<std::size_t>(static_cast<int>(event.shape))].shape.frets;
    const auto sounding = std::count_if(frets.begin(), frets.end(), [](const auto& f) { return f.has_value(); });
    return static_cast<std::ptrdiff_t>(event.notes.size()) < sounding;
  }

  void note(const Note& note) {
    if (note.finger > 0) found_.insert(LegendSign::FrettingFingers);
    if (note.pluck == 'T') found_.insert(LegendSign::Slap);
    if (note.pluck == 'P') found_.insert(LegendSign::Pop);
    if (note.pluck != 0 && note.pluck != 'T' && note.pluck != 'P') found_.insert(LegendSign::PluckingFingers);
    ring(note);
    if (note.half_open) found_.insert(LegendSign::HalfOpenDrum);
    if (note.drum_grace == 1) found_.insert(LegendSign::Flam);
    if (note.drum_grace > 1) found_.insert(LegendSign::Drag);
    if (note.roll_strokes > 0) found_.insert(LegendSign::DrumRoll);
    if (note.buzz) found_.insert(LegendSign::BuzzRoll);
    if (note.hand != 0) found_.insert(LegendSign::Sticking);
    if (note.choke) found_.insert(LegendSign::Choke);
    if (note.dead) found_.insert(LegendSign::Dead);
    if (note.ghost) found_.insert(LegendSign::Ghost);
    if (note.vibrato != song::Vibrato::None) found_.insert(LegendSign::Vibrato);
    if (note.more->trill_fret || note.more->trill_pitch) found_.insert(LegendSign::Trill);
    if (note.slide_off != song::SlideOff::None) found_.insert(LegendSign::SlideOff);
    arrival(note.more->link.kind);
    harmonic(note.harmonic);
    bend(note);
    if (note.prebend) found_.insert(LegendSign::BentFirst);
  }

  /// The ring over a drum: a cymbal's own, or of a stroke that is let ring where others on that drum are not.
  void ring(const Note& note) {
    if (note.drum < 0 || static_cast<std::size_t>(note.drum) >= owner_->kit.size()) return;
    const score::Drum& drum = owner_->kit[static_cast<std::size_t>(note.drum)];
    const bool hat = drum.name.find("hat") != std::string::npos;
    if (drum.place.ring == theory::DrumRing::HalfOpen) found_.insert(LegendSign::HalfOpenDrum);
    const bool open = note.open && (hat || closed_.count(note.drum) > 0);
    if (open || drum.place.ring == theory::DrumRing::Open)
      found_.insert(hat ? LegendSign::OpenDrum : LegendSign::OpenTone);
  }

  /// Drums that are also struck without being let ring.
  void closed(const score::PartMusic& music) {
    closed_.clear();
    if (owner_->kit.empty()) return;
    for (const score::Voice& voice : music.voices)
      for (const auto& bar : voice.bars)
        for (const score::Segment& segment : bar)
          if (segment.event >= 0)
            for (const Note& n : setting_.song.events[static_cast<std::size_t>(segment.event)].notes)
              if (!n.open) closed_.insert(n.drum);
  }

  void harmonic(HarmonicKind kind) {
    switch (kind) {
      case HarmonicKind::Natural:
        found_.insert(LegendSign::NaturalHarmonic);
        break;
      case HarmonicKind::Artificial:
        found_.insert(LegendSign::ArtificialHarmonic);
        break;
      case HarmonicKind::Pinched:
        found_.insert(LegendSign::PinchedHarmonic);
        break;
      case HarmonicKind::Tapped:
      case HarmonicKind::Touched:
        found_.insert(LegendSign::TappedHarmonic);
        break;
      case HarmonicKind::None:
        break;
    }
  }

  void arrival(Arrival kind) {
    switch (kind) {
      case Arrival::HammerOn:
        found_.insert(LegendSign::HammerOn);
        break;
      case Arrival::PullOff:
        found_.insert(LegendSign::PullOff);
        break;
      case Arrival::LegatoSlide:
      case Arrival::ShiftSlide:
        found_.insert(LegendSign::Slide);
        break;
      case Arrival::SlideInFromBelow:
      case Arrival::SlideInFromAbove:
        found_.insert(LegendSign::SlideIn);
        break;
      case Arrival::Tap:
      case Arrival::TapFrettingHand:
        found_.insert(LegendSign::Tap);
        break;
      case Arrival::Struck:
        break;
    }
  }

  void bend(const Note& note) {
    for (std::size_t i = 0; i < note.more->bend.size(); ++i) {
      const base::Fraction before = i > 0 ? note.more->bend[i - 1].semitones : base::Fraction{};
      if (note.more->bend[i].semitones > before) found_.insert(LegendSign::Bend);
      if (note.more->bend[i].semitones < before) found_.insert(LegendSign::Release);
    }
  }

  const Setting& setting_;
  const score::Section* section_ = nullptr;
  const score::Part* owner_ = nullptr;  ///< whose notes are looked at
  std::set<LegendSign> found_;
  std::set<int> closed_;                       ///< drums of the part that are not always let ring
  std::map<LegendSign, std::string> printed_;  ///< SignList::printed
  bool figures_ = false;                       ///< the part has a tab, whose figures say which strings are strummed
};

}  // namespace

SignList sign_list(const Setting& setting) {
  return Collector(setting).collect();
}

SignList sign_list(const Setting& setting, int section) {
  return Collector(setting).collect(section);
}

std::vector<LegendSign> signs_used(const Setting& setting) {
  return sign_list(setting).signs;
}

}  // namespace tunesheaf::blocks

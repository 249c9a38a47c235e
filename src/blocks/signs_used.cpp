#include <algorithm>
#include <map>
#include <set>

#include "tunesheaf/blocks/legend.h"
#include "tunesheaf/engrave/common_signs.h"

namespace tunesheaf::blocks {
namespace {

using score::Event;
using score::Note;
using song::Arrival;
using song::HarmonicKind;

class Collector {
 public:
  explicit Collector(const Setting& setting) : setting_(setting) {}

  std::vector<LegendSign> collect() {
    for (const score::Section& section : setting_.song.sections) {
      for (const int p : setting_.parts) {
        const auto index = static_cast<std::size_t>(p);
        owner_ = &setting_.song.parts[index];
        if (index < section.parts.size()) part(section.parts[index]);
      }
      if (!section.remarks.empty()) found_.insert(LegendSign::RemarkNumber);
    }
    return {found_.begin(), found_.end()};
  }

 private:
  void part(const score::PartMusic& music) {
    held(music);
    for (const score::Voice& voice : music.voices) {
      for (const auto& bar : voice.bars) {
        for (const score::Segment& segment : bar) {
          if (segment.event >= 0) event(setting_.song.events[static_cast<std::size_t>(segment.event)]);
        }
      }
    }
    for (const score::Mark& mark : music.marks) {
      span(mark.kind);
    }
    for (const score::Word& word : music.words) {
      if (word.kind == score::WordKind::Arm) found_.insert(LegendSign::ArmMove);
      if (word.kind == score::WordKind::Bow) found_.insert(LegendSign::Bow);
      if (word.kind == score::WordKind::Pedal) found_.insert(LegendSign::Pedal);
      if (word.kind == score::WordKind::Dynamics) found_.insert(LegendSign::Dynamics);
    }
  }

  /// A tab that stands alone ties what it holds; beneath notation only what a line of music begins with is recalled.
  void held(const score::PartMusic& music) {
    const std::string& staves = setting_.style.show_staves;
    if (owner_->tuning.count() == 0 || !owner_->tab || music.strummed || staves == "notation") return;
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
      }
    }
  }

  void span(const std::string& kind) {
    static const std::map<std::string, LegendSign> kSigns{
        {"palm mute", LegendSign::PalmMute}, {"half palm mute", LegendSign::HalfPalmMute},
        {"let ring", LegendSign::LetRing},   {"barre", LegendSign::Barre},
        {"volume swell", LegendSign::Swell}, {"fade in", LegendSign::Swell},
        {"fade out", LegendSign::FadeOut},   {"crescendo", LegendSign::Louder},
        {"diminuendo", LegendSign::Softer},  {"distortion", LegendSign::EffectSpan},
        {"wah", LegendSign::EffectSpan},     {"feedback", LegendSign::EffectSpan}};
    if (const auto found = kSigns.find(kind); found != kSigns.end()) found_.insert(found->second);
  }

  void event(const Event& event) {
    if (event.kind == score::EventKind::Slash) found_.insert(LegendSign::Slash);
    // Strums are drawn as arrows, strokes of a pick by the signs of a bow.
    if (event.stroke == song::StrokeDirection::Down) {
      found_.insert(event.strum ? LegendSign::StrumDown : LegendSign::DownStroke);
    }
    if (event.stroke == song::StrokeDirection::Up) {
      found_.insert(event.strum ? LegendSign::StrumUp : LegendSign::UpStroke);
    }
    if (event.rolled || event.brushed) found_.insert(LegendSign::Rolled);
    if (event.soft) found_.insert(LegendSign::Ghost);
    if (event.tremolo) found_.insert(LegendSign::Tremolo);
    if (event.accents.accent || event.accents.marcato) found_.insert(LegendSign::Accent);
    if (event.accents.staccato) found_.insert(LegendSign::Staccato);
    if (event.accents.fermata) found_.insert(LegendSign::Fermata);
    if (!event.grace.notes.empty()) found_.insert(LegendSign::Grace);
    if (event.kind == score::EventKind::Slash) return;  // the strummed notes are not printed
    for (const Note& n : event.notes) note(n);
  }

  void note(const Note& note) {
    if (note.pluck == 'T') found_.insert(LegendSign::Slap);
    if (note.pluck == 'P') found_.insert(LegendSign::Pop);
    if (note.pluck != 0 && note.pluck != 'T' && note.pluck != 'P') found_.insert(LegendSign::PluckingFingers);
    if (note.open && is_hat(note.drum)) found_.insert(LegendSign::OpenDrum);
    if (note.half_open) found_.insert(LegendSign::HalfOpenDrum);
    if (note.choke) found_.insert(LegendSign::Choke);
    if (note.dead) found_.insert(LegendSign::Dead);
    if (note.ghost) found_.insert(LegendSign::Ghost);
    if (note.vibrato != song::Vibrato::None) found_.insert(LegendSign::Vibrato);
    if (note.trill_fret || note.trill_pitch) found_.insert(LegendSign::Trill);
    if (note.slide_off != song::SlideOff::None) found_.insert(LegendSign::SlideOff);
    arrival(note.link.kind);
    harmonic(note.harmonic);
    bend(note);
  }

  bool is_hat(int drum) const {
    if (drum < 0 || static_cast<std::size_t>(drum) >= owner_->kit.size()) return false;
    return owner_->kit[static_cast<std::size_t>(drum)].name.find("hat") != std::string::npos;
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
    for (std::size_t i = 0; i < note.bend.size(); ++i) {
      const base::Fraction before = i > 0 ? note.bend[i - 1].semitones : base::Fraction{};
      if (note.bend[i].semitones > before) found_.insert(LegendSign::Bend);
      if (note.bend[i].semitones < before) found_.insert(LegendSign::Release);
    }
  }

  const Setting& setting_;
  const score::Part* owner_ = nullptr;  ///< whose notes are looked at
  std::set<LegendSign> found_;
};

}  // namespace

std::vector<LegendSign> signs_used(const Setting& setting) {
  return Collector(setting).collect();
}

std::string_view words_of(LegendSign sign) {
  switch (sign) {
    case LegendSign::HammerOn:
      return "hammer-on (h): a fretting finger makes the note sound";
    case LegendSign::PullOff:
      return "pull-off (p): the finger plucks as it leaves";
    case LegendSign::Slide:
      return "slide along the string";
    case LegendSign::SlideIn:
      return "slide into the note from nowhere";
    case LegendSign::SlideOff:
      return "slide away from the note";
    case LegendSign::Tap:
      return "tap the note on the neck";
    case LegendSign::Bend:
      return "bend, by so many whole tones";
    case LegendSign::Release:
      return "let the bend down again";
    case LegendSign::Vibrato:
      return "vibrato: the wider the wave, the wider the vibrato";
    case LegendSign::Trill:
      return "trill with the fret in brackets";
    case LegendSign::Tremolo:
      return "pick as fast as you can";
    case LegendSign::Dead:
      return "muted: a click without pitch";
    case LegendSign::Ghost:
      return "hardly played, more felt than heard";
    case LegendSign::Held:
      return "tied: sounds on, is not struck again";
    case LegendSign::NaturalHarmonic:
      return "harmonic: touch over the fret";
    case LegendSign::ArtificialHarmonic:
      return "artificial harmonic: touch and pick with one hand";
    case LegendSign::PinchedHarmonic:
      return "pinched harmonic, off the thumb";
    case LegendSign::TappedHarmonic:
      return "harmonic: tap or touch over the fret while it sounds";
    case LegendSign::Grace:
      return "grace note, just before the beat";
    case LegendSign::DownStroke:
      return "pick towards the floor";
    case LegendSign::UpStroke:
      return "pick away from the floor";
    case LegendSign::StrumDown:
      return "strum towards the floor";
    case LegendSign::StrumUp:
      return "strum away from the floor";
    case LegendSign::Bow:
      return "bow down, bow up";
    case LegendSign::Rolled:
      return "roll the strings one after the other";
    case LegendSign::PluckingFingers:
      return "thumb, index, middle, ring of the picking hand";
    case LegendSign::Slap:
      return "slap: the side of the thumb strikes the string";
    case LegendSign::Pop:
      return "pop: pull the string off the neck";
    case LegendSign::Accent:
      return "accent: stronger";
    case LegendSign::Staccato:
      return "short";
    case LegendSign::Fermata:
      return "hold as long as you like";
    case LegendSign::ArmMove:
      return "vibrato bar: down or up, by so much";
    case LegendSign::PalmMute:
      return "the palm lies on the strings";
    case LegendSign::HalfPalmMute:
      return "the palm lies on the strings lightly";
    case LegendSign::LetRing:
      return "let the strings ring on";
    case LegendSign::Barre:
      return "one finger lies across the strings at this fret";
    case LegendSign::Swell:
      return "swell: from nothing to full";
    case LegendSign::FadeOut:
      return "fade out: from full to nothing";
    case LegendSign::Louder:
      return "louder by and by";
    case LegendSign::Softer:
      return "softer by and by";
    case LegendSign::Dynamics:
      return "how loud: p is soft, f is loud, m is in between";
    case LegendSign::EffectSpan:
      return "an effect is on as far as the dashes go";
    case LegendSign::Pedal:
      return "pedal down, pedal up";
    case LegendSign::OpenDrum:
      return "open hi-hat";
    case LegendSign::HalfOpenDrum:
      return "hi-hat half open";
    case LegendSign::Choke:
      return "catch the cymbal at once";
    case LegendSign::Slash:
      return "strum the shape in this rhythm";
    case LegendSign::RemarkNumber:
      return "a remark in the margin, by its number";
  }
  return {};
}

}  // namespace tunesheaf::blocks

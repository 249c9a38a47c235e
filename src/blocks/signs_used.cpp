#include <algorithm>
#include <set>

#include "tunesheaf/blocks/legend.h"

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
        if (index < section.parts.size()) part(section.parts[index]);
      }
      if (!section.remarks.empty()) found_.insert(LegendSign::RemarkNumber);
    }
    return {found_.begin(), found_.end()};
  }

 private:
  void part(const score::PartMusic& music) {
    for (const score::Voice& voice : music.voices) {
      for (const auto& bar : voice.bars) {
        for (const score::Segment& segment : bar) {
          if (segment.event >= 0) event(setting_.song.events[static_cast<std::size_t>(segment.event)]);
        }
      }
    }
    for (const score::Mark& mark : music.marks) {
      if (mark.kind == "palm mute") found_.insert(LegendSign::PalmMute);
      if (mark.kind == "let ring") found_.insert(LegendSign::LetRing);
    }
    for (const score::Word& word : music.words) {
      if (word.kind == score::WordKind::Arm) found_.insert(LegendSign::ArmMove);
      if (word.kind == score::WordKind::Bow) found_.insert(LegendSign::Bow);
    }
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
    if (event.tremolo) found_.insert(LegendSign::Tremolo);
    if (event.accents.accent || event.accents.marcato) found_.insert(LegendSign::Accent);
    if (event.accents.staccato) found_.insert(LegendSign::Staccato);
    if (event.accents.fermata) found_.insert(LegendSign::Fermata);
    if (!event.grace.notes.empty()) found_.insert(LegendSign::Grace);
    if (event.kind == score::EventKind::Slash) return;  // the strummed notes are not printed
    for (const Note& n : event.notes) note(n);
  }

  void note(const Note& note) {
    if (note.pluck != 0) found_.insert(LegendSign::PluckingFingers);
    if (note.dead) found_.insert(LegendSign::Dead);
    if (note.ghost) found_.insert(LegendSign::Ghost);
    if (note.vibrato != song::Vibrato::None) found_.insert(LegendSign::Vibrato);
    if (note.trill_fret || note.trill_pitch) found_.insert(LegendSign::Trill);
    if (note.slide_off != song::SlideOff::None) found_.insert(LegendSign::SlideOff);
    arrival(note.link.kind);
    if (note.harmonic == HarmonicKind::Pinched) found_.insert(LegendSign::PinchedHarmonic);
    if (note.harmonic != HarmonicKind::None && note.harmonic != HarmonicKind::Pinched) {
      found_.insert(LegendSign::NaturalHarmonic);
    }
    bend(note);
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
  std::set<LegendSign> found_;
};

}  // namespace

std::vector<LegendSign> signs_used(const Setting& setting) {
  return Collector(setting).collect();
}

std::string_view words_of(LegendSign sign) {
  switch (sign) {
    case LegendSign::HammerOn:
      return "hammer-on: a fretting finger makes the note sound";
    case LegendSign::PullOff:
      return "pull-off: the finger plucks as it leaves";
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
      return "vibrato; the wider wave, the wider";
    case LegendSign::Trill:
      return "trill with the fret in brackets";
    case LegendSign::Tremolo:
      return "pick as fast as you can";
    case LegendSign::Dead:
      return "muted: a click without pitch";
    case LegendSign::Ghost:
      return "hardly played, more felt than heard";
    case LegendSign::NaturalHarmonic:
      return "harmonic: touch over the fret";
    case LegendSign::PinchedHarmonic:
      return "pinched harmonic, off the thumb";
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
    case LegendSign::LetRing:
      return "let the strings ring on";
    case LegendSign::Slash:
      return "strum the shape in this rhythm";
    case LegendSign::RemarkNumber:
      return "a remark in the margin, by its number";
  }
  return {};
}

}  // namespace tunesheaf::blocks

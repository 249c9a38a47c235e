// Events in words: strings, frets, fingers and every sign that may stand with them.
#include <algorithm>

#include "bars.h"

namespace tunesheaf::aloud {
namespace {

using score::Event;
using score::Note;
using song::Arrival;
using song::HarmonicKind;

constexpr std::string_view kStrings = "string lanes";

std::string string_sign(std::string_view sign) {
  return sign_words(kStrings, sign);
}

std::string arrival_words(const Teller& teller, const Note& note) {
  switch (note.more->link.kind) {
    case Arrival::Struck:
      return {};
    case Arrival::HammerOn:
      return string_sign("h5");
    case Arrival::PullOff:
      return string_sign("p3");
    case Arrival::LegatoSlide: {
      if (note.more->link.from_event < 0) return string_sign("/5");
      const Event& from = teller.song.events[static_cast<std::size_t>(note.more->link.from_event)];
      const Note& before = from.notes[static_cast<std::size_t>(std::max(0, note.more->link.from_note))];
      return string_sign(before.fret > note.fret ? "\\3" : "/5");
    }
    case Arrival::ShiftSlide:
      return "slid to and struck";
    case Arrival::SlideInFromBelow:
      return "slide in from below";
    case Arrival::SlideInFromAbove:
      return "slide in from above";
    case Arrival::Tap:
      return string_sign("t12");
    case Arrival::TapFrettingHand:
      break;
  }
  return string_sign("h5") + " from nowhere";
}

std::string harmonic_words(const Note& note) {
  const std::string touch = note.more->touch ? ", touched at fret " + std::to_string(*note.more->touch) : "";
  switch (note.harmonic) {
    case HarmonicKind::None:
      return {};
    case HarmonicKind::Natural:
      return string_sign("<12>");
    case HarmonicKind::Artificial:
      return string_sign("12<24>") + touch;
    case HarmonicKind::Pinched:
      return string_sign("7<>");
    case HarmonicKind::Tapped:
      return string_sign("12<t24>") + (note.more->touch ? " at fret " + std::to_string(*note.more->touch) : "");
    case HarmonicKind::Touched:
      break;
  }
  return sign_words("notes", "<D5>");
}

/// Where in the bar a share of the event's length lies.
std::string moment_words(const score::Section& section, const Event& event, Fraction share) {
  const score::Bar& bar = section.bars[static_cast<std::size_t>(event.at.bar)];
  const Fraction at = event.at.onset + event.duration * share;
  return at < bar.length ? " on " + beat_words(bar, at) : " in the next bar";
}

/// Stages of a bend, each where it begins unless it follows the one before at once.
std::vector<std::string> bend_words(const score::Section& section, const Event& event, const Note& note) {
  std::vector<std::string> out;
  if (note.more->bend.empty()) return out;
  if (note.prebend) out.push_back(string_sign("15pb17") + " by " + amount_words(note.more->bend.front().semitones));
  Fraction settled(0);
  for (std::size_t i = 1; i < note.more->bend.size(); ++i) {
    const auto& from = note.more->bend[i - 1];
    const auto& to = note.more->bend[i];
    if (from.semitones == to.semitones) continue;
    std::string stage = from.semitones < to.semitones ? "bend up " + amount_words(to.semitones)
                        : to.semitones == Fraction(0) ? "release"
                                                      : "release to " + amount_words(to.semitones);
    if (settled < from.at) stage += moment_words(section, event, from.at);
    settled = to.at;
    out.push_back(std::move(stage));
  }
  return out;
}

/// All that is said of a note behind its string or pitch.
std::vector<std::string> tail_of(const Teller& teller, const score::Section& section, const Event& event,
                                 const Note& note) {
  std::vector<std::string> tail;
  const auto add = [&](std::string words) {
    if (!words.empty()) tail.push_back(std::move(words));
  };
  if (note.string != 0) {
    add(note.dead ? string_sign("x") : note.fret == 0 ? "open" : "fret " + std::to_string(note.fret));
  }
  if (note.finger != 0) add(finger_word(note.finger) + " finger");
  if (note.ghost) add(string_sign("(5)"));
  add(arrival_words(teller, note));
  for (std::string& stage : bend_words(section, event, note)) add(std::move(stage));
  if (note.vibrato != song::Vibrato::None) add(string_sign(note.vibrato == song::Vibrato::Wide ? "7~~" : "7~"));
  if (note.more->trill_fret) {
    add(string_sign("17tr19") + " with fret " + std::to_string(*note.more->trill_fret));
  } else if (note.more->trill_pitch) {
    add(string_sign("17tr19") + " with " + pitch_words(*note.more->trill_pitch));
  }
  add(harmonic_words(note));
  if (note.slide_off != song::SlideOff::None) {
    add(string_sign("7\\") + (note.slide_off == song::SlideOff::Up ? " upwards" : " downwards"));
  }
  return tail;
}

std::string pluck_words(char pluck) {
  switch (pluck) {
    case 'p':
      return "thumb plucks ";
    case 'i':
      return "index plucks ";
    case 'm':
      return "middle plucks ";
    case 'a':
      return "ring plucks ";
    case 'c':
      return "little plucks ";
    case 'T':
      return "thumb slaps ";
    case 'P':
      return "pop ";
    default:
      return {};
  }
}

std::string strings_words(std::vector<int> strings) {
  std::sort(strings.rbegin(), strings.rend());
  if (strings.size() == 1) return "string " + std::to_string(strings.front());
  const bool run = strings.front() - strings.back() + 1 == static_cast<int>(strings.size());
  if (run && strings.size() > 2) {
    return "strings " + std::to_string(strings.front()) + " to " + std::to_string(strings.back());
  }
  std::vector<std::string> words;
  for (const int s : strings) words.push_back(std::to_string(s));
  return "strings " + list_words(words);
}

std::string joined(const std::vector<std::string>& words, const std::string& with) {
  std::string out;
  for (const std::string& word : words) out += (out.empty() ? "" : with) + word;
  return out;
}

/// Notes of an event that are said in one breath: the same hands, the same tail.
struct Group {
  std::string before, tail;
  std::vector<int> strings;
  std::vector<std::string> pitches;
  std::string words() const {
    std::string out = before + (strings.empty() ? joined(pitches, " and ") : strings_words(strings));
    return tail.empty() ? out : out + ", " + tail;
  }
};

template <class Notes>
std::vector<const Note*> low_string_first(const Notes& notes) {
  std::vector<const Note*> out;
  for (const Note& note : notes) out.push_back(&note);
  std::stable_sort(out.begin(), out.end(), [](const Note* a, const Note* b) { return a->string > b->string; });
  return out;
}

template <class Notes>
std::vector<Group> groups_of(const Teller& teller, const score::Section& section, const Event& event,
                             const Notes& notes) {
  std::vector<Group> groups;
  for (const Note* note : low_string_first(notes)) {
    Group one;
    one.before = (note->tied_from ? "still " : "") + pluck_words(note->pluck);
    one.tail = joined(tail_of(teller, section, event, *note), ", ");
    if (note->string != 0) {
      one.strings.push_back(note->string);
    } else {
      one.pitches.push_back(note->dead ? "without pitch" : pitch_words(note->written));
    }
    if (!groups.empty() && groups.back().before == one.before && groups.back().tail == one.tail) {
      groups.back().strings.insert(groups.back().strings.end(), one.strings.begin(), one.strings.end());
      groups.back().pitches.insert(groups.back().pitches.end(), one.pitches.begin(), one.pitches.end());
    } else {
      groups.push_back(std::move(one));
    }
  }
  return groups;
}

std::string into_main(Arrival arrival) {
  switch (arrival) {
    case Arrival::HammerOn:
      return ", then hammer on";
    case Arrival::PullOff:
      return ", then pull off";
    case Arrival::LegatoSlide:
    case Arrival::ShiftSlide:
      return ", then slide";
    default:
      return ", then strike";
  }
}

/// What concerns all notes of an event.
std::vector<std::string> event_tail(const Event& event) {
  std::vector<std::string> tail = accent_words(event.accents);
  if (event.stroke != song::StrokeDirection::None) {
    tail.push_back(sign_words("pick", event.stroke == song::StrokeDirection::Up ? "U" : "D"));
  }
  if (event.rolled) tail.push_back("rolled");
  if (event.brushed) tail.push_back("brushed");
  if (event.tremolo) tail.push_back(string_sign("15="));
  return tail;
}

}  // namespace

std::vector<std::string> accent_words(const song::Accents& accents) {
  std::vector<std::string> out;
  if (accents.accent) out.push_back(string_sign(">5"));
  if (accents.marcato) out.push_back(string_sign("^5"));
  if (accents.staccato) out.push_back(string_sign("5'"));
  if (accents.tenuto) out.push_back(string_sign("5_"));
  if (accents.fermata) out.push_back(string_sign("5@"));
  return out;
}

std::string event_words(const Teller& teller, const score::Section& section, const Event& event) {
  std::vector<std::string> items;
  for (const Group& grace : groups_of(teller, section, event, event.grace->notes)) {
    items.push_back(string_sign("g1h3") + " on " + grace.words() + into_main(event.grace->to_main));
  }
  const std::vector<Group> groups = groups_of(teller, section, event, event.notes);
  for (const Group& group : groups) items.push_back(group.words());
  const std::string tail = joined(event_tail(event), ", ");
  if (tail.empty() || items.empty()) return joined(items, "; ");
  return joined(items, "; ") + (groups.size() == 1 ? ", " : "; all: ") + tail;
}

std::string figure_words(const Event& event) {
  std::string out;
  for (const Note* note : low_string_first(event.notes)) {
    out += (out.empty() ? "" : "; ") + pluck_words(note->pluck) + strings_words({note->string});
  }
  return out + joined(event_tail(event), ", ");
}

bool told_by_shape(const Teller& teller, const Event& event) {
  if (event.shape < 0 || !event.grace->notes.empty()) return false;
  const theory::Shape& shape = teller.song.shapes[static_cast<std::size_t>(event.shape)].shape;
  return std::all_of(event.notes.begin(), event.notes.end(), [&](const Note& note) {
    if (note.string < 1 || note.string > shape.count()) return false;
    const bool plain_note = note.more->link.kind == Arrival::Struck && note.more->bend.empty() && !note.dead &&
                            !note.ghost && !note.tied_from && note.vibrato == song::Vibrato::None &&
                            !note.more->trill_fret && note.harmonic == HarmonicKind::None &&
                            note.slide_off == song::SlideOff::None;
    return plain_note && note.finger == 0 && shape.frets[shape.place_of(note.string)] == note.fret;
  });
}

std::string stroke_words(const Teller& teller, const Event& event) {
  std::string out;
  if (event.muted) out += "muted ";
  if (event.rolled) out += "rolled ";
  if (event.brushed) out += "brushed ";
  if (event.soft) out += string_sign("(5)") + " ";
  out += event.stroke == song::StrokeDirection::Up     ? "up"
         : event.stroke == song::StrokeDirection::Down ? "down"
                                                       : "stroke";
  for (const std::string& accent : accent_words(event.accents)) out += ", " + accent;
  if (event.shape < 0 || event.muted) return out;
  const theory::Shape& shape = teller.song.shapes[static_cast<std::size_t>(event.shape)].shape;
  std::vector<int> struck;
  std::size_t sounding = 0;
  for (const auto& fret : shape.frets) sounding += fret ? 1 : 0;
  for (const Note& note : event.notes) struck.push_back(note.string);
  if (struck.empty() && sounding > 0) return out + ", over strings that do not sound";
  return struck.size() == sounding ? out : out + ", over " + strings_words(struck);
}

std::string drum_stroke_words(const Event& event, const Note& note) {
  std::vector<std::string> out;
  const auto sign = [](std::string_view of) { return sign_words("drums", of); };
  if (note.open) out.push_back("open");
  if (note.half_open) out.push_back(sign("h"));
  if (note.ghost) out.push_back(sign("(x)"));
  if (note.drum_grace == 1) out.push_back(sign("fx"));
  if (note.drum_grace == 2) out.push_back(sign("dx"));
  if (note.drum_grace == 3) out.push_back(sign("rx"));
  if (note.roll_strokes == 1) out.push_back(sign("x/") + " in halves of the note");
  if (note.roll_strokes == 2) out.push_back(sign("x/") + " in quarters of the note");
  if (note.roll_strokes > 2) out.push_back(sign("x/"));
  if (note.buzz) out.push_back(sign("xz"));
  if (note.choke) out.push_back(sign("x!"));
  if (note.hand == 'R') out.push_back(sign("R"));
  if (note.hand == 'L') out.push_back(sign("L"));
  for (std::string& accent : accent_words(event.accents)) out.push_back(std::move(accent));
  return joined(out, ", ");
}

}  // namespace tunesheaf::aloud

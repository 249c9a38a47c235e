// Before the music: how each part is tuned, what shapes the hand holds, how it gets from one to the next.
#include <algorithm>
#include <cmath>
#include <set>

#include "teller.h"
#include "tunesheaf/base/number.h"

namespace tunesheaf::aloud {
namespace {

using theory::Caution;
using theory::FingerMove;
using theory::MoveKind;
using theory::StringRetune;

std::string course_words(const theory::TunedString& string) {
  std::vector<std::string> pitches;
  for (const theory::Pitch& pitch : string.course) pitches.push_back(pitch_words(pitch));
  const bool twice = pitches.size() == 2 && pitches[0] == pitches[1];
  std::string out = twice ? pitches[0] + " twice" : list_words(pitches);
  if (string.start_fret > 0) out += ", beginning at fret " + std::to_string(string.start_fret);
  return out;
}

std::string semitones_words(int n) {
  return counted(std::abs(n), "semitone", "semitones");
}

bool retuned(const score::Part& part) {
  return part.retuning && std::any_of(part.retuning->strings.begin(), part.retuning->strings.end(),
                                      [](const StringRetune& s) { return s.semitones != 0; });
}

std::vector<Sentence> string_list(const score::Part& part) {
  std::vector<Sentence> out;
  const int count = part.tuning.count();
  for (int n = count; n >= 1; --n) {
    std::string text = "String " + std::to_string(n) + ": " + course_words(part.tuning.string(n));
    if (retuned(part)) {
      const StringRetune& way = part.retuning->strings[static_cast<std::size_t>(count - n)];
      text += ", " + base::print_decimal(way.hertz_at_440, 1) + " hertz";
      text += way.semitones == 0 ? ", as usual"
                                 : ", " + semitones_words(way.semitones) + (way.semitones > 0 ? " up" : " down") +
                                       " from " + pitch_words(way.from);
    }
    out.push_back({text + ".", "", ""});
  }
  return out;
}

/// The order that is safest, and what to be careful of.
std::vector<Sentence> retune_advice(const theory::Retuning& retuning) {
  std::vector<std::string> order;
  std::vector<Sentence> out;
  for (const int n : retuning.order) order.push_back("string " + std::to_string(n));
  if (order.size() > 1) out.push_back({"Retune in this order: " + list_words(order) + ".", "", ""});
  bool up = false;
  for (const StringRetune& s : retuning.strings) {
    const std::string name = "String " + std::to_string(s.string);
    up = up || s.semitones > 0;
    if (s.caution == Caution::MayBreak)
      out.push_back({"Caution: " + name + " goes so far up that it can break.", "", ""});
    if (s.caution == Caution::Tight) out.push_back({name + " becomes tighter than usual.", "", ""});
    if (s.caution == Caution::Slack) out.push_back({name + " becomes slack and may buzz.", "", ""});
  }
  if (up) {
    out.push_back(
        {"Caution: a string under more tension can snap. Keep your face away, go up slowly, and ask a "
         "repairer if you are unsure.",
         "", ""});
  }
  return out;
}

std::vector<Sentence> capo_words(const score::Part& part) {
  if (part.capo > 0) {
    return {{"Put the capo on at fret " + std::to_string(part.capo) +
                 ". Frets are counted from the capo, and notes and chords are named as if it were the nut: everything "
                 "sounds " +
                 semitones_words(part.capo) + " higher.",
             "", ""}};
  }
  if (!part.partial_capo) return {};
  std::vector<std::string> strings;
  for (const auto& string : part.partial_capo->strings) strings.push_back(std::to_string(string.value));
  return {{"Put a capo on at fret " + std::to_string(part.partial_capo->fret.value) + " over string" +
               (strings.size() == 1 ? " " : "s ") + list_words(strings) + " only. Frets are counted from the nut.",
           "", ""}};
}

std::string tuning_intro(const score::Part& part) {
  std::string out = part.instrument.name.empty() ? "" : "Instrument: " + part.instrument.name + ". ";
  out += !part.tuning_name.empty() ? "Tuning: " + plain(part.tuning_name)
         : retuned(part)           ? "Another tuning than usual"
                                   : "The usual tuning";
  return out + ", from string " + std::to_string(part.tuning.count()) + " to string 1:";
}

/// Where the part is tuned otherwise within the song, and what to be careful of there.
std::vector<Sentence> retunes_within(const Teller& teller, int part) {
  std::vector<Sentence> out;
  const score::RetunesWithin within = score::retunes_within(teller.song, part);
  for (const auto& [tuned, sections] : within.tunings) {
    std::vector<std::string> names;
    for (const int s : sections) names.push_back(plain(teller.song.sections[static_cast<std::size_t>(s)].name.value));
    out.push_back({"Within the song it is retuned: " + plain(tuned) + " in " + list_words(names) + ".", "", ""});
  }
  if (within.up.empty()) return out;
  std::vector<std::string> strings;
  for (const int string : within.up) strings.push_back("string " + std::to_string(string));
  out.push_back({"Caution: within the song " + list_words(strings) + (strings.size() == 1 ? " goes" : " go") +
                     " up. A string under more tension can snap. Keep your face away, and go up slowly.",
                 "", ""});
  return out;
}

void tell_tuning(Teller& teller, const score::Part& part) {
  teller.subheading(capital(plain(part.name.value)));
  teller.block(BlockKind::Text, {{tuning_intro(part), "", ""}});
  teller.block(BlockKind::List, string_list(part));
  std::vector<Sentence> after = retuned(part) ? retune_advice(*part.retuning) : std::vector<Sentence>{};
  const auto index = static_cast<int>(&part - teller.song.parts.data());
  for (Sentence& sentence : retunes_within(teller, index)) after.push_back(std::move(sentence));
  for (Sentence& sentence : capo_words(part)) after.push_back(std::move(sentence));
  teller.block(BlockKind::Text, std::move(after));
}

/// Parts without strings: the instrument, and how far it sounds from what is named.
std::string other_part(const score::Part& part) {
  const std::string name = plain(part.name.value);
  std::string out = capital(name);
  if (!part.instrument.name.empty() && part.instrument.name != name) out += ": " + part.instrument.name;
  if (!part.stands_in_for.empty()) out += ", standing in for " + plain(part.stands_in_for);
  const int way = part.to_concert.semitones;
  if (way != 0 && part.instrument.family != theory::Family::Drums) {
    out += ". Its notes are named as its player reads them, and sound " + semitones_words(way) +
           (way > 0 ? " higher" : " lower");
  }
  return sentence(out);
}

// ---------------------------------------------------------------- shapes

std::vector<Sentence> shape_strings(const score::ShapeUse& use) {
  std::vector<Sentence> out;
  const theory::Shape& shape = use.shape;
  for (std::size_t i = 0; i < shape.frets.size(); ++i) {
    std::string text = "String " + std::to_string(shape.number_of(i)) + ": ";
    const auto& fret = shape.frets[i];
    text += !fret ? "not played" : *fret == 0 ? "open" : "fret " + std::to_string(*fret);
    const theory::Finger finger = i < shape.fingers.size() ? shape.fingers[i] : theory::Finger::None;
    if (finger != theory::Finger::None) text += ", " + finger_word(static_cast<int>(finger)) + " finger";
    if (i < use.sounding.size() && use.sounding[i]) text += ", sounds " + pitch_words(*use.sounding[i]);
    out.push_back({text + ".", "", ""});
  }
  return out;
}

std::vector<Sentence> shape_intro(const score::ShapeUse& use) {
  std::vector<Sentence> out;
  std::string text = "Shape " + plain(use.name.value) + authority_words(use.from, use.instead_of);
  const std::string name = use.ear_is_claim ? chord_words(use.ear_text)
                           : use.ear        ? chord_words(*use.ear)
                                            : plain(use.ear_text);
  out.push_back({text + ": sounds " + name + ".", "", ""});
  if (!use.tuned.empty()) out.push_back({"So with " + plain(use.tuned) + ".", "", ""});
  if (!use.hand.empty()) out.push_back({"The hand knows it as ", sentence(plain(use.hand)), ""});
  for (const theory::Barre& barre : theory::barres(use.shape)) {
    out.push_back({"The " + finger_word(static_cast<int>(barre.finger)) + " finger lies across strings " +
                       std::to_string(barre.from_string) + " to " + std::to_string(barre.to_string) + " at fret " +
                       std::to_string(barre.fret) + ".",
                   "", ""});
  }
  if (!use.says.empty()) out.push_back({"", sentence(plain(use.says)), ""});
  return out;
}

std::string place_words(const theory::FingerPlace& at) {
  std::string out = at.barre() ? "strings " + std::to_string(at.from_string) + " to " + std::to_string(at.to_string)
                               : "string " + std::to_string(at.from_string);
  return out + ", fret " + std::to_string(at.fret);
}

std::string finger_move_words(const theory::Move& move, const FingerMove& finger) {
  const std::string name = finger_word(static_cast<int>(finger.finger));
  const std::string guide = move.guide == finger.finger ? " and keeps touching" : "";
  switch (finger.kind) {
    case MoveKind::Stays:
    case MoveKind::Lifts:
      return {};  // said together
    case MoveKind::Slides:
      return name + " slides to fret " + std::to_string(finger.to->fret) + guide;
    case MoveKind::Moves:
      return name + " moves to " + place_words(*finger.to) + guide;
    case MoveKind::Added:
      return name + " is added on " + place_words(*finger.to);
    case MoveKind::Flattens:
      return name + " lies flat across " + place_words(*finger.to);
    case MoveKind::Unbarres:
      break;
  }
  return name + " lifts to its tip on " + place_words(*finger.to);
}

/// What stays and what lifts, each in one phrase: these need no place.
std::vector<std::string> shared_moves(const theory::Move& move) {
  std::vector<std::string> stay, lift, out;
  for (const FingerMove& finger : move.fingers) {
    if (finger.kind == MoveKind::Stays) stay.push_back(finger_word(static_cast<int>(finger.finger)));
    if (finger.kind == MoveKind::Lifts) lift.push_back(finger_word(static_cast<int>(finger.finger)));
  }
  if (!stay.empty()) out.push_back(list_words(stay) + (stay.size() == 1 ? " stays" : " stay"));
  if (!lift.empty()) out.push_back(list_words(lift) + (lift.size() == 1 ? " lifts" : " lift"));
  return out;
}

std::string move_words(const Teller& teller, const score::MoveUse& use) {
  const auto name = [&](int shape) { return plain(teller.song.shapes[static_cast<std::size_t>(shape)].name.value); };
  std::string out = "From " + name(use.from) + " to " + name(use.to);
  if (use.count > 1) out += use.count == 2 ? ", twice" : ", " + number_word(use.count) + " times";
  std::vector<std::string> ways = shared_moves(use.move);
  for (const FingerMove& finger : use.move.fingers) {
    if (finger.kind != MoveKind::Stays && finger.kind != MoveKind::Lifts) {
      ways.push_back(finger_move_words(use.move, finger));
    }
  }
  std::string text;
  for (const std::string& way : ways) text += (text.empty() ? "" : "; ") + way;
  return out + ": " + (text.empty() ? "nothing moves" : text) + ".";
}

void tell_moves(Teller& teller, const std::set<int>& wanted) {
  std::vector<Sentence> out;
  for (const score::MoveUse& use : teller.song.moves) {
    if (wanted.count(use.from) > 0 && wanted.count(use.to) > 0) out.push_back({move_words(teller, use), "", ""});
  }
  if (out.empty()) return;
  teller.subheading("From shape to shape");
  teller.block(BlockKind::List, std::move(out));
}

}  // namespace

void tell_tunings(Teller& teller) {
  std::vector<const score::Part*> strung;
  std::vector<Sentence> others;
  for (std::size_t p = 0; p < teller.song.parts.size(); ++p) {
    if (!teller.wants_part(static_cast<int>(p))) continue;
    const score::Part& part = teller.song.parts[p];
    if (part.tuning.count() > 0) {
      strung.push_back(&part);
    } else {
      others.push_back({other_part(part), "", ""});
    }
  }
  if (strung.empty() && others.empty()) return;
  teller.heading(strung.empty() ? "Parts" : "Tuning");
  for (const score::Part* part : strung) tell_tuning(teller, *part);
  if (!strung.empty() && !others.empty()) teller.subheading(others.size() == 1 ? "The other part" : "The other parts");
  teller.block(BlockKind::List, std::move(others));
}

std::vector<int> shapes_wanted(const Teller& teller) {
  std::set<int> wanted;
  for (std::size_t s = 0; s < teller.song.sections.size(); ++s) {
    if (!teller.wants_section(static_cast<int>(s))) continue;
    const score::Section& section = teller.song.sections[s];
    const auto in = [&](const score::Place& at) {
      const auto bar = static_cast<std::size_t>(at.bar);
      return bar < section.bars.size() && teller.wants_bar(section.bars[bar]);
    };
    for (const score::Harmony& h : section.harmony) {
      if (h.shape >= 0 && h.part >= 0 && teller.wants_part(h.part) && in(h.at)) wanted.insert(h.shape);
    }
    for (std::size_t p = 0; p < section.parts.size(); ++p) {
      if (!teller.wants_part(static_cast<int>(p))) continue;
      for (const score::Voice& voice : section.parts[p].voices) {
        for (const auto& bar : voice.bars) {
          for (const score::Segment& segment : bar) {
            if (segment.event < 0) continue;
            const score::Event& event = teller.song.events[static_cast<std::size_t>(segment.event)];
            if (event.shape >= 0 && in(event.at)) wanted.insert(event.shape);
          }
        }
      }
    }
  }
  return {wanted.begin(), wanted.end()};
}

void tell_shapes(Teller& teller) {
  const std::vector<int> shapes = shapes_wanted(teller);
  if (shapes.empty()) return;
  teller.heading("Shapes");
  for (const int index : shapes) {
    const score::ShapeUse& use = teller.song.shapes[static_cast<std::size_t>(index)];
    teller.block(BlockKind::Text, shape_intro(use));
    teller.block(BlockKind::List, shape_strings(use));
  }
  tell_moves(teller, {shapes.begin(), shapes.end()});
}

}  // namespace tunesheaf::aloud

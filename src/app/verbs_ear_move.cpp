// `move`: the way from one shape to the next, finger by finger.
#include <ostream>

#include "json_ear.h"
#include "reading_ear.h"
#include "verbs.h"
#include "words_ear.h"

namespace tunesheaf::app {
namespace {

using theory::FingerMove;
using theory::Move;
using theory::MoveKind;

constexpr const char* kFormula =
    "Points: 2 for each finger added; 3 for each that moves to another string, and a half for each string and fret "
    "on the way; 2 for each slide, and a half for each fret; 1 for each finger lifted; 2 for each further string a "
    "finger newly lies across; 1 for a barre given up; less 1 for each finger that stays while others work, and 1 for "
    "a guide finger. A hand that keeps its form and goes the same way with all fingers counts as one finger.";

std::string kind_name(MoveKind kind) {
  switch (kind) {
    case MoveKind::Stays:
      return "stays";
    case MoveKind::Lifts:
      return "lifts";
    case MoveKind::Moves:
      return "moves";
    case MoveKind::Slides:
      return "slides";
    case MoveKind::Added:
      return "added";
    case MoveKind::Flattens:
      return "flattens";
    case MoveKind::Unbarres:
      return "rises";
  }
  return {};
}

/// The shape with the fingers that are used for it; nothing when no hand can hold it.
std::optional<theory::Shape> fingered(theory::Shape shape, const theory::Neck& neck) {
  if (!shape.fingers.empty()) return shape;
  const auto fingering = theory::finger_shape(shape, neck);
  if (!fingering) return std::nullopt;
  shape.fingers = fingering->fingers;
  return shape;
}

std::string shape_line(const char* word, const theory::Shape& shape, const Held& held) {
  const theory::Ear ear = theory::hear(held.tuning, held.capo, shape, {});
  return std::string(word) + theory::print_frets(shape) + "  fingers " + theory::print_fingers(shape) + "  " +
         (ear.names.empty() ? "no common name" : theory::print(ear.names.front().name, kSigns)) + "\n";
}

std::string people(const theory::Shape& from, const theory::Shape& to, const Move& move, const Held& held) {
  std::string out = "On " + held.name + ", " + held.tuning_words + "\n";
  out += shape_line("  from  ", from, held) + shape_line("  to    ", to, held) + "\n";
  Table table({Side::Left, Side::Left, Side::Left});
  for (const FingerMove& finger : move.fingers) {
    const bool guide = move.guide == finger.finger;
    table.row({std::string(1, theory::finger_sign(finger.finger)), finger_words(finger.finger),
               deed_words(finger) + (guide ? " (guide finger)" : "")});
  }
  out += move.fingers.empty() ? std::string("  No finger is down in either shape.\n") : table.text();
  out += "\n";
  if (move.guide) {
    out += "Guide finger: the " + finger_words(*move.guide) + "; it keeps to its string and leads the hand.\n";
  }
  if (!move.strings_opened.empty()) out += "Now played: " + strings_listed(move.strings_opened) + ".\n";
  if (!move.strings_silenced.empty()) out += "No longer played: " + strings_listed(move.strings_silenced) + ".\n";
  out += "Difficulty: " + points(move.difficulty) + (move.difficulty == 2 ? " point.\n" : " points.\n");
  return out + folded(kFormula, 2) + "\n";
}

Json as_json(const theory::Shape& from, const theory::Shape& to, const Move& move) {
  Json out{{"from", {{"frets", theory::print_frets(from)}, {"fingers", theory::print_fingers(from)}}},
           {"to", {{"frets", theory::print_frets(to)}, {"fingers", theory::print_fingers(to)}}}};
  out["fingers"] = Json::array();
  for (const FingerMove& finger : move.fingers) {
    Json one{{"finger", std::string(1, theory::finger_sign(finger.finger))}, {"does", kind_name(finger.kind)}};
    if (finger.from) one["from"] = json_of(*finger.from);
    if (finger.to) one["to"] = json_of(*finger.to);
    one["words"] = deed_words(finger);
    out["fingers"].push_back(one);
  }
  out["guide"] = move.guide ? Json(std::string(1, theory::finger_sign(*move.guide))) : Json(nullptr);
  out["strings_opened"] = move.strings_opened;
  out["strings_silenced"] = move.strings_silenced;
  out["difficulty"] = move.difficulty / 2.0;
  out["formula"] = kFormula;
  return out;
}

}  // namespace

int run_move(const CommandLine& line, const Console& console) {
  const auto held = read_held(line);
  if (!held) return say_usage(console, held.error());
  std::vector<theory::Shape> shapes;
  for (const std::string& text : line.operands) {
    const auto shape = read_shape(text, "", *held);
    if (!shape) return say_usage(console, "\"" + text + "\": " + shape.error().text);
    const auto with_fingers = fingered(*shape, held->neck);
    if (!with_fingers) {
      return say_usage(console, "no hand is likely to hold \"" + text +
                                    "\"; look for a misread fret, leave a string out, or give the fingers behind a "
                                    "stroke: \"x 3 2 0 1 0 / . 3 2 . 1 .\"");
    }
    shapes.push_back(*with_fingers);
  }
  const auto move = theory::move_between(shapes[0], shapes[1], held->neck);
  if (!move) return say_usage(console, "no hand is likely to hold one of these shapes");
  console.out << (wants_json(line) ? as_json(shapes[0], shapes[1], *move).dump(2) + "\n"
                                   : people(shapes[0], shapes[1], *move, *held));
  return kDone;
}

}  // namespace tunesheaf::app

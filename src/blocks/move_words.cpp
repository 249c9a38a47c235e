#include "tunesheaf/blocks/move_words.h"

#include <algorithm>

#include "tunesheaf/blocks/words.h"

namespace tunesheaf::blocks {
namespace {

using theory::FingerMove;
using theory::MoveKind;

std::string figure(theory::Finger finger) {
  return std::string(1, theory::finger_sign(finger));
}

std::string strings(const theory::FingerPlace& at) {
  if (!at.barre()) return "string\u00a0" + std::to_string(at.from_string);
  return "strings\u00a0" + std::to_string(at.from_string) + "\u00a0to\u00a0" + std::to_string(at.to_string);
}

std::string place(const theory::FingerPlace& at) {
  return strings(at) + ", fret\u00a0" + std::to_string(at.fret);
}

/// A finger that leaves a barre stands up on its tip, and one that takes a barre lies down, wherever it goes.
std::string slide(const FingerMove& finger) {
  const std::string fret = "fret\u00a0" + std::to_string(finger.to->fret);
  const bool from = finger.from->barre(), to = finger.to->barre();
  if (from && !to) return " lifts to its tip and slides to " + place(*finger.to);
  if (!from && to) return " slides to " + fret + " and lies across " + strings(*finger.to);
  const bool other =
      from && (finger.from->from_string != finger.to->from_string || finger.from->to_string != finger.to->to_string);
  return " slides to " + fret + (other ? ", across " + strings(*finger.to) : std::string());
}

std::string step(const FingerMove& finger) {
  const bool from = finger.from && finger.from->barre(), to = finger.to->barre();
  if (from && !to) return " lifts to its tip and goes to " + place(*finger.to);
  if (!from && to) return " goes to lie across " + place(*finger.to);
  return " to " + place(*finger.to);
}

std::vector<std::string> fingers_that(const theory::Move& move, MoveKind kind) {
  std::vector<std::string> out;
  for (const FingerMove& finger : move.fingers) {
    if (finger.kind == kind) out.push_back(figure(finger.finger));
  }
  return out;
}

/// What stays or lifts needs no place: the fingers share a line.
void add_shared(std::vector<std::string>& lines, const theory::Move& move, MoveKind kind, const char* one,
                const char* many) {
  const auto fingers = fingers_that(move, kind);
  if (fingers.size() > 2 && fingers.size() == move.fingers.size()) {
    lines.push_back("all" + std::string(many));
    return;
  }
  if (!fingers.empty()) lines.push_back(list_words(fingers) + (fingers.size() == 1 ? one : many));
}

std::string line_of(const theory::Move& move, const FingerMove& finger) {
  const std::string name = figure(finger.finger);
  const std::string guide = move.guide == finger.finger ? " (keeps touching: guide)" : "";
  switch (finger.kind) {
    case MoveKind::Slides:
      return name + slide(finger) + guide;
    case MoveKind::Moves:
      return name + step(finger) + guide;
    case MoveKind::Added:
      return name + " added: " + place(*finger.to);
    case MoveKind::Flattens:
      return name + " lies across " + place(*finger.to);
    case MoveKind::Unbarres:
      return name + (finger.to->barre() ? " shortens its barre: " : " lifts to its tip: ") + place(*finger.to);
    case MoveKind::Stays:
    case MoveKind::Lifts:
      break;
  }
  return {};
}

}  // namespace

std::vector<std::string> move_words(const theory::Move& move) {
  std::vector<std::string> lines;
  add_shared(lines, move, MoveKind::Stays, " stays", " stay");
  add_shared(lines, move, MoveKind::Lifts, " lifts", " lift");
  // In the order in which a hand is counted: by the finger, not by what it does.
  std::vector<FingerMove> fingers = move.fingers;
  std::stable_sort(fingers.begin(), fingers.end(),
                   [](const FingerMove& a, const FingerMove& b) { return figure(a.finger) < figure(b.finger); });
  for (const FingerMove& finger : fingers) {
    if (std::string line = line_of(move, finger); !line.empty()) lines.push_back(std::move(line));
  }
  if (lines.empty()) lines.push_back("nothing moves");
  return lines;
}

}  // namespace tunesheaf::blocks

// What the picking hand is asked to do at one moment: tap and pluck, the same finger twice, a stroke where nothing is
// struck, more fingers than notes.
#include <algorithm>
#include <map>

#include "playing.h"

namespace tunesheaf::check {
namespace {

using song::Arrival;
using song::LaneKind;
using song::PitchSign;
using song::PluckSign;
using song::StringSign;

using Cells = std::vector<PlayedCell>::const_iterator;

std::string finger_word(char finger) {
  switch (finger) {
    case 'p':
      return "the thumb (p)";
    case 'i':
      return "the index finger (i)";
    case 'm':
      return "the middle finger (m)";
    case 'a':
      return "the ring finger (a)";
    case 'c':
      return "the little finger (c)";
    default:
      return std::string("the finger ") + finger;
  }
}

/// What begins at one moment.
struct Attack {
  int notes = 0, stopped = 0;  ///< strings or pitches; -1 where a whole shape is struck
  int arrived = 0;             ///< of the notes: those that the picking hand does not strike
  bool struck = false;         ///< by the picking hand
  std::string otherwise;       ///< "hammered", when nothing is struck
};

std::string arrived(const StringSign& sign) {
  if (sign.tied) return "held over";
  if (!sign.grace.empty()) return {};
  if (sign.arrival == Arrival::HammerOn) return "hammered";
  if (sign.arrival == Arrival::PullOff) return "pulled off";
  if (sign.arrival == Arrival::Tap) return "tapped";
  return {};
}

class PickingHand {
 public:
  PickingHand(Context& context, const Playing& playing, Said& said)
      : context_(context), playing_(playing), said_(said) {}

  void run() {
    for_each_moment(playing_.cells, [&](Cells begin, Cells end) {
      taps(begin, end);
      fingers(begin, end);
    });
    for (const PlayedCell& cell : playing_.cells)
      if (const auto* strum = cell.sign<song::StrumSign>()) muted_ends(cell, *strum);
    strokes();
    single_line();
  }

 private:
  void taps(Cells begin, Cells end) {
    const PlayedCell *tap = nullptr, *other = nullptr;
    for (Cells it = begin; it != end; ++it) {
      const auto* sign = it->sign<StringSign>();
      if (it->sign<song::StrumSign>() || it->sign<PluckSign>()) other = &*it;
      if (!sign || sign->continues || sign->tied) continue;
      if (sign->arrival == Arrival::Tap) tap = &*it;
      if (sign->arrival == Arrival::Struck && !sign->slides_to_next) other = &*it;
    }
    if (!tap || !other || !said_.insert({tap->cell->cell, "tap"}).second) return;
    context_.say_both(Kind::HandBusy, tap->span(), "tapped", other->span(), "struck",
                      "the picking hand is to tap " + context_.words(tap->span()) + " and to strike " +
                          context_.words(other->span()) + " at once",
                      "t is a tap of the picking hand, which has left the strings to reach the neck",
                      "write the other note with h, hammered by the fretting hand, or let one come after the other");
  }

  void fingers(Cells begin, Cells end) {
    std::map<char, const PlayedCell*> used;
    for (Cells it = begin; it != end; ++it) {
      const auto* sign = it->sign<PluckSign>();
      if (!sign || !on_strings(it->lane->kind)) continue;
      for (const char finger : sign->fingers) {
        const auto [at, fresh] = used.try_emplace(finger, &*it);
        if (fresh) continue;
        // The thumb brushes over two strings that lie side by side.
        const int apart = std::abs(at->second->cell->string - it->cell->string);
        if (apart == 0 || (finger == 'p' && apart == 1)) continue;
        if (!said_.insert({it->cell->cell, "finger"}).second) continue;
        context_.say_both(Kind::HandBusy, it->span(), "here", at->second->span(), "and here",
                          finger_word(finger) + " is to pluck string " + std::to_string(at->second->cell->string) +
                              " and string " + std::to_string(it->cell->string) + " at once",
                          "a finger plucks one string at a time",
                          "give one of the notes another finger, or o for none");
      }
    }
  }

  /// A stroke over some strings names its first and last: both should sound.
  void muted_ends(const PlayedCell& cell, const song::StrumSign& strum) {
    const int index = playing_.music.shape_at(cell.cell->bar, cell.cell->onset);
    if (index < 0 || strum.muted) return;
    const CheckedShape& held = context_.data.shapes[static_cast<std::size_t>(index)];
    for (const auto& string : {strum.from_string, strum.to_string}) {
      if (!string || *string < 1 || *string > held.shape.count()) continue;
      const std::size_t place = held.shape.place_of(*string);
      if (held.shape.frets[place] || place >= held.def->frets.size()) continue;
      if (!said_.insert({&held, "strum " + std::to_string(*string)}).second) continue;
      context_.say_both(Kind::MutedString, cell.span(), "struck", held.def->frets[place].span, "not played",
                        "the stroke " + context_.words(cell.span()) + " names string " + std::to_string(*string) +
                            ", which the shape " + diag::quoted(held.def->name.value) + " does not play",
                        "a stroke names the strings it sounds", "name strings that the shape lets sound");
    }
  }

  Attack attack_at(Moment at) const {
    const auto less = [](const PlayedCell& cell, const Moment& place) { return cell.at() < place; };
    Attack attack;
    for (auto it = std::lower_bound(playing_.cells.begin(), playing_.cells.end(), at, less);
         it != playing_.cells.end() && it->at() == at; ++it)
      add(*it, attack);
    return attack;
  }

  static void add(const PlayedCell& cell, Attack& attack) {
    if (cell.silence()) return;
    if (const auto* sign = cell.sign<StringSign>()) {
      if (sign->continues) return;
      if (attack.notes >= 0) ++attack.notes;
      if (sign->dead || sign->fret.value_or(0) > 0) ++attack.stopped;
      const std::string how = arrived(*sign);
      if (how.empty()) attack.struck = true;
      if (!how.empty()) {
        attack.otherwise = how;
        ++attack.arrived;
      }
    } else if (const auto* pitch = cell.sign<PitchSign>()) {
      const int count = std::max(1, static_cast<int>(pitch->pitches.size()));
      if (attack.notes >= 0) attack.notes += count;
      attack.stopped += count;
      if (pitch->tied) attack.otherwise = "held over";
      if (!pitch->tied) attack.struck = true;
    } else {
      attack.notes = -1;
      attack.struck = true;
    }
  }

  void strokes() {
    for (const PlacedLane& lane : playing_.music.lanes) {
      const bool stroke = lane.kind == LaneKind::Pick || lane.kind == LaneKind::Pluck || lane.kind == LaneKind::Bow;
      if (lane.from_pattern || !(stroke || lane.kind == LaneKind::Finger)) continue;
      for (const PlacedCell& cell : lane.cells) {
        if (std::holds_alternative<song::SilenceCell>(cell.cell->content)) continue;
        const Attack attack = attack_at({cell.bar, cell.onset});
        if (stroke && !attack.struck && !attack.otherwise.empty()) {
          context_.say(Kind::NothingToMark, cell.cell->span,
                       "the note under " + context_.words(cell.cell->span) + " of the lane " + diag::quoted(lane.name) +
                           " is " + attack.otherwise + ", not struck",
                       "this lane marks strokes, and such a note has none", "take the sign away, or strike the note");
          continue;
        }
        count(lane, cell, attack);
      }
    }
  }

  /// One sign stands for all notes, several for one note each.
  void count(const PlacedLane& lane, const PlacedCell& cell, const Attack& attack) {
    std::size_t fingers = 0;
    if (const auto* pluck = std::get_if<PluckSign>(&cell.cell->content)) fingers = pluck->fingers.size();
    const auto* finger = std::get_if<song::FingerSign>(&cell.cell->content);
    if (finger) fingers = finger->fingers.size();
    const int notes = finger ? attack.stopped : attack.notes - attack.arrived;
    if (attack.notes <= 0 || fingers == 0) return;
    if (finger && notes == 0) {
      context_.say(Kind::NothingToMark, cell.cell->span,
                   "the lane `finger` says " + context_.words(cell.cell->span) + " where only open strings sound",
                   "an open string needs no finger", "take the finger away, or mend the fret");
    } else if (fingers > static_cast<std::size_t>(notes)) {
      context_.say(Kind::NothingToMark, cell.cell->span,
                   context_.words(cell.cell->span) + " in the lane " + diag::quoted(lane.name) + " names " +
                       std::to_string(fingers) + " fingers, and " + std::to_string(notes) +
                       (finger               ? " stopped"
                        : attack.arrived > 0 ? " struck"
                                             : "") +
                       (notes == 1 ? " note begins" : " notes begin") + " there",
                   "each finger is for one note, from the lowest up", "name as many fingers as there are notes");
    }
  }

  /// In the lanes `string` and `fret` the note before a hammer-on stands on the same string.
  void single_line() {
    const PlacedCell* before = nullptr;
    for (const PlacedLane& lane : playing_.music.lanes) {
      if (lane.kind != LaneKind::FretOf) continue;
      for (const PlacedCell& cell : lane.cells) {
        const auto* sign = std::get_if<StringSign>(&cell.cell->content);
        if (sign && before && before->string != cell.string && sign->grace.empty() &&
            sign->arrival == Arrival::HammerOn)
          context_.say_both(Kind::LegatoAcrossStrings, cell.cell->span, "on string " + std::to_string(cell.string),
                            before->cell->span, "on string " + std::to_string(before->string),
                            "this hammer-on is on string " + std::to_string(cell.string) +
                                ", and the note before it on string " + std::to_string(before->string),
                            "a hammer-on goes on from a note on its own string",
                            "strike the note, or keep the line on one string");
        before = sign ? &cell : nullptr;
      }
    }
  }

  Context& context_;
  const Playing& playing_;
  Said& said_;
};

}  // namespace

void judge_picking_hand(Context& context, const Playing& playing, Said& said) {
  if (playing.part.strings() > 0) PickingHand(context, playing, said).run();
}

}  // namespace tunesheaf::check

// Drums: what each can do, whether it belongs to the instrument, and whether two hands and two feet are enough. Common
// practice of the drum kit: the kick and the hi-hat's pedal are the feet's, everything else the hands'; a flam takes
// both hands. Percussion of no stated kind may have several players and is not counted.
#include <algorithm>
#include <array>

#include "playing.h"

namespace tunesheaf::check {
namespace {

using song::DrumSign;
using song::LaneKind;
using Cells = std::vector<PlayedCell>::const_iterator;

constexpr std::string_view kFeet = "|kick|kick 2|hat foot|stomp|";
constexpr std::string_view kCymbals = "|hat|hat open|hat half|ride|ride bell|crash|crash 2|splash|china|triangle|";
/// Sounds that are short whatever the player does: an open stroke on them is no other stroke.
constexpr std::string_view kNeverOpen =
    "|kick|kick 2|snare|cross-stick|rim|hat half|high tom|mid tom|low tom|floor tom|tom 1|tom 2|tom 3|tom 4|wood block|"
    "shaker|maracas|claves|guiro|claps|snaps|stomp|muffled|heel|toe|tap|ghost|slap|";
constexpr std::string_view kNoFlam = "|hat foot|stomp|shaker|maracas|guiro|snaps|claps|";
constexpr std::string_view kHandDrums =
    "|bass|slap|tone|open|muffled|heel|toe|tap|ghost|doum|tek|ka|conga|high conga|low conga|high bongo|low bongo|hand "
    "drum|";

struct Kit {
  std::string_view instrument, lanes;
};
constexpr std::array kKits{
    Kit{"cajon", "|bass|slap|tone|open|muffled|heel|toe|tap|ghost|snare|tambourine|shaker|stomp|claps|snaps|"},
    Kit{"congas", "|conga|high conga|low conga|bass|slap|tone|open|muffled|heel|toe|tap|ghost|cowbell|shaker|"},
    Kit{"bongos", "|high bongo|low bongo|bass|slap|tone|open|muffled|heel|toe|tap|ghost|"},
    Kit{"djembe", "|hand drum|bass|slap|tone|open|muffled|heel|toe|tap|ghost|doum|tek|ka|"},
    Kit{"hand drum", "|hand drum|bass|slap|tone|open|muffled|heel|toe|tap|ghost|doum|tek|ka|rim|"},
    Kit{"tambourine", "|tambourine|slap|tap|"},
    Kit{"shaker", "|shaker|maracas|"},
};

bool belongs(const std::string& instrument, const std::string& lane) {
  if (instrument == "drum kit") return !among(kHandDrums, lane);
  for (const Kit& kit : kKits)
    if (kit.instrument == instrument) return among(kit.lanes, lane);
  return true;
}

std::string lanes_of(const std::string& instrument) {
  for (const Kit& kit : kKits) {
    if (kit.instrument != instrument) continue;
    std::string out;
    for (const char c : kit.lanes.substr(1, kit.lanes.size() - 2))
      out += c == '|' ? std::string(", ") : std::string(1, c);
    return out;
  }
  return "kick, snare, hat, ride, crash, toms and what is hung beside them";
}

class Drummer {
 public:
  Drummer(Context& context, const Playing& playing, Said& said)
      : context_(context), playing_(playing), said_(said), kit_(playing.part.instrument.name) {}

  void run() {
    for (const PlacedLane& lane : playing_.music.lanes) {
      if (lane.kind != LaneKind::Kit || lane.cells.empty()) continue;
      member(lane);
      for (const PlacedCell& cell : lane.cells)
        if (const auto* sign = std::get_if<DrumSign>(&cell.cell->content)) stroke(lane.subject, cell, *sign);
    }
    for_each_moment(playing_.cells, [&](Cells begin, Cells end) {
      if (std::distance(begin, end) < 2) return;
      if (kit_ != "percussion") limbs(begin, end);
      sticking(begin, end);
      hat(begin, end);
    });
  }

 private:
  void member(const PlacedLane& lane) {
    if (belongs(kit_, lane.subject) || !said_.insert({&playing_.part, "lane " + lane.subject}).second) return;
    context_.say_both(Kind::NotInKit, lane.cells.front().cell->span, "the lane " + diag::quoted(lane.name),
                      playing_.part.def->instrument.span, "the instrument",
                      "the lane " + diag::quoted(lane.name) + " is no part of " +
                          diag::quoted(playing_.part.def->name.value) + ", " + with_article(kit_),
                      with_article(kit_) + " has the lanes " + lanes_of(kit_),
                      "write it in a part of its own, or call the instrument `percussion`");
  }

  void stroke(const std::string& drum, const PlacedCell& cell, const DrumSign& sign) {
    const auto say = [&](const std::string& what, const std::string& rule, const std::string& remedy) {
      if (!said_.insert({&playing_.part, what + drum}).second) return;  // a habit of the writer: once for the lane
      context_.say(Kind::DrumCannot, cell.cell->span, what + " on the " + drum, rule, remedy);
    };
    if (sign.open && among(kNeverOpen, drum))
      return say("an open stroke (o)", "o is a stroke left to ring: open hi-hat, cymbals, hand drums, triangle",
                 "write x for a stroke");
    if (sign.half_open && drum != "hat")
      return say("a half-open stroke (h)", "only the hi-hat stands half open", "write x, or move it to the hat");
    if (sign.choke && !among(kCymbals, drum))
      return say("a choke (!)", "a cymbal is choked: struck and damped by hand at once",
                 "take the ! away, or move it to a cymbal");
    if (sign.grace > 0 && among(kNoFlam, drum))
      return say("a flam, drag or ruff", "grace strokes take two sticks or hands on one drum",
                 "write one stroke, or move it to a drum that is struck with sticks");
    if (sign.hand != 0 && (drum == "hat foot" || drum == "stomp"))
      return say(std::string("the hand ") + sign.hand, "R and L are hands (or the two feet on the kick)",
                 "write x: this lane is a foot's");
  }

  static int hands(const PlayedCell& cell) {
    if (among(kFeet, cell.lane->subject)) return 0;
    return cell.sign<DrumSign>()->grace > 0 || cell.lane->subject == "claps" ? 2 : 1;
  }

  void limbs(Cells begin, Cells end) {
    int hand_count = 0, foot_count = 0;
    std::string what;
    const PlayedCell *first = nullptr, *last = nullptr;
    for (Cells it = begin; it != end; ++it) {
      if (!it->sign<DrumSign>()) continue;
      hand_count += hands(*it);
      foot_count += among(kFeet, it->lane->subject) ? 1 : 0;
      what += (what.empty() ? "" : ", ") + it->lane->subject;
      if (!first) first = &*it;
      last = &*it;
    }
    const bool many_hands = hand_count > 2;
    if ((!many_hands && foot_count <= 2) || !said_.insert({&playing_.part, "limbs " + what}).second) return;
    context_.say_both(
        Kind::TooManyLimbs, last->span(), "", first->span(), "at the same time",
        "these strokes at once (" + what + ") take " + std::to_string(many_hands ? hand_count : foot_count) +
            (many_hands ? " hands" : " feet"),
        "a drummer has two hands and two feet; the kick and the hi-hat's pedal are the feet's, a flam and "
        "claps take both hands",
        "leave one of them out, or give it to a part of its own");
  }

  void sticking(Cells begin, Cells end) {
    for (const char hand : {'R', 'L'}) {
      const PlayedCell* first = nullptr;
      for (Cells it = begin; it != end; ++it) {
        const auto* sign = it->sign<DrumSign>();
        if (!sign || sign->hand != hand || among(kFeet, it->lane->subject)) continue;
        if (!first) {
          first = &*it;
          continue;
        }
        context_.say_both(Kind::SameHandTwice, it->span(), "here", first->span(), "and here",
                          std::string("the ") + (hand == 'R' ? "right" : "left") + " hand is to strike the " +
                              first->lane->subject + " and the " + it->lane->subject + " at once",
                          "R and L say which hand strikes, and a hand strikes one thing at a time",
                          std::string("give one of the strokes to the other hand: ") + (hand == 'R' ? "L" : "R"));
      }
    }
  }

  /// The hi-hat is open or closed, not both.
  void hat(Cells begin, Cells end) {
    const PlayedCell *open = nullptr, *closed = nullptr;
    for (Cells it = begin; it != end; ++it) {
      const auto* sign = it->sign<DrumSign>();
      if (!sign) continue;
      const std::string& drum = it->lane->subject;
      const bool rings = drum == "hat open" || drum == "hat half" || (drum == "hat" && (sign->open || sign->half_open));
      if (rings) open = &*it;
      if ((drum == "hat" && !rings) || drum == "hat foot") closed = &*it;
    }
    if (!open || !closed || !said_.insert({&playing_.part, "hat " + closed->lane->subject}).second) return;
    context_.say_both(Kind::MarksContradict, closed->span(), "closed", open->span(), "open",
                      "the hi-hat is struck open and closed at once",
                      "it is one pair of cymbals; the foot that closes it cannot leave it open",
                      "write one of the two, or let the foot come after");
  }

  Context& context_;
  const Playing& playing_;
  Said& said_;
  const std::string& kit_;
};

}  // namespace

void judge_drums(Context& context, const Playing& playing, Said& said) {
  if (playing.part.drums()) Drummer(context, playing, said).run();
}

}  // namespace tunesheaf::check

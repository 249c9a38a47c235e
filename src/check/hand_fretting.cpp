// Notes that are stopped at the same time, whether they begin together or one is still held: the hand that would have
// to reach them all. A note is held to the next onset of its own voice, as it is written; fingers and thumb are two
// voices.
#include <algorithm>
#include <map>

#include "playing.h"
#include "tunesheaf/theory/fingering.h"

namespace tunesheaf::check {
namespace {

using song::Arrival;
using song::StringSign;

struct Held {
  int fret = 0;  ///< 0: open, or nothing to hold down
  Span span{};
  Moment since{};
  int finger = 0;  ///< stated: 1 to 4; 0 not, or the thumb
  Span finger_span{};
};
using Voice = std::map<int, Held>;  ///< by string

class FrettingHand {
 public:
  FrettingHand(Context& context, const Playing& playing, Said& said)
      : context_(context), playing_(playing), part_(playing.part), said_(said) {
    base_ = part_.capo.full() ? part_.capo.fret : 0;
    for (const PlacedLane& lane : playing.music.lanes) {
      if (lane.kind != song::LaneKind::Finger || lane.from_pattern) continue;
      for (const PlacedCell& cell : lane.cells)
        if (std::holds_alternative<song::FingerSign>(cell.cell->content)) stated_[{cell.bar, cell.onset}] = cell.cell;
    }
  }

  void run() {
    int ending = -1;
    for_each_moment(playing_.cells, [&](auto begin, auto end) {
      const int now = playing_.section.bars[static_cast<std::size_t>(begin->cell->bar)].ending;
      if (now != ending) upper_.clear(), lower_.clear();
      ending = now;
      for (auto it = begin; it != end; ++it) release(*it);
      bool fresh = false;
      for (auto it = begin; it != end; ++it) fresh = take(*it) || fresh;
      if (fresh) name_fingers(begin->at());
      if (fresh) judge(begin->at());
    });
  }

 private:
  Voice& voice(const PlayedCell& cell) { return cell.lane->lower ? lower_ : upper_; }

  static bool attack(const StringSign& sign) { return !sign.continues && !sign.tied; }

  /// A new note ends what its voice held; a silence ends its own string.
  void release(const PlayedCell& cell) {
    if (cell.silence()) {
      voice(cell).erase(cell.cell->string);
      return;
    }
    const auto* sign = cell.sign<StringSign>();
    if (!on_strings(cell.lane->kind)) {
      voice(cell).clear();
    } else if (!sign || attack(*sign)) {
      for (auto it = voice(cell).begin(); it != voice(cell).end();)
        it = it->second.since != cell.at() ? voice(cell).erase(it) : std::next(it);
    }
  }

  bool take(const PlayedCell& cell) {
    const auto* sign = cell.sign<StringSign>();
    if (!sign || !on_strings(cell.lane->kind) || sign->continues || sign->dead || !sign->fret) return false;
    const int string = cell.cell->string;
    if (string < 1 || string > part_.strings()) return false;
    const bool light = sign->harmonic == song::HarmonicKind::Natural || sign->arrival == Arrival::Tap;
    other_voice(cell, string);
    voice(cell)[string] = {light ? 0 : *sign->fret, cell.span(), cell.at()};
    return *sign->fret > 0 && !light;
  }

  /// The thumb takes a string on which the fingers still hold a note, or the other way round.
  void other_voice(const PlayedCell& cell, int string) {
    const Voice& other = cell.lane->lower ? upper_ : lower_;
    const auto at = other.find(string);
    if (at == other.end() || at->second.since == cell.at() || cell.sign<StringSign>()->tied) return;
    if (!said_.insert({cell.cell->cell, "voices"}).second) return;
    context_.say_both(Kind::VoicesOverlap, cell.span(), "struck here", at->second.span, "held from here",
                      "string " + std::to_string(string) + " is struck by one voice while the other still holds it",
                      "a note lasts to the next one of its own voice, and a string sounds one note at a time",
                      "end the held note with . before this one, or write one of them on another string");
  }

  /// The `finger` lane names them from the lowest stopped note up; a single one is for all of them.
  void name_fingers(Moment at) {
    const auto found = stated_.find(at);
    if (found == stated_.end()) return;
    const std::vector<int>& fingers = std::get<song::FingerSign>(found->second->content).fingers;
    std::vector<std::pair<int, Held*>> notes;
    for (Voice* voice : {&upper_, &lower_})
      for (auto& [string, held] : *voice)
        if (held.since == at && held.fret > 0) notes.push_back({part_.tuning.string(string).midi() + held.fret, &held});
    std::stable_sort(notes.begin(), notes.end(), [](const auto& a, const auto& b) { return a.first < b.first; });
    for (std::size_t i = 0; i < notes.size() && (fingers.size() == 1 || i < fingers.size()); ++i) {
      const int finger = fingers[fingers.size() == 1 ? 0 : i];
      if (finger < 1 || finger > 4) continue;
      notes[i].second->finger = finger;
      notes[i].second->finger_span = found->second->span;
    }
    std::vector<const Held*> held;
    for (const Voice* voice : {&upper_, &lower_})
      for (const auto& [string, note] : *voice)
        if (note.finger > 0 && note.fret > 0) held.push_back(&note);
    for (const Held* a : held)
      for (const Held* b : held)
        if ((a->since == at || b->since == at) && a->fret < b->fret && a->finger >= b->finger)
          return crossed(*a, *b, at);
  }

  /// `low` is stopped at the lower fret, by the higher finger or by the same one as `high`.
  void crossed(const Held& low, const Held& high, Moment at) {
    const std::string fingers = std::to_string(low.finger) + "-" + std::to_string(high.finger) + " ";
    if (!said_.insert({&part_, "order " + fingers + std::to_string(low.fret) + "-" + std::to_string(high.fret)}).second)
      return;
    const bool same = low.finger == high.finger;
    const Held& late = low.since == at ? low : high;
    const std::string finger = "finger " + std::to_string(low.finger);
    context_.say(
        Kind::HandBusy, late.finger_span,
        same ? finger + " would hold fret " + std::to_string(low.fret) + " and fret " + std::to_string(high.fret) +
                   " at once in " + bar_words(at.first)
             : finger + " at fret " + std::to_string(low.fret) + " would stand behind finger " +
                   std::to_string(high.finger) + " at fret " + std::to_string(high.fret) + " in " + bar_words(at.first),
        same ? "a finger can hold several strings, but at one fret only"
             : "along the neck the fingers stand in the order 1 2 3 4; the lane names them from the lowest note up",
        same ? "give one of the notes another finger" : "exchange the two fingers, or look for a misread fret");
  }

  void judge(Moment at) {
    if (part_.scale_length_mm == 0 || part_.instrument.frets == 0) return;
    std::vector<std::optional<int>> frets(static_cast<std::size_t>(part_.strings()));
    const Held *low = nullptr, *high = nullptr;
    int stopped = 0;
    for (const Voice* voice : {&upper_, &lower_})
      for (const auto& [string, held] : *voice) {
        frets[frets.size() - static_cast<std::size_t>(string)] = held.fret;
        if (held.fret == 0) continue;
        ++stopped;
        if (!low || held.fret < low->fret) low = &held;
        if (!high || high->fret < held.fret) high = &held;
      }
    if (stopped < 2) return;
    if (part_.instrument.name == "lap steel") return bar(*low, *high);
    const double reach = theory::stretch_mm(part_.scale_length_mm, low->fret + base_, high->fret + base_);
    if (low->fret < high->fret && reach > theory::kWidestStretchMm) return wide(*low, *high, reach, at);
    if (stopped > 3 && !holdable(frets)) crowded(*low, *high, stopped);
  }

  bool holdable(const std::vector<std::optional<int>>& frets) {
    const auto [at, fresh] = known_.try_emplace(frets, true);
    if (fresh) {
      theory::Shape shape;
      shape.frets = frets;
      at->second = theory::playable(shape, {static_cast<double>(part_.scale_length_mm), base_, part_.frets});
    }
    return at->second;
  }

  bool once(const Held& low, const Held& high) {
    const std::string frets = std::to_string(low.fret) + "-" + std::to_string(high.fret);
    return said_.insert({&part_, "reach " + frets}).second;
  }

  void wide(const Held& low, const Held& high, double reach, Moment at) {
    if (!once(low, high)) return;
    const bool together = low.since == high.since;
    context_.say_both(Kind::WideStretch, high.span, "fret " + std::to_string(high.fret), low.span,
                      "fret " + std::to_string(low.fret),
                      "fret " + std::to_string(low.fret) + " and fret " + std::to_string(high.fret) +
                          (together ? " are stopped at once in " : " are held together in ") + bar_words(at.first) +
                          ", " + std::to_string(static_cast<int>(reach + 0.5)) + " mm apart",
                      "between the first and the last finger lie at most about " +
                          std::to_string(static_cast<int>(theory::kWidestStretchMm)) + " mm of neck",
                      together ? "look for a misread fret, or play one of them on another string"
                               : "end the held note with . before the other, or look for a misread fret");
  }

  void crowded(const Held& low, const Held& high, int stopped) {
    if (!once(low, high)) return;
    context_.say_both(Kind::WideStretch, high.span, "fret " + std::to_string(high.fret), low.span,
                      "fret " + std::to_string(low.fret),
                      "no hand is likely to hold these " + std::to_string(stopped) + " notes at once",
                      "four fingers stop four places, or more where one of them lies across at one fret",
                      "end a note with . before the next, leave one out, or look for a misread fret");
  }

  void bar(const Held& low, const Held& high) {
    if (low.fret == high.fret || !once(low, high)) return;
    context_.say_both(Kind::WideStretch, high.span, "fret " + std::to_string(high.fret), low.span,
                      "fret " + std::to_string(low.fret),
                      "the steel would have to lie at fret " + std::to_string(low.fret) + " and fret " +
                          std::to_string(high.fret) + " at once",
                      "the bar of a lap steel lies straight across, at one place",
                      "play both at one fret, one of them open, or one after the other");
  }

  Context& context_;
  const Playing& playing_;
  const CheckedPart& part_;
  Said& said_;
  int base_ = 0;
  Voice upper_, lower_;
  std::map<Moment, const song::Cell*> stated_;  ///< cells of the `finger` lane
  std::map<std::vector<std::optional<int>>, bool> known_;
};

}  // namespace

void judge_fretting_hand(Context& context, const Playing& playing, Said& said) {
  const bool written = std::any_of(playing.music.lanes.begin(), playing.music.lanes.end(),
                                   [](const PlacedLane& lane) { return on_strings(lane.kind) && !lane.from_pattern; });
  if (written) FrettingHand(context, playing, said).run();
}

}  // namespace tunesheaf::check

// Pitches that sound together: two hands on keys, a bow over strings, one voice. Common practice: a hand spans about a
// tenth and has five fingers; a mallet player holds four mallets; a bow lies over two neighbouring strings.
#include <algorithm>

#include "playing.h"
#include "tunesheaf/theory/fingering.h"

namespace tunesheaf::check {
namespace {

using song::LaneKind;
using song::PitchSign;
using theory::Family;
using Cells = std::vector<PlayedCell>::const_iterator;

constexpr int kTenth = 16;  // semitones
constexpr int kFingers = 5, kMallets = 4;

std::string names(const std::vector<theory::Pitch>& pitches) {
  std::string out;
  for (const theory::Pitch& pitch : pitches) out += (out.empty() ? "" : " ") + theory::print(pitch);
  return out;
}

std::vector<theory::Pitch> from_below(std::vector<theory::Pitch> pitches) {
  std::sort(pitches.begin(), pitches.end(),
            [](const theory::Pitch& a, const theory::Pitch& b) { return a.midi() < b.midi(); });
  return pitches;
}

class Together {
 public:
  Together(Context& context, const Playing& playing, Said& said)
      : context_(context), playing_(playing), part_(playing.part), said_(said) {}

  void run() {
    for (const PlayedCell& cell : playing_.cells) {
      const auto* sign = cell.sign<PitchSign>();
      if (!sign) continue;
      trill(cell, *sign);
      if (sign->pitches.size() < 2) continue;
      const auto pitches = from_below(sign->pitches);
      if (part_.instrument.family == Family::Keyed) keys(cell, pitches);
      if (part_.instrument.family == Family::Bowed) bow(cell, pitches);
      if (part_.instrument.family == Family::Voice || part_.instrument.family == Family::Wind) one_voice(cell, pitches);
    }
    if (part_.instrument.family == Family::Bowed)
      for_each_moment(playing_.cells, [&](Cells begin, Cells end) { bowed_strings(begin, end); });
  }

 private:
  void trill(const PlayedCell& cell, const PitchSign& sign) {
    if (!sign.trill || sign.pitches.empty() || sign.trill->midi() != sign.pitches.back().midi()) return;
    context_.say(Kind::TrillToSame, cell.span(),
                 "the trill " + context_.words(cell.span()) + " goes from " + theory::print(sign.pitches.back()) +
                     " to the same note",
                 "a trill goes to and fro between two notes", "write the other note behind tr");
  }

  bool mallets() const {
    const std::string& name = part_.instrument.name;
    return name == "glockenspiel" || name == "vibraphone" || name == "marimba" || name == "xylophone";
  }

  static int span(const std::vector<theory::Pitch>& notes, std::size_t from, std::size_t to) {
    return notes[to - 1].midi() - notes[from].midi();
  }

  /// All of them in one hand, or (on a lane that both hands share) some below and the rest above.
  bool fits(const std::vector<theory::Pitch>& notes, bool one_hand) const {
    const auto hand = [&](std::size_t from, std::size_t to) {
      return from == to || (to - from <= kFingers && span(notes, from, to) <= kTenth);
    };
    if (one_hand) return hand(0, notes.size());
    for (std::size_t cut = 0; cut <= notes.size(); ++cut)
      if (hand(0, cut) && hand(cut, notes.size())) return true;
    return false;
  }

  void keys(const PlayedCell& cell, const std::vector<theory::Pitch>& notes) {
    if (mallets()) {
      if (notes.size() > kMallets)
        say_hands(cell, notes, std::to_string(notes.size()) + " bars of the " + part_.instrument.name + " at once",
                  "two hands hold four mallets");
      return;
    }
    const bool one_hand = cell.lane->kind != LaneKind::Notes;
    if (fits(notes, one_hand) || playing_.told(cell.cell->bar, {"roll", "broken", "spread", "arpegg"})) return;
    const std::string hand = cell.lane->kind == LaneKind::Left ? "the left hand" : "the right hand";
    const int wide = span(notes, 0, notes.size());
    std::string what = std::to_string(notes.size()) + " notes over " + std::to_string(wide) + " semitones";
    what += one_hand ? " in " + hand : " in two hands";
    say_hands(cell, notes, what, "a hand has five fingers and spans about a tenth (16 semitones)");
  }

  void say_hands(const PlayedCell& cell, const std::vector<theory::Pitch>& notes, const std::string& what,
                 const std::string& rule) {
    if (!said_.insert({&part_, "hands " + names(notes)}).second) return;
    context_.say(Kind::TwoHands, cell.span(), names(notes) + " are " + what, rule,
                 "give a note to the other hand, move it by an octave, or say `rolled` in a `say` lane");
  }

  bool plucked(const PlayedCell& cell) const { return playing_.under("pizzicato", cell.at()); }

  bool told_how(const PlayedCell& cell) const {
    return playing_.told(cell.cell->bar, {"broken", "roll", "spread", "arpegg", "divisi", "div.", "pizz"});
  }

  /// A string for each of two notes, side by side, within reach; else why not.
  std::string double_stop(const theory::Tuning& tuning, const theory::Pitch& low, const theory::Pitch& high) const {
    bool apart = false, same = false, far = false;
    for (int string = 1; string <= part_.strings(); ++string)
      for (int other = 1; other <= part_.strings(); ++other) {
        const int below = low.midi() + context_.data.page_capo - tuning.string(string).midi();
        const int above = high.midi() + context_.data.page_capo - tuning.string(other).midi();
        if (below < 0 || above < 0) continue;
        if (string == other) {
          same = true;
        } else if (std::abs(string - other) != 1) {
          apart = true;
        } else if (below == 0 || above == 0 ||
                   theory::stretch_mm(part_.scale_length_mm, std::min(below, above), std::max(below, above)) <=
                       theory::kWidestStretchMm) {
          return {};
        } else {
          far = true;
        }
      }
    if (far) return "on neighbouring strings they lie too far apart for one hand";
    if (apart) return "they lie on strings that are no neighbours";
    return same ? "both lie on the same string" : "";
  }

  void bow(const PlayedCell& cell, const std::vector<theory::Pitch>& notes) {
    if (part_.strings() < 2 || told_how(cell) || (plucked(cell) && notes.size() > 2)) return;
    std::string why = std::to_string(notes.size()) + " notes under one bow";
    const theory::Tuning& tuning = playing_.music.tuning_at(part_, cell.cell->bar, cell.cell->onset);
    if (notes.size() == 2) why = double_stop(tuning, notes[0], notes[1]);
    if (why.empty() || !said_.insert({&part_, "bow " + names(notes)}).second) return;
    context_.say(Kind::BowStrings, cell.span(),
                 names(notes) + " are to sound at once on the " + part_.instrument.name + "; " + why,
                 "a bow lies over two neighbouring strings, here " + theory::letters(tuning),
                 "leave a note out, or tell the player in a `say` lane: broken, divisi or pizz.");
  }

  void bowed_strings(Cells begin, Cells end) {
    std::set<int> struck;
    for (Cells it = begin; it != end; ++it) {
      const auto* sign = it->sign<song::StringSign>();
      if (sign && !sign->continues && on_strings(it->lane->kind)) struck.insert(it->cell->string);
    }
    if (struck.size() < 2 || plucked(*begin) || told_how(*begin)) return;
    if (struck.size() == 2 && *struck.rbegin() - *struck.begin() == 1) return;
    std::string list;
    for (const int string : struck) list += (list.empty() ? "" : ", ") + std::to_string(string);
    if (!said_.insert({&part_, "strings " + list}).second) return;
    context_.say(Kind::BowStrings, begin->span(),
                 "the strings " + list + " of the " + part_.instrument.name + " are to sound at once",
                 "a bow lies over two neighbouring strings",
                 "leave a note out, or tell the player in a `say` lane: broken, divisi or pizz.");
  }

  void one_voice(const PlayedCell& cell, const std::vector<theory::Pitch>& notes) {
    if (part_.instrument.name == "harmonica" || !said_.insert({&part_, "voice " + names(notes)}).second) return;
    context_.say(
        Kind::OneNoteAtATime, cell.span(),
        names(notes) + " are to sound at once, and " + with_article(part_.instrument.name) + " sounds one note",
        "voices and wind instruments sound one note at a time", "write a second part for the other note");
  }

  Context& context_;
  const Playing& playing_;
  const CheckedPart& part_;
  Said& said_;
};

}  // namespace

void judge_together(Context& context, const Playing& playing, Said& said) {
  Together(context, playing, said).run();
}

}  // namespace tunesheaf::check

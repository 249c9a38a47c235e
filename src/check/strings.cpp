// Every sign on a string against what sounds there: from where a pull-off comes, how far a bend goes.
#include <algorithm>
#include <map>

#include "context.h"
#include "tunesheaf/theory/fingering.h"
#include "tunesheaf/theory/harmonics.h"

namespace tunesheaf::check {
namespace {

using song::Arrival;
using song::BendStage;
using song::LaneKind;
using song::StringSign;

struct Sounding {
  bool known = false;  ///< a note was struck here before, in this section
  bool dead = false;
  Fraction fret;  ///< of the note as stopped
  Fraction bent;  ///< as it sounds now
  Span span{};
};

struct OnString {
  const PlacedLane* lane = nullptr;
  const PlacedCell* cell = nullptr;
};

/// Cells of one string in order of time, whatever lanes they stand in.
std::map<int, std::vector<OnString>> by_string(const CheckedMusic& music) {
  std::map<int, std::vector<OnString>> out;
  for (const PlacedLane& lane : music.lanes) {
    if (!on_strings(lane.kind)) continue;
    for (const PlacedCell& cell : lane.cells) {
      if (lane.kind == LaneKind::FretOf && std::holds_alternative<song::SilenceCell>(cell.cell->content)) continue;
      out[cell.string].push_back({&lane, &cell});
    }
  }
  for (auto& [string, cells] : out)
    std::stable_sort(cells.begin(), cells.end(), [](const OnString& a, const OnString& b) {
      return std::pair(a.cell->bar, a.cell->onset) < std::pair(b.cell->bar, b.cell->onset);
    });
  return out;
}

std::string fret_words(Fraction fret) {
  if (fret.den() == 1) return "fret " + std::to_string(fret.num());
  const auto hundredths = (fret * Fraction(100)).floor() % 100;
  std::string digits = std::to_string(hundredths);
  if (hundredths % 10 == 0) digits.pop_back();
  return "fret " + std::to_string(fret.floor()) + "." + digits;
}

class StringChecker {
 public:
  StringChecker(Context& context, const CheckedSection& section, const CheckedMusic& music, const CheckedPart& part,
                int string)
      : context_(context), section_(section), music_(music), part_(part), string_(string) {}

  void run(const std::vector<OnString>& cells) {
    Sounding body;
    int ending = -1;
    for (std::size_t i = 0; i < cells.size(); ++i) {
      const int now = section_.bars[static_cast<std::size_t>(cells[i].cell->bar)].ending;
      if (now != ending) {
        if (ending == -1) body = sounding_;
        sounding_ = body;  // every ending goes on from the end of the body
        ending = now;
        opens_ = true;
      }
      two_at_once(cells, i);
      one(*cells[i].cell);
      opens_ = false;
    }
  }

 private:
  void two_at_once(const std::vector<OnString>& cells, std::size_t i) {
    if (i == 0 || cells[i].cell->bar != cells[i - 1].cell->bar || cells[i].cell->onset != cells[i - 1].cell->onset)
      return;
    const auto quiet = [](const OnString& c) {
      const auto* sign = std::get_if<StringSign>(&c.cell->cell->content);
      return std::holds_alternative<song::SilenceCell>(c.cell->cell->content) || (sign && sign->continues);
    };
    if (quiet(cells[i]) || quiet(cells[i - 1]) || cells[i].cell->cell == cells[i - 1].cell->cell) return;
    context_.say_both(
        Kind::TwoOnString, cells[i].cell->cell->span, "here", cells[i - 1].cell->cell->span, "and here",
        "two notes are struck at once on string " + std::to_string(string_) + " in " + bar_words(cells[i].cell->bar),
        "a string sounds one note at a time", "write one of them on another string");
  }

  void one(const PlacedCell& cell) {
    span_ = cell.cell->span;
    if (std::holds_alternative<song::SilenceCell>(cell.cell->content)) {
      sounding_ = {};
      return;
    }
    if (std::holds_alternative<song::PluckSign>(cell.cell->content)) return plucked(cell);
    const auto* sign = std::get_if<StringSign>(&cell.cell->content);
    if (!sign) return;
    if (sign->continues) return goes_on(*sign);
    if (sign->dead) {
      sounding_ = {true, true, Fraction(0), Fraction(0), span_};
      return;
    }
    if (!sign->fret) return;
    if (sign->tied) return tied(*sign);
    arrival(*sign);
    neck(*sign);
    harmonic(*sign);
    sounding_ = {true, false, Fraction(*sign->fret), Fraction(*sign->fret), span_};
    bends(*sign);
  }

  void plucked(const PlacedCell& cell) {
    const int index = music_.shape_at(cell.bar, cell.onset);
    if (index < 0) {
      sounding_ = {};
      return;
    }
    const theory::Shape& shape = context_.data.shapes[static_cast<std::size_t>(index)].shape;
    if (string_ < 1 || string_ > shape.count()) return;
    const auto fret = shape.frets[shape.place_of(string_)];
    sounding_ = {fret.has_value(), false, Fraction(fret.value_or(0)), Fraction(fret.value_or(0)), span_};
  }

  void arrival(const StringSign& sign) {
    const Fraction fret(*sign.fret);
    Sounding from = sounding_;
    if (!sign.grace.empty())
      from = {true, false, Fraction(sign.grace.back().fret), Fraction(sign.grace.back().fret), span_};
    const Arrival how = sign.grace.empty() ? sign.arrival : sign.grace.back().to_main;
    const std::string there = fret_words(fret);
    if (how == Arrival::PullOff && from.known && !from.dead && !(fret < from.fret))
      context_.say_both(
          Kind::PullOffUpwards, span_, "to " + there, from.span, "from " + fret_words(from.fret),
          "a pull-off on string " + std::to_string(string_) + " goes from " + fret_words(from.fret) + " to " + there,
          "a pull-off sounds a lower fret, stopped before or open", "write h for a hammer-on, or a lower fret");
    if (how == Arrival::PullOff && !from.known && !opens_)
      nothing("a pull-off leaves a note that sounds on this string", "pull-off");
    if (how == Arrival::HammerOn && from.known && !from.dead && !(from.fret < fret))
      context_.say_both(
          Kind::HammerOnDownwards, span_, "to " + there, from.span, "from " + fret_words(from.fret),
          "a hammer-on on string " + std::to_string(string_) + " goes from " + fret_words(from.fret) + " to " + there,
          "a hammer-on sounds a higher fret", "write p for a pull-off, or a higher fret");
    opens_ = false;
  }

  void nothing(const std::string& rule, const std::string& what) {
    context_.say(Kind::NothingBefore, span_,
                 "there is nothing before this " + what + " on string " + std::to_string(string_), rule,
                 "strike a note first, or write this one as struck");
  }

  void neck(const StringSign& sign) {
    const int base = part_.capo.full() ? part_.capo.fret : 0;
    int fret = *sign.fret;
    if (sign.trill) fret = std::max(fret, *sign.trill);
    for (const auto& grace : sign.grace) fret = std::max(fret, grace.fret);
    if (part_.frets > 0 && fret + base > part_.frets && sign.harmonic == song::HarmonicKind::None)
      context_.say(Kind::FretBeyondNeck, span_,
                   "fret " + std::to_string(fret) + " lies beyond the neck, which ends at fret " +
                       std::to_string(part_.frets - base) + (base > 0 ? " counted from the capo" : ""),
                   "frets count from the capo where there is a full one",
                   "write a fret the neck has, or say `frets` in the part");
    if (string_ < 1 || string_ > part_.strings()) return;
    const int start = part_.tuning.string(string_).start_fret;
    if (start > base && fret > 0 && fret + base <= start)
      context_.say(Kind::FretBeyondNeck, span_,
                   "string " + std::to_string(string_) + " begins at fret " + std::to_string(start) +
                       ", and this is fret " + std::to_string(fret),
                   "a short string is open (0) or stopped behind its own nut", "write 0, or a higher fret");
  }

  void harmonic(const StringSign& sign) {
    using song::HarmonicKind;
    if (sign.harmonic == HarmonicKind::None || sign.harmonic == HarmonicKind::Pinched) return;
    int at = *sign.fret;
    if (sign.harmonic != HarmonicKind::Natural && sign.touch) at = *sign.touch - *sign.fret;
    if (at > 0 && theory::node_at(at)) return;
    context_.say(Kind::NoHarmonic, span_,
                 at > 0 ? "no harmonic lies near fret " + std::to_string(at) + " from where the string is stopped"
                        : "a harmonic is touched above the fret that stops the string",
                 "a string sounds harmonics near frets 3, 4, 5, 7, 9, 12, 16, 19 and 24 above where it is stopped",
                 "touch it at one of these");
  }

  void bends(const StringSign& sign) {
    Fraction now = sounding_.bent;
    for (const BendStage& stage : sign.bends) {
      const bool up = stage.action == BendStage::Action::Bend || stage.action == BendStage::Action::Prebend;
      if (up && !(sounding_.fret < stage.fret)) {
        context_.say(Kind::BendDownwards, span_,
                     "a bend from " + fret_words(sounding_.fret) + " is to sound as " + fret_words(stage.fret),
                     "a string that is bent sounds higher; the second figure is the fret it then sounds like",
                     "write a higher fret behind b");
      }
      if (stage.action == BendStage::Action::Release && !(sounding_.fret < now)) {
        context_.say(Kind::ReleaseWithoutBend, span_,
                     "string " + std::to_string(string_) + " is released here, and it is not bent",
                     "r lets a bent string down again", "write the bend before it");
      } else if (stage.action == BendStage::Action::Release && now < stage.fret) {
        context_.say(Kind::BendDownwards, span_,
                     "a release from " + fret_words(now) + " is to sound as " + fret_words(stage.fret),
                     "a release sounds lower than the bend", "write a lower fret behind r");
      }
      now = stage.fret;
    }
    sounding_.bent = now;
  }

  void goes_on(const StringSign& sign) {
    if (!sounding_.known || sounding_.dead) {
      const bool release = !sign.bends.empty() && sign.bends.front().action == BendStage::Action::Release;
      if (opens_) return;
      if (release) {
        context_.say(Kind::ReleaseWithoutBend, span_,
                     "string " + std::to_string(string_) + " is released here, and it is not bent",
                     "r lets a bent string down again", "write the bend before it");
        return;
      }
      return nothing("this sign goes on with a note that sounds", "sign");
    }
    bends(sign);
  }

  void tied(const StringSign& sign) {
    if (!sounding_.known) {
      if (!opens_) nothing("a tie goes on with a note that sounds", "tie");
    } else if (sounding_.fret != Fraction(*sign.fret) || sounding_.dead) {
      context_.say_both(Kind::TieDiffers, span_, fret_words(Fraction(*sign.fret)), sounding_.span,
                        fret_words(sounding_.fret),
                        "the tie on string " + std::to_string(string_) + " goes from " + fret_words(sounding_.fret) +
                            " to " + fret_words(Fraction(*sign.fret)),
                        "a tie holds one and the same note", "strike the new note, or write the same fret");
    }
    sounding_ = {true, false, Fraction(*sign.fret), Fraction(*sign.fret), span_};
  }

  Context& context_;
  const CheckedSection& section_;
  const CheckedMusic& music_;
  const CheckedPart& part_;
  int string_;
  Sounding sounding_;
  bool opens_ = true;  ///< nothing yet on this string in this section: seams.cpp judges what goes on from before
  Span span_{};
};

/// Stopped frets of one moment and the hand that would have to reach them.
void check_reach(Context& context, const CheckedMusic& music, const CheckedPart& part) {
  if (part.instrument.frets == 0 || part.scale_length_mm == 0) return;
  struct Reach {
    int low = 99, high = 0;
    Span span{};
  };
  std::map<std::pair<int, Fraction>, Reach> moments;
  for (const PlacedLane& lane : music.lanes) {
    if (!on_strings(lane.kind)) continue;
    for (const PlacedCell& cell : lane.cells) {
      const auto* sign = std::get_if<StringSign>(&cell.cell->content);
      if (!sign || !sign->fret || *sign->fret == 0 || sign->harmonic != song::HarmonicKind::None) continue;
      if (sign->arrival == Arrival::Tap || sign->tied) continue;
      Reach& reach = moments[{cell.bar, cell.onset}];
      reach.low = std::min(reach.low, *sign->fret);
      reach.high = std::max(reach.high, *sign->fret);
      reach.span = cell.cell->span;
    }
  }
  const int base = part.capo.full() ? part.capo.fret : 0;
  for (const auto& [moment, reach] : moments) {
    if (reach.high <= reach.low) continue;
    if (theory::stretch_mm(part.scale_length_mm, reach.low + base, reach.high + base) <= theory::kWidestStretchMm)
      continue;
    context.say(Kind::WideStretch, reach.span,
                "fret " + std::to_string(reach.low) + " and fret " + std::to_string(reach.high) +
                    " are stopped at once in " + bar_words(moment.first),
                "between the first and the last finger lie at most about " +
                    std::to_string(static_cast<int>(theory::kWidestStretchMm)) + " mm of neck",
                "look for a misread fret, or play one of them on another string");
  }
}

/// Ties in lanes of pitches hold the same pitches.
void check_pitch_ties(Context& context, const PlacedLane& lane) {
  const song::PitchSign* before = nullptr;
  Span span{};
  for (const PlacedCell& cell : lane.cells) {
    const auto* sign = std::get_if<song::PitchSign>(&cell.cell->content);
    if (!sign) {
      before = nullptr;
      continue;
    }
    if (sign->tied && before) {
      for (const theory::Pitch& pitch : sign->pitches) {
        const bool same = std::any_of(before->pitches.begin(), before->pitches.end(),
                                      [&](const theory::Pitch& p) { return p.midi() == pitch.midi(); });
        if (same) continue;
        context.say_both(Kind::TieDiffers, cell.cell->span, "held", span, "from here",
                         "the tie goes to " + theory::print(pitch) + ", which does not sound before it",
                         "a tie holds one and the same note", "strike the new note, or write the same pitch");
      }
    }
    before = sign;
    span = cell.cell->span;
  }
}

}  // namespace

void check_strings(Context& context) {
  for (const CheckedSection& section : context.data.sections)
    for (std::size_t p = 0; p < section.parts.size(); ++p) {
      const CheckedMusic& music = section.parts[p];
      const CheckedPart& part = context.data.parts[p];
      for (const auto& [string, cells] : by_string(music))
        if (string >= 1 && string <= part.strings()) StringChecker(context, section, music, part, string).run(cells);
      check_reach(context, music, part);
      for (const PlacedLane& lane : music.lanes)
        if (lane.kind == LaneKind::Notes || lane.kind == LaneKind::Right || lane.kind == LaneKind::Left)
          check_pitch_ties(context, lane);
    }
}

}  // namespace tunesheaf::check

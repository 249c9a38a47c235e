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
  bool slides = false;  ///< slides on to the next note (7/)
  Fraction fret;        ///< of the note as stopped
  Fraction bent;        ///< as it sounds now
  Span span{};
  bool left = false;  ///< slid off: nothing goes on from it
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

/// Two and a half whole tones: the widest bend in use on light strings (common practice).
constexpr int kWidestBend = 5;

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
      sounding_ = {true, true, false, Fraction(0), Fraction(0), span_};
      return;
    }
    if (!sign->fret) return;
    if (sign->tied) return tied(*sign);
    graces(*sign);
    arrival(*sign);
    open_string(*sign);
    trill(*sign);
    neck(*sign);
    harmonic(*sign);
    sounding_ = {true, false, sign->slides_to_next, Fraction(*sign->fret), Fraction(*sign->fret), span_};
    bends(*sign);
    sounding_.left = sign->slide_off != song::SlideOff::None;
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
    sounding_ = {fret.has_value(), false, false, Fraction(fret.value_or(0)), Fraction(fret.value_or(0)), span_};
  }

  void arrival(const StringSign& sign) {
    const Fraction fret(*sign.fret);
    Sounding from = sounding_;
    if (!sign.grace.empty())
      from = {true, false, false, Fraction(sign.grace.back().fret), Fraction(sign.grace.back().fret), span_};
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
    if (from.known && !from.dead && !from.left) slide(sign, how, from, fret);
    opens_ = false;
  }

  void slide(const StringSign& sign, Arrival how, const Sounding& from, Fraction fret) {
    const bool to_here = how == Arrival::LegatoSlide;
    if (!to_here && !from.slides) return;
    const std::string on = " on string " + std::to_string(string_);
    if (from.slides && (how == Arrival::HammerOn || how == Arrival::PullOff)) {
      context_.say_both(Kind::MarksContradict, span_, how == Arrival::HammerOn ? "hammered" : "pulled off", from.span,
                        "slides on", "the note before slides on, and this one is not slid to" + on,
                        "7/ slides to the next note, which is struck on arrival; /9 is slid to and not struck",
                        "write the fret alone, or take the slide away");
      return;
    }
    if (from.fret == fret) {
      context_.say_both(Kind::SlideToSame, span_, "to " + fret_words(fret), from.span, "from " + fret_words(from.fret),
                        "a slide" + on + " goes from " + fret_words(from.fret) + " to the same fret",
                        "a slide leads to another fret", "write the fret it arrives at, or a plain note");
      return;
    }
    const bool down = fret < from.fret;
    if (!to_here || !sign.grace.empty() || down == sign.slides_down) return;
    context_.say_both(Kind::SlideDirection, span_, "to " + fret_words(fret), from.span, "from " + fret_words(from.fret),
                      std::string("a slide written ") + (down ? "upwards (/)" : "downwards (\\)") + " goes " +
                          (down ? "down" : "up") + on,
                      "/ slides up to a higher fret, \\ down to a lower one",
                      std::string("write ") + (down ? "\\" : "/") + std::to_string(fret.num()));
  }

  /// Grace notes among themselves: the last one and the main note are judged as an arrival.
  void graces(const StringSign& sign) {
    for (std::size_t i = 1; i < sign.grace.size(); ++i) {
      const int from = sign.grace[i - 1].fret, to = sign.grace[i].fret;
      const Arrival how = sign.grace[i - 1].to_main;
      const std::string frets = " from fret " + std::to_string(from) + " to fret " + std::to_string(to);
      if (how == Arrival::PullOff && from <= to)
        context_.say(Kind::PullOffUpwards, span_, "a pull-off among these grace notes goes" + frets,
                     "a pull-off sounds a lower fret", "write h for a hammer-on, or a lower fret");
      if (how == Arrival::HammerOn && to <= from)
        context_.say(Kind::HammerOnDownwards, span_, "a hammer-on among these grace notes goes" + frets,
                     "a hammer-on sounds a higher fret", "write p for a pull-off, or a higher fret");
    }
  }

  /// What only a finger on a fret can do. A slide bar lies over open strings too, and has its own ways.
  void open_string(const StringSign& sign) {
    if (*sign.fret != 0 || sign.harmonic != song::HarmonicKind::None || part_.instrument.frets == 0) return;
    if (sign.arrival == Arrival::Tap) return open_cannot("tapped", "a tap presses the string to a fret");
    if (sign.arrival == Arrival::HammerOn && !sounding_.known && !opens_ && sign.grace.empty())
      return open_cannot("hammered", "a hammer-on presses the string to a fret");
    if (sign.arrival == Arrival::LegatoSlide && !sounding_.known && !opens_ && sign.grace.empty())
      return open_cannot("slid to", "a slide arrives at a fret");
    open_changes(sign);
  }

  void open_changes(const StringSign& sign) {
    if (sounding_.known && sign.continues && sounding_.fret != Fraction(0)) return;
    if (part_.instrument.frets == 0 || part_.instrument.name == "lap steel") return;
    if (!sign.bends.empty() && sign.bends.front().action != BendStage::Action::Release)
      return open_cannot("bent", "a bend pushes a string that a finger stops");
    if (sign.vibrato != song::Vibrato::None) open_cannot("shaken", "vibrato shakes a string that a finger stops");
    if (sign.slide_off != song::SlideOff::None || sign.slides_to_next)
      open_cannot("slid from", "a slide leaves from a fret");
  }

  void open_cannot(const std::string& what, const std::string& rule) {
    context_.say(Kind::OpenString, span_, "the open string " + std::to_string(string_) + " is to be " + what, rule,
                 "write the fret, or play it on another string; a vibrato bar has the lane `arm`");
  }

  void trill(const StringSign& sign) {
    if (!sign.trill) return;
    if (*sign.trill == *sign.fret) {
      context_.say(
          Kind::TrillToSame, span_,
          "the trill " + context_.words(span_) + " goes from fret " + std::to_string(*sign.fret) + " to the same fret",
          "a trill goes to and fro between two notes", "write the other fret behind tr");
      return;
    }
    const int base = part_.capo.full() ? part_.capo.fret : 0;
    const int low = std::min(*sign.trill, *sign.fret), high = std::max(*sign.trill, *sign.fret);
    if (low == 0 || part_.scale_length_mm == 0 || part_.instrument.frets == 0) return;
    if (theory::stretch_mm(part_.scale_length_mm, low + base, high + base) <= theory::kWidestStretchMm) return;
    context_.say(Kind::WideStretch, span_,
                 "the trill " + context_.words(span_) + " reaches from fret " + std::to_string(low) + " to fret " +
                     std::to_string(high),
                 "between the first and the last finger lie at most about " +
                     std::to_string(static_cast<int>(theory::kWidestStretchMm)) + " mm of neck",
                 "look for a misread fret, or write the notes as taps");
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
      } else if (up && sounding_.fret + Fraction(kWidestBend) < stage.fret) {
        context_.say(
            Kind::WideBend, span_,
            "a bend from " + fret_words(sounding_.fret) + " is to sound as " + fret_words(stage.fret) + ", " +
                std::to_string((stage.fret - sounding_.fret).floor()) + " semitones higher",
            "a string is bent by " + std::to_string(kWidestBend) + " semitones at most before it is likely to break",
            "look for a misread fret, or slide part of the way");
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
    if (sounding_.fret == Fraction(0)) open_changes(sign);
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
    sounding_ = {true, false, sign.slides_to_next, Fraction(*sign.fret), Fraction(*sign.fret), span_};
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

/// Ties in lanes of pitches hold the same pitches.
void check_pitch_ties(Context& context, const PlacedLane& lane) {
  const song::PitchSign* before = nullptr;
  Span span{};
  bool first = true;  // what goes on from the section before, seams.cpp judges
  for (const PlacedCell& cell : lane.cells) {
    const auto* sign = std::get_if<song::PitchSign>(&cell.cell->content);
    if (!sign) {
      before = nullptr;
      first = false;
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
    if (sign->tied && !before && !first)
      context.say(Kind::NothingBefore, cell.cell->span,
                  "there is nothing before this tie of the lane " + diag::quoted(lane.name),
                  "a tie goes on with a note that sounds", "strike the note here, or let it sound before");
    before = sign;
    span = cell.cell->span;
    first = false;
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
      for (const PlacedLane& lane : music.lanes)
        if (lane.kind == LaneKind::Notes || lane.kind == LaneKind::Right || lane.kind == LaneKind::Left)
          check_pitch_ties(context, lane);
    }
}

}  // namespace tunesheaf::check

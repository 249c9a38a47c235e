// Parts: instruments of every family, tunings, capos, necks, shapes that a hand can hold, and patterns over them.
#include <algorithm>
#include <stdexcept>

#include "generated/plan.h"
#include "tunesheaf/theory/chord.h"
#include "tunesheaf/theory/naming.h"

namespace tunesheaf::generated {
namespace {

using theory::Family;

const std::vector<std::string> kKit{"kick",      "snare",       "hat",      "crash",    "ride",     "high tom",
                                    "floor tom", "cross-stick", "hat open", "hat half", "hat foot", "ride bell",
                                    "crash 2",   "splash",      "china",    "mid tom",  "low tom",  "kick 2",
                                    "rim",       "cowbell",     "tom 1",    "tom 2",    "tom 3",    "tom 4"};
const std::vector<std::string> kBox{"bass", "slap", "tap", "heel", "toe", "tone", "ghost"};
const std::vector<std::string> kHands{"doum", "tek", "ka", "hand drum"};
const std::vector<std::string> kCongas{"conga", "high conga", "low conga", "open", "muffled", "slap"};
const std::vector<std::string> kBongos{"high bongo", "low bongo", "slap"};
const std::vector<std::string> kSmall{"shaker",     "claves",    "triangle",     "tambourine",  "maracas",
                                      "guiro",      "claps",     "snaps",        "stomp",       "wood block",
                                      "high bongo", "low bongo", "high timbale", "low timbale", "cowbell"};

class PartMaker {
 public:
  PartMaker(Tools tools, const std::string& meter, const std::string& key, Node& song)
      : random_(tools.random), words_(tools.words), meter_(meter), song_(song) {
    const auto read = theory::parse_key(key);
    if (!read) throw std::logic_error("no key: " + key);
    key_ = *read;
    scale_.resize(12);
    for (const theory::PitchClass& note : key_.scale()) scale_[static_cast<std::size_t>(note.number())] = true;
  }

  std::vector<PartPlan> make(int count) {
    for (int i = 0; i < count; ++i) parts_.push_back(part(i == 0));
    int page_capo = 0;
    for (const PartPlan& part : parts_) {
      if (part.family != Family::Fretted) continue;
      page_capo = part.capo.full() ? part.capo.fret : 0;
      break;
    }
    for (PartPlan& part : parts_) {
      part.scale = scale_;
      part.key = key_;
      part.page_capo = page_capo;
      part.low -= page_capo;
      part.high -= page_capo;
    }
    for (PartPlan& part : parts_) {
      if (part.family == Family::Fretted && random_.chance(75)) shapes(part);
    }
    for (PartPlan& part : parts_)
      if (!part.shapes.empty() && random_.chance(70)) patterns(part);
    Node parts, shapes, patterns;
    for (auto& [name, node] : part_nodes_) parts.add(name, std::move(node));
    song_.add("parts", std::move(parts));
    if (!shape_nodes_.empty()) song_.add("shapes", std::move(shape_nodes_));
    if (!pattern_nodes_.empty()) song_.add("patterns", std::move(pattern_nodes_));
    return std::move(parts_);
  }

 private:
  PartPlan part(bool first) {
    const int kind = first ? random_.weighed<int>({{80, 0}, {4, 1}, {4, 2}, {4, 3}, {3, 4}, {5, 5}})
                           : random_.weighed<int>({{35, 0}, {12, 1}, {12, 2}, {14, 3}, {10, 4}, {17, 5}});
    static constexpr Family kFamilies[] = {Family::Fretted, Family::Bowed, Family::Keyed,
                                           Family::Voice,   Family::Wind,  Family::Drums};
    PartPlan out;
    out.family = kFamilies[kind];
    out.name = words_.name();
    Node node;
    std::vector<const theory::Instrument*> fitting;
    for (const theory::Instrument& instrument : theory::instruments())
      if (instrument.family == out.family) fitting.push_back(&instrument);
    const theory::Instrument& instrument = out.family == Family::Fretted && random_.chance(45)
                                               ? *theory::find_instrument("guitar")
                                               : *random_.pick(fitting);
    const bool own = out.family == Family::Fretted && random_.chance(6);
    node.add("instrument", own ? "box lute" : instrument.name);
    if (random_.chance(50)) node.add("short", short_name());
    if (out.family == Family::Drums) {
      kit(out, instrument);
    } else if (out.strung()) {
      strings(out, instrument, own, node);
    } else {
      range(out, instrument.lowest, instrument.highest);
      if (random_.chance(8))
        node.add("clef", random_.weighed<const char*>(
                             {{2, "treble"}, {1, "bass"}, {1, "alto"}, {1, "tenor"}, {1, "treble-8"}}));
    }
    if (random_.chance(5)) node.add("stand in for", words_.text(4));
    if (random_.chance(4))
      node.add("transposes", random_.weighed<const char*>({{1, "up a major second"}, {1, "up a major sixth"}}));
    part_nodes_.emplace_back(out.name, std::move(node));
    return out;
  }

  std::string short_name() {
    static const std::vector<std::string> kShort{"Gtr.",  "Bjo.", "Kit",  "Vl.",     "Mel.",
                                                 "Perc.", "Sop.", "Keys", "Rh. Gtr."};
    return random_.pick(kShort);
  }

  void range(PartPlan& out, int lowest, int highest) {
    const int middle = (lowest + highest) / 2, reach = random_.between(7, 14);
    out.low = std::max(lowest, middle - reach);
    out.high = std::min(highest, middle + reach);
  }

  void kit(PartPlan& out, const theory::Instrument& instrument) {
    const std::vector<std::string>* from = &kSmall;
    if (instrument.name == "drum kit") from = &kKit;
    if (instrument.name == "cajon" || instrument.name == "djembe") from = &kBox;
    if (instrument.name == "hand drum") from = &kHands;
    if (instrument.name == "congas") from = &kCongas;
    if (instrument.name == "bongos") from = &kBongos;
    std::vector<std::string> lanes = *from;
    if (instrument.name == "tambourine" || instrument.name == "shaker") lanes = {instrument.name};
    if (from != &kKit || random_.chance(50)) random_.shuffle(lanes);
    lanes.resize(std::min<std::size_t>(lanes.size(), static_cast<std::size_t>(random_.between(1, 7))));
    out.kit = lanes;
  }

  void strings(PartPlan& out, const theory::Instrument& instrument, bool own, Node& node) {
    out.arm = !own && instrument.name.find("guitar") != std::string::npos && instrument.name != "classical guitar";
    out.neck = own ? 12 : instrument.frets > 0 ? instrument.frets : 15;
    if (own) {
      own_tuning(out, node);
    } else {
      out.tuning = *instrument.usual;
      tuning(out, instrument, node);
    }
    if (random_.chance(10) && instrument.frets > 0 && !own) {
      out.neck = random_.between(12, 24);
      node.add("frets", std::to_string(out.neck));
    }
    const bool frets = out.family == Family::Fretted && instrument.name != "lap steel";
    if (frets && random_.chance(25)) capo(out, node);
    if (random_.chance(25)) node.add("staff", random_.weighed<const char*>({{4, "both"}, {3, "tab"}, {3, "notation"}}));
    if (random_.chance(15)) node.add("rings", random_.chance(80) ? "yes" : "no");
    if (random_.chance(8))
      node.add("scale length", random_.weighed<const char*>({{1, "648 mm"}, {1, "25.5 in"}, {1, "34 cm"}}));
    if (random_.chance(6))
      node.add("clef",
               random_.weighed<const char*>({{2, "treble"}, {2, "bass"}, {1, "alto"}, {2, "treble-8"}, {1, "bass-8"}}));
    int lowest = 127, highest = 0;
    for (int s = 1; s <= out.strings(); ++s) {
      const theory::TunedString& string = out.tuning.string(s);
      lowest = std::min(lowest, string.midi());
      highest = std::max(highest, string.midi());
      const bool short_one = string.start_fret > (out.capo.full() ? out.capo.fret : 0);
      int first = short_one ? string.start_fret - (out.capo.full() ? out.capo.fret : 0) + 1 : 1;
      if (!out.capo.full() && out.capo.holds(s)) first = std::max(first, out.capo.fret + 1);
      out.first_stopped.push_back(first);
    }
    out.low = lowest + (out.capo.full() ? out.capo.fret : 0);
    out.high = std::max(out.low + 1, std::min(highest + 12, own ? highest + 24 : instrument.highest));
    for (int s = 1; s <= out.strings(); ++s)
      if (out.first_stopped[static_cast<std::size_t>(s - 1)] > out.neck - 2)
        out.neck = out.first_stopped[static_cast<std::size_t>(s - 1)] + 2;
  }

  void own_tuning(PartPlan& out, Node& node) {
    std::string text;
    int key = random_.between(36, 55);
    const int count = random_.weighed<int>({{3, 3}, {3, 4}, {3, 5}, {2, 8}, {1, 10}, {1, 12}});
    for (int i = 0; i < count; ++i) {
      text += (i > 0 ? " " : "") + pitch_name(key, key_);
      key += random_.between(2, 5);
    }
    node.add("tuning", text);
    out.tuning = theory::parse_tuning_notes(text).value();
  }

  void tuning(PartPlan& out, const theory::Instrument& instrument, Node& node) {
    const int kind = random_.weighed<int>({{60, 0}, {20, 1}, {20, 2}});
    if (kind == 1) {
      std::vector<std::string> names{"half step down", "whole step down"};
      for (const theory::NamedTuning& named : theory::named_tunings())
        if (named.instrument == instrument.name && named.name != "usual") names.push_back(named.name);
      const std::string name = random_.pick(names);
      if (const auto read = theory::parse_tuning(name, instrument.name)) {
        node.add("tuning", name);
        out.tuning = *read;
      }
    } else if (kind == 2) {
      std::string text;
      for (const theory::TunedString& string : instrument.usual->strings) {
        const int by = random_.chance(50) ? 0 : random_.between(-3, 2);
        std::string course;
        for (const theory::Pitch pitch : string.course)
          course += (course.empty() ? "" : "/") + pitch_name(pitch.midi() + by, key_);
        if (string.start_fret > 0) course += "@" + std::to_string(string.start_fret);
        text += (text.empty() ? "" : " ") + course;
      }
      if (const auto read = theory::parse_tuning_notes(text)) {
        node.add("tuning", text);
        out.tuning = *read;
      }
    }
  }

  void capo(PartPlan& out, Node& node) {
    const int fret = random_.between(1, std::max(1, std::min(7, out.neck - 8)));
    out.capo.fret = fret;
    if (random_.chance(70) || out.strings() < 3) {
      node.add("capo", std::to_string(fret));
      out.neck -= fret;
      return;
    }
    Node keys;
    keys.add("fret", std::to_string(fret));
    const int first = random_.between(1, out.strings() - 1), last = random_.between(first, out.strings());
    std::string text;
    for (int s = last; s >= first; --s) {
      text += (text.empty() ? "" : " ") + std::to_string(s);
      out.capo.strings.push_back(s);
    }
    keys.add("strings", text);
    node.add("capo", std::move(keys));
  }

  void shapes(PartPlan& part) {
    const int count = random_.between(1, 5);
    for (int i = 0; i < count; ++i) shape(part);
  }

  void shape(PartPlan& part) {
    theory::Shape shape;
    const int at = random_.chance(65) ? 1 : random_.between(1, std::max(1, part.neck - 4));
    for (int i = 0; i < part.strings(); ++i) {
      const int least = std::max(at, part.first_stopped[static_cast<std::size_t>(part.strings() - i - 1)]);
      const int kind = random_.below(10);
      if (kind < 2) {
        shape.frets.emplace_back();
      } else if (kind < 5 || least > at + 3) {
        shape.frets.emplace_back(0);
      } else {
        shape.frets.emplace_back(std::min(part.neck, least + random_.below(3)));
      }
    }
    const auto sound = [&](const theory::Shape& s) {
      return theory::check_shape(s, part.tuning, part.capo, 0).empty();
    };
    if (!sound(shape)) return;
    Node node;
    std::string frets, fingers;
    theory::Shape held = shape;
    for (const auto& fret : shape.frets) {
      frets += (frets.empty() ? "" : " ") + (fret ? std::to_string(*fret) : "x");
      const int finger = fret && *fret > 0 ? std::clamp(*fret - shape.lowest_fret() + 1, 1, 4) : 0;
      held.fingers.push_back(static_cast<theory::Finger>(finger));
      fingers += (fingers.empty() ? "" : " ") + (finger > 0 ? std::to_string(finger) : std::string("."));
    }
    node.add("frets", Node::of_raw(frets));
    if (sound(held) && random_.chance(60)) node.add("fingers", Node::of_raw(fingers));
    std::vector<int> low;
    for (int s = part.strings(); s >= 1 && low.size() < 2; --s)
      if (shape.frets[shape.place_of(s)]) low.push_back(s);
    if (random_.chance(50)) {
      std::string thumb;
      for (const int s : low) thumb += (thumb.empty() ? "" : " ") + std::to_string(s);
      node.add("thumb", thumb);
    }
    if (random_.chance(20)) node.add("hand", words_.text(6));
    if (random_.chance(30)) ear(part, shape, node);
    node.add("part", part.name);
    if (random_.chance(12)) node.add("says", words_.text(20));
    if (random_.chance(10)) {
      node.add("from", "lesson");
      if (random_.chance(50)) node.add("instead of", words_.text(4));
    }
    part.shapes.push_back(words_.name());
    shape_nodes_.add(part.shapes.back(), std::move(node));
  }

  void ear(const PartPlan& part, const theory::Shape& shape, Node& node) {
    const auto names = theory::name_candidates(theory::sounding_midi(part.tuning, part.capo, shape));
    if (random_.chance(15) || names.empty()) {
      node.add("ear", random_.weighed<const char*>({{1, "C"}, {1, "F#m7"}, {1, "Bbsus4"}}));
    } else {
      node.add("ear", theory::print(names.front().name));
    }
  }

  void patterns(PartPlan& part) {
    const int count = random_.between(1, 2);
    for (int i = 0; i < count; ++i) {
      PatternPlan pattern{words_.name(), random_.chance(75) ? meter_ : "6/8", false, false};
      pattern.states_meter = pattern.meter != meter_ || random_.chance(40);
      const int bars = random_.chance(80) ? 1 : 2;
      Sheaf lanes(bars);
      for (int b = 0; b < bars; ++b) pattern_bar(part, plan_bar(pattern.meter), b, lanes);
      Node node;
      if (pattern.states_meter) node.add("meter", pattern.meter);
      if (random_.chance(15)) node.add("rings", "no");
      if (random_.chance(5)) node.add("says", words_.text(12));
      node.add("lanes", Node::of_lanes(lanes.take(random_)));
      pattern_nodes_.add(pattern.name, std::move(node));
      part.patterns.push_back(pattern);
    }
  }

  void pattern_bar(const PartPlan& part, const BarPlan& plan, int b, Sheaf& lanes) {
    const Grid grid = plan_grid(random_, plan);
    if (strummed_ < 0 || b == 0) strummed_ = random_.chance(40) ? 1 : 0;
    if (strummed_ == 1) {
      BarCells bar = blank(grid);
      for (int i = 0; i < cell_count(grid); ++i)
        if (i == 0 || random_.chance(65))
          cell_at(bar, i) =
              random_.weighed<const char*>({{5, "D"}, {4, "U"}, {1, "xD"}, {1, ">D"}, {1, "(U)"}, {1, "D~"}});
      drop_colons(random_, plan, bar);
      lanes.bar("strum", b) = bar;
      return;
    }
    const int strings = std::min(part.strings(), 3);
    std::vector<BarCells> rows(static_cast<std::size_t>(strings), blank(grid));
    for (int i = 0; i < cell_count(grid); ++i) {
      if (random_.chance(25)) continue;
      const int struck = random_.chance(85) ? 1 : 2;
      for (int k = 0; k < struck; ++k)
        cell_at(rows[static_cast<std::size_t>(random_.below(strings))], i) =
            random_.weighed<const char*>({{4, "i"}, {4, "m"}, {4, "a"}, {3, "o"}});
    }
    for (int s = 0; s < strings; ++s) lanes.bar(std::to_string(s + 1), b) = rows[static_cast<std::size_t>(s)];
    BarCells thumb = by_beat(plan);
    for (std::size_t i = 0; i < thumb.beats.size(); ++i)
      if (i == 0 || random_.chance(55)) thumb.beats[i][0] = random_.chance(90) ? "p" : ">p";
    lanes.bar("thumb", b) = thumb;
  }

  Random& random_;
  Words& words_;
  std::string meter_;
  std::vector<bool> scale_;
  theory::Key key_;
  Node& song_;
  std::vector<PartPlan> parts_;
  std::vector<std::pair<std::string, Node>> part_nodes_;
  Node shape_nodes_, pattern_nodes_;
  int strummed_ = -1;
};

}  // namespace

std::vector<PartPlan> make_parts(Tools tools, int count, const std::string& meter, const std::string& key, Node& song) {
  return PartMaker(tools, meter, key, song).make(count);
}

}  // namespace tunesheaf::generated

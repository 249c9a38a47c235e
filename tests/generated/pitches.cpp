// Lanes of pitches: melodies for voices, winds and bows, two hands for keys, and the words that are sung.
#include <algorithm>
#include <map>

#include "generated/plan.h"

namespace tunesheaf::generated {
namespace {

class PitchBars {
 public:
  PitchBars(Tools tools, const PartPlan& part, const std::vector<BarPlan>& bars, Sheaf& out)
      : random_(tools.random), words_(tools.words), part_(part), bars_(bars), out_(out) {}

  void play() {
    if (part_.family == theory::Family::Keyed && random_.chance(75)) {
      const int middle = std::clamp(60, part_.low, part_.high);
      line("right", std::max(part_.low, middle - 4), std::min(part_.high, middle + 20), 35);
      if (random_.chance(80)) line("left", std::max(part_.low, middle - 24), std::max(part_.low + 1, middle - 1), 25);
      if (random_.chance(30)) pedal();
    } else {
      line("notes", part_.low, part_.high,
           part_.family == theory::Family::Voice || part_.family == theory::Family::Wind ? 0 : 15);
    }
    spans();
  }

 private:
  const BarPlan& plan(int bar) const { return bars_[static_cast<std::size_t>(bar)]; }

  void line(const std::string& lane, int low, int high, int chords) {
    int at = random_.between(low, high);
    std::string sounding;
    bool sings = part_.family == theory::Family::Voice && random_.chance(75);
    const bool bows = part_.family == theory::Family::Bowed && random_.chance(35);
    for (int b = 0; b < static_cast<int>(bars_.size()); ++b) {
      if (b > 0 && !sings && !bows && plan(b).beats == plan(b - 1).beats && !out_.bar(lane, b - 1).beats.empty() &&
          out_.bar(lane, b - 1).beats.front().front() != "-" && !tied_ && random_.chance(8)) {
        out_.bar(lane, b) = one_cell("%");
        continue;
      }
      if (random_.chance(6)) {
        out_.bar(lane, b) = one_cell(".");
        sounding.clear();
        continue;
      }
      tied_ = false;
      const Grid grid = plan_grid(random_, plan(b));
      BarCells cells = blank(grid), lyric = blank(grid), bow = blank(grid);
      for (int i = 0; i < cell_count(grid); ++i) {
        if (i > 0 ? random_.chance(35) : random_.chance(8)) continue;
        if (random_.chance(8)) {
          cell_at(cells, i) = ".";
          sounding.clear();
          continue;
        }
        at = std::clamp(at + random_.between(-5, 5), low, high);
        if (random_.chance(90)) at = std::clamp(part_.near_key(at), low, high);
        std::string& cell = cell_at(cells, i);
        if (!sounding.empty() && random_.chance(6)) {
          cell = "-" + sounding;
          if (i == 0) tied_ = true;
          continue;
        }
        cell = sign(at, high, chords, sounding);
        // Without colons a bar's words are one cue.
        if (sings && (grid.size() > 1 || cell_count(grid) == 1)) cell_at(lyric, i) = words_.syllable();
        if (bows && random_.chance(70)) cell_at(bow, i) = random_.chance(50) ? "D" : "U";
      }
      if (!sings) drop_colons(random_, plan(b), cells);
      out_.bar(lane, b) = cells;
      if (sings && !lyric.silent()) out_.bar("lyric", b) = lyric;
      if (bows && !bow.silent()) out_.bar("bow", b) = bow;
    }
  }

  std::string name(int key) const { return pitch_name(key, part_.key); }

  std::string sign(int key, int high, int chords, std::string& sounding) {
    const std::string plain = name(key);
    sounding = plain;
    if (random_.chance(chords)) {
      int next = key;
      const int more = random_.weighed<int>({{5, 1}, {4, 2}, {1, 3}});
      for (int i = 0; i < more && next + 5 <= high; ++i) {
        next = part_.near_key(next + random_.weighed<int>({{4, 3}, {4, 4}, {2, 5}, {1, 2}}));
        if (name(next) != name(key)) sounding += "+" + name(next);
        key = next;
      }
      return accented(sounding);
    }
    if (random_.chance(80)) return accented(plain);
    const int above = part_.near_key(key + 2) == key ? key + 1 : part_.near_key(key + 2);
    switch (random_.below(8)) {
      case 0:
        sounding.clear();
        return "x";
      case 1:
        return "(" + plain + ")";
      case 2:
        if (part_.family != theory::Family::Bowed) return plain;
        sounding.clear();
        return "<" + plain + ">";
      case 3:
        return plain + "=";
      case 4:
        return plain + "tr" + name(above);
      case 5:
      case 6:
        return "g" + name(above) + "-" + plain;
      default:
        return "g" + name(above) + "+" + name(key == above ? key + 3 : above + 1) + "-" + plain;
    }
  }

  std::string accented(const std::string& name) {
    if (!random_.chance(10)) return name;
    if (random_.chance(50)) return random_.weighed<const char*>({{3, ">"}, {1, "^"}}) + name;
    return name + random_.weighed<const char*>({{3, "'"}, {3, "_"}, {1, "@"}});
  }

  void pedal() {
    for (int b = 0; b < static_cast<int>(bars_.size()); ++b) {
      BarCells bar = by_beat(plan(b));
      bar.beats.front().front() = b == 0 ? "on" : random_.weighed<const char*>({{5, "change"}, {1, "half"}, {2, "-"}});
      if (b + 1 == static_cast<int>(bars_.size()) && bar.beats.size() > 1) bar.beats.back().front() = ".";
      out_.bar("pedal", b) = bar;
    }
  }

  void spans() {
    static const std::vector<std::string> kAny{"slur",  "crescendo", "diminuendo", "8va",    "8vb",
                                               "trill", "vibrato",   "staccato",   "legato", "15ma",
                                               "15mb",  "fade in",   "fade out"};
    const int count = random_.weighed<int>({{55, 0}, {30, 1}, {15, 2}});
    for (int i = 0; i < count; ++i) {
      const std::string lane = random_.pick(kAny);
      add_span(random_, lane,
               lane == "vibrato" ? std::vector<std::string>{"on", "wide"} : std::vector<std::string>{"on"}, bars_,
               out_);
    }
  }

  Random& random_;
  Words& words_;
  const PartPlan& part_;
  const std::vector<BarPlan>& bars_;
  Sheaf& out_;
  bool tied_ = false;
};

}  // namespace

std::string pitch_name(int midi, const theory::Key& key) {
  return theory::print(theory::spell(midi, key));
}

void play_pitches(Tools tools, const PartPlan& part, const std::vector<BarPlan>& bars, Sheaf& out) {
  PitchBars(tools, part, bars, out).play();
}

}  // namespace tunesheaf::generated

// Lanes for strings: signs that are legal where they stand, shapes, patterns, strums, and lanes that mark them.
#include <algorithm>
#include <map>

#include "generated/plan.h"

namespace tunesheaf::generated {
namespace {

/// What sounds on a string, as far as a sign may lean on it.
struct Sounding {
  bool known = false;  ///< a plain stopped or open note
  bool quiet = true;   ///< nothing was struck here, or it was silenced
  int fret = 0;
  int bent = 0;       ///< as it sounds, in halves of a fret
  int not_next = -1;  ///< a slide goes on from here: the next note is another fret
};

std::string half_fret(int halves) {
  return std::to_string(halves / 2) + (halves % 2 == 0 ? "" : ".5");
}

class StringHand {
 public:
  StringHand(Random& random, const PartPlan& part) : random_(random), part_(part) { move(); }

  /// What sounds is no longer known; a string that was never struck in this section stays quiet, and one that slides on
  /// still slides to another fret.
  void forget() {
    for (auto& [string, sounding] : strings_) sounding = {false, sounding.quiet, 0, 0, sounding.not_next};
  }
  /// In an ending, and after bars written otherwise, any string may sound on from before.
  void sounds_on(int strings) {
    for (int s = 1; s <= strings; ++s) strings_[s] = {false, false, 0, 0, strings_[s].not_next};
  }
  bool slides_on(int string) const {
    const auto found = strings_.find(string);
    return found != strings_.end() && found->second.not_next >= 0;
  }
  void silence(int string) { strings_[string] = {}; }
  void move() {
    const int most = std::max(1, std::min(part_.neck - 4, random_.chance(80) ? 5 : 12));
    position_ = random_.between(1, most);
  }

  /// A sign for the string; `leans` is set when it needs the note before it.
  std::string sign(int string, bool& leans) {
    leans = false;
    Sounding& now = strings_[string];
    if (now.not_next >= 0) {
      const int fret = now.not_next == first(string) ? first(string) + 1 : first(string);
      now = {true, false, fret, 2 * fret, -1};
      leans = true;  // so that the bar is not repeated: the slide would then go to itself
      return std::to_string(fret);
    }
    const int fret = random_.chance(25) ? 0 : stopped(string);
    if (now.known && random_.chance(18)) {
      if (std::string typed = leaning(string, now); !typed.empty()) {
        leans = true;
        return typed;
      }
    }
    return struck(string, now, fret, leans);
  }

 private:
  int stopped(int string) const {
    const int least = std::max(position_, first(string));
    int fret = std::min(least + random_.below(4), std::max(part_.neck, least));
    // Most often a note of the key that lies under the hand.
    for (int tries = 0; tries < 6 && !in_key(string, fret); ++tries)
      fret = std::min(least + random_.below(5), std::max(part_.neck, least));
    return fret;
  }
  bool in_key(int string, int fret) const {
    const int key = theory::sounding_midi(part_.tuning, part_.capo, string, fret) - part_.page_capo;
    return part_.scale[static_cast<std::size_t>(((key % 12) + 12) % 12)];
  }
  int first(int string) const { return part_.first_stopped[static_cast<std::size_t>(string - 1)]; }
  bool on_neck(int string, int fret) const { return fret <= part_.neck && (fret == 0 || fret >= first(string)); }

  std::string leaning(int string, Sounding& now) {
    const int up = now.fret + random_.between(1, 4), down = now.fret - random_.between(1, 4);
    const auto go = [&](int fret, const std::string& typed) {
      now = {true, false, fret, 2 * fret, -1};
      return typed;
    };
    switch (random_.below(9)) {
      case 0:
      case 1:
        if (!on_neck(string, up)) return "";
        return go(up, "h" + std::to_string(up));
      case 2:
      case 3: {
        const int to = down > 0 && on_neck(string, down) ? down : 0;
        if (now.fret == 0) return "";
        return go(to, "p" + std::to_string(to));
      }
      case 4:
        if (now.fret == 0 || !on_neck(string, up)) return "";
        return go(up, "/" + std::to_string(up));
      case 5:
        if (now.fret == 0 || down < 1 || !on_neck(string, down)) return "";
        return go(down, "\\" + std::to_string(down));
      case 6:
        if (now.bent != 2 * now.fret) return "";
        return "-" + std::to_string(now.fret);
      case 7:
        return random_.chance(70) ? "~" : "~~";
      default:
        return bend_on(now);
    }
  }

  std::string bend_on(Sounding& now) {
    if (now.fret == 0) return "";
    if (now.bent > 2 * now.fret) {
      now.bent = 2 * now.fret;
      return "r" + std::to_string(now.fret);
    }
    now.bent = 2 * now.fret + random_.between(1, 4);
    return "b" + half_fret(now.bent);
  }

  std::string struck(int string, Sounding& now, int fret, bool& leans) {
    const std::string plain = std::to_string(fret);
    const bool quiet = now.quiet;
    const auto keep = [&](const std::string& typed) {
      now = {true, false, fret, 2 * fret, -1};
      return typed;
    };
    const auto end = [&](const std::string& typed) {
      now = {false, false, 0, 0, -1};
      return typed;
    };
    if (random_.chance(72)) return keep(accented(plain));
    const int kind = random_.between(44, 99);
    if (kind < 50) return keep(accented(plain));
    if (kind < 54) return end("x");
    if (kind < 57) return keep("(" + plain + ")");
    if (kind < 68 && fret > 0) return bent(now, fret);
    if (kind < 72) return keep(plain + (random_.chance(70) ? "~" : "~~"));
    if (kind < 75 && fret > 0) {
      const bool on = random_.chance(50);
      keep(plain);
      if (on) now.not_next = fret;
      leans = on;
      return plain + (on ? "/" : "\\");
    }
    if (kind < 78) return harmonic(string, now, fret);
    if (kind < 81) return keep("t" + std::to_string(fret = std::max(fret, stopped(string))));
    if (kind < 83 && on_neck(string, fret + 2))
      return keep(plain + "tr" + std::to_string(fret + random_.between(1, 2)));
    if (kind < 85) return keep(plain + "=");
    if (kind < 90) return grace(string, now, fret);
    if (kind < 92 && fret > 0 && quiet) {
      leans = true;
      return keep((random_.chance(50) ? "/" : "\\") + plain);
    }
    if (kind < 94 && fret > 0 && quiet) {
      leans = true;
      return keep("h" + plain);
    }
    return keep(plain);
  }

  std::string accented(const std::string& plain) {
    if (!random_.chance(9)) return plain;
    if (random_.chance(45)) return random_.weighed<const char*>({{4, ">"}, {1, "^"}}) + plain;
    return plain + random_.weighed<const char*>({{3, "^"}, {3, "'"}, {3, "_"}, {1, "@"}, {1, ">'"}});
  }

  std::string bent(Sounding& now, int fret) {
    const int to = 2 * fret + random_.weighed<int>({{10, 4}, {6, 2}, {3, 1}, {2, 3}, {1, 6}});
    const std::string plain = std::to_string(fret), high = half_fret(to);
    now = {true, false, fret, to, -1};
    switch (random_.below(6)) {
      case 0:
        now.bent = 2 * fret;
        return plain + "b" + high + "r" + plain;
      case 1:
        return plain + "pb" + high;
      case 2:
        now.bent = 2 * fret;
        return plain + "pb" + high + "r" + plain;
      case 3:
        return plain + "b" + high + "~";
      default:
        return plain + "b" + high;
    }
  }

  std::string harmonic(int string, Sounding& now, int fret) {
    now = {false, false, 0, 0, -1};
    const std::string plain = std::to_string(fret);
    if (first(string) > 1) return fret > 0 ? plain + "<>" : plain;  // a short string has its nodes elsewhere
    switch (random_.below(4)) {
      case 0:
        if (fret > 0) return plain + "<>";
        [[fallthrough]];
      case 1:
        if (fret > 0)
          return plain + "<" + (random_.chance(30) ? "t" : "") + std::to_string(fret + random_.pick(nodes())) + ">";
        [[fallthrough]];
      default:
        return "<" + std::to_string(random_.pick(nodes())) + ">";
    }
  }
  static const std::vector<int>& nodes() {
    static const std::vector<int> kNodes{12, 12, 12, 7, 5, 19, 9, 4};
    return kNodes;
  }

  std::string grace(int string, Sounding& now, int fret) {
    now = {true, false, fret, 2 * fret, -1};
    const std::string plain = std::to_string(fret);
    const int below = fret - random_.between(1, 2), above = fret + random_.between(1, 2);
    switch (random_.below(4)) {
      case 0:
        if (below >= 0 && on_neck(string, below)) return "g" + std::to_string(below) + "h" + plain;
        [[fallthrough]];
      case 1:
        if (on_neck(string, above)) return "g" + std::to_string(above) + "p" + plain;
        [[fallthrough]];
      case 2:
        if (fret > 0 && on_neck(string, above)) return "g" + std::to_string(above) + "\\" + plain;
        [[fallthrough]];
      default:
        if (fret > 0 && on_neck(string, above)) return "g" + plain + "h" + std::to_string(above) + "p" + plain;
        return plain;
    }
  }

  Random& random_;
  const PartPlan& part_;
  std::map<int, Sounding> strings_;
  int position_ = 1;
};

const std::vector<std::string> kPluckers{"p", "i", "m", "a", "i", "m"};

class StringBars {
 public:
  StringBars(Tools tools, const PartPlan& part, const std::vector<BarPlan>& bars, Sheaf& out)
      : random_(tools.random), part_(part), bars_(bars), out_(out), hand_(tools.random, part) {
    if (tools.ending) hand_.sounds_on(part.strings());
  }

  void play() {
    const int count = static_cast<int>(bars_.size());
    for (int from = 0; from < count;) {
      const int to = std::min(count, from + random_.between(1, 6));
      hand_.forget();
      stretch(from, to);
      from = to;
    }
    settle();
    spans();
  }

 private:
  const BarPlan& plan(int bar) const { return bars_[static_cast<std::size_t>(bar)]; }

  void stretch(int from, int to) {
    const bool shapes = !part_.shapes.empty();
    if (from > 0) hand_.sounds_on(part_.strings());
    const int kind = random_.weighed<int>(
        {{40, 0}, {12, 1}, {shapes ? 16 : 0, 2}, {shapes ? 16 : 0, 3}, {shapes ? 8 : 0, 4}, {4, 5}});
    std::vector<PatternPlan> fitting;
    for (const PatternPlan& pattern : part_.patterns) {
      const bool fits = std::all_of(bars_.begin() + from, bars_.begin() + to, [&](const BarPlan& bar) {
        return bar.meter == pattern.meter && length_of(bar) == length_of(plan_bar(pattern.meter));
      });
      if (pattern.states_meter || fits) fitting.push_back(pattern);
    }
    if (kind == 2 && !fitting.empty()) return patterned(from, to, random_.pick(fitting));
    if (patterned_before_) out_.bar("pattern", from) = one_cell(".");
    patterned_before_ = false;
    if (kind == 1) return single_line(from, to);
    if (kind == 3 || kind == 5) {
      if (kind == 3) hold_shapes(from, to);
      return strummed(from, to);
    }
    if (kind == 4) {
      hold_shapes(from, to);
      return plucked(from, to);
    }
    written(from, to);
  }

  /// What comes after the last bar is not known here: nothing slides on to it.
  void settle() {
    for (int string = 1; string <= part_.strings(); ++string) {
      if (!hand_.slides_on(string)) continue;
      for (const std::string& lane : {std::to_string(string), "thumb " + std::to_string(string)}) settle(lane);
    }
  }
  void settle(const std::string& lane) {
    if (out_.has(lane)) {
      for (int b = static_cast<int>(bars_.size()) - 1; b >= 0; --b) {
        std::string* last = nullptr;
        for (auto& beat : out_.bar(lane, b).beats)
          for (std::string& cell : beat)
            if (cell.find_first_of("0123456789") != std::string::npos) last = &cell;
        if (last == nullptr) continue;
        if (last->back() == '/') last->pop_back();
        break;
      }
    }
  }

  void hold_shapes(int from, int to) {
    for (int b = from; b < to; ++b) {
      if (b > from && random_.chance(35)) continue;
      BarCells bar = by_beat(plan(b));
      bar.beats.front().front() = random_.pick(part_.shapes);
      if (bar.beats.size() > 2 && random_.chance(20)) bar.beats[bar.beats.size() / 2][0] = random_.pick(part_.shapes);
      if (std::count_if(bar.beats.begin(), bar.beats.end(), [](const auto& beat) { return beat[0] != "-"; }) == 1)
        bar = one_cell(bar.beats.front().front());
      out_.bar("shape", b) = bar;
    }
  }

  void patterned(int from, int to, const PatternPlan& pattern) {
    hold_shapes(from, to);
    out_.bar("pattern", from) = one_cell(pattern.name);
    for (int b = from + 1; b < to; ++b)
      if (random_.chance(50)) out_.bar("pattern", b) = one_cell(pattern.name);
    patterned_before_ = true;
  }

  void strummed(int from, int to) {
    for (int b = from; b < to; ++b) {
      if (b > from && plan(b).beats == plan(b - 1).beats && random_.chance(35)) {
        out_.bar("strum", b) = one_cell("%");
        continue;
      }
      BarCells bar = blank(plan_grid(random_, plan(b)));
      bool first = true;
      for (auto& beat : bar.beats)
        for (std::string& cell : beat) {
          if (first || random_.chance(60)) cell = stroke();
          first = false;
        }
      drop_colons(random_, plan(b), bar);
      out_.bar("strum", b) = bar;
    }
  }

  std::string stroke() {
    if (random_.chance(5)) return ".";
    std::string typed = random_.weighed<const char*>({{50, "D"}, {30, "U"}, {6, "x"}, {5, "xD"}, {4, "xU"}});
    const int strings = part_.strings();
    if (typed != "x" && strings > 2 && random_.chance(12)) {
      const int a = random_.between(1, strings), b = random_.between(1, strings);
      typed += typed.back() == 'D' ? std::to_string(std::max(a, b)) + "-" + std::to_string(std::min(a, b))
                                   : std::to_string(std::min(a, b)) + "-" + std::to_string(std::max(a, b));
    }
    if (typed.find('x') == std::string::npos && random_.chance(8)) typed += random_.chance(50) ? "~" : "/";
    if (random_.chance(6)) return "(" + typed + ")";
    if (random_.chance(12)) return random_.weighed<const char*>({{3, ">"}, {1, "^"}}) + typed;
    if (random_.chance(8)) typed += random_.weighed<const char*>({{2, "'"}, {2, "_"}, {1, "@"}});
    return typed;
  }

  /// Strings of the shape, by picking finger or by `o`.
  void plucked(int from, int to) {
    const std::vector<int> strings = some_strings(4);
    for (int b = from; b < to; ++b) {
      const Grid grid = plan_grid(random_, plan(b));
      std::map<int, BarCells> cells;
      for (const int string : strings) cells[string] = blank(grid);
      for (int i = 0; i < cell_count(grid); ++i) {
        if (i > 0 && random_.chance(30)) continue;
        cell_at(cells[random_.pick(strings)], i) = random_.chance(60) ? "o" : random_.pick(kPluckers);
      }
      for (const int string : strings) out_.bar(std::to_string(string), b) = cells[string];
    }
  }

  std::vector<int> some_strings(int most) {
    const int count = std::min(part_.strings(), random_.between(1, most));
    const int first = random_.between(1, part_.strings() - count + 1);
    std::vector<int> out;
    for (int i = 0; i < count; ++i) out.push_back(first + i);
    return out;
  }

  void single_line(int from, int to) {
    const std::vector<int> strings = some_strings(3);
    for (int b = from; b < to; ++b) {
      if (random_.chance(50)) hand_.move();
      const Grid grid = plan_grid(random_, plan(b));
      BarCells numbers = blank(grid), frets = blank(grid);
      for (int i = 0; i < cell_count(grid); ++i) {
        if (i > 0 && random_.chance(35)) continue;
        if (i > 0 && random_.chance(6)) {
          cell_at(frets, i) = ".";
          hand_.forget();
          continue;
        }
        const int string = random_.pick(strings);
        bool leans = false;
        cell_at(frets, i) = hand_.sign(string, leans);
        cell_at(numbers, i) = std::to_string(string);
      }
      out_.bar("string", b) = numbers;
      out_.bar("fret", b) = frets;
    }
  }

  void written(int from, int to) {
    std::vector<int> strings = some_strings(4);
    std::vector<int> thumbs;
    if (strings.back() < part_.strings() && random_.chance(35))
      for (int s = strings.back() + 1; s <= std::min(part_.strings(), strings.back() + 2); ++s) thumbs.push_back(s);
    const bool marks = random_.chance(40);
    const std::string marking =
        marks ? random_.weighed<const char*>({{4, "pluck"}, {3, "pick"}, {4, "finger"}, {part_.arm ? 1 : 0, "arm"}})
              : "";
    for (int b = from; b < to; ++b) {
      if (b > from && repeatable_ && plan(b).beats == plan(b - 1).beats && random_.chance(12)) {
        for (const int string : strings) out_.bar(std::to_string(string), b) = one_cell("%");
        for (const int string : thumbs) out_.bar("thumb " + std::to_string(string), b) = one_cell("%");
        continue;
      }
      if (random_.chance(50)) hand_.move();
      written_bar(b, strings, thumbs, marking);
    }
    repeatable_ = false;
  }

  void written_bar(int b, const std::vector<int>& strings, const std::vector<int>& thumbs, const std::string& marking) {
    repeatable_ = true;
    const Grid grid = plan_grid(random_, plan(b));
    std::map<int, BarCells> cells;
    for (const int string : strings) cells[string] = blank(grid);
    BarCells marks = blank(grid);
    bool any_mark = false;
    for (int i = 0; i < cell_count(grid); ++i) {
      if (i > 0 ? random_.chance(40) : random_.chance(15)) continue;
      if (random_.chance(4)) {
        for (const int string : strings) {
          cell_at(cells[string], i) = ".";
          hand_.silence(string);
        }
        continue;
      }
      const int most = static_cast<int>(strings.size());
      const int struck = random_.chance(75) ? 1 : random_.between(1, most);
      const int first = random_.below(most - struck + 1);
      bool any_struck = false;
      for (int k = 0; k < struck; ++k) {
        const int string = strings[static_cast<std::size_t>(first + k)];
        bool leans = false;
        cell_at(cells[string], i) = hand_.sign(string, leans);
        if (leans) repeatable_ = false;
        any_struck = any_struck || !leans;
      }
      if (!marking.empty() && any_struck && random_.chance(75)) {
        cell_at(marks, i) = mark(marking, struck);
        any_mark = true;
      }
    }
    for (const int string : strings) {
      drop_colons(random_, plan(b), cells[string]);
      out_.bar(std::to_string(string), b) = cells[string];
    }
    if (any_mark) out_.bar(marking, b) = marks;
    thumb_bar(b, thumbs);
  }

  std::string mark(const std::string& lane, int struck) {
    if (lane == "pick") return random_.chance(60) ? "D" : "U";
    if (lane == "finger")
      return struck == 1 && random_.chance(4) ? "T"
             : struck == 1                    ? std::to_string(random_.between(1, 4))
             : struck == 2                    ? "1+3"
                                              : "1+2+3";
    if (lane == "arm")
      return random_.weighed<const char*>(
          {{3, "dip2"}, {2, "dive5"}, {2, "up2"}, {2, "scoop"}, {3, "~"}, {1, "dip0.5"}, {2, "back"}});
    if (struck == 1) return (random_.chance(8) ? ">" : "") + random_.pick(kPluckers);
    return struck == 2 ? random_.weighed<const char*>({{2, "i+m"}, {2, "m+a"}}) : "p+i+m";
  }

  void thumb_bar(int b, const std::vector<int>& thumbs) {
    if (thumbs.empty()) return;
    const Grid grid(plan(b).beats.size(), random_.chance(80) ? 1 : 2);
    std::map<int, BarCells> cells;
    for (const int string : thumbs) cells[string] = blank(grid);
    for (int i = 0; i < cell_count(grid); ++i) {
      if (i > 0 && random_.chance(50)) continue;
      const int string = random_.pick(thumbs);
      bool leans = false;
      cell_at(cells[string], i) = hand_.sign(string, leans);
      if (leans) repeatable_ = false;
    }
    for (const int string : thumbs) out_.bar("thumb " + std::to_string(string), b) = cells[string];
  }

  void spans() {
    static const std::vector<std::string> kFretted{
        "palm mute",    "half palm mute", "let ring", "slur",     "8va",        "8vb",     "wah",
        "volume swell", "fade in",        "fade out", "feedback", "rake",       "vibrato", "tremolo picking",
        "barre",        "staccato",       "legato",   "slide",    "distortion", "trill",   "harmonics"};
    static const std::vector<std::string> kBowed{
        "pizzicato", "snap pizzicato", "with mute", "near the bridge", "over the neck",
        "slur",      "staccato",       "legato",    "vibrato",         "8va"};
    const int count = random_.weighed<int>({{50, 0}, {30, 1}, {15, 2}, {5, 3}});
    for (int i = 0; i < count; ++i) {
      const std::string lane = random_.pick(part_.family == theory::Family::Bowed ? kBowed : kFretted);
      const std::vector<std::string> words = words_of_lane(lane);
      if (words.empty()) continue;
      add_span(random_, lane, words, bars_, out_);
    }
  }

  Random& random_;
  const PartPlan& part_;
  const std::vector<BarPlan>& bars_;
  Sheaf& out_;
  StringHand hand_;
  bool patterned_before_ = false, repeatable_ = false;
};

}  // namespace

void play_strings(Tools tools, const PartPlan& part, const std::vector<BarPlan>& bars, Sheaf& out) {
  StringBars(tools, part, bars, out).play();
}

}  // namespace tunesheaf::generated

// What all players share: chords, hits, words, counts, loudness, tempo, holds.
#include "generated/plan.h"

namespace tunesheaf::generated {
namespace {

const std::vector<std::string> kChords{
    "C",    "Am", "F",  "G7",    "Dm7",  "Cmaj7", "Bb", "Em",  "F#m7b5", "Ebmaj7", "Asus4", "D/F#",  "G7sus4",
    "E7#9", "Bm", "C5", "Gadd9", "Caug", "Bdim7", "A",  "Fm6", "Db9",    "Ab13",   "C6/9",  "Gsus2", "Abmaj7/Eb"};
const std::vector<std::string> kLoud{"p", "mp", "mf", "f", "ff", "pp", "sfz", "fp", "ppp", "fff"};
const std::vector<std::string> kTempos{"a tempo", "hold back",        "slower 80", "quarter = 132", "dotted quarter 60",
                                       "rit.",    "a little quicker", "half 66",   "freely"};

class Chart {
 public:
  Chart(Tools tools, const std::vector<BarPlan>& bars, bool plays, Sheaf& out)
      : random_(tools.random), words_(tools.words), bars_(bars), plays_(plays), out_(out) {}

  void write() {
    if (random_.chance(plays_ ? 55 : 90)) chords();
    if (random_.chance(35)) at_beats("dynamics", 25, [&] { return random_.pick(kLoud); });
    if (random_.chance(20)) at_beats("tempo", 12, [&] { return random_.pick(kTempos); });
    if (random_.chance(15))
      at_beats("hold", 8, [&] { return random_.chance(60) ? std::string("@") : random_.pick(words_of_lane("hold")); });
    if (random_.chance(20)) at_beats("say", 12, [&] { return said(); });
    if (random_.chance(plays_ ? 3 : 30)) hits();
    if (random_.chance(plays_ ? 12 : 40)) lyric();
    if (random_.chance(4)) count();
    if (random_.chance(5)) out_.bar("from", random_.below(static_cast<int>(bars_.size()))) = one_cell("lesson");
    if (random_.chance(14))
      add_span(
          random_,
          random_.weighed<const char*>({{3, "crescendo"}, {3, "diminuendo"}, {2, "ritardando"}, {1, "accelerando"}}),
          {"on"}, bars_, out_);
  }

 private:
  template <class Make>
  void at_beats(const std::string& lane, int percent, const Make& make) {
    for (int b = 0; b < static_cast<int>(bars_.size()); ++b) {
      if (!random_.chance(percent)) continue;
      BarCells bar = by_beat(bars_[static_cast<std::size_t>(b)]);
      bar.beats[static_cast<std::size_t>(random_.chance(60) ? 0 : random_.below(static_cast<int>(bar.beats.size())))]
               [0] = make();
      out_.bar(lane, b) = bar;
    }
  }

  std::string said() {
    std::string text = words_.text(6);
    std::string out = "\"";
    for (const char c : text)
      if (c != '"') out += c;
    return out + "\"";
  }

  void chords() {
    for (int b = 0; b < static_cast<int>(bars_.size()); ++b) {
      if (random_.chance(25)) continue;
      BarCells bar = by_beat(bars_[static_cast<std::size_t>(b)]);
      for (std::size_t i = 0; i < bar.beats.size(); ++i)
        if (i == 0 || random_.chance(20)) bar.beats[i][0] = random_.chance(4) ? "N.C." : random_.pick(kChords);
      if (random_.chance(6)) bar.beats.back() = {"-", random_.pick(kChords)};
      out_.bar("chords", b) = bar;
    }
  }

  void hits() {
    for (int b = 0; b < static_cast<int>(bars_.size()); ++b) {
      if (random_.chance(50)) continue;
      BarCells bar = blank(plan_grid(random_, bars_[static_cast<std::size_t>(b)]));
      for (auto& beat : bar.beats)
        for (std::string& cell : beat)
          if (random_.chance(50))
            cell = random_.weighed<const char*>({{5, "x"}, {2, ">x"}, {1, "(x)"}, {1, "x'"}, {1, "."}});
      out_.bar("hits", b) = bar;
    }
  }

  void lyric() {
    for (int b = 0; b < static_cast<int>(bars_.size()); ++b) {
      if (random_.chance(40)) continue;
      BarCells bar = by_beat(bars_[static_cast<std::size_t>(b)]);
      for (auto& beat : bar.beats)
        if (random_.chance(70)) beat[0] = words_.syllable();
      out_.bar("lyric", b) = bar;
    }
  }

  void count() {
    BarCells bar = by_beat(bars_.front());
    for (std::size_t i = 0; i < bar.beats.size(); ++i) bar.beats[i] = {std::to_string(i + 1), "&"};
    out_.bar("count", 0) = bar;
  }

  Random& random_;
  Words& words_;
  const std::vector<BarPlan>& bars_;
  bool plays_;
  Sheaf& out_;
};

}  // namespace

void write_chart(Tools tools, const std::vector<BarPlan>& bars, bool plays, Sheaf& out) {
  Chart(tools, bars, plays, out).write();
}

}  // namespace tunesheaf::generated

#include "generated/song.h"

#include <algorithm>

#include "generated/plan.h"

namespace tunesheaf::generated {
namespace {

const char* any_meter(Random& random) {
  return random.weighed<const char*>(
      {{30, "4/4"},        {15, "3/4"},    {6, "2/4"}, {5, "2/2"},       {12, "6/8"},        {4, "9/8"},
       {5, "12/8"},        {3, "3/8"},     {3, "5/4"}, {3, "5/4 (3+2)"}, {4, "7/8 (2+2+3)"}, {3, "5/8 (3+2)"},
       {2, "8/8 (3+3+2)"}, {2, "7/4"},     {2, "3/2"}, {1, "4/2"},       {1, "6/4"},         {1, "11/8 (3+3+3+2)"},
       {2, "C"},           {1, "3+2+2/8"}, {1, "6/16"}});
}

const std::vector<std::string> kKeys{"C major",  "G major",    "D minor",  "F# minor", "Bb major", "E minor",
                                     "A dorian", "Eb major",   "B major",  "Gb major", "C# minor", "D mixolydian",
                                     "A major",  "E phrygian", "F lydian", "Ab minor", "D major",  "A minor"};

const char* any_tempo(Random& random) {
  return random.weighed<const char*>({{4, "96"},
                                      {3, "120"},
                                      {2, "72"},
                                      {2, "dotted quarter 60"},
                                      {2, "half 88"},
                                      {1, "slowly 54"},
                                      {1, "lively, quarter = 144"},
                                      {1, "eighth 200"}});
}

const char* any_feel(Random& random) {
  return random.weighed<const char*>(
      {{4, "straight"}, {4, "swing"}, {2, "swing 2:1"}, {1, "swing 3:2"}, {1, "swing 16ths 3:2"}});
}

class SongMaker {
 public:
  SongMaker(std::uint64_t seed, Size size)
      : random_(seed), more_(~seed), start_(seed * 31 + 7), words_(random_), size_(size) {}

  Node make() {
    heading();
    if (!random_.chance(5)) {
      const int parts = size_ == Size::Small ? 1 : random_.weighed<int>({{45, 1}, {35, 2}, {15, 3}, {5, 5}});
      parts_ = make_parts({random_, words_}, parts, meter_, key_, song_);
    }
    start();
    sections();
    return std::move(song_);
  }

 private:
  void heading() {
    song_.add("song", words_.title());
    if (random_.chance(70)) song_.add("by", words_.text(5));
    if (random_.chance(50)) song_.add("lesson", "lesson " + std::to_string(random_.between(1, 99)));
    if (random_.chance(40))
      song_.add("revision",
                random_.chance(70) ? "2026-0" + std::to_string(random_.between(1, 9)) + "-11" : "third print");
    if (random_.chance(40))
      song_.add("video", Node::of_raw("https://example.org/lessons/" + std::to_string(random_.below(1000))));
    if (random_.chance(40)) song_.add("credits", words_.text(25));
    if (words_.language() != "en" || random_.chance(50)) song_.add("language", words_.language());
    if (random_.chance(50)) song_.add("about", words_.text(90));
    if (random_.chance(5)) song_.add("style", "house");
    if (random_.chance(80)) song_.add("key", key_ = random_.pick(kKeys));
    meter_ = any_meter(random_);
    if (meter_ != "4/4" || random_.chance(80)) song_.add("meter", meter_);
    if (random_.chance(80)) song_.add("tempo", any_tempo(random_));
    if (random_.chance(30)) song_.add("feel", any_feel(random_));
    if (random_.chance(30)) recordings();
  }

  /// Who counts in, and in a song for one player who starts.
  void start() {
    if (start_.chance(15)) {
      const bool nobody = parts_.empty() || start_.chance(20);
      song_.add("counts in", nobody ? "nobody" : start_.pick(parts_).name);
    }
    if (parts_.size() == 1 && start_.chance(15)) song_.add("starts", parts_.front().name);
  }

  void recordings() {
    Node all;
    const int count = random_.between(1, 3);
    for (int i = 0; i < count; ++i) {
      Node node;
      node.add("sounds", random_.weighed<const char*>(
                             {{3, "+18 cents"}, {3, "-2 semitones"}, {2, "A4 = 442"}, {1, "-35 cents"}}));
      if (random_.chance(40)) node.add("tempo", any_tempo(random_));
      if (random_.chance(20)) node.add("key", random_.pick(kKeys));
      if (random_.chance(30)) node.add("note", words_.text(12));
      recordings_.push_back(words_.name());
      all.add(recordings_.back(), std::move(node));
    }
    song_.add("recordings", std::move(all));
  }

  int section_bars() {
    if (size_ == Size::Small) return random_.between(1, 3);
    if (size_ == Size::Large) return random_.between(4, 16);
    return random_.weighed<int>(
        {{50, random_.between(2, 6)}, {35, random_.between(4, 8)}, {10, random_.between(8, 16)}, {5, 1}});
  }

  void sections() {
    const int count = size_ == Size::Small   ? random_.between(1, 2)
                      : size_ == Size::Large ? random_.between(4, 6)
                                             : random_.weighed<int>({{35, 2}, {30, 3}, {20, 4}, {10, 5}, {5, 6}});
    if (random_.chance(15)) {
      song_pick_up_ = some_pick_up(plan_bar(meter_));
      song_.add("pick-up", song_pick_up_);
    }
    Node all;
    for (int i = 0; i < count; ++i) {
      const std::string name = i + 1 == count && random_.chance(15) ? "coda" : words_.name();
      Node node = i > 0 && random_.chance(15) ? alike() : section(i == 0);
      names_.push_back(name);
      plans_.back().name = name;
      all.add(name, std::move(node));
    }
    song_.add("sections", std::move(all));
    form();
  }

  static std::string some_pick_up(Random& random, const BarPlan& bar) {
    if (bar.beats.size() < 2) return "1/16";
    if (bar.beats.front() >= Fraction(1, 4) && random.chance(40)) return "1/8";
    return bar.beats.size() > 3 && random.chance(25) ? "2 beats" : "1 beat";
  }
  std::string some_pick_up(const BarPlan& bar) { return some_pick_up(random_, bar); }

  static Fraction pick_up_length(const std::string& text, const BarPlan& bar) {
    if (text == "1/8") return Fraction(1, 8);
    if (text == "1/16") return Fraction(1, 16);
    Fraction length = bar.beats.back();
    if (text == "2 beats") length += bar.beats[bar.beats.size() - 2];
    return length;
  }

  Node section(bool first) {
    Node node;
    SectionPlan plan;
    std::string meter = meter_;
    if (random_.chance(10)) node.add("letter", random_.weighed<const char*>({{3, "B"}, {2, "Q"}, {1, "12"}}));
    times_of_day(node);
    if (random_.chance(30)) node.add("says", words_.text(40));
    if (random_.chance(15)) {
      meter = any_meter(random_);
      node.add("meter", meter);
    }
    if (random_.chance(15)) node.add("key", random_.pick(kKeys));
    if (random_.chance(12)) node.add("tempo", any_tempo(random_));
    if (random_.chance(8)) node.add("feel", any_feel(random_));
    if (random_.chance(8)) node.add("rings", "yes");
    if (random_.chance(8)) node.add("from", "lesson");
    if (random_.chance(5)) node.add("instead of", words_.text(6));
    std::string pick_up = first ? song_pick_up_ : "";
    if (!first && random_.chance(8)) {
      pick_up = some_pick_up(plan_bar(meter));
      node.add("pick-up", pick_up);
    } else if (first && !pick_up.empty() && meter != meter_) {
      pick_up = some_pick_up(plan_bar(meter));
      node.add("pick-up", pick_up);
    }
    plan_bars(plan, meter, pick_up);
    play(plan, node);
    remarks(plan, node);
    plans_.push_back(plan);
    return node;
  }

  void plan_bars(SectionPlan& plan, const std::string& meter, const std::string& pick_up) {
    const int count = std::max(section_bars(), pick_up.empty() ? 1 : 2);
    const bool changes = random_.chance(10);
    std::string now = meter;
    for (int b = 0; b < count; ++b) {
      if (b > 0 && changes && random_.chance(25)) now = random_.chance(40) ? meter : any_meter(random_);
      plan.bars.push_back(plan_bar(now));
      if (b == 0 && !pick_up.empty())
        plan.bars.back() = tail(plan.bars.back(), pick_up_length(pick_up, plan.bars.back()));
    }
  }

  void times_of_day(Node& node) {
    const auto clock = [](int seconds) {
      return Node::of_raw(std::to_string(seconds / 60) + ":" + (seconds % 60 < 10 ? "0" : "") +
                          std::to_string(seconds % 60));
    };
    if (random_.chance(40)) node.add("video", clock(video_ += random_.between(10, 90)));
    if (recordings_.empty() || !random_.chance(50)) return;
    at_ += random_.between(8, 60);
    if (random_.chance(60)) {
      node.add("at", clock(at_));
      return;
    }
    Node all;
    for (const std::string& name : recordings_) all.add(name, clock(at_));
    node.add("at", std::move(all));
  }

  /// The lanes of all parts and the chart over some bars.
  void fill(const std::vector<BarPlan>& bars, Node& node, std::vector<std::string>* players) {
    const bool ending = players == nullptr;
    const int count = static_cast<int>(bars.size());
    bool plays = false;
    std::vector<std::pair<std::string, LaneBlock>> blocks;
    for (const PartPlan& part : parts_) {
      if (random_.chance(12)) continue;
      Sheaf lanes(count);
      play_part({random_, words_, ending}, part, bars, lanes);
      if (lanes.empty()) continue;
      add_more(more_, part, bars, lanes);
      blocks.emplace_back(part.name, lanes.take(random_));
      if (players != nullptr) players->push_back(part.name);
      plays = true;
    }
    if (!ending) add_cues(more_, parts_, bars, blocks);
    Sheaf chart(count);
    for (int b = 1; b < count; ++b)
      if (bars[static_cast<std::size_t>(b)].meter != bars[static_cast<std::size_t>(b - 1)].meter)
        chart.bar("meter", b) = one_cell(bars[static_cast<std::size_t>(b)].meter);
    if (!ending || random_.chance(60)) write_chart({random_, words_}, bars, plays, chart);
    if (random_.chance(5) && plays && count > 1)
      chart.bar("key", random_.between(1, count - 1)) = one_cell(random_.pick(kKeys));
    if (!plays && chart.empty()) chart.bar("chords", 0) = one_cell("Am7");
    if (!chart.empty()) node.add("chart", Node::of_lanes(chart.take(random_)));
    for (auto& [name, block] : blocks) {
      if (random_.chance(6)) {
        Node keys;
        keys.add("rings", "yes");
        keys.add("lanes", Node::of_lanes(std::move(block)));
        node.add(name, std::move(keys));
      } else {
        node.add(name, Node::of_lanes(std::move(block)));
      }
    }
  }

  void play(SectionPlan& plan, Node& node) {
    const int kind = random_.weighed<int>({{60, 0}, {12, 1}, {12, 2}, {6, 3}, {10, 4}});
    if (kind == 1) {
      plan.times = random_.weighed<int>({{8, 2}, {2, 3}, {1, 4}});
      node.add("times", std::to_string(plan.times));
    } else if (kind == 2 || kind == 3) {
      plan.times = kind == 2 ? 2 : random_.between(3, 4);
      node.add("times", std::to_string(plan.times));
    } else if (kind == 4 && random_.chance(60)) {
      Node keys;
      keys.add("until", words_.text(6));
      keys.add("about", std::to_string(random_.between(2, 5)));
      plan.times = 2;
      node.add("times", std::move(keys));
    }
    fill(plan.bars, node, &plan.players);
    if (kind != 2 && kind != 3) return;
    Node endings;
    const BarPlan& last = plan.bars.back();
    const std::vector<BarPlan> bars(static_cast<std::size_t>(random_.weighed<int>({{70, 1}, {30, 2}})),
                                    plan_bar(last.meter));
    Node first, second;
    fill(bars, first, nullptr);
    fill({plan_bar(last.meter)}, second, nullptr);
    for (Node* ending : {&first, &second}) keep_tunings(node, *ending);
    const std::string most = std::to_string(plan.times), before = std::to_string(plan.times - 1);
    endings.add(kind == 2 ? "1" : "1-" + before, std::move(first));
    endings.add(most, std::move(second));
    node.add("endings", std::move(endings));
  }

  static LaneBlock* lanes_of(Node* part) {
    if (part == nullptr || part->kind == Node::Kind::Lanes) return part == nullptr ? nullptr : &part->lanes;
    Node* within = part->find("lanes");
    return within == nullptr ? nullptr : &within->lanes;
  }
  static bool retunes(const LaneRow& row) { return row.name == "retune"; }

  /// Bars that say no tuning would be come to in another one after an ending that does.
  static void keep_tunings(Node& body, Node& ending) {
    for (auto& [name, part] : ending.keys) {
      LaneBlock* lanes = lanes_of(&part);
      LaneBlock* before = lanes_of(body.find(name));
      if (lanes == nullptr || before == nullptr || std::ranges::any_of(before->lanes, retunes)) continue;
      if (lanes->lanes.size() > 1) std::erase_if(lanes->lanes, retunes);
    }
  }

  void remarks(const SectionPlan& plan, Node& node) {
    if (!random_.chance(45)) return;
    const int count = random_.weighed<int>({{5, 1}, {3, 2}, {2, 3}, {1, 5}});
    std::vector<std::string> homes;
    for (const auto& [key, value] : node.keys)
      if (value.kind == Node::Kind::Lanes && !value.lanes.lanes.empty()) homes.push_back(key);
    if (homes.empty()) return;
    LaneBlock& block = node.find(random_.pick(homes))->lanes;
    LaneRow see{"see", std::vector<BarCells>(plan.bars.size())};
    Node all;
    for (int i = 0; i < count; ++i) {
      const std::string letter(1, static_cast<char>('a' + i));
      const int b = random_.below(static_cast<int>(plan.bars.size()));
      BarCells& bar = see.bars[static_cast<std::size_t>(b)];
      if (bar.beats.empty()) bar = by_beat(plan.bars[static_cast<std::size_t>(b)]);
      std::string& cell = bar.beats[static_cast<std::size_t>(random_.below(static_cast<int>(bar.beats.size())))][0];
      cell = cell == "-" ? letter : cell + "," + letter;
      if (random_.chance(70)) {
        all.add(letter, words_.text(60));
      } else {
        Node remark;
        remark.add("text", words_.text(40));
        remark.add("from", random_.chance(70) ? "lesson" : "recording");
        if (random_.chance(50)) remark.add("instead of", words_.text(5));
        all.add(letter, std::move(remark));
      }
    }
    block.lanes.push_back(std::move(see));
    node.add("remarks", std::move(all));
  }

  /// A section that repeats an earlier one, with other words or another chart.
  Node alike() {
    const std::size_t start = song_pick_up_.empty() ? 0 : 1;
    if (plans_.size() <= start) return section(false);
    const auto index = start + static_cast<std::size_t>(random_.below(static_cast<int>(plans_.size() - start)));
    const SectionPlan base = plans_[index];
    Node node;
    node.add("like", base.name);
    times_of_day(node);
    if (random_.chance(40)) node.add("says", words_.text(20));
    if (random_.chance(20)) node.add("key", random_.pick(kKeys));
    if (base.times > 1 && random_.chance(40)) node.add("times", "1");
    for (const PartPlan& part : parts_) {
      const bool plays = std::find(base.players.begin(), base.players.end(), part.name) != base.players.end();
      if (!random_.chance(30) || part.strung() || !plays) continue;
      Sheaf lanes(1);
      play_part({random_, words_}, part, {base.bars.back()}, lanes);
      if (lanes.empty()) continue;
      Node keys, except;
      except.add(random_.chance(70) ? "last" : std::to_string(base.bars.size()), Node::of_lanes(lanes.take(random_)));
      keys.add("except", std::move(except));
      node.add(part.name, std::move(keys));
    }
    plans_.push_back(base);
    return node;
  }

  void form() {
    const std::size_t count = names_.size();
    const bool coda = names_.back() == "coda";
    const int kind = coda ? 5 : random_.weighed<int>({{30, 0}, {25, 1}, {10, 2}, {10, 3}, {12, 4}, {13, 5}});
    if (kind == 0) return;
    Node form;
    form.kind = Node::Kind::List;
    std::vector<std::string>& items = form.items;
    const bool segno = random_.chance(60) && count > 1;
    const auto back = [&](const std::string& to) { return (segno ? "D.S." : "D.C.") + to; };
    for (std::size_t i = 0; i < count; ++i) {
      if (segno && kind > 2 && i == (count > 2 ? 1U : 0U)) items.push_back("segno");
      if (kind == 5 && i + 1 == count && count > 1) {
        items.push_back(back(" al coda"));
        items.push_back("coda");
      }
      const bool said = !items.empty() && items.back() == "coda" && coda;
      if (!said) items.push_back(names_[i]);
      if (kind == 4 && i == (count > 2 ? 1U : 0U)) items.push_back("fine");
      if (kind == 5 && count > 1 && i + 2 == std::max<std::size_t>(2, count - (count > 2 ? 1 : 0)))
        items.push_back("to coda");
      if (kind == 1 && i > 0 && random_.chance(40))
        items.push_back(names_[static_cast<std::size_t>(random_.below(static_cast<int>(i) + 1))]);
    }
    if (kind == 3) items.push_back(back(""));
    if (kind == 4) items.push_back(back(" al fine"));
    if (kind <= 2 && random_.chance(20)) items.push_back("fade");
    song_.add("form", std::move(form));
  }

  Random random_, more_, start_;
  Words words_;
  Size size_;
  Node song_;
  std::string meter_, key_ = "C major", song_pick_up_;
  std::vector<PartPlan> parts_;
  std::vector<std::string> recordings_, names_;
  std::vector<SectionPlan> plans_;
  int video_ = 5, at_ = 0;
};

}  // namespace

Node make_song(std::uint64_t seed, Size size) {
  return SongMaker(seed, size).make();
}

}  // namespace tunesheaf::generated

// Shapes for chords in a row. Every different chord is sought once, and each move between two shapes is weighed once,
// so that a long song costs little more than its different chords.
#include <algorithm>
#include <map>
#include <string>

#include "tunesheaf/theory/finding.h"

namespace tunesheaf::theory {
namespace {

constexpr int kNoMove = 400;  // between shapes that cannot be fingered
constexpr int kNone = -1;
constexpr int kNearlyAsGood = 3;  // points of a shape's cost

class Progression {
  using Way = std::pair<std::size_t, std::size_t>;  // from one different chord to another

 public:
  Progression(const std::vector<ChordName>& chords, const Tuning& tuning, const Capo& capo, const FindingLimits& limits,
              const Neck& neck, std::size_t choices)
      : neck_(neck), size_(chords.size()) {
    FindingLimits few = limits;
    few.most = std::max<std::size_t>(choices, 1);
    if (capo.full()) neck_.capo_fret = capo.fret;
    std::map<std::string, std::size_t> known;
    for (std::size_t i = 0; i < chords.size(); ++i) {
      const auto [it, fresh] = known.emplace(print(chords[i]), shapes_.size());
      if (fresh) shapes_.push_back(find_shapes(chords[i], tuning, capo, few, neck));
      if (shapes_[it->second].empty()) continue;
      steps_.push_back(it->second);
      at_.push_back(i);
    }
    choices_ = few.most;
  }

  /// Each step's choice, so that shapes and moves cost least in all.
  std::vector<std::size_t> best_path() {
    struct Cell {
      int cost = 0;
      std::size_t before = 0;
    };
    std::vector<std::vector<Cell>> table;
    for (std::size_t s = 0; s < steps_.size(); ++s) {
      std::vector<Cell> row(shapes_[steps_[s]].size());
      const Way way{steps_[s == 0 ? 0 : s - 1], steps_[s]};
      std::vector<int>& moves = moves_of(way);
      for (std::size_t j = 0; j < row.size(); ++j) {
        row[j].cost = shapes_[steps_[s]][j].cost;
        if (s == 0) continue;
        int best = kNone;
        for (std::size_t k = 0; k < table[s - 1].size(); ++k) {
          const int cost = table[s - 1][k].cost + move_cost(way, moves, k, j);
          if (best >= 0 && cost >= best) continue;
          best = cost;
          row[j].before = k;
        }
        row[j].cost += best;
      }
      table.push_back(std::move(row));
    }
    std::vector<std::size_t> out(steps_.size());
    if (steps_.empty()) return out;
    const auto last = std::min_element(table.back().begin(), table.back().end(),
                                       [](const Cell& a, const Cell& b) { return a.cost < b.cost; });
    std::size_t j = static_cast<std::size_t>(last - table.back().begin());
    for (std::size_t s = steps_.size(); s-- > 0;) {
      out[s] = j;
      j = table[s][j].before;
    }
    return out;
  }

  /// A page of boxes shows what players know: only shapes nearly as good as the chord's best by itself may stand in for
  /// it, so that a move is never made easier by a stranger.
  void keep_familiar() {
    for (std::vector<FoundShape>& shapes : shapes_) {
      if (shapes.empty()) continue;
      const int most = shapes.front().cost + kNearlyAsGood;
      std::erase_if(shapes, [&](const FoundShape& shape) { return shape.cost > most; });
    }
  }

  /// Each step's choice, the same wherever a chord comes again: from the best shape of every chord, and from what the
  /// best path takes most often, one chord after another is given what suits its neighbours, until none gains by it.
  std::vector<std::size_t> one_for_each() {
    keep_familiar();
    count_ways();
    std::vector<std::size_t> first(shapes_.size(), 0), usual = most_often(best_path());
    settle(first);
    settle(usual);
    const std::vector<std::size_t>& chosen = total(usual) < total(first) ? usual : first;
    std::vector<std::size_t> out;
    for (const std::size_t chord : steps_) out.push_back(chosen[chord]);
    return out;
  }

  std::vector<std::optional<FoundShape>> shapes(const std::vector<std::size_t>& path) const {
    std::vector<std::optional<FoundShape>> out(size_);
    for (std::size_t s = 0; s < steps_.size(); ++s) out[at_[s]] = shapes_[steps_[s]][path[s]];
    return out;
  }

 private:
  /// Of each choice and each choice after it; kNone: not yet weighed.
  std::vector<int>& moves_of(Way way) {
    std::vector<int>& moves = moves_[way];
    if (moves.empty()) moves.assign(choices_ * choices_, kNone);
    return moves;
  }

  int move_cost(Way way, std::size_t a, std::size_t b) { return move_cost(way, moves_of(way), a, b); }
  int move_cost(Way way, std::vector<int>& moves, std::size_t a, std::size_t b) {
    int& known = moves[a * choices_ + b];
    if (known == kNone) {
      const std::optional<Move> move = move_between(shapes_[way.first][a].shape, shapes_[way.second][b].shape, neck_);
      known = 2 * (move ? move->difficulty : kNoMove);
    }
    return known;
  }

  /// How often each chord comes, and how often one follows another.
  void count_ways() {
    times_.assign(shapes_.size(), 0);
    for (std::size_t s = 0; s < steps_.size(); ++s) {
      ++times_[steps_[s]];
      if (s > 0 && steps_[s] != steps_[s - 1]) ++ways_[{steps_[s - 1], steps_[s]}];
    }
    beside_.assign(shapes_.size(), {});
    for (const auto& [way, count] : ways_) {
      beside_[way.first].push_back(way);
      beside_[way.second].push_back(way);
    }
  }

  std::vector<std::size_t> most_often(const std::vector<std::size_t>& path) const {
    std::vector<std::vector<int>> taken(shapes_.size(), std::vector<int>(choices_, 0));
    for (std::size_t s = 0; s < steps_.size(); ++s) ++taken[steps_[s]][path[s]];
    std::vector<std::size_t> out;
    for (const std::vector<int>& row : taken) {
      out.push_back(static_cast<std::size_t>(std::max_element(row.begin(), row.end()) - row.begin()));
    }
    return out;
  }

  /// What one chord's choice costs, with all moves to and from it.
  long cost_of(std::size_t chord, std::size_t choice, const std::vector<std::size_t>& all) {
    long sum = static_cast<long>(times_[chord]) * shapes_[chord][choice].cost;
    for (const auto& [from, to] : beside_[chord]) {
      const std::size_t a = from == chord ? choice : all[from], b = to == chord ? choice : all[to];
      sum += static_cast<long>(ways_.at({from, to})) * move_cost({from, to}, a, b);
    }
    return sum;
  }

  void settle(std::vector<std::size_t>& all) {
    // Each exchange makes the whole cheaper, so that it comes to an end; the rounds are a bound on the time.
    for (int round = 0; round < 20; ++round) {
      bool changed = false;
      for (std::size_t chord = 0; chord < shapes_.size(); ++chord) {
        if (times_[chord] == 0) continue;
        long best = cost_of(chord, all[chord], all);
        for (std::size_t j = 0; j < shapes_[chord].size(); ++j) {
          const long here = cost_of(chord, j, all);
          if (here >= best) continue;
          best = here;
          all[chord] = j;
          changed = true;
        }
      }
      if (!changed) return;
    }
  }

  long total(const std::vector<std::size_t>& all) {
    long sum = 0;
    for (std::size_t chord = 0; chord < shapes_.size(); ++chord) {
      if (times_[chord] > 0) sum += static_cast<long>(times_[chord]) * shapes_[chord][all[chord]].cost;
    }
    for (const auto& [way, count] : ways_) {
      sum += static_cast<long>(count) * move_cost(way, all[way.first], all[way.second]);
    }
    return sum;
  }

  Neck neck_;
  std::size_t size_ = 0, choices_ = 1;
  std::vector<std::vector<FoundShape>> shapes_;  // of each different chord
  std::vector<std::size_t> steps_;               // which chord, where there is a shape
  std::vector<std::size_t> at_;                  // its place among the chords given
  std::map<Way, std::vector<int>> moves_;
  std::vector<int> times_;
  std::map<Way, int> ways_;
  std::vector<std::vector<Way>> beside_;
};

}  // namespace

std::vector<std::optional<FoundShape>> shapes_for_progression(const std::vector<ChordName>& chords,
                                                              const Tuning& tuning, const Capo& capo,
                                                              const FindingLimits& limits, const Neck& neck,
                                                              std::size_t choices, Voicing voicing) {
  Progression progression(chords, tuning, capo, limits, neck, choices);
  return progression.shapes(voicing == Voicing::OneForEach ? progression.one_for_each() : progression.best_path());
}

}  // namespace tunesheaf::theory

// Lanes for drums of every kind.
#include <algorithm>

#include "generated/plan.h"

namespace tunesheaf::generated {
namespace {

bool among(const std::string& drum, const std::vector<std::string>& names) {
  return std::find(names.begin(), names.end(), drum) != names.end();
}

std::string stroke(Random& random, const std::string& drum) {
  static const std::vector<std::string> kOpen{
      "hat",   "ride", "crash", "crash 2",    "splash",    "china",      "triangle",  "bass",      "tone",   "open",
      "conga", "tek",  "doum",  "high conga", "low conga", "high bongo", "low bongo", "hand drum", "cowbell"};
  static const std::vector<std::string> kFoot{"hat foot", "stomp"};
  const bool hands = !among(drum, kFoot);
  if (random.chance(3)) return ".";
  std::string typed = random.weighed<const char*>(
      {{86, "x"}, {among(drum, kOpen) ? 8 : 0, "o"}, {hands ? 3 : 0, "R"}, {hands ? 3 : 0, "L"}});
  if (drum == "hat" && random.chance(10)) typed = "h";
  if (random.chance(6)) return "(" + typed + ")";
  if (drum == "snare" && random.chance(10)) typed = random.weighed<const char*>({{3, "f"}, {2, "d"}, {1, "r"}}) + typed;
  if (hands && (typed == "x" || typed == "o") && random.chance(6)) typed += random.chance(50) ? "R" : "L";
  if (random.chance(4)) typed += random.weighed<const char*>({{3, "/"}, {2, "//"}, {1, "///"}});
  if ((drum.rfind("crash", 0) == 0 || drum == "splash") && random.chance(15)) typed += "!";
  if (random.chance(8)) return random.weighed<const char*>({{4, ">"}, {1, "^"}}) + typed;
  return typed;
}

}  // namespace

void play_drums(Tools tools, const PartPlan& part, const std::vector<BarPlan>& bars, Sheaf& out) {
  Random& random = tools.random;
  bool repeated = false;
  for (int b = 0; b < static_cast<int>(bars.size()); ++b) {
    const BarPlan& plan = bars[static_cast<std::size_t>(b)];
    const bool like = b > 0 && plan.beats == bars[static_cast<std::size_t>(b - 1)].beats;
    repeated = like && random.chance(repeated ? 60 : 40);
    const Grid shared = plan_grid(random, plan);
    for (const std::string& drum : part.kit) {
      if (repeated) {
        out.bar(drum, b) = one_cell("%");
        continue;
      }
      const Grid grid = random.chance(70) ? shared : plan_grid(random, plan);
      BarCells bar = blank(grid);
      const int density = random.between(15, 70);
      for (int i = 0; i < cell_count(grid); ++i)
        if (random.chance(density)) cell_at(bar, i) = stroke(random, drum);
      if (b == 0 && bar.silent()) cell_at(bar, 0) = "x";
      drop_colons(random, plan, bar);
      out.bar(drum, b) = bar;
    }
  }
  if (random.chance(25))
    add_span(random, random.weighed<const char*>({{2, "brushes"}, {1, "mallets"}, {1, "snares off"}, {1, "crescendo"}}),
             {"on"}, bars, out);
}

}  // namespace tunesheaf::generated
